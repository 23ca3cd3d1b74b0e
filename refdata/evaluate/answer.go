package evaluate

import (
	"encoding/json"
	"errors"
	"reflect"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// Answered returns the outputs that any program computed for a case, as [Judge] takes them. A quantity is a
// text with its unit, or a float64 in SI, a list is a []any, as package encoding/json has them. What is no
// value of the kind that [refdata.Describe] says stays as it is, and fails. Outputs that the computation
// does not have are left out.
func Answered(c refdata.Case, outputs map[string]any) Result {
	described, _ := refdata.Describe(c.Computes)
	r := make(Result, len(outputs))
	for _, o := range described.Outputs {
		v, ok := outputs[o.Name]
		if !ok {
			continue
		}
		if o.Kind == "quantity" { // of the kind that is given
			var given struct{ Kind string }
			_ = json.Unmarshal(c.Given, &given) // without one the value stays as it is
			o.Kind = given.Kind
		}
		r[o.Name] = typed(o.Kind, v)
	}
	return r
}

// typed returns a value of a kind, or a list of such, as the type that it has in package units.
func typed(kind string, v any) any {
	q, known := refdata.QuantityNamed(kind)
	switch v := v.(type) {
	case float64:
		if known {
			return q.Of(v)
		}
	case string:
		if known {
			if quantity, err := q.Parse(v); err == nil {
				return quantity
			}
		}
	case []any:
		list := reflect.Value{}
		for _, e := range v {
			one := reflect.ValueOf(typed(kind, e))
			if !list.IsValid() && one.IsValid() {
				list = reflect.MakeSlice(reflect.SliceOf(one.Type()), 0, len(v))
			}
			if !one.IsValid() || one.Type() != list.Type().Elem() {
				return v
			}
			list = reflect.Append(list, one)
		}
		if list.IsValid() {
			return list.Interface()
		}
	}
	return v
}

// Refused returns the error of an input that any program refuses for these fields, as [Judge] takes it.
func Refused(fields ...string) error {
	if len(fields) == 0 {
		return errors.New("evaluate: refused, and no field is named")
	}
	c := units.Checker{Package: "evaluate"}
	for _, field := range fields {
		c.Fail(field, nil, "another value", nil)
	}
	return c.Err()
}
