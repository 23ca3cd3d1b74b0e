package coil

import "example.com/wheelrate/units"

// Ends says how a compression spring's last coils are finished. Empty counts
// as [SquaredGround], as shock and fork springs are (common practice).
type Ends string

// The four ways of Machinery's Handbook, 31st ed., table 3 on p. 318, and
// Shigley, table 10-1 (partly seen through its published solutions).
const (
	Plain         Ends = "plain"          // cut off: no dead coil
	PlainGround   Ends = "plain_ground"   // cut off and ground flat: one dead coil
	Squared       Ends = "squared"        // closed: two dead coils
	SquaredGround Ends = "squared_ground" // closed and ground flat: two dead coils
)

// check checks that e is one of the four.
func (e Ends) check(c *units.Checker) {
	switch e {
	case Plain, PlainGround, Squared, SquaredGround:
	default:
		c.Fail("ends", string(e), "one of plain, plain_ground, squared, squared_ground", units.ErrUnknown)
	}
}

// dead is how many coils don't take part: total coils are n + dead.
func (e Ends) dead() float64 {
	switch e {
	case Plain:
		return 0
	case PlainGround:
		return 1
	default:
		return 2
	}
}

// solidTurns is the solid length in wire diameters for N total coils: ground
// ends end flat, the others stand half a wire over at each end.
func (e Ends) solidTurns(total float64) float64 {
	if e == Plain || e == Squared {
		return total + 1
	}
	return total
}

// pitch is the free pitch p of n active coils of wire d in a free length L₀.
func (e Ends) pitch(free, d, n float64) float64 {
	switch e {
	case Plain:
		return (free - d) / n
	case PlainGround:
		return free / (n + 1)
	case Squared:
		return (free - 3*d) / n
	default:
		return (free - 2*d) / n
	}
}
