package evaluate_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
)

// compare judges one output of a case.
func compare(output string, expected, got any, tolerance map[string]refdata.CaseTolerance) evaluate.Agreement {
	j := evaluate.Judge(refdata.Case{Expect: map[string]any{output: expected}, Tolerance: tolerance}, evaluate.Result{output: got}, nil)
	return j.Outputs[0]
}

// Each row is decided by hand from the rules of the format.
func TestCompare(t *testing.T) {
	relative := func(r float64) map[string]refdata.CaseTolerance {
		return map[string]refdata.CaseTolerance{"x": {Relative: r}}
	}
	absolute := func(a string) map[string]refdata.CaseTolerance {
		return map[string]refdata.CaseTolerance{"x": {Absolute: a}}
	}
	tests := []struct {
		name      string
		expected  any
		got       any
		tolerance map[string]refdata.CaseTolerance
		pass      bool
	}{
		// without a word: 1e-9 relative
		{"default, just inside", "100 mm", units.Length(0.1 * (1 + 0.9e-9)), nil, true},
		{"default, just outside", "100 mm", units.Length(0.1 * (1 + 1.1e-9)), nil, false},
		{"default, below", "100 mm", units.Length(0.1 * (1 - 1.1e-9)), nil, false},
		{"star for the rest", "100 mm", units.Length(0.1001), map[string]refdata.CaseTolerance{"*": {Relative: 0.01}, "y": {}}, true},
		{"own before star", "100 mm", units.Length(0.1001), map[string]refdata.CaseTolerance{"*": {Relative: 0.01}, "x": {Relative: 1e-6}}, false},
		{"relative 0 is exact", "100 mm", units.Length(math.Nextafter(0.1, 1)), relative(0), false},
		{"relative 0 met", "100 mm", units.Length(0.1), relative(0), true},

		// kinds and units
		{"other unit, same kind", "14.503773773020923 psi", units.BarGauge(1), nil, true},
		{"gauge is not absolute", "100 kPa(a)", units.BarGauge(1), relative(1), false},
		{"another quantity", "100 N", units.Length(100), relative(1), false},
		{"number for a quantity", 100.0, units.Length(100), relative(1), false},
		{"quantity for a number", "100 mm", 0.1, relative(1), false},
		{"text of a number for a number", "4.6", 4.6, nil, false},
		{"number", 4.6, 4.6, nil, true},
		{"one", 1.0, 1 + 0.5e-9, nil, true},
		{"whole number", 7.0, 7, nil, true},
		{"whole number off", 7.0, 8, nil, false},
		{"text", "rear", "rear", nil, true},
		{"other text", "rear", "front", relative(1), false},
		{"no value", 1.0, nil, relative(1), false},
		{"of no kind", 1.0, struct{}{}, relative(1), false},

		// absolute tolerances
		{"absolute, half a unit in the last digit", "204.2 N/mm", 204.2499 * units.NewtonPerMillimetre, absolute("0.05 N/mm"), true},
		{"absolute, exactly on it", "204.2 N/mm", 204.25 * units.NewtonPerMillimetre, absolute("0.05 N/mm"), true},
		{"absolute, beyond", "204.2 N/mm", 204.2501 * units.NewtonPerMillimetre, absolute("0.05 N/mm"), false},
		{"absolute in another unit", "204.2 N/mm", 204.25 * units.NewtonPerMillimetre, absolute("50 N/m"), true},
		{"absolute of another kind", "204.2 N/mm", 204.2 * units.NewtonPerMillimetre, absolute("1 mm"), false},
		{"absolute star of another kind leaves the default", 4.6, 4.6 * (1 + 0.5e-9), map[string]refdata.CaseTolerance{"*": {Absolute: "1 mm"}}, true},
		{"absolute star of another kind is no licence", 4.6, 4.7, map[string]refdata.CaseTolerance{"*": {Absolute: "1 mm"}}, false},
		{"absolute for a number", 4.6, 4.64, absolute("0.05"), true},
		{"absolute for a number, on it but for rounding", 4.6, 4.65, absolute("0.05"), true}, // 4.65 − 4.6 is 0.05000000000000071 in float64
		{"absolute for a number, beyond", 4.6, 4.66, absolute("0.05"), false},
		{"absolute quantity for a number", 4.6, 4.6, absolute("0.05 mm"), false},

		// temperatures in kelvin
		{"temperature relative to kelvin", "0 °C", units.Celsius(0.2), relative(1e-3), true},
		{"temperature relative to kelvin, beyond", "0 °C", units.Celsius(0.3), relative(1e-3), false},
		{"temperature difference in K", "20 °C", units.Celsius(20.04), absolute("0.05 K"), true},
		{"temperature difference in °C", "20 °C", units.Celsius(20.04), absolute("0.05 °C"), true},
		{"temperature difference in °C, beyond", "20 °C", units.Celsius(20.06), absolute("0.05 degC"), false},
		{"temperature difference in °F", "20 °C", units.Celsius(20.04), absolute("0.09 °F"), true},
		{"temperature difference in °F, beyond", "20 °C", units.Celsius(20.06), absolute("0.09 degF"), false},

		// zeros
		{"lone 0 met", "0 mm", units.Length(0), nil, true},
		{"lone 0 missed by nothing much", "0 mm", units.Length(1e-300), relative(1), false},
		{"lone 0 within an absolute tolerance", "0 mm", units.Length(1e-7), absolute("0.001 mm"), true},
		{"lone number 0 within an absolute tolerance", 0.0, 1e-13, absolute("1e-12"), true},
		{"0 in a list, to its largest", []any{"0 mm", "-100 mm"}, []units.Length{0.9e-10, -0.1}, nil, true},
		{"0 in a list of up to 1", []any{0.0, 1.0}, []float64{0.9e-9, 1}, nil, true},
		{"0 in a list, beyond", []any{"0 mm", "-100 mm"}, []units.Length{1.1e-10, -0.1}, nil, false},
		{"0 in a list of 0", []any{0.0, 0.0}, []float64{0, 1e-300}, relative(1), false},
		{"small but not 0 in a list", []any{1e-20, 1.0}, []float64{2e-20, 1}, nil, false},

		// lists
		{"list", []any{1.0, 2.0}, []float64{1, 2}, nil, true},
		{"list, the last off", []any{1.0, 2.0}, []float64{1, 2.1}, nil, false},
		{"list too short", []any{1.0, 2.0}, []float64{1}, relative(1), false},
		{"list too long", []any{1.0}, []float64{1, 2}, relative(1), false},
		{"empty list", []any{}, []float64{}, nil, true},
		{"list for a value", []any{1.0}, 1.0, relative(1), false},
		{"value for a list", 1.0, []float64{1}, relative(1), false},
		{"list in a list", []any{[]any{1.0}}, [][]float64{{1}}, nil, true},
		{"list of whole numbers", []any{1.0, 2.0}, []int{1, 2}, nil, true},
		{"list of texts", []any{"a", "b"}, []string{"a", "c"}, nil, false},

		// NaN and infinities never pass
		{"NaN", 1.0, math.NaN(), relative(1e300), false},
		{"NaN for 0", 0.0, math.NaN(), absolute("1"), false},
		{"infinite", 1.0, math.Inf(1), relative(1e300), false},
		{"NaN quantity", "1 mm", units.Length(math.NaN()), absolute("1 m"), false},
	}
	for _, tt := range tests {
		c := compare("x", tt.expected, tt.got, tt.tolerance)
		if c.Pass() != tt.pass {
			t.Errorf("%s: passed %v, want %v (%v)", tt.name, c.Pass(), tt.pass, c)
		}
		if c.Pass() != (c.Share <= 1 && c.Problem == "") {
			t.Errorf("%s: passed %v with %g of the tolerance and problem %q", tt.name, c.Pass(), c.Share, c.Problem)
		}
		if math.IsNaN(c.Share) || math.IsInf(c.Share, 0) || math.IsNaN(c.Digits) {
			t.Errorf("%s: share %g, digits %g", tt.name, c.Share, c.Digits)
		}
	}
}

// What is shown of texts, of a 0, of a list in which something can't be compared and of
// one whose elements are off by the same.
func TestAgreementOfAnOutput(t *testing.T) {
	exact, half := map[string]refdata.CaseTolerance(nil), map[string]refdata.CaseTolerance{"x": {Relative: 0.5}}
	for _, test := range []struct {
		expected, got any
		tolerance     map[string]refdata.CaseTolerance
		want          evaluate.Agreement
	}{
		{"rear", "rear", exact, evaluate.Agreement{Output: "x", Expected: `"rear"`, Got: `"rear"`, Tolerance: "the same text", Digits: 17, Values: 1}},
		{"rear", "front", exact, evaluate.Agreement{Output: "x", Expected: `"rear"`, Got: `"front"`, Tolerance: "the same text", Share: math.MaxFloat64, Values: 1, Failed: 1}},
		{0.0, 1e-300, exact, evaluate.Agreement{Output: "x", Expected: "0", Got: "1e-300", Deviation: "1e-300", Tolerance: "exact", Share: math.MaxFloat64, Values: 1, Failed: 1}},
		{[]any{5.0, "a", 7.0}, []float64{1, 2, 3}, exact,
			evaluate.Agreement{Output: "x[1]", Share: math.MaxFloat64, Values: 2, Failed: 2, Problem: "expected a and got 2 are not of one kind"}},
		{[]any{1.0, 1.0}, []float64{2, 2}, half,
			evaluate.Agreement{Output: "x[0]", Expected: "1", Got: "2", Deviation: "1", Tolerance: "relative 0.5", Share: 2, Values: 2, Failed: 2}},
	} {
		if diff := cmp.Diff(test.want, compare("x", test.expected, test.got, test.tolerance)); diff != "" {
			t.Errorf("%v and %v (-want +got):\n%s", test.expected, test.got, diff)
		}
	}
	if got := compare("x", []any{1.0, 1.0}, []float64{2, 2}, half).String(); !strings.HasSuffix(got, " (the worst of 2, of which 2 failed)") {
		t.Error(got)
	}
	for computes, problem := range map[string]string{"": "the answer lacks it", "spring.coil": "the answer lacks it", "units.convert": "it is no output of units.convert, which has value"} {
		j := evaluate.Judge(refdata.Case{Computes: computes, Expect: map[string]any{"stress": 1.0}}, evaluate.Result{}, nil)
		if diff := cmp.Diff([]evaluate.Agreement{{Output: "stress", Share: math.MaxFloat64, Values: 1, Failed: 1, Problem: problem}}, j.Outputs); diff != "" {
			t.Errorf("%s (-want +got):\n%s", computes, diff)
		}
	}
}

// Of a list the worst element is shown, in the unit that the case is written in.
func TestComparisonShowsTheWorst(t *testing.T) {
	expected := []any{"100 lbf", "200 lbf", "300 lbf"}
	got := []units.Force{101 * units.PoundForce, 203 * units.PoundForce, 300 * units.PoundForce}
	c := compare("force", expected, got, map[string]refdata.CaseTolerance{"force": {Absolute: "0.5 lbf"}})
	want := "force[1]: expected 200 lbf, got 203 lbf, off by 3 lbf, tolerance ±0.5 lbf (the worst of 3, of which 2 failed)"
	if c.String() != want {
		t.Errorf("got  %s\nwant %s", c, want)
	}
	if math.Abs(c.Share-6) > 1e-9 {
		t.Errorf("share %g, want 6", c.Share)
	}
	// 1 of 100 is the least agreement: 2 digits; 3 of 200 is −log₁₀(0.015) = 1.8239
	if math.Abs(c.Digits-1.8239087) > 1e-6 {
		t.Errorf("%g digits agree, want 1.8239", c.Digits)
	}
}

func TestShownInTheUnitExpected(t *testing.T) {
	for _, tt := range []struct {
		expected string
		got      any
		want     string
	}{
		{"68 °F", units.Celsius(25), "got 77 °F, off by 9 °F"},
		{"20 degC", units.Celsius(25), "got 25 degC, off by 5 degC"},
		{"300 K", units.Celsius(25), "got 298.15 K, off by -1.85 K"},
		{"1 1/m", 3 * units.PerMetre, "got 3 1/m, off by 2 1/m"},
		{"1e2 psi", units.PSIGauge(150), "got 150 psi, off by 50 psi"},
		{"2 in", 25.4 * units.Millimetre, "got 1 in, off by -1 in"},
	} {
		if c := compare("x", tt.expected, tt.got, nil); !strings.Contains(c.String(), tt.want) {
			t.Errorf("%s: %s, want %s", tt.expected, c, tt.want)
		}
	}
}

// −log₁₀ of 1e-k is k.
func TestAgreeingDigits(t *testing.T) {
	for k := range 15 {
		got := compare("x", 1000.0, 1000*(1+math.Pow(10, -float64(k))), nil).Digits
		if math.Abs(got-float64(k)) > 0.1 {
			t.Errorf("relative error 1e-%d: %g digits", k, got)
		}
	}
	if got := compare("x", 1000.0, 1000.0, nil).Digits; got != 17 {
		t.Errorf("equal: %g digits, want 17", got)
	}
	if got := compare("x", 1000.0, 5000.0, nil).Digits; got != 0 {
		t.Errorf("far off: %g digits, want 0", got)
	}
}

// Where nothing is compared there is nothing to agree: an empty list, and a
// value that is 0 within its tolerance.
func TestDigitsOfNothing(t *testing.T) {
	for _, row := range []struct {
		expected, got any
		tolerance     refdata.CaseTolerance
		digits, share float64
	}{
		{[]any{}, []float64{}, refdata.CaseTolerance{}, 17, 0},
		{0.0, 1e-12, refdata.CaseTolerance{Absolute: "1e-9"}, 17, 1e-3},
		{1e-20, 1e-12, refdata.CaseTolerance{Absolute: "1e-9"}, 17, 1e-3},
		{0.0, 1e-8, refdata.CaseTolerance{Absolute: "1e-9"}, 0, 10},
		{1e-20, -1e-8, refdata.CaseTolerance{Absolute: "1e-9"}, 0, 10},
		{1.0, 1 - 1e-12, refdata.CaseTolerance{Absolute: "1e-9"}, 12, 1e-3},
		{-1.0, -1 - 1e-12, refdata.CaseTolerance{Absolute: "1e-9"}, 12, 1e-3},
		{1000.0, 1001.0, refdata.CaseTolerance{Absolute: "10"}, 3, 0.1},
		{1.0, 1 + 1e-12, refdata.CaseTolerance{Absolute: "1e-9"}, 12, 1e-3},
		{[]any{0.0, 1.0}, []float64{1e-12, 1}, refdata.CaseTolerance{Absolute: "1e-9"}, 12, 1e-3},
	} {
		c := compare("x", row.expected, row.got, map[string]refdata.CaseTolerance{"x": row.tolerance})
		if math.Abs(c.Digits-row.digits) > 1e-3 || math.Abs(c.Share-row.share) > 1e-3*row.share || c.Problem != "" || strings.Contains(fmt.Sprint(c), "expected ,") {
			t.Errorf("%v and %v: %+v", row.expected, row.got, c)
		}
	}
}
