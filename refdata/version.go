package refdata

import (
	"fmt"
	"strings"

	"example.com/wheelrate/units/strictjson"
)

// DatasetVersion is the version of the dataset that this package embeds, that
// of data/version.json. The second number goes up where cases, materials or
// constants are added or taken back, the third where only a value, a tolerance
// or a source is put right, the first where the format changes.
const DatasetVersion = "0.1.0"

// Revision is what became different in one version of the dataset. A value that
// changed is never changed in silence: its id or name is among IDs.
type Revision struct {
	Version string   `json:"version"`
	IDs     []string `json:"ids"` // of cases; names of materials and constants
	Change  string   `json:"change"`
}

// versionFile is data/version.json.
type versionFile struct {
	Schema  string     `json:"schema"`
	Version string     `json:"version"`
	Retired []string   `json:"retired"`
	Changes []Revision `json:"changes"`
}

// Version is the version of the dataset; see [DatasetVersion].
func Version() string { return DatasetVersion }

// Revisions lists what became different, the newest first. The slice is the
// caller's own. data/CHANGELOG.md says the same to a reader.
func Revisions() []Revision {
	file, err := readVersion()
	if err != nil {
		return nil
	}
	return file.Changes
}

// Retired lists the ids of cases that were taken back. No case is ever given
// one of these: who checks by id finds a value gone, not another in its place.
func Retired() []string {
	file, err := readVersion()
	if err != nil {
		return nil
	}
	return file.Retired
}

// Changelog is the text of data/CHANGELOG.md, made of [Revisions] and [Retired].
func Changelog() string {
	var b strings.Builder
	b.WriteString("# Changes of the dataset\n\nMade of version.json by go generate.\n")
	version := ""
	for _, c := range Revisions() {
		if c.Version != version {
			version = c.Version
			fmt.Fprintf(&b, "\n## %s\n\n", version)
		}
		b.WriteString("- " + c.Change)
		if len(c.IDs) > 0 {
			b.WriteString(" (" + strings.Join(c.IDs, ", ") + ")")
		}
		b.WriteByte('\n')
	}
	b.WriteString("\n## Retired ids\n\n")
	if retired := Retired(); len(retired) > 0 {
		b.WriteString(strings.Join(retired, ", ") + "\n")
	} else {
		b.WriteString("None.\n")
	}
	return b.String()
}

// readVersion reads the embedded file, which the tests hold to be right.
func readVersion() (versionFile, error) {
	var file versionFile
	text, err := data.ReadFile("data/version.json")
	if err == nil {
		err = strictjson.Unmarshal("refdata", text, &file)
	}
	return file, err
}
