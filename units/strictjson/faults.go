package strictjson

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// step is one step of a path: a name or an index.
type step struct {
	name    string
	index   int
	isIndex bool
}

// where prints the path of the value at hand: "front.air.bore", "A[0]". A
// name that could be misread as a path is quoted: front["air.bore"]. A path of
// more than maxPath bytes, as only names of the input make, ends early.
func (d *decoder) where() string {
	var b strings.Builder
	for _, s := range d.path {
		switch {
		case b.Len() > maxPath:
			b.WriteString("…")
			return b.String()
		case s.isIndex:
			b.WriteString("[" + strconv.Itoa(s.index) + "]")
		case !plain(s.name):
			b.WriteString("[" + quoted(s.name) + "]")
		default:
			if b.Len() > 0 {
				b.WriteByte('.')
			}
			b.WriteString(s.name)
		}
	}
	return b.String()
}

// plain reports whether a name can stand in a path as it is.
func plain(name string) bool {
	if name == "" || len(name) > maxQuoted {
		return false
	}
	for _, r := range name {
		if !unicode.IsGraphic(r) || strings.ContainsRune(` .[]"\`, r) {
			return false
		}
	}
	return true
}

// fail records a fault of the value at hand. It reports whether more may be
// listed.
func (d *decoder) fail(value any, want string, class error) bool {
	return d.record(&units.FieldError{Package: d.pkg, Field: d.where(), Value: value, Want: want, Class: class}, 1)
}

// record lists an error that names this many fields.
func (d *decoder) record(err error, fields int) bool {
	d.faults = append(d.faults, err)
	d.lasting++
	if d.listed += fields; d.listed < maxFaults {
		return true
	}
	d.faults = append(d.faults, &units.FieldError{Package: d.pkg,
		Want: fmt.Sprintf("fewer than %d faults; what follows is not listed", maxFaults), Class: units.ErrRange})
	return false
}

// syntax records that the text is no JSON at pos. Reading can't go on.
func (d *decoder) syntax(want string) bool {
	found := "the end of the text"
	if d.pos < len(d.data) {
		r, size := utf8.DecodeRune(d.data[d.pos:])
		switch {
		case r == utf8.RuneError && size == 1:
			found = fmt.Sprintf("the byte 0x%02x", d.data[d.pos])
		case r == '\ufeff':
			found = "a byte order mark"
		default:
			found = strconv.QuoteRune(r)
		}
	}
	return d.noJSON(want, found)
}

// noJSON is syntax for what was found at pos.
func (d *decoder) noJSON(want, found string) bool {
	line, column := d.position()
	d.fail(nil, fmt.Sprintf("%s, not %s (line %d, column %d)", want, found, line, column), units.ErrSyntax)
	return false
}

// position counts the line and the character in it, both from 1.
func (d *decoder) position() (line, column int) {
	before := d.data[:d.pos]
	start := bytes.LastIndexByte(before, '\n') + 1
	return 1 + bytes.Count(before, []byte{'\n'}), 1 + utf8.RuneCount(before[start:])
}

// classes are the sentinels that an UnmarshalText may wrap.
var classes = [...]error{units.ErrRange, units.ErrUnit, units.ErrMissing, units.ErrConflict, units.ErrUnknown}

// refused records the error of a value's own UnmarshalText or UnmarshalJSON, if
// there is one; value is what it was given.
func (d *decoder) refused(err error, value any) bool {
	if err == nil {
		return true
	}
	if p, ok := errors.AsType[*units.ParseError](err); ok {
		return d.fail(value, kindIn(p)+" ("+p.Reason+")", p.Class)
	}
	if fields := units.Fields(err); len(fields) > 0 {
		// A text has one fault, of the value as a whole; an object has those of
		// its fields.
		if f := fields[0]; len(fields) == 1 && (f.Field == "" || value != nil) {
			if value == nil {
				value = f.Value
			}
			return d.fail(value, f.Want, f.Class)
		}
		return d.record(units.At(d.where(), err), len(fields))
	}
	class := units.ErrSyntax
	for _, c := range classes {
		if errors.Is(err, c) {
			class = c
		}
	}
	return d.fail(value, "another value: "+clipped(err.Error()), class)
}

// kindIn says "a length in one of mm, cm, m, in, ft".
func kindIn(p *units.ParseError) string {
	if !strings.Contains(p.Want, ", ") {
		return article(p.Kind) + " in " + p.Want
	}
	return article(p.Kind) + " in one of " + p.Want
}

func article(noun string) string {
	if noun != "" && strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

// clipped cuts a text that came from the input.
func clipped(text string) string {
	if len(text) <= maxQuoted {
		return text
	}
	cut := maxQuoted
	for cut > maxQuoted-utf8.UTFMax && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
}

func quoted(text string) string { return strconv.Quote(clipped(text)) }
