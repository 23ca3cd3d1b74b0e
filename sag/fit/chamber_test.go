package fit_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// One chamber behind a constant ratio, written out by hand as
// F = A(p₀(V₀/(V₀ − A·s))ⁿ − p_a).
const (
	bore    = 0.045
	volume  = 190e-6
	spacer  = 8e-6
	ambient = 98e3
	fast    = 1.4
	load    = 480.0
	ratio   = 2.5
	stroke  = 0.06
	target  = 0.28
)

func area() float64 { return math.Pi / 4 * bore * bore }

// fillFor is the absolute fill with which a load at the wheel rests at the target, the
// gas settled.
func fillFor(load float64, spacers int) float64 {
	v := volume - float64(spacers)*spacer
	return (load*ratio/area() + ambient) * (v - area()*target*stroke) / v
}

func handFill(spacers int) float64 { return fillFor(load, spacers) }

// handRatio is the force at full travel over the load.
func handRatio(spacers int, absolute float64) float64 {
	v := volume - float64(spacers)*spacer
	return area() * (absolute*math.Pow(v/(v-area()*stroke), fast) - ambient) / ratio / load
}

func handChamber() fit.Chamber {
	return fit.Chamber{
		Spec: airspring.Spec{Bore: bore, Travel: stroke, PositiveVolume: volume, SpacerVolume: spacer, Spacers: 1,
			Ambient: ambient, Exponent: fast, Fill: 700e3},
		MaxFill: 2e6, MaxSpacers: 4, NegativeChamber: fit.None,
	}
}

func air(j fit.Chamber) fit.Spec {
	return fit.Spec{Curve: constant(ratio, ratio*stroke), Sag: target, Air: &j}
}

// With a wish for full travel every number of spacers is tried, and of those on target
// the one nearest to the wish is recommended; each spacer lowers the fill.
func TestChamberByHand(t *testing.T) {
	j := handChamber()
	j.FullTravelRatio = handRatio(3, handFill(3)) * 1.01 // nearest: three spacers
	choice := choose(t, air(j), load)
	a, end := choice.Air, choice.End()
	near(t, "slow force at the target", float64(end.Law.Force(target*stroke)), load*ratio, 1e-9)
	const v = volume - 3*spacer
	near(t, "slow force at full travel", float64(end.Law.Force(stroke)), area()*(handFill(3)*v/(v-area()*stroke)-ambient), 1e-9)
	near(t, "fast force at full travel", float64(end.Fast.Force(stroke)), handRatio(3, handFill(3))*load*ratio, 1e-9)
	if end.Exponent != fast {
		t.Errorf("an exponent of %v", end.Exponent)
	}
	if len(a.Options) != 5 || a.Options[0].Spacers != 3 || a.SpacerChange != 2 || !a.ChangeKnown || a.Exponent != fast || a.Ambient != ambient {
		t.Fatalf("answer %+v", a)
	}
	near(t, "change", float64(a.Change), handFill(3)-ambient-700e3, 1e-10)
	for i, o := range a.Options {
		near(t, "fill", float64(o.Fill), handFill(o.Spacers)-ambient, 1e-11)
		near(t, "fill wanted", float64(o.FillWanted), float64(o.Fill), 1e-15)
		near(t, "sag", o.Rest.Sag, target, 1e-9)
		near(t, "ratio", o.FullRatio, handRatio(o.Spacers, handFill(o.Spacers)), 1e-11)
		want := []sag.Finding{sag.OnTarget}
		if i == 0 {
			want = append(want, sag.NearestEnd)
		}
		check(t, "spacers", o.Findings, want...)
		if o.Miss != 0 {
			t.Errorf("%d spacers miss by %v", o.Spacers, o.Miss)
		}
	}
	near(t, "fill per spacer", float64(a.FillPerSpacer), (handFill(4)-handFill(0))/4, 1e-9)
	if !(a.FillPerSpacer < 0) {
		t.Errorf("a spacer changes the fill by %v", a.FillPerSpacer)
	}
}

// With no wish for full travel the fitted spacers stay, and with a fill unknown its
// change is. Nor is anything tried where no spacer can be taken in or out; a wish below
// 1 is one, and one spacer is enough to try two numbers of them.
func TestChamberKeepsItsSpacersWithoutAWish(t *testing.T) {
	j := handChamber()
	j.Fill = 0
	a := choose(t, air(j), load).Air
	if len(a.Options) != 1 || a.Options[0].Spacers != 1 || a.SpacerChange != 0 || a.ChangeKnown || a.Change != 0 || a.FillPerSpacer != 0 {
		t.Errorf("answer %+v", a)
	}
	check(t, "no wish", a.Options[0].Findings, sag.OnTarget)
	if r := a.Options[0].Rest; r.TravelLow != r.Travel || r.TravelHigh != r.Travel || r.StrokeLow != r.Stroke || r.StrokeHigh != r.Stroke {
		t.Errorf("a band without friction: %+v", r)
	}
	j.Fill = 0.5
	if a := choose(t, air(j), load).Air; !a.ChangeKnown || a.Change != a.Options[0].Fill-0.5 {
		t.Errorf("a change of %v, known %v", a.Change, a.ChangeKnown)
	}
	j.FullTravelRatio, j.MaxSpacers = 5, 0
	if a := choose(t, air(j), load).Air; len(a.Options) != 1 || a.Options[0].Spacers != 1 {
		t.Errorf("answer %+v", a)
	}
	j.FullTravelRatio, j.MaxSpacers = 0.5, 1
	a = choose(t, air(j), load).Air
	if len(a.Options) != 2 || !fit.Has(a.Options[0].Findings, sag.NearestEnd) || fit.Has(a.Options[1].Findings, sag.NearestEnd) || a.FillPerSpacer == 0 {
		t.Errorf("options %+v", a.Options)
	}
}

// A wish is told beside what it got and what any number of spacers gives; one beyond that by more
// than half of the last decimal is out of reach, be it too small or too great.
func TestWishForFullTravelIsTold(t *testing.T) {
	least, most := handRatio(0, handFill(0)), handRatio(4, handFill(4))
	for _, test := range []struct {
		wish, given float64
		reached     bool
	}{
		{1.5, least, false}, {least - 0.051, least, false}, {least - 0.049, least, true}, {least, least, true},
		{handRatio(2, handFill(2)) + 0.01, handRatio(2, handFill(2)), true}, {most + 0.049, most, true}, {most + 0.051, most, false}, {30, most, false},
	} {
		j := handChamber()
		j.FullTravelRatio = test.wish
		a := choose(t, air(j), load).Air
		full := a.FullTravel
		if full == nil || full.Wanted != test.wish || full.Reached != test.reached || fit.Has(a.Options[0].Findings, sag.FullOutOfReach) == test.reached || a.SpacersKept {
			t.Errorf("%v: %+v, %v", test.wish, full, a.Options[0].Findings)
			continue
		}
		near(t, "given", full.Given, test.given, 1e-9)
		near(t, "least", full.Least, least, 1e-9)
		near(t, "most", full.Most, most, 1e-9)
	}
	// Spacers that can't be changed give what they give, and only those on target count.
	j := handChamber()
	j.FullTravelRatio, j.MaxSpacers = 30, 0
	if full := choose(t, air(j), load).Air.FullTravel; full.Least != full.Given || full.Most != full.Given || full.Reached {
		t.Errorf("one number of spacers: %+v", full)
	}
	j = handChamber()
	j.MaxFill = units.GaugePressure((handFill(2)+handFill(3))/2 - ambient) // 0 to 2 spacers want more
	j.FullTravelRatio = 1
	full := choose(t, air(j), load).Air.FullTravel
	near(t, "least on target", full.Least, handRatio(3, handFill(3)), 1e-9)
	near(t, "most on target", full.Most, most, 1e-9)
	j.FullTravelRatio = 0
	if a := choose(t, air(j), load).Air; a.FullTravel != nil || !a.SpacersKept || a.Options[0].Spacers != 1 {
		t.Errorf("no wish: %+v", a)
	}
	j.MaxSpacers = 0
	if choose(t, air(j), load).Air.SpacersKept {
		t.Error("kept where nothing can be changed")
	}
}

// Spacers that leave no chamber are not tried: (190 − 95.4)/8 = 11.8.
func TestChamberStopsWithTheAir(t *testing.T) {
	j := handChamber()
	j.MaxSpacers, j.FullTravelRatio = 30, 4
	if n := len(choose(t, air(j), load).Air.Options); n != 12 {
		t.Errorf("%d options, want 0 to 11 spacers", n)
	}
}

// The fill stops at the marking, and what is on target comes before what is nearer to
// the wish for full travel.
func TestChamberStopsAtTheMarking(t *testing.T) {
	j := handChamber()
	j.MaxFill = units.GaugePressure(handFill(1)-ambient) - 100e3
	o := choose(t, air(j), load).Air.Options[0]
	near(t, "wanted", float64(o.FillWanted), handFill(1)-ambient, 1e-11)
	check(t, "at the marking", o.Findings, sag.FillAtMax, sag.TooSoft)
	if o.Fill != j.MaxFill || !(o.Rest.Sag > target) || o.Miss != o.Rest.Sag-target {
		t.Errorf("option %+v", o)
	}
	j = handChamber()
	j.MaxFill = units.GaugePressure((handFill(2)+handFill(3))/2 - ambient) // 0…2 spacers want more
	j.FullTravelRatio = 1
	if o := choose(t, air(j), load).Air.Options[0]; o.Spacers != 3 || !fit.Has(o.Findings, sag.OnTarget) {
		t.Errorf("recommends %+v", o)
	}
}

// A load that a chamber without any fill carries with less sag gets next to none; the
// spacers that some fill meets make the fill per spacer: with 11.2 N those are none and
// one, since two leave so little volume that the gas at ambient pressure pushes harder.
func TestNoFillIsLittleEnough(t *testing.T) {
	j := handChamber()
	spec := fit.Spec{Curve: constant(1, stroke), Sag: 0.9, Air: &j}
	o := choose(t, spec, 20).Air.Options[0]
	check(t, "20 N", o.Findings, sag.FillImpossible, sag.TooHard)
	if o.FillWanted != 0 || o.Fill != units.KilopascalGauge(1) {
		t.Errorf("option %+v", o)
	}

	j.FullTravelRatio = 4
	a := choose(t, air(j), 11.2).Air
	for _, o := range a.Options {
		if met := fillFor(11.2, o.Spacers) > ambient; met != (o.Spacers < 2) || met != (o.FillWanted > 0) || met == fit.Has(o.Findings, sag.FillImpossible) {
			t.Errorf("%+v", o)
		}
	}
	near(t, "fill per spacer", float64(a.FillPerSpacer), fillFor(11.2, 1)-fillFor(11.2, 0), 1e-7)
	if a := choose(t, air(j), 1).Air; a.FillPerSpacer != 0 {
		t.Errorf("no fill at all changes by %v", a.FillPerSpacer)
	}
}

// A load that no fill could ever carry gets all that the marking permits, not an empty
// chamber; a sag that no fill reaches is refused.
func TestChamberBeyondEveryFill(t *testing.T) {
	j := handChamber()
	o := choose(t, air(j), 1e6).Air.Options[0]
	check(t, "1 MN", o.Findings, sag.FillAtMax, sag.Collapses, sag.TooSoft)
	if o.Fill != j.MaxFill || o.FillWanted != 0 {
		t.Errorf("option %+v", o)
	}
	// With 117.5 MPa of gas wanted at the target, none and one spacer want fills above
	// 1000 bar, which are no air spring's.
	j.FullTravelRatio = 4
	heavy := 117.5e6 * area() / ratio
	near(t, "fill per spacer", float64(choose(t, air(j), units.Force(heavy)).Air.FillPerSpacer), (fillFor(heavy, 4)-fillFor(heavy, 2))/2, 1e-9)
	_, err := options(t, air(j)).Choose(1e308)
	named(t, "a force that no float64 holds", err, "load")

	j.Shaft, j.NegativeVolume, j.PortTravel, j.NegativeChamber = 0.01, 6e-6, 0.03, ""
	spec := air(j)
	spec.Sag = 0.002
	_, err = options(t, spec).Choose(load)
	named(t, "more fill pulls in harder", err, "sag")
}

// Where a fill meets the target the rest is the target's stroke, with the band that
// settling it would give.
func TestChamberRestsWhereItSettles(t *testing.T) {
	j := handChamber()
	j.FullTravelRatio = 4
	spec := air(j)
	spec.Friction = 25
	curve := options(t, spec).Curve()
	for _, o := range choose(t, spec, load).Air.Options {
		filled := j.Spec
		filled.Spacers, filled.Fill, filled.Exponent = o.Spacers, o.Fill, 1
		slow, err := airspring.New(filled)
		require.NoError(t, err)
		want, err := sag.End{Curve: curve, Law: slow, Friction: 25}.Settle(load)
		require.NoError(t, err)
		if diff := cmp.Diff(want, o.Rest, unitstest.Approx(1e-9)); diff != "" {
			t.Errorf("%d spacers (-settled +told):\n%s", o.Spacers, diff)
		}
		if !(o.Rest.StrokeLow < o.Rest.Stroke && o.Rest.Stroke < o.Rest.StrokeHigh) {
			t.Errorf("%+v", o.Rest)
		}
	}
}

// Spacers too small for float64 to tell apart stay in order: the fewest first.
func TestAlikeSpacersStayInOrder(t *testing.T) {
	j := handChamber()
	j.SpacerVolume, j.FullTravelRatio = 1e-25, 4
	if o := choose(t, air(j), load).Air.Options; o[0].Spacers != 0 || o[0].FullRatio != o[4].FullRatio {
		t.Errorf("recommends %d spacers of %+v", o[0].Spacers, o)
	}
}

// Each bad field is named, spacers need a size and a place, and a fill is one that air
// springs have.
func TestChamberRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*fit.Chamber)
		want   []string
	}{
		{"good", func(*fit.Chamber) {}, nil},
		{"nothing", func(j *fit.Chamber) { *j = fit.Chamber{} }, []string{"max_fill", "bore", "travel", "positive_volume", "ambient", "exponent", "negative_volume"}},
		{"NaN", func(j *fit.Chamber) { j.MaxFill = units.GaugePressure(math.NaN()); j.FullTravelRatio = math.NaN() }, []string{"max_fill", "full_travel_ratio"}},
		{"fewer than none", func(j *fit.Chamber) { j.MaxSpacers = -1 }, []string{"max_spacers"}},
		{"more than anybody has", func(j *fit.Chamber) { j.MaxSpacers = 101 }, []string{"max_spacers"}},
		{"as many as that", func(j *fit.Chamber) { j.MaxSpacers = 100 }, nil},
		{"as many as fit", func(j *fit.Chamber) { j.Spacers = 4 }, nil},
		{"one too many fitted", func(j *fit.Chamber) { j.Spacers = 5 }, []string{"spacers"}},
		{"one that fits", func(j *fit.Chamber) { j.MaxSpacers, j.Spacers = 1, 1 }, nil},
		{"one of two", func(j *fit.Chamber) { j.MaxSpacers, j.Spacers = 1, 2 }, []string{"spacers"}},
		{"spacers of no size", func(j *fit.Chamber) { j.SpacerVolume, j.Spacers = 0, 0 }, []string{"spacer_volume"}},
		{"fitted ones of no size", func(j *fit.Chamber) { j.SpacerVolume = 0 }, []string{"spacer_volume"}},
		{"spacers that can't be changed", func(j *fit.Chamber) { j.MaxSpacers = 0 }, nil},
		{"a marking beyond all air springs", func(j *fit.Chamber) { j.MaxFill = units.BarGauge(2000) }, []string{"max_fill"}},
		{"no fill known", func(j *fit.Chamber) { j.Fill = 0 }, nil},
		{"a fill below ambient", func(j *fit.Chamber) { j.Fill = -1 }, []string{"fill"}},
		{"a fill beyond all air springs", func(j *fit.Chamber) { j.Fill = units.BarGauge(2000) }, []string{"fill"}},
		{"a wish below 1", func(j *fit.Chamber) { j.FullTravelRatio = 0.5 }, nil},
		{"a negative wish", func(j *fit.Chamber) { j.FullTravelRatio = -0.5 }, []string{"full_travel_ratio"}},
	} {
		j := handChamber()
		test.change(&j)
		checked(t, test.name, &j, test.want...)
	}
}
