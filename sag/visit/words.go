package visit

import (
	"fmt"

	"example.com/wheelrate/units"
)

// setTo returns what a correction sets, in few words.
func setTo(a Correction) string {
	if a.Coil != nil {
		return preloadText(a.Coil.Preload, a.Coil.Turns)
	}
	return a.Air.Fill.Both().String()
}

// settingText returns how an end is set, in few words.
func settingText(s Setting) string {
	if s.Coil != nil {
		return fmt.Sprintf("spring %s, %s", s.Coil.Rate.Both().CustomaryFirst(), preloadText(s.Coil.Preload, s.Coil.Turns(s.Coil.Preload)))
	}
	return fmt.Sprintf("fill %s, %s", s.Air.Fill.Both(), spacersText(s.Air.Spacers))
}

// spacersText returns a number of spacers.
func spacersText(n int) string {
	return fmt.Sprint(n) + either(n == 1, " spacer", " spacers")
}

// preloadText returns a preload with its turns, if these are known.
func preloadText(preload units.Length, turns float64) string {
	if turns > 0 {
		return fmt.Sprintf("%s of preload, %.2f turns from free", preload.Both(), turns)
	}
	return preload.Both().String() + " of preload"
}

// turnsText returns a change of preload in turns of the collar behind a comma, if the pitch is known.
func turnsText(turns float64) string {
	return either(turns != 0, fmt.Sprintf(", %+.2f turns", turns), "")
}

// dropText returns the height of a drop that a ride is compared with.
func dropText(height units.Length) string {
	if height < 0 {
		return "letting the load down on it, or less"
	}
	return "an undamped drop of " + height.Both().String()
}

// optionText returns what to set for an option.
func optionText(o RideOption) string {
	switch o.Adjustment {
	case AdjustSpacers:
		return fmt.Sprintf("%s and %s.", spacersText(o.Spacers), o.Fill.Both())
	case AdjustFill:
		return fmt.Sprintf("A fill of %s.", o.Fill.Both())
	case AdjustRate:
		return fmt.Sprintf("A spring of %s with %s.", o.Rate.Both().CustomaryFirst(), preloadText(o.Preload, 0))
	}
	return fmt.Sprintf("The same spring with %s.", preloadText(o.Preload, 0))
}

// either returns one of two texts.
func either(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}
