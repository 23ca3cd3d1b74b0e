package sag_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// threeSprings are invented, for the rear.
func threeSprings() sag.Range {
	return sag.Range{Rates: []units.Stiffness{60e3, 70e3, 80e3}, AxleShare: rearShare(), Sag: 0.3}
}

// which returns the index of the spring that suits a rider.
func which(b sag.Bands, rider units.Mass) int {
	n := 0
	for n < len(b.EdgeMass) && rider >= b.EdgeMass[n] {
		n++
	}
	return n
}

// With a constant ratio, no preload and linear springs the ideal load is
// k·s*/LR, and neighbours miss alike where the load is the harmonic mean of
// their ideals: w = load·LR²/k for each, and the two average to the target.
func TestBandsBehindAConstantRatio(t *testing.T) {
	r := threeSprings()
	rates := r.Rates
	c := constant(t, 2.5, 0.15)
	b, err := sag.BandsOf(c, r)
	require.NoError(t, err)
	ideal := func(k units.Stiffness) float64 { return float64(k) * 0.3 * 0.06 / 2.5 }
	rider := func(load float64) float64 { return (load/9.80665+3)/0.6 - 17 }
	for i, k := range rates {
		near(t, "ideal", float64(b.IdealMass[i]), rider(ideal(k)), 1e-11)
	}
	for i := range b.EdgeMass {
		x, y := ideal(rates[i]), ideal(rates[i+1])
		near(t, "edge", float64(b.EdgeMass[i]), rider(2*x*y/(x+y)), 1e-11)
		if !(b.IdealMass[i] < b.EdgeMass[i] && b.EdgeMass[i] < b.IdealMass[i+1]) {
			t.Errorf("edge %v not between %v and %v", b.EdgeMass[i], b.IdealMass[i], b.IdealMass[i+1])
		}
	}
}

// The ideal rider of every spring of a range rests on target; the edge between
// two lies between their riders, and there both miss by as much; and who gets
// which spring follows.
func TestBandsOfEveryRange(t *testing.T) {
	seen := 0
	for i := range 200 {
		r := lot{rand.New(rand.NewPCG(408, uint64(i)))}
		says, curve := drawCurve(r)
		g := sag.Range{Sag: r.between(0.2, 0.35), Preload: units.Length(r.between(0, 2) * milli)}
		g.AxleShare = sag.AxleShare{End: []sag.Axle{sag.Front, sag.Rear}[r.IntN(2)], RearShare: r.between(0.45, 0.65),
			BikeMass: units.Mass(r.between(9, 18)), Unsprung: units.Mass(r.between(0, 4))}
		rate := made(sag.RequiredRate(curve, sag.Target{Load: units.Force(r.between(400, 700)), Sag: g.Sag}, g.Preload)).Rate
		for range 1 + r.IntN(5) {
			g.Rates = append(g.Rates, rate)
			rate *= units.Stiffness(r.between(1.03, 1.15))
		}
		b, err := sag.BandsOf(curve, g)
		if err != nil {
			continue
		}
		seen++
		rest := func(k units.Stiffness, rider units.Mass) sag.Rest {
			l := made(sag.Masses{RiderMass: rider, BikeMass: g.BikeMass, RearShare: g.RearShare}.Loads())
			load := l.RearWheel
			if g.End == sag.Front {
				load = l.FrontWheel
			}
			law := made(spring.NewLinear(spring.Linear{Rate: k, Travel: curve.Stroke(), Preload: g.Preload}))
			return made(settle(curve, law, load-units.Force(float64(g.Unsprung)*9.80665), 0))
		}
		for j, k := range g.Rates {
			near(t, "sag of the ideal rider", rest(k, b.IdealMass[j]).Sag, g.Sag, 1e-9)
			if got := which(b, b.IdealMass[j]); got != j {
				t.Errorf("the ideal rider of spring %d gets %d", j, got)
			}
			if j == 0 {
				continue
			}
			edge := b.EdgeMass[j-1]
			if !(b.IdealMass[j-1] < edge && edge < b.IdealMass[j]) {
				t.Errorf("an edge at %v between %v and %v", edge, b.IdealMass[j-1], b.IdealMass[j])
			}
			near(t, "both miss alike", rest(g.Rates[j-1], edge).Sag-g.Sag, g.Sag-rest(k, edge).Sag, 1e-7)
		}
		if t.Failed() {
			t.Fatalf("seed 408, %d: %s, %#v", i, says, g)
		}
	}
	if seen < 100 {
		t.Errorf("%d of 200 ranges have bands: the test looks at too little", seen)
	}
}

// A fact of the trade, common practice with no source: a rider of 172 lb gets the spring for 160 to 180 lb. Springs
// made for 150, 170 and 190 lb part at the harmonic means of the loads, by hand:
// on a constant ratio the neighbours miss w alike by u where
// k₁(w + u) = k₂(w − u), which is at 2k₁k₂/(k₁ + k₂)·w.
func TestRiderGetsTheSpringOfTheStep(t *testing.T) {
	curve := rearOf150(t)
	var rates []units.Stiffness
	masses := []float64{150, 170, 190} // the middles of 140–160, 160–180 and 180–200
	for _, lb := range masses {
		k, err := sag.RequiredRate(curve, sag.Target{Load: (units.Mass(lb) * units.Pound).Weight(), Sag: 0.25}, 0)
		require.NoError(t, err)
		rates = append(rates, k.Rate)
	}
	// With next to no bike and all the weight on this end, masses are loads.
	b, err := sag.BandsOf(curve, sag.Range{Rates: rates, AxleShare: sag.AxleShare{End: sag.Rear, RearShare: 1 - 1e-9, BikeMass: 1e-6}, Sag: 0.25})
	require.NoError(t, err)
	for i, lb := range []float64{160, 180} {
		unitstest.Near(t, "edge", b.EdgeMass[i], units.Mass(lb)*units.Pound, unitstest.Abs(1*units.Pound))
		mean := 2 * masses[i] * masses[i+1] / (masses[i] + masses[i+1])
		unitstest.Near(t, "harmonic mean", b.EdgeMass[i], units.Mass(mean)*units.Pound, unitstest.Rel(1e-6))
	}
	for _, test := range []struct {
		lb   float64
		want int
	}{{150, 0}, {158, 0}, {161, 1}, {172, 1}, {178, 1}, {181, 2}, {200, 2}} {
		if got := which(b, units.Mass(test.lb)*units.Pound); got != test.want {
			t.Errorf("%v lb gets spring %d, want %d, with edges at %v", test.lb, got, test.want, b.EdgeMass)
		}
	}
}

// Neighbours miss alike at w = 2k₁k₂/(k₁ + k₂) of the target's load as long as
// both still rest within the travel: on a target of 70 % a spring three times as
// hard misses by (k₂ − k₁)/(k₂ + k₁) = half of the sag, 35 % of the travel, which
// the softer does not have left; one of 2.4 times misses by 28.8 %, which it has.
func TestBandsEndWithTheTravel(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	for _, test := range []struct {
		rates   []units.Stiffness
		preload units.Length
		sag     float64
		want    []string
	}{
		{[]units.Stiffness{60e3, 144e3}, 0, 0.7, nil},
		{[]units.Stiffness{60e3, 180e3}, 0, 0.7, []string{"rates[1]"}},
		// With 50 mm of preload 120 N/mm push with 6000 N at full extension, and
		// 60 N/mm at twice the target's 18 mm with 60·86 = 5160 N.
		{[]units.Stiffness{60e3, 120e3}, 0.05, 0.3, []string{"rates[1]"}},
		{[]units.Stiffness{60e3, 66e3, 120e3}, 0.05, 0.3, []string{"rates[2]"}}, // 66·86 = 5676 N
		{[]units.Stiffness{60e3, 100e3}, 0.05, 0.3, nil},
	} {
		r := threeSprings()
		r.Rates, r.Preload, r.Sag = test.rates, test.preload, test.sag
		b, err := sag.BandsOf(c, r)
		named(t, "rates", err, test.want...)
		if err == nil && test.preload == 0 {
			x, y := float64(test.rates[0]), float64(test.rates[1])
			want := (2*x*y/(x+y)*test.sag*0.06/2.5/9.80665+3)/0.6 - 17
			near(t, "edge", float64(b.EdgeMass[0]), want, 1e-11)
		}
	}
}

// Where the force falls, no rider lies between two springs: they are refused
// rather than given an edge outside them.
func TestBandsWhereForceFalls(t *testing.T) {
	curve := falling(t)
	r := sag.Range{Rates: []units.Stiffness{60e3, 70e3}, Preload: 30 * units.Millimetre, AxleShare: sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 16}, Sag: 50.0 / 155}
	_, err := sag.BandsOf(curve, r)
	named(t, "bands", err, "rates[1]")
	r.Preload, r.Sag = 5*units.Millimetre, 0.3 // k(s + 5 mm)/LR rises all over
	b, err := sag.BandsOf(curve, r)
	require.NoError(t, err)
	if !(b.IdealMass[0] < b.EdgeMass[0] && b.EdgeMass[0] < b.IdealMass[1]) {
		t.Errorf("bands %+v", b)
	}
}

// A bike that weighs just what the softest spring carries leaves no rider for it.
func TestBandsWithoutARider(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	r := threeSprings()
	r.Unsprung, r.RearShare = 0, 0.5
	wheel, err := linkage.AtWheel(c, linear(t, 60e3, 0.06, 0))
	require.NoError(t, err)
	r.BikeMass = wheel.Force(0.3*0.15).Mass() / 0.5
	_, err = sag.BandsOf(c, r)
	named(t, "no rider", err, "rates[0]")
	r.BikeMass -= 0.5
	b, err := sag.BandsOf(c, r)
	require.NoError(t, err)
	near(t, "half a kilogram of rider", float64(b.IdealMass[0]), 0.5, 1e-9)
}

// Rates that rise by their last place alone do rise: their riders are the same but for
// rounding, also where next to nothing of them is on this end.
func TestBandsOfNeighbouringNumbers(t *testing.T) {
	for i, c := range []*linkage.Curve{constant(t, 2.5, 0.15), bent(t), constant(t, 2.5, 0.15), bent(t)} {
		for k := 40e3; k < 120e3; k += 1777.7 {
			for _, more := range []float64{justAbove(k), k * (1 + 1e-15), k * (1 + 1e-14), k * (1 + 1e-13), k * (1 + 1e-12)} {
				r := threeSprings()
				r.RearShare = []float64{0.6, 1e-3}[i/2]
				r.Rates = []units.Stiffness{units.Stiffness(k), units.Stiffness(more)}
				b, err := sag.BandsOf(c, r)
				require.NoError(t, err)
				near(t, "edge", float64(b.EdgeMass[0]), float64(b.IdealMass[0]), 1e-9)
			}
		}
	}
}

// Each bad field is named, and limits are met.
func TestBandsRefuse(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	rising := func(n int) []units.Stiffness {
		list := make([]units.Stiffness, n)
		for i := range list {
			list[i] = units.Stiffness(60e3 + i)
		}
		return list
	}
	tooMany := rising(1001)
	tooMany[0] = -1 // is not looked at any more
	nan, inf := math.NaN(), units.Stiffness(math.Inf(1))
	rates := func(list ...units.Stiffness) func(*sag.Range) { return func(r *sag.Range) { r.Rates = list } }
	for _, test := range []struct {
		name   string
		change func(*sag.Range)
		want   []string
	}{
		{"nothing", func(r *sag.Range) { *r = sag.Range{} }, []string{"sag", "rates", "rear_share", "bike_mass", "end"}},
		{"NaN", func(r *sag.Range) {
			*r = sag.Range{Rates: []units.Stiffness{units.Stiffness(nan)}, Preload: units.Length(nan), Sag: nan,
				AxleShare: sag.AxleShare{End: "both", RearShare: nan, BikeMass: units.Mass(nan), Unsprung: units.Mass(nan)}}
		}, []string{"sag", "rates[0]", "preload", "rear_share", "bike_mass", "unsprung", "end"}},
		{"falling rates", rates(70e3, 60e3), []string{"rates[1]"}},
		{"too soft for the bike alone", rates(1e3, 70e3), []string{"rates[0]"}},
		{"the same rate twice", rates(60e3, 60e3), []string{"rates[1]"}},
		{"too soft, alone on the shelf", rates(1e3), []string{"rates[0]"}},
		{"as many as can be", rates(rising(1000)...), nil},
		{"one more", rates(tooMany...), []string{"rates"}},
		{"no rate at all", rates(), []string{"rates"}},
		{"one rate", rates(60e3), nil},
		{"after an infinite rate", rates(inf, 70e3), []string{"rates[0]"}},
		{"after a negative rate", rates(-1, 70e3), []string{"rates[0]"}},
		{"NaN in between", rates(70e3, units.Stiffness(nan), 60e3), []string{"rates[1]", "rates[2]"}},
		{"the third falls", rates(60e3, 70e3, 65e3), []string{"rates[2]"}},
		{"an immense rate", rates(60e3, 1.5e308), []string{"rates[1].rate"}},
		{"an immense preload", func(r *sag.Range) { r.Preload = 1e307 }, []string{"rates[0].rate"}},
		{"a millionth on the rear", func(r *sag.Range) { r.RearShare = 1e-6 }, nil},
		{"less on the rear", func(r *sag.Range) { r.RearShare = justBelow(1e-6) }, []string{"rear_share"}},
		{"two millionths on the front", func(r *sag.Range) { r.End, r.RearShare = sag.Front, 1-2e-6 }, nil},
		{"half a millionth on the front", func(r *sag.Range) { r.End, r.RearShare = sag.Front, 1-5e-7 }, []string{"rear_share"}},
		{"all on the front", func(r *sag.Range) { r.End, r.RearShare = sag.Front, 0 }, []string{"rear_share"}},
		{"all on the rear", func(r *sag.Range) { r.RearShare = 1 }, []string{"rear_share"}},
		{"neither end", func(r *sag.Range) { r.End = "" }, []string{"end"}},
		{"a bike of half a kilogram", func(r *sag.Range) { r.BikeMass = 0.5 }, nil},
		{"a bike of nothing", func(r *sag.Range) { r.BikeMass = 0 }, []string{"bike_mass"}},
	} {
		r := threeSprings()
		test.change(&r)
		b, err := sag.BandsOf(c, r)
		named(t, test.name, err, test.want...)
		if err == nil && (len(b.IdealMass) != len(r.Rates) || len(b.EdgeMass) != len(r.Rates)-1) {
			t.Errorf("%s: %d riders and %d edges of %d springs", test.name, len(b.IdealMass), len(b.EdgeMass), len(r.Rates))
		}
		if err != nil && (b.IdealMass != nil || b.EdgeMass != nil) {
			t.Errorf("%s: refused, yet %+v", test.name, b)
		}
	}
	for _, curve := range []*linkage.Curve{nil, new(linkage.Curve)} {
		_, err := sag.BandsOf(curve, threeSprings())
		named(t, "no curve", err, "curve")
	}
	// A stroke so short that a rate alone can be beyond what a law may have.
	short := constant(t, 1, 1e-6)
	r := threeSprings()
	r.Rates = []units.Stiffness{1e153}
	_, err := sag.BandsOf(short, r)
	named(t, "a rate of 1e153 N/m", err, "rates[0]")
}

// Bands rise with the rate, each ideal rider between its edges where the wheel force
// rises, and everybody has a spring.
func FuzzBandsOf(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 70e3, 80e3, 90e3, 0.002, 0.6, 16.0, 3.0, 0.30, 85.0)
	f.Add(1.0, 1.0, 0.170, 1e-300, 1.0, 1e300, 0.0, 1e-9, 1e-300, 0.0, 0.999, math.NaN())
	f.Fuzz(func(t *testing.T, start, end, travel, k1, k2, k3, preload, share, bike, unsprung, target, rider float64) {
		c, err := ratios(start, end, units.Length(travel))
		if err != nil {
			c = nil
		}
		for _, e := range []sag.Axle{sag.Rear, sag.Front} {
			r := sag.Range{Rates: []units.Stiffness{units.Stiffness(k1), units.Stiffness(k2), units.Stiffness(k3)}, Preload: units.Length(preload), Sag: target,
				AxleShare: sag.AxleShare{End: e, RearShare: share, BikeMass: units.Mass(bike), Unsprung: units.Mass(unsprung)}}
			b, err := sag.BandsOf(c, r)
			if i := which(b, units.Mass(rider)); err == nil && (i < 0 || i > 2) {
				t.Fatalf("spring %d for %v", i, rider)
			}
			if !answered(t, "bands", b, err) {
				continue
			}
			if len(b.IdealMass) != 3 || len(b.EdgeMass) != 2 || !slices.IsSorted(b.IdealMass) {
				t.Fatalf("%+v", b)
			}
			rising := true
			for _, k := range r.Rates {
				law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: c.Stroke(), Preload: r.Preload})
				require.NoError(t, err)
				wheel, err := linkage.AtWheel(c, law)
				require.NoError(t, err)
				least, _ := wheel.MinRate()
				rising = rising && least > 0
			}
			if !rising {
				continue
			}
			for i, m := range b.EdgeMass {
				if !(b.IdealMass[i] <= m && m <= b.IdealMass[i+1]) && float64(b.IdealMass[i+1]-b.IdealMass[i]) > 1e-9*float64(b.IdealMass[i+1]) {
					t.Fatalf("the edge %v is not between its springs: %+v", m, b)
				}
			}
		}
	})
}
