package sag

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// A collar's advance is a micrometre at the least, or unknown.
func TestThreadPitchAtItsLimits(t *testing.T) {
	for _, test := range []struct {
		pitch units.Length
		want  []string
	}{{0, nil}, {1e-6, nil}, {units.Length(justBelow(1e-6)), []string{"thread_pitch"}}, {-1e-6, []string{"thread_pitch"}}, {0.5, nil}} {
		var c units.Checker
		(&CoilChoice{Shelf: []ShelfSpring{{Rate: 0.5}}, ThreadPitch: test.pitch}).check(&c)
		named(t, "pitch", c.Err(), test.want...)
		if err := c.Err(); test.pitch > 0 && err != nil && !strings.Contains(err.Error(), "0.001 mm or more") {
			t.Errorf("%v", err)
		}
	}
}

// A shelf of a thousand, of springs next to nothing, and what the collar does to
// a spring that goes solid.
func TestShelfAtItsLimits(t *testing.T) {
	many := func(n int) []ShelfSpring {
		list := make([]ShelfSpring, n)
		for i := range list {
			list[i].Rate = 1
		}
		return list
	}
	tooMany := many(1001)
	tooMany[0].Rate = -1 // is not looked at any more
	for _, test := range []struct {
		name string
		j    CoilChoice
		want []string
	}{
		{"as many as can be", CoilChoice{Shelf: many(1000)}, nil},
		{"one more", CoilChoice{Shelf: tooMany, PreloadMin: -1}, []string{"shelf"}},
		{"solid where the collar begins", CoilChoice{Shelf: []ShelfSpring{{1, 0.5}}, PreloadMin: 0.5, PreloadMax: 1}, []string{"shelf[0].solid_travel"}},
		{"solid just beyond", CoilChoice{Shelf: []ShelfSpring{{1, units.Length(justAbove(0.5))}}, PreloadMin: 0.5, PreloadMax: 1}, nil},
		{"solid before a collar that is none", CoilChoice{Shelf: []ShelfSpring{{1, 0.5}}, PreloadMin: -1}, []string{"preload_min"}},
		{"a collar that ends below 0", CoilChoice{Shelf: []ShelfSpring{{1, 0.5}}, PreloadMax: -1}, []string{"preload_max"}},
		{"an unknown solid travel", CoilChoice{Shelf: []ShelfSpring{{1, 0}}, PreloadMin: 0.5, PreloadMax: 1}, nil},
	} {
		var c units.Checker
		test.j.check(&c)
		named(t, test.name, c.Err(), test.want...)
	}
}

// Whatever the pitch, the preload lies within the collar's range, on a whole
// quarter turn where there is one: by hand, with steps of 1.
func TestCollarOnItsMarks(t *testing.T) {
	for _, test := range []struct{ least, most, wanted, want units.Length }{
		{0, 10, 3.4, 3}, {0, 10, 3.5, 4}, {0, 10, 3.6, 4}, {0, 10, 12, 10}, {0, 10, -2, 0},
		{0.6, 10, 0, 1},      // up to the first mark
		{1.2, 9.8, 1.3, 2},   // the nearest, 1, is below the range
		{1.2, 9.8, 9.7, 9},   // the nearest, 10, is above it
		{1.2, 1.8, 1.6, 1.6}, // no mark within it
		{1.2, 1.8, 1.3, 1.3},
		{2, 2, 5, 2}, {2, 2, 0, 2}, {2, 3, 2.4, 2}, {2, 3, 2.6, 3}, // marks at both its ends
	} {
		j := CoilChoice{PreloadMin: test.least, PreloadMax: test.most, ThreadPitch: 4}
		if got := j.onCollar(test.wanted); got != test.want {
			t.Errorf("%v wanted from %v to %v: %v, want %v", test.wanted, test.least, test.most, got, test.want)
		}
	}
}

// A mark that is an end of the range to the last place is kept to, though the end over
// the step rounds to less than a whole number of them, or to more.
func TestCollarOnItsLastMark(t *testing.T) {
	down, up := 0, 0
	for step := 0.25 * milli; step < 0.35*milli; step += 1e-6 {
		for n := 2.0; n < 40; n++ {
			end := n * step
			down, up = down+int(n-math.Floor(end/step)), up+int(math.Ceil(end/step)-n)
			j := CoilChoice{PreloadMax: units.Length(end), ThreadPitch: units.Length(4 * step)}
			if got := j.onCollar(1); got != j.PreloadMax {
				t.Errorf("%v: %v of the collar's most", end, got)
			}
			j.PreloadMin, j.PreloadMax = j.PreloadMax, 1
			if got := j.onCollar(0); got != j.PreloadMin {
				t.Errorf("%v: %v of the collar's least", end, got)
			}
		}
	}
	if down == 0 || up == 0 {
		t.Error("no quotient is rounded: the test shows nothing")
	}
}

// Half a per cent of the travel is on target, to the last place.
func TestSagFindingAtItsLimit(t *testing.T) {
	for _, test := range []struct {
		miss float64
		want Finding
	}{{0, OnTarget}, {0.005, OnTarget}, {-0.005, OnTarget}, {justAbove(0.005), TooSoft}, {justBelow(-0.005), TooHard}, {0.9, TooSoft}, {-0.9, TooHard}} {
		if got := sagFinding(test.miss); got != test.want {
			t.Errorf("%v: %v, want %v", test.miss, got, test.want)
		}
	}
}

// A spring met to the last place, in numbers that float64 holds exactly: 1024 N at
// the wheel are 2048 N at the spring, which at half of 62.5 mm of stroke want
// 2048/32768 m less 31.25 mm = 31.25 mm of preload.
func TestShelfMetExactly(t *testing.T) {
	c := constant(t, 2, 0.125)
	goal := Target{Load: 1024, Sag: 0.5}
	for _, test := range []struct {
		name        string
		least, most units.Length
		solid       units.Length
		want        []Finding
	}{
		{"all that the collar gives", 0, 0.03125, 0.25, []Finding{OnTarget}},
		{"the least that it gives", 0.03125, 0.125, 0.25, []Finding{OnTarget}},
		{"solid just at full stroke", 0, 0.03125, 0.09375, []Finding{OnTarget}},
		{"solid just before it", 0, 0.03125, units.Length(justBelow(0.09375)), []Finding{OnTarget, GoesSolid}},
	} {
		j := CoilChoice{Shelf: []ShelfSpring{{32768, test.solid}}, PreloadMin: test.least, PreloadMax: test.most}
		a, err := j.choose(c, goal, 0)
		require.NoError(t, err)
		one := a.Candidates[0]
		if one.PreloadWanted != 0.03125 || one.Preload != 0.03125 || one.Turns != 0 {
			t.Errorf("%s: preload %v of %v, %v turns", test.name, one.Preload, one.PreloadWanted, one.Turns)
		}
		if got := one.Findings; len(got) != len(test.want) || !has(got, OnTarget) || has(got, GoesSolid) != has(test.want, GoesSolid) {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

// Of two springs of one rate the better is the neighbour.
func TestNeighboursOfOneRate(t *testing.T) {
	list := []CoilCandidate{{Rate: 70}, {Rate: 70}, {Rate: 90}, {Rate: 90}}
	if b := neighbours(list, 80); b.Softer != &list[0] || b.Harder != &list[2] {
		t.Errorf("between %p and %p of %p", b.Softer, b.Harder, list)
	}
	// Two of the ideal rate itself are not on both sides of it.
	if b := neighbours(list, 70); b.Softer != &list[0] || b.Harder != &list[2] {
		t.Errorf("of the ideal rate: %p and %p of %p", b.Softer, b.Harder, list)
	}
}

// Options are ranked by target, by the wish for full travel, and by the miss to
// either side; of what is alike the fewest spacers stay first.
func TestAirOptionsRanked(t *testing.T) {
	met := []Finding{OnTarget}
	for _, test := range []struct {
		name string
		wish float64
		f, g AirOption
		want bool
	}{
		{"on target", 3, AirOption{Findings: met, FullRatio: 9}, AirOption{FullRatio: 3}, true},
		{"off target", 3, AirOption{FullRatio: 3}, AirOption{Findings: met, FullRatio: 9}, false},
		{"below the wish, nearer", 3, AirOption{FullRatio: 2.9, Miss: 1}, AirOption{FullRatio: 3.2}, true},
		{"above the wish, further", 3, AirOption{FullRatio: 3.2}, AirOption{FullRatio: 2.9, Miss: 1}, false},
		{"a wish below 1", 0.5, AirOption{FullRatio: 0.6, Miss: 1}, AirOption{FullRatio: 0.9}, true},
		{"no wish", 0, AirOption{FullRatio: 9, Miss: -0.1}, AirOption{FullRatio: 0, Miss: 0.2}, true},
		{"a miss below", 0, AirOption{Miss: -0.2}, AirOption{Miss: 0.1}, false},
		{"as near to the wish, the smaller miss", 3, AirOption{FullRatio: 2, Miss: 0.1}, AirOption{FullRatio: 4, Miss: -0.2}, true},
		{"alike", 3, AirOption{FullRatio: 2, Miss: 0.1}, AirOption{FullRatio: 4, Miss: -0.1}, false},
	} {
		j := AirChoice{FullTravelRatio: test.wish}
		if got := j.better(&test.f, &test.g); got != test.want {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

// Without a wish for full travel no option is nearest to it, without friction
// there is no band, and a fill known is a change known.
func TestChamberTellsOnlyWhatItWasAsked(t *testing.T) {
	c := constant(t, ratio, ratio*stroke)
	j := handChoice()
	a, err := j.choose(c, Target{Load: load, Sag: target}, 0)
	require.NoError(t, err)
	o := a.Options[0]
	if len(a.Options) != 1 || o.has(NearestEnd) || !o.has(OnTarget) || o.Miss != 0 {
		t.Errorf("options %+v", a.Options)
	}
	if r := o.Rest; r.TravelLow != r.Travel || r.TravelHigh != r.Travel || r.StrokeLow != r.Stroke || r.StrokeHigh != r.Stroke {
		t.Errorf("a band without friction: %+v", r)
	}
	j.Fill = 0.5
	a, err = j.choose(c, Target{Load: load, Sag: target}, 0)
	require.NoError(t, err)
	if !a.ChangeKnown || a.Change != a.Options[0].Fill-0.5 {
		t.Errorf("a change of %v, known %v", a.Change, a.ChangeKnown)
	}
	// A wish below 1 is one, and one spacer is enough to try two numbers of them.
	j.FullTravelRatio, j.MaxSpacers = 0.5, 1
	a, err = j.choose(c, Target{Load: load, Sag: target}, 0)
	require.NoError(t, err)
	if len(a.Options) != 2 || !a.Options[0].has(NearestEnd) || a.Options[1].has(NearestEnd) || a.FillPerSpacer == 0 {
		t.Errorf("options %+v", a.Options)
	}
}

// One spacer at the most needs to have a size, and needs one fitted to be over it.
func TestSpacersAtTheirLimits(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*AirChoice)
		want   []string
	}{
		{"one that fits", func(j *AirChoice) { j.MaxSpacers, j.Spacers = 1, 1 }, nil},
		{"one of two", func(j *AirChoice) { j.MaxSpacers, j.Spacers = 1, 2 }, []string{"spacers"}},
		{"one of no size", func(j *AirChoice) { j.MaxSpacers, j.Spacers, j.SpacerVolume = 1, 0, 0 }, []string{"spacer_volume"}},
		{"a hundred", func(j *AirChoice) { j.MaxSpacers, j.Spacers = 100, 1 }, nil},
		{"a wish below 1", func(j *AirChoice) { j.FullTravelRatio = 0.5 }, nil},
		{"a negative wish", func(j *AirChoice) { j.FullTravelRatio = -0.5 }, []string{"full_travel_ratio"}},
	} {
		j := handChoice()
		test.change(&j)
		var c units.Checker
		j.check(&c)
		named(t, test.name, c.Err(), test.want...)
	}
}

// isFault wants just the one field.
func TestIsFault(t *testing.T) {
	one := units.Checker{}
	one.Fail("at", nil, "", nil)
	two := one
	two.Fail("force", nil, "", nil)
	if !isFault(one.Err(), "at") || isFault(one.Err(), "force") || isFault(two.Err(), "at") || isFault(nil, "at") {
		t.Error("a fault is taken for another")
	}
}

// bandsOf are three springs behind a constant ratio for the rear.
func bandsOf() Range {
	return Range{Rates: []units.Stiffness{60e3, 70e3, 80e3}, End: RearEnd, RearShare: 0.6, BikeMass: 17, Unsprung: 3, Sag: 0.3}
}

func TestBandsAtTheirLimits(t *testing.T) {
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
	inf := units.Stiffness(math.Inf(1))
	for _, test := range []struct {
		name   string
		change func(*Range)
		want   []string
	}{
		{"as many as can be", func(r *Range) { r.Rates = rising(1000) }, nil},
		{"one more", func(r *Range) { r.Rates = tooMany }, []string{"rates"}},
		{"no rate at all", func(r *Range) { r.Rates = nil }, []string{"rates"}},
		{"one rate", func(r *Range) { r.Rates = r.Rates[:1] }, nil},
		{"after an infinite rate", func(r *Range) { r.Rates = []units.Stiffness{inf, 70e3} }, []string{"rates[0]"}},
		{"after a negative rate", func(r *Range) { r.Rates = []units.Stiffness{-1, 70e3} }, []string{"rates[0]"}},
		{"the third falls", func(r *Range) { r.Rates[2] = 65e3 }, []string{"rates[2]"}},
		{"a millionth on the rear", func(r *Range) { r.RearShare = 1e-6 }, nil},
		{"less on the rear", func(r *Range) { r.RearShare = justBelow(1e-6) }, []string{"rear_share"}},
		{"two millionths on the front", func(r *Range) { r.End, r.RearShare = FrontEnd, 1-2e-6 }, nil},
		{"half a millionth on the front", func(r *Range) { r.End, r.RearShare = FrontEnd, 1-5e-7 }, []string{"rear_share"}},
		{"all on the front", func(r *Range) { r.End, r.RearShare = FrontEnd, 0 }, []string{"rear_share"}},
		{"all on the rear", func(r *Range) { r.RearShare = 1 }, []string{"rear_share"}},
		{"neither end", func(r *Range) { r.End = "" }, []string{"end"}},
		{"a bike of half a kilogram", func(r *Range) { r.BikeMass = 0.5 }, nil},
		{"a bike of nothing", func(r *Range) { r.BikeMass = 0 }, []string{"bike_mass"}},
	} {
		r := bandsOf()
		test.change(&r)
		b, err := NewBands(c, r)
		named(t, test.name, err, test.want...)
		if err == nil && (len(b.IdealMass) != len(r.Rates) || len(b.EdgeMass) != len(r.Rates)-1) {
			t.Errorf("%s: %d riders and %d edges of %d springs", test.name, len(b.IdealMass), len(b.EdgeMass), len(r.Rates))
		}
		if err != nil && (b.IdealMass != nil || b.EdgeMass != nil) {
			t.Errorf("%s: refused, yet %+v", test.name, b)
		}
	}
}

// A bike that weighs just what the softest spring carries leaves no rider for it.
func TestBandsWithoutARider(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	r := bandsOf()
	r.Unsprung, r.RearShare = 0, 0.5
	wheel, err := linkage.AtWheel(c, linear(t, 60e3, 0.06, 0))
	require.NoError(t, err)
	r.BikeMass = wheel.Force(0.3*0.15).Mass() / 0.5
	_, err = NewBands(c, r)
	named(t, "no rider", err, "rates[0]")
	r.BikeMass -= 0.5
	b, err := NewBands(c, r)
	require.NoError(t, err)
	near(t, "half a kilogram of rider", float64(b.IdealMass[0]), 0.5, 1e-9)
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
		r := bandsOf()
		r.Rates, r.Preload, r.Sag = test.rates, test.preload, test.sag
		b, err := NewBands(c, r)
		named(t, "rates", err, test.want...)
		if err == nil && test.preload == 0 {
			x, y := float64(test.rates[0]), float64(test.rates[1])
			want := (2*x*y/(x+y)*test.sag*0.06/2.5/9.80665+3)/0.6 - 17
			near(t, "edge", float64(b.EdgeMass[0]), want, 1e-11)
		}
	}
}

// Conditions are from 200 to 400 K and from −500 to 11 000 m.
func TestConditionsAtTheirLimits(t *testing.T) {
	for _, test := range []struct {
		temperature, altitude float64
		want                  []string
	}{
		{200, 0, nil}, {400, 0, nil}, {justBelow(200), 0, []string{"conditions.temperature"}}, {justAbove(400), 0, []string{"conditions.temperature"}},
		{300, -500, nil}, {300, 11000, nil}, {300, justBelow(-500), []string{"conditions.altitude"}}, {300, justAbove(11000), []string{"conditions.altitude"}},
	} {
		var c units.Checker
		Situation{Conditions: &airspring.Conditions{Temperature: units.Temperature(test.temperature), Altitude: units.Length(test.altitude)}}.check(&c)
		named(t, "conditions", c.Err(), test.want...)
	}
	var c units.Checker
	Situation{}.check(&c)
	named(t, "none", c.Err())
}

// A rate, or a preload, beyond what a spring can have is the rate's fault alone.
func TestBandsOfImmenseSprings(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	r := bandsOf()
	r.Rates = []units.Stiffness{60e3, 1.5e308}
	_, err := NewBands(c, r)
	named(t, "rate", err, "rates[1].rate")
	r = bandsOf()
	r.Preload = 1e307
	_, err = NewBands(c, r)
	named(t, "preload", err, "rates[0].rate")
}

// Rates that rise by their last place alone do rise: their riders are the same but for
// rounding, also where next to nothing of them is on this end.
func TestBandsOfNeighbouringNumbers(t *testing.T) {
	for i, c := range []*linkage.Curve{constant(t, 2.5, 0.15), bent(t), constant(t, 2.5, 0.15), bent(t)} {
		for k := 40e3; k < 120e3; k += 1777.7 {
			for _, more := range []float64{justAbove(k), k * (1 + 1e-15), k * (1 + 1e-14), k * (1 + 1e-13), k * (1 + 1e-12)} {
				r := bandsOf()
				r.RearShare = []float64{0.6, 1e-3}[i/2]
				r.Rates = []units.Stiffness{units.Stiffness(k), units.Stiffness(more)}
				b, err := NewBands(c, r)
				require.NoError(t, err)
				near(t, "edge", float64(b.EdgeMass[0]), float64(b.IdealMass[0]), 1e-9)
			}
		}
	}
}
