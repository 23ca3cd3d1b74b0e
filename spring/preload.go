package spring

import (
	"fmt"

	"example.com/wheelrate/units"
)

// PreloadedLaw is a [Law] seen from a preloaded position: its travel 0 is the
// other law's travel at the preload, and its energy is counted from there.
// Make one with [NewPreloaded].
type PreloadedLaw struct {
	line    polyline // what it is where all rates are constant; law is nil then
	law     Law
	preload units.Length
	stored  float64 // J, in the spring at the preload
}

// NewPreloaded returns a law as it is seen when the spring is compressed by
// preload at full extension. Force and rate are those at x + preload, energy
// counts from the preload on, and the travel is shorter by it. The preload is
// a length from 0 to less than the law's travel; the law is checked as
// [NewSeries] does. The error names "law", "preload" or both.
//
// A [LinearSpring] has its own preload, which leaves its travel as it is: use
// that where the travel is the shock's, and NewPreloaded where it is the
// spring's.
func NewPreloaded(law Law, preload units.Length) (*PreloadedLaw, error) {
	c := units.Checker{Package: "spring"}
	ok := checkLaw(&c, "law", law)
	if units.NonNegative(&c, "preload", preload) && ok {
		preloadFits(&c, preload, law.Travel())
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	if line, ok := asPolyline(law); ok {
		return &PreloadedLaw{line: newPolyline(line.pieces(preload)), preload: preload}, nil
	}
	return &PreloadedLaw{law: law, preload: preload, stored: float64(law.Energy(preload))}, nil
}

// preloadFits checks that a preload, finite and 0 or more, leaves some of a travel.
func preloadFits(c *units.Checker, preload, travel units.Length) bool {
	if travel-preload > polySnap*travel {
		return true
	}
	c.Fail("preload", preload, "less than the travel "+fmt.Sprint(travel), units.ErrConflict)
	return false
}

// Force returns the force in N that resists compression; x is clamped to
// [0, Travel].
func (s *PreloadedLaw) Force(x units.Length) units.Force {
	if s.law == nil {
		return s.line.Force(x)
	}
	return s.law.Force(s.inside(x))
}

// Rate returns the rate in N/m; x is clamped to [0, Travel].
func (s *PreloadedLaw) Rate(x units.Length) units.Stiffness {
	if s.law == nil {
		return s.line.Rate(x)
	}
	return s.law.Rate(s.inside(x))
}

// Energy returns the work in J from travel 0, the preloaded position, to x;
// x is clamped to [0, Travel].
func (s *PreloadedLaw) Energy(x units.Length) units.Energy {
	if s.law == nil {
		return s.line.Energy(x)
	}
	return s.law.Energy(s.inside(x)) - units.Energy(s.stored)
}

// Travel returns the law's travel less the preload.
func (s *PreloadedLaw) Travel() units.Length {
	if s.law == nil {
		return s.line.Travel()
	}
	return s.law.Travel() - s.preload
}

// Preload returns the compression at travel 0.
func (s *PreloadedLaw) Preload() units.Length { return s.preload }

// inside returns the travel of the law beneath; full travel is its full travel.
func (s *PreloadedLaw) inside(x units.Length) units.Length {
	full := s.law.Travel()
	if x >= full-s.preload {
		return full
	}
	return Clamp(x, full) + s.preload
}

// CollarPreload returns the preload that a threaded collar gives when it is
// turned on from where it just touches the spring: turns · thread pitch. The
// turns must be finite and 0 or more, the thread pitch (the distance between
// neighbouring threads) finite and more than 0; the error names every bad
// field.
//
// It is the geometry of a thread, common practice, no source. A collar has a
// least and a greatest preload, marked or in its maker's manual, which win;
// release it fully before a spring is taken off, because a compressed spring
// can injure.
func CollarPreload(turns float64, threadPitch units.Length) (units.Length, error) {
	c := units.Checker{Package: "spring"}
	units.NonNegative(&c, "turns", turns)
	units.Positive(&c, "thread_pitch", threadPitch)
	preload := units.Length(turns) * threadPitch
	if c.OK() {
		units.NonNegative(&c, "turns", preload)
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	return preload, nil
}

// CollarTurns returns how many turns of a threaded collar give a preload,
// counted from where it just touches the spring: preload / thread pitch. See
// [CollarPreload].
func CollarTurns(preload, threadPitch units.Length) (float64, error) {
	c := units.Checker{Package: "spring"}
	units.NonNegative(&c, "preload", preload)
	units.Positive(&c, "thread_pitch", threadPitch)
	turns := float64(preload) / float64(threadPitch)
	if c.OK() {
		units.NonNegative(&c, "preload", turns)
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	return turns, nil
}
