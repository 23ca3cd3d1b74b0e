package sag

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Axle names one end of the bike.
type Axle string

// The two axles.
const (
	Front Axle = "front"
	Rear  Axle = "rear"
)

// AxleShare is what one axle carries of a bike and a rider of any mass.
type AxleShare struct {
	End       Axle       `json:"end"`
	RearShare float64    `json:"rear_share"`         // of the total weight on the rear wheel, between 0 and 1
	BikeMass  units.Mass `json:"bike_mass"`          // of the whole bike, more than 0
	Unsprung  units.Mass `json:"unsprung,omitempty"` // at this end, the part of BikeMass that its spring does not carry
}

// check records what is wrong with a share.
func (a AxleShare) check(c *units.Checker) {
	units.Inside(c, "rear_share", a.RearShare, 0, 1)
	units.Positive(c, "bike_mass", a.BikeMass)
	units.NonNegative(c, "unsprung", a.Unsprung)
	if a.End != Front && a.End != Rear {
		c.Fail("end", string(a.End), `"front" or "rear"`, units.ErrUnknown)
	}
}

// share returns the part of the total weight on this end.
func (a AxleShare) share() float64 {
	if a.End == Front {
		return 1 - a.RearShare
	}
	return a.RearShare
}

// load returns the sprung load at the wheel with a rider of a mass.
func (a AxleShare) load(rider units.Mass) units.Force {
	return (units.Mass(a.share())*(rider+a.BikeMass) - a.Unsprung).Weight()
}

// rider returns the mass of the rider who makes a sprung load, the inverse of load.
func (a AxleShare) rider(load units.Force) units.Mass {
	return units.Mass(float64(load.Mass()+a.Unsprung)/a.share()) - a.BikeMass
}

// Range is a range of coil springs for one end of a bike.
type Range struct {
	Rates []units.Stiffness `json:"rates"` // strictly rising, from one to 1000 of them
	// Laws are springs whose rates vary, from their free length on, in place of Rates: each is harder
	// at the target than the one before it. They are not written as JSON.
	Laws      []spring.Law `json:"-"`
	Preload   units.Length `json:"preload,omitempty"` // the same for all, 0 or more
	AxleShare              // leaves a millionth of the weight or more on this end
	Sag       float64      `json:"sag"` // the target, from a millionth to below 1
}

// Bands are the rider masses that a range of springs suits.
type Bands struct {
	IdealMass []units.Mass `json:"ideal_mass"` // IdealMass[i] puts spring i exactly on target
	// EdgeMass[i] is the rider for whom springs i and i+1 miss the target by equal amounts, the
	// softer over it and the harder under it.
	EdgeMass []units.Mass `json:"edge_mass"`
}

// For returns the index of the rate that suits a rider: the number of edges at or below the rider's
// mass in kg. It is 0 for NaN.
func (b Bands) For(rider units.Mass) int {
	n := 0
	for n < len(b.EdgeMass) && rider >= b.EdgeMass[n] {
		n++
	}
	return n
}

// BandsOf returns the rider masses that a range of coil springs suits at one end of a bike. A
// spring's ideal load is F_s(s*)/LR(s*) at the target stroke s*. The edge between neighbours is the
// load under which their wheel travels average to the target's. The rider's mass follows from the
// load, with the unsprung mass, the share of the weight and the bike's mass.
//
// The error names every bad field. It names rates[i], or laws[i], also for a spring that is too soft to carry
// the bike alone at the target, and for one so much harder than its neighbour that no rider makes
// both miss by equal amounts. The latter happens too where the lever ratio rises so fast that the
// wheel force falls.
//
// Not modelled: friction, and a different preload for each spring.
func BandsOf(curve *linkage.Curve, r Range) (Bands, error) {
	c := units.Checker{Package: "sag"}
	CheckCurve(&c, curve)
	if r.Check(&c); !c.OK() {
		return Bands{}, c.Err()
	}
	target := units.Length(r.Sag) * curve.Travel()
	list, n := r.list()
	wheels := make([]*linkage.WheelLaw, n)
	b := Bands{IdealMass: make([]units.Mass, n), EdgeMass: make([]units.Mass, n-1)}
	for i := range wheels {
		field := fmt.Sprintf("%s[%d]", list, i)
		law, err := r.law(i, curve.Stroke())
		if c.Add(field, err); err == nil {
			checkLaw(&c, field, curve, law)
		}
		if !c.OK() {
			return Bands{}, c.Err()
		}
		wheels[i] = atWheel(curve, law)
		if b.IdealMass[i] = r.rider(wheels[i].Force(target)); !(b.IdealMass[i] > 0) {
			c.Fail(field, r.given(i), "hard enough to carry the bike and a rider at the target", units.ErrConflict)
		}
		if len(r.Laws) > 0 && wheels[i].Travel() <= target {
			c.Fail(field, nil, "a spring that is not solid at the target", units.ErrConflict)
		}
	}
	for i := range b.EdgeMass {
		load, err := edgeLoad(wheels[i], wheels[i+1], target)
		b.EdgeMass[i] = r.rider(load)
		slack := 1e-9 * b.IdealMass[i+1] // of rounding
		if err != nil || !(b.IdealMass[i]-slack <= b.EdgeMass[i] && b.EdgeMass[i] <= b.IdealMass[i+1]+slack) {
			c.Fail(fmt.Sprintf("%s[%d]", list, i+1), r.given(i+1), "near enough to the spring before it that one rider makes both miss alike", units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return Bands{}, err
	}
	return b, nil
}

// Check records what is wrong with a range.
func (r Range) Check(c *units.Checker) {
	const leastShare = 1e-6 // below it riders' masses leave the range of float64
	CheckSag(c, r.Sag)
	switch list, n := r.list(); {
	case len(r.Laws) > 0 && len(r.Rates) > 0:
		c.Fail("laws", nil, "rates or laws, not both", units.ErrConflict)
	case n == 0:
		c.Fail("rates", nil, "one rate or more", units.ErrMissing)
	case n > MostSprings:
		c.Fail(list, n, fmt.Sprintf("at most %d %s", MostSprings, list), nil)
		r.Rates = nil
	}
	last := units.Stiffness(0) // the last good rate
	for i, k := range r.Rates {
		field := fmt.Sprintf("rates[%d]", i)
		if !units.Positive(c, field, k) {
			continue
		}
		if k <= last {
			c.Fail(field, k, "more than the rate before it, "+last.String(), units.ErrConflict)
		}
		last = k
	}
	units.NonNegative(c, "preload", r.Preload)
	r.AxleShare.check(c)
	if !c.Bad("rear_share") && r.share() < leastShare {
		c.Fail("rear_share", r.RearShare, "a share that leaves this end a millionth, or more", nil)
	}
}

// edgeLoad returns the load under which a softer and a harder wheel law settle as far over the
// target as under it: F_soft(w* + u) = F_hard(w* − u).
func edgeLoad(soft, hard spring.Law, target units.Length) (units.Force, error) {
	width := min(target, soft.Travel()-target)
	u, err := root.Find(func(u float64) float64 {
		d := units.Length(u)
		return float64(soft.Force(target+d) - hard.Force(target-d))
	}, 0, float64(width), settleTolerance*float64(width))
	return soft.Force(target + units.Length(u)), err
}

// PressureRange is one end of a bike with an air spring, and the riders of a chart.
type PressureRange struct {
	// Air is the spring with the spacers that are fitted. Its Fill and its Exponent are ignored:
	// the gas is at the temperature around it.
	Air     airspring.Spec      `json:"air"`
	MaxFill units.GaugePressure `json:"max_fill"` // the marking on the part, more than 0
	AxleShare
	Sag float64 `json:"sag"` // the target, from a millionth to below 1
	// From, To and Step are the rider masses of the chart, each more than 0, To not below From; at
	// most 1000 rows.
	From units.Mass `json:"from"`
	To   units.Mass `json:"to"`
	Step units.Mass `json:"step"`
}

// PressureRow is one line of a pressure chart.
type PressureRow struct {
	RiderMass units.Mass  `json:"rider_mass"`
	Load      units.Force `json:"load"` // sprung, at the wheel
	// Fill brings the end to the target. For the finding fill_at_max it is the marking, which is
	// not enough. For fill_impossible it is 0: without any pressure the end carries such a rider
	// with less sag than wanted.
	Fill    units.GaugePressure `json:"fill"`
	Finding Finding             `json:"finding,omitempty"`
}

// PressureChart returns the fill of an air spring for riders of rising mass and one sag: that of
// [RequiredFill] for the load that the rider's and the bike's masses put on the end, at most the
// marking. A rider with whom the sprung load is not more than 0 is left out.
//
// The error names every bad field: sag also if more fill pulls in harder at the target, and
// air.travel for a spring that is shorter than the curve's stroke.
//
// A chart is a starting point: the marking on the part and its maker's manual win.
//
// Not modelled: friction, which holds the wheel short of the target or past it, and spacers other
// than those fitted.
func PressureChart(curve *linkage.Curve, r PressureRange) ([]PressureRow, error) {
	c := units.Checker{Package: "sag"}
	r.Air.Exponent = 1
	n := r.check(&c, curve)
	if !c.OK() {
		return nil, c.Err()
	}
	target := Target{Sag: r.Sag}
	rows := make([]PressureRow, 0, n)
	for i := range n {
		rider := r.From + units.Mass(i)*r.Step
		if target.Load = r.load(rider); !(target.Load > 0) {
			continue
		}
		row := PressureRow{RiderMass: rider, Load: target.Load}
		at, force := target.AtSpring(curve)
		fill, outcome := r.Air.SolveFill(force, at)
		switch {
		case outcome == airspring.FillPullsIn:
			c.Fail("sag", r.Sag, "a sag at which more fill carries more", units.ErrConflict)
			return nil, c.Err()
		case outcome == airspring.FillNone:
			row.Finding = FillImpossible
		case outcome == airspring.FillBeyond || fill > r.MaxFill*(1+1e-12): // more than by rounding
			row.Fill, row.Finding = r.MaxFill, FillAtMax
		default:
			row.Fill = min(fill, r.MaxFill)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// check records what is wrong with a range behind a curve, and returns the number of riders of a
// good one.
func (r *PressureRange) check(c *units.Checker, curve *linkage.Curve) int {
	const mostRows = 1000 // far more than anybody reads
	CheckCurve(c, curve)
	CheckSag(c, r.Sag)
	r.AxleShare.check(c)
	from, to, step := units.Positive(c, "from", r.From), units.Positive(c, "to", r.To), units.Positive(c, "step", r.Step)
	if from && to && r.To < r.From {
		c.Fail("to", r.To, "from, "+r.From.String()+", or more", units.ErrConflict)
	}
	// As many whole steps as reach To, or fall short of it by a rounding alone.
	steps := (r.To - r.From + r.To*1e-12) / r.Step
	if from && to && step && !(steps < mostRows) {
		c.Fail("step", r.Step, fmt.Sprintf("a step that makes at most %d rows", mostRows), nil)
	}
	if to && !c.Bad("bike_mass") && math.IsInf(float64(r.load(r.To)), 0) {
		c.Fail("to", r.To, "a mass that has a finite weight with the bike's", nil)
	}
	gas.CheckFill(c, "max_fill", r.MaxFill)
	air := c.Child("air")
	r.Air.Check(&air)
	if curve != nil && r.Air.Travel > 0 && r.Air.Travel < curve.Stroke() {
		air.Fail("travel", r.Air.Travel, "the curve's stroke, "+curve.Stroke().String()+", or more", units.ErrConflict)
	}
	return 1 + int(steps)
}
