package refdata_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"strings"
	"testing"
	"testing/fstest"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// file wraps groups into a case file, and group wraps cases into one.
func file(groups string) string {
	return `{"schema":"wheelrate/cases/1","subject":"test","groups":[` + groups + `]}`
}

func group(cases string) string { return `{"standing":"common practice","cases":[` + cases + `]}` }

func aCase(id string) string {
	return `{"id":"` + id + `","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25.4 mm"}}`
}

func TestCasesReadsEveryField(t *testing.T) {
	text := file(`{"source":{"title":"T","edition":"3rd","year":1999,"where":"p. 4","url":"u"},"standing":"published","cases":[
		{"id":"a","computes":"units.convert","given":{"kind":"length","value":"1 in"},
		 "expect":{"value":"25.4 mm","list":[1,["2 mm"],-3.5]},"tolerance":{"*":1e-12,"value":"0.05 mm","list":"0.5"},"second":"s","note":"n"},
		{"id":"b","computes":"units.convert","given":{},"error":["kind","value"]}]}`)
	var got []refdata.Case
	for c, err := range refdata.CasesFrom("f.json", strings.NewReader(text)) {
		require.NoError(t, err)
		got = append(got, c)
	}
	source := refdata.Source{Title: "T", Edition: "3rd", Year: 1999, Where: "p. 4", URL: "u"}
	want := []refdata.Case{
		{File: "f.json", Subject: "test", Source: source, Standing: refdata.Published, ID: "a", Computes: "units.convert",
			Given:     []byte(`{"kind":"length","value":"1 in"}`),
			Expect:    map[string]any{"value": "25.4 mm", "list": []any{1.0, []any{"2 mm"}, -3.5}},
			Tolerance: map[string]refdata.CaseTolerance{"*": {Relative: 1e-12}, "value": {Absolute: "0.05 mm"}, "list": {Absolute: "0.5"}},
			Second:    "s", Note: "n"},
		{File: "f.json", Subject: "test", Source: source, Standing: refdata.Published, ID: "b", Computes: "units.convert",
			Given: []byte(`{}`), Error: []string{"kind", "value"}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("read (-want +got):\n%s", diff)
	}
	again, err := json.Marshal(got)
	require.NoError(t, err)
	again = []byte(file(`{"source":{"title":"T","edition":"3rd","year":1999,"where":"p. 4","url":"u"},"standing":"published","cases":` + string(again) + `}`))
	if list, err := collect(refdata.CasesFrom("f.json", bytes.NewReader(again))); err != nil || !cmp.Equal(want, list) {
		t.Errorf("written and read again: %v, %v", list, err)
	}
}

// The order of fields says nothing: cases may stand before their source, the
// schema at the end.
func TestFieldOrderIsFree(t *testing.T) {
	text := `{"groups":[{"cases":[` + aCase("a") + `],"standing":"published","source":{"title":"T","where":"W"}}],"schema":"wheelrate/cases/1"}`
	n := 0
	for c, err := range refdata.CasesFrom("f.json", strings.NewReader(text)) {
		require.NoError(t, err)
		n++
		if c.Source.Title != "T" || c.Standing != refdata.Published {
			t.Errorf("source %v, standing %q", c.Source, c.Standing)
		}
	}
	if n != 1 {
		t.Errorf("%d cases, want 1", n)
	}
}

// Every way of being malformed names the file, the field, and the case if the
// fault is in one. The schema refuses the same files.
func TestMalformedFiles(t *testing.T) {
	bad := func(fields string) string {
		return file(group(`{"id":"x","computes":"units.convert","given":{},` + fields + `}`))
	}
	tests := []struct {
		name, text, id string
		fields         []string
	}{
		{"empty", ``, "", []string{""}},
		{"no JSON", `cases`, "", []string{""}},
		{"a list", `[]`, "", []string{""}},
		{"null", `null`, "", []string{""}},
		{"empty object", `{}`, "", []string{"schema", "groups"}},
		{"no groups", file(``), "", []string{"groups"}},
		{"groups no list", `{"schema":"wheelrate/cases/1","groups":{}}`, "", []string{"groups"}},
		{"schema", strings.Replace(file(group(aCase("a"))), "cases/1", "cases/2", 1), "", []string{"schema"}},
		{"schema no text", `{"schema":1}`, "", []string{"schema"}},
		{"unknown field of file", `{"schema":"wheelrate/cases/1","extra":1}`, "", []string{"extra"}},
		{"field twice", `{"schema":"wheelrate/cases/1","schema":"wheelrate/cases/1"}`, "", []string{"schema"}},
		{"cut off", file(group(aCase("a")))[:150], "", []string{"groups[0].cases[0].given.kind"}},
		{"more behind", file(group(aCase("a"))) + `{}`, "", []string{""}},
		{"empty group", file(group(``)), "", []string{"groups[0].cases"}},
		{"group without cases", file(`{"standing":"computed"}`), "", []string{"groups[0].cases"}},
		{"unknown field of group", file(`{"standing":"computed","extra":1}`), "", []string{"groups[0].extra"}},
		{"unknown standing", file(`{"standing":"rumour","cases":[` + aCase("a") + `]}`), "", []string{"groups[0].standing"}},
		{"empty standing", file(`{"standing":"","cases":[` + aCase("a") + `]}`), "", []string{"groups[0].standing"}},
		{"no standing", file(`{"cases":[` + aCase("a") + `]}`), "", []string{"groups[0].standing"}},
		{"published without source", file(`{"standing":"published","cases":[` + aCase("a") + `]}`), "",
			[]string{"groups[0].source.title", "groups[0].source.where"}},
		{"published without where", file(`{"source":{"title":"T"},"standing":"published","cases":[` + aCase("a") + `]}`), "",
			[]string{"groups[0].source.where"}},
		{"unknown field of source", file(`{"source":{"title":"T","page":3},"standing":"computed","cases":[` + aCase("a") + `]}`), "",
			[]string{"groups[0].source.page"}},
		{"unknown field of case", bad(`"error":["kind"],"extra":1`), "x", []string{"groups[0].cases[0].extra"}},
		{"field of case twice", bad(`"error":["kind"],"error":["kind"]`), "x", []string{"groups[0].cases[0].error"}},
		{"neither", bad(`"note":""`), "x", []string{"groups[0].cases[0].expect"}},
		{"both", bad(`"expect":{"value":1},"error":["kind"]`), "x", []string{"groups[0].cases[0].error"}},
		{"unknown computation", strings.Replace(bad(`"error":["kind"]`), "convert", "invert", 1), "x", []string{"groups[0].cases[0].computes"}},
		{"expects nothing", bad(`"expect":{}`), "x", []string{"groups[0].cases[0].expect"}},
		{"error names nothing", bad(`"error":[]`), "x", []string{"groups[0].cases[0].expect"}},
		{"error names twice", bad(`"error":["kind","kind"]`), "x", []string{"groups[0].cases[0].error"}},
		{"a line feed in an error", bad(`"error":["kind\n1 passed, 0 failed"]`), "x", []string{"groups[0].cases[0].error"}},
		{"a line feed in an id", file(group(aCase(`a\nb`))), "a\nb", []string{"groups[0].cases[0].id"}},
		{"expects null", bad(`"expect":{"value":null}`), "x", []string{"groups[0].cases[0].expect.value"}},
		{"expects truth", bad(`"expect":{"value":true,"other":{}}`), "x",
			[]string{"groups[0].cases[0].expect.value", "groups[0].cases[0].expect.other"}},
		{"expects an object in a list", bad(`"expect":{"value":[{}]}`), "x", []string{"groups[0].cases[0].expect.value"}},
		{"negative tolerance", bad(`"expect":{"value":1},"tolerance":{"value":-1e-9}`), "x", []string{"groups[0].cases[0].tolerance.value"}},
		{"negative absolute tolerance", bad(`"expect":{"value":1},"tolerance":{"value":"-1 mm"}`), "x", []string{"groups[0].cases[0].tolerance.value"}},
		{"tolerance of no unit known", bad(`"expect":{"value":1},"tolerance":{"value":"1 furlong"}`), "x", []string{"groups[0].cases[0].tolerance.value"}},
		{"tolerance null", bad(`"expect":{"value":1},"tolerance":{"value":null}`), "x", []string{"groups[0].cases[0].tolerance.value"}},
		{"tolerance too large", bad(`"expect":{"value":1},"tolerance":{"value":1e999}`), "x", []string{"groups[0].cases[0].tolerance.value"}},
		{"given no object", file(group(`{"id":"x","computes":"units.convert","given":[],"error":["kind"]}`)), "x", []string{"groups[0].cases[0].given"}},
		{"all at once", file(group(`{"expect":{"value":1},"computes":"units.invert"}`)), "",
			[]string{"groups[0].cases[0].id", "groups[0].cases[0].computes", "groups[0].cases[0].given"}},
		{"id no text", file(group(`{"id":5,"computes":"units.convert","given":{},"error":["kind"]}`)), "", []string{"groups[0].cases[0].id"}},
		{"misspelt, and others missing", file(group(`{"id":"x","computs":"units.convert","given":{}}`)), "x",
			[]string{"groups[0].cases[0].computs", "groups[0].cases[0].computes", "groups[0].cases[0].expect"}},
		{"same id", file(group(aCase("a") + `,` + aCase("a"))), "a", []string{"groups[0].cases[1].id"}},
		{"same id in another group", file(group(aCase("a")) + `,` + group(aCase("b")+`,`+aCase("a"))), "a", []string{"groups[1].cases[1].id"}},
	}
	for _, tt := range tests {
		_, err := collect(refdata.CasesFrom("f.json", strings.NewReader(tt.text)))
		var file *refdata.FileError
		if !errors.As(err, &file) || file.File != "f.json" || file.ID != tt.id {
			t.Errorf("%s: want f.json and id %q, got %v", tt.name, tt.id, err)
		}
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		if diff := cmp.Diff(tt.fields, got); diff != "" {
			t.Errorf("%s: fields (-want +got):\n%s\n%v", tt.name, diff, err)
		}
		for line := range strings.SplitSeq(err.Error(), "\n") {
			head := "f.json: "
			if tt.id != "" {
				head += fmt.Sprintf("case %q: ", tt.id)
			}
			if !strings.HasPrefix(line, head) {
				t.Errorf("%s: line %q does not name the file and the case", tt.name, line)
			}
		}
		if json.Valid([]byte(tt.text)) && !loaderOnly[tt.name] && len(schemaFaults(t, "cases", []byte(tt.text))) == 0 {
			t.Errorf("%s: meets the schema", tt.name)
		}
	}
}

// loaderOnly are the faults that no schema can tell.
var loaderOnly = map[string]bool{"field of case twice": true, "tolerance of no unit known": true, "tolerance too large": true, "same id": true, "same id in another group": true}

// collect returns the cases up to the error that ends them.
func collect(cases iter.Seq2[refdata.Case, error]) (list []refdata.Case, err error) {
	for c, err := range cases {
		if err != nil {
			return list, err
		}
		list = append(list, c)
	}
	return list, nil
}

// load returns every case of a file system.
func load(fsys fs.FS) ([]refdata.Case, error) { return collect(refdata.Cases(fsys)) }

func TestIdsAreUniqueOverFiles(t *testing.T) {
	fsys := fstest.MapFS{
		"a.json":     {Data: []byte(file(group(aCase("one"))))},
		"sub/b.json": {Data: []byte(file(group(aCase("two") + `,` + aCase("one"))))},
		"notes.txt":  {Data: []byte("no case file")},
	}
	_, err := load(fsys)
	var bad *refdata.FileError
	require.ErrorAs(t, err, &bad)
	if bad.File != "sub/b.json" || bad.ID != "one" || !errors.Is(err, units.ErrConflict) {
		t.Errorf("got %v", err)
	}
	delete(fsys, "a.json")
	list, err := load(fsys)
	require.NoError(t, err)
	if len(list) != 2 {
		t.Errorf("%d cases, want 2", len(list))
	}
}

func TestNoFilesIsAnError(t *testing.T) {
	for name, fsys := range map[string]fstest.MapFS{
		"nothing": {}, "no case file": {"notes.txt": {}}, "an empty file": {"a.json": {}},
	} {
		_, err := load(fsys)
		var bad *refdata.FileError
		if !errors.As(err, &bad) {
			t.Errorf("%s: got %v, want a FileError", name, err)
		}
	}
}

// A loop may end before the cases do, and an error ends them.
func TestCasesEndEarly(t *testing.T) {
	good := file(group(aCase("a") + `,` + aCase("b")))
	fsys := fstest.MapFS{"a.json": {Data: []byte(good)}, "b.json": {Data: []byte(good)}, "c.json": {Data: []byte(`{}`)}}
	for name, cases := range map[string]iter.Seq2[refdata.Case, error]{
		"files": refdata.Cases(fsys), "one file": refdata.CasesFrom("a.json", strings.NewReader(good)),
	} {
		for c, err := range cases {
			if err != nil || c.ID != "a" || c.File != "a.json" {
				t.Errorf("%s: got %v, %v", name, c, err)
			}
			break
		}
	}
	var errs []error
	for c, err := range refdata.Cases(fsys) {
		if errs = append(errs, err); err != nil && c.ID != "" {
			t.Errorf("case %s comes with %v", c.ID, err)
		}
	}
	if len(errs) != 3 || errs[0] != nil || errs[1] != nil || !errors.Is(errs[2], units.ErrConflict) {
		t.Errorf("got %v, want two cases and a conflict of ids", errs)
	}
}

func TestReadErrorIsReported(t *testing.T) {
	broken := io.MultiReader(strings.NewReader(file(group(aCase("a")))[:100]), iotest.ErrReader(errors.New("the disk is gone")))
	_, err := collect(refdata.CasesFrom("f.json", broken))
	var bad *refdata.FileError
	if !errors.As(err, &bad) || !strings.Contains(err.Error(), "the disk is gone") {
		t.Errorf("got %v", err)
	}
}

// A file that never ends is refused at the limit.
func TestEndlessFilesAreRefused(t *testing.T) {
	body := &counting{}
	_, err := collect(refdata.CasesFrom("f.json", body))
	var bad *refdata.FileError
	if !errors.As(err, &bad) || !errors.Is(err, units.ErrRange) || body.n > refdata.FileLimit+1<<20 {
		t.Errorf("%d bytes were read: %v", body.n, err)
	}
}

// counting is a reader of space without end.
type counting struct{ n int }

func (c *counting) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	c.n += len(p)
	return len(p), nil
}
