package refdata_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"github.com/stretchr/testify/require"
)

// Each authority has a script and each script an entry, and what it confirms are
// computations that have cases.
func TestAuthorities(t *testing.T) {
	list := refdata.Authorities()
	require.NotEmpty(t, list)
	scripts, err := filepath.Glob("testdata/authorities/*.*")
	require.NoError(t, err)
	expecting := map[string]int{}
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		if c.Error == nil {
			expecting[c.Computes]++
		}
	}
	var named []string
	for _, a := range list {
		named = append(named, filepath.Join("testdata", "authorities", a.Script))
		for _, computes := range a.Confirms {
			if expecting[computes] == 0 {
				t.Errorf("%s confirms %s, of which there is no case that expects an output", a.Name, computes)
			}
		}
		text, err := os.ReadFile(named[len(named)-1])
		if err != nil {
			t.Errorf("%s: %v", a.Name, err)
		}
		if !strings.Contains(string(text), a.Package) {
			t.Errorf("%s does not name the package %s that it needs", a.Script, a.Package)
		}
	}
	for _, script := range scripts {
		if !slices.Contains(named, script) {
			t.Errorf("%s has no entry in data/authorities.json", script)
		}
	}
}
