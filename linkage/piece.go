package linkage

import "math"

// piece is the travel over one part of the stroke: a polynomial of the stroke
// u beyond the part's start, w(u) = Σ c[k]·uᵏ, in metres. A table gives cubic
// pieces, a fit to readings one quartic or quintic.
type piece struct {
	start float64    // the stroke at which it begins, m
	c     [6]float64 // c[0] is the travel there, c[1] the lever ratio
}

// hermite returns the cubic that starts at stroke s and travel w0 with lever
// ratio r0, and reaches travel w1 and ratio r1 after h.
func hermite(s, h, w0, w1, r0, r1 float64) piece {
	chord := (w1 - w0) / h
	return piece{start: s, c: [6]float64{w0, r0, (3*chord - 2*r0 - r1) / h, (r0 + r1 - 2*chord) / (h * h)}}
}

// travel returns w(u).
func (p *piece) travel(u float64) float64 {
	c := &p.c
	return c[0] + u*(c[1]+u*(c[2]+u*(c[3]+u*(c[4]+u*c[5]))))
}

// ratio returns dw/du.
func (p *piece) ratio(u float64) float64 {
	c := &p.c
	return c[1] + u*(2*c[2]+u*(3*c[3]+u*(4*c[4]+u*5*c[5])))
}

// slope returns d²w/du².
func (p *piece) slope(u float64) float64 {
	c := &p.c
	return 2*c[2] + u*(6*c[3]+u*(12*c[4]+u*20*c[5]))
}

// stroke returns the u up to h at which the travel is w, where the piece
// rises from c[0] to top over h: Newton's method inside a bracket that only
// shrinks. It ends within rounding of w, and always ends. A w a hair below
// c[0], as an index lets pass, gives a u below 0.
func (p *piece) stroke(w, h, top float64) float64 {
	if !(w > p.c[0]) {
		return (w - p.c[0]) / p.c[1]
	}
	if !(w < top) {
		return h
	}
	const rounding = 4 * 0x1p-52
	lo, hi := 0.0, h
	u := h * (w - p.c[0]) / (top - p.c[0])
	for range 100 {
		f, r := p.travel(u)-w, p.ratio(u)
		if f > 0 {
			hi = u
		} else {
			lo = u
		}
		next := u - f/r
		if math.Abs(f) <= rounding*(w+r*p.start) {
			return max(0, min(next, h))
		}
		if !(next > lo && next < hi) {
			if next = lo + (hi-lo)/2; next == lo || next == hi {
				break // neighbours: the rounding of f decides no further
			}
		}
		u = next
	}
	return u
}

// extremes returns the least and the greatest lever ratio on [0, h], at the
// ends or where the ratio's slope is 0 between them.
func (p *piece) extremes(h float64) (least, greatest float64) {
	least = min(p.c[1], p.ratio(h))
	greatest = max(p.c[1], p.ratio(h))
	// The slope over t = u/h, less a common factor.
	slope := [4]float64{2 * p.c[2], 6 * p.c[3] * h, 12 * p.c[4] * h * h, 20 * p.c[5] * h * h * h}
	var roots [3]float64
	for _, t := range rootsWithin(slope[:], roots[:0]) {
		r := p.ratio(t * h)
		least, greatest = min(least, r), max(greatest, r)
	}
	return least, greatest
}

// rootsWithin appends to roots, in order, where a polynomial of degree 3 at
// most changes its sign inside (0, 1): between the roots of its derivative it
// is monotonic, so that bisection finds each. Coefficients start with the
// constant one.
func rootsWithin(c []float64, roots []float64) []float64 {
	for len(c) > 0 && c[len(c)-1] == 0 {
		c = c[:len(c)-1]
	}
	switch len(c) {
	case 0, 1:
		return roots
	case 2:
		if t := -c[0] / c[1]; t > 0 && t < 1 {
			roots = append(roots, t)
		}
		return roots
	}
	var derivative, turns [3]float64
	for k := 1; k < len(c); k++ {
		derivative[k-1] = float64(k) * c[k]
	}
	from := 0.0
	for _, to := range append(rootsWithin(derivative[:len(c)-1], turns[:0]), 1) {
		if t, ok := bisect(c, from, to); ok {
			roots = append(roots, t)
		}
		from = to
	}
	return roots
}

// bisect finds where a polynomial changes its sign between two places.
func bisect(c []float64, lo, hi float64) (float64, bool) {
	below := math.Signbit(horner(c, lo))
	if below == math.Signbit(horner(c, hi)) {
		return 0, false
	}
	for {
		mid := lo + (hi-lo)/2
		if !(mid > lo && mid < hi) {
			return mid, true
		}
		if math.Signbit(horner(c, mid)) == below {
			lo = mid
		} else {
			hi = mid
		}
	}
}

func horner(c []float64, t float64) float64 {
	sum := 0.0
	for k := len(c) - 1; k >= 0; k-- {
		sum = sum*t + c[k]
	}
	return sum
}
