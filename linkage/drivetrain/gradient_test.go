package drivetrain_test

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/diff/fd"

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
				for point := range k.Spec().Points {
					for axis := range 2 {
						slope := func(read func(drivetrain.Pose) float64) float64 {
							return fd.Derivative(func(x float64) float64 {
								moved := k.Spec()
								at := moved.Points[point]
								at[axis] += units.Length(x)
								moved.Points[point] = at
								p, err := mechanism.New(moved)
								if err != nil {
									t.Fatal(err)
								}
								d, err := drivetrain.New(p, of)
								if err != nil {
									t.Fatal(err)
								}
								return read(d.At(stroke))
							}, 0, &fd.Settings{Formula: fd.Central, Step: 2e-6})
						}
						near := func(what string, of mechanism.Gradient, read func(drivetrain.Pose) float64) {
							t.Helper()
							unitstest.Near(t, fmt.Sprint(ground, brake, " ", point, axis, " ", what), k.PointGradient(of, point)[axis], slope(read), unitstest.Abs(2e-6), unitstest.Rel(1e-6))
						}
						near("anti-squat", g.AntiSquat, func(p drivetrain.Pose) float64 { return p.AntiSquat })
						near("anti-rise", g.AntiRise, func(p drivetrain.Pose) float64 { return p.AntiRise })
						near("growth", g.ChainGrowth, func(p drivetrain.Pose) float64 { return float64(p.ChainGrowth) })
						near("fixed", g.KickbackWheelFixed, func(p drivetrain.Pose) float64 { return float64(p.KickbackWheelFixed) })
						near("rolling", g.KickbackWheelRolling, func(p drivetrain.Pose) float64 { return float64(p.KickbackWheelRolling) })
					}
				}
			}
		}
	})
}
