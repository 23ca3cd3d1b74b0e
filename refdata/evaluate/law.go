package evaluate

import (
	"fmt"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// lawSpec is the "law" of a case: exactly one of the kinds.
type lawSpec struct {
	Linear      *spring.Linear    `json:"linear"`
	Series      []lawSpec         `json:"series"`
	Parallel    []memberSpec      `json:"parallel"`
	Groups      []spring.Group    `json:"groups"`
	LinearPitch *coil.LinearPitch `json:"linear_pitch"`
	Coil        *coilLaw          `json:"coil"`
	Air         *airspring.Spec   `json:"air"`
}

// memberSpec is a spring in a parallel stack.
type memberSpec struct {
	Law      lawSpec      `json:"law"`
	StartsAt units.Length `json:"starts_at"`
}

// coilLaw is a coil spring as in a spring.coil case, put in with a preload.
type coilLaw struct {
	coilGiven
	Preload units.Length `json:"preload"`
}

// build makes the law, or names everything that is wrong with it, by its path
// from the law on, such as "parallel[1].law.linear.rate". Without exactly one
// kind the error names the law as a whole.
func (l lawSpec) build() (spring.Law, error) {
	if n := l.kinds(); n != 1 {
		class := units.ErrMissing
		if n > 1 {
			class = units.ErrConflict
		}
		return nil, &units.FieldError{Package: "evaluate",
			Want: "exactly one of linear, series, parallel, groups, linear_pitch, coil, air", Class: class}
	}
	switch {
	case l.Linear != nil:
		law, err := spring.NewLinear(*l.Linear)
		return lawOr(law, units.At("linear", err))
	case l.Series != nil:
		return buildSeries(l.Series)
	case l.Parallel != nil:
		return buildParallel(l.Parallel)
	case l.Groups != nil:
		law, err := spring.NewGroups(spring.Groups{Groups: l.Groups})
		return lawOr(law, err)
	case l.LinearPitch != nil:
		law, err := coil.NewLinearPitch(*l.LinearPitch)
		return lawOr(law, units.At("linear_pitch", err))
	case l.Coil != nil:
		law, err := l.Coil.build()
		return lawOr(law, units.At("coil", err))
	default:
		law, err := airspring.New(*l.Air)
		return lawOr(law, units.At("air", err))
	}
}

// kinds counts the kinds given.
func (l lawSpec) kinds() int {
	n := 0
	for _, given := range []bool{
		l.Linear != nil, l.Series != nil, l.Parallel != nil, l.Groups != nil, l.LinearPitch != nil, l.Coil != nil, l.Air != nil,
	} {
		if given {
			n++
		}
	}
	return n
}

// lawOr keeps a nil pointer from hiding in the interface beside an error.
func lawOr(law spring.Law, err error) (spring.Law, error) {
	if err != nil {
		return nil, err
	}
	return law, nil
}

func buildSeries(specs []lawSpec) (spring.Law, error) {
	c := units.Checker{Package: "evaluate"}
	laws := make([]spring.Law, len(specs))
	for i, spec := range specs {
		law, err := spec.build()
		c.Add(fmt.Sprintf("series[%d]", i), err)
		laws[i] = law
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	stack, err := spring.NewSeries(laws...)
	return lawOr(stack, renamed(err, "laws", "series"))
}

func buildParallel(specs []memberSpec) (spring.Law, error) {
	c := units.Checker{Package: "evaluate"}
	members := make([]spring.Member, len(specs))
	for i, spec := range specs {
		path := fmt.Sprintf("parallel[%d]", i)
		law, err := spec.Law.build()
		c.Add(path+".law", err)
		members[i] = spring.Member{Law: law, StartsAt: spec.StartsAt}
	}
	if !c.OK() {
		for i, m := range members {
			units.NonNegative(&c, fmt.Sprintf("parallel[%d].starts_at", i), m.StartsAt)
		}
		return nil, c.Err()
	}
	stack, err := spring.NewParallel(members...)
	return lawOr(stack, renamed(err, "members", "parallel"))
}

// renamed gives the list that a constructor calls from the name it has in a
// case, in every field of err.
func renamed(err error, from, to string) error {
	if err == nil {
		return nil
	}
	c := units.Checker{}
	for _, f := range units.Fields(err) {
		moved := *f
		if rest, ok := strings.CutPrefix(f.Field, from); ok {
			moved.Field = to + rest
		}
		c.Add("", &moved)
	}
	return c.Err()
}

// build makes the spring and puts it in with its preload.
func (l coilLaw) build() (spring.Law, error) {
	coil, err := l.coilGiven.build()
	if err != nil {
		c := units.Checker{Package: "evaluate"}
		c.Add("", err)
		units.NonNegative(&c, "preload", l.Preload)
		return nil, c.Err()
	}
	law, err := coil.WithPreload(l.Preload)
	return lawOr(law, err)
}
