package refdata_test

import (
	"bytes"
	"flag"
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// write is what go generate sets, and .ci/generate through it.
var write = flag.Bool("write", false, "write generated files instead of failing where one is stale")

// current holds a generated file against what it should be, or writes it.
func current(t *testing.T, file string, want []byte, renew bool) {
	t.Helper()
	got, err := os.ReadFile(file)
	switch {
	case err == nil && bytes.Equal(got, want):
	case *write || renew:
		require.NoError(t, os.WriteFile(file, want, 0o644))
	default:
		t.Errorf("refdata/%s is stale: run .ci/generate", file)
	}
}

// Every file of the dataset is in canonical form.
func TestFilesAreCanonical(t *testing.T) {
	for _, dir := range []string{"data", "schema"} {
		files := 0
		require.NoError(t, fs.WalkDir(os.DirFS("."), dir, func(file string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || path.Ext(file) == ".md" || path.Ext(file) == ".go" {
				return err
			}
			if path.Ext(file) != ".json" {
				t.Errorf("%s is no JSON", file)
			}
			files++
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			want, err := format(text)
			require.NoError(t, err, file)
			current(t, file, want, false)
			return nil
		}))
		if files < 4 {
			t.Errorf("%s has %d files", dir, files)
		}
	}
}

// The schemas of jobs and records follow from the types of package sag, the list
// of computations in that of cases from the evaluator.
func TestSchemasAreCurrent(t *testing.T) {
	for file, text := range formSchemas() {
		want, err := format(text)
		require.NoError(t, err)
		current(t, "schema/"+file, want, false)
	}
	const cases = "schema/cases.schema.json"
	text, err := os.ReadFile(cases)
	require.NoError(t, err)
	enum := regexp.MustCompile(`("computes": \{\s*"enum": )\[[^]]*\]`)
	require.Len(t, enum.FindAll(text, -1), 1)
	names := `["` + strings.Join(evaluate.Computations(), `", "`) + `"]`
	current(t, cases, enum.ReplaceAll(text, []byte("${1}"+names)), false)
	require.ElementsMatch(t, evaluate.Computations(), refdata.Computations())
}
