package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Shelf is the coil springs at hand with their collar.
type Shelf struct {
	Springs []Spring `json:"shelf"` // at least one, at most 1000
	Collar
}

// Spring is one spring of the shelf; its rate is its name.
type Spring struct {
	Rate units.Stiffness `json:"rate"`
	// SolidTravel is the compression from free to coil-bound; 0 means unknown, which is a finding.
	SolidTravel units.Length `json:"solid_travel,omitempty"`
}

// CoilAnswer is a shelf of coil springs, each tried at one end of the bike.
type CoilAnswer struct {
	IdealRate  units.Stiffness `json:"ideal_rate"` // on target with the collar's least preload
	Candidates []CoilCandidate `json:"candidates"` // every spring of the shelf, best first
	Between    Neighbours      `json:"between"`    // of IdealRate
}

// Neighbours are the springs of a shelf next to a rate; nil where there is none.
type Neighbours struct {
	Softer *CoilCandidate `json:"softer,omitempty"` // the hardest of at most the rate
	Harder *CoilCandidate `json:"harder,omitempty"` // the softest of more
}

// CoilCandidate is a spring of the shelf at the preload that suits the target best.
type CoilCandidate struct {
	Rate          units.Stiffness `json:"rate"`
	PreloadWanted units.Length    `json:"preload_wanted"` // for the exact target; may be outside the collar's range
	Preload       units.Length    `json:"preload"`        // that the collar can give
	Turns         float64         `json:"turns"`          // of the collar for Preload from free; 0 if the pitch is unknown
	Rest          sag.Rest        `json:"rest"`
	Miss          float64         `json:"miss"` // Rest.Sag less the target
	// SolidReserve is the compression left at full stroke, negative if the spring binds before.
	// Without the spring's solid travel SolidKnown is false and SolidReserve 0.
	SolidReserve units.Length  `json:"solid_reserve"`
	SolidKnown   bool          `json:"solid_known"`
	FullForce    units.Force   `json:"full_force"` // at the wheel, at the end of the spring's travel
	FullRatio    float64       `json:"full_ratio"` // the same over the load
	Findings     []sag.Finding `json:"findings"`   // what speaks for or against it
	Reason       Reason        `json:"reason"`     // why it stands behind the spring before it
	Index        int           `json:"index"`      // which spring of the shelf it is
}

// Reason is a stable code for why a spring ranks behind the one before it.
type Reason string

const (
	RankedFirst      Reason = "first"        // the best
	RankedSolid      Reason = "goes_solid"   // it goes solid, the one before does not
	RankedOffTarget  Reason = "off_target"   // the one before is on target
	RankedPreload    Reason = "more_preload" // both are on target, it wants more preload
	RankedLargerMiss Reason = "larger_miss"  // neither is on target, it misses by more
	RankedAlike      Reason = "alike"        // they rank alike
)

// Check records what is wrong with a shelf or its collar.
func (s *Shelf) Check(c *units.Checker) {
	if n := len(s.Springs); n == 0 {
		c.Fail("shelf", nil, "one spring or more", units.ErrMissing)
	} else if n > sag.MostSprings {
		c.Fail("shelf", n, fmt.Sprintf("at most %d springs", sag.MostSprings), nil)
		return
	}
	for i, one := range s.Springs {
		own := c.Element("shelf", i)
		units.Positive(&own, "rate", one.Rate)
		units.NonNegative(&own, "solid_travel", one.SolidTravel)
		if one.SolidTravel > 0 && s.PreloadMin >= one.SolidTravel {
			own.Fail("solid_travel", one.SolidTravel, "more than preload_min", units.ErrConflict)
		}
	}
	s.Collar.Check(c)
}

// choose returns every spring of a checked shelf, tried, and the end with the best of them.
func (s *Shelf) choose(c *units.Checker, end sag.End, target sag.Target) (*CoilAnswer, sag.End) {
	b, err := s.bench(end, target)
	if c.Add("", err); err != nil {
		return nil, sag.End{}
	}
	n := len(s.Springs)
	a := &CoilAnswer{IdealRate: b.ideal.Rate, Candidates: make([]CoilCandidate, n)}
	tried := make([]CoilCandidate, n)
	places, room := make([]place, n), make([]sag.Finding, mostFindings*n)
	for i := range n {
		tried[i].Findings = room[mostFindings*i : mostFindings*i : mostFindings*(i+1)]
		if places[i], err = b.try(i, &tried[i]); err != nil {
			c.Add(fmt.Sprintf("coil.shelf[%d]", i), err)
			return nil, sag.End{}
		}
	}
	slices.SortStableFunc(places, place.compare)
	for i, p := range places {
		a.Candidates[i] = tried[p.index]
		if i > 0 {
			a.Candidates[i].Reason = places[i-1].ahead(p)
		}
	}
	best := &a.Candidates[0]
	best.Reason = RankedFirst
	a.Between = neighbours(a.Candidates, a.IdealRate)
	end.Law, _ = s.Springs[best.Index].law(end.Curve.Stroke(), best.Preload)
	return a, end
}

// Best returns the Index of the spring that [Options.Choose] recommends for a target on a curve; -1
// if it returns an error.
func (s *Shelf) Best(curve *linkage.Curve, target sag.Target) int {
	b, err := s.bench(sag.End{Curve: curve}, target)
	if err != nil || len(s.Springs) == 0 {
		return -1
	}
	var best place
	var room [mostFindings]sag.Finding
	for i := range s.Springs {
		one := CoilCandidate{Findings: room[:0]}
		p, err := b.try(i, &one)
		if err != nil {
			return -1
		}
		if i == 0 || p.compare(best) < 0 {
			best = p
		}
	}
	return best.index
}

// mostFindings is how many findings one spring can have.
const mostFindings = 4

func neighbours(list []CoilCandidate, ideal units.Stiffness) (b Neighbours) {
	for i := range list {
		if one := &list[i]; one.Rate > ideal && (b.Harder == nil || one.Rate < b.Harder.Rate) {
			b.Harder = one
		} else if one.Rate <= ideal && (b.Softer == nil || one.Rate > b.Softer.Rate) {
			b.Softer = one
		}
	}
	return b
}

// bench is one end of the bike at which the springs of a shelf are tried one by one.
type bench struct {
	*Shelf
	target sag.Target
	ideal  sag.CoilRate
	law    spring.LinearSpring // of the spring that is tried
	end    sag.End             // with that law
}

func (s *Shelf) bench(end sag.End, target sag.Target) (*bench, error) {
	ideal, err := sag.RequiredRate(end.Curve, target, s.PreloadMin)
	b := &bench{Shelf: s, target: target, ideal: ideal, end: end}
	b.end.Law = &b.law
	return b, err
}

// law returns a spring with a preload, as far as it goes within a stroke.
func (s Spring) law(stroke, preload units.Length) (spring.LinearSpring, error) {
	if s.SolidTravel > 0 {
		stroke = min(stroke, s.SolidTravel-preload)
	}
	return spring.NewLinear(spring.Linear{Rate: s.Rate, Travel: stroke, Preload: preload})
}

// try fills in spring i of the shelf at its best preload, and returns its place.
func (b *bench) try(i int, one *CoilCandidate) (place, error) {
	s, curve := b.Springs[i], b.end.Curve
	one.Index, one.Rate, one.SolidKnown = i, s.Rate, s.SolidTravel > 0
	one.PreloadWanted = units.Length(float64(b.ideal.SpringForce)/float64(s.Rate)) - b.ideal.Stroke // as in sag.RequiredPreload
	one.Preload = b.Set(one.PreloadWanted)
	if one.SolidKnown {
		one.Preload = min(one.Preload, s.SolidTravel*0.999) // a bound spring is no spring
		one.SolidReserve = s.SolidTravel - one.Preload - curve.Stroke()
	}
	one.Turns = b.Turns(one.Preload)
	var err error
	if b.law, err = s.law(curve.Stroke(), one.Preload); err != nil {
		return place{}, err
	}
	if one.Rest, one.Miss, one.Findings, err = rest(b.end, b.target, one.Findings); err != nil {
		return place{}, err
	}
	full := b.law.Travel()
	one.FullForce = units.Force(float64(b.law.Force(full)) / curve.LeverRatio(full))
	one.FullRatio = float64(one.FullForce / b.target.Load)

	p := place{index: i, by: float64(one.Preload)}
	if !Has(one.Findings, sag.OnTarget) {
		p.class, p.by = 1, math.Abs(one.Miss)
	}
	if slack := b.step() / 2; one.PreloadWanted > b.PreloadMax+slack {
		one.Findings = append(one.Findings, sag.PreloadAtMax)
	} else if one.PreloadWanted < b.PreloadMin-slack {
		one.Findings = append(one.Findings, sag.PreloadAtMin)
	}
	if !one.SolidKnown {
		one.Findings = append(one.Findings, sag.SolidUnknown)
	} else if one.SolidReserve < 0 {
		one.Findings, p.class = append(one.Findings, sag.GoesSolid), p.class+2
	}
	return p, nil
}

// rest returns where an end rests, its miss of the target, and the list with the findings about both.
func rest(end sag.End, target sag.Target, list []sag.Finding) (sag.Rest, float64, []sag.Finding, error) {
	r, held, err := end.SettleWithin(target.Load)
	if held != "" {
		list = append(list, held)
	}
	miss := r.Sag - target.Sag
	return r, miss, append(list, SagFinding(miss)), err
}

// place is where a spring or a fill ranks; the least comes first.
type place struct {
	index    int // of the spring on the shelf, or of the trial
	class    int // 0 if on target, 1 if not; 2 more if it goes solid
	by, then float64
}

func (p place) compare(q place) int {
	return cmp.Or(cmp.Compare(p.class, q.class), cmp.Compare(p.by, q.by), cmp.Compare(p.then, q.then))
}

// ahead returns why a spring's place is ahead of the next.
func (p place) ahead(next place) Reason {
	switch {
	case p.class/2 != next.class/2:
		return RankedSolid
	case p.class != next.class:
		return RankedOffTarget
	case p.by == next.by:
		return RankedAlike
	case p.class%2 == 1:
		return RankedLargerMiss
	}
	return RankedPreload
}

// SagFinding returns what a sag less its target means, both in fractions of the travel: on_target up
// to 0.005, half of the per cent that sag is stated in; too_soft or too_hard beyond.
func SagFinding(miss float64) sag.Finding {
	switch {
	case math.Abs(miss) <= 0.005:
		return sag.OnTarget
	case miss > 0:
		return sag.TooSoft
	}
	return sag.TooHard
}

// Has reports whether a list of findings holds one.
func Has(list []sag.Finding, one sag.Finding) bool { return slices.Contains(list, one) }
