package sag

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

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
	Rest       Rest                `json:"rest"`
	Miss       float64             `json:"miss"` // Rest.Sag less the target
	FullRatio  float64             `json:"full_ratio"`
	Findings   []Finding           `json:"findings"`

	slow, fast *airspring.Spring // as airspring.Trial has them; of the first option alone
}

func (f *AirOption) has(code Finding) bool { return has(f.Findings, code) }

func (j *AirChoice) check(c *units.Checker) {
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
func (j *AirChoice) choose(curve *linkage.Curve, target Target, friction units.Force) (*AirAnswer, error) {
	return j.chooseIn(new(scratch), curve, target, friction)
}

func (j *AirChoice) chooseIn(m *scratch, curve *linkage.Curve, target Target, friction units.Force) (*AirAnswer, error) {
	first, last := j.Spacers, j.Spacers
	if j.FullTravelRatio > 0 && j.MaxSpacers > 0 {
		first, last = 0, j.MaxSpacers
	}
	a := &AirAnswer{Exponent: j.Exponent, Ambient: j.Ambient}
	at, force := target.atSpring(curve)
	var err error
	m.trials, err = airspring.Search{Spec: j.Spec, Force: force, At: at, MaxFill: j.MaxFill, First: first, Last: last}.Trials()
	if err != nil {
		return nil, asTarget(err)
	}
	a.Options = make([]AirOption, len(m.trials))
	for i := range m.trials {
		a.Options[i].Findings = m.noneYet(i, len(m.trials))
		if err := j.try(&a.Options[i], &m.over, curve, target, friction, &m.trials[i], at); err != nil {
			return nil, err
		}
	}
	a.FillPerSpacer = fillPerSpacer(a.Options)
	best := 0
	for i := range a.Options {
		if j.better(&a.Options[i], &a.Options[best]) {
			best = i
		}
	}
	a.Options[0], a.Options[best] = a.Options[best], a.Options[0]
	top := &a.Options[0]
	kept := [2]airspring.Spring{m.trials[best].Slow, m.trials[best].Fast} // the rest are tried and not kept
	top.slow, top.fast = &kept[0], &kept[1]
	if j.FullTravelRatio > 0 {
		top.Findings = append(top.Findings, NearestEnd)
	}
	found := 0
	for i := range a.Options {
		found += len(a.Options[i].Findings)
	}
	own := make(findings, 0, found)
	for i := range a.Options {
		a.Options[i].Findings = own.keep(a.Options[i].Findings)
	}
	a.SpacerChange = top.Spacers - j.Spacers
	if j.Fill > 0 {
		a.ChangeKnown, a.Change = true, top.Fill-j.Fill
	}
	return a, nil
}

// better ranks options: on target first, then nearest to the wanted ratio at
// full travel, then the smaller miss.
func (j *AirChoice) better(f, g *AirOption) bool {
	if a, b := f.has(OnTarget), g.has(OnTarget); a != b {
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
func (j *AirChoice) try(one *AirOption, over *strokeLaw, curve *linkage.Curve, target Target, friction units.Force, t *airspring.Trial, at units.Length) error {
	one.Spacers, one.FillWanted, one.Fill = t.Spacers, t.FillWanted, t.Fill
	*over = overStroke(curve, &t.Slow)
	switch t.Outcome {
	case airspring.FillMet:
		// It rests at the target, by the closed form of the fill.
		one.Rest = over.restWithin(at, target.Load, friction)
		one.Findings = append(one.Findings, OnTarget)
	case airspring.FillPullsIn: // no fill reaches this sag at all
		c := units.Checker{Package: "sag"}
		c.Fail("sag", target.Sag, "a sag at which more fill carries more", units.ErrConflict)
		return c.Err()
	default:
		if t.Outcome == airspring.FillNone {
			one.Findings = append(one.Findings, FillImpossible)
		} else {
			one.Findings = append(one.Findings, FillAtMax)
		}
		rest, finding, err := over.settleAnywhere(target.Load, friction)
		if err != nil {
			return err
		}
		one.Rest, one.Miss = rest, rest.Sag-target.Sag
		if finding != "" {
			one.Findings = append(one.Findings, finding)
		}
		one.Findings = append(one.Findings, sagFinding(one.Miss))
	}
	one.FullRatio = float64(overStroke(curve, &t.Fast).Force(curve.Stroke()) / target.Load)
	return nil
}

// isFault tells whether an error names just this field.
func isFault(err error, field string) bool {
	list := units.Fields(err)
	return len(list) == 1 && list[0].Field == field
}
