package refdata

import (
	"crypto/sha256"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// lock writes the file below: with "go test ./refdata -run TestLock -args -lock
// released" when the dataset is released in a new version, with "unreleased"
// before the first, where ids are held already and values are not.
var lock = flag.String("lock", "", "write "+lockFile+": released or unreleased")

const lockFile = "testdata/locked.txt"

// fingerprints are short hashes of all that a user of the dataset relies on,
// by the id of a case or the name of a material or constant.
func fingerprints(t *testing.T) map[string]string {
	t.Helper()
	prints := map[string]string{}
	add := func(id string, v any) {
		require.NotContains(t, prints, id)
		text, err := json.Marshal(v)
		require.NoError(t, err)
		prints[id] = fmt.Sprintf("%x", sha256.Sum256(text))[:16]
	}
	files, err := fs.Glob(CaseFiles(), "*.json")
	require.NoError(t, err)
	for _, name := range files {
		text, err := fs.ReadFile(CaseFiles(), name)
		require.NoError(t, err)
		var file struct {
			Groups []struct {
				Cases []map[string]json.RawMessage `json:"cases"`
			} `json:"groups"`
		}
		require.NoError(t, json.Unmarshal(text, &file))
		for _, g := range file.Groups {
			for _, c := range g.Cases {
				var id string
				require.NoError(t, json.Unmarshal(c["id"], &id))
				// What confirms a value may grow; the value and its tolerance may not.
				for _, other := range []string{"id", "second", "note"} {
					delete(c, other)
				}
				add(id, c)
			}
		}
	}
	for _, m := range Materials() {
		add(m.Name, m)
	}
	for _, c := range Constants() {
		add(c.Name, c)
	}
	for _, g := range Gases() {
		add("gas "+g.Name, g)
	}
	return prints
}

// unlogged says what is not as it was locked and should be logged: values that
// changed, ids that are gone, and ids that came back. Only changes of a version
// later than the locked one count, which the first line of the lock names;
// "unreleased" there permits changes of values, but not of ids.
func unlogged(locked string, prints map[string]string, file versionFile) []string {
	var faults []string
	head, body, _ := strings.Cut(locked, "\n")
	version, _, unreleased := strings.Cut(strings.TrimPrefix(head, "# "), " ")
	logged := map[string]bool{}
	for _, c := range file.Changes {
		if c.Version == version {
			break // the newest come first
		}
		for _, id := range c.IDs {
			logged[id] = true
		}
	}
	for line := range strings.Lines(body) {
		print, id, _ := strings.Cut(strings.TrimSpace(line), " ")
		now, there := prints[id]
		switch {
		case there && now == print, !there && slices.Contains(file.Retired, id):
		case !there:
			faults = append(faults, id+" is gone: put it among the retired ids of data/version.json")
		case !unreleased && !logged[id]:
			faults = append(faults, id+" changed: raise the version in data/version.json and in version.go, and name the id in a change there")
		}
	}
	for _, id := range file.Retired {
		if _, there := prints[id]; there {
			faults = append(faults, id+" is retired and can't be the id of a case")
		}
	}
	return faults
}

// No value changes without a line in the changelog, and no id is used again.
func TestLock(t *testing.T) {
	prints := fingerprints(t)
	file, err := readVersion()
	require.NoError(t, err)
	before, err := os.ReadFile(lockFile)
	require.NoError(t, err)
	for _, fault := range unlogged(string(before), prints, file) {
		t.Error(fault)
	}
	if *lock != "" && !t.Failed() {
		var b strings.Builder
		fmt.Fprintf(&b, "# %s", file.Version)
		if *lock != "released" {
			b.WriteString(" unreleased")
		}
		b.WriteByte('\n')
		for _, id := range slices.Sorted(maps.Keys(prints)) {
			fmt.Fprintf(&b, "%s %s\n", prints[id], id)
		}
		require.NoError(t, os.WriteFile(lockFile, []byte(b.String()), 0o644))
	}
	if n := strings.Count(string(before), "\n"); n < 1000 {
		t.Errorf("only %d lines are locked", n)
	}
}

func TestUnlogged(t *testing.T) {
	const locked = "# 0.1.0\naaaa a\nbbbb b\ncccc EN 10270-1 SH\n"
	file := func(retired []string, ids ...string) versionFile {
		return versionFile{Version: "0.2.0", Retired: retired, Changes: []Revision{{"0.2.0", ids, "new"}, {"0.1.0", []string{"b"}, "old"}}}
	}
	same := func(changes ...string) map[string]string {
		prints := map[string]string{"a": "aaaa", "b": "bbbb", "EN 10270-1 SH": "cccc"}
		for i := 0; i+1 < len(changes); i += 2 {
			if prints[changes[i]] = changes[i+1]; changes[i+1] == "" {
				delete(prints, changes[i])
			}
		}
		return prints
	}
	for _, row := range []struct {
		name   string
		locked string
		prints map[string]string
		file   versionFile
		want   string // in the only fault; "" for none
	}{
		{"as it was", locked, same(), file(nil), ""},
		{"a new one", locked, same("d", "dddd"), file(nil), ""},
		{"changed and logged", locked, same("b", "x"), file(nil, "b"), ""},
		{"changed, logged for an older version", locked, same("b", "x"), file(nil), "b changed: raise"},
		{"changed, another logged", locked, same("a", "x"), file(nil, "b"), "a changed: raise"},
		{"a material", locked, same("EN 10270-1 SH", "x"), file(nil, "a"), "EN 10270-1 SH changed"},
		{"gone", locked, same("a", ""), file(nil, "a"), "a is gone"},
		{"retired", locked, same("a", ""), file([]string{"a"}), ""},
		{"retired and used again", locked, same("a", "x"), file([]string{"a"}, "a"), "a is retired"},
		{"changed before a release", "# 0.2.0 unreleased\naaaa a\n", same("a", "x"), file(nil), ""},
		{"gone before a release", "# 0.2.0 unreleased\naaaa a\n", same("a", ""), file(nil), "a is gone"},
	} {
		got := unlogged(row.locked, row.prints, row.file)
		if row.want == "" && len(got) > 0 || row.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0], row.want)) {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// The constant, the file and the changelog are of one version.
func TestVersion(t *testing.T) {
	file, err := readVersion()
	require.NoError(t, err)
	if file.Version != DatasetVersion || Version() != DatasetVersion || len(file.Changes) == 0 || file.Changes[0].Version != DatasetVersion {
		t.Errorf("the constant says %s, the file %s, its newest change %v", DatasetVersion, file.Version, file.Changes)
	}
	prints := fingerprints(t)
	for _, c := range file.Changes {
		for _, id := range c.IDs {
			if _, ok := prints[id]; !ok && !slices.Contains(file.Retired, id) {
				t.Errorf("the change %q names %s, which never was", c.Change, id)
			}
		}
	}
	changelog, err := fs.ReadFile(Data(), "CHANGELOG.md")
	require.NoError(t, err)
	if string(changelog) != Changelog() {
		t.Error("data/CHANGELOG.md is not current: run go generate ./refdata")
	}
	for _, want := range []string{"## " + DatasetVersion, file.Changes[0].Change, "## Retired ids"} {
		if !strings.Contains(string(changelog), want) {
			t.Errorf("data/CHANGELOG.md lacks %q", want)
		}
	}
	if len(Revisions()) != len(file.Changes) || len(Retired()) != len(file.Retired) {
		t.Error("Revisions or Retired leave something out")
	}
}
