package spring

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// A chain with everything in it: 2 N/m for 1 m, a kink to 4 N/m for 1 m, a jump
// from 6 to 9 N, level ground for 1 m, and 1 N/m for 2 m.
func TestPolylineAtForce(t *testing.T) {
	line := newPolyline([]polyPiece{
		{length: 1, rate: 2, force: 0, top: 2}, {length: 1, rate: 4, force: 2, top: 6},
		{length: 1, rate: 0, force: 9, top: 9}, {length: 2, rate: 1, force: 9, top: 11},
	})
	for _, c := range []struct{ force, x, compliance float64 }{
		{-1, 0, 0}, {0, 0, 0.5}, {1, 0.5, 0.5}, {2, 1, 0.25}, {4, 1.5, 0.25},
		{6, 2, 0}, {7, 2, 0}, {9, 2, math.Inf(1)}, {10, 4, 1}, {11, 5, 0}, {12, 5, 0},
	} {
		if x, compliance := line.atForce(c.force); x != c.x || compliance != c.compliance {
			t.Errorf("at %v N: %v m, %v m/N; want %v, %v", c.force, x, compliance, c.x, c.compliance)
		}
	}
	for _, c := range []struct{ x, force, rate, energy float64 }{
		{0, 0, 2, 0}, {1, 2, 4, 1}, {1 - 1e-15, 2, 4, 1}, {2, 9, 0, 5}, {2.5, 9, 0, 9.5}, {3, 9, 1, 14}, {5, 11, 1, 34}, {6, 11, 1, 34},
	} {
		x := units.Length(c.x)
		f, k, e := float64(line.Force(x)), float64(line.Rate(x)), float64(line.Energy(x))
		if f != c.force || k != c.rate || math.Abs(e-c.energy) > 1e-14 {
			t.Errorf("at %v m: %v N, %v N/m, %v J; want %v, %v, %v", c.x, f, k, e, c.force, c.rate, c.energy)
		}
	}
}
