package linkagetest

import (
	"math"

	"gonum.org/v1/gonum/num/hyperdual"

	"example.com/wheelrate/linkage/mechanism"
)

// Arm is a swingarm on a pivot at the origin, whose motion is known in closed form:
// one eye of the shock is at the radius A and the angle Phi, the other at (D, 0), and
// the axle at the radius R and the angle Axle. Lengths are in mm, angles in rad.
type Arm struct{ A, D, Phi, R, Axle float64 }

// Spec returns the arm with a stroke in mm.
func (g Arm) Spec(stroke float64) mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": At(0, 0), "S2": At(g.D, 0), "S1": At(g.A*math.Cos(g.Phi), g.A*math.Sin(g.Phi)),
			"A": At(g.R*math.Cos(g.Axle), g.R*math.Sin(g.Axle)),
		},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: MM(stroke),
	}
}

// Shock returns the length of the shock in mm at full extension.
func (g Arm) Shock() float64 {
	return math.Sqrt(g.A*g.A + g.D*g.D - 2*g.A*g.D*math.Cos(g.Phi))
}

// DeadPoint returns the stroke in mm at which the pivot and both eyes are in line, so
// that the shock can't get shorter.
func (g Arm) DeadPoint() float64 { return g.Shock() - math.Abs(g.D-g.A) }

// Turn returns by how much the arm has turned clockwise at a stroke s in mm: with
// cos φ = (a² + d² − L²)/2ad for the shock's length L, by as much as φ has fallen.
func (g Arm) Turn(s float64) float64 { return g.turn(s).Real }

// At returns the axle's travel in mm, the lever ratio and its slope in 1/mm at a
// stroke s in mm.
func (g Arm) At(s float64) (travel, ratio, slope float64) {
	angle := hyperdual.Scale(-1, g.turn(s))
	angle.Real += g.Axle
	w := hyperdual.Scale(g.R, hyperdual.Sin(angle))
	return w.Real - g.R*math.Sin(g.Axle), w.E1mag, w.E1E2mag
}

// turn is Turn with both derivatives by the stroke, exact without a difference.
func (g Arm) turn(s float64) hyperdual.Number {
	length := hyperdual.Number{Real: g.Shock() - s, E1mag: -1, E2mag: -1}
	square := hyperdual.Mul(length, length)
	square.Real -= g.A*g.A + g.D*g.D
	angle := hyperdual.Scale(-1, hyperdual.Acos(hyperdual.Scale(-1/(2*g.A*g.D), square)))
	angle.Real += g.Phi
	return angle
}
