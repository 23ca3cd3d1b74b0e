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
	var given, names []string
	var build func(c *units.Checker, name string) spring.Law
	for _, kind := range []struct {
		name  string
		given bool
		build func(c *units.Checker, name string) spring.Law
	}{
		{"linear", l.Linear != nil, func(c *units.Checker, name string) spring.Law {
			law, err := spring.NewLinear(*l.Linear)
			return made(c, name, law, err)
		}},
		{"series", l.Series != nil, l.series},
		{"parallel", l.Parallel != nil, l.parallel},
		{"groups", l.Groups != nil, func(c *units.Checker, _ string) spring.Law {
			law, err := spring.NewGroups(spring.Groups{Groups: l.Groups})
			return made(c, "", law, err)
		}},
		{"linear_pitch", l.LinearPitch != nil, func(c *units.Checker, name string) spring.Law {
			law, err := coil.NewLinearPitch(*l.LinearPitch)
			return made(c, name, law, err)
		}},
		{"coil", l.Coil != nil, l.coil},
		{"air", l.Air != nil, func(c *units.Checker, name string) spring.Law {
			law, err := airspring.New(*l.Air)
			return made(c, name, law, err)
		}},
	} {
		if names = append(names, kind.name); kind.given {
			given, build = append(given, kind.name), kind.build
		}
	}
	if len(given) != 1 {
		class := units.ErrMissing
		if len(given) > 1 {
			class = units.ErrConflict
		}
		c.Fail("", nil, "exactly one of "+strings.Join(names, ", "), class)
		return nil
	}
	return build(c, given[0])
}

// made records a constructor's error at a name. Without one it returns the law.
func made[L spring.Law](c *units.Checker, name string, law L, err error) spring.Law {
	if err != nil {
		c.Add(name, err)
		return nil
	}
	return law
}

func (l lawSpec) series(c *units.Checker, name string) spring.Law {
	own := c.Child("")
	laws := make([]spring.Law, len(l.Series))
	for i, spec := range l.Series {
		element := own.Element(name, i)
		laws[i] = spec.build(&element)
	}
	if !own.OK() {
		return nil
	}
	stack, err := spring.NewSeries(laws...)
	return made(c, "", stack, renamed(err, "laws", name))
}

func (l lawSpec) parallel(c *units.Checker, name string) spring.Law {
	own := c.Child("")
	members := make([]spring.Member, len(l.Parallel))
	for i, spec := range l.Parallel {
		element := own.Element(name, i)
		law := element.Child("law")
		members[i] = spring.Member{Law: spec.Law.build(&law), StartsAt: spec.StartsAt}
	}
	if !own.OK() {
		for i, m := range members {
			element := own.Element(name, i)
			units.NonNegative(&element, "starts_at", m.StartsAt)
		}
		return nil
	}
	stack, err := spring.NewParallel(members...)
	return made(c, "", stack, renamed(err, "members", name))
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

func (l lawSpec) coil(c *units.Checker, name string) spring.Law {
	own := c.Child(name)
	s := l.Coil.build(&own)
	if !own.OK() {
		units.NonNegative(&own, "preload", l.Coil.Preload)
		return nil
	}
	law, err := s.WithPreload(l.Coil.Preload)
	return made(&own, "", law, err)
}
