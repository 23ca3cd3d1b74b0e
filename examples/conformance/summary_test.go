package main

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// converting is a case that reads a value as a quantity of a kind.
func converting(kind, value string) refdata.Case {
	return refdata.Case{File: "f.json", ID: "x", Computes: "units.convert", Standing: refdata.FromMemory,
		Given: []byte(`{"kind":"` + kind + `","value":"` + value + `"}`)}
}

// summed runs four cases of three sources: one within its tolerance, one off,
// a refusal, and one whose output does not exist.
func summed() *summary {
	good, bad, refused, missing := converting("length", "1 in"), converting("length", "1 in"), converting("length", "1 N"), converting("mass", "1 kg")
	good.ID, bad.ID, refused.ID, missing.ID = "good", "bad", "refused", "missing"
	good.Expect = map[string]any{"value": "25.41 mm"}
	good.Tolerance = map[string]refdata.CaseTolerance{"*": {Absolute: "0.02 mm"}}
	good.Source, good.Standing = refdata.Source{Title: "T\n", Where: "p. 1"}, refdata.Published
	bad.Expect = map[string]any{"value": "25 mm"}
	refused.Error = []string{"value"}
	missing.Expect = map[string]any{"rate": "1 N/mm"}
	missing.Standing = refdata.Computed
	var s summary
	for _, c := range []refdata.Case{good, bad, refused, missing} {
		s.add(evaluate.Run(c))
	}
	return &s
}

func TestSummary(t *testing.T) {
	s := summed()
	if got := s.String(); got != "2 passed, 2 failed" {
		t.Errorf("%q", got)
	}
	// By hand: 0.01 mm of 0.02 mm; −log₁₀(0.01/25.41) = 3.405; 0.4/25 is 1.6e7
	// times 1e-9; −log₁₀(0.4/25) = 1.796.
	published := score{Source: refdata.Source{Title: "T\n", Where: "p. 1"}, Standing: refdata.Published,
		Cases: 1, Values: 1, Worst: 0.5, WorstCase: "good", WorstOutput: "value", LeastDigits: 3.405}
	published.DigitCounts[3] = 1
	computed := score{Standing: refdata.Computed, Cases: 1, Failed: 1, Values: 1, Worst: math.MaxFloat64, WorstCase: "missing", WorstOutput: "rate"}
	computed.DigitCounts[0] = 1
	memory := score{Standing: refdata.FromMemory, Cases: 2, Failed: 1, Refusals: 1, Values: 1, Worst: 1.6e7, WorstCase: "bad", WorstOutput: "value", LeastDigits: 1.796}
	memory.DigitCounts[1] = 1
	near := cmpopts.EquateApprox(1e-3, 0)
	if diff := cmp.Diff([]score{published, computed, memory}, s.bySource(), near); diff != "" {
		t.Errorf("by source (-want +got):\n%s", diff)
	}
	all := score{Computes: "units.convert", Cases: 4, Failed: 2, Refusals: 1, Values: 3, Worst: math.MaxFloat64, WorstCase: "missing", WorstOutput: "rate"}
	all.DigitCounts[3], all.DigitCounts[1], all.DigitCounts[0] = 1, 1, 1
	if diff := cmp.Diff([]score{all}, s.byComputation(), near); diff != "" {
		t.Errorf("by computation (-want +got):\n%s", diff)
	}
}

func TestSummaryText(t *testing.T) {
	want := `computation             cases failed refusals  values worst/tol digits≥ typical  worst value
units.convert               4      2        1       3         ∞     0.0       1  missing: rate

published               cases failed refusals  values worst/tol digits≥ typical  worst value
T , p. 1
                            1      0        0       1       0.5     3.4       3  good: value

computed                cases failed refusals  values worst/tol digits≥ typical  worst value
none
                            1      1        0       1         ∞     0.0       0  missing: rate

from memory             cases failed refusals  values worst/tol digits≥ typical  worst value
none
                            2      1        1       1   1.6e+07     1.8       1  bad: value
`
	if diff := cmp.Diff(want, summed().text()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	var none summary
	none.add(evaluate.Judgement{Case: refdata.Case{Computes: "x", Error: []string{"y"}}})
	if text := none.text(); !strings.Contains(text, "x                           1      0        1       0         -       -       -\n") {
		t.Errorf("a refusal alone:\n%s", text)
	}
}

func TestTypicalDigits(t *testing.T) {
	for _, row := range []struct {
		counts map[int]int
		want   int
	}{
		{nil, -1},
		{map[int]int{4: 1}, 4},
		{map[int]int{4: 1, 15: 1}, 15},
		{map[int]int{4: 2, 15: 1}, 4},
		{map[int]int{0: 3}, 0},
		{map[int]int{17: 5, 3: 5}, 17},
		{map[int]int{17: 4, 9: 1, 3: 5}, 9},
	} {
		var s score
		for digits, n := range row.counts {
			s.DigitCounts[digits] = n
		}
		if got := s.typicalDigits(); got != row.want {
			t.Errorf("%v: %d, want %d", row.counts, got, row.want)
		}
	}
}
