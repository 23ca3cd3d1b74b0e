package refdata

import "encoding/json"

// Case is one check: what is computed, from what, and what must come out.
type Case struct {
	File     string // the file it was read from
	Subject  string // of that file
	Source   *Source
	Standing Standing

	ID       string
	Computes string          // such as "spring.coil"
	Given    json.RawMessage // the inputs, a JSON object
	Expect   map[string]any  // the outputs expected: text, number or list of these; nil where Error is set
	Error    []string        // the fields or sentinels that the error must name
	Second   string          // how the values were confirmed a second way
	Note     string
}

// Source says where the values of a group of cases come from.
type Source struct {
	Title   string `json:"title"`
	Edition string `json:"edition,omitempty"`
	Year    int    `json:"year,omitempty"`
	Where   string `json:"where,omitempty"` // page, table, example or equation
	URL     string `json:"url,omitempty"`
}

// Standing is how much a value's origin is worth.
type Standing string

// The four standings a group of cases may have.
const (
	Published      Standing = "published"       // a source that was seen, with edition, page, example
	Computed       Standing = "computed"        // an independent computation, with program and precision
	CommonPractice Standing = "common practice" // a fact of the trade, no source
	FromMemory     Standing = "from memory"     // a published source remembered, not seen
)
