package fit

import (
	"cmp"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Chamber is an air spring with the spacers it can take. Of the embedded spec, Fill is what it holds
// now, 0 if unknown, and Spacers how many are fitted now. A Travel of 0 is the curve's stroke, an
// Ambient of 0 that given to [New]. Exponent is that of a fast stroke; at rest it is 1.
type Chamber struct {
	airspring.Spec
	MaxFill units.GaugePressure `json:"max_fill"` // that the marking on the part permits
	// MaxSpacers is how many spacers fit, 0 to 100. Where both it and FullTravelRatio are above 0,
	// each number of spacers up to it is tried; otherwise the fitted number is kept.
	MaxSpacers int `json:"max_spacers,omitempty"`
	// FullTravelRatio is the wheel force wanted at full travel over the sprung load, 0 or more.
	FullTravelRatio float64 `json:"full_travel_ratio,omitempty"`
}

// AirAnswer is an air spring tried with each number of spacers.
type AirAnswer struct {
	Options []AirOption `json:"options"` // the best is first
	// Change is the recommended fill less the fill it holds now. Without the latter ChangeKnown is
	// false and Change 0.
	Change       units.GaugePressure `json:"change"`
	ChangeKnown  bool                `json:"change_known"`
	SpacerChange int                 `json:"spacer_change"` // how many to add, or take out if negative
	// FillPerSpacer is the change of fill for the same sag by one spacer more, on average over the
	// numbers tried; 0 if fewer than two can meet the target. It is negative with a single chamber.
	FillPerSpacer units.GaugePressure    `json:"fill_per_spacer"`
	Exponent      float64                `json:"exponent"` // of a fast stroke
	Ambient       units.AbsolutePressure `json:"ambient"`  // that the fills are above
}

// AirOption is a fill with a number of spacers.
type AirOption struct {
	Spacers    int                 `json:"spacers"`
	FillWanted units.GaugePressure `json:"fill_wanted"` // for the exact target, even above the marking; 0 if none is valid
	Fill       units.GaugePressure `json:"fill"`        // that the marking permits
	Rest       sag.Rest            `json:"rest"`
	Miss       float64             `json:"miss"`       // Rest.Sag less the target
	FullRatio  float64             `json:"full_ratio"` // the wheel force at full travel, over a fast stroke, over the load
	Findings   []sag.Finding       `json:"findings"`
}

// Check records what is wrong with an air spring or what is wanted of it.
func (j *Chamber) Check(c *units.Checker) {
	gas.CheckFill(c, "max_fill", j.MaxFill)
	units.NonNegative(c, "full_travel_ratio", j.FullTravelRatio)
	if j.MaxSpacers < 0 || j.MaxSpacers > 100 { // to bound the time of a choice
		c.Fail("max_spacers", j.MaxSpacers, "from 0 to 100", units.ErrRange)
	}
	if j.MaxSpacers > 0 && j.Spacers > j.MaxSpacers {
		c.Fail("spacers", j.Spacers, "no more than max_spacers", units.ErrConflict)
	}
	if j.MaxSpacers > 0 && j.Spacers <= 0 && j.SpacerVolume == 0 { // Spec.Check wants it of fitted ones
		c.Fail("spacer_volume", nil, "the volume of one spacer, more than 0", units.ErrMissing)
	}
	j.Spec.Check(c)
	if j.Fill != 0 {
		gas.CheckFill(c, "fill", j.Fill)
	}
}

// choose returns each number of spacers of a checked chamber, tried, and the end with the best.
func (j *Chamber) choose(c *units.Checker, end sag.End, target sag.Target) (*AirAnswer, sag.End) {
	search := airspring.Search{Spec: j.Spec, MaxFill: j.MaxFill, First: j.Spacers, Last: j.Spacers}
	if j.FullTravelRatio > 0 && j.MaxSpacers > 0 {
		search.First, search.Last = 0, j.MaxSpacers
	}
	search.At, search.Force = target.AtSpring(end.Curve)
	if math.IsInf(float64(search.Force), 0) {
		c.Fail("load", target.Load, "a load that some spring carries", units.ErrRange)
		return nil, sag.End{}
	}
	trials, err := search.Trials()
	if c.Add("air", err); err != nil {
		return nil, sag.End{}
	}
	a := &AirAnswer{Exponent: j.Exponent, Ambient: j.Ambient, Options: make([]AirOption, len(trials))}
	room := make([]sag.Finding, mostFindings*len(trials))
	var best place
	var first, last *AirOption // of those that some fill puts on target
	for i := range trials {
		one := &a.Options[i]
		one.Findings = room[mostFindings*i : mostFindings*i : mostFindings*(i+1)]
		end.Law = &trials[i].Slow
		if one.try(c, end, target, search.At, &trials[i]); !c.OK() {
			return nil, sag.End{}
		}
		p := place{index: i, then: math.Abs(one.Miss)}
		if !Has(one.Findings, sag.OnTarget) {
			p.class = 1
		}
		if j.FullTravelRatio > 0 {
			p.by = math.Abs(one.FullRatio - j.FullTravelRatio)
		}
		if i == 0 || p.compare(best) < 0 {
			best = p
		}
		if one.FillWanted > 0 {
			first, last = cmp.Or(first, one), one
		}
	}
	if first != last {
		a.FillPerSpacer = (last.FillWanted - first.FillWanted) / units.GaugePressure(last.Spacers-first.Spacers)
	}
	slow, fast := trials[best.index].Slow, trials[best.index].Fast // the other trials are let go of
	end.Law, end.Fast, end.Exponent = &slow, &fast, j.Exponent
	a.Options[0], a.Options[best.index] = a.Options[best.index], a.Options[0]
	top := &a.Options[0]
	if j.FullTravelRatio > 0 {
		top.Findings = append(top.Findings, sag.NearestEnd)
	}
	a.SpacerChange = top.Spacers - j.Spacers
	if j.Fill > 0 {
		a.ChangeKnown, a.Change = true, top.Fill-j.Fill
	}
	return a, end
}

// try fills in what the spring of a trial does at an end: where it rests, and its force at full
// travel over a fast stroke. At is the stroke of the target.
func (one *AirOption) try(c *units.Checker, end sag.End, target sag.Target, at units.Length, t *airspring.Trial) {
	one.Spacers, one.FillWanted, one.Fill = t.Spacers, t.FillWanted, t.Fill
	switch t.Outcome {
	case airspring.FillMet: // it rests at the target
		one.Rest = end.RestAt(at, target.Load)
		one.Findings = append(one.Findings, sag.OnTarget)
	case airspring.FillPullsIn: // no fill reaches this sag at all
		c.Fail("sag", target.Sag, "a sag at which more fill carries more", airspring.ErrFillPullsIn)
		return
	default:
		finding := sag.FillAtMax
		if t.Outcome == airspring.FillNone {
			finding = sag.FillImpossible
		}
		var err error
		one.Rest, one.Miss, one.Findings, err = rest(end, target, append(one.Findings, finding))
		c.Add("air", err)
	}
	full := end.Curve.Stroke()
	one.FullRatio = float64(t.Fast.Force(full)) / end.Curve.LeverRatio(full) / float64(target.Load)
}
