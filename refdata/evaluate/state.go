package evaluate

import (
	"math"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// state is an end with an air spring at its rest, and what a fast stroke about it meets.
func state(c *units.Checker, in struct {
	Curve linkage.Spec   `json:"curve"`
	Air   airspring.Spec `json:"airspring"`
	Load  units.Force    `json:"load"`
}) sag.State {
	curve := buildCurve(c, in.Curve)
	end, err := sag.AirEnd(curve, in.Air)
	c.Add("airspring", err)
	units.Positive(c, "load", in.Load)
	run(c, func() (sag.Rest, error) { return end.Settle(in.Load) }) // it rests within its travel
	return run(c, func() (sag.State, error) { return end.Under(in.Load) })
}

// damping is a damping at the wheel in two other ways.
type damping struct {
	Ratio float64       `json:"damping_ratio"` // to critical
	Shock units.Damping `json:"damping_at_shock"`
}

func damper(c *units.Checker, in struct {
	Damping    units.Damping   `json:"damping"`
	WheelRate  units.Stiffness `json:"wheel_rate"`
	Load       units.Force     `json:"load"`
	LeverRatio float64         `json:"lever_ratio"`
}) damping {
	units.Between(c, "damping", in.Damping, 1e-6, 1e9)
	units.Between(c, "wheel_rate", in.WheelRate, 1e-6, 1e9)
	units.Between(c, "load", in.Load, 1e-6, 1e9)
	units.Between(c, "lever_ratio", in.LeverRatio, 1e-3, 1e3)
	return damping{sag.DampingRatio(in.Damping, in.WheelRate, in.Load), sag.DampingAtShock(in.Damping, in.LeverRatio)}
}

// corner is what is at one end between the sprung mass and the ground.
type corner struct {
	endSpec
	Damping  units.Damping   `json:"damping"`
	Unsprung units.Mass      `json:"unsprung"`
	Tyre     units.Stiffness `json:"tyre"`
	Stops    units.Stiffness `json:"stops"`
}

// build makes the corner, or records what is wrong with curve and law.
func (s corner) build(c *units.Checker) motion.Corner {
	end := s.endSpec.build(c)
	made := motion.Corner{Damping: s.Damping, Unsprung: s.Unsprung, Tyre: s.Tyre, Stops: s.Stops}
	made.Spring = run(c, func() (*linkage.WheelLaw, error) { return linkage.AtWheel(end.Curve, end.Law) })
	return made
}

// dropped is a bike at rest, and at times after a drop.
type dropped struct {
	bike   motion.TwoEnds
	rest   []float64
	at     []units.Time
	states [][]float64
}

// resting returns the forces at both ends, at rest.
func (d dropped) resting() (front, rear motion.Forces) { return d.bike.Forces(0, d.rest) }

// afterDrop is a list of what a bike does at its times.
func afterDrop[V any](name string, get func(y []float64, front, rear motion.Forces) V) output[dropped] {
	return give(name, func(d dropped) []V {
		list := make([]V, len(d.states))
		for i, y := range d.states {
			front, rear := d.bike.Forces(float64(d.at[i]), y)
			list[i] = get(y, front, rear)
		}
		return list
	})
}

// drop is a bike that comes down level onto both wheels at full extension.
func drop(c *units.Checker, in struct {
	Mass     units.Mass   `json:"mass"`
	Gyration units.Length `json:"gyration"`
	Ahead    units.Length `json:"ahead"`
	Behind   units.Length `json:"behind"`
	Front    corner       `json:"front"`
	Rear     corner       `json:"rear"`
	Height   units.Length `json:"drop_height"`
	At       []units.Time `json:"at"`
}) (d dropped) {
	front, rear := c.Child("front"), c.Child("rear")
	d = dropped{at: in.At, bike: motion.TwoEnds{Mass: in.Mass, Gyration: in.Gyration, Ahead: in.Ahead, Behind: in.Behind, Front: in.Front.build(&front), Rear: in.Rear.build(&rear)}}
	if c.OK() {
		units.Positive(&front, "tyre", in.Front.Tyre)
		units.Positive(&rear, "tyre", in.Rear.Tyre)
	}
	if !c.OK() {
		return d
	}
	d.bike.Check(c)
	units.Between(c, "drop_height", in.Height, 0, 1)
	for i, t := range in.At {
		if !(t >= 0 && t <= 10) || i > 0 && !(t > in.At[i-1]) {
			c.Fail("at", t, "times that rise, from 0 to 10 s", nil)
			break
		}
	}
	if !c.OK() {
		return d
	}
	d.rest = run(c, d.bike.Rest)
	s := run(c, func() (*motion.Solver, error) {
		return motion.NewSolver(motion.Problem{Slope: d.bike.Slope, Scale: d.bike.Scale(), Tolerance: 1e-12, Events: d.bike.Kinks()})
	})
	if !c.OK() {
		return d
	}
	y := make([]float64, motion.TwoEndStates)
	fall := -math.Sqrt(2 * units.StandardGravity * float64(in.Height))
	y[motion.HeaveSpeed], y[motion.FrontAxleSpeed], y[motion.RearAxleSpeed] = fall, fall, fall
	s.Start(0, y, 1e-4)
	for _, t := range in.At {
		for s.Time() < float64(t) && s.Step(float64(t)) {
		}
		if err := s.Err(); err != nil { // the state is not that of the time
			c.Add("", err)
			return d
		}
		d.states = append(d.states, slices.Clone(s.State()))
	}
	return d
}

// shockDamper is the damping of a linear damper at the spring.
type shockDamper units.Damping

func (d shockDamper) Force(speed units.Speed) units.Force {
	return units.Force(float64(d) * float64(speed))
}

func (d shockDamper) Damping(units.Speed) units.Damping { return units.Damping(d) }

// wheelForces returns the forces at a wheel on the ground at travels and their speeds.
func wheelForces(c *units.Checker, in struct {
	endSpec
	Damping units.Damping   `json:"damping"`
	AtShock units.Damping   `json:"damping_at_shock"`
	Stops   units.Stiffness `json:"stops"`
	Travel  []units.Length  `json:"travel"`
	Speed   []float64       `json:"speed"` // m/s
}) []motion.Forces {
	units.Between(c, "damping", in.Damping, 0, 1e9)
	units.Between(c, "damping_at_shock", in.AtShock, 0, 1e9)
	units.Between(c, "stops", in.Stops, 0, 1e12)
	if len(in.Speed) != len(in.Travel) {
		c.Fail("speed", len(in.Speed), units.Exactly(len(in.Travel)).Of("travel").Count("speeds"), units.ErrConflict)
	}
	for i, travel := range in.Travel {
		own := c.Element("travel", i)
		units.Between(&own, "", travel, -1000, 1000)
	}
	for i, speed := range in.Speed {
		own := c.Element("speed", i)
		units.Between(&own, "", speed, -1000, 1000)
	}
	end := corner{endSpec: in.endSpec, Damping: in.Damping, Stops: in.Stops}.build(c)
	if !c.OK() {
		return nil
	}
	end.Damper = shockDamper(in.AtShock)
	bike := motion.TwoEnds{Front: end, Rear: end}
	list := make([]motion.Forces, len(in.Travel))
	for i, travel := range in.Travel {
		y := make([]float64, motion.TwoEndStates)
		y[motion.Heave], y[motion.HeaveSpeed] = -float64(travel), -in.Speed[i]
		list[i], _ = bike.Forces(0, y)
	}
	return list
}
