package pivots

import (
	"math"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// floating is an invented linkage with two short links and a floating shock,
// which circles alone don't solve.
func floating() mechanism.Spec {
	at := func(x, y units.Length) mechanism.Point {
		return mechanism.Point{x * units.Millimetre, y * units.Millimetre}
	}
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M1": at(2, 53), "M2": at(-49, 15), "U1": at(-42, 284), "U2": at(-153, 353), "AX": at(-435, 26), "S1": at(70, 299), "S2": at(33, 92),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1"}, "LL": {"M1", "M2", "S2"}, "RT": {"M2", "U2", "AX"}, "UL": {"U1", "U2", "S1"}},
		Axle:   "AX", Shock: [2]string{"S1", "S2"}, Stroke: 55 * units.Millimetre,
	}
}

// deadCrank is an arm whose stroke ends a gap short of the dead point that it
// also returns, in m.
func deadCrank(gap float64) (mechanism.Spec, float64) {
	const a, d, phi = 0.08, 0.25, 0.9
	dead := math.Sqrt(a*a+d*d-2*a*d*math.Cos(phi)) - (d - a)
	return mechanism.Spec{
		Points: map[string]mechanism.Point{"P": {0, 0}, "S1": {units.Length(a * math.Cos(phi)), units.Length(a * math.Sin(phi))}, "S2": {d, 0}, "A": {-0.4, -0.05}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: units.Length(dead - gap),
	}, dead
}
