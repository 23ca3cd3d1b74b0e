package drivetrain_test

import (
	"math"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The tight run by construction: straight tangents over the tops of neighbouring pulleys and
// the arcs between them, from a tooth of the sprocket that keeps its direction to one of the
// chainring that turns with the chainring's body.
func TestChainGrowthIsThatOfATautString(t *testing.T) {
	eachDrive(t, func(t *testing.T, k *mechanism.Mechanism, spec drivetrain.Spec, d *drivetrain.Drive) {
		train := spec.Drivetrain
		type pulley struct{ x, y, r float64 }
		length := func(s units.Length) float64 {
			var m mechanism.Motion
			k.ReadMotion(s, &m)
			on := func(body string, p mechanism.Point) (float64, float64) {
				if body == "" {
					body = mechanism.Frame
				}
				mark, _ := k.Mark(body, p)
				at := m.Place(mark)
				return float64(at[0]), float64(at[1])
			}
			axle := m.Place(k.Axle())
			list := []pulley{{float64(axle[0]), float64(axle[1]), radius(train.Sprocket)}}
			if train.Idler != nil {
				x, y := on(train.Idler.On, train.Idler.At)
				list = append(list, pulley{x, y, radius(train.Idler.Teeth)})
			}
			x, y := on(train.ChainringOn, train.ChainringAt)
			list = append(list, pulley{x, y, radius(train.Chainring)})
			// The chainring's body has turned by as much as a line drawn on it.
			ahead := mechanism.Point{train.ChainringAt[0] + 1, train.ChainringAt[1]}
			fx, fy := on(train.ChainringOn, ahead)
			turned := math.Atan2(fy-y, fx-x)

			total, before := 0.0, 0.0 // the direction in which the chain arrives
			for i, b := range list {
				if i == 0 {
					continue
				}
				a := list[i-1]
				apart := math.Hypot(b.x-a.x, b.y-a.y)
				direction := math.Atan2(b.y-a.y, b.x-a.x) + math.Asin((b.r-a.r)/apart)
				// Over the top of a, clockwise from the direction before.
				total += a.r * (before - direction)
				total += apart * math.Cos(math.Asin((b.r-a.r)/apart))
				before = direction
			}
			return total + list[len(list)-1].r*(before-turned)
		}
		start := length(0)
		for i := range 8 {
			s := k.Stroke() * units.Length(i) / 7
			at := d.At(s)
			unitstest.Near(t, "growth", float64(at.ChainGrowth), length(s)-start, unitstest.Abs(1e-12))
			unitstest.Near(t, "kickback", float64(at.KickbackWheelFixed), (length(s)-start)/radius(train.Chainring), unitstest.Abs(1e-10))
		}
	})
}

// A chainring and a caliper on the body that carries the wheel: the chain's pull stays within that
// body, whatever the gear, and drives the wheel as the brake holds it. The wheel, held against the
// front triangle, turns the chainring by as much as the body turns, times the gear.
func TestChainringOnTheWheelsBodyIsLikeItsBrake(t *testing.T) {
	k := solved("a2")
	for _, sprocket := range []int{11, 36} {
		spec := drivenAt(at(-20, 120), "SW", 0)
		spec.Drivetrain.Sprocket = sprocket
		d, err := drivetrain.New(k, spec)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 6 {
			p := k.Pose(k.Stroke() * units.Length(i) / 5)
			got := d.At(p.Stroke)
			unitstest.Near(t, "anti-squat", got.AntiSquat, got.AntiRise, unitstest.Rel(1e-12))
			want := -p.CarrierTurn * units.Angle(radius(sprocket)/radius(20))
			unitstest.Near(t, "kickback", got.KickbackWheelFixed, want, unitstest.Abs(units.Angle(1e-12)))
		}
	}
}

// About the pivot of a body, a chainring goes nowhere, whether it is fixed to the frame or to the
// body. Fixed to the body, it turns with it, so that the crank turns back by as much less.
func TestChainringAboutAPivotTurnsWithItsBody(t *testing.T) {
	k := solved("d1")
	at0 := k.Spec().Points["M1"]
	on := func(body string) *drivetrain.Drive {
		d, err := drivetrain.New(k, drivenAt(at0, body, 0))
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	frame, link := on(mechanism.Frame), on("LL")
	for i := range 6 {
		s := k.Stroke() * units.Length(i) / 5
		places := k.Positions(s)
		turn := func(p map[string]mechanism.Point) float64 {
			return math.Atan2(float64(p["M2"][1]-p["M1"][1]), float64(p["M2"][0]-p["M1"][0]))
		}
		turned := units.Angle(math.Remainder(turn(places)-turn(k.Positions(0)), 2*math.Pi))
		unitstest.Near(t, "kickback", link.At(s).KickbackWheelFixed, frame.At(s).KickbackWheelFixed-turned, unitstest.Abs(units.Angle(1e-12)))
		if i > 0 && math.Abs(float64(turned)) < 0.02 {
			t.Errorf("the link turns by %v only", turned)
		}
	}
}

// The origin is any point of the frame: moved there, all else seen from it, a chainring off the bottom
// bracket is one at the bottom bracket of another drawing.
func TestChainringOffTheBottomBracketIsAShiftedDrawing(t *testing.T) {
	m, ring := spec("e2"), at(31, -24)
	here := drive(34, 18, nil)
	here.Drivetrain.ChainringAt = ring
	there := drive(34, 18, nil)
	there.FrontAxleX -= ring[0]
	there.MassCentre[0] -= ring[0]
	shifted := spec("e2")
	for name, p := range m.Points {
		shifted.Points[name] = mechanism.Point{p[0] - ring[0], p[1] - ring[1]}
	}
	drives := [2]*drivetrain.Drive{}
	for i, it := range []struct {
		m mechanism.Spec
		s drivetrain.Spec
	}{{m, here}, {shifted, there}} {
		k, err := mechanism.New(it.m)
		if err != nil {
			t.Fatal(err)
		}
		if drives[i], err = drivetrain.New(k, it.s); err != nil {
			t.Fatal(err)
		}
	}
	for i := range 6 {
		s := m.Stroke * units.Length(i) / 5
		a, b := drives[0].At(s), drives[1].At(s)
		unitstest.Near(t, "anti-squat", a.AntiSquat, b.AntiSquat, unitstest.Rel(1e-10))
		unitstest.Near(t, "anti-rise", a.AntiRise, b.AntiRise, unitstest.Rel(1e-10))
		unitstest.Near(t, "kickback", a.KickbackWheelRolling, b.KickbackWheelRolling, unitstest.Abs(units.Angle(1e-11)))
	}
}

// Below wheels of two sizes the ground that keeps the front axle is level at full extension, and has
// no say in the chain's length. A front wheel so large that the rear one comes to lie within it leaves
// no line below both.
func TestFrontWheelHasASizeOfItsOwn(t *testing.T) {
	k := solved("a1")
	level := drive(32, 21, nil)
	level.FrontWheelRadius = mm(300)
	front := level
	front.Ground = drivetrain.GroundFront
	same := drive(32, 21, nil)
	same.Ground = drivetrain.GroundFront
	var drives [3]*drivetrain.Drive
	for i, s := range []drivetrain.Spec{level, front, same} {
		var err error
		if drives[i], err = drivetrain.New(k, s); err != nil {
			t.Fatal(err)
		}
	}
	unitstest.Near(t, "anti-squat", drives[1].At(0).AntiSquat, drives[0].At(0).AntiSquat, unitstest.Rel(1e-12))
	if a, b := drives[1].At(mm(40)), drives[2].At(mm(40)); a.AntiSquat == b.AntiSquat || a.ChainGrowth != b.ChainGrowth {
		t.Errorf("with the front wheel smaller %+v, of the same size %+v", a, b)
	}
	front.FrontAxleX, front.FrontWheelRadius = mm(10), units.Metre*10
	_, err := drivetrain.New(k, front)
	refuses(t, err, "front_wheel_radius")
}
