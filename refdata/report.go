package refdata

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
)

// Outcome is what came of a case.
type Outcome struct {
	Case        Case
	Comparisons []Comparison // one for each output expected, in alphabetical order
	Problem     string       // what is wrong with the case as a whole; "" where nothing is
}

// Check evaluates a case and compares what comes out with what it expects.
//
// A case that expects outputs fails if it is refused, if an output is missing
// or off by more than its tolerance, or if a list is longer or shorter. One
// that expects an error fails unless the input is refused by an error that
// names exactly the fields, or the sentinel, expected.
func Check(c Case) Outcome {
	o := Outcome{Case: c}
	result, err := Evaluate(c)
	switch {
	case len(c.Error) > 0:
		o.Problem = refusalProblem(c.Error, err)
	case err != nil:
		o.Problem = "refused: " + firstLines(err.Error())
	case len(c.Expect) == 0:
		o.Problem = "nothing is expected"
	default:
		for _, output := range sortedKeys(c.Expect) {
			got, ok := result[output]
			if !ok {
				o.Comparisons = append(o.Comparisons, Comparison{Output: output, Values: 1, Failed: 1,
					Problem: "the computation does not give it; it gives " + strings.Join(sortedKeys(result), ", ")})
				continue
			}
			o.Comparisons = append(o.Comparisons, compare(output, c.Expect[output], got, c.Tolerance))
		}
	}
	return o
}

// firstLines cuts an error that names very many fields.
func firstLines(text string) string {
	const most = 10
	lines := strings.SplitN(text, "\n", most+1)
	if len(lines) <= most {
		return text
	}
	more := strings.Count(lines[most], "\n") + 1
	return strings.Join(lines[:most], "\n") + fmt.Sprintf("\nand %d more", more)
}

// Pass tells whether everything came out as expected.
func (o Outcome) Pass() bool {
	return o.Problem == "" && !slices.ContainsFunc(o.Comparisons, func(c Comparison) bool { return !c.Pass() })
}

// String gives one line: whether the case passed, its id, what it computes.
func (o Outcome) String() string {
	word := "ok  "
	if !o.Pass() {
		word = "FAIL"
	}
	return fmt.Sprintf("%s %s %s", word, o.Case.ID, o.Case.Computes)
}

// Failure says in full why the case failed: for every output that did what
// was expected, what came out, the tolerance, and where the value is from. It
// is "" for a case that passed.
func (o Outcome) Failure() string {
	if o.Pass() {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s (%s)\n", o.Case.ID, o.Case.Computes, o.Case.File)
	if o.Problem != "" {
		fmt.Fprintf(&b, "  %s\n", strings.ReplaceAll(o.Problem, "\n", "\n  "))
	}
	for _, c := range o.Comparisons {
		if c.Pass() {
			continue
		}
		fmt.Fprintf(&b, "  %s\n", c)
	}
	fmt.Fprintf(&b, "  source: %s\n", o.Case.origin())
	return b.String()
}

// String gives one line with everything there is to say.
func (c Comparison) String() string {
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

// origin is the source with its standing, on one line whatever it holds.
func (c Case) origin() string {
	source := c.Source.String()
	if source == "" {
		source = "none"
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, source+" ("+string(c.Standing)+")")
}

// Summary counts outcomes. The zero value is ready to use; its size grows
// with the number of sources, not of cases.
type Summary struct {
	Passed, Failed int
	sources        map[string]*sourceSummary
}

type sourceSummary struct {
	cases, failed, values int
	share, digits         float64
}

// Add counts an outcome.
func (s *Summary) Add(o Outcome) {
	if s.sources == nil {
		s.sources = make(map[string]*sourceSummary)
	}
	origin := o.Case.origin()
	line := s.sources[origin]
	if line == nil {
		line = &sourceSummary{digits: allDigits}
		s.sources[origin] = line
	}
	line.cases++
	if o.Pass() {
		s.Passed++
	} else {
		s.Failed++
		line.failed++
	}
	for _, c := range o.Comparisons {
		line.values += c.Values
		line.share = max(line.share, c.Share)
		line.digits = min(line.digits, c.Digits)
	}
}

// Sources gives one line for each source: cases, values compared, the worst
// deviation as a share of its tolerance, and the fewest agreeing digits.
func (s *Summary) Sources() string {
	var b strings.Builder
	for _, origin := range slices.Sorted(maps.Keys(s.sources)) {
		l := s.sources[origin]
		fmt.Fprintf(&b, "%s: %d of %d cases passed", origin, l.cases-l.failed, l.cases)
		if l.values > 0 {
			fmt.Fprintf(&b, ", %d values, worst deviation %.2g of the tolerance, at least %.1f digits agree", l.values, l.share, l.digits)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// String gives the closing line, such as "1043 passed, 0 failed".
func (s *Summary) String() string { return fmt.Sprintf("%d passed, %d failed", s.Passed, s.Failed) }
