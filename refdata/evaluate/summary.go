package evaluate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
)

// Summary counts outcomes, by source and by computation. The zero value is
// ready to use; its size grows with the number of sources, not of cases.
type Summary struct {
	Passed, Failed int
	sources        map[sourceKey]*Score
	computations   map[string]*Score
}

type sourceKey struct {
	source   refdata.Source
	standing refdata.Standing
}

// Score is how well the values of one source, or of one computation, were met.
type Score struct {
	Source   refdata.Source   // of a source
	Standing refdata.Standing // of a source
	Computes string           // of a computation

	Cases    int // run
	Failed   int // of these
	Refusals int // of the cases, those that expect a refusal
	Values   int // compared

	Worst       float64 // the largest deviation as a share of its tolerance; more than 1 fails
	WorstCase   string  // the id of the case it was in; "" where no value was compared
	WorstOutput string  // which value of that case
	LeastDigits float64 // the fewest digits that agree in any value; 17 where all agree or none can tell

	// DigitCounts[n] is for how many outputs n digits agree, and a fraction: of
	// a list counts the element that agrees least.
	DigitCounts [allDigits + 1]int
}

// TypicalDigits is how many digits agree at least in one half of the outputs,
// the median rounded down; −1 where there are none.
func (s *Score) TypicalDigits() int {
	outputs := 0
	for _, n := range s.DigitCounts {
		outputs += n
	}
	seen := 0
	for digits := allDigits; digits >= 0; digits-- {
		if seen += s.DigitCounts[digits]; 2*seen >= outputs && seen > 0 {
			return digits
		}
	}
	return -1
}

// WorstText prints Worst to two digits; "∞" for what no tolerance could hold,
// such as a value that is missing.
func (s *Score) WorstText() string {
	if s.Worst >= math.MaxFloat64 {
		return "∞"
	}
	return fmt.Sprintf("%.2g", s.Worst)
}

// Add counts an outcome.
func (s *Summary) Add(o Judgement) {
	if s.sources == nil {
		s.sources, s.computations = make(map[sourceKey]*Score), make(map[string]*Score)
	}
	key := sourceKey{o.Case.Source, o.Case.Standing}
	if s.sources[key] == nil {
		s.sources[key] = &Score{Source: key.source, Standing: key.standing, LeastDigits: allDigits}
	}
	if s.computations[o.Case.Computes] == nil {
		s.computations[o.Case.Computes] = &Score{Computes: o.Case.Computes, LeastDigits: allDigits}
	}
	if o.Pass() {
		s.Passed++
	} else {
		s.Failed++
	}
	s.sources[key].add(o)
	s.computations[o.Case.Computes].add(o)
}

func (s *Score) add(o Judgement) {
	s.Cases++
	if !o.Pass() {
		s.Failed++
	}
	if o.Case.Error != nil {
		s.Refusals++
	}
	for _, c := range o.Outputs {
		s.Values += c.Values
		if s.WorstCase == "" || c.Share > s.Worst {
			s.Worst, s.WorstCase, s.WorstOutput = c.Share, o.Case.ID, c.Output
		}
		if c.Values > 0 {
			s.LeastDigits = min(s.LeastDigits, c.Digits)
			s.DigitCounts[max(0, min(int(c.Digits), allDigits))]++
		}
	}
}

// BySource returns a score for each source, the best standing first, in
// alphabetical order within one.
func (s *Summary) BySource() []Score {
	list := make([]Score, 0, len(s.sources))
	for _, score := range s.sources {
		list = append(list, *score)
	}
	slices.SortFunc(list, func(a, b Score) int {
		return cmp.Or(
			cmp.Compare(slices.Index(refdata.Standings(), a.Standing), slices.Index(refdata.Standings(), b.Standing)),
			strings.Compare(string(a.Standing), string(b.Standing)),
			strings.Compare(a.Source.String(), b.Source.String()),
			strings.Compare(fmt.Sprintf("%q", a.Source), fmt.Sprintf("%q", b.Source)))
	})
	return list
}

// ByComputation returns a score for each computation that came up, in
// alphabetical order.
func (s *Summary) ByComputation() []Score {
	list := make([]Score, 0, len(s.computations))
	for _, score := range s.computations {
		list = append(list, *score)
	}
	slices.SortFunc(list, func(a, b Score) int { return strings.Compare(a.Computes, b.Computes) })
	return list
}

// Text is a report on the summary in plain text: a table of the computations,
// and one of the sources by standing, each with its cases, the values
// compared, the worst deviation in units of its tolerance, the digits that
// agree, and the value that was met worst.
func (s *Summary) Text() string {
	var b strings.Builder
	scoreHead(&b, "computation", "worst value")
	for _, score := range s.ByComputation() {
		score.line(&b, score.Computes)
	}
	var standing refdata.Standing
	for _, score := range s.BySource() {
		if score.Standing != standing {
			standing = score.Standing
			b.WriteByte('\n')
			scoreHead(&b, string(standing), "worst value")
		}
		b.WriteString(sourceLine(score.Source) + "\n")
		score.line(&b, "")
	}
	return b.String()
}

func scoreHead(b *strings.Builder, name, last string) {
	fmt.Fprintf(b, "%-22s %6s %6s %8s %7s %9s %7s %7s  %s\n", name, "cases", "failed", "refusals", "values", "worst/tol", "digits≥", "typical", last)
}

func (s *Score) line(b *strings.Builder, name string) {
	worst, least, typical, where := "-", "-", "-", ""
	if s.WorstCase != "" {
		worst, where = s.WorstText(), s.WorstCase+": "+s.WorstOutput
	}
	if n := s.TypicalDigits(); n >= 0 {
		least, typical = fmt.Sprintf("%.1f", s.LeastDigits), fmt.Sprint(n)
	}
	text := fmt.Sprintf("%-22s %6d %6d %8d %7d %9s %7s %7s  %s", name, s.Cases, s.Failed, s.Refusals, s.Values, worst, least, typical, where)
	b.WriteString(strings.TrimRight(text, " ") + "\n")
}

// String gives the closing line, such as "1043 passed, 0 failed".
func (s *Summary) String() string { return fmt.Sprintf("%d passed, %d failed", s.Passed, s.Failed) }
