package spring_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

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

// anySpring draws a law of constant rates, stacked up to depth deep, and, if
// wanted, its twin with every member hidden, which is solved in general.
func anySpring(rng *rand.Rand, depth int, withTwin bool) (law, twin spring.Law) {
	if !withTwin {
		defer func() { twin = law }()
	}
	must := func(l spring.Law, err error) spring.Law {
		if err != nil {
			panic(err)
		}
		return l
	}
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	kind := rng.IntN(7)
	if depth == 0 {
		kind = rng.IntN(3)
	}
	switch kind {
	case 1:
		groups := make([]spring.Group, 1+rng.IntN(5))
		for i := range groups {
			groups[i] = spring.Group{Rate: perMM(between(20, 200)), Gap: mm(between(2, 30))}
		}
		law = must(spring.NewGroups(spring.Groups{Groups: groups}))
		return law, opaque{law}
	case 2:
		law = must(spring.NewDualRate(spring.DualRate{
			SoftRate: perMM(between(20, 60)), MainRate: perMM(between(60, 120)),
			SoftTravel: mm(between(5, 20)), MainTravel: mm(between(40, 80)), Preload: mm(between(0, 20)),
		}))
		return law, opaque{law}
	case 3, 4:
		var laws, twins []spring.Law
		for range 1 + rng.IntN(3) {
			l, w := anySpring(rng, depth-1, withTwin)
			laws, twins = append(laws, l), append(twins, w)
		}
		return must(spring.NewSeries(laws...)), opaque{must(spring.NewSeries(twins...))}
	case 5:
		var members, twins []spring.Member
		least := math.Inf(1)
		for range 1 + rng.IntN(3) {
			l, w := anySpring(rng, depth-1, withTwin)
			start := units.Length(0)
			if len(members) > 0 {
				start = units.Length(least * between(0, 0.9))
			}
			least = min(least, float64(start+l.Travel()))
			members, twins = append(members, spring.Member{Law: l, StartsAt: start}), append(twins, spring.Member{Law: w, StartsAt: start})
		}
		kept, keptTwins := members[:0:0], twins[:0:0]
		for i, m := range members {
			if float64(m.StartsAt) < 0.99*least {
				kept, keptTwins = append(kept, m), append(keptTwins, twins[i])
			}
		}
		return must(spring.NewParallel(kept...)), opaque{must(spring.NewParallel(keptTwins...))}
	case 6:
		l, w := anySpring(rng, depth-1, withTwin)
		preload := l.Travel() * units.Length(between(0, 0.5))
		return must(spring.NewPreloaded(l, preload)), opaque{must(spring.NewPreloaded(w, preload))}
	}
	law = must(spring.NewLinear(spring.Linear{
		Rate: perMM(between(20, 200)), Travel: mm(between(10, 80)), Preload: mm(between(0, 1) * between(0, 10)),
	}))
	return law, opaque{law}
}

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
