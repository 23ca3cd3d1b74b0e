package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// Effects are put together as the root of their squares, largest first, those
// alike in the order of the inputs, and those of 0 are left out.
func TestAnswerOfEffects(t *testing.T) {
	l := firstOrder{names: []string{"a", "b", "c", "d", "e"}, effects: make([][allOfThem]float64, 5)}
	l.value[aSag] = 0.3
	for i, effect := range []float64{-2, 0, 4, 2, -1} { // 4 + 16 + 4 + 1 = 5²
		l.effects[i][aSag] = effect
	}
	want := &Answer[float64]{Value: 0.3, Uncertainty: 5, Dominant: "c", Contributions: []Contribution[float64]{
		{"c", 4, 16.0 / 25}, {"a", -2, 4.0 / 25}, {"d", 2, 4.0 / 25}, {"e", -1, 1.0 / 25},
	}}
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-15*math.Abs(b) })
	if diff := cmp.Diff(want, answerTo[float64](&l, aSag), near); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(&Answer[float64]{Contributions: []Contribution[float64]{}}, answerTo[float64](&l, aLoad)); diff != "" {
		t.Errorf("an answer of 0 that nothing moves (-want +got):\n%s", diff)
	}
}

// There is no answer where its value or its uncertainty is no finite number.
func TestAnswerOfWhatIsNone(t *testing.T) {
	const most = math.MaxFloat64
	inf, nan := math.Inf(1), math.NaN()
	for _, test := range []struct {
		value, effect float64
		has           bool
	}{
		{1, 1, true}, {most, most, true}, {-most, -most, true},
		{inf, 1, false}, {-inf, 1, false}, {nan, 1, false}, {1, inf, false}, {1, -inf, false}, {1, nan, false},
	} {
		l := firstOrder{names: []string{"a"}, effects: make([][allOfThem]float64, 1)}
		l.value[aLoad], l.effects[0][aLoad] = test.value, test.effect
		got := answerTo[units.Force](&l, aLoad)
		if (got != nil) != test.has {
			t.Errorf("%+v: %+v", test, got)
		}
	}
}

// A template's sheets state the uncertainty of the rider that each is for: the
// load of another rider is another, and so is what the share does to it.
func TestTemplateStatesTheRidersUncertainty(t *testing.T) {
	j, u := handJob(), Uncertainty{RearShare: 0.01, RiderMass: 1}
	j.Uncertainty = &u
	template, err := NewTemplate(j)
	require.NoError(t, err)
	s, err := template.Sheet(95)
	require.NoError(t, err)
	e := s.Uncertainty.Rear.Load
	near(t, "load", float64(e.Value), (tShare*(95+tBike)-tUnsprungRear)*tG, 1e-12)
	near(t, "uncertainty", float64(e.Uncertainty), math.Hypot(0.01*(95+tBike), tShare)*tG, 1e-9)
	j.Masses.RiderMass, j.Uncertainty = 95, nil
	if diff := cmp.Diff(propagate(t, j, u), s.Uncertainty); diff != "" {
		t.Errorf("(-of the rider alone +of the template):\n%s", diff)
	}
}
