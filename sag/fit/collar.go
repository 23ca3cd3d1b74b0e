package fit

import (
	"math"

	"example.com/wheelrate/units"
)

// Collar is the adjuster that preloads a coil spring.
type Collar struct {
	PreloadMin units.Length `json:"preload_min,omitempty"` // compression of the spring at full extension
	PreloadMax units.Length `json:"preload_max,omitempty"`
	// ThreadPitch is the collar's advance per turn, 0.001 mm or more. 0 means unknown; otherwise
	// preload is rounded to whole quarter turns.
	ThreadPitch units.Length `json:"thread_pitch,omitempty"`
}

// leastPitch keeps turns within the range of float64.
const leastPitch = 1e-6 * units.Metre

// Check records what is wrong with a collar.
func (j Collar) Check(c *units.Checker) {
	low := units.NonNegative(c, "preload_min", j.PreloadMin)
	high := units.NonNegative(c, "preload_max", j.PreloadMax)
	if low && high && j.PreloadMax < j.PreloadMin {
		c.Fail("preload_max", j.PreloadMax, "preload_min, "+j.PreloadMin.String()+", or more", units.ErrConflict)
	}
	if units.NonNegative(c, "thread_pitch", j.ThreadPitch) && j.ThreadPitch > 0 && j.ThreadPitch < leastPitch {
		c.Fail("thread_pitch", j.ThreadPitch, leastPitch.String()+" or more, or 0 if it is unknown", nil)
	}
}

// Turns returns a preload, or a change of one, in turns of the collar; 0 if the pitch is unknown.
func (j Collar) Turns(preload units.Length) float64 {
	if !(j.ThreadPitch > 0) {
		return 0
	}
	return float64(preload / j.ThreadPitch)
}

// step returns the least change of preload that the collar is set by.
func (j Collar) step() units.Length { return j.ThreadPitch / 4 }

// Set returns the preload within the collar's range that is nearest to the one wanted, in whole
// quarter turns if the pitch is known and any lies within the range.
func (j Collar) Set(wanted units.Length) units.Length {
	p := max(j.PreloadMin, min(wanted, j.PreloadMax))
	if !(j.ThreadPitch > 0) {
		return p
	}
	n := float64(p / j.step())
	for _, whole := range [...]float64{math.Round(n), math.Floor(n), math.Ceil(n)} {
		if q := units.Length(whole) * j.step(); q >= j.PreloadMin && q <= j.PreloadMax {
			return q
		}
	}
	return p
}
