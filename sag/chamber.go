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

	slow, fast *airspring.Spring
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
	first, last := j.Spacers, j.Spacers
	if j.FullTravelRatio > 0 && j.MaxSpacers > 0 {
		first, last = 0, j.MaxSpacers
	}
	a := &AirAnswer{Exponent: j.Exponent, Ambient: j.Ambient}
	for n := first; n <= last; n++ {
		one, err := j.try(curve, target, friction, n)
		if err != nil {
			return nil, err
		}
		if one.has(OutOfGeometry) { // more spacers leave still less chamber
			break
		}
		a.Options = append(a.Options, one)
	}
	best := 0
	for i := range a.Options {
		if j.better(&a.Options[i], &a.Options[best]) {
			best = i
		}
	}
	a.Options[0], a.Options[best] = a.Options[best], a.Options[0]
	top := &a.Options[0]
	if j.FullTravelRatio > 0 {
		top.Findings = append(top.Findings, NearestEnd)
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

// try works out the fill for one number of spacers, with the gas settled at
// the temperature around it, and what a fast stroke then meets at full travel.
func (j *AirChoice) try(curve *linkage.Curve, target Target, friction units.Force, spacers int) (AirOption, error) {
	one := AirOption{Spacers: spacers}
	slow := j.Spec
	slow.Spacers, slow.Exponent, slow.Fill = spacers, 1, j.MaxFill
	if _, err := airspring.New(slow); err != nil {
		if spacers == j.Spacers {
			return AirOption{}, err
		}
		one.Findings = append(one.Findings, OutOfGeometry)
		return one, nil
	}
	fill, err := RequiredFill(curve, target, slow)
	switch {
	case err != nil && isFault(err, "load") && belowAtMost(curve, target, slow):
		one.Findings = append(one.Findings, FillAtMax)
		one.Fill = j.MaxFill
	case err != nil && isFault(err, "load"):
		one.Findings = append(one.Findings, FillImpossible)
		one.Fill = units.PascalGauge(leastFill)
	case err != nil: // no fill reaches this sag at all
		return AirOption{}, err
	case fill > j.MaxFill:
		one.Findings = append(one.Findings, FillAtMax)
		one.FillWanted, one.Fill = fill, j.MaxFill
	default:
		one.FillWanted, one.Fill = fill, fill
	}
	slow.Fill = one.Fill
	fast := slow
	fast.Exponent = j.Exponent
	if one.slow, err = airspring.New(slow); err != nil {
		return AirOption{}, err
	}
	if one.fast, err = airspring.New(fast); err != nil {
		return AirOption{}, err
	}
	rest, finding, err := settleAnywhere(curve, one.slow, target.Load, friction)
	if err != nil {
		return AirOption{}, err
	}
	one.Rest, one.Miss = rest, rest.Sag-target.Sag
	if finding != "" {
		one.Findings = append(one.Findings, finding)
	}
	one.Findings = append(one.Findings, sagFinding(one.Miss))
	wheel, err := linkage.AtWheel(curve, one.fast)
	if err != nil {
		return AirOption{}, err
	}
	one.FullRatio = float64(wheel.Force(wheel.Travel()) / target.Load)
	return one, nil
}

// isFault tells whether an error names just this field.
func isFault(err error, field string) bool {
	list := units.Fields(err)
	return len(list) == 1 && list[0].Field == field
}

// belowAtMost tells whether the spring, at the fill of spec, carries less at
// the target than the target's load.
func belowAtMost(curve *linkage.Curve, target Target, spec airspring.Spec) bool {
	s, f := target.atSpring(curve)
	full, err := airspring.New(spec)
	return err == nil && full.Force(s) < f
}

// leastFill stands for "as little as possible" where no fill meets the target.
const leastFill = 1e3 // Pa above ambient
