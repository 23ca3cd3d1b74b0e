package refdata

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// SchemaName is what the "schema" of every case file says.
const SchemaName = "wheelrate/cases/1"

// Case is one check: what is computed, from what, and what must come out.
type Case struct {
	File     string   // the file it was read from
	Subject  string   // of that file, as far as it was read before the case
	Source   Source   // of its group; the zero value where none is given
	Standing Standing // of its group

	ID        string
	Computes  string                   // such as "spring.coil"; see [Computations]
	Given     json.RawMessage          // the inputs, a JSON object
	Expect    map[string]any           // outputs expected: string, float64, or []any of these; nil where Error is set
	Error     []string                 // the fields or sentinels that the refusal must name
	Tolerance map[string]CaseTolerance // by output, "*" for the others
	Second    string                   // how the values were confirmed a second way
	Note      string
}

// Source says where the values of a group of cases come from.
type Source struct {
	Title   string `json:"title"`
	Edition string `json:"edition,omitempty"`
	Year    int    `json:"year,omitempty"`
	Where   string `json:"where,omitempty"` // page, table, example or equation
	URL     string `json:"url,omitempty"`
}

// String gives the source on one line, as a footnote would; "" for none.
func (s Source) String() string {
	var parts []string
	for _, p := range []string{s.Title, s.Edition, yearText(s.Year), s.Where, s.URL} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, ", ")
}

func yearText(year int) string {
	if year == 0 {
		return ""
	}
	return strconv.Itoa(year)
}

// Standing is how much a value's origin is worth.
type Standing string

// The four standings a value may have.
const (
	Published      Standing = "published"       // a source that was seen: title, and where in it
	Computed       Standing = "computed"        // an independent computation: program and precision
	CommonPractice Standing = "common practice" // a fact of the trade, no source
	FromMemory     Standing = "from memory"     // a published source remembered, not seen
)

// Standings lists the four, the best first.
func Standings() []Standing { return []Standing{Published, Computed, CommonPractice, FromMemory} }

// check says what is wrong with where a value comes from: the standing must
// be one of the four, and a published value must say where it was published.
func (s Source) check(c *units.Checker, standing Standing) {
	if !slices.Contains(Standings(), standing) {
		class := units.ErrUnknown
		if standing == "" {
			class = units.ErrMissing
		}
		c.Fail("standing", string(standing), "one of published, computed, common practice, from memory", class)
	}
	if standing != Published {
		return
	}
	if s.Title == "" {
		c.Fail("source.title", nil, "the title of the source, as its standing is published", units.ErrMissing)
	}
	if s.Where == "" {
		c.Fail("source.where", nil, "page, table, example or equation, as its standing is published", units.ErrMissing)
	}
}

// CaseTolerance is how far an output may be from what is expected.
type CaseTolerance struct {
	Relative float64 // of the expected value; not looked at where Absolute is given
	Absolute string  // a quantity such as "0.5 N/mm"; a bare number for an output without unit
}

// defaultTolerance holds where a case says nothing.
var defaultTolerance = CaseTolerance{Relative: 1e-9}

// String gives the tolerance as a reader expects it.
func (t CaseTolerance) String() string {
	if t.Absolute != "" {
		return "±" + t.Absolute
	}
	return "relative " + strconv.FormatFloat(t.Relative, 'g', -1, 64)
}

// readTolerance reads a number as relative, a string as absolute.
func readTolerance(data []byte) (CaseTolerance, bool) {
	data = bytes.TrimSpace(data)
	if len(data) > 0 && data[0] == '"' {
		var text string
		if json.Unmarshal(data, &text) != nil || !isTolerance(text) {
			return CaseTolerance{}, false
		}
		return CaseTolerance{Absolute: text}, true
	}
	var relative float64
	if len(data) == 0 || data[0] == 'n' || json.Unmarshal(data, &relative) != nil || !(relative >= 0) {
		return CaseTolerance{}, false
	}
	return CaseTolerance{Relative: relative}, true
}

// isTolerance tells whether text is a difference of any quantity, or a bare
// number, that is not negative.
func isTolerance(text string) bool {
	number, unit, ok := SplitQuantity(text)
	if !ok || !(number >= 0) || math.IsInf(number, 0) {
		return false
	}
	if unit == "" {
		return true
	}
	for i := range quantities {
		if _, ok := quantities[i].Difference(text); ok {
			return true
		}
	}
	return false
}
