package gas_test

import (
	"fmt"
	"slices"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// asked returns the error of a computation whose input has one field set.
func asked[Q, R any](input Q, compute func(Q) (R, error), set func(*Q, float64)) func(float64) error {
	return func(x float64) error {
		q := input
		set(&q, x)
		_, err := compute(q)
		return err
	}
}

// At the greatest and the least value of every field there is an answer, beyond it an
// error that names the field alone.
func TestLimitsAreTakenAndNothingBeyond(t *testing.T) {
	vibrate := func(set func(*gas.Vibration, float64)) func(float64) error {
		return asked(vibration(35, 100, 5, 1.4, 1), gas.Vibrate, set)
	}
	hold := func(set func(*gas.VolumeStep, float64)) func(float64) error {
		return asked(gas.VolumeStep{Volume: 1e-4, ToVolume: 1e-4, Fill: 5e5, Ambient: units.StandardAtmosphere, HeatRatio: 1.4, TimeConstant: 1}, gas.Hold, set)
	}
	oscillate := func(set func(*gas.Oscillation, float64)) func(float64) error {
		return asked(oscillation(100, 10, 1, 5), gas.Oscillate, set)
	}
	follow := func(set func(*gas.VolumeHistory, float64)) func(float64) error {
		return asked(history(1, 0, 100, 1, 50), gas.Follow,
			func(h *gas.VolumeHistory, x float64) {
				h.Time, h.Volume = slices.Clone(h.Time), slices.Clone(h.Volume)
				set(h, x)
			})
	}
	change := func(set func(*gas.PolytropicChange, float64)) func(float64) error {
		return asked(gas.PolytropicChange{Pressure: 1e5, Volume: 1e-4, ToVolume: 1e-4, Exponent: 1}, gas.Polytropic, set)
	}
	state := func(p, kelvin float64) error {
		_, err := gas.StateAt(gas.Nitrogen, units.AbsolutePressure(p), units.Temperature(kelvin))
		return err
	}
	compress := func(ratio float64) error {
		_, err := gas.Compress(gas.DryAir, gas.MaxPressure, 250, ratio)
		return err
	}
	for _, c := range []struct {
		field      string
		at, beyond float64
		ask        func(float64) error
	}{
		{"area", 10, 12, vibrate(func(v *gas.Vibration, x float64) { v.Area = units.Area(x) })},
		{"area", 1e-12, 0.9e-12, vibrate(func(v *gas.Vibration, x float64) { v.Area = units.Area(x) })},
		{"volume", 1, 1.2, vibrate(func(v *gas.Vibration, x float64) { v.Volume = units.Volume(x) })},
		{"omega_tau", 1e12, 1.2e12, vibrate(func(v *gas.Vibration, x float64) { v.OmegaTau = x })},
		{"heat_ratio", 2, 2.5, vibrate(func(v *gas.Vibration, x float64) { v.HeatRatio = x })},
		{"heat_ratio", 1, 0.9, vibrate(func(v *gas.Vibration, x float64) { v.HeatRatio = x })},
		{"fill", 1e8, 1.2e8, vibrate(func(v *gas.Vibration, x float64) { v.Fill = units.GaugePressure(x) })},
		{"fill", 0.5, 0, vibrate(func(v *gas.Vibration, x float64) { v.Fill = units.GaugePressure(x) })},
		{"ambient", 1e6, 1.2e6, vibrate(func(v *gas.Vibration, x float64) { v.Ambient = units.AbsolutePressure(x) })},
		{"ambient", 1e3, 0.9e3, vibrate(func(v *gas.Vibration, x float64) { v.Ambient = units.AbsolutePressure(x) })},
		{"volume", 1, 1.2, hold(func(s *gas.VolumeStep, x float64) { s.Volume = units.Volume(x) })},
		{"to_volume", 1, 1.2, hold(func(s *gas.VolumeStep, x float64) { s.ToVolume = units.Volume(x) })},
		{"time_constant", 1e6, 1.2e6, hold(func(s *gas.VolumeStep, x float64) { s.TimeConstant = units.Time(x) })},
		{"time_constant", 1e-6, 0.9e-6, hold(func(s *gas.VolumeStep, x float64) { s.TimeConstant = units.Time(x) })},
		{"mean_volume", 1, 1.2, oscillate(func(o *gas.Oscillation, x float64) { o.MeanVolume = units.Volume(x) })},
		{"omega_tau", 1e6, 1.2e6, oscillate(func(o *gas.Oscillation, x float64) { o.OmegaTau = x })},
		{"amplitude", 0.989, 0.99, oscillate(func(o *gas.Oscillation, x float64) { o.MeanVolume, o.Amplitude = 1, units.Volume(x) })},
		{"amplitude", 0.989e-4, 0.99e-4, oscillate(func(o *gas.Oscillation, x float64) { o.Amplitude = units.Volume(x) })},
		{"time_constant", 1e6, 1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.TimeConstant = units.Time(x) })},
		{"volume[1]", 1, 1.2, follow(func(h *gas.VolumeHistory, x float64) { h.Volume[1] = units.Volume(x) })},
		{"time[0]", -1e6, -1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.Time[0] = units.Time(x) })},
		{"time[1]", 1e6, 1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.Time[1] = units.Time(x) })},
		{"time[0]", 0, 1.2e6, follow(func(h *gas.VolumeHistory, x float64) { h.Time[0] = units.Time(x) })}, // time[1] is not named
		{"time[1]", 1e6, 1, follow(func(h *gas.VolumeHistory, x float64) { h.Time[0], h.Time[1] = 1e6-1, units.Time(x) })},
		{"time[1]", 1e-12, 0.9e-12, follow(func(h *gas.VolumeHistory, x float64) { h.Time[1] = units.Time(x) })}, // a step takes some time
		{"pressure", 1e9, 1.2e9, change(func(g *gas.PolytropicChange, x float64) { g.Pressure = units.AbsolutePressure(x) })},
		{"pressure", 0.5, 0, change(func(g *gas.PolytropicChange, x float64) { g.Pressure = units.AbsolutePressure(x) })},
		{"volume", 1e6, 1.2e6, change(func(g *gas.PolytropicChange, x float64) { g.Volume = units.Volume(x) })},
		{"volume", 1e-12, 0.9e-12, change(func(g *gas.PolytropicChange, x float64) { g.Volume = units.Volume(x) })},
		{"to_volume", 1e6, 1.2e6, change(func(g *gas.PolytropicChange, x float64) { g.ToVolume = units.Volume(x) })},
		{"to_volume", 1e-12, 0.9e-12, change(func(g *gas.PolytropicChange, x float64) { g.ToVolume = units.Volume(x) })},
		{"exponent", 2, 2.1, change(func(g *gas.PolytropicChange, x float64) { g.Exponent = x })},
		{"pressure", 40e5, 40.001e5, func(x float64) error { return state(x, 300) }},
		{"pressure", 1e-3, 0.9e-3, func(x float64) error { return state(x, 300) }},
		{"temperature", 250, 249.999, func(x float64) error { return state(1e5, x) }},
		{"temperature", 350, 350.001, func(x float64) error { return state(1e5, x) }},
		{"ratio", 5, 5.1, compress},
		{"ratio", 0.2, 0.19, compress},
	} {
		wantFields(t, fmt.Sprint(c.field, " ", c.at), c.ask(c.at))
		wantFields(t, fmt.Sprint(c.field, " ", c.beyond), c.ask(c.beyond), c.field)
	}
	// A time before the latest permitted one is named.
	h := history(1, 1e6, 100, 1, 50)
	_, err := gas.Follow(h)
	wantFields(t, "back in time", err, "time[1]")
	// Without a mean volume the greatest one limits the amplitude.
	for amplitude, want := range map[float64][]string{0.98: {"mean_volume"}, 0.995: {"mean_volume", "amplitude"}} {
		o := oscillation(nan, 1e6*amplitude, 1, 5)
		_, err := gas.Oscillate(o)
		wantFields(t, fmt.Sprint("amplitude ", amplitude), err, want...)
	}
}

func TestEveryBadFieldIsNamed(t *testing.T) {
	for _, v := range []float64{nan, inf, -inf, -1, 0} {
		area, volume, fill, ambient := units.Area(v), units.Volume(v), units.GaugePressure(v), units.AbsolutePressure(v)
		all := []string{"area", "volume", "fill", "ambient", "heat_ratio", "omega_tau"}
		if v == 0 {
			all = all[:5] // infinitely slow is permitted
		}
		_, err := gas.Vibrate(gas.Vibration{Area: area, Volume: volume, Fill: fill, Ambient: ambient, HeatRatio: v, OmegaTau: v})
		wantFields(t, "vibrate", err, all...)
		_, err = gas.Hold(gas.VolumeStep{Volume: volume, ToVolume: volume, Fill: fill, Ambient: ambient, HeatRatio: v, TimeConstant: units.Time(v)})
		wantFields(t, "hold", err, "volume", "to_volume", "fill", "ambient", "heat_ratio", "time_constant")
		_, err = gas.Oscillate(gas.Oscillation{MeanVolume: volume, Amplitude: volume, Fill: fill, Ambient: ambient, HeatRatio: v, OmegaTau: v})
		wantFields(t, "oscillate", err, "mean_volume", "amplitude", "fill", "ambient", "heat_ratio", "omega_tau")
		_, err = gas.Follow(gas.VolumeHistory{Time: []units.Time{0, units.Time(v)}, Volume: []units.Volume{volume, cm3}, Fill: fill, Ambient: ambient, HeatRatio: v, TimeConstant: units.Time(v)})
		wantFields(t, "follow", err, "time[1]", "volume[0]", "fill", "ambient", "heat_ratio", "time_constant")
		_, err = gas.Polytropic(gas.PolytropicChange{Pressure: ambient, Volume: volume, ToVolume: volume, Exponent: v})
		wantFields(t, "polytropic", err, "exponent", "pressure", "to_volume", "volume")
		_, err = gas.StateAt("helium", ambient, units.Temperature(v))
		wantFields(t, "state", err, "gas", "pressure", "temperature")
		out, err := gas.Compress("", ambient, units.Temperature(v), v)
		wantFields(t, "stroke", err, "gas", "pressure", "ratio", "temperature")
		if out != (gas.Compression{}) {
			t.Errorf("%+v beside the error", out)
		}
	}
	_, err := gas.Follow(gas.VolumeHistory{})
	wantFields(t, "nothing", err, "time", "fill", "ambient", "heat_ratio", "time_constant")
	h := history(1, 0, 1, 1, 1)
	h.Time = append(h.Time, 1)
	_, err = gas.Follow(h)
	wantFields(t, "mismatched", err, "time[2]", "volume")
}
