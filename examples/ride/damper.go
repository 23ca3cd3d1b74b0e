package main

import (
	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// damperSpec describes a damper by one coefficient, or by what was measured in both directions.
type damperSpec struct {
	Damping     units.Damping  `json:"damping,omitempty"`     // of a linear damper, from 0 to 1e9 N·s/m
	Compression []damperSample `json:"compression,omitempty"` // in order of speed
	Rebound     []damperSample `json:"rebound,omitempty"`     // in order of speed
}

// damperSample is the force of a damper that was measured at a speed.
type damperSample struct {
	Speed units.Speed `json:"speed"` // from 1e-6 to 1000 m/s
	Force units.Force `json:"force"` // against it, from 0 to 1e9 N
}

// check records every bad field: a coefficient out of range or beside samples, samples of one direction
// alone, samples out of range, and speeds that do not rise, or forces that fall, from one sample to the
// next.
func (spec damperSpec) check(c *units.Checker) {
	units.Between(c, "damping", spec.Damping, 0, 1e9)
	switch {
	case len(spec.Compression) == 0 && len(spec.Rebound) == 0:
		return
	case spec.Damping != 0:
		c.Fail("damping", spec.Damping, "no coefficient beside what was measured", units.ErrConflict)
	}
	for _, way := range []struct {
		name    string
		samples []damperSample
	}{{"compression", spec.Compression}, {"rebound", spec.Rebound}} {
		if len(way.samples) == 0 {
			c.Fail(way.name, nil, "what was measured in this direction too", units.ErrMissing)
		}
		var last damperSample
		for i, s := range way.samples {
			at := c.Element(way.name, i)
			if units.Between(&at, "speed", s.Speed, slowest, fastest) && !(s.Speed-last.Speed >= slowest) {
				at.Fail("speed", s.Speed, units.MoreThan(last.Speed).With("the speed before"), units.ErrConflict)
			}
			if units.Between(&at, "force", s.Force, 0, strongest) && !(s.Force >= last.Force) {
				at.Fail("force", s.Force, units.AtLeast(last.Force).With("the force at the speed before"), units.ErrConflict)
			}
			if s.Speed > last.Speed {
				last.Speed = s.Speed
			}
			if s.Force > last.Force {
				last.Force = s.Force
			}
		}
	}
}

// What samples are within, and how far apart their speeds are at the least.
const (
	slowest   = units.Speed(1e-6)
	fastest   = units.Speed(1e3)
	strongest = units.Force(1e9)
)

// build returns the damper of a spec, or records every bad field in c. Between samples, of which rest
// is one, the force is a piecewise cubic in the speed that rises where the samples rise and whose
// slope has no jumps (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300–304, as gonum has
// it; from memory). Beyond the fastest samples it goes on straight.
//
// Not modelled: hysteresis, friction, the gas force of the shaft, heat.
func (spec damperSpec) build(c *units.Checker) motion.Damper {
	if spec.check(c); !c.OK() {
		return nil
	}
	if len(spec.Compression) == 0 {
		return linearDamper(spec.Damping)
	}
	var speeds, forces []float64
	for i := len(spec.Rebound) - 1; i >= 0; i-- {
		speeds, forces = append(speeds, -float64(spec.Rebound[i].Speed)), append(forces, -float64(spec.Rebound[i].Force))
	}
	speeds, forces = append(speeds, 0), append(forces, 0)
	for _, s := range spec.Compression {
		speeds, forces = append(speeds, float64(s.Speed)), append(forces, float64(s.Force))
	}
	d := &measuredDamper{low: speeds[0], high: speeds[len(speeds)-1]}
	c.Add("", d.curve.Fit(speeds, forces))
	return d
}

// linearDamper is a damper of constant coefficient.
type linearDamper units.Damping

func (d linearDamper) Force(speed units.Speed) units.Force {
	return units.Force(float64(d) * float64(speed))
}

func (d linearDamper) Damping(units.Speed) units.Damping { return units.Damping(d) }

// measuredDamper is a curve through samples.
type measuredDamper struct {
	curve     interp.FritschButland
	low, high float64
}

func (d *measuredDamper) Force(speed units.Speed) units.Force {
	v := float64(speed)
	within := min(max(v, d.low), d.high)
	force := d.curve.Predict(within)
	if v != within {
		force += (v - within) * d.curve.PredictDerivative(within)
	}
	return units.Force(force)
}

func (d *measuredDamper) Damping(speed units.Speed) units.Damping {
	return units.Damping(d.curve.PredictDerivative(min(max(float64(speed), d.low), d.high)))
}
