package sag

import (
	"fmt"
	"math"

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

// Range describes one end of a bike and the springs it can be given, for the
// riders they suit.
type Range struct {
	Rates     []units.Stiffness `json:"rates"`             // at least one, 1000 at most, strictly rising
	Preload   units.Length      `json:"preload,omitempty"` // the same for all, 0 or more
	End       Axle              `json:"end"`
	RearShare float64           `json:"rear_share"` // between 0 and 1, at least a millionth on this end
	BikeMass  units.Mass        `json:"bike_mass"`  // more than 0
	Unsprung  units.Mass        `json:"unsprung,omitempty"`
	Sag       float64           `json:"sag"` // the target, a millionth or more, below 1
}

// Bands are the rider masses that a range of springs suits.
type Bands struct {
	// IdealMass[i] puts spring i exactly on target.
	IdealMass []units.Mass `json:"ideal_mass"`
	// EdgeMass[i] is the rider for whom springs i and i+1 miss the target by
	// equal amounts, the softer over it and the harder under it.
	EdgeMass []units.Mass `json:"edge_mass"`
}

// For returns which spring suits a rider, as an index into the rates: as many
// edges lie at or below the rider's mass. NaN gets the softest.
func (b Bands) For(rider units.Mass) int {
	n := 0
	for n < len(b.EdgeMass) && rider >= b.EdgeMass[n] {
		n++
	}
	return n
}

// BandsOf returns the rider masses that a range of coil springs suits at one
// end of a bike. A spring's ideal load is F_s(s*)/LR(s*) at the target
// stroke s*; the edge between neighbours is the load at which their wheel
// travels average to the target's. The rider's mass follows from the load, the
// unsprung mass, the rear share and the bike's mass. Bad fields are named, and
// "rates[i]" where a spring is too soft for any rider at all, or where no
// rider within the travel makes neighbours miss by equal amounts, as where the
// lever ratio rises so fast that the wheel force falls between them.
func BandsOf(curve *linkage.Curve, r Range) (Bands, error) {
	c := units.Checker{Package: "sag"}
	if curve == nil {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
	r.Check(&c)
	if !c.OK() {
		return Bands{}, c.Err()
	}
	share := r.share()
	rider := func(load units.Force) units.Mass {
		return units.Mass(float64(load.Mass()+r.Unsprung)/share) - r.BikeMass
	}
	target := units.Length(r.Sag) * curve.Travel()
	wheels := make([]*linkage.WheelLaw, len(r.Rates))
	b := Bands{IdealMass: make([]units.Mass, len(r.Rates)), EdgeMass: make([]units.Mass, max(len(r.Rates)-1, 0))}
	for i, k := range r.Rates {
		field := fmt.Sprintf("rates[%d]", i)
		law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: curve.Stroke(), Preload: r.Preload})
		if c.Add(field, err); err == nil {
			checkLaw(&c, field, curve, law)
		}
		if !c.OK() {
			return Bands{}, c.Err()
		}
		wheels[i] = atWheel(curve, law)
		if b.IdealMass[i] = rider(wheels[i].Force(target)); !(b.IdealMass[i] > 0) {
			c.Fail(field, k, "hard enough to carry the bike and a rider at the target", units.ErrConflict)
		}
	}
	for i := range b.EdgeMass {
		load, err := edgeLoad(wheels[i], wheels[i+1], target)
		b.EdgeMass[i] = rider(load)
		slack := 1e-9 * b.IdealMass[i+1] // of rounding
		if err != nil || !(b.IdealMass[i]-slack <= b.EdgeMass[i] && b.EdgeMass[i] <= b.IdealMass[i+1]+slack) {
			c.Fail(fmt.Sprintf("rates[%d]", i+1), r.Rates[i+1], "near enough to its neighbour that one rider makes both miss alike", units.ErrConflict)
		}
	}
	if !c.OK() {
		return Bands{}, c.Err()
	}
	return b, nil
}

// Check records what is wrong with a range.
func (r Range) Check(c *units.Checker) {
	CheckSag(c, r.Sag)
	switch n := len(r.Rates); {
	case n == 0:
		c.Fail("rates", nil, "one rate or more", units.ErrMissing)
	case n > MostSprings:
		c.Fail("rates", n, fmt.Sprintf("at most %d rates", MostSprings), nil)
		r.Rates = nil
	}
	for i, k := range r.Rates {
		field := fmt.Sprintf("rates[%d]", i)
		// A rate before it that is no finite number was told already.
		if units.Positive(c, field, k) && i > 0 && k <= r.Rates[i-1] && !math.IsInf(float64(r.Rates[i-1]), 0) {
			c.Fail(field, k, "more than the rate before it, "+r.Rates[i-1].String(), units.ErrConflict)
		}
	}
	units.NonNegative(c, "preload", r.Preload)
	units.Inside(c, "rear_share", r.RearShare, 0, 1)
	units.Positive(c, "bike_mass", r.BikeMass)
	units.NonNegative(c, "unsprung", r.Unsprung)
	if r.End != Front && r.End != Rear {
		c.Fail("end", string(r.End), `"front" or "rear"`, units.ErrUnknown)
	}
	if share := r.share(); share > 0 && share < leastShare {
		c.Fail("rear_share", r.RearShare, "a share that leaves this end a millionth, or more", nil)
	}
}

// share is the part of the weight on this end.
func (r Range) share() float64 {
	if r.End == Front {
		return 1 - r.RearShare
	}
	return r.RearShare
}

// edgeLoad is the load at which a softer and a harder wheel law settle as far
// over the target as under it: F_soft(w* + u) = F_hard(w* − u).
func edgeLoad(soft, hard spring.Law, target units.Length) (units.Force, error) {
	width := min(target, soft.Travel()-target)
	u, err := root.Find(func(u float64) float64 {
		d := units.Length(u)
		return float64(soft.Force(target+d) - hard.Force(target-d))
	}, 0, float64(width), settleTolerance*float64(width))
	return soft.Force(target + units.Length(u)), err
}
