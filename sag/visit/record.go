package visit

import (
	"encoding/json"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Record is what was fitted and measured on a bike at one visit. The next visit starts from it:
// [Record.Arrive] returns where an end rests as it was left and as it is now, and [Record.Sheet] what
// was recommended.
type Record struct {
	Schema string   `json:"schema"` // [RecordSchema]
	Date   string   `json:"date"`   // of the visit, as 2026-11-25
	Note   string   `json:"note,omitempty"`
	Notes  []string `json:"notes,omitempty"`
	// Situation is who rode, with which kit, and where. Its conditions are those in which the fills
	// were read. An air spring without an Ambient gets the standard atmosphere's at their altitude.
	Situation Situation `json:"situation"`
	// Front and Rear are the ends as they were left; at least one is given.
	Front *EndRecord `json:"front,omitempty"`
	Rear  *EndRecord `json:"rear,omitempty"`
	// Job is what was asked for. Its ends have the same curves and the same kinds of spring as Front
	// and Rear, but a fitted spring need not be of its shelf.
	Job *setup.Job `json:"job,omitempty"`
	// Extra is a JSON object for an application's own use. It is kept byte for byte, except that
	// [ReadRecord] removes white space.
	Extra json.RawMessage `json:"extra,omitempty"`
}

// EndRecord is one end as it was left, and what was read on it.
type EndRecord struct {
	Setting
	Readings []Reading `json:"readings,omitempty"`
	Ride     *Ride     `json:"ride,omitempty"`  // the ring after a ride with this setting
	Tried    []Tried   `json:"tried,omitempty"` // what was ridden with this rider before, at most 100; see [Bracket]
	Note     string    `json:"note,omitempty"`
}

// NewRecord returns the record of a job with each end set to what the job's sheet recommends. The
// date is that of the visit, as 2026-11-25. The sheet comes from [setup.NewSheet], and may have been
// written and read as JSON since. A spring known by its gauge is recorded with the chambers that its
// readings tell, and refused if they don't. The record shares the slices and pointers of the job. The error
// names every bad field, and sheet.front or sheet.rear if the sheet is not that of the job.
func NewRecord(date string, job setup.Job, s *setup.Sheet) (Record, error) {
	job = job.Filled()
	r := Record{Schema: RecordSchema, Date: date, Note: job.Note, Situation: Situation{Masses: job.Masses}, Job: &job}
	c := units.Checker{Package: "sag"}
	if s == nil {
		c.Fail("sheet", nil, "the sheet of the job", units.ErrMissing)
		return Record{}, c.Err()
	}
	r.Front, r.Rear = recommended(&c, "sheet.front", job.Front, s.Front), recommended(&c, "sheet.rear", job.Rear, s.Rear)
	if c.OK() {
		r.Check(&c)
	}
	if err := c.Err(); err != nil {
		return Record{}, err
	}
	return r, nil
}

// recommended returns one end of a job set to what its sheet recommends.
func recommended(c *units.Checker, path string, j *setup.EndJob, e *setup.EndSheet) *EndRecord {
	if (j == nil) != (e == nil) {
		c.Fail(path, nil, "the sheet of this job", units.ErrConflict)
	}
	if j == nil || e == nil {
		return nil
	}
	r := &EndRecord{Setting: Setting{Curve: j.Curve, Sag: j.Sag, Friction: j.Friction}}
	if best := e.Spring(); best != nil && j.Coil != nil && best.Index >= 0 && best.Index < len(j.Coil.Springs) {
		one := j.Coil.Springs[best.Index]
		alike := one.Rate == best.Rate && (one.SolidTravel > 0) == best.SolidKnown
		if one.Spec != nil || one.Law != nil {
			alike = one.Describe() == best.Law
		}
		if alike {
			r.Coil = &CoilSetting{ShelfSpring: one, Preload: best.Preload, Collar: j.Coil.Collar}
			return r
		}
	}
	if best := e.Fill(); best != nil && j.Air != nil {
		r.Air = &AirSetting{Spec: j.Air.Spec, MaxFill: j.Air.MaxFill, NegativeChamber: j.Air.NegativeChamber}
		r.Air.Fill, r.Air.Spacers, r.Air.Ambient = best.Fill, best.Spacers, e.Air.Ambient
		return r
	}
	if g := e.Gauge; g != nil && j.Gauge != nil {
		if g.Chambers == nil {
			c.Fail(path, nil, "a sheet on which the readings tell the chambers: keep the job, with every reading added to it, until they do", units.ErrMissing)
			return nil
		}
		r.Air = &AirSetting{Spec: *g.Chambers, MaxFill: j.Gauge.Highest()}
		if g.Chambers.NegativeVolume == 0 {
			r.Air.NegativeChamber = fit.None
		}
		return r
	}
	c.Fail(path, nil, "the sheet of this job", units.ErrConflict)
	return nil
}

// end returns one end of the record and what its job asks of it; nil if there is none.
func (r Record) end(axle sag.Axle) (*EndRecord, *setup.EndJob) {
	job := r.Job
	if job == nil {
		job = &setup.Job{}
	}
	switch axle {
	case sag.Front:
		return r.Front, job.Front
	case sag.Rear:
		return r.Rear, job.Rear
	}
	return nil, nil
}

// Sheet returns the sheet of the job in the record, by [setup.NewSheet]. If there is no job, the
// error is of class [units.ErrMissing].
func (r Record) Sheet() (*setup.Sheet, error) {
	if r.Job == nil {
		return nil, &units.FieldError{Package: "sag", Field: "job", Want: "a job that the record keeps", Class: units.ErrMissing}
	}
	s, err := setup.NewSheet(*r.Job)
	return s, units.At("job", err)
}
