package motion

import (
	"errors"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Ground is the ground under a wheel at a time in s: its height above level ground, and how fast that
// rises. The speed is used under a wheel without a tyre alone.
type Ground func(t float64) (height units.Length, speed units.Speed)

// Damper is the force of a damper over the speed of its shaft.
type Damper interface {
	// Force returns the force in N against a speed in m/s. Both are positive in compression.
	Force(speed units.Speed) units.Force
	// Damping returns the derivative of Force by speed in N·s/m.
	Damping(speed units.Speed) units.Damping
}

// Corner is what is at one end between the sprung mass and the ground: spring and damper, wheel and
// tyre.
type Corner struct {
	Spring *linkage.WheelLaw // the spring behind its curve
	// Damper is at the spring, and moves LR times slower than the wheel; nil for none.
	Damper  Damper
	Damping units.Damping // of a linear damper at the wheel, from 0 to 1e9 N·s/m
	// Stops is the rate of the stops at the wheel, beyond both ends of the spring's travel, from 0 to
	// 1e12 N/m. Without stops the spring goes on with the force that it has there.
	Stops units.Stiffness
	// Unsprung is the mass that moves with the axle, from 1e-6 kg on with a tyre. Without one it moves
	// with the ground, and is ignored.
	Unsprung units.Mass
	// Tyre is the vertical rate of a tyre, which lifts off where it would have to pull. At 0 the wheel is
	// rigid and held to the ground, which pulls it where the force at the ground is below 0.
	Tyre   units.Stiffness
	Ground Ground // nil for level ground
}

// Check records every bad field.
func (e Corner) Check(c *units.Checker) {
	if e.Spring == nil || !(e.Spring.Travel() > 0) {
		c.Fail("spring", nil, "a spring at the wheel", units.ErrMissing)
	}
	units.Between(c, "damping", e.Damping, 0, 1e9)
	units.Between(c, "stops", e.Stops, 0, 1e12)
	if units.Between(c, "tyre", e.Tyre, 0, 1e12) && e.Tyre > 0 {
		units.Between(c, "unsprung", e.Unsprung, 1e-6, 1e6)
	}
}

// Forces are the forces at one end, in the vertical, and where its wheel is.
type Forces struct {
	Travel units.Length `json:"travel"` // of the wheel from full extension; beyond its range in the stops
	Speed  units.Speed  `json:"speed"`  // of the travel, positive in compression
	Spring units.Force  `json:"spring"` // at the wheel, with the stops
	Damper units.Force  `json:"damper"` // at the wheel
	Ground units.Force  `json:"ground"` // of the ground on the wheel
}

// kinks returns where the forces have kinks: at the stops, and where the tyre lifts off. Place returns the
// heights of body and axle in a state.
func (e *Corner) kinks(place func(y []float64) (body, axle float64)) (list []Event) {
	full := float64(e.Spring.Travel())
	travel := func(t float64, y []float64) float64 {
		body, axle := place(y)
		if e.Tyre == 0 {
			axle, _ = e.ground(t)
		}
		return axle - body
	}
	list = append(list, travel, func(t float64, y []float64) float64 { return travel(t, y) - full })
	if e.Tyre > 0 {
		list = append(list, func(t float64, y []float64) float64 {
			_, axle := place(y)
			height, _ := e.ground(t)
			return height - axle
		})
	}
	return list
}

// ground returns the height of the ground and how fast it rises.
func (e *Corner) ground(t float64) (height, rise float64) {
	if e.Ground == nil {
		return 0, 0
	}
	h, v := e.Ground(t)
	return float64(h), float64(v)
}

// push returns the forces of the spring with its stops and of the damper at the wheel.
func (e *Corner) push(travel units.Length, speed units.Speed) (spring, damper units.Force) {
	damper = units.Force(float64(e.Damping) * float64(speed))
	if e.Damper == nil {
		spring = e.Spring.Force(travel)
	} else {
		stroke, ratio := e.Spring.Leverage(travel)
		spring = e.Spring.Spring().Force(stroke) / units.Force(ratio)
		damper += e.Damper.Force(speed/units.Speed(ratio)) / units.Force(ratio)
	}
	if full := e.Spring.Travel(); travel < 0 {
		spring += units.Force(float64(e.Stops) * float64(travel))
	} else if travel > full {
		spring += units.Force(float64(e.Stops) * float64(travel-full))
	}
	return spring, damper
}

// forces returns a value of what balance returns.
func forces(travel units.Length, speed units.Speed, spring, damper, ground units.Force) Forces {
	return Forces{travel, speed, spring, damper, ground}
}

// balance returns travel, speed and forces where the body and the axle are at heights above those at full
// extension on level ground, and move so fast. A rigid wheel has the height and the speed of the ground.
func (e *Corner) balance(t, body, axle, bodySpeed, axleSpeed float64) (travel units.Length, speed units.Speed, spring, damper, ground units.Force) {
	height, rise := e.ground(t)
	if e.Tyre == 0 {
		axle, axleSpeed = height, rise
	}
	travel, speed = units.Length(axle-body), units.Speed(axleSpeed-bodySpeed)
	spring, damper = e.push(travel, speed)
	if e.Tyre == 0 {
		ground = spring + damper
	} else if height > axle {
		ground = units.Force(float64(e.Tyre) * (height - axle))
	}
	return travel, speed, spring, damper, ground
}

// lift returns the acceleration of the axle under forces, upward.
func (e *Corner) lift(spring, damper, ground units.Force) float64 {
	if e.Tyre == 0 {
		return 0
	}
	return float64(ground-spring-damper)/float64(e.Unsprung) - units.StandardGravity
}

// rest returns the heights of body and axle, above those at full extension on level ground, where the spring
// with its stops carries a load.
func (e *Corner) rest(load units.Force) (body, axle float64, err error) {
	full := e.Spring.Travel()
	travel, err := spring.Settle(e.Spring, load)
	switch {
	case errors.Is(err, spring.ErrToppedOut) && e.Stops > 0:
		travel, err = units.Length(float64(load-e.Spring.Force(0))/float64(e.Stops)), nil
	case errors.Is(err, spring.ErrBottomedOut) && e.Stops > 0:
		travel, err = full+units.Length(float64(load-e.Spring.Force(full))/float64(e.Stops)), nil
	}
	axle, _ = e.ground(0)
	if e.Tyre > 0 {
		axle -= float64(load+e.Unsprung.Weight()) / float64(e.Tyre)
	}
	return axle - float64(travel), axle, err
}

// most returns the force of the spring at full travel, and a little where it has none, since scales are made
// of it.
func (e *Corner) most() float64 {
	const least = 1e-150
	return max(float64(e.Spring.Force(e.Spring.Travel())), least)
}

// mean returns the mean wheel rate over the travel, from no force.
func (e *Corner) mean() units.Stiffness {
	return units.Stiffness(e.most() / float64(e.Spring.Travel()))
}

// axleScale returns what errors of the axle's height and speed are measured by.
func (e *Corner) axleScale() (height, speed float64) {
	if e.Tyre == 0 {
		return math.Inf(1), math.Inf(1)
	}
	full := e.Spring.Travel()
	return float64(full), speedScale(full, e.mean()+e.Tyre, e.Unsprung)
}
