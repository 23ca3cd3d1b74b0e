package linkagetest_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// recorder stands in for the testing.TB of a test that fails.
type recorder struct {
	testing.TB
	text   string
	helper bool
}

func (r *recorder) Helper()                           { r.helper = true }
func (r *recorder) Errorf(format string, args ...any) { r.text += fmt.Sprintf(format, args...) }
func (r *recorder) Fatalf(format string, args ...any) { r.Errorf(format, args...) }

func TestMechanismsOfTheListMoveAndTheOthersLock(t *testing.T) {
	for _, name := range linkagetest.Movable() {
		m := linkagetest.Solved(name)
		assert.Equal(t, linkagetest.Spec(name).Stroke, m.Stroke(), name)
	}
	_, err := mechanism.New(linkagetest.Spec("x1"))
	assert.Equal(t, []string{"stroke"}, linkagetest.BadFields(err))
	assert.Panics(t, func() { linkagetest.Solved("x1") })
	assert.Panics(t, func() { linkagetest.Spec("z9") })
}

// A spec that a test spoils is its own.
func TestSpecIsACopy(t *testing.T) {
	spec := linkagetest.Spec("a1")
	spec.Points["P"] = linkagetest.At(1, 2)
	assert.Equal(t, linkagetest.At(12, 72), linkagetest.Spec("a1").Points["P"])
	assert.Equal(t, mechanism.Point{2, -0.5}, linkagetest.At(2000, -500))
}

func TestChecksFailWhereTheyShould(t *testing.T) {
	var c units.Checker
	units.Positive(&c, "b", 0.0)
	units.Positive(&c, "a", -1.0)
	two := c.Err()
	for _, test := range []struct {
		name  string
		check func(testing.TB)
		want  string
	}{
		{"numbers", func(t testing.TB) { linkagetest.AllFinite(t, "rates", 1, -2e308/1e300, 0) }, ""},
		{"NaN", func(t testing.TB) { linkagetest.AllFinite(t, "rates", 1, math.NaN()) }, "rates: value 1 of [1 NaN]"},
		{"infinite", func(t testing.TB) { linkagetest.AllFinite(t, "rates", math.Inf(-1), 1) }, "rates: value 0 of [-Inf 1]"},
		{"the fields", func(t testing.TB) { linkagetest.Refuses(t, two, "b", "a") }, ""},
		{"no fields", func(t testing.TB) { linkagetest.Refuses(t, nil) }, ""},
		{"a field less", func(t testing.TB) { linkagetest.Refuses(t, two, "a") }, "refused fields [a b], want [a]: " + two.Error()},
		{"named", func(t testing.TB) { linkagetest.Named(t, "spec", two) }, ""},
		{"unnamed", func(t testing.TB) { linkagetest.Named(t, "spec", assert.AnError) }, "spec: an error that names no field: " + assert.AnError.Error()},
	} {
		r := &recorder{TB: t}
		test.check(r)
		assert.Equal(t, test.want, r.text, test.name)
		assert.True(t, r.helper, "%s: the line reported is not the caller's", test.name)
	}
}

func TestNeighboursAndStrokes(t *testing.T) {
	const v = 0.05
	assert.True(t, linkagetest.Below(v) < v && linkagetest.Above(linkagetest.Below(v)) == v && linkagetest.Above(v) > v)
	strokes := linkagetest.Strokes(0.08)
	assert.Len(t, strokes, 14)
	assert.True(t, strokes[0] != strokes[0], "NaN")
	assert.Equal(t, []units.Length{units.Length(math.Inf(-1)), -1, 1e308, units.Length(math.Inf(1)), 0, 0.01}, strokes[1:7])
	assert.Equal(t, units.Length(0.08), strokes[13])
}

// The closed form against differences of its own places, and the eyes' distance
// against the length that the shock must have.
func TestArmIsConsistent(t *testing.T) {
	g := linkagetest.Arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: 3.3}
	near := func(what string, got, want, tolerance float64) {
		t.Helper()
		assert.InDelta(t, want, got, tolerance, what)
	}
	spec := g.Spec(30)
	assert.Equal(t, linkagetest.MM(30), spec.Stroke)
	apart := func(a, b string) float64 {
		p, q := spec.Points[a], spec.Points[b]
		return math.Hypot(float64(p[0]-q[0]), float64(p[1]-q[1])) * 1e3
	}
	near("shock", g.Shock(), apart("S1", "S2"), 1e-9)
	near("axle", g.R, apart("A", "P"), 1e-9)
	near("in line", g.Shock()-g.DeadPoint(), apart("S2", "P")-apart("S1", "P"), 1e-9)
	near("dead point", g.Turn(g.DeadPoint()-1e-9), g.Phi, 1e-4)
	for s := 1.0; s < 30; s += 7 {
		const h = 1e-3
		turn := g.Turn(s)
		eye := complex(g.A*math.Cos(g.Phi-turn)-g.D, g.A*math.Sin(g.Phi-turn))
		near("length", math.Hypot(real(eye), imag(eye)), g.Shock()-s, 1e-9)
		travel, ratio, slope := g.At(s)
		near("travel", travel, g.R*(math.Sin(g.Axle-turn)-math.Sin(g.Axle)), 1e-9)
		before, ratioBefore, _ := g.At(s - h)
		after, ratioAfter, _ := g.At(s + h)
		near("ratio", ratio, (after-before)/(2*h), 1e-5)
		near("slope", slope, (ratioAfter-ratioBefore)/(2*h), 1e-5)
	}
}
