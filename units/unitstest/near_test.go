package unitstest_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// recorder stands in for the testing.TB of a test that uses this package.
type recorder struct {
	testing.TB
	errors []string
	helper bool
}

func (r *recorder) Helper() { r.helper = true }

func (r *recorder) Errorf(format string, args ...any) {
	r.errors = append(r.errors, fmt.Sprintf(format, args...))
}

func (r *recorder) text() string { return strings.Join(r.errors, "\n") }

const mm = units.Millimetre

var (
	inf = math.Inf(1)
	nan = math.NaN()
)

func TestNear(t *testing.T) {
	for _, test := range []struct {
		name      string
		got, want units.Length
		tolerance []unitstest.Tolerance
		near      bool
	}{
		{"equal", 46 * mm, 46 * mm, []unitstest.Tolerance{unitstest.Exact}, true},
		{"zeros of either sign", units.Length(math.Copysign(0, -1)), 0, []unitstest.Tolerance{unitstest.Exact}, true},
		{"the next number is not exact", units.Length(math.Nextafter(0.046, 1)), 0.046, []unitstest.Tolerance{unitstest.Exact}, false},
		{"inside relative", 1.0009, 1, []unitstest.Tolerance{unitstest.Rel(1e-3)}, true},
		{"outside relative", 1.0011, 1, []unitstest.Tolerance{unitstest.Rel(1e-3)}, false},
		{"relative to what is wanted", 2, 1, []unitstest.Tolerance{unitstest.Rel(0.5)}, false},
		{"relative to what is wanted, the other way", 1, 2, []unitstest.Tolerance{unitstest.Rel(0.5)}, true},
		{"relative below 0", -1.0009, -1, []unitstest.Tolerance{unitstest.Rel(1e-3)}, true},
		{"relative of 0 is 0", 1e-300, 0, []unitstest.Tolerance{unitstest.Rel(1e-3)}, false},
		{"inside absolute", 1.0009, 1, []unitstest.Tolerance{unitstest.Abs(1 * mm)}, true},
		{"outside absolute", 1.0011, 1, []unitstest.Tolerance{unitstest.Abs(1 * mm)}, false},
		{"the second is met", 1e-300, 0, []unitstest.Tolerance{unitstest.Rel(1e-3), unitstest.Abs(1 * mm)}, true},
		{"neither is met", 1, 0, []unitstest.Tolerance{unitstest.Rel(1e-3), unitstest.Abs(1 * mm)}, false},
		{"infinity is itself", units.Length(inf), units.Length(inf), []unitstest.Tolerance{unitstest.Rel(1)}, true},
		{"infinity is not the other", units.Length(-inf), units.Length(inf), []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm)}, false},
		{"no number is near infinity", 1, units.Length(inf), []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm)}, false},
		{"nor near minus infinity", 1, units.Length(-inf), []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm)}, false},
		{"got infinity", units.Length(inf), 1, []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm)}, false},
		{"got NaN", units.Length(nan), 1, []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm)}, false},
		{"want NaN", 1, units.Length(nan), []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm)}, false},
		{"NaN is not itself", units.Length(nan), units.Length(nan), []unitstest.Tolerance{unitstest.Rel(1), unitstest.Abs(1 * mm), unitstest.Exact}, false},
		{"a negative tolerance is invalid", 1, 1, []unitstest.Tolerance{unitstest.Rel(-1)}, false},
		{"NaN as tolerance is invalid", 1, 1, []unitstest.Tolerance{unitstest.Rel(nan)}, false},
		{"infinity as tolerance is invalid", 1, 1, []unitstest.Tolerance{unitstest.Abs(units.Length(inf))}, false},
		{"a tolerance of another quantity is invalid", 1, 1, []unitstest.Tolerance{unitstest.Abs(1 * units.Newton)}, false},
		{"nor is a bare number", 1, 1, []unitstest.Tolerance{unitstest.Exact, unitstest.Abs(1.0)}, false},
	} {
		var one recorder
		near := unitstest.Near(&one, "length", test.got, test.want, test.tolerance[0], test.tolerance[1:]...)
		if near != test.near || (len(one.errors) == 0) != test.near || !one.helper {
			t.Errorf("%s: Near = %v, want %v, and reports %q", test.name, near, test.near, one.text())
		}
	}
}

func TestFailureText(t *testing.T) {
	for _, test := range []struct {
		name string
		fail func(testing.TB)
		want string
	}{
		{"with units", func(tb testing.TB) { unitstest.Near(tb, "bore", 36*mm, 35*mm, unitstest.Rel(1e-3)) },
			"bore = 36 mm, want 35 mm within 0.001 relative; the difference is 1 mm, 0.0286 relative"},
		{"two tolerances", func(tb testing.TB) {
			unitstest.Near(tb, "load", 0.5*units.Newton, 0, unitstest.Rel(1e-3), unitstest.Abs(0.01*units.Newton))
		},
			"load = 0.5 N, want 0 N within 0.001 relative or 0.01 N; the difference is 0.5 N"},
		{"beyond 15 digits", func(tb testing.TB) { unitstest.Near(tb, "load", units.Force(math.Nextafter(1, 2)), 1, unitstest.Exact) },
			"load = 1.0000000000000002 N, want 1 N within 0 relative; the difference is 2.22e-16 N, 2.22e-16 relative"},
		{"beyond the digits of the printed unit", func(tb testing.TB) {
			unitstest.Near(tb, "warmth", units.Temperature(math.Nextafter(1e-3, 1)), 1e-3, unitstest.Exact)
		},
			"warmth = units.Temperature(0.0010000000000000002), want units.Temperature(0.001) within 0 relative; the difference is 2.17e-19 K, 2.17e-16 relative"},
		{"temperatures differ in kelvin", func(tb testing.TB) {
			unitstest.Near(tb, "warmth", units.Celsius(21), units.Celsius(20), unitstest.Abs(0.5*units.Kelvin))
		},
			"warmth = 21 °C, want 20 °C within 0.5 K; the difference is 1 K, 0.00341 relative"},
		{"plain numbers", func(tb testing.TB) { unitstest.Near(tb, "ratio", 2.5, 2.4, unitstest.Rel(1e-3)) },
			"ratio = 2.5, want 2.4 within 0.001 relative; the difference is 0.1, 0.0417 relative"},
		{"no difference of NaN", func(tb testing.TB) { unitstest.Near(tb, "ratio", nan, 2.4, unitstest.Exact) },
			"ratio = NaN, want 2.4 within 0 relative"},
		{"no difference of infinities", func(tb testing.TB) { unitstest.Near(tb, "ratio", -inf, 2.4, unitstest.Exact) },
			"ratio = -Inf, want 2.4 within 0 relative"},
		{"a tolerance of another quantity", func(tb testing.TB) { unitstest.Near(tb, "bore", 36*mm, 35*mm, unitstest.Abs(1*units.Newton)) },
			"bore: tolerance 1 N is a units.Force, the values are units.Length"},
		{"a tolerance below 0", func(tb testing.TB) { unitstest.Near(tb, "bore", 36*mm, 35*mm, unitstest.Abs(-1*mm)) },
			"bore: tolerance -1 mm is not finite and 0 or more"},
	} {
		var r recorder
		test.fail(&r)
		if diff := cmp.Diff(test.want, r.text()); diff != "" {
			t.Errorf("%s: text (-want +got):\n%s", test.name, diff)
		}
	}
}
