package visit

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// RecordSchema is the schema of every record, which names its format and version.
const RecordSchema = "wheelrate/record/1"

// ReadRecord reads a record from JSON of at most [setup.JobLimit] bytes, as it was written by this version
// or by an earlier one. Units may be spelled as people do; see package strictjson.
//
// The error names every field that is repeated, of the wrong type or without its unit. It is of class
// [units.ErrNewer] for a record of a later schema, one whose job is, and one with a field that is not known;
// the field that was probably meant is named too. A record is read even if [Record.Check] refuses it
// today, as checks become stricter: marked lists what is refused, nil for nothing. What needs a field so
// marked, such as [Record.Arrive] or [Record.WriteTo], refuses it.
func ReadRecord(in io.Reader) (r Record, marked []*units.FieldError, err error) {
	text, err := strictjson.ReadAll("record", in, setup.JobLimit)
	if err != nil {
		return Record{}, nil, err
	}
	if err := checkSchemas(text); errors.Is(err, units.ErrNewer) {
		return Record{}, nil, err
	}
	read, err := strictjson.Salvage("record", text, strictjson.Rules{Written: true}, &r)
	if err != nil {
		return Record{}, nil, err
	}
	form, values := units.Checker{Package: "sag"}, units.Checker{Package: "sag"}
	r.checkForm(&form)
	if r.checkValues(&values); form.OK() && read.Join(nil) == nil {
		if r.Extra != nil {
			var tight bytes.Buffer
			_ = json.Compact(&tight, r.Extra) // checked as an object
			r.Extra = tight.Bytes()
		}
		return r, units.Faults(values.Err()), nil
	}
	form.Add("", values.Err())
	return Record{}, nil, read.Join(form.Err())
}

// checkSchemas returns what is wrong with the schemas in a text, which may be of another form otherwise.
func checkSchemas(text []byte) error {
	type head struct {
		Schema string          `json:"schema"`
		Job    json.RawMessage `json:"job"`
	}
	var record, within head
	if json.Unmarshal(text, &record) != nil {
		return nil
	}
	c := units.Checker{Package: "record"}
	units.Schema(&c, record.Schema, RecordSchema)
	if job := c.Child("job"); json.Unmarshal(record.Job, &within) == nil && within.Schema != "" {
		units.Schema(&job, within.Schema, setup.JobSchema)
	}
	return c.Err()
}

// WriteTo writes a record as indented JSON. [ReadRecord] returns the same record from it, with every
// quantity to its last bit, except that −0 becomes 0. Writing that record gives the same text.
// WriteTo writes nothing and returns an error if the record is invalid ([Record.Check]) or if its
// text has more than [setup.JobLimit] bytes, if a text is not UTF-8, or if a coil spring has a Law, which JSON can't say.
func (r Record) WriteTo(w io.Writer) (int64, error) {
	c := units.Checker{Package: "sag"}
	if r.Check(&c); !c.OK() {
		return 0, c.Err()
	}
	text, err := r.encode()
	if err != nil {
		return 0, err
	}
	// A text that can't be read again, as it is, is an error now, not at the next visit.
	read, lost, err := ReadRecord(bytes.NewReader(text))
	if err != nil {
		return 0, err
	}
	for _, f := range lost {
		c.Fail(f.Field, nil, "a spring that JSON can say: Spec in place of Law", units.ErrUnknown)
	}
	if again, err := read.encode(); err != nil || !bytes.Equal(again, text) {
		c.Fail("", nil, "texts in UTF-8", units.ErrSyntax)
	}
	if !c.OK() {
		return 0, c.Err()
	}
	n, err := w.Write(text)
	return int64(n), err
}

// encode returns a record as indented JSON.
func (r Record) encode() ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(r); err != nil {
		return nil, fmt.Errorf("record: %w", err)
	}
	return out.Bytes(), nil
}

// isObject reports whether a text is a JSON object that can be read as part of a record.
func isObject(text json.RawMessage) bool {
	var in struct {
		Extra json.RawMessage `json:"extra"`
	}
	whole := slices.Concat([]byte(`{"extra":`), text, []byte(`}`))
	return strictjson.Unmarshal("record", whole, &in) == nil && bytes.HasPrefix(in.Extra, []byte("{"))
}
