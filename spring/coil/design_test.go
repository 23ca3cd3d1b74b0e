package coil_test

import (
	"errors"
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Active coils for a rate as books print them: Bhandari 10.4 and 10.5, Wentzell
// 8.2 (which prints total coils, 12.79) and Jindal 8-4 (which prints the solid
// length of squared and ground ends, 26.18 mm) as worked in published textbook
// companions, and Mott, 4th ed., section 19-6.
func TestCoilsForRatePublished(t *testing.T) {
	jindal := (26.18e-3)/2.337e-3 - 2
	for _, row := range []struct {
		name          string
		wire, mean    units.Length
		shear         units.Stress
		rate          units.Stiffness
		coils, within float64 // half a unit in the last printed digit
	}{
		{"Bhandari 10.4", 4e-3, 24e-3, 81370e6, 30e3, 6.278549, 0.5e-6},
		{"Bhandari 10.5", 7e-3, 42e-3, 81370e6, 15e3, 21.974923, 0.5e-6},
		{"Wentzell 8.2", 0.105 * units.Inch, 0.62 * units.Inch, 11.85 * units.Mpsi, 70 * units.PoundForcePerInch, 12.79 - 2, 0.005},
		{"Jindal 8-4", 2.337e-3, 22.2e-3, 81000e6, 3e3, jindal, 0.005e-3 / 2.337e-3},
		{"Mott 19-6", 0.0625 * units.Inch, 0.6 * units.Inch, 11.2 * units.Mpsi, 8 * units.PoundForcePerInch, 12.36, 0.005},
	} {
		d, err := coil.CoilsForRate(coil.Spec{WireDiameter: row.wire, MeanDiameter: row.mean, ShearModulus: row.shear}, row.rate, 0)
		require.NoError(t, err)
		if math.Abs(d.ExactCoils-row.coils) > row.within {
			t.Errorf("%s: %v coils, printed are %v", row.name, d.ExactCoils, row.coils)
		}
		close12(t, row.name+" rate", float64(d.Rate), float64(row.rate))
	}
}

func TestCoilsForRateRounds(t *testing.T) {
	// By hand: 79 500·10⁴/(8·46³) = 1020.948 N/mm per coil.
	spec := coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 79500e6}
	perCoil := 79500e6 * 1e-8 / (8 * 46e-3 * 46e-3 * 46e-3)
	for _, row := range []struct{ rate, step, coils float64 }{
		{perCoil / 5.1, 1, 5}, {perCoil / 5.1, 0.25, 5}, {perCoil / 5.2, 0.25, 5.25}, {perCoil / 5.1, 0, 5.1}, {perCoil * 50, 0.25, 0.25},
	} {
		d, err := coil.CoilsForRate(spec, units.Stiffness(row.rate), row.step)
		require.NoError(t, err)
		close12(t, "coils", d.Coil.ActiveCoils, row.coils)
		close12(t, "exact coils", d.ExactCoils, perCoil/row.rate)
		close12(t, "rate", float64(d.Rate), perCoil/row.coils)
		if math.Abs(d.Miss-(perCoil/row.coils/row.rate-1)) > 1e-12 || d.ExactWire != 10e-3 || d.NextStockWires != nil {
			t.Errorf("design %+v", d)
		}
	}
}

func TestWireForRate(t *testing.T) {
	// By hand: 8·80 N/mm·4.6³·5/79 500 MPa = 3.917912… mm of wire.
	exact := 8 * 80e3 * 4.6 * 4.6 * 4.6 * 5 / 79500e6
	goal := coil.RateTarget{Rate: 80e3, Index: 4.6, ActiveCoils: 5, ShearModulus: 79500e6}
	d, err := coil.WireForRate(goal)
	require.NoError(t, err)
	close12(t, "wire", float64(d.Coil.WireDiameter), exact)
	close12(t, "coils", d.Coil.ActiveCoils, 5)
	close12(t, "rate", float64(d.Rate), 80e3)

	goal.Stock, goal.CoilStep = []units.Length{5e-3, 3.5e-3, 4e-3, 3e-3}, 0.25
	d, err = coil.WireForRate(goal)
	require.NoError(t, err)
	if diff := cmp.Diff([]units.Length{3.5e-3, 4e-3}, d.NextStockWires); diff != "" || d.Coil.WireDiameter != 4e-3 {
		t.Errorf("wire %v (-want +got):\n%s", d.Coil.WireDiameter, diff)
	}
	close12(t, "index kept", float64(d.Coil.MeanDiameter/d.Coil.WireDiameter), 4.6)
	close12(t, "exact coils", d.ExactCoils, 5*4e-3/exact)
	close12(t, "coils", d.Coil.ActiveCoils, 5) // 5.105 to the next quarter
	close12(t, "rate", float64(d.Rate), 80e3*4e-3/exact)
}

// The nearest size of the stock is taken, the thinner of two that are equally near;
// one that fits exactly stands once among the next ones. By hand: the exact wire is
// 64·k/G = 1 m.
func TestWireFromStock(t *testing.T) {
	for _, row := range []struct {
		stock, next []units.Length
		wire        units.Length
	}{
		{[]units.Length{0.75, 1.25}, []units.Length{0.75, 1.25}, 0.75}, {[]units.Length{1.25, 0.75, 3}, []units.Length{0.75, 1.25}, 0.75},
		{[]units.Length{0.75, 1.2}, []units.Length{0.75, 1.2}, 1.2}, {[]units.Length{0.9, 1.2}, []units.Length{0.9, 1.2}, 0.9},
		{[]units.Length{0.75, 1, 1.25}, []units.Length{1}, 1}, {[]units.Length{0.75}, []units.Length{0.75}, 0.75}, {[]units.Length{3}, []units.Length{3}, 3},
	} {
		d, err := coil.WireForRate(coil.RateTarget{Rate: 1e3, Index: 2, ActiveCoils: 1, ShearModulus: 64e3, Stock: row.stock})
		require.NoError(t, err)
		if d.ExactWire != 1 || d.Coil.WireDiameter != row.wire || !cmp.Equal(d.NextStockWires, row.next) {
			t.Errorf("of %v: %+v", row.stock, d)
		}
	}
}

// A design's coil is the spec that was given, and what was looked for.
func TestDesignKeepsTheSpec(t *testing.T) {
	spec := coil.Spec{WireDiameter: 10e-3, OuterDiameter: 56e-3, Ends: coil.Squared, ShearModulus: 79500e6, ElasticModulus: 206e9, Density: 7850}
	d, err := coil.CoilsForRate(spec, 204189.611243528, 1)
	require.NoError(t, err)
	want := spec
	want.ActiveCoils = 5
	if diff := cmp.Diff(want, d.Coil); diff != "" {
		t.Errorf("coils (-want +got):\n%s", diff)
	}

	spec = coil.Spec{WireDiameter: 10e-3, TotalCoils: 7, Ends: coil.Squared, FreeLength: 115e-3, ShearModulus: 79500e6, ElasticModulus: 206e9, Density: 7850}
	d, err = coil.DiameterForRate(spec, 204189.611243528)
	require.NoError(t, err)
	close12(t, "diameter", float64(d.Coil.MeanDiameter), 46e-3)
	if d.ExactCoils != 5 || d.ExactWire != 10e-3 {
		t.Errorf("%+v", d)
	}
	want, d.Coil.MeanDiameter = spec, 0
	if diff := cmp.Diff(want, d.Coil); diff != "" {
		t.Errorf("diameter (-want +got):\n%s", diff)
	}
}

// Miss is the rate found over the rate wanted, less 1, down to the rounding
// that is all that an exact diameter misses by.
func TestMissIsExact(t *testing.T) {
	missed := 0
	for i := range 50 {
		rate := units.Stiffness(50e3 + 1234.5*float64(i))
		d, err := coil.DiameterForRate(coil.Spec{WireDiameter: 10e-3, ActiveCoils: 5, ShearModulus: 79500e6}, rate)
		require.NoError(t, err)
		if want := float64(d.Rate/rate) - 1; d.Miss != want || !(want < 1e-14 && want > -1e-14) {
			t.Errorf("misses %v by %v, want %v", rate, d.Miss, want)
		}
		if d.Miss != 0 {
			missed++
		}
	}
	if missed == 0 {
		t.Error("no rate of the table is rounded")
	}
}

func TestDesignRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		name string
		err  error
		want []string
	}{
		{"coils: nothing", second(coil.CoilsForRate(coil.Spec{}, 0, -1)), []string{"rate", "coil_step", "wire_diameter", "mean_diameter", "shear_modulus"}},
		{"coils: given already", second(coil.CoilsForRate(coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 80e9, ActiveCoils: 5, TotalCoils: 7, FreeLength: 1}, 80e3, nan)),
			[]string{"coil_step", "active_coils", "total_coils", "free_length"}},
		{"coils: none would do", second(coil.CoilsForRate(coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 80e9}, 1e-300, 0)), []string{"rate"}},
		{"wire: nothing", second(coil.WireForRate(coil.RateTarget{})), []string{"rate", "index", "active_coils", "shear_modulus"}},
		{"wire: NaN", second(coil.WireForRate(coil.RateTarget{units.Stiffness(nan), nan, nan, units.Stress(nan), "odd", []units.Length{1e-3, units.Length(nan)}, nan})),
			[]string{"rate", "coil_step", "index", "active_coils", "shear_modulus", "ends", "stock[1]"}},
		{"wire: none is so thick", second(coil.WireForRate(coil.RateTarget{Rate: 1e300, Index: 5, ActiveCoils: 5, ShearModulus: 80e9})), []string{"rate"}},
	} {
		if diff := cmp.Diff(test.want, fieldsOf(test.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

func TestDiametersAndWiresRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	diameter := func(spec coil.Spec, rate units.Stiffness) error {
		_, err := coil.DiameterForRate(spec, rate)
		return err
	}
	wire := func(load units.Force, index float64, stress units.Stress) error {
		_, err := coil.WireForLoad(load, index, stress)
		return err
	}
	good := coil.Spec{WireDiameter: 4e-3, ActiveCoils: 30, ShearModulus: 85e9}
	given := good
	given.MeanDiameter, given.OuterDiameter, given.InnerDiameter = 20e-3, 24e-3, 16e-3
	for _, row := range []struct {
		name string
		err  error
		want []string
	}{
		{"nothing", diameter(coil.Spec{}, 0), []string{"rate", "wire_diameter", "active_coils", "shear_modulus"}},
		{"NaN", diameter(coil.Spec{WireDiameter: units.Length(nan), ActiveCoils: nan, ShearModulus: units.Stress(nan)}, units.Stiffness(nan)),
			[]string{"rate", "wire_diameter", "active_coils", "shear_modulus"}},
		{"infinite", diameter(good, units.Stiffness(inf)), []string{"rate"}},
		{"diameters given", diameter(given, 12.5e3), []string{"mean_diameter", "outer_diameter", "inner_diameter"}},
		{"stiffer than its wire", diameter(good, 1e9), []string{"rate"}},
		{"softer than anything", diameter(good, 1e-30), []string{"rate"}},
		{"an index of 1000 or just over 1", errors.Join(wire(100, 1000, 1e9), wire(100, 1.5, 1e9)), nil},
		{"an index beyond", wire(100, 1000.5, 1e9), []string{"index"}},
		{"a coil wider than anything", wire(1e10, 1000, 1), []string{"load"}},
		{"load, index, stress", wire(0, 1, 0), []string{"load", "index", "stress"}},
		{"all NaN", wire(units.Force(nan), nan, units.Stress(nan)), []string{"load", "index", "stress"}},
		{"no wire so thick", wire(1e300, 5, 1e9), []string{"load"}},
		{"no wire so thin", wire(1e-300, 5, 1e9), []string{"load"}},
	} {
		if diff := cmp.Diff(row.want, fieldsOf(row.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
	}
	if s := coilOf(t, shockSpring); s.LoadForStress(units.Stress(nan)) != 0 || s.LoadForStress(-1e9) != s.LoadForStress(1e9) ||
		math.IsInf(float64(s.LoadForStress(units.Stress(inf))), 0) {
		t.Error("LoadForStress of no stress")
	}
}

func TestDesignBounds(t *testing.T) {
	flat := coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 79500e6}
	bounds(t, "coil_step", 1e-3, 1e3, func(v float64) error { return second(coil.CoilsForRate(flat, 2e5, v)) })

	// k = G·d⁴/(8·D³): 600 m of wire on coils of up to a kilometre.
	wide := func(mean float64) error {
		k := 1e9 * 600 * 600 * 600 * 600 / (8 * mean * mean * mean)
		return second(coil.DiameterForRate(coil.Spec{WireDiameter: 600, ActiveCoils: 1, ShearModulus: 1e9}, units.Stiffness(k)))
	}
	refuses(t, wide(999))
	refuses(t, wide(1001), "rate")
	refuses(t, second(coil.DiameterForRate(coil.Spec{WireDiameter: 1000, ActiveCoils: 1, ShearModulus: 1e9}, 1)), "wire_diameter")

	// 8·C³ is 64 at an index of 2, so that the exact wire of one coil is 64·k/G.
	try := func(rate units.Stiffness, g units.Stress, change func(t *coil.RateTarget, v float64)) func(float64) error {
		return func(v float64) error {
			goal := coil.RateTarget{Rate: rate, Index: 2, ActiveCoils: 1, ShearModulus: g}
			change(&goal, v)
			return second(coil.WireForRate(goal))
		}
	}
	rate := func(t *coil.RateTarget, v float64) { t.Rate = units.Stiffness(v) }
	refuses(t, try(0, 64e9, rate)(1e3)) // wire of 1 µm
	refuses(t, try(0, 64e9, rate)(0.999e3), "rate")
	refuses(t, try(0, 64e3, rate)(500e3)) // a coil of 1 km
	refuses(t, try(0, 64e3, rate)(501e3), "rate")
	stock := func(t *coil.RateTarget, v float64) { t.Stock = []units.Length{1e-3, units.Length(v)} }
	// The wire from stock would do, but the rate asks for one of 600 m.
	refuses(t, try(0.6, 64e3, func(t *coil.RateTarget, v float64) { t.ActiveCoils = 1e6; stock(t, v) })(1e-3), "rate")
	bounds(t, "stock[1]", 1e-6, 1e3, try(1e3, 64e6, stock))
	bounds(t, "active_coils", 1e-3, 1e6, try(0, 64e6, func(t *coil.RateTarget, v float64) { t.ActiveCoils, t.Rate = v, units.Stiffness(1e4/v) }))
	bounds(t, "shear_modulus", 1, 1e15, try(0, 0, func(t *coil.RateTarget, v float64) { t.ShearModulus, t.Rate = units.Stress(v), units.Stiffness(v)/64e3 }))
	index := try(0, 64e6, func(t *coil.RateTarget, v float64) { t.Index, t.Rate = v, units.Stiffness(1e3/(v*v*v)) })
	bounds(t, "index", 1.0005, 1000, index)
	refuses(t, index(1), "index")

	refuses(t, second(coil.WireForLoad(1e9, 5, 1e15)))
	refuses(t, second(coil.WireForLoad(1e9, 5, 1.001e15)), "stress")
	// By hand for C = 2: K is 2, and the wire √(32·F/(π·τ)); the coil is up to a kilometre.
	load := func(wire float64) error {
		return second(coil.WireForLoad(units.Force(wire*wire*math.Pi/32*1e3), 2, 1e3))
	}
	refuses(t, load(499))
	refuses(t, load(501), "load")
	refuses(t, load(1.001e-6))
	refuses(t, load(0.999e-6), "load")
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

// FuzzWireForRate: a coil that New takes, or a refusal that names a field.
func FuzzWireForRate(f *testing.F) {
	f.Add(80e3, 4.6, 5.0, 79500e6, 4e-3, 0.25)
	f.Add(1e-9, 1.0000001, 1e6, 1.0, 1e3, 1e-3)
	f.Fuzz(func(t *testing.T, rate, index, coils, shear, stock, step float64) {
		d, err := coil.WireForRate(coil.RateTarget{units.Stiffness(rate), index, coils, units.Stress(shear), "", []units.Length{units.Length(stock)}, step})
		if err != nil {
			named(t, "refused", err)
			return
		}
		if _, err := coil.New(d.Coil); err != nil || math.IsNaN(d.Miss) || math.IsInf(d.Miss, 0) {
			t.Fatalf("%+v: %v", d, err)
		}
	})
}

// FuzzDiameterForRate: a coil that New takes and a wire that bears its load, or
// refusals that name a field.
func FuzzDiameterForRate(f *testing.F) {
	f.Add(4e-3, 30.0, 85e9, 12.5e3, 1000.0, 5.0, 700e6)
	f.Add(1e3, 1e6, 1e15, 1e300, 1e300, 1000.0, 1.0)
	f.Fuzz(func(t *testing.T, wire, coils, shear, rate, load, index, stress float64) {
		d, err := coil.DiameterForRate(coil.Spec{WireDiameter: units.Length(wire), ActiveCoils: coils, ShearModulus: units.Stress(shear)}, units.Stiffness(rate))
		if err != nil {
			named(t, "refused", err)
		} else if _, err := coil.New(d.Coil); err != nil || !(math.Abs(d.Miss) < 1e-9) {
			t.Fatalf("%+v: %v", d, err)
		}
		thick, err := coil.WireForLoad(units.Force(load), index, units.Stress(stress))
		if err != nil {
			named(t, "refused", err)
		} else if !(thick >= 1e-6 && thick <= 1e3) {
			t.Fatalf("wire of %v", thick)
		}
	})
}

// FuzzCoilsForRate: a coil that can be made and meets its rate, or a field named.
func FuzzCoilsForRate(f *testing.F) {
	f.Add(0.010, 0.046, 79.5e9, 80e3, 0.25)
	f.Add(0.010, 0.046, 79.5e9, 80e3, 0.0)
	f.Add(1e-6, 1e3, 1.0, 1e-300, 1e300)
	f.Fuzz(func(t *testing.T, wire, mean, shear, rate, step float64) {
		d, err := coil.CoilsForRate(coil.Spec{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean), ShearModulus: units.Stress(shear)},
			units.Stiffness(rate), step)
		if err != nil {
			named(t, "coils", err)
			return
		}
		made, err := coil.New(d.Coil)
		if err != nil || !finite(d.Miss) || !(d.ExactCoils > 0) || !finite(d.ExactCoils) {
			t.Fatalf("%+v: %v", d, err)
		}
		if made.Rate() != d.Rate {
			t.Fatalf("rate %v, of the coil found %v", float64(d.Rate), float64(made.Rate()))
		}
		if step == 0 && !(math.Abs(d.Miss) < 1e-9) {
			t.Fatalf("exact coils miss the rate by %v", d.Miss)
		}
		if coils := d.Coil.ActiveCoils; step > 0 && math.Abs(coils/step-math.Round(coils/step)) > 1e-6*coils/step {
			t.Fatalf("%v coils are no whole steps of %v", coils, step)
		}
	})
}

// Bhandari, Design of Machine Elements, example 10.4, as worked in a published
// textbook companion: 6.278549 active coils.
func ExampleCoilsForRate() {
	d, err := coil.CoilsForRate(coil.Spec{
		WireDiameter: 4 * units.Millimetre, MeanDiameter: 24 * units.Millimetre, ShearModulus: 81370 * units.Megapascal,
	}, 30*units.NewtonPerMillimetre, 0.25)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.6f coils, wound with %.2f: %.2f, %+.1f %%\n", d.ExactCoils, d.Coil.ActiveCoils, d.Rate, 100*d.Miss)
	// Output: 6.278549 coils, wound with 6.25: 30.14 N/mm, +0.5 %
}

// Sadhu Singh, Machine Design-I, example 8.8, p. 234, as worked in a published
// textbook companion, which prints 19.36 mm.
func ExampleDiameterForRate() {
	d, err := coil.DiameterForRate(coil.Spec{
		WireDiameter: 4 * units.Millimetre, ActiveCoils: 30, ShearModulus: 85 * units.Gigapascal,
	}, 12.5*units.NewtonPerMillimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f\n", d.Coil.MeanDiameter)
	// Output: 19.36 mm
}

func ExampleWireForRate() {
	d, err := coil.WireForRate(coil.RateTarget{
		Rate: 80 * units.NewtonPerMillimetre, Index: 4.6, ActiveCoils: 5, ShearModulus: 79.5 * units.Gigapascal,
		Stock: []units.Length{3.5 * units.Millimetre, 4 * units.Millimetre}, CoilStep: 0.25,
	})
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 8 · 80 N/mm · 4.6³ · 5/79 500 MPa = 3.918 mm of wire.
	fmt.Printf("wire %.3f, from stock %.1f with %.2f coils: %.1f\n", d.ExactWire, d.Coil.WireDiameter, d.Coil.ActiveCoils, d.Rate)
	// Output: wire 3.918 mm, from stock 4.0 mm with 5.00 coils: 81.7 N/mm
}

// By hand, at an index of 5 and a factor of 22/17: √(8 · 22/17 · 3500 N · 5/(π · 700 MPa)).
func ExampleWireForLoad() {
	d, err := coil.WireForLoad(3500*units.Newton, 5, 700*units.Megapascal)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.3f\n", d)
	// Output: 9.077 mm
}

// Shigley, problem 10-3 (publisher's solutions, 10th ed.), which prints 167.9 N
// and 162.8 mm, with the factor cut to 1.117.
func ExampleSpring_FreeLengthForStress() {
	s := coilOr(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, OuterDiameter: 31 * units.Millimetre, TotalCoils: 14,
		Ends: coil.PlainGround, ShearModulus: 81 * units.Gigapascal,
	})
	yield := 871.2 * units.Megapascal
	fmt.Printf("%.1f when solid, wound to %.1f at the most\n", s.LoadForStress(yield), s.FreeLengthForStress(yield))
	// Output: 167.9 N when solid, wound to 162.7 mm at the most
}
