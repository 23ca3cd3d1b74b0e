package evaluate

import (
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

// build makes the law, or records everything that is wrong with it by its path from the law on,
// such as "parallel[1].law.linear.rate", and returns nil. Without exactly one kind the law as a
// whole is at fault.
func (l lawSpec) build(c *units.Checker) spring.Law {
	count := 0
	for _, given := range []bool{l.Linear != nil, l.Series != nil, l.Parallel != nil, l.Groups != nil, l.LinearPitch != nil, l.Coil != nil, l.Air != nil} {
		if given {
			count++
		}
	}
	switch {
	case count != 1:
		class := units.ErrMissing
		if count > 1 {
			class = units.ErrConflict
		}
		c.Fail("", nil, "exactly one of linear, series, parallel, groups, linear_pitch, coil, air", class)
		return nil
	case l.Linear != nil:
		law, err := spring.NewLinear(*l.Linear)
		return made(c, "linear", law, err)
	case l.Series != nil:
		return l.series(c)
	case l.Parallel != nil:
		return l.parallel(c)
	case l.Groups != nil:
		law, err := spring.NewGroups(spring.Groups{Groups: l.Groups})
		return made(c, "", law, err)
	case l.LinearPitch != nil:
		law, err := coil.NewLinearPitch(*l.LinearPitch)
		return made(c, "linear_pitch", law, err)
	case l.Coil != nil:
		own := c.Child("coil")
		s := l.Coil.build(&own)
		if !own.OK() {
			units.NonNegative(&own, "preload", l.Coil.Preload)
			return nil
		}
		law, err := s.WithPreload(l.Coil.Preload)
		return made(&own, "", law, err)
	}
	law, err := airspring.New(*l.Air)
	return made(c, "air", law, err)
}

// made records a constructor's error at a name. Without one it returns the law.
func made[L spring.Law](c *units.Checker, name string, law L, err error) spring.Law {
	if err != nil {
		c.Add(name, err)
		return nil
	}
	return law
}

func (l lawSpec) series(c *units.Checker) spring.Law {
	own := c.Child("")
	laws := make([]spring.Law, len(l.Series))
	for i, spec := range l.Series {
		element := own.Element("series", i)
		laws[i] = spec.build(&element)
	}
	if !own.OK() {
		return nil
	}
	stack, err := spring.NewSeries(laws...)
	return made(c, "", stack, renamed(err, "laws", "series"))
}

func (l lawSpec) parallel(c *units.Checker) spring.Law {
	own := c.Child("")
	members := make([]spring.Member, len(l.Parallel))
	for i, spec := range l.Parallel {
		element := own.Element("parallel", i)
		law := element.Child("law")
		members[i] = spring.Member{Law: spec.Law.build(&law), StartsAt: spec.StartsAt}
	}
	if !own.OK() {
		for i, m := range members {
			element := own.Element("parallel", i)
			units.NonNegative(&element, "starts_at", m.StartsAt)
		}
		return nil
	}
	stack, err := spring.NewParallel(members...)
	return made(c, "", stack, renamed(err, "members", "parallel"))
}

// renamed gives the list that a constructor of stacks calls from the name that it has in a case.
func renamed(err error, from, to string) error {
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
