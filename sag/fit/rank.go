package fit

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// statedSag is the largest miss of a target sag that still counts as on target: sag is stated in
// whole per cents of the travel, and this is half of one.
const statedSag = 0.005

// trial is a target for an end, and what a miss of it is judged against.
type trial struct {
	target   sag.Target
	at       units.Length // stroke of the target
	force    units.Force  // of the spring that carries the load there
	friction units.Force
	reading  units.Length // standard uncertainty of the ring
}

// trial returns the trial of a spec behind a curve.
func (s *Spec) trial(curve *linkage.Curve, load units.Force) (trial, error) {
	c := units.Checker{Package: "sag"}
	t := trial{target: sag.Target{Load: load, Sag: s.Sag}, friction: s.Friction, reading: s.Reading}
	if t.target.Check(&c, curve); c.OK() {
		t.at, t.force = t.target.AtSpring(curve)
	}
	return t, c.Err()
}

// Miss is by how much an end that is at rest misses its target.
type Miss struct {
	Sag       float64       // of the rest less that of the target
	Tolerance float64       // the largest that can't be told from none there; see [Options.Choose]
	Findings  []sag.Finding // about both
}

// MissOf returns where an end rests under the load of a target, and by how much it misses it. The
// reading is the standard uncertainty of a reading of the ring in m, finite and 0 or more. The error
// names every bad field.
func MissOf(end sag.End, target sag.Target, reading units.Length) (sag.Rest, Miss, error) {
	s := Spec{Sag: target.Sag, Friction: end.Friction, Reading: reading}
	c := units.Checker{Package: "sag"}
	units.NonNegative(&c, "reading", reading)
	t, err := s.trial(end.Curve, target.Load)
	if c.Add("", err); !c.OK() {
		return sag.Rest{}, Miss{}, c.Err()
	}
	r, m, err := t.rest(end, []sag.Finding{})
	if err != nil {
		return sag.Rest{}, Miss{}, err
	}
	return r, m, nil
}

// rest returns where an end rests, and by how much it misses the target, with the findings about it
// appended to a list. An end that the load tops or bottoms out is not on target.
func (t *trial) rest(end sag.End, list []sag.Finding) (sag.Rest, Miss, error) {
	r, held, err := end.SettleWithin(t.target.Load)
	m := Miss{Sag: r.Sag - t.target.Sag, Tolerance: statedSag, Findings: list}
	switch {
	case err != nil:
		return r, m, err
	case held == sag.HeldAtTop:
		m.Findings = append(list, held, sag.TooHard)
	case held == sag.Collapses:
		m.Findings = append(list, held, sag.TooSoft)
	default:
		m.Tolerance = t.tolerance(&end, &r, m.Sag)
		m.Findings = append(list, SagFinding(m.Sag, m.Tolerance))
	}
	return r, m, nil
}

// tolerance returns that of a rest within the travel: the largest of half a per cent, two standard
// uncertainties of the ring, and how far friction reaches from the rest to the side of the target.
// Friction that holds the wheel at the target itself reaches as far as that, whether or not the rest
// has a band. Where the wheel force rises all the way the band says the same.
func (t *trial) tolerance(end *sag.End, r *sag.Rest, miss float64) float64 {
	full := float64(end.Curve.Travel())
	tolerance := max(statedSag, min(1, 2*float64(t.reading)*r.LeverRatio/full)) // no miss is more than the travel
	off, reach := math.Abs(miss), float64(r.Travel-r.TravelLow)/full
	if miss < 0 {
		reach = float64(r.TravelHigh-r.Travel) / full
	}
	switch holds := t.at <= end.Law.Travel() && math.Abs(float64(end.Law.Force(t.at)-t.force)) <= float64(t.friction); {
	case holds:
		return max(tolerance, reach, off)
	case reach < off:
		return max(tolerance, reach)
	}
	return tolerance
}

// SagFinding returns the finding for a miss of the target sag: on_target from −tolerance to
// tolerance, too_soft above and too_hard below. Both are fractions of the travel.
func SagFinding(miss, tolerance float64) sag.Finding {
	switch {
	case math.Abs(miss) <= tolerance:
		return sag.OnTarget
	case miss > 0:
		return sag.TooSoft
	}
	return sag.TooHard
}

// Has reports whether a list of findings includes one.
func Has(list []sag.Finding, one sag.Finding) bool { return slices.Contains(list, one) }

// place is what the rank of a spring or a fill follows from.
type place struct {
	index int        // of the spring on the shelf, or of the option
	class int        // 0 if on target, 1 if not; 2 more if it goes solid; less comes first
	by    float64    // less comes first
	left  [2]float64 // at full travel; more comes first
}

// compare orders places.
func (p place) compare(q place) int {
	return cmp.Or(cmp.Compare(p.class, q.class), cmp.Compare(p.by, q.by), cmp.Compare(q.left[0], p.left[0]), cmp.Compare(q.left[1], p.left[1]))
}

// ahead returns why a spring's place is ahead of the next.
func (p place) ahead(next place) Reason {
	switch {
	case p.class/2 != next.class/2:
		return RankedSolid
	case p.class != next.class:
		return RankedOffTarget
	case p.by != next.by && p.class%2 == 1:
		return RankedLargerMiss
	case p.by != next.by:
		return RankedFartherRate
	case p.left != next.left:
		return RankedLessLeft
	}
	return RankedAlike
}
