package evaluate

import (
	"reflect"
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Result holds the outputs of a computation by their names in the case format. Each value is a
// quantity of package units, a float64, an int, a string, or a slice of one of these.
type Result map[string]any

// table has every computation of the case format, in the order in which the schema of case files
// lists them.
var table = slices.Concat(ofUnits, ofSprings, ofAirSprings, ofLinkages, ofSag)

// Computations lists the names of all computations, in the order of the table.
func Computations() []string {
	names := make([]string, len(table))
	for i, row := range table {
		names[i] = row.name
	}
	return names
}

// Compute runs the computation c.Computes on the input c.Given, at most [refdata.CaseLimit] bytes. No
// other field of c is used. The error has a [*units.FieldError] for every bad field; that of an
// unknown computation is "computes".
func Compute(c refdata.Case) (Result, error) {
	bad := units.Checker{Package: "evaluate"}
	row := find(c.Computes)
	if row == nil {
		bad.Fail("computes", c.Computes, "one of the known computations", units.ErrUnknown)
		return nil, bad.Err()
	}
	if len(c.Given) > refdata.CaseLimit {
		bad.Fail("given", len(c.Given), units.AtMost(refdata.CaseLimit).Count("bytes of JSON"), units.ErrRange)
		return nil, bad.Err()
	}
	return row.compute(c.Given)
}

// find returns the row of a name, nil for none.
func find(name string) *computation {
	if i := slices.IndexFunc(table, func(row computation) bool { return row.name == name }); i >= 0 {
		return &table[i]
	}
	return nil
}

// computation is a row of the table: its name, the names of its outputs, and how to compute these
// from the input of a case.
type computation struct {
	name    string
	outputs []string
	compute func(given []byte) (Result, error)
}

// output is a value that an answer has: its name, and how to get it. It is not known if an optional
// input that it needs was left out.
type output[A any] struct {
	name string
	get  func(A) (value any, known bool)
}

// mostValues is how many values a list of a case may give.
const mostValues = 1000

// computes returns a row. The input of a case is decoded strictly into an In. Answer records its
// faults in c, and returns what the outputs are got from; that is used only if there are no faults.
// Answer also runs where some values could not be decoded, so that one fault hides no other.
func computes[In, A any](name string, answer func(c *units.Checker, in In) A, outputs ...output[A]) computation {
	row := computation{name: name}
	for _, o := range outputs {
		row.outputs = append(row.outputs, o.name)
	}
	row.compute = func(given []byte) (Result, error) {
		var in In
		read, err := strictjson.Salvage("evaluate", given, strictjson.Rules{Longest: mostValues, Exact: true}, &in)
		if err != nil {
			return nil, err
		}
		c := units.Checker{Package: "evaluate"}
		a := answer(&c, in)
		if err := read.Join(c.Err()); err != nil {
			return nil, err
		}
		r := make(Result, len(outputs))
		for _, o := range outputs {
			if v, known := o.get(a); known {
				r[o.name] = v
			}
		}
		return r, nil
	}
	return row
}

// by returns the answer function of a function that checks its input itself.
func by[In, A any](f func(In) (A, error)) func(*units.Checker, In) A {
	return func(c *units.Checker, in In) A { return run(c, func() (A, error) { return f(in) }) }
}

// run returns what f does, and records its error. It does not call f where something is wrong already.
func run[A any](c *units.Checker, f func() (A, error)) (a A) {
	if c.OK() {
		var err error
		a, err = f()
		c.Add("", err)
	}
	return a
}

// give is an output that every answer has.
func give[A, V any](name string, get func(A) V) output[A] {
	return output[A]{name, func(a A) (any, bool) { return get(a), true }}
}

// tell returns the outputs that are fields of an answer by their JSON names.
func tell[A any](names ...string) []output[A] {
	return over(names, func(name string) output[A] {
		f := field[A](name)
		return give(name, func(a A) any { return reflect.ValueOf(a).FieldByIndex(f.Index).Interface() })
	})
}

// tellEach returns the outputs that list a field of every element of an answer, by its JSON name.
func tellEach[E any](names ...string) []output[[]E] {
	return over(names, func(name string) output[[]E] {
		f := field[E](name)
		return give(name, func(list []E) any {
			values := reflect.MakeSlice(reflect.SliceOf(f.Type), 0, len(list))
			for _, e := range list {
				values = reflect.Append(values, reflect.ValueOf(e).FieldByIndex(f.Index))
			}
			return values.Interface()
		})
	})
}

// tellAlong returns the outputs that list a field of what an answer says at its places, by its JSON name.
func tellAlong[A, E any](get func(A, units.Length) E, names ...string) []output[along[A]] {
	at := func(a along[A]) []E { return over(a.at, func(x units.Length) E { return get(a.of, x) }) }
	return lift(at, tellEach[E](names...))
}

// field returns the field of a struct by its JSON name.
func field[S any](name string) reflect.StructField {
	for _, f := range reflect.VisibleFields(reflect.TypeFor[S]()) {
		if tag, _, _ := strings.Cut(f.Tag.Get("json"), ","); tag == name {
			return f
		}
	}
	panic("evaluate: no field is named " + name)
}

// offer is an output that some answers have.
func offer[A, V any](name string, get func(A) (V, bool)) output[A] {
	return output[A]{name, func(a A) (any, bool) { return get(a) }}
}

// maybe is an output that is nil in other answers.
func maybe[A, V any](name string, get func(A) *V) output[A] {
	return give(name, func(a A) V { return *get(a) }).where(func(a A) bool { return get(a) != nil })
}

// along is an answer that is asked at places, such as strokes.
type along[A any] struct {
	of A
	at []units.Length
}

// each is the list of what an answer says at its places.
func each[A, V any](name string, get func(A, units.Length) V) output[along[A]] {
	return give(name, func(a along[A]) []V { return over(a.at, func(x units.Length) V { return get(a.of, x) }) })
}

// whole is an output of an answer that is the same at all places.
func whole[A, V any](name string, get func(A) V) output[along[A]] {
	return give(name, func(a along[A]) V { return get(a.of) })
}

// where restricts an output to the answers that have it.
func (o output[A]) where(has func(A) bool) output[A] {
	get := o.get
	o.get = func(a A) (any, bool) {
		if !has(a) {
			return nil, false
		}
		return get(a)
	}
	return o
}

// lift returns the outputs of a part as those of the whole.
func lift[A, B any](part func(A) B, of []output[B]) []output[A] {
	return over(of, func(o output[B]) output[A] {
		return output[A]{o.name, func(a A) (any, bool) { return o.get(part(a)) }}
	})
}

// over lists a function's values at a list of arguments.
func over[X, Y any](at []X, f func(X) Y) []Y {
	list := make([]Y, len(at))
	for i, x := range at {
		list[i] = f(x)
	}
	return list
}
