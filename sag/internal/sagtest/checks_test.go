package sagtest_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/units"
)

// failures counts the failures of a test in place of failing it.
type failures struct {
	testing.TB
	n int
}

func (*failures) Helper() {}

func (f *failures) Errorf(string, ...any) { f.n++ }

func (f *failures) Fatalf(string, ...any) { f.n++ }

func (f *failures) Fatal(...any) { f.n++ }

func TestChecksFailWhereTheyShould(t *testing.T) {
	_, bad := linkage.New(linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: -1, Travel: 0.1}})
	type pair struct {
		List []any
		own  float64
	}
	answered := func(v any) func(testing.TB) {
		return func(t testing.TB) { sagtest.Answered(t, "an answer", v, nil) }
	}
	named := func(err error, want ...string) func(testing.TB) {
		return func(t testing.TB) { sagtest.Named(t, "an error", err, want...) }
	}
	for i, test := range []struct {
		check func(testing.TB)
		fails int
	}{
		{named(bad, sagtest.Names(bad)...), 0},
		{named(bad), 1},
		{named(bad, "other"), 1},
		{named(nil), 0},
		{answered(pair{own: math.NaN()}), 0},
		{answered(&pair{List: []any{1.0, units.Force(math.Inf(1))}}), 1},
		{answered([1]pair{{List: []any{nil, 1, math.NaN()}}}), 1},
		{func(t testing.TB) { sagtest.Answered(t, "an error", sag.Rest{}, bad) }, 0},
		{func(t testing.TB) { sagtest.Answered(t, "an error", sag.Rest{}, errors.New("without a field")) }, 1},
		{func(t testing.TB) { sagtest.Near(t, "a number", 1.01, 1, 0.02) }, 0},
		{func(t testing.TB) { sagtest.Near(t, "a number", 1.01, 1, 0.001) }, 1},
		{func(t testing.TB) { sagtest.Constant(t, -1, 0.1) }, 1},
	} {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			f := failures{TB: t}
			if test.check(&f); f.n != test.fails {
				t.Errorf("%d failures, want %d", f.n, test.fails)
			}
		})
	}
}

func TestBendHasItsLeverRatio(t *testing.T) {
	c := sagtest.Curve(t, sagtest.Progressive())
	for _, s := range []units.Length{0, 0.02, 0.0331, 0.065} {
		sagtest.Near(t, "lever ratio", c.LeverRatio(s), 2.95-8.5*float64(s), 1e-12)
	}
}

// The rear of the job sags as wanted on the best of its springs, to half a per cent.
func TestJobHasASheet(t *testing.T) {
	s := sagtest.Sheet(t, sagtest.Job(t, sagtest.JobText))
	law := sagtest.Linear(t, s.Rear.Spring().Rate, 0.065, s.Rear.Spring().Preload)
	sagtest.Near(t, "spring force", float64(law.Force(s.Rear.Rest.Stroke)), float64(s.Rear.Load)*s.Rear.Rest.LeverRatio, 1e-9)
	sagtest.Near(t, "sag", s.Rear.Rest.Sag, 0.29, 0.005/0.29)
}
