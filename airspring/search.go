package airspring

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// FillSearch is a search over the number of volume spacers. With each number the spring is filled so
// that it carries a force at sag, as far as the marking on the part permits, or keeps its fill.
type FillSearch struct {
	// Spec is the spring. Its Spacers are ignored, and so is its Fill unless At is 0. Its Exponent
	// is that of the fast stroke.
	Spec Spec `json:"spec"`
	// Force is wanted in N at the travel At, with the gas as warm as its surroundings. At is more than
	// 0, up to the spec's travel. If both are 0, no fill is sought and the spec's is kept.
	Force     units.Force         `json:"force"`
	At        units.Length        `json:"at"`
	MaxFill   units.GaugePressure `json:"max_fill"`   // the marking on the part, which no fill that is sought exceeds
	First     int                 `json:"first"`      // the fewest spacers, from 0 to 1000
	Last      int                 `json:"last"`       // the most
	FullForce units.Force         `json:"full_force"` // in N, at full travel over a fast stroke; more than Force, or 0 for none wanted
}

// Trial is a spring with one number of spacers.
type Trial struct {
	Spacers    int
	Outcome    FillOutcome
	FillWanted units.GaugePressure // the fill that carries the force; 0 if none does, or none was sought
	Fill       units.GaugePressure // FillWanted or MaxFill, whichever is less; at most 1 kPa for FillNone; 0 for FillPullsIn
	Slow       Spring              // the spring with this Fill and an exponent of 1; the zero value for FillPullsIn
	Fast       Spring              // the spring with this Fill and the spec's exponent; the zero value for FillPullsIn
	Miss       units.Force         // Slow's force at At less the one wanted; 0 for FillMet and FillGiven
	FullMiss   units.Force         // Fast's force at full travel less the one wanted; 0 if none was
}

// Trials returns a trial for each number of spacers that leaves a chamber. The fill is that of
// [FillFor] with an exponent of 1, and no more than the marking.
//
// Trials are in the order of the number of spacers, or, if a FullForce is wanted, the best first.
// They are then ordered by how far they miss the force at sag, and where that is equal by how far they
// miss the one at full travel. Trials of [FillNone] and [FillPullsIn] come last.
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
	hopeless := map[FillOutcome]int{FillNone: 1, FillPullsIn: 1}
	if s.FullForce != 0 {
		slices.SortStableFunc(list, func(a, b Trial) int {
			return cmp.Or(cmp.Compare(hopeless[a.Outcome], hopeless[b.Outcome]),
				cmp.Compare(math.Abs(float64(a.Miss)), math.Abs(float64(b.Miss))),
				cmp.Compare(math.Abs(float64(a.FullMiss)), math.Abs(float64(b.FullMiss))))
		})
	}
	return list, nil
}

// try fills a spec with its spacers.
func (s *FillSearch) try(t *Trial, spec Spec) {
	fast := spec.Exponent
	spec.Exponent = 1
	t.Spacers = spec.Spacers
	if s.At == 0 {
		t.Fill, t.Outcome = spec.Fill, FillGiven
	} else {
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
	}
	spec.Fill = t.Fill
	t.Slow = newSpring(&spec, spec.absolute())
	spec.Exponent = fast
	t.Fast = newSpring(&spec, spec.absolute())
	if t.Outcome != FillMet && t.Outcome != FillGiven {
		t.Miss = t.Slow.Force(s.At) - s.Force
	}
	if s.FullForce != 0 {
		t.FullMiss = t.Fast.Force(spec.Travel) - s.FullForce
	}
}

func (s *FillSearch) check(c *units.Checker) {
	spec := s.Spec
	spec.Spacers = 0
	own := c.Child("spec")
	if s.At == 0 && s.Force == 0 {
		spec.checkFilled(&own)
	} else {
		spec.Check(&own)
		units.Finite(c, "force", s.Force)
		if !(s.At > 0 && (s.At <= spec.Travel || own.Bad("travel"))) {
			c.Fail("at", s.At, "more than 0, up to the travel", nil)
		}
		gas.CheckFill(c, "max_fill", s.MaxFill)
	}
	if s.FullForce != 0 && units.Positive(c, "full_force", s.FullForce) && !c.Bad("force") && !(s.FullForce > s.Force) {
		c.Fail("full_force", s.FullForce, "more than the force at sag", units.ErrConflict)
	}
	switch {
	case !(s.First >= 0 && s.First <= mostSpacers):
		c.Fail("first", s.First, "from 0 to 1000", nil)
	case !(s.Last >= s.First && s.Last <= mostSpacers):
		c.Fail("last", s.Last, fmt.Sprintf("from first, %d, to 1000", s.First), nil)
	case s.Last > 0 && spec.SpacerVolume == 0:
		own.Fail("spacer_volume", nil, aSpacer, units.ErrMissing)
	case own.OK() && !outlasts(spec.chamber(s.First), spec.swept()):
		c.Fail("first", s.First, more(spec.swept(), "the travel"), units.ErrConflict)
	}
}
