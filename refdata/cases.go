package refdata

import (
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/wheelrate/units"
)

// SchemaName is what the "schema" of every case file says.
const SchemaName = "wheelrate/cases/1"

// Case is one check: a computation, its inputs, and its expected outputs or error. Its JSON is that of a
// case in a case file, which says file, subject, source and standing outside it.
type Case struct {
	File     string   `json:"-"` // the file it was read from
	Subject  string   `json:"-"` // of that file
	Source   Source   `json:"-"` // of its group; the zero value where none is given
	Standing Standing `json:"-"` // of its group

	ID        string                   `json:"id"`
	Computes  string                   `json:"computes"`            // such as "spring.coil"; see [Computations]
	Given     json.RawMessage          `json:"given"`               // the inputs, a JSON object
	Expect    map[string]any           `json:"expect,omitempty"`    // outputs expected: string, float64, or []any of these; nil where Error is set
	Error     []string                 `json:"error,omitempty"`     // the fields or sentinels that the refusal must name
	Tolerance map[string]CaseTolerance `json:"tolerance,omitempty"` // by output, "*" for the others
	Second    string                   `json:"second,omitempty"`    // how the values were confirmed a second way
	Note      string                   `json:"note,omitempty"`
}

// Source says where a value comes from.
type Source struct {
	Title   string `json:"title"`
	Edition string `json:"edition,omitempty"`
	Year    int    `json:"year,omitempty"`
	Where   string `json:"where,omitempty"` // page, table, example or equation
	URL     string `json:"url,omitempty"`
}

// String returns the source on one line, as in a footnote; "" for the zero value.
func (s Source) String() string {
	year := ""
	if s.Year != 0 {
		year = strconv.Itoa(s.Year)
	}
	parts := slices.DeleteFunc([]string{s.Title, s.Edition, year, s.Where, s.URL}, func(p string) bool { return p == "" })
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.Join(parts, ", "))
}

// Standing says how reliable the origin of a value is.
type Standing string

// The standings that a value may have.
const (
	Published      Standing = "published"       // a source that was read, or seen in what quotes it: title, and where in it
	Computed       Standing = "computed"        // an independent computation: program and precision
	CommonPractice Standing = "common practice" // a fact of the trade, no source
	FromMemory     Standing = "from memory"     // a published source remembered, not seen
	Definition     Standing = "definition"      // a rule of the format itself, such as that an input is refused
)

// Standings returns every standing, the most reliable first, and Definition last.
func Standings() []Standing {
	return []Standing{Published, Computed, CommonPractice, FromMemory, Definition}
}

// Check records in c what is wrong with the source of a value of that standing. The standing must
// be one of [Standings]. A published value needs a title and the place in it.
func (s Source) Check(c *units.Checker, standing Standing) {
	if !slices.Contains(Standings(), standing) {
		class := units.ErrUnknown
		if standing == "" {
			class = units.ErrMissing
		}
		c.Fail("standing", string(standing), "one of published, computed, common practice, from memory, definition", class)
	}
	if standing != Published {
		return
	}
	source := c.Child("source")
	if s.Title == "" {
		source.Fail("title", nil, "the title of the source, as its standing is published", units.ErrMissing)
	}
	if s.Where == "" {
		source.Fail("where", nil, "page, table, example or equation, as its standing is published", units.ErrMissing)
	}
}

// CaseTolerance is the permitted difference between an output and its expected value. In JSON it is
// a number, which is relative, or a string with a quantity, which is absolute.
type CaseTolerance struct {
	Relative float64 // of the expected value; ignored where Absolute is given
	Absolute string  // a quantity such as "0.5 N/mm"; a bare number for an output without unit
}

// String returns the tolerance for a report: "relative 1e-09" or "±0.5 N/mm".
func (t CaseTolerance) String() string {
	if t.Absolute != "" {
		return "±" + t.Absolute
	}
	return "relative " + strconv.FormatFloat(t.Relative, 'g', -1, 64)
}

// MarshalJSON returns what UnmarshalJSON reads.
func (t CaseTolerance) MarshalJSON() ([]byte, error) {
	if t.Absolute != "" {
		return json.Marshal(t.Absolute)
	}
	return json.Marshal(t.Relative)
}

// UnmarshalJSON reads a relative tolerance from a number, or an absolute one from a string: a
// quantity, or a number without a unit. Either must be 0 or more.
func (t *CaseTolerance) UnmarshalJSON(data []byte) error {
	var v any
	_ = json.Unmarshal(data, &v) // what is no JSON is neither
	relative, isNumber := v.(float64)
	absolute, isText := v.(string)
	if isNumber && relative >= 0 || isText && isTolerance(absolute) {
		*t = CaseTolerance{Relative: relative, Absolute: absolute}
		return nil
	}
	return &units.FieldError{Package: "refdata", Want: units.Want{Text: "a number or a quantity in a string, 0 or more"}, Class: units.ErrSyntax}
}

func isTolerance(text string) bool {
	number, unit, ok := SplitQuantity(text)
	if !ok || !(number >= 0) || math.IsInf(number, 0) {
		return false
	}
	return unit == "" || slices.ContainsFunc(quantities, func(q Quantity) bool {
		_, ok := q.Difference(text)
		return ok
	})
}

// expected is an expected output as JSON has it: a string, a number, or a list of these.
type expected struct{ value any }

func (e *expected) UnmarshalJSON(data []byte) error {
	if json.Unmarshal(data, &e.value) != nil || !isExpected(e.value) {
		return &units.FieldError{Package: "refdata", Want: units.Want{Text: "a quantity in a string, a number, or a list of these"}, Class: units.ErrSyntax}
	}
	return nil
}

func isExpected(v any) bool {
	switch v := v.(type) {
	case string, float64:
		return true
	case []any:
		return !slices.ContainsFunc(v, func(e any) bool { return !isExpected(e) })
	}
	return false
}
