package root_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
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

func TestFindRefusesPolesAndNaN(t *testing.T) {
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
	}{{"a pole", pole, root.ErrJump}, {"NaN inside", hole, root.ErrNotFinite}} {
		x, err := root.Find(test.f, 0, 1, 1e-14)
		if at := map[bool]float64{true: 0.3, false: 0}[test.want == root.ErrJump]; err != test.want || math.Abs(x-at) > 1e-15 {
			t.Errorf("%s: %v, %v", test.name, x, err)
		}
	}
}

// The root is found to within the tolerance that is asked for, and no later
// than by halving, whether the function is straight, curved or flat there. Of
// all x that were evaluated the best is returned, and no step is shorter than
// half a thousandth of the tolerance.
func TestFindKeepsItsTolerance(t *testing.T) {
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
			for zero := 0.031; zero < 1; zero += 0.0313 {
				g, seen := recorded(func(x float64) float64 { return f(x - zero) })
				got, err := root.Find(g, 0, 1, xtol)
				if err != nil || math.Abs(got-zero) > xtol {
					t.Errorf("%s: root %v within %g: %v, %v", name, zero, xtol, got, err)
				}
				if most := 4 * (math.Log2(1/xtol) + 4); float64(len(*seen)) > most {
					t.Errorf("%s: root %v within %g: %d evaluations, more than %v", name, zero, xtol, len(*seen), most)
				}
				for _, x := range *seen {
					if math.Abs(f(x-zero)) < math.Abs(f(got-zero)) {
						t.Errorf("%s: root %v within %g: %v is returned, and %v was better", name, zero, xtol, got, x)
					}
				}
				steps := slices.Sorted(slices.Values((*seen)[2:])) // without the ends, which the chord may come near
				for i, x := range steps[1:] {
					if x-steps[i] < 0.499e-3*xtol {
						t.Errorf("%s: root %v within %g: a step from %v to %v", name, zero, xtol, steps[i], x)
					}
				}
			}
		}
	}
}

// recorded returns f and the list of the x that it is evaluated at.
func recorded(f func(float64) float64) (func(float64) float64, *[]float64) {
	var seen []float64
	return func(x float64) float64 { seen = append(seen, x); return f(x) }, &seen
}

// The two ends are evaluated, and the chord's root; a straight line has no
// more. Smooth functions take about ten evaluations, and the order of the ends
// does not matter. No x is evaluated twice.
func TestFindTakesFewEvaluations(t *testing.T) {
	for name, c := range map[string]struct {
		f    func(x, zero float64) float64
		mean float64 // evaluations
		most int
	}{
		"line":        {func(x, zero float64) float64 { return 3 * (x - zero) }, 3.3, 4},
		"exponential": {func(x, zero float64) float64 { return math.Exp(5*(x-zero)) - 1 }, 10.6, 11},
		"square":      {func(x, zero float64) float64 { return x*x - zero*zero }, 9.9, 15},
		"cube":        {func(x, zero float64) float64 { return x*x*x - zero*zero*zero }, 10.7, 15},
		"compression": {func(x, zero float64) float64 { return math.Pow(1.2-x, -1.4) - math.Pow(1.2-zero, -1.4) }, 10.3, 11},
		"saturation":  {func(x, zero float64) float64 { return math.Tanh(8 * (x - zero)) }, 10.1, 11},
	} {
		for _, ends := range [][2]float64{{0, 1}, {1, 0}} {
			sum, roots := 0, 0
			for zero := 0.031; zero < 1; zero += 0.0313 {
				f, seen := recorded(func(x float64) float64 { return c.f(x, zero) })
				if _, err := root.Find(f, ends[0], ends[1], 1e-12); err != nil || len(*seen) > c.most {
					t.Errorf("%s, root %v: %d evaluations, %v", name, zero, len(*seen), err)
				}
				slices.Sort(*seen)
				if once := slices.Compact(*seen); len(once) != len(*seen) {
					t.Errorf("%s, root %v: evaluated twice at one of %v", name, zero, *seen)
				}
				sum += len(*seen)
				roots++
			}
			if mean := float64(sum) / float64(roots); mean > c.mean {
				t.Errorf("%s from %v to %v: %.2f evaluations in the mean, want at most %v", name, ends[0], ends[1], mean, c.mean)
			}
		}
	}
}

// A jump past 0 is halved down to a thousandth of the tolerance, and no further;
// one of less than a millionth of the values at the ends passes for a root.
func TestFindTellsJumps(t *testing.T) {
	const zero = 1.0 / 3 // no halving meets it
	for _, side := range []float64{1, -1} {
		f, seen := recorded(func(x float64) float64 { return math.Copysign(1, side*x-zero) })
		x, err := root.Find(f, 0, side, 0x1p-10)
		if halvings := len(*seen) - 2; err != root.ErrJump || math.Abs(side*x-zero) > 0x1p-20 || halvings != 20 {
			t.Errorf("toward %v: %v after %d halvings, %v", side, x, halvings, err) // 2⁻¹⁰/1000 is a little more than 2⁻²⁰
		}
	}
	for _, row := range []struct {
		jump float64
		want error
	}{{0.9e-6, nil}, {1.1e-6, root.ErrJump}} {
		f := func(x float64) float64 { return math.Copysign(math.Abs(x-zero)+row.jump, x-zero) }
		if x, err := root.Find(f, zero-1, zero+0.5, 1e-12); err != row.want || math.Abs(x-zero) > 1e-12 {
			t.Errorf("a jump of ±%v: %v, %v", row.jump, x, err)
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
		evaluations := func(f func(float64) float64, lo, hi, tol float64) (float64, int) {
			n := 0
			x, err := root.Find(func(x float64) float64 { n++; return f(x) }, lo, hi, tol)
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			return x, n
		}
		x, n := evaluations(c.f, c.lo, c.hi, xtol)
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
			y, k := evaluations(m.f, m.lo, m.hi, xtol*math.Abs(m.s))
			if what == "mirrored" || what == "turned" { // the ends change places, and with them the rounding
				if math.Abs(y/m.s-x) > 2*xtol || k > 2*n {
					t.Errorf("%s %s: %.17g after %d evaluations, want %.17g after about %d", name, what, y, k, x*m.s, n)
				}
				continue
			}
			if y != x*m.s || k != n {
				t.Errorf("%s %s: %.17g after %d evaluations, want %.17g after %d", name, what, y, k, x*m.s, n)
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
		great, seen := recorded(great)
		x, err := root.Find(great, 0, 1, 1e-14)
		if n := len(*seen); err != nil || math.Abs(x-zero) > 1e-13 || n > 60 {
			t.Errorf("great values about %v: %v after %d evaluations, %v", zero, x, n, err)
		}
		if (*seen)[2] != 0.5 { // the chord's slope overflows
			t.Errorf("great values about %v: the first step is to %v, want the middle", zero, (*seen)[2])
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

// A tolerance of 0 or less leaves the rounding of x.
func TestFindWithoutTolerance(t *testing.T) {
	for _, tol := range []float64{0, -1} {
		x, err := root.Find(func(x float64) float64 { return x*x - 2 }, 0, 2, tol)
		if err != nil || math.Abs(x-math.Sqrt2) > 6*0x1p-52 {
			t.Errorf("a tolerance of %v: %.17g, %v", tol, x, err)
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
	// The chord's root is rounded to the upper end, which is known already.
	late := func(x float64) float64 { return math.Min(f(x), 1e-20) }
	if x, err := root.Refine(late, 0, 2, -2, 1e-20, 1e-15); err != nil || math.Abs(x-math.Sqrt2) > 1e-15+6*0x1p-52 {
		t.Errorf("a small value at an end: %v, %v", x, err)
	}
	for _, ends := range [][2]float64{{-1, math.Inf(1)}, {math.Inf(-1), 1}} {
		if x, err := root.Refine(f, ends[0], ends[1], -1, 1, 1e-12); err != root.ErrNotFinite || x != 0 {
			t.Errorf("finite values from %v to %v: %v, %v", ends[0], ends[1], x, err)
		}
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
