package spring

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// fieldsOf lists the fields an error names, in order.
func fieldsOf(err error) []string {
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	return names
}

// byForce is a law given by its force alone.
type byForce struct {
	straight
	force func(x float64) float64
}

func (l byForce) Force(x units.Length) units.Force { return units.Force(l.force(float64(x))) }

func lawOf(force func(float64) float64, travel float64) Law {
	return byForce{straight{travel: travel}, force}
}

// straight is F = force + rate·x, without being known to be straight, and
// without clamping, so that what it is asked for can be told.
type straight struct {
	force, rate, travel float64
	asked               *[]float64
}

func (s straight) Force(x units.Length) units.Force {
	if s.asked != nil {
		*s.asked = append(*s.asked, float64(x))
	}
	return units.Force(s.force + s.rate*float64(x))
}
func (s straight) Rate(units.Length) units.Stiffness { return units.Stiffness(s.rate) }
func (s straight) Energy(x units.Length) units.Energy {
	return units.Energy((s.force + s.rate*float64(x)/2) * float64(x))
}
func (s straight) Travel() units.Length { return units.Length(s.travel) }

// A law that goes into another is looked at at 17 travels, evenly spread from
// 0 to its full travel and not beyond.
func TestLawIsCheckedAt17Travels(t *testing.T) {
	var asked []float64
	if fault, _ := faultOf(straight{1, 2, 0.0625, &asked}); fault != "" {
		t.Fatal(fault)
	}
	var want []float64
	for i := range 17 {
		want = append(want, float64(i)/256)
	}
	if diff := cmp.Diff(want, asked); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A force may fall by rounding, by 1e-9 of itself, and no more; so may one
// that pulls.
func TestLawMayFallByRounding(t *testing.T) {
	for _, level := range []float64{1000, -1000, 1e-3, -1e-3} {
		for part, ok := range map[float64]bool{0.9e-9: true, 1.1e-9: false} {
			step := func(x float64) float64 {
				if x > 0.5 {
					return level - part*math.Abs(level)
				}
				return level
			}
			if fault, _ := faultOf(lawOf(step, 1)); (fault == "") != ok {
				t.Errorf("a force of %v falls by %v of it: %q", level, part, fault)
			}
		}
	}
}

// A law of varying rate costs 1. On end, the first is evaluated in each of a
// dozen steps, and each further one inverted in each of them, in a dozen steps
// of its own; side by side costs add. Springs of constant rate cost nothing.
func TestLawWork(t *testing.T) {
	law := straight{0, 1000, 0.1, nil}
	line := LinearSpring{rate: 1000, travel: 0.1}
	series := func(laws ...Law) Law {
		s, err := NewSeries(laws...)
		require.NoError(t, err)
		return s
	}
	parallel := func(laws ...Law) Law {
		var members []Member
		for _, l := range laws {
			members = append(members, Member{Law: l})
		}
		s, err := NewParallel(members...)
		require.NoError(t, err)
		return s
	}
	preloaded := func(law Law) Law {
		s, err := NewPreloaded(law, 0.01)
		require.NoError(t, err)
		return s
	}
	for _, row := range []struct {
		name string
		law  Law
		want float64
	}{
		{"one", law, 1},
		{"on end with a line", series(law, line), 12},
		{"two on end", series(law, law), 12 + 12*12},
		{"three on end", series(law, line, law, law), 12 + 2*12*12},
		{"lines on end", series(line, line), 0},
		{"two and a line side by side", parallel(law, line, law), 2},
		{"lines side by side", parallel(line, line), 0},
		{"preloaded", preloaded(law), 1},
		{"a preloaded stack", preloaded(series(law, law)), 156},
		{"a stack of stacks", series(parallel(law, law, law), preloaded(law)), 12*3 + 12*12},
	} {
		if got := lawWork(row.law); got != row.want {
			t.Errorf("%s: %v, want %v", row.name, got, row.want)
		}
	}
}

// Stacks may take 3000 evaluations for an answer and no more.
func TestStacksOfTooMuchWork(t *testing.T) {
	law := straight{0, 1000, 0.1, nil}
	members := make([]Member, 3001)
	for i := range members {
		members[i].Law = law
	}
	if _, err := NewParallel(members[:3000]...); err != nil {
		t.Error(err)
	}
	if _, err := NewParallel(members...); cmp.Diff([]string{"members"}, fieldsOf(err)) != "" {
		t.Errorf("3001 laws side by side: %v", err)
	}
	for n, want := range map[int][]string{250: nil, 251: {"laws"}} {
		side, err := NewParallel(members[:n]...)
		require.NoError(t, err)
		if _, err := NewSeries(side); cmp.Diff(want, fieldsOf(err)) != "" {
			t.Errorf("%d laws side by side, put on end: %v", n, err)
		}
	}
}

// All that is made of springs of constant rate is joined into one chain.
func TestConstantRatesAreJoined(t *testing.T) {
	line := LinearSpring{rate: 1000, travel: 0.1}
	groups, err := NewGroups(Groups{Groups: []Group{{Rate: 500, Gap: 0.05}, {Rate: 1000, Gap: 0.1}}})
	require.NoError(t, err)
	dual, err := NewDualRate(DualRate{SoftRate: 500, MainRate: 1000, SoftTravel: 0.05, MainTravel: 0.1})
	require.NoError(t, err)
	onEnd, err := NewSeries(line, groups)
	require.NoError(t, err)
	beside, err := NewParallel(Member{Law: line}, Member{Law: dual, StartsAt: 0.01})
	require.NoError(t, err)
	preloaded, err := NewPreloaded(beside, 0.02)
	require.NoError(t, err)
	for _, law := range []Law{line, groups, dual, onEnd, beside, preloaded} {
		chain, ok := asPolyline(law)
		if !ok || len(chain.knots) == 0 {
			t.Errorf("%T is no chain", law)
		}
		stack, err := NewSeries(line, law)
		require.NoError(t, err)
		if len(stack.others) != 0 {
			t.Errorf("%T is not joined with a line", law)
		}
	}
	if _, ok := asPolyline(straight{0, 1000, 0.1, nil}); ok {
		t.Error("a law of unknown form is a chain")
	}
}

// A preloaded law asks for the full travel itself at its end, whatever
// travel − preload + preload rounds to, and for nothing beyond.
func TestPreloadedLawEndsWhereTheLawDoes(t *testing.T) {
	rounded := 0
	for i := range 100 {
		var asked []float64
		travel, preload := 0.1+float64(i)*1e-3, 0.013+float64(i)*1e-4
		law, err := NewPreloaded(straight{5, 1000, travel, &asked}, units.Length(preload))
		require.NoError(t, err)
		if (travel-preload)+preload != travel {
			rounded++
		}
		for _, x := range []units.Length{law.Travel(), law.Travel() + 0.05, 1} {
			asked = asked[:0]
			law.Force(x)
			if diff := cmp.Diff([]float64{travel}, asked); diff != "" {
				t.Errorf("travel %v, preload %v, at %v (-want +got):\n%s", travel, preload, x, diff)
			}
		}
	}
	if rounded == 0 {
		t.Error("no sum of the table is rounded")
	}
}

// A preload that leaves 1e-13 of the travel is less than it.
func TestPreloadUpToTheTravel(t *testing.T) {
	for _, travel := range []units.Length{0.0625, 1024} {
		preload := travel - travel*0x1p-43
		for _, law := range []Law{LinearSpring{rate: 1000, travel: travel}, straight{0, 1000, float64(travel), nil}} {
			got, err := NewPreloaded(law, preload)
			if err != nil || got.Travel() != travel*0x1p-43 {
				t.Errorf("preload %v of %v: %v", preload, travel, err)
			}
			if _, err := NewPreloaded(law, travel); cmp.Diff([]string{"preload"}, fieldsOf(err)) != "" {
				t.Errorf("preload %v of %v: %v", travel, travel, err)
			}
		}
	}
}

// A jump is found to the last place of the travel.
func TestJumpTravel(t *testing.T) {
	for _, at := range []float64{1e-6, 0.1, 0.3, 0.5, 0.77, 0.95, 0.999999} {
		law := lawOf(func(x float64) float64 {
			if x >= at {
				return 2
			}
			return 0
		}, 1)
		if got := float64(jumpTravel(law, 1)); math.Abs(got-at) > 0x1p-52 {
			t.Errorf("a jump at %v is found at %.17g", at, got)
		}
	}
}
