package sag

import (
	"math"

	"example.com/wheelrate/units"
)

// Bike is a whole bike with a rider on it.
type Bike struct {
	Masses      // with the share of the level bike, Wheelbase, MassCentreHeight and wheel radii
	Front, Rear End
}

// Stance is how the whole bike comes to rest on level ground.
type Stance struct {
	FrontSag    float64      `json:"front_sag"` // frame-fixed vertical wheel travel over full travel
	RearSag     float64      `json:"rear_sag"`
	FrontTravel units.Length `json:"front_travel"`
	RearTravel  units.Length `json:"rear_travel"`
	FrontStroke units.Length `json:"front_stroke"` // along the stanchion or of the shock
	RearStroke  units.Length `json:"rear_stroke"`
	FrontLoad   units.Force  `json:"front_load"` // sprung: of the wheel on the ground less the unsprung weight
	RearLoad    units.Force  `json:"rear_load"`
	Pitch       units.Angle  `json:"pitch"`                // of the frame, positive when the rear sags more
	RearShare   float64      `json:"rear_share"`           // of the weight on the rear wheel, with the bike pitched so
	Wheelbase   units.Length `json:"wheelbase"`            // along the ground
	HeadAngle   units.Angle  `json:"head_angle,omitempty"` // of a fork, from the ground: its own less the pitch; 0 without one
}

// Stance returns how the bike rests when both ends settle together: where the energy of both springs
// and of the sprung mass is least, each end within its stops.
//
// In the frame's coordinates at full extension on level ground, x forward and y up from the ground
// below the rear axle, the axles are at
//
//	a_r = (x_r(s_r), R_r + w_r(s_r)),  a_f = (L + x_f(s_f), R_f + w_f(s_f))
//
// by [linkage.Curve.AxleAt], and the sprung mass m_s = m_rider + m_bike − m_f − m_r at
//
//	c = (((1 − q)·(m_rider + m_bike) − m_f)·L/m_s, H)
//
// with q the rear share of the level bike, H its MassCentreHeight and m_f, m_r the unsprung masses at
// the axles. The ground has the direction t and the normal n for which n·(a_f − a_r) = R_f − R_r, and
// the mass centre the height Y = R_r + n·(c − a_r) above it. With D = t·(a_f − a_r) the wheelbase and
// λ = t·(c − a_r)/D the front's share of the sprung weight W = m_s·g₀,
//
//	F_f = W·λ·n·da_f/ds_f,  F_r = W·(1 − λ)·n·da_r/ds_r
//
// is where E_f + E_r + W·Y is least (virtual work). Both are solved by Newton's method on exact
// derivatives, from where each end settles by itself. An end whose spring pushes harder at full
// extension stays there, and one that is pushed to the end of its travel rests there.
//
// Masses.Wheelbase, Masses.MassCentreHeight and the wheels' radii are needed, each more than 0. The
// error names every bad field: front_scale where scales are given, since their readings have the
// pitch in them already, and mass_centre_height for a bike so tall on springs so soft that it stands
// nowhere, or only on one wheel.
//
// Not modelled: friction, chain and brake (the wheels roll freely), the tyres' own deflection.
func (b Bike) Stance() (Stance, error) {
	c := units.Checker{Package: "sag"}
	level := b.CheckStance(&c)
	front, rear := c.Child("front"), c.Child("rear")
	b.Front.Check(&front)
	b.Rear.Check(&rear)
	if err := c.Err(); err != nil {
		return Stance{}, err
	}
	s, ok := b.stand(level)
	if !ok {
		c.Fail("mass_centre_height", b.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand", units.ErrConflict)
		return Stance{}, c.Err()
	}
	return s, nil
}

// CheckStance is [Masses.Check] with what [Bike.Stance] wants besides.
func (m Masses) CheckStance(c *units.Checker) Loads {
	level := m.Check(c)
	if m.Wheelbase == 0 && !c.Bad("wheelbase") {
		units.Positive(c, "wheelbase", m.Wheelbase)
	}
	if m.MassCentreHeight == 0 {
		units.Positive(c, "mass_centre_height", m.MassCentreHeight)
	}
	if m.Scaled() && !c.Bad("front_scale") {
		c.Fail("front_scale", m.FrontScale, "the share of the level bike instead: scales have the pitch in them already", units.ErrConflict)
	}
	m.checkRadii(c)
	return level
}

// checkRadii records what is wrong with the wheels' radii for a bike that settles as a whole.
func (m Masses) checkRadii(c *units.Checker) {
	const least, most = 1 * units.Millimetre, 10 * units.Metre // far beyond any wheel
	for _, one := range []struct {
		field  string
		radius units.Length
	}{{"front_wheel_radius", m.FrontWheelRadius}, {"rear_wheel_radius", m.RearWheelRadius}} {
		switch {
		case one.radius != 0:
			units.Between(c, one.field, one.radius, least, most)
		case m.WheelRadius == 0 && !c.Bad("wheel_radius"):
			c.Fail("wheel_radius", nil, "the rolling radius of the wheels, or front_wheel_radius and rear_wheel_radius", units.ErrMissing)
		}
	}
	if m.WheelRadius != 0 {
		units.Between(c, "wheel_radius", m.WheelRadius, least, most)
	}
}

// Radius returns the rolling radius of a wheel, 0 where it is not stated.
func (m Masses) Radius(at Axle) units.Length {
	own := m.FrontWheelRadius
	if at == Rear {
		own = m.RearWheelRadius
	}
	if own != 0 {
		return own
	}
	return m.WheelRadius
}

// plane is a point or a direction in the side view.
type plane struct{ x, y float64 }

func (a plane) minus(b plane) plane { return plane{a.x - b.x, a.y - b.y} }
func (a plane) dot(b plane) float64 { return a.x*b.x + a.y*b.y }

// standing is a bike that is let down on its springs.
type standing struct {
	front, rear           *End
	base, frontUp, rearUp float64 // wheelbase and wheel radii at full extension
	centre                plane   // of the sprung mass
	weight                float64 // of the sprung mass
}

// balance is a standing bike at a pair of strokes.
type balance struct {
	axles    [2]plane // front and rear
	pitch    plane    // the direction of the ground
	distance float64  // between the axles along the ground
	share    float64  // of the sprung weight on the front
	energy   float64
	slope    [2]float64    // of the energy by each stroke
	rate     [2][2]float64 // and its second derivatives
	ok       bool          // the wheels can stand on the ground
}

// at returns the balance at a pair of strokes.
func (b *standing) at(s [2]units.Length) (o balance) {
	front, rear := b.front.Curve.AxleAt(s[0]), b.rear.Curve.AxleAt(s[1])
	o.axles = [2]plane{{b.base + float64(front.Forward), b.frontUp + float64(front.Up)}, {float64(rear.Forward), b.rearUp + float64(rear.Up)}}
	apart, step := o.axles[0].minus(o.axles[1]), b.frontUp-b.rearUp
	o.distance = math.Sqrt(apart.dot(apart) - step*step)
	if !(o.distance > 0 && apart.x > 0) {
		return o
	}
	// The normal is the direction turned by a right angle: apart = distance·t + step·n.
	size := apart.dot(apart)
	t := plane{(o.distance*apart.x + step*apart.y) / size, (o.distance*apart.y - step*apart.x) / size}
	n := plane{-t.y, t.x}
	centre := b.centre.minus(o.axles[1])
	o.pitch, o.share, o.ok = t, t.dot(centre)/o.distance, true
	o.energy = float64(b.front.Law.Energy(s[0])) + float64(b.rear.Law.Energy(s[1])) + b.weight*(b.rearUp+n.dot(centre))

	move := [2]plane{{front.ForwardRate, front.UpRate}, {rear.ForwardRate, rear.UpRate}}
	bend := [2]plane{{float64(front.ForwardSlope), float64(front.UpSlope)}, {float64(rear.ForwardSlope), float64(rear.UpSlope)}}
	force := [2]float64{float64(b.front.Law.Force(s[0])), float64(b.rear.Law.Force(s[1]))}
	rate := [2]float64{float64(b.front.Law.Rate(s[0])), float64(b.rear.Law.Rate(s[1]))}
	share := [2]float64{o.share, 1 - o.share}
	for j, side := range [2]float64{1, -1} { // the front axle is apart's head, the rear one its foot
		turn := side * n.dot(move[j]) / o.distance // of the ground, by the stroke j
		sum := turn*n.dot(centre) - o.share*(turn*step+side*t.dot(move[j]))
		if j == 1 {
			sum -= t.dot(move[1])
		}
		byShare := sum / o.distance // of the front's share
		for i, part := range [2]float64{byShare, -byShare} {
			o.rate[i][j] = -b.weight * (part*n.dot(move[i]) - share[i]*turn*t.dot(move[i]))
		}
		o.rate[j][j] += rate[j] - b.weight*share[j]*n.dot(bend[j])
		o.slope[j] = force[j] - b.weight*share[j]*n.dot(move[j])
	}
	return o
}

// stand returns the stance of a checked bike with the loads of the level one, and reports false if it
// has none.
func (b *Bike) stand(level Loads) (Stance, bool) {
	mf, mr := b.Unsprung(Front), b.Unsprung(Rear)
	sprung := b.Total() - mf - mr
	it := standing{
		front: &b.Front, rear: &b.Rear,
		base: float64(b.Wheelbase), frontUp: float64(b.Radius(Front)), rearUp: float64(b.Radius(Rear)),
		centre: plane{float64(units.Mass(1-level.RearShare)*b.Total()-mf) / float64(sprung) * float64(b.Wheelbase), float64(b.MassCentreHeight)},
		weight: float64(sprung.Weight()),
	}
	s, o := it.settle([2]units.Length{b.Front.carries(level.Front), b.Rear.carries(level.Rear)})
	if !o.ok || !(o.share > 0 && o.share < 1) {
		return Stance{}, false
	}
	r := Stance{
		FrontStroke: s[0], RearStroke: s[1],
		FrontTravel: b.Front.Curve.TravelAt(s[0]), RearTravel: b.Rear.Curve.TravelAt(s[1]),
		FrontLoad: units.Force(it.weight * o.share), RearLoad: units.Force(it.weight * (1 - o.share)),
		Pitch: units.Angle(-math.Atan2(o.pitch.y, o.pitch.x)), Wheelbase: units.Length(o.distance),
	}
	r.FrontSag, r.RearSag = float64(r.FrontTravel/b.Front.Curve.Travel()), float64(r.RearTravel/b.Rear.Curve.Travel())
	if angle, ok := b.Front.Curve.HeadAngle(); ok {
		r.HeadAngle = angle - r.Pitch
	}
	r.RearShare = float64((r.RearLoad + mr.Weight()) / b.Total().Weight())
	return r, true
}

// settle returns the strokes of least energy that the bike reaches from a pair of strokes, and the
// balance there. It is not ok where there are none: at a saddle, or where the wheels don't reach the
// ground.
func (b *standing) settle(s [2]units.Length) ([2]units.Length, balance) {
	full := [2]float64{float64(b.front.stroke()), float64(b.rear.stroke())}
	o := b.at(s)
	for range mostStandingSteps {
		if !o.ok {
			return s, o
		}
		step := o.newton(s, full)
		// Steps are shortened until the energy falls; the last ones change it by less than rounding.
		part, next, there := 1.0, s, o
		for {
			for i := range next {
				next[i] = units.Length(min(max(float64(s[i])+part*step[i], 0), full[i]))
			}
			if there = b.at(next); there.ok && there.energy <= o.energy+1e-14*(math.Abs(o.energy)+b.weight*full[0]) || part < 1e-10 {
				break
			}
			part /= 2
		}
		moved := math.Max(math.Abs(float64(next[0]-s[0]))/full[0], math.Abs(float64(next[1]-s[1]))/full[1])
		s, o = next, there
		if moved <= settleTolerance {
			break
		}
	}
	o.ok = o.ok && o.stable(s, full)
	return s, o
}

// mostStandingSteps is far more than a bike takes, which is four or five.
const mostStandingSteps = 200

// held reports whether an end rests against a stop, which the energy falls towards.
func (o *balance) held(i int, s [2]units.Length, full [2]float64) bool {
	return s[i] <= 0 && o.slope[i] >= 0 || float64(s[i]) >= full[i] && o.slope[i] <= 0
}

// newton returns Newton's step towards the least energy, within the stops. Along a direction in which
// the energy is bent downward it goes downhill as far.
func (o *balance) newton(s [2]units.Length, full [2]float64) (step [2]float64) {
	alone := func(i int, slope float64) float64 {
		if o.held(i, s, full) || slope == 0 {
			return 0
		}
		return min(max(-slope/math.Abs(o.rate[i][i]), -float64(s[i])), full[i]-float64(s[i]))
	}
	if o.held(0, s, full) || o.held(1, s, full) {
		return [2]float64{alone(0, o.slope[0]), alone(1, o.slope[1])}
	}
	// The directions of principal curvature, turned by an angle from the strokes.
	a, b, c := o.rate[0][0], (o.rate[0][1]+o.rate[1][0])/2, o.rate[1][1]
	sin, cos := math.Sincos(math.Atan2(2*b, a-c) / 2)
	along := [2]float64{cos*o.slope[0] + sin*o.slope[1], cos*o.slope[1] - sin*o.slope[0]}
	bent := [2]float64{a*cos*cos + 2*b*sin*cos + c*sin*sin, a*sin*sin - 2*b*sin*cos + c*cos*cos}
	for i := range along {
		if along[i] != 0 {
			along[i] /= -math.Abs(bent[i])
		}
	}
	step = [2]float64{cos*along[0] - sin*along[1], sin*along[0] + cos*along[1]}
	for i := range step { // the first that meets a stop stays there, and the other goes on alone
		if to := float64(s[i]) + step[i]; !(to >= 0 && to <= full[i]) {
			step[i] = min(max(to, 0), full[i]) - float64(s[i])
			j := 1 - i
			step[j] = alone(j, o.slope[j]+b*step[i])
			break
		}
	}
	return step
}

// stable reports whether the energy is bent upward in every direction that the strokes can take.
func (o *balance) stable(s [2]units.Length, full [2]float64) bool {
	first, second := o.held(0, s, full), o.held(1, s, full)
	a, b, c := o.rate[0][0], o.rate[0][1], o.rate[1][1]
	return (first || a > 0) && (second || c > 0) && (first || second || a*c > b*b)
}
