package strictjson

import (
	"bytes"
	"cmp"
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

// where returns the path of the current value: "front.air.bore", "A[0]". A name that could be
// misread as a path is quoted: front["air.bore"]. A path ends with "…" after maxPath bytes.
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
		case b.Len() > 0:
			b.WriteString("." + s.name)
		default:
			b.WriteString(s.name)
		}
	}
	return b.String()
}

// plain reports whether a name can stand in a path without quotes.
func plain(name string) bool {
	return name != "" && len(name) <= 64 && !strings.ContainsFunc(name, func(r rune) bool {
		return !unicode.IsGraphic(r) || strings.ContainsRune(` .[]"\`, r)
	})
}

// fault is what is wrong with one value, or with the text.
type fault struct {
	err    error
	marked bool   // the value became NaN
	near   string // the field that an unknown one was probably meant to be, beside it; "" for none
}

// fail records a fault of the current value, and reports whether decoding may go on.
func (d *decoder) fail(value any, want units.Want, class *units.Class) bool {
	return d.record(&units.FieldError{Package: d.pkg, Field: d.where(), Value: value, Want: want, Class: class}, 1)
}

func sentence(text string) units.Want { return units.Want{Text: text} }

// record records an error with that number of fields, and reports whether decoding may go on.
func (d *decoder) record(err error, fields int) bool {
	d.faults = append(d.faults, fault{err: err})
	if d.listed += fields; d.listed < maxFaults {
		return true
	}
	d.faults = append(d.faults, fault{err: &units.FieldError{Package: d.pkg,
		Want: units.Want{Text: fmt.Sprintf("fewer than %d faults; what follows is not listed", maxFaults)}, Class: units.ErrRange}})
	return false
}

// syntax records that the text is not JSON at d.pos, and returns false.
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

// noJSON is syntax with what was found at d.pos. Lines and the characters of a line count from 1.
func (d *decoder) noJSON(want, found string) bool {
	before := d.data[:d.pos]
	line := 1 + bytes.Count(before, []byte{'\n'})
	column := 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
	d.fail(nil, sentence(fmt.Sprintf("%s, not %s (line %d, column %d)", want, found, line, column)), units.ErrSyntax)
	return false
}

// refused records the error of a value's own UnmarshalText or UnmarshalJSON. Value is the text it
// was given, nil for UnmarshalJSON.
func (d *decoder) refused(err error, value any) bool {
	if p, ok := errors.AsType[*units.ParseError](err); ok {
		want := article(p.Kind) + " in " + p.Units() + " (" + p.Reason + ")"
		switch {
		case p.Reason == "missing unit":
			want = "a unit: " + cmp.Or(p.Ask(), p.Units())
		case len(p.Meant) > 0:
			want += "; " + p.Ask()
		}
		return d.fail(value, units.Want{Text: want, Meant: p.Meant}, p.Class)
	}
	if fields := units.Fields(err); len(fields) > 0 {
		// A text has one fault, of the value as a whole; an object has those of its fields.
		if f := fields[0]; len(fields) == 1 && (f.Field == "" || value != nil) {
			if value == nil {
				value = f.Value
			}
			return d.fail(value, f.Want, f.Class)
		}
		return d.record(units.At(d.where(), err), len(fields))
	}
	class := units.ErrSyntax
	for _, c := range []*units.Class{units.ErrRange, units.ErrUnit, units.ErrMissing, units.ErrConflict, units.ErrUnknown} {
		if errors.Is(err, c) {
			class = c
		}
	}
	return d.fail(value, sentence("another value: "+units.Clip(err.Error())), class)
}

func article(noun string) string {
	if noun != "" && strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

func quoted(text string) string { return strconv.Quote(units.Clip(text)) }
