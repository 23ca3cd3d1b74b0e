package main

import (
	"bytes"
	"strings"
	"testing"
)

// Whatever comes in, there is an answer in finite numbers or an error that
// names something, and no panic.
func FuzzInput(f *testing.F) {
	for _, name := range demos {
		data, err := demoFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	f.Add("stroke (mm),travel (mm)\n0,0\n10,26\n20,50\n")
	f.Add(`{"schema": "wheelrate/leverage/1", "table": {"stroke": ["0 mm", "1 in"], "travel": ["0 mm", "2.5 in"]}, "sag": 0.3}`)
	f.Fuzz(func(t *testing.T, text string) {
		var out, errs bytes.Buffer
		switch status := run([]string{"-n", "5", "-job", "-"}, strings.NewReader(text), &out, &errs); {
		case status == 2 && out.Len() == 0 && errs.Len() > 0:
		case status != 0 || out.Len() == 0:
			t.Fatalf("status %d, %d bytes of answer, %q", status, out.Len(), errs.String())
		}
		if strings.Contains(text, "note") {
			return // it is echoed, and may say anything
		}
		for _, bad := range []string{"NaN", "Inf", "%!"} {
			if !strings.Contains(text, bad) && strings.Contains(out.String(), bad) {
				t.Fatalf("the answer says %q:\n%s", bad, out.String())
			}
		}
	})
}
