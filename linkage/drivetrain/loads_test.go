package drivetrain_test

import (
	"maps"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring/root"
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

// touching returns the direction of the line that lies on two circles, above both, from the first on. A
// line lies below circles of negative radii.
func touching(t *testing.T, a, b complex128, ra, rb float64) complex128 {
	middle := cmplx.Phase(b - a)
	angle, err := root.Find(func(angle float64) float64 {
		up := cmplx.Rect(1, angle+math.Pi/2)
		return real((b-a)*cmplx.Conj(up)) + rb - ra
	}, middle-math.Pi/2, middle+math.Pi/2, 0)
	require.NoError(t, err)
	return cmplx.Rect(1, angle)
}

// The wheel, an idler, and every body of the mechanism drawn free, with the chain's runs as unknown pulls
// along lines that touch the pulleys, and the caliper as an unknown couple: what the ground does to the
// tyre gives the same force on every hole.
func TestForcesUnderDriveAndBrakeBalanceOnBodiesDrawnFree(t *testing.T) {
	list := maps.Clone(drives)
	for _, name := range append(movable(), "slider") {
		spec := drive(32, 21, nil)
		spec.Ground = drivetrain.GroundFront
		spec.FrontWheelRadius = mm(345)
		list[name] = struct {
			of   string
			spec drivetrain.Spec
		}{name, spec}
	}
	tried := map[string]bool{}
	for name, it := range list {
		s, of, k := spec(it.of), it.spec, solved(it.of)
		tried[it.of] = true
		carrier := s.Carrier
		for body, points := range s.Bodies {
			if carrier == "" && slices.Contains(points, s.Axle) {
				carrier = body
			}
		}
		for _, of.BrakeOn = range append(slices.Sorted(maps.Keys(s.Bodies)), "") {
			d, err := drivetrain.New(k, of)
			require.NoError(t, err, name)
			for i := range 5 {
				stroke := s.Stroke * units.Length(i) / 4
				for _, forward := range []float64{350, -500} {
					e, err := k.Equilibrium(stroke, d.Loads(stroke, 900, units.Force(forward))...)
					require.NoError(t, err)
					want := drawnFree(t, s, of, k, carrier, stroke, complex(forward, 900))
					for _, got := range e.Holes {
						force := complex(float64(got.Force[0]), float64(got.Force[1]))
						assert.InDelta(t, 0, cmplx.Abs(force-want[got.Hole]), 1e-7, "%s, brake on %q, %v at %v: %v is not %v", name, of.BrakeOn, got.Hole, stroke, force, want[got.Hole])
					}
				}
			}
		}
	}
	assert.Len(t, tried, 13)
}

// drawnFree returns the force on every hole under a ground's force, along the ground and square to it.
func drawnFree(t *testing.T, s mechanism.Spec, of drivetrain.Spec, k *mechanism.Mechanism, carrier string, stroke units.Length, ground complex128) map[mechanism.Hole]complex128 {
	var m mechanism.Motion
	k.ReadMotion(stroke, &m)
	on := func(body string, p mechanism.Point) complex128 {
		mark, ok := k.Mark(body, p)
		require.True(t, ok)
		return linkagetest.Place(m.Place(mark))
	}
	act := func(body string, at, force complex128, moment float64) linkagetest.Action {
		return linkagetest.Action{Hole: mechanism.Hole{Body: body}, At: at, Force: force, Moment: moment}
	}
	axle, start := linkagetest.Place(m.Place(k.Axle())), linkagetest.Place(s.Points[s.Axle])
	train, bodies := of.Drivetrain, []string{"wheel"}
	if train.Idler != nil && real(ground) > 0 {
		bodies = append(bodies, "idler")
	}
	free := linkagetest.Draw(s, k.Positions(stroke), bodies...)
	pin := func(a, b string, at complex128) {
		for _, axis := range []complex128{1, 1i} {
			free.Unknown(act(a, at, axis, 0), act(b, at, -axis, 0))
		}
	}
	pin("wheel", carrier, axle)
	rear, along := float64(of.WheelRadius), complex128(1)
	if of.Ground == drivetrain.GroundFront {
		fork := float64(of.FrontWheelRadius)
		along = touching(t, axle, complex(float64(of.FrontAxleX), imag(start)-rear+fork), -rear, -fork)
	}
	free.Load(act("wheel", axle-1i*along*complex(rear, 0), ground*along, 0))
	if real(ground) < 0 {
		caliper := of.BrakeOn
		if caliper == "" {
			caliper = carrier
		}
		free.Unknown(act("wheel", axle, 0, 1), act(caliper, axle, 0, -1))
		return free.Forces()
	}
	type pulley struct {
		body   string
		at     complex128
		radius float64
	}
	holder := train.ChainringOn
	if holder == "" {
		holder = mechanism.Frame
	}
	pulleys := []pulley{{"wheel", axle, radius(train.Sprocket)}}
	if idler := train.Idler; idler != nil {
		at := on(idler.On, idler.At)
		pulleys = append(pulleys, pulley{"idler", at, radius(idler.Teeth)})
		pin("idler", idler.On, at)
	}
	pulleys = append(pulleys, pulley{holder, on(holder, train.ChainringAt), radius(train.Chainring)})
	for i, b := range pulleys[1:] {
		a := pulleys[i]
		run := touching(t, a.at, b.at, a.radius, b.radius)
		free.Unknown(act(a.body, a.at+1i*run*complex(a.radius, 0), run, 0), act(b.body, b.at+1i*run*complex(b.radius, 0), -run, 0))
	}
	return free.Forces()
}
