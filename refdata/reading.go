package refdata

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"path"
	"slices"
	"strings"
	"unicode"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Limits of a case file. They are far above what a case needs, and bound the time that reading
// takes.
const (
	FileLimit = 64 << 20 // bytes of a file
	CaseLimit = 1 << 20  // bytes of a case

	maxID    = 200 // bytes; the ids of all files are kept
	maxNames = 200 // in each of expect, error and tolerance
)

// FileError is an error in a case file. It names the file and the case, if the fault is in one, and
// wraps a [*units.FieldError] for each bad field.
type FileError struct {
	File string
	ID   string // of the case; "" where the fault is outside a case, or its id is
	Err  error
}

// Error returns a line for each fault, such as
//
//	coil.json: case "coil-0001": refdata: groups[0].cases[3].computes "spring.coal": want …
//
// An id is cut at 64 bytes. Of very many faults the first are listed and the others counted.
func (e *FileError) Error() string {
	where := e.File + ": "
	if e.ID != "" {
		where += fmt.Sprintf("case %.64q: ", e.ID)
	}
	return where + strings.ReplaceAll(e.Err.Error(), "\n", "\n"+where)
}

// Unwrap returns the error without the file and the case, for errors.Is and [units.Fields].
func (e *FileError) Unwrap() error { return e.Err }

// Cases returns an iterator over the cases of every file of fsys whose name ends in .json, in
// alphabetical order. It holds the text of one file at a time, and the ids of all. An error comes
// with the zero Case and is the last pair of the sequence.
//
// A file is refused as a whole if it is no JSON, has an unknown field or a field twice, or is
// longer than [FileLimit]. Otherwise its cases come up to the first bad one, which ends the
// sequence. A case is bad if its id is used already or has more than 200 bytes, if its computation
// is unknown, if it is longer than [CaseLimit], or if it expects more than 200 outputs. A group
// without a case and a file system without a case file are errors too. The error is a [*FileError].
func Cases(fsys fs.FS) iter.Seq2[Case, error] {
	return func(yield func(Case, error) bool) {
		ids := make(map[string]bool)
		files := 0
		err := fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
			if err != nil {
				return &FileError{File: name, Err: err}
			}
			if entry.IsDir() || path.Ext(name) != ".json" {
				return nil
			}
			files++
			f, err := fsys.Open(name)
			if err != nil {
				return &FileError{File: name, Err: err}
			}
			defer f.Close()
			return read(name, f, ids, yield)
		})
		if err == nil && files == 0 {
			err = &FileError{File: ".", Err: &units.FieldError{Package: "refdata", Field: "cases", Want: units.Want{Text: "a file named *.json"}, Class: units.ErrMissing}}
		}
		if err != nil {
			yield(Case{}, err)
		}
	}
}

// CasesFrom is [Cases] for one file, read from r as the sequence is, once. Name is the file name in
// cases and errors.
func CasesFrom(name string, r io.Reader) iter.Seq2[Case, error] {
	return func(yield func(Case, error) bool) {
		if err := read(name, r, make(map[string]bool), yield); err != nil && err != fs.SkipAll {
			yield(Case{}, err)
		}
	}
}

// read yields the cases of one file. Ids are those of the files before it. It returns [fs.SkipAll] where
// yield wants no more.
func read(name string, r io.Reader, ids map[string]bool, yield func(Case, error) bool) error {
	var file struct {
		Schema  string `json:"schema"`
		Subject string `json:"subject"`
		Groups  []struct {
			Source   Source            `json:"source"`
			Standing Standing          `json:"standing"`
			Cases    []json.RawMessage `json:"cases"`
		} `json:"groups"`
	}
	if err := strictjson.Decode("refdata", r, FileLimit, &file); err != nil {
		return &FileError{File: name, Err: err}
	}
	c := units.Checker{Package: "refdata"}
	if file.Schema != SchemaName {
		c.Fail("schema", file.Schema, units.OneOf(SchemaName), units.ErrUnknown)
	}
	if len(file.Groups) == 0 {
		c.Fail("groups", nil, "at least one group of cases", units.ErrMissing)
	}
	for i, g := range file.Groups {
		group := c.Element("groups", i)
		g.Source.Check(&group, g.Standing)
		if len(g.Cases) == 0 {
			group.Fail("cases", nil, "at least one case", units.ErrMissing)
		}
	}
	if err := c.Err(); err != nil {
		return &FileError{File: name, Err: err}
	}
	for i, g := range file.Groups {
		group := c.Element("groups", i)
		for j, text := range g.Cases {
			one := group.Element("cases", j)
			this := readCase(&one, text)
			if ids[this.ID] && !one.Bad("id") {
				one.Fail("id", this.ID, "an id that no other case has", units.ErrConflict)
			}
			if err := c.Err(); err != nil {
				return &FileError{File: name, ID: this.ID, Err: err}
			}
			ids[this.ID] = true
			this.File, this.Subject, this.Source, this.Standing = name, file.Subject, g.Source, g.Standing
			if !yield(this, nil) {
				return fs.SkipAll
			}
		}
	}
	return nil
}

// readCase reads one case and records all that is wrong with it.
func readCase(c *units.Checker, text []byte) Case {
	var in struct {
		Case
		Expect map[string]expected `json:"expect"`
	}
	if len(text) > CaseLimit {
		c.Fail("", len(text), units.AtMost(CaseLimit).Count("bytes"), units.ErrRange)
		return Case{}
	}
	c.Add("", strictjson.Unmarshal("refdata", text, &in))
	// fail records a fault of a field that could be read.
	fail := func(field string, value any, want any, class *units.Class) {
		if !c.Bad(field) {
			c.Fail(field, value, want, class)
		}
	}
	switch {
	case in.ID == "":
		fail("id", nil, "a name that no other case has", units.ErrMissing)
	case len(in.ID) > maxID:
		fail("id", in.ID, fmt.Sprintf("a name of at most %d bytes", maxID), units.ErrRange)
	case strings.ContainsFunc(in.ID, unicode.IsControl):
		fail("id", in.ID, "a name without control characters", units.ErrSyntax)
	}
	if described().computations[in.Computes].Outputs == nil {
		fail("computes", in.Computes, units.OneOf(described().names...), units.ErrUnknown)
	}
	if given := bytes.TrimSpace(in.Given); len(given) == 0 || given[0] != '{' {
		fail("given", nil, "an object", units.ErrMissing)
	}
	switch {
	case len(in.Expect) == 0 && len(in.Error) == 0 && !c.Bad("error"):
		fail("expect", nil, "at least one output here, or one name in error", units.ErrMissing)
	case in.Expect != nil && in.Error != nil:
		fail("error", nil, "either this or expect", units.ErrConflict)
	}
	for _, list := range []struct {
		field string
		n     int
	}{{"expect", len(in.Expect)}, {"error", len(in.Error)}, {"tolerance", len(in.Tolerance)}} {
		if list.n > maxNames {
			fail(list.field, list.n, units.AtMost(maxNames).Count("names"), units.ErrRange)
		}
	}
	for i, name := range in.Error[:min(len(in.Error), maxNames)] {
		if name == "" || slices.Contains(in.Error[:i], name) || strings.ContainsFunc(name, unicode.IsControl) {
			fail("error", name, "names of fields, each once", units.ErrConflict)
		}
	}
	if in.Expect != nil {
		in.Case.Expect = make(map[string]any, len(in.Expect))
	}
	for name, e := range in.Expect {
		in.Case.Expect[name] = e.value
	}
	return in.Case
}
