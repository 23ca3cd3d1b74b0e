package linkage

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/units"
)

// Method is how a table becomes a curve.
type Method string

// The methods of [NewTable].
const (
	// Monotone goes through every point and can't overshoot: the piecewise cubic of Fritsch and
	// Butland, which an empty Method also means. The slope of its lever ratio jumps at the points.
	Monotone Method = "monotone"
	// Smooth goes through every point with a cubic spline, whose ratio has a
	// continuous slope. It is best for data with many digits, as from drawing
	// programs: with a point per millimetre the curve is within 0.0001 mm of travel and 0.0001 of
	// lever ratio for usual linkages. Between coarse data it can swing so far that it is refused.
	Smooth Method = "smooth"
	// Measured goes near the points, which are readings with errors: see [FitReadings].
	Measured Method = "measured"
)

// Table describes a curve by its points: two of stroke, travel and lever ratio. What is counted from
// full extension, the stroke or else the travel, starts at 0 and rises strictly.
type Table struct {
	Stroke     []units.Length `json:"stroke,omitempty"`
	Travel     []units.Length `json:"travel,omitempty"`      // vertical wheel travel
	LeverRatio []float64      `json:"lever_ratio,omitempty"` // wheel travel over stroke, beside one of the two
	Method     Method         `json:"method,omitempty"`      // "monotone" if empty
	Degree     int            `json:"degree,omitempty"`      // of the method "measured", 3 to 5; 0 chooses
}

const maxPoints = 1000 // far more than a table of a linkage has

// NewTable returns the curve through the points of a table, or near them for
// the method [Measured]. Its columns are stroke and travel, stroke and lever ratio, or travel and
// lever ratio, of as many values: at least 2 for [Monotone], 4 for [Smooth] and 5 for Measured, and
// at most 1000.
//
// Strokes and travels must be finite, start at 0, rise strictly, and end from 1 µm to 1 km. Each
// value of the first column must exceed the one before by a billionth of the last. Lever ratios must
// be from 0.001 to 1000. For Measured see [FitReadings]. The error names every bad value, such as
// travel[3], up to ten of each column. It names travel, or lever_ratio where that is given, if the
// curve has a lever ratio outside 0.001 to 1000 anywhere, such as a spline that swings
// back between the points.
//
// Monotone is often called PCHIP: at an inner point the slope is the weighted harmonic mean of the
// chords beside it, at an end a three-point formula (F. N. Fritsch and J. Butland, A method for
// constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984)
// 300–304, as gonum cites it; the paper itself was not opened). Smooth is the cubic spline with
// not-a-knot ends. The first is fitted by gonum, and both give what scipy 1.10.1 gives to 1e-13.
//
// A given lever ratio is interpolated itself, and then integrated: w(s) = ∫ LR ds over strokes, in
// closed form, and s(w) = ∫ dw/LR over travels, to 1e-12 of travel and ratio where the points are of a
// linkage, and to 1e-5 at least where a thousand of them zigzag.
func NewTable(t Table) (*Curve, error) {
	if t.Method == Measured {
		m, err := FitReadings(t)
		if err != nil {
			return nil, err
		}
		return m.Curve, nil
	}
	c := units.Checker{Package: "linkage"}
	slopes, need := monotoneSlopes, 2
	switch t.Method {
	case Monotone, "":
	case Smooth:
		slopes, need = splineSlopes, 4
	default:
		c.Fail("method", string(t.Method), units.OneOf("monotone", "smooth", "measured"), units.ErrUnknown)
	}
	if t.Degree != 0 {
		c.Fail("degree", t.Degree, "none, except of the method measured", units.ErrConflict)
	}
	x, y := t.columns(&c, need, rising)
	if err := c.Err(); err != nil {
		return nil, err
	}
	d := slopes(x, y)
	pieces := make([]piece, len(x)-1)
	for i := range pieces {
		pieces[i] = piece{start: x[i], end: x[i+1], top: y[i+1], Quintic: hermite.Cubic(x[i+1]-x[i], hermite.Jet{Value: y[i], Slope: d[i]}, hermite.Jet{Value: y[i+1], Slope: d[i+1]})}
	}
	if len(t.LeverRatio) > 0 {
		return t.integrated(pieces, "values whose curve through these points has")
	}
	return newCurve(pieces).ofUse("travel", "values whose curve through these points has")
}

// monotoneSlopes returns the slopes at the points of the piecewise cubic of
// Fritsch and Butland. Only these are gonum's: outside the table its values and
// its derivatives contradict each other, and it has no second derivative.
func monotoneSlopes(x, y []float64) []float64 {
	var fit interp.FritschButland
	_ = fit.Fit(x, y) // it refuses nothing that the checks of columns let pass
	slopes := make([]float64, len(x))
	for i := range x {
		slopes[i] = fit.PredictDerivative(x[i])
	}
	return slopes
}

// order says what is wanted of value i of a column of strokes or travels, "" where it is right. The
// first column is the counted one.
type order func(column []units.Length, i int, counted bool) string

// columns returns the two columns of a table, what is counted first. It checks them before they are used.
func (t *Table) columns(c *units.Checker, need int, ordered order) (x, y []float64) {
	counted, known, column := "stroke", "travel", t.Stroke
	y = lengths(t.Travel)
	if len(t.LeverRatio) > 0 {
		known, y = "lever_ratio", t.LeverRatio
		switch {
		case len(t.Stroke) > 0 && len(t.Travel) > 0:
			c.Fail("lever_ratio", len(t.LeverRatio), "stroke or travel beside it, not both", units.ErrConflict)
			return nil, nil
		case len(t.Stroke) == 0 && len(t.Travel) == 0:
			c.Fail("stroke", nil, "stroke or travel beside lever_ratio", units.ErrMissing)
			return nil, nil
		case len(t.Stroke) == 0:
			counted, column = "travel", t.Travel
		}
	}
	x = lengths(column)
	checkColumn(c, counted, len(x), need, func(i int) (any, string) { return column[i], ordered(column, i, true) })
	checkColumn(c, known, len(y), need, func(i int) (any, string) {
		switch {
		case known == "travel":
			return t.Travel[i], ordered(t.Travel, i, false)
		case y[i] >= minRatio && y[i] <= maxRatio:
			return nil, ""
		}
		return y[i], fmt.Sprintf("a lever ratio from %g to %g", minRatio, maxRatio)
	})
	if len(x) != len(y) && len(x) >= need && len(y) >= need {
		c.Fail(known, len(y), units.Exactly(len(x)).Of(counted).Count("values"), units.ErrConflict)
	}
	return x, y
}

// checkColumn checks a column of n values. Wrong returns a value and what is wanted instead, "" if it is right.
func checkColumn(c *units.Checker, field string, n, need int, wrong func(i int) (value any, want string)) {
	if n < need || n > maxPoints {
		class, value := units.ErrRange, any(n)
		if n == 0 {
			class, value = units.ErrMissing, nil
		}
		c.Fail(field, value, units.From(need, maxPoints).Count("values"), class)
		return
	}
	faults := 0
	for i := range n {
		if value, want := wrong(i); want != "" {
			if faults++; faults <= 10 { // more of them say nothing new
				c.Fail(fmt.Sprintf("%s[%d]", field, i), value, want, nil)
			}
		}
	}
}

// rising is the order of a table that a curve goes through.
func rising(column []units.Length, i int, counted bool) string {
	v, whole := column[i], column[len(column)-1]
	least := units.Length(0) // by which a value must exceed the one before
	if counted && whole > 0 && whole <= maxLength {
		least = 1e-9 * whole
	}
	switch {
	case math.IsNaN(float64(v)) || math.IsInf(float64(v), 0):
		return "a finite value"
	case i == 0 && v != 0:
		return "0 mm, full extension; the method measured takes readings that begin near it"
	case i > 0 && v <= column[i-1]:
		return "more than " + column[i-1].String() + " before it; the method measured takes readings that fall back"
	case i > 0 && v-column[i-1] < least:
		return "at least a billionth of the last more than " + column[i-1].String() + " before it"
	case i == len(column)-1 && !(v >= minLength && v <= maxLength):
		return "from " + minLength.String() + " to " + maxLength.String()
	}
	return ""
}

func lengths(column []units.Length) []float64 {
	list := make([]float64, len(column))
	for i, v := range column {
		list[i] = float64(v)
	}
	return list
}
