package sag

import (
	"errors"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
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
// The equation is solved by [motion.Solver], each step with an error below 1e-11 of the travel. The error
// names every bad field: a load below 1e-150 N, a height outside 0 to 1000 m, and a damping that is
// negative or more than [MostDamping] times critical, see [End.CheckDamping].
//
// Not modelled: the tyre, the unsprung mass, bump stops, friction, damping that depends on speed or
// direction, the other end of the bike, and the rider's arms and legs, which take a great part of
// any real landing. The answer serves to compare springs and dampers; it is no promise of safety.
func (e End) Land(load units.Force, drop Drop) (Landing, error) {
	return e.LandWithin(load, drop, stepError)
}

// LandWithin is [End.Land] with steps whose error is below a tolerance times the travel, from 1e-12 to
// 1e-4. At 1e-9 it takes less than half the time.
func (e End) LandWithin(load units.Force, drop Drop, tolerance float64) (Landing, error) {
	c := units.Checker{Package: "sag"}
	units.Between(&c, "tolerance", tolerance, 1e-12, 1e-4)
	CheckLoad(&c, load)
	units.Between(&c, "height", drop.Height, 0, MostDrop)
	units.NonNegative(&c, "damping", drop.Damping)
	if e.Check(&c); c.OK() {
		e.CheckDamping(&c, "damping", drop.Damping, drop.Damping, load)
	}
	if err := c.Err(); err != nil {
		return Landing{}, err
	}
	return land(e.fast(), load, drop, tolerance)
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
		c.Fail(field, value, units.AtMost(most).With("twenty times critical, at the wheel"), nil)
	}
}

const stepError = 1e-11 // of the scale

// land solves the equation of motion for checked input.
func land(wheel *linkage.WheelLaw, load units.Force, drop Drop, tolerance float64) (Landing, error) {
	const travel, speed, work, states = 0, 1, 2, 3 // of the wheel, and of the damper
	push := func(y []float64) float64 {
		return float64(wheel.Force(units.Length(y[travel]))) + float64(drop.Damping)*y[speed]
	}
	gain := func(y []float64) float64 { return units.StandardGravity * (1 - push(y)/float64(load)) }
	peaks := func(_ float64, y []float64) float64 {
		return -float64(wheel.Rate(units.Length(y[travel])))*y[speed] - float64(drop.Damping)*gain(y)
	}
	full, at := float64(wheel.Travel()), make([]float64, states)
	at[speed] = math.Sqrt(2 * units.StandardGravity * float64(drop.Height))
	peak := push(at)
	if !(at[speed] > 0) && !(float64(load) > peak) { // the preload holds it up
		return Landing{Height: drop.Height, Force: wheel.Force(0), PeakForce: wheel.Force(0)}, nil
	}
	fastest := max(at[speed], math.Sqrt(units.StandardGravity*full))
	const bottoms = 1                        // of the events; the other is that the fall is stopped
	s, _ := motion.NewSolver(motion.Problem{ // no error, since all of it has been checked
		Slope: func(_ float64, y, slope []float64) {
			slope[travel], slope[speed], slope[work] = y[speed], gain(y), float64(drop.Damping)*y[speed]*y[speed]
		},
		Scale: []float64{full, fastest, max(float64(load)*full, math.SmallestNonzeroFloat64)}, Tolerance: tolerance,
		Events: []motion.Event{func(_ float64, y []float64) float64 { return y[speed] }, func(_ float64, y []float64) float64 { return full - y[travel] }},
	})
	s.Start(0, at, 1e-7*full/fastest) // short enough to move down first where it is let go at rest
	for s.Step(math.Inf(1)) {
		now := s.State()
		peak = max(peak, push(now))
		if t, ok := s.Find(peaks); ok {
			s.At(t, at)
			peak = max(peak, push(at))
		}
		// Overdamped, the wheel never quite stops: it creeps to its rest, more slowly than the solver can tell.
		if creeps := now[speed] <= tolerance*fastest && push(now) >= float64(load); s.Event() < 0 && !creeps {
			continue
		}
		l := Landing{
			Height: drop.Height, Travel: units.Length(now[travel]), PeakForce: units.Force(peak),
			DamperWork: units.Energy(now[work]), Time: units.Time(s.Time()), Bottoms: s.Event() == bottoms,
		}
		if l.Bottoms {
			l.Travel = wheel.Travel()
			l.EnergyLeft = units.Energy(float64(load) / units.StandardGravity * now[speed] * now[speed] / 2)
		}
		l.Used, l.Force = float64(l.Travel/wheel.Curve().Travel()), wheel.Force(l.Travel)
		return l, nil
	}
	c := units.Checker{Package: "sag"}
	class, _ := errors.AsType[*units.Class](s.Err())
	c.Fail("damping", drop.Damping, "a damping with which the fall ends", class)
	return Landing{}, c.Err()
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
