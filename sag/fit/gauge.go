package fit

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// Gauge is an air spring of which nobody knows the chambers, but readings of its gauge and of the ring
// on its shaft or stanchion; see [airspring.GaugeReadings]. All readings are of the spring as it is,
// with the same spacers and oil, at one temperature, and without a leak between them.
//
// Readings by the same rider, behind one lever ratio, need no weight: it cancels. Of an end without a
// negative chamber two readings tell everything, with one four do. With fewer the answer is the next
// fill to try.
type Gauge struct {
	// NegativeChamber is [SelfFilling] or [None]. It has no default, since the fill of a spring whose
	// negative chamber is left out is far off.
	NegativeChamber Statement `json:"negative_chamber"`
	// OutsideDiameter is that of the shaft of a spring with a negative chamber, on which the ambient
	// presses. Without one it is the bore, which the readings tell: it is then only compared.
	OutsideDiameter units.Length           `json:"outside_diameter,omitempty"`
	Ambient         units.AbsolutePressure `json:"ambient,omitempty"` // may be left out if it is that given to [New]
	// MaxFill is the highest fill that the marking on the part permits. If it is left out, no fill above
	// the highest of the readings is offered.
	MaxFill  units.GaugePressure `json:"max_fill,omitempty"`
	Readings []GaugeReading      `json:"readings"` // in any order, from 1 to 1000
	// RingError is the standard error of a ring's reading; 0 is taken as Spec.Reading or, if that is 0
	// too, as 1 mm. GaugeError is that of a gauge; 0 is taken as exact.
	RingError  units.Length        `json:"ring_error,omitempty"`
	GaugeError units.GaugePressure `json:"gauge_error,omitempty"`
	// Exponent is that of a fast stroke; 0 is taken as 1.4, that of air which exchanges no heat.
	Exponent float64 `json:"exponent,omitempty"`
}

// SelfFilling says that a spring has a negative chamber that fills itself through a port near full
// extension.
const SelfFilling Statement = "self_filling"

// The values of fields that a [Gauge] leaves out.
const (
	DefaultRingError = 1 * units.Millimetre
	DefaultExponent  = 1.4 // of a gas of two atoms, 7/5
)

// GaugeReading is where the ring was with a fill and a load.
type GaugeReading struct {
	Fill units.GaugePressure `json:"fill"` // at full extension, after slow cycling
	// Stroke is where the ring was, from full extension, more than 0 and less than the full stroke. If
	// the rest was approached from both sides, Stroke is the lesser and StrokeBack the greater.
	Stroke     units.Length `json:"stroke"`
	StrokeBack units.Length `json:"stroke_back,omitempty"` // 0 if only one approach was read
	// Load is the sprung load at the wheel, 0 for a wheel off the ground. A job leaves it out for that
	// of its own rider, or gives RiderMass for that of another one, 0 for nobody on the bike. Package
	// setup then fills in both.
	Load      *units.Force `json:"load,omitempty"`
	RiderMass *units.Mass  `json:"rider_mass,omitempty"`
}

// Middle returns the stroke halfway between both approaches, or that of the one.
func (r GaugeReading) Middle() units.Length {
	if r.StrokeBack > 0 {
		return (r.Stroke + r.StrokeBack) / 2
	}
	return r.Stroke
}

// filled returns a gauge with its blanks filled in, by the ambient and the ring of the spec.
func (j Gauge) filled(ambient units.AbsolutePressure, ring units.Length) *Gauge {
	if j.Ambient == 0 {
		j.Ambient = ambient
	}
	if j.RingError == 0 {
		if j.RingError = ring; !(ring > 0) {
			j.RingError = DefaultRingError
		}
	}
	if j.Exponent == 0 {
		j.Exponent = DefaultExponent
	}
	return &j
}

// Highest returns the highest fill that may be set: MaxFill, or the highest of the readings without one.
func (j *Gauge) Highest() units.GaugePressure {
	most := j.MaxFill
	for _, r := range j.Readings {
		if j.MaxFill == 0 {
			most = max(most, r.Fill)
		}
	}
	return most
}

// Check records what is wrong with a gauge and its readings behind a curve, which may be nil. The load
// of each reading must be given.
func (j *Gauge) Check(c *units.Checker, curve *linkage.Curve) {
	switch said := j.NegativeChamber; {
	case said == "":
		c.Fail("negative_chamber", nil, `"self_filling", or "none" for a spring without one`, units.ErrMissing)
	case said != SelfFilling && said != None:
		c.Fail("negative_chamber", string(said), `"self_filling" or "none"`, units.ErrUnknown)
	}
	if j.OutsideDiameter == 0 && j.NegativeChamber == SelfFilling {
		c.Fail("outside_diameter", nil, "the diameter of the shaft", units.ErrMissing)
	}
	if j.MaxFill != 0 {
		gas.CheckFill(c, "max_fill", j.MaxFill)
	}
	if j.Exponent != 0 {
		units.Between(c, "exponent", j.Exponent, 1, 2)
	}
	if len(j.Readings) == 0 {
		c.Fail("readings", nil, "one reading or more of gauge and ring", units.ErrMissing)
	}
	if len(j.Readings) > 1000 {
		c.Fail("readings", len(j.Readings), units.AtMost(1000).Count("readings"), nil)
		return
	}
	for i, r := range j.Readings {
		own := c.Element("readings", i)
		r.Check(&own, curve)
		if j.MaxFill > 0 && r.Fill > j.MaxFill {
			own.Fail("fill", r.Fill, units.AtMost(j.MaxFill).Of("max_fill").With("the marking"), units.ErrConflict)
		}
	}
	g := j.asked(nil)
	if g.OutsideDiameter == 0 {
		g.OutsideDiameter = units.Metre // not asked for, or recorded already
	}
	g.Check(c)
}

// Check records what is wrong with a reading behind a curve, which may be nil. The Load must be given.
func (r GaugeReading) Check(c *units.Checker, curve *linkage.Curve) {
	gas.CheckFill(c, "fill", r.Fill)
	full := units.Length(math.Inf(1))
	if curve != nil {
		full = curve.Stroke()
	}
	// At either end of the stroke a stop carries an unknown part of the load.
	if units.Inside(c, "stroke", r.Stroke, 0, full) && r.StrokeBack != 0 && units.Inside(c, "stroke_back", r.StrokeBack, 0, full) && r.StrokeBack < r.Stroke {
		c.Fail("stroke_back", r.StrokeBack, "stroke or more", units.ErrConflict)
	}
	if r.Load == nil {
		c.Fail("load", nil, "the sprung load at the wheel", units.ErrMissing)
	} else {
		units.NonNegative(c, "load", *r.Load)
	}
}

// asked returns what is known along the spring, with the readings behind a curve unless it is nil.
func (j *Gauge) asked(curve *linkage.Curve) airspring.GaugeReadings {
	g := airspring.GaugeReadings{
		Ambient: j.Ambient, NegativeChamber: new(j.NegativeChamber == SelfFilling), OutsideDiameter: j.OutsideDiameter,
		RingError: j.RingError, GaugeError: j.GaugeError,
	}
	if curve == nil {
		return g
	}
	for _, r := range j.Readings {
		force := units.Force(float64(*r.Load) * curve.LeverRatio(r.Middle()))
		g.Readings = append(g.Readings, airspring.GaugeReading{Fill: r.Fill, Stroke: r.Stroke, StrokeBack: r.StrokeBack, Force: force})
	}
	return g
}
