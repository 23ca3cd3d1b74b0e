package main

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// pressureRange is one end of a bike with an air spring, and the riders of a chart.
type pressureRange struct {
	// Air is the spring with the spacers that are fitted. Its Fill and its Exponent are ignored:
	// the gas is at the temperature around it.
	Air     airspring.Spec      `json:"air"`
	MaxFill units.GaugePressure `json:"max_fill"` // the marking on the part, more than 0
	sag.AxleShare
	Sag float64 `json:"sag"` // the target, from a millionth to below 1
	// From, To and Step are the rider masses of the chart, each more than 0, To not below From; at
	// most 1000 rows.
	From units.Mass `json:"from"`
	To   units.Mass `json:"to"`
	Step units.Mass `json:"step"`
}

// pressureRow is one line of a pressure chart.
type pressureRow struct {
	RiderMass units.Mass  `json:"rider_mass"`
	Load      units.Force `json:"load"` // sprung, at the wheel
	// Fill brings the end to the target. For the finding fill_at_max it is the marking, which is
	// not enough. For fill_impossible it is 0: without any pressure the end carries such a rider
	// with less sag than wanted.
	Fill    units.GaugePressure `json:"fill"`
	Finding sag.Finding         `json:"finding,omitempty"`
}

// pressureChart returns the fill of an air spring for riders of rising mass and one sag: that of
// [sag.RequiredFill] for the load that the rider's and the bike's masses put on the end, at most the
// marking. A rider with whom the sprung load is not more than 0 is left out.
//
// The error names every bad field: sag also if more fill pulls in harder at the target, and
// air.travel for a spring that is shorter than the curve's stroke.
//
// A chart is a starting point: the marking on the part and its maker's manual win.
//
// Not modelled: friction, which holds the wheel short of the target or past it, and spacers other
// than those fitted.
func pressureChart(curve *linkage.Curve, r pressureRange) ([]pressureRow, error) {
	c := units.Checker{Package: "bands"}
	r.Air.Exponent = 1
	n := r.check(&c, curve)
	if !c.OK() {
		return nil, c.Err()
	}
	target := sag.Target{Sag: r.Sag}
	rows := make([]pressureRow, 0, n)
	for i := range n {
		rider := r.From + units.Mass(i)*r.Step
		if target.Load = r.Load(rider); !(target.Load > 0) {
			continue
		}
		row := pressureRow{RiderMass: rider, Load: target.Load}
		at, force := target.AtSpring(curve)
		fill, outcome := r.Air.SolveFill(force, at)
		switch {
		case outcome == airspring.FillPullsIn:
			c.Fail("sag", r.Sag, "a sag at which more fill carries more", units.ErrConflict)
			return nil, c.Err()
		case outcome == airspring.FillNone:
			row.Finding = sag.FillImpossible
		case outcome == airspring.FillBeyond || fill > r.MaxFill*(1+1e-12): // more than by rounding
			row.Fill, row.Finding = r.MaxFill, sag.FillAtMax
		default:
			row.Fill = min(fill, r.MaxFill)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// check records what is wrong with a range behind a curve, and returns the number of riders of a
// good one.
func (r *pressureRange) check(c *units.Checker, curve *linkage.Curve) int {
	const mostRows = 1000 // far more than anybody reads
	sag.CheckCurve(c, curve)
	sag.CheckSag(c, r.Sag)
	r.AxleShare.Check(c)
	from, to, step := units.Positive(c, "from", r.From), units.Positive(c, "to", r.To), units.Positive(c, "step", r.Step)
	if from && to && r.To < r.From {
		c.Fail("to", r.To, units.AtLeast(r.From).Of("from"), units.ErrConflict)
	}
	// As many whole steps as reach To, or fall short of it by a rounding alone.
	steps := (r.To - r.From + r.To*1e-12) / r.Step
	if from && to && step && !(steps < mostRows) {
		c.Fail("step", r.Step, fmt.Sprintf("a step that makes at most %d rows", mostRows), nil)
	}
	if to && !c.Bad("bike_mass") && math.IsInf(float64(r.Load(r.To)), 0) {
		c.Fail("to", r.To, "a mass that has a finite weight with the bike's", nil)
	}
	gas.CheckFill(c, "max_fill", r.MaxFill)
	air := c.Child("air")
	r.Air.Check(&air)
	if curve != nil && r.Air.Travel > 0 && r.Air.Travel < curve.Stroke() {
		air.Fail("travel", r.Air.Travel, units.AtLeast(curve.Stroke()).Of("stroke"), units.ErrConflict)
	}
	return 1 + int(steps)
}
