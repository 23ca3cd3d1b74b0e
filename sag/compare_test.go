package sag

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// rearOf150 is a rear end of ratio 2.5 over 150 mm, so 60 mm of stroke.
func rearOf150(t testing.TB) *linkage.Curve {
	t.Helper()
	c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre})
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
		// Half a gas spring: a fast law without its exponent, and the other way round.
		{rearOf150(t), 600, []Contender{{Name: "a", Slow: good[1].Slow, Fast: good[1].Fast}, {Name: "b", Slow: good[1].Slow, Exponent: 1.3}}, 10,
			[]string{"springs[0].exponent", "springs[1].fast"}},
		// A pointer to no spring, as the slow law beside a sound fast one, and as the fast law.
		{rearOf150(t), 600, []Contender{{Name: "a", Slow: (*airspring.Spring)(nil), Fast: good[1].Fast, Exponent: 1.3}, {Name: "b", Slow: good[1].Slow, Fast: (*airspring.Spring)(nil), Exponent: 1.3}}, 10,
			[]string{"springs[0].slow", "springs[1].fast"}},
		{new(linkage.Curve), 1e-200, good, 10, []string{"curve", "load"}}, // both springs behind it, told once
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

// progressive is a rear end of 150 mm whose ratio falls from 2.8 to 2.2 over
// 60 mm of stroke: w = 2.8·s − 5·s², in metres, which the spline draws exactly.
func progressive(t testing.TB) *linkage.Curve {
	t.Helper()
	c, err := linkage.NewTable(linkage.Table{
		Stroke: []units.Length{0, 0.02, 0.04, 0.06},
		Travel: []units.Length{0, 0.054, 0.104, 0.150},
		Method: linkage.Smooth,
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// On a curved linkage each column agrees with the others by definition: the
// energy is the integral of the force over the travel (Gauss–Legendre), the rate
// its derivative (central differences), and what is left is their difference
// from the rest to the end. The rest carries the load.
func TestCompareColumnsAgree(t *testing.T) {
	curve := progressive(t)
	const load = 600 * units.Newton
	springs := contenders(t)
	c, err := Compare(curve, load, springs, 31)
	if err != nil {
		t.Fatal(err)
	}
	for i, law := range []spring.Law{springs[0].Slow, springs[1].Fast} {
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
		unitstest.Near(t, s.Name+" carries", float64(springs[i].Slow.Force(x))/curve.LeverRatio(x), 600, unitstest.Rel(1e-9))
	}
}

// What the second is against the first, the first is against the second the
// other way round; and a spring does not differ from its twin.
func TestCompareTurnedRound(t *testing.T) {
	springs := contenders(t)
	one, err := Compare(progressive(t), 600, springs, 2)
	if err != nil {
		t.Fatal(err)
	}
	twin := springs[1]
	twin.Name = "twin"
	other, err := Compare(progressive(t), 600, []Contender{springs[1], springs[0], twin}, 2)
	if err != nil {
		t.Fatal(err)
	}
	a, b := &one.Springs[1], &other.Springs[1]
	unitstest.Near(t, "sag", a.SagDifference, -b.SagDifference, unitstest.Rel(1e-9))
	unitstest.Near(t, "force", (1+a.FullForceDifference)*(1+b.FullForceDifference), 1, unitstest.Rel(1e-12))
	unitstest.Near(t, "frequency", (1+a.FrequencyDifference)*(1+b.FrequencyDifference), 1, unitstest.Rel(1e-12))
	if a.SagDifference == 0 || a.FullForceDifference == 0 || a.FrequencyDifference == 0 {
		t.Errorf("nothing tells coil from air: %+v", a)
	}
	if c := &other.Springs[2]; c.SagDifference != 0 || c.FullForceDifference != 0 || c.FrequencyDifference != 0 {
		t.Errorf("twins differ: %+v", c)
	}
}

// The fast rate at the rest is also the slope of a fast stroke that starts
// there: a gas of exponent 1.3 closed at the pressure and the volume of the rest.
func TestCompareFastRateIsTheSlopeOfAFastStroke(t *testing.T) {
	curve := progressive(t)
	c, err := Compare(curve, 600, contenders(t), 2)
	if err != nil {
		t.Fatal(err)
	}
	const area, v0, pa, p0 = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 11e5 + 101325
	s := &c.Springs[1]
	v := v0 - area*float64(s.Rest.Stroke)
	p := p0 * v0 / v
	fast := func(w float64) float64 {
		x := (2.8 - math.Sqrt(2.8*2.8-20*w)) / 10 // w = 2.8·x − 5·x²
		return area * (p*math.Pow(v/(v0-area*x), 1.3) - pa) / (2.8 - 10*x)
	}
	slope := fd.Derivative(fast, float64(s.Rest.Travel), &fd.Settings{Formula: fd.Central, Step: 1e-6})
	unitstest.Near(t, "fast wheel rate", float64(s.FastWheelRate), slope, unitstest.Rel(1e-6))
	unitstest.Near(t, "fast frequency", float64(s.FastFrequency), math.Sqrt(slope*9.80665/600)/(2*math.Pi), unitstest.Rel(1e-6))
}

// A comparison goes through JSON and comes back the same.
func TestCompareAsJSON(t *testing.T) {
	c, err := Compare(rearOf150(t), 600, contenders(t), 3)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	var back Comparison
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(*c, back); diff != "" {
		t.Error(diff)
	}
	var names struct {
		Springs []map[string]any `json:"springs"`
	}
	if err := json.Unmarshal(text, &names); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"name", "rest", "fast_wheel_rate", "fast_frequency", "reserve", "full_ratio", "energy_left", "ends", "sag_difference", "full_force_difference", "frequency_difference", "force", "rate", "energy"} {
		if _, ok := names.Springs[0][name]; !ok {
			t.Errorf("no %q in %s", name, text)
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
		springs := make([]Contender, 2)
		if coil, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate) * units.NewtonPerMillimetre, Travel: 0.06, Preload: units.Length(preload) * units.Millimetre}); err == nil {
			springs[0] = Contender{Name: "coil", Slow: coil}
		}
		spec := single(units.BarGauge(fill), exponent)
		spec.Bore, spec.PositiveVolume = units.Length(bore)*units.Millimetre, units.Volume(volume)*units.CubicCentimetre
		if air, err := AirContender("air", spec); err == nil {
			springs[1] = air
		}
		c, err := Compare(curve, units.Force(load), springs, n)
		if err != nil {
			if c != nil || len(units.Fields(err)) == 0 {
				t.Fatalf("%v, %v", c, err)
			}
			return
		}
		if _, err := json.Marshal(c); err != nil { // refuses what is not finite
			t.Fatal(err)
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
