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

// Data returns the files of the dataset: materials.json, constants.json, gases.json, version.json,
// CHANGELOG.md, authorities.json (programs that confirm cases), the check cases in cases/*.json, what a
// program must know to compute them in description/*.json and DESCRIPTION.md, and LICENSE.md.
func Data() fs.FS { return within("data") }

// CaseFiles returns the directory cases of [Data].
func CaseFiles() fs.FS { return within("data/cases") }

func within(dir string) fs.FS {
	sub, _ := fs.Sub(data, dir) // no error: the directories are part of the program
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
	return &units.FieldError{Package: "refdata", Field: field, Value: units.Clip(name), Want: units.Want{Text: want}, Class: class}
}

// Version returns the version of the dataset, such as "0.1.0". The first number changes with the
// format, the second when cases, materials or constants are added or taken back, and the third when
// only a value, a tolerance or a source is corrected. CHANGELOG.md of [Data] lists the changes of each, and the ids of
// cases that were taken back and are not used again, so that an id never stands for two different cases.
func Version() string { return version().Version }

var version = decoded[struct {
	Schema  string          `json:"schema"`
	Version string          `json:"version"`
	Retired json.RawMessage `json:"retired"`
	Changes json.RawMessage `json:"changes"`
}]("version.json")

// Authority is a program of others that confirms check cases. Its script runs it on every case of
// the computations it confirms. The script fails if a result disagrees, if a case is left out, and
// if the package is missing or has another version.
type Authority struct {
	Name     string   `json:"name"`
	Version  string   `json:"version"`  // as the program gives it
	Package  string   `json:"package"`  // the Debian package that it was installed from
	Script   string   `json:"script"`   // in testdata/authorities
	Confirms []string `json:"confirms"` // computations, such as "units.convert"
	How      string   `json:"how"`      // what is compared, and to how many digits
}

// Authorities returns every authority of the dataset, in its order. The result is a copy.
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
