package drivetrain_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

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
}

func drive(chainring, sprocket int, idler *drivetrain.Idler) drivetrain.Spec {
	return drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: chainring, Sprocket: sprocket, Idler: idler},
		WheelRadius: mm(370), FrontAxleX: mm(780), MassCentre: at(60, 1120), Ground: drivetrain.GroundLevel,
	}
}

// eachDrive runs f for every drive of the tests.
func eachDrive(t *testing.T, f func(t *testing.T, d *drivetrain.Drive)) {
	for name, it := range drives {
		t.Run(name, func(t *testing.T) {
			d, err := drivetrain.New(solved(it.of), it.spec)
			if err != nil {
				t.Fatal(err)
			}
			f(t, d)
		})
	}
}

// radius returns a pitch circle's, in m.
func radius(teeth int) float64 { return 0.0127 / (2 * math.Sin(math.Pi/float64(teeth))) }

// Anti-squat is what the cranks would be turned by, with the wheel rolling,
// per travel: on level ground anti-squat = dφ/dw·R·r_c/r_s·b/h. One side is
// made of velocities, the other of the chain's length.
func TestAntiSquatIsKickback(t *testing.T) {
	eachDrive(t, func(t *testing.T, d *drivetrain.Drive) {
		k, spec := d.Mechanism(), d.Spec()
		ratio := radius(spec.Drivetrain.Chainring) / radius(spec.Drivetrain.Sprocket)
		for i := 1; i < 10; i++ {
			s := k.Stroke() * units.Length(i) / 10
			central := func(h units.Length) float64 {
				return float64(d.KickbackWheelRolling(s+h)-d.KickbackWheelRolling(s-h)) / float64(k.Pose(s+h).Travel-k.Pose(s-h).Travel)
			}
			h := mm(0.2)
			slope := (4*central(h/2) - central(h)) / 3
			p := k.Pose(s)
			base := float64(spec.FrontAxleX - p.Axle[0])
			// The ground sinks below the frame as the wheel rises towards it.
			height := float64(spec.MassCentre[1]) - float64(p.Travel)
			want := slope * float64(spec.WheelRadius) * ratio * base / height
			unitstest.Near(t, "anti-squat", d.AntiSquat(s), want, unitstest.Abs(1e-7))
		}
	})
}

// The construction of drawings: the line from the tyre's contact to where the
// chain's tight run meets the line from axle to instant centre, its slope over
// that of the load transfer; under braking, the line to the instant centre.
func TestAntiSquatByConstruction(t *testing.T) {
	for name, it := range drives {
		if it.spec.Drivetrain.Idler != nil && it.spec.Drivetrain.Idler.On != "frame" {
			continue // the construction knows no idler that moves
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
				// The ground: a point on it below the front axle and its slope.
				fx, fy := float64(spec.FrontAxleX), float64(axle0[1])
				tilt := 0.0
				if ground == drivetrain.GroundFront {
					tilt = math.Atan2(fy-ay, fx-ax)
				}
				// Everything seen in axes along and up from the ground, from the contact.
				r := float64(spec.WheelRadius)
				seen := func(x, y float64) (float64, float64) {
					dx, dy := x-ax, y-ay
					return dx*math.Cos(tilt) + dy*math.Sin(tilt), -dx*math.Sin(tilt) + dy*math.Cos(tilt) + r
				}
				base := fx - ax
				if ground == drivetrain.GroundFront {
					base = math.Hypot(fx-ax, fy-ay)
				}
				_, height := seen(float64(spec.MassCentre[0]), float64(axle0[1])-r+float64(spec.MassCentre[1]))
				ix, iy := seen(float64(p.InstantCentre[0]), float64(p.InstantCentre[1]))
				unitstest.Near(t, name+" anti-rise", d.AntiRise(p.Stroke), iy/ix*base/height, unitstest.Rel(1e-9))

				// The outer tangent over the tops of two pulleys.
				bx, by, rb := 0.0, 0.0, radius(spec.Drivetrain.Chainring)
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
				unitstest.Near(t, name+" anti-squat", d.AntiSquat(p.Stroke), py/px*base/height, unitstest.Rel(1e-8))
			}
		}
	}
}

// With pulleys of one size the run is as long as their axes are apart.
func TestChainGrowthOfEqualPulleys(t *testing.T) {
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
	unitstest.Near(t, "anti-rise", d.AntiRise(mm(20)), want, unitstest.Rel(1e-12))
}

// At full extension the two grounds are one.
func TestGroundsAgreeAtFullExtension(t *testing.T) {
	for name, it := range drives {
		level := it.spec
		front := it.spec
		front.Ground = drivetrain.GroundFront
		k := solved(it.of)
		a, err := drivetrain.New(k, level)
		if err != nil {
			t.Fatal(err)
		}
		b, err := drivetrain.New(k, front)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, name, a.AntiSquat(0), b.AntiSquat(0), unitstest.Rel(1e-12))
		unitstest.Near(t, name, a.AntiRise(0), b.AntiRise(0), unitstest.Rel(1e-12))
		if a.ChainGrowth(0) != 0 || a.KickbackWheelFixed(0) != 0 || a.KickbackWheelRolling(0) != 0 {
			t.Errorf("%s: growth or kickback at full extension: %+v", name, a.At(0))
		}
		// Neither the chain nor the cranks know of the ground.
		if a.ChainGrowth(mm(30)) != b.ChainGrowth(mm(30)) || a.KickbackWheelFixed(mm(30)) != b.KickbackWheelFixed(mm(30)) {
			t.Errorf("%s: chain growth depends on the ground", name)
		}
		if a.AntiSquat(mm(40)) == b.AntiSquat(mm(40)) {
			t.Errorf("%s: the grounds don't differ at 40 mm", name)
		}
	}
}

func TestNewDriveRefuses(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		what  string
		spoil func(*drivetrain.Spec)
		want  []string
	}{
		{"no teeth", func(s *drivetrain.Spec) { s.Drivetrain = drivetrain.Pulleys{} }, []string{"drivetrain.chainring", "drivetrain.sprocket"}},
		{"too many teeth", func(s *drivetrain.Spec) { s.Drivetrain.Chainring = 121 }, []string{"drivetrain.chainring"}},
		{"five teeth", func(s *drivetrain.Spec) { s.Drivetrain.Sprocket = 5 }, []string{"drivetrain.sprocket"}},
		{"two pulleys as large as the chainstay", func(s *drivetrain.Spec) { s.Drivetrain.Chainring, s.Drivetrain.Sprocket = 120, 120 }, []string{"drivetrain"}},
		{"an idler on nothing", func(s *drivetrain.Spec) {
			s.Drivetrain.Idler = &drivetrain.Idler{Teeth: 1, At: mechanism.Point{nan, 0}, On: "XX"}
		}, []string{"drivetrain.idler.at[0]", "drivetrain.idler.on", "drivetrain.idler.teeth"}},
		{"an idler on the chainring", func(s *drivetrain.Spec) {
			s.Drivetrain.Idler = &drivetrain.Idler{Teeth: 16, At: at(20, 20), On: "frame"}
		}, []string{"drivetrain"}},
		{"an idler on the sprocket", func(s *drivetrain.Spec) {
			s.Drivetrain.Idler = &drivetrain.Idler{Teeth: 16, At: at(-400, 40), On: "SW"}
		}, []string{"drivetrain"}},
		{"no wheel, no mass, no front", func(s *drivetrain.Spec) {
			s.WheelRadius, s.MassCentre, s.FrontAxleX = 0, mechanism.Point{nan, -1}, nan
		}, []string{"front_axle_x", "mass_centre[0]", "mass_centre[1]", "wheel_radius"}},
		{"a front axle behind", func(s *drivetrain.Spec) { s.FrontAxleX = -mm(400) }, []string{"front_axle_x"}},
		{"a mass centre under ground at full travel", func(s *drivetrain.Spec) { s.MassCentre[1] = mm(60) }, []string{"mass_centre[1]"}},
		{"no ground", func(s *drivetrain.Spec) { s.Ground = "" }, []string{"ground"}},
		{"an unknown caliper body, a wrong ground", func(s *drivetrain.Spec) { s.BrakeOn, s.Ground = "fork", "steep" }, []string{"brake_on", "ground"}},
	} {
		s := drive(32, 21, nil)
		test.spoil(&s)
		d, err := drivetrain.New(solved("a1"), s)
		if d != nil {
			t.Errorf("%s: accepted", test.what)
		}
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
	}
	if _, err := drivetrain.New(nil, drive(32, 21, nil)); err == nil {
		t.Error("a drive without a mechanism")
	}
	if _, err := drivetrain.New(&mechanism.Mechanism{}, drive(32, 21, nil)); err == nil {
		t.Error("a drive of a mechanism that doesn't move")
	}
	var zero drivetrain.Drive
	if zero.At(1) != (drivetrain.Pose{}) || zero.AntiRise(1) != 0 {
		t.Error("the zero Drive drives")
	}
}

// The spec is the drive's own, idler included.
func TestDriveKeepsItsOwnCopy(t *testing.T) {
	idler := drivetrain.Idler{Teeth: 16, At: at(-48, 200), On: "SW"}
	d, err := drivetrain.New(solved("a2"), drive(32, 24, &idler))
	if err != nil {
		t.Fatal(err)
	}
	idler.Teeth = 99
	d.Spec().Drivetrain.Idler.Teeth = 98
	if got := d.Spec().Drivetrain.Idler.Teeth; got != 16 {
		t.Errorf("idler of %d teeth", got)
	}
	if n := testing.AllocsPerRun(10, func() { d.At(mm(10)) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// A mark on the frame far away changes nothing, though all is then worked out
// at another scale.
func TestFarMarkChangesNothing(t *testing.T) {
	for _, far := range []float64{3000, 90000} {
		for name, it := range drives {
			m := spec(it.of)
			m.Points["mark"] = at(far, -100)
			k, err := mechanism.New(m)
			if err != nil {
				t.Fatal(name, err)
			}
			want, err := drivetrain.New(solved(it.of), it.spec)
			if err != nil {
				t.Fatal(name, err)
			}
			got, err := drivetrain.New(k, it.spec)
			if err != nil {
				t.Fatal(name, err)
			}
			for i := range 6 {
				s := m.Stroke * units.Length(i) / 5
				a, b := solved(it.of).Pose(s), k.Pose(s)
				unitstest.Near(t, name+" travel", b.Travel, a.Travel, unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, name+" slope", b.LeverRatioSlope, a.LeverRatioSlope, unitstest.Rel(1e-8), unitstest.Abs(units.RatioSlope(1e-7)))
				unitstest.Near(t, name+" turning", b.CarrierTurning, a.CarrierTurning, unitstest.Rel(1e-8), unitstest.Abs(1e-8))
				unitstest.Near(t, name+" growth", b.AxleGrowth, a.AxleGrowth, unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, name+" path", k.PathLength(s), solved(it.of).PathLength(s), unitstest.Abs(mm(1e-8)))
				p, q := want.At(s), got.At(s)
				unitstest.Near(t, name+" anti-squat", q.AntiSquat, p.AntiSquat, unitstest.Abs(1e-9))
				unitstest.Near(t, name+" anti-rise", q.AntiRise, p.AntiRise, unitstest.Abs(1e-9))
				unitstest.Near(t, name+" chain", q.ChainGrowth, p.ChainGrowth, unitstest.Abs(mm(1e-8)))
				unitstest.Near(t, name+" kickback", q.KickbackWheelRolling, p.KickbackWheelRolling, unitstest.Abs(units.Angle(1e-9)))
			}
		}
	}
}
