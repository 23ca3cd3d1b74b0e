package airspring

import (
	"fmt"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// Search asks which fill a spring needs with each number of spacers, to carry a
// force at a travel without the fill going above a marking.
type Search struct {
	Spec        Spec                // its Fill and Spacers are left out of account
	Force       units.Force         // wanted at At with the gas settled, finite
	At          units.Length        // more than 0, up to the travel
	MaxFill     units.GaugePressure // that the marking on the part permits
	First, Last int                 // the least and the greatest number of spacers
}

// FillOutcome is what came of a search with one number of spacers.
type FillOutcome string

// The outcomes.
const (
	FillMet       FillOutcome = "met"        // the fill carries the force
	FillAtMarking FillOutcome = "at_marking" // that would need more than the marking permits
	FillBeyond    FillOutcome = "beyond"     // it would need more than 1000 bar
	FillNone      FillOutcome = "none"       // a fill of 0 above ambient has more force already
	FillPullsIn   FillOutcome = "pulls_in"   // so near to full extension more fill would pull in harder
	leastFill                 = 1e3          // Pa above ambient, in place of none at all
)

// Trial is a spring with one number of spacers, filled as well as the marking
// permits.
type Trial struct {
	Spacers    int
	Outcome    FillOutcome
	FillWanted units.GaugePressure // that carries the force; 0 where none does
	Fill       units.GaugePressure // the same, or MaxFill where that is less; at most 1 kPa for FillNone; 0 for FillPullsIn
	Slow       Spring              // filled so, with the gas settled: the exponent is 1
	Fast       Spring              // the same, with the spec's own exponent
}

// TrySpacers fills a spring for a force with each number of spacers: the one
// search for a fill that [Choose] and a whole set-up share. For each, the fill is
// that of [FillFor] with an exponent of 1, and no more than the marking. With more
// spacers than leave a chamber the list ends.
//
// More spacers need a little less fill for the same sag in a spring of one
// chamber, for the smaller chamber gains more pressure on the way; a negative
// chamber can turn that round where the spring rests short of a port that lies
// deep in the travel. The trials tell.
//
// The error names every bad field, spec.bore and the like; first where so many
// spacers leave no chamber.
func TrySpacers(s Search) ([]Trial, error) { return AppendTrials(nil, s) }

// AppendTrials appends what [TrySpacers] returns to a list, so that one who
// searches many times can use the same memory again. With an error the list
// comes back as it was.
func AppendTrials(list []Trial, s Search) ([]Trial, error) {
	c := units.Checker{Package: "airspring"}
	spec := s.Spec
	spec.Fill, spec.Spacers = 0, 0
	own := units.Checker{Package: c.Package}
	spec.check(&own)
	c.Add("spec", own.Err())
	units.Finite(&c, "force", s.Force)
	if !(s.At > 0 && (s.At <= spec.Travel || own.Bad("travel"))) {
		c.Fail("at", s.At, "more than 0, up to the travel", nil)
	}
	gas.CheckFill(&c, "max_fill", s.MaxFill)
	switch {
	case !(s.First >= 0 && s.First <= mostSpacers):
		c.Fail("first", s.First, "from 0 to 1000", nil)
	case !(s.Last >= s.First && s.Last <= mostSpacers):
		c.Fail("last", s.Last, fmt.Sprintf("from first, %d, to 1000", s.First), nil)
	case s.Last > 0 && spec.SpacerVolume == 0:
		c.Fail("spec.spacer_volume", nil, "the volume of one spacer, more than 0", units.ErrMissing)
	case own.OK() && !outlasts(spec.positiveVolume(s.First), spec.sweep(spec.Travel)):
		c.Fail("first", s.First, more(spec.sweep(spec.Travel), "the travel"), units.ErrConflict)
	}
	if err := c.Err(); err != nil {
		return list, err
	}
	return appendTrials(list, &s), nil
}

// appendTrials is AppendTrials for what is checked already.
func appendTrials(list []Trial, s *Search) []Trial {
	spec := s.Spec
	swept := spec.sweep(spec.Travel)
	end := s.First
	for end <= s.Last && outlasts(spec.positiveVolume(end), swept) {
		end++
	}
	if most := len(list) + end - s.First; most > cap(list) {
		list = append(make([]Trial, 0, most), list...)
	}
	for n := s.First; n < end; n++ {
		list = append(list, Trial{Spacers: n})
		t := &list[len(list)-1]
		spec.Spacers, spec.Exponent = n, 1
		wanted, found := fillFor(&spec, float64(s.Force), s.At)
		switch found {
		case met:
			t.Outcome, t.FillWanted, t.Fill = FillMet, units.GaugePressure(wanted), units.GaugePressure(wanted)
			if t.Fill > s.MaxFill {
				t.Outcome, t.Fill = FillAtMarking, s.MaxFill
			}
		case tooMuch:
			t.Outcome, t.Fill = FillBeyond, s.MaxFill
		case tooLittle:
			t.Outcome, t.Fill = FillNone, min(leastFill, s.MaxFill)
		default:
			t.Outcome = FillPullsIn
			continue
		}
		spec.Fill = t.Fill
		absolute := float64(t.Fill) + float64(spec.Ambient)
		t.Slow = newSpring(&spec, absolute)
		spec.Exponent = s.Spec.Exponent
		t.Fast = newSpring(&spec, absolute)
	}
	return list
}
