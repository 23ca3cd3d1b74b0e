package spring_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats/scalar"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
)

// mm is a length in millimetres.
func mm(v float64) units.Length { return units.Length(v) * units.Millimetre }

// perMM is a rate in N/mm.
func perMM(v float64) units.Stiffness { return units.Stiffness(v) * units.NewtonPerMillimetre }

// agree checks that got is within a relative tolerance of want; a want of 0
// must be met exactly.
func agree[Q ~float64](t *testing.T, what string, got, want Q, relative float64) {
	t.Helper()
	if !scalar.EqualWithinRel(float64(got), float64(want), relative) && got != want {
		t.Errorf("%s = %v (%v), want %v within %g", what, got, float64(got), want, relative)
	}
}

// opaque hides what a law is, so that a stack can't join it with others.
type opaque struct{ spring.Law }

// obeysItself checks that a law is one, with the right rate at its kinks, and
// that asking it costs no memory.
func obeysItself(t *testing.T, law spring.Law, kinks []units.Length) {
	t.Helper()
	if err := springtest.TestLaw(law, kinks...); err != nil {
		t.Error(err)
	}
	x := law.Travel() / 3
	if n := testing.AllocsPerRun(10, func() { sink = float64(law.Force(x)) + float64(law.Rate(x)) + float64(law.Energy(x)) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

var sink float64

// clamped checks what a law does with arguments outside its travel, and that
// energy counts from 0.
func clamped(t *testing.T, law spring.Law) {
	t.Helper()
	full := law.Travel()
	if e := law.Energy(0); e != 0 {
		t.Errorf("energy at 0 = %v", e)
	}
	for _, c := range []struct{ x, as units.Length }{
		{-1, 0}, {units.Length(math.NaN()), 0}, {units.Length(math.Inf(-1)), 0},
		{full * 2, full}, {units.Length(math.Inf(1)), full},
	} {
		if law.Force(c.x) != law.Force(c.as) || law.Rate(c.x) != law.Rate(c.as) || law.Energy(c.x) != law.Energy(c.as) {
			t.Errorf("travel %v is not taken as %v", float64(c.x), c.as)
		}
	}
}

// finiteLaw checks that a law the constructor accepted answers with numbers.
func finiteLaw(t *testing.T, law spring.Law) {
	t.Helper()
	full := law.Travel()
	if !(full > 0) || math.IsInf(float64(full), 0) {
		t.Fatalf("travel %v", float64(full))
	}
	before := law.Force(0)
	for i := range 33 {
		x := full * units.Length(i) / 32
		f, k, e := law.Force(x), law.Rate(x), law.Energy(x)
		if !finite(float64(f)) || !finite(float64(k)) || !finite(float64(e)) {
			t.Fatalf("at %v: force %v, rate %v, energy %v", float64(x), float64(f), float64(k), float64(e))
		}
		if !(f >= before) {
			t.Fatalf("force falls from %v to %v at %v", before, f, x)
		}
		before = f
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// fieldsOf lists the fields an error names, in order.
func fieldsOf(err error) []string {
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	return names
}

// refuses checks that an error names exactly these fields.
func refuses(t *testing.T, err error, fields ...string) {
	t.Helper()
	if got := fieldsOf(err); !slices.Equal(got, fields) {
		t.Errorf("refused %q, want %q (%v)", got, fields, err)
	}
}

// bad lists values that a field which must be more than 0 refuses.
var bad = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)}

// close12 checks that got is want within 1e-12.
func close12(t *testing.T, what string, got, want float64) {
	t.Helper()
	agree(t, what, got, want, 1e-12)
}

// evenly is a spring of linear pitch, whose check values are in package coil.
var evenly = coil.LinearPitch{
	WireDiameter: mm(6), MeanDiameter: mm(30.5), ActiveCoils: 18, ShearModulus: 79500 * units.Megapascal,
	FirstGap: mm(4), LastGap: mm(9),
}

// second returns the error of two results.
func second[T any](_ T, err error) error { return err }

// made returns what was made, unless there is an error.
func made[T any](t testing.TB, v T, err error) T {
	t.Helper()
	require.NoError(t, err)
	return v
}

// linearOf makes a spring of a rate in N/m, a travel and a preload in m.
func linearOf(t testing.TB, rate, travel float64, preload ...float64) spring.Law {
	t.Helper()
	spec := spring.Linear{Rate: units.Stiffness(rate), Travel: units.Length(travel)}
	for _, x := range preload {
		spec.Preload = units.Length(x)
	}
	law, err := spring.NewLinear(spec)
	return made(t, law, err)
}

func groupsOf(t testing.TB, groups ...spring.Group) spring.Polyline {
	t.Helper()
	law, err := spring.NewGroups(spring.Groups{Groups: groups})
	return made(t, law, err)
}

func seriesOf(t testing.TB, laws ...spring.Law) spring.Law {
	t.Helper()
	law, err := spring.NewSeries(laws...)
	return made(t, law, err)
}

func parallelOf(t testing.TB, members ...spring.Member) spring.Law {
	t.Helper()
	law, err := spring.NewParallel(members...)
	return made(t, law, err)
}

func preloadedOf(t testing.TB, law spring.Law, preload units.Length) spring.Law {
	t.Helper()
	law, err := spring.NewPreloaded(law, preload)
	return made(t, law, err)
}

// stackPoint is force, rate and energy at a travel, in N, N/mm, N·mm and mm.
type stackPoint struct{ at, force, rate, energy float64 }

// shows checks a law at points, rates at least within 1e-12.
func shows(t *testing.T, law spring.Law, points []stackPoint, relative float64) {
	t.Helper()
	for _, p := range points {
		agree(t, fmt.Sprintf("force at %v mm", p.at), law.Force(mm(p.at)), units.Force(p.force), relative)
		agree(t, fmt.Sprintf("rate at %v mm", p.at), law.Rate(mm(p.at)), perMM(p.rate), min(relative, 1e-12))
		agree(t, fmt.Sprintf("energy at %v mm", p.at), law.Energy(mm(p.at)), units.Energy(p.energy*1e-3), relative)
	}
}

// hostile breaks the contract of a law in one way.
type hostile struct {
	spring.Law
	force  func(x units.Length) units.Force
	travel units.Length
}

func (h hostile) Force(x units.Length) units.Force {
	if h.force != nil {
		return h.force(x)
	}
	return h.Law.Force(x)
}

func (h hostile) Travel() units.Length { return h.travel }

// pointless is a law whose methods need a value.
type pointless struct{ spring.LinearSpring }

// ends returns the travel and the force at which each segment of a chain ends.
func ends(law spring.Law) (list []stackBreak) {
	x := units.Length(0)
	for _, s := range law.(spring.Polyline).Segments() {
		x += s.Length
		list = append(list, stackBreak{float64(x), float64(s.End)})
	}
	return list
}

// hostiles lists laws that no stack may take.
func hostiles(t *testing.T) map[string]spring.Law {
	k := linearOf(t, 50e3, 30e-3)
	return map[string]spring.Law{
		"none":           nil,
		"nil pointer":    (*pointless)(nil),
		"NaN on the way": hostile{k, func(x units.Length) units.Force { return units.Force(math.Log(0.02 - float64(x))) }, mm(30)},
		"infinite":       hostile{k, func(x units.Length) units.Force { return units.Force(1 / float64(mm(30)-x)) }, mm(30)},
		"falling":        hostile{k, func(x units.Length) units.Force { return -k.Force(x) }, mm(30)},
		"no travel":      hostile{k, nil, 0},
		"NaN travel":     hostile{k, nil, units.Length(math.NaN())},
		"endless":        hostile{k, nil, units.Length(math.Inf(1))},
		"panics":         hostile{k, func(units.Length) units.Force { panic("no") }, mm(30)},
		"negative rate":  negativeRate{k},
	}
}

type negativeRate struct{ spring.Law }

func (n negativeRate) Rate(x units.Length) units.Stiffness { return -n.Law.Rate(x) }
