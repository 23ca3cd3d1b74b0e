package sag

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Drop is a drop onto one end of the bike.
type Drop struct {
	Height  units.Length  `json:"height"`            // of the fall before the wheel touches the ground, from 0 to 1000 m
	Damping units.Damping `json:"damping,omitempty"` // at the wheel, 0 or more
}

// Landing is how an end of the bike takes a drop, from touching the ground to the deepest travel.
type Landing struct {
	Height     units.Length `json:"height"`      // of the drop
	Travel     units.Length `json:"travel"`      // deepest, of the wheel
	Used       float64      `json:"used"`        // Travel over the wheel's full travel
	Force      units.Force  `json:"force"`       // of the spring at the wheel, at Travel
	PeakForce  units.Force  `json:"peak_force"`  // the most that spring and damper together push at the wheel
	DamperWork units.Energy `json:"damper_work"` // energy that the damper takes
	Time       units.Time   `json:"time"`        // from touching the ground to Travel
	Bottoms    bool         `json:"bottoms"`     // full travel is reached before the fall is stopped
	EnergyLeft units.Energy `json:"energy_left"` // kinetic energy ½·m·v² at full travel if it bottoms
}

// Land returns how an end of the bike with a linear damper takes a drop, over a fast stroke. The
// sprung mass m = load/g₀ of this end alone, load being its sprung load at the wheel in N, touches
// the ground at full extension with the speed v = √(2·g₀·h) of a fall from a height h. Then it
// moves by
//
//	m·ẍ = load − F_w(x) − c·ẋ,  x(0) = 0,  ẋ(0) = v
//
// until it stops or the travel is used up, with x the vertical travel of the wheel, F_w the wheel
// force of the spring and c the damping at the wheel in N·s/m. Without damping this is the energy
// balance load·(h + x) = E(x) that [End.Reserve] solves for h. A drop of height 0 onto a preload
// that carries the load uses no travel.
//
// The equation is solved by the method of Dormand and Prince of order 5(4), each step with an error
// below 1e-11 of the travel (J. Comp. Appl. Math. 6 (1980) 19–26, from memory). The error names
// every bad field: a load below 1e-150 N, a height outside 0 to 1000 m, and a damping that is
// negative or more than [MostDamping] times critical, see [End.CheckDamping].
//
// Not modelled: the tyre, the unsprung mass, bump stops, friction, damping that depends on speed or
// direction, the other end of the bike, and the rider's arms and legs, which take a great part of
// any real landing. The answer serves to compare springs and dampers; it is no promise of safety.
func (e End) Land(load units.Force, drop Drop) (Landing, error) {
	c := units.Checker{Package: "sag"}
	CheckLoad(&c, load)
	units.Between(&c, "height", drop.Height, 0, MostDrop)
	units.NonNegative(&c, "damping", drop.Damping)
	if e.Check(&c); c.OK() {
		e.CheckDamping(&c, "damping", drop.Damping, drop.Damping, load)
	}
	if err := c.Err(); err != nil {
		return Landing{}, err
	}
	return land(e.fast(), load, drop)
}

// MostDrop is the highest drop of [End.Land].
const MostDrop = 1000 * units.Metre

// MostDamping is the most damping that [End.Land] takes, as a multiple of critical damping. No bike
// has as much.
const MostDamping = 20

// CheckDamping records, under field, a damping at the wheel of more than [MostDamping] times
// critical. Critical damping is that of the mean wheel rate over the travel, or of the rate that
// would carry the load at full travel if that is more. Value is the damping as the user stated it.
// The end must pass [End.Check] and the load [CheckLoad].
func (e End) CheckDamping(c *units.Checker, field string, value any, damping units.Damping, load units.Force) {
	wheel := e.fast()
	rise := max(wheel.Force(wheel.Travel())-wheel.Force(0), load)
	most := MostDamping * DampingFor(1, units.Stiffness(float64(rise)/float64(wheel.Travel())), load)
	if !(damping <= most) {
		c.Fail(field, value, fmt.Sprintf("no more than twenty times critical, %.6g at the wheel", most), nil)
	}
}

const (
	mostSteps = 1 << 18
	creep     = 1e-12 // of the fastest speed
	stepError = 1e-11 // of the scale
)

// land solves the equation of motion for checked input.
func land(wheel *linkage.WheelLaw, load units.Force, drop Drop) (Landing, error) {
	f := fall{wheel: wheel, load: float64(load), damping: float64(drop.Damping)}
	at, full := motion{speed: math.Sqrt(2 * units.StandardGravity * float64(drop.Height))}, float64(wheel.Travel())
	fastest := max(at.speed, math.Sqrt(units.StandardGravity*full))
	f.scale = motion{full, fastest, f.load * full}
	peak := f.push(at)
	if !(at.speed > 0) && !(f.slope(at).speed > 0) { // the preload holds it up
		return Landing{Height: drop.Height, Force: wheel.Force(0), PeakForce: wheel.Force(0)}, nil
	}
	h, t := 1e-3*full/fastest, 0.0
	for range mostSteps {
		next, off := f.step(at, h)
		grow := 0.9 * math.Pow(max(off, 1e-10), -0.2)
		if !(off <= 1) || at.speed == 0 && !(next.speed > 0) {
			h *= min(max(grow, 0.1), 0.5)
			continue
		}
		stops := !(next.speed > 0)
		if stops {
			h, next = f.until(at, h, func(m motion) float64 { return -m.speed })
		}
		bottoms := next.travel >= full
		if bottoms {
			h, next = f.until(at, h, func(m motion) float64 { return m.travel - full })
		}
		peak = max(peak, f.push(next))
		if f.pushSlope(at) > 0 && f.pushSlope(next) < 0 { // a peak in between
			_, top := f.until(at, h, func(m motion) float64 { return -f.pushSlope(m) })
			peak = max(peak, f.push(top))
		}
		at, t = next, t+h
		// Overdamped, the wheel never quite stops: it creeps to its rest.
		if creeps := at.speed <= creep*fastest && f.slope(at).speed <= 0; !stops && !bottoms && !creeps {
			h *= min(grow, 5)
			continue
		}
		l := Landing{
			Height: drop.Height, Travel: units.Length(at.travel), PeakForce: units.Force(peak),
			DamperWork: units.Energy(at.work), Time: units.Time(t), Bottoms: bottoms,
		}
		if bottoms {
			l.Travel = wheel.Travel()
			l.EnergyLeft = units.Energy(f.load / units.StandardGravity * at.speed * at.speed / 2)
		}
		l.Used, l.Force = float64(l.Travel/wheel.Curve().Travel()), wheel.Force(l.Travel)
		return l, nil
	}
	c := units.Checker{Package: "sag"}
	c.Fail("damping", drop.Damping, "a damping with which the fall ends", nil)
	return Landing{}, c.Err()
}

// fall is a mass of weight load that falls on a spring and a damper.
type fall struct {
	wheel         *linkage.WheelLaw
	load, damping float64
	scale         motion // that errors are measured by
}

// motion is a state of the fall, or its derivative by time.
type motion struct{ travel, speed, work float64 }

// plus returns m + h·s.
func (m motion) plus(h float64, s motion) motion {
	return motion{m.travel + h*s.travel, m.speed + h*s.speed, m.work + h*s.work}
}

// push returns the force of spring and damper at the wheel.
func (f *fall) push(m motion) float64 {
	return float64(f.wheel.Force(units.Length(m.travel))) + f.damping*m.speed
}

// slope returns the derivative of a motion, by the equation of motion.
func (f *fall) slope(m motion) motion {
	return motion{m.speed, units.StandardGravity * (1 - f.push(m)/f.load), f.damping * m.speed * m.speed}
}

// pushSlope returns the derivative of push, k_w·ẋ + c·ẍ.
func (f *fall) pushSlope(m motion) float64 {
	return float64(f.wheel.Rate(units.Length(m.travel)))*m.speed + f.damping*f.slope(m).speed
}

// until returns the part of a step h after which a function of the motion is 0, and the motion
// then. The function is below 0 at the step's start and not at its end.
func (f *fall) until(at motion, h float64, g func(motion) float64) (float64, motion) {
	t, err := root.Find(func(t float64) float64 {
		m, _ := f.step(at, t)
		return g(m)
	}, 0, h, 1e-13*h)
	if err != nil { // a kink of the spring: g jumps
		t = h
	}
	m, _ := f.step(at, t)
	return t, m
}

// step takes one step of Dormand and Prince's method, and returns its error as a multiple of the
// permitted one.
func (f *fall) step(y motion, h float64) (motion, float64) {
	a := f.slope(y)
	b := f.slope(y.plus(h/5, a))
	c := f.slope(y.plus(h*3/40, a).plus(h*9/40, b))
	d := f.slope(y.plus(h*44/45, a).plus(-h*56/15, b).plus(h*32/9, c))
	e := f.slope(y.plus(h*19372/6561, a).plus(-h*25360/2187, b).plus(h*64448/6561, c).plus(-h*212/729, d))
	g := f.slope(y.plus(h*9017/3168, a).plus(-h*355/33, b).plus(h*46732/5247, c).plus(h*49/176, d).plus(-h*5103/18656, e))
	next := y.plus(h*35/384, a).plus(h*500/1113, c).plus(h*125/192, d).plus(-h*2187/6784, e).plus(h*11/84, g)
	i := f.slope(next)
	off := motion{}.plus(h*71/57600, a).plus(-h*71/16695, c).plus(h*71/1920, d).plus(-h*17253/339200, e).plus(h*22/525, g).plus(-h/40, i)
	return next, max(math.Abs(off.travel)/f.scale.travel, math.Abs(off.speed)/f.scale.speed, math.Abs(off.work)/f.scale.work) / stepError
}

// DampingFor returns the damping coefficient at the wheel in N·s/m for a ratio ζ of critical
// damping, 2ζ√(k·m), with k the wheel rate in N/m and m = load/g₀ the mass whose weight in N is
// load. At a ratio of 1 a wheel that is let go returns as fast as it can without overshoot. The
// coefficient is 0 if an input is not finite and more than 0.
//
// The ratio that suits a bike is the user's to state.
func DampingFor(ratio float64, wheelRate units.Stiffness, load units.Force) units.Damping {
	c := 2 * ratio * math.Sqrt(float64(wheelRate)) * math.Sqrt(float64(load)/units.StandardGravity)
	if !(c > 0 && c < math.MaxFloat64) { // NaN where there is no root
		return 0
	}
	return units.Damping(c)
}

// DampingRatio returns the ratio of a damping coefficient at the wheel to critical damping,
// c/(2√(k·m)), with k and m as in [DampingFor]. It is 0 if an input is not finite and more than 0.
func DampingRatio(c units.Damping, wheelRate units.Stiffness, load units.Force) float64 {
	if r := float64(c / DampingFor(1, wheelRate, load)); r > 0 && r < math.MaxFloat64 {
		return r
	}
	return 0
}

// DampingAtShock returns the damping coefficient of a shock that gives the wheel the coefficient c:
// c·LR², with LR the lever ratio dw/ds. By virtual work F_w = F_s/LR, and the shock moves LR times
// slower than the wheel. Both coefficients are in N·s/m. It is 0 if an input is not finite or the
// coefficient is beyond float64.
func DampingAtShock(c units.Damping, leverRatio float64) units.Damping {
	at := float64(c) * leverRatio * leverRatio
	if !(math.Abs(at) <= math.MaxFloat64) {
		return 0
	}
	return units.Damping(at)
}
