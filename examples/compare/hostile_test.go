package main

import (
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
	"example.com/wheelrate/units"
)

func TestHostileJobs(t *testing.T) { programtest.Try(t, newCompare, "points", "bodies") }

// Of more springs than can be compared none is looked at.
func TestSpringsAreBounded(t *testing.T) {
	_, err := solve(job{Springs: make([]one, mostSprings+1)}, 2)
	fields := map[string]bool{}
	for _, f := range units.Fields(err) {
		fields[f.Field] = true
	}
	if len(fields) != 2 || !fields["springs"] || !fields["curve"] {
		t.Errorf("%.300v", err)
	}
}
