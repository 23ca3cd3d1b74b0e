package linkage

import (
	"math"

	"example.com/wheelrate/units"
)

// How near a compiled curve comes to its mechanism, a tenth of what is
// promised: travel in m, lever ratio, and its slope relative to itself or to
// one per metre, whichever is more.
const (
	travelWithin = 1e-10
	ratioWithin  = 1e-8
	slopeWithin  = 1e-6
)

// short tells whether an interval of the stroke is so short that the rounding
// of places, divided by its square, says more of the ratio's slope than what
// the slope does there. It isn't divided then, and a polynomial of third degree
// errs by less than either.
func short(h float64, a, b *sample) bool {
	const rounding = 1e-9 // of a double, over what is wanted of the slope
	return h*h*max(1, math.Abs(imag(a.a)), math.Abs(imag(b.a))) < rounding
}

// rises tells, at the nodes, whether the lever ratio is a usable number, which
// says more of a mechanism that isn't a suspension than its curve would.
func (k *Kinematics) rises() error {
	for i := range k.samples {
		if r := imag(k.samples[i].v); !(r >= minRatio && r <= maxRatio) {
			return k.unusable(k.strokes[max(0, i-1)], r)
		}
	}
	return nil
}

// compile makes the curve from the axle's motion at the nodes, with more
// pieces where the middle of one isn't near enough to the mechanism.
func (k *Kinematics) compile() error {
	nodes := k.samples
	pieces := make([]piece, 0, len(nodes)+8)
	for i := range nodes[1:] {
		pieces = k.refine(pieces, k.strokes[i], k.strokes[i+1], &nodes[i], &nodes[i+1], 12)
	}
	last := nodes[len(nodes)-1].place
	c := newCurve(pieces, k.t.stroke*k.t.size, imag(last-k.start)*k.t.size)
	if !c.rises() {
		for i := range pieces {
			p := &pieces[i]
			end, _ := c.end(i)
			if least, greatest := p.extremes(end - p.start); !(least >= minRatio && greatest <= maxRatio) {
				return k.unusable(p.start/k.t.size, least)
			}
		}
	}
	k.curve = c
	return nil
}

// unusable says that the axle doesn't rise properly from a stroke on.
func (k *Kinematics) unusable(s, ratio float64) error {
	stroke, at := k.spec.Stroke, units.Length(s*k.t.size)
	switch {
	case ratio < minRatio && s == 0:
		return &units.FieldError{Package: "linkage", Field: "axle", Value: k.spec.Axle, Class: units.ErrConflict,
			Want: "a point that rises as the shock is compressed from full extension"}
	case ratio < minRatio:
		return locks(stroke, at, "the axle rises no more while the shock is compressed")
	}
	return locks(stroke, at, "the axle moves by more than 1000 times what the shock does")
}

// refine appends the pieces for one interval.
func (k *Kinematics) refine(pieces []piece, from, to float64, a, b *sample, depth int) []piece {
	p := k.quintic(from, to, a, b)
	var m motion
	middle := from + (to-from)/2
	k.eval(middle, &m)
	at := k.t.sample(&m)
	h := (to - from) * k.t.size
	u := h / 2
	slope := imag(at.a) / k.t.size
	// What a quintic of length h misses of the travel is c·u³(h−u)³, nearly.
	// So the ratio is met in the middle whatever c is, and off by most at 0.28
	// and 0.72 of h: by h/7 of what the slope is off by in the middle.
	miss := math.Abs(p.slope(u) - slope)
	near := math.Abs(p.travel(u)-imag(at.place-k.start)*k.t.size) <= travelWithin &&
		miss*h/7 <= ratioWithin &&
		miss <= slopeWithin*max(1, math.Abs(slope))
	if near || depth == 0 || short(to-from, a, b) {
		return append(pieces, p)
	}
	pieces = k.refine(pieces, from, middle, a, &at, depth-1)
	return k.refine(pieces, middle, to, &at, b, depth-1)
}

// quintic returns the piece that shares travel, lever ratio and its slope with
// the axle's motion at both ends.
func (k *Kinematics) quintic(from, to float64, a, b *sample) piece {
	size := k.t.size
	h := (to - from) * size
	w0, w1 := imag(a.place-k.start)*size, imag(b.place-k.start)*size
	r0, r1 := imag(a.v), imag(b.v)
	g0, g1 := imag(a.a)/size, imag(b.a)/size
	if short(to-from, a, b) {
		return piece{start: from * size, c: [6]float64{w0, r0, g0 / 2, (g1 - g0) / (6 * h)}}
	}
	// What the cubic terms and above must add by the end.
	travel := w1 - w0 - h*(r0+h*g0/2)
	ratio := (r1 - r0 - h*g0) * h
	slope := (g1 - g0) * h * h
	h3 := h * h * h
	return piece{start: from * size, c: [6]float64{w0, r0, g0 / 2,
		(10*travel - 4*ratio + slope/2) / h3,
		(-15*travel + 7*ratio - slope) / (h3 * h),
		(6*travel - 3*ratio + slope/2) / (h3 * h * h)}}
}
