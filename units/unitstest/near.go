package unitstest

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

// Tolerance is the permitted difference between a value and the wanted one, made by [Rel] or [Abs].
type Tolerance struct {
	amount   float64
	quantity reflect.Type // of an absolute tolerance; nil for a relative one
	text     string
}

// Exact is the tolerance 0. The values -0 and 0 are equal.
var Exact = Rel(0)

// Rel returns a tolerance of rel times the magnitude of the wanted value, which is 0 for a wanted
// 0. Every comparison fails if rel is negative, NaN or infinite.
func Rel(rel float64) Tolerance { return Tolerance{amount: rel, text: fmt.Sprintf("%g relative", rel)} }

// Abs returns a tolerance of d, which must have the type of the compared values. Every comparison
// fails if d is negative, NaN or infinite.
func Abs[Q ~float64](d Q) Tolerance {
	return Tolerance{amount: float64(d), quantity: reflect.TypeFor[Q](), text: difference(d)}
}

// wrong says why the tolerance is invalid for values of a type; "" if it is valid.
func (t Tolerance) wrong(values reflect.Type) string {
	switch {
	case !(t.amount >= 0) || math.IsInf(t.amount, 0):
		return "is not finite and 0 or more"
	case t.quantity != nil && t.quantity != values:
		return fmt.Sprintf("is a %v, the values are %v", t.quantity, values)
	}
	return ""
}

// near reports whether a is within the tolerance of b. A relative tolerance is one of scale, which
// is finite unless b is infinite.
func (t Tolerance) near(a, b, scale float64) bool {
	if t.quantity != nil {
		scale = 1
	}
	return a == b || !math.IsInf(b, 0) && math.Abs(a-b) <= t.amount*scale
}

// difference returns d as text with its unit. A difference of temperatures is in kelvin, because 1
// K as a temperature would be printed as -272.15 °C.
func difference[Q ~float64](d Q) string {
	if reflect.TypeFor[Q]() == reflect.TypeFor[units.Temperature]() {
		return fmt.Sprintf("%.3g K", float64(d))
	}
	return fmt.Sprintf("%.3g", d)
}

// Near reports whether got is within one of the tolerances of want. If not, it calls t.Errorf with
// what was compared, both values and their difference, with units.
func Near[Q ~float64](t testing.TB, what string, got, want Q, tolerance Tolerance, or ...Tolerance) bool {
	t.Helper()
	text := compare(what, got, want, append([]Tolerance{tolerance}, or...))
	if text != "" {
		t.Errorf("%s", text)
	}
	return text == ""
}

// compare returns "" if got is near want, and otherwise the error text.
func compare[Q ~float64](what string, got, want Q, tolerances []Tolerance) string {
	a, b := float64(got), float64(want)
	near := false
	var texts []string
	for _, t := range tolerances {
		if wrong := t.wrong(reflect.TypeFor[Q]()); wrong != "" {
			return fmt.Sprintf("%s: tolerance %s %s", what, t.text, wrong)
		}
		near = near || t.near(a, b, math.Abs(b))
		texts = append(texts, t.text)
	}
	if near {
		return ""
	}
	var shown, wanted string
	for _, verb := range []string{"%v", "%.17g", "%#v"} { // until the difference shows
		shown, wanted = fmt.Sprintf(verb, got), fmt.Sprintf(verb, want)
		if shown != wanted {
			break
		}
	}
	text := fmt.Sprintf("%s = %s, want %s within %s", what, shown, wanted, strings.Join(texts, " or "))
	if d := a - b; !math.IsNaN(d) && !math.IsInf(d, 0) {
		text += "; the difference is " + difference(Q(d))
		if b != 0 {
			text += fmt.Sprintf(", %.3g relative", d/math.Abs(b))
		}
	}
	return text
}

// Approx returns an option for go-cmp that compares float64 values of every type, at any depth.
// (EquateApprox of go-cmp compares only the types float64 and float32.) Two values are equal if
// they differ by at most rel times the smaller of their magnitudes: go-cmp does not know which of
// the two is wanted.
//
// Approx panics if rel is negative, NaN or infinite.
func Approx(rel float64) cmp.Option {
	tolerance := Rel(rel)
	if wrong := tolerance.wrong(nil); wrong != "" {
		panic(fmt.Sprintf("unitstest: tolerance %s %s", tolerance.text, wrong))
	}
	return cmp.FilterValues(
		func(x, y any) bool {
			a, b := reflect.TypeOf(x), reflect.TypeOf(y)
			return a == b && a != nil && a.Kind() == reflect.Float64
		},
		cmp.Comparer(func(x, y any) bool {
			a, b := reflect.ValueOf(x).Float(), reflect.ValueOf(y).Float()
			return tolerance.near(a, b, min(math.Abs(a), math.Abs(b)))
		}),
	)
}
