package motion

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// speedScale is the speed of a mass that swings by the full travel on a rate.
func speedScale(full units.Length, rate units.Stiffness, mass units.Mass) float64 {
	return float64(full) * math.Sqrt(float64(rate)/float64(mass))
}

// The state of both ends: heights in m above those at full extension on level ground, the pitch in
// rad, nose up, the speeds of these, and the energies in J that the dampers have taken.
const (
	Heave = iota // of the sprung mass centre
	Pitch
	FrontAxle
	RearAxle
	HeaveSpeed
	PitchSpeed
	FrontAxleSpeed
	RearAxleSpeed
	FrontWork
	RearWork
	TwoEndStates // how many there are
)

// TwoEnds is a bike in its plane: a body that heaves and pitches on two springs, dampers and wheels.
//
// With z the height of the sprung mass centre, θ the pitch, a and b the distances of the front axle
// ahead of it and of the rear axle behind it, the body is at z + a·θ above the front axle and at
// z − b·θ above the rear one. An axle at the height u below the body at y has the wheel travel w = u − y,
// and by Newton's law
//
//	m·z̈ = F_f + F_r − m·g₀,  m·ρ²·θ̈ = a·F_f − b·F_r
//	m_u·ü = F_g − F − m_u·g₀,  F = F_s(w) + F_d(ẇ)
//
// with ρ the radius of gyration, F_s the force of a spring at the wheel, F_d that of its damper, m_u the
// unsprung mass, and F_g = k_t·(h − u) the force of the tyre on ground of height h, 0 where that is below
// 0. Without a tyre u is h. Pitch is small (sin θ ≈ θ). With a = b and both ends alike, the bike moves as
// two single ends side by side.
//
// Not modelled: see the package.
type TwoEnds struct {
	Mass        units.Mass   // sprung, with the rider, from 1e-6 to 1e6 kg
	Gyration    units.Length // radius of gyration of the sprung mass in pitch, from 1 mm to 1 km
	Ahead       units.Length // of the front axle before the mass centre, from 0 to 1 km
	Behind      units.Length // of the rear axle behind it, from 0 to 1 km, not both 0
	Front, Rear Corner
}

// Check records every bad field.
func (b TwoEnds) Check(c *units.Checker) {
	const far = 1e3 * units.Metre
	units.Between(c, "mass", b.Mass, 1e-6, 1e6)
	units.Between(c, "gyration", b.Gyration, units.Millimetre, far)
	ok := units.Between(c, "ahead", b.Ahead, 0, far)
	if units.Between(c, "behind", b.Behind, 0, far) && ok && !(b.Ahead+b.Behind >= units.Millimetre) {
		c.Fail("behind", b.Behind, "more, or more ahead: axles that are apart", units.ErrConflict)
	}
	front, rear := c.Child("front"), c.Child("rear")
	b.Front.Check(&front)
	b.Rear.Check(&rear)
}

// Slope writes the derivative of a state by time to slope, for [Problem.Slope]. The bike must pass
// [TwoEnds.Check].
func (b *TwoEnds) Slope(t float64, y, slope []float64) {
	y, slope = y[:TwoEndStates], slope[:TwoEndStates]
	a, c, m, radius := float64(b.Ahead), float64(b.Behind), float64(b.Mass), float64(b.Gyration)
	_, speed, spring, damper, ground := b.front(t, y)
	front := float64(spring + damper)
	slope[FrontAxleSpeed], slope[FrontWork] = b.Front.lift(spring, damper, ground), float64(damper)*float64(speed)
	_, speed, spring, damper, ground = b.rear(t, y)
	rear := float64(spring + damper)
	slope[RearAxleSpeed], slope[RearWork] = b.Rear.lift(spring, damper, ground), float64(damper)*float64(speed)
	slope[Heave], slope[Pitch], slope[FrontAxle], slope[RearAxle] = y[HeaveSpeed], y[PitchSpeed], y[FrontAxleSpeed], y[RearAxleSpeed]
	slope[HeaveSpeed] = (front+rear)/m - units.StandardGravity
	slope[PitchSpeed] = (a*front - c*rear) / (m * radius * radius)
}

// Forces returns the forces at both ends in a state. The bike must pass [TwoEnds.Check].
func (b *TwoEnds) Forces(t float64, y []float64) (front, rear Forces) {
	return forces(b.front(t, y)), forces(b.rear(t, y))
}

// front is the balance in front.
func (b *TwoEnds) front(t float64, y []float64) (travel units.Length, speed units.Speed, spring, damper, ground units.Force) {
	arm := float64(b.Ahead)
	return b.Front.balance(t, y[Heave]+arm*y[Pitch], y[FrontAxle], y[HeaveSpeed]+arm*y[PitchSpeed], y[FrontAxleSpeed])
}

// rear is that in the rear.
func (b *TwoEnds) rear(t float64, y []float64) (travel units.Length, speed units.Speed, spring, damper, ground units.Force) {
	arm := float64(b.Behind)
	return b.Rear.balance(t, y[Heave]-arm*y[Pitch], y[RearAxle], y[HeaveSpeed]-arm*y[PitchSpeed], y[RearAxleSpeed])
}

// Kinks returns where the slope of the bike has kinks, for [Problem.Events]: at the stops, and where a
// tyre lifts off. The bike must pass [TwoEnds.Check].
func (b *TwoEnds) Kinks() []Event {
	ahead, behind := float64(b.Ahead), float64(b.Behind)
	return append(
		b.Front.kinks(func(y []float64) (body, axle float64) { return y[Heave] + ahead*y[Pitch], y[FrontAxle] }),
		b.Rear.kinks(func(y []float64) (body, axle float64) { return y[Heave] - behind*y[Pitch], y[RearAxle] })...)
}

// Scale returns what errors of a state are best measured by, for [Problem.Scale]: the lesser travel of both
// wheels, and for pitch, speeds and work what goes with it. An error of a rigid wheel's axle, which has none,
// is not controlled. The bike must pass [TwoEnds.Check].
func (b *TwoEnds) Scale() []float64 {
	full, base := min(b.Front.Spring.Travel(), b.Rear.Spring.Travel()), float64(b.Ahead+b.Behind)
	scale := make([]float64, TwoEndStates)
	scale[Heave], scale[HeaveSpeed] = float64(full), speedScale(full, b.Front.mean()+b.Rear.mean(), b.Mass)
	scale[Pitch], scale[PitchSpeed] = scale[Heave]/base, scale[HeaveSpeed]/base
	for i, s := range [2]*Corner{&b.Front, &b.Rear} {
		scale[FrontAxle+i], scale[FrontAxleSpeed+i] = s.axleScale()
		scale[FrontWork+i] = s.most() * float64(s.Spring.Travel())
	}
	return scale
}

// Rest returns the state at rest on the ground at time 0. The error names every bad field, or says as
// [spring.Settle] why an end has no rest.
func (b *TwoEnds) Rest() ([]float64, error) {
	c := units.Checker{Package: "motion"}
	if b.Check(&c); !c.OK() {
		return nil, c.Err()
	}
	base := float64(b.Ahead + b.Behind)
	front := float64(b.Behind) / base // its share of the weight
	y, bodies := make([]float64, TwoEndStates), [2]float64{}
	for i, end := range [2]struct {
		name  string
		share float64
		*Corner
	}{{"front", front, &b.Front}, {"rear", 1 - front, &b.Rear}} {
		var err error
		if bodies[i], y[FrontAxle+i], err = end.rest(b.Mass.Weight() * units.Force(end.share)); err != nil {
			return nil, fmt.Errorf("motion: %s: %w", end.name, err)
		}
	}
	y[Heave], y[Pitch] = front*bodies[0]+(1-front)*bodies[1], (bodies[0]-bodies[1])/base
	return y, nil
}
