package visit

import (
	"fmt"
	"reflect"
	"time"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Check records what is wrong with a record, such as rear.coil.rate or front.readings[1].stroke:
// schema and date, masses and conditions as for [Change.Effect], settings and readings as for
// [Series.Report], the job as for [setup.NewSheet] and against what is set, every text UTF-8, and
// an extra that is a JSON object.
func (r Record) Check(c *units.Checker) {
	if r.Schema != RecordSchema {
		c.Fail("schema", r.Schema, `"`+RecordSchema+`"`, units.ErrUnknown)
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		c.Fail("date", r.Date, "a day of the calendar, written 2026-11-25", units.ErrSyntax)
	}
	situation := c.Child("situation")
	r.Situation.check(&situation)
	if r.Front == nil && r.Rear == nil {
		c.Fail("front", nil, "the setting of one end at least", units.ErrMissing)
	}
	if r.Job != nil {
		job := c.Child("job")
		r.Job.Check(&job)
	}
	short := true
	for _, axle := range [2]sag.Axle{sag.Front, sag.Rear} {
		if e := r.end(axle); e != nil {
			own := c.Child(string(axle))
			short = e.check(&own, r.setting(e), r.asked(axle)) && short
		}
	}
	if len(r.Extra) > 0 && !isObject(r.Extra) {
		c.Fail("extra", nil, "a JSON object", units.ErrSyntax)
	}
	if short { // a record that is too long is not looked through
		checkText(c, "", reflect.ValueOf(r))
	}
}

// check checks an end whose setting s is filled in, and compares it with what the job has there, if
// it is kept. It reports whether there are few enough readings.
func (e *EndRecord) check(c *units.Checker, s Setting, job *setup.EndJob) bool {
	b := s.end(c)
	if job != nil {
		e.compare(c, job)
	}
	if !checkNumber(c, e.Readings) {
		return false
	}
	for i, reading := range e.Readings {
		own := c.Element("readings", i)
		b.implied(&own, reading)
	}
	return true
}

// compare records what can't be set on the end that the job describes.
func (e *EndRecord) compare(c *units.Checker, job *setup.EndJob) {
	if !reflect.DeepEqual(e.Curve, job.Curve) {
		c.Fail("curve", nil, "the curve that the job has", units.ErrConflict)
	}
	switch {
	case e.Coil != nil && e.Air != nil: // recorded already
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
