package mechanism

import (
	"errors"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

// A search for pivots follows mechanisms without making their curves, and must
// not take one whose ratio is of no use for an answer: 0.001 to 1000. Here the
// shock stands at right angles above an arm of 50 mm, so that the ratio at the
// start is the axle's distance over that, and hardly changes over 1 µm.
func TestFollowedRatioIsOfUse(t *testing.T) {
	for _, test := range []struct {
		ratio units.Length
		says  string // "" where it is taken
	}{
		{0.0008, "rises as the shock is compressed"},
		{-0.5, "rises as the shock is compressed"},
		{0.0012, ""},
		{900, ""},
		{1100, "more than 1000 times"},
	} {
		_, err := follow(Spec{
			Points: map[string]Point{"P": {0, 0}, "A": {-0.05 * test.ratio, 0}, "S1": {-0.05, 0}, "S2": {-0.05, 0.2}},
			Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "A", "S1"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 1e-6 * units.Metre,
		}, true, steps)
		switch {
		case test.says == "" && err != nil:
			t.Errorf("%v: %v", float64(test.ratio), err)
		case test.says != "" && (err == nil || !strings.Contains(err.Error(), test.says)):
			t.Errorf("%v: %v, want %q", float64(test.ratio), err, test.says)
		case test.ratio > 1 && err != nil && !errors.Is(err, ErrLocks):
			t.Errorf("%v: %v", float64(test.ratio), err)
		}
	}
}
