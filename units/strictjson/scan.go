package strictjson

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// peek returns the current byte, 0 at the end.
func (d *decoder) peek() byte {
	if d.pos < len(d.data) {
		return d.data[d.pos]
	}
	return 0
}

// space skips white space.
func (d *decoder) space() {
	for c := d.peek(); c == ' ' || c == '\n' || c == '\t' || c == '\r'; c = d.peek() {
		d.pos++
	}
}

// scalar reads a string, a number or one of the words true, false and null. Kind is '"', '0', 't', 'f'
// or 'n'. It is 0, and no fault is recorded, if none of these begins at d.pos.
func (d *decoder) scalar() (kind byte, text string, ok bool) {
	switch c := d.peek(); {
	case c == '"':
		text, ok = d.text()
		return c, text, ok
	case c == '-' || '0' <= c && c <= '9':
		text, ok = d.number()
		return '0', text, ok
	default:
		for _, word := range []string{"true", "false", "null"} {
			if bytes.HasPrefix(d.data[d.pos:], []byte(word)) {
				d.pos += len(word)
				return c, word, true
			}
		}
	}
	return 0, "", false
}

// number reads a JSON number and returns its text.
func (d *decoder) number() (string, bool) {
	end := d.pos
	for end < len(d.data) && strings.IndexByte("+-.0123456789eE", d.data[end]) >= 0 {
		end++
	}
	text := d.data[d.pos:end]
	if !json.Valid(text) {
		return "", d.noJSON("a number such as -0.5 or 12e3", units.Clip(string(text)))
	}
	d.pos = end
	return string(text), true
}

// text reads a JSON string and returns its value. Invalid UTF-8 is a fault; encoding/json would
// replace it.
func (d *decoder) text() (string, bool) {
	d.pos++ // the opening quote
	var b strings.Builder
	start := d.pos // of what b lacks so far
	for {
		switch c := d.peek(); {
		case c == '"':
			b.Write(d.data[start:d.pos])
			d.pos++
			return b.String(), true
		case c == '\\':
			b.Write(d.data[start:d.pos])
			r, ok := d.escape()
			if !ok {
				return "", false
			}
			b.WriteRune(r)
			start = d.pos
		case c < ' ':
			if d.pos == len(d.data) {
				return "", d.syntax("a closing double quote")
			}
			return "", d.syntax(`a string with no control character in it (a new line is \n)`)
		case c < utf8.RuneSelf:
			d.pos++
		default:
			r, size := utf8.DecodeRune(d.data[d.pos:])
			if r == utf8.RuneError && size == 1 {
				return "", d.syntax("text in UTF-8")
			}
			d.pos += size
		}
	}
}

// escape reads an escape sequence of a string.
func (d *decoder) escape() (rune, bool) {
	d.pos++ // the backslash
	c := d.peek()
	if i := strings.IndexByte(`"\/bfnrt`, c); i >= 0 {
		d.pos++
		return rune("\"\\/\b\f\n\r\t"[i]), true
	}
	if c != 'u' {
		return 0, d.syntax(`one of " \ / b f n r t u after a backslash`)
	}
	d.pos++
	r, ok := d.hex()
	if !ok || !utf16.IsSurrogate(r) {
		return r, ok
	}
	if bytes.HasPrefix(d.data[d.pos:], []byte(`\u`)) {
		d.pos += 2
		second, ok := d.hex()
		if !ok {
			return 0, false
		}
		if pair := utf16.DecodeRune(r, second); pair != utf8.RuneError {
			return pair, true
		}
	}
	return 0, d.syntax("surrogates in pairs")
}

// hex reads four hexadecimal digits.
func (d *decoder) hex() (rune, bool) {
	if len(d.data)-d.pos >= 4 {
		// ParseUint takes no sign, and no underscore where the base is given.
		if r, err := strconv.ParseUint(string(d.data[d.pos:d.pos+4]), 16, 16); err == nil {
			d.pos += 4
			return rune(r), true
		}
	}
	return 0, d.syntax(`four hexadecimal digits after \u`)
}
