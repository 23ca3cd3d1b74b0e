package refdata_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// mostError is the longest text of an error, in bytes: about 4 kB, the last fault
// that fits, and before each line the file and the case.
const mostError = 10_000

// A file of cases is refused in one short error, for a small multiple of the
// longest value that it may hold in memory, however long it is.
func TestHostileFiles(t *testing.T) {
	for name, doc := range unitstest.Hostile(*hostile) {
		var err error
		n := unitstest.Allocated(func() {
			_, err = collect(refdata.CasesFrom("f.json", bytes.NewReader(doc)))
		})
		if wrong := unitstest.Refusal(err, mostError); wrong != "" {
			t.Errorf("%s: %s: %.200v", name, wrong, err)
		}
		if most := 16*min(len(doc), refdata.CaseLimit) + 1<<17; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
}

// Ids, the names in a case and its bytes are bounded, and what is beyond is
// refused in a short text.
func TestCasesAreBounded(t *testing.T) {
	list := func(n int, format string) string {
		var all []string
		for i := range n {
			all = append(all, fmt.Sprintf(format, i))
		}
		return strings.Join(all, ",")
	}
	with := func(fields string) string {
		return file(group(`{"id":"a","computes":"units.convert","given":{},` + fields + `}`))
	}
	bytes := func(n int) string {
		head, tail := `{"id":"x","computes":"units.convert","error":["kind"],"given":{"kind":"`, `"}}`
		return file(group(head + strings.Repeat("k", n-len(head)-len(tail)) + tail))
	}
	long := strings.Repeat("x", 1<<19)
	for name, test := range map[string]struct {
		file, field string // "" where it is read
		class       error
	}{
		"bytes, in bounds": {bytes(refdata.CaseLimit), "", nil},
		"bytes":            {bytes(refdata.CaseLimit + 1), "groups[0].cases[0]", units.ErrRange},
		"id, in bounds":    {file(group(aCase(long[:200]))), "", nil},
		"id":               {file(group(aCase(long[:201]))), "groups[0].cases[0].id", units.ErrRange},
		"long id":          {file(group(aCase(long))), "groups[0].cases[0].id", units.ErrRange},
		"id twice":         {file(group(aCase(long[:200]) + "," + aCase(long[:200]))), "groups[0].cases[1].id", units.ErrConflict},
		"names, in bounds": {with(`"expect":{` + list(200, `"%d":1`) + `}`), "", nil},
		"names":            {with(`"expect":{` + list(201, `"%d":1`) + `}`), "groups[0].cases[0].expect", units.ErrRange},
		"many names":       {with(`"expect":{` + list(80_000, `"%d":1`) + `}`), "groups[0].cases[0].expect", units.ErrRange},
		"long name":        {with(`"expect":{"` + long + `":null}`), `groups[0].cases[0].expect["` + long[:64] + `…"]`, units.ErrSyntax},
		"errors":           {with(`"error":[` + list(100_000, `"%d"`) + `]`), "groups[0].cases[0].error", units.ErrRange},
		"tolerances":       {with(`"expect":{"a":1},"tolerance":{` + list(80_000, `"%d":1`) + `}`), "groups[0].cases[0].tolerance", units.ErrRange},
		"field":            {`{"` + long + `":1}`, `["` + long[:64] + `…"]`, units.ErrUnknown},
		"line in field":    {`{"a\nb":1}`, `["a\nb"]`, units.ErrUnknown},
	} {
		_, err := collect(refdata.CasesFrom("f.json", strings.NewReader(test.file)))
		if test.field == "" {
			if err != nil {
				t.Errorf("%s: %.200v", name, err)
			}
			continue
		}
		var bad *refdata.FileError
		if f := units.Fields(err); !errors.As(err, &bad) || len(f) != 1 || f[0].Field != test.field || f[0].Class != test.class {
			t.Errorf("%s: %d faults, %.200v", name, len(f), err)
		} else if text := err.Error(); len(text) > 4096 || strings.Contains(text, "\n") {
			t.Errorf("%s: %d bytes, %.200q", name, len(text), text)
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
