package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// compressed is a spring whose chamber the travel compresses by a ratio.
func compressed(fill, ratio, n float64) airspring.Spec {
	const bore, travel = 0.036, 0.16
	swept := math.Pi / 4 * bore * bore * travel
	return airspring.Spec{Bore: bore, Travel: travel, PositiveVolume: units.Volume(swept * ratio / (ratio - 1)),
		Fill: units.GaugePressure(fill), Ambient: airspring.SeaLevel, Exponent: n}
}

// The computed compressions again, asked as a spring: the relative errors are
// those of the same 40-digit program.
func TestCheckIdeal(t *testing.T) {
	for _, g := range gases {
		for _, r := range g.strokes {
			spec := compressed(r.fill, r.ratio, 1.4)
			got, err := airspring.CheckIdeal(spec, g.gas, 293.15)
			if err != nil {
				t.Fatal(err)
			}
			unitstest.Near(t, "compression ratio", got.CompressionRatio, r.ratio, close12)
			unitstest.Near(t, "Z", got.Compressibility, r.z, close12)
			unitstest.Near(t, "exponent", got.Exponent, r.exponent, unitstest.Rel(1e-10))
			unitstest.Near(t, "slow", got.SlowError, r.slowError, unitstest.Abs(1e-11))
			unitstest.Near(t, "fast", got.FastError, r.fastError, unitstest.Abs(1e-11))
			area := math.Pi / 4 * 0.036 * 0.036
			p := r.fill + 101325
			unitstest.Near(t, "slow force", float64(got.SlowForce), area*(p*r.ratio-r.slow), unitstest.Abs(1e-6))
			unitstest.Near(t, "fast force", float64(got.FastForce), area*(p*math.Pow(r.ratio, 1.4)-r.fast), unitstest.Abs(1e-5))
			// What it says is the force that the law misses by.
			law := make1(t, spec)
			unitstest.Near(t, "law", float64(law.PositivePressure(law.Travel())), r.fast*(1+r.fastError), unitstest.Rel(1e-10))

			// With the exponent that it names the ideal gas ends where the real one does.
			spec.Exponent = got.Exponent
			again, err := airspring.CheckIdeal(spec, g.gas, 293.15)
			if err != nil {
				t.Fatal(err)
			}
			unitstest.Near(t, "right exponent", again.FastError, 0, unitstest.Abs(1e-13))
			unitstest.Near(t, "right exponent", float64(again.FastForce), 0, unitstest.Abs(1e-6))
		}
	}
}

// Oil and spacers raise the compression, and a fork's exponent stays below a
// shock's.
func TestCheckIdealSpacers(t *testing.T) {
	spec := compressed(5e5, 2, 1.4)
	spec.PositiveVolume += 30e-6
	spec.OilVolume, spec.SpacerVolume, spec.Spacers = 10e-6, 10e-6, 2
	got, err := airspring.CheckIdeal(spec, airspring.DryAir, 293.15)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "compression ratio", got.CompressionRatio, 2, close12)
	unitstest.Near(t, "compression ratio", got.CompressionRatio, make1(t, spec).CompressionRatio(), close12)
}

func TestCheckIdealRefuses(t *testing.T) {
	good := compressed(5e5, 3, 1.4)
	for _, test := range []struct {
		name        string
		change      func(*airspring.Spec)
		gas         airspring.Gas
		temperature units.Temperature
		want        []string
	}{
		{"good", func(*airspring.Spec) {}, airspring.Nitrogen, 300, nil},
		{"no such gas", func(*airspring.Spec) {}, "argon", 300, []string{"gas"}},
		{"too cold, no exponent", func(s *airspring.Spec) { s.Exponent = 0 }, airspring.DryAir, 249, []string{"exponent", "temperature"}},
		{"NaN", func(s *airspring.Spec) { s.Fill = units.GaugePressure(nan) }, airspring.DryAir, units.Temperature(nan), []string{"fill", "temperature"}},
		{"no bore", func(s *airspring.Spec) { s.Bore = 0 }, airspring.DryAir, 300, []string{"bore"}},
		{"no fill", func(s *airspring.Spec) { s.Fill = 0 }, airspring.DryAir, 300, []string{"fill"}},
		{"40 bar gauge", func(s *airspring.Spec) { s.Fill = units.BarGauge(40) }, airspring.DryAir, 300, []string{"fill"}},
		{"second chamber", func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = 50e-6, 9e5 }, airspring.DryAir, 300, []string{"second_volume"}},
		{"too much compression", func(s *airspring.Spec) { *s = compressed(5e5, 5.001, 1.4) }, airspring.DryAir, 300, []string{"positive_volume"}},
		{"just enough", func(s *airspring.Spec) { *s = compressed(5e5, 4.999, 1.4) }, airspring.DryAir, 300, nil},
	} {
		spec := good
		test.change(&spec)
		_, err := airspring.CheckIdeal(spec, test.gas, test.temperature)
		wantFields(t, test.name, err, test.want...)
	}
}
