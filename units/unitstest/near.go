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

// Tolerance says how far a value may be from the wanted one. Make one with [Rel] or [Abs], or use
// [Exact].
type Tolerance struct {
	amount   float64
	quantity reflect.Type // of an absolute tolerance; nil for a relative one
	text     string
}

// Exact permits no difference; -0 and 0 are the same.
var Exact = Rel(0)

// Rel permits a difference of rel times the magnitude of the wanted value: 0 where 0 is wanted. A
// negative or non-finite rel fails every comparison.
func Rel(rel float64) Tolerance { return Tolerance{amount: rel, text: fmt.Sprintf("%g relative", rel)} }

// Abs permits a difference of up to d, a quantity of the very type compared. A negative or
// non-finite d fails every comparison.
func Abs[Q ~float64](d Q) Tolerance {
	return Tolerance{amount: float64(d), quantity: reflect.TypeFor[Q](), text: difference(d)}
}

// wrong says what makes the tolerance useless for values of a type, or "".
func (t Tolerance) wrong(values reflect.Type) string {
	switch {
	case !(t.amount >= 0) || math.IsInf(t.amount, 0):
		return "is not finite and 0 or more"
	case t.quantity != nil && t.quantity != values:
		return fmt.Sprintf("is a %v, the values are %v", t.quantity, values)
	}
	return ""
}

// near reports whether a is within the tolerance of b, where scale is the magnitude that a relative
// tolerance is taken of.
func (t Tolerance) near(a, b, scale float64) bool {
	if t.quantity != nil {
		scale = 1
	}
	return a == b || !math.IsInf(a, 0) && !math.IsInf(b, 0) && math.Abs(a-b) <= t.amount*scale
}

// difference returns d as text. It has its unit, except that a difference of temperatures is in
// kelvin: as a temperature, one of 1 K would read -272.15 °C.
func difference[Q ~float64](d Q) string {
	if reflect.TypeFor[Q]() == reflect.TypeFor[units.Temperature]() {
		return fmt.Sprintf("%.3g K", float64(d))
	}
	return fmt.Sprintf("%.3g", d)
}

// Near reports an error on t, and returns false, where got is not within the tolerance of want. Of
// several tolerances, one is to be met. The text names what was compared and prints both values and
// the difference with their unit.
func Near[Q ~float64](t testing.TB, what string, got, want Q, tolerance Tolerance, or ...Tolerance) bool {
	t.Helper()
	text := compare(what, got, want, append([]Tolerance{tolerance}, or...))
	if text != "" {
		t.Errorf("%s", text)
	}
	return text == ""
}

// maxReported is how many elements [NearAll] reports at most.
const maxReported = 10

// NearAll is [Near] for every element. Slices of different lengths are an error. Of elements that
// differ, the first ten are reported by index.
func NearAll[Q ~float64](t testing.TB, what string, got, want []Q, tolerance Tolerance, or ...Tolerance) bool {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s has %d elements, want %d:\n got %v\nwant %v", what, len(got), len(want), got, want)
		return false
	}
	tolerances := append([]Tolerance{tolerance}, or...)
	bad := 0
	for i := range want {
		text := compare(fmt.Sprintf("%s[%d]", what, i), got[i], want[i], tolerances)
		if text == "" {
			continue
		}
		if bad++; bad <= maxReported {
			t.Errorf("%s", text)
		}
	}
	if bad > maxReported {
		t.Errorf("%s: %d elements of %d differ; the first %d are shown", what, bad, len(want), maxReported)
	}
	return bad == 0
}

// compare returns "" where got is near want, and what differs where it isn't.
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

// Approx lets go-cmp compare float64 values of every type, named ones such as the quantities of
// package units included, wherever they stand in what is compared. (EquateApprox of go-cmp takes
// float64 and float32 alone.) Values are equal where they differ by at most rel times the smaller
// of their magnitudes, for go-cmp does not know which of the two is wanted.
//
// Approx panics, as the options of go-cmp do, where rel is negative or not finite.
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
