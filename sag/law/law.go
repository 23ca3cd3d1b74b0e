package law

import (
	"slices"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Spec is a spring as data, from full extension on: exactly one of its fields.
type Spec = Kinds[Coil]

// Kinds is a spring as data, of which exactly one field is given: its kind. C is how a coil spring is
// described, [Coil] in a [Spec].
type Kinds[C Builder] struct {
	Linear      *spring.Linear    `json:"linear,omitempty"`       // one of constant rate
	DualRate    *spring.DualRate  `json:"dual_rate,omitempty"`    // a soft spring that is stopped, on top of a main one
	Series      []Kinds[C]        `json:"series,omitempty"`       // springs on end, which share the force
	Parallel    []Member[C]       `json:"parallel,omitempty"`     // springs side by side, which share the travel
	Groups      []spring.Group    `json:"groups,omitempty"`       // a progressive spring, by its groups of coils
	LinearPitch *coil.LinearPitch `json:"linear_pitch,omitempty"` // a progressive spring whose pitch widens evenly
	Coil        *C                `json:"coil,omitempty"`         // a coil spring of constant rate, by its wire
	Air         *airspring.Spec   `json:"air,omitempty"`          // an air spring, with its fill
}

// Member is a spring of several side by side.
type Member[C Builder] struct {
	Law      Kinds[C]     `json:"law"`
	StartsAt units.Length `json:"starts_at,omitempty"` // travel from which on it is compressed, 0 or more
}

// Builder is a description of a spring that makes its law. Build records everything that is wrong with
// the description, and then returns nil.
type Builder interface {
	Build(c *units.Checker) spring.Law
}

// Coil is a coil spring by its wire, put in with a preload: its free length, and so its travel to solid, is
// needed.
type Coil struct {
	coil.Spec
	Preload units.Length `json:"preload,omitempty"` // compression at full extension, 0 or more and less than the travel to solid
}

// Build makes the law of a coil spring by [coil.Spring.WithPreload].
func (s Coil) Build(c *units.Checker) spring.Law {
	made, err := coil.New(s.Spec)
	c.Add("", err)
	return Installed(c, made, s.Preload)
}

// Installed returns the law of a coil spring that is put in with a preload in m, or records what is wrong
// with the preload and returns nil. A spring that c has faults of already has none.
func Installed(c *units.Checker, s *coil.Spring, preload units.Length) spring.Law {
	if !c.OK() {
		units.NonNegative(c, "preload", preload)
		return nil
	}
	law, err := s.WithPreload(preload)
	return made(c, "", law, err)
}

// kind is one kind of spring.
type kind struct {
	name  string
	given bool
	build func(c *units.Checker) spring.Law
}

// plain is a kind whose law is made of its description alone.
func plain[S any, L spring.Law](name string, spec *S, build func(S) (L, error)) kind {
	return kind{name, spec != nil, func(c *units.Checker) spring.Law {
		law, err := build(*spec)
		return made(c, name, law, err)
	}}
}

// kinds is the table of them.
func (l *Kinds[C]) kinds() [8]kind {
	return [...]kind{
		plain("linear", l.Linear, spring.NewLinear),
		plain("dual_rate", l.DualRate, spring.NewDualRate),
		{"series", l.Series != nil, l.series},
		{"parallel", l.Parallel != nil, l.parallel},
		{"groups", l.Groups != nil, func(c *units.Checker) spring.Law {
			law, err := spring.NewGroups(spring.Groups{Groups: l.Groups})
			return made(c, "", law, err)
		}},
		plain("linear_pitch", l.LinearPitch, coil.NewLinearPitch),
		{"coil", l.Coil != nil, func(c *units.Checker) spring.Law {
			own := c.Child("coil")
			return (*l.Coil).Build(&own)
		}},
		plain("air", l.Air, airspring.New),
	}
}

// Check records everything that is wrong with a spring.
func (l Kinds[C]) Check(c *units.Checker) { l.Build(c) }

// Build makes the law, or records everything that is wrong with it by its path from the law on,
// such as "parallel[1].law.linear.rate", and returns nil. Without exactly one kind the law as a
// whole is at fault.
func (l Kinds[C]) Build(c *units.Checker) spring.Law {
	list := l.kinds()
	var names []string
	var one *kind
	count := 0
	for i := range list {
		names = append(names, list[i].name)
		if list[i].given {
			one, count = &list[i], count+1
		}
	}
	if count == 1 {
		return one.build(c)
	}
	class := units.ErrMissing
	if count > 1 {
		class = units.ErrConflict
	}
	c.Fail("", nil, units.Want{Text: "exactly one of " + strings.Join(names, ", "), Needs: names}, class)
	return nil
}

// Springs returns how many springs there are in a spring: 1, or those of a stack.
func (l Kinds[C]) Springs() int {
	n := len(l.Groups)
	for i := range l.Series {
		n += l.Series[i].Springs()
	}
	for i := range l.Parallel {
		n += l.Parallel[i].Law.Springs()
	}
	return max(1, n)
}

// Gas reports whether a spring is an air spring, or has one in its stack.
func (l Kinds[C]) Gas() bool {
	return l.Air != nil || slices.ContainsFunc(l.Series, Kinds[C].Gas) ||
		slices.ContainsFunc(l.Parallel, func(m Member[C]) bool { return m.Law.Gas() })
}

// made records a constructor's error at a name. Without one it returns the law.
func made[L spring.Law](c *units.Checker, name string, law L, err error) spring.Law {
	if err != nil {
		c.Add(name, err)
		return nil
	}
	return law
}

func (l *Kinds[C]) series(c *units.Checker) spring.Law {
	own := c.Child("")
	laws := make([]spring.Law, len(l.Series))
	for i, spec := range l.Series {
		element := own.Element("series", i)
		laws[i] = spec.Build(&element)
	}
	if !own.OK() {
		return nil
	}
	stack, err := spring.NewSeries(laws...)
	return made(c, "", stack, renamed(err, "laws", "series"))
}

func (l *Kinds[C]) parallel(c *units.Checker) spring.Law {
	own := c.Child("")
	members := make([]spring.Member, len(l.Parallel))
	for i, spec := range l.Parallel {
		element := own.Element("parallel", i)
		law := element.Child("law")
		members[i] = spring.Member{Law: spec.Law.Build(&law), StartsAt: spec.StartsAt}
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

// renamed gives the list that a constructor of stacks calls from the name that it has in data.
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
