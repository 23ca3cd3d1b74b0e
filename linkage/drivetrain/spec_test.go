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

// The bounds in the doc comments, each taken at its very value and refused
// beyond as out of its range; and what is within its range and yet no bike.
func TestNewRefuses(t *testing.T) {
	const most = 10 * units.Metre
	nan := units.Length(math.NaN())
	idler := func(teeth int, p mechanism.Point, on string) *drivetrain.Idler {
		return &drivetrain.Idler{Teeth: teeth, At: p, On: on}
	}
	for _, test := range []struct {
		what  string
		set   func(*drivetrain.Spec)
		wrong []string
		class error
	}{
		{"fewest teeth", func(s *drivetrain.Spec) {
			s.Drivetrain = drivetrain.Pulleys{Chainring: 6, Sprocket: 6, Idler: idler(6, at(0, 200), "frame")}
		}, nil, nil},
		{"fewer teeth", func(s *drivetrain.Spec) {
			s.Drivetrain = drivetrain.Pulleys{Chainring: 5, Sprocket: 5, Idler: idler(5, at(0, 200), "frame")}
		}, []string{"drivetrain.chainring", "drivetrain.idler.teeth", "drivetrain.sprocket"}, units.ErrRange},
		{"most teeth on the chainring", func(s *drivetrain.Spec) { s.Drivetrain.Chainring = 120 }, nil, nil},
		{"most teeth on the sprocket", func(s *drivetrain.Spec) { s.Drivetrain.Sprocket = 120 }, nil, nil},
		{"more teeth", func(s *drivetrain.Spec) { s.Drivetrain = drivetrain.Pulleys{Chainring: 121, Sprocket: 121} },
			[]string{"drivetrain.chainring", "drivetrain.sprocket"}, units.ErrRange},
		{"two pulleys as large as the chainstay", func(s *drivetrain.Spec) { s.Drivetrain.Chainring, s.Drivetrain.Sprocket = 120, 120 },
			[]string{"drivetrain"}, units.ErrConflict},
		{"the farthest idlers", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, mechanism.Point{-100, 100}, "frame") }, nil, nil},
		{"the farthest idlers, across", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, mechanism.Point{100, -100}, "frame") }, nil, nil},
		{"idlers beyond", func(s *drivetrain.Spec) {
			s.Drivetrain.Idler = idler(16, mechanism.Point{below(-100), above(100)}, "frame")
		},
			[]string{"drivetrain.idler.at[0]", "drivetrain.idler.at[1]"}, units.ErrRange},
		{"an idler nowhere", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, mechanism.Point{nan, 0}, "XX") },
			[]string{"drivetrain.idler.at[0]", "drivetrain.idler.on"}, units.ErrUnknown},
		{"the farthest chainring", func(s *drivetrain.Spec) { s.Drivetrain.ChainringAt = mechanism.Point{100, -100} }, nil, nil},
		{"a chainring beyond", func(s *drivetrain.Spec) { s.Drivetrain.ChainringAt = mechanism.Point{nan, below(-100)} },
			[]string{"drivetrain.chainring_at[0]", "drivetrain.chainring_at[1]"}, units.ErrRange},
		{"a chainring on nothing", func(s *drivetrain.Spec) { s.Drivetrain.ChainringOn = "XX" }, []string{"drivetrain.chainring_on"}, units.ErrUnknown},
		{"a chainring on the sprocket", func(s *drivetrain.Spec) { s.Drivetrain.ChainringAt = at(-400, 40) }, []string{"drivetrain"}, units.ErrConflict},
		{"an idler on a chainring elsewhere", func(s *drivetrain.Spec) {
			s.Drivetrain.ChainringAt, s.Drivetrain.Idler = at(90, 90), idler(16, at(100, 120), "frame")
		}, []string{"drivetrain"}, units.ErrConflict},
		{"the largest front wheel", func(s *drivetrain.Spec) { s.FrontWheelRadius = most }, nil, nil},
		{"front wheels beyond", func(s *drivetrain.Spec) { s.FrontWheelRadius = above(most) }, []string{"front_wheel_radius"}, units.ErrRange},
		{"a front wheel too small", func(s *drivetrain.Spec) { s.FrontWheelRadius = below(1e-6) }, []string{"front_wheel_radius"}, units.ErrRange},
		{"an idler on the chainring", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, at(20, 20), "frame") }, []string{"drivetrain"}, units.ErrConflict},
		{"an idler on the sprocket", func(s *drivetrain.Spec) { s.Drivetrain.Idler = idler(16, at(-400, 40), "SW") }, []string{"drivetrain"}, units.ErrConflict},
		{"the largest wheel, the front axle farthest", func(s *drivetrain.Spec) { s.WheelRadius, s.FrontAxleX = most, most }, nil, nil},
		{"the smallest wheel", func(s *drivetrain.Spec) { s.WheelRadius = 1e-6 }, nil, nil},
		{"wheel and front axle beyond", func(s *drivetrain.Spec) { s.WheelRadius, s.FrontAxleX = above(most), above(most) },
			[]string{"front_axle_x", "wheel_radius"}, units.ErrRange},
		{"a wheel too small, the front axle too far behind", func(s *drivetrain.Spec) { s.WheelRadius, s.FrontAxleX = below(1e-6), below(-most) },
			[]string{"front_axle_x", "wheel_radius"}, units.ErrRange},
		{"a front axle behind", func(s *drivetrain.Spec) { s.FrontAxleX = -most }, []string{"front_axle_x"}, units.ErrConflict},
		{"mass in front and high", func(s *drivetrain.Spec) { s.MassCentre = mechanism.Point{most, most} }, nil, nil},
		{"mass behind", func(s *drivetrain.Spec) { s.MassCentre[0] = -most }, nil, nil},
		{"mass too far in front and too high", func(s *drivetrain.Spec) { s.MassCentre = mechanism.Point{above(most), above(most)} },
			[]string{"mass_centre[0]", "mass_centre[1]"}, units.ErrRange},
		{"mass too far behind and too low", func(s *drivetrain.Spec) { s.MassCentre = mechanism.Point{below(-most), below(1e-6)} },
			[]string{"mass_centre[0]", "mass_centre[1]"}, units.ErrRange},
		{"a mass centre under ground", func(s *drivetrain.Spec) { s.MassCentre[1] = 1e-6 }, []string{"mass_centre[1]"}, units.ErrConflict},
		{"no ground", func(s *drivetrain.Spec) { s.Ground = "" }, []string{"ground"}, units.ErrUnknown},
		{"an unknown caliper body, a wrong ground", func(s *drivetrain.Spec) { s.BrakeOn, s.Ground = "fork", "steep" }, []string{"brake_on", "ground"}, units.ErrUnknown},
		{"nothing", func(s *drivetrain.Spec) { *s = drivetrain.Spec{} },
			[]string{"drivetrain.chainring", "drivetrain.sprocket", "ground", "mass_centre[1]", "wheel_radius"}, units.ErrRange},
	} {
		s := drive(32, 21, nil)
		test.set(&s)
		d, err := drivetrain.New(solved("a1"), s)
		if diff := cmp.Diff(test.wrong, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
		if (d == nil) != (test.wrong != nil) || !errors.Is(err, test.class) {
			t.Errorf("%s: drive %v, error %v, want one that is %v", test.what, d, err, test.class)
		}
	}
	for _, m := range []*mechanism.Mechanism{nil, {}} {
		_, err := drivetrain.New(m, drive(32, 21, nil))
		refuses(t, err, "mechanism")
	}
	var zero drivetrain.Drive
	if zero.At(1) != (drivetrain.Pose{}) || zero.String() != "no drive" {
		t.Error("the zero Drive drives")
	}
	if g := zero.PoseGradient(1); g.AntiSquat.Holes != nil || g.ChainGrowth.Holes != nil {
		t.Error("the zero Drive has a gradient")
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
	if stroke, err = units.Parse[units.Length](number + " " + strings.Trim(unit, ";,. ")); err != nil || math.Abs(float64(stroke-mm(where))) > 1e-6 {
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
		if !strings.Contains(err.Error(), "moves up from the line below both wheels") {
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
