package sag

import (
	"io"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
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
	Masses Masses `json:"masses"`
	// Ambient is the air pressure where the bike is set up, above vacuum. It
	// is needed where an end has an air spring that doesn't state its own.
	Ambient units.AbsolutePressure `json:"ambient,omitempty"`
	// Stances are other ways of standing on the bike to tell the sag for, at
	// most 100.
	Stances []NamedStance `json:"stances,omitempty"`
	// Uncertainty says how well the inputs are known. Given, the sheet tells
	// how well its answers are, and what decides between springs.
	Uncertainty *Uncertainty `json:"uncertainty,omitempty"`
	Front       EndJob       `json:"front"`
	Rear        EndJob       `json:"rear"`
}

// EndJob is one end of the bike: its curve, its target and what can be fitted.
// Exactly one of Coil and Air is given.
type EndJob struct {
	Curve linkage.Spec `json:"curve"`
	// Sag is the target, as a fraction of the wheel's full travel; a millionth at
	// the least.
	Sag float64 `json:"sag"`
	// Friction is the dry friction at the spring, if known; 0 gives no band.
	Friction units.Force `json:"friction,omitempty"`
	// Damping is the coefficient of the damper at the wheel, and DampingRatio
	// the same as a part of critical damping about the sag, over a fast stroke.
	// One of them at most is given; 0 is none.
	Damping      Damping `json:"damping,omitempty"`
	DampingRatio float64 `json:"damping_ratio,omitempty"`
	// DropHeight, where given, asks how this end takes a drop; see [NewLanding].
	DropHeight units.Length `json:"drop_height,omitempty"`
	Coil       *CoilChoice  `json:"coil,omitempty"`
	Air        *AirChoice   `json:"air,omitempty"`
}

// CoilChoice is a shelf of coil springs and the range of the preload collar.
type CoilChoice struct {
	Shelf []ShelfSpring `json:"shelf"` // at least one, at most 1000
	// PreloadMin and PreloadMax are the least and the most compression that
	// the collar can put on a spring at full extension.
	PreloadMin units.Length `json:"preload_min,omitempty"`
	PreloadMax units.Length `json:"preload_max,omitempty"`
	// ThreadPitch is the collar's advance per turn. Given, preload is rounded
	// to whole quarter turns and also told in turns. It is 0.001 mm or more.
	ThreadPitch units.Length `json:"thread_pitch,omitempty"`
}

// ShelfSpring is one spring of the shelf, told from the others by its rate.
type ShelfSpring struct {
	Rate units.Stiffness `json:"rate"`
	// SolidTravel is the compression from free to coil-bound, as marked on
	// the spring or measured. 0 means unknown, which the sheet then warns of.
	SolidTravel units.Length `json:"solid_travel,omitempty"`
}

// AirChoice is an air spring with the spacers it can take. Of the embedded
// spec, Fill is the pressure it holds now, if known; Spacers is how many are
// fitted now; Travel may be left out where it is the curve's stroke; Ambient
// where it is the job's. Exponent is that of a fast stroke; standing still is
// always worked out with the gas at the temperature around it.
type AirChoice struct {
	airspring.Spec
	// MaxFill is the highest fill that the marking on the part permits.
	MaxFill units.GaugePressure `json:"max_fill"`
	// MaxSpacers is how many spacers fit. With FullTravelRatio given, every
	// count from 0 to MaxSpacers is tried; otherwise the fitted count is kept.
	MaxSpacers int `json:"max_spacers,omitempty"`
	// FullTravelRatio is the wheel force wanted at full travel, as a multiple
	// of the sprung load; 0 means no wish.
	FullTravelRatio float64 `json:"full_travel_ratio,omitempty"`
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
