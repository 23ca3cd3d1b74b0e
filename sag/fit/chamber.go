package fit

import (
	"cmp"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Chamber is an air spring with the spacers it can take. Of the embedded spec, Fill is the pressure
// it holds now, if known; Spacers is how many are fitted now; Travel may be left out if it is the
// curve's stroke, and Ambient if it is that given to [New]. Exponent is that of a fast stroke:
// standing still the gas is at the temperature around it.
type Chamber struct {
	airspring.Spec
	MaxFill units.GaugePressure `json:"max_fill"` // highest fill that the marking on the part permits
	// MaxSpacers is how many spacers fit, at most 100. With FullTravelRatio given, every count from
	// 0 to MaxSpacers is tried; otherwise the fitted count is kept, and the answer says so.
	MaxSpacers      int     `json:"max_spacers,omitempty"`
	FullTravelRatio float64 `json:"full_travel_ratio,omitempty"` // wheel force wanted at full travel over the sprung load; 0 for none wanted
	// NegativeChamber is [None] for a spring that has no negative chamber. Of one that has, the
	// NegativeVolume is given instead.
	NegativeChamber Statement `json:"negative_chamber,omitempty"`
}

// Statement is what is said of a part of a spring instead of its size.
type Statement string

// None says that a spring does not have the part.
const None Statement = "none"

// CheckNegative records a negative chamber of which nothing is said, or that is said to be both there
// and not. The fill of a spring whose negative chamber is left out is far off.
func CheckNegative(c *units.Checker, spec airspring.Spec, said Statement) {
	switch given := spec.NegativeVolume != 0; {
	case said != "" && said != None:
		c.Fail("negative_chamber", said, `"none", or nothing beside negative_volume`, units.ErrUnknown)
	case said == "" && !given:
		c.Fail("negative_volume", nil, `the volume of the negative chamber, or negative_chamber "none" for a spring without one`, units.ErrMissing)
	case said == None && given:
		c.Fail("negative_volume", spec.NegativeVolume, `nothing beside negative_chamber "none"`, units.ErrConflict)
	}
}

// AirAnswer is an air spring tried with each number of spacers.
type AirAnswer struct {
	Options      []AirOption         `json:"options"`       // the best is first
	Change       units.GaugePressure `json:"change"`        // the recommended fill less the one it holds now; 0 if that is unknown
	ChangeKnown  bool                `json:"change_known"`  // the fill it holds now was given
	SpacerChange int                 `json:"spacer_change"` // spacers to add, or to take out if negative
	// FillPerSpacer is by how much one more spacer changes the fill for the same sag, on average
	// over the numbers tried, less than 0 in a spring of one chamber. 0 if fewer than two were tried.
	FillPerSpacer units.GaugePressure `json:"fill_per_spacer"`
	FullTravel    *FullTravel         `json:"full_travel,omitempty"` // what was wanted at full travel; nil for nothing
	// SpacersKept says that only the fitted number of spacers was tried, though MaxSpacers was given:
	// without a FullTravelRatio nothing says which number would be better.
	SpacersKept bool                   `json:"spacers_kept,omitempty"`
	Exponent    float64                `json:"exponent"` // of the fast stroke, as stated
	Ambient     units.AbsolutePressure `json:"ambient"`  // that the fills are above, as stated
}

// FullTravel is the wheel force wanted at full travel beside what the spacers can give, each over the
// sprung load, over a fast stroke.
type FullTravel struct {
	Wanted float64 `json:"wanted"`
	Given  float64 `json:"given"` // by the recommended option
	// Least and Most bound what the numbers of spacers give that were tried and are on target; all
	// that were tried if none is.
	Least float64 `json:"least"`
	Most  float64 `json:"most"`
	// Reached says that Wanted lies between Least and Most, or off by no more than 0.05, since
	// ratios are stated to one decimal.
	Reached bool `json:"reached"`
}

// AirOption is a fill with a number of spacers.
type AirOption struct {
	Spacers    int                 `json:"spacers"`
	FillWanted units.GaugePressure `json:"fill_wanted"` // for the exact target; may be above the marking; 0 if no air spring can hold it
	Fill       units.GaugePressure `json:"fill"`        // to set: FillWanted, or the marking if that is less
	AtRest
	FullRatio float64 `json:"full_ratio"` // the wheel force at full travel, over a fast stroke, over the load
}

// Check records what is wrong with an air spring or what is wanted of it.
func (j *Chamber) Check(c *units.Checker) {
	const mostSpacers = 100 // far more than a chamber takes
	gas.CheckFill(c, "max_fill", j.MaxFill)
	units.NonNegative(c, "full_travel_ratio", j.FullTravelRatio)
	if j.MaxSpacers < 0 || j.MaxSpacers > mostSpacers {
		c.Fail("max_spacers", j.MaxSpacers, units.From(0, mostSpacers), nil)
	}
	if j.MaxSpacers > 0 && j.Spacers > j.MaxSpacers {
		c.Fail("spacers", j.Spacers, "no more than max_spacers", units.ErrConflict)
	}
	if j.MaxSpacers > 0 && j.Spacers <= 0 && j.SpacerVolume == 0 { // Spec.Check wants it of fitted ones
		c.Fail("spacer_volume", nil, "the volume of one spacer, more than 0", units.ErrMissing)
	}
	j.Spec.Check(c)
	CheckNegative(c, j.Spec, j.NegativeChamber)
	if j.Fill != 0 {
		gas.CheckFill(c, "fill", j.Fill)
	}
}

// choose tries each number of spacers at a checked end, and returns the end with the best of them.
func (j *Chamber) choose(c *units.Checker, end sag.End, t *trial) (*AirAnswer, sag.End) {
	search := airspring.FillSearch{Spec: j.Spec, MaxFill: j.MaxFill, First: j.Spacers, Last: j.Spacers}
	if j.FullTravelRatio > 0 && j.MaxSpacers > 0 {
		search.First, search.Last = 0, j.MaxSpacers
	}
	search.At, search.Force = t.at, t.force
	if math.IsInf(float64(search.Force), 0) {
		c.Fail("load", t.target.Load, "a load that some spring carries", nil)
		return nil, sag.End{}
	}
	trials, err := search.Trials()
	if c.Add("air", err); err != nil {
		return nil, sag.End{}
	}
	made := &struct {
		AirAnswer
		full FullTravel // beside it in memory
	}{AirAnswer{Exponent: j.Exponent, Ambient: j.Ambient, Options: make([]AirOption, len(trials))}, FullTravel{Wanted: j.FullTravelRatio}}
	a, full := &made.AirAnswer, &made.full
	room := make([]sag.Finding, mostFindings*len(trials))
	var best place
	var first, last *AirOption // of those that some fill puts on target
	for i := range trials {
		one := &a.Options[i]
		one.Findings = room[mostFindings*i : mostFindings*i : mostFindings*(i+1)]
		end.Law = &trials[i].Slow
		p := j.try(c, one, end, t, &trials[i])
		if !c.OK() {
			return nil, sag.End{}
		}
		switch ratio := one.FullRatio; {
		case i == 0 || p.class < best.class:
			full.Least, full.Most = ratio, ratio
		case p.class == best.class:
			full.Least, full.Most = min(full.Least, ratio), max(full.Most, ratio)
		}
		if p.index = i; i == 0 || p.compare(best) < 0 {
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
		const stated = 0.05
		full.Given, full.Reached = top.FullRatio, full.Least-stated <= full.Wanted && full.Wanted <= full.Most+stated
		if top.Findings = append(top.Findings, sag.NearestEnd); !full.Reached {
			top.Findings = append(top.Findings, sag.FullOutOfReach)
		}
		a.FullTravel = full
	}
	a.SpacersKept = j.MaxSpacers > 0 && j.FullTravelRatio == 0
	a.SpacerChange = top.Spacers - j.Spacers
	if j.Fill > 0 {
		a.ChangeKnown, a.Change = true, top.Fill-j.Fill
	}
	return a, end
}

// try works out what the spring of a search does at an end, and where that ranks: on target first, then nearest
// to the wanted ratio at full travel, then by the smaller miss.
func (j *Chamber) try(c *units.Checker, one *AirOption, end sag.End, t *trial, filled *airspring.Trial) (p place) {
	one.Spacers, one.FillWanted, one.Fill = filled.Spacers, filled.FillWanted, filled.Fill
	switch filled.Outcome {
	case airspring.FillMet: // it rests at the target, by the closed form of the fill
		one.Rest, one.Findings = end.RestAt(t.at, t.target.Load), append(one.Findings, sag.OnTarget)
		t.judge(&end, &one.AtRest)
	case airspring.FillPullsIn: // no fill reaches this sag at all
		c.Fail("sag", t.target.Sag, "a sag at which more fill carries more", airspring.ErrFillPullsIn)
		return p
	default:
		finding := sag.FillAtMax
		if filled.Outcome == airspring.FillNone {
			finding = sag.FillImpossible
		}
		one.Findings = append(one.Findings, finding)
		_, err := t.rest(&end, &one.AtRest)
		c.Add("air", err)
	}
	full := end.Curve.Stroke()
	one.FullRatio = float64(filled.Fast.Force(full)) / end.Curve.LeverRatio(full) / float64(t.target.Load)
	if !Has(one.Findings, sag.OnTarget) {
		p.class = 1
	}
	if p.left[0] = -math.Abs(one.Miss); j.FullTravelRatio > 0 {
		p.by = math.Abs(one.FullRatio - j.FullTravelRatio)
	}
	return p
}
