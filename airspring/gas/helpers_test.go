package gas_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

const (
	mm  = units.Millimetre
	cm3 = units.CubicCentimetre
)

var nan, inf = math.NaN(), math.Inf(1)

// wantFields holds that an error names exactly these fields.
func wantFields(t *testing.T, what string, err error, want ...string) {
	t.Helper()
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	slices.Sort(names)
	slices.Sort(want)
	if diff := cmp.Diff(want, names); diff != "" {
		t.Errorf("%s: fields (-want +got):\n%s%v", what, diff, err)
	}
}

var close12 = unitstest.Rel(1e-12)

func finite(list ...float64) bool {
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// named holds that an error names a field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}
