package calibration_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring/internal/calibration"
	"example.com/wheelrate/spring/root"
)

// chambers is a spring by its partial fractions, Φ = a/(h − s) − b/(k + s), in SI units.
type chambers struct{ a, h, b, k float64 }

var (
	single = chambers{a: 290e-6, h: 0.319}
	double = chambers{a: 250e-6, h: 0.275, b: 81e-6, k: 0.084}
)

func (c chambers) phi(s float64) float64 {
	if c.b == 0 {
		return c.a / (c.h - s)
	}
	return c.a/(c.h-s) - c.b/(c.k+s)
}

// points returns exact points.
func (c chambers) points(strokes ...float64) (list []calibration.Point) {
	for _, s := range strokes {
		list = append(list, calibration.Point{Stroke: s, Phi: c.phi(s)})
	}
	return list
}

func fit(t *testing.T, points []calibration.Point, ring float64, negative bool) calibration.Solution {
	t.Helper()
	s, ok := calibration.Fit(points, ring, negative)
	if !ok {
		t.Fatal("no shape")
	}
	return s
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.17g, want %.17g", what, got, want)
	}
}

// Exact points give the spring back: Φ, its slope by differences, its integral by Simpson's rule, and
// the stroke that has a Φ.
func TestExactPointsGiveTheShape(t *testing.T) {
	for _, c := range []chambers{single, double, {a: 250e-6, h: 0.275, b: 10e-6, k: 0.07}, {a: 60e-6, h: 0.06, b: 160e-6, k: 0.2}} {
		strokes := []float64{0.012, 0.02, 0.03, 0.045}
		s := fit(t, c.points(strokes...), 1e-3, c.b > 0)
		near(t, "length", s.Length(), c.h, 1e-9)
		if s.AtLimit {
			t.Errorf("%+v: at a limit", c)
		}
		for _, at := range []float64{0, 0.01, 0.02, 0.05} {
			near(t, "Φ", s.Phi(at), c.phi(at), 1e-9)
			const h = 1e-5
			near(t, "slope", s.Slope(at), (c.phi(at+h)-c.phi(at-h))/(2*h), 1e-6)
			near(t, "stroke", s.Stroke(c.phi(at+0.005)), at+0.005, 1e-9)
			sum := 0.0
			const n = 200
			for i := range n {
				from, step := at*float64(i)/n, at/n
				sum += step / 6 * (c.phi(from) + 4*c.phi(from+step/2) + c.phi(from+step))
			}
			near(t, "integral", s.Integral(at), sum, 1e-9)
		}
		for i, l := range s.Leverage {
			if n := len(strokes); c.b > 0 && math.Abs(l-1) > 1e-9 || !(l > 0 && l < 1+1e-12) {
				t.Errorf("leverage of point %d of %d: %v", i, n, l)
			}
		}
	}
}

// squares is the sum that Fit makes least, for a spring by its partial fractions: strokes by a root
// finder, slopes by differences.
func (c chambers) squares(t *testing.T, points []calibration.Point, ring float64) float64 {
	t.Helper()
	sum := 0.0
	for _, p := range points {
		s, err := root.Find(func(s float64) float64 { return c.phi(s) - p.Phi }, -0.9*c.k, 0.999*c.h, 1e-15)
		if err != nil {
			t.Fatal(err)
		}
		slope := (c.phi(s+1e-7) - c.phi(s-1e-7)) / 2e-7
		sum += (p.Stroke - s) * (p.Stroke - s) / (ring*ring + p.Blur/slope*(p.Blur/slope))
	}
	return sum
}

// No spring near the one found has a lesser sum of squares, with and without errors of Φ.
func TestFitHasTheLeastSumOfSquares(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for n := range 20 {
		c := []chambers{{a: 290e-6, h: 0.319, k: 0.001}, double}[n%2]
		points := c.points(0.01, 0.02, 0.03, 0.05, 0.07, 0.1, 0.13)
		for i := range points {
			points[i].Stroke += 3e-4 * r.NormFloat64()
			if n%4 > 1 {
				points[i].Blur = points[i].Phi * 0.02 * r.Float64()
			}
		}
		const ring = 3e-4
		s := fit(t, points, ring, c.b > 0)
		if s.AtLimit {
			continue
		}
		// The partial fractions of the shape, from four of its values, by Newton's method from the truth.
		found := fractions(t, s, c)
		least := found.squares(t, points, ring)
		for range 300 {
			moved, far := found, math.Pow(10, -2.5-3*r.Float64())
			for _, v := range []*float64{&moved.a, &moved.h, &moved.b, &moved.k} {
				*v *= 1 + far*r.NormFloat64()
			}
			if sum := moved.squares(t, points, ring); sum < least*(1-2e-8) {
				t.Fatalf("case %d: %+v has the sum %v, less than %v", n, moved, sum, least)
			}
		}
	}
}

// fractions returns the partial fractions of a shape without the use of its coefficients.
func fractions(t *testing.T, s calibration.Solution, start chambers) chambers {
	t.Helper()
	values, _ := s.Chambers(0) // bore, positive volume, negative volume, port
	c := chambers{a: values[1], h: s.Length()}
	if start.b == 0 {
		c.k = start.k
		return c
	}
	// V_n = k·(A_p − 0) with A_p = a/h, and b from Φ at one stroke.
	c.k = values[2] / (c.a / c.h)
	c.b = (c.a/(c.h-0.05) - s.Phi(0.05)) * (c.k + 0.05)
	for _, at := range []float64{0.01, 0.03, 0.1} {
		near(t, "partial fractions", c.phi(at), s.Phi(at), 1e-9)
	}
	return c
}

// The standard error of Φ is its scatter when strokes and Φ scatter.
func TestPhiErrorIsTheScatter(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	for _, c := range []chambers{single, double} {
		const ring, n = 2e-5, 600
		exact := c.points(0.01, 0.02, 0.04, 0.06, 0.09, 0.12)
		for i := range exact {
			exact[i].Blur = exact[i].Phi * 2e-4
		}
		s := fit(t, exact, ring, c.b > 0)
		for _, at := range []float64{0.015, 0.05, 0.14} {
			sum := 0.0
			for range n {
				points := append([]calibration.Point(nil), exact...)
				for i := range points {
					points[i].Stroke += ring * r.NormFloat64()
					points[i].Phi += points[i].Blur * r.NormFloat64()
				}
				f := fit(t, points, ring, c.b > 0)
				d := f.Phi(at) - c.phi(at)
				sum += d * d / n
			}
			if ratio := math.Sqrt(sum) / s.PhiError(at); !(math.Abs(ratio-1) < 0.1) {
				t.Errorf("at %v: scatter is %v standard errors", at, ratio)
			}
		}
	}
}

// Residuals larger than the errors stated widen the standard errors in proportion, smaller ones don't.
func TestErrorsGrowWithTheResiduals(t *testing.T) {
	points := single.points(0.02, 0.04, 0.06, 0.08)
	points[0].Stroke, points[3].Stroke = points[0].Stroke+0.009, points[3].Stroke-0.009
	wide, narrow := fit(t, points, 1e-3, false), fit(t, points, 1e-6, false)
	near(t, "the error", narrow.PhiError(0.05), wide.PhiError(0.05), 1e-6)
	exact := single.points(0.02, 0.04, 0.06, 0.08)
	one, ten := fit(t, exact, 1e-4, false), fit(t, exact, 1e-3, false)
	near(t, "ten times the error", ten.PhiError(0.05), 10*one.PhiError(0.05), 1e-6)
}

// Points that no spring has within its limits give one at a limit, which keeps rising.
func TestShapesStayThoseOfSprings(t *testing.T) {
	for what, points := range map[string][]calibration.Point{
		"a coil":          {{Stroke: 0.01, Phi: 2e-4}, {Stroke: 0.02, Phi: 4e-4}, {Stroke: 0.03, Phi: 6e-4}, {Stroke: 0.04, Phi: 8e-4}, {Stroke: 0.05, Phi: 1e-3}},
		"falling rate":    {{Stroke: 0.01, Phi: 2e-4}, {Stroke: 0.02, Phi: 5e-4}, {Stroke: 0.03, Phi: 7e-4}, {Stroke: 0.04, Phi: 8e-4}, {Stroke: 0.05, Phi: 8.2e-4}},
		"steep at an end": {{Stroke: 0.01, Phi: 2e-4}, {Stroke: 0.02, Phi: 2.1e-4}, {Stroke: 0.03, Phi: 2.2e-4}, {Stroke: 0.04, Phi: 2.3e-4}, {Stroke: 0.0401, Phi: 9e-3}},
	} {
		s := fit(t, points, 1e-3, true)
		if !s.AtLimit {
			t.Errorf("%s: not at a limit", what)
		}
		before := math.Inf(-1)
		for i := range 101 {
			at := points[4].Stroke * float64(i) / 100
			if phi := s.Phi(at); !(phi > before) || !(s.Slope(at) > 0) || math.IsInf(phi, 0) {
				t.Errorf("%s: Φ %v at %v, slope %v", what, phi, at, s.Slope(at))
			} else {
				before = phi
			}
		}
		if !(s.Length() > points[4].Stroke) {
			t.Errorf("%s: the chamber ends at %v", what, s.Length())
		}
	}
}

func TestFallingStrokesHaveNoShape(t *testing.T) {
	for _, negative := range []bool{false, true} {
		points := double.points(0.05, 0.04, 0.03, 0.02)
		for i := range points {
			points[i].Phi = double.phi(0.07 - points[i].Stroke)
		}
		if _, ok := calibration.Fit(points, 1e-3, negative); ok {
			t.Errorf("negative chamber %v: strokes that fall with Φ are taken", negative)
		}
	}
}

// With errors of the ring alone, one chamber is the regression of the stroke on 1/Φ: the error of the
// stroke at a 1/Φ is the textbook's, s·√(1/n + (y − ȳ)²/Σ(y − ȳ)²) with s² = Σr²/(n − 2).
func TestOneChamberIsARegression(t *testing.T) {
	points := single.points(0.02, 0.035, 0.06, 0.08, 0.11)
	for i, off := range []float64{0.004, -0.006, 0.003, 0.005, -0.004} {
		points[i].Stroke += off
	}
	s := fit(t, points, 1e-3, false)
	var y, x, yy, xy float64
	n := float64(len(points))
	for _, p := range points {
		y, x = y+1/p.Phi/n, x+p.Stroke/n
	}
	for _, p := range points {
		yy, xy = yy+(1/p.Phi-y)*(1/p.Phi-y), xy+(1/p.Phi-y)*(p.Stroke-x)
	}
	squares := 0.0
	for i, p := range points {
		r := p.Stroke - x - xy/yy*(1/p.Phi-y)
		squares += r * r
		near(t, "stroke", s.Stroke(p.Phi), p.Stroke-r, 1e-9)
		near(t, "leverage", s.Leverage[i], 1/n+(1/p.Phi-y)*(1/p.Phi-y)/yy, 1e-8)
	}
	for _, at := range []float64{0.03, 0.07} {
		d := 1/s.Phi(at) - y
		want := math.Sqrt(squares/(n-2)*(1/n+d*d/yy)) * s.Slope(at)
		near(t, "error of Φ", s.PhiError(at), want, 1e-8)
	}
	// The slope of the line is the volume.
	volume, deviations := s.Chambers(0)
	near(t, "volume", volume[1], -xy/yy, 1e-9)
	near(t, "error of the volume", deviations[1], math.Sqrt(squares/(n-2)/yy), 1e-8)
}

// The chambers of a shape, and their errors by differences of fits.
func TestChambersFollowFromTheShape(t *testing.T) {
	for _, c := range []chambers{double, {a: 60e-6, h: 0.15, b: 92e-6, k: 0.3}} {
		checkChambers(t, c)
	}
}

func checkChambers(t *testing.T, double chambers) {
	t.Helper()
	const shaft = 8e-5
	strokes := []float64{0.02, 0.05, 0.09, 0.13}
	s := fit(t, double.points(strokes...), 1e-7, true)
	values, deviations := s.Chambers(shaft)
	piston := double.a / double.h
	volume := double.k * (piston - shaft)
	q := double.b / volume
	for i, want := range []float64{math.Sqrt(4 / math.Pi * piston), double.a, volume, double.h * double.k * (q - 1) / (q*double.k + double.h)} {
		near(t, "chamber", values[i], want, 1e-7)
	}
	var sum [4]float64
	for i := range strokes {
		points := double.points(strokes...)
		points[i].Stroke += 1e-7
		f := fit(t, points, 1e-7, true)
		moved, _ := f.Chambers(shaft)
		for k := range sum {
			sum[k] = math.Hypot(sum[k], moved[k]-values[k])
		}
	}
	for k := range sum {
		near(t, "error of a chamber", deviations[k], sum[k], 1e-2)
	}
}
