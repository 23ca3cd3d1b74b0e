package sag

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// PressureRange describes one end of a bike with an air spring, for a chart of
// what riders of different masses fill it to.
type PressureRange struct {
	// Air is the spring with the spacers that are fitted; its fill is passed
	// over. Over a chart the gas is at the temperature around it.
	Air       airspring.Spec      `json:"air"`
	MaxFill   units.GaugePressure `json:"max_fill"` // the marking on the part, more than 0
	End       Axle                `json:"end"`
	RearShare float64             `json:"rear_share"` // between 0 and 1
	BikeMass  units.Mass          `json:"bike_mass"`  // more than 0
	Unsprung  units.Mass          `json:"unsprung,omitempty"`
	Sag       float64             `json:"sag"` // the target, between 0 and 1
	// From, To and Step are the rider masses of the chart, each more than 0, To
	// not below From; at most 1000 rows.
	From units.Mass `json:"from"`
	To   units.Mass `json:"to"`
	Step units.Mass `json:"step"`
}

// PressureRow is one line of a pressure chart.
type PressureRow struct {
	RiderMass units.Mass  `json:"rider_mass"`
	Load      units.Force `json:"load"` // sprung, at the wheel
	// Fill brings the end to the target; where Finding is fill_at_max it is the
	// marking, which is not enough, and where it is fill_impossible it is 0:
	// without any pressure the end carries such a rider with less sag than
	// wanted.
	Fill    units.GaugePressure `json:"fill"`
	Finding Finding             `json:"finding,omitempty"`
}

// PressureChart returns what riders of rising mass fill an air spring to
// for one sag: the fill of [RequiredFill] for the load that the rider's and the
// bike's masses put on the end, at most the marking. A rider so light that the
// end's unsprung mass is not even carried is left out. The error names every
// bad field, sag where more fill pulls in harder there, and air.travel where
// the spring is shorter than the curve's stroke.
//
// Rider and fill are in a straight line, since the spring's force at the
// target is linear in its absolute fill.
//
// A chart is where to start from: the marking on the part and its maker's
// manual win. Not modelled: friction, which holds the wheel short of the target
// or past it; and the spacers are those fitted, one chart for each number.
func PressureChart(curve *linkage.Curve, r PressureRange) ([]PressureRow, error) {
	c := units.Checker{Package: "sag"}
	Target{Load: 1, Sag: r.Sag}.Check(&c, curve)
	units.Inside(&c, "rear_share", r.RearShare, 0, 1)
	units.Positive(&c, "bike_mass", r.BikeMass)
	units.NonNegative(&c, "unsprung", r.Unsprung)
	from, to, step := units.Positive(&c, "from", r.From), units.Positive(&c, "to", r.To), units.Positive(&c, "step", r.Step)
	if from && to && r.To < r.From {
		c.Fail("to", r.To, "from, "+r.From.String()+", or more", units.ErrConflict)
	}
	// As many whole steps as reach To, or fall short of it by a rounding alone.
	steps := (r.To - r.From + r.To*1e-12) / r.Step
	const most = 1000
	if from && to && step && !(steps < most) {
		c.Fail("step", r.Step, fmt.Sprintf("a step that makes at most %d rows", most), nil)
	}
	if to && !c.Bad("bike_mass") && math.IsInf(float64((r.To+r.BikeMass).Weight()), 0) {
		c.Fail("to", r.To, "a mass that has a finite weight with the bike's", units.ErrRange)
	}
	share := r.RearShare
	switch r.End {
	case Rear:
	case Front:
		share = 1 - share
	default:
		c.Fail("end", string(r.End), `"front" or "rear"`, units.ErrUnknown)
	}
	r.Air.Exponent, r.Air.Fill = 1, r.MaxFill
	_, err := airspring.New(r.Air)
	for _, f := range units.Fields(err) {
		if f.Field == "fill" { // which is the marking here
			c.Fail("max_fill", r.MaxFill, f.Want, f.Class)
		} else {
			c.Add("air", f)
		}
	}
	if curve != nil && r.Air.Travel > 0 && r.Air.Travel < curve.Stroke() {
		c.Fail("air.travel", r.Air.Travel, "the curve's stroke, "+curve.Stroke().String()+", or more", units.ErrConflict)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	target := Target{Sag: r.Sag}
	n := 1 + int(steps)
	rows := make([]PressureRow, 0, n)
	for i := range n {
		m := r.From + units.Mass(i)*r.Step
		target.Load = (units.Mass(share)*(m+r.BikeMass) - r.Unsprung).Weight()
		if !(target.Load > 0) {
			continue
		}
		at, force := target.AtSpring(curve)
		trials, err := airspring.Search{Spec: r.Air, Force: force, At: at, MaxFill: r.MaxFill, First: r.Air.Spacers, Last: r.Air.Spacers}.Trials()
		if err != nil {
			return nil, err
		}
		row := PressureRow{RiderMass: m, Load: target.Load, Fill: trials[0].Fill}
		switch trials[0].Outcome {
		case airspring.FillPullsIn:
			c.Fail("sag", r.Sag, "a sag at which more fill carries more", units.ErrConflict)
			return nil, c.Err()
		case airspring.FillAtMarking, airspring.FillBeyond:
			row.Finding = FillAtMax
		case airspring.FillNone:
			row.Fill, row.Finding = 0, FillImpossible
		}
		rows = append(rows, row)
	}
	return rows, nil
}
