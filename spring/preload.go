package spring

import (
	"math"

	"example.com/wheelrate/units"
)

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
	rest := m.travel - preload
	// A hair more than the preload, so that the full travel of both is the same.
	start := math.Nextafter(float64(rest-m.travel), math.Inf(-1))
	s := &parallel{members: []Member{{law, units.Length(start)}}, travel: rest, evaluations: m.evaluations}
	s.stored = total(s, 0, Law.Energy)
	return s, nil
}

// checkPreload checks that a preload, finite and 0 or more, leaves some of a travel.
func checkPreload(c *units.Checker, preload, travel units.Length) {
	if !(travel-preload > snap*travel) {
		c.Fail("preload", preload, units.LessThan(travel).Of("travel"), units.ErrConflict)
	}
}
