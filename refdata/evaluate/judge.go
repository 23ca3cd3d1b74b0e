package evaluate

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
)

// Judgement is the outcome of a case.
type Judgement struct {
	Case    refdata.Case `json:"case"`
	Outputs []Agreement  `json:"outputs"`           // one for each output expected, in alphabetical order
	Problem string       `json:"problem,omitempty"` // what is wrong with the case as a whole; "" where nothing is
}

// Run computes a case with this library and judges the result.
func Run(c refdata.Case) Judgement {
	result, err := Compute(c)
	return Judge(c, result, err)
}

// Judge compares a result or an error, whoever computed it, with what the case expects.
//
// A case that expects outputs fails if it is refused, if an output is missing or off by more than
// its tolerance, or if a list is longer or shorter. One that expects an error fails unless the
// input is refused by an error that names exactly the fields, or the sentinel, expected.
func Judge(c refdata.Case, result Result, err error) Judgement {
	j := Judgement{Case: c}
	switch {
	case len(c.Error) > 0:
		j.Problem = refusalProblem(c.Error, err)
	case err != nil:
		j.Problem = "refused: " + err.Error()
	case len(c.Expect) == 0:
		j.Problem = "nothing is expected"
	default:
		for _, output := range slices.Sorted(maps.Keys(c.Expect)) {
			if got, ok := result[output]; ok {
				j.Outputs = append(j.Outputs, compare(output, c.Expect[output], got, c.Tolerance))
				continue
			}
			problem := "the answer lacks it"
			if row := find(c.Computes); row != nil && !slices.Contains(row.outputs, output) {
				problem = "it is no output of " + row.name + ", which has " + strings.Join(row.outputs, ", ")
			}
			j.Outputs = append(j.Outputs, Agreement{Output: output, Share: math.MaxFloat64, Values: 1, Failed: 1, Problem: problem})
		}
	}
	return j
}

// Pass reports whether the result or the error is as expected.
func (o Judgement) Pass() bool {
	return o.Problem == "" && !slices.ContainsFunc(o.Outputs, func(c Agreement) bool { return !c.Pass() })
}

// String returns one line: whether the case passed, its id, what it computes.
func (o Judgement) String() string {
	word := "ok  "
	if !o.Pass() {
		word = "FAIL"
	}
	return fmt.Sprintf("%s %s %s", word, o.Case.ID, o.Case.Computes)
}

// Failure returns why the case failed, in several lines: for each output that failed the expected
// value, the value got and the tolerance, then the source. It is "" for a case that passed.
func (o Judgement) Failure() string {
	if o.Pass() {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s (%s)\n", o.Case.ID, o.Case.Computes, o.Case.File)
	if o.Problem != "" {
		fmt.Fprintf(&b, "  %s\n", strings.ReplaceAll(o.Problem, "\n", "\n  "))
	}
	for _, c := range o.Outputs {
		if c.Pass() {
			continue
		}
		fmt.Fprintf(&b, "  %s\n", c)
	}
	fmt.Fprintf(&b, "  source: %s (%s)\n", cmp.Or(o.Case.Source.String(), "none"), o.Case.Standing)
	return b.String()
}

// String returns the comparison as one line.
func (c Agreement) String() string {
	if c.Problem != "" {
		return c.Output + ": " + c.Problem
	}
	text := fmt.Sprintf("%s: expected %s, got %s", c.Output, c.Expected, c.Got)
	if c.Deviation != "" {
		text += ", off by " + c.Deviation
	}
	text += ", tolerance " + c.Tolerance
	if c.Values > 1 {
		text += fmt.Sprintf(" (the worst of %d, of which %d failed)", c.Values, c.Failed)
	}
	return text
}
