package spring

import (
	"math"
	"slices"
	"sort"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// probes is how many steps of travel a law that goes into another is checked at.
const probes = 16

// member is a law that goes into another.
type member struct {
	law         Law
	line        *chain // the law where it is a chain, else nil
	travel      units.Length
	forces      [probes + 1]units.Force // evenly spread over the travel
	evaluations float64                 // of laws of varying rate, for an answer
}

// The limits of a set. Joining springs of constant rate takes a time that grows with the square of
// their segments. Other laws are evaluated several times for an answer, and those of a set within
// a set several times more.
const mostSegments, mostEvaluations = 1_000, 3_000

// What a set must keep to: limits, and tooGreat where its members do not add up.
const (
	limits   = "at most 1000 straight segments, 32 other laws in a series, and 3000 evaluations of such laws for an answer"
	tooGreat = "rates and travels whose force and energy float64 can hold"
)

// gather returns laws that are to go into a set, not yet checked. It returns nil, with an error at
// field, if the set would pass its limits: most laws of varying rate, each evaluated so many times.
func gather(c *units.Checker, field string, laws []Law, most int, each float64) []member {
	list := make([]member, 0, min(len(laws), mostSegments))
	segments, others, evaluations := 0, 0, 0.0
	for _, law := range laws {
		m := weigh(law)
		if m.line != nil {
			segments += len(m.line.knots)
		} else {
			others, evaluations = others+1, evaluations+each*m.evaluations
		}
		if segments > mostSegments || others > most || evaluations > mostEvaluations {
			c.Fail(field, nil, limits, nil)
			return nil
		}
		list = append(list, m)
	}
	return list
}

// weigh returns a law with its chain and its cost, without evaluating it.
func weigh(law Law) (m member) {
	m = member{law: law, evaluations: 1}
	defer func() { _ = recover() }() // inspect panics again
	if set, ok := law.(interface{ cost() float64 }); ok {
		m.evaluations = set.cost()
	}
	if line, ok := law.(Polyline); ok {
		if list := line.Segments(); len(list) > 0 {
			line := newChain(list)
			m.line = &line
		}
	}
	return m
}

// check reports whether the member keeps the contract of Law, and records what it lacks.
func (m *member) check(c *units.Checker, field string) bool {
	want := m.inspect()
	if want != "" {
		c.Fail(field, nil, want, ErrLaw)
	}
	return want == ""
}

// inspect checks the contract of Law at evenly spread travels, and records the forces there. It
// returns what the law lacks, "" if nothing.
func (m *member) inspect() (want string) {
	if m.law == nil {
		return "a law"
	}
	defer func() {
		if recover() != nil { // a nil pointer in the interface, for one
			want = "a law that answers at every travel, but this one panics"
		}
	}()
	if m.travel = m.law.Travel(); !(m.travel > 0 && finite(float64(m.travel))) {
		return "a law whose travel is finite and more than 0"
	}
	for i := range m.forces {
		x := m.travel * (units.Length(i) / probes)
		force, rate, energy := m.law.Force(x), m.law.Rate(x), m.law.Energy(x)
		switch m.forces[i] = force; {
		case !finite(float64(force), float64(rate), float64(energy)):
			return "a law whose force, rate and energy are finite"
		case rate < 0:
			return "a law whose rate is not negative"
		}
	}
	rounding := 1e-12 * m.largest()
	for i, before := range m.forces[:probes] {
		if m.forces[i+1] < before-1e-9*abs(before)-rounding {
			return "a law whose force does not fall over travel"
		}
	}
	if m.line != nil {
		if !m.isStraight() {
			return "a law whose segments agree with its travel and force"
		}
		m.line.travel = m.travel // to the last place
	}
	return ""
}

// isStraight reports whether the law is its line at the probes.
func (m *member) isStraight() bool {
	const near = 1e-9 // of the travel, for the jumps, and of the force
	off, slack := near*m.travel, near*m.largest()
	ok := abs(m.line.travel-m.travel) <= off
	for i, force := range m.forces {
		x := m.travel * units.Length(i) / probes
		ok = ok && force >= m.line.Force(x-off)-slack && force <= m.line.Force(x+off)+slack
	}
	return ok
}

// low and high return the forces at the ends of the travel, largest the larger magnitude.
func (m *member) low() units.Force     { return m.forces[0] }
func (m *member) high() units.Force    { return m.forces[probes] }
func (m *member) largest() units.Force { return max(abs(m.low()), abs(m.high())) }

// moves reports whether the law moves between two levels of force, or jumps there.
func (m *member) moves(a, b *level) bool { return m.low() < b.force && m.high() > a.force }

// compliance returns the inverse of the law's rate.
func (m *member) compliance(x units.Length) compliance { return compliance(1 / m.law.Rate(x)) }

// under returns the travel at which the law carries a force: 0 below its forces, the full travel
// above them, the jump where the force lies in one.
func (m *member) under(force units.Force) units.Length {
	switch {
	case force <= m.low():
		return 0
	case force >= m.high():
		return m.travel
	case m.line != nil:
		first, _, _ := m.line.under(force)
		return first
	}
	i := sort.Search(probes, func(i int) bool { return m.forces[i+1] >= force })
	step := float64(m.travel / probes)
	x, _ := root.Refine(func(x float64) float64 { return float64(m.law.Force(units.Length(x)) - force) },
		float64(i)*step, float64(i+1)*step, float64(m.forces[i]-force), float64(m.forces[i+1]-force), 1e-15*float64(m.travel))
	return units.Length(max(x, float64(i)*step)) // x is 0 if the law breaks its contract between the probes
}

func abs[Q ~float64](v Q) Q { return Q(math.Abs(float64(v))) }

// finite reports whether none of the values is NaN or infinite.
func finite(values ...float64) bool {
	return !slices.ContainsFunc(values, func(v float64) bool { return v-v != 0 })
}

// answers reports whether a set answers in numbers: members that each do alone may be too large
// or too small together.
func answers(set Law) bool { return (&member{law: set}).inspect() == "" }
