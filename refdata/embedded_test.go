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
	"units.json":              81,
	"coils.json":              200,
	"spring-laws.json":        83,
	"spring-measure.json":     41,
	"air-gas.json":            153,
	"air-heat.json":           85,
	"air-laws.json":           132,
	"air-pump.json":           52,
	"air-weather.json":        55,
	"linkage-tables.json":     59,
	"linkage-mechanisms.json": 43,
	"linkage-drivetrain.json": 40,
	"linkage-refusals.json":   94,
	"linkage-wheels.json":     15,
	"sag.json":                166,
	"limits.json":             68,
	"certified.json":          2,
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
		"materials.json": Data(), "constants.json": Data(), "gases.json": Data(), "authorities.json": Data(), "version.json": Data(), "cases/units.json": Data(), "units.json": CaseFiles(),
		"cases.schema.json": Schema(), "materials.schema.json": Schema(), "constants.schema.json": Schema(), "gases.schema.json": Schema(), "authorities.schema.json": Schema(), "version.schema.json": Schema(),
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

// Every computation has eight cases that were computed independently, and
// refusals; all together there are enough of these.
func TestEveryComputationIsCovered(t *testing.T) {
	computed, refused, total := map[string]int{}, map[string]int{}, 0
	require.NoError(t, Each(CaseFiles(), func(c Case) error {
		switch {
		case c.Error != nil:
			refused[c.Computes]++
			total++
		case c.Standing == Computed:
			computed[c.Computes]++
		}
		return nil
	}))
	for _, name := range Computations() {
		if computed[name] < 8 || refused[name] < 5 {
			t.Errorf("%s: %d computed cases, want 8; %d refusals, want 5", name, computed[name], refused[name])
		}
	}
	if total < 400 {
		t.Errorf("%d refusals, want 400", total)
	}
}
