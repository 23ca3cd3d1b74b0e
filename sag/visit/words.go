package visit

import (
	"fmt"

	"example.com/wheelrate/units"
)

// Text returns what to set, in few words.
func (a Correction) Text() string {
	if a.Coil != nil {
		if list := a.Coil.PreloadSpacers; len(list) > 0 {
			return fmt.Sprintf("%s, of which %s by the collar and the rest by %s", preloadText(a.Coil.Preload, 0), a.Coil.CollarPreload.Both(), spacersText(len(list)))
		}
		return preloadText(a.Coil.Preload, a.Coil.Turns)
	}
	return a.Air.Fill.Both().String()
}

// Text returns how an end is set, in few words.
func (s Setting) Text() string {
	if s.Coil != nil {
		name := s.Coil.Describe()
		if name == "" {
			name = s.Coil.Rate.Both().CustomaryFirst()
		}
		return fmt.Sprintf("spring %s, %s", name, preloadText(s.Coil.Preload, s.Coil.turns(s.Coil.Preload)))
	}
	return fmt.Sprintf("fill %s, %s", s.Air.Fill.Both(), spacersText(s.Air.Spacers))
}

// Text returns what to set for an option, in few words.
func (o RideOption) Text() string {
	switch o.Adjustment {
	case AdjustSpacers:
		return fmt.Sprintf("%s and %s", spacersText(o.Spacers), o.Fill.Both())
	case AdjustFill:
		return fmt.Sprintf("a fill of %s", o.Fill.Both())
	case AdjustRate:
		return fmt.Sprintf("a spring of %s with %s", o.Rate.Both().CustomaryFirst(), preloadText(o.Preload, 0))
	}
	return "the same spring with " + preloadText(o.Preload, 0)
}

// spacersText returns a number of spacers.
func spacersText(n int) string {
	if n == 1 {
		return "1 spacer"
	}
	return fmt.Sprint(n) + " spacers"
}

// preloadText returns a preload with its turns, if these are known.
func preloadText(preload units.Length, turns float64) string {
	if turns > 0 {
		return fmt.Sprintf("%s of preload, %.2f turns from free", preload.Both(), turns)
	}
	return preload.Both().String() + " of preload"
}
