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

func TestCoilComputed(t *testing.T) {
	s := coilOf(t, shockSpring)
	close12(t, "index", s.Index(), 4.6)
	close12(t, "rate", s.Rate().NewtonsPerMillimetre(), 204.189611243528)
	close12(t, "Wahl", s.Wahl(), 1.34202898550725)
	close12(t, "Bergsträsser", s.Bergstrasser(), 1.32467532467532)
	close12(t, "solid length", s.SolidLength().Millimetres(), 70)
	close12(t, "stress", s.Stress(5500).Megapascals(), 853.434277699626)
	known[units.Stiffness](t, "rate, ends free", 203235.279842546)(s.RateEndsFree())
	known[units.Stiffness](t, "rate, ends held", 203464.227508811)(s.RateEndsHeld())
	known[units.Frequency](t, "surge", 338.507427258031)(s.SurgeFrequency())
	known[units.Mass](t, "mass", 0.623684976115839)(s.Mass())
}

func TestCoilSymmetries(t *testing.T) {
	s := coilOf(t, shockSpring)
	other := shockSpring
	other.MeanDiameter, other.OuterDiameter = 0, 56e-3
	other.ActiveCoils, other.TotalCoils = 0, 7
	close12(t, "rate by outer diameter and total coils", float64(coilOf(t, other).Rate()), float64(s.Rate()))
	other.OuterDiameter, other.InnerDiameter = 0, 36e-3
	close12(t, "rate by inner diameter", float64(coilOf(t, other).Rate()), float64(s.Rate()))
	close12(t, "outer", float64(s.OuterDiameter()), 56e-3)
	close12(t, "inner", float64(s.InnerDiameter()), 36e-3)
	other.Ends = ""
	close12(t, "ends left out", float64(coilOf(t, other).SolidLength()), float64(s.SolidLength()))

	// Four powers of wire, three of diameter, one of coils and of modulus.
	scaled := func(change func(*coil.Spec)) float64 {
		spec := shockSpring
		spec.FreeLength = 0
		change(&spec)
		return float64(coilOf(t, spec).Rate() / s.Rate())
	}
	close12(t, "wire", scaled(func(c *coil.Spec) { c.WireDiameter *= 1.1 }), 1.1*1.1*1.1*1.1)
	close12(t, "diameter", scaled(func(c *coil.Spec) { c.MeanDiameter *= 1.1 }), 1/(1.1*1.1*1.1))
	close12(t, "coils", scaled(func(c *coil.Spec) { c.ActiveCoils *= 1.1 }), 1/1.1)
	close12(t, "modulus", scaled(func(c *coil.Spec) { c.ShearModulus *= 1.1 }), 1.1)

	// ½√(k/m) with m the mass of the active wire is the surge frequency too.
	m := 7850 * math.Pi / 4 * 1e-4 * math.Pi * 46e-3 * 5
	known[units.Frequency](t, "surge by mass", math.Sqrt(float64(s.Rate())/m)/2)(s.SurgeFrequency())
	// A flat helix has the rate of torsion alone; held ends are stiffer than free ones.
	free, _ := s.RateEndsFree()
	held, _ := s.RateEndsHeld()
	if !(free < held && held < s.Rate()) {
		t.Errorf("rates %v free, %v held, %v flat", free, held, s.Rate())
	}
}

func TestHalfACoil(t *testing.T) {
	const g, d, mean, rho = 79500e6, 10e-3, 46e-3, 0.5
	s := coilOf(t, coil.Spec{WireDiameter: d, MeanDiameter: mean, ActiveCoils: 0.5, ShearModulus: g, Density: rho})
	k := g * d * d * d * d / (8 * mean * mean * mean * 0.5)
	close12(t, "rate", float64(s.Rate()), k)
	mass := rho * math.Pi * d * d / 4 * math.Pi * mean // of one coil
	known[units.Mass](t, "mass of 2.5 coils", 2.5*mass)(s.Mass())
	known[units.Frequency](t, "surge", math.Sqrt(k/(0.5*mass))/2)(s.SurgeFrequency())
	// By hand: K_B = (4·4.6 + 2)/(4·4.6 − 3).
	load := 1e9 * math.Pi * d * d * d / (8 * mean) * 15.4 / 20.4
	close12(t, "load at 1 GPa", float64(s.LoadForStress(1e9)), load)
	close12(t, "free length for 1 GPa when solid", float64(s.FreeLengthForStress(1e9)), 2.5*d+load/k)
	var codes []string
	for _, w := range s.Warnings() {
		codes = append(codes, w.Code)
	}
	if diff := cmp.Diff([]string{coil.WarnCoils, coil.WarnScope}, codes); diff != "" {
		t.Errorf("warnings (-want +got):\n%s", diff)
	}
	// 8·0.5·D/(π·d³) is what half a newton does, K_B times.
	steps := s.Working(0.5)
	if len(steps) != 4 {
		t.Fatalf("%d steps at half a newton", len(steps))
	}
	close12(t, "stress of half a newton", float64(steps[3].Result.Quantity.(units.Stress)), 8*0.5*mean/(math.Pi*d*d*d)*20.4/15.4)
}

func TestNewRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		name   string
		change func(*coil.Spec)
		want   []string
	}{
		{"nothing", func(c *coil.Spec) { *c = coil.Spec{} }, []string{"wire_diameter", "mean_diameter", "active_coils", "shear_modulus"}},
		{"NaN", func(c *coil.Spec) {
			*c = coil.Spec{units.Length(nan), units.Length(nan), 0, 0, nan, 0, "round", units.Length(nan), units.Stress(nan), units.Stress(nan), units.Density(nan)}
		}, []string{"ends", "wire_diameter", "mean_diameter", "active_coils", "shear_modulus", "elastic_modulus", "density", "free_length"}},
		{"infinite", func(c *coil.Spec) { c.MeanDiameter = units.Length(math.Inf(1)) }, []string{"mean_diameter"}},
		{"wire as thick as the coil", func(c *coil.Spec) { c.WireDiameter = c.MeanDiameter }, []string{"wire_diameter"}},
		{"all three diameters", func(c *coil.Spec) { c.OuterDiameter, c.InnerDiameter = 56e-3, 36e-3 }, []string{"outer_diameter", "inner_diameter"}},
		{"both counts", func(c *coil.Spec) { c.TotalCoils = 7 }, []string{"total_coils"}},
		{"dead coils only", func(c *coil.Spec) { c.ActiveCoils, c.TotalCoils = 0, 2 }, []string{"total_coils"}},
		{"solid when free", func(c *coil.Spec) { c.FreeLength = 70e-3 }, []string{"free_length"}},
		{"softer in tension than in shear", func(c *coil.Spec) { c.ElasticModulus = c.ShearModulus }, []string{"elastic_modulus"}},
		{"a kilometre of wire", func(c *coil.Spec) { c.WireDiameter = 2000 }, []string{"wire_diameter"}},
	} {
		spec := shockSpring
		test.change(&spec)
		s, err := coil.New(spec)
		if diff := cmp.Diff(test.want, fieldsOf(err)); diff != "" || s != nil {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

func TestSpecBounds(t *testing.T) {
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

// Nothing comes with a refusal, and nothing with a false, but 0.
func TestNothingComesWithARefusal(t *testing.T) {
	refused := func(name string, got any, err error) {
		t.Helper()
		switch v := got.(type) {
		case units.Length, units.Force, units.Stress, units.Frequency, float64:
			if v != units.Length(0) && v != units.Force(0) && v != units.Stress(0) && v != units.Frequency(0) && v != 0.0 {
				t.Errorf("%s is %v with %v", name, got, err)
			}
		default:
			t.Fatalf("%s: %T", name, got)
		}
		if err == nil {
			t.Errorf("%s is not refused", name)
		}
	}
	var got any
	var err error
	got, err = coil.WireForLoad(0, 5, 1e9)
	refused("wire for no load", got, err)
	got, err = coil.WireForLoad(1e300, 5, 1e9)
	refused("wire for any load", got, err)
	got, err = coil.EndMassFrequency(coil.EndMass{})
	refused("frequency of nothing", got, err)
	got, err = coil.EndMassFrequency(coil.EndMass{Rate: 1e300, Mass: 1e-300})
	refused("frequency beyond all", got, err)
	got, err = coil.TensileStrength(coil.StrengthFit{}, 1)
	refused("strength of nothing", got, err)
	got, err = coil.TensileStrength(coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e8, PerDecade: 1e8}, 10e-3)
	refused("no strength left", got, err)
	got, err = coil.WarmShearModulus(0, 0, 0)
	refused("modulus of nothing", got, err)
	got, err = coil.WarmShearModulus(80e9, 0.5, units.Celsius(30))
	refused("no modulus left", got, err)
}

func TestNothingComesWithAFalse(t *testing.T) {
	bare := coilOf(t, coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 5, ShearModulus: 79500e6})
	full := coilOf(t, shockSpring)
	unknown := func(name string, got any, ok bool) {
		t.Helper()
		if diff := cmp.Diff(0.0, got); ok || diff != "" {
			t.Errorf("%s is %v, %v", name, got, ok)
		}
	}
	stable, ok := bare.StableSlenderness(0.5)
	unknown("stable slenderness without E", stable, ok)
	stable, ok = full.StableSlenderness(0.00999)
	unknown("stable slenderness of hardly a fixity", stable, ok)
	stable, ok = full.StableSlenderness(100.1)
	unknown("stable slenderness of too much fixity", stable, ok)
	surge, ok := bare.SurgeFrequency()
	unknown("surge without a density", float64(surge), ok)
	length, ok := full.FreeLengthTolerance(0)
	unknown("tolerance of no grade", float64(length), ok)
	load, ok := full.LoadTolerance(1500, 0)
	unknown("load tolerance of no grade", float64(load), ok)
	load, ok = full.LoadTolerance(1.001e15, coil.Grade1)
	unknown("tolerance of a load beyond all", float64(load), ok)
	if load, ok = full.LoadTolerance(1e15, coil.Grade2); !ok || !(load > 0.015e15) {
		t.Errorf("tolerance of the greatest load: %v, %v", load, ok)
	}

	// What the free length is needed for is not told without it, whatever else
	// is known.
	spec := shockSpring
	spec.FreeLength = 0
	loose := coilOf(t, spec)
	pitch, ok := loose.Pitch()
	unknown("pitch", float64(pitch), ok)
	angle, ok := loose.HelixAngle()
	unknown("helix angle", float64(angle), ok)
	rate, ok := loose.RateEndsFree()
	unknown("rate with free ends", float64(rate), ok)
	rate, ok = loose.RateEndsHeld()
	unknown("rate with held ends", float64(rate), ok)
	length, ok = loose.OuterDiameterSolid()
	unknown("solid diameter", float64(length), ok)
	if b, ok := loose.Buckling(0.5); ok || b != (coil.Buckling{}) {
		t.Errorf("bows out without a free length: %+v", b)
	}
	for _, fixity := range []float64{0.01, 100} {
		if _, ok := full.Buckling(fixity); !ok {
			t.Errorf("buckling at a fixity of %v is not told", fixity)
		}
	}
}

// Loads and stresses count by their size, up to 1e15 N and 1 PPa, and NaN as 0.
func TestLoadsAndStressesAreLimited(t *testing.T) {
	s, nan := coilOf(t, shockSpring), math.NaN()
	if s.StressUncorrected(units.Force(nan)) != 0 || s.LoadForStress(units.Stress(nan)) != 0 {
		t.Error("NaN is not taken as 0")
	}
	close12(t, "stress of twice the greatest load", float64(s.Stress(2e15)), float64(s.Stress(1e15)))
	close12(t, "stress of the greatest load", float64(s.Stress(1e15)), 2*float64(s.Stress(-0.5e15)))
	close12(t, "load for twice the greatest stress", float64(s.LoadForStress(2e15)), float64(s.LoadForStress(1e15)))
	close12(t, "load for the greatest stress", float64(s.LoadForStress(1e15)), 2*float64(s.LoadForStress(-0.5e15)))
}

// What is missing is told from what is out of range.
func TestMissingGroupsAndShelves(t *testing.T) {
	for name, err := range map[string]error{
		"coil groups": second(coil.NewGroups(coil.Groups{WireDiameter: 1e-2, MeanDiameter: 5e-2, ShearModulus: 8e10})),
		"a shelf":     second(coil.Identify(1, 1, nil)),
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

func TestWithPreload(t *testing.T) {
	s := coilOf(t, shockSpring)
	law, err := s.WithPreload(2e-3)
	require.NoError(t, err)
	close12(t, "travel", float64(law.Travel()), 43e-3)
	close12(t, "force at the top", float64(law.Force(0)), float64(s.Rate())*2e-3)
	top, _ := s.SolidForce()
	close12(t, "force when solid", float64(law.Force(1)), float64(top))
	for _, bad := range []units.Length{-1, 45e-3, units.Length(math.NaN())} {
		if _, err := s.WithPreload(bad); cmp.Diff([]string{"preload"}, fieldsOf(err)) != "" {
			t.Errorf("preload %v: %v", bad, err)
		}
	}
	spec := shockSpring
	spec.FreeLength = 0
	_, err = coilOf(t, spec).WithPreload(-1)
	if diff := cmp.Diff([]string{"free_length", "preload"}, fieldsOf(err)); diff != "" {
		t.Errorf("no free length (-want +got):\n%s", diff)
	}
}

// answersOf is everything a coil spring says.
func answersOf(s *coil.Spring, load units.Force, fixity float64) map[string]float64 {
	m := map[string]float64{
		"index": s.Index(), "rate": float64(s.Rate()), "wahl": s.Wahl(), "bergstrasser": s.Bergstrasser(),
		"solid length": float64(s.SolidLength()), "wire length": float64(s.WireLength()),
		"stress": float64(s.Stress(load)), "stress wahl": float64(s.StressWahl(load)), "uncorrected": float64(s.StressUncorrected(load)),
		"load for stress": float64(s.LoadForStress(units.Stress(load))), "length for stress": float64(s.FreeLengthForStress(units.Stress(load))),
		"mean": float64(s.MeanDiameter()), "wire": float64(s.WireDiameter()), "outer": float64(s.OuterDiameter()),
		"inner": float64(s.InnerDiameter()), "active": s.ActiveCoils(), "total": s.TotalCoils(),
	}
	add := func(name string, v float64, ok bool) {
		if ok {
			m[name] = v
		} else if v != 0 && name != "solid force" && name != "solid stress" && name != "mass" {
			m[name] = math.NaN() // what is not known is 0
		}
	}
	p, ok := s.Pitch()
	add("pitch", float64(p), ok)
	a, ok := s.HelixAngle()
	add("helix", float64(a), ok)
	k, ok := s.RateEndsFree()
	add("free", float64(k), ok)
	k, ok = s.RateEndsHeld()
	add("held", float64(k), ok)
	x, ok := s.SolidTravel()
	add("solid travel", float64(x), ok)
	f, ok := s.SolidForce()
	add("solid force", float64(f), ok)
	q, ok := s.SolidStress()
	add("solid stress", float64(q), ok)
	w, ok := s.Mass()
	add("mass", float64(w), ok)
	h, ok := s.SurgeFrequency()
	add("surge", float64(h), ok)
	o, ok := s.OuterDiameterSolid()
	add("solid diameter", float64(o), ok)
	b, ok := s.Buckling(fixity)
	add("buckling", float64(b.Travel)+b.StableSlenderness, ok)
	l, ok := s.LoadTolerance(load, coil.Grade2)
	add("tolerance", float64(l), ok)
	y, ok := s.FreeLengthTolerance(coil.Grade2)
	add("free length tolerance", float64(y), ok)
	return m
}

// What a spring says costs no memory.
func TestSpringDoesNotAllocate(t *testing.T) {
	s := coilOf(t, shockSpring)
	var sum float64
	if n := testing.AllocsPerRun(100, func() {
		b, _ := s.Buckling(1)
		held, _ := s.RateEndsHeld()
		load, _ := s.LoadTolerance(5500, coil.Grade2)
		length, _ := s.FreeLengthTolerance(coil.Grade1)
		solid, _ := s.SolidStress()
		surge, _ := s.SurgeFrequency()
		outer, _ := s.OuterDiameterSolid()
		sum += float64(s.Rate()) + float64(s.Stress(5500)) + float64(b.Travel) + float64(held) + float64(load) + float64(length) + float64(solid) + float64(surge) + float64(outer)
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
	if !(sum > 0) {
		t.Errorf("nothing was computed: %v", sum)
	}
}

func TestZeroSpringAnswersZero(t *testing.T) {
	for name, v := range answersOf(&coil.Spring{}, 100, 1) {
		if v != 0 {
			t.Errorf("%s of nothing is %v", name, v)
		}
	}
}

// FuzzNew: a refusal that names a field, or a spring all of whose answers
// are numbers.
func FuzzNew(f *testing.F) {
	f.Add(10e-3, 46e-3, 0.0, 0.0, 5.0, 0.0, 3, 115e-3, 79500e6, 206000e6, 7850.0, 5500.0, 0.5)
	f.Add(1e-6, 1e3, 0.0, 0.0, 1e6, 0.0, 0, 1e3, 1.0, 1e15, 1e6, 1e15, 100.0)
	f.Add(1e3, 1e3, 0.0, 0.0, 1e-3, 0.0, 1, 0.0, 1e15, 0.0, 1e-3, 1e300, 0.01)
	f.Fuzz(func(t *testing.T, d, mean, outer, inner, n, total float64, ends int, free, g, e, rho, load, fixity float64) {
		kinds := []coil.Ends{coil.Plain, coil.PlainGround, coil.Squared, coil.SquaredGround, "", "else"}
		s, err := coil.New(coil.Spec{units.Length(d), units.Length(mean), units.Length(outer), units.Length(inner), n, total,
			kinds[uint(ends)%6], units.Length(free), units.Stress(g), units.Stress(e), units.Density(rho)})
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		for name, v := range answersOf(s, units.Force(load), fixity) {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s = %v", name, v)
			}
		}
		if !(s.Rate() > 0) {
			t.Fatalf("rate %v", s.Rate())
		}
	})
}

func TestCoilOfMaterial(t *testing.T) {
	m := coil.Material{Name: "invented", ShearModulus: 80e9, ElasticModulus: 200e9, Density: 7800}
	got := coil.Spec{ElasticModulus: 206e9}.Of(m)
	if want := (coil.Spec{ShearModulus: 80e9, ElasticModulus: 206e9, Density: 7800}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := (coil.Spec{ShearModulus: 1, Density: 2}).Of(m); got.ShearModulus != 1 || got.Density != 2 || got.ElasticModulus != 200e9 {
		t.Errorf("%+v", got)
	}
}

// Budynas and Nisbett, Shigley's Mechanical Engineering Design, problem 10-3
// (publisher's solutions, 10th ed.), which prints index 11.4, 13 active coils,
// 1.314 N/mm, 35 mm solid and a Bergsträsser factor of 1.117.
func ExampleNew() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, OuterDiameter: 31 * units.Millimetre, TotalCoils: 14,
		Ends: coil.PlainGround, ShearModulus: 81 * units.Gigapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("index %.1f, %.0f active coils\n", s.Index(), s.ActiveCoils())
	fmt.Printf("rate %.3f, solid %.0f, factor %.3f\n", s.Rate(), s.SolidLength(), s.Bergstrasser())
	// Output:
	// index 11.4, 13 active coils
	// rate 1.314 N/mm, solid 35 mm, factor 1.117
}

// A bad spec names every bad field at once.
func ExampleNew_refused() {
	_, err := coil.New(coil.Spec{
		WireDiameter: 9.5, MeanDiameter: 50 * units.Millimetre, // nine and a half metres of wire: a unit is missing
		ActiveCoils: 5, ShearModulus: -1,
	})
	fmt.Println(err)
	// Output:
	// coil: wire_diameter 9500 mm: want less than the mean diameter, 50 mm
	// coil: shear_modulus -1e-06 MPa: want from 1e-06 MPa to 1000000000 MPa
}

func ExampleSpec_Of() {
	// An invented steel.
	steel := coil.Material{Name: "invented steel", ShearModulus: 79.5 * units.Gigapascal, ElasticModulus: 206 * units.Gigapascal, Density: 7850 * units.KilogramPerCubicMetre}
	s := coilOr(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5}.Of(steel))
	fmt.Printf("%.2f\n", s.Rate())
	// Output: 204.19 N/mm
}

func ExampleSpring_Rate() {
	s := coilOr(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, ShearModulus: 79.5 * units.Gigapascal})
	// By hand: 79 500 MPa · (10 mm)⁴ / (8 · (46 mm)³ · 5).
	fmt.Printf("%.2f, which is %.0f lbf/in\n", s.Rate(), s.Rate().PoundsForcePerInch())
	// Output: 204.19 N/mm, which is 1166 lbf/in
}

func ExampleSpring_Mass() {
	s := coilOr(coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5,
		ShearModulus: 79.5 * units.Gigapascal, Density: 7850 * units.KilogramPerCubicMetre,
	})
	m, _ := s.Mass()
	// By hand: π · 46 mm · 7 of wire; 7850 kg/m³ · π/4 · (10 mm)² of that.
	fmt.Printf("%.1f of wire, %.4f\n", s.WireLength(), m)
	// Output: 1011.6 mm of wire, 0.6237 kg
}

func ExampleSpring_WithPreload() {
	law, err := exampleCoil().WithPreload(2 * units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	// 45 mm to solid less 2 mm; 204.19 N/mm · 2 mm.
	fmt.Printf("%.0f of travel, %.0f at the top\n", law.Travel(), law.Force(0))
	// Output: 43 mm of travel, 408 N at the top
}

// Springs print with units.
func ExampleSpring_String() {
	fmt.Println(exampleCoil())
	// Output: 5 coils of 10 mm wire on 46 mm: 204.19 N/mm
}
