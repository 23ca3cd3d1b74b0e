package drivetrain_test

import (
	"fmt"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Each point of the drawing is moved, and mechanism and drive are made anew.
func TestGradientIsThatOfTheDriveMadeAnew(t *testing.T) {
	eachDrive(t, func(t *testing.T, k *mechanism.Mechanism, of drivetrain.Spec, _ *drivetrain.Drive) {
		for _, ground := range []drivetrain.Ground{drivetrain.GroundLevel, drivetrain.GroundFront} {
			for _, brake := range []string{"", mechanism.Frame} {
				of.Ground, of.BrakeOn = ground, brake
				d, err := drivetrain.New(k, of)
				if err != nil {
					t.Fatal(err)
				}
				stroke := k.Stroke() * 0.8
				g := d.PoseGradient(stroke)
				gradients := []mechanism.Gradient{g.AntiSquat, g.AntiRise, g.ChainGrowth, g.KickbackWheelFixed, g.KickbackWheelRolling}
				for point := range k.Spec().Points {
					for axis := range 2 {
						numbers := func(by units.Length) []float64 {
							moved := k.Spec()
							at := moved.Points[point]
							at[axis] += by
							moved.Points[point] = at
							p, err := mechanism.New(moved)
							if err != nil {
								t.Fatal(err)
							}
							d, err := drivetrain.New(p, of)
							if err != nil {
								t.Fatal(err)
							}
							q := d.At(stroke)
							return []float64{q.AntiSquat, q.AntiRise, float64(q.ChainGrowth), float64(q.KickbackWheelFixed), float64(q.KickbackWheelRolling)}
						}
						const h = 2e-6
						before, after := numbers(-h), numbers(h)
						for i, of := range gradients {
							unitstest.Near(t, fmt.Sprint(ground, brake, " ", point, axis, " number ", i), k.PointGradient(of, point)[axis], (after[i]-before[i])/(2*h), unitstest.Abs(2e-6), unitstest.Rel(1e-6))
						}
					}
				}
			}
		}
	})
}
