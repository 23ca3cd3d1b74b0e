package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// summary counts judgements, by source and by computation. The zero value is ready to use. Its
// size grows with the number of sources, not of cases.
type summary struct {
	passed, failed int
	skipped        int // not attempted
	sources        map[sourceKey]*score
	computations   map[string]*score
}

type sourceKey struct {
	source   refdata.Source
	standing refdata.Standing
}

// allDigits is how many digits of a float64 can agree at most.
const allDigits = 17

// score is how well the values of one source, or of one computation, were met.
type score struct {
	Source   refdata.Source   // of a source
	Standing refdata.Standing // of a source
	Computes string           // of a computation

	Cases    int // run
	Skipped  int // not attempted, of a computation
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

// typicalDigits is how many digits agree at least in one half of the outputs,
// the median rounded down; −1 where there are none.
func (s *score) typicalDigits() int {
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

// worstText prints Worst to two digits; "∞" for what no tolerance could hold,
// such as a value that is missing.
func (s *score) worstText() string {
	if s.Worst >= math.MaxFloat64 {
		return "∞"
	}
	return fmt.Sprintf("%.2g", s.Worst)
}

// add counts a judgement.
func (s *summary) add(o evaluate.Judgement) {
	if s.sources == nil {
		s.sources, s.computations = make(map[sourceKey]*score), make(map[string]*score)
	}
	key := sourceKey{o.Case.Source, o.Case.Standing}
	if s.sources[key] == nil {
		s.sources[key] = &score{Source: key.source, Standing: key.standing, LeastDigits: allDigits}
	}
	if s.computations[o.Case.Computes] == nil {
		s.computations[o.Case.Computes] = &score{Computes: o.Case.Computes, LeastDigits: allDigits}
	}
	if o.Pass() {
		s.passed++
	} else {
		s.failed++
	}
	s.sources[key].add(o)
	s.computations[o.Case.Computes].add(o)
}

// skip counts a case that was not attempted.
func (s *summary) skip(c refdata.Case) {
	if s.computations == nil {
		s.sources, s.computations = make(map[sourceKey]*score), make(map[string]*score)
	}
	if s.computations[c.Computes] == nil {
		s.computations[c.Computes] = &score{Computes: c.Computes, LeastDigits: allDigits}
	}
	s.skipped++
	s.computations[c.Computes].Skipped++
}

func (s *score) add(o evaluate.Judgement) {
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

// bySource returns a score for each source, the best standing first, in
// alphabetical order within one.
func (s *summary) bySource() []score {
	list := make([]score, 0, len(s.sources))
	for _, one := range s.sources {
		list = append(list, *one)
	}
	slices.SortFunc(list, func(a, b score) int {
		return cmp.Or(
			cmp.Compare(slices.Index(refdata.Standings(), a.Standing), slices.Index(refdata.Standings(), b.Standing)),
			strings.Compare(string(a.Standing), string(b.Standing)),
			strings.Compare(a.Source.String(), b.Source.String()),
			strings.Compare(fmt.Sprintf("%q", a.Source), fmt.Sprintf("%q", b.Source)))
	})
	return list
}

// byComputation returns a score for each computation that came up, in
// alphabetical order.
func (s *summary) byComputation() []score {
	list := make([]score, 0, len(s.computations))
	for _, one := range s.computations {
		list = append(list, *one)
	}
	slices.SortFunc(list, func(a, b score) int { return strings.Compare(a.Computes, b.Computes) })
	return list
}

// text is a report on the summary in plain text: a table of the computations,
// and one of the sources by standing, each with its cases, the values
// compared, the worst deviation in units of its tolerance, the digits that
// agree, and the value that was met worst.
func (s *summary) text() string {
	var b strings.Builder
	scoreHead(&b, "computation")
	for _, one := range s.byComputation() {
		one.line(&b, one.Computes)
	}
	if s.skipped > 0 {
		b.WriteString("\nnot attempted\n")
	}
	for _, one := range s.byComputation() {
		if one.Skipped > 0 {
			fmt.Fprintf(&b, "%-22s %6d of %d\n", one.Computes, one.Skipped, one.Cases+one.Skipped)
		}
	}
	var standing refdata.Standing
	for _, one := range s.bySource() {
		if one.Standing != standing {
			standing = one.Standing
			b.WriteByte('\n')
			scoreHead(&b, string(standing))
		}
		b.WriteString(orNone(one.Source) + "\n")
		one.line(&b, "")
	}
	return b.String()
}

func scoreHead(b *strings.Builder, name string) {
	fmt.Fprintf(b, "%-22s %6s %6s %8s %7s %9s %7s %7s  %s\n", name, "cases", "failed", "refusals", "values", "worst/tol", "digits≥", "typical", "worst value")
}

func (s *score) line(b *strings.Builder, name string) {
	worst, least, typical, where := "-", "-", "-", ""
	if s.WorstCase != "" {
		worst, where = s.worstText(), s.WorstCase+": "+s.WorstOutput
	}
	if n := s.typicalDigits(); n >= 0 {
		least, typical = fmt.Sprintf("%.1f", s.LeastDigits), fmt.Sprint(n)
	}
	text := fmt.Sprintf("%-22s %6d %6d %8d %7d %9s %7s %7s  %s", name, s.Cases, s.Failed, s.Refusals, s.Values, worst, least, typical, where)
	b.WriteString(strings.TrimRight(text, " ") + "\n")
}

// String gives the closing line, such as "1043 passed, 0 failed", and how many were
// not attempted if any were not.
func (s *summary) String() string {
	text := fmt.Sprintf("%d passed, %d failed", s.passed, s.failed)
	if s.skipped > 0 {
		text += fmt.Sprintf(", %d not attempted", s.skipped)
	}
	return text
}

// orNone returns a source on one line, "none" where there is none.
func orNone(s refdata.Source) string { return cmp.Or(s.String(), "none") }
