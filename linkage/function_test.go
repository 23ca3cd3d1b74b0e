package linkage_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// jet is a travel in m, a lever ratio, and its slope in 1/m.
type jet struct{ travel, ratio, slope float64 }

// pose returns the jet of a mechanism.
func pose(k *mechanism.Mechanism) func(units.Length) jet {
	return func(s units.Length) jet {
		p := k.Pose(s)
		return jet{float64(p.Travel), p.LeverRatio, float64(p.LeverRatioSlope)}
	}
}

// asPromised checks that a curve is as near to what it was made of as NewFunction
// promises, at even steps of the stroke.
func asPromised(t *testing.T, what string, c *linkage.Curve, f func(units.Length) jet, steps int) {
	t.Helper()
	for i := range steps + 1 {
		s := c.Stroke() * units.Length(i) / units.Length(steps)
		want := f(s)
		unitstest.Near(t, what+": travel", float64(c.TravelAt(s)), want.travel, unitstest.Abs(1e-9), unitstest.Rel(1e-12))
		unitstest.Near(t, what+": ratio", c.LeverRatio(s), want.ratio, unitstest.Abs(1e-7))
		unitstest.Near(t, what+": slope", float64(c.LeverRatioSlope(s)), want.slope, unitstest.Rel(1e-5), unitstest.Abs(1e-5))
	}
}

// The curve of a mechanism is as near to it as promised and takes few pieces: 20,
// and a few more where the ratio bends. Over a stroke of next to nothing, rounding
// must neither spoil the curve nor make it endless pieces, and a mechanism that
// was followed in few steps has the same curve.
func TestCompiledCurveIsAsNearAsPromised(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		c := compiled(t, k)
		unitstest.Near(t, name+": stroke", c.Stroke(), k.Stroke(), unitstest.Exact)
		asPromised(t, name, c, pose(k), 1777)
		if n := linkage.PiecesOf(c); n < 20 || n > 34 {
			t.Errorf("%s: %d pieces", name, n)
		}
		for _, stroke := range []units.Length{mm(0.002), mm(0.003), mm(0.1), mm(1), mm(3)} {
			m := spec(name)
			m.Stroke = stroke
			short, err := mechanism.New(m)
			require.NoError(t, err)
			c := compiled(t, short)
			asPromised(t, name+" over "+stroke.String(), c, pose(k), 30)
			if n := linkage.PiecesOf(c); n > 25 {
				t.Errorf("%s over %v: %d pieces", name, stroke, n)
			}
		}
	}
	for _, steps := range []int{2, 7, 16, 45} {
		m, err := mechanism.NewCoarse(spec("c1"), steps)
		require.NoError(t, err)
		asPromised(t, "coarse", compiled(t, m), pose(m), 99)
	}
}

// jetOf returns the jet of an arm.
func jetOf(g linkagetest.Arm) func(units.Length) jet {
	return func(s units.Length) jet {
		travel, ratio, slope := g.At(s.Millimetres())
		return jet{1e-3 * travel, ratio, 1e3 * slope}
	}
}

// withSlot returns a mechanism with one more body, which stands still: a pivot
// and a slot hold it. Slots take Newton's method.
func withSlot(m mechanism.Spec) mechanism.Spec {
	m.Points["q0"], m.Points["q1"], m.Points["q2"] = at(500, 500), at(600, 500), at(550, 500)
	m.Bodies["frame"] = append(m.Bodies["frame"], "q0", "q2")
	m.Bodies["rider"] = []string{"q0", "q1"}
	m.Slots = []mechanism.Slot{{Point: "q1", On: "frame", Along: [2]string{"q0", "q2"}}}
	return m
}

// Near a dead point the motion is too sharp for the strokes it is followed at:
// the curve must take more pieces to be as near as it promises, whether the
// ratio rises into the dead point at the end or falls from the one at the
// start. Rounding must not make them many more.
func TestCompiledCurveIsNearBesideADeadPoint(t *testing.T) {
	for _, test := range []struct {
		name   string
		phi    float64
		gap    float64 // to the dead point, where the stroke ends short of one
		stroke float64
	}{
		{"2 mm before", 0.9, 2, 0},
		{"0.5 mm before", 0.9, 0.5, 0},
		{"0.1 mm before", 0.9, 0.1, 0},
		{"0.01 mm before", 0.9, 0.01, 0},
		{"0.002 mm before", 0.9, 0.002, 0},
		{"just after", 3, 0, 50},
		{"a little after", 2.9, 0, 50},
		{"just after, over a short stroke", 3.05, 0, 3},
	} {
		g := linkagetest.Arm{A: 80, D: 250, Phi: test.phi, R: 403, Axle: math.Pi + 0.125}
		stroke := test.stroke
		if test.gap > 0 {
			stroke = g.DeadPoint() - test.gap
		}
		for form, m := range map[string]mechanism.Spec{"circles": g.Spec(stroke), "Newton": withSlot(g.Spec(stroke))} {
			k, err := mechanism.New(m)
			if err != nil {
				t.Fatal(test.name, form, err)
			}
			if k.ClosedForm() != (form == "circles") {
				t.Fatalf("%s is not solved by %s", test.name, form)
			}
			c := compiled(t, k)
			if n := linkage.PiecesOf(c); n > 300 {
				t.Errorf("%s, %s: %d pieces", test.name, form, n)
			}
			asPromised(t, test.name+", "+form, c, jetOf(g), 700)
		}
	}
}

// What is promised of the travel is a length, and holds for the largest
// mechanism there may be, a ten-billionth of which it is.
func TestCompiledCurveOfALargeArmIsNear(t *testing.T) {
	for _, phi := range []float64{0.95, 1.4, 2.2, 2.8} {
		g := linkagetest.Arm{A: 20e3, D: 60e3, Phi: phi, R: 90e3, Axle: math.Pi + 0.125}
		const stroke = 10e3
		k, err := mechanism.New(g.Spec(stroke))
		if err != nil {
			t.Fatal(err)
		}
		asPromised(t, "large", compiled(t, k), jetOf(g), 1000)
	}
	// Over the least of strokes what rounding spoils is no jump.
	g := linkagetest.Arm{A: 20e3, D: 60e3, Phi: 1.4, R: 90e3, Axle: math.Pi + 0.125}
	k, err := mechanism.New(g.Spec(0.001))
	require.NoError(t, err)
	_, ratio, _ := g.At(0)
	unitstest.Near(t, "ratio", compiled(t, k).LeverRatio(0), ratio, unitstest.Rel(1e-9))
}

// counted returns f with a count of how often it is asked.
func counted(f func(s float64) (w, r, g float64)) (func(units.Length) (units.Length, float64, units.RatioSlope), *int) {
	n := 0
	return func(s units.Length) (units.Length, float64, units.RatioSlope) {
		n++
		w, r, g := f(float64(s))
		return units.Length(w), r, units.RatioSlope(g)
	}, &n
}

// A function in closed form becomes a curve as near to it as promised, for few
// looks at it. A polynomial of fifth degree is met by the first pieces; a step
// that is smooth takes more where it is.
func TestFunctionBecomesACurve(t *testing.T) {
	for _, test := range []struct {
		name         string
		stroke       float64
		f            func(s float64) (w, r, g float64)
		pieces, most int // looks at f
	}{
		{"line", 0.06, func(s float64) (float64, float64, float64) { return 2.5 * s, 2.5, 0 }, 20, 41},
		{"quintic", 0.05, func(s float64) (float64, float64, float64) {
			return 3*s - 8*s*s + 4e4*s*s*s*s*s, 3 - 16*s + 2e5*s*s*s*s, -16 + 8e5*s*s*s
		}, 20, 41},
		{"sine", 0.07, func(s float64) (float64, float64, float64) {
			return 2.6*s + 0.002*math.Sin(60*s), 2.6 + 0.12*math.Cos(60*s), -7.2 * math.Sin(60*s)
		}, 40, 100},
		{"rising over 2 mm", 0.06, func(s float64) (float64, float64, float64) {
			x := (s - 0.031) / 0.002
			return 2.5*s + 0.1*0.002*(math.Log(math.Cosh(x))-math.Log(math.Cosh(0.031/0.002))), 2.5 + 0.1*math.Tanh(x), 50 / math.Cosh(x) / math.Cosh(x)
		}, 160, 400},
		{"1 km", 1000, func(s float64) (float64, float64, float64) {
			return s + 20*math.Sin(s/200), 1 + 0.1*math.Cos(s/200), -0.0005 * math.Sin(s/200)
		}, 200, 500},
		{"1 µm", 1e-6, func(s float64) (float64, float64, float64) { return 2*s + 30*s*s, 2 + 60*s, 60 }, 20, 41},
	} {
		f, looks := counted(test.f)
		c, err := linkage.NewFunction(units.Length(test.stroke), f)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if n := linkage.PiecesOf(c); n > test.pieces || *looks > test.most {
			t.Errorf("%s: %d pieces for %d looks", test.name, n, *looks)
		}
		soundCurve(t, c)
		asPromised(t, test.name, c, func(s units.Length) jet {
			w, r, g := test.f(float64(s))
			return jet{w, r, g}
		}, 1500)
	}
}

// A function whose slope jumps is followed on both sides; one that jumps itself,
// isn't finite, or whose derivatives are wrong is refused, after a bounded number
// of looks at it.
func TestFunctionsThatAreNotSmoothAreRefused(t *testing.T) {
	kink := func(s float64) (float64, float64, float64) {
		d := max(s-0.0314, 0)
		return 2.5*s + 4*d*d, 2.5 + 8*d, map[bool]float64{true: 8}[d > 0]
	}
	f, looks := counted(kink)
	c, err := linkage.NewFunction(0.06, f)
	if err != nil || *looks > 200 {
		t.Fatalf("a kink: %v after %d looks", err, *looks)
	}
	for i := range 601 {
		s := 0.06 * float64(i) / 600
		w, r, g := kink(s)
		unitstest.Near(t, "travel", float64(c.TravelAt(units.Length(s))), w, unitstest.Abs(1e-9))
		unitstest.Near(t, "ratio", c.LeverRatio(units.Length(s)), r, unitstest.Abs(1e-6))
		if math.Abs(s-0.0314) > 1e-4 {
			unitstest.Near(t, "slope", float64(c.LeverRatioSlope(units.Length(s))), g, unitstest.Abs(1e-5))
		}
	}
	const notSmooth = "a smooth function, its ratio and slope its derivatives"
	const starts, ends = "a travel of 0 at a stroke of 0", "a finite travel of more than 0 at full stroke"
	for _, test := range []struct {
		name, says string
		f          func(s float64) (w, r, g float64)
	}{
		{"a jump of the travel", notSmooth, func(s float64) (float64, float64, float64) { return 2.5*s + 0.01*math.Round(s/0.06), 2.5, 0 }},
		{"a jump of the ratio", notSmooth, func(s float64) (float64, float64, float64) {
			return 2.5*s + max(s-0.0314, 0), 2.5 + math.Round(s/0.0628), 0
		}},
		{"NaN inside", notSmooth, func(s float64) (float64, float64, float64) { return 2.5 * s, 2.5, math.Sqrt(math.Abs(s-0.031) - 0.001) }},
		{"NaN at the end", notSmooth, func(s float64) (float64, float64, float64) { return 2.5 * s, math.Sqrt(6.25 * (1 - s)), math.NaN() }},
		{"an infinite slope", notSmooth, func(s float64) (float64, float64, float64) {
			return 2 * math.Sqrt(s), 1 / math.Sqrt(s), -0.5 / s / math.Sqrt(s)
		}},
		{"a ratio of something", notSmooth, func(s float64) (float64, float64, float64) { return 2.5 * s, 2.6, 0 }},
		{"a slope of something", notSmooth, func(s float64) (float64, float64, float64) { return 2.5*s + 3*s*s, 2.5 + 6*s, 60 }},
		{"a travel that begins", starts + ", not 0.001 mm", func(s float64) (float64, float64, float64) { return 2.5*s + 1e-6, 2.5, 0 }},
		{"a travel that begins below 0", starts, func(s float64) (float64, float64, float64) { return 2.5*s - 1e-6, 2.5, 0 }},
		{"a travel without end", ends, func(s float64) (float64, float64, float64) {
			return 1/(0.06-s) - 1/0.06, math.Pow(0.06-s, -2), 2 * math.Pow(0.06-s, -3)
		}},
		{"a wheel that falls", ends, func(s float64) (float64, float64, float64) { return -2.5 * s, -2.5, 0 }},
		{"no motion", ends, func(s float64) (float64, float64, float64) { return 0, 0, 0 }},
		{"a wheel that turns back", "not from -1 to 2", func(s float64) (float64, float64, float64) { return 2*s - 25*s*s, 2 - 50*s, -50 }},
		{"a ratio of 2000", "from 2e+03 to 2e+03", func(s float64) (float64, float64, float64) { return 2000 * s, 2000, 0 }},
	} {
		f, looks := counted(test.f)
		c, err := linkage.NewFunction(0.06, f)
		if c != nil || *looks > 12000 {
			t.Errorf("%s: accepted, or %d looks", test.name, *looks)
		}
		refuses(t, err, "function")
		if !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v doesn't say %q", test.name, err, test.says)
		}
	}
	line := func(s units.Length) (units.Length, float64, units.RatioSlope) { return s, 1, 0 }
	for stroke, ok := range map[units.Length]bool{1e-6: true, below(1e-6): false, 1e3: true, above(1e3): false} {
		if _, err := linkage.NewFunction(stroke, line); ok != (err == nil) {
			t.Errorf("a stroke of %v: %v", float64(stroke), err)
		}
	}
	_, err = linkage.NewFunction(units.Length(math.NaN()), nil)
	refuses(t, err, "function", "stroke")
	for _, m := range []*mechanism.Mechanism{nil, {}} {
		_, err = linkage.Compile(m)
		refuses(t, err, "mechanism")
	}
}

// A travel that begins with a rounding begins with 0.
func TestFunctionBeginsWithNoTravel(t *testing.T) {
	for _, off := range []units.Length{5e-11, -5e-11} {
		c, err := linkage.NewFunction(0.06, func(s units.Length) (units.Length, float64, units.RatioSlope) { return 2.5*s + off, 2.5, 0 })
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range []units.Length{0, 1e-15, 1e-12, 1e-10, 1e-9} {
			if s := c.StrokeAt(w); !(s >= 0) || c.TravelAt(s) > w+1e-10 {
				t.Errorf("a travel of %v at a stroke of %v", float64(w), float64(s))
			}
		}
	}
}
