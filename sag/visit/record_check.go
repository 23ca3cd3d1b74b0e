package visit

import (
	"reflect"
	"time"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Check records every bad field of a record, such as rear.coil.rate or front.readings[1].stroke. It
// checks schema and date, masses and conditions as [Record.Arrive] does, settings as [Setting.Assemble]
// and readings as [Assembly.Report] does, the job as [setup.NewSheet] does, that the settings are possible on the bike
// of the job, and that the extra is a JSON object.
func (r Record) Check(c *units.Checker) {
	r.checkForm(c)
	r.checkValues(c)
}

// checkForm records what is refused, not marked: another schema, and an extra that is no object.
func (r Record) checkForm(c *units.Checker) {
	units.Schema(c, r.Schema, RecordSchema)
	if len(r.Extra) > 0 && !isObject(r.Extra) {
		c.Fail("extra", nil, "a JSON object", units.ErrSyntax)
	}
}

// checkValues records all else.
func (r Record) checkValues(c *units.Checker) {
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		c.Fail("date", r.Date, "a day of the calendar, written 2026-11-25", units.ErrSyntax)
	}
	situation := c.Child("situation")
	r.Situation.Check(&situation, r.ends()...)
	if r.Front == nil && r.Rear == nil {
		c.Fail("front", nil, "the setting of one end at least", units.ErrMissing)
	}
	if r.Job != nil {
		job := c.Child("job")
		r.Job.Check(&job)
	}
	for _, at := range r.ends() {
		own := c.Child(string(at))
		e, asked := r.end(at)
		e.check(&own, r.Situation.Conditions, asked)
	}
}

// check checks an end and compares it with that of the job, which may be nil.
func (e *EndRecord) check(c *units.Checker, where *airspring.Conditions, job *setup.EndJob) {
	b := e.assemble(c, where)
	if job != nil {
		e.compare(c, job)
	}
	if b.readings(c, e.Readings); c.Bad("readings") {
		return
	}
	if e.Ride != nil {
		own := c.Child("ride")
		e.Ride.check(&own, b)
	}
	checkTried(c, e.Tried)
}

// compare records what is impossible on the end that the job describes.
func (e *EndRecord) compare(c *units.Checker, job *setup.EndJob) {
	if !reflect.DeepEqual(e.Curve, job.Curve) {
		c.Fail("curve", nil, "the curve that the job has", units.ErrConflict)
	}
	switch {
	case e.Coil != nil && e.Air != nil: // already recorded as bad
	case e.Coil != nil && job.Coil == nil:
		c.Fail("coil", nil, "no coil spring: the job has none at this end", units.ErrConflict)
	case e.Air != nil && job.Gauge != nil:
		if most := job.Gauge.Highest(); e.Air.MaxFill > most {
			c.Fail("air.max_fill", e.Air.MaxFill, units.AtMost(most).With("the highest that the job's gauge permits"), units.ErrConflict)
		}
	case e.Air != nil && job.Air == nil:
		c.Fail("air", nil, "no air spring: the job has none at this end", units.ErrConflict)
	case e.Air != nil:
		if most := job.Air.MaxSpacers; most > 0 && e.Air.Spacers > most {
			c.Fail("air.spacers", e.Air.Spacers, units.AtMost(most).Of("max_spacers").With("of the job"), units.ErrConflict)
		}
		if most := job.Air.MaxFill; e.Air.MaxFill > most {
			c.Fail("air.max_fill", e.Air.MaxFill, units.AtMost(most).Of("max_fill").With("of the job"), units.ErrConflict)
		}
	}
}
