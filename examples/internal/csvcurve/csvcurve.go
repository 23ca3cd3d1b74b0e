// Package csvcurve reads the table of a leverage curve from comma-separated values, as spreadsheets
// and programs that read points off a picture write them.
package csvcurve

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

const (
	maxBytes   = 1 << 20 // far more than the longest table takes
	maxLines   = 1000    // as many as a table may have points
	mostFaults = 10      // more of them say nothing new
)

// Read reads a table as comma-separated values (RFC 4180) with a header line that names two of the
// columns stroke, travel and lever ratio, lengths with their unit:
//
//	Shock stroke (mm),Wheel travel (mm)
//	0,0
//	5,13.1
//
// A title may have other words and brackets, and "shock travel" is a stroke. Other columns are
// ignored, and so is the ratio where stroke and travel are given. Lines above the header, blank lines and
// lines that begin with # are skipped; the header may be one of these itself. A line sep=; at the
// beginning, or a semicolon or a tab in the header, is the separator of all lines. Numbers may
// have a decimal comma, in quotes where commas separate. One such as 1,234 is refused where other numbers
// have a point. The text is UTF-8, or UTF-16 with a byte order mark.
//
// Points of a picture are read where there are two more columns, x (px) and y (px). The first of the
// two named columns is along x, the second along y. Two lines, the reference points, have a number in
// all four; the others have pixels alone. Each axis has its own even scale. Without a method such a table
// is [linkage.Measured].
//
// A table has at most 1000 lines below the header and 1 MiB in all. The error names the first bad
// cells, ten or eleven at most, by their place in the table, such as travel[3], and by their line.
// Read doesn't check the values; [linkage.NewTable] does.
func Read(r io.Reader, method linkage.Method) (linkage.Table, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return linkage.Table{}, fmt.Errorf("reading a table: %w", err)
	}
	c := units.Checker{Package: "csvcurve"}
	if len(text) > maxBytes {
		c.Fail("", len(text), fmt.Sprintf("a table of at most %d bytes", maxBytes), nil)
		return linkage.Table{}, c.Err()
	}
	s := newSheet(decoded(text))
	if s.titles == nil {
		c.Fail("", nil, "a header line such as stroke (mm),travel (mm)", units.ErrMissing)
		return linkage.Table{}, c.Err()
	}
	s.choose(&c)
	s.readLines(&c)
	s.refuseMixed(&c)
	if c.OK() && len(s.pixels) > 0 {
		s.scale(&c)
		if method == "" {
			method = linkage.Measured
		}
	}
	if err := c.Err(); err != nil {
		return linkage.Table{}, err
	}
	t := linkage.Table{Method: method}
	for _, col := range s.columns {
		switch col.name {
		case "stroke":
			t.Stroke = lengthsOf(col.values)
		case "travel":
			t.Travel = lengthsOf(col.values)
		default:
			t.LeverRatio = col.values
		}
	}
	return t, nil
}

func lengthsOf(values []float64) []units.Length {
	list := make([]units.Length, len(values))
	for i, v := range values {
		list[i] = units.Length(v)
	}
	return list
}

// sheet is a table while it is read.
type sheet struct {
	reader  *csv.Reader
	titles  []string
	above   int       // lines before those of the reader
	columns []*column // two of stroke, travel and lever_ratio
	pixels  []*column // x and y, if the points are those of a picture
	point   bool      // whether a number has a decimal point
	commas  []cell    // numbers such as 1,234
}

// column is a column of a table while it is read.
type column struct {
	name, unit string
	at         int // index of its cell in each line
	values     []float64
	blank      []bool // of a column beside pixels, whether there is no number
}

// cell is a number as it stands in a line.
type cell struct {
	field, text string
	line        int
}

// newSheet finds the header, and the separator that it shows: the first line with two columns that are
// known; such a line behind a #; or else the first line of all.
func newSheet(text []byte) *sheet {
	separator := rune(0)
	if rest, ok := cutFold(text, "sep="); ok && len(rest) > 0 && len(bytes.TrimSpace(bytes.SplitN(rest, []byte("\n"), 2)[0])) <= 1 {
		separator = rune(rest[0])
		text = append([]byte("#"), text[1:]...) // skipped, and still counted
	}
	for _, commented := range [2]bool{false, true} {
		start := 0
		for above := range 50 {
			line, _, more := bytes.Cut(text[start:], []byte("\n"))
			if bytes.HasPrefix(line, []byte("#")) == commented && telling(string(line)) {
				if s := sheetAt(text[start:], above, separator, commented); s != nil && known(s.titles) > 1 {
					return s
				}
			}
			if start += len(line) + 1; !more {
				break
			}
		}
	}
	if s := sheetAt(text, 0, separator, false); s != nil {
		return s
	}
	return &sheet{}
}

// sheetAt returns the sheet whose header begins a text, or nil.
func sheetAt(text []byte, above int, separator rune, commented bool) *sheet {
	if commented {
		text = text[1:]
	}
	s := &sheet{above: above, reader: csv.NewReader(bytes.NewReader(text))}
	s.reader.Comment, s.reader.TrimLeadingSpace, s.reader.FieldsPerRecord = '#', true, -1
	header, _, _ := bytes.Cut(text, []byte("\n"))
	for _, other := range ";\t" {
		if separator == 0 && bytes.ContainsRune(header, other) {
			s.reader.Comma = other
		}
	}
	if separator == ';' || separator == '\t' {
		s.reader.Comma = separator
	}
	var err error
	if s.titles, err = s.reader.Read(); err != nil {
		return nil
	}
	return s
}

// choose finds the columns that are read.
func (s *sheet) choose(c *units.Checker) {
	found, best := map[string]*column{}, map[string]int{}
	for i, title := range s.titles {
		name, unit := named(title)
		if name == "" {
			continue
		}
		rank := 1 // a title of no other words is preferred, one with no unit is the last choice
		if unit == "" {
			rank = 0
		} else if plain(title, name) {
			rank = 2
		}
		if old := found[name]; old != nil && rank == best[name] && rank > 0 {
			c.Fail(name, title, "one column of this name", units.ErrConflict)
			return
		} else if old == nil || rank > best[name] {
			found[name], best[name] = &column{name: name, unit: unit, at: i}, rank
		}
	}
	read := []string{"stroke", "travel"}
	if ratio := found["lever_ratio"]; ratio != nil && (found["stroke"] == nil) != (found["travel"] == nil) {
		if read[1] = "lever_ratio"; found["stroke"] == nil {
			read[0] = "travel"
		}
	}
	for _, name := range read {
		if found[name] == nil {
			c.Fail(name, nil, "a column titled "+name+" (mm), or with another unit of length, or one titled lever ratio in its place", units.ErrMissing)
			continue
		}
		if s.columns = append(s.columns, found[name]); best[name] == 0 {
			c.Fail(name, s.titles[found[name].at], "a title with a unit of length, such as "+name+" (mm)", units.ErrUnit)
		}
	}
	slices.SortFunc(s.columns, func(a, b *column) int { return a.at - b.at })
	if found["x"] != nil && found["y"] != nil {
		s.pixels = []*column{found["x"], found["y"]}
	}
}

// readLines reads the lines below the header.
func (s *sheet) readLines(c *units.Checker) {
	lines := 0
	for faults := 0; c.OK() || faults > 0 && faults < mostFaults; {
		cells, err := s.reader.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if bad, ok := errors.AsType[*csv.ParseError](err); ok {
			c.Fail("", fmt.Sprintf("line %d", s.above+bad.Line), "as many cells as the header has, quotes closed", units.ErrSyntax)
			return
		}
		filled := len(cells)
		for filled > 0 && strings.TrimSpace(cells[filled-1]) == "" {
			filled--
		}
		if filled == 0 {
			continue
		}
		if lines++; lines > maxLines {
			c.Fail("", nil, units.AtMost(maxLines).Count("lines below the header"), nil)
			return
		}
		last := 0
		for _, col := range slices.Concat(s.columns, s.pixels) {
			last = max(last, col.at)
		}
		if line, _ := s.reader.FieldPos(0); filled > len(s.titles) || len(cells) <= last {
			c.Fail("", fmt.Sprintf("line %d", s.above+line), "as many cells as the header has, quotes closed", units.ErrSyntax)
			return
		}
		for _, col := range s.columns {
			if !s.add(c, col, cells, len(s.pixels) > 0) {
				faults++
			}
		}
		for _, col := range s.pixels {
			if !s.add(c, col, cells, false) {
				faults++
			}
		}
	}
}

// add appends the column's cell of a line, and reports whether it is a number, or may be blank and is.
func (s *sheet) add(c *units.Checker, col *column, cells []string, mayBeBlank bool) bool {
	text := strings.TrimSpace(cells[col.at])
	number := text
	line, _ := s.reader.FieldPos(col.at)
	at := cell{fmt.Sprintf("%s[%d]", col.name, len(col.values)), text, s.above + line}
	col.blank = append(col.blank, text == "")
	if text == "" && mayBeBlank {
		col.values = append(col.values, 0)
		return true
	}
	s.point = s.point || strings.Contains(text, ".")
	if whole, part, ok := strings.Cut(text, ","); ok && !strings.ContainsAny(part, ",") && !strings.Contains(text, ".") {
		number = whole + "." + part
		if whole = strings.TrimLeft(whole, "+-"); len(part) == 3 && whole != "" && whole != "0" && len(s.commas) < mostFaults {
			s.commas = append(s.commas, at)
		}
	}
	v, err := units.Parse[units.Length](number + " " + col.unit)
	col.values = append(col.values, float64(v))
	if err != nil || number == "" {
		c.Fail(at.field, text, fmt.Sprintf("a number, in line %d", at.line), units.ErrSyntax)
		return false
	}
	return true
}

// refuseMixed refuses numbers such as 1,234 where others have a decimal point.
func (s *sheet) refuseMixed(c *units.Checker) {
	if !s.point {
		return
	}
	for _, at := range s.commas {
		c.Fail(at.field, at.text, fmt.Sprintf("a decimal point as in other lines, or no separator of thousands, in line %d", at.line), units.ErrSyntax)
	}
}
