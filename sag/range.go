package sag

import (
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// list returns which list a range has its springs in, and how many there are.
func (r Range) list() (string, int) {
	if len(r.Laws) > 0 {
		return "laws", len(r.Laws)
	}
	return "rates", len(r.Rates)
}

// given returns the rate of spring i, for errors; nil of a law.
func (r Range) given(i int) any {
	if len(r.Laws) > 0 {
		return nil
	}
	return r.Rates[i]
}

// law returns spring i with the preload.
func (r Range) law(i int, stroke units.Length) (spring.Law, error) {
	if len(r.Laws) > 0 {
		return spring.NewPreloaded(r.Laws[i], r.Preload)
	}
	return spring.NewLinear(spring.Linear{Rate: r.Rates[i], Travel: stroke, Preload: r.Preload})
}
