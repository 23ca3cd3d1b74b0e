package refdata

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// often tells whether a text that may be as good as another is tried: one in
// eight where every push runs them.
func often(i int) bool { return *hostile > 1<<20 || i%8 == 0 }

// slow tells by hand, with -v, which texts take how long.
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
		n := unitstest.Allocated(func() { err = EachFrom("f.json", bytes.NewReader(doc), func(Case) error { return nil }) })
		slow(t, name, start)
		if wrong := unitstest.Refusal(err, mostError); wrong != "" {
			t.Errorf("%s: %s: %.200v", name, wrong, err)
		}
		if most := 16*min(len(doc), maxGiven) + 1<<17; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
}

// Whatever one thing of a file is changed to, its cases are read and judged, or
// there is one short error.
func TestSpoiledFiles(t *testing.T) {
	text := file(`{"source":{"title":"T","edition":"3rd","year":1999,"where":"p. 4","url":"u"},"standing":"published","cases":[
		{"id":"a","computes":"units.convert","given":{"kind":"length","value":"1 in"},
		 "expect":{"value":"25.4 mm","list":[1,["2 mm"],-3.5]},"tolerance":{"*":1e-12,"value":"0.05 mm"},"second":"s","note":"n"},
		{"id":"b","computes":"units.convert","given":{},"error":["kind","value"]}]}`)
	i := 0
	for spoilt := range unitstest.Spoiled([]byte(text), min(*hostile/8, maxGiven-2*len(text)), "given", "expect", "tolerance") {
		if i++; !spoilt.Bad && !often(i) {
			continue
		}
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() {
			err = EachFrom("f.json", bytes.NewReader(spoilt.Text), func(c Case) error {
				o := Check(c)
				if text := o.Failure(); len(text) > 20*maxGiven || o.Pass() != (text == "") {
					t.Errorf("%s: passed %v, told in %d bytes", spoilt.Name, o.Pass(), len(text))
				}
				return nil
			})
		})
		slow(t, spoilt.Name, start)
		if wrong := unitstest.Refusal(err, mostError); wrong != "" && (err != nil || spoilt.Bad) {
			t.Errorf("%s: %s: %.200v", spoilt.Name, wrong, err)
		}
		if most := 150*len(spoilt.Text) + 1<<20; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", spoilt.Name, n, len(spoilt.Text), most)
		}
	}
}

// Whatever one thing that a case gives is changed to, what comes out is finite,
// or there is one short error. One case of each computation is tried.
func TestSpoiledCases(t *testing.T) {
	cases, err := Load(CaseFiles())
	if err != nil {
		t.Fatal(err)
	}
	tried := map[string]bool{}
	i := 0
	for _, c := range cases {
		if tried[c.Computes] || len(c.Error) > 0 {
			continue
		}
		tried[c.Computes] = true
		for spoilt := range unitstest.Spoiled(c.Given, min(*hostile/32, maxGiven-2*len(c.Given)), "points", "bodies") {
			if i++; !spoilt.Bad && !often(i) {
				continue
			}
			name := c.Computes + ": " + spoilt.Name
			var r Result
			var err error
			start := time.Now()
			n := unitstest.Allocated(func() { r, err = Evaluate(Case{Computes: c.Computes, Given: spoilt.Text}) })
			slow(t, name, start)
			switch wrong := unitstest.Refusal(err, mostError); {
			case err != nil && r != nil:
				t.Errorf("%s: a result beside an error", name)
			case err != nil && wrong != "" && !standsAlone(err) || err == nil && spoilt.Bad:
				t.Errorf("%s: %s: %.300v", name, wrong, err)
			}
			for output, v := range r {
				if fault := finite(reflect.ValueOf(v)); fault != nil {
					t.Errorf("%s: %s%v", name, output, fault)
				}
			}
			if most := 250*len(spoilt.Text) + 1<<21; n > most {
				t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(spoilt.Text), most)
			}
		}
	}
	if len(tried) != len(Computations()) {
		t.Errorf("%d computations are tried of %d", len(tried), len(Computations()))
	}
}

// standsAlone tells whether an error is one that concerns no single field.
func standsAlone(err error) bool {
	for _, s := range sentinels {
		if errors.Is(err, s.err) {
			return true
		}
	}
	return false
}

// Lists that a case gives are bounded, wherever they stand.
func TestListsOfACaseAreBounded(t *testing.T) {
	list := func(value string, n int) string { return strings.TrimSuffix(strings.Repeat(value+",", n), ",") }
	for _, row := range []struct{ computes, given, field string }{
		{"spring.law", `{"law":{"linear":{"rate":"50 N/mm","travel":"60 mm"}},"at":[` + list(`"5 mm"`, mostValues+1) + `]}`, "at"},
		{"spring.law", `{"law":{"parallel":[{"law":{"series":[` + list("{}", mostValues+1) + `]}}]},"at":["0 mm"]}`, "law.parallel[0].law.series"},
		{"sag.bands", `{"rates":[` + list(`"5 N/mm"`, mostValues+1) + `]}`, "rates"},
		{"linkage.mechanism", `{"mechanism":{"bodies":{"a.b":[` + list(`"A"`, mostValues+1) + `]}}}`, `mechanism.bodies["a.b"]`},
	} {
		_, err := Evaluate(Case{Computes: row.computes, Given: []byte(row.given)})
		if f := units.Fields(err); len(f) != 1 || f[0].Field != row.field || f[0].Class != units.ErrRange {
			t.Errorf("%s: %.300v, want %s", row.computes, err, row.field)
		}
	}
	most := `{"law":{"linear":{"rate":"50 N/mm","travel":"60 mm"}},"at":[` + list(`"5 mm"`, mostValues) + `]}`
	if _, err := Evaluate(Case{Computes: "spring.law", Given: []byte(most)}); err != nil {
		t.Error(err)
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
			list(150_000, func(i int) string { return fmt.Sprintf(`"%d"`, i) }) + `]}`)), "groups[0].cases[0].error"},
		"outputs": {file(group(`{"id":"a","computes":"units.convert","given":{},"expect":{` +
			list(80_000, func(i int) string { return fmt.Sprintf(`"%d":null`, i) }) + `}}`)), "groups[0].cases[0].expect"},
		"tolerances": {file(group(`{"id":"a","computes":"units.convert","given":{},"expect":{"a":1},"tolerance":{` +
			list(80_000, func(i int) string { return fmt.Sprintf(`"%d":1`, i) }) + `}}`)), "groups[0].cases[0].tolerance"},
	} {
		err := EachFrom("f.json", strings.NewReader(test.file), func(Case) error { return nil })
		var bad *FileError
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
	twice := file(group(aCase(long[:maxID]) + "," + aCase(long[:maxID])))
	err := EachFrom("f.json", strings.NewReader(twice), func(Case) error { return nil })
	if f := units.Fields(err); len(f) != 1 || f[0].Class != units.ErrConflict || len(err.Error()) > 1000 {
		t.Errorf("twice: %.200v", err)
	}
}

// A reader that hands out a byte at a time costs no more than that: what was
// read is not gone over again for each.
func TestSlowReaders(t *testing.T) {
	text := `{` + strings.Repeat(" ", maxGiven-10) + file(group(aCase("a")))[1:]
	limited := &limitedReader{r: iotest.OneByteReader(strings.NewReader(text)), until: maxGiven}
	p := make([]byte, 1000)
	if n, err := limited.Read(p); n != len(p) || err != nil {
		t.Fatalf("%d bytes, %v", n, err) // what follows would take minutes
	}
	n := 0
	err := EachFrom("f.json", iotest.OneByteReader(strings.NewReader(text)), func(Case) error { n++; return nil })
	if err != nil || n != 1 {
		t.Errorf("%d cases, %v", n, err)
	}
}

// An error of the reader comes after what was read before it.
func TestLateReadErrors(t *testing.T) {
	limited := &limitedReader{r: iotest.TimeoutReader(iotest.OneByteReader(strings.NewReader("abc"))), until: maxGiven}
	p := make([]byte, 10)
	if n, err := limited.Read(p); n != 1 || err != nil {
		t.Errorf("%d bytes, %v", n, err)
	}
	if n, err := limited.Read(p); n != 0 || !errors.Is(err, iotest.ErrTimeout) {
		t.Errorf("then %d bytes, %v", n, err)
	}
}

// wild is how many inputs drawn at random are tried for each case.
var wild = flag.Int("wild", 1, "inputs drawn at random for each case")

// What comes of inputs with several values at an extreme is finite, or refused
// in one short error.
func TestWildCases(t *testing.T) {
	cases, err := Load(CaseFiles())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		for spoilt := range unitstest.Wild(c.Given, *wild, 1<<14) {
			name := c.ID + " " + c.Computes + ": " + spoilt.Name
			start := time.Now()
			r, err := Evaluate(Case{Computes: c.Computes, Given: spoilt.Text})
			slow(t, name, start)
			if wrong := unitstest.Refusal(err, mostError); err != nil && wrong != "" && !standsAlone(err) {
				t.Errorf("%s: %s: %.300v", name, wrong, err)
			}
			for output, v := range r {
				if fault := finite(reflect.ValueOf(v)); fault != nil {
					t.Errorf("%s: %s%v", name, output, fault)
				}
			}
		}
	}
}

// What is looked up by a long name is refused in short.
func TestLongNamesAreNotRepeated(t *testing.T) {
	long := strings.Repeat("x", 1<<16)
	_, material := MaterialNamed(long)
	_, gas := GasNamed(long)
	_, constant := ConstantNamed(long)
	for what, err := range map[string]error{"material": material, "gas": gas, "constant": constant} {
		if wrong := unitstest.Refusal(err, 2000); wrong != "" {
			t.Errorf("%s: %s", what, wrong)
		}
	}
}
