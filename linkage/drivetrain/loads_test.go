package drivetrain_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Accelerating or braking at its limit, the bike's load goes over to the rear wheel, or off it, by
// forward·h/b. An anti-squat of 1 leaves the shock's force as it was, and any other value a
// share of what the transfer does to it.
func TestAntiSquatIsTheShareOfTheTransferThatTheShockIsSpared(t *testing.T) {
	eachDrive(t, func(t *testing.T, k *mechanism.Mechanism, of drivetrain.Spec, d *drivetrain.Drive) {
		for i := range 5 {
			stroke := k.Stroke() * units.Length(i) / 4
			pose, axle := d.At(stroke), k.Pose(stroke).Axle
			shock := func(up, forward float64) float64 {
				e, err := k.Equilibrium(stroke, d.Loads(stroke, units.Force(up), units.Force(forward))...)
				require.NoError(t, err)
				return float64(e.ShockForce)
			}
			at := k.Pose(0).Axle
			base := float64(of.FrontAxleX - axle[0])
			height := float64(of.MassCentre[1] - (axle[1] - at[1])) // above level ground
			for _, test := range []struct{ forward, share float64 }{{300, pose.AntiSquat}, {-400, pose.AntiRise}} {
				transfer := test.forward * height / base
				unitstest.Near(t, "shock", shock(800+transfer, test.forward)-shock(800, 0), (1-test.share)*(shock(800+transfer, 0)-shock(800, 0)), unitstest.Abs(1e-8))
			}
		}
	})
}

// The torque of the chain on the wheel and on the chainring, the loads of all pulleys, and the ground's
// force, drawn free: the chain by itself is in equilibrium, and so is the wheel.
func TestLoadsOfAChainBalance(t *testing.T) {
	eachDrive(t, func(t *testing.T, k *mechanism.Mechanism, of drivetrain.Spec, d *drivetrain.Drive) {
		stroke := k.Stroke() / 2
		var here mechanism.Motion
		k.ReadMotion(stroke, &here)
		var fx, fy, moment float64
		for _, p := range d.Loads(stroke, 900, 250) {
			at := here.Place(p.At)
			fx += float64(p.Force[0])
			fy += float64(p.Force[1])
			moment += float64(at[0])*float64(p.Force[1]) - float64(at[1])*float64(p.Force[0]) + float64(p.Moment)
		}
		// Together they are the ground's force on the tyre.
		contact := here.Place(k.Axle())
		contact[1] -= of.WheelRadius
		unitstest.Near(t, "forward", fx, 250, unitstest.Abs(1e-9))
		unitstest.Near(t, "up", fy, 900, unitstest.Abs(1e-9))
		unitstest.Near(t, "moment", moment, float64(contact[0])*900-float64(contact[1])*250, unitstest.Abs(1e-9))
		brake := d.Loads(stroke, 900, -250)
		require.Len(t, brake, 2)
		assert.Equal(t, [2]units.Force{-250, 900}, brake[0].Force)
		unitstest.Near(t, "torque of the brake", brake[1].Moment, units.Torque(-250*float64(of.WheelRadius)), unitstest.Rel(1e-12))
		still := d.Loads(stroke, 900, 0)
		unitstest.Near(t, "no torque", math.Abs(float64(still[1].Moment)), 0, unitstest.Abs(0.0))
	})
	var zero drivetrain.Drive
	assert.Empty(t, zero.Loads(0, 1, 1))
}
