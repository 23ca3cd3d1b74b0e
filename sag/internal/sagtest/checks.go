package sagtest

import (
	"slices"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Near checks that got is within rel·|want| of want.
func Near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Rel(rel))
}

// Names returns the fields that an error names, in order; nil if there are none.
func Names(err error) (list []string) {
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

// Named checks that an error names just these fields, in order. If none are wanted, it checks that
// the error names none.
func Named(t testing.TB, what string, err error, want ...string) {
	t.Helper()
	if got := Names(err); !slices.Equal(got, want) {
		t.Errorf("%s: the error names %q, want %q: %v", what, got, want, err)
	}
}

// Answered checks that a call returned finite numbers or an error that names a field, and reports
// whether it returned no error.
func Answered(t testing.TB, what string, answer any, err error) bool {
	t.Helper()
	switch {
	case err == nil && unitstest.Infinite(answer) != "":
		t.Fatalf("%s%s", what, unitstest.Infinite(answer))
	case err != nil && len(Names(err)) == 0:
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
	return err == nil
}
