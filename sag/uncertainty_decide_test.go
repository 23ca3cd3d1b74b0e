package sag

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// The probability of the other spring is that of a normal distribution beyond
// the edge, by hand: 3 and 4 N/mm off together are 5, Φ(−1) = 0.158655254,
// Φ(−2) = 0.0227501319, and the larger of the two is to be known better.
func TestRivalIsDecided(t *testing.T) {
	const ideal = 100.0
	for _, test := range []struct {
		name          string
		effects       []Contribution[units.Stiffness]
		u, mark, edge float64
		probability   float64
		input         string
		share         float64
	}{
		{name: "harder", effects: []Contribution[units.Stiffness]{{Input: "a", Effect: -3}}, u: 3, mark: 4, edge: 105, probability: 0.158655254, input: "mark", share: 0.64},
		{name: "softer", effects: []Contribution[units.Stiffness]{{Input: "a", Effect: -3}}, u: 3, mark: 4, edge: 90, probability: 0.0227501319, input: "mark", share: 0.64},
		{name: "inputs", effects: []Contribution[units.Stiffness]{{Input: "a", Effect: -4}}, u: 4, mark: 3, edge: 95, probability: 0.158655254, input: "a", share: 0.64},
		{name: "of one", effects: []Contribution[units.Stiffness]{{Input: "a", Effect: 1}}, u: 1, edge: 101, probability: 0.158655254, input: "a", share: 1},
		{name: "alike, the input first", effects: []Contribution[units.Stiffness]{{Input: "a", Effect: 3}}, u: 3, mark: 3, edge: 100, probability: 0.5, input: "a", share: 0.5},
		{name: "exact", edge: 101},
		{name: "exact, and at the edge", edge: 100},
	} {
		answer := &Answer[units.Stiffness]{Value: ideal, Uncertainty: units.Stiffness(test.u), Contributions: test.effects}
		r := Rival{EdgeRate: units.Stiffness(test.edge)}
		r.decide(answer, "mark", test.mark/ideal)
		near(t, test.name+": probability", r.Probability, test.probability, 1e-8)
		near(t, test.name+": share", r.Share, test.share, 1e-12)
		if r.Input != test.input {
			t.Errorf("%s: %q decides, want %q", test.name, r.Input, test.input)
		}
		if len(answer.Contributions) != len(test.effects) {
			t.Errorf("%s: the answer was changed: %+v", test.name, answer)
		}
	}
}

// Rivals are looked for from half the load to twice as much. With one preload
// for all the edge of two springs is their harmonic mean H, so that beside k₁
// the other is k₂ = H·k₁/(2·k₁ − H).
func TestRivalsWithinReach(t *testing.T) {
	for _, test := range []struct {
		of, first float64 // the edge over the ideal rate, the rate that is recommended
		has       bool
	}{
		{0.53, 66e3, true}, {0.47, 66e3, false}, {1.8, 70e3, true}, {2.1, 75e3, false},
	} {
		h := test.of * handIdeal
		list := propagate(t, rivalJob(units.Stiffness(test.first), units.Stiffness(h*test.first/(2*test.first-h))), Uncertainty{RiderMass: 1}).Rear.Rivals
		if (len(list) == 1) != test.has {
			t.Errorf("%v times the load: %+v", test.of, list)
			continue
		}
		if test.has {
			require.Equal(t, units.Stiffness(test.first), list[0].Recommended)
			near(t, fmt.Sprint("edge at ", test.of), float64(list[0].EdgeRate), h, 1e-10)
		}
	}
	m := modelFor(t, rivalJob(60e3, 68e3), Uncertainty{})
	if list := m.rivals(1, nil); list != nil {
		t.Errorf("without an ideal rate: %+v", list)
	}
}

// Of springs that are on target with the same preload the first of the shelf
// stays until it misses by half a per cent of the travel, so that the edge is
// k₁·(1 ± 0.005·L/(s* + p)): here within a step of the search. A spring that is
// recommended over less than a step is found all the same.
func TestRivalsCloseTogether(t *testing.T) {
	const part = 0.005 * tStroke / (tSag*tStroke + tPreload) // 1.44 %; 67.19 N/mm are wanted
	for _, test := range []struct {
		shelf []units.Stiffness
		code  Finding
		rate  units.Stiffness
		edge  float64
	}{
		{[]units.Stiffness{66.3e3, 68e3}, HarderRival, 68e3, 66.3e3 * (1 + part)},                 // 67.26
		{[]units.Stiffness{68.1e3, 66.3e3}, SofterRival, 66.3e3, 68.1e3 * (1 - part)},             // 67.12
		{[]units.Stiffness{66.3e3, 66.35e3, 70e3}, HarderRival, 66.35e3, 66.3e3 * (1 + part)},     // it stays up to 67.31
		{[]units.Stiffness{68.1e3, 68.05e3, 64e3}, SofterRival, 68.05e3, 68.1e3 * (1 - part)},     // and down to 67.07
		{[]units.Stiffness{64e3, 68.1e3, 68.05e3}, SofterRival, 68.05e3, 68.1e3 * (1 - part)},     // wherever it stands
		{[]units.Stiffness{68.1e3, 66.3e3, 65e3, 70e3}, SofterRival, 66.3e3, 68.1e3 * (1 - part)}, // the nearest on target
	} {
		list := propagate(t, rivalJob(test.shelf...), Uncertainty{RiderMass: 1}).Rear.Rivals
		i := slices.IndexFunc(list, func(r Rival) bool { return r.Code == test.code })
		if i < 0 || list[i].Rate != test.rate {
			t.Errorf("%v: %+v, want %v", test.shelf, list, test.rate)
			continue
		}
		near(t, fmt.Sprint("edge of ", test.shelf), float64(list[i].EdgeRate), test.edge, 1e-10)
	}
}

// Where the load is too small for any rate to carry it at the collar's least
// preload, no spring is the best, and none of two is a rival.
func TestNoSpringIsBest(t *testing.T) {
	m := modelFor(t, rivalJob(60e3, 68e3), Uncertainty{})
	shelf := shelfAt{&m.ends[1], *m.ends[1].Coil, Target{Load: 5e-324, Sag: tSag}}
	shelf.PreloadMin = 1e10 // 10⁻³²³ N over it is 0
	if got := shelf.best(1); got != -1 {
		t.Errorf("spring %d", got)
	}
	if _, i := shelf.edge(1, 0); i != -1 {
		t.Errorf("spring %d takes over", i)
	}
}
