package main

import (
	"bytes"
	"encoding/json"
	"maps"

	"example.com/wheelrate/refdata"
)

// plain is a case with every quantity as a number in SI.
type plain struct {
	ID        string                    `json:"id"`
	Computes  string                    `json:"computes"`
	Given     any                       `json:"given"`
	Expect    map[string]any            `json:"expect,omitempty"`
	Error     []string                  `json:"error,omitempty"`
	Tolerance map[string]plainTolerance `json:"tolerance,omitempty"`
	Second    string                    `json:"second,omitempty"`
	Note      string                    `json:"note,omitempty"`
}

// plainTolerance is either of the two, in SI.
type plainTolerance struct {
	Relative *float64 `json:"relative,omitempty"`
	Absolute *float64 `json:"absolute,omitempty"`
}

// plainOf returns a case in SI.
func plainOf(c refdata.Case) (plain, error) {
	p := plain{ID: c.ID, Computes: c.Computes, Error: c.Error, Second: c.Second, Note: c.Note}
	var err error
	if p.Given, err = plainGiven(c); err != nil || c.Error != nil {
		return p, err
	}
	d, _ := refdata.Describe(c.Computes)
	p.Expect, p.Tolerance = maps.Clone(c.Expect), make(map[string]plainTolerance)
	for _, o := range d.Outputs {
		v, ok := c.Expect[o.Name]
		if !ok {
			continue
		}
		if o.Kind == "quantity" {
			o.Kind, _ = p.Given.(map[string]any)["kind"].(string)
		}
		p.Expect[o.Name] = plainValue(o, v)
		p.Tolerance[o.Name] = plainToleranceOf(c.Tolerance, o)
	}
	return p, nil
}

// plainGiven returns what a case gives in SI. A quantity that can't be read stays the text that it is.
func plainGiven(c refdata.Case) (any, error) {
	numbers := json.NewDecoder(bytes.NewReader(c.Given))
	numbers.UseNumber()
	var given any
	if err := numbers.Decode(&given); err != nil {
		return nil, err
	}
	d, _ := refdata.Describe(c.Computes)
	return plainObject(d, given), nil
}

// plainObject returns an object of described fields in SI. Fields that are not described stay as they are.
func plainObject(d refdata.Description, v any) any {
	object, ok := v.(map[string]any)
	if !ok {
		return v
	}
	for _, f := range d.Fields() {
		if v, ok := object[f.Name]; ok {
			object[f.Name] = plainValue(f, v)
		}
	}
	return object
}

// plainValue returns the value of a field in SI.
func plainValue(f refdata.Field, v any) any {
	if object, ok := v.(map[string]any); f.Map && ok {
		f.Map = false
		for name, inner := range object {
			object[name] = plainValue(f, inner)
		}
		return object
	}
	if list, ok := v.([]any); ok && (f.List || f.Count > 0) {
		f.List, f.Count = false, 0
		plain := make([]any, len(list))
		for i, inner := range list {
			plain[i] = plainValue(f, inner)
		}
		return plain
	}
	if form, ok := refdata.Forms()[f.Kind]; ok {
		return plainObject(form, v)
	}
	q, ok := refdata.QuantityNamed(f.Kind)
	text, isText := v.(string)
	switch {
	case !ok || v == nil:
		return v
	case !isText:
		text, _ := json.Marshal(v) // which was decoded from JSON
		return string(text)
	}
	if si, ok := q.Value(text); ok {
		return si
	}
	return text
}

// plainToleranceOf returns the tolerance of an output in SI.
func plainToleranceOf(tolerances map[string]refdata.CaseTolerance, o refdata.Field) plainTolerance {
	t, own := tolerances[o.Name]
	if !own {
		t, own = tolerances["*"]
	}
	if !own {
		t.Relative = 1e-9
	}
	if t.Absolute == "" {
		return plainTolerance{Relative: &t.Relative}
	}
	size, unit, ok := refdata.SplitQuantity(t.Absolute)
	if q, quantity := refdata.QuantityNamed(o.Kind); quantity {
		size, ok = q.Difference(t.Absolute)
	} else {
		ok = ok && unit == ""
	}
	if !ok { // of another kind
		size = 1e-9
		return plainTolerance{Relative: &size}
	}
	return plainTolerance{Absolute: &size}
}
