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
