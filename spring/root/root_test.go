package root_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/root"
)

// Roots of published test functions. The anchors of Alefeld, Potra and Shi
// (Algorithm 748, ACM TOMS 21 (1995) 327–344; volume and pages from memory)
// were seen in independent public test files; the others are closed forms.
func TestFindPublishedFunctions(t *testing.T) {
	poles := func(x float64) float64 {
		sum := 0.0
		for i := 1.0; i <= 20; i++ {
			d := x - i*i
			sum += (2*i - 5) * (2*i - 5) / (d * d * d)
		}
		return -2 * sum
	}
	for _, test := range []struct {
		name         string
		f            func(float64) float64
		lo, hi, zero float64
	}{
		{"sin x − x/2", func(x float64) float64 { return math.Sin(x) - x/2 }, math.Pi / 2, math.Pi, 1.895494267033981},
		{"twenty poles, first interval", poles, 1 + 1e-9, 4 - 1e-9, 3.022915347273057},
		// Five that Chandrupatla tries his method on (the choice from memory; the
		// roots are closed forms, the cubic's is Wallis's).
		{"x³ − 2x − 5", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265},
		{"1 − 1/x²", func(x float64) float64 { return 1 - 1/(x*x) }, 0.5, 1.51, 1},
		{"(x − 3)³", func(x float64) float64 { return math.Pow(x-3, 3) }, 0, 5, 3},
		{"6(x − 2)⁵", func(x float64) float64 { return 6 * math.Pow(x-2, 5) }, 0, 5, 2},
		{"x¹⁹ − ½", func(x float64) float64 { return math.Pow(x, 19) - 0.5 }, -1, 4, math.Pow(0.5, 1.0/19)},
		{"x² − 2", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2},
		{"eˣ − 5", func(x float64) float64 { return math.Exp(x) - 5 }, 0, 3, math.Log(5)},
		{"a zero close to an end", func(x float64) float64 { return math.Log(x / 1e-3) }, 1e-6, 1e3, 1e-3},
		{"1e-200·(x − 0.3)", func(x float64) float64 { return 1e-200 * (x - 0.3) }, 0, 1, 0.3},
		{"subnormal values", func(x float64) float64 { return 1e-300 * 1e-10 * (x - 0.3) }, 0, 1, 0.3},
		{"a kink", func(x float64) float64 { return math.Max(x-0.5, 100*(x-0.5)) }, 0, 1, 0.5},
	} {
		n := 0
		got, err := root.Find(func(x float64) float64 { n++; return test.f(x) }, test.lo, test.hi, 1e-15)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if math.Abs(got-test.zero) > 1e-12*math.Max(1, test.zero) {
			// Far down the float64 range the values themselves are coarse.
			if test.name != "subnormal values" || math.Abs(got-test.zero) > 1e-12 {
				t.Errorf("%s: %.17g, want %.17g", test.name, got, test.zero)
			}
		}
		if n > 62 { // the ends among them
			t.Errorf("%s: %d evaluations", test.name, n)
		}
	}
	// x⁹ is so flat that every x within 1e-12 of 0 counts; it must end, and near.
	nine := func(x float64) float64 { return math.Pow(x, 9) }
	if got, err := root.Find(nine, -1, 1.5, 1e-15); err != nil || math.Abs(got) > 1e-12 {
		t.Errorf("x⁹: %v, %v", got, err)
	}
}

func TestFindRefusesJumpsAndNaN(t *testing.T) {
	step := func(x float64) float64 { return math.Copysign(1, x-0.3) }
	pole := func(x float64) float64 { return 1 / (x - 0.3) }
	hole := func(x float64) float64 {
		if x > 0.2 && x < 0.8 {
			return math.NaN()
		}
		return x - 0.5
	}
	for _, test := range []struct {
		name string
		f    func(float64) float64
		want error
	}{{"a step", step, root.ErrJump}, {"a pole", pole, root.ErrJump}, {"NaN inside", hole, root.ErrNotFinite}} {
		x, err := root.Find(test.f, 0, 1, 1e-14)
		if at := map[bool]float64{true: 0.3, false: 0}[test.want == root.ErrJump]; err != test.want || math.Abs(x-at) > 1e-15 {
			t.Errorf("%s: %v, %v", test.name, x, err)
		}
	}
}

// The zero is found to within the tolerance that is asked for, and no later
// than by halving, whether the function is straight, curved or flat there.
func TestFindKeepsItsTolerance(t *testing.T) {
	for name, f := range map[string]func(d float64) float64{ // of the distance from the zero
		"line": func(d float64) float64 { return 3 * d }, "cube": func(d float64) float64 { return d * d * d },
		"ninth power": func(d float64) float64 { return math.Pow(d, 9) },
		"curve":       func(d float64) float64 { return math.Exp(5*d) - 1 },
		"kink":        func(d float64) float64 { return math.Max(d, 7*d) },
	} {
		for _, xtol := range []float64{0.1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-8} {
			if flat := name == "cube" || name == "ninth power"; xtol > 1e-4 && !flat {
				continue // too coarse to tell a zero from a jump of a millionth
			}
			for zero := 0.031; zero < 1; zero += 0.0313 {
				n := 0
				g := func(x float64) float64 { n++; return f(x - zero) }
				got, err := root.Find(g, 0, 1, xtol)
				if err != nil || math.Abs(got-zero) > xtol {
					t.Errorf("%s: zero %v within %g: %v, %v", name, zero, xtol, got, err)
				}
				if most := 4 * (math.Log2(1/xtol) + 4); float64(n) > most {
					t.Errorf("%s: zero %v within %g: %d looks, more than %v", name, zero, xtol, n, most)
				}
			}
		}
	}
}

// Seen in a mirror a function has its zero there, found in as many steps; so
// it is turned upside down, and in other units, by powers of 2 that round nothing.
func TestFindMirroredAndScaled(t *testing.T) {
	for name, c := range map[string]struct {
		f      func(x float64) float64
		lo, hi float64
		zero   float64
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
			x, err := root.Find(func(x float64) float64 { n++; return f(x) }, lo, hi, tol)
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			return x, n
		}
		x, n := looks(c.f, c.lo, c.hi, xtol)
		if math.Abs(x-c.zero) > xtol {
			t.Errorf("%s: %.17g, want %.17g", name, x, c.zero)
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
func TestFindAtTheLeastAndTheGreatestValues(t *testing.T) {
	for i := 1; i < 40; i++ {
		zero := float64(i) / 40
		stairs := func(x float64) float64 { return 5e-324 * math.Round(20*(x-zero)) }
		if x, err := root.Find(stairs, 0, 1, 1e-14); err != nil || stairs(x) != 0 {
			t.Errorf("stairs to %v: %v, %v", zero, x, err)
		}
		great := func(x float64) float64 { return 1.7e308 * math.Tanh(4*(x-zero)) }
		n := 0
		x, err := root.Find(func(x float64) float64 { n++; return great(x) }, 0, 1, 1e-14)
		if err != nil || math.Abs(x-zero) > 1e-13 || n > 60 {
			t.Errorf("great values about %v: %v after %d looks, %v", zero, x, n, err)
		}
	}
}

// What is no bracket is refused, and an end that is a root is returned as it is.
func TestFindAtTheEndsOfItsInterval(t *testing.T) {
	line := func(x float64) float64 { return x - 1 }
	for _, test := range []struct {
		lo, hi, want float64
		err          error
	}{
		{1, 2, 1, nil}, {0, 1, 1, nil}, {2, 1, 1, nil}, {1, 1, 1, nil}, {3, -1, 1, nil},
		{2, 3, 0, root.ErrNoBracket}, {-3, 0, 0, root.ErrNoBracket}, {2, 2, 0, root.ErrNoBracket},
		{math.NaN(), 2, 0, root.ErrNotFinite}, {0, math.Inf(1), 0, root.ErrNotFinite}, {math.Inf(-1), 5, 0, root.ErrNotFinite},
	} {
		x, err := root.Find(line, test.lo, test.hi, 1e-15)
		if !errors.Is(err, test.err) || math.Abs(x-test.want) > 1e-15 {
			t.Errorf("from %v to %v: %v, %v, want %v, %v", test.lo, test.hi, x, err, test.want, test.err)
		}
	}
	for what, f := range map[string]func(float64) float64{
		"NaN at an end":      func(x float64) float64 { return math.Log(x - 1) },
		"infinite at an end": func(x float64) float64 { return 1 / x },
	} {
		if x, err := root.Find(f, 0, 2, 1e-12); !errors.Is(err, root.ErrNotFinite) || x != 0 {
			t.Errorf("%s: %v, %v", what, x, err)
		}
	}
}

// Refine takes the values at the ends as given, and finds what Find does.
func TestRefineDoesNotEvaluateTheEnds(t *testing.T) {
	f := func(x float64) float64 {
		if x <= 0 || x >= 2 {
			t.Errorf("evaluated at the end %v", x)
		}
		return x*x - 2
	}
	if x, err := root.Refine(f, 0, 2, -2, 2, 1e-15); err != nil || math.Abs(x-math.Sqrt2) > 1e-15 {
		t.Errorf("%v, %v", x, err)
	}
	if x, err := root.Refine(f, 0, 2, 0, 2, 1e-15); err != nil || x != 0 {
		t.Errorf("a root at the lower end: %v, %v", x, err)
	}
	if _, err := root.Refine(f, 0, 2, 1, 2, 1e-15); err != root.ErrNoBracket {
		t.Errorf("the same signs: %v", err)
	}
}

// x·eˣ = 1 by another way: between 0 and 1, where it is −1 and e − 1.
func ExampleRefine() {
	x, err := root.Refine(func(x float64) float64 { return x*math.Exp(x) - 1 }, 0, 1, -1, math.E-1, 1e-15)
	fmt.Printf("%.12f %v\n", x, err)
	// Output: 0.567143290410 <nil>
}

// x·eˣ = 1 at the omega constant, 0.567143290409783873 (OEIS A030178, from memory).
func ExampleFind() {
	x, err := root.Find(func(x float64) float64 { return x*math.Exp(x) - 1 }, 0, 1, 1e-15)
	fmt.Printf("%.12f %v\n", x, err)
	// Output: 0.567143290410 <nil>
}
