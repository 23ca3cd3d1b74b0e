package linkagetest

import (
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/units"
)

// Finite reports whether a number is neither NaN nor infinite.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// AllFinite ends the test unless every number is finite.
func AllFinite(t testing.TB, what string, list ...float64) {
	t.Helper()
	for i, v := range list {
		if !Finite(v) {
			t.Fatalf("%s: value %d of %v", what, i, list)
		}
	}
}

// Above returns the next greater length.
func Above(v units.Length) units.Length {
	return units.Length(math.Nextafter(float64(v), math.Inf(1)))
}

// Below returns the next smaller length.
func Below(v units.Length) units.Length {
	return units.Length(math.Nextafter(float64(v), math.Inf(-1)))
}

// Strokes returns strokes within, at the ends of and outside a full stroke, and NaN.
func Strokes(full units.Length) []units.Length {
	list := []units.Length{units.Length(math.NaN()), units.Length(math.Inf(-1)), -1, 1e308, units.Length(math.Inf(1))}
	for i := range 9 {
		list = append(list, full*units.Length(i)/8)
	}
	return list
}

// BadFields returns the fields that an error names, sorted.
func BadFields(err error) []string {
	var fields []string
	for _, f := range units.Fields(err) {
		fields = append(fields, f.Field)
	}
	slices.Sort(fields)
	return fields
}

// Refuses reports an error on t unless err names exactly these fields, in any order.
func Refuses(t testing.TB, err error, fields ...string) {
	t.Helper()
	slices.Sort(fields)
	if got := BadFields(err); !slices.Equal(got, fields) {
		t.Errorf("refused fields %v, want %v: %v", got, fields, err)
	}
}

// Named ends the test where an error names no field.
func Named(t testing.TB, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}
