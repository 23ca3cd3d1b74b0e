package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
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

// The compressions of gases in chambers that package gas is checked against, with
// the relative errors that the same 40-digit program has for the ideal gas with n of
// 1 and of 1.4: fill in Pa, compression ratio, Z as filled, the real exponent of the
// fast stroke.
var idealRows = []struct {
	species                                        gas.Species
	fill, ratio, z, exponent, slowError, fastError float64
}{
	{gas.DryAir, 300000.0, 2, 0.9985447295012767, 1.40696738608576, 0.0013638773470057623, -0.004817781103431736},
	{gas.DryAir, 300000.0, 3, 0.9985447295012767, 1.40793816534097, 0.0026394438830158414, -0.008683048674417522},
	{gas.DryAir, 500000.0, 2, 0.9978538918931703, 1.4113785648323316, 0.0019442624286377945, -0.007855999196886043},
	{gas.DryAir, 500000.0, 3, 0.9978538918931703, 1.41379480508236, 0.003696007359165904, -0.01504088115623222},
	{gas.DryAir, 800000.0, 2, 0.9968595298086754, 1.4182222732649679, 0.0026971268607380136, -0.012551284609270444},
	{gas.DryAir, 800000.0, 3, 0.9968595298086754, 1.42291913056065, 0.004977397890568035, -0.024864885371680762},
	{gas.DryAir, 1000000.0, 2, 0.9962240756318741, 1.4229318303350647, 0.0031230448594339747, -0.01576947258687105},
	{gas.DryAir, 1000000.0, 3, 0.9962240756318741, 1.429220595428695, 0.005635941673932426, -0.03159230245019615},
	{gas.DryAir, 1500000.0, 2, 0.9947293867211645, 1.4352037455442177, 0.00393087953354025, -0.02410607021028468},
	{gas.DryAir, 1500000.0, 3, 0.9947293867211645, 1.4457121940935143, 0.006614666250835912, -0.048979802196805276},
	{gas.DryAir, 2000000.0, 2, 0.9933657221702321, 1.4481663059491388, 0.004380648204349272, -0.032835166254651216},
	{gas.DryAir, 2000000.0, 3, 0.9933657221702321, 1.4632304563926113, 0.006642808208839141, -0.06710792158950353},
	{gas.DryAir, 2500000.0, 2, 0.992129754674878, 1.4618028323915486, 0.004475971585606051, -0.0419338554917115},
	{gas.DryAir, 2500000.0, 3, 0.992129754674878, 1.4817603835965767, 0.005697049440622968, -0.08590699998925092},
	{gas.DryAir, 3500000.0, 2, 0.9900311267419523, 1.491072229423468, 0.003583732254286353, -0.06117525670518028},
	{gas.DryAir, 3500000.0, 3, 0.9900311267419523, 1.5218624479311817, 0.000700654629765264, -0.12530461339009383},
	{gas.Nitrogen, 300000.0, 2, 0.9990662792509181, 1.4082832969298724, 0.0008577558697626242, -0.005725092749515134},
	{gas.Nitrogen, 300000.0, 3, 0.9990662792509181, 1.4102541973802938, 0.0016390454044654399, -0.011202170387620773},
	{gas.Nitrogen, 500000.0, 2, 0.9986293291139113, 1.4131322763469616, 0.0011994919515466282, -0.009061297075227159},
	{gas.Nitrogen, 500000.0, 3, 0.9986293291139113, 1.4166672516142431, 0.002225986158596188, -0.018144222439681182},
	{gas.Nitrogen, 800000.0, 2, 0.9980095191787195, 1.4206115920062403, 0.0016036231421366995, -0.014185293898539867},
	{gas.Nitrogen, 800000.0, 3, 0.9980095191787195, 1.4266006729349547, 0.0028137030220875634, -0.028800939631931834},
	{gas.Nitrogen, 1000000.0, 2, 0.9976201795133828, 1.425734917922874, 0.0017998541173186151, -0.017679928949088503},
	{gas.Nitrogen, 1000000.0, 3, 0.9976201795133828, 1.4334315438015193, 0.003006982096381944, -0.03606200294664821},
	{gas.Nitrogen, 1500000.0, 2, 0.9967309938200519, 1.4390230479676218, 0.0020296337739525243, -0.02668617527117912},
	{gas.Nitrogen, 1500000.0, 3, 0.9967309938200519, 1.451237114557035, 0.002777475712868367, -0.05473476951508468},
	{gas.Nitrogen, 2000000.0, 2, 0.9959631339733785, 1.4529971901943715, 0.0018785954528648266, -0.0360683148993049},
	{gas.Nitrogen, 2000000.0, 3, 0.9959631339733785, 1.4700823720683314, 0.0014989719918082182, -0.07410399399542444},
	{gas.Nitrogen, 2500000.0, 2, 0.9953179663699424, 1.4676585796555044, 0.0013363535688792733, -0.045814663869538995},
	{gas.Nitrogen, 2500000.0, 3, 0.9953179663699424, 1.4899673886870466, -0.0008655214405036388, -0.09411170821446173},
	{gas.Nitrogen, 3500000.0, 2, 0.9944010414638091, 1.4990480865485254, -0.0009614231970316305, -0.06635117510414675},
	{gas.Nitrogen, 3500000.0, 3, 0.9944010414638091, 1.5328542900938669, -0.008980727025475038, -0.1358037162378954},
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

// Oil and spacers raise the compression, and a fork's exponent stays below a
// shock's.
func TestCheckIdealSpacers(t *testing.T) {
	spec := compressed(5e5, 2, 1.4)
	spec.PositiveVolume += 30e-6
	spec.OilVolume, spec.SpacerVolume, spec.Spacers = 10e-6, 10e-6, 2
	got, err := airspring.CheckIdeal(spec, gas.DryAir, 293.15)
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

// A real gas is known up to 40 bar(a), ambient counted, and where one size of the
// spring is no number, only that one is named.
func TestCheckIdealNamesTheBadFieldAlone(t *testing.T) {
	spec := compressed(40e5-101325, 3, 1.4)
	_, err := airspring.CheckIdeal(spec, gas.DryAir, 300)
	wantFields(t, "40 bar(a)", err)
	for field, set := range map[string]func(*airspring.Spec){
		"bore":            func(s *airspring.Spec) { s.Bore = units.Length(nan) },
		"travel":          func(s *airspring.Spec) { s.Travel = units.Length(nan) },
		"positive_volume": func(s *airspring.Spec) { s.PositiveVolume = units.Volume(nan) },
		"oil_volume":      func(s *airspring.Spec) { s.OilVolume = units.Volume(nan) },
		"spacer_volume":   func(s *airspring.Spec) { s.SpacerVolume = units.Volume(nan) },
		"spacers":         func(s *airspring.Spec) { s.Spacers, s.SpacerVolume = 1001, cm3 },
	} {
		spec := compressed(5e5, 3, 1.4)
		set(&spec)
		_, err := airspring.CheckIdeal(spec, gas.DryAir, 300)
		wantFields(t, field, err, field)
	}
}
