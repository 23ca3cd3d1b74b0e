package sag_test

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// drawnBike is the whole bike of the tests with a fork, its offset and the place of its bottom bracket.
func drawnBike(t testing.TB) sag.Bike {
	b := wholeBike(t)
	b.Front.Curve = made(linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.16}))
	b.Front.Law = linear(t, 8e3, 0.16, 2e-3)
	b.ForkOffset, b.BottomBracketHeight, b.ChainstayLength = new(44*units.Millimetre), 0.345, 0.44
	return b
}

// The frame is turned until both wheels stand on the ground: the steering axis, drawn through two of its
// points, meets the ground a trail ahead of the wheel, at the head angle, and the bottom bracket is as
// high as it is drawn.
func TestGeometryIsThatOfTheTurnedFrame(t *testing.T) {
	b := drawnBike(t)
	sin, cos := math.Sincos(float64(64 * units.Degree))
	l := leaned{bike: b, front: func(s float64) complex128 { return complex(-cos*s, sin*s) }}
	l.rear = func(s float64) complex128 { return complex(0, float64(b.Rear.Curve.TravelAt(units.Length(s)))) }
	bracket := complex(math.Sqrt(0.44*0.44-0.006*0.006), 0.345)
	for _, offset := range []units.Length{0.044, 0, -0.03} {
		for _, sf := range []float64{0, 0.04, 0.16} {
			for _, sr := range []float64{0, 0.018, float64(b.Rear.Curve.Stroke())} {
				b.ForkOffset = &offset
				g := made(b.GeometryAt(units.Length(sf), units.Length(sr)))
				_, turned, af, ar := l.place(sf, sr)
				turn := cmplx.Rect(1, turned)
				low := (af - complex(sin, cos)*complex(float64(offset), 0)) * turn // on the axis, beside the axle
				high := low + complex(-cos, sin)*turn
				ground := imag(ar*turn) - 0.351
				meets := low + (high-low)*complex((ground-imag(low))/imag(high-low), 0)
				near(t, "trail", float64(g.Trail), real(meets-af*turn), 1e-10)
				near(t, "head angle", float64(g.HeadAngle), math.Pi-cmplx.Phase(high-low), 1e-11)
				near(t, "bottom bracket", float64(g.BottomBracketHeight), 0.351+imag((bracket-ar)*turn), 1e-11)
				near(t, "wheelbase", float64(g.Wheelbase), real((af-ar)*turn), 1e-11)
				near(t, "ground", imag(af*turn)-0.372, ground, 1e-11)
				if g.FrontStroke != units.Length(sf) || g.RearStroke != units.Length(sr) || math.Abs(float64(g.Pitch)-turned) > 1e-12 {
					t.Errorf("%+v at %v and %v, turned by %v", g, sf, sr, turned)
				}
			}
		}
	}
}

// A stance has the geometry of its strokes, whatever the ground and the springs.
func TestStanceHasTheGeometryOfItsStrokes(t *testing.T) {
	for _, ground := range grounds {
		b := drawnBike(t)
		b.Ground = ground
		s := made(b.Stance())
		b = sag.Bike{Masses: sag.Masses{Wheelbase: b.Wheelbase, FrontWheelRadius: b.FrontWheelRadius, RearWheelRadius: b.RearWheelRadius, ForkOffset: b.ForkOffset,
			BottomBracketHeight: b.BottomBracketHeight, ChainstayLength: b.ChainstayLength}, Front: sag.End{Curve: b.Front.Curve}, Rear: sag.End{Curve: b.Rear.Curve}}
		if g := made(b.GeometryAt(s.FrontStroke, s.RearStroke)); g != s.Geometry || g.Trail == 0 || g.BottomBracketHeight == 0 {
			t.Errorf("%+v, standing so %+v", g, s.Geometry)
		}
	}
}

// What needs an input that is not stated is left out.
func TestGeometryLeavesOutWhatItIsNotTold(t *testing.T) {
	b := drawnBike(t)
	whole := made(b.GeometryAt(0.03, 0.02))
	for _, test := range []struct {
		change func(*sag.Bike)
		lacks  func(*sag.Geometry)
	}{
		{func(b *sag.Bike) { b.ForkOffset = nil }, func(g *sag.Geometry) { g.Trail = 0 }},
		{func(b *sag.Bike) { b.BottomBracketHeight = 0 }, func(g *sag.Geometry) { g.BottomBracketHeight = 0 }},
		{func(b *sag.Bike) { b.ChainstayLength = 0 }, func(g *sag.Geometry) { g.BottomBracketHeight = 0 }},
	} {
		other, want := b, whole
		test.change(&other)
		test.lacks(&want)
		if g := made(other.GeometryAt(0.03, 0.02)); g != want {
			t.Errorf("%+v, want %+v", g, want)
		}
	}
	b.Front.Curve = constant(t, 0.9, 0.15)
	if g := made(b.GeometryAt(0.03, 0.02)); g.HeadAngle != 0 || g.Trail != 0 || g.BottomBracketHeight == 0 {
		t.Errorf("no fork in front: %+v", g)
	}
	// A short bike with a deep front, pitched forward by asin(0.5/0.58), nearly a right angle: beyond
	// 90° the steering axis would lie on the ground.
	b = drawnBike(t)
	b.Front.Curve = made(linkage.NewFork(linkage.Fork{HeadAngle: 40 * units.Degree, Travel: 0.8}))
	b.Rear.Curve, b.Wheelbase = constant(t, 1, 0.8), 0.8
	if g := made(b.GeometryAt(0, 0.7)); g.HeadAngle >= 1*units.Degree || g.Trail != 0 {
		t.Errorf("an axis that hardly meets the ground: %+v", g)
	}
}

// A bike that rolls freely down a slope, or up it, rests as one that is lighter by the slope's cosine.
// One that stands there, or keeps its speed, rests as one on level ground with the slope's tangent of
// its weight along it.
func TestSlopeIsALighterBike(t *testing.T) {
	for _, slope := range []units.Angle{-25 * units.Degree, -8 * units.Degree, 10 * units.Degree, 21 * units.Degree} {
		sin, cos := math.Sincos(float64(slope))
		level := drawnBike(t)
		level.Front.Law, level.Rear.Law = stiffer{level.Front.Law, 1 / cos}, stiffer{level.Rear.Law, 1 / cos}
		on := drawnBike(t)
		on.Slope = slope
		s, like := made(on.Stance()), made(level.Stance())
		near(t, "rolling: front", s.FrontSag, like.FrontSag, 1e-9)
		near(t, "rolling: rear", s.RearSag, like.RearSag, 1e-9)
		near(t, "rolling: load", float64(s.FrontWheelLoad), cos*float64(like.FrontWheelLoad), 1e-9)
		if a := on.Acceleration(); a != -sin {
			t.Errorf("rolling: gains %v, want %v", a, -sin)
		}
		if sin > 0 {
			on.Driving, level.Driving = sin, sin/cos
		} else {
			on.FrontBraking, level.FrontBraking = -sin, -sin/cos
		}
		s, like = made(on.Stance()), made(level.Stance())
		near(t, "standing: front", s.FrontSag, like.FrontSag, 1e-9)
		near(t, "standing: rear", s.RearSag, like.RearSag, 1e-9)
		near(t, "standing: load", float64(s.RearWheelLoad), cos*float64(like.RearWheelLoad), 1e-9)
		if a := on.Acceleration(); a != 0 {
			t.Errorf("standing: gains %v", a)
		}
	}
}

// Each bad field is named. Neither masses nor springs are wanted.
func TestGeometryRefuses(t *testing.T) {
	g, err := sag.Bike{}.GeometryAt(0, 0)
	refused(t, "nothing", g, err, "wheelbase", "wheel_radius", "front.curve", "rear.curve")
	b := drawnBike(t)
	full := b.Front.Curve.Stroke()
	for _, test := range []struct {
		what        string
		change      func(b *sag.Bike)
		front, rear units.Length
		want        []string
	}{
		{"strokes", func(*sag.Bike) {}, -1e-9, 0.08, []string{"front_stroke", "rear_stroke"}},
		{"beyond", func(*sag.Bike) {}, units.Length(justAbove(float64(full))), units.Length(math.NaN()), []string{"front_stroke", "rear_stroke"}},
		{"lengths", func(b *sag.Bike) {
			b.Wheelbase, b.FrontWheelRadius, b.ForkOffset, b.BottomBracketHeight, b.ChainstayLength = -1, 11, new(units.Length(1.1)), -0.3, units.Length(math.Inf(1))
		}, 0, 0, []string{"wheelbase", "front_wheel_radius", "bottom_bracket_height", "chainstay_length", "fork_offset"}},
		{"offset", func(b *sag.Bike) { b.ForkOffset = new(units.Length(math.NaN())) }, 0, 0, []string{"fork_offset"}},
		{"chainstay", func(b *sag.Bike) { b.BottomBracketHeight, b.ChainstayLength = 0.1, 0.2 }, 0, 0, []string{"chainstay_length"}},
		{"one wheel", func(b *sag.Bike) { b.RearWheelRadius = 0 }, 0, 0, []string{"wheel_radius"}},
		{"too short", func(b *sag.Bike) { b.Wheelbase = 0.02 }, full, 0, []string{"wheelbase"}},
	} {
		other := b
		test.change(&other)
		g, err := other.GeometryAt(test.front, test.rear)
		refused(t, test.what, g, err, test.want...)
	}
	g, err = b.GeometryAt(full, b.Rear.Curve.Stroke())
	require.NoError(t, err)
	if g.FrontSag != 1 || g.RearSag != 1 {
		t.Errorf("at full travel %+v", g)
	}
	b.ForkOffset = nil // of pointers, those to numbers are changed
	unitstest.FiniteOrRefused(t, "geometry", b.Masses, func(m sag.Masses) (sag.Geometry, error) {
		return sag.Bike{Masses: m, Front: b.Front, Rear: b.Rear}.GeometryAt(0.04, 0.02)
	})
	unitstest.FiniteOrRefused(t, "ground", sag.Ground{Slope: 0.2, FrontBraking: 0.1, RearBraking: 0.1, Driving: 0.2}, func(g sag.Ground) (sag.Stance, error) {
		return sag.Bike{Masses: b.Masses, Front: b.Front, Rear: b.Rear, Ground: g}.Stance()
	})
}

// What is stated of the geometry is checked with the masses, to the limits themselves. The place of the
// bottom bracket is compared with the rear axle only where both are known.
func TestStatedGeometryIsCheckedWithTheMasses(t *testing.T) {
	const mm, most = units.Millimetre, 10 * units.Metre
	for _, test := range []struct {
		change func(*sag.Masses)
		want   []string
	}{
		{func(m *sag.Masses) { m.WheelRadius, m.FrontWheelRadius, m.RearWheelRadius = mm, most, mm }, nil},
		{func(m *sag.Masses) { m.ForkOffset = new(-units.Metre) }, nil},
		{func(m *sag.Masses) { m.ForkOffset = new(units.Metre) }, nil},
		{func(m *sag.Masses) { m.ForkOffset = new(units.Length(justBelow(-1))) }, []string{"fork_offset"}},
		{func(m *sag.Masses) { m.ForkOffset = new(units.Length(justAbove(1))) }, []string{"fork_offset"}},
		{func(m *sag.Masses) {
			m.WheelRadius, m.RearWheelRadius = units.Length(justBelow(0.001)), units.Length(justAbove(10))
		}, []string{"wheel_radius", "rear_wheel_radius"}},
		{func(m *sag.Masses) { m.BottomBracketHeight, m.ChainstayLength = 0.6, 0.2 }, nil}, // of no known wheel
		{func(m *sag.Masses) { m.WheelRadius, m.ChainstayLength = 0.36, 0.2 }, nil},
		{func(m *sag.Masses) { m.WheelRadius, m.BottomBracketHeight = 0.36, 0.8 }, nil},
		{func(m *sag.Masses) { m.WheelRadius, m.BottomBracketHeight, m.ChainstayLength = 0.25, 0.5, 0.25 }, []string{"chainstay_length"}},
		{func(m *sag.Masses) { m.WheelRadius, m.BottomBracketHeight, m.ChainstayLength = 0.25, 0.5, -0.1 }, []string{"chainstay_length"}},
		{func(m *sag.Masses) { m.WheelRadius, m.BottomBracketHeight, m.ChainstayLength = 0.25, 11, 0.4 }, []string{"bottom_bracket_height"}},
	} {
		m := sag.Masses{RiderMass: 80, BikeMass: 16, RearShare: 0.6}
		test.change(&m)
		_, err := m.Loads()
		named(t, "loads", err, test.want...)
		_, err = m.BikeLoads()
		named(t, "of the bike", err, test.want...)
	}
	b := drawnBike(t)
	b.Wheelbase = 2e9
	_, err := b.Stance()
	named(t, "too long to stand", err, "wheelbase")
	for _, slope := range []units.Angle{-60 * units.Degree, 60 * units.Degree} {
		for _, c := range []struct {
			slope units.Angle
			want  []string
		}{{slope, nil}, {1.001 * slope, []string{"slope"}}} {
			ground := units.Checker{}
			sag.Ground{Slope: c.slope, FrontBraking: 5, RearBraking: 5, Driving: 5}.Check(&ground)
			named(t, "slope", ground.Err(), c.want...)
		}
	}
}
