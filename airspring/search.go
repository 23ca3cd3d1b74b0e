package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// FillSearch is a search over the number of volume spacers. With each number the spring is filled so
// that it carries a force at sag, as far as the marking on the part permits.
type FillSearch struct {
	// Spec is the spring. Its Spacers and its Fill are ignored. Its Exponent is that of the fast stroke.
	Spec Spec `json:"spec"`
	// Force is wanted in N at the travel At, with the gas as warm as its surroundings. At is more than
	// 0, up to the spec's travel.
	Force   units.Force         `json:"force"`
	At      units.Length        `json:"at"`
	MaxFill units.GaugePressure `json:"max_fill"` // the marking on the part, which no fill exceeds
	First   int                 `json:"first"`    // the fewest spacers, from 0 to 1000
	Last    int                 `json:"last"`     // the most
}

// Trial is a spring with one number of spacers.
type Trial struct {
	Spacers    int                 `json:"spacers"`
	Outcome    FillOutcome         `json:"outcome"`
	FillWanted units.GaugePressure `json:"fill_wanted"` // the fill that carries the force; 0 if none does
	Fill       units.GaugePressure `json:"fill"`        // FillWanted or MaxFill, whichever is less; at most 1 kPa for FillNone; 0 for FillPullsIn
	Slow       Spring              `json:"-"`           // the spring with this Fill and an exponent of 1; the zero value for FillPullsIn
	Fast       Spring              `json:"-"`           // the spring with this Fill and the spec's exponent; the zero value for FillPullsIn
}

// Trials returns a trial for each number of spacers that leaves a chamber, the fewest first. The fill is
// that of [FillFor] with an exponent of 1, and no more than the marking.
//
// In a spring of one chamber more spacers need a little less fill for the same sag, since the
// pressure of a smaller chamber rises more up to there. With a negative chamber they may need more,
// if the spring rests short of a port deep in the travel.
//
// The error names every bad field, such as spec.bore. It names first if that many spacers leave no
// chamber.
func (s FillSearch) Trials() ([]Trial, error) {
	c := units.Checker{Package: "airspring"}
	s.check(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	spec := s.Spec
	last := s.First
	for last < s.Last && outlasts(spec.chamber(last+1), spec.swept()) {
		last++
	}
	list := make([]Trial, last-s.First+1)
	for i := range list {
		spec.Spacers = s.First + i
		s.try(&list[i], spec)
	}
	return list, nil
}

// try fills a spec with its spacers.
func (s *FillSearch) try(t *Trial, spec Spec) {
	fast := spec.Exponent
	spec.Exponent = 1
	t.Spacers = spec.Spacers
	t.FillWanted, t.Outcome = spec.SolveFill(s.Force, s.At)
	switch t.Outcome {
	case FillMet:
		t.Fill = min(t.FillWanted, s.MaxFill)
		if t.Fill < t.FillWanted {
			t.Outcome = FillAtMarking
		}
	case FillBeyond:
		t.Fill = s.MaxFill
	case FillNone:
		t.Fill = min(1e3, s.MaxFill) // hardly more than none
	default:
		return
	}
	spec.Fill = t.Fill
	t.Slow = newSpring(&spec, spec.absolute())
	spec.Exponent = fast
	t.Fast = newSpring(&spec, spec.absolute())
}

func (s *FillSearch) check(c *units.Checker) {
	spec := s.Spec
	spec.Spacers = 0
	own := c.Child("spec")
	spec.Check(&own)
	units.Finite(c, "force", s.Force)
	if !(s.At > 0 && (s.At <= spec.Travel || own.Bad("travel"))) {
		c.Fail("at", s.At, units.MoreThan(0).And(units.AtMost(spec.Travel).Of("travel")), nil)
	}
	gas.CheckFill(c, "max_fill", s.MaxFill)
	switch {
	case !(s.First >= 0 && s.First <= mostSpacers):
		c.Fail("first", s.First, units.From(0, 1000), nil)
	case !(s.Last >= s.First && s.Last <= mostSpacers):
		c.Fail("last", s.Last, units.AtLeast(s.First).Of("first").And(units.AtMost(mostSpacers)), nil)
	case s.Last > 0 && spec.SpacerVolume == 0:
		own.Fail("spacer_volume", nil, aSpacer, units.ErrMissing)
	case own.OK() && !outlasts(spec.chamber(s.First), spec.swept()):
		c.Fail("first", s.First, more(spec.swept(), "the travel"), units.ErrConflict)
	}
}
