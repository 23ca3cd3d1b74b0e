package spring

import (
	"errors"
	"math"
	"sort"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// probes is how many steps of travel a law that goes into another is checked at.
const probes = 16

// member is a law that was found good to go into another.
type member struct {
	law         Law
	line        *chain              // what the law is where it is a chain, else nil
	travel      float64             // m
	forces      [probes + 1]float64 // N, evenly spread over the travel
	evaluations float64             // of laws of varying rate, for an answer
}

// The limits of a set. Joining springs of constant rate takes a time that grows
// with the square of their segments. Other laws are evaluated several times for an
// answer, and those of a set within a set several times more.
const mostSegments, mostEvaluations = 1_000, 3_000

// gather checks laws that are to go into a set, and calls each for every one with
// what the law lacks, "" if nothing. It reports false, before it evaluates any law,
// if the set would pass its limits; cost is how many evaluations the set takes for
// an answer, given n laws of varying rate and the sum of their own evaluations.
func gather(laws []Law, cost func(n int, evaluations float64) float64, each func(i int, m member, want string)) bool {
	list := make([]member, 0, min(len(laws), mostSegments))
	all, n, evaluations := 0, 0, 0.0
	for _, law := range laws {
		m, segments := weigh(law)
		if all += segments; segments == 0 {
			n, evaluations = n+1, evaluations+m.evaluations
		}
		if all > mostSegments || cost(n, evaluations) > mostEvaluations {
			return false
		}
		list = append(list, m)
	}
	for i, m := range list {
		want := m.inspect()
		each(i, m, want)
	}
	return true
}

// What a set must keep to: limits where gather reports false, and tooGreat where
// its members do not add up.
const (
	limits   = "at most 1000 straight segments, 32 other laws in a series, and 3000 evaluations of such laws for an answer"
	tooGreat = "rates and travels whose force and energy float64 can hold"
)

// weigh returns a law with its chain and its cost, without evaluating it.
func weigh(law Law) (m member, segments int) {
	m = member{law: law, evaluations: 1}
	defer func() { _ = recover() }() // inspect panics again
	if set, ok := law.(interface{ cost() float64 }); ok {
		m.evaluations = set.cost()
	}
	if line, ok := law.(Polyline); ok {
		if list := line.Segments(); len(list) > 0 {
			line := newChain(list)
			m.line, segments = &line, len(list)
		}
	}
	return m, segments
}

// inspect checks the contract of Law at evenly spread travels, and records the
// forces there. It returns what the law lacks, "" if nothing.
func (m *member) inspect() (want string) {
	if m.law == nil {
		return "a law"
	}
	defer func() {
		if recover() != nil { // a nil pointer in the interface, for one
			want = "a law that answers at every travel, but this one panics"
		}
	}()
	travel := m.law.Travel()
	if m.travel = float64(travel); !(travel > 0) || math.IsInf(m.travel, 0) {
		return "a law whose travel is finite and more than 0"
	}
	for i := range m.forces {
		x := travel * (units.Length(i) / probes)
		force, rate, energy := float64(m.law.Force(x)), float64(m.law.Rate(x)), float64(m.law.Energy(x))
		switch m.forces[i] = force; {
		case !finite(force, rate, energy):
			return "a law whose force, rate and energy are finite"
		case rate < 0:
			return "a law whose rate is not negative"
		}
	}
	rounding := 1e-12 * max(math.Abs(m.low()), math.Abs(m.high()))
	for i, before := range m.forces[:probes] {
		if m.forces[i+1] < before-1e-9*math.Abs(before)-rounding {
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
	ok := math.Abs(m.line.travel-m.travel) <= near*m.travel
	slack := units.Force(near * max(math.Abs(m.low()), math.Abs(m.high())))
	for i, force := range m.forces {
		x, off := units.Length(m.travel*float64(i)/probes), units.Length(near*m.travel)
		ok = ok && units.Force(force) >= m.line.Force(x-off)-slack && units.Force(force) <= m.line.Force(x+off)+slack
	}
	return ok
}

// low and high return the forces at the ends of the travel.
func (m *member) low() float64  { return m.forces[0] }
func (m *member) high() float64 { return m.forces[probes] }

// under returns the travel at which the law carries a force: 0 below its forces,
// the full travel above them, the jump where the force lies in one.
func (m *member) under(force float64) float64 {
	switch {
	case force <= m.low():
		return 0
	case force >= m.high():
		return m.travel
	}
	i := sort.Search(probes, func(i int) bool { return m.forces[i+1] >= force })
	step := m.travel / probes
	x, err := root.Refine(func(x float64) float64 { return float64(m.law.Force(units.Length(x))) - force },
		float64(i)*step, float64(i+1)*step, m.forces[i]-force, m.forces[i+1]-force, 1e-15*m.travel)
	if err != nil && !errors.Is(err, root.ErrJump) {
		return float64(i) * step // the law breaks its contract between the probes
	}
	return x
}

// finite reports whether none of the values is NaN or infinite.
func finite(values ...float64) bool {
	for _, v := range values {
		if v-v != 0 {
			return false
		}
	}
	return true
}

// answers reports whether a set answers in numbers: members that each do alone
// may be too large or too small together.
func answers(set Law) bool {
	m := member{law: set}
	return m.inspect() == ""
}
