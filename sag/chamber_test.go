package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
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

// handFill is the absolute fill that carries load·LR at the target stroke, gas settled.
func handFill(spacers int) float64 {
	v := volume - float64(spacers)*spacer
	return (load*ratio/area() + ambient) * (v - area()*target*stroke) / v
}

func handRatio(spacers int, absolute float64) float64 {
	v := volume - float64(spacers)*spacer
	return area() * (absolute*math.Pow(v/(v-area()*stroke), fast) - ambient) / ratio / load
}

func handChoice() AirChoice {
	return AirChoice{
		Spec: airspring.Spec{Bore: bore, Travel: stroke, PositiveVolume: volume, SpacerVolume: spacer, Spacers: 1,
			Ambient: ambient, Exponent: fast, Fill: 700e3},
		MaxFill: 2e6, MaxSpacers: 4,
	}
}

func TestChamberByHand(t *testing.T) {
	c := constant(t, ratio, ratio*stroke)
	goal := Target{Load: load, Sag: target}
	j := handChoice()
	j.FullTravelRatio = handRatio(3, handFill(3)) * 1.01 // nearest: three spacers
	a, err := j.choose(c, goal, 0)
	require.NoError(t, err)
	if len(a.Options) != 5 || a.Options[0].Spacers != 3 || a.SpacerChange != 2 || !a.ChangeKnown {
		t.Fatalf("answer %+v", a)
	}
	near(t, "change", float64(a.Change), handFill(3)-ambient-700e3, 1e-10)
	for i, o := range a.Options {
		near(t, "fill", float64(o.Fill), handFill(o.Spacers)-ambient, 1e-11)
		near(t, "fill wanted", float64(o.FillWanted), float64(o.Fill), 1e-15)
		near(t, "sag", o.Rest.Sag, target, 1e-9)
		near(t, "ratio", o.FullRatio, handRatio(o.Spacers, handFill(o.Spacers)), 1e-11)
		want := []Finding{OnTarget}
		if i == 0 {
			want = append(want, NearestEnd)
		}
		if diff := cmp.Diff(want, o.Findings); diff != "" {
			t.Errorf("%d spacers (-want +got):\n%s", o.Spacers, diff)
		}
	}

	// Each spacer lowers the fill, by hand from 0 to 4.
	near(t, "fill per spacer", float64(a.FillPerSpacer), (handFill(4)-handFill(0))/4, 1e-9)
	if !(a.FillPerSpacer < 0) {
		t.Errorf("a spacer changes the fill by %v", a.FillPerSpacer)
	}

	// With no wish for the end the fitted spacers stay.
	j.FullTravelRatio, j.Fill = 0, 0
	a, err = j.choose(c, goal, 0)
	require.NoError(t, err)
	if len(a.Options) != 1 || a.Options[0].Spacers != 1 || a.SpacerChange != 0 || a.ChangeKnown || a.Change != 0 || a.FillPerSpacer != 0 {
		t.Errorf("answer %+v", a)
	}
	// Nor is anything tried where none can be taken in or out.
	j.FullTravelRatio, j.MaxSpacers = 5, 0
	a, err = j.choose(c, goal, 0)
	require.NoError(t, err)
	if len(a.Options) != 1 || a.Options[0].Spacers != 1 {
		t.Errorf("answer %+v", a)
	}
}

func TestChamberStopsWhereNoAirIsLeft(t *testing.T) {
	c := constant(t, ratio, ratio*stroke)
	j := handChoice()
	j.MaxSpacers, j.FullTravelRatio = 30, 4 // 12 spacers would fill the chamber
	a, err := j.choose(c, Target{Load: load, Sag: target}, 0)
	require.NoError(t, err)
	if n := len(a.Options); n != 12 {
		t.Errorf("%d options, want 0 to 11 spacers: (190 − 95.4)/8 = 11.8", n)
	}
}

func TestChamberStopsAtTheMarking(t *testing.T) {
	c := constant(t, ratio, ratio*stroke)
	j := handChoice()
	j.MaxFill = units.GaugePressure(handFill(1)-ambient) - 100e3
	a, err := j.choose(c, Target{Load: load, Sag: target}, 0)
	require.NoError(t, err)
	o := a.Options[0]
	near(t, "wanted", float64(o.FillWanted), handFill(1)-ambient, 1e-11)
	if o.Fill != j.MaxFill || !o.has(FillAtMax) || !o.has(TooSoft) || !(o.Rest.Sag > target) {
		t.Errorf("option %+v", o)
	}
	// A wish for more force at the end makes no spring that misses the sag
	// better than one that meets it.
	j = handChoice()
	j.MaxFill = units.GaugePressure((handFill(2)+handFill(3))/2 - ambient) // 0…2 spacers want more
	j.FullTravelRatio = 1
	a, err = j.choose(c, Target{Load: load, Sag: target}, 0)
	require.NoError(t, err)
	if a.Options[0].Spacers != 3 || !a.Options[0].has(OnTarget) {
		t.Errorf("recommends %+v", a.Options[0])
	}
}

func TestChamberNoFillIsLittleEnough(t *testing.T) {
	c := constant(t, 1, stroke)
	j := handChoice()
	a, err := j.choose(c, Target{Load: 20, Sag: 0.9}, 0)
	require.NoError(t, err)
	if o := a.Options[0]; !o.has(FillImpossible) || !o.has(TooHard) || o.FillWanted != 0 || o.Fill != units.KilopascalGauge(1) {
		t.Errorf("option %+v", o)
	}
}

func TestAirChoiceRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*AirChoice)
		want   []string
	}{
		{"good", func(*AirChoice) {}, nil},
		{"no marking", func(j *AirChoice) { j.MaxFill = 0 }, []string{"max_fill"}},
		{"NaN", func(j *AirChoice) { j.MaxFill = units.GaugePressure(math.NaN()); j.FullTravelRatio = math.NaN() }, []string{"max_fill", "full_travel_ratio"}},
		{"fewer than none", func(j *AirChoice) { j.MaxSpacers = -1 }, []string{"max_spacers"}},
		{"more than anybody has", func(j *AirChoice) { j.MaxSpacers = 101 }, []string{"max_spacers"}},
		{"as many as that", func(j *AirChoice) { j.MaxSpacers = 100 }, nil},
		{"as many as fit", func(j *AirChoice) { j.Spacers = 4 }, nil},
		{"one too many fitted", func(j *AirChoice) { j.Spacers = 5 }, []string{"spacers"}},
		{"spacers of no size", func(j *AirChoice) { j.SpacerVolume, j.Spacers = 0, 0 }, []string{"spacer_volume"}},
		{"spacers that can't be changed", func(j *AirChoice) { j.MaxSpacers = 0 }, nil},
		{"a marking beyond all air springs", func(j *AirChoice) { j.MaxFill = units.BarGauge(2000) }, []string{"max_fill"}},
		{"no bore", func(j *AirChoice) { j.Bore = 0 }, []string{"bore"}},
		{"no fill known", func(j *AirChoice) { j.Fill = 0 }, nil},
		{"a fill below ambient", func(j *AirChoice) { j.Fill = -1 }, []string{"fill"}},
	} {
		j := handChoice()
		test.change(&j)
		var c units.Checker
		j.check(&c)
		if diff := cmp.Diff(test.want, names(c.Err())); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// An air spring takes its travel from the curve and the ambient from the job,
// unless it states its own; one too short for the curve is refused.
func TestAirDefaults(t *testing.T) {
	j := readJob(t, jobText)
	same := sheet(t, j).Front.Air.Options[0].Fill
	j.Front.Air.Travel, j.Front.Air.Ambient, j.Ambient = 0.17, 97.7e3, 50e3
	if got := sheet(t, j).Front.Air.Options[0].Fill; got != same {
		t.Errorf("fill %v with travel and ambient stated, %v without", got, same)
	}
	j.Front.Air.Travel = 0.16
	_, err := NewSheet(j)
	if diff := cmp.Diff([]string{"front.air.travel"}, names(err)); diff != "" {
		t.Errorf("too short (-want +got):\n%s", diff)
	}
	j.Front.Air.Travel, j.Front.Air.Ambient, j.Ambient = 0, 0, 0
	_, err = NewSheet(j)
	if diff := cmp.Diff([]string{"front.air.ambient"}, names(err)); diff != "" {
		t.Errorf("no ambient anywhere (-want +got):\n%s", diff)
	}
}

// A load that no fill could ever carry gets all that the marking permits, not
// an empty chamber; a sag that no fill reaches is the job's fault.
func TestChamberBeyondEveryFill(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.RiderMass = 60000
	s := sheet(t, j)
	o := s.Front.Air.Options[0]
	if o.Fill != j.Front.Air.MaxFill || !o.has(FillAtMax) || o.has(FillImpossible) || o.FillWanted != 0 {
		t.Errorf("recommends %v: %v", o.Fill, o.Findings)
	}
	for _, w := range s.Warnings {
		if w.Code == "fill_at_max" && w.Text != "No air spring could hold the fill that the target would need; this sheet stops at the marking." {
			t.Errorf("warns %q", w.Text)
		}
	}
	j = readJob(t, jobText)
	j.Front.Sag, j.Front.Air.NegativeVolume, j.Front.Air.PortTravel = 0.002, 12e-6, 0.03
	_, err := NewSheet(j)
	if diff := cmp.Diff([]string{"front.sag"}, names(err)); diff != "" {
		t.Errorf("a sag where more air pulls in harder (-want +got):\n%s", diff)
	}
	j = readJob(t, jobText)
	j.Front.Air.MaxFill = units.BarGauge(2000)
	_, err = NewSheet(j)
	if diff := cmp.Diff([]string{"front.air.max_fill"}, names(err)); diff != "" {
		t.Errorf("a marking beyond sense (-want +got):\n%s", diff)
	}
}

// Only numbers of spacers that some fill meets count for the fill per spacer, and
// they stay in the order tried, whichever is best.
func TestFillPerSpacer(t *testing.T) {
	for _, c := range []struct {
		wanted []units.GaugePressure
		want   units.GaugePressure
	}{
		{nil, 0}, {[]units.GaugePressure{7e5}, 0}, {[]units.GaugePressure{0, 0}, 0}, {[]units.GaugePressure{7e5, 0}, 0},
		{[]units.GaugePressure{7e5, 6e5}, -1e5}, {[]units.GaugePressure{7e5, 6.5e5, 6e5}, -0.5e5},
		{[]units.GaugePressure{0, 6e5, 0, 8e5}, 1e5}, {[]units.GaugePressure{0.5, 0.75}, 0.25},
	} {
		var list []AirOption
		for n, w := range c.wanted {
			list = append(list, AirOption{Spacers: n, FillWanted: w})
		}
		if got := fillPerSpacer(list); got != c.want {
			t.Errorf("%v: %v, want %v", c.wanted, got, c.want)
		}
	}
}

// Where a fill meets the target the rest is the target's stroke, with the band that
// settling it would give.
func TestChamberRestIsSettled(t *testing.T) {
	c := constant(t, ratio, ratio*stroke)
	j := handChoice()
	j.FullTravelRatio = 4
	a, err := j.choose(c, Target{Load: load, Sag: target}, 25)
	require.NoError(t, err)
	for _, o := range a.Options {
		spec := j.Spec
		spec.Spacers, spec.Fill, spec.Exponent = o.Spacers, o.Fill, 1
		slow, err := airspring.New(spec)
		require.NoError(t, err)
		want, err := Settle(c, slow, load, 25)
		require.NoError(t, err)
		if diff := cmp.Diff(want, o.Rest, unitstest.Approx(1e-9)); diff != "" {
			t.Errorf("%d spacers (-settled +told):\n%s", o.Spacers, diff)
		}
		if o.Miss != 0 || !(o.Rest.StrokeLow < o.Rest.Stroke && o.Rest.Stroke < o.Rest.StrokeHigh) {
			t.Errorf("%+v", o.Rest)
		}
	}
}
