package sag

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

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

	law spring.LinearSpring // of the first candidate
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
	Rest          Rest            `json:"rest"`
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
	Findings []Finding `json:"findings"`
	// Reason is why it stands behind the spring before it on the list.
	Reason Reason `json:"reason"`
}

// triedCoil is a candidate while the shelf is tried, with its law.
type triedCoil struct {
	CoilCandidate
	law spring.LinearSpring
}

// Finding is a stable code for what was found about a candidate.
type Finding string

// Findings about a spring or a fill.
const (
	OnTarget       Finding = "on_target"
	TooSoft        Finding = "too_soft"        // sags more than wanted
	TooHard        Finding = "too_hard"        // sags less than wanted
	PreloadAtMax   Finding = "preload_at_max"  // would need more than the collar gives
	PreloadAtMin   Finding = "preload_at_min"  // would need less than the collar gives
	GoesSolid      Finding = "goes_solid"      // binds before the end of the stroke
	SolidUnknown   Finding = "solid_unknown"   // nobody said where it binds
	HeldAtTop      Finding = "held_at_top"     // preload or fill carries the load without any sag
	Collapses      Finding = "collapses"       // the load takes it to full travel
	FillAtMax      Finding = "fill_at_max"     // would need more than the marking permits
	FillImpossible Finding = "fill_impossible" // no fill above ambient meets the target
	OutOfGeometry  Finding = "out_of_geometry" // the spacers leave too little chamber
	NearestEnd     Finding = "nearest_full"    // nearest to the wanted force at full travel
)

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

func (f *CoilCandidate) has(code Finding) bool { return has(f.Findings, code) }

func has(list []Finding, code Finding) bool {
	for _, f := range list {
		if f == code {
			return true
		}
	}
	return false
}

// mostSprings is far more than a shelf holds, and few enough that no job takes
// noticeable time.
const mostSprings = 1000

func (j *CoilChoice) check(c *units.Checker) {
	switch n := len(j.Shelf); {
	case n == 0:
		c.Fail("shelf", nil, "one spring or more", units.ErrMissing)
	case n > mostSprings:
		c.Fail("shelf", n, fmt.Sprintf("at most %d springs", mostSprings), nil)
		return
	}
	for i, s := range j.Shelf {
		own := units.Checker{Package: c.Package}
		units.Positive(&own, "rate", s.Rate)
		units.NonNegative(&own, "solid_travel", s.SolidTravel)
		if !own.OK() { // the path costs more than the checks
			c.Add(fmt.Sprintf("shelf[%d]", i), own.Err())
		}
	}
	min := units.NonNegative(c, "preload_min", j.PreloadMin)
	max := units.NonNegative(c, "preload_max", j.PreloadMax)
	if min && max && j.PreloadMax < j.PreloadMin {
		c.Fail("preload_max", j.PreloadMax, "preload_min, "+j.PreloadMin.String()+", or more", units.ErrConflict)
	}
	checkPitch(c, j.ThreadPitch)
	for i, s := range j.Shelf {
		if s.SolidTravel > 0 && min && !(s.SolidTravel > j.PreloadMin) {
			c.Fail(fmt.Sprintf("shelf[%d].solid_travel", i), s.SolidTravel, "more than preload_min", units.ErrConflict)
		}
	}
}

// choose tries every spring of the shelf. Inputs are checked already.
func (j *CoilChoice) choose(curve *linkage.Curve, target Target, friction units.Force) (*CoilAnswer, error) {
	return j.chooseIn(new(scratch), curve, target, friction)
}

func (j *CoilChoice) chooseIn(m *scratch, curve *linkage.Curve, target Target, friction units.Force) (*CoilAnswer, error) {
	ideal, err := RequiredRate(curve, target, j.PreloadMin)
	if err != nil {
		return nil, err
	}
	n := len(j.Shelf)
	m.tried, m.order = slices.Grow(m.tried[:0], n)[:n], slices.Grow(m.order[:0], n)
	for i, s := range j.Shelf {
		one := &m.tried[i]
		*one = triedCoil{}
		m.order = append(m.order, one)
		one.PreloadWanted = units.Length(float64(ideal.SpringForce)/float64(s.Rate)) - ideal.Stroke // as in RequiredPreload
		one.Findings = m.noneYet(i, n)
		if err := j.try(one, &m.over, curve, target, friction, s); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(m.order, func(f, g *triedCoil) int { order, _ := f.before(&g.CoilCandidate); return order })
	a := &CoilAnswer{IdealRate: ideal.Rate, Candidates: make([]CoilCandidate, n), law: m.order[0].law}
	found := 0
	for i, one := range m.order {
		a.Candidates[i] = one.CoilCandidate
		found += len(one.Findings)
	}
	own := make(findings, 0, found)
	for i := range a.Candidates {
		a.Candidates[i].Findings = own.keep(a.Candidates[i].Findings)
	}
	a.Candidates[0].Reason = RankedFirst
	for i := 1; i < len(a.Candidates); i++ {
		_, a.Candidates[i].Reason = a.Candidates[i-1].before(&a.Candidates[i])
	}
	a.Between = neighbours(a.Candidates, a.IdealRate)
	return a, nil
}

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

// mostFindings is how many findings one spring or fill can have.
const mostFindings = 4

// noneYet is the empty list of findings of the i-th of n springs or fills, with
// room for as many as it can have.
func (m *scratch) noneYet(i, n int) []Finding {
	if len(m.findings) < mostFindings*n {
		m.findings = make([]Finding, mostFindings*n)
	}
	from, to := mostFindings*i, mostFindings*(i+1)
	return m.findings[from:from:to]
}

// findings is one block of memory for the findings of all springs or fills of an
// answer.
type findings []Finding

// keep adds a list to the block, which has the room, and returns it from there.
func (f *findings) keep(list []Finding) []Finding {
	from := len(*f)
	*f = append(*f, list...)
	return slices.Clip((*f)[from:])
}

// try works out one spring at the preload that suits it best, with its
// PreloadWanted filled in already.
func (j *CoilChoice) try(one *triedCoil, over *strokeLaw, curve *linkage.Curve, target Target, friction units.Force, s ShelfSpring) error {
	wanted := one.PreloadWanted
	one.Rate, one.SolidKnown = s.Rate, s.SolidTravel > 0
	one.Preload = j.onCollar(wanted)
	travel := curve.Stroke()
	if one.SolidKnown {
		one.Preload = min(one.Preload, s.SolidTravel*0.999) // a bound spring is no spring
		one.SolidReserve = s.SolidTravel - one.Preload - curve.Stroke()
		travel = min(travel, s.SolidTravel-one.Preload)
	}
	if j.ThreadPitch > 0 {
		one.Turns = float64(one.Preload / j.ThreadPitch)
	}
	law, err := spring.NewLinear(spring.Linear{Rate: s.Rate, Travel: travel, Preload: one.Preload})
	if err != nil {
		return err
	}
	one.law = law
	*over = overStroke(curve, &one.law)
	rest, finding, err := over.settleAnywhere(target.Load, friction)
	if err != nil {
		return err
	}
	one.Rest, one.Miss = rest, rest.Sag-target.Sag
	one.FullForce = over.Force(travel)
	one.FullRatio = float64(one.FullForce / target.Load)
	if finding != "" {
		one.Findings = append(one.Findings, finding)
	}
	one.Findings = append(one.Findings, sagFinding(one.Miss))
	switch {
	case wanted > j.PreloadMax+j.step()/2:
		one.Findings = append(one.Findings, PreloadAtMax)
	case wanted < j.PreloadMin-j.step()/2:
		one.Findings = append(one.Findings, PreloadAtMin)
	}
	switch {
	case !one.SolidKnown:
		one.Findings = append(one.Findings, SolidUnknown)
	case one.SolidReserve < 0:
		one.Findings = append(one.Findings, GoesSolid)
	}
	return nil
}

func sagFinding(miss float64) Finding {
	switch {
	case math.Abs(miss) <= onTarget:
		return OnTarget
	case miss > 0:
		return TooSoft
	default:
		return TooHard
	}
}

// step is the least change of preload that the collar is set by.
func (j *CoilChoice) step() units.Length { return j.ThreadPitch / 4 }

// onCollar is the preload within the collar's range that is nearest to what
// is wanted, in whole quarter turns where the pitch is known.
func (j *CoilChoice) onCollar(wanted units.Length) units.Length {
	p := max(j.PreloadMin, min(wanted, j.PreloadMax))
	step := float64(j.step())
	if !(step > 0) {
		return p
	}
	n := math.Round(float64(p) / step)
	if n*step > float64(j.PreloadMax) {
		n = math.Floor(float64(j.PreloadMax) / step)
	}
	if n*step < float64(j.PreloadMin) {
		n = math.Ceil(float64(j.PreloadMin) / step)
	}
	if q := units.Length(n * step); q <= j.PreloadMax {
		return q
	}
	return p // no whole quarter turn lies within the range
}

// before ranks candidates, as a comparison, and says what told them apart: one
// that reaches the end of the stroke before one that goes solid; then one on
// target before one that is not; on target, the least preload; otherwise the
// smallest miss.
func (f *CoilCandidate) before(g *CoilCandidate) (int, Reason) {
	if a, b := f.has(GoesSolid), g.has(GoesSolid); a != b {
		return first(b), RankedSolid
	}
	a, b := f.has(OnTarget), g.has(OnTarget)
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

// settleAnywhere is Settle, with a load out of the spring's range answered by
// the end of the travel it pushes against and a finding that says so.
func settleAnywhere(curve *linkage.Curve, law spring.Law, load, friction units.Force) (Rest, Finding, error) {
	if curve == nil || law == nil || !(load > 0) {
		_, err := Settle(curve, law, load, friction)
		return Rest{}, "", err
	}
	over := overStroke(curve, law)
	return over.settleAnywhere(load, friction)
}

func (l *strokeLaw) settleAnywhere(load, friction units.Force) (Rest, Finding, error) {
	rest, err := l.settle(load, friction)
	switch {
	case err == nil:
		return rest, "", nil
	case errors.Is(err, spring.ErrToppedOut):
		return restAt(l.curve, l.law, 0, load), HeldAtTop, nil
	case errors.Is(err, spring.ErrBottomedOut):
		return restAt(l.curve, l.law, l.stroke, load), Collapses, nil
	}
	return Rest{}, "", err
}
