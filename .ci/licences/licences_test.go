// Package licences holds .ci/LICENCES.md against what the three modules and the checks use.
package licences

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// phrases are words of a licence that no other one of the list has, in lower case.
var phrases = map[string]string{
	"Apache-2.0":       "apache license, version 2.0",
	"BSD-3-Clause":     "redistributions in binary form must reproduce",
	"CC-BY-4.0":        "creative commons attribution 4.0 international",
	"FTL":              "the freetype license",
	"GPL-2.0-or-later": "the gnu general public license (gpl), version 2 or later",
	"ISC":              "permission to use, copy, modify, and/or distribute this software",
	"MIT":              "to deal in the software without restriction",
	"OFL-1.1":          "sil open font license version 1.1",
}

var alternatives = regexp.MustCompile(" AND | OR ")

// table returns the rows of a list of licences below a heading, by their first cells.
func table(t *testing.T, heading string) map[string][]string {
	t.Helper()
	text, err := os.ReadFile("../LICENCES.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(text), "\n## "+heading+"\n")
	section, _, _ = strings.Cut(section, "\n## ")
	rows := map[string][]string{}
	for line := range strings.Lines(section) {
		if cells := strings.Split(strings.Trim(strings.TrimSpace(line), "| "), " | "); len(cells) > 1 {
			rows[cells[0]] = cells[1:]
		}
	}
	for _, head := range []string{"module", "program", "package", "---|---", "---|---|---", "---|---|---|---"} {
		delete(rows, head)
	}
	return rows
}

// compare reports names that are used and not listed, and the other way round.
func compare(t *testing.T, listed map[string][]string, used map[string]string) {
	t.Helper()
	for name, version := range used {
		switch row, ok := listed[name]; {
		case !ok:
			t.Errorf(".ci/LICENCES.md lacks %s %s", name, version)
		case version != "" && row[0] != version:
			t.Errorf(".ci/LICENCES.md has %s %s, in use is %s", name, row[0], version)
		}
	}
	for name := range listed {
		if _, ok := used[name]; !ok {
			t.Errorf(".ci/LICENCES.md has %s, which nothing uses", name)
		}
	}
}

func TestModules(t *testing.T) {
	listed, used := table(t, "Go modules"), map[string]string{}
	for _, module := range []string{"../..", "../../examples", ".."} {
		list := exec.Command("go", "list", "-deps", "-test", "-f", "{{with .Module}}{{.Path}} {{.Version}} {{.Dir}}{{end}}", "./...")
		list.Dir = module
		out, err := list.Output()
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range slices.Compact(slices.Sorted(strings.Lines(string(out)))) {
			part := strings.Fields(line)
			if len(part) == 3 && !strings.HasPrefix(part[0], "example.com/wheelrate") {
				used[part[0]] = part[1]
				named(t, part[0], part[2], listed[part[0]])
			}
		}
	}
	compare(t, listed, used)
}

// named reports a licence that the texts of a module are not.
func named(t *testing.T, module, dir string, row []string) {
	t.Helper()
	if row == nil {
		return // reported as missing
	}
	var text strings.Builder
	for _, pattern := range []string{"LICENSE*", "internal/*/LICENSE"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			one, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			text.Write(one)
		}
	}
	words := strings.ToLower(strings.Join(strings.Fields(text.String()), " "))
	licence := row[len(row)-1]
	for _, one := range alternatives.Split(licence, -1) {
		if phrase, ok := phrases[one]; !ok || !strings.Contains(words, phrase) {
			t.Errorf("%s is not said to be under %s", module, one)
		}
	}
	for one, phrase := range phrases {
		if strings.Contains(words, phrase) && !slices.Contains(alternatives.Split(licence, -1), one) {
			t.Errorf("%s is said to be under %s too", module, one)
		}
	}
}

func read(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestPrograms(t *testing.T) {
	used := map[string]string{}
	for _, m := range regexp.MustCompile(`=(\S+)@(v\S+)`).FindAllStringSubmatch(read(t, "../run")+read(t, "../api"), -1) {
		used[m[1]] = m[2]
	}
	compare(t, table(t, "Programs in Go that the checks install"), used)
}

func TestPackages(t *testing.T) {
	used := map[string]string{}
	lines := regexp.MustCompile(`(?m)^(?:.*\|\| |\t+)(?:need|program \S+) ([a-z0-9 .-]+)$|^for package in ([a-z0-9 .-]+); do$`)
	for _, m := range lines.FindAllStringSubmatch(read(t, "../run")+read(t, "../peers/run.sh"), -1) {
		for _, name := range strings.Fields(m[1] + m[2]) {
			used[name] = ""
		}
	}
	var authorities struct{ Authorities []struct{ Package string } }
	if err := json.Unmarshal([]byte(read(t, "../../refdata/data/authorities.json")), &authorities); err != nil {
		t.Fatal(err)
	}
	for _, a := range authorities.Authorities {
		used[a.Package] = ""
	}
	compare(t, table(t, "Packages of Debian that the checks install"), used)
}
