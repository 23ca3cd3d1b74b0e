package linkage

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// exactness are factors of the tolerances of [NewFunction], for a curve whose ratio is known in closed
// form. The next one is taken where a zigzag of points needs too many pieces.
var exactness = [4]float64{1e-4, 1e-2, 1, 1e3}

// integrated returns the curve of a table of ratios, or an error that names lever_ratio. The pieces
// are those of the ratio over the stroke, or over the travel, and at most of fourth degree.
func (t *Table) integrated(pieces []piece, what string) (*Curve, error) {
	area := make([]piece, len(pieces)) // of ∫ LR, whose Slope is LR
	sum := 0.0
	for i := range pieces {
		p := piece{start: pieces[i].start, end: pieces[i].end, Quintic: hermite.Quintic{sum}}
		for k := range 5 {
			p.Quintic[k+1] = pieces[i].Quintic[k] / float64(k+1)
		}
		p.top = p.Value(p.length())
		area[i], sum = p, p.top
	}
	curve, err := newCurve(area).ofUse("lever_ratio", what)
	if err == nil && len(t.Stroke) == 0 {
		curve, err = curve.overTravel()
	}
	if err != nil {
		return nil, err
	}
	for _, l := range [2]units.Length{curve.Stroke(), curve.Travel()} {
		if !(l >= minLength && l <= maxLength) {
			return nil, &units.FieldError{Package: "linkage", Field: "lever_ratio", Value: l, Class: units.ErrRange,
				Want: units.From(minLength, maxLength).With("as stroke and travel")}
		}
	}
	return curve, nil
}

// overTravel returns the curve of the ratio that c has, where the strokes of c are travels.
//
// The stroke at a travel is s(w) = ∫ dw/LR. At the stroke s the travel is w(s), its ratio LR, and that
// ratio's slope LR·dLR/dw. Each piece is divided until a quintic meets these.
func (c *Curve) overTravel() (*Curve, error) {
	jet := func(p *piece, u float64) hermite.Jet {
		r := p.Slope(u)
		return hermite.Jet{Value: p.start + u, Slope: r, Second: r * p.Second(u)}
	}
	strokes := make([]float64, len(c.pieces)+1)
	for i := range c.pieces {
		strokes[i+1] = strokes[i] + c.pieces[i].reciprocal(0, c.pieces[i].length())
	}
	var a approximation
	for _, exact := range exactness {
		a = approximation{stroke: strokes[len(c.pieces)], scale: 2 * c.stroke, exact: exact}
		for i := range c.pieces {
			p := &c.pieces[i]
			h := p.length()
			a.f = func(s float64) way {
				// The ratio is more than 0, so the stroke rises with the travel: no error.
				u, _ := root.Find(func(u float64) float64 { return strokes[i] + p.reciprocal(0, u) - s }, 0, h, 0)
				return way{up: jet(p, u)}
			}
			from, to := way{up: jet(p, 0)}, way{up: jet(p, h)}
			to.up.Value = p.end // to the last digit
			a.refine(strokes[i], strokes[i+1], &from, &to)
		}
		if !a.missed {
			return newCurve(a.pieces).ofUse("lever_ratio", "values whose curve over the stroke has")
		}
	}
	return nil, &units.FieldError{Package: "linkage", Field: "lever_ratio", Want: units.Want{Text: "values whose curve is smooth"}, Class: units.ErrRange}
}

// gauss are Gauss and Legendre's 12 points and weights over [-1, 1].
var gauss = func() (g struct{ at, weight [12]float64 }) {
	quad.Legendre{}.FixedLocations(g.at[:], g.weight[:], -1, 1)
	return g
}()

// reciprocal returns ∫ du/Slope between two places of a piece, by Gauss's points, and
// by halves until these agree with the whole.
func (p *piece) reciprocal(from, to float64) float64 {
	over := func(from, to float64) (sum float64) {
		middle, half := from+(to-from)/2, (to-from)/2
		for i, x := range gauss.at {
			sum += gauss.weight[i] * half / p.Slope(middle+half*x)
		}
		return sum
	}
	all := over(from, to)
	// The rounding of a ratio next to 0 is large against itself, so parts are held against the whole.
	var sum func(from, to, whole float64, halvings int) float64
	sum = func(from, to, whole float64, halvings int) float64 {
		middle := from + (to-from)/2
		a, b := over(from, middle), over(middle, to)
		if math.Abs(a+b-whole) <= 1e-14*all || halvings == 0 {
			return a + b
		}
		return sum(from, middle, a, halvings-1) + sum(middle, to, b, halvings-1)
	}
	return sum(from, to, all, 20)
}
