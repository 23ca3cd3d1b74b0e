package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

// call runs the program and returns what it printed and its exit status.
func call(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// write puts text into a file of a directory of the test's own.
func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const right = `{"id":"right-1","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25.4 mm"}}`
const refused = `{"id":"refused-1","computes":"units.convert","given":{"kind":"length","value":"1"},"error":["value"]}`
const wrong = `{"id":"wrong-<1>","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25 mm"},"tolerance":{"value":"0.1 mm"}}`

func file(cases ...string) string {
	return `{"schema":"wheelrate/cases/1","subject":"invented","groups":[{"source":{"title":"A & B","where":"p. 1"},"standing":"published","cases":[` +
		strings.Join(cases, ",") + `]}]}`
}

// lastLine is the closing line, which programs read.
func lastLine(out string) string {
	lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	return lines[len(lines)-1]
}

func TestEmbeddedCases(t *testing.T) {
	out, errs, status := call(t, "")
	if status != 0 || errs != "" {
		t.Errorf("status %d, standard error %q", status, errs)
	}
	m := regexp.MustCompile(`^([0-9]+) passed, 0 failed$`).FindStringSubmatch(lastLine(out))
	if m == nil {
		t.Fatalf("closing line %q", lastLine(out))
	}
	lines := regexp.MustCompile(`(?m)^ok   \S+ \S+$`).FindAllString(out, -1)
	if len(lines) < 81 || m[1] != itoa(len(lines)) {
		t.Errorf("%d lines of cases, closing line %q", len(lines), m[0])
	}
}

func itoa(n int) string { b, _ := json.Marshal(n); return string(b) }

func TestFailuresAreExplained(t *testing.T) {
	path := write(t, "mine.json", file(right, wrong, refused))
	out, errs, status := call(t, "", "-cases", path)
	if status != 1 || errs != "" {
		t.Errorf("status %d, standard error %q", status, errs)
	}
	if lastLine(out) != "2 passed, 1 failed" {
		t.Errorf("closing line %q", lastLine(out))
	}
	for _, want := range []string{
		"ok   right-1 units.convert\n", "FAIL wrong-<1> units.convert\n", "ok   refused-1 units.convert\n",
		"expected 25 mm, got 25.4 mm, off by 0.4 mm, tolerance ±0.1 mm", "source: A & B, p. 1 (published)", path,
	} {
		if !strings.Contains(out, want) {
			t.Errorf("output lacks %q:\n%s", want, out)
		}
	}
	if strings.Contains(out, "expected 25.4 mm") {
		t.Error("a passing comparison is printed without -v")
	}
	if out, _, _ := call(t, "", "-v", "-cases", path); !strings.Contains(out, "value: expected 25.4 mm, got 25.4 mm") {
		t.Errorf("-v does not print the passing comparison:\n%s", out)
	}
}

func TestDirectoryAndStandardInput(t *testing.T) {
	dir := filepath.Dir(write(t, "a.json", file(right)))
	if err := os.Mkdir(filepath.Join(dir, "sub"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "sub", "b.json"), []byte(file(refused)), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, _, status := call(t, "", "-cases", dir); status != 0 || lastLine(out) != "2 passed, 0 failed" {
		t.Errorf("directory: status %d, closing line %q", status, lastLine(out))
	}
	if out, _, status := call(t, file(right), "-cases", "-"); status != 0 || lastLine(out) != "1 passed, 0 failed" {
		t.Errorf("standard input: status %d, closing line %q", status, lastLine(out))
	}
}

// What -example prints are cases that agree, by each way of giving them.
func TestExample(t *testing.T) {
	example, errs, status := call(t, "", "-example")
	if status != 0 || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	path := write(t, "mine.json", example)
	for _, args := range [][]string{{"-job", path}, {"-cases", path}, {"-job", "-"}, {"-cases", "-"}} {
		if out, _, status := call(t, example, args...); status != 0 || lastLine(out) != "2 passed, 0 failed" {
			t.Errorf("%v: status %d, %s", args, status, out)
		}
	}
	var got struct{ Passed, Failed int }
	out, _, status := call(t, example, "-json", "-", "-job", "-")
	if err := json.Unmarshal([]byte(out), &got); err != nil || status != 0 || got.Passed != 2 || got.Failed != 0 {
		t.Errorf("status %d, %v: %s", status, err, out)
	}
	spoilt := strings.Replace(example, `"4800 N"`, `"4801 N"`, 1)
	if out, _, status := call(t, spoilt, "-job", "-"); status != 1 || lastLine(out) != "1 passed, 1 failed" {
		t.Errorf("a force that is not k·x: status %d, %s", status, out)
	}
}

// No text of a case steers a terminal.
func TestControlCharacters(t *testing.T) {
	const steering = `\u001b[2J\u009b\u202e`
	text := strings.Replace(file(right, wrong), "A & B", "A"+steering, 1)
	for _, args := range [][]string{{"-job", "-"}, {"-v", "-job", "-"}, {"-json", "-", "-job", "-"}} {
		out, _, status := call(t, text, args...)
		if status != 1 || strings.ContainsAny(out, "\x1b\u009b\u202e") {
			t.Errorf("%v: status %d, %q", args, status, out)
		}
		if args[0] == "-json" {
			var got struct {
				Sources []struct{ Source struct{ Title string } }
			}
			if err := json.Unmarshal([]byte(out), &got); err != nil || len(got.Sources) != 1 || got.Sources[0].Source.Title != "A\x1b[2J\u009b\u202e" {
				t.Errorf("%v: %s", err, out)
			}
		} else if !strings.Contains(out, "source: A [2J [U+202E], p. 1") {
			t.Errorf("%v: %q", args, out)
		}
	}
	text = strings.Replace(file(right), "right-1", "right-"+steering, 1)
	if out, errs, status := call(t, text, "-job", "-"); status != 2 || strings.ContainsAny(out+errs, "\x1b\u009b\u202e") {
		t.Errorf("status %d, %q", status, errs)
	}
}

// A malformed file ends with status 2, names file, case and field, and has no
// closing line that a reader could take for a full run's.
func TestMalformed(t *testing.T) {
	misspelt := strings.Replace(refused, `"given"`, `"gievn"`, 1)
	tests := []struct {
		name, text string
		says       []string
	}{
		{"misspelt field", file(right, misspelt), []string{"m.json", "refused-1", "gievn"}},
		{"unknown computation", file(strings.Replace(right, "convert", "invert", 1)), []string{"m.json", "right-1", "computes"}},
		{"same id", file(right, right), []string{"m.json", "right-1", "id"}},
		{"cut off", file(right)[:200], []string{"m.json"}},
		{"empty", "", []string{"m.json"}},
		{"no cases", file(), []string{"m.json", "cases"}},
	}
	for _, tt := range tests {
		path := write(t, "m.json", tt.text)
		out, errs, status := call(t, "", "-cases", path)
		if status != 2 || strings.Contains(out, "passed,") {
			t.Errorf("%s: status %d, output %q", tt.name, status, out)
		}
		for _, want := range tt.says {
			if !strings.Contains(errs, want) {
				t.Errorf("%s: %q is not named in %q", tt.name, want, errs)
			}
		}
	}
}

func TestBadCalls(t *testing.T) {
	for name, args := range map[string][]string{
		"no such file":    {"-cases", "no-such-file.json"},
		"empty directory": {"-cases", t.TempDir()},
		"unknown flag":    {"-colour"},
		"stray argument":  {"cases.json"},
		"two jobs":        {"-job", "a.json", "-cases", "b.json"},
		"no such job":     {"-job", "no-such-file.json"},
	} {
		out, errs, status := call(t, "", args...)
		if status != 2 || errs == "" || out != "" {
			t.Errorf("%s: status %d, standard error %q, output %q", name, status, errs, out)
		}
	}
	if _, errs, _ := call(t, "", "-cases", "no-such-file.json"); !strings.Contains(errs, "give a full path") {
		t.Errorf("a missing relative path is not explained: %q", errs)
	}
	if _, errs, status := call(t, "", "-h"); status != 0 || !strings.Contains(errs, "go -C examples run ./conformance -job") {
		t.Errorf("-h: status %d, %q", status, errs)
	}
}

func TestReports(t *testing.T) {
	dir := t.TempDir()
	asJSON, asHTML := filepath.Join(dir, "r.json"), filepath.Join(dir, "r.html")
	path := write(t, "mine.json", file(right, wrong, refused))
	scratch := t.TempDir()
	t.Setenv("TMPDIR", scratch)
	if _, errs, status := call(t, "", "-cases", path, "-json", asJSON, "-html", asHTML); status != 1 {
		t.Fatalf("status %d, %q", status, errs)
	}
	var got struct {
		Cases []struct {
			ID          string
			Pass        bool
			Comparisons []struct {
				Expected, Got string
				Share         float64 `json:"share_of_tolerance"`
				Digits        float64 `json:"agreeing_digits"`
			}
		}
		Sources []struct {
			Source        struct{ Title, Where string }
			Standing      string
			Cases, Values int
			Failed        int
			Refusals      int
			Worst         float64 `json:"worst_share_of_tolerance"`
			WorstCase     string  `json:"worst_case"`
		}
		Passed, Failed int
		Fault          string
	}
	read(t, asJSON, &got)
	if len(got.Sources) != 1 {
		t.Fatalf("sources %+v", got.Sources)
	}
	if s := got.Sources[0]; s.Source.Title != "A & B" || s.Source.Where != "p. 1" || s.Standing != "published" || s.Cases != 3 || s.Failed != 1 ||
		s.Refusals != 1 || s.Values != 2 || s.Worst < 3.999 || s.Worst > 4.001 || s.WorstCase != "wrong-<1>" {
		t.Errorf("source %+v", s)
	}
	if left, err := os.ReadDir(scratch); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v (%v)", left, err)
	}
	if got.Passed != 2 || got.Failed != 1 || got.Fault != "" || len(got.Cases) != 3 {
		t.Fatalf("report %+v", got)
	}
	// 0.4 mm of 0.1 mm
	if c := got.Cases[1]; c.ID != "wrong-<1>" || c.Pass || c.Comparisons[0].Got != "25.4 mm" || c.Comparisons[0].Share < 3.999 || c.Comparisons[0].Share > 4.001 {
		t.Errorf("case %+v", c)
	}
	if c := got.Cases[0]; !c.Pass || c.Comparisons[0].Digits < 15 {
		t.Errorf("case %+v", c)
	}
	page, err := os.ReadFile(asHTML)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"wrong-&lt;1&gt;", "A &amp; B", "<strong>2 passed, 1 failed</strong>", "<td>25 mm</td><td>25.4 mm</td><td>0.4 mm</td><td>±0.1 mm</td>", "refused for value",
		"<h2 id=\"failures\">", "<td class=\"n\">4</td>", "<tr class=\"fail\"><th scope=\"row\">units.convert</th>", "wrong-&lt;1&gt;: value", `<html lang="en">`, "</html>"} {
		if !bytes.Contains(page, []byte(want)) {
			t.Errorf("page lacks %q", want)
		}
	}
	for _, tag := range []string{"table", "tr", "td", "th", "ul", "li", "main", "pre", "div", "p", "strong", "section", "thead", "tbody", "h2", "h3", "small", "span", "a", "html", "body", "head"} {
		opened := len(regexp.MustCompile(`<`+tag+`[ >]`).FindAll(page, -1))
		if closed := bytes.Count(page, []byte("</"+tag+">")); opened != closed {
			t.Errorf("%d <%s> are opened, %d closed", opened, tag, closed)
		}
	}
	if bytes.Contains(page, []byte("http")) || bytes.Contains(page, []byte("<script")) {
		t.Error("the page fetches or runs something")
	}
}

// A report of a run that could not be finished says so, and is whole itself.
func TestReportsOfMalformedFiles(t *testing.T) {
	for name, text := range map[string]string{"at once": "", "after a case": file(right, right)} {
		dir := t.TempDir()
		asJSON, asHTML := filepath.Join(dir, "r.json"), filepath.Join(dir, "r.html")
		if _, _, status := call(t, text, "-cases", "-", "-json", asJSON, "-html", asHTML); status != 2 {
			t.Errorf("%s: status %d", name, status)
		}
		var got struct{ Fault string }
		read(t, asJSON, &got)
		if !strings.Contains(got.Fault, "standard input") {
			t.Errorf("%s: fault %q", name, got.Fault)
		}
		page, err := os.ReadFile(asHTML)
		if err != nil || !bytes.Contains(page, []byte("could not be read to their end")) || !bytes.HasSuffix(page, []byte("</html>\n")) {
			t.Errorf("%s: page %s (%v)", name, page, err)
		}
	}
}

func read(t *testing.T, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%v in %s", err, data)
	}
}

// Output that can't be written is no success.
func TestClosedOutput(t *testing.T) {
	var errs bytes.Buffer
	for _, args := range [][]string{nil, {"-example"}, {"-describe"}} {
		errs.Reset()
		if status := run(args, strings.NewReader(""), broken{}, &errs); status != 1 || errs.Len() == 0 {
			t.Errorf("%v: status %d, standard error %q", args, status, errs.String())
		}
	}
}

// A report that can't be written leaves nothing of itself, nor of the other one.
func TestReportNowhere(t *testing.T) {
	dir := t.TempDir()
	nowhere := filepath.Join(dir, "no", "such", "place.html")
	out, errs, status := call(t, "", "-json", filepath.Join(dir, "good.json"), "-html", nowhere)
	if status != 1 || out != "" || !strings.Contains(errs, nowhere+":") {
		t.Errorf("status %d, standard error %q, output %q", status, errs, out)
	}
	if list, err := os.ReadDir(dir); err != nil || len(list) > 0 {
		t.Errorf("left behind: %v, %v", list, err)
	}
	if _, errs, status := call(t, "", "-json", "/dev/full"); runtime.GOOS == "linux" && (status != 1 || errs == "") {
		t.Errorf("a full device: status %d, %q", status, errs)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
