package csvcurve

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"unicode/utf16"

	"example.com/wheelrate/units"
)

// known counts the columns of a header that have different names, pixels left out.
func known(titles []string) int {
	names := map[string]bool{}
	for _, title := range titles[:min(len(titles), 200)] {
		if name, _ := named(title); name != "" && name != "x" && name != "y" {
			names[name] = true
		}
	}
	return len(names)
}

// telling reports whether a text has a part of a title that is known, as few others do.
func telling(text string) bool {
	text = strings.ToLower(text)
	for _, part := range [...]string{"stroke", "shock", "damper", "travel", "wheel", "lever", "px", "pixel"} {
		if strings.Contains(text, part) {
			return true
		}
	}
	return false
}

// named returns the name of the column that a title stands for, "" for none, and its unit.
func named(title string) (name, unit string) {
	if title = title[:min(len(title), 100)]; !telling(title) {
		return "", ""
	}
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool { return !(r >= 'a' && r <= 'z') })
	has := func(list ...string) bool {
		return slices.ContainsFunc(list, func(w string) bool { return slices.Contains(words, w) })
	}
	for _, part := range strings.FieldsFunc(title, func(r rune) bool { return strings.ContainsRune("()[]_,; \t\u00a0", r) }) {
		if _, err := units.Parse[units.Length]("1 " + part); err == nil {
			unit = part // the last one that is a unit: "in mm"
		}
	}
	switch {
	case has("px", "pixel", "pixels") && has("x"):
		return "x", "m"
	case has("px", "pixel", "pixels") && has("y"):
		return "y", "m"
	case has("slope", "gradient", "derivative", "change", "mean", "average", "force", "rate", "velocity", "speed", "length", "error"):
		return "", ""
	case has("lever", "leverage") && (has("ratio") || len(words) == 1):
		return "lever_ratio", "m"
	case has("stroke") || has("shock", "damper") && has("travel", "compression", "displacement"):
		return "stroke", unit
	case has("travel") || has("wheel") && has("displacement"):
		return "travel", unit
	}
	return "", ""
}

// plain reports whether a title is a name and a unit, without other words.
func plain(title, name string) bool {
	bare, _, _ := strings.Cut(strings.NewReplacer("[", "(", "_", " ").Replace(strings.ToLower(title)), "(")
	return strings.TrimSpace(bare) == strings.ReplaceAll(name, "_", " ")
}

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
