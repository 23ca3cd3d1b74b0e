package setup

import (
	"io"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// JobSchema is the schema name every job carries.
const JobSchema = "wheelrate/job/1"

// JobLimit is the largest job that [ReadJob] reads, in bytes.
const JobLimit = 1 << 20

// Job is one set-up question: this rider on this bike, with these springs or
// chambers to choose from, should sag so much at each end.
type Job struct {
	Schema string `json:"schema"`         // [JobSchema]
	Note   string `json:"note,omitempty"` // for people; echoed on the sheet
	// Masses of rider and bike, and how they stand on the wheels.
	Masses sag.Masses `json:"masses"`
	// Ambient is the air pressure where the bike is set up, above vacuum. It
	// is needed where an end has an air spring that doesn't state its own.
	Ambient units.AbsolutePressure `json:"ambient,omitempty"`
	// Stances are other ways of standing on the bike to tell the sag for, at
	// most 100.
	Stances []NamedStance `json:"stances,omitempty"`
	// Uncertainty says how well the inputs are known. Given, the sheet tells
	// how well its answers are, and what decides between springs.
	Uncertainty *certainty.Uncertainty `json:"uncertainty,omitempty"`
	Front       EndJob                 `json:"front"`
	Rear        EndJob                 `json:"rear"`
}

// EndJob is one end of the bike: its curve, its target and what can be fitted, and
// what the sheet is asked about it besides.
type EndJob struct {
	fit.Spec
	// Damping is the coefficient of the damper at the wheel, and DampingRatio
	// the same as a part of critical damping about the sag, over a fast stroke.
	// One of them at most is given; 0 is none.
	Damping      sag.Damping `json:"damping,omitempty"`
	DampingRatio float64     `json:"damping_ratio,omitempty"`
	// DropHeight, where given, asks how this end takes a drop; see [sag.End.Land].
	DropHeight units.Length `json:"drop_height,omitempty"`
}

// ReadJob reads a job as JSON, at most [JobLimit] bytes. Unknown and repeated
// fields, wrong types, missing units and text after the job are refused, all
// in one error that names each field; see [units.Fields]. What the values
// themselves must be is checked by [NewSheet].
func ReadJob(r io.Reader) (Job, error) {
	var j Job
	err := strictjson.Decode("job", r, JobLimit, &j)
	return j, err
}
