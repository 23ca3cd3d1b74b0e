package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"io"
	"os"
	"strings"

	"example.com/wheelrate/refdata"
)

// report takes outcomes one at a time, so that it grows on disk and not in
// memory.
type report interface {
	add(o refdata.Outcome) error
	// end closes the report. The error is what kept the cases from being read
	// to their end, nil for nothing.
	end(sum *refdata.Summary, fault error) error
}

// textReport prints a line for each case and all there is to say of failures.
type textReport struct {
	w       io.Writer
	verbose bool
}

func (r *textReport) add(o refdata.Outcome) error {
	var b strings.Builder
	fmt.Fprintln(&b, o)
	if r.verbose && o.Pass() {
		for _, c := range o.Comparisons {
			fmt.Fprintf(&b, "       %s\n", c)
		}
	}
	if !o.Pass() {
		b.WriteString("  " + strings.ReplaceAll(strings.TrimSuffix(o.Failure(), "\n"), "\n", "\n  ") + "\n")
	}
	_, err := io.WriteString(r.w, b.String())
	return err
}

func (r *textReport) end(sum *refdata.Summary, fault error) error {
	if fault != nil {
		return nil // no closing line that could be taken for a full run's
	}
	_, err := fmt.Fprintf(r.w, "\n%s%s\n", sum.Sources(), sum)
	return err
}

// fileReport is a report that goes to a file.
type fileReport struct {
	report
	b *bufio.Writer
	f *os.File
}

func create(path string, newReport func(io.Writer) report) (report, error) {
	f, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	b := bufio.NewWriter(f)
	return &fileReport{newReport(b), b, f}, nil
}

func (r *fileReport) end(sum *refdata.Summary, fault error) error {
	return errors.Join(r.report.end(sum, fault), r.b.Flush(), r.f.Close())
}

// jsonReport writes {"cases": […], "passed": N, "failed": N}, and "fault"
// where the cases could not be read to their end.
type jsonReport struct {
	w     io.Writer
	lines int
}

func newJSONReport(w io.Writer) report { return &jsonReport{w: w} }

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
	Output    string  `json:"output"`
	Pass      bool    `json:"pass"`
	Expected  string  `json:"expected,omitempty"`
	Got       string  `json:"got,omitempty"`
	Deviation string  `json:"deviation,omitempty"`
	Tolerance string  `json:"tolerance,omitempty"`
	Share     float64 `json:"share_of_tolerance"`
	Digits    float64 `json:"agreeing_digits"`
	Values    int     `json:"values"`
	Failed    int     `json:"failed"`
	Problem   string  `json:"problem,omitempty"`
}

func (r *jsonReport) add(o refdata.Outcome) error {
	c := jsonCase{ID: o.Case.ID, File: o.Case.File, Computes: o.Case.Computes, Standing: string(o.Case.Standing),
		Source: o.Case.Source, Pass: o.Pass(), Problem: o.Problem}
	for _, p := range o.Comparisons {
		c.Comparisons = append(c.Comparisons, jsonComparison{Output: p.Output, Pass: p.Pass(), Expected: p.Expected, Got: p.Got,
			Deviation: p.Deviation, Tolerance: p.Tolerance, Share: p.Share, Digits: p.Digits, Values: p.Values, Failed: p.Failed, Problem: p.Problem})
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

func (r *jsonReport) end(sum *refdata.Summary, fault error) error {
	before := "\n],"
	if r.lines == 0 {
		before = "{\"cases\": [],"
	}
	text := ""
	if fault != nil {
		quoted, err := json.Marshal(fault.Error())
		if err != nil {
			return err
		}
		text = fmt.Sprintf("\n\"fault\": %s,", quoted)
	}
	_, err := fmt.Fprintf(r.w, "%s%s\n\"passed\": %d,\n\"failed\": %d}\n", before, text, sum.Passed, sum.Failed)
	return err
}

// htmlReport writes one page that needs nothing else.
type htmlReport struct {
	w     io.Writer
	begun bool
}

const htmlHead = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Conformance report</title>
<style>
body { font: 1rem/1.5 system-ui, sans-serif; margin: 0 auto; padding: 1rem; max-width: 80rem; color: #1a1a1a; background: #fff; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
caption { text-align: left; padding: .5rem 0; }
th, td { text-align: left; vertical-align: top; padding: .25rem .75rem .25rem 0; border-bottom: 1px solid #bbb; }
tr.fail > * { background: #fdecea; }
pre { white-space: pre-wrap; margin: 0; font-size: .9rem; }
@media print { body { padding: 0; max-width: none; } thead { display: table-header-group; } tr { break-inside: avoid; } }
</style>
</head>
<body>
<main>
<h1>Conformance report</h1>
<p>Check cases run against this library. The <a href="#summary">summary</a> stands at the end.</p>
<div class="wide" tabindex="0" role="region" aria-label="Cases">
<table>
<caption>One row for each case; under "worst" the output that used up most of its tolerance.</caption>
<thead><tr><th scope="col">Result</th><th scope="col">Case</th><th scope="col">Computes</th><th scope="col">Worst</th><th scope="col">Source</th></tr></thead>
<tbody>
`

func newHTMLReport(w io.Writer) report { return &htmlReport{w: w} }

func (r *htmlReport) head() error {
	if r.begun {
		return nil
	}
	r.begun = true
	_, err := io.WriteString(r.w, htmlHead)
	return err
}

func (r *htmlReport) add(o refdata.Outcome) error {
	if err := r.head(); err != nil {
		return err
	}
	c := o.Case
	class, word, worst := "", "passed", ""
	if !o.Pass() {
		class, word = ` class="fail"`, "FAILED"
		worst = "<pre>" + html.EscapeString(strings.TrimSuffix(o.Failure(), "\n")) + "</pre>"
	} else if i := worstOf(o.Comparisons); i >= 0 {
		w := o.Comparisons[i]
		worst = html.EscapeString(fmt.Sprintf("%s: %.2g of the tolerance, %.1f digits agree", w.Output, w.Share, w.Digits))
	} else {
		worst = html.EscapeString("refused for " + strings.Join(c.Error, ", "))
	}
	source := html.EscapeString(strings.TrimPrefix(c.Source.String()+", "+string(c.Standing), ", "))
	_, err := fmt.Fprintf(r.w, "<tr%s><td>%s</td><th scope=\"row\">%s</th><td>%s</td><td>%s</td><td>%s</td></tr>\n",
		class, word, html.EscapeString(c.ID), html.EscapeString(c.Computes), worst, source)
	return err
}

// worstOf finds the comparison that used up most of its tolerance, −1 for none.
func worstOf(list []refdata.Comparison) int {
	worst := -1
	for i, c := range list {
		if worst < 0 || c.Share > list[worst].Share {
			worst = i
		}
	}
	return worst
}

func (r *htmlReport) end(sum *refdata.Summary, fault error) error {
	if err := r.head(); err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString("</tbody>\n</table>\n</div>\n<h2 id=\"summary\">Summary</h2>\n")
	if fault != nil {
		fmt.Fprintf(&b, "<p><strong>The cases could not be read to their end.</strong></p>\n<pre>%s</pre>\n", html.EscapeString(fault.Error()))
	}
	fmt.Fprintf(&b, "<p><strong>%s</strong></p>\n<ul>\n", sum)
	for line := range strings.Lines(sum.Sources()) {
		fmt.Fprintf(&b, "<li>%s</li>\n", html.EscapeString(strings.TrimSpace(line)))
	}
	b.WriteString("</ul>\n</main>\n</body>\n</html>\n")
	_, err := io.WriteString(r.w, b.String())
	return err
}
