package refdata

import (
	"embed"
	"encoding/json"
	"io/fs"
	"slices"
	"sync"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

//go:embed data
var data embed.FS

//go:embed schema
var schema embed.FS

// Data is the reference dataset: materials.json, constants.json, gases.json, version.json,
// CHANGELOG.md, authorities.json (programs that confirm cases), and the check cases in
// cases/*.json.
func Data() fs.FS { return within(data, "data") }

// CaseFiles is the directory of the check cases within [Data].
func CaseFiles() fs.FS { return within(data, "data/cases") }

// Schema holds the JSON Schemas (draft 2020-12) of the dataset's files: cases.schema.json,
// materials.schema.json, constants.schema.json, gases.schema.json, version.schema.json,
// authorities.schema.json; and of jobs and records, job-1.schema.json and record-1.schema.json.
func Schema() fs.FS { return within(schema, "schema") }

func within(fsys embed.FS, dir string) fs.FS {
	sub, _ := fs.Sub(fsys, dir) // no error: the directories are part of the program
	return sub
}

// decoded returns a function that decodes a file of the dataset at its first call.
func decoded[T any](name string) func() T {
	return sync.OnceValue(func() T {
		var file T
		text, err := data.ReadFile("data/" + name)
		if err == nil {
			err = strictjson.Unmarshal("refdata", text, &file)
		}
		if err != nil {
			panic(err) // the file is part of the program
		}
		return file
	})
}

// unknown returns the error for a name that is not in the dataset.
func unknown(field, name, want string) error {
	class := units.ErrUnknown
	if name == "" {
		class = units.ErrMissing
	}
	return &units.FieldError{Package: "refdata", Field: field, Value: units.Clip(name), Want: want, Class: class}
}

// Revision is what became different in one version of the dataset. A value that changed is never
// changed in silence: its id or name is among IDs.
type Revision struct {
	Version string   `json:"version"`
	IDs     []string `json:"ids"` // of cases; names of materials and constants
	Change  string   `json:"change"`
}

// Version returns the version of the dataset, that of data/version.json. The second number goes up
// where cases, materials or constants are added or taken back, the third where only a value, a
// tolerance or a source is put right, the first where the format changes.
func Version() string { return version().Version }

// Revisions lists what became different, the newest first. The slice is the caller's own.
// data/CHANGELOG.md says the same to a reader.
func Revisions() []Revision {
	list := slices.Clone(version().Changes)
	for i, r := range list {
		list[i].IDs = slices.Clone(r.IDs)
	}
	return list
}

// Retired lists the ids of cases that were taken back. No case is ever given one of these: who
// checks by id finds a value gone, not another in its place.
func Retired() []string { return slices.Clone(version().Retired) }

var version = decoded[struct {
	Schema  string     `json:"schema"`
	Version string     `json:"version"`
	Retired []string   `json:"retired"`
	Changes []Revision `json:"changes"`
}]("version.json")

// Authority is a program of others that check cases were compared with. Its script runs it on every
// case of the computations that it confirms, and fails where one disagrees or is left out, where
// the package is missing, and where the version is another.
type Authority struct {
	Name     string   `json:"name"`
	Version  string   `json:"version"`  // as the program gives it
	Package  string   `json:"package"`  // the Debian package that it was installed from
	Script   string   `json:"script"`   // in testdata/authorities
	Confirms []string `json:"confirms"` // computations, such as "units.convert"
	How      string   `json:"how"`      // what is compared, and to how many digits
}

// Authorities returns every authority of the dataset, in its order. The slice is the caller's own.
func Authorities() []Authority {
	list := slices.Clone(authorities().Authorities)
	for i := range list {
		list[i].Confirms = slices.Clone(list[i].Confirms)
	}
	return list
}

var authorities = decoded[struct {
	Schema      string      `json:"schema"`
	Authorities []Authority `json:"authorities"`
}]("authorities.json")

// Computations lists the names that a case's "computes" may have, in the order in which the schema
// of case files has them. The slice is the caller's own. Package evaluate runs them.
func Computations() []string { return slices.Clone(computations()) }

// computations reads the embedded schema at its first call.
var computations = sync.OnceValue(func() []string {
	var file struct {
		Defs struct {
			Case struct {
				Properties struct {
					Computes struct {
						Enum []string `json:"enum"`
					} `json:"computes"`
				} `json:"properties"`
			} `json:"case"`
		} `json:"$defs"`
	}
	text, err := schema.ReadFile("schema/cases.schema.json")
	if err != nil || json.Unmarshal(text, &file) != nil {
		return nil // the tests read the same file
	}
	return file.Defs.Case.Properties.Computes.Enum
})
