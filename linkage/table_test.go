package linkage_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A spline through 101 points of a linkage is its curve but for rounding at the points, and for all that
// can be measured between them.
func TestSmoothTableOfALinkageIsItsCurve(t *testing.T) {
	for _, name := range movable() {
		want := compiled(t, solved(name))
		got := curve(t, points(want, 101, linkage.Smooth))
		for i := range 300 {
			s := want.Stroke() * units.Length(i) / 299
			unitstest.Near(t, name+" travel", got.TravelAt(s), want.TravelAt(s), unitstest.Abs(mm(1e-4)))
			unitstest.Near(t, name+" ratio", got.LeverRatio(s), want.LeverRatio(s), unitstest.Abs(1e-4))
		}
	}
}

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
				nearAll(t, "travel", travel, lengths(exact.Travel...), atoms)
				nearAll(t, "travel (scipy)", travel, lengths(scipy.Travel...), atoms)
				nearAll(t, "ratio", ratio, exact.Ratio, unitstest.Rel(1e-14))
				nearAll(t, "ratio (scipy)", ratio, scipy.Ratio, unitstest.Rel(1e-14))
				wanted := make([]units.RatioSlope, len(exact.Slope))
				for i, v := range exact.Slope {
					wanted[i] = units.RatioSlope(v * 1e3) // 1/mm
				}
				nearAll(t, "slope", slope, wanted, unitstest.Abs(1e-10*units.PerMetre))

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

// Two points are a straight line, and a spline with not-a-knot ends through
// points of a cubic is that cubic, wherever the points are (uniqueness), here
// w = 3s − 8s² + 40s³ in metres over 60 mm.
func TestTablesReproduceLinesAndCubics(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for n := 2; n < 60; n++ {
		b, method := [3]float64{3, -8, 40}, linkage.Smooth
		if n < 4 { // four points are the fewest for a spline
			b, method = [3]float64{2.5}, linkage.Monotone
		}
		w := func(s float64) float64 { return s * (b[0] + s*(b[1]+s*b[2])) }
		table := linkage.Table{Stroke: make([]units.Length, n), Travel: make([]units.Length, n), Method: method}
		for i := 1; i < n; i++ {
			table.Stroke[i] = table.Stroke[i-1] + units.Length(math.Pow(10, -rng.Float64()))
		}
		for i, s := range table.Stroke {
			s *= 0.06 / table.Stroke[n-1]
			table.Stroke[i], table.Travel[i] = s, units.Length(w(float64(s)))
		}
		c := curve(t, table)
		soundCurve(t, c)
		for got := range c.Samples(77) {
			s := float64(got.Stroke)
			unitstest.Near(t, "travel", float64(got.Travel), w(s), unitstest.Rel(1e-13), unitstest.Abs(1e-16))
			unitstest.Near(t, "ratio", got.LeverRatio, b[0]+s*(2*b[1]+3*s*b[2]), unitstest.Rel(1e-11))
			unitstest.Near(t, "slope", float64(got.LeverRatioSlope), 2*b[1]+6*s*b[2], unitstest.Abs(1e-8))
		}
	}
}

// The ratio 3 − 40·s + 600·s² has its least, 7/3, at 1/30 m and its greatest at full extension; 2 + 30·s −
// 500·s² has its greatest, 2.45, at 30 mm and its least, 2, at the end. A constant one has both at 0.
func TestPlacesOfExtremesAreExact(t *testing.T) {
	for _, test := range []struct {
		b0, b1, b2 float64
		want       linkage.Progression
	}{
		{3, -40, 600, linkage.Progression{Min: 7.0 / 3, Max: 3, MinAt: 1.0 / 30, MaxAt: 0}},
		{2, 30, -500, linkage.Progression{Min: 2, Max: 2.45, MinAt: 0.06, MaxAt: 0.03}},
		{2.5, 0, 0, linkage.Progression{Min: 2.5, Max: 2.5}},
	} {
		table := linkage.Table{Method: linkage.Smooth}
		for i := range 8 {
			s := 0.06 * float64(i) / 7
			table.Stroke, table.Travel = append(table.Stroke, units.Length(s)), append(table.Travel, units.Length(s*(test.b0+s*(test.b1/2+s*test.b2/3))))
		}
		got := curve(t, table).Progression()
		unitstest.Near(t, "least", got.Min, test.want.Min, unitstest.Rel(1e-13))
		unitstest.Near(t, "greatest", got.Max, test.want.Max, unitstest.Rel(1e-13))
		if test.b1 != 0 { // of a constant ratio rounding decides
			unitstest.Near(t, "place of the least", got.MinAt, test.want.MinAt, unitstest.Abs(units.Length(1e-9)))
			unitstest.Near(t, "place of the greatest", got.MaxAt, test.want.MaxAt, unitstest.Abs(units.Length(1e-9)))
		}
	}
	c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.6, Travel: 0.15})
	require.NoError(t, err)
	if p := c.Progression(); p.MinAt != 0 || p.MaxAt != 0 {
		t.Errorf("extremes of a constant ratio at %v and %v", p.MinAt, p.MaxAt)
	}
}

// Halving the steps of exact points of a single-pivot linkage, a closed form,
// must shrink the worst error of the lever ratio 4 times (monotone, second
// order at least) or 8 times (smooth, third order), and end far below the 0.01
// that a table printed to 0.1 mm can tell.
func TestTableConvergesWithTheStep(t *testing.T) {
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

// nastyTable draws a table with plateaus or nearly so, steps, and points next to
// each other.
func nastyTable(rng *rand.Rand) linkage.Table {
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
	return table
}

// A rising table gives a curve that rises and goes through its points. A
// monotone one never leaves the travels of the two points beside it, not by a
// last digit before a point, and has an inverse just beside a point as well. A
// table whose ratio would be below 0.001 or above 1000 is refused for its travel.
// The slopes of a smooth one are those that gonum finds from other equations,
// for the second derivatives.
func TestTablesGoThroughTheirPoints(t *testing.T) {
	made, tables := map[string]int{}, 250
	if unitstest.Long() {
		tables = 1000
	}
	for i := range tables {
		for kind, draw := range map[string]func(*rand.Rand) linkage.Table{
			"nasty":  nastyTable,
			"even":   func(rng *rand.Rand) linkage.Table { return drawTable(rng, 4+rng.IntN(30), 1, 4) },
			"smooth": func(rng *rand.Rand) linkage.Table { return drawTable(rng, 4+rng.IntN(30), 1, 2) },
		} {
			table := draw(rand.New(rand.NewPCG(305, uint64(i))))
			if kind == "smooth" {
				table.Method = linkage.Smooth
			}
			c, err := linkage.NewTable(table)
			if err != nil {
				if refuses(t, err, "travel"); t.Failed() {
					t.Fatalf("%s: %#v", kind, table)
				}
				continue
			}
			made[kind]++
			soundCurve(t, c)
			staysBetween(t, c, table)
			if t.Failed() {
				t.Fatalf("%s: %#v", kind, table)
			}
		}
	}
	for kind, n := range made {
		if n < 3*tables/10 {
			t.Errorf("%d of %d %s tables are curves: the test looks at too little", n, tables, kind)
		}
	}
}

// staysBetween checks a curve against the points of its table.
func staysBetween(t *testing.T, c *linkage.Curve, table linkage.Table) {
	t.Helper()
	if table.Method == linkage.Smooth {
		var other interp.NotAKnotCubic
		require.NoError(t, other.Fit(floats(table.Stroke), floats(table.Travel)))
		for i, s := range table.Stroke {
			unitstest.Near(t, "point", c.TravelAt(s), table.Travel[i], unitstest.Rel(1e-15), unitstest.Abs(units.Length(1e-17)))
			unitstest.Near(t, "ratio at a point", c.LeverRatio(s), other.PredictDerivative(float64(s)), unitstest.Abs(1e-10))
		}
		return
	}
	slack := 1e-15 * c.Travel()
	for j, top := range table.Travel[1:] {
		a, b, low := table.Stroke[j], table.Stroke[j+1], table.Travel[j]
		unitstest.Near(t, "point", c.TravelAt(b), top, unitstest.Rel(1e-15))
		before, from := low, units.Length(0)
		for k := range 21 {
			s := a + (b-a)*units.Length(k)/20
			w := c.TravelAt(s)
			if !(w >= before-slack) || !(w <= top+slack) || !(c.LeverRatio(s) > 0) {
				t.Errorf("at %v travel %v after %v, up to %v, ratio %v", s, float64(w), float64(before), float64(top), c.LeverRatio(s))
			}
			back := c.StrokeAt(w)
			if !(back >= from-1e-13*c.Stroke()) || math.Abs(float64(c.TravelAt(back)-w)) > float64(slack) {
				t.Errorf("at travel %v stroke %v after %v, and back %v", float64(w), float64(back), float64(from), float64(c.TravelAt(back)))
			}
			before, from = w, back
		}
		for s, k := b, 0; k < 8; k++ {
			if s = below(s); s > a && c.TravelAt(s) > top {
				t.Errorf("travel %v at %v, just before the point's %v", float64(c.TravelAt(s)), float64(s), float64(top))
			}
		}
		for _, part := range []units.Length{1 - 5e-15, 1 - 1e-15, 1, 1 + 1e-15, 1 + 5e-15} {
			unitstest.Near(t, "travel beside a point", c.TravelAt(c.StrokeAt(top*part)), min(top*part, c.Travel()),
				unitstest.Rel(5e-16), unitstest.Abs(0x1p-51*units.Length(c.Progression().Max)*b)) // the rounding of the stroke
		}
	}
}

// eightPoints returns a table of an invented linkage that is good for every method.
func eightPoints() linkage.Table {
	return linkage.Table{Stroke: lengths(0, 10, 20, 30, 40, 50, 60, 70), Travel: lengths(0, 30, 58, 85, 110, 134, 157, 179)}
}

// methods are all there are.
var methods = []linkage.Method{linkage.Monotone, linkage.Smooth, linkage.Measured}

// Every method refuses the same columns, some of which make gonum panic.
func TestTableRefuses(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	// What only a curve through the points needs: readings are taken as they are, or refused for other reasons.
	ofPoints := []string{"not from 0", "falling", "standing still", "unsorted", "negative", "nearly the same stroke", "kilometres", "nanometres", "everything at once"}
	for _, test := range []struct {
		name   string
		change func(*linkage.Table)
		fields []string
		class  error
		says   string
	}{
		{"nothing", func(t *linkage.Table) { t.Stroke, t.Travel = nil, nil }, []string{"stroke", "travel"}, units.ErrMissing, ""},
		{"no stroke", func(t *linkage.Table) { t.Stroke = nil }, []string{"stroke"}, units.ErrMissing, ""},
		{"no travel", func(t *linkage.Table) { t.Travel = nil }, []string{"travel"}, units.ErrMissing, ""},
		{"one point", func(t *linkage.Table) { t.Stroke, t.Travel = t.Stroke[:1], t.Travel[:1] }, []string{"stroke", "travel"}, units.ErrRange, "to 1000 values"},
		{"three points for a spline", func(t *linkage.Table) { t.Method, t.Stroke, t.Travel = linkage.Smooth, t.Stroke[:3], t.Travel[:3] }, []string{"stroke", "travel"}, units.ErrRange, "from 4"},
		{"four readings", func(t *linkage.Table) { t.Method, t.Stroke, t.Travel = linkage.Measured, t.Stroke[:4], t.Travel[:4] }, []string{"stroke", "travel"}, units.ErrRange, "from 5"},
		{"unequal columns", func(t *linkage.Table) { t.Travel = t.Travel[:7] }, []string{"travel"}, units.ErrConflict, "as many values as stroke has, 8"},
		{"a short column", func(t *linkage.Table) { t.Stroke = t.Stroke[:1] }, []string{"stroke"}, units.ErrRange, ""},
		{"a method by another name", func(t *linkage.Table) { t.Method = "akima" }, []string{"method"}, units.ErrUnknown, "one of monotone, smooth, measured"},
		{"NaN", func(t *linkage.Table) { t.Stroke[3], t.Travel[4] = nan, nan }, []string{"stroke[3]", "travel[4]"}, units.ErrRange, "a finite value"},
		{"infinite", func(t *linkage.Table) { t.Stroke[7], t.Travel[7] = inf, inf }, []string{"stroke[7]", "travel[7]"}, units.ErrRange, "a finite value"},
		{"minus infinite", func(t *linkage.Table) { t.Travel[0], t.Travel[2] = -inf, -inf }, []string{"travel[0]", "travel[2]"}, units.ErrRange, "a finite value"},
		{"not from 0", func(t *linkage.Table) { t.Stroke[0], t.Travel[0] = mm(1), mm(-1) }, []string{"stroke[0]", "travel[0]"}, units.ErrRange, "full extension"},
		{"falling", func(t *linkage.Table) { t.Travel[3] = mm(50) }, []string{"travel[3]"}, units.ErrRange, "more than 58 mm before it"},
		{"standing still", func(t *linkage.Table) { t.Stroke[3] = mm(20) }, []string{"stroke[3]"}, units.ErrRange, "more than 20 mm before it"},
		{"unsorted", func(t *linkage.Table) { slices.Reverse(t.Stroke[1:]) }, []string{"stroke[2]", "stroke[3]", "stroke[4]", "stroke[5]", "stroke[6]", "stroke[7]"}, units.ErrRange, ""},
		{"negative", func(t *linkage.Table) { t.Travel[1] = mm(-3) }, []string{"travel[1]"}, units.ErrRange, "more than 0 mm before it"},
		{"nearly the same stroke", func(t *linkage.Table) { t.Stroke[3] = t.Stroke[2] + 1e-12 }, []string{"stroke[3]"}, units.ErrRange, "a billionth of the last more than 20 mm before it"},
		{"kilometres", func(t *linkage.Table) { t.Stroke[7] = 1001 }, []string{"stroke[7]"}, units.ErrRange, "from 0.001 mm to 1000000 mm"},
		{"nanometres", func(t *linkage.Table) {
			for i := range t.Stroke {
				t.Stroke[i] *= 1e-9
				t.Travel[i] *= 1e-9
			}
		}, []string{"stroke[7]", "travel[7]"}, units.ErrRange, ""},
		{"everything at once", func(t *linkage.Table) {
			t.Method, t.Stroke[2], t.Travel[0], t.Travel = "linear", mm(1), mm(2), t.Travel[:5]
		}, []string{"method", "stroke[2]", "travel[0]", "travel"}, units.ErrUnknown, ""},
		{"too steep", func(t *linkage.Table) {
			t.Method, t.Stroke, t.Travel = linkage.Monotone, lengths(0, 0.01, 0.02), lengths(0, 50, 100)
		}, []string{"travel"}, units.ErrRange, ""},
		// The three-point formula at the end gives ((2+1)·1 − 1·9)/2 < 0, so 0: the wheel would
		// not move, and the shock feel no force.
		{"a monotone curve that stands still", func(t *linkage.Table) {
			t.Method, t.Stroke, t.Travel = linkage.Monotone, lengths(0, 1, 2), lengths(0, 1, 10)
		}, []string{"travel"}, units.ErrRange, ""},
		{"a spline that overshoots a step", func(t *linkage.Table) {
			t.Method, t.Stroke, t.Travel = linkage.Smooth, lengths(0, 10, 20, 30, 40, 50), lengths(0, 60, 120, 121, 122, 123)
		}, []string{"travel"}, units.ErrRange, ""},
		// 3s − 9s² + 8s³ by four points has the ratio 3 − 18s + 24s², the least of which is −0.375
		// at 3/8, and 9 at the end.
		{"a spline that turns back", func(t *linkage.Table) {
			t.Method, t.Stroke, t.Travel = linkage.Smooth, column{0, 0.25, 0.75, 1}, column{0, 0.3125, 0.5625, 2}
		}, []string{"travel"}, units.ErrRange, "has a lever ratio from 0.001 to 1000 everywhere, not from -0.375 to 9"},
	} {
		for _, method := range methods {
			if method == linkage.Measured && slices.Contains(ofPoints, test.name) {
				continue
			}
			t.Run(test.name+"/"+string(method), func(t *testing.T) {
				table := eightPoints()
				table.Method = method
				curve(t, table) // good before it is spoilt
				test.change(&table)
				c, err := linkage.NewTable(table)
				refuses(t, err, test.fields...)
				if !errors.Is(err, test.class) || !strings.Contains(err.Error(), test.says) {
					t.Errorf("error %v is not %v, or doesn't say %q", err, test.class, test.says)
				}
				if c != nil {
					t.Error("a curve beside an error")
				}
			})
		}
	}
}

type column = []units.Length

// The bounds in the doc comment, each taken at its very value and refused
// beyond. Two points make a straight line, whose ratio is the quotient.
func TestBoundsOfATable(t *testing.T) {
	for _, test := range []struct {
		what           string
		stroke, travel column
		wrong          []string
	}{
		{"1 µm", column{0, 1e-6}, column{0, 1e-6}, nil},
		{"less than 1 µm", column{0, below(1e-6)}, column{0, below(1e-6)}, []string{"stroke[1]", "travel[1]"}},
		{"1 km", column{0, 1e3}, column{0, 1e3}, nil},
		{"more than 1 km", column{0, above(1e3)}, column{0, above(1e3)}, []string{"stroke[1]", "travel[1]"}},
		{"a ratio of 1000", column{0, 0.125}, column{0, 125}, nil},
		{"a ratio of 1000 over 1 m", column{0, 1}, column{0, 1000}, nil},
		{"more", column{0, 0.125}, column{0, 125.01}, []string{"travel"}},
		{"a ratio of 0.001", column{0, 1000}, column{0, 1}, nil},
		{"less", column{0, 1000}, column{0, 0.99}, []string{"travel"}},
		{"a billionth of the stroke", column{0, 1e-9, 1}, column{0, 1e-9, 1}, nil},
		{"less of the stroke", column{0, below(1e-9), 1}, column{0, 1e-9, 1}, []string{"stroke[1]"}},
		{"less of the last, more of the last but one", column{0, 0.5e-9, 1e-6, 1}, column{0, 0.5e-9, 1e-6, 1}, []string{"stroke[1]"}},
		{"a billionth of 1 km", column{0, 1.000001e-6, 1000}, column{0, 1e-6, 1000}, nil},
		{"less of 1 km", column{0, 1e-7, 1000}, column{0, 1e-7, 1000}, []string{"stroke[1]"}},
		{"more than 1 km is wrong by itself", column{0, 1e-7, 1200}, column{0, 1e-7, 1000}, []string{"stroke[2]"}},
		// The curve stands still, nearly: refused for what it is, not for the step.
		{"less than a billionth of the travel", column{0, 0.5, 1}, column{0, 1e-10, 1}, []string{"travel"}},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: test.stroke, Travel: test.travel})
		if got := badFields(err); !slices.Equal(got, test.wrong) {
			t.Errorf("%s: refused %q, want %q (%v)", test.what, got, test.wrong, err)
		}
	}
}

// A table has 1000 points at most, and a thousand bad values make a short error.
// Twice the points cost a spline twice the memory, and not four times.
func TestTableOf1000PointsIsTheLongest(t *testing.T) {
	line := func(n int, method linkage.Method) linkage.Table {
		table := linkage.Table{Stroke: make(column, n), Travel: make(column, n), Method: method}
		for i := range n {
			table.Stroke[i], table.Travel[i] = mm(60*float64(i)/float64(n-1)), mm(150*float64(i)/float64(n-1))
		}
		return table
	}
	for _, method := range methods {
		soundCurve(t, curve(t, line(1000, method)))
		_, err := linkage.NewTable(line(1001, method))
		refuses(t, err, "stroke", "travel")
	}
	_, err := linkage.NewTable(linkage.Table{Stroke: make(column, 1000), Travel: make(column, 1000)})
	if n := len(badFields(err)); n != 20 {
		t.Errorf("%d faults, want 10 a column", n)
	}
	cost := func(n int) int {
		table := line(n, linkage.Smooth)
		return unitstest.Allocated(func() { curve(t, table) })
	}
	cost(500)
	if once, twice := cost(500), cost(1000); twice > 3*once {
		t.Errorf("%d bytes for 500 points, %d for 1000", once, twice)
	}
}

// The slope of a monotone curve's ratio jumps at the points: the right-hand
// value counts, also for a stroke that rounding has put before the point; at
// full stroke the left-hand one.
func TestMonotoneSlopeIsTheRightHandOne(t *testing.T) {
	ref := refTables(t)[3]
	c := curve(t, ref.table(linkage.Monotone))
	exact := units.RatioSlope(ref.Exact[linkage.Monotone].Slope[4] * 1e3) // right-hand, exact arithmetic
	knot := mm(15)
	if left := c.LeverRatioSlope(knot - 1e-9); math.Abs(float64(left-exact)) < 0.1 {
		t.Fatalf("no jump: %v and %v", left, exact)
	}
	for _, s := range []units.Length{knot, below(knot), above(knot), 3 * mm(5)} {
		unitstest.Near(t, "slope", c.LeverRatioSlope(s), exact, unitstest.Abs(1e-9*units.PerMetre))
	}
	unitstest.Near(t, "slope at full stroke", c.LeverRatioSlope(c.Stroke()), c.LeverRatioSlope(c.Stroke()-1e-9), unitstest.Abs(1e-4*units.PerMetre))
}

func floats(column []units.Length) []float64 {
	list := make([]float64, len(column))
	for i, v := range column {
		list[i] = float64(v)
	}
	return list
}

// nearAll compares lists element by element.
func nearAll[Q ~float64](t testing.TB, what string, got, want []Q, tolerance unitstest.Tolerance) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s has %d elements, want %d", what, len(got), len(want))
	}
	for i := range want {
		unitstest.Near(t, fmt.Sprintf("%s[%d]", what, i), got[i], want[i], tolerance)
	}
}
