package fit

import (
	"errors"
	"slices"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// How many springs the law of one spring of a shelf may be made of, and those of all: each takes time at every trial.
const mostInLaw, mostInLaws = 30, 200

// Check records what is wrong with a spring.
func (s ShelfSpring) Check(c *units.Checker) {
	if s.Spec == nil && s.Law == nil {
		units.Positive(c, "rate", s.Rate)
		units.Between(c, "solid_travel", s.SolidTravel, 0, MostCompression)
		return
	}
	if s.Rate != 0 {
		c.Fail("rate", s.Rate, "nothing beside a law", units.ErrConflict)
	}
	own := c.Child("law")
	solid := units.Between(c, "solid_travel", s.SolidTravel, 0, MostCompression)
	if s.Spec != nil && s.Law != nil {
		own.Fail("", nil, "one law", units.ErrConflict)
		return
	}
	one := s.Law
	if s.Spec != nil {
		if n := s.Spec.Springs(); n > mostInLaw {
			own.Fail("", n, units.AtMost(mostInLaw).Count("springs"), units.ErrRange)
			return
		}
		if one = s.Spec.Build(&own); one == nil {
			return
		}
	}
	if _, err := spring.NewPreloaded(one, 0); err != nil {
		c.Add("", err)
		return
	}
	if one.Travel() > MostCompression {
		own.Fail("", one.Travel(), units.AtMost(MostCompression).With("the travel of a law"), units.ErrRange)
	}
	if solid && s.SolidTravel > 0 {
		one = stopped(one, s.SolidTravel)
	}
	if !(one.Force(one.Travel()) > 0) {
		own.Fail("", nil, "a law that pushes at full travel", spring.ErrLaw)
	}
}

// Compiled returns a checked spring with its law in Law, and no Spec; of one that is not checked, the zero
// ShelfSpring. A law takes the SolidTravel too.
func (s ShelfSpring) Compiled() ShelfSpring {
	if s.Spec != nil {
		var c units.Checker
		if s.Law, s.Spec = s.Spec.Build(&c), nil; s.Law == nil {
			return ShelfSpring{}
		}
	}
	if s.Law != nil && s.SolidTravel > 0 {
		s.Law, s.SolidTravel = stopped(s.Law, s.SolidTravel), 0
	}
	return s
}

// compiled returns a checked shelf with its springs compiled: itself, if they are.
func (s *Shelf) compiled() *Shelf {
	todo := func(one ShelfSpring) bool { return one.Spec != nil || one.Law != nil && one.SolidTravel > 0 }
	if !slices.ContainsFunc(s.Springs, todo) {
		return s
	}
	made := &Shelf{Springs: slices.Clone(s.Springs), Collar: s.Collar}
	for i, one := range made.Springs {
		made.Springs[i] = one.Compiled()
	}
	return made
}

// Gas reports whether a spring of the shelf has an air spring in it.
func (s *Shelf) Gas() bool {
	return slices.ContainsFunc(s.Springs, func(one ShelfSpring) bool { return one.Spec != nil && one.Spec.Gas() })
}

// Describe returns what the law of a checked spring is, for people, as [spring.Describe] does; the empty
// string for a spring of constant rate.
func (s ShelfSpring) Describe() string {
	if s = s.Compiled(); s.Law == nil {
		return ""
	}
	return spring.Describe(s.Law)
}

// leastFree is the least part of its travel that a spring keeps beyond the preload.
const leastFree = 0.001

// solid returns how far a spring compresses from free to solid; 0 if that is unknown.
func (s ShelfSpring) solid() units.Length {
	if s.Law != nil {
		return s.Law.Travel()
	}
	return s.SolidTravel
}

// Preloaded returns a spring as it acts within a stroke, with a preload: both in m, the stroke more
// than 0, the preload 0 or more and less than the travel to solid. The error names every bad field.
func (s ShelfSpring) Preloaded(stroke, preload units.Length) (spring.Law, error) {
	if s = s.Compiled(); s.Law != nil {
		return spring.NewPreloaded(s.Law, preload)
	}
	return s.linear(stroke, preload)
}

// linear is Preloaded for a spring of constant rate.
func (s ShelfSpring) linear(stroke, preload units.Length) (spring.LinearSpring, error) {
	if s.SolidTravel > 0 {
		stroke = min(stroke, s.SolidTravel-preload)
	}
	return spring.NewLinear(spring.Linear{Rate: s.Rate, Travel: stroke, Preload: preload})
}

// PreloadFor returns the preload with which a spring of a checked shelf carries a force in N at a
// stroke in m: below 0 if it carries more without any. For a spring whose rate varies it solves
// F(stroke + preload) = force, beyond its solid travel with the rate that it has there.
func (s ShelfSpring) PreloadFor(force units.Force, stroke units.Length) units.Length {
	if s = s.Compiled(); s.Law == nil {
		return units.Length(float64(force)/float64(s.Rate)) - stroke // as in sag.RequiredPreload
	}
	travel := float64(s.Law.Travel())
	excess := func(x float64) float64 { return float64(s.Law.Force(units.Length(x)) - force) }
	x, err := root.Find(excess, 0, travel, 1e-13*travel) // where the force jumps, it is the jump
	if errors.Is(err, root.ErrNoBracket) && excess(0) < 0 {
		x = travel
		const far = 1e6 // travels: no preload, but a number
		if more := -excess(travel) / float64(s.Law.Rate(s.Law.Travel())); more < far*travel {
			x += more
		}
	}
	return units.Length(x) - stroke
}

// RateAt returns the rate of the spring of constant rate that carries what this one does at a
// compression in m, more than 0, from its free length: its own where that is constant.
func (s ShelfSpring) RateAt(compression units.Length) units.Stiffness {
	if s = s.Compiled(); s.Law == nil {
		return s.Rate
	}
	return units.Stiffness(float64(s.Law.Force(compression)) / float64(compression))
}

// Scaled returns a spring that pushes harder by a factor, finite and more than 0, at every compression.
func (s ShelfSpring) Scaled(factor float64) ShelfSpring {
	if s = s.Compiled(); s.Law != nil {
		s.Law = altered{Law: s.Law, travel: s.Law.Travel(), by: factor}
		return s
	}
	s.Rate *= units.Stiffness(factor)
	return s
}

// altered is a law that ends at a travel, at most its own, and whose force is multiplied.
type altered struct {
	units.Opaque[altered]
	spring.Law
	travel units.Length
	by     float64
}

// stopped returns a law that ends at a travel, more than 0: the law itself if that is not less than its own.
func stopped(law spring.Law, travel units.Length) spring.Law {
	if !(travel < law.Travel()) {
		return law
	}
	return altered{Law: law, travel: travel, by: 1}
}

func (l altered) Travel() units.Length { return l.travel }

func (l altered) Force(x units.Length) units.Force {
	return l.Law.Force(spring.Clamp(x, l.travel)) * units.Force(l.by)
}

func (l altered) Energy(x units.Length) units.Energy {
	return l.Law.Energy(spring.Clamp(x, l.travel)) * units.Energy(l.by)
}

// Rate returns the left-hand rate where the law is stopped, which may have a kink there.
func (l altered) Rate(x units.Length) units.Stiffness {
	if x = spring.Clamp(x, l.travel); l.travel < l.Law.Travel() {
		x = min(x, l.travel*(1-1e-9))
	}
	return l.Law.Rate(x) * units.Stiffness(l.by)
}

func (l altered) String() string { return spring.Describe(l) }
