package programtest

import (
	"strings"
	"testing"

	"example.com/wheelrate/units/unitstest"
)

// Whatever a program does wrong is found out.
func TestJudge(t *testing.T) {
	plain, asJSON := []string{"-job", "-"}, []string{"-json", "-job", "-"}
	good, bad := unitstest.Spoilt{Text: []byte("{}")}, unitstest.Spoilt{Text: []byte("{"), Bad: true}
	for _, row := range []struct {
		args      []string
		spoilt    unitstest.Spoilt
		status    int
		out, errs string
		found     string
	}{
		{plain, good, 0, "5 mm", "", ""},
		{asJSON, good, 0, "{}", "", ""},
		{plain, bad, 2, "", "a fault", ""},
		{plain, bad, 2, "5 mm", "a fault", "beside"},
		{plain, bad, 2, "", "", "0 bytes of faults"},
		{plain, bad, 2, "", strings.Repeat("x", 1<<18), "262144 bytes of faults"},
		{plain, good, 1, "", "no room", "status 1"},
		{plain, bad, 0, "5 mm", "", "accepted"},
		{asJSON, good, 0, "{", "", "not JSON"},
		{plain, good, 0, "NaN mm", "", "NaN in"},
		{plain, good, 0, "+Inf mm", "", "Inf in"},
		{plain, unitstest.Spoilt{Text: []byte(`{"note":"NaN"}`)}, 0, "NaN", "", ""},
	} {
		got := judge(row.args, row.spoilt, row.status, []byte(row.out), row.errs)
		if (got == "") != (row.found == "") || !strings.Contains(got, row.found) {
			t.Errorf("%v %d %q: %q, want %q", row.args, row.status, row.out, got, row.found)
		}
	}
}

// Whatever steers is found out, in a line and in a page.
func TestSteers(t *testing.T) {
	for said, found := range map[string]string{
		"5 mm\n":                     "",
		"a [U+001B] b":               "",
		"a\x1b b":                    "U+001B",
		"a\u202e":                    "U+202E",
		"a\u2028":                    "U+2028",
		"front\n  " + ownLine:        "a line",
		"<html>\n" + ownLine:         "",
		"<html><U+001B>":             "a tag",
		"<html><b>\" onload=" + "\"": "a tag",
	} {
		if got := steers(said); (got == "") != (found == "") || !strings.Contains(got, found) {
			t.Errorf("%q: %q, want %q", said, got, found)
		}
	}
	job := string(steered(t, []byte(`{"note": "a", "bodies": [["p", "q"]], "points": {"p": 1}, "list": [{"name": "b"}]}`)))
	for _, want := range []string{`"note":"a\u001b[31m`, `"points":{"pa\u001b`, `["pa\u001b`, `"q"]`} {
		if !strings.Contains(job, want) {
			t.Errorf("lacks %s in %s", want, job)
		}
	}
}
