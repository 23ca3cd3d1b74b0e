package main

import (
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
)

func TestHostileInput(t *testing.T) {
	for _, name := range demos {
		demo, err := demoFile(name)
		if err != nil {
			t.Fatal(err)
		}
		programtest.TryRun(t, run, demo, [][]string{{"-"}, {"-json", "-"}}, "points", "bodies")
	}
}
