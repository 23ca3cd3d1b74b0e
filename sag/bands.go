package sag

import (
	"fmt"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Range is the coil springs that one end of a bike can be given.
type Range struct {
	Rates     []units.Stiffness `json:"rates"`             // at least one, 1000 at most, strictly rising
	Preload   units.Length      `json:"preload,omitempty"` // the same for all, 0 or more
	AxleShare                   // leaves a millionth of the weight or more on this end
	Sag       float64           `json:"sag"` // the target, from a millionth to below 1
}

// Bands are the rider masses that a range of springs suits.
type Bands struct {
	// IdealMass[i] puts spring i exactly on target.
	IdealMass []units.Mass `json:"ideal_mass"`
	// EdgeMass[i] is the rider for whom springs i and i+1 miss the target by equal amounts, the
	// softer over it and the harder under it.
	EdgeMass []units.Mass `json:"edge_mass"`
}

// For returns which spring suits a rider, as an index into the rates: the number of edges at or
// below the rider's mass. It is 0 for NaN.
func (b Bands) For(rider units.Mass) int {
	n := 0
	for n < len(b.EdgeMass) && rider >= b.EdgeMass[n] {
		n++
	}
	return n
}

// leastShare is the least share of the weight on an end with bands: below it riders' masses leave
// the range of float64.
const leastShare = 1e-6

// BandsOf returns the rider masses that a range of coil springs suits at one end of a bike. A
// spring's ideal load is F_s(s*)/LR(s*) at the target stroke s*. The edge between neighbours is the
// load at which their wheel travels average to the target's. The rider's mass follows from the
// load, with the unsprung mass, the share of the weight and the bike's mass.
//
// The error names every bad field: rates[i] also for a spring that is too soft to carry the bike
// and any rider at the target, and for one so much harder than its neighbour that no rider within
// the travel makes both miss by equal amounts, as where the lever ratio rises so fast that the
// wheel force falls in between.
//
// Not modelled: friction, and a preload of its own for each spring.
func BandsOf(curve *linkage.Curve, r Range) (Bands, error) {
	c := units.Checker{Package: "sag"}
	CheckCurve(&c, curve)
	if r.Check(&c); !c.OK() {
		return Bands{}, c.Err()
	}
	target := units.Length(r.Sag) * curve.Travel()
	wheels := make([]*linkage.WheelLaw, len(r.Rates))
	b := Bands{IdealMass: make([]units.Mass, len(r.Rates)), EdgeMass: make([]units.Mass, len(r.Rates)-1)}
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
		if b.IdealMass[i] = r.rider(wheels[i].Force(target)); !(b.IdealMass[i] > 0) {
			c.Fail(field, k, "hard enough to carry the bike and a rider at the target", units.ErrConflict)
		}
	}
	for i := range b.EdgeMass {
		load, err := edgeLoad(wheels[i], wheels[i+1], target)
		b.EdgeMass[i] = r.rider(load)
		slack := 1e-9 * b.IdealMass[i+1] // of rounding
		if err != nil || !(b.IdealMass[i]-slack <= b.EdgeMass[i] && b.EdgeMass[i] <= b.IdealMass[i+1]+slack) {
			c.Fail(fmt.Sprintf("rates[%d]", i+1), r.Rates[i+1], "near enough to the rate before it that one rider makes both miss alike", units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return Bands{}, err
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

// edgeLoad returns the load at which a softer and a harder wheel law settle as far over the target
// as under it: F_soft(w* + u) = F_hard(w* − u).
func edgeLoad(soft, hard spring.Law, target units.Length) (units.Force, error) {
	width := min(target, soft.Travel()-target)
	u, err := root.Find(func(u float64) float64 {
		d := units.Length(u)
		return float64(soft.Force(target+d) - hard.Force(target-d))
	}, 0, float64(width), settleTolerance*float64(width))
	return soft.Force(target + units.Length(u)), err
}
