package coil_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// What a field may be at the least and at the most is taken, what lies just
// beyond is refused. The bounds are those of the doc comments: wire, diameters
// and lengths from a micrometre to a kilometre, 0.001 to a million coils,
// moduli from 1 Pa to 1 PPa, densities from 1 g/m³ to 1000 t/m³.

// at is one value of a field and whether it is taken: ok, or refused by name.
type at struct {
	name string
	err  error
	want []string
}

func (a at) check(t *testing.T) {
	t.Helper()
	if diff := cmp.Diff(a.want, fieldsOf(a.err)); diff != "" {
		t.Errorf("%s (-want +got):\n%s", a.name, diff)
	}
}

func TestCoilBounds(t *testing.T) {
	thin := coil.Spec{WireDiameter: 1e-6, MeanDiameter: 1e-5, ActiveCoils: 5, ShearModulus: 80e9}
	wound := func(spec coil.Spec, change func(*coil.Spec)) error { change(&spec); return second(coil.New(spec)) }
	for _, row := range []at{
		{"the thinnest wire", wound(thin, func(*coil.Spec) {}), nil},
		{"thinner wire", wound(thin, func(c *coil.Spec) { c.WireDiameter = 0.999e-6 }), []string{"wire_diameter"}},
		{"wire and coil of more than a kilometre", wound(thin, func(c *coil.Spec) { c.WireDiameter, c.MeanDiameter = 1001, 1002 }),
			[]string{"wire_diameter", "mean_diameter"}},
		{"the narrowest coil", wound(thin, func(c *coil.Spec) { c.MeanDiameter = 1.001e-6 }), nil},
		{"the narrowest coil by its outer diameter", wound(thin, func(c *coil.Spec) { c.MeanDiameter, c.OuterDiameter = 0, 2.001e-6 }), nil},
		{"the narrowest coil by its inner diameter", wound(thin, func(c *coil.Spec) { c.MeanDiameter, c.InnerDiameter = 0, 1e-6 }), nil},
		{"the narrowest coil, narrower", wound(thin, func(c *coil.Spec) { c.MeanDiameter, c.InnerDiameter = 0, 0.999e-6 }), []string{"inner_diameter"}},
		{"the widest coil", wound(thin, func(c *coil.Spec) { c.MeanDiameter = 1000 }), nil},
		{"a wider coil", wound(thin, func(c *coil.Spec) { c.MeanDiameter = 1001 }), []string{"mean_diameter"}},
		{"a coil of no size", wound(thin, func(c *coil.Spec) { c.MeanDiameter = units.Length(math.NaN()) }), []string{"mean_diameter"}},
		{"the fewest coils", wound(thin, func(c *coil.Spec) { c.ActiveCoils = 0.001 }), nil},
		{"fewer coils", wound(thin, func(c *coil.Spec) { c.ActiveCoils = 0.000999 }), []string{"active_coils"}},
		{"the most coils", wound(thin, func(c *coil.Spec) { c.ActiveCoils = 1e6 }), nil},
		{"more coils", wound(thin, func(c *coil.Spec) { c.ActiveCoils = 1.001e6 }), []string{"active_coils"}},
		{"the fewest coils of all", wound(thin, func(c *coil.Spec) { c.ActiveCoils, c.TotalCoils, c.Ends = 0, 0.001, coil.Plain }), nil},
		{"fewer of all", wound(thin, func(c *coil.Spec) { c.ActiveCoils, c.TotalCoils, c.Ends = 0, 0.000999, coil.Plain }), []string{"total_coils"}},
		{"the most coils of all", wound(thin, func(c *coil.Spec) { c.ActiveCoils, c.TotalCoils = 0, 1e6 }), nil},
		{"more of all", wound(thin, func(c *coil.Spec) { c.ActiveCoils, c.TotalCoils = 0, 1.001e6 }), []string{"total_coils"}},
		{"the softest wire", wound(thin, func(c *coil.Spec) { c.ShearModulus, c.ElasticModulus = 1, 1.001 }), nil},
		{"softer wire", wound(thin, func(c *coil.Spec) { c.ShearModulus, c.ElasticModulus = 0.998, 0.999 }), []string{"shear_modulus", "elastic_modulus"}},
		{"the hardest wire", wound(thin, func(c *coil.Spec) { c.ShearModulus, c.ElasticModulus = 0.999e15, 1e15 }), nil},
		{"harder wire", wound(thin, func(c *coil.Spec) { c.ElasticModulus = 1.001e15 }), []string{"elastic_modulus"}},
		{"harder wire in shear", wound(thin, func(c *coil.Spec) { c.ShearModulus = 1.001e15 }), []string{"shear_modulus"}},
		{"the lightest wire", wound(thin, func(c *coil.Spec) { c.Density = 1e-3 }), nil},
		{"lighter wire", wound(thin, func(c *coil.Spec) { c.Density = 0.999e-3 }), []string{"density"}},
		{"the heaviest wire", wound(thin, func(c *coil.Spec) { c.Density = 1e6 }), nil},
		{"heavier wire", wound(thin, func(c *coil.Spec) { c.Density = 1.001e6 }), []string{"density"}},
		{"the shortest spring", wound(thin, func(c *coil.Spec) { c.ActiveCoils, c.Ends, c.FreeLength = 0.001, coil.Plain, 1.002e-6 }), nil},
		{"solid when free", wound(thin, func(c *coil.Spec) { c.ActiveCoils, c.Ends, c.FreeLength = 0.001, coil.Plain, 1.0005e-6 }), []string{"free_length"}},
		{"the longest spring", wound(thin, func(c *coil.Spec) { c.FreeLength = 1000 }), nil},
		{"a longer spring", wound(thin, func(c *coil.Spec) { c.FreeLength = 1001 }), []string{"free_length"}},
	} {
		row.check(t)
	}
}

func TestDesignBounds(t *testing.T) {
	flat := coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 79500e6}
	perCoil := units.Stiffness(79500e6 * 1e-8 / (8 * 46e-3 * 46e-3 * 46e-3))
	coils := func(rate units.Stiffness, step float64) error { return second(coil.CoilsForRate(flat, rate, step)) }
	wide := func(wire units.Length, rate units.Stiffness) error {
		return second(coil.DiameterForRate(coil.Spec{WireDiameter: wire, ActiveCoils: 1, ShearModulus: 1e9}, rate))
	}
	// 8·C³ is 64, so that the exact wire of one coil is 64·k/G.
	wire := func(rate units.Stiffness, g units.Stress, change func(*coil.RateTarget)) error {
		goal := coil.RateTarget{Rate: rate, Index: 2, ActiveCoils: 1, ShearModulus: g}
		change(&goal)
		return second(coil.WireForRate(goal))
	}
	same := func(*coil.RateTarget) {}
	for _, row := range []at{
		{"the finest step", coils(perCoil/5, 1e-3), nil},
		{"a finer step", coils(perCoil/5, 0.999e-3), []string{"coil_step"}},
		{"the coarsest step", coils(perCoil/5, 1e3), nil},
		{"a coarser step", coils(perCoil/5, 1.001e3), []string{"coil_step"}},

		// k = G·d⁴/(8·D³): 600 m of wire on a coil of 800 m.
		{"a coil of 800 m", wide(600, 1e9*600*600*600*600/(8*800*800*800)), nil},
		{"a coil of 1010 m", wide(600, 1e9*600*600*600*600/(8*1010*1010*1010)), []string{"rate"}},
		{"wire of a kilometre", wide(1000, 1), []string{"wire_diameter"}},

		{"a wire of a micrometre", wire(1e3, 64e9, same), nil},
		{"a thinner wire", wire(0.999e3, 64e9, same), []string{"rate"}},
		{"a coil of a kilometre", wire(500e3, 64e3, same), nil},
		{"a wider coil", wire(501e3, 64e3, same), []string{"rate"}},
		// The wire from stock would do, but the rate asks for one of 600 m.
		{"a wider coil than the one from stock", wire(0.6, 64e3, func(g *coil.RateTarget) { g.ActiveCoils, g.Stock = 1e6, []units.Length{1e-3} }), []string{"rate"}},
		{"index 1", wire(1e3, 64e6, func(g *coil.RateTarget) { g.Index = 1 }), []string{"index"}},
		{"index just over 1", wire(1e3, 64e6, func(g *coil.RateTarget) { g.Index = 1.001 }), nil},
		{"index 1000", wire(1e-3, 64e6, func(g *coil.RateTarget) { g.Index = 1000 }), nil},
		{"index 1001", wire(1e-3, 64e6, func(g *coil.RateTarget) { g.Index = 1001 }), []string{"index"}},
		{"the fewest coils", wire(1e3, 64e3, func(g *coil.RateTarget) { g.ActiveCoils = 1.001e-3 }), nil},
		{"fewer coils", wire(1e3, 64e3, func(g *coil.RateTarget) { g.ActiveCoils = 0.999e-3 }), []string{"active_coils"}},
		{"the most coils", wire(1, 64e6, func(g *coil.RateTarget) { g.ActiveCoils = 0.999e6 }), nil},
		{"more coils", wire(1, 64e6, func(g *coil.RateTarget) { g.ActiveCoils = 1.001e6 }), []string{"active_coils"}},
		{"the softest wire", wire(1e-3, 1, same), nil},
		{"softer wire", wire(1e-3, 0.999, same), []string{"shear_modulus"}},
		{"the hardest wire", wire(1e9, 1e15, same), nil},
		{"harder wire", wire(1e9, 1.001e15, same), []string{"shear_modulus"}},
		{"the thinnest of stock", wire(1e3, 64e6, func(g *coil.RateTarget) { g.Stock = []units.Length{1e-3, 1e-6} }), nil},
		{"thinner of stock", wire(1e3, 64e6, func(g *coil.RateTarget) { g.Stock = []units.Length{1e-3, 0.999e-6} }), []string{"stock[1]"}},
		{"the thickest of stock", wire(1e3, 64e6, func(g *coil.RateTarget) { g.Stock = []units.Length{1e-3, 1e3} }), nil},
		{"thicker of stock", wire(1e3, 64e6, func(g *coil.RateTarget) { g.Stock = []units.Length{1e-3, 1001} }), []string{"stock[1]"}},

		{"a stress of 1 PPa", second(coil.WireForLoad(1e9, 5, 1e15)), nil},
		{"a greater stress", second(coil.WireForLoad(1e9, 5, 1.001e15)), []string{"stress"}},
		// By hand for C = 2: K is 2, and the wire √(32·F/(π·τ)).
		{"wire of 400 m, a coil of 800 m", second(coil.WireForLoad(400*400*math.Pi/32*1e3, 2, 1e3)), nil},
		{"wire of 600 m, a coil of 1200 m", second(coil.WireForLoad(600*600*math.Pi/32*1e3, 2, 1e3)), []string{"load"}},
		{"wire of 1.001 µm", second(coil.WireForLoad(1.001e-6*1.001e-6*math.Pi/32*1e3, 2, 1e3)), nil},
		{"wire of 0.999 µm", second(coil.WireForLoad(0.999e-6*0.999e-6*math.Pi/32*1e3, 2, 1e3)), []string{"load"}},
	} {
		row.check(t)
	}
}

// The thinnest wire and the widest coil are taken to the last place: of loads
// that differ by that much one gives exactly them, however the root rounds.
func TestWireForLoadAtItsBounds(t *testing.T) {
	for _, want := range []units.Length{1e-6, 500} {
		found := false
		load := float64(want) * float64(want) * math.Pi / 32 * 1e3
		for i := -100; i < 100 && !found; i++ {
			wire, err := coil.WireForLoad(units.Force(load*(1+float64(i)*0x1p-52)), 2, 1e3)
			found = err == nil && wire == want
		}
		if !found {
			t.Errorf("no load gives a wire of %v at an index of 2", want)
		}
	}
}

func TestFitBounds(t *testing.T) {
	s := coilOf(t, shockSpring)
	fit := func(change func(*coil.Place)) error {
		f := coil.Place{Stroke: 1e-3}
		change(&f)
		return second(coil.CheckPlace(s, f))
	}
	for _, row := range []at{
		{"a stroke under a kilometre", fit(func(f *coil.Place) { f.Stroke = 999 }), nil},
		{"a stroke of a kilometre", fit(func(f *coil.Place) { f.Stroke = 1000 }), []string{"stroke"}},
		{"a preload of a kilometre", fit(func(f *coil.Place) { f.Preload = 1000 }), nil},
		{"more preload", fit(func(f *coil.Place) { f.Preload = 1001 }), []string{"preload"}},
		{"a body of a kilometre", fit(func(f *coil.Place) { f.Body = 1000 }), nil},
		{"a wider body", fit(func(f *coil.Place) { f.Body = 1001 }), []string{"body"}},
		{"a tube of a kilometre", fit(func(f *coil.Place) { f.Tube = 1000 }), nil},
		{"a wider tube", fit(func(f *coil.Place) { f.Tube = 1001 }), []string{"tube"}},
		{"the least fixity", fit(func(f *coil.Place) { f.EndFixity = 0.01 }), nil},
		{"less fixity", fit(func(f *coil.Place) { f.EndFixity = 0.00999 }), []string{"end_fixity"}},
		{"the greatest fixity", fit(func(f *coil.Place) { f.EndFixity = 100 }), nil},
		{"more fixity", fit(func(f *coil.Place) { f.EndFixity = 100.1 }), []string{"end_fixity"}},
		{"the strongest wire", fit(func(f *coil.Place) { f.TensileStrength = 1e15 }), nil},
		{"stronger wire", fit(func(f *coil.Place) { f.TensileStrength = 1.001e15 }), []string{"tensile_strength"}},
	} {
		row.check(t)
	}
}

func TestStrengthBounds(t *testing.T) {
	power := func(change func(*coil.StrengthFit)) error {
		f := coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2e9, Exponent: 0.15}
		change(&f)
		return second(coil.TensileStrength(f, 2e-3))
	}
	logarithm := func(change func(*coil.StrengthFit)) error {
		f := coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e15, PerDecade: 8e8}
		change(&f)
		return second(coil.TensileStrength(f, 0.9e-3))
	}
	wire := func(d units.Length) error {
		return second(coil.TensileStrength(coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2e9, Exponent: 0.15}, d))
	}
	for _, row := range []at{
		{"the thinnest wire", wire(1e-6), nil},
		{"thinner wire", wire(0.999e-6), []string{"wire_diameter"}},
		{"the thickest wire", wire(1e3), nil},
		{"thicker wire", wire(1001), []string{"wire_diameter"}},
		{"the least unit", power(func(f *coil.StrengthFit) { f.WireUnit = 1e-6 }), nil},
		{"less of a unit", power(func(f *coil.StrengthFit) { f.WireUnit = 0.999e-6 }), []string{"wire_unit"}},
		{"the greatest unit", power(func(f *coil.StrengthFit) { f.WireUnit = 1e3 }), nil},
		{"more of a unit", power(func(f *coil.StrengthFit) { f.WireUnit = 1001 }), []string{"wire_unit"}},
		{"the weakest", power(func(f *coil.StrengthFit) { f.AtUnit = 1 }), nil},
		{"weaker", power(func(f *coil.StrengthFit) { f.AtUnit = 0.999 }), []string{"at_unit"}},
		{"the strongest", power(func(f *coil.StrengthFit) { f.AtUnit = 1e15 }), nil},
		{"stronger", power(func(f *coil.StrengthFit) { f.AtUnit = 1.001e15 }), []string{"at_unit"}},
		{"to a kilometre", power(func(f *coil.StrengthFit) { f.WireTo = 1e3 }), nil},
		{"to more", power(func(f *coil.StrengthFit) { f.WireTo = 1001 }), []string{"wire_to"}},
		{"from a kilometre", power(func(f *coil.StrengthFit) { f.WireFrom = 1e3 }), []string{"wire_diameter"}}, // which is of 2 mm
		{"from more", power(func(f *coil.StrengthFit) { f.WireFrom = 1001 }), []string{"wire_from"}},
		{"the steepest", logarithm(func(f *coil.StrengthFit) { f.PerDecade = 1e15 }), nil},
		{"steeper", logarithm(func(f *coil.StrengthFit) { f.PerDecade = 1.001e15 }), []string{"per_decade"}},
		{"the highest cap", logarithm(func(f *coil.StrengthFit) { f.Cap = 1e15 }), nil},
		{"a higher cap", logarithm(func(f *coil.StrengthFit) { f.Cap = 1.001e15 }), []string{"cap"}},
	} {
		row.check(t)
	}

	// What the fit covers is said with the bound it has, or with both.
	var fields [2][]*units.FieldError
	for i, to := range []units.Length{0, 2e-3} {
		_, err := coil.TensileStrength(coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2e9, WireFrom: 1e-3, WireTo: to}, 0.9e-3)
		if fields[i] = units.Fields(err); len(fields[i]) != 1 {
			t.Fatal(err)
		}
	}
	if lone, both := fields[0][0].Want, fields[1][0].Want; lone != "at least 1 mm, which is what the fit covers" || both != "from 1 mm to 2 mm, which is what the fit covers" {
		t.Errorf("want %q and %q", lone, both)
	}

	// Half a pascal: weaker than anything, and yet some strength.
	fit := coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1.5, PerDecade: 1}
	got, err := coil.TensileStrength(fit, 10e-3)
	if err != nil {
		t.Error(err)
	}
	close12(t, "half a pascal left", float64(got), 0.5)
	fit.Cap = 0.25
	got, err = coil.TensileStrength(fit, 1e-3)
	if err != nil {
		t.Error(err)
	}
	close12(t, "capped at a quarter of a pascal", float64(got), 0.25)
}

func TestWarmBounds(t *testing.T) {
	warm := func(g units.Stress, r float64, at units.Temperature) error {
		return second(coil.WarmShearModulus(g, r, at))
	}
	for _, row := range []at{
		{"the softest wire", warm(1, 0, 300), nil},
		{"softer wire", warm(0.999, 0, 300), []string{"shear_modulus"}},
		{"the hardest wire", warm(1e15, 0, 300), nil},
		{"harder wire", warm(1.001e15, 0, 300), []string{"shear_modulus"}},
		{"the greatest coefficient", warm(80e9, 1, 200), nil},
		{"a greater coefficient", warm(80e9, 1.001, 200), []string{"coefficient"}},
		{"the coldest", warm(80e9, 1e-4, 1e-3), nil},
		{"colder", warm(80e9, 1e-4, 0.999e-3), []string{"temperature"}},
		{"the hottest", warm(80e9, 1e-5, 1e4), nil},
		{"hotter", warm(80e9, 1e-5, 1.001e4), []string{"temperature"}},
		// 0.5 per kelvin: nothing is left 2 K above 20 °C.
		{"nothing left", warm(80e9, 0.5, units.Celsius(20)+2), []string{"temperature"}},
		{"something left", warm(80e9, 0.5, units.Celsius(20)+1.999), nil},
	} {
		row.check(t)
	}
}

func TestLinearBounds(t *testing.T) {
	linear := func(rate units.Stiffness, travel units.Length) error {
		return second(spring.NewLinear(spring.Linear{Rate: rate, Travel: travel}))
	}
	for _, row := range []at{
		{"just weak enough", linear(0.999e150, 1), nil},
		{"a force and energy of 1e150", linear(1e150, 1), []string{"rate"}},
		{"a force of 1e150", linear(1e151, 0.1), []string{"rate"}},
		{"a force just below", linear(0.999e151, 0.1), nil},
		{"an energy of 1e150", linear(1e148, 10), []string{"rate"}},
		{"an energy just below", linear(0.999e148, 10), nil},
	} {
		row.check(t)
	}
}

// What is missing is told from what is out of range.
func TestMissingIsSaid(t *testing.T) {
	for name, err := range map[string]error{
		"groups": second(spring.NewGroups(spring.Groups{})), "coil groups": second(coil.NewGroups(coil.Groups{WireDiameter: 1e-2, MeanDiameter: 5e-2, ShearModulus: 8e10})),
		"laws": second(spring.NewSeries()), "members": second(spring.NewParallel()), "a law": second(spring.NewSeries(nil)),
		"a shelf": second(coil.Identify(1, 1, nil)),
	} {
		if !errors.Is(err, units.ErrMissing) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err := coil.NewGroups(coil.Groups{})
	if diff := cmp.Diff([]string{"mean_diameter", "wire_diameter", "shear_modulus", "groups"}, fieldsOf(err)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A shelf holds 1000 springs at most.
func TestShelfBounds(t *testing.T) {
	shelf := make([]coil.Nominal, 1001)
	for i := range shelf {
		shelf[i] = coil.Nominal{Rate: 50e3, Tolerance: 0.05}
	}
	for n, want := range map[int][]string{1: nil, 1000: nil, 1001: {"shelf"}} {
		list, err := coil.Identify(50e3, 100, shelf[:n])
		if diff := cmp.Diff(want, fieldsOf(err)); diff != "" || err == nil && len(list) != n {
			t.Errorf("a shelf of %d (-want +got):\n%s", n, diff)
		}
	}
}
