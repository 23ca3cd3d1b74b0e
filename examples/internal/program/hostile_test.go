package program

import (
	"bytes"
	"flag"
	"fmt"
	"strings"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// Whatever is piped into a program, it says in few words what is wrong, and
// nothing else.
func TestHostileJobs(t *testing.T) {
	for name, doc := range unitstest.Hostile(*hostile) {
		var out, errs bytes.Buffer
		status := echo().Run([]string{"-job", "-"}, bytes.NewReader(doc), &out, &errs)
		if status != 2 || out.Len() > 0 || errs.Len() == 0 || errs.Len() > 1<<16 {
			t.Errorf("%s: status %d, %d bytes of answer, %d of faults", name, status, out.Len(), errs.Len())
		}
	}
	// A pipe without end is left alone after the limit.
	pipe := &endless{}
	var out, errs bytes.Buffer
	if status := echo().Run([]string{"-job", "-"}, pipe, &out, &errs); status != 2 || pipe.n > 3*Limit {
		t.Errorf("status %d after %d bytes: %s", status, pipe.n, errs.String())
	}
}

type endless struct{ n int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	e.n += len(p)
	return len(p), nil
}

// Very many faults, and such as repeat the input, are told in short.
func TestManyFaults(t *testing.T) {
	long := strings.Repeat("é", 1<<12)
	c := units.Checker{Package: "p"}
	for i := range 1000 {
		c.Add("", &units.FieldError{Package: "p", Field: fmt.Sprintf("list[%d]", i) + long, Value: long, Want: units.Want{Text: long}, Class: units.ErrRange})
		c.Add("", &units.FieldError{Package: "p", Field: "list", Value: []string{long}, Want: units.Want{Text: "less"}, Class: units.ErrRange})
	}
	var out bytes.Buffer
	Faults(&out, "p", "answer", "job", c.Err())
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	if len(lines) != 122 || lines[0] != "p: no answer, the job has 2000 faults:" || lines[121] != "  and 1880 more" || out.Len() > 200_000 {
		t.Errorf("%d lines, %d bytes: %.100q … %.100q", len(lines), out.Len(), lines[0], lines[len(lines)-1])
	}
}
