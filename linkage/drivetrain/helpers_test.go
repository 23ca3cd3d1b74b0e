package drivetrain_test

import (
	"math"

	"gonum.org/v1/gonum/num/hyperdual"

	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
)

// The helpers of all linkage packages, by short names.
var (
	mm        = linkagetest.MM
	at        = linkagetest.At
	spec      = linkagetest.Spec
	movable   = linkagetest.Movable
	solved    = linkagetest.Solved
	allFinite = linkagetest.AllFinite
	above     = linkagetest.Above
	below     = linkagetest.Below
	strokesOf = linkagetest.Strokes
	badFields = linkagetest.BadFields
	refuses   = linkagetest.Refuses
	named     = linkagetest.Named
)

// arm is a swingarm on a pivot at the origin: one eye of the shock at radius a
// and the angle phi, the other at (d, 0), the axle at radius r and the angle
// axle. Lengths are in mm.
type arm struct{ a, d, phi, r, axle float64 }

func (g arm) mechanism(stroke float64) mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 0), "S2": at(g.d, 0), "S1": at(g.a*math.Cos(g.phi), g.a*math.Sin(g.phi)),
			"A": at(g.r*math.Cos(g.axle), g.r*math.Sin(g.axle)),
		},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(stroke),
	}
}

func (g arm) shock() float64 {
	return math.Sqrt(g.a*g.a + g.d*g.d - 2*g.a*g.d*math.Cos(g.phi))
}

// at returns the axle's travel in mm, the lever ratio and its slope in 1/mm in
// closed form: with cos φ = (a² + d² − L²)/2ad for the shock's length L, the
// arm has turned clockwise by as much as φ has fallen. Hyperdual numbers give
// both derivatives without a difference.
func (g arm) at(s float64) (travel, ratio, slope float64) {
	length := hyperdual.Number{Real: g.shock() - s, E1mag: -1, E2mag: -1}
	square := hyperdual.Mul(length, length)
	square.Real -= g.a*g.a + g.d*g.d
	angle := hyperdual.Acos(hyperdual.Scale(-1/(2*g.a*g.d), square)) // φ
	angle.Real += g.axle - g.phi
	w := hyperdual.Scale(g.r, hyperdual.Sin(angle))
	return w.Real - g.r*math.Sin(g.axle), w.E1mag, w.E1E2mag
}
