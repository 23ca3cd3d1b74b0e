package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/internal/program/programtest"
)

func call(stdin string, args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = newVisit().Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

func TestDemonstration(t *testing.T) {
	text, errs, status := call("")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	at := 0
	for _, want := range []string{ // plain words first, the numbers behind
		"VISIT 2026-11-26", "Invented", "WHAT TO DO, FRONT", "less than the", "Less compression damping",
		"WHAT TO DO, REAR", "measure the spring", "The ride used all of the travel", "Ride 3.4 mm",
		"FRONT, WHAT WAS READ", "ring expected", "FRONT, WHAT TO SET", "FRONT, THREE SETTINGS TO TRY", "softer, ring at",
		"REAR, WHAT THE RIDE USED", "CAUTIONS", "never fill", "-out FILE",
	} {
		next := strings.Index(text[at:], want)
		if next < 0 {
			t.Fatalf("lacks %q after %q in\n%s", want, text[:at], text)
		}
		at += next
	}
	programtest.Page(t, text, 80)
}

// A first visit takes the job of a sheet, writes a record, and the next one takes that; the record
// that -json prints is the one that is written. No record is ever written over.
func TestRecordGoesFromVisitToVisit(t *testing.T) {
	dir := t.TempDir()
	first, next := filepath.Join(dir, "first.json"), filepath.Join(dir, "next.json")
	today := `{"schema": "wheelrate/visit/1", "date": "2026-11-25", "conditions": {"temperature": "12 °C", "altitude": "300 m"}}`
	text, errs, status := call(today, "-job", "-", "-record", "../setup/demo/job.json", "-out", first)
	if status != 0 || !strings.Contains(text, "Set it as the sheet of the job recommends: spring 450 lbf/in") || !strings.Contains(text, "is in") {
		t.Fatalf("status %d %s\n%s", status, errs, text)
	}
	today = `{"schema": "wheelrate/visit/1", "date": "2026-11-26", "rider_mass": "90 kg", "conditions": {"temperature": "30 °C", "altitude": "2000 m"},
		"rear": {"readings": [{"stroke": "18 mm", "error": "0.5 mm"}]}}`
	text, errs, status = call(today, "-json", "-job", "-", "-record", first, "-out", next)
	if status != 0 {
		t.Fatal(errs)
	}
	var a advice.Answer
	if err := json.Unmarshal([]byte(text), &a); err != nil {
		t.Fatal(err)
	}
	var said, kept bytes.Buffer
	if _, err := a.Next.WriteTo(&said); err != nil {
		t.Fatal(err)
	}
	file, err := os.ReadFile(next)
	if err != nil {
		t.Fatal(err)
	}
	kept.Write(file)
	if said.String() != kept.String() || a.Next.Situation.Masses.RiderMass != 90 {
		t.Errorf("printed %s\nwritten %s", said.String(), kept.String())
	}
	_, errs, status = call(today, "-job", "-", "-record", first, "-out", next)
	if after, _ := os.ReadFile(next); status != 2 || !strings.Contains(errs, "a new file") || !bytes.Equal(after, file) {
		t.Errorf("written over: status %d, %s", status, errs)
	}
}

func TestRefuses(t *testing.T) {
	file := func(text string) string {
		path := filepath.Join(t.TempDir(), "file.json")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const bare = `{"schema": "wheelrate/visit/1", "date": "2026-11-26"}`
	for _, test := range []struct {
		stdin string
		args  []string
		want  string
	}{
		{bare, nil, "record: want the record of the last visit, or a job"},
		{`{"schema": "wheelrate/visit/1", "day": "today"}`, nil, "day"},
		{`{"schema": "wheelrate/visit/1", "day": "today"}`, []string{"-record", "../setup/demo/job.json"}, "has 1 fault"},
		{bare, []string{"-record", "no-such-file"}, "give a full path"},
		{bare, []string{"-record", file(`{"schema": "wheelrate/job/1", "masse": {}}`)}, "job.masse"},
		{bare, []string{"-record", file(`{"schema": "wheelrate/job/1"}`)}, "job.front"},
		{bare, []string{"-record", file(`{"schema": "wheelrate/job/2"}`)}, "job.schema"},
		{bare, []string{"-record", file(`{"schema": "wheelrate/record/1"}`)}, "record.date"},
		{bare, []string{"-record", file(`{"schema": "wheelrate/record/9"}`)}, "record.schema"},
		{bare, []string{"-record", file(strings.Repeat(" ", 1<<20) + "{}")}, "record"},
		{string(demo), []string{"-record", "../setup/demo/job.json"}, "not both"},
		{strings.Replace(string(demo), `"felt": "too_soft"`, `"felt": "nice"`, 1), nil, "rear.felt"},
	} {
		out, errs, status := call(test.stdin, append([]string{"-job", "-"}, test.args...)...)
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%v: status %d, %q, want %q", test.args, status, errs, test.want)
		}
	}
}

func FuzzJob(f *testing.F) {
	programtest.Fuzz(f, newVisit, `{"date": "2026-11-26", "rear": {"felt": 3}}`)
}

func TestHostileJobs(t *testing.T) { programtest.Try(t, newVisit) }

func TestUnwritten(t *testing.T) { programtest.TryUnwritten(t, newVisit().Run, "-out") }
