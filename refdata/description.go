package refdata

import (
	"encoding/json"
	"slices"
	"sync"
)

// Description says what a program in another language must know of a computation, or of a form: an
// object that inputs are made of. A form has no outputs.
type Description struct {
	Name        string          `json:"name"`
	About       string          `json:"about"`
	Includes    []string        `json:"includes,omitempty"` // forms whose fields are inputs too
	Inputs      []Field         `json:"inputs"`
	OneOf       []OneOf         `json:"one_of,omitempty"`
	Outputs     []Field         `json:"outputs,omitempty"`
	Method      []string        `json:"method,omitempty"`
	Conventions []string        `json:"conventions,omitempty"` // what two careful people could choose differently
	Refusals    []string        `json:"refusals,omitempty"`    // which field an error names
	Sources     []string        `json:"sources,omitempty"`
	Tables      json.RawMessage `json:"tables,omitempty"` // of numbers: title, columns and rows of each
}

// Field is an input or an output.
type Field struct {
	Name  string `json:"name"`
	Kind  string `json:"kind"`            // one of [Quantities]; number, integer, text or flag; or the name of a form
	List  bool   `json:"list,omitempty"`  // whether it is a list of values
	Least int    `json:"least,omitempty"` // length of the list, at least
	Count int    `json:"count,omitempty"` // of a list of that very length
	Map   bool   `json:"map,omitempty"`   // whether it is an object by names of the user's
	About string `json:"about"`

	Choices []string  `json:"choices,omitempty"` // of a text
	Range   *Interval `json:"range,omitempty"`
	LeftOut string    `json:"left_out,omitempty"` // what holds without the input; "" where it is needed
	// NeededWith is an input beside which it is needed all the same; NeededWithout are those of which one
	// at least is given without it.
	NeededWith    string   `json:"needed_with,omitempty"`
	NeededWithout []string `json:"needed_without,omitempty"`
	ZeroIsNone    bool     `json:"zero_is_left_out,omitempty"` // whether 0 counts as left out

	Formula string `json:"formula,omitempty"` // of an output
	When    string `json:"when,omitempty"`    // when an output is given; "" for always
}

// Interval is a range of values in SI. A bound that is nil does not bind.
type Interval struct {
	From  *float64 `json:"from,omitempty"`
	Over  *float64 `json:"over,omitempty"` // the bound itself is outside, as of Below
	To    *float64 `json:"to,omitempty"`
	Below *float64 `json:"below,omitempty"`
}

// OneOf is a set of inputs of which exactly one is given.
type OneOf struct {
	Of    []string `json:"of"`
	None  string   `json:"none"` // the field that is named where none is given; "" for the object itself
	About string   `json:"about"`
}

// Forms returns the description of every form, by its name. The result must not be changed.
func Forms() map[string]Description { return described().forms }

// Computations returns the names that a case's "computes" may have, by the files that describe them. Package
// evaluate runs them. The result is a copy.
func Computations() []string { return slices.Clone(described().names) }

// Describe returns the description of a computation, and reports whether there is one. The result must not
// be changed. The files description/*.json of [Data] have it too, with the sections on the format as a
// whole and the units of every quantity; DESCRIPTION.md is the same to read.
func Describe(computation string) (Description, bool) {
	d, ok := described().computations[computation]
	return d, ok
}

// Fields returns the inputs with those of the forms that are included. Of two with one name the own one
// counts.
func (d Description) Fields() []Field {
	list := slices.Clone(d.Inputs)
	for _, name := range d.Includes {
		for _, f := range Forms()[name].Fields() {
			if !slices.ContainsFunc(list, func(own Field) bool { return own.Name == f.Name }) {
				list = append(list, f)
			}
		}
	}
	return list
}

var described = sync.OnceValue(func() (all struct {
	forms, computations map[string]Description
	names               []string // of the computations, in order
}) {
	all.forms, all.computations = make(map[string]Description), make(map[string]Description)
	files, _ := data.ReadDir("data/description") // which is part of the program
	for _, entry := range files {
		file := parse[struct {
			Schema       string          `json:"schema"`
			Title        string          `json:"title"`
			Sections     json.RawMessage `json:"sections"`
			Quantities   json.RawMessage `json:"quantities"`
			Forms        []Description   `json:"forms"`
			Computations []Description   `json:"computations"`
		}](data.ReadFile("data/description/" + entry.Name()))
		for _, d := range file.Forms {
			all.forms[d.Name] = d
		}
		for _, d := range file.Computations {
			all.computations[d.Name], all.names = d, append(all.names, d.Name)
		}
	}
	return all
})
