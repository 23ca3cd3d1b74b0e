package sag

import (
	"math"

	"example.com/wheelrate/units"
)

// Bike is a whole bike with a rider on it.
type Bike struct {
	Masses      // with the share of the level bike, Wheelbase, MassCentreHeight and wheel radii
	Front, Rear End
	Ground      // level, with the wheels rolling freely, if it is left out
}

// Stance is how the whole bike comes to rest on its springs.
type Stance struct {
	Geometry
	FrontWheelLoad units.Force `json:"front_wheel_load"` // of the front wheel on the ground, at right angles to it
	RearWheelLoad  units.Force `json:"rear_wheel_load"`
	FrontLoad      units.Force `json:"front_load"` // sprung: of the wheel on the ground less the unsprung weight, on a slope the part of it towards the ground
	RearLoad       units.Force `json:"rear_load"`
	RearShare      float64     `json:"rear_share"` // RearWheelLoad over the sum of both, with the bike pitched so
}

// Stance returns how the bike rests when both ends settle together: where the energy of both springs,
// of the masses and of the forces along the ground is least, each end within its stops.
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
// the axles. The ground has the direction t and the normal n for which n·(a_f − a_r) = R_f − R_r; with
// θ the angle of t from x, θ = −pitch. With the weights and forces of [Ground], and D = t·(a_f − a_r)
// the wheelbase, the energy is
//
//	V = E_f + E_r + W_s·cos γ·n·(c − a_r) − W_s·τ·t·(c − a_r) − (w_f·τ + T_f)·D + (T_f·R_f + T_r·R_r)·θ
//
// In its derivatives by the strokes, which are the virtual work, each spring balances along its axle's
// way what the ground does to the wheel less the unsprung mass:
//
//	F_f = ((N_f − w_f·cos γ)·n + (T_f + w_f·τ)·t)·da_f/ds_f
//	F_r = ((N_r − w_r·cos γ)·n + (T_r + w_r·τ)·t)·da_r/ds_r
//
// Both are solved by Newton's method on exact derivatives, from where each end settles by itself. An end
// whose spring pushes harder at full extension stays there, and one that is pushed to the end of its
// travel rests there.
//
// Masses.Wheelbase, Masses.MassCentreHeight and the wheels' radii are needed, each more than 0. The
// error names every bad field: front_scale where scales are given, since their readings have the
// pitch in them already; mass_centre_height for a bike so tall on springs so soft that it stands
// nowhere, or only on one wheel, and in its place the greatest of the forces along the ground where there
// are any.
//
// Not modelled: friction, the tyres' own deflection and grip, the spin of the wheels, air drag, and what
// chain and rear brake do to the linkage: the frame takes the moments T_r·R_r and T_f·R_f, as with the
// brake's caliper on the frame. Package drivetrain has the anti-squat and the anti-rise that change it.
func (b Bike) Stance() (Stance, error) {
	c := units.Checker{Package: "sag"}
	level := b.CheckStance(&c)
	front, rear := units.Checker{Package: "sag"}, units.Checker{Package: "sag"} // children would allocate
	b.Front.Check(&front)
	b.Rear.Check(&rear)
	c.Add("front", front.Err())
	c.Add("rear", rear.Err())
	b.Ground.Check(&c)
	if err := c.Err(); err != nil {
		return Stance{}, err
	}
	s, ok := b.stand(level)
	if !ok {
		b.fall(&c)
		return Stance{}, c.Err()
	}
	return s, nil
}

// fall records why a bike does not stand: the greatest of the forces along the ground, or its height without any.
func (b *Bike) fall(c *units.Checker) {
	switch g := b.Ground; max(g.FrontBraking, g.RearBraking, g.Driving) {
	case 0:
		c.Fail("mass_centre_height", b.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand", units.ErrConflict)
	case g.FrontBraking:
		c.Fail("front_braking", g.FrontBraking, lessForce, units.ErrConflict)
	case g.RearBraking:
		c.Fail("rear_braking", g.RearBraking, lessForce, units.ErrConflict)
	default:
		c.Fail("driving", g.Driving, lessForce, units.ErrConflict)
	}
}

const lessForce = "less, for the bike to stand on both wheels"

// CheckStance is [Masses.Check] with what [Bike.Stance] wants besides.
func (m Masses) CheckStance(c *units.Checker) Loads {
	level := m.Check(c)
	m.checkStands(c)
	if m.MassCentreHeight == 0 {
		units.Positive(c, "mass_centre_height", m.MassCentreHeight)
	}
	if m.Scaled() && !c.Bad("front_scale") {
		c.Fail("front_scale", m.FrontScale, "the share of the level bike instead: scales have the pitch in them already", units.ErrConflict)
	}
	return level
}

// stand returns the stance of a checked bike with the loads of the level one, and reports false if it
// has none.
func (b *Bike) stand(level Loads) (Stance, bool) {
	total, front, rear := b.Total().Weight(), b.Unsprung(Front).Weight(), b.Unsprung(Rear).Weight()
	sprung, towards := total-front-rear, units.Force(math.Cos(float64(b.Slope)))
	pushFront, pushRear := units.Force(-b.FrontBraking)*total, units.Force(b.Driving-b.RearBraking)*total
	along := -(pushFront + pushRear) / total
	radiusFront, radiusRear := b.Radius(Front), b.Radius(Rear)
	it := standing{
		bike:   b,
		full:   [2]float64{float64(b.Front.stroke()), float64(b.Rear.stroke())},
		centre: plane{float64((units.Force(1-level.RearShare)*total-front)/sprung) * float64(b.Wheelbase), float64(b.MassCentreHeight)},
		above:  float64(sprung * towards), along: -float64(sprung * along),
		apart: -float64(front*along + pushFront), turn: float64(pushFront)*float64(radiusFront) + float64(pushRear)*float64(radiusRear),
	}
	s, o := it.settle([2]units.Length{b.Front.carries(level.Front), b.Rear.carries(level.Rear)})
	if !o.ok {
		return Stance{}, false
	}
	r := Stance{Geometry: b.geometry(s, &o.footing)}
	high := units.Force(radiusRear) + units.Force(o.above)
	moment := sprung*(towards*units.Force(o.along)+along*high) + front*(towards*units.Force(o.distance)+along*units.Force(radiusFront)) + rear*along*units.Force(radiusRear)
	r.FrontWheelLoad = moment / units.Force(o.distance)
	r.RearWheelLoad = total*towards - r.FrontWheelLoad
	r.FrontLoad, r.RearLoad = r.FrontWheelLoad-front*towards, r.RearWheelLoad-rear*towards
	r.RearShare = float64(r.RearWheelLoad / (total * towards))
	return r, r.FrontWheelLoad > 0 && r.RearWheelLoad > 0
}
