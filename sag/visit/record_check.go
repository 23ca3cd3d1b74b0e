package visit

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Check returns what is wrong with a record, in one error that names every bad
// field, such as rear.coil.rate or front.readings[1].stroke: schema and date,
// masses and conditions as for [Change.Effect], settings and readings as for
// [Series.Report], the job as for [setup.NewSheet] and not against what is set, every
// text UTF-8, and an extra that is a JSON object.
func (r Record) Check() error {
	c := units.Checker{Package: "sag"}
	if r.Schema != RecordSchema {
		c.Fail("schema", r.Schema, `"`+RecordSchema+`"`, units.ErrUnknown)
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		c.Fail("date", r.Date, "a day of the calendar, written 2026-11-25", units.ErrSyntax)
	}
	situation := c.Child("situation")
	masses := situation.Child("masses")
	r.Situation.Masses.Check(&masses)
	r.Situation.check(&situation)
	if r.Front == nil && r.Rear == nil {
		c.Fail("front", nil, "what one end at least was set to", units.ErrMissing)
	}
	var front, rear *setup.EndJob
	if r.Job != nil {
		job := c.Child("job")
		r.Job.Check(&job)
		front, rear = &r.Job.Front, &r.Job.Rear
	}
	if r.Front != nil {
		own := c.Child("front")
		r.Front.check(&own, r.setting(r.Front), front)
	}
	if r.Rear != nil {
		own := c.Child("rear")
		r.Rear.check(&own, r.setting(r.Rear), rear)
	}
	if len(r.Extra) > 0 && !isObject(r.Extra) {
		c.Fail("extra", nil, "a JSON object", units.ErrSyntax)
	}
	if r.long() {
		return c.Err() // which says so
	}
	checkText(&c, "", reflect.ValueOf(r))
	return c.Err()
}

// long reports whether an end has more readings than are looked at.
func (r *Record) long() bool {
	return r.Front != nil && len(r.Front.Readings) > maxReadings || r.Rear != nil && len(r.Rear.Readings) > maxReadings
}

// check checks an end whose setting s is filled in, and holds it against what
// the job has there, if it is kept.
func (e *EndRecord) check(c *units.Checker, s Setting, job *setup.EndJob) {
	b := s.build(c)
	if job != nil {
		e.compare(c, job)
	}
	if len(e.Readings) > maxReadings {
		c.Fail("readings", len(e.Readings), fmt.Sprintf("at most %d readings", maxReadings), nil)
		return
	}
	for i, reading := range e.Readings {
		own := c.Element("readings", i)
		b.implied(&own, reading)
	}
}

// compare names what can't be set on the end that the job describes.
func (e *EndRecord) compare(c *units.Checker, job *setup.EndJob) {
	if !reflect.DeepEqual(e.Curve, job.Curve) {
		c.Fail("curve", nil, "the curve that the job has", units.ErrConflict)
	}
	switch {
	case e.Coil != nil && e.Air != nil: // named already
	case e.Coil != nil && job.Coil == nil:
		c.Fail("coil", nil, "no coil spring: the job has none at this end", units.ErrConflict)
	case e.Air != nil && job.Air == nil:
		c.Fail("air", nil, "no air spring: the job has none at this end", units.ErrConflict)
	case e.Air != nil && job.Air != nil:
		if most := job.Air.MaxSpacers; most > 0 && e.Air.Spacers > most {
			c.Fail("air.spacers", e.Air.Spacers, fmt.Sprintf("no more than max_spacers of the job, %d", most), units.ErrConflict)
		}
		if most := job.Air.MaxFill; e.Air.MaxFill > most {
			c.Fail("air.max_fill", e.Air.MaxFill, "no more than max_fill of the job, "+most.String(), units.ErrConflict)
		}
	}
}

// isObject reports whether text is a JSON object that strictjson reads inside of
// a record.
func isObject(text json.RawMessage) bool {
	var in struct {
		Extra json.RawMessage `json:"extra"`
	}
	whole := slices.Concat([]byte(`{"extra":`), text, []byte(`}`))
	return strictjson.Unmarshal("record", whole, &in) == nil && bytes.HasPrefix(in.Extra, []byte("{"))
}

// checkText names every text in v that JSON can't keep, not being UTF-8.
func checkText(c *units.Checker, path string, v reflect.Value) {
	bad := func(s string) {
		if !utf8.ValidString(s) {
			c.Fail(path, s, "text in UTF-8", units.ErrSyntax)
		}
	}
	switch v.Kind() {
	case reflect.String:
		bad(v.String())
	case reflect.Pointer:
		if !v.IsNil() {
			checkText(c, path, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		if v.Type().Elem().Kind() == reflect.Uint8 || v.Type().Elem().Kind() == reflect.Float64 {
			return
		}
		for i := range v.Len() {
			checkText(c, fmt.Sprintf("%s[%d]", path, i), v.Index(i))
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			bad(key.String())
			checkText(c, path, v.MapIndex(key))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			at := path
			if name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ","); name != "" {
				at = strings.TrimPrefix(path+"."+name, ".")
			}
			checkText(c, at, v.Field(i))
		}
	}
}
