package refdata

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// FileError says what is wrong with a case file. It names the file, the case
// where there is one, and wraps a [*units.FieldError] for each bad field.
type FileError struct {
	File string
	ID   string // of the case; "" where the fault is outside a case, or its id is
	Err  error
}

// Error gives one line for each fault, such as
//
//	coil.json: case "coil-0001": refdata: groups[0].cases[3].computes "spring.coal": want …
//
// An id is cut at 64 bytes, and of very many faults the last are not told.
func (e *FileError) Error() string {
	where := e.File + ": "
	if e.ID != "" {
		where += fmt.Sprintf("case %q: ", clipped(e.ID))
	}
	return where + strings.ReplaceAll(e.Err.Error(), "\n", "\n"+where)
}

// clipped cuts a text that came from the input, for an error.
func clipped(text string) string {
	const most = 64
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

// member is the path of an object's field, its name in quotes where it could be
// misread.
func member(at, name string) string {
	odd := func(r rune) bool { return !unicode.IsGraphic(r) || strings.ContainsRune(" .[]\"\\", r) }
	switch {
	case name == "" || clipped(name) != name || strings.ContainsFunc(name, odd):
		return at + "[" + strconv.Quote(clipped(name)) + "]"
	case at == "":
		return name
	}
	return at + "." + name
}

// Unwrap returns what is wrong, for errors.Is and [units.Fields].
func (e *FileError) Unwrap() error { return e.Err }

// Each reads every file of fsys whose name ends in .json, in alphabetical
// order, and hands their cases to yield one at a time, so that memory does not
// grow with their number but for the ids. (The cases of a group whose source
// or standing does not stand before them are kept until the group's end.) An
// error of yield ends the reading and is returned as it is.
//
// It is strict: a field that is not known or comes twice, an id that came before
// or has more than 200 bytes, a value of more than 1 MiB, more than 200 names in
// what a case expects, a computation that is not known, an empty file and a file
// system without a case are all a [*FileError], which ends the reading.
func Each(fsys fs.FS, yield func(Case) error) error {
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
		return eachFrom(name, f, ids, yield)
	})
	if err == nil && files == 0 {
		return &FileError{File: ".", Err: &units.FieldError{Package: "refdata", Field: "cases", Want: "a file named *.json", Class: units.ErrMissing}}
	}
	return err
}

// EachFrom is [Each] for one file, read from r. The name stands in the cases
// and in errors.
func EachFrom(name string, r io.Reader, yield func(Case) error) error {
	return eachFrom(name, r, make(map[string]bool), yield)
}

// Load returns every case of fsys at once; see [Each].
func Load(fsys fs.FS) ([]Case, error) {
	var list []Case
	err := Each(fsys, func(c Case) error {
		list = append(list, c)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return list, nil
}

func eachFrom(name string, r io.Reader, ids map[string]bool, yield func(Case) error) error {
	limited := &limitedReader{r: r}
	f := &fileReader{name: name, input: limited, json: json.NewDecoder(limited), ids: ids, yield: yield}
	return f.read()
}

// limitedReader ends the reading of a single JSON value that is too long.
type limitedReader struct {
	r           io.Reader
	read, until int64
	err         error // for the next Read
}

var errTooLong = fmt.Errorf("a single value is longer than %d bytes", CaseLimit)

// Read fills p as far as there is text: the decoder goes over its white space
// again with every Read, which would take time without end of a reader that
// hands out a byte at a time.
func (l *limitedReader) Read(p []byte) (int, error) {
	if l.read > l.until {
		return 0, errTooLong
	}
	n := 0
	for n < len(p) && l.err == nil {
		var more int
		more, l.err = l.r.Read(p[n:])
		n += more
	}
	l.read += int64(n)
	if n > 0 {
		return n, nil
	}
	return 0, l.err
}

// fileReader reads one case file as a stream.
type fileReader struct {
	name  string
	input *limitedReader
	json  *json.Decoder
	ids   map[string]bool
	yield func(Case) error

	subject string
	count   int
	id      string // of the case at hand
	yielded error  // what yield returned
}

func (f *fileReader) read() error {
	var schema string
	seen, err := f.object("", func(field string) error {
		switch field {
		case "schema":
			return f.text(field, &schema)
		case "subject":
			return f.text(field, &f.subject)
		case "groups":
			return f.array(field, f.group)
		}
		return errUnknownField
	})
	if err == nil {
		c := units.Checker{Package: "refdata"}
		if schema != SchemaName {
			c.Fail("schema", schema, `"`+SchemaName+`"`, units.ErrUnknown)
		}
		if !seen["groups"] || f.count == 0 {
			c.Fail("groups", nil, "at least one case", units.ErrMissing)
		}
		if _, end := f.json.Token(); !errors.Is(end, io.EOF) {
			c.Fail("groups", nil, "nothing after the end of the file's object", units.ErrSyntax)
		}
		err = c.Err()
	}
	switch {
	case err == nil:
		return nil
	case f.yielded != nil:
		return f.yielded
	}
	return &FileError{File: f.name, ID: f.id, Err: err}
}

// group reads one group. Its cases are handed on as they are read once source
// and standing are known, and kept until the group's end otherwise.
func (f *fileReader) group(at string) error {
	var source Source
	var standing Standing
	var early []json.RawMessage
	seen := map[string]bool{}
	n := 0
	known := func() error {
		c := units.Checker{Package: "refdata"}
		source.check(&c, standing)
		return units.At(at, c.Err())
	}
	seen, err := f.objectSeen(at, seen, func(field string) error {
		switch field {
		case "source":
			data, err := f.raw(at + ".source")
			if err != nil {
				return err
			}
			return units.At(at+".source", strictjson.Unmarshal("refdata", data, &source))
		case "standing":
			return f.text(at+".standing", (*string)(&standing))
		case "cases":
			direct := seen["source"] && seen["standing"]
			if direct {
				if err := known(); err != nil {
					return err
				}
			}
			return f.array(at+".cases", func(at string) error {
				data, err := f.raw(at)
				n++
				switch {
				case err != nil:
					return err
				case direct:
					return f.one(at, data, source, standing)
				}
				early = append(early, data)
				return nil
			})
		}
		return errUnknownField
	})
	if err == nil {
		err = known()
	}
	if err == nil && n == 0 {
		err = f.fail(at+".cases", nil, "at least one case", units.ErrMissing)
	}
	for i, data := range early {
		if err == nil {
			err = f.one(fmt.Sprintf("%s.cases[%d]", at, i), data, source, standing)
		}
	}
	return err
}

// one reads a single case and hands it on.
func (f *fileReader) one(at string, data []byte, source Source, standing Standing) error {
	c, err := readCase(data)
	f.id = c.ID
	if err != nil {
		return units.At(at, err)
	}
	if f.ids[c.ID] {
		return f.fail(at+".id", c.ID, "an id that no other case has", units.ErrConflict)
	}
	f.ids[c.ID] = true
	c.File, c.Subject, c.Source, c.Standing = f.name, f.subject, source, standing
	f.count++
	if f.yielded = f.yield(c); f.yielded != nil {
		return f.yielded
	}
	f.id = ""
	return nil
}

var errUnknownField = errors.New("unknown field")

// object reads an object and hands each field's name to read, which must read
// its value. It returns the fields seen.
func (f *fileReader) object(at string, read func(field string) error) (map[string]bool, error) {
	return f.objectSeen(at, map[string]bool{}, read)
}

func (f *fileReader) objectSeen(at string, seen map[string]bool, read func(field string) error) (map[string]bool, error) {
	if err := f.open(at, '{', "an object"); err != nil {
		return seen, err
	}
	for f.more() {
		token, err := f.token(at)
		if err != nil {
			return seen, err
		}
		field, _ := token.(string)
		where := member(at, field)
		if seen[field] {
			return seen, f.fail(where, nil, "the field only once", units.ErrConflict)
		}
		if err := read(field); err != nil {
			if errors.Is(err, errUnknownField) {
				return seen, f.fail(where, nil, "no such field", units.ErrUnknown)
			}
			return seen, err
		}
		seen[field] = true
	}
	_, err := f.token(at)
	return seen, err
}

// array reads an array and hands each element's path to read, which must read
// the element.
func (f *fileReader) array(at string, read func(at string) error) error {
	if err := f.open(at, '[', "a list"); err != nil {
		return err
	}
	for i := 0; f.more(); i++ {
		if err := read(fmt.Sprintf("%s[%d]", at, i)); err != nil {
			return err
		}
	}
	_, err := f.token(at)
	return err
}

func (f *fileReader) open(at string, delim json.Delim, want string) error {
	token, err := f.token(at)
	if err == nil && token != delim {
		err = f.fail(orFile(at), nil, want, units.ErrSyntax)
	}
	return err
}

// text reads a string.
func (f *fileReader) text(at string, into *string) error {
	token, err := f.token(at)
	if err != nil {
		return err
	}
	s, ok := token.(string)
	if !ok {
		return f.fail(at, nil, "a string", units.ErrSyntax)
	}
	*into = s
	return nil
}

// raw reads any one value.
func (f *fileReader) raw(at string) (json.RawMessage, error) {
	f.mark()
	var data json.RawMessage
	err := f.json.Decode(&data)
	return data, f.broken(at, err)
}

func (f *fileReader) token(at string) (json.Token, error) {
	f.mark()
	token, err := f.json.Token()
	return token, f.broken(at, err)
}

func (f *fileReader) more() bool {
	f.mark()
	return f.json.More()
}

// mark lets the next value be CaseLimit bytes long.
func (f *fileReader) mark() { f.input.until = f.json.InputOffset() + CaseLimit }

// broken says that the text is no JSON, or can't be read.
func (f *fileReader) broken(at string, err error) error {
	if err == nil {
		return nil
	}
	reason := err.Error() // which may repeat what was read
	if len(reason) > 200 {
		reason = clipped(reason)
	}
	want := fmt.Sprintf("JSON (byte %d: %s)", f.json.InputOffset(), reason)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		want = "JSON (it ends too early)"
	}
	return f.fail(orFile(at), nil, want, units.ErrSyntax)
}

func orFile(at string) string {
	if at == "" {
		return "file"
	}
	return at
}

func (f *fileReader) fail(field string, value any, want string, class error) error {
	return &units.FieldError{Package: "refdata", Field: field, Value: value, Want: want, Class: class}
}

// CaseLimit is the most bytes of JSON that a case may have, or give: far more than
// any needs, and little enough that no case takes long.
const CaseLimit = 1 << 20

// What a case may hold: far more than any needs.
const (
	maxID      = 200 // bytes; all ids of a file are kept
	maxOutputs = 200 // names in each of expect, error and tolerance
)

// readCase reads one case and says all that is wrong with it.
func readCase(data []byte) (Case, error) {
	var in struct {
		ID        string                     `json:"id"`
		Computes  string                     `json:"computes"`
		Given     json.RawMessage            `json:"given"`
		Expect    map[string]json.RawMessage `json:"expect"`
		Error     []string                   `json:"error"`
		Tolerance map[string]json.RawMessage `json:"tolerance"`
		Second    string                     `json:"second"`
		Note      string                     `json:"note"`
	}
	decodeErr := strictjson.Unmarshal("refdata", data, &in)
	out := Case{ID: in.ID, Computes: in.Computes, Given: in.Given, Error: in.Error, Second: in.Second, Note: in.Note}
	if decodeErr != nil {
		return out, decodeErr
	}
	c := units.Checker{Package: "refdata"}
	switch {
	case in.ID == "":
		c.Fail("id", nil, "a name that no other case has", units.ErrMissing)
	case len(in.ID) > maxID:
		c.Fail("id", in.ID, fmt.Sprintf("a name of at most %d bytes", maxID), units.ErrRange)
	case strings.ContainsFunc(in.ID, unicode.IsControl):
		c.Fail("id", in.ID, "a name without control characters", units.ErrSyntax)
	}
	if !slices.Contains(computations(), in.Computes) {
		c.Fail("computes", in.Computes, "one of "+strings.Join(computations(), ", "), units.ErrUnknown)
	}
	if given := bytes.TrimSpace(in.Given); len(given) == 0 || given[0] != '{' {
		c.Fail("given", nil, "an object", units.ErrMissing)
	}
	switch {
	case len(in.Expect) == 0 && len(in.Error) == 0:
		c.Fail("expect", nil, "at least one output here, or one name in error", units.ErrMissing)
	case in.Expect != nil && in.Error != nil:
		c.Fail("error", nil, "either this or expect", units.ErrConflict)
	}
	many := false
	for _, list := range []struct {
		field string
		n     int
	}{{"expect", len(in.Expect)}, {"error", len(in.Error)}, {"tolerance", len(in.Tolerance)}} {
		if list.n > maxOutputs {
			c.Fail(list.field, list.n, fmt.Sprintf("at most %d names", maxOutputs), units.ErrRange)
			many = true
		}
	}
	if many {
		return out, c.Err()
	}
	if in.Expect != nil {
		out.Expect = make(map[string]any, len(in.Expect))
	}
	for _, name := range sortedKeys(in.Expect) {
		v, ok := readExpected(in.Expect[name])
		if !ok {
			c.Fail(member("expect", name), nil, "a quantity in a string, a number, or a list of these", units.ErrSyntax)
		}
		out.Expect[name] = v
	}
	for i, name := range in.Error {
		if name == "" || slices.Contains(in.Error[:i], name) || strings.ContainsFunc(name, unicode.IsControl) {
			c.Fail("error", name, "names of fields, each once", units.ErrConflict)
		}
	}
	if in.Tolerance != nil {
		out.Tolerance = make(map[string]CaseTolerance, len(in.Tolerance))
	}
	for _, name := range sortedKeys(in.Tolerance) {
		t, ok := readTolerance(in.Tolerance[name])
		if !ok {
			c.Fail(member("tolerance", name), nil, "a number or a quantity in a string, 0 or more", units.ErrSyntax)
		}
		out.Tolerance[name] = t
	}
	return out, c.Err()
}

// readExpected reads a string, a number, or a list of these.
func readExpected(data []byte) (any, bool) {
	var v any
	if json.Unmarshal(data, &v) != nil {
		return nil, false
	}
	return v, isExpected(v)
}

func isExpected(v any) bool {
	switch v := v.(type) {
	case string:
		return true
	case float64:
		return !math.IsInf(v, 0) && !math.IsNaN(v)
	case []any:
		return !slices.ContainsFunc(v, func(e any) bool { return !isExpected(e) })
	}
	return false
}

func sortedKeys[V any](m map[string]V) []string {
	names := make([]string, 0, len(m))
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
