package visit

import (
	"cmp"
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
	switch best, fill, g := e.Spring(), e.Fill(), e.Gauge; {
	case best != nil && j.Coil != nil && isOf(j.Coil.Springs, best):
		r.Coil = &CoilSetting{ShelfSpring: j.Coil.Springs[best.Index], Preload: best.Preload, Collar: j.Coil.Collar}
	case fill != nil && j.Air != nil:
		r.Air = &AirSetting{Spec: j.Air.Spec, MaxFill: j.Air.MaxFill, NegativeChamber: j.Air.NegativeChamber}
		r.Air.Fill, r.Air.Spacers, r.Air.Ambient = fill.Fill, fill.Spacers, e.Air.Ambient
	case g != nil && j.Gauge != nil && g.Chambers == nil:
		c.Fail(path, nil, "a sheet on which the readings tell the chambers: keep the job, with every reading added to it, until they do", units.ErrMissing)
	case g != nil && j.Gauge != nil:
		r.Air = &AirSetting{Spec: *g.Chambers, MaxFill: j.Gauge.Highest()}
		if g.Chambers.NegativeVolume == 0 {
			r.Air.NegativeChamber = fit.None
		}
	default:
		c.Fail(path, nil, "the sheet of this job", units.ErrConflict)
	}
	return r
}

// isOf reports whether a candidate is of a shelf.
func isOf(shelf []fit.ShelfSpring, best *fit.CoilCandidate) bool {
	if best.Index < 0 || best.Index >= len(shelf) {
		return false
	}
	one := shelf[best.Index]
	if one.Spec != nil || one.Law != nil {
		return one.Describe() == best.Law
	}
	return one.Rate == best.Rate && (one.SolidTravel > 0) == best.SolidKnown
}

// end returns one end of the record and what its job asks of it; nil if there is none.
func (r Record) end(axle sag.Axle) (*EndRecord, *setup.EndJob) {
	switch job := cmp.Or(r.Job, &setup.Job{}); axle {
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
		return nil, &units.FieldError{Package: "sag", Field: "job", Want: units.Want{Text: "a job that the record keeps"}, Class: units.ErrMissing}
	}
	s, err := setup.NewSheet(*r.Job)
	return s, units.At("job", err)
}
