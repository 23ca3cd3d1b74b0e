package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// resultsSchema is what the "schema" of a results file says.
const resultsSchema = "wheelrate/results/1"

// judge judges a case, and reports whether it was attempted.
type judge interface {
	judge(c refdata.Case) (o evaluate.Judgement, attempted bool)
	// name says whose answers are judged, "" for this library's.
	name() string
	// end is called after the last case.
	end() error
}

// library judges this library.
type library struct{}

func (library) judge(c refdata.Case) (evaluate.Judgement, bool) { return evaluate.Run(c), true }
func (library) name() string                                    { return "" }
func (library) end() error                                      { return nil }

// answer is what a program says of a case: one of the last three fields.
type answer struct {
	ID     string          `json:"id"`
	Answer json.RawMessage `json:"answer"`
	Error  *[]string       `json:"error"`
	Skip   json.RawMessage `json:"skip"`
}

// check says what is wrong with an answer, nil if nothing is.
func (a answer) check() error {
	n := 0
	for _, given := range []bool{a.Answer != nil, a.Error != nil, a.Skip != nil} {
		if given {
			n++
		}
	}
	if n != 1 {
		return fmt.Errorf("%d of answer, error and skip are given, want exactly one", n)
	}
	var outputs map[string]any
	if a.Answer != nil && (json.Unmarshal(a.Answer, &outputs) != nil || outputs == nil) {
		return errors.New("the answer is no object")
	}
	return nil
}

// judge judges a checked answer.
func (a answer) judge(c refdata.Case) (evaluate.Judgement, bool) {
	switch {
	case a.Skip != nil:
		return evaluate.Judgement{Case: c}, false
	case a.Error != nil:
		return evaluate.Judge(c, nil, evaluate.Refused(*a.Error...)), true
	}
	var outputs map[string]any
	_ = json.Unmarshal(a.Answer, &outputs) // it is an object
	return evaluate.Judge(c, evaluate.Answered(c, outputs), nil), true
}

// results are answers from a file.
type results struct {
	program string
	answers map[string]answer // that no case has asked for yet
}

// readResults reads a results file.
func readResults(file string) (*results, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, program.Where(file, err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, refdata.FileLimit+1))
	if err != nil {
		return nil, err
	}
	var in struct {
		Schema  string   `json:"schema"`
		Program string   `json:"program"`
		Results []answer `json:"results"`
	}
	bad := units.Checker{Package: "conformance"}
	if len(text) > refdata.FileLimit {
		bad.Fail("results", len(text), units.AtMost(refdata.FileLimit).Count("bytes"), nil)
		return nil, bad.Err()
	}
	if err := strictjson.Unmarshal("conformance", text, &in); err != nil {
		return nil, err
	}
	if in.Schema != resultsSchema {
		bad.Fail("schema", in.Schema, units.OneOf(resultsSchema), units.ErrUnknown)
	}
	r := &results{in.Program, make(map[string]answer, len(in.Results))}
	for i, a := range in.Results {
		own := bad.Element("results", i)
		if _, twice := r.answers[a.ID]; twice || a.ID == "" {
			own.Fail("id", a.ID, "the id of a case, once", units.ErrConflict)
		}
		if err := a.check(); err != nil {
			own.Fail("", nil, err.Error(), units.ErrConflict)
		}
		r.answers[a.ID] = a
	}
	return r, bad.Err()
}

func (r *results) judge(c refdata.Case) (evaluate.Judgement, bool) {
	a, ok := r.answers[c.ID]
	if !ok {
		return evaluate.Judgement{Case: c}, false
	}
	delete(r.answers, c.ID)
	return a.judge(c)
}

func (r *results) name() string { return r.program }

// end reports results of no case.
func (r *results) end() error {
	if len(r.answers) == 0 {
		return nil
	}
	var ids []string
	for id := range r.answers {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return fmt.Errorf("%d results are of no case, the first of %q", len(ids), ids[0])
}
