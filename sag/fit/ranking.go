package fit

import (
	"fmt"

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
	if _, best, err := r.Lead(0, load); err == nil {
		return best
	}
	return -1
}

// Recommend is [Options.Choose] with the recommended spring as the only candidate, and without the springs
// between which the exact rate is. It takes about a third of the time, as the bands of friction of the others
// are not worked out.
func (o *Options) Recommend(load units.Force) (Choice, error) {
	best := o.spec.Best(o.curve, load)
	if best < 0 {
		return o.Choose(load)
	}
	one := *o
	one.spec.Coil = &Shelf{Springs: o.spec.Coil.Springs[best : best+1], Collar: o.spec.Coil.Collar}
	choice, err := one.Choose(load)
	if err == nil {
		choice.Coil.Candidates[0].Index, choice.Coil.Between = best, Neighbours{}
	}
	return choice, err
}

// Ranking ranks the springs of a shelf behind a curve under one load after another.
type Ranking struct {
	units.Opaque[Ranking]
	*bench
}

// Ranking returns the ranking of the shelf of a checked spec behind a curve in place of its own; nil
// without a shelf or a curve.
func (s *Spec) Ranking(curve *linkage.Curve) *Ranking {
	if s.Coil == nil || curve == nil {
		return nil
	}
	return &Ranking{bench: s.Coil.bench(sag.End{Curve: curve}, s.trial(curve))} // without friction there is no band to work out
}

// Lead returns by how much spring i is ahead of the best of the others under a sprung load at the
// wheel in N, finite and at least 1e-150: more than 0 if it is the one that is recommended. It changes with
// the load without a jump, but for springs that go solid or are loose. A spring that is alone on its shelf
// leads by 4, more than any two have between them. Best is the index of the recommended spring, as that of
// [Spec.Best]. The error names load, a spring of the shelf as that of [Options.Choose] does, or spring for
// an index that the shelf does not have.
func (r *Ranking) Lead(i int, load units.Force) (lead float64, best int, err error) {
	c := units.Checker{Package: "sag"}
	sag.CheckLoad(&c, load)
	if n := len(r.Springs); i < 0 || i >= n {
		c.Fail("spring", i, units.From(0, n-1), nil)
	}
	if c.OK() {
		c.Add("", r.under(load))
	}
	if !c.OK() {
		return 0, -1, c.Err()
	}
	var room [mostFindings]sag.Finding
	own, other := place{}, place{index: -1}
	for k := range r.Springs {
		one := CoilCandidate{AtRest: AtRest{Findings: room[:0]}}
		switch p, err := r.try(k, &one); {
		case err != nil:
			return 0, -1, units.At(fmt.Sprintf("coil.shelf[%d]", k), err)
		case k == i:
			own = p
		case other.index < 0 || p.compare(other) < 0:
			other = p
		}
	}
	if other.index < 0 {
		return 4, i, nil
	}
	if lead = own.lead(other); lead > 0 {
		return lead, i, nil
	}
	return lead, other.index, nil
}
