package linkage

import (
	"fmt"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// ratioExactness is of the tolerances of [NewFunction], for a curve whose ratio is known in closed form.
const ratioExactness = 1e-4

// integrated returns the curve of a table of ratios, or an error that names lever_ratio. The pieces
// are those of the ratio over the stroke, or over the travel, up to full, and at most of fourth degree.
func (t *Table) integrated(pieces []piece, full float64, what string) (*Curve, error) {
	area := make([]piece, len(pieces)) // of ∫ LR, whose Slope is LR
	sum := 0.0
	for i := range pieces {
		p, h := piece{start: pieces[i].start}, full-pieces[i].start
		if i+1 < len(pieces) {
			h = pieces[i+1].start - pieces[i].start
		}
		p.Quintic[0] = sum
		for k := range 5 {
			p.Quintic[k+1] = pieces[i].Quintic[k] / float64(k+1)
		}
		area[i], sum = p, p.Value(h)
	}
	curve, err := newCurve(area, full, sum).ofUse("lever_ratio", what)
	if err == nil && len(t.Stroke) == 0 {
		curve, err = curve.overTravel()
	}
	if err != nil {
		return nil, err
	}
	for _, l := range [2]units.Length{curve.Stroke(), curve.Travel()} {
		if !(l >= minLength && l <= maxLength) {
			return nil, &units.FieldError{Package: "linkage", Field: "lever_ratio", Value: l, Class: units.ErrRange,
				Want: fmt.Sprintf("values with a stroke and a travel from %v to %v", minLength, maxLength)}
		}
	}
	return curve, nil
}

// overTravel returns the curve of the ratio that c has, where the strokes of c are travels.
//
// The stroke at a travel is s(w) = ∫ dw/LR. At the stroke s the travel is w(s), its ratio LR, and that
// ratio's slope LR·dLR/dw. Each piece is divided until a quintic meets these.
func (c *Curve) overTravel() (*Curve, error) {
	a := approximation{scale: 2 * c.stroke, exact: ratioExactness}
	jet := func(p *piece, u float64) hermite.Jet {
		r := p.Slope(u)
		return hermite.Jet{Value: p.start + u, Slope: r, Second: r * p.Second(u)}
	}
	strokes := make([]float64, len(c.pieces)+1)
	for i := range c.pieces {
		end, _ := c.end(i)
		strokes[i+1] = strokes[i] + c.pieces[i].reciprocal(0, end-c.pieces[i].start)
	}
	a.stroke = strokes[len(c.pieces)]
	for i := range c.pieces {
		p := &c.pieces[i]
		end, _ := c.end(i)
		h := end - p.start
		a.f = func(s float64) hermite.Jet {
			// The ratio is more than 0, so the stroke rises with the travel: no error.
			u, _ := root.Find(func(u float64) float64 { return strokes[i] + p.reciprocal(0, u) - s }, 0, h, 0)
			return jet(p, u)
		}
		from, to := jet(p, 0), jet(p, h)
		a.refine(strokes[i], strokes[i+1], &from, &to)
	}
	if a.missed {
		return nil, &units.FieldError{Package: "linkage", Field: "lever_ratio", Want: "values whose curve is smooth", Class: units.ErrRange}
	}
	return newCurve(a.pieces, a.stroke, c.stroke).ofUse("lever_ratio", "values whose curve over the stroke has")
}

// reciprocal returns ∫ du/Slope between two places of a piece: by Gauss and Legendre's 16 points, and
// by halves until these agree with the whole.
func (p *piece) reciprocal(from, to float64) float64 {
	over := func(from, to float64) float64 {
		return quad.Fixed(func(u float64) float64 { return 1 / p.Slope(u) }, from, to, 16, quad.Legendre{}, 0)
	}
	var sum func(from, to, whole float64, halvings int) float64
	sum = func(from, to, whole float64, halvings int) float64 {
		middle := from + (to-from)/2
		a, b := over(from, middle), over(middle, to)
		if off := a + b - whole; off*off <= 1e-28*whole*whole || halvings == 0 {
			return a + b
		}
		return sum(from, middle, a, halvings-1) + sum(middle, to, b, halvings-1)
	}
	return sum(from, to, over(from, to), 40)
}
