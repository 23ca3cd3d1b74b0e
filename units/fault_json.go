package units

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
)

// fault is a FieldError in JSON.
type fault struct {
	Code    string `json:"code"`
	Kind    string `json:"kind,omitempty"`
	Package string `json:"package,omitempty"`
	Field   string `json:"field"`
	Value   any    `json:"value,omitempty"`
	Given   string `json:"given,omitempty"`
	English string `json:"want"`
	Want
}

// MarshalJSON returns the fault as one of wheelrate/faults/1, an object that has a list of them under
// "faults":
//
//	{"code": "conflict", "package": "coil", "field": "wire_diameter", "value": "60 mm",
//	 "want": "more than 0 and less than mean_diameter 50 mm",
//	 "limits": [{"is": "more_than", "value": 0}, {"is": "less_than", "value": "50 mm", "of": "mean_diameter"}]}
//
// "code" is that of the [Class], "other" for a fault without one. "kind" is the code of the general
// class that it is a kind of, and left out where that is the same. "field" is the path, "" for the input
// as a whole. "value" is what was given, left out where nothing was: a number, true or false, or a text; a
// quantity is a text with its unit and all digits, what is not finite a text such as "NaN". "given" is
// the value in as few digits as needed, left out where "value" has no more. "want" says in English, in as few
// digits, what "limits", "counts", "one_of", "needs", "without" and "meant" say as data: those of [Want], each
// left out where it is empty. The value of a limit is written as that of the field.
func (e FieldError) MarshalJSON() ([]byte, error) {
	given, want := e.Texts()
	if given == cut(fmt.Sprint(e.Value), mostValue) {
		given = ""
	}
	f := fault{e.Class.Code(), "", e.Package, e.Field, plain(e.Value), given, want, e.Want}
	if kind := e.Class.root().Code(); kind != f.Code {
		f.Kind = kind
	}
	f.Limits = slices.Clone(f.Limits)
	for i := range f.Limits {
		f.Limits[i].Value = plain(f.Limits[i].Value)
	}
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false) // the encoder around it does, if it is asked to
	err := encoder.Encode(f)
	return b.Bytes(), err
}

// plain returns a value that JSON can say.
func plain(v any) any {
	switch v.(type) {
	case nil, bool:
		return v
	}
	if _, _, number := numeral(v, allDigits); !math.IsNaN(number) {
		if _, err := json.Marshal(v); err == nil {
			return v
		}
	}
	return cut(fmt.Sprint(v), mostValue)
}

// UnmarshalJSON sets e to a fault that MarshalJSON wrote. Class and Want are as before for errors.Is and in
// English; quantities are texts with all their digits, and numbers are of type [json.Number].
func (e *FieldError) UnmarshalJSON(text []byte) error {
	var f fault
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&f); err != nil {
		return err
	}
	*e = FieldError{Package: f.Package, Field: f.Field, Value: f.Value, Want: f.Want}
	e.Want.Text = f.English
	if f.Kind != "" {
		e.Class = NewClass(f.Kind, f.Kind, nil)
	}
	if f.Code != (*Class)(nil).Code() {
		e.Class = NewClass(f.Code, f.Code, e.Class)
	}
	return nil
}
