package visit_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

func plan(t testing.TB, b bracket) *visit.Plan {
	t.Helper()
	p, err := b.Plan()
	require.NoError(t, err)
	return p
}

// sagOf is where a trial rests.
func sagOf(t *visit.Trial) float64 {
	if t.Coil != nil {
		return t.Coil.Rest.Sag
	}
	return t.Air.Rest.Sag
}

// By hand, for a ratio of 2.5 over 150 mm of travel: a ring that may be off by 0.5 mm tells 2·0.5·2.5/150
// = 1.67 % of sag, less than the 2 % that count; one off by 1 mm tells 3.33 %, and no less than 1.67 %
// at the end. An uncertain sag counts for itself.
func TestStepIsWhatCanBeToldApart(t *testing.T) {
	for _, test := range []struct {
		ring        units.Length
		sag         float64
		step, least float64
	}{
		{0.5, 0, 0.02, 0.01}, {0.6, 0, 0.02, 0.01}, {1, 0, 1 / 30.0, 1 / 60.0}, {0.5, 0.03, 0.03, 0.015}, {3, 0.03, 0.1, 0.05},
	} {
		p := plan(t, bracket{Setting: coilEnd(), Load: 640, RingError: test.ring * milli, SagError: test.sag})
		near(t, "step", p.Step, test.step, 1e-12)
		near(t, "least", p.Least, test.least, 1e-12)
	}
}

// Three settings around the prediction. By hand under 640 N at the wheel, 1600 N at the spring of
// 80 N/mm, which is compressed by 20 mm: 28 % of 60 mm of stroke are 16.8 mm, so 3.2 mm are preload, 2 %
// more sag 2.0 mm and 2 % less 4.4 mm. A thread of 1.5 mm has quarter turns of 0.375 mm: 3.375, 1.875, 4.5.
func TestPlanHasThreeSettings(t *testing.T) {
	p := plan(t, bracket{Setting: coilEnd(), Load: 640, RingError: 0.5 * milli})
	require.Len(t, p.Trials, 3)
	for i, want := range []struct {
		name         string
		sag, preload float64
	}{{"softer", 0.30, 1.875}, {"predicted", 0.28, 3.375}, {"harder", 0.26, 4.5}} {
		got := p.Trials[i]
		if got.Name != want.name || got.Feel == "" {
			t.Errorf("%+v", got)
		}
		near(t, want.name, got.Sag, want.sag, 1e-12)
		near(t, want.name, float64(got.Coil.Preload), want.preload*milli, 1e-9)
		near(t, want.name+", ring", float64(got.Coil.Rest.Stroke), (20-want.preload)*milli, 1e-9)
	}
	if p.Next.Name != "predicted" || p.Ending != "" || p.Text == "" {
		t.Errorf("first %+v", p.Next)
	}
}

// Next comes less sag by a step after "too soft", more after "too hard", then the middle.
func TestPlanGoesWhereItIsSent(t *testing.T) {
	p := plan(t, bracket{Setting: airEnd(), Load: 400, RingError: 0.5 * milli})
	then := func(tried visit.Tried) {
		t.Helper()
		var err error
		p, err = after(p, tried)
		require.NoError(t, err)
	}
	then(visit.Tried{Sag: 0.20, Felt: visit.FeltTooSoft})
	near(t, "less", p.Next.Sag, 0.18, 1e-12)
	if p.Next.Name != "harder" {
		t.Errorf("next is %q", p.Next.Name)
	}
	then(visit.Tried{Sag: 0.18, Ride: visit.AllUsed}) // counts as too soft
	near(t, "less again", p.Next.Sag, 0.16, 1e-12)
	then(visit.Tried{Sag: 0.16, Felt: visit.FeltTooHard, Ride: visit.WellUsed})
	near(t, "the middle", p.Next.Sag, 0.17, 1e-12)
	if p.Ending != visit.Found {
		t.Errorf("not found: %+v", p)
	}

	// One of another sag that was too soft leaves the prediction to try; "too hard" with all used, "too
	// soft" with little used, and answers against each other are no matter of sag.
	for _, test := range []struct {
		tried  []visit.Tried
		sag    float64
		ending visit.Ending
		text   string
	}{
		{[]visit.Tried{{Sag: 0.24, Felt: visit.FeltTooSoft}}, 0.20, "", "Ride "},
		{[]visit.Tried{{Sag: 0.16, Felt: visit.FeltTooHard}}, 0.20, "", "Ride "},
		{[]visit.Tried{{Sag: 0.205, Felt: visit.FeltTooSoft}}, 0.185, "", "Ride "},
		{[]visit.Tried{{Sag: 0.24, Felt: visit.FeltTooSoft}, {Sag: 0.16, Felt: visit.FeltTooHard}}, 0.20, "", "Ride "},
		{[]visit.Tried{{Sag: 0.26, Felt: visit.FeltTooSoft}, {Sag: 0.20, Felt: visit.FeltTooHard}}, 0.23, "", "Ride "},
		{[]visit.Tried{{Sag: 0.24, Felt: visit.FeltTooSoft}, {Sag: 0.215, Felt: visit.FeltTooHard}}, 0.2275, "", "Ride "},
		{[]visit.Tried{{Sag: 0.24, Felt: visit.FeltTooSoft}, {Sag: 0.221, Felt: visit.FeltTooHard}}, 0.2305, visit.Found, "Keep the one in the middle. That is "},
		{[]visit.Tried{{Sag: 0.20, Ride: visit.LittleUsed}}, 0.22, "", "Ride "},
		{[]visit.Tried{{Sag: 0.20, Ride: visit.WellUsed}}, 0.20, visit.Found, "Keep this one. That is "},
		{[]visit.Tried{{Sag: 0.20, Felt: visit.FeltRight, Ride: visit.LittleUsed}}, 0.20, visit.Found, "Keep this one. That is "},
		{[]visit.Tried{{Sag: 0.20, Felt: visit.FeltRight, Ride: visit.AllUsed}}, 0.20, visit.Found, "It used all of its travel"},
		{[]visit.Tried{{Sag: 0.20, Felt: visit.FeltTooHard, Ride: visit.AllUsed}}, 0.20, visit.Contrary, "too hard and yet uses all"},
		{[]visit.Tried{{Sag: 0.20, Felt: visit.FeltTooSoft, Ride: visit.LittleUsed}}, 0.20, visit.Contrary, "too soft and yet uses little"},
		{[]visit.Tried{{Sag: 0.20, Felt: visit.FeltTooSoft}, {Sag: 0.22, Felt: visit.FeltTooHard}}, 0.22, visit.Contrary, "Start again"},
		{[]visit.Tried{{Sag: 0.22, Felt: visit.FeltTooSoft}, {Sag: 0.22, Felt: visit.FeltTooHard}}, 0.22, visit.Contrary, "Start again"},
		{[]visit.Tried{{Sag: 0.20, Felt: visit.FeltRight}, {Sag: 0.3, Felt: visit.FeltTooHard}}, 0.20, visit.Found, "Keep this one"},
	} {
		p := plan(t, bracket{Setting: airEnd(), Load: 400, RingError: 0.5 * milli, Tried: test.tried})
		near(t, "sag", p.Next.Sag, test.sag, 1e-12)
		if p.Ending != test.ending || !strings.Contains(p.Text, test.text) || strings.Contains(p.Text, "That is") != (p.Ending == visit.Found) {
			t.Errorf("%+v: %s, %s", test.tried, p.Ending, p.Text)
		}
	}
}

// A rider who would have one sag and tells a difference of a part of it is led there, or as near as
// collar and marking go, in few rides; one who answers at random comes to an end too. The plan is
// written and read between rides.
func TestEveryPlanEnds(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 9))
	collar := coilEnd()
	collar.Coil.Collar = fit.Collar{PreloadMax: 6 * milli}
	most, ends := 0, map[visit.Ending]int{}
	for round := range 300 {
		s := []visit.Setting{coilEnd(), airEnd(), collar, tableEnd()}[round%4]
		load := units.Force(350 + 300*random.Float64())
		p, err := bracket{Setting: s, Load: load, RingError: 0.5 * milli, SagError: 0.02 * random.Float64()}.Plan()
		require.NoError(t, err)
		ideal, tells := s.Sag+0.1*(random.Float64()-0.5), 0.02*random.Float64()
		moody := round%3 == 0
		rides := 0
		for ; p.Ending == ""; rides++ {
			if rides > 60 {
				t.Fatalf("no end after %d rides: %+v", rides, p.Tried)
			}
			tried := visit.Tried{Sag: sagOf(p.Next), Felt: visit.FeltRight}
			switch {
			case moody:
				tried.Felt = []visit.Felt{visit.FeltTooSoft, visit.FeltTooHard}[random.IntN(2)]
			case tried.Sag > ideal+tells:
				tried.Felt = visit.FeltTooSoft
			case tried.Sag < ideal-tells:
				tried.Felt = visit.FeltTooHard
			}
			text, err := json.Marshal(p)
			require.NoError(t, err)
			var again visit.Plan
			require.NoError(t, json.Unmarshal(text, &again))
			p, err = after(&again, tried)
			require.NoError(t, err)
		}
		ends[p.Ending]++
		if moody {
			continue
		}
		most = max(most, rides)
		if off := math.Abs(sagOf(p.Next) - ideal); p.Ending == visit.Found && off > max(tells, 2*p.Least)+0.005 {
			t.Errorf("round %d: found %v, wanted %v ± %v", round, sagOf(p.Next), ideal, tells)
		}
		if p.Ending == visit.Contrary {
			t.Errorf("round %d: a steady rider contradicts: %+v", round, p.Tried)
		}
	}
	if most > 6 || ends[visit.Found] < 100 || ends[visit.AtLimit] < 10 {
		t.Errorf("%d rides at the most, %v", most, ends)
	}
}

// At the collar's end the plan says which spring would do it: by hand 600 N at the wheel, 1500 N at
// the spring over (16.8 + 0.5) mm at 28 % are 86.7 N/mm.
func TestPlanEndsAtTheCollar(t *testing.T) {
	s := coilEnd()
	s.Coil.Collar, s.Coil.Preload = fit.Collar{PreloadMax: 0.5 * milli}, 0.5*milli
	p := plan(t, bracket{Setting: s, Load: 600, RingError: 0.5 * milli, Tried: []visit.Tried{{Sag: 18.25 / 60, Felt: visit.FeltTooSoft}}})
	if p.Ending != visit.AtLimit {
		t.Fatalf("%+v", p)
	}
	require.Contains(t, p.Text, "A spring of 495 lbf/in (86.71 N/mm) would do it")
}

func TestBracketsAreRefusedByField(t *testing.T) {
	good := bracket{Setting: coilEnd(), Load: 600, RingError: milli}
	for _, test := range []struct {
		name  string
		spoil func(*bracket)
		want  []string
	}{
		{"good", func(*bracket) {}, nil},
		{"nothing", func(b *bracket) { *b = bracket{} }, []string{"curve", "sag", "coil"}},
		{"nothing of a good setting", func(b *bracket) { *b = bracket{Setting: coilEnd()} }, []string{"load", "ring_error"}},
		{"ring", func(b *bracket) { b.RingError = 0.015 }, []string{"ring_error"}},
		{"a ring just told", func(b *bracket) { b.RingError = 0.0149 }, nil},
		{"a ring behind no curve", func(b *bracket) { b.RingError, b.Setting.Curve = 1, linkage.Spec{} }, []string{"curve"}},
		{"as many as are taken", func(b *bracket) {
			b.Tried = slices.Repeat([]visit.Tried{{Sag: 0.3, Felt: visit.FeltTooSoft}}, 100)
		}, nil},
		{"sag error", func(b *bracket) { b.SagError = 0.21 }, []string{"sag_error"}},
		{"not a number", func(b *bracket) { b.SagError, b.Load = math.NaN(), units.Force(math.NaN()) }, []string{"load", "sag_error"}},
		{"tried", func(b *bracket) {
			b.Tried = []visit.Tried{{Sag: 1, Felt: "nice"}, {Sag: math.NaN(), Ride: "some"}, {Sag: 0.3}}
		}, []string{"tried[0].sag", "tried[0].felt", "tried[1].sag", "tried[1].ride", "tried[2].felt"}},
		{"too many", func(b *bracket) {
			b.Tried = slices.Repeat([]visit.Tried{{Sag: 0.3, Felt: visit.FeltTooSoft}}, 101)
		}, []string{"tried"}},
		{"a load of nothing", func(b *bracket) { b.Load = 1e-160 }, []string{"load"}},
	} {
		b := good
		test.spoil(&b)
		named(t, test.name, second(b.Plan()), test.want...)
	}
}
