package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// compressed is a spring whose chamber the travel compresses by a ratio. Oil and two
// spacers take 30 cm³ of it.
func compressed(fill, ratio, n float64) airspring.Spec {
	const bore, travel = 0.036, 0.16
	swept := math.Pi / 4 * bore * bore * travel
	return airspring.Spec{Bore: bore, Travel: travel, PositiveVolume: units.Volume(swept*ratio/(ratio-1)) + 30*cm3,
		OilVolume: 10 * cm3, SpacerVolume: 10 * cm3, Spacers: 2, Fill: units.GaugePressure(fill), Ambient: airspring.SeaLevel, Exponent: n}
}

// The compressions of gases in chambers that package gas is checked against, with
// the relative errors that the same 40-digit program has for the ideal gas with n of
// 1 and of 1.4: fill in Pa, compression ratio, Z as filled, the real exponent of the
// fast stroke.
var idealRows = []struct {
	species                                        gas.Species
	fill, ratio, z, exponent, slowError, fastError float64
}{
	{gas.DryAir, 500000.0, 3, 0.9978538918931703, 1.41379480508236, 0.003696007359165904, -0.01504088115623222},
	{gas.DryAir, 1500000.0, 3, 0.9947293867211645, 1.4457121940935143, 0.006614666250835912, -0.048979802196805276},
	{gas.DryAir, 2000000.0, 3, 0.9933657221702321, 1.4632304563926113, 0.006642808208839141, -0.06710792158950353},
	{gas.DryAir, 2500000.0, 3, 0.992129754674878, 1.4817603835965767, 0.005697049440622968, -0.08590699998925092},
	{gas.DryAir, 3500000.0, 2, 0.9900311267419523, 1.491072229423468, 0.003583732254286353, -0.06117525670518028},
	{gas.DryAir, 3500000.0, 3, 0.9900311267419523, 1.5218624479311817, 0.000700654629765264, -0.12530461339009383},
	{gas.Nitrogen, 500000.0, 3, 0.9986293291139113, 1.4166672516142431, 0.002225986158596188, -0.018144222439681182},
	{gas.Nitrogen, 2000000.0, 3, 0.9959631339733785, 1.4700823720683314, 0.0014989719918082182, -0.07410399399542444},
	{gas.Nitrogen, 3500000.0, 2, 0.9944010414638091, 1.4990480865485254, -0.0009614231970316305, -0.06635117510414675},
}

func TestCheckIdeal(t *testing.T) {
	for _, r := range idealRows {
		spec := compressed(r.fill, r.ratio, 1.4)
		got, err := airspring.CheckIdeal(spec, r.species, 293.15)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "compression ratio", got.CompressionRatio, r.ratio, close12)
		unitstest.Near(t, "Z", got.Compressibility, r.z, close12)
		unitstest.Near(t, "exponent", got.Exponent, r.exponent, unitstest.Rel(1e-10))
		unitstest.Near(t, "slow", got.SlowError, r.slowError, unitstest.Abs(1e-11))
		unitstest.Near(t, "fast", got.FastError, r.fastError, unitstest.Abs(1e-11))
		area := math.Pi / 4 * 0.036 * 0.036
		slow, fast := (r.fill+101325)*r.ratio, (r.fill+101325)*math.Pow(r.ratio, 1.4)
		unitstest.Near(t, "slow force", float64(got.SlowForce), area*(slow-slow/(1+r.slowError)), unitstest.Abs(1e-6))
		unitstest.Near(t, "fast force", float64(got.FastForce), area*(fast-fast/(1+r.fastError)), unitstest.Abs(1e-5))
		// What it says is the force that the law misses by.
		law := make1(t, spec)
		unitstest.Near(t, "law", float64(law.PositivePressure(law.Travel())), fast, unitstest.Rel(1e-10))

		// With the exponent that it names the ideal gas ends where the real one does.
		spec.Exponent = got.Exponent
		again, err := airspring.CheckIdeal(spec, r.species, 293.15)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "right exponent", again.FastError, 0, unitstest.Abs(1e-13))
		unitstest.Near(t, "right exponent", float64(again.FastForce), 0, unitstest.Abs(1e-6))
	}
}

// A real gas is known up to 40 bar(a), the ambient counted. Of a spring of which one size
// is no number, that size alone is named.
func TestCheckIdealRefuses(t *testing.T) {
	good := compressed(5e5, 3, 1.4)
	for _, test := range []struct {
		name        string
		change      func(*airspring.Spec)
		gas         gas.Species
		temperature units.Temperature
		want        []string
	}{
		{"good", func(*airspring.Spec) {}, gas.Nitrogen, 300, nil},
		{"no such gas", func(*airspring.Spec) {}, "argon", 300, []string{"gas"}},
		{"too cold, no exponent", func(s *airspring.Spec) { s.Exponent = 0 }, gas.DryAir, 249, []string{"exponent", "temperature"}},
		{"NaN", func(s *airspring.Spec) { s.Fill = units.GaugePressure(nan) }, gas.DryAir, units.Temperature(nan), []string{"fill", "temperature"}},
		{"no bore", func(s *airspring.Spec) { s.Bore = 0 }, gas.DryAir, 300, []string{"bore"}},
		{"no fill", func(s *airspring.Spec) { s.Fill = 0 }, gas.DryAir, 300, []string{"fill"}},
		{"40 bar(a)", func(s *airspring.Spec) { s.Fill = 40e5 - 101325 }, gas.DryAir, 300, nil},
		{"no number", func(s *airspring.Spec) { s.Bore = units.Length(nan) }, gas.DryAir, 300, []string{"bore"}},
		{"no number", func(s *airspring.Spec) { s.Travel = units.Length(nan) }, gas.DryAir, 300, []string{"travel"}},
		{"no number", func(s *airspring.Spec) { s.PositiveVolume = units.Volume(nan) }, gas.DryAir, 300, []string{"positive_volume"}},
		{"no number", func(s *airspring.Spec) { s.OilVolume = units.Volume(nan) }, gas.DryAir, 300, []string{"oil_volume"}},
		{"no number", func(s *airspring.Spec) { s.SpacerVolume = units.Volume(nan) }, gas.DryAir, 300, []string{"spacer_volume"}},
		{"too many", func(s *airspring.Spec) { s.Spacers = 1001 }, gas.DryAir, 300, []string{"spacers"}},
		{"40 bar gauge", func(s *airspring.Spec) { s.Fill = units.BarGauge(40) }, gas.DryAir, 300, []string{"fill"}},
		{"second chamber", func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = 50e-6, 9e5 }, gas.DryAir, 300, []string{"second_volume"}},
		{"too much compression", func(s *airspring.Spec) { *s = compressed(5e5, 5.001, 1.4) }, gas.DryAir, 300, []string{"positive_volume"}},
		{"just enough", func(s *airspring.Spec) { *s = compressed(5e5, 4.999, 1.4) }, gas.DryAir, 300, nil},
	} {
		spec := good
		test.change(&spec)
		_, err := airspring.CheckIdeal(spec, test.gas, test.temperature)
		wantFields(t, test.name, err, test.want...)
	}
}
