package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
)

// exported is a folder that the program wrote.
func exported(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "dataset")
	if out, errs, status := call(t, "", "-export", dir); status != 0 || out+errs != "" {
		t.Fatalf("status %d, %s%s", status, out, errs)
	}
	return dir
}

// The folder has all that its README speaks of, with checksums of every file, and its cases run.
func TestExport(t *testing.T) {
	dir := exported(t)
	sums, err := os.ReadFile(filepath.Join(dir, "SHA256SUMS"))
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{"SHA256SUMS": true}
	for line := range strings.Lines(string(sums)) {
		sum, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
		text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil || fmt.Sprintf("%x", sha256.Sum256(text)) != sum {
			t.Errorf("%s: %v", name, err)
		}
		listed[name] = true
	}
	files := 0
	err = filepath.WalkDir(dir, func(file string, entry os.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, file)
		if files++; !listed[filepath.ToSlash(name)] {
			t.Errorf("%s has no checksum", name)
		}
		return err
	})
	if err != nil || files < 80 {
		t.Errorf("%d files, %v", files, err)
	}
	readme, err := os.ReadFile(filepath.Join(dir, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range regexp.MustCompile(`\b([a-z-]+/(?:[a-z]+/)?|[A-Z][A-Za-z0-9.]+|[a-z]+\.json)\b?`).FindAllString(string(readme), -1) {
		name, _, _ = strings.Cut(name, " ")
		if strings.HasSuffix(name, "/") || strings.HasSuffix(name, ".json") || strings.HasSuffix(name, ".md") {
			if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name))); err != nil {
				t.Error(err)
			}
		}
	}
	if out, _, status := call(t, "", "-job", filepath.Join(dir, "cases")); status != 0 || !strings.HasSuffix(lastLine(out), " passed, 0 failed") {
		t.Errorf("status %d, %s", status, lastLine(out))
	}
	if _, errs, status := call(t, "", "-export", dir); status != 2 || !strings.Contains(errs, "is not empty") {
		t.Errorf("a second time: status %d, %s", status, errs)
	}
	if description, _, status := call(t, "", "-describe"); status != 0 || !strings.Contains(description, "### spring.coil\n") {
		t.Errorf("-describe: status %d, %.100s", status, description)
	}
}

// Values of the SI form by hand, and texts that are no quantity.
func TestSIForm(t *testing.T) {
	give := func(computes, given string) refdata.Case {
		return refdata.Case{ID: "x", Computes: computes, Given: []byte(given)}
	}
	convert := give("units.convert", `{"kind":"temperature","value":"68 °F"}`)
	convert.Expect = map[string]any{"value": "20 °C"}
	convert.Tolerance = map[string]refdata.CaseTolerance{"value": {Absolute: "0.5 °C"}}
	law := give("spring.law", `{"law":{"series":[{"linear":{"rate":"2 N/mm","travel":"10 mm"}},{"air":{"fill":"2 bar","ambient":"1 bar"}}]},"at":["5 mm",5,null,"5"],"colour":"red"}`)
	law.Expect = map[string]any{"force": []any{"1 lbf"}, "energy": []any{"1 kJ"}}
	law.Tolerance = map[string]refdata.CaseTolerance{"*": {Absolute: "0.001 kN"}}
	linkage := give("linkage.mechanism", `{"mechanism":{"points":{"P":["1 in","-2 mm"]},"bodies":{"frame":["P"]},"shock":["P","Q"],"stroke":"1 cm"},"at":[]}`)
	linkage.Error = []string{"bodies"}
	idle := give("spring.readings", `{"travel":["0 mm"],"force":{"a":1}}`)
	idle.Expect = map[string]any{"rate": "1 N/mm"}
	for _, row := range []struct {
		c    refdata.Case
		want string
	}{
		{convert, `{"id":"x","computes":"units.convert","given":{"kind":"temperature","value":"68 °F"},"expect":{"value":293.15},"tolerance":{"value":{"absolute":0.5}}}`},
		{law, `{"id":"x","computes":"spring.law","given":{"at":[0.005,"5",null,"5"],"colour":"red","law":{"series":[{"linear":{"rate":2000,"travel":0.01}},{"air":{"ambient":"1 bar","fill":200000}}]}},` +
			`"expect":{"energy":[1000],"force":[4.4482216152605]},"tolerance":{"energy":{"relative":1e-9},"force":{"absolute":1}}}`},
		{linkage, `{"id":"x","computes":"linkage.mechanism","given":{"at":[],"mechanism":{"bodies":{"frame":["P"]},"points":{"P":[0.0254,-0.002]},"shock":["P","Q"],"stroke":0.01}},"error":["bodies"]}`},
		{idle, `{"id":"x","computes":"spring.readings","given":{"force":"{\"a\":1}","travel":[0]},"expect":{"rate":1000},"tolerance":{"rate":{"relative":1e-9}}}`},
	} {
		p, err := plainOf(row.c)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := json.Marshal(p); err != nil || string(got) != row.want {
			t.Errorf("%s\nwant %s (%v)", got, row.want, err)
		}
	}
}

// The licence that goes with the data is that of the repository.
func TestLicence(t *testing.T) {
	own, err := os.ReadFile("../../LICENSE")
	if err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(filepath.Join(exported(t), "LICENSE")); err != nil || string(text) != string(own) {
		t.Errorf("another licence: %v", err)
	}
}
