package fit_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// By hand: a constant ratio of 2.5 over a stroke of 60 mm, 600 N at the wheel
// and a target of 28 % put 1500 N on the spring at 16.8 mm. A spring of rate k
// then wants a preload of 1500 N/k − 16.8 mm.
func TestShelfByHand(t *testing.T) {
	s := springs(
		fit.ShelfSpring{Rate: 60e3, SolidTravel: 0.070}, fit.ShelfSpring{Rate: 75e3, SolidTravel: 0.062},
		fit.ShelfSpring{Rate: 76e3, SolidTravel: 0.070}, fit.ShelfSpring{Rate: 80e3, SolidTravel: 0.066}, fit.ShelfSpring{Rate: 90e3},
		fit.ShelfSpring{Rate: 120e3}, fit.ShelfSpring{Rate: 50e3, SolidTravel: 0.050}, fit.ShelfSpring{Rate: 60e3, SolidTravel: 0.050})
	s.PreloadMin = 1e-3
	a := choose(t, shelf(s), 600).Coil
	near(t, "ideal rate", float64(a.IdealRate), 1500/17.8e-3, 1e-12)

	want := []struct {
		index                               int
		rate, wanted, preload, sag, reserve float64 // N/m, mm, mm, –, mm
		known                               bool
		findings                            []sag.Finding
		full                                float64 // N at the wheel, with 60 mm of stroke or 62 mm of spring
		reason                              fit.Reason
	}{
		{3, 80e3, 1.95, 1.95, 0.28, 66 - 1.95 - 60, true, []sag.Finding{sag.OnTarget}, 80e3 * 61.95 * mm / 2.5, fit.RankedFirst},
		{2, 76e3, 1500/76.0 - 16.8, 1500/76.0 - 16.8, 0.28, 70 - (1500/76.0 - 16.8) - 60, true, []sag.Finding{sag.OnTarget}, 76e3 * (60 + 1500/76.0 - 16.8) * mm / 2.5, fit.RankedFartherRate},
		{4, 90e3, 1500/90.0 - 16.8, 1, (1500/90.0 - 1) / 60, 0, false, []sag.Finding{sag.TooHard, sag.PreloadAtMin, sag.SolidUnknown}, 90e3 * 61 * mm / 2.5, fit.RankedOffTarget},
		{0, 60e3, 8.2, 4, (25 - 4) / 60.0, 70 - 4 - 60, true, []sag.Finding{sag.TooSoft, sag.PreloadAtMax}, 60e3 * 64 * mm / 2.5, fit.RankedLargerMiss},
		{5, 120e3, 12.5 - 16.8, 1, 11.5 / 60, 0, false, []sag.Finding{sag.TooHard, sag.PreloadAtMin, sag.SolidUnknown}, 120e3 * 61 * mm / 2.5, fit.RankedLargerMiss},
		{1, 75e3, 3.2, 3.2, 0.28, 62 - 3.2 - 60, true, []sag.Finding{sag.OnTarget, sag.GoesSolid}, 75e3 * 62 * mm / 2.5, fit.RankedSolid},
		{7, 60e3, 8.2, 4, (25 - 4) / 60.0, 50 - 4 - 60, true, []sag.Finding{sag.TooSoft, sag.PreloadAtMax, sag.GoesSolid}, 60e3 * 50 * mm / 2.5, fit.RankedOffTarget},
		{6, 50e3, 13.2, 4, (30 - 4) / 60.0, 50 - 4 - 60, true, []sag.Finding{sag.TooSoft, sag.PreloadAtMax, sag.GoesSolid}, 50e3 * 50 * mm / 2.5, fit.RankedLargerMiss},
	}
	if len(a.Candidates) != len(want) {
		t.Fatalf("%d candidates", len(a.Candidates))
	}
	for i, w := range want {
		got := a.Candidates[i]
		near(t, "rate", float64(got.Rate), w.rate, 1e-12)
		near(t, "preload wanted", float64(got.PreloadWanted), w.wanted*mm, 1e-10)
		near(t, "preload", float64(got.Preload), w.preload*mm, 1e-10)
		near(t, "sag", got.Rest.Sag, w.sag, 1e-10)
		near(t, "reserve", float64(got.SolidReserve), w.reserve*mm, 1e-10)
		if math.Abs(got.Miss-(w.sag-0.28)) > 1e-10 || got.SolidKnown != w.known || got.Turns != 0 || got.Index != w.index {
			t.Errorf("%v: miss %v, solid known %v, turns %v, spring %d", got.Rate, got.Miss, got.SolidKnown, got.Turns, got.Index)
		}
		check(t, got.Rate.String(), got.Findings, w.findings...)
		near(t, "force at full travel", float64(got.FullForce), w.full, 1e-10)
		near(t, "over the load", got.FullRatio, w.full/600, 1e-10)
		if got.Reason != w.reason {
			t.Errorf("%v stands where it does for %q, want %q", got.Rate, got.Reason, w.reason)
		}
	}
	// The ideal, 84.3 N/mm, lies between 80 and 90, wherever these rank.
	if b := a.Between; b.Softer != &a.Candidates[0] || b.Harder != &a.Candidates[2] {
		t.Errorf("between %+v and %+v", b.Softer, b.Harder)
	}
}

// Numbers that float64 holds exactly: behind a ratio of 2 over 125 mm half of the travel
// is 31.25 mm of stroke, where a load wants a rate of 64 times as many newtons a metre.
func exact(s fit.Shelf) fit.Spec { return fit.Spec{Curve: constant(2, 0.125), Sag: 0.5, Coil: &s} }

// The neighbours are the hardest spring that is not harder than the ideal, and the
// softest that is, wherever they rank; of two springs of one rate it is the better.
func TestNeighboursOfTheIdealRate(t *testing.T) {
	for _, test := range []struct {
		ideal, softer, harder units.Stiffness // in multiples of 64 N/m; 0 for none
	}{{650, 600, 700}, {600, 600, 700}, {450, 0, 500}, {800, 800, 0}, {990, 800, 0}} {
		s := springs(fit.ShelfSpring{Rate: 64 * 700}, fit.ShelfSpring{Rate: 64 * 500}, fit.ShelfSpring{Rate: 64 * 800}, fit.ShelfSpring{Rate: 64 * 600})
		a := choose(t, exact(s), units.Force(test.ideal)).Coil
		rate := func(c *fit.CoilCandidate) units.Stiffness {
			if c == nil {
				return 0
			}
			return c.Rate / 64
		}
		if a.IdealRate != 64*test.ideal || rate(a.Between.Softer) != test.softer || rate(a.Between.Harder) != test.harder {
			t.Errorf("%v: between %v and %v", test.ideal, rate(a.Between.Softer), rate(a.Between.Harder))
		}
	}
	twins := springs(fit.ShelfSpring{Rate: 64 * 600, SolidTravel: 0.05}, fit.ShelfSpring{Rate: 64 * 600, SolidTravel: 0.2},
		fit.ShelfSpring{Rate: 64 * 700, SolidTravel: 0.05}, fit.ShelfSpring{Rate: 64 * 700, SolidTravel: 0.2})
	for _, ideal := range []units.Force{600, 650} {
		if b := choose(t, exact(twins), ideal).Coil.Between; b.Softer.Index != 1 || b.Harder.Index != 3 {
			t.Errorf("%v: between springs %d and %d", ideal, b.Softer.Index, b.Harder.Index)
		}
	}
}

// Springs that rank alike stay in the order of the shelf.
func TestAlikeSpringsStayInOrder(t *testing.T) {
	var list []fit.ShelfSpring
	for range 40 {
		list = append(list, fit.ShelfSpring{Rate: 80e3, SolidTravel: 0.07})
	}
	for i, one := range choose(t, shelf(springs(list...)), 600).Coil.Candidates {
		if one.Index != i || (one.Reason == fit.RankedAlike) != (i > 0) {
			t.Errorf("place %d: spring %d for %q", i, one.Index, one.Reason)
		}
	}
}

// A spring met to the last place: 1024 N at the wheel are 2048 N at the spring, which at
// half of 62.5 mm of stroke want 2048/32768 m less 31.25 mm = 31.25 mm of preload.
func TestShelfMetExactly(t *testing.T) {
	for _, test := range []struct {
		name        string
		least, most units.Length
		solid       units.Length
		want        []sag.Finding
	}{
		{"all that the collar gives", 0, 0.03125, 0.25, []sag.Finding{sag.OnTarget}},
		{"the least that it gives", 0.03125, 0.125, 0.25, []sag.Finding{sag.OnTarget}},
		{"solid just at full stroke", 0, 0.03125, 0.09375, []sag.Finding{sag.OnTarget}},
		{"solid just before it", 0, 0.03125, 0.09375 - 1e-9, []sag.Finding{sag.OnTarget, sag.GoesSolid}},
	} {
		s := fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 32768, SolidTravel: test.solid}}, Collar: fit.Collar{PreloadMin: test.least, PreloadMax: test.most}}
		one := choose(t, exact(s), 1024).Coil.Candidates[0]
		if one.PreloadWanted != 0.03125 || one.Preload != 0.03125 || one.Turns != 0 {
			t.Errorf("%s: preload %v of %v, %v turns", test.name, one.Preload, one.PreloadWanted, one.Turns)
		}
		check(t, test.name, one.Findings, test.want...)
	}
}

// A spring that binds early ends the wheel's travel: 62 mm of spring less
// 3.2 mm of preload leave 58.8 mm of stroke.
func TestSpringThatGoesSolidEndsTheTravel(t *testing.T) {
	for solid, stroke := range map[units.Length]float64{0.062: 58.8, 0: 60} { // 0 is not known
		choice := choose(t, shelf(springs(fit.ShelfSpring{Rate: 75e3, SolidTravel: solid})), 600)
		e, end := choice.State(), 3.2+stroke
		near(t, "travel left", float64(e.TravelLeft), (stroke-16.8)*2.5*mm, 1e-10)
		near(t, "energy left", float64(e.EnergyLeft), 0.5*75e3*(end*end-20*20)*mm*mm, 1e-10)
		near(t, "full force", float64(e.Reserve.FullForce), 75e3*end*mm/2.5, 1e-10)
	}
}

// Friction makes a band about the rest, which the miss is judged against, and changes nothing else
// of a spring's answer.
func TestFrictionMakesABandOnly(t *testing.T) {
	spec := shelf(springs(fit.ShelfSpring{Rate: 80e3, SolidTravel: 0.09}))
	free := choose(t, spec, 600).Coil.Candidates[0]
	spec.Friction = 40
	held := choose(t, spec, 600).Coil.Candidates[0]
	if r := held.Rest; !(r.StrokeLow < r.Stroke && r.Stroke < r.StrokeHigh) {
		t.Errorf("no band: %+v", r)
	}
	near(t, "tolerance", held.Tolerance, float64(held.Rest.TravelHigh-held.Rest.TravelLow)/2/0.15, 1e-9)
	held.Tolerance = free.Tolerance
	held.Rest.TravelLow, held.Rest.TravelHigh = free.Rest.TravelLow, free.Rest.TravelHigh
	held.Rest.StrokeLow, held.Rest.StrokeHigh = free.Rest.StrokeLow, free.Rest.StrokeHigh
	if diff := cmp.Diff(free, held); diff != "" {
		t.Errorf("(-free +held):\n%s", diff)
	}
}

// Best is the first candidate under every load, and none where no spring can be tried.
func TestBestIsTheFirstCandidate(t *testing.T) {
	var list []fit.ShelfSpring
	for i := range 12 {
		list = append(list, fit.ShelfSpring{Rate: units.Stiffness(40e3 + 7e3*float64((i*5)%12)), SolidTravel: units.Length(0.058 + 0.001*float64(i))})
	}
	s := springs(list...)
	o := options(t, shelf(s))
	seen := map[int]bool{}
	for load := units.Force(100); load < 1500; load += 7 {
		choice, err := o.Choose(load)
		require.NoError(t, err)
		spec := o.Spec()
		got := spec.Best(o.Curve(), load)
		if got != choice.Coil.Candidates[0].Index {
			t.Errorf("%v: spring %d, chosen %d", load, got, choice.Coil.Candidates[0].Index)
		}
		seen[got] = true
	}
	if len(seen) < 5 {
		t.Errorf("%d springs are ever best: the test shows little", len(seen))
	}
	good, immense, air := o.Spec(), shelf(springs(fit.ShelfSpring{Rate: 80e3}, fit.ShelfSpring{Rate: 1e308})), air(handChamber())
	for name, got := range map[string]int{
		"no target": (&fit.Spec{Coil: good.Coil}).Best(o.Curve(), 600), "no load": good.Best(o.Curve(), 0), "no curve": good.Best(nil, 600),
		"an immense rate": immense.Best(o.Curve(), 600), "an empty shelf": (&fit.Spec{Sag: 0.28, Coil: &fit.Shelf{}}).Best(o.Curve(), 600),
		"an air spring": air.Best(o.Curve(), 600), "a rate that no float64 holds": good.Best(o.Curve(), 1e308),
	} {
		if got != -1 {
			t.Errorf("%s: spring %d", name, got)
		}
	}
}

// Each bad spring is named under its place; of more than a thousand none is looked at.
func TestShelfRefuses(t *testing.T) {
	nan := units.Length(math.NaN())
	many := func(n int) []fit.ShelfSpring {
		list := make([]fit.ShelfSpring, n)
		for i := range list {
			list[i].Rate = 1
		}
		return list
	}
	tooMany := many(1001)
	tooMany[0].Rate = -1
	collar := func(least, most units.Length) fit.Collar { return fit.Collar{PreloadMin: least, PreloadMax: most} }
	one := func(solid units.Length) []fit.ShelfSpring { return []fit.ShelfSpring{{Rate: 1, SolidTravel: solid}} }
	for _, test := range []struct {
		name string
		s    fit.Shelf
		want []string
	}{
		{"an empty shelf", fit.Shelf{}, []string{"shelf"}},
		{"NaN", fit.Shelf{Springs: []fit.ShelfSpring{{Rate: units.Stiffness(nan), SolidTravel: nan}}}, []string{"shelf[0].rate", "shelf[0].solid_travel"}},
		{"solid before the collar touches", fit.Shelf{Springs: one(1), Collar: collar(2, 3)}, []string{"shelf[0].solid_travel"}},
		{"solid where the collar begins", fit.Shelf{Springs: one(0.5), Collar: collar(0.5, 1)}, []string{"shelf[0].solid_travel"}},
		{"solid just beyond", fit.Shelf{Springs: one(units.Length(justAbove(0.5))), Collar: collar(0.5, 1)}, nil},
		{"an unknown solid travel", fit.Shelf{Springs: one(0), Collar: collar(0.5, 1)}, nil},
		{"a bad collar beside a good spring", fit.Shelf{Springs: one(0.5), Collar: collar(-1, 0)}, []string{"preload_min"}},
		{"as many as can be", fit.Shelf{Springs: many(1000)}, nil},
		{"one more", fit.Shelf{Springs: tooMany, Collar: collar(-1, 0)}, []string{"shelf"}},
	} {
		checked(t, test.name, &test.s, test.want...)
	}
}

// A spring that is solid at the very end of the stroke does not bind before it, whatever is rounded.
func TestSolidAtTheEndOfTheStroke(t *testing.T) {
	rounded := false
	for i := range 50 {
		preload := units.Length(1+0.1*float64(i)) * units.Millimetre
		spec := shelf(springs(fit.ShelfSpring{Rate: 80e3, SolidTravel: 60*units.Millimetre + preload}))
		spec.Coil.PreloadMin, spec.Coil.PreloadMax = preload, preload
		got := chosen(t, spec, 600)
		rounded = rounded || got.SolidReserve < 0
		if fit.Has(got.Findings, sag.GoesSolid) {
			t.Errorf("%v: %v, reserve %g m", preload, got.Findings, float64(got.SolidReserve))
		}
	}
	require.True(t, rounded)
}
