package advice

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"time"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// VisitSchema is the value of [Visit.Schema].
const VisitSchema = "wheelrate/visit/1"

// Visit is a bike that comes back: how it was left, and what was found on it. Exactly one of Record
// and Job is given.
type Visit struct {
	Schema string        `json:"schema"` // [VisitSchema]
	Date   string        `json:"date"`   // of the visit, as 2026-11-26
	Note   string        `json:"note,omitempty"`
	Record *visit.Record `json:"record,omitempty"` // of the last visit
	Job    *setup.Job    `json:"job,omitempty"`    // for a first visit: the bike is set as the job's sheet recommends
	// RiderMass is that of another rider than the record's, dressed and packed to ride; 0 for the same.
	// Masses states all of them instead, for another bike's load, kit or stance; nil for the same.
	RiderMass units.Mass  `json:"rider_mass,omitempty"`
	Masses    *sag.Masses `json:"masses,omitempty"`
	// Conditions are those of today, in which rings and gauges were read; nil for the record's.
	Conditions *airspring.Conditions `json:"conditions,omitempty"`
	Front      *EndVisit             `json:"front,omitempty"` // nil if nothing was found in front
	Rear       *EndVisit             `json:"rear,omitempty"`  // nil if nothing was found at the rear
}

// EndVisit is what was found at one end before anything was changed.
type EndVisit struct {
	// Fill is the gauge pressure at full extension before a pump is connected; its hose lowers it
	// ([airspring.HoseReading]). 0 if it was not read.
	Fill     units.GaugePressure `json:"fill,omitempty"`
	Readings []visit.Reading     `json:"readings,omitempty"` // of the ring, with the rider standing still; at most 1000
	Ride     *visit.Ride         `json:"ride,omitempty"`     // of the ring after a ride with the setting of the record
	Felt     visit.Felt          `json:"felt,omitempty"`     // what the rider says of that setting; empty if nothing
}

// Answer is what a visit comes to.
type Answer struct {
	From     sag.Loads       `json:"from"` // as the record has it
	To       sag.Loads       `json:"to"`   // today
	Front    *EndAnswer      `json:"front,omitempty"`
	Rear     *EndAnswer      `json:"rear,omitempty"`
	Warnings []units.Warning `json:"warnings"`
	Cautions []fit.Caution   `json:"cautions"`
	Next     visit.Record    `json:"next"` // the record for the next visit, with each end set as advised
}

// EndAnswer is what a visit comes to at one end.
type EndAnswer struct {
	Advice []Item        `json:"advice"` // what to do, in plain words and in order
	Left   visit.Outcome `json:"left"`   // as the record left it, in its situation
	Now    visit.Outcome `json:"now"`    // as it is set, in today's situation, if all is as stated
	// FillChange is the fill that was read less that of Now's situation if no air were lost; 0 if no
	// fill was read.
	FillChange units.GaugePressure `json:"fill_change,omitempty"`
	Report     *visit.Report       `json:"report,omitempty"` // nil without readings
	Ride       *visit.RideReport   `json:"ride,omitempty"`   // nil without a ride
	// Load is the sprung load at the wheel that Set and Plan are for: the one that the readings imply,
	// or the predicted one without readings.
	Load units.Force `json:"load"`
	Plan *visit.Plan `json:"plan,omitempty"` // nil if its ring error is too large for the stroke
	// Sag is the target: that of the setting, or of the plan's next trial once a setting was tried.
	Sag    float64          `json:"sag"`
	Set    visit.Correction `json:"set"`    // for the target under the load
	Change bool             `json:"change"` // Set is worth setting: the target is beyond what the ring can tell
}

// ReadVisit reads a visit as JSON of at most [setup.JobLimit] bytes. One error names every field that
// is unknown, repeated, of the wrong type or without its unit, and with them whatever else is wrong
// with the visit by itself. The values of a visit that could be decoded whole are checked by
// [Visit.Answer] alone.
//
// What the visit starts from may be kept elsewhere: record or job, or nil for both. The text then has
// neither.
func ReadVisit(r io.Reader, record *visit.Record, job *setup.Job) (Visit, error) {
	var v Visit
	text, err := strictjson.ReadAll("visit", r, setup.JobLimit)
	if err != nil {
		return v, err
	}
	var within struct {
		Record json.RawMessage `json:"record"`
	}
	if json.Unmarshal(text, &within) == nil && within.Record != nil {
		if _, _, err := visit.ReadRecord(bytes.NewReader(within.Record)); errors.Is(err, units.ErrNewer) {
			return v, units.At("record", err)
		}
	}
	read, err := strictjson.Salvage("visit", text, strictjson.Rules{}, &v)
	if err != nil {
		return v, err
	}
	c := units.Checker{Package: "sag"}
	if record != nil || job != nil {
		if v.Record != nil || v.Job != nil {
			c.Fail("record", nil, "a record or job within the visit or beside it, not both", units.ErrConflict)
		}
		v.Record, v.Job = record, job
	}
	if read.Join(nil) != nil {
		v.check(&c)
	}
	return v, read.Join(c.Err())
}

// Answer returns what a visit comes to, end by end: where the ring was to be expected
// ([visit.Record.Arrive]) in today's weather ([airspring.SpecAt]) with today's rider; what the readings
// say ([visit.Assembly.Report]); what the ride used ([visit.Arrival.Ride]); what to set, and what to try next
// ([visit.Assembly.Plan]); and the record for the next visit.
//
// Where the record has conditions and the visit has none, or the other way round, the gas is taken as
// it was left, and a warning says what that changes. Without readings the ring error of the plan is
// that of the ride, or 1 mm. Values that are far from what bikes and riders have are warnings
// ([setup.Implausible]), and so are those of the sheet at a first visit. If masses change, what another
// rider tried is forgotten. The error names every bad field, such as record.rear.coil.rate or
// front.readings[1].error.
func (v Visit) Answer() (*Answer, error) {
	c := units.Checker{Package: "sag"}
	record, warnings := v.check(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	to, ends := v.today(record.Situation), []sag.Axle{}
	if record.Front != nil {
		ends = append(ends, sag.Front)
	}
	if record.Rear != nil {
		ends = append(ends, sag.Rear)
	}
	a := &Answer{From: record.Situation.Check(&c, ends...), To: to.Check(&c, ends...), Warnings: append(warnings, v.implausible()...), Next: record}
	if c.Bad("masses.rider_mass") && v.RiderMass != 0 { // said of the field that the visit has
		c = units.Checker{Package: "sag"}
		units.Positive(&c, "rider_mass", v.RiderMass)
		if c.OK() {
			c.Fail("rider_mass", v.RiderMass, "a mass with which both springs carry a load", nil)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	if to.Conditions == nil {
		to.Conditions = record.Situation.Conditions
	}
	a.Next.Date, a.Next.Situation, a.Next.Notes = v.Date, to, slices.Clone(record.Notes)
	var air, coil bool
	for _, one := range []struct {
		axle   sag.Axle
		left   *visit.EndRecord
		answer **EndAnswer
		next   **visit.EndRecord
	}{{sag.Front, record.Front, &a.Front, &a.Next.Front}, {sag.Rear, record.Rear, &a.Rear, &a.Next.Rear}} {
		if one.left == nil {
			continue
		}
		air, coil = air || one.left.Gas(), coil || one.left.Coil != nil
		own := c.Child(string(one.axle))
		w := newWork(v, record, to, one.axle)
		if *one.answer, *one.next = w.answer(&own, record, to); !own.OK() {
			continue
		}
		a.Warnings = append(a.Warnings, w.warnings(*one.answer)...)
		a.Next.Notes = append(a.Next.Notes, w.note(v.Date, *one.answer))
	}
	a.Cautions = fit.Cautions(air, coil)
	if c.OK() {
		next := c.Child("next")
		a.Next.Check(&next)
	}
	return units.Checked(&c, a)
}

// check records what is wrong with a visit, except for what depends on how the bike is set. It returns
// the record that it starts from, and the warnings of the sheet of a first visit.
func (v Visit) check(c *units.Checker) (r visit.Record, warnings []units.Warning) {
	warnings = []units.Warning{}
	units.Schema(c, v.Schema, VisitSchema)
	if _, err := time.Parse(time.DateOnly, v.Date); err != nil {
		c.Fail("date", v.Date, "a day of the calendar, written 2026-11-26", units.ErrSyntax)
	}
	switch {
	case v.Record == nil && v.Job == nil:
		c.Fail("record", nil, "the record of the last visit, or a job for a first one", units.ErrMissing)
	case v.Record != nil && v.Job != nil:
		c.Fail("job", nil, "either record or job, not both: a record has its job in it", units.ErrConflict)
	case v.Record != nil:
		r = *v.Record
		own := c.Child("record")
		r.Check(&own)
	default:
		sheet, err := setup.NewSheet(*v.Job)
		if c.Add("job", err); err != nil {
			break
		}
		if r, err = visit.NewRecord(v.Date, *v.Job, sheet); err == nil {
			r.Situation.Conditions, warnings = v.Conditions, append(warnings, sheet.Warnings...)
		} else if !c.Bad("date") {
			c.Add("job", err)
		}
	}
	if v.RiderMass != 0 {
		units.Positive(c, "rider_mass", v.RiderMass)
		switch {
		case v.Masses != nil:
			c.Fail("rider_mass", v.RiderMass, "nothing beside masses, or rider_mass alone", units.ErrConflict)
		case r.Situation.Masses.Scaled():
			c.Fail("rider_mass", v.RiderMass, "masses with scales read under this rider: the record's loads are those of scales", units.ErrConflict)
		}
	}
	for _, one := range []struct {
		axle  string
		found *EndVisit
		left  *visit.EndRecord
	}{{"front", v.Front, r.Front}, {"rear", v.Rear, r.Rear}} {
		own := c.Child(one.axle)
		switch {
		case one.found == nil:
		case one.left == nil && r.Schema != "":
			own.Fail("", nil, "nothing: the record has no such end", units.ErrConflict)
		default:
			one.found.Felt.Check(&own)
		}
	}
	return r, warnings
}

// implausible returns the warnings of [setup.Implausible] about what a visit says beside a job.
func (v Visit) implausible() []units.Warning {
	list := setup.Implausible("", struct {
		RiderMass units.Mass  `json:"rider_mass"`
		Masses    *sag.Masses `json:"masses"`
	}{v.RiderMass, v.Masses})
	if v.Record == nil {
		return list
	}
	list = append(list, setup.Implausible("record.situation", v.Record.Situation)...)
	for _, one := range []struct {
		path string
		end  *visit.EndRecord
	}{{"record.front", v.Record.Front}, {"record.rear", v.Record.Rear}} {
		if one.end != nil {
			list = append(list, setup.Implausible(one.path, one.end.Setting)...)
		}
	}
	return list
}

// today returns the situation of a visit after that of its record.
func (v Visit) today(was visit.Situation) visit.Situation {
	if v.Masses != nil {
		was.Masses = *v.Masses
	} else if v.RiderMass != 0 {
		was.Masses.RiderMass = v.RiderMass
	}
	was.Conditions = v.Conditions
	return was
}
