package fit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/units"
)

// drawnShelf is one end with up to nine springs about the exact rate, and a load for it.
func drawnShelf(r *rand.Rand) (fit.Spec, units.Force) {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	either := func(v float64) float64 { return v * float64(r.IntN(2)) }
	spec := fit.Spec{Curve: ofRatio25(), Sag: between(0.1, 0.5), Friction: units.Force(either(between(0, 150))), Reading: units.Length(either(between(0, 2*mm)))}
	if r.IntN(2) == 0 {
		spec.Curve = sagtest.Progressive()
	}
	s := &fit.Shelf{Collar: fit.Collar{PreloadMin: units.Length(either(between(0, 2*mm))), ThreadPitch: units.Length(either(1.5 * mm))}}
	s.PreloadMax = s.PreloadMin + units.Length(either(between(0, 8*mm)))
	for range 1 + r.IntN(9) {
		s.Springs = append(s.Springs, fit.ShelfSpring{Rate: units.Stiffness(between(50e3, 110e3)), SolidTravel: units.Length(either(between(0.05, 0.09)))})
	}
	spec.Coil = s
	return spec, units.Force(between(250, 1200))
}

// Of any bike: a spring is on target exactly if its miss is within its tolerance, its
// preload is not below the collar's least, and the wheel is at neither end; none that is
// nearer to the exact rate ranks behind one that is on target too; what ranks before is
// never farther off; and the reason says which of it decided.
func TestRankingNeverContradictsItself(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 3))
	reasons, beyond := map[fit.Reason]int{}, 0
	for range 3000 {
		spec, load := drawnShelf(r)
		o := options(t, spec)
		c, err := o.Choose(load)
		require.NoError(t, err)
		a := c.Coil
		off := func(one *fit.CoilCandidate) float64 { return math.Abs(float64(one.Rate - a.IdealRate)) }
		for i := range a.Candidates {
			one := &a.Candidates[i]
			on := fit.Has(one.Findings, sag.OnTarget)
			ends := fit.Has(one.Findings, sag.HeldAtTop) || fit.Has(one.Findings, sag.Collapses)
			loose := one.Preload < spec.Coil.PreloadMin-1e-12
			if want := math.Abs(one.Miss) <= one.Tolerance && !ends && !loose; on != want || fit.Has(one.Findings, sag.Loose) != loose {
				t.Fatalf("%+v of %+v: on target %v, want %v", one, spec, on, want)
			}
			if on && math.Abs(one.Miss) > 0.0051 {
				beyond++
			}
			reasons[one.Reason]++
			if i == 0 {
				continue
			}
			before := &a.Candidates[i-1]
			onBefore, solid, solidBefore := fit.Has(before.Findings, sag.OnTarget), fit.Has(one.Findings, sag.GoesSolid), fit.Has(before.Findings, sag.GoesSolid)
			ok := true
			switch one.Reason {
			case fit.RankedSolid:
				ok = solid && !solidBefore
			case fit.RankedOffTarget:
				ok = onBefore && !on && solid == solidBefore
			case fit.RankedFartherRate:
				ok = onBefore && on && off(before) < off(one) && solid == solidBefore
			case fit.RankedLargerMiss:
				ok = !onBefore && !on && math.Abs(before.Miss) < math.Abs(one.Miss) && solid == solidBefore
			default:
				ok = false // no two drawn springs are alike
			}
			if !ok {
				t.Fatalf("%q: %+v behind %+v", one.Reason, one, before)
			}
		}
		own := o.Spec()
		if best := own.Best(o.Curve(), load); best != a.Candidates[0].Index {
			t.Fatalf("spring %d is best of %+v, and %d first", best, spec, a.Candidates[0].Index)
		}
		alone, err := o.Recommend(load)
		require.NoError(t, err)
		if len(alone.Coil.Candidates) != 1 || alone.Coil.Between != (fit.Neighbours{}) || !cmp.Equal(*alone.Spring(), a.Candidates[0]) || alone.State() != c.State() {
			t.Fatalf("%+v is recommended of %+v, and %+v first", alone.Spring(), spec, a.Candidates[0])
		}
	}
	if len(reasons) != 5 || beyond < 100 {
		t.Errorf("the drawn bikes show too little: %v, %d on target beyond half a per cent", reasons, beyond)
	}
}

// Of any bike and each of its springs, the lead is more than 0 if the spring is recommended and less if
// it is not. As the load changes it goes from one side to the other through next to nothing, but where
// a spring goes solid, is loose, or stands at an end of its travel.
func TestLeadTellsTheRecommendedSpring(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 3))
	crossed, jumped := 0, 0
	for range 150 {
		spec, load := drawnShelf(r)
		o := options(t, spec)
		own := o.Spec()
		ranking := own.Ranking(o.Curve())
		for i := range spec.Coil.Springs {
			before, from := math.NaN(), load
			for to := load / 2; to < 2*load; to *= 1.05 {
				lead, best, err := ranking.Lead(i, to)
				if err != nil || (lead > 0) != (best == i) || best != own.Best(o.Curve(), to) {
					t.Fatalf("spring %d of %+v: lead %v, recommended %d", i, spec, lead, best)
				}
				if before*lead < 0 {
					low, high := from, to
					for high-low > 1e-11*load {
						middle := (low + high) / 2
						if ahead, _, _ := ranking.Lead(i, middle); (ahead > 0) == (before > 0) {
							low = middle
						} else {
							high = middle
						}
					}
					a, _, _ := ranking.Lead(i, low)
					b, _, _ := ranking.Lead(i, high)
					if crossed++; math.Abs(a-b) > 1e-8 {
						jumped++
					}
				}
				before, from = lead, to
			}
		}
	}
	if crossed < 100 || jumped > crossed/10 {
		t.Errorf("%d of %d changes are jumps", jumped, crossed)
	}
	none := fit.Spec{Sag: 0.3}
	if none.Ranking(options(t, shelf(springs(fit.ShelfSpring{Rate: 80e3}))).Curve()) != nil {
		t.Error("a ranking of no shelf")
	}
	alone := options(t, shelf(springs(fit.ShelfSpring{Rate: 80e3})))
	one := alone.Spec()
	ranking := one.Ranking(alone.Curve())
	if lead, best, err := ranking.Lead(0, 600); lead != 4 || best != 0 || err != nil {
		t.Errorf("a spring alone: lead %v, recommended %d, %v", lead, best, err)
	}
	for _, bad := range []struct {
		i    int
		load units.Force
		want []string
	}{{1, 600, []string{"spring"}}, {-1, 0, []string{"load", "spring"}}, {0, 0, []string{"load"}}, {0, units.Force(math.NaN()), []string{"load"}}} {
		lead, best, err := ranking.Lead(bad.i, bad.load)
		sagtest.Named(t, fmt.Sprint(bad), err, bad.want...)
		if lead != 0 || best != -1 {
			t.Errorf("%v: lead %v, recommended %d", bad, lead, best)
		}
	}
}

// By hand: of 2.5 over 150 mm, 600 N and 28 % put 1500 N at 16.8 mm, for which 89.2857 N/mm is exact. 92 N/mm rests
// at 16.3043 mm, 0.8261 points off; a softer one has a preload that brings it on target. A spring of 50 mm
// goes solid before 60 mm.
func TestLeadIsByHowMuchASpringComesFirst(t *testing.T) {
	const exact, solid = 1500 / 16.8e-3, 50e-3
	miss := func(rate float64) float64 { return math.Abs(1500/rate-16.8e-3) / 60e-3 }
	for _, test := range []struct {
		name        string
		first, next fit.ShelfSpring
		lead        float64
	}{
		{"the other is off target", fit.ShelfSpring{Rate: 88e3}, fit.ShelfSpring{Rate: 92e3}, miss(92e3) - 0.005},
		{"both go solid, and the other is off target", fit.ShelfSpring{Rate: 88e3, SolidTravel: solid}, fit.ShelfSpring{Rate: 92e3, SolidTravel: solid}, miss(92e3) - 0.005},
		{"nearer to the exact rate, and with its preload as far from off target as can be", fit.ShelfSpring{Rate: 89e3}, fit.ShelfSpring{Rate: 90.5e3}, 0.005},
		{"little nearer to it", fit.ShelfSpring{Rate: 89.2e3}, fit.ShelfSpring{Rate: 89.4e3}, (89.4e3 + 89.2e3 - 2*exact) / exact},
		{"both off target", fit.ShelfSpring{Rate: 100e3}, fit.ShelfSpring{Rate: 110e3}, miss(110e3) - miss(100e3)},
		{"alike", fit.ShelfSpring{Rate: 88e3}, fit.ShelfSpring{Rate: 88e3}, 1e-15},
		{"the other goes solid", fit.ShelfSpring{Rate: 88e3}, fit.ShelfSpring{Rate: 89e3, SolidTravel: solid}, 2},
		{"the other is on target and goes solid", fit.ShelfSpring{Rate: 92e3}, fit.ShelfSpring{Rate: 89e3, SolidTravel: solid}, 1},
	} {
		o := options(t, shelf(springs(test.first, test.next)))
		spec := o.Spec()
		ranking := spec.Ranking(o.Curve())
		for i, want := range []float64{test.lead, -test.lead} {
			lead, best, _ := ranking.Lead(i, 600)
			if best != 0 {
				t.Errorf("%s: spring %d is recommended", test.name, best)
			}
			near(t, test.name, lead, want, 1e-9)
		}
	}
	// Among three: the first is recommended whoever is asked about, and of two alike the one that is listed first.
	three := options(t, shelf(springs(fit.ShelfSpring{Rate: 88e3}, fit.ShelfSpring{Rate: 92e3}, fit.ShelfSpring{Rate: 110e3})))
	alike := options(t, shelf(springs(fit.ShelfSpring{Rate: 92e3}, fit.ShelfSpring{Rate: 88e3}, fit.ShelfSpring{Rate: 88e3})))
	for recommended, o := range []*fit.Options{three, alike} {
		spec := o.Spec()
		for i := range 3 {
			if lead, best, err := spec.Ranking(o.Curve()).Lead(i, 600); err != nil || best != recommended || (lead > 0) != (i == best) {
				t.Errorf("of three, spring %d: lead %v, recommended %d, %v", i, lead, best, err)
			}
		}
	}
	// A friction of 70 N holds 92 N/mm at the target, where it pushes with 1545.6 N, and falls 9.2 N short of holding 94 N/mm.
	spec := shelf(springs(fit.ShelfSpring{Rate: 92e3}, fit.ShelfSpring{Rate: 94e3}))
	spec.Friction = 70
	own := options(t, spec)
	held := own.Spec()
	lead, best, _ := held.Ranking(own.Curve()).Lead(0, 600)
	if near(t, "held by friction", lead, 9.2/1500, 1e-9); best != 0 {
		t.Errorf("held by friction: spring %d is recommended", best)
	}
}

// Off target, the tolerance is still how far friction reaches to the side of the target, by hand without any
// preload: 92 N/mm rests at 16.3043 mm and 30 N reach to 16.6304 mm, 60 N/mm rests at 25 mm and 100 N reach to 23.3333 mm.
func TestToleranceOffTargetIsTheReachOfFriction(t *testing.T) {
	for _, test := range []struct {
		friction        units.Force
		rate            units.Stiffness
		miss, tolerance float64
	}{
		{30, 92e3, (1500/92e3 - 16.8e-3) / 60e-3, 30 / 92e3 / 60e-3}, {100, 60e3, (25 - 16.8) / 60, 100 / 60e3 / 60e-3}, {20, 92e3, (1500/92e3 - 16.8e-3) / 60e-3, 0.005},
	} {
		spec := shelf(fit.Shelf{Springs: []fit.ShelfSpring{{Rate: test.rate}}})
		spec.Friction = test.friction
		choice := choose(t, spec, 600)
		r := choice.AtRest()
		near(t, "miss", r.Miss, test.miss, 1e-9)
		near(t, "tolerance", r.Tolerance, test.tolerance, 1e-9)
	}
}

// By hand: of 2.5 over 150 mm, 600 N and 28 % put 1500 N at 16.8 mm. A spring that pushes
// with 1500 ± f there may be held there by a friction of f: with no preload 88 N/mm pushes with
// 1478.4 N and 92 N/mm with 1545.6 N. A ring read to ± 0.2 mm tells apart no less than 0.4 mm
// of stroke, 0.667 % of it: 92 N/mm rests at 16.30 mm and 93 N/mm at 16.13 mm.
func TestMissIsJudgedAgainstFrictionAndRing(t *testing.T) {
	for _, test := range []struct {
		friction units.Force
		reading  units.Length
		rate     units.Stiffness
		want     sag.Finding
	}{
		{0, 0, 88e3, sag.OnTarget}, // 17.05 mm, 0.41 points
		{0, 0, 92e3, sag.TooHard},
		{45.5, 0, 92e3, sag.TooHard}, {45.7, 0, 92e3, sag.OnTarget},
		{0, 0.24e-3, 92e3, sag.TooHard}, {0, 0.25e-3, 92e3, sag.OnTarget},
		{0, 0.33e-3, 93e3, sag.TooHard}, {0, 0.34e-3, 93e3, sag.OnTarget},
		{100, 0, 60e3, sag.TooSoft}, // 1008 N there
	} {
		spec := shelf(fit.Shelf{Springs: []fit.ShelfSpring{{Rate: test.rate}}})
		spec.Friction, spec.Reading = test.friction, test.reading
		one := choose(t, spec, 600).Coil.Candidates[0]
		if one.Findings[0] != test.want || (math.Abs(one.Miss) <= one.Tolerance) != (test.want == sag.OnTarget) {
			t.Errorf("%v with %v and %v: %v, %v of %v", test.rate, test.friction, test.reading, one.Findings, one.Miss, one.Tolerance)
		}
	}
}

// Springs between which sag decides nothing: the nearest to the exact rate comes first, on
// either side of it, and of two of one rate the one with more left.
func TestNearestRateComesFirst(t *testing.T) {
	s := fit.Shelf{Collar: fit.Collar{PreloadMax: 5e-3}} // 1500 N over 16.8 mm: 89.29 N/mm
	for _, test := range []struct {
		rates  []units.Stiffness
		first  units.Stiffness
		reason fit.Reason
	}{
		{[]units.Stiffness{85e3, 90e3}, 90e3, fit.RankedFartherRate},
		{[]units.Stiffness{75e3, 80e3, 89e3, 90.5e3}, 89e3, fit.RankedFartherRate},
		{[]units.Stiffness{75e3, 80e3}, 80e3, fit.RankedFartherRate},
		{[]units.Stiffness{84e3, 95e3}, 84e3, fit.RankedOffTarget}, // 95 N/mm would rest at 15.8 mm
	} {
		s.Springs = nil
		for _, k := range test.rates {
			s.Springs = append(s.Springs, fit.ShelfSpring{Rate: k, SolidTravel: 0.08})
		}
		a := choose(t, shelf(s), 600).Coil
		if a.Candidates[0].Rate != test.first || a.Candidates[1].Reason != test.reason {
			t.Errorf("%v: %v first, the next for %q", test.rates, a.Candidates[0].Rate, a.Candidates[1].Reason)
		}
	}
	s.Springs = []fit.ShelfSpring{{Rate: 85e3}, {Rate: 85e3, SolidTravel: 0.07}, {Rate: 85e3, SolidTravel: 0.08}}
	a := choose(t, shelf(s), 600).Coil.Candidates
	if a[0].Index != 2 || a[1].Index != 1 || a[2].Index != 0 || a[1].Reason != fit.RankedLessLeft || a[2].Reason != fit.RankedLessLeft {
		t.Errorf("springs %d, %d, %d for %q and %q", a[0].Index, a[1].Index, a[2].Index, a[1].Reason, a[2].Reason)
	}
}

// A spring that binds so early that the collar can't be brought to its least preload is
// loose, and on target for no load.
func TestLooseSpringIsNeverOnTarget(t *testing.T) {
	s := fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 80e3, SolidTravel: 20e-3}}, Collar: fit.Collar{PreloadMin: 19.99e-3, PreloadMax: 30e-3}}
	spec := shelf(s)
	spec.Sag = 0.0001
	one := choose(t, spec, 639.5).Coil.Candidates[0]
	if math.Abs(one.Miss) > one.Tolerance || fit.Has(one.Findings, sag.OnTarget) || !fit.Has(one.Findings, sag.Loose) {
		t.Errorf("%v with a miss of %v", one.Findings, one.Miss)
	}
}

// The wheel at an end of its travel is not on target, though the target be as near as can
// be told, and the load tells which way.
func TestEndsOfTheTravelAreOffTarget(t *testing.T) {
	for _, test := range []struct {
		sag   float64
		load  units.Force
		least units.Length
		want  []sag.Finding
	}{
		{0.004, 100, 5e-3, []sag.Finding{sag.HeldAtTop, sag.TooHard}},
		{0.998, 5000, 0, []sag.Finding{sag.Collapses, sag.TooSoft}},
	} {
		spec := shelf(fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 80e3}}, Collar: fit.Collar{PreloadMin: test.least, PreloadMax: test.least}})
		spec.Sag = test.sag
		got := choose(t, spec, test.load).Coil.Candidates[0]
		check(t, "an end of the travel", got.Findings[:2], test.want...)
	}
}

// RestOf says of a chosen end what the choice does.
func TestRestOfIsThatOfTheChoice(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 4))
	for range 300 {
		spec, load := drawnShelf(random)
		choice := choose(t, spec, load)
		best := choice.Spring()
		r, err := fit.RestOf(choice.End(), sag.Target{Load: load, Sag: spec.Sag}, spec.Reading)
		require.NoError(t, err)
		if r.Rest != best.Rest || r.Miss != best.Miss || r.Tolerance != best.Tolerance || r.Findings[0] != best.Findings[0] && !fit.Has(best.Findings, sag.Loose) {
			t.Errorf("%+v, chosen %+v", r, best)
		}
	}
	choice := choose(t, shelf(springs(fit.ShelfSpring{Rate: 80e3})), 600)
	end := choice.End()
	for name, test := range map[string]struct {
		end     sag.End
		target  sag.Target
		reading units.Length
	}{
		"load":    {end, sag.Target{Sag: 0.3}, 0},
		"sag":     {end, sag.Target{Load: 600}, 0},
		"reading": {end, sag.Target{Load: 600, Sag: 0.3}, units.Length(math.NaN())},
		"curve":   {sag.End{Law: end.Law}, sag.Target{Load: 600, Sag: 0.3}, 0},
		"law":     {sag.End{Curve: end.Curve}, sag.Target{Load: 600, Sag: 0.3}, 0},
	} {
		_, err := fit.RestOf(test.end, test.target, test.reading)
		named(t, name, err, name)
	}
}
