package unitstest

import (
	"fmt"
	"math"
	"reflect"
	"testing"
)

// maxReported is how many elements [NearAll] reports at most.
const maxReported = 10

// Near reports an error on t, and returns false, where got is not within the
// tolerance of want. Of several tolerances, one is to be met. The text names
// what was compared and prints both values and the difference with their unit.
func Near[Q ~float64](t testing.TB, what string, got, want Q, tolerance Tolerance, or ...Tolerance) bool {
	t.Helper()
	tolerances, ok := usable[Q](t, what, tolerance, or)
	if !ok {
		return false
	}
	text := compare(got, want, tolerances)
	if text != "" {
		t.Errorf("%s = %s", what, text)
	}
	return text == ""
}

// NearAll is [Near] for every element. Slices of different lengths are an
// error; of elements that differ, the first ten are reported by index.
func NearAll[Q ~float64](t testing.TB, what string, got, want []Q, tolerance Tolerance, or ...Tolerance) bool {
	t.Helper()
	tolerances, ok := usable[Q](t, what, tolerance, or)
	if !ok {
		return false
	}
	if len(got) != len(want) {
		t.Errorf("%s has %d elements, want %d:\n got %v\nwant %v", what, len(got), len(want), got, want)
		return false
	}
	bad := 0
	for i := range want {
		text := compare(got[i], want[i], tolerances)
		if text == "" {
			continue
		}
		if bad++; bad <= maxReported {
			t.Errorf("%s[%d] = %s", what, i, text)
		}
	}
	if bad > maxReported {
		t.Errorf("%s: %d elements of %d differ; the first %d are shown", what, bad, len(want), maxReported)
	}
	return bad == 0
}

// usable gathers the tolerances, and reports those that mean nothing.
func usable[Q ~float64](t testing.TB, what string, first Tolerance, or []Tolerance) ([]Tolerance, bool) {
	t.Helper()
	tolerances := append([]Tolerance{first}, or...)
	ok := true
	for _, tolerance := range tolerances {
		if wrong := tolerance.wrong(reflect.TypeFor[Q]()); wrong != "" {
			t.Errorf("%s: tolerance %s %s", what, tolerance.text, wrong)
			ok = false
		}
	}
	return tolerances, ok
}

// compare returns "" where got is near want, and the rest of a sentence
// "… = " where it isn't.
func compare[Q ~float64](got, want Q, tolerances []Tolerance) string {
	a, b := float64(got), float64(want)
	if anyNear(tolerances, a, b, math.Abs(b)) {
		return ""
	}
	var shown, wanted string
	for _, verb := range []string{"%v", "%.17g", "%#v"} { // until the difference shows
		shown, wanted = fmt.Sprintf(verb, got), fmt.Sprintf(verb, want)
		if shown != wanted {
			break
		}
	}
	text := fmt.Sprintf("%s, want %s within %s", shown, wanted, join(tolerances))
	if d := a - b; !math.IsNaN(d) && !math.IsInf(d, 0) {
		text += "; the difference is " + difference(Q(d))
		if b != 0 {
			text += fmt.Sprintf(", %.3g relative", d/math.Abs(b))
		}
	}
	return text
}
