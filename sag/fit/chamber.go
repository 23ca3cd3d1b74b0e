package fit

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Chamber is an air spring with the spacers it can take. Of the embedded
// spec, Fill is the pressure it holds now, if known; Spacers is how many are
// fitted now; Travel may be left out where it is the curve's stroke; Ambient
// where it is the job's. Exponent is that of a fast stroke; standing still is
// always worked out with the gas at the temperature around it.
type Chamber struct {
	airspring.Spec
	// MaxFill is the highest fill that the marking on the part permits.
	MaxFill units.GaugePressure `json:"max_fill"`
	// MaxSpacers is how many spacers fit. With FullTravelRatio given, every
	// count from 0 to MaxSpacers is tried; otherwise the fitted count is kept.
	MaxSpacers int `json:"max_spacers,omitempty"`
	// FullTravelRatio is the wheel force wanted at full travel, as a multiple
	// of the sprung load; 0 means no wish.
	FullTravelRatio float64 `json:"full_travel_ratio,omitempty"`
}

// AirAnswer is an air spring tried with each number of spacers.
type AirAnswer struct {
	Options []AirOption `json:"options"` // best first
	// Change is the recommended fill less the fill it holds now; Known is
	// false where that wasn't given, and Change then 0.
	Change      units.GaugePressure `json:"change"`
	ChangeKnown bool                `json:"change_known"`
	// SpacerChange is how many spacers to add, or to take out if negative.
	SpacerChange int `json:"spacer_change"`
	// FillPerSpacer is by how much one more spacer changes the fill for the same
	// sag, on average over the numbers tried: below 0 where it lowers the fill,
	// as it does in a spring of one chamber. 0 where fewer than two were tried.
	FillPerSpacer units.GaugePressure `json:"fill_per_spacer"`
	// Exponent is that of the fast stroke, and Ambient the air pressure that
	// the fills are above, both as the job stated them.
	Exponent float64                `json:"exponent"`
	Ambient  units.AbsolutePressure `json:"ambient"`
}

// AirOption is a fill with a number of spacers.
type AirOption struct {
	Spacers    int                 `json:"spacers"`
	FillWanted units.GaugePressure `json:"fill_wanted"` // for the exact target; may be above the marking; 0 where no air spring can hold it
	Fill       units.GaugePressure `json:"fill"`        // that the marking permits
	Rest       sag.Rest            `json:"rest"`
	Miss       float64             `json:"miss"` // Rest.Sag less the target
	FullRatio  float64             `json:"full_ratio"`
	Findings   []sag.Finding       `json:"findings"`

	trial *airspring.Trial
}

// Check records what is wrong with an air spring or what is wanted of it.
func (j *Chamber) Check(c *units.Checker) {
	units.Positive(c, "max_fill", j.MaxFill)
	units.NonNegative(c, "full_travel_ratio", j.FullTravelRatio)
	if j.MaxSpacers < 0 {
		c.Fail("max_spacers", j.MaxSpacers, "0 or more", units.ErrRange)
	}
	if j.MaxSpacers > 0 && j.Spacers > j.MaxSpacers {
		c.Fail("spacers", j.Spacers, "no more than max_spacers", units.ErrConflict)
	}
	if j.MaxSpacers > maxSpacers {
		c.Fail("max_spacers", j.MaxSpacers, "at most 100", units.ErrRange)
	}
	if j.MaxSpacers > 0 && !(j.SpacerVolume > 0) {
		c.Fail("spacer_volume", j.SpacerVolume, "the volume of one spacer, more than 0", units.ErrMissing)
	}
	// The spec itself, at a fill that stands for the one still to be found.
	spec := j.Spec
	if spec.Fill == 0 {
		spec.Fill = units.BarGauge(1)
	}
	_, err := airspring.New(spec)
	c.Add("", err)
	if err == nil && !c.Bad("max_fill") {
		// At the marking too, and slowly: these are the springs that are tried.
		spec.Fill, spec.Exponent = j.MaxFill, 1
		if _, err := airspring.New(spec); err != nil {
			c.Fail("max_fill", j.MaxFill, "a fill that an air spring can have", units.ErrRange)
		}
	}
}

const maxSpacers = 100

// choose tries each number of spacers. Inputs are checked already.
func (j *Chamber) choose(curve *linkage.Curve, target sag.Target, friction units.Force) (*AirAnswer, error) {
	first, last := j.Spacers, j.Spacers
	if j.FullTravelRatio > 0 && j.MaxSpacers > 0 {
		first, last = 0, j.MaxSpacers
	}
	at, force := target.AtSpring(curve)
	trials, err := airspring.Search{Spec: j.Spec, Force: force, At: at, MaxFill: j.MaxFill, First: first, Last: last}.Trials()
	if err != nil {
		return nil, err
	}
	a := &AirAnswer{Exponent: j.Exponent, Ambient: j.Ambient, Options: make([]AirOption, len(trials))}
	room := make([]sag.Finding, mostFindings*len(trials))
	best := 0
	for i := range trials {
		one := &a.Options[i]
		one.trial, one.Findings = &trials[i], room[mostFindings*i:mostFindings*i:mostFindings*(i+1)]
		if err := one.try(curve, target, friction, at); err != nil {
			return nil, err
		}
		if j.better(one, &a.Options[best]) {
			best = i
		}
	}
	a.FillPerSpacer = fillPerSpacer(a.Options)
	a.Options[0], a.Options[best] = a.Options[best], a.Options[0]
	top := &a.Options[0]
	if j.FullTravelRatio > 0 {
		top.Findings = append(top.Findings, sag.NearestEnd)
	}
	a.SpacerChange = top.Spacers - j.Spacers
	if j.Fill > 0 {
		a.ChangeKnown, a.Change = true, top.Fill-j.Fill
	}
	return a, nil
}

// better ranks options: on target first, then nearest to the wanted ratio at
// full travel, then the smaller miss.
func (j *Chamber) better(f, g *AirOption) bool {
	if a, b := Has(f.Findings, sag.OnTarget), Has(g.Findings, sag.OnTarget); a != b {
		return a
	}
	if j.FullTravelRatio > 0 {
		a, b := math.Abs(f.FullRatio-j.FullTravelRatio), math.Abs(g.FullRatio-j.FullTravelRatio)
		if a != b {
			return a < b
		}
	}
	return math.Abs(f.Miss) < math.Abs(g.Miss)
}

// fillPerSpacer compares the first and the last number of spacers, in the order
// tried, for which some fill meets the target.
func fillPerSpacer(list []AirOption) units.GaugePressure {
	var first *AirOption
	var change units.GaugePressure
	for i := range list {
		switch o := &list[i]; {
		case !(o.FillWanted > 0):
		case first == nil:
			first = o
		default:
			change = (o.FillWanted - first.FillWanted) / units.GaugePressure(o.Spacers-first.Spacers)
		}
	}
	return change
}

// try says what the spring does with one number of spacers: with the gas settled
// at the temperature around it under the load, and over a fast stroke at full
// travel.
func (one *AirOption) try(curve *linkage.Curve, target sag.Target, friction units.Force, at units.Length) error {
	t := one.trial
	one.Spacers, one.FillWanted, one.Fill = t.Spacers, t.FillWanted, t.Fill
	end := sag.End{Curve: curve, Law: &t.Slow, Friction: friction}
	switch t.Outcome {
	case airspring.FillMet:
		// It rests at the target, by the closed form of the fill.
		one.Rest = end.RestAt(at, target.Load)
		one.Findings = append(one.Findings, sag.OnTarget)
	case airspring.FillPullsIn: // no fill reaches this sag at all
		c := units.Checker{Package: "sag"}
		c.Fail("sag", target.Sag, "a sag at which more fill carries more", units.ErrConflict)
		return c.Err()
	default:
		if t.Outcome == airspring.FillNone {
			one.Findings = append(one.Findings, sag.FillImpossible)
		} else {
			one.Findings = append(one.Findings, sag.FillAtMax)
		}
		rest, finding, err := end.SettleWithin(target.Load)
		if err != nil {
			return err
		}
		one.Rest, one.Miss = rest, rest.Sag-target.Sag
		if finding != "" {
			one.Findings = append(one.Findings, finding)
		}
		one.Findings = append(one.Findings, SagFinding(one.Miss))
	}
	full := curve.Stroke()
	one.FullRatio = float64(t.Fast.Force(full)) / curve.LeverRatio(full) / float64(target.Load)
	return nil
}
