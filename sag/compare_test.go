package sag

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// rearOf150 is a rear end of ratio 2.5 over 150 mm, so 60 mm of stroke.
func rearOf150(t testing.TB) *linkage.Curve {
	t.Helper()
	c, err := linkage.NewConstant(linkage.Constant{Ratio: 2.5, Travel: 150 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// single is an invented chamber of 36 mm bore and 100 cm³ over 60 mm.
func single(fill units.GaugePressure, exponent float64) airspring.Spec {
	return airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Fill: fill, Ambient: units.StandardAtmosphere, Exponent: exponent,
	}
}

func contenders(t testing.TB) []Contender {
	t.Helper()
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	air, err := AirContender("air", single(units.BarGauge(11), 1.3))
	if err != nil {
		t.Fatal(err)
	}
	return []Contender{{Name: "coil", Slow: coil}, air}
}

// Both springs by hand: 600 N at the wheel are 1500 N at the spring. The coil
// carries them at 1500/80 = 18.75 mm; the gas, of area A = π/4·36² mm², where
// p₀V₀/(V₀ − A·s) = 1500 N/A + p_a.
func TestCompareByHand(t *testing.T) {
	c, err := Compare(rearOf150(t), 600*units.Newton, contenders(t), 4)
	if err != nil {
		t.Fatal(err)
	}
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
func TestCompareTellsWhatDoesNotRest(t *testing.T) {
	soft, err := spring.NewLinear(spring.Linear{Rate: 20 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	hard, err := AirContender("hard", single(units.BarGauge(20), 1.3))
	if err != nil {
		t.Fatal(err)
	}
	short, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 40 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Compare(rearOf150(t), 600*units.Newton, append(contenders(t), Contender{Name: "soft", Slow: soft}, hard, Contender{Name: "short", Slow: short}), 11)
	if err != nil {
		t.Fatal(err)
	}
	var got []Finding
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
	if diff := cmp.Diff([]Finding{"", "", Collapses, HeldAtTop, ""}, got); diff != "" {
		t.Error(diff)
	}
	unitstest.Near(t, "where the short one ends", c.Springs[4].Ends, 100*units.Millimetre, unitstest.Rel(1e-12))
	unitstest.Near(t, "where the coil ends", c.Springs[0].Ends, 150*units.Millimetre, unitstest.Rel(1e-12))
}

func TestCompareRefuses(t *testing.T) {
	good := contenders(t)
	for _, test := range []struct {
		curve   *linkage.Curve
		load    units.Force
		springs []Contender
		n       int
		want    []string
	}{
		{nil, -1, nil, 1, []string{"curve", "load", "n", "springs"}},
		{rearOf150(t), units.Force(math.NaN()), good[:1], 1001, []string{"load", "n", "springs"}},
		{rearOf150(t), 600, []Contender{{Name: "a"}, {Name: "a", Slow: good[0].Slow, Exponent: 0.9}, {Slow: good[0].Slow}}, 10,
			[]string{"springs[0].slow", "springs[1].exponent", "springs[1].name", "springs[2].name"}},
	} {
		_, err := Compare(test.curve, test.load, test.springs, test.n)
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		slices.Sort(got)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("(-want +got):\n%s%v", diff, err)
		}
	}
	if _, err := AirContender("air", airspring.Spec{}); err == nil {
		t.Error("an air spring of nothing")
	}
}
