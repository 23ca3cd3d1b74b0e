package linkage

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// StrokeReadings are strokes and vertical wheel travels measured on a bike with a
// rule or a caliper. Both count from full extension, where they are 0.
type StrokeReadings struct {
	Stroke []units.Length `json:"stroke"`
	Travel []units.Length `json:"travel"`
	Degree int            `json:"degree,omitempty"` // of the polynomial: 4, which 0 also means, or 5
}

// Fit is a curve fitted to readings, with its standard errors. It is made by [FitReadings].
type Fit struct {
	curve      *Curve
	residuals  []units.Length
	rms, sigma float64
	degree     int
	r          *mat.TriDense // of the QR decomposition of the powers of t: the covariance is σ²·(RᵀR)⁻¹
}

const degree, maxDegree = 4, 5

// FitReadings fits the polynomial
//
//	w(t) = b₁t + b₂t² + b₃t³ + b₄t⁴,  t = s/stroke
//
// to readings of the travel w at the strokes s by least squares. The lever ratio is the derivative
// of the polynomial. The zero point is exact, since strokes and travels are counted from it. Degree 4
// needs 7 readings or more, the zero included, and degree 5 needs 8. Columns must be as in
// [NewTable], and the fitted lever ratio from 0.001 to 1000 everywhere. The error names every bad
// value.
//
// In simulated readings of invented linkages, steps of 5 mm with an error of 0.1 mm (one standard
// deviation), curves through all points had lever ratios wrong by 0.03 rms, and by 0.11 to 0.21 at
// the worst place in 5 of 100 cases; steps of 2.5 mm doubled that. The polynomial of degree 4 was
// wrong by 0.007 to 0.009 rms and 0.04 to 0.06 at the worst place on eleven of twelve linkages, by
// 0.015 and 0.10 on one of extreme curvature, and more readings improved it. Degree 3 missed the
// shape of one of them by 0.07. Degree 5 is worth trying if [Fit.ReadingError] is clearly larger
// than the readings' error can be. The limit of 7 readings is a judgement, not the result of a test.
//
// Not modelled: errors of the stroke readings. An error e of a stroke acts as one of LR·e in travel.
func FitReadings(r StrokeReadings) (*Fit, error) {
	c := units.Checker{Package: "linkage"}
	f := &Fit{degree: cmp.Or(r.Degree, degree)}
	if f.degree != degree && f.degree != maxDegree {
		c.Fail("degree", r.Degree, "4 or 5", nil)
		f.degree = degree
	}
	checkColumns(&c, r.Stroke, r.Travel, f.degree+3)
	if err := c.Err(); err != nil {
		return nil, err
	}
	if !f.fit(floats(r.Stroke), floats(r.Travel)) {
		c.Fail("stroke", nil, "readings spread over the stroke", nil)
		return nil, c.Err()
	}
	if _, err := f.curve.ofUse("travel", "values whose curve near these readings has"); err != nil {
		return nil, err
	}
	return f, nil
}

// fit solves the least squares problem by QR decomposition, and reports whether it could.
func (f *Fit) fit(stroke, travel []float64) bool {
	n, d := len(stroke)-1, f.degree // without the zero point, at which every power is 0
	full := stroke[n]
	powers := mat.NewDense(n, d, nil)
	for i := range n {
		t, power := stroke[i+1]/full, 1.0
		for k := range d {
			power *= t
			powers.Set(i, k, power)
		}
	}
	var qr mat.QR
	qr.Factorize(powers)
	b := mat.NewVecDense(d, nil)
	if qr.SolveVecTo(b, false, mat.NewVecDense(n, travel[1:])) != nil {
		return false
	}
	var r mat.Dense
	qr.RTo(&r)
	var p piece
	scale := 1.0
	f.r = mat.NewTriDense(d, mat.Upper, nil)
	f.r.Copy(&r)
	for i := range d {
		scale /= full
		p.Quintic[i+1] = b.AtVec(i) * scale
	}
	f.curve = newCurve([]piece{p}, full, p.Value(full))
	sum := 0.0
	for i, s := range stroke {
		e := travel[i] - p.Value(s)
		f.residuals = append(f.residuals, units.Length(e))
		sum += e * e
	}
	f.rms, f.sigma = math.Sqrt(sum/float64(n)), math.Sqrt(sum/float64(n-d))
	return true
}

// Curve returns the fitted curve. Its full travel is that of the polynomial at the
// last stroke, not the last reading.
func (f *Fit) Curve() *Curve { return f.curve }

// Residuals returns, for each reading, its travel minus the curve's; that of the zero
// point is 0. Repeat a reading whose residual is much larger than the others.
func (f *Fit) Residuals() []units.Length { return append([]units.Length(nil), f.residuals...) }

// ResidualRMS returns the root mean square of the residuals, the zero point not counted.
func (f *Fit) ResidualRMS() units.Length { return units.Length(f.rms) }

// ReadingError returns the standard error of one reading, estimated from the residuals
// e as √(Σe²/(n − degree)) over the n readings without the zero point. If it is clearly
// larger than the readings' error can be, the polynomial does not fit the linkage.
func (f *Fit) ReadingError() units.Length { return units.Length(f.sigma) }

// LeverRatioError returns the standard error of the fitted lever ratio at a
// stroke, clamped to [0, stroke of the curve]:
//
//	σ·√(gᵀ(AᵀA)⁻¹g),  g = dLR/db
//
// with σ the [Fit.ReadingError] and A the powers of t at the readings. It is largest at
// the ends of the stroke. It includes the scatter of the readings, but not the error of
// a polynomial that can't follow the linkage's shape.
func (f *Fit) LeverRatioError(stroke units.Length) float64 {
	if f.curve == nil {
		return 0
	}
	full := f.curve.Stroke()
	t := float64(spring.Clamp(stroke, full) / full)
	g, power := mat.NewVecDense(f.degree, nil), 1/float64(full)
	for j := range f.degree {
		g.SetVec(j, float64(j+1)*power)
		power *= t
	}
	_ = g.SolveVec(f.r.T(), g) // the v of Rᵀv = g, whose square is gᵀ(RᵀR)⁻¹g; R was found not to be singular
	return f.sigma * mat.Norm(g, 2)
}

// String returns the fitted curve and the root mean square of the residuals as text.
func (f *Fit) String() string {
	if f.curve == nil {
		return "no fit"
	}
	return fmt.Sprintf("%v; %d readings within %.2f rms", f.curve, len(f.residuals), f.ResidualRMS())
}
