package linkage

import (
	"math"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// piece is how far the axle moves over one part of the stroke, in m: polynomials of the stroke u beyond
// the part's start.
type piece struct {
	start, end      float64 // the strokes between which it is, m
	top             float64 // the travel at its end, at which the next one begins, m
	hermite.Quintic         // the travel
	forward         hermite.Quintic
}

// length returns the stroke over which p is.
func (p *piece) length() float64 { return p.end - p.start }

// stroke returns the u up to the length at which the travel is w. Newton's method in a
// bracket takes two or three steps to within the rounding of w. A w just below the start,
// which an index lets pass, gives a u below 0.
func (p *piece) stroke(w float64) float64 {
	h := p.length()
	if !(w > p.Quintic[0]) {
		return (w - p.Quintic[0]) / p.Quintic[1]
	}
	if !(w < p.top) {
		return h
	}
	const rounding = 4 * 0x1p-52
	lo, hi := 0.0, h
	u := h * (w - p.Quintic[0]) / (p.top - p.Quintic[0])
	for range 100 {
		f, r := p.Value(u)-w, p.Slope(u)
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
				break // neighbouring floats
			}
		}
		u = next
	}
	return u
}

// extremes puts the least and the greatest lever ratio of p into a progression that is without them yet.
// They are at the ends, or where the ratio's slope is 0.
func (p *piece) extremes(of *Progression) {
	q, h := &p.Quintic, p.length()
	places := [5]float64{4: h}
	a, b := quadratic(60*q[5], 24*q[4], 6*q[3])
	from := 0.0
	for i, to := range [3]float64{min(a, b), max(a, b), h} { // between the roots of its derivative the slope is monotonic
		if !(to > from && to <= h) {
			continue
		}
		if math.Signbit(q.Second(from)) != math.Signbit(q.Second(to)) {
			places[i+1], _ = root.Find(q.Second, from, to, 1e-9*h) // a polynomial: no error
		}
		from = to
	}
	for _, u := range places {
		r, at := q.Slope(u), units.Length(p.start+u)
		if r < of.Min {
			of.Min, of.MinAt = r, at
		}
		if r > of.Max {
			of.Max, of.MaxAt = r, at
		}
	}
}

// quadratic returns the real roots of a·x² + b·x + c, and NaN or Inf for each that does not exist.
func quadratic(a, b, c float64) (x, y float64) {
	d := -(b + math.Copysign(math.Sqrt(b*b-4*a*c), b)) / 2
	return d / a, c / d
}
