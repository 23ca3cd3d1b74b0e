package fit

import (
	"errors"
	"fmt"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// checkLaw records what is wrong with a spring whose rate varies.
func (s ShelfSpring) checkLaw(c *units.Checker, preloadMin units.Length) {
	_, err := spring.NewPreloaded(s.Law, 0)
	if c.Add("", err); err == nil && !(s.Law.Travel()*(1-leastFree) > preloadMin) {
		c.Fail("law", nil, "a travel of more than preload_min, "+preloadMin.String(), units.ErrConflict)
	}
	if err == nil && !(s.Law.Force(s.Law.Travel()) > 0) {
		c.Fail("law", nil, "a law that pushes at full travel", spring.ErrLaw)
	}
	if s.Rate != 0 {
		c.Fail("rate", s.Rate, "nothing beside a law", units.ErrConflict)
	}
	if s.SolidTravel != 0 {
		c.Fail("solid_travel", s.SolidTravel, "nothing beside a law, whose travel it is", units.ErrConflict)
	}
}

// leastFree is the part of a spring's travel that a preload leaves: a bound spring is no spring.
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
	if s.Law != nil {
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
	if s.Law == nil {
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
	if s.Law == nil {
		return s.Rate
	}
	return units.Stiffness(float64(s.Law.Force(compression)) / float64(compression))
}

// Scaled returns a spring that pushes harder by a factor, finite and more than 0, at every compression.
func (s ShelfSpring) Scaled(factor float64) ShelfSpring {
	if s.Law != nil {
		s.Law = scaled{s.Law, factor}
		return s
	}
	s.Rate *= units.Stiffness(factor)
	return s
}

// scaled is a law whose force is multiplied.
type scaled struct {
	spring.Law
	by float64
}

func (l scaled) Force(x units.Length) units.Force    { return l.Law.Force(x) * units.Force(l.by) }
func (l scaled) Rate(x units.Length) units.Stiffness { return l.Law.Rate(x) * units.Stiffness(l.by) }
func (l scaled) Energy(x units.Length) units.Energy  { return l.Law.Energy(x) * units.Energy(l.by) }

// String returns what the law beneath does, and the factor.
func (l scaled) String() string { return fmt.Sprintf("%v × %.6g", spring.Describe(l.Law), l.by) }
