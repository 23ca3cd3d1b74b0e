package fit

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Shelf is the coil springs at hand and the collar that preloads them.
type Shelf struct {
	Springs []Spring `json:"shelf"` // at least one, at most 1000
	Collar
}

// Spring is one spring of the shelf, told from the others by its rate.
type Spring struct {
	Rate units.Stiffness `json:"rate"`
	// SolidTravel is the compression from free to coil-bound, as marked on
	// the spring or measured. 0 means unknown, which the sheet then warns of.
	SolidTravel units.Length `json:"solid_travel,omitempty"`
}

// onTarget is how near the predicted sag must come to its target to count as
// met, in fractions of the travel: half of the single per cent that sag is told in.
const onTarget = 0.005

// CoilAnswer is a shelf of coil springs, each tried at one end of the bike.
type CoilAnswer struct {
	// IdealRate is the spring that would be on target with the least preload
	// of the collar; the shelf may not have it.
	IdealRate units.Stiffness `json:"ideal_rate"`
	// Candidates holds every spring of the shelf, best first.
	Candidates []CoilCandidate `json:"candidates"`
	// Between are the springs of the shelf on both sides of IdealRate.
	Between Neighbours `json:"between"`
}

// Neighbours are the two springs of a shelf that a target lies between, each
// at the preload that suits it best: what either would be like, and by how
// much it misses.
type Neighbours struct {
	Softer *CoilCandidate `json:"softer,omitempty"` // the hardest that is not harder than the ideal; left out where there is none
	Harder *CoilCandidate `json:"harder,omitempty"` // the softest that is harder; left out where there is none
}

// CoilCandidate is one spring of the shelf with the preload that brings it
// nearest to the target.
type CoilCandidate struct {
	Rate          units.Stiffness `json:"rate"`
	PreloadWanted units.Length    `json:"preload_wanted"` // for the exact target; may be outside the collar's range
	Preload       units.Length    `json:"preload"`        // that the collar can give
	Turns         float64         `json:"turns"`          // of the collar for Preload from free; 0 where the pitch is unknown
	Rest          sag.Rest        `json:"rest"`
	Miss          float64         `json:"miss"` // Rest.Sag less the target
	// SolidReserve is what is left of the spring's compression at full stroke:
	// negative where it binds before the shock bottoms. Known is false where
	// the spring's solid travel wasn't given, and SolidReserve then 0.
	SolidReserve units.Length `json:"solid_reserve"`
	SolidKnown   bool         `json:"solid_known"`
	// FullForce is at the wheel at the end of its travel, FullRatio the same
	// over the load.
	FullForce units.Force `json:"full_force"`
	FullRatio float64     `json:"full_ratio"`
	// Findings are what speaks for or against it: see the Finding constants.
	Findings []sag.Finding `json:"findings"`
	// Reason is why it stands behind the spring before it on the list.
	Reason Reason `json:"reason"`
	// Index is which spring of the shelf it is.
	Index int `json:"-"`

	law spring.LinearSpring
}

// Reason is a stable code for a place on a ranked list.
type Reason string

// Why a spring stands behind the one before it.
const (
	RankedFirst      Reason = "first"        // none is before it
	RankedSolid      Reason = "goes_solid"   // it goes solid, the one before does not
	RankedOffTarget  Reason = "off_target"   // the one before is on target
	RankedPreload    Reason = "more_preload" // both are on target, it wants more preload
	RankedLargerMiss Reason = "larger_miss"  // neither is on target, it misses by more
	RankedAlike      Reason = "alike"        // nothing tells them apart
)

// Has reports whether a list of findings holds one.
func Has(list []sag.Finding, one sag.Finding) bool { return slices.Contains(list, one) }

// Check records what is wrong with a shelf or its collar.
func (s *Shelf) Check(c *units.Checker) {
	switch n := len(s.Springs); {
	case n == 0:
		c.Fail("shelf", nil, "one spring or more", units.ErrMissing)
	case n > sag.MostSprings:
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

// choose tries every spring of the shelf. Inputs are checked already.
func (s *Shelf) choose(curve *linkage.Curve, target sag.Target, friction units.Force) (*CoilAnswer, error) {
	ideal, err := sag.RequiredRate(curve, target, s.PreloadMin)
	if err != nil {
		return nil, err
	}
	n := len(s.Springs)
	a := &CoilAnswer{IdealRate: ideal.Rate, Candidates: make([]CoilCandidate, n)}
	room := make([]sag.Finding, mostFindings*n)
	for i := range a.Candidates {
		one := &a.Candidates[i]
		one.Index, one.Findings = i, room[mostFindings*i:mostFindings*i:mostFindings*(i+1)]
		if err := s.try(one, curve, target, ideal, friction); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(a.Candidates, func(f, g CoilCandidate) int { order, _ := f.before(&g); return order })
	a.Candidates[0].Reason = RankedFirst
	for i := 1; i < n; i++ {
		_, a.Candidates[i].Reason = a.Candidates[i-1].before(&a.Candidates[i])
	}
	a.Between = neighbours(a.Candidates, a.IdealRate)
	return a, nil
}

// Best returns which spring of the shelf is recommended for a target on a curve:
// the first candidate of [Options.Choose]. It is -1 where the target is invalid or
// no spring can be tried.
func (s *Shelf) Best(curve *linkage.Curve, target sag.Target) int {
	ideal, err := sag.RequiredRate(curve, target, s.PreloadMin)
	if err != nil {
		return -1
	}
	var best, one CoilCandidate
	var room [mostFindings]sag.Finding
	var kept [mostFindings]sag.Finding
	best.Index = -1
	for i := range s.Springs {
		one = CoilCandidate{Index: i, Findings: room[:0]}
		if err := s.try(&one, curve, target, ideal, 0); err != nil {
			return -1
		}
		if order, _ := one.before(&best); best.Index < 0 || order < 0 {
			best = one
			best.Findings = append(kept[:0], one.Findings...)
		}
	}
	return best.Index
}

// mostFindings is how many findings one spring can have.
const mostFindings = 4

// neighbours are the springs on both sides of a rate.
func neighbours(list []CoilCandidate, ideal units.Stiffness) (b Neighbours) {
	for i := range list {
		one := &list[i]
		switch {
		case one.Rate <= ideal && (b.Softer == nil || one.Rate > b.Softer.Rate):
			b.Softer = one
		case one.Rate > ideal && (b.Harder == nil || one.Rate < b.Harder.Rate):
			b.Harder = one
		}
	}
	return b
}

// try works out one spring at the preload that suits it best.
func (s *Shelf) try(one *CoilCandidate, curve *linkage.Curve, target sag.Target, ideal sag.CoilRate, friction units.Force) error {
	spec := s.Springs[one.Index]
	wanted := units.Length(float64(ideal.SpringForce)/float64(spec.Rate)) - ideal.Stroke // as in sag.RequiredPreload
	one.Rate, one.SolidKnown, one.PreloadWanted = spec.Rate, spec.SolidTravel > 0, wanted
	one.Preload = s.Set(wanted)
	travel := curve.Stroke()
	if one.SolidKnown {
		one.Preload = min(one.Preload, spec.SolidTravel*0.999) // a bound spring is no spring
		one.SolidReserve = spec.SolidTravel - one.Preload - curve.Stroke()
		travel = min(travel, spec.SolidTravel-one.Preload)
	}
	one.Turns = s.Turns(one.Preload)
	var err error
	one.law, err = spring.NewLinear(spring.Linear{Rate: spec.Rate, Travel: travel, Preload: one.Preload})
	if err != nil {
		return err
	}
	end := sag.End{Curve: curve, Law: &one.law, Friction: friction}
	var finding sag.Finding
	if one.Rest, finding, err = end.SettleWithin(target.Load); err != nil {
		return err
	}
	one.Miss = one.Rest.Sag - target.Sag
	one.FullForce = units.Force(float64(one.law.Force(travel)) / curve.LeverRatio(travel))
	one.FullRatio = float64(one.FullForce / target.Load)
	if finding != "" {
		one.Findings = append(one.Findings, finding)
	}
	one.Findings = append(one.Findings, SagFinding(one.Miss))
	switch {
	case wanted > s.PreloadMax+s.step()/2:
		one.Findings = append(one.Findings, sag.PreloadAtMax)
	case wanted < s.PreloadMin-s.step()/2:
		one.Findings = append(one.Findings, sag.PreloadAtMin)
	}
	switch {
	case !one.SolidKnown:
		one.Findings = append(one.Findings, sag.SolidUnknown)
	case one.SolidReserve < 0:
		one.Findings = append(one.Findings, sag.GoesSolid)
	}
	return nil
}

// SagFinding returns what a miss of the target is: on_target up to half a per cent
// of the travel, too_soft or too_hard beyond.
func SagFinding(miss float64) sag.Finding {
	switch {
	case math.Abs(miss) <= onTarget:
		return sag.OnTarget
	case miss > 0:
		return sag.TooSoft
	default:
		return sag.TooHard
	}
}

// before ranks candidates, as a comparison, and says what told them apart: one
// that reaches the end of the stroke before one that goes solid; then one on
// target before one that is not; on target, the least preload; otherwise the
// smallest miss.
func (f *CoilCandidate) before(g *CoilCandidate) (int, Reason) {
	if a, b := Has(f.Findings, sag.GoesSolid), Has(g.Findings, sag.GoesSolid); a != b {
		return first(b), RankedSolid
	}
	a, b := Has(f.Findings, sag.OnTarget), Has(g.Findings, sag.OnTarget)
	x, y, reason := math.Abs(f.Miss), math.Abs(g.Miss), RankedLargerMiss
	switch {
	case a != b:
		return first(a), RankedOffTarget
	case a:
		x, y, reason = float64(f.Preload), float64(g.Preload), RankedPreload
	}
	if x == y {
		return 0, RankedAlike
	}
	return first(x < y), reason
}

// first is the comparison of one that comes first, or last.
func first(yes bool) int {
	if yes {
		return -1
	}
	return 1
}
