package unitstest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"iter"
	"runtime"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// Hostile yields texts of about so many bytes that no reader of a JSON object
// with known fields may accept, each with a name. They are the same every time.
// One text is held at a time.
func Hostile(size int) iter.Seq2[string, []byte] {
	fill := func(head, part, tail string) func() string {
		return func() string {
			var b strings.Builder
			b.Grow(size + len(head) + len(part) + len(tail))
			b.WriteString(head)
			for b.Len() < size {
				b.WriteString(part)
			}
			b.WriteString(tail)
			return b.String()
		}
	}
	text := func(s string) func() string { return func() string { return s } }
	count := func(head, each, tail string) func() string {
		return func() string {
			b := append(make([]byte, 0, size+len(head)+len(each)+len(tail)+20), head...)
			for i := 0; len(b) < size; i++ {
				b = fmt.Appendf(b, each, i)
			}
			return string(append(b, tail...))
		}
	}
	list := []struct {
		name string
		make func() string
	}{
		{"nothing", text("")},
		{"white space", fill("", " \n\t\r", "")},
		{"lines, then a letter", fill("", "\n", "x")},
		{"white space in an object", fill("{", " \n", "")},
		{"one string", fill(`"`, "x", `"`)},
		{"one string without end", fill(`"`, "x", "")},
		{"escapes", fill(`"`, `\u00e9\n\ud83d\ude00`, `"`)},
		{"one number", fill("1", "0", "")},
		{"one fraction", fill("0.", "3", "")},
		{"one exponent", fill("1e", "9", "")},
		{"minus signs", fill("", "-", "")},
		{"lists in lists", fill("", "[", "")},
		{"objects in objects", fill("", `{"a":`, "")},
		{"lists and objects", fill("", `[{"a":`, "")},
		{"an unknown field of deep lists", fill(`{"a":`, "[", "")},
		{"an unknown field of deep objects", fill(`{"a":`, `{"`+strings.Repeat("b", 1000)+`":`, "")},
		{"nulls", fill("[null", ",null", "]")},
		{"numbers", fill("[0", ",0", "]")},
		{"empty objects", fill("[{}", ",{}", "]")},
		{"empty lists", fill("[[]", ",[]", "]")},
		{"one field again and again", fill(`{"a":1`, `,"a":1`, "}")},
		{"the schema again and again", fill(`{"schema":"a"`, `,"schema":"a"`, "}")},
		{"unknown fields", count(`{"a":1`, `,"x%d":1`, "}")},
		{"one long name", fill(`{"`, "x", `":1}`)},
		{"a name of escapes", fill(`{"`, `\u0000`, `":1}`)},
		{"an unknown field of a long list", fill(`{"a":[0`, ",{}", "]}")},
		{"an unknown field of a long text", fill(`{"a":"`, "x", `"}`)},
		{"a long schema", fill(`{"schema":"`, "x", `"}`)},
		{"a schema of line feeds", fill(`{"schema":"`, `\n`, `"}`)},
		{"a schema to come", fill(`{"schema":"wheelrate/record/1`, "0", `"}`)},
		{"NUL", fill("", "\x00", "")},
		{"NUL after an object", fill("{}", "\x00", "")},
		{"not UTF-8", fill(`{"`, "\xff", `":1}`)},
		{"cut UTF-8", text("{\"\xe2\x82\":1}")},
		{"surrogates in UTF-8", text("{\"\xed\xa0\x80\":1}")},
		{"a surrogate alone", text(`{"\ud800":1}`)},
		{"surrogates in disorder", text(`{"\udc00\ud800":1}`)},
		{"a byte order mark", text("\ufeff{}")},
		{"UTF-16", text("\xff\xfe{\x00}\x00")},
		{"NaN", text("NaN")},
		{"NaN in an object", text(`{"a":NaN}`)},
		{"Infinity", text(`{"a":-Infinity}`)},
		{"hexadecimal", text(`{"a":0x10}`)},
		{"a plus sign", text(`{"a":+1}`)},
		{"a zero in front", text(`{"a":01}`)},
		{"a point alone", text(`{"a":1.}`)},
		{"other digits", text(`{"a":١٢}`)},
		{"quotes of another kind", text(`{'a':1}`)},
		{"a comma at the end", text(`{"a":1,}`)},
		{"a comment", text("/* */{}")},
		{"objects, one behind the other", fill("{}", "{}", "")},
		{"objects, a line each", fill("{}", "\n{}", "")},
		{"a list", text("[]")},
		{"null", text("null")},
		{"true", text("true")},
		{"markup", fill("<a>", "<a>", "")},
	}
	return func(yield func(string, []byte) bool) {
		for _, doc := range list {
			if !yield(doc.name, []byte(doc.make())) {
				return
			}
		}
	}
}

// Spoilt is a text made by [Spoiled].
type Spoilt struct {
	Name string // what was changed
	Text []byte
	// Bad tells that no reader may accept it. Where it is not set the text may
	// be as good as another.
	Bad bool
}

// Spoiled yields what a valid object becomes where one thing in it is changed:
// every value by one of each other kind and by lists and texts of about so many
// bytes, every name by one that looks like it, every field doubled, and the
// text cut short or followed by another. They are the same every time. Names
// are the user's own within the objects of the names in free.
func Spoiled(valid []byte, size int, free ...string) iter.Seq[Spoilt] {
	root, err := parse(json.NewDecoder(bytes.NewReader(valid)))
	if err != nil {
		panic("unitstest: not JSON: " + err.Error())
	}
	times := func(part string, sep string) string {
		return strings.TrimSuffix(strings.Repeat(part+sep, size/len(part+sep)+1), sep)
	}
	small := []string{
		"null", "true", "false", "0", "-0", "-1", "1e-320", "1e308", "1e999999999", "-1e999999999", "9223372036854775808", "0.5",
		`""`, `" "`, `"NaN"`, `"nan mm"`, `"Inf N"`, `"-Infinity bar"`, `"0x1p-3 mm"`, `"1_000 mm"`, `"1e999999999 mm"`, `"-1 mm"`,
		`"1e-320 mm"`, `"1e300 N/mm"`, `"1e300 psi"`, `"-1e300 kg"`, `"0 N/mm"`, `"٣ mm"`, `"１２ mm"`, `"12 ｍｍ"`, `"12 mm\u0000"`, `"−3 mm"`, `"\ud800"`,
		"{}", "[]", "[[]]", `["",""]`, "[null,null]", `{"":{}}`, strings.Repeat("[", 200) + strings.Repeat("]", 200),
	}
	large := []string{
		"[" + times("null", ",") + "]", "[" + times("0", ",") + "]", "[" + times("1e308", ",") + "]", "[" + times("{}", ",") + "]",
		"[" + times("[]", ",") + "]", "[" + times(`"0 mm"`, ",") + "]", "[" + times(`"1 mm"`, ",") + "]",
		`"` + times("x", "") + `"`, "1" + times("0", ""), "0." + times("3", ""), `"1` + times("0", "") + ` mm"`, `"1 ` + times("m", "") + `"`,
		`{` + times(`"a":1`, ",") + `}`, `{"` + times("x", "") + `":{}}`, numbered(size),
	}
	own := func(at string) bool {
		return slices.ContainsFunc(strings.FieldsFunc(at, func(r rune) bool { return strings.ContainsRune(".[]", r) }),
			func(name string) bool { return slices.Contains(free, name) })
	}
	return func(yield func(Spoilt) bool) {
		send := func(bad bool, format string, args ...any) bool {
			return yield(Spoilt{fmt.Sprintf(format, args...), root.text(), bad})
		}
		ok := root.walk("", func(at string, n *node) bool {
			kept := *n
			defer func() { *n = kept }()
			for i, text := range slices.Concat(small, large) {
				*n = node{scalar: text}
				if !send(false, "%s = %s (%d)", at, text[:min(len(text), 24)], i) {
					return false
				}
			}
			*n = kept
			if len(n.items) > 0 {
				n.items = append(slices.Clone(kept.items), kept.items[len(kept.items)-1]) // a list longer by one, a field twice
				n.names = slices.Clone(kept.names)
				if n.open == '{' {
					n.names = append(n.names, kept.names[len(kept.names)-1])
				}
				if !send(n.open == '{' && !own(at), "%s with its last once more", at) {
					return false
				}
			}
			for i, name := range kept.names {
				n.items = kept.items
				for _, other := range lookAlikes(name) {
					n.names = slices.Clone(kept.names)
					n.names[i] = other
					if !send(!own(at), "%s: %.40q for %s", at, other, name) {
						return false
					}
				}
				n.names, n.items = slices.Delete(slices.Clone(kept.names), i, i+1), slices.Delete(slices.Clone(kept.items), i, i+1)
				if !send(false, "%s without %s", at, name) {
					return false
				}
			}
			return true
		})
		if !ok {
			return
		}
		for i := 0; i < len(bytes.TrimSpace(valid)); i += 1 + len(valid)/200 {
			if !yield(Spoilt{fmt.Sprintf("cut after %d bytes", i), valid[:i], true}) {
				return
			}
		}
		for _, tail := range []string{string(valid), "\n" + string(valid), "}", "\x00", ",", "\ufeff"} {
			if !yield(Spoilt{fmt.Sprintf("followed by %.10q", tail), append(bytes.Clone(valid), tail...), true}) {
				return
			}
		}
		_ = yield(Spoilt{"behind a byte order mark", append([]byte("\ufeff"), valid...), true})
	}
}

// numbered is an object of many fields.
func numbered(size int) string {
	b := []byte(`{"a":0`)
	for i := 0; len(b) < size; i++ {
		b = fmt.Appendf(b, `,"x%d":[0,0]`, i)
	}
	return string(append(b, '}'))
}

// lookAlikes are names that are not that name.
func lookAlikes(name string) []string {
	list := []string{
		strings.ToUpper(name), strings.ToUpper(name[:min(1, len(name))]) + name[min(1, len(name)):],
		name + " ", name + "\x00", strings.Replace(name, "a", "а", 1) /* Cyrillic */, strings.Replace(name, "s", "ſ", 1), // folds to s
		strings.Replace(name, "k", "\u212a", 1), strings.Replace(name, "_", "", 1), "", strings.Repeat(name, 200),
	}
	return slices.DeleteFunc(list, func(other string) bool { return other == name })
}

// node is a JSON value that can be changed.
type node struct {
	open   byte // '{', '[' or 0
	names  []string
	items  []*node
	scalar string // as it is written
}

func parse(d *json.Decoder) (*node, error) {
	d.UseNumber()
	token, err := d.Token()
	if err != nil {
		return nil, err
	}
	delim, ok := token.(json.Delim)
	if !ok {
		text, err := json.Marshal(token)
		return &node{scalar: string(text)}, err
	}
	n := &node{open: byte(delim)}
	for d.More() {
		if n.open == '{' {
			name, err := d.Token()
			if err != nil {
				return nil, err
			}
			n.names = append(n.names, name.(string))
		}
		item, err := parse(d)
		if err != nil {
			return nil, err
		}
		n.items = append(n.items, item)
	}
	_, err = d.Token()
	return n, err
}

// walk visits a value and all in it.
func (n *node) walk(at string, visit func(at string, n *node) bool) bool {
	if !visit(at, n) {
		return false
	}
	for i, item := range n.items {
		inner := fmt.Sprintf("%s[%d]", at, i)
		if n.open == '{' {
			inner = strings.TrimPrefix(at+"."+n.names[i], ".")
		}
		if !item.walk(inner, visit) {
			return false
		}
	}
	return true
}

func (n *node) text() []byte {
	var b bytes.Buffer
	n.write(&b)
	return b.Bytes()
}

func (n *node) write(b *bytes.Buffer) {
	if n.open == 0 {
		b.WriteString(n.scalar)
		return
	}
	b.WriteByte(n.open)
	for i, item := range n.items {
		if i > 0 {
			b.WriteByte(',')
		}
		if n.open == '{' {
			name, _ := json.Marshal(n.names[i]) // a string can be written
			b.Write(name)
			b.WriteByte(':')
		}
		item.write(b)
	}
	b.WriteByte(n.open + 2) // '}' is '{' + 2, ']' is '[' + 2
}

// Refusal says what is wrong with an error that refuses an input, "" for
// nothing: that it is none, names no field and no sentinel of package units,
// or has a text of more than most bytes or one that is not UTF-8.
func Refusal(err error, most int) string {
	if err == nil {
		return "no error"
	}
	fields := units.Fields(err)
	switch text := err.Error(); {
	case len(fields) == 0:
		return "an error that names no field"
	case len(text) > most:
		return fmt.Sprintf("an error of %d bytes", len(text))
	case !utf8.ValidString(text):
		return "an error that is not UTF-8"
	}
	for _, f := range fields {
		value := fmt.Sprint(f.Value)
		switch {
		case f.Class == nil || f.Want == "":
			return fmt.Sprintf("a fault without its class or what is wanted: %v", f)
		case len(f.Field) > 1100 || len(value) > 70 || len(f.Want) > 1100:
			return fmt.Sprintf("a fault that repeats a long input: %d bytes of field, %d of value, %d of what is wanted", len(f.Field), len(value), len(f.Want))
		}
	}
	return ""
}

// Allocated returns how many bytes a call allocates in all, with what else runs
// meanwhile.
func Allocated(call func()) int {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	call()
	runtime.ReadMemStats(&after)
	return int(after.TotalAlloc - before.TotalAlloc)
}
