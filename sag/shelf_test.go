package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// By hand: a constant ratio of 2.5 over a stroke of 60 mm, 600 N at the wheel
// and a target of 28 % put 1500 N on the spring at 16.8 mm. A spring of rate k
// then wants a preload of 1500 N/k − 16.8 mm.
func TestShelfByHand(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	choice := CoilChoice{
		Shelf: []ShelfSpring{
			{Rate: 60e3, SolidTravel: 0.070}, {Rate: 75e3, SolidTravel: 0.062},
			{Rate: 76e3, SolidTravel: 0.070}, {Rate: 80e3, SolidTravel: 0.066}, {Rate: 90e3},
		},
		PreloadMin: 1e-3, PreloadMax: 4e-3,
	}
	a, err := choice.choose(c, Target{Load: 600, Sag: 0.28}, 0)
	require.NoError(t, err)
	near(t, "ideal rate", float64(a.IdealRate), 1500/17.8e-3, 1e-12)

	type row struct {
		rate, wanted, preload, sag, reserve float64 // N/m, mm, mm, –, mm
		known                               bool
		findings                            []Finding
		full                                float64 // N at the wheel, with 60 mm of stroke or 62 mm of spring
		reason                              Reason
	}
	want := []row{
		{80e3, 1.95, 1.95, 0.28, 66 - 1.95 - 60, true, []Finding{OnTarget}, 80e3 * 61.95 * mm / 2.5, RankedFirst},
		{76e3, 1500/76.0 - 16.8, 1500/76.0 - 16.8, 0.28, 70 - (1500/76.0 - 16.8) - 60, true, []Finding{OnTarget}, 76e3 * (60 + 1500/76.0 - 16.8) * mm / 2.5, RankedPreload},
		{90e3, 1500/90.0 - 16.8, 1, (1500/90.0 - 1) / 60, 0, false, []Finding{TooHard, PreloadAtMin, SolidUnknown}, 90e3 * 61 * mm / 2.5, RankedOffTarget},
		{60e3, 8.2, 4, (25 - 4) / 60.0, 70 - 4 - 60, true, []Finding{TooSoft, PreloadAtMax}, 60e3 * 64 * mm / 2.5, RankedLargerMiss},
		{75e3, 3.2, 3.2, 0.28, 62 - 3.2 - 60, true, []Finding{OnTarget, GoesSolid}, 75e3 * 62 * mm / 2.5, RankedSolid},
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
		if math.Abs(got.Miss-(w.sag-0.28)) > 1e-10 || got.SolidKnown != w.known || got.Turns != 0 {
			t.Errorf("%v: miss %v, solid known %v, turns %v", got.Rate, got.Miss, got.SolidKnown, got.Turns)
		}
		if diff := cmp.Diff(w.findings, got.Findings); diff != "" {
			t.Errorf("%v (-want +got):\n%s", got.Rate, diff)
		}
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

func TestNeighbours(t *testing.T) {
	list := []CoilCandidate{{Rate: 70}, {Rate: 50}, {Rate: 80}, {Rate: 60}}
	for _, test := range []struct {
		ideal, softer, harder units.Stiffness // 0 for none
	}{{65, 60, 70}, {60, 60, 70}, {45, 0, 50}, {80, 80, 0}, {99, 80, 0}} {
		b := neighbours(list, test.ideal)
		rate := func(c *CoilCandidate) units.Stiffness {
			if c == nil {
				return 0
			}
			return c.Rate
		}
		if rate(b.Softer) != test.softer || rate(b.Harder) != test.harder {
			t.Errorf("%v: between %v and %v", test.ideal, rate(b.Softer), rate(b.Harder))
		}
	}
}

func TestRanking(t *testing.T) {
	good, solid := []Finding{OnTarget}, []Finding{OnTarget, GoesSolid}
	for _, test := range []struct {
		name   string
		a, b   CoilCandidate
		order  int
		reason Reason
	}{
		{"solid", CoilCandidate{Findings: solid}, CoilCandidate{Miss: 0.3}, 1, RankedSolid},
		{"on target", CoilCandidate{Findings: good, Preload: 9}, CoilCandidate{Miss: 0.006}, -1, RankedOffTarget},
		{"preload", CoilCandidate{Findings: good, Preload: 2}, CoilCandidate{Findings: good, Preload: 1}, 1, RankedPreload},
		{"miss", CoilCandidate{Miss: -0.1, Preload: 1}, CoilCandidate{Miss: 0.2}, -1, RankedLargerMiss},
		{"alike", CoilCandidate{Miss: -0.1}, CoilCandidate{Miss: 0.1}, 0, RankedAlike},
	} {
		if order, reason := test.a.before(&test.b); order != test.order || reason != test.reason {
			t.Errorf("%s: %d, %q", test.name, order, reason)
		}
		if order, _ := test.b.before(&test.a); order != -test.order {
			t.Errorf("%s, turned round: %d", test.name, order)
		}
	}
}

// A spring that binds early ends the wheel's travel: 62 mm of spring less
// 3.2 mm of preload leave 58.8 mm of stroke.
func TestEndThatGoesSolid(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	p := prepared{curve: c, EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: 75e3, SolidTravel: 0.062}}, PreloadMax: 4e-3}}}
	e, err := p.solve(650, 600)
	require.NoError(t, err)
	near(t, "travel left", float64(e.TravelLeft), (58.8-16.8)*2.5*mm, 1e-10)
	near(t, "energy left", float64(e.EnergyLeft), 0.5*75e3*(62*62-20*20)*mm*mm, 1e-10)
	near(t, "full force", float64(e.Reserve.FullForce), 75e3*62*mm/2.5, 1e-10)
	near(t, "full ratio", e.FullRatio, 75e3*62*mm/2.5/600, 1e-10)
	near(t, "fast rate of a coil", float64(e.FastWheelRate), float64(e.Rest.WheelRate), 1e-15)
	if e.WheelLoad != 650 || e.Load != 600 || e.Travel != c.Travel() || e.Stroke != c.Stroke() || e.TargetSag != 0.28 {
		t.Errorf("what was given comes back as %+v", e)
	}
	w := e.warnings("rear")
	if len(w) != 1 || w[0].Code != "goes_solid" || w[0].Field != "rear" ||
		w[0].Text != "The spring binds 1.2 mm (0.05 in) before the shock reaches the end of its stroke. Do not fit it: coil-bound, it can break itself or the shock." {
		t.Errorf("warnings %+v", w)
	}

	p.Coil.Shelf[0].SolidTravel = 0
	e, err = p.solve(650, 600)
	require.NoError(t, err)
	near(t, "all the travel left", float64(e.TravelLeft), (60-16.8)*2.5*mm, 1e-10)
	w = e.warnings("rear")
	if len(w) != 1 || w[0].Code != "solid_unknown" || w[0].Limit != "63.2 mm" {
		t.Errorf("warnings %+v", w)
	}

	// A collar never presses a spring solid: of 3 mm it leaves a thousandth.
	p.Coil.Shelf[0].SolidTravel = 3e-3
	e, err = p.solve(650, 600)
	require.NoError(t, err)
	near(t, "preload of a very short spring", float64(e.Coil.Candidates[0].Preload), 3e-3*0.999, 1e-12)
}

func TestWarningsSayTheNumbers(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	p := prepared{curve: c, EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: 60e3, SolidTravel: 0.07}}, PreloadMax: 4e-3}}}
	e, err := p.solve(650, 600)
	require.NoError(t, err)
	w := e.warnings("rear")
	if len(w) != 1 || w[0].Text != "The nearest that can be fitted sags 35.0 %, more than the 28.0 % wanted." {
		t.Errorf("warnings %+v", w)
	}
	// ½·60e3·(64² − 4²) N·mm² = 122.4 J over 0.15 m against 816 N: exactly used up.
	e, err = p.solve(900, 820)
	require.NoError(t, err)
	w = e.warnings("rear")
	if last := w[len(w)-1]; last.Code != "bottoms_easily" || last.Value != "122.4 J" || last.Limit != "123 J" {
		t.Errorf("warnings %+v", w)
	}
	e, err = p.solve(900, 810)
	require.NoError(t, err)
	for _, w := range e.warnings("rear") {
		if w.Code == "bottoms_easily" {
			t.Errorf("warns of %+v with energy to spare", w)
		}
	}
}

func TestCoilChoiceRefuses(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		name   string
		choice CoilChoice
		want   []string
	}{
		{"an empty shelf", CoilChoice{}, []string{"shelf"}},
		{"NaN", CoilChoice{Shelf: []ShelfSpring{{units.Stiffness(nan), nan}}, PreloadMin: nan, PreloadMax: nan, ThreadPitch: nan},
			[]string{"shelf[0].rate", "shelf[0].solid_travel", "preload_min", "preload_max", "thread_pitch"}},
		{"a collar turned round", CoilChoice{Shelf: []ShelfSpring{{Rate: 1}}, PreloadMin: 2, PreloadMax: 1}, []string{"preload_max"}},
		{"solid before the collar touches", CoilChoice{Shelf: []ShelfSpring{{1, 1}}, PreloadMin: 2, PreloadMax: 3}, []string{"shelf[0].solid_travel"}},
		{"a fixed collar", CoilChoice{Shelf: []ShelfSpring{{1, 3}}, PreloadMin: 2, PreloadMax: 2}, nil},
	} {
		var c units.Checker
		test.choice.check(&c)
		if diff := cmp.Diff(test.want, names(c.Err())); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// Within half a step of the collar's ends the wish counts as met.
func TestPreloadFindingsKnowTheStep(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	at := func(rate units.Stiffness) []Finding {
		j := CoilChoice{Shelf: []ShelfSpring{{rate, 0.08}}, PreloadMin: 1e-3, PreloadMax: 4e-3, ThreadPitch: 2e-3} // half a step is 0.25 mm
		a, err := j.choose(c, Target{Load: 600, Sag: 0.28}, 0)
		require.NoError(t, err)
		return a.Candidates[0].Findings
	}
	for _, test := range []struct {
		wanted float64 // preload in mm
		want   Finding
	}{{4.2, ""}, {4.3, PreloadAtMax}, {0.8, ""}, {0.7, PreloadAtMin}} {
		got := at(units.Stiffness(1500 / ((16.8 + test.wanted) * mm)))
		for _, code := range []Finding{PreloadAtMax, PreloadAtMin} {
			if has(got, code) != (code == test.want) {
				t.Errorf("%v mm wanted: findings %v, want %q", test.wanted, got, test.want)
			}
		}
	}
}

// What the collar is told to turn is the preload that is told.
func TestTurnsArePreload(t *testing.T) {
	j := CoilChoice{Shelf: []ShelfSpring{{75e3, 0.003}}, PreloadMax: 4e-3, ThreadPitch: 1e-3} // 3.2 mm wanted of 3 mm of spring
	a, err := j.choose(constant(t, 2.5, 0.15), Target{600, 0.28}, 0)
	require.NoError(t, err)
	near(t, "turns", a.Candidates[0].Turns*1e-3, float64(a.Candidates[0].Preload), 1e-12)
}

func TestSettleAnywhere(t *testing.T) {
	c := constant(t, 2, 0.1)
	law := linear(t, 10e3, 0.05, 0.01) // 50 N to 300 N at the wheel
	for _, test := range []struct {
		load    units.Force
		finding Finding
		travel  units.Length
	}{{49, HeldAtTop, 0}, {50, "", 0}, {175, "", 0.05}, {300, "", 0.1}, {301, Collapses, 0.1}} {
		r, finding, err := settleAnywhere(c, law, test.load, 0)
		require.NoError(t, err)
		if finding != test.finding || math.Abs(float64(r.Travel-test.travel)) > 1e-12 || r.TravelLow != r.Travel || r.StrokeHigh != r.Stroke {
			t.Errorf("%v: %q at %+v, want %q at %v", test.load, finding, r, test.finding, test.travel)
		}
	}
	if _, _, err := settleAnywhere(c, law, -1, 0); err == nil {
		t.Error("a negative load settles")
	}
	var none *linkage.Curve
	if _, _, err := settleAnywhere(none, law, 100, 0); err == nil {
		t.Error("no curve, yet a rest")
	}
}
