package linkage

import (
	"strings"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Spec describes a curve in one of several ways, of which exactly one is given. As JSON:
//
//	{"constant": 2.6, "travel": "150 mm"}
//	{"fork": {"head_angle": "64 deg", "travel": "170 mm"}}
//	{"table": {"stroke": ["0 mm", …], "travel": ["0 mm", …], "method": "monotone"}}
//	{"mechanism": {"points": {…}, "bodies": {…}, "axle": "A", "shock": ["S1", "S2"], "stroke": "57.5 mm"}}
//
// The travel beside a constant is the wheel's vertical one, that of a fork is along
// the stanchions. [Kinds] lists the ways.
type Spec struct {
	*ConstantRatio                 // nil unless given, as the others are; its fields stand in the JSON object itself
	Fork           *Fork           `json:"fork,omitempty"`
	Table          *Table          `json:"table,omitempty"`
	Mechanism      *mechanism.Spec `json:"mechanism,omitempty"`
}

// Kind is one way to describe a curve in a [Spec].
type Kind struct {
	Key   string `json:"key"`   // the field's name in JSON
	Label string `json:"label"` // a few words, as for a form
	About string `json:"about"` // when to use it

	beside string // other keys of the kind; "" for a kind that is an object under its key
	given  func(Spec) bool
	curve  func(Spec) (*Curve, error)
}

// kinds has a line for each field of Spec.
var kinds = []Kind{
	kind("constant", "Constant ratio", "for a lever ratio that does not change", func(s Spec) *ConstantRatio { return s.ConstantRatio }, NewConstant, "travel"),
	kind("fork", "Fork angle", "for a telescopic fork", func(s Spec) *Fork { return s.Fork }, NewFork),
	kind("table", "Table", "for travels known at some strokes", func(s Spec) *Table { return s.Table }, NewTable),
	kind("mechanism", "Pivots", "for the places of the pivots", func(s Spec) *mechanism.Spec { return s.Mechanism },
		func(s mechanism.Spec) (*Curve, error) {
			m, err := mechanism.New(s)
			if err != nil {
				return nil, err
			}
			return Compile(m)
		}),
}

// kind returns a kind whose description is a field of Spec.
func kind[T any](key, label, about string, field func(Spec) *T, curve func(T) (*Curve, error), beside ...string) Kind {
	return Kind{
		Key: key, Label: label, About: about, beside: strings.Join(beside, ", "),
		given: func(s Spec) bool { return field(s) != nil },
		curve: func(s Spec) (*Curve, error) { return curve(*field(s)) },
	}
}

// Kinds returns the ways to describe a curve, in the order of the fields of [Spec].
func Kinds() []Kind { return append([]Kind(nil), kinds...) }

// Given reports whether s describes a curve of this kind.
func (k Kind) Given(s Spec) bool { return k.given != nil && k.given(s) }

// New returns the curve that a spec describes: [NewConstant], [NewFork],
// [NewTable], or [Compile] of a mechanism. The error names every bad field by its
// path, such as fork.head_angle, and all kinds if not exactly one is given.
func New(spec Spec) (*Curve, error) {
	var given []Kind
	var keys, all []string
	for _, k := range kinds {
		if all = append(all, k.Key); k.beside != "" {
			all[len(all)-1] += " (with " + k.beside + ")"
		}
		if k.given(spec) {
			given, keys = append(given, k), append(keys, k.Key)
		}
	}
	want := units.Want{Text: "exactly one of " + strings.Join(all, ", ")}
	if len(given) == 0 {
		return nil, &units.FieldError{Package: "linkage", Want: want, Class: units.ErrMissing}
	} else if len(given) > 1 {
		return nil, &units.FieldError{Package: "linkage", Want: want.With("not " + strings.Join(keys, " and ")), Class: units.ErrConflict}
	}
	curve, err := given[0].curve(spec)
	if given[0].beside == "" {
		err = units.At(given[0].Key, err)
	}
	return curve, err
}
