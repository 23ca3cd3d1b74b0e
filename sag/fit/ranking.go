package fit

import (
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Best returns the index of the spring of the shelf of a checked spec that is recommended behind a curve
// under a sprung load at the wheel: the Index of the first candidate of [Options.Choose]. It is -1 if
// that returns an error, and without a shelf.
func (s *Spec) Best(curve *linkage.Curve, load units.Force) int {
	r := s.Ranking(curve)
	if r == nil {
		return -1
	}
	_, best := r.Lead(0, load)
	return best
}

// Ranking ranks the springs of a shelf behind a curve under one load after another.
type Ranking struct{ *bench }

// Ranking returns the ranking of the shelf of a checked spec behind a curve in place of its own; nil
// without a shelf or a curve.
func (s *Spec) Ranking(curve *linkage.Curve) *Ranking {
	if s.Coil == nil || curve == nil {
		return nil
	}
	return &Ranking{s.Coil.bench(sag.End{Curve: curve}, s.trial(curve))} // without friction there is no band to work out
}

// Lead returns by how much spring i is ahead of the best of the others under a sprung load at the
// wheel: more than 0 if it is the one that is recommended. It changes with the load without a jump,
// but for springs that go solid or are loose. Best is the index of the recommended spring, as that of
// [Spec.Best]; -1, with a lead of NaN, if there is none.
func (r *Ranking) Lead(i int, load units.Force) (lead float64, best int) {
	c := units.Checker{Package: "sag"}
	if sag.CheckLoad(&c, load); !c.OK() || r.under(load) != nil {
		return math.NaN(), -1
	}
	var room [mostFindings]sag.Finding
	own, other := place{index: -1}, place{index: -1}
	for k := range r.Springs {
		one := CoilCandidate{AtRest: AtRest{Findings: room[:0]}}
		switch p, err := r.try(k, &one); {
		case err != nil:
			return math.NaN(), -1
		case k == i:
			own = p
		case other.index < 0 || p.compare(other) < 0:
			other = p
		}
	}
	switch {
	case other.index < 0:
		return math.Inf(1), own.index
	case own.index < 0:
		return math.Inf(-1), other.index
	}
	if lead = own.lead(other); lead > 0 {
		return lead, own.index
	}
	return lead, other.index
}
