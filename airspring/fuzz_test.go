package airspring_test

import (
	"encoding/binary"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// numbers reads float64 values as they come, NaN and infinities included.
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

func specOf(v []float64, spacers int) airspring.Spec {
	return airspring.Spec{
		Bore: units.Length(v[0]), Shaft: units.Length(v[1]), Travel: units.Length(v[2]), PositiveVolume: units.Volume(v[3]),
		NegativeVolume: units.Volume(v[4]), PortTravel: units.Length(v[5]), OilVolume: units.Volume(v[6]), SpacerVolume: units.Volume(v[7]),
		Spacers: spacers, SecondVolume: units.Volume(v[8]), SecondFill: units.GaugePressure(v[9]), Fill: units.GaugePressure(v[10]),
		Ambient: units.AbsolutePressure(v[11]), Exponent: v[12],
	}
}

func finite(list ...float64) bool {
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// FuzzNew: a spring or an error, never both, and a spring's answers are numbers.
func FuzzNew(f *testing.F) {
	f.Add(bytesOf(0.034, 0.010, 0.16, 190e-6, 60e-6, 0.008, 2e-6, 5e-6, 0, 0, 5.5e5, 101325, 1.3, 400, 0.04), 2)
	f.Add(bytesOf(0.034, 0, 0.16, 185e-6, 0, 0, 0, 0, 45e-6, 8e5, 4.5e5, 101325, 1, 400, 0.04), 0)
	f.Add(bytesOf(1, 0.999999, 1e-6, 1, 1e-9, 0, 0, 0, 1e-9, 1e8, 1e8, 1e3, 2, 1, 1e-6), 0)
	f.Add(bytesOf(1e-6, 1e-6, 10, 1e-9, 1, 9, 0, 1e-300, 1, 1e-300, 1e-300, 1e6, 1, 1e-9, 10), 1000)
	f.Fuzz(func(t *testing.T, data []byte, spacers int) {
		v := numbers(data, 15)
		spec := specOf(v, spacers)
		law, err := airspring.New(spec)
		if (law == nil) == (err == nil) {
			t.Fatalf("law %v, error %v", law, err)
		}
		if err != nil && len(units.Fields(err)) == 0 {
			t.Errorf("an error without a field: %v", err)
		}
		if fill, err := airspring.FillFor(spec, units.Force(v[13]), units.Length(v[14])); err == nil {
			spec.Fill = fill
			again, err := airspring.New(spec)
			if err != nil {
				t.Fatalf("fill %v is refused: %v", float64(fill), err)
			}
			law = again
		}
		if law == nil {
			return
		}
		full := law.Travel()
		before := law.Force(0)
		for i := range 17 {
			x := full * units.Length(i) / 16
			force := law.Force(x)
			if !finite(float64(force), float64(law.Rate(x)), float64(law.Energy(x)), float64(law.PositivePressure(x)), float64(law.NegativePressure(x)), float64(law.SecondVolume(x))) {
				t.Fatalf("at %v: %v %v %v", x, force, law.Rate(x), law.Energy(x))
			}
			if force < before-units.Force(1e-9*(math.Abs(float64(force))+math.Abs(float64(before))))-1e-9*units.Force(math.Abs(float64(law.PositivePressure(x)))) {
				t.Errorf("at %v the force falls from %v to %v", x, before, force)
			}
			before = force
		}
		rest := law.RestTravel()
		if !(rest >= 0 && rest <= full) || !(law.CompressionRatio() >= 1) || !finite(float64(law.OpeningTravel()), law.CompressionRatio()) {
			t.Errorf("rest %v, ratio %v, opening %v", rest, law.CompressionRatio(), float64(law.OpeningTravel()))
		}
	})
}

// Whatever is asked, every question is answered in numbers or refused by name.
func FuzzQuestions(f *testing.F) {
	f.Add(bytesOf(0.036, 0.16, 2.5e-4, 5e5, 101325, 1.35, 600, 0.04, 2600, 8e5, 293.15, 8e-6, 1.4, 1), 4, "air")
	f.Add(bytesOf(0.042, 0.0575, 1.2e-4, 20e5, 90e3, 1.45, 2400, 0.017, 9000, 30e5, 250, 1e-6, 1.4, 1e-3), 1000, "nitrogen")
	f.Add(bytesOf(1e-6, 10, 1, 1e8, 1e3, 2, 1e9, 1e-6, 1e300, 1e-300, 400, 0, 1, 1e12), -1, "")
	f.Fuzz(func(t *testing.T, data []byte, count int, species string) {
		v := numbers(data, 14)
		spec := airspring.Spec{Bore: units.Length(v[0]), Travel: units.Length(v[1]), PositiveVolume: units.Volume(v[2]), Fill: units.GaugePressure(v[3]),
			Ambient: units.AbsolutePressure(v[4]), Exponent: v[5], SpacerVolume: units.Volume(v[11])}
		check := func(what string, err error, list ...float64) {
			t.Helper()
			switch {
			case err != nil && len(units.Fields(err)) == 0:
				t.Errorf("%s: an error without a field: %v", what, err)
			case err == nil && !finite(list...):
				t.Errorf("%s: %v", what, list)
			}
		}
		force, at, full, most := units.Force(v[6]), units.Length(v[7]), units.Force(v[8]), units.GaugePressure(v[9])
		kelvin := units.Temperature(v[10])
		fill, err := airspring.FillFor(spec, force, at)
		check("fill", err, float64(fill))
		volume, err := airspring.VolumeFor(spec, force)
		check("volume", err, float64(volume))
		n, err := airspring.SpacersFor(spec, full, count)
		check("spacers", err, float64(n.FullForce), float64(n.FullMiss))
		trials, err := airspring.TrySpacers(airspring.Search{Spec: spec, Force: force, At: at, MaxFill: most, Last: count})
		check("search", err)
		for i := range trials {
			o := &trials[i]
			check("trial", nil, float64(o.Fill), float64(o.FillWanted), float64(o.Slow.Force(at)), float64(o.Fast.Force(at)))
			if o.Fill > most {
				t.Errorf("%v is above the marking %v", o.Fill, most)
			}
		}
		options, err := airspring.Choose(airspring.Wish{Spec: spec, SagForce: force, SagTravel: at, FullForce: full, MaxFill: most, MaxSpacers: count})
		check("choose", err)
		for _, o := range options {
			check("option", nil, float64(o.SagMiss), float64(o.FullMiss))
		}
		ideal, err := airspring.CheckIdeal(spec, gas.Species(species), kelvin)
		check("ideal", err, ideal.SlowError, ideal.FastError, ideal.Exponent, float64(ideal.FastForce))
		moved, err := airspring.SpecAt(spec, kelvin, 280, spec.Ambient)
		check("moved", err, float64(moved.Fill))
		there, err := airspring.FillAt(spec.Fill, airspring.Conditions{Temperature: kelvin, Altitude: at}, airspring.Conditions{Temperature: 280})
		check("fill there", err, float64(there))
		reading, err := airspring.HoseReading(spec.PositiveVolume, spec.SpacerVolume, spec.Fill)
		check("hose", err, float64(reading))
		air, err := airspring.Atmosphere(at)
		check("atmosphere", err, float64(air.Pressure), float64(air.Temperature))
	})
}
