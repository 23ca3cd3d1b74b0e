package visit

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// RecordSchema is the schema name every record carries.
const RecordSchema = "wheelrate/record/1"

// ErrNewer is the class of a record that was written by a later version of
// this package: it may hold what this one would lose.
var ErrNewer = errors.New("written by a newer version")

// Record is what was fitted and measured on a bike at one visit, so that the
// next one starts from it: [Record.Outcome] for where the bike rests as it was
// left, [Record.Series] for what the ring says about that,
// [Record.ChangeTo] for another rider or another place, [Record.Sheet] for what
// was recommended then.
type Record struct {
	Schema string `json:"schema"` // [RecordSchema]
	Date   string `json:"date"`   // of the visit, 2026-11-25; the user's, no clock is asked
	Note   string `json:"note,omitempty"`
	// Notes are free text, kept in their order.
	Notes []string `json:"notes,omitempty"`
	// Situation is who rode with what, and where. Its conditions are those that
	// the fills were read in; an air spring that leaves its Ambient out has that
	// of the altitude there.
	Situation Situation `json:"situation"`
	// Front and Rear are the ends as they were left; at least one is given.
	Front *EndRecord `json:"front,omitempty"`
	Rear  *EndRecord `json:"rear,omitempty"`
	// Job is what was asked for, shelf and all, where that is to be kept. Its
	// ends have the same curves and the same kinds of spring as those above;
	// what is fitted need not be of its shelf.
	Job *setup.Job `json:"job,omitempty"`
	// Extra is an object of an application's own. It is kept byte for byte but
	// for white space: order, repeated names and digits of numbers too. It is
	// without white space once [ReadRecord] has read it.
	Extra json.RawMessage `json:"extra,omitempty"`
}

// EndRecord is one end as it was left, and what was read on it.
type EndRecord struct {
	Setting
	Readings []Reading `json:"readings,omitempty"`
	Note     string    `json:"note,omitempty"`
}

// Turns returns the preload of a coil in turns of its collar from where the
// spring is just free, Preload/ThreadPitch; 0 for air and where the pitch is unknown.
func (e EndRecord) Turns() float64 {
	if e.Coil == nil || !(e.Coil.ThreadPitch > 0) {
		return 0
	}
	turns := float64(e.Coil.Preload / e.Coil.ThreadPitch)
	if !(turns >= 0 && turns < math.MaxFloat64) {
		return 0
	}
	return turns
}

// NewRecord returns the record of a job whose sheet was followed: each end is
// set to what the sheet recommends. The date is written as 2026-11-25; the
// sheet must be the one that [setup.NewSheet] made of the job, or that one read from
// JSON. The record shares the lists of the job. The error names every bad field.
func NewRecord(date string, job setup.Job, s *setup.Sheet) (Record, error) {
	r := Record{Schema: RecordSchema, Date: date, Note: job.Note, Situation: Situation{Masses: job.Masses}, Job: &job}
	if s == nil {
		c := units.Checker{Package: "sag"}
		c.Fail("sheet", nil, "the sheet of the job", units.ErrMissing)
		return Record{}, c.Err()
	}
	c := units.Checker{Package: "sag"}
	r.Front, r.Rear = endRecord(&c, "sheet.front", job.Front, &s.Front), endRecord(&c, "sheet.rear", job.Rear, &s.Rear)
	if !c.OK() {
		return Record{}, c.Err()
	}
	if err := r.Check(); err != nil {
		return Record{}, err
	}
	return r, nil
}

func endRecord(c *units.Checker, path string, j setup.EndJob, e *setup.EndSheet) *EndRecord {
	r := &EndRecord{Setting: Setting{Curve: j.Curve, Sag: j.Sag, Friction: j.Friction}}
	switch {
	case e.Coil != nil && j.Coil != nil && len(e.Coil.Candidates) > 0:
		best := &e.Coil.Candidates[0]
		if best.Index >= len(j.Coil.Springs) || j.Coil.Springs[best.Index].Rate != best.Rate {
			break
		}
		r.Coil = &CoilSetting{
			Rate: best.Rate, Preload: best.Preload, SolidTravel: j.Coil.Springs[best.Index].SolidTravel, Collar: j.Coil.Collar,
		}
		return r
	case e.Air != nil && j.Air != nil && len(e.Air.Options) > 0:
		r.Air = &AirSetting{Spec: j.Air.Spec, MaxFill: j.Air.MaxFill}
		r.Air.Fill, r.Air.Spacers, r.Air.Ambient = e.Air.Options[0].Fill, e.Air.Options[0].Spacers, e.Air.Ambient
		return r
	}
	c.Fail(path, nil, "the sheet of this very job", units.ErrConflict)
	return nil
}

// end returns one end of the record; nil where it does not have that.
func (r Record) end(axle sag.Axle) *EndRecord {
	switch axle {
	case sag.Front:
		return r.Front
	case sag.Rear:
		return r.Rear
	}
	return nil
}

// setting is that of an end, with the ambient of the conditions where an air
// spring has none of its own.
func (r Record) setting(e *EndRecord) Setting {
	s := e.Setting
	if s.Air != nil && s.Air.Ambient == 0 && r.Situation.Conditions != nil {
		if around, err := airspring.Atmosphere(r.Situation.Conditions.Altitude); err == nil {
			air := *s.Air
			air.Ambient = around.Pressure
			s.Air = &air
		}
	}
	return s
}

// build returns one end as it was left, with the load on it.
func (r Record) build(axle sag.Axle) (end, units.Force, error) {
	c := units.Checker{Package: "sag"}
	masses := c.Child("situation.masses")
	loads := r.Situation.Masses.Check(&masses)
	e, load := r.end(axle), loads.Rear
	if axle == sag.Front {
		load = loads.Front
	}
	var b end
	if e == nil {
		c.Fail("end", string(axle), "front or rear, which the record has", units.ErrMissing)
	} else {
		own := c.Child(string(axle))
		b = r.setting(e).build(&own)
	}
	return b, load, c.Err()
}

// End returns one end as it was left, not as the sheet recommends. Standing still,
// the gas is as warm as its surroundings. A coil that binds early ends the travel
// of its law there. The error names every bad field of masses and setting, or end
// where the record does not have it.
func (r Record) End(axle sag.Axle) (sag.End, error) {
	b, _, err := r.build(axle)
	if err != nil {
		return sag.End{}, err
	}
	return b.End, nil
}

// Outcome returns where one end comes to rest as it was left under the rider of
// the record, by [sag.End.SettleWithin]: what a ring reads if all is as stated. A
// load that the spring holds at the top, or that takes it to full travel, is a
// finding. Errors are those of [Record.End].
func (r Record) Outcome(axle sag.Axle) (Outcome, error) {
	b, load, err := r.build(axle)
	if err != nil {
		return Outcome{}, err
	}
	o, err := b.outcome(load)
	return o, units.At(string(axle), err)
}

// Sheet returns the sheet of the job that the record keeps, as [setup.NewSheet]
// does. It is an error of class [units.ErrMissing] where it keeps none.
func (r Record) Sheet() (*setup.Sheet, error) {
	if r.Job == nil {
		return nil, &units.FieldError{Package: "sag", Field: "job", Want: "a job that the record keeps", Class: units.ErrMissing}
	}
	s, err := setup.NewSheet(*r.Job)
	return s, units.At("job", err)
}

// Series returns what [Series.Report] wants for one end: its setting, its
// readings and the load that the masses put on it. It is false where the record
// does not have that end.
func (r Record) Series(axle sag.Axle) (Series, bool) {
	e := r.end(axle)
	loads, err := r.Situation.Masses.Loads()
	if e == nil || err != nil {
		return Series{}, false
	}
	load := loads.Rear
	if axle == sag.Front {
		load = loads.Front
	}
	return Series{Setting: r.setting(e), Load: load, Readings: slices.Clone(e.Readings)}, true
}

// ChangeTo returns what [Change.Effect] wants to take the bike as it was left to
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

var anySchema = regexp.MustCompile(`^wheelrate/record/[1-9][0-9]{0,8}$`)

// ReadRecord reads a record as JSON, at most [setup.JobLimit] bytes, and checks it. A
// record of a later schema is refused as one of class [ErrNewer]; unknown and
// repeated fields, wrong types and missing units are refused, all in one error
// that names each field.
func ReadRecord(in io.Reader) (Record, error) {
	text, err := io.ReadAll(io.LimitReader(in, setup.JobLimit+1))
	if err != nil {
		return Record{}, fmt.Errorf("record: %w", err)
	}
	var head struct {
		Schema string `json:"schema"`
	}
	if json.Unmarshal(text, &head) == nil {
		if head.Schema != RecordSchema && anySchema.MatchString(head.Schema) {
			return Record{}, &units.FieldError{Package: "record", Field: "schema", Value: head.Schema, Want: `"` + RecordSchema + `", or a later version of this program`, Class: ErrNewer}
		}
	}
	var r Record
	if err := strictjson.Decode("record", bytes.NewReader(text), setup.JobLimit, &r); err != nil {
		return Record{}, err
	}
	if err := r.Check(); err != nil {
		return Record{}, err
	}
	if r.Extra != nil {
		var tight bytes.Buffer
		if err := json.Compact(&tight, r.Extra); err != nil {
			return Record{}, fmt.Errorf("record: %w", err)
		}
		r.Extra = tight.Bytes()
	}
	return r, nil
}

// WriteTo writes a record as indented JSON that [ReadRecord] reads back the
// same: every quantity to its last bit, though perhaps in another unit (a zero
// loses its sign), notes and readings in their order, and the extra. What is
// read and written again is the same text. A bad record is refused as
// [Record.Check] does, and so is one of more than [setup.JobLimit] bytes of JSON;
// nothing is written then.
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
	// What could not be read again is refused now, not at the next visit.
	if err := strictjson.Decode("record", bytes.NewReader(out.Bytes()), setup.JobLimit, new(Record)); err != nil {
		return 0, err
	}
	n, err := w.Write(out.Bytes())
	return int64(n), err
}
