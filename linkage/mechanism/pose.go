package mechanism

import (
	"math"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/units"
)

// Pose is the place of a mechanism's wheel at one stroke s of the shock, and its
// derivatives by s, which are exact to rounding.
type Pose struct {
	Stroke          units.Length     `json:"stroke"`
	Travel          units.Length     `json:"travel"`            // how far the axle has risen from full extension
	LeverRatio      float64          `json:"lever_ratio"`       // LR = dw/ds of the travel w
	LeverRatioSlope units.RatioSlope `json:"lever_ratio_slope"` // dLR/ds in 1/m
	Axle            Point            `json:"axle"`
	AxleForward     float64          `json:"axle_forward"` // dx/ds of the axle, positive forward
	// AxleForwardSlope is d²x/ds² of the axle in 1/m.
	AxleForwardSlope units.RatioSlope `json:"axle_forward_slope"`
	AxleGrowth       units.Length     `json:"axle_growth"`      // growth of its distance from the bottom bracket, the origin
	WheelbaseGrowth  units.Length     `json:"wheelbase_growth"` // how far the axle has moved backward from full extension
	// CarrierTurn is the angle by which the body that carries the wheel has turned from
	// full extension, counter-clockwise, from −π to π.
	CarrierTurn    units.Angle `json:"carrier_turn"`
	CarrierTurning float64     `json:"carrier_turning"` // its derivative, in rad per m of stroke
	// InstantCentre is the point that this body turns about at the moment, against the
	// frame. Where the body hardly turns the point is far away: at most 1000 km from the
	// axle, in the direction of the centre.
	InstantCentre Point `json:"instant_centre"`
}

// Pose returns the pose at a stroke, clamped to [0, Stroke].
func (m *Mechanism) Pose(stroke units.Length) Pose {
	if m.layout == nil {
		return Pose{}
	}
	var here motion
	s, size := m.clamp(stroke), m.layout.size
	m.solve(s, &here)
	at, start := axleAt(m.axle, &here), m.nodes[0].place
	carrier := &here[m.axle.body]
	const farthest = 1e6 * units.Metre // of the instant centre from the axle
	return Pose{
		Stroke:           units.Length(s * size),
		Travel:           units.Length(imag(at.place-start) * size),
		LeverRatio:       imag(at.v),
		LeverRatioSlope:  units.RatioSlope(imag(at.a) / size),
		Axle:             pointAt(at.place, size),
		AxleForward:      real(at.v),
		AxleForwardSlope: units.RatioSlope(real(at.a) / size),
		AxleGrowth:       units.Length((abs(at.place) - abs(start)) * size),
		WheelbaseGrowth:  units.Length(real(start-at.place) * size),
		CarrierTurn:      units.Angle(math.Atan2(imag(carrier.u), real(carrier.u))),
		CarrierTurning:   carrier.w / size,
		InstantCentre:    pointAt(at.place+centre(at.v, carrier.w, float64(farthest)/size), size),
	}
}

// centre returns the instant centre of a body that turns at the rate w, as a vector from a
// point of it that has the velocity v: i·v/w, shortened to far.
func centre(v complex128, w, far float64) complex128 {
	speed := abs(v) // more than 0, as the lever ratio is
	distance := math.Copysign(min(speed/math.Abs(w), far), w)
	return scale(distance/speed, turn(v))
}

// arc returns how long the axle's path is from one sample to another, h of
// stroke on: the integral of the speed along the quintics that share place and
// derivatives with both, by Gauss and Legendre's rule of five points.
func arc(h float64, from, to *sample) float64 {
	switch {
	case !(h > 0):
		return 0
	case h < 1e-6: // the places differ by hardly more than their rounding
		return h / 2 * (abs(from.v) + abs(to.v))
	}
	x := hermite.New(h, hermite.Jet{Value: real(from.place), Slope: real(from.v), Second: real(from.a)},
		hermite.Jet{Value: real(to.place), Slope: real(to.v), Second: real(to.a)})
	y := hermite.New(h, hermite.Jet{Value: imag(from.place), Slope: imag(from.v), Second: imag(from.a)},
		hermite.Jet{Value: imag(to.place), Slope: imag(to.v), Second: imag(to.a)})
	// Places and weights of the rule, from the middle on, over a unit.
	const (
		x1, w1 = 0.26923465505284155, 0.23931433524968324
		x2, w2 = 0.4530899229693320, 0.11846344252809454
		w0     = 0.28444444444444444
	)
	speed := func(u float64) float64 { return abs(complex(x.Slope(u*h), y.Slope(u*h))) }
	return h * (w0*speed(0.5) + w1*(speed(0.5-x1)+speed(0.5+x1)) + w2*(speed(0.5-x2)+speed(0.5+x2)))
}
