package fit

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Shelf is the coil springs at hand and the collar that preloads them.
type Shelf struct {
	Springs []ShelfSpring `json:"shelf"` // at least one, at most 1000
	Collar
}

// ShelfSpring is one spring of the shelf. Exactly one of Rate, Spec and Law is given.
type ShelfSpring struct {
	Rate units.Stiffness `json:"rate,omitempty"` // of a spring of constant rate; its rate is its name
	// Spec is a spring whose rate varies, such as a dual-rate, a progressive or a stacked one, from its
	// free length on. It is of at most 30 springs, and those of a shelf of 200 together.
	Spec *law.Spec `json:"law,omitempty"`
	// Law is the same in place of Spec, for a law of one's own. It is not written as JSON.
	Law spring.Law `json:"-"`
	// SolidTravel is the compression from free to coil-bound; 0 if unknown, which is a finding. A law
	// is solid at the end of its own travel, or here if that is less.
	SolidTravel units.Length `json:"solid_travel,omitempty"`
}

// CoilAnswer is a shelf of coil springs, each tried at one end of the bike.
type CoilAnswer struct {
	IdealRate  units.Stiffness `json:"ideal_rate"` // exactly on target with the collar's least preload
	Candidates []CoilCandidate `json:"candidates"` // every spring of the shelf, best first
	Between    Neighbours      `json:"between"`    // the springs of the shelf on both sides of IdealRate
}

// Neighbours are the two springs of a shelf that a rate lies between.
type Neighbours struct {
	Softer *CoilCandidate `json:"softer,omitempty"` // the hardest that is not harder than the ideal, if any
	Harder *CoilCandidate `json:"harder,omitempty"` // the softest that is harder, if any
}

// CoilCandidate is a spring of the shelf at the preload that suits the target best.
type CoilCandidate struct {
	// Rate is that of the spring. One whose rate varies has the rate of a spring of constant rate that
	// carries the same at the stroke of the target with the collar's least preload.
	Rate          units.Stiffness `json:"rate"`
	PreloadWanted units.Length    `json:"preload_wanted"` // for the exact target; may be outside the collar's range
	Preload       units.Length    `json:"preload"`        // that collar and spacers can give
	CollarPreload units.Length    `json:"collar_preload"` // what of it the collar gives
	// PreloadSpacers are the spacers for the rest of it, the thickest first; none without any at hand.
	PreloadSpacers []units.Length `json:"preload_spacers,omitempty"`
	Turns          float64        `json:"turns"` // of the collar for CollarPreload from free; 0 if the pitch is unknown
	AtRest
	SolidReserve units.Length `json:"solid_reserve"` // the compression left at full stroke, negative if it binds before; 0 if unknown
	SolidKnown   bool         `json:"solid_known"`   // its solid travel was given
	FullForce    units.Force  `json:"full_force"`    // at the wheel, at the end of the spring's travel
	FullRatio    float64      `json:"full_ratio"`    // the same over the load
	Reason       Reason       `json:"reason"`        // why it stands behind the spring before it
	Law          string       `json:"law,omitempty"` // what a spring whose rate varies is, for people; empty for others
	Index        int          `json:"index"`         // which spring of the shelf it is
}

// Reason is a stable code for a place on a ranked list.
type Reason string

// Why a spring stands behind the one before it.
const (
	RankedFirst       Reason = "first"        // none is before it
	RankedSolid       Reason = "goes_solid"   // it goes solid, the one before does not
	RankedOffTarget   Reason = "off_target"   // the one before is on target
	RankedFartherRate Reason = "farther_rate" // both are on target, its rate is farther from the ideal
	RankedLargerMiss  Reason = "larger_miss"  // neither is on target, it misses by more
	RankedLessLeft    Reason = "less_left"    // otherwise alike, it leaves less force or compression at full travel
	RankedAlike       Reason = "alike"        // they rank alike
)

// MostCompression is the longest travel or preload of a coil spring that is taken.
const MostCompression = 1000 * units.Metre

// Check records what is wrong with a shelf or its collar.
func (s *Shelf) Check(c *units.Checker) {
	switch n := len(s.Springs); {
	case n == 0:
		c.Fail("shelf", nil, "one spring or more", units.ErrMissing)
	case n > sag.MostSprings:
		c.Fail("shelf", n, units.AtMost(sag.MostSprings).Count("springs"), nil)
		return
	}
	inLaws := 0
	for i, one := range s.Springs {
		own := c.Element("shelf", i)
		if one.Spec != nil {
			if inLaws += one.Spec.Springs(); inLaws > mostInLaws {
				own.Fail("law", inLaws, units.AtMost(mostInLaws).Count("springs in all laws of a shelf"), units.ErrRange)
				break
			}
		}
		if one.Check(&own); !own.OK() {
			continue
		}
		switch made := one.Compiled(); {
		case one.SolidTravel > 0 && s.PreloadMin >= one.SolidTravel:
			own.Fail("solid_travel", one.SolidTravel, "more than preload_min", units.ErrConflict)
		case made.Law != nil && !(s.PreloadMin < made.solid()*(1-leastFree)):
			own.Fail("law", made.solid(), units.MoreThan(s.PreloadMin).Of("preload_min").With("the travel of the law"), units.ErrConflict)
		}
	}
	s.Collar.Check(c)
}

// mostFindings is how many findings a spring or a fill has at the most.
const mostFindings = 5

// choose tries every spring of the shelf, and returns the end with the best of them. Inputs are
// checked already.
func (s *Shelf) choose(c *units.Checker, end sag.End, t *trial) (*CoilAnswer, sag.End) {
	b := s.bench(end, *t)
	err := b.under(t.target.Load)
	if c.Add("", err); err != nil {
		return nil, sag.End{}
	}
	n := len(s.Springs)
	tried, places, room := make([]CoilCandidate, n), make([]place, n), make([]sag.Finding, mostFindings*n)
	for i := range n {
		tried[i].Findings = room[mostFindings*i : mostFindings*i : mostFindings*(i+1)]
		if places[i], err = b.try(i, &tried[i]); err != nil {
			c.Add(fmt.Sprintf("coil.shelf[%d]", i), err)
			return nil, sag.End{}
		}
	}
	slices.SortStableFunc(places, place.compare)
	a := &CoilAnswer{IdealRate: b.ideal, Candidates: make([]CoilCandidate, n)}
	beside := &a.Between
	for i, p := range places {
		one := &a.Candidates[i]
		*one = tried[p.index]
		one.Reason = RankedFirst
		if i > 0 {
			one.Reason = places[i-1].ahead(p)
		}
		switch {
		case one.Rate <= a.IdealRate && (beside.Softer == nil || one.Rate > beside.Softer.Rate):
			beside.Softer = one
		case one.Rate > a.IdealRate && (beside.Harder == nil || one.Rate < beside.Harder.Rate):
			beside.Harder = one
		}
	}
	best := &a.Candidates[0]
	end.Law, _ = s.Springs[best.Index].Preloaded(end.Curve.Stroke(), best.Preload)
	for i := range a.Candidates {
		a.Candidates[i].Law = s.Springs[a.Candidates[i].Index].Describe()
	}
	return a, end
}

// bench is one end of the bike at which the springs of a shelf are tried in turn.
type bench struct {
	*Shelf
	trial
	stacks stacks
	ideal  units.Stiffness     // exactly on target with the collar's least preload
	law    spring.LinearSpring // of the spring of constant rate that is tried
	end    sag.End             // with the law of the spring that is tried
}

func (s *Shelf) bench(end sag.End, t trial) *bench {
	b := &bench{Shelf: s, trial: t, stacks: stacks{Collar: &s.Collar}, end: end}
	b.stacks.fill()
	return b
}

// under puts the bench under a load, and returns an error that names load if no rate carries it.
func (b *bench) under(load units.Force) error {
	b.carry(load)
	b.ideal = units.Stiffness(float64(b.force) / float64(b.at+b.PreloadMin)) // as in sag.RequiredRate
	c := units.Checker{Package: "sag"}
	if !(b.ideal > 0) || math.IsInf(float64(b.ideal), 0) {
		c.Fail("load", load, "a load that some rate carries", nil)
	}
	return c.Err()
}

// try works out spring i of the shelf at the preload that suits it best, with its findings
// appended, and returns its place.
func (b *bench) try(i int, one *CoilCandidate) (place, error) {
	s, curve := b.Springs[i].Compiled(), b.end.Curve
	solid := s.solid()
	one.Index, one.Rate, one.SolidKnown = i, s.RateAt(b.at+b.PreloadMin), solid > 0
	one.PreloadWanted = s.PreloadFor(b.force, b.at)
	if math.IsInf(float64(one.PreloadWanted), 0) {
		c := units.Checker{Package: "sag"}
		c.Fail("rate", s.Rate, "a rate that carries the load at some preload", nil)
		return place{}, c.Err()
	}
	most := units.Length(math.Inf(1))
	if one.SolidKnown {
		most = solid * (1 - leastFree)
	}
	one.Preload, one.CollarPreload, one.PreloadSpacers = b.stacks.set(one.PreloadWanted, most)
	if one.SolidKnown {
		one.SolidReserve = solid - one.Preload - curve.Stroke()
	}
	one.Turns = b.Turns(one.CollarPreload)
	var err error
	if s.Law != nil {
		b.end.Law, err = spring.NewPreloaded(s.Law, one.Preload)
	} else {
		b.law, err = s.linear(curve.Stroke(), one.Preload)
		b.end.Law = &b.law
	}
	if err != nil {
		return place{}, err
	}
	off, err := b.rest(&b.end, &one.AtRest)
	if err != nil {
		return place{}, err
	}
	full := min(b.end.Law.Travel(), curve.Stroke())
	one.FullForce = units.Force(float64(b.end.Law.Force(full)) / curve.LeverRatio(full))
	one.FullRatio = float64(one.FullForce / b.target.Load)
	p := place{index: i, by: math.Abs(float64(one.Rate/b.ideal - 1)), off: off, left: [2]float64{one.FullRatio, float64(one.SolidReserve)}}
	if one.Preload < b.PreloadMin*(1-1e-9) { // the collar can't reach it, and a rounding is not less
		last := len(one.Findings) - 1
		if one.Findings[last] == sag.OnTarget {
			one.Findings = one.Findings[:last]
		}
		one.Findings = append(one.Findings, sag.Loose)
	}
	if !Has(one.Findings, sag.OnTarget) {
		p.class, p.by = 1, math.Abs(one.Miss)
	}
	switch {
	case one.PreloadWanted > b.Most()+b.ThreadPitch/8:
		one.Findings = append(one.Findings, sag.PreloadAtMax)
	case one.PreloadWanted < b.PreloadMin-b.ThreadPitch/8:
		one.Findings = append(one.Findings, sag.PreloadAtMin)
	}
	switch {
	case !one.SolidKnown:
		one.Findings = append(one.Findings, sag.SolidUnknown)
	case one.SolidReserve < -1e-9*curve.Stroke(): // a rounding does not bind
		one.Findings, p.class = append(one.Findings, sag.GoesSolid), p.class+2
	}
	return p, nil
}
