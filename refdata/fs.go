package refdata

import (
	"embed"
	"io/fs"
)

//go:embed data
var data embed.FS

//go:embed schema
var schema embed.FS

// Data is the reference dataset: materials.json, constants.json, gases.json,
// version.json, CHANGELOG.md, authorities.json (the programs that cases were held against),
// and the check cases in cases/*.json.
func Data() fs.FS { return within(data, "data") }

// CaseFiles is the directory of the check cases within [Data].
func CaseFiles() fs.FS { return within(data, "data/cases") }

// Schema holds the JSON Schemas (draft 2020-12) of the dataset's files:
// cases.schema.json, materials.schema.json, constants.schema.json,
// gases.schema.json, version.schema.json, authorities.schema.json; and of what
// package sag reads: job-1.schema.json, record-1.schema.json.
func Schema() fs.FS { return within(schema, "schema") }

// within can't fail: the directories are part of the program.
func within(fsys embed.FS, dir string) fs.FS {
	sub, err := fs.Sub(fsys, dir)
	if err != nil {
		return fsys
	}
	return sub
}
