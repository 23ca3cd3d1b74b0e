package refdata

import "slices"

// Revision is what became different in one version of the dataset. A value that
// changed is never changed in silence: its id or name is among IDs.
type Revision struct {
	Version string   `json:"version"`
	IDs     []string `json:"ids"` // of cases; names of materials and constants
	Change  string   `json:"change"`
}

// Version returns the version of the dataset, that of data/version.json. The
// second number goes up where cases, materials or constants are added or taken
// back, the third where only a value, a tolerance or a source is put right, the
// first where the format changes.
func Version() string { return version().Version }

// Revisions lists what became different, the newest first. The slice is the
// caller's own. data/CHANGELOG.md says the same to a reader.
func Revisions() []Revision {
	list := slices.Clone(version().Changes)
	for i := range list {
		list[i].IDs = slices.Clone(list[i].IDs)
	}
	return list
}

// Retired lists the ids of cases that were taken back. No case is ever given
// one of these: who checks by id finds a value gone, not another in its place.
func Retired() []string { return slices.Clone(version().Retired) }

var version = decoded[struct {
	Schema  string     `json:"schema"`
	Version string     `json:"version"`
	Retired []string   `json:"retired"`
	Changes []Revision `json:"changes"`
}]("version.json")
