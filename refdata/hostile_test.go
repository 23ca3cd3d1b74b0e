package refdata_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// slow logs, with -v, how long a text took.
func slow(t *testing.T, name string, from time.Time) {
	if took := time.Since(from); testing.Verbose() && took > 100*time.Millisecond {
		t.Logf("%v: %s", took.Round(time.Millisecond), name)
	}
}

// mostError is the longest text of an error, in bytes: about 4 kB, the last fault
// that fits, and before each line the file and the case.
const mostError = 10_000

// A file of cases is refused in one short error, for a small multiple of the
// longest value that it may hold in memory, however long it is.
func TestHostileFiles(t *testing.T) {
	for name, doc := range unitstest.Hostile(*hostile) {
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() {
			err = refdata.EachFrom("f.json", bytes.NewReader(doc), func(refdata.Case) error { return nil })
		})
		slow(t, name, start)
		if wrong := unitstest.Refusal(err, mostError); wrong != "" {
			t.Errorf("%s: %s: %.200v", name, wrong, err)
		}
		if most := 16*min(len(doc), refdata.CaseLimit) + 1<<17; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
}

// Long ids, and cases with very many names, are refused in a short text.
func TestNamesOfACaseAreBounded(t *testing.T) {
	list := func(n int, each func(i int) string) string {
		var all []string
		for i := range n {
			all = append(all, each(i))
		}
		return strings.Join(all, ",")
	}
	long := strings.Repeat("x", 1<<19)
	for name, test := range map[string]struct{ file, field string }{
		"id":            {file(group(aCase(long))), "groups[0].cases[0].id"},
		"field":         {`{"` + long + `":1}`, `["` + long[:64] + `…"]`},
		"line in field": {`{"a\nb":1}`, `["a\nb"]`},
		"name":          {file(group(`{"id":"a","computes":"units.convert","given":{},"expect":{"` + long + `":null}}`)), `groups[0].cases[0].expect["` + long[:64] + `…"]`},
		"names": {file(group(`{"id":"a","computes":"units.convert","given":{},"error":[` +
			list(100_000, func(i int) string { return fmt.Sprintf(`"%d"`, i) }) + `]}`)), "groups[0].cases[0].error"},
		"outputs": {file(group(`{"id":"a","computes":"units.convert","given":{},"expect":{` +
			list(80_000, func(i int) string { return fmt.Sprintf(`"%d":1`, i) }) + `}}`)), "groups[0].cases[0].expect"},
		"tolerances": {file(group(`{"id":"a","computes":"units.convert","given":{},"expect":{"a":1},"tolerance":{` +
			list(80_000, func(i int) string { return fmt.Sprintf(`"%d":1`, i) }) + `}}`)), "groups[0].cases[0].tolerance"},
	} {
		err := refdata.EachFrom("f.json", strings.NewReader(test.file), func(refdata.Case) error { return nil })
		var bad *refdata.FileError
		if !errors.As(err, &bad) {
			t.Errorf("%s: %.200v", name, err)
			continue
		}
		if f := units.Fields(err); len(f) != 1 || f[0].Field != test.field {
			t.Errorf("%s: %d faults, %.200v", name, len(f), err)
		}
		if text := err.Error(); len(text) > 4096 || strings.Contains(text, "\n") {
			t.Errorf("%s: %d bytes, %.200q", name, len(text), text)
		}
	}
	twice := file(group(aCase(long[:200]) + "," + aCase(long[:200])))
	err := refdata.EachFrom("f.json", strings.NewReader(twice), func(refdata.Case) error { return nil })
	if f := units.Fields(err); len(f) != 1 || f[0].Class != units.ErrConflict || len(err.Error()) > 1000 {
		t.Errorf("twice: %.200v", err)
	}
}

// The bounds themselves are within what a case may hold.
func TestBoundsOfACase(t *testing.T) {
	long := func(n int) string {
		head, tail := `{"id":"x","computes":"units.convert","error":["kind"],"given":{"kind":"`, `"}}`
		return head + strings.Repeat("k", n-len(head)-len(tail)) + tail
	}
	named := func(n int) string {
		var names []string
		for i := range n {
			names = append(names, fmt.Sprintf(`"%d":1`, i))
		}
		return `{"id":"x","computes":"units.convert","given":{},"expect":{` + strings.Join(names, ",") + `}}`
	}
	for name, test := range map[string]struct {
		within, beyond string
		field          string
	}{
		"bytes":       {long(refdata.CaseLimit), long(refdata.CaseLimit + 1), "groups[0].cases[0]"},
		"names":       {named(200), named(201), "groups[0].cases[0].expect"},
		"bytes of id": {aCase(strings.Repeat("i", 200)), aCase(strings.Repeat("i", 201)), "groups[0].cases[0].id"},
	} {
		read := func(one string) error {
			return refdata.EachFrom("f.json", strings.NewReader(file(group(one))), func(refdata.Case) error { return nil })
		}
		if err := read(test.within); err != nil {
			t.Errorf("%s: %.200v", name, err)
		}
		if f := units.Fields(read(test.beyond)); len(f) != 1 || f[0].Field != test.field || f[0].Class != units.ErrRange {
			t.Errorf("%s beyond the bound: %.300v", name, f)
		}
	}
}

// What is looked up by a long name is refused in short.
func TestLongNamesAreNotRepeated(t *testing.T) {
	long := strings.Repeat("x", 1<<16)
	_, material := refdata.MaterialNamed(long)
	_, gas := refdata.GasNamed(long)
	_, constant := refdata.ConstantNamed(long)
	for what, err := range map[string]error{"material": material, "gas": gas, "constant": constant} {
		if wrong := unitstest.Refusal(err, 2000); wrong != "" {
			t.Errorf("%s: %s", what, wrong)
		}
	}
}
