package refdata_test

import (
	"io/fs"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"github.com/stretchr/testify/require"
)

// What the loader lets pass for others' files, ours must not lack.
func TestEmbeddedCasesAreComplete(t *testing.T) {
	require.NoError(t, refdata.Each(refdata.CaseFiles(), func(c refdata.Case) error {
		fault := func(text string) { t.Errorf("%s: case %s: %s", c.File, c.ID, text) }
		if c.Subject == "" {
			fault("the file has no subject")
		}
		if c.Standing == refdata.Computed && c.Source.Title == "" {
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
		"materials.json": refdata.Data(), "constants.json": refdata.Data(), "gases.json": refdata.Data(), "authorities.json": refdata.Data(), "version.json": refdata.Data(), "cases/units.json": refdata.Data(), "units.json": refdata.CaseFiles(),
		"cases.schema.json": refdata.Schema(), "materials.schema.json": refdata.Schema(), "constants.schema.json": refdata.Schema(), "gases.schema.json": refdata.Schema(), "authorities.schema.json": refdata.Schema(), "version.schema.json": refdata.Schema(),
	} {
		info, err := fs.Stat(fsys, name)
		require.NoError(t, err)
		if info.Size() < 100 {
			t.Errorf("%s has %d bytes", name, info.Size())
		}
	}
	if _, err := fs.ReadDir(refdata.Data(), "data"); err == nil {
		t.Error("Data is not rooted in the data directory")
	}
}
