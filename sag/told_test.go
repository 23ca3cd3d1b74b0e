package sag

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// Friction makes a band about the rest and changes nothing else that is told of
// a spring or a fill. By hand, the force at full travel of 80 N/mm preloaded by
// 4 mm after 60 mm, behind a lever ratio of 2.5, is 80·64/2.5 N.
func TestFrictionMakesABandOnly(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	coil := &CoilChoice{Shelf: []ShelfSpring{{Rate: 80e3, SolidTravel: 0.09}}, PreloadMin: 0.004, PreloadMax: 0.004}
	target := Target{Load: 600, Sag: 0.28}
	free, err := coil.choose(c, target, 0)
	require.NoError(t, err)
	held, err := coil.choose(c, target, 40)
	require.NoError(t, err)
	near(t, "full force", float64(held.Candidates[0].FullForce), 80*64/2.5, 1e-12)
	without := func(one CoilCandidate) CoilCandidate {
		r := &one.Rest
		r.TravelLow, r.TravelHigh, r.StrokeLow, r.StrokeHigh = 0, 0, 0, 0
		return one
	}
	if diff := cmp.Diff(jsonOf(t, without(free.Candidates[0])), jsonOf(t, without(held.Candidates[0]))); diff != "" {
		t.Errorf("a coil (-free +held):\n%s", diff)
	}
	if r := held.Candidates[0].Rest; !(r.StrokeLow < r.Stroke && r.Stroke < r.StrokeHigh) {
		t.Errorf("no band: %+v", r)
	}
}

// What a warning of the sag says is what it is, and then what it should be: a
// spring of 1 N/mm goes to full travel under 600 N, one of 1000 N/mm with 10 mm
// of preload, 4000 N at the wheel, does not move.
func TestSagWarningsTellBoth(t *testing.T) {
	for _, test := range []struct {
		rate              units.Stiffness
		preload           units.Length
		code, told, limit string
	}{
		{1e3, 0, "collapses", "100.0 %", "28.0 %"},
		{1e6, 0.01, "held_at_top", "0.0 %", "28.0 %"},
	} {
		p := prepared{curve: constant(t, 2.5, 0.15), EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{
			Shelf: []ShelfSpring{{Rate: test.rate, SolidTravel: 0.2}}, PreloadMin: test.preload, PreloadMax: test.preload}}}
		e, err := p.solve(650, 600)
		require.NoError(t, err)
		found := false
		for _, w := range e.warnings("rear") {
			if w.Code == test.code {
				found = true
				if w.Value != test.told || w.Limit != test.limit {
					t.Errorf("%s: %s of %s, want %s of %s", w.Code, w.Value, w.Limit, test.told, test.limit)
				}
			}
		}
		if !found {
			t.Errorf("no %s", test.code)
		}
	}
}

// An end that carries next to nothing is refused by its load, as its reserve is.
func TestSheetOfNoLoad(t *testing.T) {
	p := prepared{curve: constant(t, 2.5, 0.15), EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: 80e3}}}}}
	_, err := p.solve(1e-151, 1e-151)
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "load" {
		t.Errorf("%v", err)
	}
}

func jsonOf(t *testing.T, v any) string {
	t.Helper()
	out, err := json.Marshal(v)
	require.NoError(t, err)
	return string(out)
}
