package linkage

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/leastsquares"
	"example.com/wheelrate/units"
)

// Fit is a curve fitted to readings, with its standard errors. It is made by [FitReadings].
type Fit struct {
	// Curve is the fitted curve. Its full travel is that of the polynomial at the greatest stroke, not the
	// last reading.
	Curve *Curve `json:"-"`
	// ReadingError is the standard error of one reading of the travel, estimated from the residuals e as
	// √(Σe²/(n − degree)) over the n readings without zero points; 0 where lever ratios were read. If it is
	// clearly larger than the readings' error can be, the polynomial does not fit the linkage.
	ReadingError units.Length `json:"reading_error"`
	// ResidualRMS is the root mean square of the residuals, zero points not counted; 0 where lever ratios
	// were read.
	ResidualRMS units.Length `json:"residual_rms"`
	// RatioReadingError is the ReadingError where lever ratios were read, and 0 where travels were.
	RatioReadingError float64 `json:"ratio_reading_error"`

	degree   int
	full     float64 // of the stroke, or of the travel where ratios were read over it
	first    int     // the least power of t: 1 of a travel, 0 of a lever ratio
	byTravel bool
	errors   [][]float64 // the rows of a factor R of the coefficients' covariance σ²·RᵀR
}

const nearZero = 0.1 // of the whole, within which the first reading is

// needed is how many readings each degree needs.
var needed = map[int]int{3: 5, 4: 7, 5: 8}

// FitReadings fits the polynomial
//
//	w(t) = b₁t + b₂t² + b₃t³ + b₄t⁴,  t = s/stroke
//
// to readings of the travel w at the strokes s by least squares. The lever ratio is the derivative
// of the polynomial. The zero point is taken to be exact, since strokes and travels are counted from
// it. The error of the reading at full extension is part of all others, so read it twice. Where
// lever ratios were read, over the stroke or over the travel w, the polynomial is the ratio's, of a
// degree less,
//
//	LR(t) = a₀ + a₁t + a₂t² + a₃t³,  t = s/stroke or w/travel
//
// and is then integrated as in [NewTable]. The table's Method is taken to be [Measured].
//
// Degree 4 needs 7 readings or more, a zero point among them counted, and degree 5 needs 8. From 5
// readings on degree 3 is fitted. A Degree of 0 takes the greater of 3 and 4 that the readings suffice
// for. Readings may be in any order, repeated, and fall back. They must be finite, strokes from 0 to
// 1 km, the least of these within a tenth of the greatest, which must be 1 µm or more, and travels
// within 1 km. The fitted lever ratio must be from 0.001 to 1000 everywhere. The error names every bad
// value.
//
// In simulated readings of invented linkages, steps of 5 mm with an error of 0.1 mm (one standard
// deviation), curves through all points had lever ratios wrong by 0.03 rms, and by 0.11 to 0.21 at
// the worst place in 5 of 100 cases; steps of 2.5 mm doubled that. The polynomial of degree 4 was
// wrong by 0.007 to 0.009 rms and 0.04 to 0.06 at the worst place on eleven of twelve linkages, by
// 0.015 and 0.10 on one of extreme curvature, and more readings improved it. Degree 3 missed the
// shape of one of them by 0.07. Degree 5 is worth trying if ReadingError is clearly larger
// than the readings' error can be. The limits of 5 and 7 readings are judgements, not the results of a test.
//
// Readings are taken with the shock removed or its spring unloaded. Support the bike so that it can't
// fall. A shock under air pressure or a compressed spring can injure: release it as the shock's manual
// says before removing anything.
//
// Not modelled: errors of the stroke readings. An error e of a stroke acts as one of LR·e in travel.
func FitReadings(t Table) (*Fit, error) {
	c := units.Checker{Package: "linkage"}
	f := &Fit{degree: t.Degree, first: 1}
	if f.degree == 0 {
		f.degree = 4
		if max(len(t.Stroke), len(t.Travel)) < needed[4] {
			f.degree = 3
		}
	}
	need, ok := needed[f.degree]
	if !ok {
		c.Fail("degree", t.Degree, units.From(3, 5), nil)
		need = needed[4]
	}
	x, y := t.columns(&c, need, scattered)
	if err := c.Err(); err != nil {
		return nil, err
	}
	if len(t.LeverRatio) > 0 {
		f.first, f.byTravel = 0, len(t.Stroke) == 0
	}
	p, ok := f.fit(x, y)
	if !ok {
		c.Fail("stroke", nil, "readings spread over the stroke", nil)
		return nil, c.Err()
	}
	const what = "values whose curve near these readings has"
	var err error
	if f.first == 1 {
		f.Curve, err = newCurve([]piece{p}).ofUse("travel", what)
	} else {
		f.Curve, err = t.integrated([]piece{p}, what)
	}
	if err != nil {
		return nil, err
	}
	return f, nil
}

// scattered is the order of readings.
func scattered(column []units.Length, i int, counted bool) string {
	v := column[i]
	switch {
	case !(v >= -maxLength && v <= maxLength):
		return "a finite value, at most " + maxLength.String()
	case !counted:
		return ""
	case v < 0:
		return "0 mm or more, from full extension"
	case v == slices.Max(column) && v < minLength:
		return "a greatest value of at least " + minLength.String()
	case v == slices.Min(column) && v > nearZero*slices.Max(column):
		return "a first reading within a tenth of the greatest from full extension"
	}
	return ""
}

// fit returns the polynomial of what was read, and reports whether the readings determine it.
func (f *Fit) fit(x, y []float64) (p piece, ok bool) {
	f.full = slices.Max(x)
	var rows, read []float64 // of the readings that say something: not a zero point, at which every power is 0
	apart := map[float64]bool{}
	for i := range x {
		if f.first == 0 || x[i] != 0 {
			apart[x[i]] = true
		}
		if f.first == 0 || x[i] != 0 || y[i] != 0 {
			for k := range f.degree {
				rows = append(rows, math.Pow(x[i]/f.full, float64(k+f.first)))
			}
			read = append(read, y[i])
		}
	}
	n, d := len(read), f.degree
	if len(apart) < d || n <= d {
		return p, false
	}
	powers := mat.NewDense(n, d, rows)
	f.errors, _ = leastsquares.Factor(mat.DenseCopyOf(powers), 0)
	b, ok := leastsquares.Solve(powers, read)
	if !ok || slices.ContainsFunc(f.errors, func(row []float64) bool { return floats.Norm(row, 2) > 1e13 }) {
		return p, false // of strokes that are all but the same
	}
	for k, v := range b {
		p.Quintic[k+f.first] = v / math.Pow(f.full, float64(k+f.first))
	}
	p.end, p.top = f.full, p.Value(f.full)
	sum := 0.0
	for i := range x {
		e := y[i] - p.Value(x[i])
		sum += e * e
	}
	sigma := math.Sqrt(sum / float64(n-d))
	if f.first == 1 {
		f.ReadingError, f.ResidualRMS = units.Length(sigma), units.Length(math.Sqrt(sum/float64(n)))
	} else {
		f.RatioReadingError = sigma
	}
	return p, true
}

// LeverRatioError returns the standard error of the fitted lever ratio at a
// stroke, clamped to [0, stroke of the curve]:
//
//	σ·√(gᵀ(AᵀA)⁻¹g),  g = dLR/db
//
// with σ the ReadingError, or the RatioReadingError, and A the powers of t at the readings. It is largest at
// the ends of the stroke. Of ratios over the travel it is that at the stroke's travel. It includes the scatter of the readings, but not the error of
// a polynomial that can't follow the linkage's shape.
func (f *Fit) LeverRatioError(stroke units.Length) float64 {
	if f.Curve == nil {
		return 0
	}
	x := spring.Clamp(stroke, f.Curve.Stroke())
	if f.byTravel {
		x = f.Curve.TravelAt(x)
	}
	g := make([]float64, f.degree)
	for k := range g {
		g[k] = math.Pow(float64(x)/f.full, float64(k))
		if f.first == 1 {
			g[k] *= float64(k+1) / f.full
		}
	}
	sum := 0.0
	for _, row := range f.errors {
		e := floats.Dot(row, g)
		sum += e * e
	}
	return (float64(f.ReadingError) + f.RatioReadingError) * math.Sqrt(sum) // one of the two is 0
}

// String returns the fitted curve and the standard error of one reading as text.
func (f Fit) String() string {
	if f.Curve == nil {
		return "no fit"
	}
	return fmt.Sprintf("%v; readings with errors of about %s", f.Curve, f.readingError())
}

func (f *Fit) readingError() string {
	if f.first == 0 {
		return fmt.Sprintf("%.3f of the ratio", f.RatioReadingError)
	}
	return fmt.Sprintf("%.2f of travel", f.ReadingError)
}
