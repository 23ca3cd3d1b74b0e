package coil

import (
	"fmt"

	"example.com/wheelrate/units"
)

// Codes of the warnings of [Spring.Warnings], in the order it gives them.
const (
	WarnIndex = "index_unusual"    // index outside 4 to 12, Shigley
	WarnCoils = "coils_unusual"    // active coils outside 3 to 15, Shigley
	WarnScope = "outside_en_scope" // wire, coils and index outside EN 13906-1's scope
	WarnHelix = "steep_helix"      // the climb of the wire matters more than 1 % of the rate
)

const sourceRanges = "Shigley's Mechanical Engineering Design, eqs. 10-18 and 10-19, seen in the published solution 10-4"

// Warnings returns what is unusual about a coil spring, of which the formulas
// may say less than they seem to; empty where nothing is. Nothing here makes a
// spring wrong:
//
//   - an index outside 4 to 12 (Shigley): below it is hard to wind, and the
//     stress inside the coil grows; above it is slack and tangles
//   - active coils outside 3 to 15 (Shigley): below, the ends' uncertain
//     quarter turn counts for much of the rate. Long fork springs have more
//     than 15 (common practice)
//   - outside the scope of EN 13906-1, cold coiled (wire up to 20 mm, 2 coils or
//     more, index 4 to 20) or hot coiled (wire 8 to 100 mm, 3 coils or more,
//     index 3 to 12), as transcribed in an open-source program; the standard's
//     own text was not opened
//   - a wire that climbs so steeply that [Spring.RateEndsHeld] is more than
//     1 % below [Spring.Rate]; given only where the free length and the
//     modulus of elasticity are known
func (s *Spring) Warnings() []units.Warning {
	if !(s.n > 0) {
		return nil
	}
	var list []units.Warning
	c := s.Index()
	if !within(c, 4, 12) {
		list = append(list, units.Warning{
			Code: WarnIndex, Field: "index", Value: fmt.Sprintf("%.6g", c), Limit: "4 to 12",
			Text: "mean diameter over wire diameter is outside what is usual", Source: sourceRanges,
		})
	}
	if !within(s.n, 3, 15) {
		list = append(list, units.Warning{
			Code: WarnCoils, Field: "active_coils", Value: fmt.Sprintf("%.6g", s.n), Limit: "3 to 15",
			Text: "active coils are outside what is usual; fork springs often have more", Source: sourceRanges,
		})
	}
	cold := within(s.d, 0, 20e-3) && within(s.n, 2, maxCoils) && within(c, 4, 20)
	hot := within(s.d, 8e-3, 100e-3) && within(s.n, 3, maxCoils) && within(c, 3, 12)
	if !cold && !hot {
		list = append(list, units.Warning{
			Code: WarnScope, Value: fmt.Sprintf("%.6g of wire, %.6g coils, index %.6g", s.WireDiameter(), s.n, c),
			Limit: "cold coiled up to 20 mm, 2 coils or more, index 4 to 20; hot coiled 8 mm to 100 mm, 3 coils or more, index 3 to 12",
			Text:  "outside the scope of the standard for coil springs", Source: sourceEN,
		})
	}
	if held, ok := s.RateEndsHeld(); ok && !(held >= 0.99*s.Rate()) {
		list = append(list, units.Warning{
			Code: WarnHelix, Field: "free_length", Value: fmt.Sprintf("%.6g", held), Limit: fmt.Sprintf("%.6g", 0.99*s.Rate()),
			Text: "the wire climbs so steeply that the spring is more than 1 % softer than its simple rate",
		})
	}
	return list
}
