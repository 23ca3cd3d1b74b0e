package unitstest_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
	"example.com/wheelrate/units/unitstest"
)

// A text of Hostile is refused by a strict reader whatever fields it knows, is
// about as long as asked for, and is the same the next time.
func TestHostileTextsAreRefused(t *testing.T) {
	var names []string
	var texts [][]byte
	for name, text := range unitstest.Hostile(5000) {
		names, texts = append(names, name), append(texts, text)
		if err := strictjson.Unmarshal("test", text, &struct{}{}); err == nil {
			t.Errorf("%s is accepted: %.40q", name, text)
		}
		if len(text) > 5000+1100 {
			t.Errorf("%s has %d bytes", name, len(text))
		}
	}
	long, i := 0, 0
	for name, text := range unitstest.Hostile(5000) {
		if name != names[i] || !bytes.Equal(text, texts[i]) {
			t.Errorf("%s is another text the next time", name)
		}
		if i++; len(text) >= 5000 {
			long++
		}
	}
	if long < 25 || len(names)-long < 20 {
		t.Errorf("%d long texts of %d", long, len(names))
	}
	for range unitstest.Hostile(10) {
		break // what is not wanted any more is not made
	}
}

// spoilable is what the text below holds.
type spoilable struct {
	Count int            `json:"count"`
	Size  units.Length   `json:"size"`
	List  []units.Length `json:"list"`
	Own   map[string]int `json:"own"`
}

const valid = `{"count":3,"size":"12 mm","list":["1 mm","2 mm"],"own":{"a":1,"b":2}}`

func TestSpoiledChangesOneThing(t *testing.T) {
	bad := 0
	var first []string
	for s := range unitstest.Spoiled([]byte(valid), 100, "own") {
		first = append(first, string(s.Text))
		if bytes.Equal(bytes.TrimSpace(s.Text), []byte(valid)) {
			t.Errorf("%s: nothing is changed", s.Name)
		}
		if err := strictjson.Unmarshal("test", s.Text, &spoilable{}); s.Bad && err == nil {
			t.Errorf("%s is accepted: %s", s.Name, s.Text)
		} else if s.Bad {
			bad++
		} else if !json.Valid(s.Text) {
			t.Errorf("%s is no JSON: %.80s", s.Name, s.Text)
		}
	}
	if bad < 60 || len(first)-bad < 400 {
		t.Errorf("%d texts, %d of them bad", len(first), bad)
	}
	for _, want := range []string{
		`{"count":null,"size":"12 mm","list":["1 mm","2 mm"],"own":{"a":1,"b":2}}`,     // a value
		`{"count":3,"size":"12 mm","list":["1 mm","nan mm"],"own":{"a":1,"b":2}}`,      // one of a list
		`{"count":3,"size":"12 mm","list":["1 mm","2 mm"],"own":{"a":1,"b":{}}}`,       // one of the user's own
		`{"count":3,"size":"12 mm","list":["1 mm","2 mm","2 mm"],"own":{"a":1,"b":2}}`, // one more
		`{"count":3,"size":"12 mm","list":["1 mm","2 mm"],"own":{"a":1,"b":2,"b":2}}`,  // twice
		`{"count":3,"Size":"12 mm","list":["1 mm","2 mm"],"own":{"a":1,"b":2}}`,        // another case
		`{"count":3,"size":"12 mm","liſt":["1 mm","2 mm"],"own":{"a":1,"b":2}}`,        // a letter that folds
		`{"count":3,"list":["1 mm","2 mm"],"own":{"a":1,"b":2}}`,                       // one less
		valid + valid, valid[:len(valid)-1], valid[:1], "", "\ufeff" + valid, valid + "\x00", // whole texts
	} {
		if !slices.Contains(first, want) {
			t.Errorf("none is %q", want)
		}
	}
	var one []string // of an object with a single field
	for s := range unitstest.Spoiled([]byte(`{"a":{"b":1}}`), 10) {
		one = append(one, string(s.Text))
	}
	if !slices.Contains(one, `{}`) || !slices.Contains(one, `{"a":{}}`) {
		t.Error("an only field is never left out")
	}
	i := 0
	for s := range unitstest.Spoiled([]byte(valid), 100, "own") {
		if string(s.Text) != first[i] {
			t.Fatalf("%s is another text the next time", s.Name)
		}
		i++
	}
	for stop := range len(first) { // at every place
		i := 0
		for range unitstest.Spoiled([]byte(valid), 100, "own") {
			if i++; i > stop {
				break
			}
		}
	}
	panics(t, "spoiling what is no JSON", func() { unitstest.Spoiled([]byte("{"), 100) })
}

func TestWildChangesValuesAtRandom(t *testing.T) {
	const valid = `{"count":3,"size":"12 mm","text":"word","odd":1e5,"none":{},"list":["1 mm","2 mm","3 mm"],"own":{"a":1,"b":-2}}`
	var texts []string
	same := 0
	for s := range unitstest.Wild([]byte(valid), 500, 1000) {
		texts = append(texts, string(s.Text))
		if !json.Valid(s.Text) || s.Name == "" || s.Bad {
			t.Errorf("%s: %s", s.Name, s.Text)
		}
		if string(s.Text) == valid {
			same++
		}
	}
	if len(texts) != 500 || same > 200 {
		t.Errorf("%d texts, %d of them unchanged", len(texts), same)
	}
	all := strings.Join(texts, "\n")
	for _, want := range []string{`"count":0`, `"count":1,`, `"count":-3`, `"size":"12e`, `"list":[]`, `"list":["1 mm"]`, `"b":-2`, `"b":-2e`, `"none":{}`} {
		if !strings.Contains(all, want) {
			t.Errorf("none holds %s", want)
		}
	}
	count := func(text string) int { return strings.Count(text, `"1 mm"`) }
	if !slices.ContainsFunc(texts, func(text string) bool { return len(text) >= 900 && count(text) < 300 }) {
		t.Error("no list is repeated to about so many bytes")
	}
	if !slices.ContainsFunc(texts, func(text string) bool { return 3*count(text) >= 999 }) {
		t.Error("no list is repeated to a thousand members")
	}
	i := 0
	for s := range unitstest.Wild([]byte(valid), 500, 1000) {
		if string(s.Text) != texts[i] {
			t.Fatalf("%s is another text the next time", s.Name)
		}
		if i++; i == 100 {
			break
		}
	}
	panics(t, "drawing from what is no JSON", func() { unitstest.Wild([]byte("{"), 1, 100) })
}

func TestRefusal(t *testing.T) {
	field := func(change func(f *units.FieldError)) error {
		f := &units.FieldError{Package: "p", Field: "a", Value: 1, Want: units.Want{Text: "2"}, Class: units.ErrRange}
		change(f)
		return f
	}
	long := strings.Repeat("x", 2000)
	for name, row := range map[string]struct {
		err  error
		want string // part of what is said; "" for nothing
	}{
		"fine":      {field(func(*units.FieldError) {}), ""},
		"none":      {nil, "no error"},
		"no field":  {errors.New("bad"), "names no field"},
		"too long":  {field(func(f *units.FieldError) { f.Want.Text = long[:900] }), "of 91"},
		"not UTF-8": {field(func(f *units.FieldError) { f.Want.Text = "\xff" }), "not UTF-8"},
		"no class":  {field(func(f *units.FieldError) { f.Class = nil }), "without its class"},
		"nothing":   {field(func(f *units.FieldError) { f.Want = units.Want{} }), "without its class"},
		"as long as permitted": {field(func(f *units.FieldError) {
			f.Field, f.Value, f.Want.Text = long[:1100], long[:70], long[:1100]
		}), ""},
		"a long path":  {field(func(f *units.FieldError) { f.Field = long[:1101] }), "repeats a long input: 1101 bytes of field"},
		"a long value": {field(func(f *units.FieldError) { f.Value = long[:71] }), "1 bytes of field, 71 of value"},
		"a long want":  {field(func(f *units.FieldError) { f.Want.Text = long[:1101] }), "1101 of what is wanted"},
	} {
		most := 3000
		if name == "too long" {
			most = 900
		}
		got := unitstest.Refusal(row.err, most)
		if got != row.want && (row.want == "" || !strings.Contains(got, row.want)) {
			t.Errorf("%s: %q, want %q", name, got, row.want)
		}
	}
}

func TestAllocated(t *testing.T) {
	kept := make([]byte, 1<<22) // not counted
	if n := unitstest.Allocated(func() { kept = make([]byte, 1<<20) }); n < 1<<20 || n > 1<<21 || len(kept) != 1<<20 {
		t.Errorf("%d bytes counted for a mebibyte", n)
	}
}

func TestLongIsTheFlag(t *testing.T) {
	if usual := flag.Lookup("long").DefValue; usual != "false" {
		t.Errorf("-long is %s where it is not given", usual)
	}
	was := flag.Lookup("long").Value.String()
	defer flag.Set("long", was)
	for _, value := range []string{"true", "false"} {
		if err := flag.Set("long", value); err != nil {
			t.Fatal(err)
		}
		if got := unitstest.Long(); got != (value == "true") {
			t.Errorf("-long=%s: %v", value, got)
		}
	}
}
