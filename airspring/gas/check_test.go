package gas_test

import (
	"fmt"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// The greatest and least of what every question may hold: at the bound
// there is an answer, beyond it an error that names the field alone.
func TestLimitsAreTakenAndNothingBeyond(t *testing.T) {
	vibrate := func(change func(*gas.Vibration, float64)) func(float64) error {
		return func(x float64) error {
			v := gas.Vibration{Area: 1e-3, Volume: 1e-4, Fill: 5e5, Ambient: units.StandardAtmosphere, HeatRatio: 1.4, OmegaTau: 1}
			change(&v, x)
			_, err := gas.Vibrate(v)
			return err
		}
	}
	hold := func(change func(*gas.VolumeStep, float64)) func(float64) error {
		return func(x float64) error {
			s := gas.VolumeStep{Volume: 1e-4, ToVolume: 1e-4, Fill: 5e5, Ambient: units.StandardAtmosphere, HeatRatio: 1.4, TimeConstant: 1}
			change(&s, x)
			_, err := gas.Hold(s)
			return err
		}
	}
	oscillate := func(change func(*gas.Oscillation, float64)) func(float64) error {
		return func(x float64) error {
			o := gas.Oscillation{MeanVolume: 1e-4, Amplitude: 1e-5, Fill: 5e5, Ambient: units.StandardAtmosphere, HeatRatio: 1.4, OmegaTau: 1}
			change(&o, x)
			_, err := gas.Oscillate(o)
			return err
		}
	}
	follow := func(change func(*gas.VolumeHistory, float64)) func(float64) error {
		return func(x float64) error {
			h := history(1, 0, 100, 1, 50)
			change(&h, x)
			_, err := gas.Follow(h)
			return err
		}
	}
	change := func(set func(*gas.PolytropicChange, float64)) func(float64) error {
		return func(x float64) error {
			g := gas.PolytropicChange{Pressure: 1e5, Volume: 1e-4, ToVolume: 1e-4, Exponent: 1}
			set(&g, x)
			_, err := gas.Polytropic(g)
			return err
		}
	}
	for _, c := range []struct {
		field      string
		at, beyond float64
		ask        func(float64) error
	}{
		{"area", 10, 12, vibrate(func(v *gas.Vibration, x float64) { v.Area = units.Area(x) })},
		{"volume", 1, 1.2, vibrate(func(v *gas.Vibration, x float64) { v.Volume = units.Volume(x) })},
		{"omega_tau", 1e12, 1.2e12, vibrate(func(v *gas.Vibration, x float64) { v.OmegaTau = x })},
		{"heat_ratio", 2, 2.5, vibrate(func(v *gas.Vibration, x float64) { v.HeatRatio = x })},
		{"heat_ratio", 1, 0.9, vibrate(func(v *gas.Vibration, x float64) { v.HeatRatio = x })},
		{"volume", 1, 1.2, hold(func(s *gas.VolumeStep, x float64) { s.Volume = units.Volume(x) })},
		{"to_volume", 1, 1.2, hold(func(s *gas.VolumeStep, x float64) { s.ToVolume = units.Volume(x) })},
		{"time_constant", 1e6, 1.2e6, hold(func(s *gas.VolumeStep, x float64) { s.TimeConstant = units.Time(x) })},
		{"time_constant", 1e-6, 0.9e-6, hold(func(s *gas.VolumeStep, x float64) { s.TimeConstant = units.Time(x) })},
		{"mean_volume", 1, 1.2, oscillate(func(o *gas.Oscillation, x float64) { o.MeanVolume = units.Volume(x) })},
		{"omega_tau", 1e6, 1.2e6, oscillate(func(o *gas.Oscillation, x float64) { o.OmegaTau = x })},
		{"amplitude", 0.989, 0.99, oscillate(func(o *gas.Oscillation, x float64) { o.MeanVolume, o.Amplitude = 1, units.Volume(x) })},
		{"volume[1]", 1, 1.2, follow(func(h *gas.VolumeHistory, x float64) { h.Volume[1] = units.Volume(x) })},
		{"time[0]", -1e6, -1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.Time[0] = units.Time(x) })},
		{"time[1]", 1e6, 1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.Time[1] = units.Time(x) })},
		{"time[0]", 0, 1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.Time[0] = units.Time(x) })}, // and no word of time[1]
		{"time[1]", 1e6, 1, follow(func(h *gas.VolumeHistory, x float64) { h.Time[0], h.Time[1] = 1e6-1, units.Time(x) })},
		{"time[1]", 1e-12, 0.9e-12, follow(func(h *gas.VolumeHistory, x float64) { h.Time[1] = units.Time(x) })}, // a step takes some time
		{"pressure", 1e9, 1.2e9, change(func(g *gas.PolytropicChange, x float64) { g.Pressure = units.AbsolutePressure(x) })},
		{"pressure", 0.5, 0, change(func(g *gas.PolytropicChange, x float64) { g.Pressure = units.AbsolutePressure(x) })},
		{"volume", 1e6, 1.2e6, change(func(g *gas.PolytropicChange, x float64) { g.Volume = units.Volume(x) })},
		{"to_volume", 1e6, 1.2e6, change(func(g *gas.PolytropicChange, x float64) { g.ToVolume = units.Volume(x) })},
	} {
		wantFields(t, fmt.Sprint(c.field, " ", c.at), c.ask(c.at))
		wantFields(t, fmt.Sprint(c.field, " ", c.beyond), c.ask(c.beyond), c.field)
	}
	// Where the time before is as late as may be, it still comes before.
	h := history(1, 0, 100, 1, 50)
	h.Time[0], h.Time[1] = 1e6, 1
	_, err := gas.Follow(h)
	wantFields(t, "back in time", err, "time[1]")
	// Without a mean volume an amplitude is held to the greatest there is.
	for amplitude, want := range map[float64][]string{0.98: {"mean_volume"}, 0.995: {"mean_volume", "amplitude"}} {
		_, err := gas.Oscillate(gas.Oscillation{MeanVolume: units.Volume(nan), Amplitude: units.Volume(amplitude), Fill: 1e5, Ambient: 1e5, HeatRatio: 1, OmegaTau: 1})
		wantFields(t, fmt.Sprint("amplitude ", amplitude), err, want...)
	}
}

// The limits that the documentation names are themselves permitted.
func TestDocumentedLimitsArePermitted(t *testing.T) {
	for _, area := range []units.Area{1e-12, 10} {
		_, err := gas.Vibrate(gas.Vibration{Area: area, Volume: 1e-4, Fill: 5e5, Ambient: units.StandardAtmosphere, HeatRatio: 1.4, OmegaTau: 1})
		wantFields(t, "area", err)
	}
	for _, v := range []units.Volume{1e-12, 1e6} {
		_, err := gas.Polytropic(gas.PolytropicChange{Pressure: 1e9, Volume: v, ToVolume: v, Exponent: 2})
		wantFields(t, "volume", err)
	}
	for _, ratio := range []float64{0.2, 5} {
		_, err := gas.Compress(gas.DryAir, 40e5, 250, ratio)
		wantFields(t, "ratio", err)
	}
	for _, kelvin := range []units.Temperature{250, 350} {
		_, err := gas.StateAt(gas.Nitrogen, 1e-3, kelvin)
		wantFields(t, "temperature", err)
	}
}
