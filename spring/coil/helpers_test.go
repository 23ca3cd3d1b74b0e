package coil_test

import (
	"log"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats/scalar"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
)

func mm(x float64) units.Length { return units.Length(x) * units.Millimetre }

// perMM is a rate in N/mm.
func perMM(v float64) units.Stiffness { return units.Stiffness(v) * units.NewtonPerMillimetre }

func mpa(x float64) units.Stress { return units.Stress(x) * units.Megapascal }

// agree checks that got is within a relative tolerance of want; a want of 0
// must be met exactly.
func agree[Q ~float64](t *testing.T, what string, got, want Q, relative float64) {
	t.Helper()
	if !scalar.EqualWithinRel(float64(got), float64(want), relative) && got != want {
		t.Errorf("%s = %v (%v), want %v within %g", what, got, float64(got), want, relative)
	}
}

func close12(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*math.Abs(want)) {
		t.Errorf("%s = %.16g, want %.16g", what, got, want)
	}
}

func known[Q ~float64](t *testing.T, what string, want float64) func(Q, bool) {
	return func(got Q, ok bool) {
		t.Helper()
		if !ok {
			t.Errorf("%s is not known", what)
		}
		close12(t, what, float64(got), want)
	}
}

func second[T any](_ T, err error) error { return err }

func fieldsOf(err error) []string {
	var list []string
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

// refuses checks that an error names exactly these fields.
func refuses(t *testing.T, err error, fields ...string) {
	t.Helper()
	if got := fieldsOf(err); !slices.Equal(got, fields) {
		t.Errorf("refused %q, want %q (%v)", got, fields, err)
	}
}

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

// bad lists values that a field which must be more than 0 refuses.
var bad = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)}

// bounds checks that a field is taken from its least value to its greatest, and
// refused by its name beyond.
func bounds(t *testing.T, field string, least, most float64, try func(v float64) error) {
	t.Helper()
	for _, c := range []struct {
		v    float64
		want []string
	}{{least, nil}, {most, nil}, {least - 0.001*math.Abs(least), []string{field}}, {1.001 * most, []string{field}}} {
		if diff := cmp.Diff(c.want, fieldsOf(try(c.v))); diff != "" && !(c.v == 0 && c.want != nil) {
			t.Errorf("%s of %v (-want +got):\n%s", field, c.v, diff)
		}
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

var sink float64

// stackPoint is force, rate and energy at a travel, in N, N/mm, N·mm and mm.
type stackPoint struct{ at, force, rate, energy float64 }

// shockSpring is an invented spring of a shock: the outputs below were
// computed with mpmath at 50 digits from the formulas of the doc comments.
var shockSpring = coil.Spec{
	WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 5, Ends: coil.SquaredGround, FreeLength: 115e-3,
	ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206000 * units.Megapascal, Density: 7850,
}

func coilOf(t testing.TB, spec coil.Spec) *coil.Spring {
	s, err := coil.New(spec)
	require.NoError(t, err)
	return s
}

func coilOr(spec coil.Spec) *coil.Spring {
	s, err := coil.New(spec)
	if err != nil {
		log.Fatal(err)
	}
	return s
}

// exampleCoil is the shockSpring of the Examples.
func exampleCoil() *coil.Spring { return coilOr(shockSpring) }

// finiteLaw checks that a law that was accepted answers with numbers, and that its
// force does not fall.
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
		if !finite(float64(f)) || !finite(float64(k)) || !finite(float64(e)) || !(f >= before) {
			t.Fatalf("at %v: force %v after %v, rate %v, energy %v", float64(x), float64(f), float64(before), float64(k), float64(e))
		}
		before = f
	}
}

// keeps checks that a law is one, with the right rate at its kinks.
func keeps(t *testing.T, law spring.Law, kinks ...units.Length) {
	t.Helper()
	if err := springtest.TestLaw(law, kinks...); err != nil {
		t.Error(err)
	}
}
