// Package door answers questions that are asked as JSON, for programs in other languages.
//
// A question is an object of one of four forms:
//
//	{"computation": "spring.coil", "given": {…}}  → {"answer": {…}}
//	{"job": {…}}                                  → {"sheet": {…}}
//	{"convert": ["25.4 mm", …], "unit": "in"}     → {"numbers": [1, …]}
//	{"version": true}                             → {"version": {…}}
//
// A computation is one of the dataset's, with the inputs and outputs of its description; see package
// refdata. A job and its sheet are those of package setup. What can't be answered is {"faults": […]}, a
// [Fault] for every bad field.
//
// In answers and sheets a quantity is a text with its unit. It is in whichever unit of its kind keeps all
// digits, so a program that wants a number asks for it in the unit that it wants.
package door

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"unicode/utf8"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Limit is the largest question, in bytes.
const Limit = 1 << 20

// Library is the version of the library, the newest of the README's changelog.
const Library = "0.1.0"

// Version says what answers.
type Version struct {
	Library      string   `json:"library"`
	Dataset      string   `json:"dataset"` // that the computations are those of
	Job          string   `json:"job"`     // schema of the jobs that are read
	Computations []string `json:"computations"`
}

// errDefect is the class of a panic.
var errDefect = units.NewClass("defect", "defect of the library", nil)

// reply is the answer to a question: one of its fields.
type reply struct {
	Answer  any                 `json:"answer,omitempty"` // an evaluate.Result, which is there even if empty
	Sheet   *setup.Sheet        `json:"sheet,omitempty"`
	Version *Version            `json:"version,omitempty"`
	Numbers any                 `json:"numbers,omitempty"` // a []float64, likewise
	Faults  []*units.FieldError `json:"faults,omitempty"`
}

// Answer returns the reply to a question, both JSON in UTF-8. It never panics, keeps nothing of what it is
// asked, and may be called from several goroutines.
func Answer(question []byte) []byte {
	return guard(func() (reply, error) { return answer(question) })
}

// guard returns a reply as text, and reports a panic as a fault.
func guard(work func() (reply, error)) (text []byte) {
	defer func() {
		if p := recover(); p != nil {
			text = encode(reply{Faults: units.Faults(fmt.Errorf("%w: %v", errDefect, p))})
		}
	}()
	r, err := work()
	if err != nil {
		r = reply{Faults: units.Faults(err)}
	}
	return encode(r)
}

func encode(r reply) []byte {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	if err := e.Encode(r); err != nil { // no answer of the library is known to do this
		panic(err)
	}
	return bytes.TrimSuffix(text.Bytes(), []byte("\n"))
}

func answer(question []byte) (r reply, err error) {
	c := units.Checker{Package: "door"}
	switch {
	case len(question) > Limit:
		c.Fail("", len(question), units.AtMost(Limit).Count("bytes"), units.ErrRange)
		return r, c.Err()
	case !utf8.Valid(question):
		c.Fail("", nil, "JSON in UTF-8", units.ErrSyntax)
		return r, c.Err()
	}
	var q struct {
		Computation *string         `json:"computation"`
		Given       json.RawMessage `json:"given"`
		Job         json.RawMessage `json:"job"`
		Convert     []string        `json:"convert"`
		Unit        *string         `json:"unit"`
		Version     bool            `json:"version"`
	}
	if err := strictjson.Unmarshal("door", question, &q); err != nil {
		return r, err
	}
	var asked []func() error
	if q.Computation != nil || q.Given != nil {
		asked = append(asked, func() (err error) { r.Answer, err = compute(&c, q.Computation, q.Given); return err })
	}
	if q.Job != nil {
		asked = append(asked, func() (err error) { r.Sheet, err = sheet(q.Job); return err })
	}
	if q.Convert != nil || q.Unit != nil {
		asked = append(asked, func() (err error) { r.Numbers, err = convert(&c, q.Convert, q.Unit); return err })
	}
	if q.Version {
		r.Version = &Version{Library, refdata.Version(), setup.JobSchema, evaluate.Computations()}
		asked = append(asked, func() error { return nil })
	}
	if len(asked) != 1 {
		class := units.ErrMissing
		if len(asked) > 1 {
			class = units.ErrConflict
		}
		c.Fail("", nil, "one of computation with given, job, convert with unit, and version of true", class)
		return r, c.Err()
	}
	err = asked[0]()
	return r, err
}

func compute(c *units.Checker, computation *string, given json.RawMessage) (evaluate.Result, error) {
	switch {
	case computation == nil:
		c.Fail("computation", nil, "the name of a computation", units.ErrMissing)
	case !slices.Contains(evaluate.Computations(), *computation):
		c.Fail("computation", units.Clip(*computation), "one of the computations that version lists", units.ErrUnknown)
	}
	if given == nil {
		c.Fail("given", nil, "the inputs of the computation", units.ErrMissing)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	return evaluate.Compute(refdata.Case{Computes: *computation, Given: given})
}

func sheet(text []byte) (*setup.Sheet, error) {
	job, err := setup.ReadJob(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return setup.NewSheet(job)
}
