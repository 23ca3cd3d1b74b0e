package spring

import "example.com/wheelrate/units"

// NewPreloaded returns the law of a spring that is compressed by preload at full extension. Force
// and rate are those at x + preload, energy counts from the preload on, and the travel is shorter by
// it. The preload is from 0 to less than the law's travel; the law is checked as [NewSeries] does. The
// error names "law", "preload" or both. The rest of a [Polyline] is a Polyline too.
//
// A [LinearSpring] has its own preload, which leaves its travel as it is: use that where the travel
// is the shock's, and NewPreloaded where it is the spring's.
func NewPreloaded(law Law, preload units.Length) (Law, error) {
	c := units.Checker{Package: "spring"}
	var m member
	for _, m = range gather(&c, "law", []Law{law}, mostEvaluations, 1) {
		m.check(&c, "law")
	}
	good := c.OK()
	if units.NonNegative(&c, "preload", preload) && good {
		checkPreload(&c, preload, m.travel)
	}
	switch {
	case !c.OK():
		return nil, c.Err()
	case m.line != nil:
		line := newChain(m.line.after(preload))
		return &line, nil
	}
	return &preloaded{member: m, preload: preload, stored: law.Energy(preload)}, nil
}

// checkPreload checks that a preload, finite and 0 or more, leaves some of a travel.
func checkPreload(c *units.Checker, preload, travel units.Length) {
	if !(travel-preload > snap*travel) {
		c.Fail("preload", preload, "less than the travel "+travel.String(), units.ErrConflict)
	}
}

// preloaded is a law that is no chain from a preload on.
type preloaded struct {
	units.Opaque[preloaded]
	member
	preload units.Length
	stored  units.Energy // in the law at the preload
}

func (s *preloaded) cost() float64 { return s.evaluations }

func (s *preloaded) Force(x units.Length) units.Force { return s.law.Force(s.inside(x)) }

func (s *preloaded) Rate(x units.Length) units.Stiffness { return s.law.Rate(s.inside(x)) }

func (s *preloaded) Energy(x units.Length) units.Energy { return s.law.Energy(s.inside(x)) - s.stored }

func (s *preloaded) Travel() units.Length { return s.travel - s.preload }

func (s *preloaded) String() string { return Describe(s) }

// inside returns the travel of the law beneath; full travel is its full travel.
func (s *preloaded) inside(x units.Length) units.Length {
	if x >= s.Travel() {
		return s.travel
	}
	return Clamp(x, s.travel) + s.preload
}
