package hermite_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/linkage/internal/hermite"
)

// power returns the jet of Σ c[k]·xᵏ, by Horner's rule for each derivative.
func power(c []float64, x float64) hermite.Jet {
	var j hermite.Jet
	for k := len(c) - 1; k >= 0; k-- {
		j.Second = j.Second*x + 2*j.Slope
		j.Slope = j.Slope*x + j.Value
		j.Value = j.Value*x + c[k]
	}
	return j
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// A polynomial of fifth degree is its own quintic, and one of third degree its
// own cubic, with all derivatives.
func TestPolynomialsAreReproduced(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for range 300 {
		from, h := rng.NormFloat64(), math.Pow(10, 2*rng.Float64()-1)
		c := make([]float64, 6)
		for k := range c {
			c[k] = rng.NormFloat64() * math.Pow(h, -float64(k)) / float64(1+k*k)
		}
		a, b := power(c, from), power(c, from+h)
		q := hermite.New(h, a, b)
		cubic := c[:4]
		ca, cb := power(cubic, from), power(cubic, from+h)
		p, s := hermite.Cubic(h, ca, cb), hermite.Smooth(h, ca, cb)
		size := 0.0 // of what cancels
		for k := range c {
			size += math.Abs(c[k]) * math.Pow(math.Abs(from)+h, float64(k))
		}
		for _, x := range []float64{0, 0.2, 0.5, 0.9, 1} {
			u := x * h
			want := power(c, from+u)
			near(t, "value", q.Value(u), want.Value, 1e-13*size)
			near(t, "slope", q.Slope(u), want.Slope, 1e-12*size/h)
			near(t, "second derivative", q.Second(u), want.Second, 1e-11*size/h/h)
			cw := power(cubic, from+u)
			near(t, "cubic", p.Value(u), cw.Value, 1e-13*size)
			near(t, "slope of the cubic", p.Slope(u), cw.Slope, 1e-12*size/h)
			near(t, "smooth cubic", s.Value(u), cw.Value, 1e-13*size)
			near(t, "second derivative of the smooth cubic", s.Second(u), cw.Second, 1e-12*size/h/h)
		}
	}
}

// The cubic 3u² − 2u³ on [0, 1] has slopes 0 at both ends, by hand.
func TestCubicByHand(t *testing.T) {
	if got, want := hermite.Cubic(1, hermite.Jet{}, hermite.Jet{Value: 1}), (hermite.Quintic{0, 0, 3, -2}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}
