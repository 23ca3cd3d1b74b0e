package spring

import (
	"math"

	"example.com/wheelrate/units"
)

// probes is how many steps of travel a law that goes into another is checked at.
const probes = 16

// checkLaw checks that a law can be used as part of another: it is there, its
// travel is finite and more than 0, and at evenly spread travels it gives
// finite values, a force that does not fall and a rate that is not negative.
func checkLaw(c *units.Checker, field string, law Law) bool {
	fault, class := faultOf(law)
	if fault == "" {
		return true
	}
	c.Fail(field, nil, fault, class)
	return false
}

// faultOf says what is wanted of a law and not given, if anything.
func faultOf(law Law) (fault string, class error) {
	const want = "a law that answers at every travel, but this one panics"
	if law == nil {
		return "a spring", units.ErrMissing
	}
	defer func() {
		if recover() != nil { // a nil pointer in the interface, for one
			fault, class = want, units.ErrRange
		}
	}()
	travel := law.Travel()
	if !(travel > 0) || math.IsInf(float64(travel), 0) {
		return "a law whose travel is finite and more than 0", units.ErrRange
	}
	before := math.Inf(-1)
	for i := range probes + 1 {
		x := travel * (units.Length(i) / probes)
		force, rate, energy := float64(law.Force(x)), float64(law.Rate(x)), float64(law.Energy(x))
		switch {
		case !finite(force, rate, energy):
			return "a law whose force, rate and energy are finite", units.ErrRange
		case force < before-1e-9*math.Abs(before):
			return "a law whose force does not fall over travel", units.ErrRange
		case rate < 0:
			return "a law whose rate is not negative", units.ErrRange
		}
		before = force
	}
	return "", nil
}

// finite tells whether none of the values is NaN or an infinity.
func finite(values ...float64) bool {
	for _, v := range values {
		if v-v != 0 {
			return false
		}
	}
	return true
}

// answers tells whether a stack gives finite values: members that do each
// alone may be too large or too small together.
func answers(stack Law) bool {
	fault, _ := faultOf(stack)
	return fault == ""
}

// lawWork estimates how many force evaluations of laws of varying rate one
// answer of a law takes.
func lawWork(law Law) float64 {
	switch s := law.(type) {
	case *SeriesStack:
		work := 0.0
		for i := range s.others {
			w := lawWork(s.others[i].law)
			if i > 0 {
				w *= 12 // inverted anew in every step
			}
			work += w
		}
		if len(s.others) > 0 {
			work *= 12
		}
		return work
	case *ParallelStack:
		work := 0.0
		for i := range s.others {
			work += lawWork(s.others[i].Law)
		}
		return work
	case *PreloadedLaw:
		return lawWork(s.law)
	}
	return 1
}
