package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"example.com/wheelrate/sag/setup"
)

// wordsOf returns the words of a picture, those of every element on a line of their own.
func wordsOf(t *testing.T, picture string) string {
	t.Helper()
	words := ""
	for in := xml.NewDecoder(strings.NewReader(picture)); ; {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return words
		}
		if err != nil {
			t.Fatal(err)
		}
		switch one := token.(type) {
		case xml.CharData:
			words += string(one)
		case xml.StartElement:
			words += "\n"
		}
	}
}

func TestPictureSaysWhatTheSheetSays(t *testing.T) {
	for _, job := range []struct {
		file   string
		charts int
	}{{"demo/job.json", 2}, {"demo/coil-fork.json", 2}, {"demo/hardtail.json", 1}, {"demo/gauge.json", 0}} {
		picture, errs, status := call(t, "", "-svg", "-job", job.file)
		if status != 0 || errs != "" {
			t.Fatalf("%s: status %d, %q", job.file, status, errs)
		}
		words := wordsOf(t, picture)
		if charts := strings.Count(words, "vertical wheel travel"); charts != job.charts {
			t.Errorf("%s: %d charts, want %d", job.file, charts, job.charts)
		}
		out, _, _ := call(t, "", "-json", "-job", job.file)
		var s setup.Sheet
		if err := json.Unmarshal([]byte(out), &s); err != nil {
			t.Fatal(err)
		}
		wants := []string{"The marking on the part and the maker's manual win"}
		for _, e := range s.Ends() {
			wants = append(wants, strings.ToUpper(string(e.Axle[:1]))+string(e.Axle[1:])+": ")
			if k := e.Spring(); k != nil {
				wants = append(wants, fmt.Sprintf("\n%.0f lbf/in", k.Rate.PoundsForcePerInch()), fmt.Sprintf("preload %.1f mm", k.Preload.Millimetres()))
			}
			if e.State != nil {
				wants = append(wants, fmt.Sprintf("\n%.1f mm", e.Rest.Stroke.Millimetres()))
			}
		}
		for _, want := range wants {
			if !strings.Contains(words, want) {
				t.Errorf("%s: the picture lacks %q in %s", job.file, want, words)
			}
		}
	}
}

// The README shows the demonstration's picture.
func TestPictureOfTheReadmeIsCurrent(t *testing.T) {
	picture, errs, status := call(t, "", "-svg")
	if status != 0 {
		t.Fatal(errs)
	}
	if kept, err := os.ReadFile("demo/sheet.svg"); err != nil || string(kept) != picture {
		t.Errorf("examples/setup/demo/sheet.svg is stale (%v): go -C examples run ./setup -svg > examples/setup/demo/sheet.svg", err)
	}
}
