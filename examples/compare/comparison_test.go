package main

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// rearOf150 is a rear end of 150 mm of a constant ratio.
func rearOf150(t testing.TB) *linkage.Curve {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15})
	require.NoError(t, err)
	return curve
}

// progressive is a rear end of 150 mm with w = 2.8·s − 5·s² over 60 mm of stroke, in metres.
func progressive() *linkage.Curve {
	var strokes, travels []units.Length
	for i := range 61 {
		s := units.Length(i) * units.Millimetre
		strokes, travels = append(strokes, s), append(travels, 2.8*s-5*s*s)
	}
	return made(linkage.NewTable(linkage.Table{Stroke: strokes, Travel: travels, Method: linkage.Smooth}))
}

// single is an invented chamber of 36 mm bore and 100 cm³ over 60 mm.
func single(fill units.GaugePressure, exponent float64) airspring.Spec {
	return airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Fill: fill, Ambient: units.StandardAtmosphere, Exponent: exponent,
	}
}

func linear(rate units.Stiffness, travel units.Length) spring.Law {
	return made(spring.NewLinear(spring.Linear{Rate: rate, Travel: travel}))
}

// named checks that an error names the fields, and no others.
func named(t *testing.T, what string, err error, want ...string) {
	t.Helper()
	var got []string
	for _, f := range units.Fields(err) {
		got = append(got, f.Field)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s: names %q, want %q: %v", what, got, want, err)
	}
}

func made[T any](value T, err error) T {
	if err != nil {
		panic(err)
	}
	return value
}

// contenders are a coil of 80 N/mm and an air spring of 11 bar behind a curve.
func contenders(curve *linkage.Curve) []contender {
	coil := made(spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre}))
	air := made(sag.AirEnd(curve, single(units.BarGauge(11), 1.3)))
	return []contender{{Name: "coil", End: sag.End{Curve: curve, Law: coil}}, {Name: "air", End: air}}
}

// Both springs by hand: 600 N at the wheel are 1500 N at the spring. The coil
// carries them at 1500/80 = 18.75 mm; the gas, of area A = π/4·36² mm², where
// p₀V₀/(V₀ − A·s) = 1500 N/A + p_a.
func TestCompareByHand(t *testing.T) {
	c, err := sideBySide(600*units.Newton, contenders(rearOf150(t)), 4)
	require.NoError(t, err)
	coil, air := &c.Springs[0], &c.Springs[1]
	near := func(what string, got, want float64) {
		t.Helper()
		unitstest.Near(t, what, got, want, unitstest.Rel(1e-9))
	}
	near("coil's stroke", coil.Rest.Stroke.Millimetres(), 18.75)
	near("coil's sag", coil.Rest.Sag, 0.3125)
	near("coil's frequency", coil.FastFrequency.Hertz(), math.Sqrt(12800*9.80665/600)/(2*math.Pi))
	near("coil's full force", float64(coil.Reserve.FullForce), 80*60/2.5)
	near("coil's ratio", coil.FullRatio, 3.2)
	near("coil's drop", float64(coil.Reserve.DropHeight), 144.0/600-0.15)
	near("coil's energy left", float64(coil.EnergyLeft), 144-0.5*80e3*0.01875*0.01875)

	const area, v0, pa, p0 = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 11e5 + 101325
	p := 1500/area + pa
	s := (v0 - p0*v0/p) / area
	near("air's stroke", float64(air.Rest.Stroke), s)
	slow := area * area * p / (v0 - area*s) // n·A²·p/V with n = 1
	near("air's wheel rate", float64(air.Rest.WheelRate), slow/6.25)
	near("air's fast rate", float64(air.FastWheelRate), 1.3*slow/6.25)
	full := area * (p0*math.Pow(v0/(v0-area*0.06), 1.3) - pa)
	near("air's full force", float64(air.Reserve.FullForce), full/2.5)
	near("sag difference", air.SagDifference, s/0.06-0.3125)
	near("force difference", air.FullForceDifference, full/(80*60)-1)
	near("frequency difference", air.FrequencyDifference, math.Sqrt(1.3*slow/6.25/12800)-1)
	if coil.SagDifference != 0 || coil.FullForceDifference != 0 || coil.FrequencyDifference != 0 || coil.Finding != "" {
		t.Errorf("the first differs from itself: %+v", coil)
	}

	if diff := cmp.Diff([]float64{0, 50, 100, 150}, []float64{c.Travel[0].Millimetres(), c.Travel[1].Millimetres(), c.Travel[2].Millimetres(), c.Travel[3].Millimetres()}, unitstest.Approx(1e-12)); diff != "" {
		t.Error(diff)
	}
	near("coil's force at 100 mm", float64(coil.Force[2]), 80*40/2.5)
	near("coil's rate", float64(coil.Rate[2]), 12800)
	near("coil's energy at 100 mm", float64(coil.Energy[2]), 0.5*80e3*0.04*0.04)
	near("air's force at 100 mm", float64(air.Force[2]), area*(p0*math.Pow(v0/(v0-area*0.04), 1.3)-pa)/2.5)
}

// A spring that the load tops or bottoms out stands beside the others.
func TestCompareFindsWhatDoesNotRest(t *testing.T) {
	curve := rearOf150(t)
	springs := append(contenders(curve),
		contender{Name: "soft", End: sag.End{Curve: curve, Law: linear(20e3, 0.06)}},
		contender{Name: "hard", End: made(sag.AirEnd(curve, single(units.BarGauge(20), 1.3)))},
		contender{Name: "short", End: sag.End{Curve: curve, Law: linear(80e3, 0.04)}})
	c, err := sideBySide(600, springs, 11)
	require.NoError(t, err)
	var got []sag.Finding
	for _, s := range c.Springs {
		got = append(got, s.Finding)
		for i := range c.Travel {
			for _, v := range []float64{float64(s.Force[i]), float64(s.Rate[i]), float64(s.Energy[i])} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s: %v", s.Name, v)
				}
			}
		}
	}
	if diff := cmp.Diff([]sag.Finding{"", "", sag.Collapses, sag.HeldAtTop, ""}, got); diff != "" {
		t.Error(diff)
	}
	unitstest.Near(t, "where the short one ends", c.Springs[4].Ends, 100*units.Millimetre, unitstest.Rel(1e-12))
	unitstest.Near(t, "where the coil ends", c.Springs[0].Ends, 150*units.Millimetre, unitstest.Rel(1e-12))
}

// On a curved linkage each column agrees with the others by definition: the
// energy is the integral of the force over the travel (Gauss–Legendre), the rate
// its derivative (central differences), and what is left is their difference
// from the rest to the end. The rest carries the load.
func TestCompareColumnsAgree(t *testing.T) {
	curve := progressive()
	const load = 600 * units.Newton
	springs := contenders(curve)
	c, err := sideBySide(load, springs, 31)
	require.NoError(t, err)
	for i, law := range []spring.Law{springs[0].Law, springs[1].Fast} {
		s := &c.Springs[i]
		force := func(w float64) float64 { // virtual work by hand: s from w = 2.8·s − 5·s²
			x := (2.8 - math.Sqrt(2.8*2.8-20*w)) / 10
			return float64(law.Force(units.Length(x))) / (2.8 - 10*x)
		}
		integral := func(from, to units.Length) float64 {
			return quad.Fixed(force, float64(from), float64(to), 40, nil, 0)
		}
		for j, w := range c.Travel {
			unitstest.Near(t, s.Name+" force", float64(s.Force[j]), force(float64(w)), unitstest.Rel(1e-9), unitstest.Abs(1e-9))
			unitstest.Near(t, s.Name+" energy", float64(s.Energy[j]), integral(0, w), unitstest.Rel(1e-9), unitstest.Abs(1e-9))
			if j%10 == 5 {
				slope := fd.Derivative(force, float64(w), &fd.Settings{Formula: fd.Central, Step: 1e-6})
				unitstest.Near(t, s.Name+" rate", float64(s.Rate[j]), slope, unitstest.Rel(1e-5))
			}
		}
		unitstest.Near(t, s.Name+" energy left", float64(s.EnergyLeft), integral(s.Rest.Travel, curve.Travel()), unitstest.Rel(1e-9))
		unitstest.Near(t, s.Name+" ratio", s.FullRatio, float64(s.Force[30]/load), unitstest.Rel(1e-12))
		unitstest.Near(t, s.Name+" drop", float64(s.Reserve.DropHeight), float64(s.Energy[30])/600-float64(curve.Travel()), unitstest.Rel(1e-9))
		x := s.Rest.Stroke
		unitstest.Near(t, s.Name+" carries", float64(springs[i].Law.Force(x))/curve.LeverRatio(x), 600, unitstest.Rel(1e-9))
	}
}

// A comparison goes through JSON and comes back the same.
func TestCompareAsJSON(t *testing.T) {
	c, err := sideBySide(600, contenders(rearOf150(t)), 3)
	require.NoError(t, err)
	text, err := json.Marshal(c)
	require.NoError(t, err)
	var back comparison
	require.NoError(t, json.Unmarshal(text, &back))
	if diff := cmp.Diff(*c, back); diff != "" {
		t.Error(diff)
	}
}

// Each bad field is named, those of a spring under its place, and limits are met.
func TestCompareRefuses(t *testing.T) {
	curve := rearOf150(t)
	two := contenders(curve)
	coil, elsewhere := two[0].End, contenders(curve)
	elsewhere[1].Curve = progressive()
	for _, test := range []struct {
		name    string
		load    units.Force
		springs []contender
		n       int
		want    []string
	}{
		{"nothing", -1, nil, 1, []string{"load", "n", "springs"}},
		{"NaN", units.Force(math.NaN()), two[:1], 1001, []string{"load", "n", "springs"}},
		{"springs without this and that", 600, []contender{{Name: "a"}, {Name: "a", End: sag.End{Curve: curve, Law: coil.Law, Exponent: 0.9}}, {End: coil}}, 10,
			[]string{"springs[0].curve", "springs[0].law", "springs[1].name", "springs[1].exponent", "springs[2].name"}},
		{"another curve", 600, elsewhere, 2, []string{"springs[1].curve"}},
		{"a load below 1 N", 0.5, two, 2, nil},
		{"one travel", 600, two, 1, []string{"n"}},
		{"a thousand travels", 600, two, 1000, nil},
		{"one more travel", 600, two, 1001, []string{"n"}},
	} {
		c, err := sideBySide(test.load, test.springs, test.n)
		named(t, test.name, err, test.want...)
		if (c == nil) != (err != nil) {
			t.Errorf("%s: %v beside %v", test.name, c, err)
		}
	}
}

// steady is a law of one force all over 60 mm.
type steady units.Force

func (f steady) Force(units.Length) units.Force  { return units.Force(f) }
func (steady) Rate(units.Length) units.Stiffness { return 0 }
func (f steady) Energy(x units.Length) units.Energy {
	return units.Energy(float64(f) * float64(spring.Clamp(x, 0.06)))
}
func (steady) Travel() units.Length { return 0.06 }

// Against a spring without a force at full travel or without a frequency there is no
// relative difference.
func TestCompareAgainstNothing(t *testing.T) {
	curve := rearOf150(t)
	coil := contenders(curve)[0]
	for _, test := range []struct {
		first steady
		force float64 // difference of the coil's 1920 N
	}{{0, 0}, {-100, 0}, {1e-310, 0}, {1000, 1920/400.0 - 1}, {12000, 1920/4800.0 - 1}} {
		c, err := sideBySide(600, []contender{{Name: "steady", End: sag.End{Curve: curve, Law: test.first}}, coil}, 2)
		require.NoError(t, err)
		if s := c.Springs[1]; s.FrequencyDifference != 0 || !(math.Abs(s.FullForceDifference-test.force) < 1e-12) {
			t.Errorf("against %v: %+v", test.first, s)
		}
	}
}

// Whatever is given: an error that names fields, or finite figures in order.
func FuzzCompare(f *testing.F) {
	f.Add(2.5, 600.0, 80.0, 0.0, 36.0, 100.0, 11.0, 1.3, 5)
	f.Add(2.5, 5.0, 80.0, 20.0, 36.0, 100.0, 20.0, 1.0, 2)
	f.Add(0.5, 1e9, 1e-3, 0.0, 36.0, 65.0, 1e-9, 2.0, 3)
	f.Add(math.NaN(), math.Inf(1), -1.0, -1.0, 0.0, -5.0, -2.0, 0.0, -1)
	f.Add(2.5, 1e-310, 80.0, 0.0, 36.0, 100.0, 11.0, 1.3, 2)
	f.Fuzz(func(t *testing.T, ratio, load, rate, preload, bore, volume, fill, exponent float64, n int) {
		curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: 150 * units.Millimetre})
		if err != nil {
			curve = nil
		}
		springs := make([]contender, 2)
		if coil, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate) * units.NewtonPerMillimetre, Travel: 0.06, Preload: units.Length(preload) * units.Millimetre}); err == nil {
			springs[0] = contender{Name: "coil", End: sag.End{Curve: curve, Law: coil}}
		}
		spec := single(units.BarGauge(fill), exponent)
		spec.Bore, spec.PositiveVolume = units.Length(bore)*units.Millimetre, units.Volume(volume)*units.CubicCentimetre
		if air, err := sag.AirEnd(curve, spec); err == nil {
			springs[1] = contender{Name: "air", End: air}
		}
		c, err := sideBySide(units.Force(load), springs, n)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		if bad := unitstest.Infinite(c); bad != "" {
			t.Fatal(bad)
		}
		if len(c.Travel) != n || c.Travel[0] != 0 || math.Abs(float64(c.Travel[n-1]/curve.Travel()-1)) > 1e-12 {
			t.Fatalf("travel: %v", c.Travel)
		}
		for i := range c.Springs {
			s := &c.Springs[i]
			if !(s.Rest.Sag >= 0 && s.Rest.Sag <= 1+1e-12) || !(s.EnergyLeft >= -1e-9*s.Reserve.Energy) {
				t.Fatalf("%+v", s)
			}
			for j := 1; j < n; j++ {
				slack := 1 - 1e-9
				if !(s.Force[j] >= s.Force[j-1]*units.Force(slack)) || !(s.Energy[j] >= s.Energy[j-1]*units.Energy(slack)) {
					t.Fatalf("%s falls at %v: %v, %v", s.Name, c.Travel[j], s.Force, s.Energy)
				}
			}
		}
	})
}
