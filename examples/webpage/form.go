package main

import (
	"cmp"
	"encoding"
	"reflect"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/webpage/answer"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// The form is described here once: what each field of the job is called. How it is
// entered follows from the job's own type, and the kinds of curve from package
// linkage. The page's template writes the form out, the page's script turns it into
// a job and back by the paths, and a test holds the paths against the job's fields.

// field is one thing to enter.
type field struct {
	ID    string // on the page, from the path
	Path  string // in the job, such as "front.air.bore"
	Label string
	Hint  string
	Find  string // how a person finds out, folded away below the field
	Kind  kind   // that of the job's field if empty
	Value string // of what is fixed
	// Unit is what a number without a unit is taken in, metric and customary: that of the job's
	// field if empty. Typical is what may be taken for granted, if anything.
	Unit, Typical string
	// Columns are the names of the columns of lines, and Shape how they
	// become JSON: a list for each column, or an object for each line.
	Columns, Shape string
	Heads          string   // over cells for the first of these columns, if it has cells
	Choices        []choice // of a choice
	Lines          int      // height of lines or JSON
}

// kind is how a text becomes a value of the job.
type kind string

const (
	quantity kind = "quantity" // a number with a unit: stays text
	number   kind = "number"
	share    kind = "share" // a fraction, or a percentage with its sign
	lines    kind = "lines" // a line for each entry, columns parted by commas
	list     kind = "list"  // entries parted by commas
	object   kind = "object"
	text     kind = "text"
	pick     kind = "pick"
	fixed    kind = "fixed" // not entered: said by the choice of the case around it
)

type choice struct{ Value, Label string }

// group is fields that belong together.
type group struct {
	ID      string
	Legend  string
	Note    string
	Caution string  // shown whenever the group is
	Switch  *toggle // which of several groups applies
	Fields  []field
	Groups  []group
	More    *group // what few need, folded away
	Case    string // of a switch: its values with spaces between them
	Of      string // the switch, that around it if empty
	Part    string // of the job, that this case says is there
}

// toggle is a choice between the groups beside it. Of a job that says nothing about it the first
// case is chosen, or none for a question, which a person then has to answer.
type toggle struct {
	ID, Legend string
	Hint       string
	Question   bool
	Folded     string // what to call it where it is folded away below its cases
	Cases      []choice
}

// formOf is the form of a job, and visitForm that of a visit.
func formOf(c cautions) []group {
	form := []group{rider(), end("front", "Front", c), end("rear", "Rear", c), bike(), further()}
	complete(form, "", leaves(reflect.TypeFor[setup.Job](), ""))
	return form
}

func visitForm() []group {
	form := []group{today(), found("front", "Front, as it comes back"), found("rear", "Rear, as it comes back")}
	complete(form, "visit.", leaves(reflect.TypeFor[advice.Visit](), ""))
	return form
}

// complete fills in the ids, and what follows from the fields of what the form is for: kinds, units,
// and what may be taken for granted.
func complete(groups []group, prefix string, of map[string]leaf) {
	for i := range groups {
		g := &groups[i]
		for j := range g.Fields {
			f := &g.Fields[j]
			f.ID = prefix + f.Path
			f.Kind, f.Unit = cmp.Or(f.Kind, of[f.Path].kind), cmp.Or(f.Unit, of[f.Path].unit)
			if prefix == "" {
				f.Typical = answer.Typical(f.Path)
			}
			if f.Kind == lines { // a column of quantities has the unit of its field
				columns := strings.Split(f.Columns, ",")
				for k, column := range columns {
					name, _, _ := strings.Cut(column, ":")
					columns[k] += ":" + of[f.Path+"."+name].unit
				}
				f.Columns = strings.Join(columns, ",")
			}
		}
		complete(g.Groups, prefix, of)
		if g.More != nil {
			more := []group{*g.More}
			complete(more, prefix, of)
			g.More = &more[0]
		}
	}
}

// asJSON reports whether a part of a job is entered as JSON: how well it is known, the law of
// a coil spring, and each kind of curve that has no fields of its own below.
func asJSON(path string) bool {
	_, kind, ofCurve := strings.Cut(path, ".curve.")
	return path == "uncertainty" || strings.HasSuffix(path, ".coil.law") || strings.HasSuffix(path, ".coil.shelf.law") || ofCurve && !strings.Contains(kind, ".") &&
		!slices.Contains([]string{"constant", "travel", "fork", "table"}, kind)
}

// leaf is how a field is entered, and what a number without a unit is taken in.
type leaf struct {
	kind kind
	unit string
}

// unitOf are the units of quantities, metric and customary.
var unitOf = map[reflect.Type]string{
	reflect.TypeFor[units.Mass]():             "kg|lb",
	reflect.TypeFor[units.Length]():           "mm|in",
	reflect.TypeFor[units.Volume]():           "cm³|in³",
	reflect.TypeFor[units.Angle]():            "deg|deg",
	reflect.TypeFor[units.Force]():            "N|lbf",
	reflect.TypeFor[units.Stiffness]():        "N/mm|lbf/in",
	reflect.TypeFor[units.Damping]():          "N·s/m|lbf·s/in",
	reflect.TypeFor[units.GaugePressure]():    "bar|psi",
	reflect.TypeFor[units.AbsolutePressure](): "kPa(a)|psia",
	reflect.TypeFor[units.Temperature]():      "°C|°F",
}

// leaves returns the paths of all that a type's JSON can hold, with how each is
// entered; of a list, those of its elements. What is entered as JSON is one of them.
func leaves(t reflect.Type, path string) map[string]leaf {
	listed := false
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		if reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
			break
		}
		listed = listed || t.Kind() == reflect.Slice
		t = t.Elem()
	}
	all := map[string]leaf{}
	switch {
	case asJSON(path):
		all[path] = leaf{kind: object}
	case listed && t.Kind() != reflect.Struct:
		all[path] = leaf{list, unitOf[t]}
	case reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
		all[path] = leaf{quantity, unitOf[t]}
	case t.Kind() == reflect.String:
		all[path] = leaf{kind: text}
	case t.Kind() != reflect.Struct:
		all[path] = leaf{kind: number}
	default:
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			at := path // of an embedded struct, whose fields stand in the object itself
			switch {
			case f.Anonymous && name == "":
			case !f.IsExported() || name == "-":
				continue
			default:
				at = strings.TrimPrefix(path+"."+name, ".")
			}
			for leaf, k := range leaves(f.Type, at) {
				all[leaf] = k
			}
		}
	}
	return all
}
