package sag

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// MeasuredLoad returns the sprung load at the wheel in N that a measured
// stroke of the shock implies, for a spring that is fitted:
// load = F_s(s)/LR(s). The stroke must be more than 0 and less than the full
// stroke: at the ends of the travel the stops carry an unknown part of the
// load. A spring that pulls in at that stroke is refused too.
//
// From the load, [RequiredRate] and [RequiredFill] give what to fit instead.
func MeasuredLoad(curve *linkage.Curve, law spring.Law, measured units.Length) (units.Force, error) {
	c := units.Checker{Package: "sag"}
	wheel := atWheel(&c, curve, law)
	if wheel != nil {
		units.Inside(&c, "measured_stroke", measured, 0, curve.StrokeAt(wheel.Travel()))
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	load := wheel.Force(curve.TravelAt(measured))
	if !(load > 0) {
		c.Fail("measured_stroke", measured, "a stroke at which this spring carries a load", units.ErrConflict)
		return 0, c.Err()
	}
	return load, nil
}
