package hermite

// Quintic is a polynomial of at most fifth degree, p(u) = Σ q[k]·uᵏ, of the distance u from a place.
type Quintic [6]float64

// Jet is the value of a function and its first two derivatives at one place.
type Jet struct{ Value, Slope, Second float64 }

// New returns the quintic that has the jet a at 0 and the jet b at h > 0.
func New(h float64, a, b Jet) Quintic {
	// What the terms of degree 3 to 5 must add at h, scaled by powers of h.
	value := b.Value - a.Value - h*(a.Slope+h*a.Second/2)
	slope := (b.Slope - a.Slope - h*a.Second) * h
	second := (b.Second - a.Second) * h * h
	per := 1 / h
	per3 := per * per * per
	return Quintic{
		a.Value, a.Slope, a.Second / 2,
		(10*value - 4*slope + second/2) * per3,
		(-15*value + 7*slope - second) * (per3 * per),
		(6*value - 3*slope + second/2) * (per3 * per * per),
	}
}

// Cubic returns the cubic that has the value and the slope of a at 0 and those
// of b at h > 0. Their second derivatives are ignored.
func Cubic(h float64, a, b Jet) Quintic {
	chord := (b.Value - a.Value) / h
	return Quintic{a.Value, a.Slope, (3*chord - 2*a.Slope - b.Slope) / h, (a.Slope + b.Slope - 2*chord) / (h * h)}
}

// Smooth returns the cubic that has the jet a at 0 and the second derivative of b at h > 0. Unlike
// [New], it does not magnify the rounding of the values over a short h.
func Smooth(h float64, a, b Jet) Quintic {
	return Quintic{a.Value, a.Slope, a.Second / 2, (b.Second - a.Second) / (6 * h)}
}

// Value returns p(u).
func (q *Quintic) Value(u float64) float64 {
	return q[0] + u*(q[1]+u*(q[2]+u*(q[3]+u*(q[4]+u*q[5]))))
}

// Slope returns p′(u).
func (q *Quintic) Slope(u float64) float64 {
	return q[1] + u*(2*q[2]+u*(3*q[3]+u*(4*q[4]+u*5*q[5])))
}

// Second returns p″(u).
func (q *Quintic) Second(u float64) float64 {
	return 2*q[2] + u*(6*q[3]+u*(12*q[4]+u*20*q[5]))
}
