package drivetrain_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// drives are the drives of the tests, invented like the mechanisms they are on.
var drives = map[string]struct {
	of   string
	spec drivetrain.Spec
}{
	"a1 low gear":         {"a1", drive(32, 50, nil)},
	"a1 high gear":        {"a1", drive(32, 10, nil)},
	"c1":                  {"c1", drive(32, 21, nil)},
	"d1":                  {"d1", drive(30, 24, nil)},
	"e2":                  {"e2", drive(34, 18, nil)},
	"a2 idler on frame":   {"a2", drive(32, 24, &drivetrain.Idler{Teeth: 16, At: at(-18, 196), On: "frame"})},
	"a2 idler on arm":     {"a2", drive(32, 24, &drivetrain.Idler{Teeth: 16, At: at(-48, 200), On: "SW"})},
	"d1 idler on a link":  {"d1", drive(30, 24, &drivetrain.Idler{Teeth: 14, At: at(-60, 110), On: "LL"})},
	"c3 through infinity": {"c3", drive(32, 21, nil)},
	"c1 driven above":     {"c1", drivenAt(at(25, 110), "", 300)},
	"a2 driven on arm":    {"a2", drivenAt(at(-40, 150), "SW", 0)},
	"d1 driven on a link": {"d1", drivenAt(at(-30, 95), "LL", 420)},
	"a2 all on the arm":   {"a2", idling(drivenAt(at(-40, 150), "SW", 0), &drivetrain.Idler{Teeth: 12, At: at(-160, 190), On: "SW"})},
}

func idling(s drivetrain.Spec, idler *drivetrain.Idler) drivetrain.Spec {
	s.Drivetrain.Idler = idler
	return s
}

// drivenAt is a drive with its chainring off the bottom bracket and, if not 0, another front wheel.
func drivenAt(p mechanism.Point, on string, front float64) drivetrain.Spec {
	s := drive(20, 14, nil)
	s.Drivetrain.ChainringAt, s.Drivetrain.ChainringOn, s.FrontWheelRadius = p, on, mm(front)
	return s
}

func drive(chainring, sprocket int, idler *drivetrain.Idler) drivetrain.Spec {
	return drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: chainring, Sprocket: sprocket, Idler: idler},
		WheelRadius: mm(370), FrontAxleX: mm(780), MassCentre: at(60, 1120), Ground: drivetrain.GroundLevel,
	}
}

// eachDrive runs f for every drive of the tests.
func eachDrive(t *testing.T, f func(t *testing.T, k *mechanism.Mechanism, spec drivetrain.Spec, d *drivetrain.Drive)) {
	for name, it := range drives {
		t.Run(name, func(t *testing.T) {
			k := solved(it.of)
			d, err := drivetrain.New(k, it.spec)
			if err != nil {
				t.Fatal(err)
			}
			f(t, k, it.spec, d)
		})
	}
}

// radius returns a pitch circle's, in m.
func radius(teeth int) float64 { return 0.0127 / (2 * math.Sin(math.Pi/float64(teeth))) }

// Anti-squat is what the cranks would be turned by, with the wheel rolling,
// per travel: on level ground anti-squat = dφ/dw·R·r_c/r_s·b/h. One side is
// made of velocities, the other of the chain's length.
func TestAntiSquatIsKickback(t *testing.T) {
	eachDrive(t, func(t *testing.T, k *mechanism.Mechanism, spec drivetrain.Spec, d *drivetrain.Drive) {
		ratio := radius(spec.Drivetrain.Chainring) / radius(spec.Drivetrain.Sprocket)
		for i := 1; i < 10; i++ {
			s := k.Stroke() * units.Length(i) / 10
			central := func(h units.Length) float64 {
				return float64(d.At(s+h).KickbackWheelRolling-d.At(s-h).KickbackWheelRolling) / float64(k.Pose(s+h).Travel-k.Pose(s-h).Travel)
			}
			h := mm(0.2)
			slope := (4*central(h/2) - central(h)) / 3
			p := k.Pose(s)
			base := float64(spec.FrontAxleX - p.Axle[0])
			// The ground sinks below the frame as the wheel rises towards it.
			height := float64(spec.MassCentre[1]) - float64(p.Travel)
			want := slope * float64(spec.WheelRadius) * ratio * base / height
			unitstest.Near(t, "anti-squat", d.At(s).AntiSquat, want, unitstest.Abs(1e-7))
		}
	})
}

// The construction of drawings: the line from the tyre's contact to where the
// chain's tight run meets the line from axle to instant centre, its slope over
// that of the load transfer; under braking, the line to the instant centre.
func TestAntiSquatAgreesWithTheConstruction(t *testing.T) {
	for name, it := range drives {
		if it.spec.Drivetrain.Idler != nil && it.spec.Drivetrain.Idler.On != "frame" || it.spec.Drivetrain.ChainringOn != "" {
			continue // the construction knows no pulley that moves
		}
		for _, ground := range []drivetrain.Ground{drivetrain.GroundLevel, drivetrain.GroundFront} {
			spec := it.spec
			spec.Ground = ground
			k := solved(it.of)
			d, err := drivetrain.New(k, spec)
			if err != nil {
				t.Fatal(name, err)
			}
			axle0 := k.Pose(0).Axle
			for i := range 8 {
				p := k.Pose(k.Stroke() * units.Length(i) / 7)
				if math.Abs(p.CarrierTurning) < 0.05 {
					continue // nothing to draw: the instant centre is off the sheet
				}
				ax, ay := float64(p.Axle[0]), float64(p.Axle[1])
				// The ground: the front axle, above it by so much more than the rear, and its slope.
				higher := 0.0
				if spec.FrontWheelRadius > 0 {
					higher = float64(spec.FrontWheelRadius - spec.WheelRadius)
				}
				fx, fy := float64(spec.FrontAxleX), float64(axle0[1])+higher
				tilt := 0.0
				if ground == drivetrain.GroundFront {
					tilt = math.Atan2(fy-ay, fx-ax) - math.Asin(higher/math.Hypot(fx-ax, fy-ay))
				}
				// Everything seen in axes along and up from the ground, from the contact.
				r := float64(spec.WheelRadius)
				seen := func(x, y float64) (float64, float64) {
					dx, dy := x-ax, y-ay
					return dx*math.Cos(tilt) + dy*math.Sin(tilt), -dx*math.Sin(tilt) + dy*math.Cos(tilt) + r
				}
				base := fx - ax
				if ground == drivetrain.GroundFront {
					base = math.Hypot(fx-ax, fy-ay) * math.Cos(math.Atan2(fy-ay, fx-ax)-tilt)
				}
				_, height := seen(float64(spec.MassCentre[0]), float64(axle0[1])-r+float64(spec.MassCentre[1]))
				ix, iy := seen(float64(p.InstantCentre[0]), float64(p.InstantCentre[1]))
				unitstest.Near(t, name+" anti-rise", d.At(p.Stroke).AntiRise, iy/ix*base/height, unitstest.Rel(1e-9))

				// The outer tangent over the tops of two pulleys.
				bx, by, rb := float64(spec.Drivetrain.ChainringAt[0]), float64(spec.Drivetrain.ChainringAt[1]), radius(spec.Drivetrain.Chainring)
				if idler := spec.Drivetrain.Idler; idler != nil {
					bx, by, rb = float64(idler.At[0]), float64(idler.At[1]), radius(idler.Teeth)
				}
				ra := radius(spec.Drivetrain.Sprocket)
				direction := math.Atan2(by-ay, bx-ax) + math.Asin((rb-ra)/math.Hypot(bx-ax, by-ay))
				tx, ty := seen(ax-ra*math.Sin(direction), ay+ra*math.Cos(direction)) // where it leaves the sprocket
				ux, uy := math.Cos(direction-tilt), math.Sin(direction-tilt)
				// Where it meets the line from the axle (0, r) to the instant centre.
				vx, vy := ix, iy-r
				along := (ux*(r-ty) - uy*(0-tx)) / (uy*vx - ux*vy)
				px, py := along*vx, r+along*vy
				unitstest.Near(t, name+" anti-squat", d.At(p.Stroke).AntiSquat, py/px*base/height, unitstest.Rel(1e-8))
			}
		}
	}
}

// With pulleys of one size the run is as long as their axes are apart.
func TestChainGrowthOfEqualPulleysIsTheirDistance(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		d, err := drivetrain.New(k, drive(24, 24, nil))
		if err != nil {
			t.Fatal(name, err)
		}
		for i := range 6 {
			p := k.Pose(k.Stroke() * units.Length(i) / 5)
			at := d.At(p.Stroke)
			unitstest.Near(t, name, at.ChainGrowth, p.AxleGrowth, unitstest.Abs(mm(1e-10)))
			unitstest.Near(t, name+" kickback", float64(at.KickbackWheelFixed), float64(p.AxleGrowth)/radius(24), unitstest.Abs(1e-12))
		}
	}
}

// A caliper on the frame: the wheel is held against the frame, so that the
// contact moves as the axle does.
func TestCaliperOnTheFrame(t *testing.T) {
	spec := drive(32, 21, nil)
	spec.BrakeOn = mechanism.Frame
	k := solved("c1")
	d, err := drivetrain.New(k, spec)
	if err != nil {
		t.Fatal(err)
	}
	p := k.Pose(mm(20))
	want := -p.AxleForward / p.LeverRatio * float64(spec.FrontAxleX-p.Axle[0]) / float64(spec.MassCentre[1]-p.Travel)
	unitstest.Near(t, "anti-rise", d.At(mm(20)).AntiRise, want, unitstest.Rel(1e-12))
}

// At full extension the two grounds are one.
func TestGroundsAgreeAtFullExtension(t *testing.T) {
	eachDrive(t, func(t *testing.T, k *mechanism.Mechanism, spec drivetrain.Spec, a *drivetrain.Drive) {
		spec.Ground = drivetrain.GroundFront
		b, err := drivetrain.New(k, spec)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "anti-squat", a.At(0).AntiSquat, b.At(0).AntiSquat, unitstest.Rel(1e-12))
		unitstest.Near(t, "anti-rise", a.At(0).AntiRise, b.At(0).AntiRise, unitstest.Rel(1e-12))
		if a.At(0).ChainGrowth != 0 || a.At(0).KickbackWheelFixed != 0 || a.At(0).KickbackWheelRolling != 0 {
			t.Errorf("growth or kickback at full extension: %+v", a.At(0))
		}
		// Neither the chain nor the cranks know of the ground.
		if a.At(mm(30)).ChainGrowth != b.At(mm(30)).ChainGrowth || a.At(mm(30)).KickbackWheelFixed != b.At(mm(30)).KickbackWheelFixed {
			t.Error("chain growth depends on the ground")
		}
		if a.At(mm(40)).AntiSquat == b.At(mm(40)).AntiSquat {
			t.Error("the grounds don't differ at 40 mm")
		}
	})
}

// What the caller does to the idler afterwards is nothing to the drive, which
// allocates nothing either.
func TestDriveKeepsItsOwnCopy(t *testing.T) {
	idler := drivetrain.Idler{Teeth: 16, At: at(-48, 200), On: "SW"}
	d, err := drivetrain.New(solved("a2"), drive(32, 24, &idler))
	if err != nil {
		t.Fatal(err)
	}
	before := d.At(mm(30))
	idler.Teeth, idler.At = 60, at(-200, 100)
	if d.At(mm(30)) != before {
		t.Error("the drive has changed")
	}
	if n := testing.AllocsPerRun(10, func() { d.At(mm(10)) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// What is printed has its units; the figures were computed independently.
func TestDrivesArePrintedWithUnits(t *testing.T) {
	d, err := drivetrain.New(solved("c1"), drive(32, 50, nil))
	if err != nil {
		t.Fatal(err)
	}
	const want = "drive: anti-squat 85.8 % to 56.4 %, anti-rise 58.7 % to 68.4 %"
	for _, v := range []any{d, *d, struct{ Rear drivetrain.Drive }{*d}} {
		if got := strings.Trim(fmt.Sprint(v), "{}"); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// A mark on the frame far away changes nothing, though all is then worked out
// at another scale.
func TestFarMarkChangesNothing(t *testing.T) {
	for name, it := range drives {
		near := solved(it.of)
		want, err := drivetrain.New(near, it.spec)
		if err != nil {
			t.Fatal(name, err)
		}
		for _, far := range []float64{3000, 90000} {
			m := spec(it.of)
			m.Points["mark"] = at(far, -100)
			k, err := mechanism.New(m)
			if err != nil {
				t.Fatal(name, err)
			}
			got, err := drivetrain.New(k, it.spec)
			if err != nil {
				t.Fatal(name, err)
			}
			for i := range 6 {
				s := m.Stroke * units.Length(i) / 5
				a, b := near.Pose(s), k.Pose(s)
				unitstest.Near(t, name+" travel", b.Travel, a.Travel, unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, name+" slope", b.LeverRatioSlope, a.LeverRatioSlope, unitstest.Rel(1e-8), unitstest.Abs(units.RatioSlope(1e-7)))
				unitstest.Near(t, name+" turning", b.CarrierTurning, a.CarrierTurning, unitstest.Rel(1e-8), unitstest.Abs(1e-8))
				unitstest.Near(t, name+" growth", b.AxleGrowth, a.AxleGrowth, unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, name+" path", k.PathLength(s), near.PathLength(s), unitstest.Abs(mm(1e-8)))
				p, q := want.At(s), got.At(s)
				unitstest.Near(t, name+" anti-squat", q.AntiSquat, p.AntiSquat, unitstest.Abs(1e-9))
				unitstest.Near(t, name+" anti-rise", q.AntiRise, p.AntiRise, unitstest.Abs(1e-9))
				unitstest.Near(t, name+" chain", q.ChainGrowth, p.ChainGrowth, unitstest.Abs(mm(1e-8)))
				unitstest.Near(t, name+" kickback", q.KickbackWheelRolling, p.KickbackWheelRolling, unitstest.Abs(units.Angle(1e-9)))
			}
		}
	}
}

// FuzzNew: anti-squat, anti-rise, chain growth and kickback are numbers at
// any stroke, chain growth and kickback 0 at full extension, or a field is named.
func FuzzNew(f *testing.F) {
	f.Add(uint8(0), 32, 50, 0, 0.370, 0.780, 0.060, 1.120, false, "", -0.018, 0.196, "frame")
	f.Add(uint8(1), 32, 24, 16, 0.370, 0.780, 0.060, 1.120, true, "SW", -0.048, 0.200, "SW")
	f.Add(uint8(9), 120, 120, 3, 1e-6, -1e3, math.NaN(), math.Inf(1), true, "frame", 0.0, 0.0, "nothing")
	names := movable()
	moving := map[string]*mechanism.Mechanism{}
	for _, name := range names {
		moving[name] = solved(name)
	}
	f.Fuzz(func(t *testing.T, which uint8, chainring, sprocket, idler int, radius, front, massX, massY float64, level bool, brake string, x, y float64, on string) {
		k := moving[names[int(which)%len(names)]]
		s := drivetrain.Spec{
			Drivetrain:  drivetrain.Pulleys{Chainring: chainring, Sprocket: sprocket},
			WheelRadius: units.Length(radius), FrontAxleX: units.Length(front), MassCentre: mechanism.Point{units.Length(massX), units.Length(massY)},
			Ground: drivetrain.GroundFront, BrakeOn: brake,
		}
		if level {
			s.Ground = drivetrain.GroundLevel
		}
		if idler != 0 {
			s.Drivetrain.Idler = &drivetrain.Idler{Teeth: idler, At: mechanism.Point{units.Length(x), units.Length(y)}, On: on}
		}
		d, err := drivetrain.New(k, s)
		if (d == nil) == (err == nil) {
			t.Fatalf("drive %v, error %v", d, err)
		}
		if err != nil {
			named(t, "drive", err)
			return
		}
		for _, stroke := range strokesOf(k.Stroke()) {
			p := d.At(stroke)
			allFinite(t, "drive", p.AntiSquat, p.AntiRise, float64(p.ChainGrowth), float64(p.KickbackWheelFixed), float64(p.KickbackWheelRolling))
			if !(stroke > 0) && (math.Abs(float64(p.ChainGrowth)) > 1e-12 || math.Abs(float64(p.KickbackWheelRolling)) > 1e-9) {
				t.Fatalf("at full extension %+v", p)
			}
		}
	})
}

// Budget: 300 ns for anti-squat, anti-rise, chain growth and both kickbacks at
// one pose in closed form, no allocation.
func BenchmarkDrive(b *testing.B) {
	k := solved("c1")
	d, err := drivetrain.New(k, drive(32, 21, nil))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	i, sum := 0, 0.0
	for b.Loop() { // in no order, so that no branch can be guessed
		i = (i*37 + 11) & 1023
		sum += d.At(k.Stroke() * units.Length(i) / 1023).AntiSquat
	}
	_ = sum
}
