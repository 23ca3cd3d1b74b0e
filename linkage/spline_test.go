package linkage

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A cubic is its own not-a-knot spline, wherever the points are.
func TestSplineOfACubic(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for n := 4; n < 60; n++ {
		x, y, want := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range x {
			if i > 0 {
				x[i] = x[i-1] + math.Pow(10, -2*random.Float64())
			}
			x := x[i]
			y[i], want[i] = x*(2-x*(0.3-0.01*x)), 2-x*(0.6-0.03*x)
		}
		for i, got := range splineSlopes(x, y) {
			if math.Abs(got-want[i]) > 1e-11*(1+x[n-1]*x[n-1]) {
				t.Errorf("%d points: slope %v at %v, want %v", n, got, x[i], want[i])
			}
		}
	}
}

// gonum's NotAKnotCubic solves other equations for the same spline, those of the
// second derivatives.
func TestSplineAgainstSecondDerivatives(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		n := 4 + random.IntN(40)
		x, y := make([]float64, n), make([]float64, n)
		for i := 1; i < n; i++ {
			x[i] = x[i-1] + 0.01 + random.Float64()
			y[i] = y[i-1] + 3*random.Float64()
		}
		var other interp.NotAKnotCubic
		if err := other.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		greatest := 1.0
		slopes := splineSlopes(x, y)
		for _, s := range slopes {
			greatest = max(greatest, math.Abs(s))
		}
		for i, got := range slopes {
			if want := other.PredictDerivative(x[i]); math.Abs(got-want) > 1e-11*greatest {
				t.Errorf("%d points: slope %v at point %d, want %v", n, got, i, want)
			}
		}
	}
}

// Twice the points cost twice the memory, and not four times.
func TestSplineCostsInProportion(t *testing.T) {
	cost := func(n int) int {
		table := Table{Method: Smooth}
		for i := range n {
			s := 60 * units.Millimetre * units.Length(i) / units.Length(n-1)
			table.Stroke, table.Travel = append(table.Stroke, s), append(table.Travel, 2.5*s)
		}
		return unitstest.Allocated(func() {
			if _, err := NewTable(table); err != nil {
				t.Fatal(err)
			}
		})
	}
	cost(500)
	if once, twice := cost(500), cost(1000); twice > 3*once {
		t.Errorf("%d bytes for 500 points, %d for 1000", once, twice)
	}
}

// Budget: 0.2 ms for the longest table.
func BenchmarkLongSpline(b *testing.B) {
	x, y := make([]float64, maxPoints), make([]float64, maxPoints)
	for i := range x {
		x[i], y[i] = float64(i), 2.5*float64(i)
	}
	b.ReportAllocs()
	for b.Loop() {
		splineSlopes(x, y)
	}
}
