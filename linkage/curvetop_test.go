package linkage_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// No travel short of a node is more than the node's, not by a last digit
// either: a sag is never more than the whole.
func TestTravelStaysBelowTheNode(t *testing.T) {
	rng := rand.New(rand.NewPCG(421, 0))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	for range 3000 {
		full, start := between(0.05, 4), between(1, 200)
		mean := start * between(0.6, 1.7)
		stroke := full / mean
		table := linkage.Table{
			Stroke: []units.Length{0, units.Length(stroke / 2), units.Length(stroke)},
			Travel: []units.Length{0, units.Length(stroke / 2 * (start + mean) / 2), units.Length(full)},
			Method: linkage.Monotone,
		}
		c, err := linkage.NewTable(table)
		if err != nil {
			continue
		}
		for i := 1; i < 3; i++ {
			s, top := float64(table.Stroke[i]), table.Travel[i]
			for range 8 {
				s = math.Nextafter(s, 0)
				if got := c.TravelAt(units.Length(s)); got > top {
					t.Fatalf("%v: travel %v at the stroke %v before the node's %v", table, float64(got), s, float64(top))
				}
			}
		}
	}
}
