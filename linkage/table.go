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
	// programs. Between coarse data it can swing so far that it is refused.
	Smooth Method = "smooth"
	// Measured goes near the points, which are readings with errors: see [FitReadings].
	Measured Method = "measured"
)

// Table describes a curve by its points. Stroke and travel both start at 0, full
// extension, and rise strictly.
type Table struct {
	Stroke []units.Length `json:"stroke"`
	Travel []units.Length `json:"travel"`           // vertical wheel travel at each stroke
	Method Method         `json:"method,omitempty"` // "monotone" if empty
}

const maxPoints = 1000 // far more than a table of a linkage has

// NewTable returns the curve through the points of a table, or near them for
// the method [Measured]. There must be as many strokes as travels: at least 2 for
// [Monotone], 4 for [Smooth] and 7 for Measured, and at most 1000.
//
// Both columns must be finite, start at 0, rise strictly, and end from 1 µm to 1 km. Each
// stroke must exceed the one before by a billionth of the last. The error names every bad
// value, such as travel[3], up to ten of each column. It names travel if the
// curve has a lever ratio outside 0.001 to 1000 anywhere, such as a spline that swings
// back between the points.
//
// Monotone is often called PCHIP: at an inner point the ratio is the weighted harmonic mean of the
// chords beside it, at an end a three-point formula (F. N. Fritsch and J. Butland, A method for
// constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984)
// 300–304, as gonum cites it; the paper itself was not opened). Smooth is the cubic spline with
// not-a-knot ends. The first is fitted by gonum, and both give what scipy 1.10.1 gives to 1e-13.
func NewTable(t Table) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	slopes, need := monotoneSlopes, 2
	switch t.Method {
	case Monotone, "":
	case Smooth:
		slopes, need = splineSlopes, 4
	case Measured:
		m, err := FitReadings(StrokeReadings{Stroke: t.Stroke, Travel: t.Travel})
		if err != nil {
			return nil, err
		}
		return m.curve, nil
	default:
		c.Fail("method", string(t.Method), "one of monotone, smooth, measured", units.ErrUnknown)
	}
	checkColumns(&c, t.Stroke, t.Travel, need)
	if err := c.Err(); err != nil {
		return nil, err
	}
	x, y := floats(t.Stroke), floats(t.Travel)
	d := slopes(x, y)
	pieces := make([]piece, len(x)-1)
	for i := range pieces {
		pieces[i] = piece{x[i], hermite.Cubic(x[i+1]-x[i], hermite.Jet{Value: y[i], Slope: d[i]}, hermite.Jet{Value: y[i+1], Slope: d[i+1]})}
	}
	return newCurve(pieces, x[len(pieces)], y[len(pieces)]).ofUse("travel", "values whose curve through these points has")
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

// checkColumns checks a table before it is fitted.
func checkColumns(c *units.Checker, stroke, travel []units.Length, need int) {
	long := checkColumn(c, "stroke", stroke, need)
	if checkColumn(c, "travel", travel, need) && long && len(stroke) != len(travel) {
		c.Fail("travel", len(travel), fmt.Sprintf("as many values as stroke has, %d", len(stroke)), units.ErrConflict)
	}
}

// checkColumn checks one column, and reports whether it is long enough.
func checkColumn(c *units.Checker, field string, column []units.Length, need int) bool {
	if n := len(column); n < need || n > maxPoints {
		class, value := units.ErrRange, any(n)
		if n == 0 {
			class, value = units.ErrMissing, nil
		}
		c.Fail(field, value, fmt.Sprintf("from %d to %d values", need, maxPoints), class)
		return n >= need
	}
	faults := 0
	fault := func(i int, want string) {
		if faults++; faults <= 10 { // more of them say nothing new
			c.Fail(fmt.Sprintf("%s[%d]", field, i), column[i], want, nil)
		}
	}
	whole := column[len(column)-1]
	least := units.Length(0) // by which a value must exceed the one before
	if field == "stroke" && whole > 0 && whole <= maxLength {
		least = 1e-9 * whole
	}
	for i, v := range column {
		switch {
		case math.IsNaN(float64(v)) || math.IsInf(float64(v), 0):
			fault(i, "a finite value")
		case i == 0 && v != 0:
			fault(i, "0 mm, full extension")
		case i > 0 && v <= column[i-1]:
			fault(i, "more than "+column[i-1].String()+" before it")
		case i > 0 && v-column[i-1] < least:
			fault(i, "at least a billionth of the stroke more than "+column[i-1].String()+" before it")
		case i == len(column)-1 && !(v >= minLength && v <= maxLength):
			fault(i, "from "+minLength.String()+" to "+maxLength.String())
		}
	}
	return true
}

func floats(column []units.Length) []float64 {
	list := make([]float64, len(column))
	for i, v := range column {
		list[i] = float64(v)
	}
	return list
}
