package main

import (
	"fmt"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// law is a spring without gas: exactly one of the kinds. They have the names of
// the reference dataset's check cases.
type law struct {
	Linear      *spring.Linear    `json:"linear,omitempty"`
	DualRate    *spring.DualRate  `json:"dual_rate,omitempty"`
	Groups      []spring.Group    `json:"groups,omitempty"`
	LinearPitch *coil.LinearPitch `json:"linear_pitch,omitempty"`
	Series      []law             `json:"series,omitempty"`
	Parallel    []member          `json:"parallel,omitempty"`
}

// member is a spring side by side with others.
type member struct {
	Law      law          `json:"law"`
	StartsAt units.Length `json:"starts_at,omitempty"`
}

// kinds is how many kinds are given.
func (l law) kinds() int {
	n := 0
	for _, given := range []bool{l.Linear != nil, l.DualRate != nil, l.Groups != nil, l.LinearPitch != nil, l.Series != nil, l.Parallel != nil} {
		if given {
			n++
		}
	}
	return n
}

// build makes the spring; what is wrong with it goes to the checker, under the
// field's name, and the spring is then nil.
func (l law) build(c *units.Checker, field string) spring.Law {
	if l.kinds() != 1 {
		c.Fail(field, nil, "exactly one of linear, dual_rate, groups, linear_pitch, series, parallel", units.ErrConflict)
		return nil
	}
	switch {
	case l.Linear != nil:
		made, err := spring.NewLinear(*l.Linear)
		return good(c, field+".linear", made, err)
	case l.DualRate != nil:
		made, err := spring.NewDualRate(*l.DualRate)
		return good(c, field+".dual_rate", made, err)
	case l.Groups != nil:
		made, err := spring.NewGroups(spring.Groups{Groups: l.Groups})
		return good(c, field, made, err) // which calls them groups itself
	case l.LinearPitch != nil:
		made, err := coil.NewLinearPitch(*l.LinearPitch)
		return good(c, field+".linear_pitch", made, err)
	case l.Series != nil:
		laws, whole := make([]spring.Law, len(l.Series)), true
		for i, one := range l.Series {
			laws[i] = one.build(c, fmt.Sprintf("%s.series[%d]", field, i))
			whole = whole && laws[i] != nil
		}
		if !whole {
			return nil
		}
		made, err := spring.NewSeries(laws...)
		return good(c, field+".series", made, err)
	default:
		members, whole := make([]spring.Member, len(l.Parallel)), true
		for i, one := range l.Parallel {
			members[i] = spring.Member{Law: one.Law.build(c, fmt.Sprintf("%s.parallel[%d].law", field, i)), StartsAt: one.StartsAt}
			whole = whole && members[i].Law != nil
		}
		if !whole {
			return nil
		}
		made, err := spring.NewParallel(members...)
		return good(c, field+".parallel", made, err)
	}
}

// good keeps a nil pointer from hiding in the interface beside an error.
func good(c *units.Checker, field string, made spring.Law, err error) spring.Law {
	c.Add(field, err)
	if err != nil {
		return nil
	}
	return made
}
