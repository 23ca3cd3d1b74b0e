package evaluate_test

import (
	"encoding/json"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
)

// spot is a described field in the input of a case, or its whole input.
type spot struct {
	computes string
	given    map[string]any // of the case
	in       map[string]any // the object that the field stands in
	form     refdata.Description
	field    refdata.Field
}

// name is the form and the field, the same in all cases.
func (p spot) name() string { return p.form.Name + "." + p.field.Name }

// faults returns what the evaluator finds wrong while the field has a value; nil leaves it out.
func (p spot) faults(v any) []*units.FieldError {
	before, there := p.in[p.field.Name]
	if p.in[p.field.Name] = v; v == nil {
		delete(p.in, p.field.Name)
	}
	text, _ := json.Marshal(p.given)
	if delete(p.in, p.field.Name); there {
		p.in[p.field.Name] = before
	}
	_, err := evaluate.Compute(refdata.Case{Computes: p.computes, Given: text})
	return units.Fields(err)
}

// blames reports whether one of the faults is of the field, or of an element of it.
func (p spot) blames(faults []*units.FieldError) bool {
	return slices.ContainsFunc(faults, func(f *units.FieldError) bool {
		for name := range f.Path() {
			if name == p.field.Name {
				return true
			}
		}
		return false
	})
}

// like returns a value in spot of the field's own: of a list or a map with it as the first element.
func (p spot) like(v any) any {
	switch old := p.in[p.field.Name].(type) {
	case []any:
		list := slices.Clone(old)
		list[0] = v
		return list
	case map[string]any:
		if !p.field.Map {
			return v
		}
		m := maps.Clone(old)
		first := slices.Sorted(maps.Keys(m))[0]
		inner := slices.Clone(m[first].([]any))
		inner[0] = v
		m[first] = inner
		return m
	}
	return v
}

// spots calls visit for every described field that the accepted cases give.
func spots(t *testing.T, visit func(spot)) {
	t.Helper()
	forms := refdata.Forms()
	for _, c := range cases(t) {
		if c.Error != nil {
			continue
		}
		var given map[string]any
		require.NoError(t, json.Unmarshal(c.Given, &given))
		var walk func(in map[string]any, form refdata.Description)
		walk = func(in map[string]any, form refdata.Description) {
			for _, f := range form.Fields() {
				v, there := in[f.Name]
				if !there {
					continue
				}
				visit(spot{c.Computes, given, in, form, f})
				if inner, ok := forms[f.Kind]; ok {
					list, isList := v.([]any)
					if !isList {
						list = []any{v}
					}
					for _, e := range list {
						walk(e.(map[string]any), inner)
					}
				}
			}
		}
		d, ok := refdata.Describe(c.Computes)
		require.True(t, ok, c.Computes)
		visit(spot{c.Computes, given, given, d, refdata.Field{}})
		walk(given, d)
	}
}

// once returns a function that reports true for the first few of each name.
func once(most int) func(name string) bool {
	seen := map[string]int{}
	return func(name string) bool {
		seen[name]++
		return seen[name] <= most
	}
}

// An unknown field is refused with the names of those that are read: they are the described ones, in every
// object of every computation.
func TestInputsReadAreDescribed(t *testing.T) {
	first, seen := once(1), map[string]bool{}
	check := func(p spot, in map[string]any, form refdata.Description) {
		if seen[form.Name] = true; !first(p.computes + " " + form.Name) {
			return
		}
		p.in, p.field.Name = in, "no such field"
		for _, f := range p.faults(1) {
			if f.Class != units.ErrUnknown {
				continue
			}
			var described []string
			for _, f := range form.Fields() {
				described = append(described, f.Name)
			}
			require.ElementsMatch(t, described, f.Want.OneOf, "%s, form %s", p.computes, form.Name)
			return
		}
		t.Errorf("%s, form %s: an unknown field is read", p.computes, form.Name)
	}
	spots(t, func(p spot) {
		if p.field.Name == "" {
			check(p, p.in, p.form)
			return
		}
		if form, ok := refdata.Forms()[p.field.Kind]; ok {
			v := p.in[p.field.Name]
			if list, ok := v.([]any); ok {
				v = list[0]
			}
			check(p, v.(map[string]any), form)
		}
	})
	for _, name := range evaluate.Computations() {
		if !seen[name] {
			t.Errorf("%s has no accepted case", name)
		}
	}
}

// A value of the described kind is read, and one of another kind is refused.
func TestInputsHaveTheirKinds(t *testing.T) {
	first := once(1)
	spots(t, func(p spot) {
		if p.field.Name == "" || !first(p.computes+" "+p.name()) {
			return
		}
		wrong := any(true)
		switch _, form := refdata.Forms()[p.field.Kind]; {
		case p.field.Kind == "flag", p.field.Kind == "text":
			wrong = 1
		case p.field.Kind == "number", form:
		case p.field.Kind == "integer":
			wrong = 1.5
		default:
			q, ok := refdata.QuantityNamed(p.field.Kind)
			require.True(t, ok, p.field.Kind)
			for _, other := range []string{"1 N", "1 kg"} {
				if _, ok := q.Value(other); !ok {
					wrong = other
				}
			}
		}
		if !p.blames(p.faults(p.like(wrong))) {
			t.Errorf("%s: %s is read as %v", p.computes, p.name(), wrong)
		}
		own := p.in[p.field.Name] // which the case has, and is read
		list, _ := own.([]any)
		if isList := p.field.List || p.field.Count > 0; !p.field.Map && isList != (list != nil) || p.field.Count > 0 && !p.field.Map && len(list) != p.field.Count || len(list) < p.field.Least {
			t.Errorf("%s: %s is given as %v", p.computes, p.name(), own)
		}
	})
}

// oneOf returns the set of which the field is one, and whether there is one.
func (p spot) oneOf() (refdata.OneOf, bool) {
	sets := p.form.OneOf
	for _, name := range p.form.Includes {
		sets = append(slices.Clip(sets), refdata.Forms()[name].OneOf...)
	}
	i := slices.IndexFunc(sets, func(o refdata.OneOf) bool { return slices.Contains(o.Of, p.field.Name) })
	if i < 0 {
		return refdata.OneOf{}, false
	}
	return sets[i], true
}

// needed reports whether the description wants the field beside the others that are given.
func (p spot) needed() bool {
	given := func(name string) bool {
		v, ok := p.in[name]
		text, _ := v.(string)
		return ok && v != 0.0 && !strings.HasPrefix(text, "0 ")
	}
	return p.field.LeftOut == "" || given(p.field.NeededWith) || len(p.field.NeededWithout) > 0 && !slices.ContainsFunc(p.field.NeededWithout, given)
}

// mayBeMissed are inputs that can be left out of some cases only, which the description says in words.
var mayBeMissed = []string{"airspring.fill.at", "mechanism.carrier", "table.lever_ratio", "linkage.table.lever_ratio"}

// What may be left out may, what is needed is missed by its name, and of a set one is.
func TestInputsLeftOut(t *testing.T) {
	few, needed, optional := once(3), 0, 0
	spots(t, func(p spot) {
		if p.field.Name == "" || !few(p.computes+" "+p.name()) {
			return
		}
		faults := p.faults(nil)
		_, form := refdata.Forms()[p.field.Kind]
		missed := slices.ContainsFunc(faults, func(f *units.FieldError) bool { return f.Class == units.ErrMissing })
		set, isSet := p.oneOf()
		switch {
		case isSet:
			if len(faults) != 1 || set.None != "" && faults[0].Name() != set.None {
				t.Errorf("%s: without %s there is %v, want %s", p.computes, p.name(), faults, set.None)
			}
		case p.needed():
			// A place of its own counts as the origin, and there the pulley is on the chainring.
			if needed++; len(faults) == 0 || !p.blames(faults) && !form && len(p.field.NeededWithout) == 0 && p.name() != "idler.at" {
				t.Errorf("%s: without %s there is %v", p.computes, p.name(), faults)
			}
		default: // what else is wrong contradicts the value that holds instead
			if optional++; (missed || p.blames(faults)) && !slices.Contains(mayBeMissed, p.name()) {
				t.Errorf("%s: %s cannot be left out: %v", p.computes, p.name(), faults)
			}
		}
	})
	if needed < 100 || optional < 100 {
		t.Errorf("only %d needed and %d optional fields", needed, optional)
	}
}

// narrower are fields whose range depends on others, which the description says in words.
var narrower = []string{"load_reading.load", "airspring.fill.at", "spring.strength.wire_diameter"}

// A value just outside the described range is refused by its name; one just inside isn't for its range.
func TestInputsHaveTheirRanges(t *testing.T) {
	first := once(1)
	asked := 0
	spots(t, func(p spot) {
		if p.field.Range == nil || !first(p.computes+" "+p.name()) {
			return
		}
		outside, inside := p.bounds()
		for _, x := range outside {
			asked++
			if !p.blames(p.faults(p.like(p.value(t, x)))) {
				t.Errorf("%s: %s is taken as %v, outside its range", p.computes, p.name(), p.value(t, x))
			}
		}
		if slices.Contains(narrower, p.name()) {
			return
		}
		for _, x := range inside {
			for _, f := range p.faults(p.like(p.value(t, x))) {
				if f.Name() == p.field.Name && f.Class == units.ErrRange && rangeOnly(f.Want) {
					t.Errorf("%s: %s is refused as %v, inside its range: %v", p.computes, p.name(), p.value(t, x), f)
				}
			}
		}
	})
	if asked < 300 {
		t.Errorf("only %d values outside a range", asked)
	}
}

// value is a number in SI as the field is given.
func (p spot) value(t *testing.T, si float64) any {
	t.Helper()
	if q, ok := refdata.QuantityNamed(p.field.Kind); ok {
		text, err := json.Marshal(q.Of(si))
		if err != nil { // less than the kind has at all
			return "x"
		}
		var v string
		require.NoError(t, json.Unmarshal(text, &v))
		return v
	}
	if p.field.Kind == "integer" {
		return int(si)
	}
	return si
}

// bounds are values just outside and just inside the range of a field, in SI.
func (p spot) bounds() (outside, inside []float64) {
	step := func(x float64) float64 { return math.Max(1, math.Abs(x)) * 1e-9 }
	if p.field.Kind == "integer" {
		step = func(float64) float64 { return 1 }
	}
	r := p.field.Range
	if r.From != nil {
		outside, inside = append(outside, *r.From-step(*r.From)), append(inside, *r.From)
		if p.field.Kind != "integer" && *r.From > 0 { // near a bound that is itself small
			outside = append(outside, *r.From*(1-1e-9))
		}
	}
	if r.Over != nil {
		outside, inside = append(outside, *r.Over-step(*r.Over), *r.Over), append(inside, *r.Over+step(*r.Over))
	}
	if r.To != nil {
		outside, inside = append(outside, *r.To+step(*r.To)), append(inside, *r.To)
	}
	if r.Below != nil {
		outside, inside = append(outside, *r.Below), append(inside, *r.Below-step(*r.Below))
	}
	if p.field.ZeroIsNone {
		outside = slices.DeleteFunc(outside, func(x float64) bool { return x == 0 })
	}
	return outside, inside
}

// An input that no case gives is read all the same: a value of another kind is refused by its name, and one
// outside its range is refused.
func TestInputsThatNoCaseGives(t *testing.T) {
	first, tried := once(1), 0
	try := func(p spot) {
		if !first(p.computes + " " + p.form.Name) {
			return
		}
		for _, p.field = range p.form.Fields() {
			if _, given := p.in[p.field.Name]; given {
				continue
			}
			bad := []any{true}
			if p.field.Kind == "flag" {
				bad = []any{1}
			}
			if p.field.Range != nil {
				outside, _ := p.bounds()
				for _, x := range outside {
					bad = append(bad, p.value(t, x))
				}
			}
			for i, v := range bad {
				if p.field.Count > 0 {
					v = slices.Repeat([]any{v}, p.field.Count)
				}
				if p.field.List {
					v = []any{v}
				}
				// Beside what the case gives it may contradict it, and then another is named.
				tried++
				if faults := p.faults(v); len(faults) == 0 || i == 0 && !p.blames(faults) {
					t.Errorf("%s: %s is taken as %v", p.computes, p.name(), v)
				}
			}
		}
	}
	spots(t, func(p spot) {
		if form, ok := refdata.Forms()[p.field.Kind]; ok {
			v := p.in[p.field.Name]
			if list, ok := v.([]any); ok {
				v = list[0]
			}
			p.in, p.form = v.(map[string]any), form
		} else if p.field.Name != "" {
			return
		}
		try(p)
	})
	if tried < 300 {
		t.Errorf("only %d values", tried)
	}
}

// rangeOnly reports whether a wish is that of a plain range: bounds in numbers, and nothing else.
func rangeOnly(want units.Want) bool {
	return want.Limits != nil && !slices.ContainsFunc(want.Limits, func(l units.Limit) bool { return l.Of != "" })
}

// The described outputs are those that the evaluator gives, of their kinds.
func TestOutputsAreDescribed(t *testing.T) {
	given := map[string]map[string]reflect.Type{}
	for _, c := range cases(t) {
		if c.Error == nil {
			r, err := evaluate.Compute(c)
			require.NoError(t, err)
			if given[c.Computes] == nil {
				given[c.Computes] = map[string]reflect.Type{}
			}
			for name, v := range r {
				given[c.Computes][name] = reflect.TypeOf(v)
			}
		}
	}
	for _, name := range evaluate.Computations() {
		d, _ := refdata.Describe(name)
		var described []string
		for _, o := range d.Outputs {
			described = append(described, o.Name)
			typ := given[name][o.Name]
			if typ == nil {
				t.Errorf("%s: no case is given the output %s", name, o.Name)
				continue
			}
			if list := typ.Kind() == reflect.Slice; list != o.List {
				t.Errorf("%s: %s is a %v", name, o.Name, typ)
			} else if list {
				typ = typ.Elem()
			}
			kind := map[reflect.Kind]string{reflect.Float64: "number", reflect.Int: "integer", reflect.String: "text"}[typ.Kind()]
			if q, ok := refdata.QuantityOf(typ); ok {
				kind = q.Kind
			}
			if kind != o.Kind && o.Kind != "quantity" {
				t.Errorf("%s: %s is a %s, described as %s", name, o.Name, kind, o.Kind)
			}
		}
		require.ElementsMatch(t, slices.Collect(maps.Keys(given[name])), described, name)
	}
}

// Every kind that a description names exists.
func TestDescribedKindsExist(t *testing.T) {
	check := func(of string, fields []refdata.Field) {
		for _, f := range fields {
			_, quantity := refdata.QuantityNamed(f.Kind)
			_, form := refdata.Forms()[f.Kind]
			if !quantity && !form && !slices.Contains([]string{"number", "integer", "text", "flag", "quantity"}, f.Kind) {
				t.Errorf("%s.%s is of the kind %s", of, f.Name, f.Kind)
			}
		}
	}
	for name, form := range refdata.Forms() {
		check(name, form.Inputs)
		for _, other := range form.Includes {
			require.Contains(t, refdata.Forms(), other)
		}
	}
	for _, name := range evaluate.Computations() {
		d, ok := refdata.Describe(name)
		if !ok {
			t.Errorf("%s is not described", name)
		}
		check(name, d.Fields())
		check(name, d.Outputs)
	}
}
