package linkage_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Tables against scipy 1.10.1 and against exact rational arithmetic; both are
// in testdata/tables.json.
func TestTable(t *testing.T) {
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
func TestProgressionSeesTheInside(t *testing.T) {
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
func TestTwoPoints(t *testing.T) {
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
func TestRandomTables(t *testing.T) {
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

func TestTooManyPoints(t *testing.T) {
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
	if n := len(fieldsOf(err)); n != 20 {
		t.Errorf("%d faults, want 10 a column", n)
	}
}
