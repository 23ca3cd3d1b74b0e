package refdata

import (
	"embed"
	"io/fs"
	"sync"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

//go:embed data
var data embed.FS

//go:embed schema
var schema embed.FS

// Data is the reference dataset: materials.json, constants.json, gases.json,
// version.json, CHANGELOG.md, authorities.json (programs that confirm cases),
// and the check cases in cases/*.json.
func Data() fs.FS { return within(data, "data") }

// CaseFiles is the directory of the check cases within [Data].
func CaseFiles() fs.FS { return within(data, "data/cases") }

// Schema holds the JSON Schemas (draft 2020-12) of the dataset's files:
// cases.schema.json, materials.schema.json, constants.schema.json,
// gases.schema.json, version.schema.json, authorities.schema.json; and of jobs and
// records, job-1.schema.json and record-1.schema.json.
func Schema() fs.FS { return within(schema, "schema") }

// within can't fail: the directories are part of the program.
func within(fsys embed.FS, dir string) fs.FS {
	sub, err := fs.Sub(fsys, dir)
	if err != nil {
		return fsys
	}
	return sub
}

// decoded returns a function that decodes a file of the dataset at its first
// call.
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
	c := units.Checker{Package: "refdata"}
	c.Fail(field, name, want, class)
	return c.Err()
}
