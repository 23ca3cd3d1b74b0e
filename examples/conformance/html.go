package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"html"
	"io"
	"os"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// htmlReport writes one page that needs nothing else. What came of each case
// goes to temporary files as it comes, so that the summary can stand before it
// and memory doesn't grow with the number of cases.
type htmlReport struct {
	w      io.Writer
	notes  []string
	rows   *scratch // of the table of all cases
	failed *scratch // sections
}

func newHTMLReport(w io.Writer, notes []string) (report, error) {
	rows, err := newScratch()
	if err != nil {
		return nil, err
	}
	failed, err := newScratch()
	if err != nil {
		return nil, errors.Join(err, rows.discard())
	}
	return &htmlReport{w, notes, rows, failed}, nil
}

// scratch is a temporary file that is written and then copied.
type scratch struct {
	f *os.File
	b *bufio.Writer
}

func newScratch() (*scratch, error) {
	f, err := os.CreateTemp("", "conformance-*.html")
	if err != nil {
		return nil, err
	}
	return &scratch{f, bufio.NewWriter(f)}, nil
}

func (s *scratch) copyTo(w io.Writer) error {
	if err := s.b.Flush(); err != nil {
		return err
	}
	if _, err := s.f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, err := io.Copy(w, s.f)
	return err
}

func (s *scratch) discard() error { return errors.Join(s.f.Close(), os.Remove(s.f.Name())) }

func (r *htmlReport) add(o evaluate.Judgement) error {
	c := o.Case
	row, word, worst := "", "passed", ""
	switch i := worstOf(o.Outputs); {
	case !o.Pass():
		row, word, worst = ` class="fail"`, "FAILED", `<a href="#failures">see the failures</a>`
	case i >= 0:
		w := o.Outputs[i]
		worst = html.EscapeString(fmt.Sprintf("%s: %.2g of the tolerance, %.1f digits agree", w.Output, w.Share, w.Digits))
	default:
		worst = html.EscapeString("refused for " + strings.Join(c.Error, ", "))
	}
	_, err := fmt.Fprintf(r.rows.b, "<tr%s><th scope=\"row\">%s</th><td>%s</td><td>%s</td><td>%s</td><td>%s</td></tr>\n",
		row, html.EscapeString(c.ID), word, html.EscapeString(c.Computes), html.EscapeString(string(c.Standing)), worst)
	if err == nil && !o.Pass() {
		err = r.failure(o)
	}
	return err
}

// failure writes all there is to say of a case that failed.
func (r *htmlReport) failure(o evaluate.Judgement) error {
	c := o.Case
	var b strings.Builder
	fmt.Fprintf(&b, "<section class=\"failure\">\n<h3>%s</h3>\n<p>%s, in %s. Source: %s (%s).</p>\n",
		html.EscapeString(c.ID), html.EscapeString(c.Computes), html.EscapeString(c.File), sourceHTML(c.Source), html.EscapeString(string(c.Standing)))
	if o.Problem != "" {
		fmt.Fprintf(&b, "<pre>%s</pre>\n", html.EscapeString(o.Problem))
	}
	rows := 0
	for _, p := range o.Outputs {
		if p.Pass() {
			continue
		}
		if rows++; rows == 1 {
			b.WriteString(wide("Outputs") + "<table>\n<thead><tr><th scope=\"col\">Output</th><th scope=\"col\">Expected</th><th scope=\"col\">Got</th>" +
				"<th scope=\"col\">Off by</th><th scope=\"col\">Tolerance</th></tr></thead>\n<tbody>\n")
		}
		name := html.EscapeString(p.Output)
		if p.Values > 1 {
			name += fmt.Sprintf(" <small>(the worst of %d, of which %d failed)</small>", p.Values, p.Failed)
		}
		if p.Problem != "" {
			fmt.Fprintf(&b, "<tr><th scope=\"row\">%s</th><td colspan=\"4\">%s</td></tr>\n", name, html.EscapeString(p.Problem))
			continue
		}
		fmt.Fprintf(&b, "<tr><th scope=\"row\">%s</th><td>%s</td><td>%s</td><td>%s</td><td>%s</td></tr>\n", name,
			html.EscapeString(p.Expected), html.EscapeString(p.Got), html.EscapeString(p.Deviation), html.EscapeString(p.Tolerance))
	}
	if rows > 0 {
		b.WriteString("</tbody>\n</table>\n</div>\n")
	}
	b.WriteString("</section>\n")
	_, err := io.WriteString(r.failed.b, b.String())
	return err
}

// worstOf finds the comparison that used up most of its tolerance, −1 for none.
func worstOf(list []evaluate.Agreement) int {
	worst := -1
	for i, c := range list {
		if worst < 0 || c.Share > list[worst].Share {
			worst = i
		}
	}
	return worst
}

func (r *htmlReport) end(sum *summary, fault error) error {
	err := r.page(sum, fault)
	return errors.Join(err, r.rows.discard(), r.failed.discard())
}

func (r *htmlReport) page(sum *summary, fault error) error {
	var b strings.Builder
	b.WriteString(htmlHead)
	verdict := "pass"
	if fault != nil || sum.failed > 0 {
		verdict = "bad"
	}
	fmt.Fprintf(&b, "<p class=\"verdict %s\"><strong>%s</strong></p>\n", verdict, sum)
	if fault != nil {
		fmt.Fprintf(&b, "<p><strong>The cases could not be read to their end.</strong></p>\n<pre>%s</pre>\n", html.EscapeString(fault.Error()))
	}
	b.WriteString("<p>Check cases run against this library: each gives inputs, and the outputs that must come out within a tolerance, or the fields " +
		"that a refusal must name. “Worst” is the largest deviation in units of its tolerance: above 1 is a failure. Digits agree to −log₁₀ of the relative " +
		"error, 17 at most; “typical” is the median. A published value can agree to no more digits than are printed.</p>\n")
	for _, note := range r.notes {
		fmt.Fprintf(&b, "<p>%s</p>\n", html.EscapeString(note))
	}
	if _, err := io.WriteString(r.w, b.String()); err != nil {
		return err
	}
	if sum.failed > 0 {
		if _, err := io.WriteString(r.w, "<h2 id=\"failures\">Failures</h2>\n"); err != nil {
			return err
		}
		if err := r.failed.copyTo(r.w); err != nil {
			return err
		}
	}
	b.Reset()
	b.WriteString("<h2>By computation</h2>\n")
	scoreTable(&b, sum.byComputation(), "Computation", func(s score) string { return html.EscapeString(s.Computes) })
	b.WriteString("<h2>By source</h2>\n")
	sources := sum.bySource()
	for len(sources) > 0 {
		n := 1
		for n < len(sources) && sources[n].Standing == sources[0].Standing {
			n++
		}
		fmt.Fprintf(&b, "<h3>%s</h3>\n", html.EscapeString(standingText(sources[0].Standing)))
		scoreTable(&b, sources[:n], "Source", func(s score) string { return sourceHTML(s.Source) })
		sources = sources[n:]
	}
	b.WriteString("<h2>All cases</h2>\n" + wide("All cases") + "<table class=\"all\">\n<thead><tr><th scope=\"col\">Case</th><th scope=\"col\">Result</th>" +
		"<th scope=\"col\">Computes</th><th scope=\"col\">Standing</th><th scope=\"col\">The output that used up most of its tolerance</th></tr></thead>\n<tbody>\n")
	if _, err := io.WriteString(r.w, b.String()); err != nil {
		return err
	}
	if err := r.rows.copyTo(r.w); err != nil {
		return err
	}
	_, err := io.WriteString(r.w, "</tbody>\n</table>\n</div>\n</main>\n</body>\n</html>\n")
	return err
}

func standingText(s refdata.Standing) string {
	return cmp.Or(map[refdata.Standing]string{
		refdata.Published:      "Published: the source was seen",
		refdata.Computed:       "Computed: independently, with program and precision",
		refdata.CommonPractice: "Common practice: a fact of the trade, no source",
		refdata.FromMemory:     "From memory: a published source remembered, not seen",
		refdata.Definition:     "Definition: rules of the format",
	}[s], string(s))
}

// wide opens a box that scrolls sideways, by keyboard too, where the window is
// narrower than the table.
func wide(label string) string {
	return fmt.Sprintf("<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"%s\">\n", label)
}

// scoreTable writes one row for each score.
func scoreTable(b *strings.Builder, scores []score, first string, name func(score) string) {
	fmt.Fprintf(b, "%s<table class=\"scores\">\n<thead><tr><th scope=\"col\">%s</th>", wide(first), first)
	for _, column := range []string{"Cases", "Failed", "Refusals", "Values", "Worst", "Digits", "Typical"} {
		fmt.Fprintf(b, "<th scope=\"col\" class=\"n\">%s</th>", column)
	}
	b.WriteString("<th scope=\"col\">Worst value</th></tr></thead>\n<tbody>\n")
	for _, s := range scores {
		row, worst, least, typical, where := "", "–", "–", "–", ""
		if s.Failed > 0 {
			row = ` class="fail"`
		}
		if s.WorstCase != "" {
			worst, where = s.worstText(), s.WorstCase+": "+s.WorstOutput
		}
		if n := s.typicalDigits(); n >= 0 {
			least, typical = fmt.Sprintf("%.1f", s.LeastDigits), fmt.Sprint(n)
		}
		fmt.Fprintf(b, "<tr%s><th scope=\"row\">%s</th>", row, name(s))
		for _, cell := range []string{fmt.Sprint(s.Cases), fmt.Sprint(s.Failed), fmt.Sprint(s.Refusals), fmt.Sprint(s.Values), worst, least, typical} {
			fmt.Fprintf(b, "<td class=\"n\">%s</td>", cell)
		}
		fmt.Fprintf(b, "<td>%s</td></tr>\n", html.EscapeString(where))
	}
	b.WriteString("</tbody>\n</table>\n</div>\n")
}

// sourceHTML is a source with its title apart from where in it. An address is
// written and not linked: a page for reviewers fetches nothing.
func sourceHTML(s refdata.Source) string {
	if s == (refdata.Source{}) {
		return "none"
	}
	title := s.Title
	s.Title = ""
	text := "<span class=\"title\">" + html.EscapeString(title) + "</span>"
	if rest := s.String(); rest != "" {
		text += " <small>" + html.EscapeString(rest) + "</small>"
	}
	return text
}

const htmlHead = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Conformance report</title>
<style>
:root { color-scheme: light; }
body { font: 1rem/1.5 system-ui, "DejaVu Sans", sans-serif; margin: 0 auto; padding: 1.5rem; max-width: 76rem; color: #1a1a1a; background: #fff; }
h1 { margin: 0 0 .5rem; line-height: 1.2; }
h2 { margin: 2.5rem 0 .5rem; padding-top: .5rem; border-top: 2px solid #1a1a1a; }
h3 { margin: 1.5rem 0 .25rem; font-size: 1.05rem; }
p { max-width: 48rem; }
small { color: #555; font-size: .85em; overflow-wrap: anywhere; }
.verdict { font-size: 1.5rem; margin: .5rem 0 1rem; padding: .5rem 1rem; max-width: none; border: 1px solid #1a1a1a; border-left-width: .75rem; }
.verdict.bad { border-style: dashed; border-left-style: solid; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; font-size: .9rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .75rem .3rem 0; border-bottom: 1px solid #ccc; font-weight: normal; }
thead th { font-weight: 600; border-bottom: 1px solid #1a1a1a; vertical-align: bottom; }
th.n, td.n { text-align: right; white-space: nowrap; }
.scores td:last-child, .scores th:last-child { padding-left: .75rem; min-width: 11rem; overflow-wrap: break-word; }
.scores tbody th { min-width: 12rem; }
.title { font-weight: 600; }
tr.fail > * { font-weight: 700; background: #eee; }
tr.fail > :first-child { box-shadow: inset .3rem 0 #1a1a1a; padding-left: .75rem; }
.failure h3 { margin-top: 0; }
.failure { margin: 1rem 0; padding: .25rem 0 .25rem 1rem; border-left: .3rem solid #1a1a1a; }
pre { white-space: pre-wrap; margin: .5rem 0; font-size: .9rem; }
a { color: inherit; }
@media print {
 body { padding: 0; max-width: none; font-size: 10pt; }
 thead { display: table-header-group; }
 tr, .verdict { break-inside: avoid; }
 h2, h3 { break-after: avoid; }
 .wide { overflow: visible; }
 table { font-size: 7.5pt; line-height: 1.3; }
 th, td { padding: .15rem .4rem .15rem 0; }
 .scores tbody th { min-width: 18rem; }
 .scores td:last-child, .scores th:last-child { min-width: 6rem; padding-left: .4rem; overflow-wrap: anywhere; }
}
</style>
</head>
<body>
<main>
<h1>Conformance report</h1>
`
