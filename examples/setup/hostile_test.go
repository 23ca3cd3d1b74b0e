package main

import (
	"os"
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
)

func TestHostileJobs(t *testing.T) {
	calls := [][]string{{"-job", "-"}, {"-json", "-job", "-"}, {"-html", "-job", "-"}, {"-card", "-job", "-"}, {"-svg", "-job", "-"}, {"-explain", "-job", "-"}}
	for _, name := range []string{"demo/job.json", "demo/coil-fork.json", "demo/gauge.json", "demo/hardtail.json", "../webpage/demo/pivots.json"} {
		demo, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		programtest.TryRun(t, run, demo, calls, "points", "bodies")
	}
}

func TestUnwritten(t *testing.T) { programtest.TryUnwritten(t, run, "-out") }
