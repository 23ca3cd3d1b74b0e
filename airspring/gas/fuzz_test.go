package gas_test

import (
	"encoding/binary"
	"math"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

func numbers(data []byte, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		if len(data) >= 8 {
			list[i] = math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
		}
	}
	return list
}

func bytesOf(list ...float64) []byte {
	var b []byte
	for _, v := range list {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return b
}

// Every computation returns finite numbers, or an error that names a field.
func FuzzGas(f *testing.F) {
	f.Add(bytesOf(1e-3, 2.5e-4, 8e-6, 5e5, 101325, 293.15, 1.4, 1, 1.35, 0.04), "air")
	f.Add(bytesOf(1.3e-3, 1.2e-4, 1e-6, 20e5, 90e3, 250, 1.4, 1e-3, 1.45, 0.017), "nitrogen")
	f.Add(bytesOf(1e-6, 1, 0, 1e8, 1e3, 400, 1, 1e12, 2, 1e-6), "")
	f.Fuzz(func(t *testing.T, data []byte, species string) {
		v := numbers(data, 10)
		check := func(what string, err error, list ...float64) {
			t.Helper()
			if err != nil {
				named(t, what, err)
			} else if !finite(list...) {
				t.Errorf("%s: %v", what, list)
			}
		}
		area, volume, to, fill := units.Area(v[0]), units.Volume(v[1]), units.Volume(v[2]), units.GaugePressure(v[3])
		ambient, kelvin, ratio, tau, n := units.AbsolutePressure(v[4]), units.Temperature(v[5]), v[6], v[7], v[8]
		state, err := gas.StateAt(gas.Species(species), ambient, kelvin)
		check("state", err, state.Compressibility, state.HeatRatio, state.EffectiveExponent)
		stroke, err := gas.Compress(gas.Species(species), ambient, kelvin, ratio)
		check("stroke", err, float64(stroke.Slow), float64(stroke.Fast), stroke.Exponent)
		r, err := gas.Vibrate(gas.Vibration{Area: area, Volume: volume, Fill: fill, Ambient: ambient, HeatRatio: ratio, OmegaTau: tau})
		check("vibrate", err, float64(r.StorageRate), float64(r.LossRate), r.LossFactor, float64(r.EnergyPerCycle(units.Length(v[9]))))
		held, err := gas.Hold(gas.VolumeStep{Volume: volume, ToVolume: to, Fill: fill, Ambient: ambient, HeatRatio: ratio, TimeConstant: units.Time(tau)})
		check("hold", err, float64(held.Pressure(units.Time(v[9]))), float64(held.Isothermal))
		end, err := gas.Polytropic(gas.PolytropicChange{Pressure: ambient, Volume: volume, ToVolume: to, Exponent: n})
		check("polytropic", err, float64(end.Pressure), float64(end.Work), end.Warming)
	})
}

func FuzzFollow(f *testing.F) {
	f.Add(bytesOf(0, 210e-6, 0.05, 120e-6, 3, 120e-6, 5.5e5, 101325, 1.4, 1.5))
	f.Fuzz(func(t *testing.T, data []byte) {
		v := numbers(data, 10)
		h := gas.VolumeHistory{Time: []units.Time{units.Time(v[0]), units.Time(v[2]), units.Time(v[4])}, Volume: []units.Volume{units.Volume(v[1]), units.Volume(v[3]), units.Volume(v[5])},
			Fill: units.GaugePressure(v[6]), Ambient: units.AbsolutePressure(v[7]), HeatRatio: v[8], TimeConstant: units.Time(v[9])}
		out, err := gas.Follow(h)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Errorf("an error without a field: %v", err)
			}
			return
		}
		for i := range h.Time {
			if !finite(float64(out.Pressure[i]), out.Warming[i], float64(out.Work[i])) {
				t.Errorf("%+v: %v %v %v", h, out.Pressure[i], out.Warming[i], out.Work[i])
			}
		}
	})
}

// FuzzOscillate: a cycle's pressures are above vacuum and finite, and the heat
// it gives off is not negative.
func FuzzOscillate(f *testing.F) {
	f.Add(150e-6, 60e-6, 6e5, 101325.0, 1.4, 1.0)
	f.Add(1e-9, 0.9899e-9, 1e8, 1e3, 2.0, 1e6)
	f.Add(1.0, 1e-12, 1e-3, 1e6, 1.0, 1e-6)
	f.Fuzz(func(t *testing.T, mean, amplitude, fill, ambient, ratio, speed float64) {
		o := gas.Oscillation{MeanVolume: units.Volume(mean), Amplitude: units.Volume(amplitude), Fill: units.GaugePressure(fill),
			Ambient: units.AbsolutePressure(ambient), HeatRatio: ratio, OmegaTau: speed}
		got, err := gas.Oscillate(o)
		if err != nil {
			named(t, "oscillation", err)
			return
		}
		most := 0.0
		for i, p := range got.Pressure {
			if !(p > 0) || !finite(float64(p)) {
				t.Fatalf("pressure %v at %d°", float64(p), 5*i)
			}
			most = max(most, float64(p))
		}
		if !finite(float64(got.Lost)) || !(float64(got.Lost) >= -1e-6*most*amplitude) {
			t.Fatalf("lost %v J with pressures to %v Pa over ±%v m³", float64(got.Lost), most, amplitude)
		}
	})
}
