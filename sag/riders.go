package sag

import (
	"fmt"

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

// AtAxle returns what is at an axle: rear for [Rear], and front for any other.
func AtAxle[T any](at Axle, front, rear T) T {
	if at == Rear {
		return rear
	}
	return front
}

// AxleShare is what one axle carries of a bike and a rider of any mass.
type AxleShare struct {
	End       Axle       `json:"end"`
	RearShare float64    `json:"rear_share"`         // of the total weight on the rear wheel, between 0 and 1
	BikeMass  units.Mass `json:"bike_mass"`          // of the whole bike, more than 0
	Unsprung  units.Mass `json:"unsprung,omitempty"` // at this end, the part of BikeMass that its spring does not carry
}

// Check records what is wrong with a share.
func (a AxleShare) Check(c *units.Checker) {
	units.Inside(c, "rear_share", a.RearShare, 0, 1)
	units.Positive(c, "bike_mass", a.BikeMass)
	units.NonNegative(c, "unsprung", a.Unsprung)
	if a.End != Front && a.End != Rear {
		c.Fail("end", string(a.End), `"front" or "rear"`, units.ErrUnknown)
	}
}

// share returns the part of the total weight on this end.
func (a AxleShare) share() float64 { return AtAxle(a.End, 1-a.RearShare, a.RearShare) }

// Load returns the sprung load at the wheel with a rider of a mass in kg; below 0 the end carries less than
// its unsprung mass.
func (a AxleShare) Load(rider units.Mass) units.Force {
	return (units.Mass(a.share())*(rider+a.BikeMass) - a.Unsprung).Weight()
}

// rider returns the mass of the rider who makes a sprung load, the inverse of Load.
func (a AxleShare) rider(load units.Force) units.Mass {
	return units.Mass(float64(load.Mass()+a.Unsprung)/a.share()) - a.BikeMass
}

// Range is a range of coil springs for one end of a bike.
type Range struct {
	Rates     []units.Stiffness `json:"rates"`             // strictly rising, from one to 1000 of them
	Preload   units.Length      `json:"preload,omitempty"` // the same for all, 0 or more
	AxleShare                   // leaves a millionth of the weight or more on this end
	Sag       float64           `json:"sag"` // the target, from a millionth to below 1
}

// Bands are the rider masses that a range of springs suits.
type Bands struct {
	IdealMass []units.Mass `json:"ideal_mass"` // IdealMass[i] puts spring i exactly on target
	// EdgeMass[i] is the rider for whom springs i and i+1 miss the target by equal amounts, the
	// softer over it and the harder under it.
	EdgeMass []units.Mass `json:"edge_mass"`
}

// BandsOf returns the rider masses that a range of coil springs suits at one end of a bike. A
// spring's ideal load is F_s(s*)/LR(s*) at the target stroke s*. The edge between neighbours is the
// load under which their wheel travels average to the target's. The rider's mass follows from the
// load, with the unsprung mass, the share of the weight and the bike's mass.
//
// The error names every bad field. It names rates[i] also for a spring that is too soft to carry the
// bike alone at the target, and for one so much harder than its neighbour that no rider makes both
// miss by equal amounts. The latter happens too where the lever ratio rises so fast that the wheel
// force falls.
//
// Not modelled: friction, a different preload for each spring, springs whose rates vary.
func BandsOf(curve *linkage.Curve, r Range) (Bands, error) {
	c := units.Checker{Package: "sag"}
	CheckCurve(&c, curve)
	if r.Check(&c); !c.OK() {
		return Bands{}, c.Err()
	}
	target := units.Length(r.Sag) * curve.Travel()
	wheels := make([]*linkage.WheelLaw, len(r.Rates))
	b := Bands{IdealMass: make([]units.Mass, len(wheels)), EdgeMass: make([]units.Mass, len(wheels)-1)}
	for i, rate := range r.Rates {
		field := fmt.Sprintf("rates[%d]", i)
		law, err := spring.NewLinear(spring.Linear{Rate: rate, Travel: curve.Stroke(), Preload: r.Preload})
		if c.Add(field, err); err == nil {
			checkLaw(&c, field, curve, law)
		}
		if !c.OK() {
			return Bands{}, c.Err()
		}
		wheels[i] = atWheel(curve, law)
		if b.IdealMass[i] = r.rider(wheels[i].Force(target)); !(b.IdealMass[i] > 0) {
			c.Fail(field, rate, "hard enough to carry the bike and a rider at the target", units.ErrConflict)
		}
	}
	for i := range b.EdgeMass {
		load, err := edgeLoad(wheels[i], wheels[i+1], target)
		b.EdgeMass[i] = r.rider(load)
		slack := 1e-9 * b.IdealMass[i+1] // of rounding
		if err != nil || !(b.IdealMass[i]-slack <= b.EdgeMass[i] && b.EdgeMass[i] <= b.IdealMass[i+1]+slack) {
			c.Fail(fmt.Sprintf("rates[%d]", i+1), r.Rates[i+1], "near enough to the spring before it that one rider makes both miss alike", units.ErrConflict)
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
	switch n := len(r.Rates); {
	case n == 0:
		c.Fail("rates", nil, "one rate or more", units.ErrMissing)
	case n > MostSprings:
		c.Fail("rates", n, units.AtMost(MostSprings).Count("rates"), nil)
		r.Rates = nil
	}
	last := units.Stiffness(0) // the last good rate
	for i, k := range r.Rates {
		field := fmt.Sprintf("rates[%d]", i)
		if !units.Positive(c, field, k) {
			continue
		}
		if k <= last {
			c.Fail(field, k, units.MoreThan(last).With("the rate before it"), units.ErrConflict)
		}
		last = k
	}
	units.NonNegative(c, "preload", r.Preload)
	r.AxleShare.Check(c)
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
