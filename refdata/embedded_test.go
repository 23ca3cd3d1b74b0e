package refdata

import (
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
)

// counts is how many cases each file has. A case that is added or lost
// without a word here is a failure.
var counts = map[string]int{
	"units.json":          81,
	"coils.json":          200,
	"spring-laws.json":    83,
	"spring-measure.json": 41,
	"air-gas.json":        153,
	"air-heat.json":       85,
	"air-laws.json":       132,
	"air-pump.json":       52,
	"air-weather.json":    55,
	"linkage-tables.json": 59,
	"sag.json":            166,
	"limits.json":         68,
	"certified.json":      2,
}

func TestEmbeddedCases(t *testing.T) {
	got := map[string]int{}
	require.NoError(t, Each(CaseFiles(), func(c Case) error {
		got[c.File]++
		t.Run(c.ID, func(t *testing.T) {
			if o := Check(c); !o.Pass() {
				t.Error(o.Failure())
			}
		})
		return nil
	}))
	if diff := cmp.Diff(counts, got); diff != "" {
		t.Errorf("cases in each file (-asserted +found):\n%s", diff)
	}
}

// What the loader lets pass for others' files, ours must not lack.
func TestEmbeddedCasesAreComplete(t *testing.T) {
	require.NoError(t, Each(CaseFiles(), func(c Case) error {
		fault := func(text string) { t.Errorf("%s: case %s: %s", c.File, c.ID, text) }
		if c.Subject == "" {
			fault("the file has no subject")
		}
		if c.Standing == Computed && c.Source.Title == "" {
			fault("computed, but by what?")
		}
		if c.Expect != nil && c.Second == "" {
			fault(`second is missing; it may be "not confirmed"`)
		}
		for output, tolerance := range c.Tolerance {
			if _, ok := c.Expect[output]; !ok && output != "*" {
				fault("a tolerance for " + output + ", which is not expected")
			}
			if tolerance.Absolute == "" && tolerance.Relative > 0.05 {
				fault("a tolerance of more than 5 % for " + output)
			}
		}
		if strings.ContainsAny(c.ID, " /") {
			fault("an id has no spaces and slashes")
		}
		return nil
	}))
}

// The dataset has all its files, and none is empty.
func TestEmbeddedFiles(t *testing.T) {
	for name, fsys := range map[string]fs.FS{
		"materials.json": Data(), "constants.json": Data(), "version.json": Data(), "cases/units.json": Data(), "units.json": CaseFiles(),
		"cases.schema.json": Schema(), "materials.schema.json": Schema(), "constants.schema.json": Schema(), "version.schema.json": Schema(),
	} {
		info, err := fs.Stat(fsys, name)
		require.NoError(t, err)
		if info.Size() < 100 {
			t.Errorf("%s has %d bytes", name, info.Size())
		}
	}
	if _, err := fs.ReadDir(Data(), "data"); err == nil {
		t.Error("Data is not rooted in the data directory")
	}
}

// The table in the package documentation is the one that the cases give.
func TestCoverageTable(t *testing.T) {
	table, err := Coverage(CaseFiles())
	require.NoError(t, err)
	doc, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	want := "// # Coverage\n//\n//\t" + strings.ReplaceAll(strings.TrimSuffix(table, "\n"), "\n", "\n//\t") + "\n//\n"
	if !strings.Contains(string(doc), want) {
		t.Errorf("the coverage table in doc.go is not current: run go generate ./refdata; it should be\n%s", table)
	}
}

// Every computation has cases, and at least one of them is a refusal.
func TestEveryComputationIsCovered(t *testing.T) {
	right, refused := map[string]int{}, map[string]int{}
	require.NoError(t, Each(CaseFiles(), func(c Case) error {
		if c.Error != nil {
			refused[c.Computes]++
		} else {
			right[c.Computes]++
		}
		return nil
	}))
	for _, name := range Computations() {
		if right[name] == 0 || refused[name] == 0 {
			t.Errorf("%s: %d cases that expect an output, %d that expect a refusal", name, right[name], refused[name])
		}
	}
}
