package setup

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// JobSchema is the value of [Job.Schema]. JobLimit is the most bytes that [ReadJob] reads.
const (
	JobSchema = "wheelrate/job/1"
	JobLimit  = 1 << 20
)

// Job is a set-up question: which of these springs, or which fill, gives this rider on this bike the
// sag wanted at each end.
//
// If every spring is known by readings of its gauge ([fit.Gauge]), a job may leave out the bike's mass,
// the share of the weight, unsprung masses, the air around, a fork's head angle and a shaft's diameter:
// they hardly move such a fill. The sheet's LeftOut says what was taken, and [Job.Filled] returns it.
type Job struct {
	Schema string     `json:"schema"`         // [JobSchema]
	Note   string     `json:"note,omitempty"` // for people; repeated on the sheet
	Masses sag.Masses `json:"masses"`
	// Ambient is the absolute air pressure where the bike is set up. It is required if an air spring
	// does not state its own.
	Ambient     units.AbsolutePressure `json:"ambient,omitempty"`
	Stances     []NamedStance          `json:"stances,omitempty"` // at most 100
	Uncertainty *certainty.Uncertainty `json:"uncertainty,omitempty"`
	// Riders are the masses of other riders, dressed to ride, whose set-ups are wanted too: at most 100.
	// Without them the sheet has those of riders up to 15 kg lighter and heavier, in steps of 5 kg.
	Riders []units.Mass `json:"riders,omitempty"`
	// Front and Rear are the ends that have a spring, one at least: a hardtail has no rear.
	Front *EndJob `json:"front,omitempty"`
	Rear  *EndJob `json:"rear,omitempty"`
}

// EndJob is one end of the bike: its curve, its target and what can be fitted, with its damper and
// a drop to land.
type EndJob struct {
	fit.Spec
	// Damping is the coefficient of the damper at the wheel; 0 is an undamped end. DampingRatio states
	// it as a ratio of critical damping at the sag over a fast stroke, from 0 to 20. At most one of
	// them is more than 0.
	Damping      units.Damping `json:"damping,omitempty"`
	DampingRatio float64       `json:"damping_ratio,omitempty"`
	DropHeight   units.Length  `json:"drop_height,omitempty"` // of a drop to land, at most 1000 m, see [sag.End.Land]; 0 is no drop
}

// NamedStance is a way of standing on the bike, such as seated or descending, by the share of the
// weight that it puts on the rear wheel, and the ground below it. No stance is predefined. Where
// both ends do not settle together, see [Sheet.Coupled], the ground is taken as level.
type NamedStance struct {
	Name      string  `json:"name"`
	RearShare float64 `json:"rear_share"` // of the level bike, between 0 and 1
	sag.Ground
}

// ReadJob reads a job as JSON, at most [JobLimit] bytes. Units may be spelled as people do, and a
// fraction may be given as "20 %"; see package strictjson. One error names every unknown or repeated
// field, wrong type and missing unit ([units.Fields]), and with them whatever else [Job.Check] finds;
// text after the job is refused. Of a job of a later schema the schema alone is named, by an error of class
// [units.ErrNewer]. The values of a job that could be decoded whole are checked by Check
// and [NewSheet] alone.
func ReadJob(r io.Reader) (Job, error) {
	var j Job
	text, err := strictjson.ReadAll("job", r, JobLimit)
	if err != nil {
		return j, err
	}
	var head struct {
		Schema string `json:"schema"`
	}
	c := units.Checker{Package: "job"}
	if json.Unmarshal(text, &head) == nil && head.Schema != "" {
		units.Schema(&c, head.Schema, JobSchema)
	}
	if err := c.Err(); errors.Is(err, units.ErrNewer) {
		return j, err
	}
	read, err := strictjson.Salvage("job", text, strictjson.Rules{}, &j)
	if err != nil || read.Join(nil) == nil {
		return j, err
	}
	c = units.Checker{Package: "sag"}
	j.Check(&c)
	return j, read.Join(c.Err())
}

// Check records every bad field of a job. It does not compute the sheet: only [NewSheet] finds a
// target that no fill meets, or a stance in which the bike falls over.
func (j Job) Check(c *units.Checker) {
	j.Filled().prepareWithRider(c)
}

// prepareWithRider checks a job and returns its template and loads, which are valid only if c has no faults.
func (j Job) prepareWithRider(c *units.Checker) (*Template, sag.Loads) {
	masses := c.Child("masses")
	loads := j.Masses.Check(&masses)
	return j.prepare(c), loads
}

// prepare checks everything of a job but its masses, and returns its template.
func (j Job) prepare(c *units.Checker) *Template {
	good := c.OK() // the masses are
	units.Schema(c, j.Schema, JobSchema)
	j.checkStances(c)
	if few(c, "riders", len(j.Riders)) {
		for i, mass := range j.Riders {
			units.Positive(c, fmt.Sprintf("riders[%d]", i), mass)
		}
	}
	b := &Template{job: j, ends: j.ends()}
	if len(b.ends) == 0 {
		c.Fail("front", nil, "a front, a rear, or both", units.ErrMissing)
	}
	masses := c.Child("masses")
	var air, coil bool
	certain := certainty.Setup{Masses: j.Masses}
	for i := range b.ends {
		e := &b.ends[i]
		j.Masses.CheckStated(&masses, e.axle)
		e.check(c, e.loaded(c, e.axle, j.Masses, good), j.Ambient, j.Uncertainty.End(e.axle).Reading)
		air, coil = air || e.Air != nil || e.Gauge != nil || e.Coil != nil && e.Coil.Gas(), coil || e.Coil != nil
		one := &certainty.EndSetup{Spec: e.Spec, Drop: sag.Drop{Height: e.DropHeight, Damping: cmp.Or(e.Damping, units.Damping(e.DampingRatio))}}
		if e.options != nil { // an end with faults has none
			one.Spec, one.Curve = e.options.Spec(), e.options.Curve()
		}
		*sag.AtAxle(e.axle, &certain.Front, &certain.Rear) = one
	}
	b.cautions = fit.Cautions(air, coil)
	if j.Uncertainty != nil {
		own := c.Child("uncertainty")
		j.Uncertainty.Check(&own, certain)
	}
	return b
}

// endJob is an end of a job.
type endJob struct {
	axle sag.Axle
	*EndJob
	options *fit.Options // of a template
}

// ends returns the ends that a job has.
func (j Job) ends() []endJob {
	return slices.DeleteFunc([]endJob{{axle: sag.Front, EndJob: j.Front}, {axle: sag.Rear, EndJob: j.Rear}}, func(e endJob) bool { return e.EndJob == nil })
}

// check checks one end and makes the options of a spec. A reading with faults is left to the uncertainties' check.
func (e *endJob) check(c *units.Checker, spec fit.Spec, ambient units.AbsolutePressure, reading units.Length) {
	if reading > 0 && !math.IsInf(float64(reading), 0) {
		spec.Reading = reading
	}
	var err error
	e.options, err = fit.New(spec, ambient)
	own := c.Child(string(e.axle))
	own.Add("", err)
	units.NonNegative(&own, "damping", e.Damping)
	units.Between(&own, "damping_ratio", e.DampingRatio, 0, sag.MostDamping)
	if e.Damping > 0 && e.DampingRatio > 0 {
		own.Fail("damping_ratio", e.DampingRatio, units.Without("damping").With("or the ratio alone"), units.ErrConflict)
	}
	units.Between(&own, "drop_height", e.DropHeight, 0, sag.MostDrop)
}

// few reports whether a list of a job has at most 100 elements, since each takes time, or records its length.
func few(c *units.Checker, list string, n int) bool {
	if n > 100 {
		c.Fail(list, n, units.AtMost(100).Count(list), nil)
	}
	return n <= 100
}

// checkStances checks a job's stances. Each has a unique name.
func (j Job) checkStances(c *units.Checker) {
	if !few(c, "stances", len(j.Stances)) {
		return
	}
	seen := make(map[string]bool, len(j.Stances))
	for i, one := range j.Stances {
		own := c.Element("stances", i)
		switch {
		case one.Name == "":
			own.Fail("name", nil, "a name", units.ErrMissing)
		case seen[one.Name]:
			own.Fail("name", one.Name, "a name of its own", units.ErrConflict)
		}
		seen[one.Name] = true
		units.Inside(&own, "rear_share", one.RearShare, 0, 1)
		one.Ground.Check(&own)
	}
}
