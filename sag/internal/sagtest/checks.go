package sagtest

import (
	"fmt"
	"math"
	"reflect"
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
	switch off := finite(reflect.ValueOf(answer)); {
	case err == nil && off != nil:
		t.Fatalf("%s%v", what, off)
	case err != nil && len(Names(err)) == 0:
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
	return err == nil
}

// finite returns an error for the first exported number within v that is NaN or infinite.
func finite(v reflect.Value) error {
	switch {
	case !v.IsValid():
	case v.CanFloat():
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf(" is %v", f)
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			field := v.Type().Field(i)
			if !field.IsExported() {
				continue
			}
			if err := finite(v.Field(i)); err != nil {
				return fmt.Errorf(".%s%w", field.Name, err)
			}
		}
	case v.Kind() == reflect.Slice, v.Kind() == reflect.Array:
		for i := range v.Len() {
			if err := finite(v.Index(i)); err != nil {
				return fmt.Errorf("[%d]%w", i, err)
			}
		}
	case v.Kind() == reflect.Pointer, v.Kind() == reflect.Interface:
		return finite(v.Elem())
	}
	return nil
}
