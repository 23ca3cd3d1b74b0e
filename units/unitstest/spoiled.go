package unitstest

import (
	"cmp"
	"encoding/json"
	"fmt"
	"iter"
	"math/rand/v2"
	"slices"
	"strings"
)

// Spoilt is a text made by [Spoiled] or [Wild].
type Spoilt struct {
	Name string // what was changed
	Text []byte
	Bad  bool // no reader may accept it; otherwise it may be as good as another
}

// Spoiled yields what a valid object becomes where one thing in it is changed: every value by one
// of each other kind and by lists and texts of about so many bytes, every name by one that looks
// like it, every field doubled, and the text cut short or followed by another. They are the same
// every time. Names are the user's own within the objects of the names in free.
func Spoiled(valid []byte, size int, free ...string) iter.Seq[Spoilt] {
	text := compact(valid)
	var edits []edit
	add := func(bad bool, from, to int, with, format string, args ...any) {
		edits = append(edits, edit{fmt.Sprintf(format, args...), from, to, with, bad})
	}
	values := slices.Concat(smallValues, largeValues(size))
	for _, p := range places(text) {
		bad := p.isObject && !slices.ContainsFunc(strings.FieldsFunc(p.path, func(r rune) bool { return strings.ContainsRune(".[]", r) }),
			func(name string) bool { return slices.Contains(free, name) })
		for i, v := range values {
			add(false, p.from, p.to, v, "%s = %.24s (%d)", p.path, v, i)
		}
		if n := len(p.members); n > 0 { // a list longer by one, a field twice
			last := p.members[n-1]
			add(bad, last.to, last.to, ","+text[last.from:last.to], "%s with its last once more", p.path)
		}
		for i, m := range p.members {
			if !p.isObject {
				break
			}
			for _, other := range lookAlikes(m.name) {
				quoted, _ := json.Marshal(other) // a string can be written
				add(bad, m.from, m.nameTo, string(quoted), "%s: %.40q for %s", p.path, other, m.name)
			}
			from, to := p.without(i)
			add(false, from, to, "", "%s without %s", p.path, m.name)
		}
	}
	for i := 0; i < len(text); i += 1 + len(text)/200 {
		add(true, i, len(text), "", "cut after %d bytes", i)
	}
	for _, tail := range []string{text, "\n" + text, "}", "\x00", ",", "\ufeff"} {
		add(true, len(text), len(text), tail, "followed by %.10q", tail)
	}
	add(true, 0, 0, "\ufeff", "behind a byte order mark")
	return func(yield func(Spoilt) bool) {
		for _, e := range edits {
			if !yield(Spoilt{e.name, []byte(text[:e.from] + e.with + text[e.to:]), e.bad}) {
				return
			}
		}
	}
}

// smallValues are what a value becomes.
var smallValues = []string{
	"null", "true", "false", "0", "-0", "-1", "1e-320", "1e308", "1e999999999", "-1e999999999", "9223372036854775808", "0.5",
	`""`, `" "`, `"NaN"`, `"nan mm"`, `"Inf N"`, `"-Infinity bar"`, `"0x1p-3 mm"`, `"1_000 mm"`, `"1e999999999 mm"`, `"-1 mm"`,
	`"1e-320 mm"`, `"1e300 N/mm"`, `"1e300 psi"`, `"-1e300 kg"`, `"0 N/mm"`, `"٣ mm"`, `"１２ mm"`, `"12 ｍｍ"`, `"12 mm\u0000"`, `"−3 mm"`, `"\ud800"`,
	"{}", "[]", "[[]]", `["",""]`, "[null,null]", `{"":{}}`, strings.Repeat("[", 200) + strings.Repeat("]", 200),
}

// largeValues are such values of about so many bytes.
func largeValues(size int) (list []string) {
	for _, item := range []string{"null", "0", "1e308", "{}", "[]", `"0 mm"`, `"1 mm"`} {
		list = append(list, string(grown(size, [3]string{"[" + item, "," + item, "]"})))
	}
	for _, t := range [][3]string{
		{`"`, "x", `"`}, {"1", "0", ""}, {"0.", "3", ""}, {`"1`, "0", ` mm"`}, {`"1 `, "m", `"`},
		{`{"a":1`, `,"a":1`, "}"}, {`{"`, "x", `":{}}`}, {`{"a":0`, `,"x%d":[0,0]`, "}"},
	} {
		list = append(list, string(grown(size, t)))
	}
	return list
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

// Wild yields n texts, each what a valid object becomes where one to four of its values are drawn
// to an extreme: a number, with or without a unit, multiplied by a power of ten, put to 0 or 1, a
// list repeated up to about so many bytes, shortened or doubled, a field left out. They are the
// same every time. All are well-formed, and some are jobs that nobody thought of.
func Wild(valid []byte, n, size int) iter.Seq[Spoilt] {
	text := compact(valid)
	all := places(text)
	return func(yield func(Spoilt) bool) {
		random := rand.New(rand.NewPCG(1, 2))
		for range n {
			var edits []edit
			for range 1 + random.IntN(4) {
				edits = append(edits, all[random.IntN(len(all))].wild(text, random, size))
			}
			// From the end, so that the places before stay; what overlaps another is left out.
			slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(b.from, a.from) })
			wild, names, first := text, []string(nil), len(text)
			for _, e := range edits {
				if e.to <= first {
					wild, first = wild[:e.from]+e.with+wild[e.to:], e.from
					names = append(names, e.name)
				}
			}
			if !yield(Spoilt{Name: strings.Join(names, ", "), Text: []byte(wild)}) {
				return
			}
		}
	}
}

// wild draws a change of the value.
func (p place) wild(text string, random *rand.Rand, size int) edit {
	value := text[p.from:p.to]
	change := func(with string) edit {
		return edit{name: fmt.Sprintf("%s = %.40s", p.path, with), from: p.from, to: p.to, with: with}
	}
	if n := len(p.members); n > 0 {
		i := random.IntN(n)
		if p.isObject {
			from, to := p.without(i)
			return edit{name: p.path + " without " + p.members[i].name, from: from, to: to}
		}
		items, times := value[1:len(value)-1], 2
		switch random.IntN(4) {
		case 0:
			return change(strings.TrimSuffix(text[p.from:p.members[i].from], ",") + "]")
		case 1:
			times = 1 + size/(len(items)+1)
		case 2:
			times = 1 + 1000/n
		}
		return change("[" + strings.Repeat(items+",", times-1) + items + "]")
	}
	number, quote, tail := strings.Trim(value, `"`), "", ""
	if value[0] == '"' {
		quote = `"`
		if at := strings.IndexByte(number, ' '); at >= 0 {
			number, tail = number[:at], number[at:]
		}
	}
	if !json.Valid([]byte(number)) || strings.ContainsAny(number, "eEtfn{[") {
		return change(value)
	}
	switch random.IntN(6) {
	case 0:
		number = "0"
	case 1:
		number = "1"
	case 2:
		number = "-" + strings.TrimPrefix(number, "-")
	default:
		number += fmt.Sprintf("e%d", random.IntN(25)-12)
	}
	return change(quote + number + tail + quote)
}
