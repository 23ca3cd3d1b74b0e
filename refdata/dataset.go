package refdata

import (
	"embed"
	"encoding/json"
	"io/fs"
	"reflect"
	"slices"
	"strings"
	"sync"
	"unicode"

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

// parse decodes a file of the dataset, or a part of one.
func parse[T any](text []byte, err error) (v T) {
	if err == nil {
		err = strictjson.Unmarshal("refdata", text, &v)
	}
	if err != nil {
		panic(err) // the files are part of the program
	}
	return v
}

// field returns a function that decodes the field of that name in a file at its first call.
func field[T any](file, name string) func() T {
	return sync.OnceValue(func() T {
		fields := parse[map[string]json.RawMessage](data.ReadFile("data/" + file))
		return parse[T](fields[name], nil)
	})
}

// clone returns a copy of a part of the dataset with no memory in common.
func clone[T any](part T) T {
	separate(reflect.ValueOf(&part).Elem())
	return part
}

// separate replaces what v points to by copies.
func separate(v reflect.Value) {
	if v.IsZero() {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		own := reflect.New(v.Type().Elem())
		own.Elem().Set(v.Elem())
		v.Set(own)
		separate(v.Elem())
	case reflect.Slice:
		v.Set(reflect.AppendSlice(reflect.MakeSlice(v.Type(), 0, v.Len()), v))
		for i := range v.Len() {
			separate(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			separate(v.Field(i))
		}
	}
}

// named returns a copy of the element of a list that has a name, in any case and punctuation, or an error in
// the field.
func named[T any](list []T, names func(T) []string, field, name string) (none T, err error) {
	wanted := plainName(name)
	var all []string
	for _, one := range list {
		if wanted != "" && slices.ContainsFunc(names(one), func(n string) bool { return plainName(n) == wanted }) {
			return clone(one), nil
		}
		all = append(all, names(one)[0])
	}
	class := units.ErrUnknown
	if name == "" {
		class = units.ErrMissing
	}
	return none, &units.FieldError{Package: "refdata", Field: field, Value: units.Clip(name), Want: units.OneOf(all...), Class: class}
}

// plainName keeps the letters and digits of a name, in lower case.
func plainName(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
}

// Version returns the version of the dataset, such as "0.1.0". The first number changes with the
// format, the second when cases, materials or constants are added or taken back, and the third when
// only a value, a tolerance or a source is corrected. CHANGELOG.md of [Data] lists the changes of each, and the ids of
// cases that were taken back and are not used again, so that an id never stands for two different cases.
func Version() string { return version() }

var version = field[string]("version.json", "version")

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
func Authorities() []Authority { return clone(authorities()) }

var authorities = field[[]Authority]("authorities.json", "authorities")
