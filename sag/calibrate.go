package sag

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// LoadReadings are [airspring.GaugeReadings] at the wheel: the spring is behind a lever-ratio curve, and
// what is known under each reading is the sprung load at the wheel.
type LoadReadings struct {
	Ambient         units.AbsolutePressure `json:"ambient"`
	NegativeChamber *bool                  `json:"negative_chamber"` // has no default
	OutsideDiameter units.Length           `json:"outside_diameter"` // of the bore without a negative chamber, of the shaft with one
	Readings        []LoadReading          `json:"readings"`         // in any order, 1000 at most
	RingError       units.Length           `json:"ring_error"`       // the standard error of a stroke, more than 0
	GaugeError      units.GaugePressure    `json:"gauge_error,omitempty"`
}

// LoadReading is a reading of gauge and ring under a load.
type LoadReading struct {
	Fill       units.GaugePressure `json:"fill"`
	Stroke     units.Length        `json:"stroke"`                // of the spring, more than 0 and within that of the curve
	StrokeBack units.Length        `json:"stroke_back,omitempty"` // see [airspring.GaugeReading]
	Load       units.Force         `json:"load"`                  // sprung, at the wheel; 0 for the wheel off the ground and its weight held
}

// CheckEnough records every bad field, and readings at too few different strokes for [Calibrate]. The
// readings are checked against a curve if there is one.
func (r LoadReadings) CheckEnough(c *units.Checker, curve *linkage.Curve) {
	r.atSpring(c, curve).CheckEnough(c)
}

// atSpring returns the readings at the spring: by virtual work the force at a stroke s is load·LR(s).
// Where both approaches were read, s is halfway between them. It records strokes and loads that have
// no force there.
func (r LoadReadings) atSpring(c *units.Checker, curve *linkage.Curve) airspring.GaugeReadings {
	const most = 1e9 * units.Newton
	g := airspring.GaugeReadings{
		Ambient: r.Ambient, NegativeChamber: r.NegativeChamber, OutsideDiameter: r.OutsideDiameter,
		Readings: make([]airspring.GaugeReading, len(r.Readings)), RingError: r.RingError, GaugeError: r.GaugeError,
	}
	for i, reading := range r.Readings {
		own := c.Element("readings", i)
		ratio := 1.0
		if curve != nil && curve.Stroke() > 0 {
			within := func(name string, s units.Length) {
				if s > curve.Stroke() {
					own.Fail(name, s, units.AtMost(curve.Stroke()).With("the stroke of the curve"), units.ErrConflict)
				}
			}
			within("stroke", reading.Stroke)
			within("stroke_back", reading.StrokeBack)
			ratio = curve.LeverRatio((reading.Stroke + max(reading.StrokeBack, reading.Stroke)) / 2)
		}
		g.Readings[i] = airspring.GaugeReading{Fill: reading.Fill, Stroke: reading.Stroke, StrokeBack: reading.StrokeBack}
		if force := units.Force(float64(reading.Load) * ratio); reading.Load >= 0 && force <= most {
			g.Readings[i].Force = force
		} else {
			own.Fail("load", reading.Load, units.From(0, most).With("at the spring"), nil)
		}
	}
	return g
}

// Calibrate returns the air spring behind a curve that agrees best with readings of gauge and ring under
// loads: [airspring.Calibrate] for the forces at the spring. The error names every bad field.
func Calibrate(curve *linkage.Curve, r LoadReadings) (*airspring.Calibration, error) {
	c := units.Checker{Package: "sag"}
	CheckCurve(&c, curve)
	g := r.atSpring(&c, curve)
	if g.CheckEnough(&c); !c.OK() {
		return nil, c.Err()
	}
	return airspring.Calibrate(g)
}

// CalibratedFill returns the fill that puts a calibrated spring on target:
// [airspring.Calibration.FillFor] for the force load·LR(s*) at the stroke s*. As a spring known by its
// chambers has [RequiredFill].
//
// The error names every bad field: load for one that no fill carries, with [airspring.ErrNoFill] or
// [airspring.ErrFillBeyond]; sag for one beyond the end of the chamber or, with
// [airspring.ErrFillPullsIn], so near to full extension that more fill pulls in harder. A calibration
// that is nil is missing.
func CalibratedFill(curve *linkage.Curve, target Target, spring *airspring.Calibration) (airspring.FillEstimate, error) {
	c := units.Checker{Package: "sag"}
	target.Check(&c, curve)
	if spring == nil {
		c.Fail("spring", nil, "a calibrated spring", units.ErrMissing)
	}
	if err := c.Err(); err != nil {
		return airspring.FillEstimate{}, err
	}
	s, f := target.AtSpring(curve)
	fill, outcome := spring.SolveFill(f, s)
	if outcome == airspring.FillBeyond && !(s < spring.Length()) {
		c.Fail("sag", target.Sag, fmt.Sprintf("a sag short of the end of the chamber, a stroke of %.4g", spring.Length()), units.ErrConflict)
	} else {
		target.checkFill(&c, outcome)
	}
	return fill, c.Err()
}
