package fit

import (
	"math"

	"example.com/wheelrate/units"
)

// Collar is the adjuster that preloads a coil spring.
type Collar struct {
	PreloadMin units.Length `json:"preload_min,omitempty"` // least compression of a spring at full extension, 0 or more
	PreloadMax units.Length `json:"preload_max,omitempty"` // most compression of a spring at full extension
	// ThreadPitch is the collar's advance per turn, 0.001 mm or more; with it preload is in whole
	// quarter turns. 0 if it is unknown.
	ThreadPitch units.Length `json:"thread_pitch,omitempty"`
	// PreloadSpacers are put under the cap or the collar, any of those at hand: they add their
	// thickness to the preload that the collar gives. A fork without a collar has a PreloadMin and a
	// PreloadMax of the preload that it has without any. At most 20, of 100 mm together.
	PreloadSpacers []PreloadSpacer `json:"preload_spacers,omitempty"`
}

// PreloadSpacer is some spacers of one thickness.
type PreloadSpacer struct {
	Thickness units.Length `json:"thickness"`       // from 0.05 mm
	Count     int          `json:"count,omitempty"` // how many are at hand, at most 50; 0 counts as one
}

// Check records what is wrong with a collar.
func (j Collar) Check(c *units.Checker) {
	const leastPitch = 1e-6 * units.Metre // below it turns leave the range of float64
	low, high := units.Between(c, "preload_min", j.PreloadMin, 0, MostCompression), units.Between(c, "preload_max", j.PreloadMax, 0, MostCompression)
	if low && high && j.PreloadMax < j.PreloadMin {
		c.Fail("preload_max", j.PreloadMax, units.AtLeast(j.PreloadMin).Of("preload_min"), units.ErrConflict)
	}
	if units.NonNegative(c, "thread_pitch", j.ThreadPitch) && j.ThreadPitch > 0 && j.ThreadPitch < leastPitch {
		c.Fail("thread_pitch", j.ThreadPitch, units.AtLeast(leastPitch).With("or 0 if it is unknown"), nil)
	}
	checkSpacers(c, j.PreloadSpacers)
}

// Turns returns a preload in m that the collar gives, or a change of one, in turns. It is 0 if the
// pitch is unknown.
func (j Collar) Turns(preload units.Length) float64 {
	if !(j.ThreadPitch > 0) {
		return 0
	}
	return float64(preload / j.ThreadPitch)
}

// Most returns the most preload in m that the collar and all spacers at hand give together.
func (j Collar) Most() units.Length {
	most := j.PreloadMax
	for _, one := range j.PreloadSpacers {
		most += one.Thickness * units.Length(max(1, one.Count))
	}
	return most
}

// Set returns the preload in m that is nearest to the one wanted, of the collar and the spacers
// together, and the spacers to put in, the thickest first. The collar must pass [Collar.Check].
//
// The collar stays within its range; if its pitch is known, it is at a whole number of quarter turns,
// unless none lies within the range. No more spacers go in than the collar needs. Thicknesses count
// in whole hundredths of a millimetre, and with a known pitch at most 64 sums of them are tried.
func (j Collar) Set(wanted units.Length) (preload units.Length, spacers []units.Length) {
	s := stacks{Collar: &j}
	s.fill()
	preload, _, spacers = s.set(wanted, units.Length(math.Inf(1)))
	return preload, spacers
}

// turn returns the preload within the collar's range that is nearest to the one wanted, at a quarter
// turn if one lies within it.
func (j *Collar) turn(wanted units.Length) units.Length {
	inside := func(p units.Length) units.Length { return max(j.PreloadMin, min(p, j.PreloadMax)) }
	p, step := inside(wanted), j.ThreadPitch/4
	n := units.Length(math.Round(float64(p / step)))
	for _, q := range [...]units.Length{n * step, (n - 1) * step, (n + 1) * step} {
		if math.Abs(float64(inside(q)-q)) <= 1e-12*float64(q) { // within, but for a rounding
			return inside(q)
		}
	}
	return p // no whole quarter turn lies within the range, or the pitch is unknown
}
