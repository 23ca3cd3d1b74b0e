package unitstest

import (
	"fmt"
	"iter"
	"strings"
)

// shortTexts must be refused by every reader of a JSON object with known fields.
var shortTexts = []string{
	"", "[]", "null", "true", "NaN", "/* */{}",
	`{"a":NaN}`, `{"a":-Infinity}`, `{"a":0x10}`, `{"a":+1}`, `{"a":01}`, `{"a":1.}`, `{"a":١٢}`, `{'a':1}`, `{"a":1,}`,
	"{\"\xe2\x82\":1}", "{\"\xed\xa0\x80\":1}", `{"\ud800":1}`, `{"\udc00\ud800":1}`, // cut UTF-8, surrogates
	"\ufeff{}", "\xff\xfe{\x00}\x00", // a byte order mark, UTF-16
}

// longTexts are such texts of any length: a head, a part that is repeated (with its number for %d),
// and a tail.
var longTexts = [][3]string{
	{"", " \n\t\r", ""}, {"", "\n", "x"}, {"{", " \n", ""}, {"", "\x00", ""}, {"{}", "\x00", ""},
	{`"`, "x", `"`}, {`"`, "x", ""}, {`"`, `\u00e9\n\ud83d\ude00`, `"`},
	{"1", "0", ""}, {"0.", "3", ""}, {"1e", "9", ""}, {"", "-", ""},
	{"", "[", ""}, {"", `{"a":`, ""}, {"", `[{"a":`, ""}, {`{"a":`, "[", ""}, {`{"a":`, `{"` + strings.Repeat("b", 1000) + `":`, ""},
	{"[null", ",null", "]"}, {"[0", ",0", "]"}, {"[{}", ",{}", "]"}, {"[[]", ",[]", "]"},
	{`{"a":1`, `,"a":1`, "}"}, {`{"schema":"a"`, `,"schema":"a"`, "}"}, {`{"a":1`, `,"x%d":1`, "}"},
	{`{"`, "x", `":1}`}, {`{"`, `\u0000`, `":1}`}, {`{"`, "\xff", `":1}`}, {`{"a":[0`, ",{}", "]}"}, {`{"a":"`, "x", `"}`},
	{`{"schema":"`, "x", `"}`}, {`{"schema":"`, `\n`, `"}`}, {`{"schema":"wheelrate/record/1`, "0", `"}`},
	{"{}", "{}", ""}, {"{}", "\n{}", ""}, {"<a>", "<a>", ""},
}

// Hostile yields names and texts that every reader of a JSON object with known fields must refuse.
// Some are short, the others about size bytes long. The sequence is the same every time. One text
// is held in memory at a time.
func Hostile(size int) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		for _, text := range shortTexts {
			if !yield(fmt.Sprintf("%q", text), []byte(text)) {
				return
			}
		}
		for _, t := range longTexts {
			if !yield(fmt.Sprintf("%.20q and so on", t[0]+t[1]), grown(size, t)) {
				return
			}
		}
	}
}

// grown returns a text of about size bytes.
func grown(size int, t [3]string) []byte {
	b := append(make([]byte, 0, size+len(t[0])+len(t[1])+len(t[2])+20), t[0]...)
	for i := 0; len(b) < size; i++ {
		if strings.Contains(t[1], "%d") {
			b = fmt.Appendf(b, t[1], i)
		} else {
			b = append(b, t[1]...)
		}
	}
	return append(b, t[2]...)
}
