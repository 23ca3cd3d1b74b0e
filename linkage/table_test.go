package linkage_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Tables against scipy 1.10.1 and against exact rational arithmetic; both are
// in testdata/tables.json.
func TestTableAgainstSciPyAndExactArithmetic(t *testing.T) {
	for _, ref := range refTables(t) {
		for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth} {
			t.Run(fmt.Sprintf("%s/%s", ref.Name, method), func(t *testing.T) {
				c := curve(t, ref.table(method))
				soundCurve(t, c)
				exact, scipy := ref.Exact[method], ref.SciPy[method]
				var travel []units.Length
				var ratio []float64
				var slope []units.RatioSlope
				for _, s := range ref.At {
					travel = append(travel, c.TravelAt(mm(s)))
					ratio = append(ratio, c.LeverRatio(mm(s)))
					slope = append(slope, c.LeverRatioSlope(mm(s)))
				}
				atoms := unitstest.Abs(1e-13 * units.Millimetre)
				unitstest.NearAll(t, "travel", travel, lengths(exact.Travel...), atoms)
				unitstest.NearAll(t, "travel (scipy)", travel, lengths(scipy.Travel...), atoms)
				unitstest.NearAll(t, "ratio", ratio, exact.Ratio, unitstest.Rel(1e-14))
				unitstest.NearAll(t, "ratio (scipy)", ratio, scipy.Ratio, unitstest.Rel(1e-14))
				wanted := make([]units.RatioSlope, len(exact.Slope))
				for i, v := range exact.Slope {
					wanted[i] = units.RatioSlope(v * 1e3) // 1/mm
				}
				unitstest.NearAll(t, "slope", slope, wanted, unitstest.Abs(1e-10*units.PerMetre))

				p := c.Progression()
				n := len(exact.Ratio) - 1
				unitstest.Near(t, "start", p.Start, exact.Ratio[0], unitstest.Rel(1e-14))
				unitstest.Near(t, "end", p.End, exact.Ratio[n], unitstest.Rel(1e-14))
				unitstest.Near(t, "least", p.Min, exact.Min, unitstest.Rel(1e-14))
				unitstest.Near(t, "greatest", p.Max, exact.Max, unitstest.Rel(1e-14))
				unitstest.Near(t, "progression", p.Value, 1-exact.Ratio[n]/exact.Ratio[0], unitstest.Rel(1e-13))

				// Backwards from the reference's travel.
				for i, w := range exact.Travel {
					unitstest.Near(t, "stroke", c.StrokeAt(mm(w)), mm(ref.At[i]), unitstest.Abs(1e-13*units.Millimetre))
				}
			})
		}
	}
}

// A hump inside is seen by the greatest ratio, not by the ends: table T3.
func TestProgressionSeesExtremesInside(t *testing.T) {
	ref := refTables(t)[2]
	p := curve(t, ref.table(linkage.Smooth)).Progression()
	if !(p.Max > p.Start+0.2) || !(p.Max > p.End+0.2) {
		t.Errorf("progression %+v of a table with a hump", p)
	}
}

func TestEmptyMethodIsMonotone(t *testing.T) {
	table := refTables(t)[0].table("")
	c, m := curve(t, table), curve(t, refTables(t)[0].table(linkage.Monotone))
	for s := range m.Samples(50) {
		if c.TravelAt(s.Stroke) != s.Travel || c.LeverRatio(s.Stroke) != s.LeverRatio {
			t.Fatalf("at %v: %v, want %v", s.Stroke, c.TravelAt(s.Stroke), s.Travel)
		}
	}
}

// Two points are a straight line, by hand.
func TestTwoPointsMakeAStraightLine(t *testing.T) {
	c := curve(t, linkage.Table{Stroke: lengths(0, 50), Travel: lengths(0, 125)})
	soundCurve(t, c)
	for s := range c.Samples(11) {
		unitstest.Near(t, "travel", s.Travel, 2.5*s.Stroke, unitstest.Abs(units.Length(1e-16)))
		unitstest.Near(t, "ratio", s.LeverRatio, 2.5, unitstest.Rel(1e-15))
		unitstest.Near(t, "slope", s.LeverRatioSlope, 0, unitstest.Abs(units.RatioSlope(1e-12)))
	}
}

// A spline through points of a cubic is that cubic (uniqueness), here
// w = 3s − 8s² + 40s³ in metres over 60 mm, at uneven points.
func TestSmoothReproducesACubic(t *testing.T) {
	w := func(s float64) float64 { return 3*s - 8*s*s + 40*s*s*s }
	var table linkage.Table
	for _, s := range []float64{0, 0.004, 0.017, 0.02, 0.035, 0.051, 0.06} {
		table.Stroke = append(table.Stroke, units.Length(s))
		table.Travel = append(table.Travel, units.Length(w(s)))
	}
	table.Method = linkage.Smooth
	for _, points := range []int{7, 4} { // four are the fewest
		table.Stroke, table.Travel = table.Stroke[:points], table.Travel[:points]
		c := curve(t, table)
		soundCurve(t, c)
		for got := range c.Samples(77) {
			s := float64(got.Stroke)
			unitstest.Near(t, "travel", float64(got.Travel), w(s), unitstest.Rel(1e-13), unitstest.Abs(1e-17))
			unitstest.Near(t, "ratio", got.LeverRatio, 3-16*s+120*s*s, unitstest.Rel(1e-12))
			unitstest.Near(t, "slope", float64(got.LeverRatioSlope), -16+240*s, unitstest.Rel(1e-9), unitstest.Abs(1e-9))
		}
	}
}

// Halving the steps of exact points of a single-pivot linkage, a closed form,
// must shrink the worst error of the lever ratio 4 times (monotone, second
// order at least) or 8 times (smooth, third order), and end far below the 0.01
// that a table printed to 0.1 mm can tell.
func TestTableConverges(t *testing.T) {
	for _, test := range []struct {
		method linkage.Method
		order  float64
		finest float64 // worst error of the ratio at 80 steps
	}{{linkage.Monotone, 2, 1e-4}, {linkage.Smooth, 3, 1e-6}} {
		worst := func(steps int) float64 {
			table := linkage.Table{Method: test.method}
			for i := range steps + 1 {
				s := lowPivot.stroke * float64(i) / float64(steps)
				w, _ := lowPivot.at(s)
				table.Stroke, table.Travel = append(table.Stroke, mm(s)), append(table.Travel, mm(w))
			}
			c, most := curve(t, table), 0.0
			for s := range c.Samples(1001) {
				_, ratio := lowPivot.at(s.Stroke.Millimetres())
				most = max(most, math.Abs(s.LeverRatio-ratio))
			}
			return most
		}
		coarse, fine, finest := worst(20), worst(40), worst(80)
		for _, order := range []float64{math.Log2(coarse / fine), math.Log2(fine / finest)} {
			if order < test.order-0.2 {
				t.Errorf("%s: errors %.3g, %.3g, %.3g: order %.2f, want %v", test.method, coarse, fine, finest, order, test.order)
			}
		}
		if finest > test.finest {
			t.Errorf("%s: error %.3g at 80 steps, want at most %g", test.method, finest, test.finest)
		}
	}
}

// Any strictly rising table gives a monotone curve that rises, unless it is
// refused for a ratio of 0 at a point, and never overshoots.
func TestRandomTablesAreSoundOrRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	made := map[linkage.Method]int{}
	for range 3000 {
		n := 4 + rng.IntN(30)
		table := linkage.Table{Stroke: make([]units.Length, n), Travel: make([]units.Length, n)}
		for i := 1; i < n; i++ {
			step := mm(0.5 + 10*rng.Float64())
			table.Stroke[i] = table.Stroke[i-1] + step
			table.Travel[i] = table.Travel[i-1] + step*units.Length(2.5+1.5*(2*rng.Float64()-1))
		}
		for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth} {
			table.Method = method
			c, err := linkage.NewTable(table)
			if err != nil {
				refuses(t, err, "travel")
				continue
			}
			made[method]++
			soundCurve(t, c)
			for i, s := range table.Stroke {
				unitstest.Near(t, "point", c.TravelAt(s), table.Travel[i], unitstest.Rel(1e-15), unitstest.Abs(units.Length(1e-17)))
				if i == 0 || method == linkage.Smooth {
					continue
				}
				for range 5 {
					between := table.Stroke[i-1] + (s-table.Stroke[i-1])*units.Length(rng.Float64())
					w := c.TravelAt(between)
					if !(w >= table.Travel[i-1]*(1-1e-15)) || !(w <= table.Travel[i]*(1+1e-15)) {
						t.Fatalf("%v at %v overshoots %v to %v", w, between, table.Travel[i-1], table.Travel[i])
					}
				}
			}
		}
	}
	if made[linkage.Monotone] < 2000 || made[linkage.Smooth] < 500 {
		t.Errorf("made %v of 3000: the test looks at too little", made)
	}
}

// A monotone table gives a monotone curve, however nasty: with next to plateaus,
// steps, and points next to each other. Between two points the travel stays
// between theirs and never goes back, and so does the stroke; or the table is
// refused for its travel, where the ratio would be below 0.001 or above 1000.
func TestNastyTablesStayMonotone(t *testing.T) {
	made := 0
	for i := range 1500 {
		rng := rand.New(rand.NewPCG(305, uint64(i)))
		n := 2 + rng.IntN(12)
		table := linkage.Table{Stroke: make([]units.Length, n), Travel: make([]units.Length, n)}
		for j := 1; j < n; j++ {
			step, ratio := mm(1+5*rng.Float64()), 2.5
			switch rng.IntN(6) {
			case 0: // next to the point before
				if j == 1 {
					break // the whole stroke would be too short
				}
				step = mm(math.Pow(10, -6*rng.Float64()))
			case 1: // a plateau
				ratio = 5e-3 * math.Pow(10, rng.Float64())
			case 2: // a step
				ratio = 300 * math.Pow(10, -rng.Float64())
			case 3:
				ratio = 2.5 * math.Pow(1e3, rng.Float64()-0.5)
			}
			table.Stroke[j], table.Travel[j] = table.Stroke[j-1]+step, table.Travel[j-1]+step*units.Length(ratio)
		}
		c, err := linkage.NewTable(table)
		if err != nil {
			if refuses(t, err, "travel"); t.Failed() {
				t.Fatalf("seed 305, %d: %#v", i, table)
			}
			continue
		}
		made++
		for j, top := range table.Travel[1:] {
			a, b, low := table.Stroke[j], table.Stroke[j+1], table.Travel[j]
			before, from := low*(1-1e-15), units.Length(0)
			for k := range 41 {
				s := a + (b-a)*units.Length(k)/40
				w := c.TravelAt(s)
				if !(w >= before-1e-15*c.Travel()) || !(w <= top+1e-15*c.Travel()) || !(c.LeverRatio(s) > 0) {
					t.Errorf("at %v travel %v after %v, up to %v, ratio %v", s, float64(w), float64(before), float64(top), c.LeverRatio(s))
				}
				back := c.StrokeAt(w)
				if slack := 1e-13 * c.Stroke(); !(back >= from-slack) || !(c.TravelAt(back) <= w+1e-15*c.Travel()) || !(c.TravelAt(back) >= w-1e-15*c.Travel()) {
					t.Errorf("at travel %v stroke %v after %v, and back %v", float64(w), float64(back), float64(from), float64(c.TravelAt(back)))
				}
				before, from = w, back
			}
		}
		if t.Failed() {
			t.Fatalf("seed 305, %d: %#v", i, table)
		}
	}
	if made < 500 {
		t.Errorf("%d of 1500 tables are curves: the test looks at too little", made)
	}
}

func TestTableRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := func() linkage.Table {
		return linkage.Table{Stroke: lengths(0, 10, 20, 30, 40, 50, 60), Travel: lengths(0, 30, 58, 85, 110, 134, 157)}
	}
	for _, test := range []struct {
		name   string
		change func(*linkage.Table)
		fields []string
		class  error
	}{
		{"nothing", func(t *linkage.Table) { *t = linkage.Table{} }, []string{"stroke", "travel"}, units.ErrMissing},
		{"no stroke", func(t *linkage.Table) { t.Stroke = nil }, []string{"stroke"}, units.ErrMissing},
		{"no travel", func(t *linkage.Table) { t.Travel = nil }, []string{"travel"}, units.ErrMissing},
		{"one point", func(t *linkage.Table) { t.Stroke, t.Travel = t.Stroke[:1], t.Travel[:1] }, []string{"stroke", "travel"}, units.ErrRange},
		{"three points for a spline", func(t *linkage.Table) { t.Method, t.Stroke, t.Travel = linkage.Smooth, t.Stroke[:3], t.Travel[:3] }, []string{"stroke", "travel"}, units.ErrRange},
		{"six readings", func(t *linkage.Table) {
			t.Method, t.Stroke, t.Travel = linkage.Measured, t.Stroke[:6], t.Travel[:6]
		}, []string{"stroke", "travel"}, units.ErrRange},
		{"unequal columns", func(t *linkage.Table) { t.Travel = t.Travel[:6] }, []string{"travel"}, units.ErrConflict},
		{"a short column", func(t *linkage.Table) { t.Stroke = t.Stroke[:1] }, []string{"stroke"}, units.ErrRange},
		{"a method by another name", func(t *linkage.Table) { t.Method = "akima" }, []string{"method"}, units.ErrUnknown},
		{"NaN", func(t *linkage.Table) { t.Stroke[3], t.Travel[4] = units.Length(nan), units.Length(nan) }, []string{"stroke[3]", "travel[4]"}, units.ErrRange},
		{"infinite", func(t *linkage.Table) { t.Stroke[6], t.Travel[6] = units.Length(inf), units.Length(inf) }, []string{"stroke[6]", "travel[6]"}, units.ErrRange},
		{"minus infinite", func(t *linkage.Table) { t.Travel[0] = units.Length(-inf) }, []string{"travel[0]"}, units.ErrRange},
		{"not from 0", func(t *linkage.Table) { t.Stroke[0], t.Travel[0] = mm(1), mm(-1) }, []string{"stroke[0]", "travel[0]"}, units.ErrRange},
		{"falling", func(t *linkage.Table) { t.Travel[3] = mm(50) }, []string{"travel[3]"}, units.ErrRange},
		{"standing still", func(t *linkage.Table) { t.Stroke[3] = mm(20) }, []string{"stroke[3]"}, units.ErrRange},
		{"unsorted", func(t *linkage.Table) { slices.Reverse(t.Stroke) }, []string{"stroke[0]", "stroke[1]", "stroke[2]", "stroke[3]", "stroke[4]", "stroke[5]", "stroke[6]"}, units.ErrRange},
		{"negative", func(t *linkage.Table) { t.Travel[1] = mm(-3) }, []string{"travel[1]"}, units.ErrRange},
		{"nearly the same stroke", func(t *linkage.Table) { t.Stroke[3] = t.Stroke[2] + 1e-12 }, []string{"stroke[3]"}, units.ErrRange},
		{"kilometres", func(t *linkage.Table) { t.Stroke[6] = 1001 }, []string{"stroke[6]"}, units.ErrRange},
		{"nanometres", func(t *linkage.Table) {
			for i := range t.Stroke {
				t.Stroke[i] *= 1e-9
				t.Travel[i] *= 1e-9
			}
		}, []string{"stroke[6]", "travel[6]"}, units.ErrRange},
		{"too steep", func(t *linkage.Table) { t.Stroke, t.Travel = lengths(0, 0.01, 0.02), lengths(0, 50, 100) }, []string{"travel"}, units.ErrRange},
		{"everything at once", func(t *linkage.Table) {
			t.Method, t.Stroke[2], t.Travel[0], t.Travel = "linear", mm(1), mm(2), t.Travel[:5]
		}, []string{"method", "stroke[2]", "travel[0]", "travel"}, units.ErrUnknown},
	} {
		t.Run(test.name, func(t *testing.T) {
			table := good()
			test.change(&table)
			c, err := linkage.NewTable(table)
			refuses(t, err, test.fields...)
			if !errors.Is(err, test.class) {
				t.Errorf("error %v is not %v", err, test.class)
			}
			if c != nil {
				t.Error("a curve beside an error")
			}
		})
	}
	if _, err := linkage.NewTable(good()); err != nil {
		t.Errorf("the table that was spoilt is itself refused: %v", err)
	}
}

func TestMoreThan1000PointsAreRefused(t *testing.T) {
	var table linkage.Table
	for i := range 1001 {
		table.Stroke, table.Travel = append(table.Stroke, mm(float64(i)/20)), append(table.Travel, mm(float64(i)/8))
	}
	_, err := linkage.NewTable(table)
	refuses(t, err, "stroke", "travel")
	table.Stroke, table.Travel, table.Method = table.Stroke[:1000], table.Travel[:1000], linkage.Smooth
	soundCurve(t, curve(t, table))
}

// A thousand bad values make a short error.
func TestTableErrorStaysShort(t *testing.T) {
	table := linkage.Table{Stroke: make([]units.Length, 1000), Travel: make([]units.Length, 1000)}
	_, err := linkage.NewTable(table)
	if n := len(badFields(err)); n != 20 {
		t.Errorf("%d faults, want 10 a column", n)
	}
}

// The ratio of a table's curve, 0.001 to 1000: two points make a straight
// line, whose ratio is the quotient.
func TestBoundsOfATablesRatio(t *testing.T) {
	for _, test := range []struct {
		stroke, travel units.Length
		ok             bool
	}{
		{1, 1000, true}, {1, 1.2e-3, true}, {1, 0.9e-3, false}, {0.9, 1000, false}, {0.125, 125, true}, {0.125, 125.01, false},
		{1000, 1, true}, {1000, 0.99, false},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: []units.Length{0, test.stroke}, Travel: []units.Length{0, test.travel}})
		if ok := err == nil; ok != test.ok {
			t.Errorf("a ratio of %v/%v: %v", float64(test.travel), float64(test.stroke), err)
		} else if !ok {
			refuses(t, err, "travel")
		}
	}
}

// Strokes rise by at least a billionth of the last one; travels needn't.
func TestLeastStepOfATable(t *testing.T) {
	for _, test := range []struct {
		what           string
		stroke, travel []units.Length
		wrong          []string
	}{
		{"a billionth", []units.Length{0, 1e-9, 1}, []units.Length{0, 1e-9, 1}, nil},
		{"less", []units.Length{0, below(1e-9), 1}, []units.Length{0, 1e-9, 1}, []string{"stroke[1]"}},
		{"less of the last, more of the last but one", []units.Length{0, 0.5e-9, 1e-6, 1}, []units.Length{0, 0.5e-9, 1e-6, 1}, []string{"stroke[1]"}},
		{"a billionth of 1 km", []units.Length{0, 1.000001e-6, 1000}, []units.Length{0, 1e-6, 1000}, nil},
		{"less of 1 km", []units.Length{0, 1e-7, 1000}, []units.Length{0, 1e-7, 1000}, []string{"stroke[1]"}},
		{"more than 1 km is wrong by itself", []units.Length{0, 1e-7, 1200}, []units.Length{0, 1e-7, 1000}, []string{"stroke[2]"}},
		{"the same travel twice", []units.Length{0, 0.5, 1}, []units.Length{0, 0, 1}, []string{"travel[1]"}},
		{"a travel back", []units.Length{0, 0.5, 1}, []units.Length{0, -0.5, 1}, []string{"travel[1]"}},
		// The curve stands still, nearly: refused for what it is, not for the step.
		{"travels", []units.Length{0, 0.5, 1}, []units.Length{0, 1e-10, 1}, []string{"travel"}},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: test.stroke, Travel: test.travel})
		if got := badFields(err); !slices.Equal(got, test.wrong) {
			t.Errorf("%s: refused %q, want %q (%v)", test.what, got, test.wrong, err)
		}
	}
}

// The last stroke and the last travel: from 1 µm to 1 km.
func TestBoundsOfATable(t *testing.T) {
	for _, test := range []struct {
		last units.Length
		ok   bool
	}{{1e-6, true}, {below(1e-6), false}, {1e3, true}, {above(1e3), false}} {
		column := []units.Length{0, test.last}
		_, err := linkage.NewTable(linkage.Table{Stroke: column, Travel: column})
		if test.ok {
			if err != nil {
				t.Error(err)
			}
			continue
		}
		refuses(t, err, "stroke[1]", "travel[1]")
		if err == nil || !strings.Contains(err.Error(), "from 0.001 mm to 1000000 mm") {
			t.Error(err)
		}
	}
}

// What a value must exceed is the one before it.
func TestColumnErrorsNameTheValueBefore(t *testing.T) {
	for _, test := range []struct {
		stroke []units.Length
		says   string
	}{
		{[]units.Length{0, 0.02, 0.01, 0.04}, "more than 20 mm before it"},
		{[]units.Length{0, 0.02, 0.02 + 1e-12, 0.04}, "a billionth of the stroke more than 20 mm before it"},
		{[]units.Length{0, units.Length(math.Inf(-1)), 0.03, 0.04}, "a finite value"},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: test.stroke, Travel: []units.Length{0, 0.01, 0.03, 0.08}})
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%v, want %s", err, test.says)
		}
	}
}

// What is wrong with a curve is said in numbers: this one, 3s − 9s² + 8s³ by
// its four points, has the ratio 3 − 18s + 24s², the least of which is −0.375 at
// 3/8, and 9 at the end.
func TestShapeErrorsGiveTheRatio(t *testing.T) {
	table := linkage.Table{Method: linkage.Smooth}
	for _, s := range []float64{0, 0.25, 0.75, 1} {
		table.Stroke = append(table.Stroke, units.Length(s))
		table.Travel = append(table.Travel, units.Length(3*s-9*s*s+8*s*s*s))
	}
	_, err := linkage.NewTable(table)
	refuses(t, err, "travel")
	const says = "has a lever ratio from 0.001 to 1000 everywhere, not from -0.375 to 9"
	if err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("%v, want that it %s", err, says)
	}
}

// Outside the table a value of gonum's stands still and its derivative
// doesn't. A curve is what it is at its end.
func TestCurveStaysAtItsEndsOutside(t *testing.T) {
	ref := refTables(t)[0]
	var fit interp.FritschButland
	if err := fit.Fit(ref.Stroke, ref.Travel); err != nil {
		t.Fatal(err)
	}
	if fit.Predict(100) != 154.7 || fit.PredictDerivative(100) == 0 {
		t.Errorf("gonum has changed: value %v, derivative %v", fit.Predict(100), fit.PredictDerivative(100))
	}
	c := curve(t, ref.table(linkage.Monotone))
	for _, s := range []units.Length{mm(62.5), mm(62.6), mm(100), 1e9, units.Length(math.Inf(1))} {
		if c.TravelAt(s) != mm(154.7) || c.LeverRatio(s) != c.LeverRatio(c.Stroke()) || c.LeverRatioSlope(s) != c.LeverRatioSlope(c.Stroke()) {
			t.Errorf("beyond full stroke at %v: %v, %v, %v", s, c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s))
		}
	}
	for _, s := range []units.Length{0, mm(-0.1), -1e9, units.Length(math.Inf(-1))} {
		if c.TravelAt(s) != 0 || c.LeverRatio(s) != c.LeverRatio(0) || c.LeverRatioSlope(s) != c.LeverRatioSlope(0) {
			t.Errorf("before full extension at %v: %v, %v, %v", s, c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s))
		}
	}
}

// NaN in a table passes gonum's Fit and poisons what comes out; as an argument
// it gives the first value.
func TestNaNInATableIsRefused(t *testing.T) {
	var fit interp.FritschButland
	if err := fit.Fit([]float64{0, math.NaN(), 2}, []float64{0, 1, 2}); err != nil {
		t.Errorf("gonum has changed: %v", err)
	}
	for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth, linkage.Measured} {
		table := refTables(t)[0].table(method)
		table.Stroke[2], table.Travel[5] = units.Length(math.NaN()), units.Length(math.NaN())
		_, err := linkage.NewTable(table)
		refuses(t, err, "stroke[2]", "travel[5]")
	}
}

// Too few points, unsorted and unequal columns make gonum panic; here they are
// errors, in TestTableRefuses, for each method.
func TestTablesThatMakeGonumPanicAreRefused(t *testing.T) {
	for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth, linkage.Measured} {
		for _, table := range []linkage.Table{
			{},
			{Stroke: lengths(0), Travel: lengths(0)},
			{Stroke: lengths(0, 10, 20, 30), Travel: lengths(0, 1)},
			{Stroke: lengths(0, 10, 5, 30, 40, 50, 60, 70), Travel: lengths(0, 10, 20, 30, 40, 50, 60, 70)},
			{Stroke: lengths(0, 10, 10, 30, 40, 50, 60, 70), Travel: lengths(0, 10, 20, 30, 40, 50, 60, 70)},
		} {
			table.Method = method
			if c, err := linkage.NewTable(table); err == nil || c != nil {
				t.Errorf("%s: %v accepted", method, table)
			}
		}
	}
}

// A spline overshoots a step and would run backwards; a clamped one would
// start and end with a ratio of 0.
func TestOvershootingSplineIsRefused(t *testing.T) {
	step := linkage.Table{Stroke: lengths(0, 10, 20, 30, 40, 50), Travel: lengths(0, 60, 120, 121, 122, 123), Method: linkage.Smooth}
	_, err := linkage.NewTable(step)
	refuses(t, err, "travel")
	step.Method = linkage.Monotone
	soundCurve(t, curve(t, step))

	for _, ref := range refTables(t) {
		for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth} {
			if p := curve(t, ref.table(method)).Progression(); p.Start < 2.5 || p.End < 2.1 {
				t.Errorf("%s, %s: ratios %v and %v at the ends", ref.Name, method, p.Start, p.End)
			}
		}
	}
}

// The monotone curve may stand still at an end that the points bend into: its
// three-point end gives ((2+1)·1 − 1·9)/2 < 0, so 0. A wheel that does not
// move gives the shock no force, so this is refused.
func TestMonotoneCurveThatStandsStillIsRefused(t *testing.T) {
	_, err := linkage.NewTable(linkage.Table{Stroke: lengths(0, 1, 2), Travel: lengths(0, 1, 10)})
	refuses(t, err, "travel")
	soundCurve(t, curve(t, linkage.Table{Stroke: lengths(0, 1, 2), Travel: lengths(0, 4, 10)}))
}

// The slope of a monotone curve's ratio jumps at the points: the right-hand
// value counts, at full stroke the left-hand one.
func TestMonotoneSlopeIsTheRightHandOne(t *testing.T) {
	ref := refTables(t)[3]
	c := curve(t, ref.table(linkage.Monotone))
	const knot = 15.0
	exact := ref.Exact[linkage.Monotone].Slope[4] * 1e3 // right-hand, exact arithmetic
	left := c.LeverRatioSlope(mm(knot - 1e-6)).PerMetre()
	right := c.LeverRatioSlope(mm(knot + 1e-6)).PerMetre()
	if math.Abs(left-right) < 0.1 {
		t.Fatalf("no jump: %v and %v", left, right)
	}
	for _, s := range []units.Length{mm(knot), units.Length(math.Nextafter(0.015, 0)), units.Length(math.Nextafter(0.015, 1)), 3 * mm(5)} {
		if at := c.LeverRatioSlope(s).PerMetre(); math.Abs(at-exact) > 1e-9 {
			t.Errorf("slope %v at %v, want the right-hand %v", at, s, exact)
		}
	}
	end := c.LeverRatioSlope(c.Stroke()).PerMetre()
	if want := c.LeverRatioSlope(c.Stroke() - 1e-9).PerMetre(); math.Abs(end-want) > 1e-4 {
		t.Errorf("slope %v at full stroke, want the left-hand %v", end, want)
	}
}
