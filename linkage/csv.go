package linkage

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

const maxCSV = 1 << 20 // bytes, far more than the longest table takes

// ReadCSV reads a table of strokes and wheel travels as comma-separated values
// (RFC 4180) with a header line that names the columns with their unit:
//
//	stroke (mm),travel (mm)
//	0,0
//	5,13.1
//
// The unit may also be in square brackets. Columns with other names are ignored. If the header
// contains a semicolon or a tab, that is the separator of all lines, and numbers may have a decimal
// comma. Both columns are required, and their cells must be plain numbers. A table has at most 1000
// lines below the header and 1 MiB in all. The error names the first bad cells, ten or eleven at
// most, by their place in the table, such as travel[3], and by their line. ReadCSV doesn't check
// the values; [NewTable] does.
func ReadCSV(r io.Reader, method Method) (Table, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxCSV+1))
	if err != nil {
		return Table{}, fmt.Errorf("linkage: reading a table: %w", err)
	}
	c := units.Checker{Package: "linkage"}
	if len(text) > maxCSV {
		c.Fail("", len(text), fmt.Sprintf("a table of at most %d bytes", maxCSV), nil)
		return Table{}, c.Err()
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // as spreadsheets put before UTF-8
	reader := csv.NewReader(bytes.NewReader(text))
	header, _, _ := bytes.Cut(text, []byte("\n"))
	for _, separator := range ";\t" {
		if bytes.ContainsRune(header, separator) {
			reader.Comma = separator
		}
	}
	reader.TrimLeadingSpace = true
	titles, err := reader.Read()
	if err != nil {
		c.Fail("", nil, "a header line such as stroke (mm),travel (mm)", units.ErrMissing)
		return Table{}, c.Err()
	}
	stroke, travel := newColumn(&c, titles, "stroke"), newColumn(&c, titles, "travel")
	const mostFaults = 10 // more of them say nothing new
	for faults := 0; c.OK() || faults > 0 && faults < mostFaults; {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if bad, ok := errors.AsType[*csv.ParseError](err); ok {
			c.Fail("", fmt.Sprintf("line %d", bad.Line), "as many cells as the header has, quotes closed", units.ErrSyntax)
			break
		}
		if len(stroke.values) == maxPoints {
			c.Fail("", nil, fmt.Sprintf("at most %d lines below the header", maxPoints), nil)
			break
		}
		for _, column := range []*column{stroke, travel} {
			line, _ := reader.FieldPos(column.at)
			if !column.add(&c, cells, line, reader.Comma != ',') {
				faults++
			}
		}
	}
	if err := c.Err(); err != nil {
		return Table{}, err
	}
	return Table{Stroke: stroke.values, Travel: travel.values, Method: method}, nil
}

// column is a column of a table while it is read.
type column struct {
	name, unit string
	at         int // index of its cell in each line
	values     []units.Length
}

// newColumn finds a column by its title, such as "stroke (mm)" or "stroke [mm]".
func newColumn(c *units.Checker, titles []string, name string) *column {
	col := &column{name: name, at: -1}
	const spaces = `[\s\v\x{85}\pZ]*` // for each space of the pattern
	pattern := `(?i)^ ` + name + ` (?:\( ([^(\[]*?) \)|\[ ([^(\[]*?) \])? $`
	title := regexp.MustCompile(strings.ReplaceAll(pattern, " ", spaces))
	for i, cell := range titles {
		parts := title.FindStringSubmatch(cell)
		if parts == nil {
			continue
		}
		if col.at >= 0 {
			c.Fail(name, cell, "one column of this name", units.ErrConflict)
			return col
		}
		col.at, col.unit = i, parts[1]+parts[2]
		if _, err := units.Parse[units.Length]("1 " + col.unit); err != nil {
			c.Fail(name, cell, "a title with a unit of length, such as "+name+" (mm)", units.ErrUnit)
		}
	}
	if col.at < 0 {
		c.Fail(name, nil, "a column titled "+name+" (mm), or with another unit of length", units.ErrMissing)
	}
	return col
}

// add appends the column's cell of a line, and reports whether it is a number.
func (col *column) add(c *units.Checker, cells []string, line int, decimalComma bool) bool {
	cell := strings.TrimSpace(cells[col.at])
	number := cell
	if decimalComma && strings.Count(cell, ",") == 1 && !strings.Contains(cell, ".") {
		number = strings.Replace(cell, ",", ".", 1)
	}
	v, err := units.Parse[units.Length](number + " " + col.unit)
	if err != nil || number == "" {
		c.Fail(fmt.Sprintf("%s[%d]", col.name, len(col.values)), cell, fmt.Sprintf("a number, in line %d", line), units.ErrSyntax)
	}
	col.values = append(col.values, v)
	return err == nil
}

// WriteCSV writes a header and n lines of a curve at even steps of the stroke:
// stroke and travel in mm, lever ratio, and its slope in 1/m, each with as many
// digits as identify the float64. An n below 2 counts as 2. [ReadCSV] reads the
// table back if n is at most 1000.
func WriteCSV(w io.Writer, c *Curve, n int) error {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	lines := [][]string{{"stroke (mm)", "travel (mm)", "lever ratio", "lever ratio slope (1/m)"}}
	for s := range c.Samples(max(n, 2)) {
		lines = append(lines, []string{
			number(float64(s.Stroke / units.Millimetre)), number(float64(s.Travel / units.Millimetre)),
			number(s.LeverRatio), number(float64(s.LeverRatioSlope)),
		})
	}
	if err := csv.NewWriter(w).WriteAll(lines); err != nil {
		return fmt.Errorf("linkage: writing a table: %w", err)
	}
	return nil
}

// Table returns n points of a curve at even steps of its stroke. An n below 2 counts as 2.
// With the method [Smooth] and about a point per millimetre, the curve of the table is
// within 0.0001 mm of travel and 0.0001 of lever ratio for usual linkages.
func (c *Curve) Table(n int, method Method) Table {
	t := Table{Method: method}
	for s := range c.Samples(max(n, 2)) {
		t.Stroke, t.Travel = append(t.Stroke, s.Stroke), append(t.Travel, s.Travel)
	}
	return t
}

// Positions are readings of the shock's length, eye to eye, and of the axle's height above
// the floor, from which strokes and travels follow. The first is at full extension, the
// next ones with the wheel lifted step by step, the shock removed or its spring unloaded.
//
// Support the bike so that it can't fall. A shock under air pressure or a compressed spring
// can injure: release it as the shock's manual says before removing anything.
type Positions struct {
	ShockLength []units.Length `json:"shock_length"` // falling strictly
	AxleHeight  []units.Length `json:"axle_height"`  // rising strictly
}

// Readings returns the strokes and travels: by how much the shock is shorter and the axle
// higher than at full extension. Both lists must have 2 to 1000 values, shock lengths from
// 1 µm to 1 km, axle heights from −1 km to 1 km. The error names every bad value. The strokes and
// travels are checked by [FitReadings].
//
// The error of the first reading is part of every stroke and travel, so read it twice.
func (p Positions) Readings() (Table, error) {
	c := units.Checker{Package: "linkage"}
	check := func(name string, column []units.Length, least units.Length) {
		if n := len(column); n < 2 || n > maxPoints {
			c.Fail(name, n, fmt.Sprintf("from 2 to %d values", maxPoints), nil)
			return
		}
		for i, v := range column {
			units.Between(&c, fmt.Sprintf("%s[%d]", name, i), v, least, maxLength)
		}
	}
	check("shock_length", p.ShockLength, minLength)
	check("axle_height", p.AxleHeight, -maxLength)
	if c.OK() && len(p.AxleHeight) != len(p.ShockLength) {
		c.Fail("axle_height", len(p.AxleHeight), fmt.Sprintf("as many values as shock_length has, %d", len(p.ShockLength)), units.ErrConflict)
	}
	if err := c.Err(); err != nil {
		return Table{}, err
	}
	r := Table{Stroke: slices.Clone(p.ShockLength), Travel: slices.Clone(p.AxleHeight), Method: Measured}
	for i := range r.Stroke {
		r.Stroke[i] = p.ShockLength[0] - p.ShockLength[i]
		r.Travel[i] = p.AxleHeight[i] - p.AxleHeight[0]
	}
	return r, nil
}
