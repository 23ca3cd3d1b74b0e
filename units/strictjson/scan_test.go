package strictjson_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

func TestSyntaxErrorsHaveLineAndColumn(t *testing.T) {
	for _, test := range []struct {
		json  string
		field string
		want  string
	}{
		{"", "", "an object, not the end of the text (line 1, column 1)"},
		{" \n ", "", "an object, not the end of the text (line 2, column 2)"},
		{"what?", "", "an object, not 'w' (line 1, column 1)"},
		{"\ufeff{}", "", "an object, not a byte order mark (line 1, column 1)"},
		{"{", "", "a name in double quotes, not the end of the text (line 1, column 2)"},
		{"{sag: 1}", "", "a name in double quotes, not 's' (line 1, column 2)"},
		{`{"sag": 1,}`, "", "a name in double quotes, not '}' (line 1, column 11)"},
		{`{"sag" 1}`, "", `a colon after the name "sag", not '1' (line 1, column 8)`},
		{`{"sag": }`, "sag", "a number, not '}' (line 1, column 9)"},
		{`{"sag": 1`, "", `a comma or "}", not the end of the text (line 1, column 10)`},
		{`{"sag": 1 "on": 2}`, "", `a comma or "}", not '"' (line 1, column 11)`},
		{"{\n\t\"sag\": 1;\n}", "", `a comma or "}", not ';' (line 2, column 10)`},
		{"{\r\n\"name\": \"größer\" 5}", "", `a comma or "}", not '5' (line 2, column 18)`},
		{`{"front": {"shelf": [{}`, "front.shelf", `a comma or "]", not the end of the text (line 1, column 24)`},
		{`{"front": {"shelf": [{}, ]}}`, "front.shelf[1]", "an object, not ']' (line 1, column 26)"},
		{`{"sag": 01}`, "sag", "a number such as -0.5 or 12e3, not 01 (line 1, column 9)"},
		{`{"sag": -}`, "sag", "a number such as -0.5 or 12e3, not - (line 1, column 9)"},
		{`{"sag": .5}`, "sag", "a number, not '.' (line 1, column 9)"},
		{`{"sag": 1e+}`, "sag", "a number such as -0.5 or 12e3, not 1e+ (line 1, column 9)"},
		{`{"sag": 0x10}`, "", `a comma or "}", not 'x' (line 1, column 10)`},
		{`{"sag": NaN}`, "sag", "a number, not 'N' (line 1, column 9)"},
		{`{"on": tru`, "on", "true or false, not 't' (line 1, column 8)"},
		{`{"on": trueish}`, "", `a comma or "}", not 'i' (line 1, column 12)`},
		{`{"on": falsE}`, "on", "true or false, not 'f' (line 1, column 8)"},
		{`{"name": nil}`, "name", "a string, not 'n' (line 1, column 10)"},
		{`{"name": 'x'}`, "name", `a string, not '\'' (line 1, column 10)`},
		{`{"name": "x`, "name", "a closing double quote, not the end of the text (line 1, column 12)"},
		{"{\"name\": \"x\ny\"}", "name", `a string with no control character in it (a new line is \n), not '\n' (line 1, column 12)`},
		{"{\"name\": \"x\x00\"}", "name", `a string with no control character in it (a new line is \n), not '\x00' (line 1, column 12)`},
		{`{"name": "\x41"}`, "name", `one of " \ / b f n r t u after a backslash, not 'x' (line 1, column 12)`},
		{`{"name": "\`, "name", `one of " \ / b f n r t u after a backslash, not the end of the text (line 1, column 12)`},
		{`{"name": "\u12"}`, "name", `four hexadecimal digits after \u, not '1' (line 1, column 13)`},
		{`{"name": "\u+123"}`, "name", `four hexadecimal digits after \u, not '+' (line 1, column 13)`},
		{`{"name": "\ud83d"}`, "name", `surrogates in pairs, not '"' (line 1, column 17)`},
		{`{"name": "\ud83d\u0041"}`, "name", `surrogates in pairs, not '"' (line 1, column 23)`},
		{`{"name": "\ud83d\u00"}`, "name", `four hexadecimal digits after \u, not '0' (line 1, column 19)`},
		{`{"name": "\ude00\ud83d"}`, "name", `surrogates in pairs, not '"' (line 1, column 23)`},
		{"{\"name\": \"\xff\"}", "name", "text in UTF-8, not the byte 0xff (line 1, column 11)"},
		{"{\"name\": \"\xed\xa0\x80\"}", "name", "text in UTF-8, not the byte 0xed (line 1, column 11)"},
		{`{"sag": 1} {`, "", "nothing after the JSON value, not '{' (line 1, column 12)"},
		{"{}\v", "", `nothing after the JSON value, not '\v' (line 1, column 3)`},
		// In what is passed over or handed on as it stands:
		{`{"raw": }`, "raw", "a value, not '}' (line 1, column 9)"},
		{`{"raw": [1, {"a": tru}]}`, "raw[1].a", "a value, not 't' (line 1, column 19)"},
		{`{"raws": {"a": [falsy]}}`, "raws.a[0]", "a value, not 'f' (line 1, column 17)"},
		{`{"raw": {"a" 1}}`, "raw", `a colon after the name "a", not '1' (line 1, column 14)`},
		{`{"raw": ["\q"]}`, "raw[0]", `one of " \ / b f n r t u after a backslash, not 'q' (line 1, column 12)`},
		{`{"raw": {"\q": 1}}`, "raw", `one of " \ / b f n r t u after a backslash, not 'q' (line 1, column 12)`},
	} {
		var v everything
		err := strictjson.Unmarshal("job", []byte(test.json), &v)
		fields := units.Fields(err)
		if len(fields) != 1 {
			t.Errorf("%q: %d faults: %v", test.json, len(fields), err)
			continue
		}
		if diff := cmp.Diff([]string{test.field, test.want}, []string{fields[0].Field, fields[0].Want.String()}); diff != "" {
			t.Errorf("%q (-want +got):\n%s", test.json, diff)
		}
		if !errors.Is(err, units.ErrSyntax) || fields[0].Value != nil {
			t.Errorf("%q: class %v, value %v", test.json, fields[0].Class, fields[0].Value)
		}
	}
}

// A fault before the place where reading stops is not lost. Each has the package
// that read the value.
func TestSyntaxAfterFaults(t *testing.T) {
	var v everything
	err := strictjson.Unmarshal("job", []byte("{\n  \"on\": 5,\n  \"sga\": 1, \"finish\": \"x\", \"either\": {\"y\": 1},\n  \"name\": \"a\n}"), &v)
	var got []string
	for _, f := range units.Fields(err) {
		got = append(got, f.Error())
	}
	want := []string{
		`job: on 5: want true or false`,
		"job: sga: want " + allNames + "; did you mean sag?",
		`job: finish "x": want one of plain, ground`,
		"either: either.y: want one of bore, fill, spacers, exponent",
		`job: name: want a string with no control character in it (a new line is \n), not '\n' (line 4, column 13)`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestNestingIsBounded(t *testing.T) {
	nested := func(open, close string, n int) []byte {
		return []byte(strings.Repeat(open, n) + "1" + strings.Repeat(close, n))
	}
	var raw json.RawMessage
	for _, test := range []struct {
		json []byte
		ok   bool
	}{
		{nested("[", "]", 100), true},
		{nested("[", "]", 101), false},
		{nested(`{"a":`, "}", 100), true},
		{nested(`{"a":`, "}", 101), false},
		{[]byte(strings.Repeat("[", 1<<20)), false},
		{append(append([]byte("["), []byte(strings.Repeat("[],", 1000))...), "[]]"...), true},
	} {
		err := strictjson.Unmarshal("job", test.json, &raw)
		if test.ok != (err == nil) || !test.ok && !errors.Is(err, units.ErrRange) {
			t.Errorf("%.10s… of %d bytes: %v", test.json, len(test.json), err)
		}
	}
	// A type that holds itself is bounded all the same.
	var v everything
	err := strictjson.Unmarshal("job", nested(`{"next":`, "}", 5000), &v)
	if fields := units.Fields(err); len(fields) != 1 || fields[0].Class != units.ErrRange || fields[0].Want.String() != "objects and lists nested at most 100 deep" {
		t.Errorf("%.200v", err)
	}
}

func TestFaultsAreBounded(t *testing.T) {
	long := strings.Repeat("x", 1<<16)
	for name, text := range map[string]string{
		"unknown fields":  "{" + strings.Repeat(`"`+long+`": 1,`, 200) + `"a": 1}`,
		"repeated fields": "{" + strings.Repeat(`"on": true,`, 20000) + `"on": true}`,
		"bad quantities":  `{"rear": {"shelf": [` + strings.Repeat(`{"rate": "1 `+long+`"},`, 200) + `{}]}}`,
		"numbers":         `{"points": {"A": [` + strings.Repeat("1"+strings.Repeat("0", 1000)+",", 1000) + `1]}}`,
		"texts":           `{"on": "` + long + `"}`,
		"what reads":      `{"either": {` + strings.Repeat(`"`+long+`": 1,`, 200) + `"a": 1}}`,
		"many that read":  "[" + long + "]",
	} {
		var v everything
		err := strictjson.Unmarshal("job", []byte(text), &v)
		if err == nil {
			t.Fatalf("%s: no error", name)
		}
		if n := len(units.Fields(err)); n > 102 {
			t.Errorf("%s: %d faults", name, n)
		}
		// 100 faults with 64 bytes quoted in each, and the list of names.
		if n := len(err.Error()); n > 100*1000 {
			t.Errorf("%s: an error of %d bytes", name, n)
		}
		for _, f := range units.Fields(err) {
			if value := fmt.Sprint(f.Value); strings.Contains(f.Field+f.Want.String(), long[:65]) || len(value) > 64+len("…") {
				t.Errorf("%s: a long text is quoted in full", name)
				break
			}
		}
	}

	count := func(n int) int {
		var v []bool
		return len(units.Fields(strictjson.Unmarshal("job", []byte("["+strings.Repeat("1,", n-1)+"1]"), &v)))
	}
	if got := []int{count(1), count(99), count(100), count(101), count(5000)}; !cmp.Equal(got, []int{1, 99, 101, 101, 101}) {
		t.Errorf("listed %v", got)
	}
	var v []bool
	fields := units.Fields(strictjson.Unmarshal("job", []byte("["+strings.Repeat("1,", 200)+"1]"), &v))
	if last := fields[100]; last.Field != "" || !strings.Contains(last.Want.String(), "not listed") {
		t.Errorf("the last entry is %v", last)
	}
}
