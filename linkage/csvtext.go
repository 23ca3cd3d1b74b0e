package linkage

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"

	"example.com/wheelrate/units"
)

// scale makes values of the pixels by the two reference points, which it takes away.
func (s *sheet) scale(c *units.Checker) {
	var references, points []int
	a, b := s.columns[0], s.columns[1]
	for i := range a.values {
		switch {
		case a.blank[i] != b.blank[i]:
			c.Fail(fmt.Sprintf("%s[%d]", a.name, i), nil, "a number in both columns, of a reference point, or in none", units.ErrConflict)
		case a.blank[i]:
			points = append(points, i)
		default:
			references = append(references, i)
		}
	}
	if len(references) != 2 {
		c.Fail("", len(references), "two reference points, whose lines have numbers beside the pixels", units.ErrConflict)
	}
	if !c.OK() {
		return
	}
	from, to := references[0], references[1]
	for k, col := range s.columns {
		pixel := s.pixels[k].values
		per := (col.values[to] - col.values[from]) / (pixel[to] - pixel[from])
		if col.values[to] == col.values[from] || pixel[to] == pixel[from] {
			c.Fail(s.pixels[k].name, pixel[to], "reference points apart in pixels and in value, along x and along y", units.ErrConflict)
			continue
		}
		values := make([]float64, 0, len(points))
		for _, i := range points {
			values = append(values, col.values[from]+(pixel[i]-pixel[from])*per)
		}
		col.values = values
	}
}

// decoded returns a text as UTF-8 without a byte order mark.
func decoded(text []byte) []byte {
	switch {
	case bytes.HasPrefix(text, []byte("\xff\xfe")):
		return utf16Text(text[2:], binary.LittleEndian)
	case bytes.HasPrefix(text, []byte("\xfe\xff")):
		return utf16Text(text[2:], binary.BigEndian)
	}
	return bytes.TrimPrefix(text, []byte("\ufeff"))
}

func utf16Text(text []byte, order binary.ByteOrder) []byte {
	list := make([]uint16, len(text)/2)
	for i := range list {
		list[i] = order.Uint16(text[2*i:])
	}
	return []byte(string(utf16.Decode(list)))
}

// cutFold cuts a prefix in capitals or small letters.
func cutFold(text []byte, prefix string) (rest []byte, ok bool) {
	if len(text) < len(prefix) || !strings.EqualFold(string(text[:len(prefix)]), prefix) {
		return text, false
	}
	return text[len(prefix):], true
}
