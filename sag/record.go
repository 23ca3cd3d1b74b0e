package sag

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// RecordSchema is the schema name every record carries.
const RecordSchema = "wheelrate/record/1"

// ErrNewer is the class of a record that was written by a later version of
// this package: it may hold what this one would lose.
var ErrNewer = errors.New("written by a newer version")

// Record is what was fitted and measured on a bike at one visit, so that the
// next one starts from it: [Record.ChangeTo] for another rider or another
// place, [Record.Measuring] for what the ring says.
type Record struct {
	Schema string `json:"schema"` // [RecordSchema]
	Date   string `json:"date"`   // of the visit, 2026-11-25; the user's, no clock is asked
	Note   string `json:"note,omitempty"`
	// Situation is who rode with what, and where.
	Situation Situation `json:"situation"`
	// Front and Rear are the ends as they were left; at least one is given.
	Front *EndRecord `json:"front,omitempty"`
	Rear  *EndRecord `json:"rear,omitempty"`
	// Job is what was asked for, shelf and all, where that is to be kept.
	Job *Job `json:"job,omitempty"`
	// Extra is an object of an application's own. It is kept as it is but for
	// white space.
	Extra json.RawMessage `json:"extra,omitempty"`
}

// EndRecord is one end as it was left, and what was read on it.
type EndRecord struct {
	Setting
	Readings []Reading `json:"readings,omitempty"`
	Note     string    `json:"note,omitempty"`
}

// NewRecord returns the record of a job whose sheet was followed: each end is
// set to what the sheet recommends. The date is written as 2026-11-25; the
// sheet must be the one that [NewSheet] made of the job. The error names every
// bad field.
func NewRecord(date string, job Job, s *Sheet) (Record, error) {
	r := Record{Schema: RecordSchema, Date: date, Note: job.Note, Situation: Situation{Masses: job.Masses}, Job: &job}
	if s == nil {
		c := units.Checker{Package: "sag"}
		c.Fail("sheet", nil, "the sheet of the job", units.ErrMissing)
		return Record{}, c.Err()
	}
	r.Front, r.Rear = endRecord(job.Front, &s.Front), endRecord(job.Rear, &s.Rear)
	if err := r.Check(); err != nil {
		return Record{}, err
	}
	return r, nil
}

func endRecord(j EndJob, e *EndSheet) *EndRecord {
	r := &EndRecord{Setting: Setting{Curve: j.Curve, Sag: j.Sag, Friction: j.Friction}}
	switch {
	case e.Coil != nil && j.Coil != nil && len(e.Coil.Candidates) > 0:
		best := e.Coil.Candidates[0]
		r.Coil = &CoilSetting{
			Rate: best.Rate, Preload: best.Preload,
			PreloadMin: j.Coil.PreloadMin, PreloadMax: j.Coil.PreloadMax, ThreadPitch: j.Coil.ThreadPitch,
		}
		if i := slices.IndexFunc(j.Coil.Shelf, func(s ShelfSpring) bool { return s.Rate == best.Rate }); i >= 0 {
			r.Coil.SolidTravel = j.Coil.Shelf[i].SolidTravel
		}
	case e.Air != nil && j.Air != nil && len(e.Air.Options) > 0:
		r.Air = &AirSetting{Spec: j.Air.Spec, MaxFill: j.Air.MaxFill}
		r.Air.Fill, r.Air.Spacers, r.Air.Ambient = e.Air.Options[0].Fill, e.Air.Options[0].Spacers, e.Air.Ambient
	}
	return r
}

// Check tells whether a record is good, in one error that names every bad
// field, such as rear.coil.rate or front.readings[1].stroke: schema and date,
// masses and conditions as for [NewChanged], settings and readings as for
// [NewMeasured], and an extra that is a JSON object.
func (r Record) Check() error {
	c := units.Checker{Package: "sag"}
	if r.Schema != RecordSchema {
		c.Fail("schema", r.Schema, `"`+RecordSchema+`"`, units.ErrUnknown)
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		c.Fail("date", r.Date, "a day of the calendar, written 2026-11-25", units.ErrSyntax)
	}
	var situation units.Checker
	situation.Package = "sag"
	_, err := NewLoads(r.Situation.Masses)
	situation.Add("masses", err)
	r.Situation.check(&situation)
	c.Add("situation", situation.Err())
	if r.Front == nil && r.Rear == nil {
		c.Fail("front", nil, "what one end at least was set to", units.ErrMissing)
	}
	if r.Front != nil {
		c.Add("front", r.Front.check())
	}
	if r.Rear != nil {
		c.Add("rear", r.Rear.check())
	}
	if r.Extra != nil && (!json.Valid(r.Extra) || !strings.HasPrefix(strings.TrimSpace(string(r.Extra)), "{")) {
		c.Fail("extra", nil, "a JSON object", units.ErrSyntax)
	}
	return c.Err()
}

func (e *EndRecord) check() error {
	own := units.Checker{Package: "sag"}
	b := e.Setting.build(&own)
	if len(e.Readings) > maxReadings {
		own.Fail("readings", len(e.Readings), fmt.Sprintf("at most %d readings", maxReadings), nil)
		return own.Err()
	}
	if own.OK() {
		for i, reading := range e.Readings {
			_, err := ImpliedLoad(b.curve, b.law, e.Friction, reading)
			own.Add(fmt.Sprintf("readings[%d]", i), err)
		}
	}
	return own.Err()
}

// Measuring returns what [NewMeasured] wants for one end: its setting, its
// readings and the load that the masses put on it. It is false where the record
// does not have that end.
func (r Record) Measuring(end End) (Measuring, bool) {
	e, load := r.Rear, func(l Loads) units.Force { return l.Rear }
	if end == FrontEnd {
		e, load = r.Front, func(l Loads) units.Force { return l.Front }
	}
	loads, err := NewLoads(r.Situation.Masses)
	if e == nil || err != nil || end != FrontEnd && end != RearEnd {
		return Measuring{}, false
	}
	return Measuring{Setting: e.Setting, Load: load(loads), Readings: slices.Clone(e.Readings)}, true
}

// ChangeTo returns what [NewChanged] wants to take the bike as it was left to
// another rider, kit or place.
func (r Record) ChangeTo(to Situation) Change {
	ch := Change{From: r.Situation, To: to}
	if r.Front != nil {
		ch.Front = &r.Front.Setting
	}
	if r.Rear != nil {
		ch.Rear = &r.Rear.Setting
	}
	return ch
}

var anySchema = regexp.MustCompile(`^wheelrate/record/([0-9]{1,9})$`)

// ReadRecord reads a record as JSON, at most [JobLimit] bytes, and checks it. A
// record of a later schema is refused as one of class [ErrNewer]; unknown and
// repeated fields, wrong types and missing units are refused, all in one error
// that names each field.
func ReadRecord(in io.Reader) (Record, error) {
	text, err := io.ReadAll(io.LimitReader(in, JobLimit+1))
	if err != nil {
		return Record{}, fmt.Errorf("record: %w", err)
	}
	var head struct {
		Schema string `json:"schema"`
	}
	if json.Unmarshal(text, &head) == nil {
		if m := anySchema.FindStringSubmatch(head.Schema); m != nil {
			if n, err := strconv.Atoi(m[1]); err == nil && n > 1 {
				return Record{}, &units.FieldError{Package: "record", Field: "schema", Value: head.Schema, Want: `"` + RecordSchema + `", or a later version of this program`, Class: ErrNewer}
			}
		}
	}
	var r Record
	if err := strictjson.Decode("record", bytes.NewReader(text), JobLimit, &r); err != nil {
		return Record{}, err
	}
	if err := r.Check(); err != nil {
		return Record{}, err
	}
	return r, nil
}

// WriteTo writes a record as indented JSON that [ReadRecord] reads back the
// same: every quantity to its last bit, though perhaps in another unit, notes
// and readings in their order, and the extra. A bad record is refused as
// [Record.Check] does, and nothing is written.
func (r Record) WriteTo(w io.Writer) (int64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(r); err != nil {
		return 0, fmt.Errorf("record: %w", err)
	}
	n, err := w.Write(out.Bytes())
	return int64(n), err
}
