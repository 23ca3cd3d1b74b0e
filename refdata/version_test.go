package refdata_test

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

	"example.com/wheelrate/refdata"
	"github.com/stretchr/testify/require"
)

// lock writes testdata/locked.txt for a release of the dataset. Before the first,
// ids are locked already and values are not; -write renews the list then.
var lock = flag.String("lock", "", `"released" writes the list of hashes for a release`)

// revision is a change of the dataset in one version, with the ids whose value changed.
type revision struct {
	Version string   `json:"version"`
	IDs     []string `json:"ids"`
	Change  string   `json:"change"`
}

// versions returns the changes, the newest first, and the retired ids.
func versions(t *testing.T) (revisions []revision, retired []string) {
	t.Helper()
	text, err := fs.ReadFile(refdata.Data(), "version.json")
	require.NoError(t, err)
	var file struct {
		Retired []string   `json:"retired"`
		Changes []revision `json:"changes"`
	}
	require.NoError(t, json.Unmarshal(text, &file))
	return file.Changes, file.Retired
}

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
	files, err := fs.Glob(refdata.CaseFiles(), "*.json")
	require.NoError(t, err)
	for _, name := range files {
		text, err := fs.ReadFile(refdata.CaseFiles(), name)
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
	for _, m := range refdata.Materials() {
		add(m.Name, m)
	}
	for _, c := range refdata.Constants() {
		add(c.Name, c)
	}
	for _, g := range refdata.Gases() {
		add("gas "+g.Name, g)
	}
	return prints
}

// unlogged lists what is neither as it was locked nor logged: values that changed,
// ids that are gone, and retired ids that are in use. Only revisions of a version
// later than the locked one count, which the first line of the lock names;
// "unreleased" there permits changes of values, but not of ids.
func unlogged(locked string, prints map[string]string, retired []string, revisions []revision) []string {
	var faults []string
	head, body, _ := strings.Cut(locked, "\n")
	version, _, unreleased := strings.Cut(strings.TrimPrefix(head, "# "), " ")
	logged := map[string]bool{}
	for _, r := range revisions {
		if r.Version == version {
			break // the newest come first
		}
		for _, id := range r.IDs {
			logged[id] = true
		}
	}
	for line := range strings.Lines(body) {
		print, id, _ := strings.Cut(strings.TrimSpace(line), " ")
		now, there := prints[id]
		switch {
		case there && now == print, !there && slices.Contains(retired, id):
		case !there:
			faults = append(faults, id+" is gone: put it among the retired ids of data/version.json")
		case !unreleased && !logged[id]:
			faults = append(faults, id+" changed: raise the version in data/version.json and name the id in a change there")
		}
	}
	for _, id := range retired {
		if _, there := prints[id]; there {
			faults = append(faults, id+" is retired and can't be the id of a case")
		}
	}
	return faults
}

// No value changes without a line in the changelog, and no id is used again. The
// list itself is current until the first release.
func TestLock(t *testing.T) {
	const file = "testdata/locked.txt"
	prints := fingerprints(t)
	revisions, retired := versions(t)
	before, err := os.ReadFile(file)
	require.NoError(t, err)
	for _, fault := range unlogged(string(before), prints, retired, revisions) {
		t.Error(fault)
	}
	if t.Failed() {
		return
	}
	head := "# " + refdata.Version()
	released := !strings.HasSuffix(strings.SplitN(string(before), "\n", 2)[0], " unreleased")
	switch {
	case *lock == "released":
	case released:
		return // new cases are locked by the next release
	default:
		head += " unreleased"
	}
	var b strings.Builder
	fmt.Fprintln(&b, head)
	for _, id := range slices.Sorted(maps.Keys(prints)) {
		fmt.Fprintf(&b, "%s %s\n", prints[id], id)
	}
	current(t, file, []byte(b.String()), *lock == "released")
}

func TestUnloggedChangesAreFound(t *testing.T) {
	const locked = "# 0.1.0\naaaa a\nbbbb b\ncccc EN 10270-1 SH\n"
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
		name    string
		locked  string
		prints  map[string]string
		retired []string
		ids     []string // that a revision after 0.1.0 names
		want    string   // in the only fault; "" for none
	}{
		{"as it was", locked, same(), nil, nil, ""},
		{"a new one", locked, same("d", "dddd"), nil, nil, ""},
		{"changed and logged", locked, same("b", "x"), nil, []string{"b"}, ""},
		{"changed, logged for an older version", locked, same("b", "x"), nil, nil, "b changed: raise"},
		{"changed, another logged", locked, same("a", "x"), nil, []string{"b"}, "a changed: raise"},
		{"a material", locked, same("EN 10270-1 SH", "x"), nil, []string{"a"}, "EN 10270-1 SH changed"},
		{"gone", locked, same("a", ""), nil, []string{"a"}, "a is gone"},
		{"retired", locked, same("a", ""), []string{"a"}, nil, ""},
		{"retired and used again", locked, same("a", "x"), []string{"a"}, []string{"a"}, "a is retired"},
		{"changed before a release", "# 0.2.0 unreleased\naaaa a\n", same("a", "x"), nil, nil, ""},
		{"gone before a release", "# 0.2.0 unreleased\naaaa a\n", same("a", ""), nil, nil, "a is gone"},
	} {
		revisions := []revision{{Version: "0.2.0", IDs: row.ids, Change: "new"}, {Version: "0.1.0", IDs: []string{"b"}, Change: "old"}}
		got := unlogged(row.locked, row.prints, row.retired, revisions)
		if row.want == "" && len(got) > 0 || row.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0], row.want)) {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// The newest revision is of the dataset's version, and every id that one names is
// known.
func TestRevisionsNameKnownIDs(t *testing.T) {
	revisions, retired := versions(t)
	require.NotEmpty(t, revisions)
	if v := refdata.Version(); revisions[0].Version != v || len(strings.Split(v, ".")) != 3 {
		t.Errorf("the version is %s, that of the newest revision %s", v, revisions[0].Version)
	}
	prints := fingerprints(t)
	for _, r := range revisions {
		for _, id := range r.IDs {
			if _, ok := prints[id]; !ok && !slices.Contains(retired, id) {
				t.Errorf("the revision %q names %s, which never was", r.Change, id)
			}
		}
	}
}

// data/CHANGELOG.md says what version.json says.
func TestChangelog(t *testing.T) {
	var b strings.Builder
	b.WriteString("# Changes of the dataset\n\nMade of version.json by go generate.\n")
	version := ""
	revisions, ids := versions(t)
	for _, r := range revisions {
		if r.Version != version {
			version = r.Version
			fmt.Fprintf(&b, "\n## %s\n\n", version)
		}
		b.WriteString("- " + r.Change)
		if len(r.IDs) > 0 {
			b.WriteString(" (" + strings.Join(r.IDs, ", ") + ")")
		}
		b.WriteByte('\n')
	}
	retired := "None."
	if len(ids) > 0 {
		retired = strings.Join(ids, ", ")
	}
	b.WriteString("\n## Retired ids\n\n" + retired + "\n")
	current(t, "data/CHANGELOG.md", []byte(b.String()), false)
}
