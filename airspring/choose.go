package airspring

import (
	"math"
	"slices"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// VolumeFor returns the volume of the empty positive chamber, Spec's
// PositiveVolume, with which a spring of a given fill and exponent has a wanted
// force at full travel; the spec's own PositiveVolume is left out of account, its
// oil and spacers are not. For one chamber, with A = A_p and L the travel,
//
//	r = ((F/A + p_a)/p_f)^(1/n),  V₀ = A·L·r/(r − 1)
//
// is what is left beside oil and spacers. With a negative or a second chamber it
// is found by [spring.Settle].
//
// A force that no chamber of at most 1 m³ is soft enough for, or none hard
// enough, is refused (force); the error names every bad field.
func VolumeFor(spec Spec, force units.Force) (units.Volume, error) {
	c := units.Checker{Package: "airspring"}
	spec.PositiveVolume = gas.MaxVolume // stands for the one sought
	spec.check(&c)
	gas.CheckFill(&c, "fill", spec.Fill)
	units.Finite(&c, "force", force)
	if err := c.Err(); err != nil {
		return 0, err
	}
	filled := float64(spec.OilVolume) + float64(spec.Spacers)*float64(spec.SpacerVolume)
	swept := spec.sweep(spec.Travel)
	spec.OilVolume, spec.Spacers = 0, 0
	share, ok := shareFor(&spec, swept, float64(force))
	if !ok || !(swept/share+filled <= float64(gas.MaxVolume)) {
		c.Fail("force", force, "a force at full travel that a chamber of at most 1 m³ gives with this fill", nil)
		return 0, c.Err()
	}
	return units.Volume(swept/share + filled), nil
}

// shareFor is the part of the chamber that the travel sweeps, (r − 1)/r for one
// chamber.
func shareFor(spec *Spec, swept, force float64) (float64, bool) {
	if spec.NegativeVolume == 0 && spec.SecondVolume == 0 {
		pa := float64(spec.Ambient)
		u := math.Log((force/area(spec.Bore)+pa)/(float64(spec.Fill)+pa)) / spec.Exponent
		share := -math.Expm1(-u)
		return share, share > 0 && share <= mostSwept
	}
	share, err := spring.Settle(sizing{spec, swept, units.Length(swept / float64(gas.MaxVolume))}, units.Force(force))
	return float64(share) + swept/float64(gas.MaxVolume), err == nil
}

// sizing is the force at full travel over the part of the chamber that is swept,
// from a least one on, so that it can be turned round where a law is.
type sizing struct {
	spec  *Spec
	swept float64
	least units.Length
}

func (z sizing) Force(share units.Length) units.Force {
	spec := *z.spec
	spec.PositiveVolume = units.Volume(z.swept / float64(share+z.least))
	s := newSpring(&spec, float64(spec.Fill)+float64(spec.Ambient))
	return s.Force(spec.Travel)
}

func (sizing) Rate(units.Length) units.Stiffness { return 0 }
func (sizing) Energy(units.Length) units.Energy  { return 0 }
func (z sizing) Travel() units.Length            { return mostSwept - z.least }

// Wish is how a spring should behave: what it carries at sag, standing still,
// and what it answers with at the end of a fast stroke.
type Wish struct {
	Spec       Spec                `json:"spec"`        // Fill and Spacers are left out of account; Exponent is that of the fast stroke
	SagForce   units.Force         `json:"sag_force"`   // wanted at SagTravel, slow
	SagTravel  units.Length        `json:"sag_travel"`  // more than 0, up to the travel
	FullForce  units.Force         `json:"full_force"`  // wanted at full travel, fast; more than SagForce
	MaxFill    units.GaugePressure `json:"max_fill"`    // the pressure marked on the part
	MaxSpacers int                 `json:"max_spacers"` // how many fit, 0 or more
}

// Option is a fill with a number of spacers, and how far it misses a [Wish].
type Option struct {
	Spacers    int
	Fill       units.GaugePressure // never more than MaxFill
	FillWanted units.GaugePressure // what SagForce would take; 0 where that is more than 1000 bar
	SagForce   units.Force         // that it carries at SagTravel, slow
	FullForce  units.Force         // that it has at full travel, fast
	SagMiss    units.Force         // SagForce less the wanted one: 0, or below it where MaxFill stands in the way
	FullMiss   units.Force         // FullForce less the wanted one
}

// Choose returns fills with whole numbers of spacers that come near a wish, the
// best first. For each number that fits, the fill is the one that carries the
// sag force with the gas settled ([FillFor] with n = 1), or the marked pressure
// where that is less; the force at full travel is then that of the fast stroke.
// Options that meet the sag come before those that don't; of these the nearest at
// full travel is first, of those the nearest at sag.
//
// Numbers of spacers that leave too little chamber, or for which the sag force
// needs no fill at all, are left out. It is an error naming sag_force where
// nothing is left, and one naming every bad field of the wish.
func Choose(w Wish) ([]Option, error) {
	c := units.Checker{Package: "airspring"}
	w.check(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	trials := appendTrials(nil, &Search{Spec: w.Spec, Force: w.SagForce, At: w.SagTravel, MaxFill: w.MaxFill, Last: w.MaxSpacers})
	list := make([]Option, 0, len(trials))
	for i := range trials {
		t := &trials[i]
		if t.Outcome == FillNone || t.Outcome == FillPullsIn {
			continue
		}
		o := Option{Spacers: t.Spacers, Fill: t.Fill, FillWanted: t.FillWanted}
		o.SagForce, o.FullForce = t.Slow.Force(w.SagTravel), t.Fast.Force(w.Spec.Travel)
		if o.FullMiss = o.FullForce - w.FullForce; t.Outcome != FillMet {
			o.SagMiss = o.SagForce - w.SagForce
		}
		list = append(list, o)
	}
	if len(list) == 0 {
		c.Fail("sag_force", w.SagForce, "a force that some fill of more than 0 gives at sag_travel", nil)
		return nil, c.Err()
	}
	slices.SortStableFunc(list, func(a, b Option) int {
		for _, d := range [2]float64{
			math.Abs(float64(a.SagMiss)) - math.Abs(float64(b.SagMiss)),
			math.Abs(float64(a.FullMiss)) - math.Abs(float64(b.FullMiss)),
		} {
			switch {
			case d < 0:
				return -1
			case d > 0:
				return 1
			}
		}
		return 0
	})
	return list, nil
}

func (w *Wish) check(c *units.Checker) {
	spec := w.Spec
	spec.Spacers, spec.Fill = 0, 0
	own := units.Checker{Package: c.Package}
	spec.check(&own)
	c.Add("spec", own.Err())
	sag := units.Positive(c, "sag_force", w.SagForce)
	if units.Positive(c, "full_force", w.FullForce) && sag && !(w.FullForce > w.SagForce) {
		c.Fail("full_force", w.FullForce, "more than the sag_force", units.ErrConflict)
	}
	if !(w.SagTravel > 0 && (w.SagTravel <= spec.Travel || own.Bad("travel"))) {
		c.Fail("sag_travel", w.SagTravel, "more than 0, up to the travel", nil)
	}
	gas.CheckFill(c, "max_fill", w.MaxFill)
	switch {
	case w.MaxSpacers < 0 || w.MaxSpacers > mostSpacers:
		c.Fail("max_spacers", w.MaxSpacers, "from 0 to 1000", nil)
	case w.MaxSpacers > 0 && spec.SpacerVolume == 0:
		c.Fail("spec.spacer_volume", nil, "the volume of one spacer, more than 0", units.ErrMissing)
	}
}
