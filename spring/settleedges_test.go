package spring

import (
	"errors"
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// A law that answers NaN or an infinity at one of its ends is none.
func TestSettleRefusesHalfALaw(t *testing.T) {
	for _, none := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for name, law := range map[string]Law{
			"at the start": lawOf(func(x float64) float64 {
				if x == 0 {
					return none
				}
				return x
			}, 1),
			"at the end": lawOf(func(x float64) float64 {
				if x == 1 {
					return none
				}
				return x
			}, 1),
		} {
			if x, err := Settle(law, 0.5); x != 0 || err != ErrLaw {
				t.Errorf("%v %s: %v, %v", none, name, x, err)
			}
		}
	}
}

// On a line the first look, by the chord, is at the answer; rounding makes one
// or two more of it. Curves take a few more, and a kink or a steep middle
// fewer than halving does, which takes 44.
func TestSettleTakesFewLooksOnAverage(t *testing.T) {
	for _, c := range []struct {
		name  string
		force func(x float64) float64
		most  float64
		mean  float64
	}{
		{"a line", func(x float64) float64 { return 9e3 * (x + 0.01) }, 5, 3.5},
		{"a parabola", func(x float64) float64 { return 5e3*x + 3e4*x*x }, 10, 8.5},
		{"a gas", func(x float64) float64 { return 1000 * (math.Pow(1/(1-x/0.16*(1-1/2.8)), 1.3) - 0.2) }, 12, 9.5},
		{"a steep middle", func(x float64) float64 { return 1000 * math.Atan(1e4*(x-0.05)) }, 24, 20},
		{"a kink", func(x float64) float64 { return math.Max(1000*x, 1000*x+50000*(x-0.08)) }, 20, 8},
	} {
		sum, most := 0, 0
		for i := 1; i < 200; i++ {
			law := lawOf(c.force, 0.16)
			load := c.force(0) + (c.force(0.16)-c.force(0))*float64(i)/200
			x, err := Settle(law, units.Force(load))
			if back := c.force(float64(x)); err != nil || math.Abs(back-load) > 1e-8*(c.force(0.16)-c.force(0)) {
				t.Errorf("%s under %v: %v, %v", c.name, load, x, err)
			}
			sum, most = sum+*law.asked, max(most, *law.asked)
		}
		if mean := float64(sum) / 199; mean > c.mean || float64(most) > c.most {
			t.Errorf("%s: %v looks on average, %d at the most, want %v and %v", c.name, mean, most, c.mean, c.most)
		}
	}
}

// The root is found to within the tolerance that is asked for, and no later
// than by halving, whether the function is straight, curved or flat there.
func TestBracketKeepsItsTolerance(t *testing.T) {
	for name, f := range map[string]func(d float64) float64{ // of the distance from the root
		"line": func(d float64) float64 { return 3 * d }, "cube": func(d float64) float64 { return d * d * d },
		"ninth power": func(d float64) float64 { return math.Pow(d, 9) },
		"curve":       func(d float64) float64 { return math.Exp(5*d) - 1 },
		"kink":        func(d float64) float64 { return math.Max(d, 7*d) },
	} {
		for _, xtol := range []float64{0.1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-8} {
			if flat := name == "cube" || name == "ninth power"; xtol > 1e-4 && !flat {
				continue // too coarse to tell a root from a jump of a millionth
			}
			for root := 0.031; root < 1; root += 0.0313 {
				n := 0
				g := func(x float64) float64 { n++; return f(x - root) }
				got, err := bracket(g, 0, 1, f(-root), f(1-root), xtol)
				if err != nil || math.Abs(got-root) > xtol {
					t.Errorf("%s: root %v within %g: %v, %v", name, root, xtol, got, err)
				}
				if most := 4 * (math.Log2(1/xtol) + 4); float64(n) > most {
					t.Errorf("%s: root %v within %g: %d looks, more than %v", name, root, xtol, n, most)
				}
			}
		}
	}
}

// Seen in a mirror a function has its root there, found in as many steps; so
// it is turned upside down, and in other units, by powers of 2 that round nothing.
func TestBracketMirroredAndScaled(t *testing.T) {
	for name, c := range map[string]struct {
		f      func(x float64) float64
		lo, hi float64
		root   float64
	}{
		"square": {func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2},
		"power":  {func(x float64) float64 { return math.Exp(x) - 5 }, 0, 3, math.Log(5)},
		"a rest": {func(x float64) float64 { return 1/(1+1e-9-x) - 2e7 }, 0, 1, 1 + 1e-9 - 0.5e-7},
		// By 100 of 1e9, which is no more than Settle minds, though the near end is but at -50.
		"small jump": {func(x float64) float64 {
			f := x - 50.5 + 1e10*math.Max(x-0.9, 0)
			if x > 0.5 {
				f += 100
			}
			return f
		}, 0, 1, 0.5},
		"far rest": {func(x float64) float64 { return 1/(1+1e-9-x) - 1e5 }, 0, 1, 1 + 1e-9 - 1e-5},
		"early":    {func(x float64) float64 { return x + x*x/64 - 0x1p-26*(1+0x1p-32) }, 0, 1, 0x1p-26},
		"a kink":   {func(x float64) float64 { return math.Max(x-0.7, 100*(x-0.7)) }, 0, 1, 0.7},
	} {
		const xtol = 1e-13
		looks := func(f func(float64) float64, lo, hi, tol float64) (float64, int) {
			n := 0
			x, err := bracket(func(x float64) float64 { n++; return f(x) }, lo, hi, f(lo), f(hi), tol)
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			return x, n
		}
		x, n := looks(c.f, c.lo, c.hi, xtol)
		if math.Abs(x-c.root) > xtol {
			t.Errorf("%s: %.17g, want %.17g", name, x, c.root)
		}
		for what, m := range map[string]struct {
			f         func(float64) float64
			lo, hi, s float64
		}{
			"mirrored":       {func(x float64) float64 { return c.f(-x) }, -c.hi, -c.lo, -1},
			"upside down":    {func(x float64) float64 { return -c.f(x) }, c.lo, c.hi, 1},
			"turned":         {func(x float64) float64 { return -c.f(-x) }, -c.hi, -c.lo, -1},
			"stronger":       {func(x float64) float64 { return 0x1p300 * c.f(x) }, c.lo, c.hi, 1},
			"weaker":         {func(x float64) float64 { return 0x1p-300 * c.f(x) }, c.lo, c.hi, 1},
			"strongest":      {func(x float64) float64 { return 0x1p980 * c.f(x) }, c.lo, c.hi, 1},
			"weakest":        {func(x float64) float64 { return 0x1p-990 * c.f(x) }, c.lo, c.hi, 1},
			"in nanometres":  {func(x float64) float64 { return c.f(x * 0x1p-30) }, c.lo * 0x1p30, c.hi * 0x1p30, 0x1p30},
			"in light years": {func(x float64) float64 { return c.f(x * 0x1p53) }, c.lo * 0x1p-53, c.hi * 0x1p-53, 0x1p-53},
		} {
			y, k := looks(m.f, m.lo, m.hi, xtol*math.Abs(m.s))
			if what == "mirrored" || what == "turned" { // the ends change places, and with them the rounding
				if math.Abs(y/m.s-x) > 2*xtol || k > 2*n {
					t.Errorf("%s %s: %.17g after %d looks, want %.17g after about %d", name, what, y, k, x*m.s, n)
				}
				continue
			}
			if y != x*m.s || k != n {
				t.Errorf("%s %s: %.17g after %d looks, want %.17g after %d", name, what, y, k, x*m.s, n)
			}
		}
	}
}

// Functions as small, and as large, as float64 has them: stairs of the least
// numbers, and values whose difference overflows.
func TestBracketOfTheLeastAndTheGreatest(t *testing.T) {
	for i := 1; i < 40; i++ {
		root := float64(i) / 40
		stairs := func(x float64) float64 { return 5e-324 * math.Round(20*(x-root)) }
		if x, err := bracket(stairs, 0, 1, -5e-324*math.Ceil(20*root), 5e-324*math.Ceil(20*(1-root)), 1e-14); err != nil || stairs(x) != 0 {
			t.Errorf("stairs to %v: %v, %v", root, x, err)
		}
		great := func(x float64) float64 { return 1.7e308 * math.Tanh(4*(x-root)) }
		n := 0
		x, err := bracket(func(x float64) float64 { n++; return great(x) }, 0, 1, great(0), great(1), 1e-14)
		if err != nil || math.Abs(x-root) > 1e-13 || n > 60 {
			t.Errorf("great values about %v: %v after %d looks, %v", root, x, n, err)
		}
	}
}

// A jump is told as soon as the interval has closed a thousand times closer
// than to the tolerance: after some 53 halvings for 1e-13, wherever it is.
func TestSettleTellsAJumpSoon(t *testing.T) {
	for _, at := range []float64{1e-9, 1e-3, 0.3, 0.9} {
		law := lawOf(func(x float64) float64 {
			if x > at {
				return 1
			}
			return 0
		}, 1)
		if x, err := Settle(law, 0.4); !errors.Is(err, ErrJump) || x != 0 || *law.asked > 60 {
			t.Errorf("a jump at %v: %v, %v after %d looks", at, x, err, *law.asked)
		}
	}
}
