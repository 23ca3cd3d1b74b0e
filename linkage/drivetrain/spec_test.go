package drivetrain_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

func TestNewRefuses(t *testing.T) {
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
	if zero.At(1) != (drivetrain.Pose{}) || zero.String() != "no drive" {
		t.Error("the zero Drive drives")
	}
}

// The bounds in NewDrive's doc comment, each taken at its very value and
// refused beyond as out of its range.
func TestBoundsOfASpec(t *testing.T) {
	const most = 10 * units.Metre
	idler := func(teeth int, p mechanism.Point) *drivetrain.Idler {
		return &drivetrain.Idler{Teeth: teeth, At: p, On: "frame"}
	}
	for _, test := range []struct {
		what  string
		set   func(*drivetrain.Spec)
		wrong []string
	}{
		{"fewest teeth", func(s *drivetrain.Spec) {
			s.Drivetrain = drivetrain.Pulleys{Chainring: 6, Sprocket: 6, Idler: idler(6, at(0, 200))}
		}, nil},
		{"fewer teeth", func(s *drivetrain.Spec) {
			s.Drivetrain = drivetrain.Pulleys{Chainring: 5, Sprocket: 5, Idler: idler(5, at(0, 200))}
		}, []string{"drivetrain.chainring", "drivetrain.idler.teeth", "drivetrain.sprocket"}},
		{"most teeth on the chainring", func(s *drivetrain.Spec) { s.Drivetrain.Chainring = 120 }, nil},
		{"most teeth on the sprocket", func(s *drivetrain.Spec) { s.Drivetrain.Sprocket = 120 }, nil},
		{"more teeth", func(s *drivetrain.Spec) { s.Drivetrain = drivetrain.Pulleys{Chainring: 121, Sprocket: 121} },
			[]string{"drivetrain.chainring", "drivetrain.sprocket"}},
		{"the farthest idlers", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, mechanism.Point{-100, 100}) }, nil},
		{"the farthest idlers, across", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, mechanism.Point{100, -100}) }, nil},
		{"idlers beyond", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, mechanism.Point{below(-100), above(100)}) },
			[]string{"drivetrain.idler.at[0]", "drivetrain.idler.at[1]"}},
		{"the largest wheel, the front axle farthest", func(s *drivetrain.Spec) { s.WheelRadius, s.FrontAxleX = most, most }, nil},
		{"the smallest wheel", func(s *drivetrain.Spec) { s.WheelRadius = 1e-6 }, nil},
		{"wheel and front axle beyond", func(s *drivetrain.Spec) { s.WheelRadius, s.FrontAxleX = above(most), above(most) },
			[]string{"front_axle_x", "wheel_radius"}},
		{"a wheel too small, the front axle too far behind", func(s *drivetrain.Spec) { s.WheelRadius, s.FrontAxleX = below(1e-6), below(-most) },
			[]string{"front_axle_x", "wheel_radius"}},
		{"mass in front and high", func(s *drivetrain.Spec) { s.MassCentre = mechanism.Point{most, most} }, nil},
		{"mass behind", func(s *drivetrain.Spec) { s.MassCentre[0] = -most }, nil},
		{"mass too far in front and too high", func(s *drivetrain.Spec) { s.MassCentre = mechanism.Point{above(most), above(most)} },
			[]string{"mass_centre[0]", "mass_centre[1]"}},
		{"mass too far behind and too low", func(s *drivetrain.Spec) { s.MassCentre = mechanism.Point{below(-most), below(1e-6)} },
			[]string{"mass_centre[0]", "mass_centre[1]"}},
	} {
		s := drive(32, 21, nil)
		test.set(&s)
		_, err := drivetrain.New(solved("a1"), s)
		if diff := cmp.Diff(test.wrong, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
		if err != nil && !errors.Is(err, units.ErrRange) {
			t.Errorf("%s: %v is not of the class of what is out of its range", test.what, err)
		}
	}
	// Within their ranges and yet no bike: a conflict with what the mechanism does.
	for field, set := range map[string]func(*drivetrain.Spec){
		"front_axle_x":   func(s *drivetrain.Spec) { s.FrontAxleX = -most },
		"mass_centre[1]": func(s *drivetrain.Spec) { s.MassCentre[1] = 1e-6 },
	} {
		s := drive(32, 21, nil)
		set(&s)
		_, err := drivetrain.New(solved("a1"), s)
		refuses(t, err, field)
		if !errors.Is(err, units.ErrConflict) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// A small arm, whose lengths are counted in another unit than metres inside.
var shortArm = arm{A: 80, D: 250, Phi: 1.4, R: 180, Axle: 3.3}

// On level ground the mass centre comes down by the wheel's travel: a height
// of 30 mm is used up at the first of the strokes looked at, a hundredth of the
// whole apart, at which the wheel has come as far. That stroke is named.
func TestMassCentreBelowGroundIsRefusedWithTheStroke(t *testing.T) {
	k, err := mechanism.New(shortArm.Spec(40))
	if err != nil {
		t.Fatal(err)
	}
	where := -1.0
	for i := range 101 {
		if travel, _, _ := shortArm.At(0.4 * float64(i)); travel >= 30 {
			where = 0.4 * float64(i)
			break
		}
	}
	if where < 5 {
		t.Fatalf("30 mm at a stroke of %v mm: the test looks at too little", where)
	}
	s := drive(32, 21, nil)
	s.Drivetrain = drivetrain.Pulleys{Chainring: 11, Sprocket: 11}
	s.WheelRadius, s.MassCentre = mm(100), at(0, 30)
	_, err = drivetrain.New(k, s)
	refuses(t, err, "mass_centre[1]")
	var stroke units.Length
	var number, unit string
	_, rest, _ := strings.Cut(err.Error(), "it is not at ")
	if _, err := fmt.Sscan(rest, &number, &unit); err != nil {
		t.Fatal(err, rest)
	}
	if stroke, err = units.ParseLength(number + " " + strings.Trim(unit, ";,. ")); err != nil || math.Abs(float64(stroke-mm(where))) > 1e-6 {
		t.Errorf("under ground at %v, want %v mm (%v)", stroke, where, err)
	}
}

// A wheel whose pivot is behind it and below goes up and then backward. With
// the front axle near, the line below both wheels comes to lie steeper than the
// path, and the wheel moves into the ground; with the front axle far ahead, or
// on level ground, it doesn't.
func TestWheelThatMovesIntoTheGroundIsRefused(t *testing.T) {
	const angle = 0.3 // of the wheel above the horizontal through the pivot
	g := arm{A: 80, D: 250, Phi: 1.9, R: 300, Axle: math.Pi - angle}
	m := g.Spec(70)
	for name, p := range m.Points { // in a mirror, so that the arm turns the other way
		m.Points[name] = mechanism.Point{-p[0], p[1]}
	}
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	first := g.R * math.Sin(angle)
	for _, test := range []struct {
		front  float64
		ground drivetrain.Ground
		ok     bool
	}{
		{480, drivetrain.GroundFront, false}, {3000, drivetrain.GroundFront, true}, {480, drivetrain.GroundLevel, true},
	} {
		// By hand: the wheel at (x, y) from the pivot moves along (−y, x), and
		// (y − first, front − x) is upward from the line to the front axle.
		into := false
		for i := range 101 {
			travel, _, _ := g.At(0.7 * float64(i))
			y := first + travel
			x := math.Sqrt(g.R*g.R - y*y)
			into = into || test.ground == drivetrain.GroundFront && -y*travel+x*(test.front-x) < -1
		}
		if into == test.ok {
			t.Fatalf("front axle at %v mm: into the ground: %v; the test is wrong", test.front, into)
		}
		s := drive(32, 21, nil)
		s.WheelRadius, s.FrontAxleX, s.MassCentre, s.Ground = mm(100), mm(test.front), at(60, 1000), test.ground
		_, err := drivetrain.New(k, s)
		if test.ok {
			if err != nil {
				t.Errorf("front axle at %v mm, ground %s: %v", test.front, test.ground, err)
			}
			continue
		}
		refuses(t, err, "front_axle_x")
		if !strings.Contains(err.Error(), "moves away from the ground") {
			t.Errorf("front axle at %v mm: %v", test.front, err)
		}
	}
}

// A wheel that rises by less than the shock takes up is a wheel all the same.
func TestLowLeverRatioIsAccepted(t *testing.T) {
	g := arm{A: 150, D: 250, Phi: 1.2, R: 100, Axle: 3.3}
	k, err := mechanism.New(g.Spec(30))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 11 {
		if r := k.Pose(k.Stroke() * units.Length(i) / 10).LeverRatio; !(r < 1) {
			t.Fatalf("ratio up to %v", r)
		}
	}
	s := drive(32, 21, nil)
	s.Drivetrain = drivetrain.Pulleys{Chainring: 11, Sprocket: 11}
	for _, ground := range []drivetrain.Ground{drivetrain.GroundFront, drivetrain.GroundLevel} {
		s.Ground = ground
		if _, err := drivetrain.New(k, s); err != nil {
			t.Error(err)
		}
	}
}
