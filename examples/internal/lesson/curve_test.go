package lesson_test

import (
	"math"
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
)

// Every line of a curve is what a textbook says it is, wherever the sliders stand.
func TestCurvesAreThoseOfTextbooks(t *testing.T) {
	const piston = math.Pi / 4 * 36 * 36 // mm²
	gas := func(fill, exponent float64) func(float64) float64 {
		return func(x float64) float64 {
			return piston / 10 * ((fill+1.01325)*math.Pow(85e3/(85e3-piston*x), exponent) - 1.01325)
		}
	}
	wire := func(mean float64) func(float64) float64 {
		return func(d float64) float64 { return 79500 * math.Pow(d, 4) / (8 * mean * mean * mean * 6.5) }
	}
	spread := func(wire, coils float64) (all, alone float64) {
		const k = 79500 * 4096.0 / (8 * 43 * 43 * 43 * 6.5)
		alone = k * (4/8.0 + 3/43.0) * wire
		return math.Sqrt(alone*alone + k*k*(math.Pow(coils/6.5, 2)+math.Pow(3/43.0*0.1, 2)+math.Pow(500/79500.0, 2))), alone
	}
	fork := func(x float64) float64 { return piston / 10 * (6.01325*250e3/(250e3-piston*x) - 1.01325) }
	line := func(rate, preload float64) func(float64) float64 {
		return func(w float64) float64 { return rate * (preload + w/2.5) / 2.5 }
	}
	for _, test := range []struct {
		name  string
		at    lesson.Values
		lines []func(float64) float64
		level float64
	}{
		{"wire", lesson.Values{"wire": 9, "mean": 48}, []func(float64) float64{wire(48), func(d float64) float64 { return wire(48)(9) * d * d / 81 }}, 0},
		{"gas", lesson.Values{"fill": 7}, []func(float64) float64{gas(7, 1), gas(7, 1.3)}, 0},
		{"chambers", lesson.Values{"negative": 45}, []func(float64) float64{nil, fork}, 0},
		{"sure", lesson.Values{"coils": 0.15}, []func(float64) float64{
			func(w float64) float64 { all, _ := spread(w, 0.15); return all },
			func(w float64) float64 { exact, _ := spread(0, 0.15); _, alone := spread(w, 0); return exact + alone },
		}, 0},
		{"sag", lesson.Values{"rider": 110, "rate": 120}, []func(float64) float64{line(120, 0)}, carried(110)},
		{"preload", lesson.Values{"preload": 5, "rate": 70}, []func(float64) float64{line(70, 5), line(70, 0)}, carried(80)},
		{"drop", nil, []func(float64) float64{line(90, 0)}, carried(80)},
		{"fork", lesson.Values{"load": 500}, []func(float64) float64{func(a float64) float64 { return 500 * math.Sin(a*math.Pi/180) / 9 / 160 * 100 }}, 0},
	} {
		c, _ := view(t, test.name, test.at)
		for i, want := range test.lines {
			l := c.Curve.Lines[i]
			for j, x := range l.X {
				if want != nil && !(math.Abs(l.Y[j]-want(x)) <= 1e-6*math.Max(1, math.Abs(want(x)))) {
					t.Fatalf("%s, %s: %v at %v, want %v", test.name, l.Name, l.Y[j], x, want(x))
				}
			}
		}
		if level := c.Curve.Level; (level != nil) != (test.level != 0) || level != nil && math.Abs(level.Y-test.level) > 1e-6 {
			t.Errorf("%s: a level at %v, want %v", test.name, level, test.level)
		}
	}
}

// A rate added up over the travel is the force at its end, which the spring makes
// behind the last lever ratio.
func TestLeversRateAddsUpToTheForce(t *testing.T) {
	c, _ := view(t, "levers", lesson.Values{"stroke": 62.5, "rate": 110})
	n := now(t, "levers", lesson.Values{"stroke": 62.5, "rate": 110})
	l, sum := c.Curve.Lines[0], 0.0
	for i := 1; i < len(l.X); i++ {
		sum += (l.Y[i] + l.Y[i-1]) / 2 * (l.X[i] - l.X[i-1])
	}
	near(t, "force", sum, n[4], 2)
	near(t, "force by the ratio", n[4], 110*62.5/n[2], 2)
	first := c.Curve.Lines[1]
	near(t, "k/LR²", first.Y[len(first.Y)-1], 110/n[2]/n[2], 0.01)
}

// The curve over braking is what the lesson says with the brake at these places.
func TestPitchCurveIsTheLessonWithTheBrakeOn(t *testing.T) {
	c, _ := view(t, "pitch", nil)
	for i, x := range c.Curve.Lines[0].X {
		if i%5 == 0 {
			n := now(t, "pitch", lesson.Values{"braking": x})
			near(t, "front", c.Curve.Lines[0].Y[i], n[1], 0.051)
			near(t, "rear", c.Curve.Lines[1].Y[i], n[3], 0.051)
		}
	}
}
