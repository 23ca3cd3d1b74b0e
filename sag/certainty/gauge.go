package certainty

import (
	"math"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// workGauge sets what an end does whose spring is known by its gauge, with its inputs as moved. The
// loads of the readings move with the masses: an error of the rider's mass is in the readings as it is
// in the load.
func (m *model) workGauge(i int, o *outcome, landing bool) {
	e, none := &m.ends[i], math.NaN()
	load := m.load(i)
	o.stage, o.state = sprung, sag.State{Load: load, FullRatio: none, Reserve: unknownReserve}
	g := e.gauge
	g.Ambient, g.Exponent = e.gas.Ambient, e.gas.Exponent
	g.Readings = slices.Clone(g.Readings)
	for k := range g.Readings {
		if r := &g.Readings[k]; r.RiderMass != nil {
			r.Load = new(m.loadWith(i, *r.RiderMass))
		}
	}
	options, err := fit.NewBehind(o.curve, fit.Spec{Sag: e.Spec.Sag, Gauge: &g}, 0)
	if err != nil {
		return
	}
	if choice, err := options.Choose(load); err == nil && choice.Gauge.FillWanted > 0 {
		o.fillWanted = choice.Gauge.FillWanted + e.misfill
	}
	// A spring that wants more fill for the target than the readings say does with its fill what they
	// say of one with less.
	fill := e.gas.Fill - e.misfill
	fill += units.GaugePressure(e.warmth-1) * (fill + units.GaugePressure(g.Ambient))
	stands, whole, err := options.Filled(fill)
	if err != nil {
		return
	}
	stands.Friction = 0
	if e.rest(o, stands, load); whole {
		if landing {
			e.land(o, stands, m.tolerance)
		}
		return
	}
	o.held = sag.End{}
	// Only what is near the readings is known, and only standing still.
	if o.state.Finding == sag.Collapses {
		o.stage = sprung
	}
	s := &o.state
	s.FullRatio, s.Reserve, s.EnergyLeft = none, unknownReserve, units.Energy(none)
	s.FastWheelRate, s.FastFrequency = units.Stiffness(none), 0
	s.TravelLeft = o.curve.Travel() - s.Rest.Travel
}

// gauged reports whether a spring is known by its gauge.
func (m *model) gauged() bool { return m.ends[0].Spec.Gauge != nil || m.ends[1].Spec.Gauge != nil }

// unknownReserve is that of a spring which is known near its readings only.
var unknownReserve = sag.Reserve{Energy: units.Energy(math.NaN()), DropHeight: units.Length(math.NaN()), FullForce: units.Force(math.NaN())}

// loadWith returns the sprung load at one end with a rider, 0 for nobody. That of the job's own rider
// moves with the masses.
func (m *model) loadWith(i int, rider units.Mass) units.Force {
	if rider == m.ends[i].rider {
		return m.load(i)
	}
	j := m.masses
	if rider == 0 && j.BikeRearShare != 0 {
		j = j.WithRearShare(j.BikeRearShare)
	}
	return max(0, j.SprungLoad(axles[i], rider+j.BikeMass))
}

// declareGauge adds the error of the fill that the readings of a gauge give, from those of ring and
// gauge. It is stated there.
func (e *end) declareGauge(p part) {
	c := e.Choice.Gauge
	if c == nil || !(c.StandardError > 0) || p.lacks != "" {
		return
	}
	declare(p, "gauge.readings", c.StandardError, "", around(&e.misfill, max(c.StandardError, c.Fill)))
}
