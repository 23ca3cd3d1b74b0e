package visit

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Felt is a stable code for what a rider says of a setting.
type Felt string

// What a rider says.
const (
	FeltTooSoft Felt = "too_soft" // dives, wallows, uses its travel up early: wants less sag
	FeltTooHard Felt = "too_hard" // skips, jars, never uses its travel: wants more sag
	FeltRight   Felt = "right"
)

// Tried is a setting of an end that was ridden, and what was found. At least one of Felt and Ride is
// given.
type Tried struct {
	Sag  float64     `json:"sag"`            // at rest with that setting, between 0 and 1
	Felt Felt        `json:"felt,omitempty"` // empty if nobody said
	Ride RideVerdict `json:"ride,omitempty"` // empty if the ring was not read after the ride
}

// Bracket is a search for the setting of one end that suits its rider, by trying. Settings are told
// apart by their sag, and that of the end is the first trial.
type Bracket struct {
	Load units.Force `json:"load"` // sprung load at the wheel, at least 1e-150 N
	// RingError is the most that a reading of the ring may be off to either side, more than 0 and less
	// than a quarter of the stroke.
	RingError units.Length `json:"ring_error"`
	// SagError is the standard uncertainty of the predicted sag, from 0 to 0.2; 0 if unknown.
	SagError float64 `json:"sag_error,omitempty"`
	Tried    []Tried `json:"tried"` // in the order of the rides, at most 100
}

// Plan is three settings around a prediction, and which to ride next. To go on, append to Tried.
type Plan struct {
	Setting Setting `json:"setting"` // of the end
	Bracket
	// Step is how far apart trials are in sag, as a fraction of the wheel's travel: the most of SagError,
	// of twice RingError at the wheel, and of 2 %, a choice of this package for what a rider tells apart.
	// Least is that at the end: half of Step, but not less than RingError at the wheel.
	Step   float64 `json:"step"`
	Least  float64 `json:"least"`
	Trials []Trial `json:"trials"`           // softer, as predicted, and harder
	Next   *Trial  `json:"next,omitempty"`   // to ride next, or to keep if the plan has ended
	Ending Ending  `json:"ending,omitempty"` // empty as long as there is something to try
	Text   string  `json:"text"`             // what to do next, for people
}

// Trial is one setting of a plan.
type Trial struct {
	Name       string  `json:"name,omitempty"` // "softer", "predicted" or "harder"; empty for one in between
	Sag        float64 `json:"sag"`            // wanted
	Correction         // what to set; where it rests is what the ring is to show
	Feel       string  `json:"feel"` // what to feel and to read, common practice with no source
}

// Ending is a stable code for how a plan ended.
type Ending string

// Endings.
const (
	Found    Ending = "found"    // a setting that suits, or none told apart from it is left
	AtLimit  Ending = "at_limit" // collar or marking allow no more in the direction wanted
	Contrary Ending = "contrary" // what was felt contradicts itself or the travel used: this adjustment does not mend it
)

// The most settings tried, and the most uncertain sag, that a [Bracket] takes.
const (
	MostTried    = 100
	MostSagError = 0.2
)

// Plan returns three settings around the prediction and, from what was tried, the one to ride next. The
// first is that of the end's own sag, also if others were tried that left it on the side wanted.
// After "too soft" the next has less sag by a step, after "too hard" more, and once one of each is known
// the middle between the nearest two. A ride that used all travel counts as too soft and one that used
// little as too hard if nobody said what it felt like. The plan ends with "right", with neighbours no
// more than twice Least apart, at a limit of collar or marking, or with a contradiction, and so after
// 1/Step trials and those of halving a step at the most. What was tried after the end is ignored. The
// error names every bad field, such as tried[1].sag.
//
// Not modelled: damping and tyres, which are to stay as they are from trial to trial.
func (e *Assembly) Plan(b Bracket) (*Plan, error) {
	c := units.Checker{Package: "sag"}
	if b.check(&c, e); !c.OK() {
		return nil, c.Err()
	}
	b.Tried = slices.Clone(b.Tried)
	p := &Plan{Setting: e.Setting(), Bracket: b}
	curve, first := e.end.Curve, e.set.Sag
	ring := float64(b.RingError) * curve.LeverRatio(e.atTarget()) / float64(curve.Travel())
	p.Step = max(sagStep, b.SagError, 2*ring)
	p.Least = max(p.Step/2, ring)
	for _, t := range []Trial{
		{Name: "softer", Sag: first + p.Step, Feel: "More grip and comfort; it dives and leans more. Watch that the hardest hit does not use all of the travel."},
		{Name: "predicted", Sag: first, Feel: "The reference for the other two: how it holds up in corners and under braking, how it takes small bumps, how far the ring goes."},
		{Name: "harder", Sag: first - p.Step, Feel: "More support; small bumps come through more. Watch that the ring still goes far on the hardest hit."},
	} {
		switch t, err := e.trial(b.Load, t); {
		case err == nil:
			p.Trials = append(p.Trials, t)
		case t.Name == "predicted":
			return nil, err
		}
	}
	p.next(e)
	return p, nil
}

// check records what is wrong with a bracket on an end.
func (b Bracket) check(c *units.Checker, e *Assembly) {
	sag.CheckLoad(c, b.Load)
	units.Between(c, "sag_error", b.SagError, 0, MostSagError)
	if units.Positive(c, "ring_error", b.RingError) && b.RingError >= e.end.Curve.Stroke()/4 {
		c.Fail("ring_error", b.RingError, units.LessThan(e.end.Curve.Stroke()/4).With("a quarter of the stroke"), nil)
	}
	checkTried(c, b.Tried)
}

// checkTried records what is wrong with settings that were tried.
func checkTried(c *units.Checker, list []Tried) {
	if n := len(list); n > MostTried {
		c.Fail("tried", n, units.AtMost(MostTried), nil)
		return
	}
	for i, t := range list {
		own := c.Element("tried", i)
		units.Inside(&own, "sag", t.Sag, 0, 1)
		t.Felt.Check(&own)
		if !slices.Contains([]RideVerdict{"", AllUsed, WellUsed, LittleUsed}, t.Ride) {
			own.Fail("ride", string(t.Ride), `"all_used", "well_used" or "little_used"`, units.ErrUnknown)
		}
		if t.Felt == "" && t.Ride == "" {
			own.Fail("felt", nil, "what the rider says, or what the ride used", units.ErrMissing)
		}
	}
}

// Check records an unknown code. Empty is valid: nothing was said.
func (f Felt) Check(c *units.Checker) {
	if !slices.Contains([]Felt{"", FeltTooSoft, FeltTooHard, FeltRight}, f) {
		c.Fail("felt", string(f), `"too_soft", "too_hard" or "right"`, units.ErrUnknown)
	}
}

// trial returns a trial with what to set for its sag.
func (e *Assembly) trial(load units.Force, t Trial) (Trial, error) {
	var err error
	t.Correction, err = e.Correction(sag.Target{Load: load, Sag: t.Sag})
	return t, err
}

// verdict returns what a setting tried counts as, and reports whether feeling and travel contradict
// each other.
func (t Tried) verdict() (f Felt, contrary bool) {
	switch {
	case t.Felt == "":
		return map[RideVerdict]Felt{AllUsed: FeltTooSoft, WellUsed: FeltRight, LittleUsed: FeltTooHard}[t.Ride], false
	case t.Felt == FeltTooHard && t.Ride == AllUsed, t.Felt == FeltTooSoft && t.Ride == LittleUsed:
		return t.Felt, true
	}
	return t.Felt, false
}

// next sets what to do next.
func (p *Plan) next(e *Assembly) {
	// Too soft at all sags from high on, too hard at all up to low.
	low, high := math.Inf(-1), math.Inf(1)
	next := p.Setting.Sag
	for _, t := range p.Tried {
		felt, contrary := t.verdict()
		switch {
		case contrary && t.Felt == FeltTooHard:
			p.end(e, t.Sag, Contrary, "It feels too hard and yet uses all of its travel: neither more nor less sag mends that. More progression at the end of the travel does (a spacer, where there are any), together with a little more sag.")
		case contrary:
			p.end(e, t.Sag, Contrary, "It feels too soft and yet uses little of its travel: neither more nor less sag mends that. Look at the damping first, rebound too, and at a friction that holds it up; then at fewer spacers.")
		case felt == FeltRight && t.Ride == AllUsed:
			p.end(e, t.Sag, Found, "Keep this one. It used all of its travel, though: for harder ground more progression at the end of the travel, a spacer where there are any, rather than less sag.")
		case felt == FeltRight:
			p.end(e, t.Sag, Found, "Keep this one.")
		case felt == FeltTooSoft:
			high = min(high, t.Sag)
		default:
			low = max(low, t.Sag)
		}
		if p.Ending == "" && low >= high {
			p.end(e, t.Sag, Contrary, "One setting was said to be too hard, and one with the same sag or less to be too soft. Something else has changed: trail, damping, tyres, kit. Start again from the predicted setting.")
		}
		if p.Ending != "" {
			return
		}
	}
	switch {
	case low+p.Least <= next && next <= high-p.Least: // not tried yet, and on the side that is wanted
	case math.IsInf(low, -1):
		next = high - p.Step
	case math.IsInf(high, 1):
		next = low + p.Step
	default:
		next = low + (high-low)/2
	}
	if high-low <= 2*p.Least*(1+1e-9) { // but for rounding
		p.end(e, next, Found, "Settings nearer to each other than this can't be told apart by feel or by the ring. Keep the one in the middle.")
		return
	}
	t, err := e.trial(p.Load, Trial{Sag: next, Feel: "Compare with the one before: the same stretch of trail, nothing else changed."})
	if apart := p.Least / 8; err != nil || !(t.AtRest().Rest.Sag > low+apart && t.AtRest().Rest.Sag < high-apart) {
		text := "Keep to what they allow; another spring, or other spacers where there are any, is what is left."
		if t.Coil != nil {
			text = fmt.Sprintf("A spring of %s would do it at the preload that is set.", t.Coil.NewRate.Both().CustomaryFirst())
		}
		p.end(e, p.Tried[len(p.Tried)-1].Sag, AtLimit, "The marking, the collar or the quarter turns of its thread allow nothing between what was tried and what is wanted. "+text)
		return
	}
	p.Next = &t
	for i := range p.Trials {
		if math.Abs(p.Trials[i].AtRest().Rest.Sag-t.AtRest().Rest.Sag) < p.Least/8 {
			p.Next = &p.Trials[i]
		}
	}
	p.Text = fmt.Sprintf("Ride %s: sag %s. The ring is to show %s with the rider standing still. Note what it feels like, and read the ring again after the ride.",
		p.Next.Correction.Text(), units.Percent(p.Next.AtRest().Rest.Sag), p.Next.Correction.AtRest().Rest.Stroke.Both())
}

// end ends a plan at a sag.
func (p *Plan) end(e *Assembly, sag float64, how Ending, text string) {
	p.Ending, p.Text = how, text
	if t, err := e.trial(p.Load, Trial{Sag: sag}); err == nil {
		if p.Next = &t; how != Contrary {
			p.Text = fmt.Sprintf("%s That is %s.", text, t.Correction.Text())
		}
	}
}
