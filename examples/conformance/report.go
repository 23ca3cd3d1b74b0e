package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// report takes outcomes one at a time, so that it grows on disk and not in
// memory.
type report interface {
	add(o evaluate.Judgement) error
	// end closes the report. The error is what kept the cases from being read
	// to their end, nil for nothing.
	end(sum *summary, fault error) error
}

// textReport prints a line for each case and all there is to say of failures.
type textReport struct {
	w       io.Writer
	verbose bool
	notes   []string // on the set of cases as a whole
}

func (r *textReport) add(o evaluate.Judgement) error {
	var b strings.Builder
	fmt.Fprintln(&b, o)
	if r.verbose && o.Pass() {
		for _, c := range o.Outputs {
			fmt.Fprintf(&b, "       %s\n", c)
		}
	}
	if !o.Pass() {
		b.WriteString("  " + strings.ReplaceAll(strings.TrimSuffix(o.Failure(), "\n"), "\n", "\n  ") + "\n")
	}
	_, err := io.WriteString(r.w, b.String())
	return err
}

func (r *textReport) end(sum *summary, fault error) error {
	if fault != nil {
		return nil // no closing line that could be taken for a full run's
	}
	var notes strings.Builder
	for _, note := range r.notes {
		notes.WriteString("\n" + note + "\n")
	}
	_, err := fmt.Fprintf(r.w, "\n%s%s\n%s\n", sum.text(), notes.String(), sum)
	return err
}

// fileReport is a report that goes to a file.
type fileReport struct {
	report
	b *bufio.Writer
	f *program.File
}

func create(path string, newReport func(io.Writer, []string) (report, error), notes []string) (report, error) {
	f, err := program.Create(path)
	if err != nil {
		return nil, err
	}
	b := bufio.NewWriter(f)
	inner, err := newReport(b, notes)
	if err != nil {
		f.Discard()
		return nil, err
	}
	return &fileReport{inner, b, f}, nil
}

func (r *fileReport) end(sum *summary, fault error) error {
	if err := errors.Join(r.report.end(sum, fault), r.b.Flush()); err != nil {
		r.f.Discard()
		return &program.Unwritten{Err: err}
	}
	return r.f.Keep()
}

// jsonReport writes {"cases": […], "sources": […], "passed": N, "failed": N},
// "notes" where there are any, and "fault" where the cases could not be read
// to their end.
type jsonReport struct {
	w     io.Writer
	notes []string
	lines int
}

func newJSONReport(w io.Writer, notes []string) (report, error) {
	return &jsonReport{w: w, notes: notes}, nil
}

type jsonScore struct {
	Source      refdata.Source `json:"source"`
	Standing    string         `json:"standing"`
	Cases       int            `json:"cases"`
	Failed      int            `json:"failed"`
	Refusals    int            `json:"refusals"`
	Values      int            `json:"values"`
	Worst       float64        `json:"worst_share_of_tolerance"`
	WorstCase   string         `json:"worst_case,omitempty"`
	WorstOutput string         `json:"worst_output,omitempty"`
	LeastDigits float64        `json:"least_agreeing_digits"`
}

type jsonCase struct {
	ID          string           `json:"id"`
	File        string           `json:"file"`
	Computes    string           `json:"computes"`
	Standing    string           `json:"standing"`
	Source      refdata.Source   `json:"source"`
	Pass        bool             `json:"pass"`
	Problem     string           `json:"problem,omitempty"`
	Comparisons []jsonComparison `json:"comparisons,omitempty"`
}

type jsonComparison struct {
	Pass bool `json:"pass"`
	evaluate.Agreement
}

func (r *jsonReport) add(o evaluate.Judgement) error {
	c := jsonCase{ID: o.Case.ID, File: o.Case.File, Computes: o.Case.Computes, Standing: string(o.Case.Standing),
		Source: o.Case.Source, Pass: o.Pass(), Problem: o.Problem}
	for _, p := range o.Outputs {
		c.Comparisons = append(c.Comparisons, jsonComparison{p.Pass(), p})
	}
	line, err := json.Marshal(c)
	if err != nil {
		return err
	}
	before := ",\n"
	if r.lines == 0 {
		before = "{\"cases\": [\n"
	}
	r.lines++
	_, err = fmt.Fprintf(r.w, "%s%s", before, line)
	return err
}

func (r *jsonReport) end(sum *summary, fault error) error {
	var b strings.Builder
	if r.lines == 0 {
		b.WriteString("{\"cases\": [")
	}
	b.WriteString("\n],\n\"sources\": [")
	for i, s := range sum.bySource() {
		line, err := json.Marshal(jsonScore{s.Source, string(s.Standing), s.Cases, s.Failed, s.Refusals, s.Values, s.Worst, s.WorstCase, s.WorstOutput, s.LeastDigits})
		if err != nil {
			return err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "\n%s", line)
	}
	b.WriteString("\n],")
	if len(r.notes) > 0 {
		notes, err := json.Marshal(r.notes)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "\n\"notes\": %s,", notes)
	}
	if fault != nil {
		quoted, err := json.Marshal(fault.Error())
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "\n\"fault\": %s,", quoted)
	}
	if sum.skipped > 0 {
		fmt.Fprintf(&b, "\n\"not_attempted\": %d,", sum.skipped)
	}
	fmt.Fprintf(&b, "\n\"passed\": %d,\n\"failed\": %d}\n", sum.passed, sum.failed)
	_, err := io.WriteString(r.w, b.String())
	return err
}
