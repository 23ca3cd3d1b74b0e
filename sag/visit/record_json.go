package visit

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// RecordSchema is the schema of every record, which names its format and version.
const RecordSchema = "wheelrate/record/1"

// ErrNewer is the class of the error for a record of a later schema than [RecordSchema].
var ErrNewer = errors.New("written by a newer version")

// isSchema reports whether a text names a version of the format of records.
func isSchema(text string) bool {
	version, found := strings.CutPrefix(text, "wheelrate/record/")
	n, _ := strconv.Atoi(version) // 0 for what is no number
	return found && n > 0 && n < 1e9 && version == strconv.Itoa(n)
}

// ReadRecord reads a record from JSON of at most [setup.JobLimit] bytes and checks it. If the record
// is of a later schema, the error is of class [ErrNewer]. Otherwise the error names every field that
// is unknown, repeated, of the wrong type or without its unit, and every other field that
// [Record.Check] finds. Units may be spelled as people do; see package strictjson.
func ReadRecord(in io.Reader) (Record, error) {
	text, err := strictjson.ReadAll("record", in, setup.JobLimit)
	if err != nil {
		return Record{}, err
	}
	var head struct {
		Schema string `json:"schema"`
	}
	if json.Unmarshal(text, &head) == nil && head.Schema != RecordSchema && isSchema(head.Schema) {
		return Record{}, &units.FieldError{Package: "record", Field: "schema", Value: head.Schema, Want: `"` + RecordSchema + `", or a later version of this program`, Class: ErrNewer}
	}
	var r Record
	read, err := strictjson.Salvage("record", text, strictjson.Rules{}, &r)
	if err != nil {
		return Record{}, err
	}
	c := units.Checker{Package: "sag"}
	r.Check(&c)
	if err := read.Join(c.Err()); err != nil {
		return Record{}, err
	}
	if r.Extra != nil {
		var tight bytes.Buffer
		_ = json.Compact(&tight, r.Extra) // checked as an object
		r.Extra = tight.Bytes()
	}
	return r, nil
}

// WriteTo writes a record as indented JSON. [ReadRecord] returns the same record from it, with every
// quantity to its last bit, except that −0 becomes 0. Writing that record gives the same text.
// WriteTo writes nothing and returns an error if the record is invalid ([Record.Check]) or if its
// text has more than [setup.JobLimit] bytes, if a text is not UTF-8, or if a coil spring has a Law, which JSON can't say.
func (r Record) WriteTo(w io.Writer) (int64, error) {
	c := units.Checker{Package: "sag"}
	r.Check(&c)
	if r.checkLaws(&c); !c.OK() {
		return 0, c.Err()
	}
	text, err := r.encode()
	if err != nil {
		return 0, err
	}
	// A text that can't be read again, as it is, is an error now, not at the next visit.
	var read Record
	if err := strictjson.Decode("record", bytes.NewReader(text), setup.JobLimit, &read); err != nil {
		return 0, err
	}
	if again, err := read.encode(); err != nil || !bytes.Equal(again, text) {
		c.Fail("", nil, "texts in UTF-8", units.ErrSyntax)
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

// checkLaws records every coil spring of which JSON can't say the law.
func (r Record) checkLaws(c *units.Checker) {
	refuse := func(field string, one spring.Law) {
		if one != nil {
			c.Fail(field, nil, "a spring that JSON can say, in Spec", units.ErrUnknown)
		}
	}
	for _, at := range []sag.Axle{sag.Front, sag.Rear} {
		e, job := r.end(at)
		if e != nil && e.Coil != nil {
			refuse(string(at)+".coil.law", e.Coil.Law)
		}
		if job != nil && job.Coil != nil {
			for k, one := range job.Coil.Springs {
				refuse(fmt.Sprintf("job.%s.coil.shelf[%d].law", at, k), one.Law)
			}
		}
	}
}

// isObject reports whether a text is a JSON object that can be read as part of a record.
func isObject(text json.RawMessage) bool {
	var in struct {
		Extra json.RawMessage `json:"extra"`
	}
	whole := slices.Concat([]byte(`{"extra":`), text, []byte(`}`))
	return strictjson.Unmarshal("record", whole, &in) == nil && bytes.HasPrefix(in.Extra, []byte("{"))
}
