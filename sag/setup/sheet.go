package setup

import (
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// SheetSchema is the value of [Sheet.Schema].
const SheetSchema = "wheelrate/sheet/1"

// Sheet is the answer to a [Job] as data.
type Sheet struct {
	Schema    string     `json:"schema"` // [SheetSchema]
	Note      string     `json:"note,omitempty"`
	RiderMass units.Mass `json:"rider_mass"` // as stated, or the readings of the scales less the bike's mass
	Loads     sag.Loads  `json:"loads"`
	Front     *EndSheet  `json:"front,omitempty"` // nil for an end that the job does not have, as is Rear
	Rear      *EndSheet  `json:"rear,omitempty"`
	// FrequencyRatio is the front's bounce frequency divided by the rear's, both over a fast stroke; 0
	// if either end has none.
	FrequencyRatio float64           `json:"frequency_ratio,omitempty"`
	Coupled        *Coupled          `json:"coupled,omitempty"`     // nil where it is left out
	Geometry       *GeometrySheet    `json:"geometry,omitempty"`    // nil where it is left out
	Free           *FreeSag          `json:"free,omitempty"`        // nil where it is left out
	Stances        []StanceSheet     `json:"stances,omitempty"`     // those of the job
	Uncertainty    *certainty.Budget `json:"uncertainty,omitempty"` // nil where the job states none
	Riders         []RiderSheet      `json:"riders,omitempty"`      // those of the job, or lighter and heavier ones, for whom each end has a spring or fill
	LeftOut        []Omission        `json:"left_out"`
	Warnings       []units.Warning   `json:"warnings"`
	Cautions       []fit.Caution     `json:"cautions"`

	masses sag.Masses
}

// EndSheet is the recommended set-up of one end of the bike, and what the end does then.
type EndSheet struct {
	WheelLoad units.Force `json:"wheel_load"` // of the wheel on the ground
	// State is what the end does under the sprung load; nil if too little is known of its spring.
	*sag.State
	Travel     units.Length        `json:"travel"` // full vertical wheel travel
	Stroke     units.Length        `json:"stroke"` // full stroke of the shock, or along the stanchion
	LeverRatio linkage.Progression `json:"lever_ratio"`
	TargetSag  float64             `json:"target_sag"` // fraction of Travel
	Friction   units.Force         `json:"friction"`   // as the job states it, or 0
	fit.Choice
	Damping *DampingSheet `json:"damping,omitempty"` // nil for an undamped end
	Landing *sag.Landing  `json:"landing,omitempty"` // of the job's drop; nil without one
	// Pump is the steps from the fill that the spring holds to the recommended one, from none where spacers
	// are changed. It is nil for a spring without a negative chamber, where the fill is not stated, and
	// where there is no plan.
	Pump    *airspring.TopUpPlan `json:"pump,omitempty"`
	Measure []Measurement        `json:"measure"` // on the stand, to confirm the prediction

	options *fit.Options
}

// Measurement is a reading that confirms or refutes a prediction.
type Measurement struct {
	What     string       `json:"what"` // "stroke" at the shock or stanchion, "wheel" for vertical wheel travel
	Expected units.Length `json:"expected"`
	Low      units.Length `json:"low"`  // the least that friction allows; Expected without friction
	High     units.Length `json:"high"` // the most that friction allows
}

// NewSheet returns the sheet of a job: the loads on the wheels, what to fit at each end
// ([fit.Options.Choose]), and what the bike does then. The error names every bad field, such as
// front.air.bore; see [units.Fields].
//
// At rest the gas is at the temperature around it (exponent 1). Over a fast stroke from full
// extension it follows the job's exponent. Each end is chosen by itself on level ground. The
// recommended set-up is then put under the bike's own weight (Free) and the job's stances, and both
// ends settle together (Coupled).
func NewSheet(job Job) (*Sheet, error) {
	c := units.Checker{Package: "sag"}
	whole, blanks := job.filled(nil)
	b, loads := whole.prepareWithRider(&c)
	if !c.OK() {
		return nil, c.Err()
	}
	s, err := b.answer(whole.Masses, loads)
	if err != nil {
		return nil, err
	}
	s.addRiders(b)
	s.addPump()
	s.addTaken()
	s.addFilled(job, blanks)
	s.Warnings = slices.Insert(s.Warnings, 0, s.implausible(job)...) // first, since the others may follow from them
	return s, nil
}

// answer returns the sheet of valid masses. The sheets of a template share only what never changes.
func (b *Template) answer(masses sag.Masses, loads sag.Loads) (*Sheet, error) {
	c := units.Checker{Package: "sag"}
	made := &struct {
		Sheet
		ends   [2]EndSheet // beside it in memory
		states [2]sag.State
	}{}
	s := &made.Sheet
	*s = Sheet{Schema: SheetSchema, Note: b.job.Note, RiderMass: masses.Rider(), Loads: loads, LeftOut: []Omission{}, Warnings: []units.Warning{}, Cautions: slices.Clone(b.cautions), masses: masses}
	for i := range b.ends {
		one, job := &made.ends[i], &b.ends[i]
		one.State, one.WheelLoad = &made.states[i], sag.AtAxle(job.axle, loads.FrontWheel, loads.RearWheel)
		*sag.AtAxle(job.axle, &s.Front, &s.Rear) = one
		c.Add(string(job.axle), one.answer(job, loads.Load(job.axle)))
	}
	if !c.OK() {
		return nil, c.Err()
	}
	if s.Front.known() && s.Rear.known() && s.Rear.FastFrequency > 0 {
		s.FrequencyRatio = float64(s.Front.FastFrequency / s.Rear.FastFrequency)
	}
	s.addCoupled(&c)
	s.addGeometry(&c)
	s.addFree(&c)
	s.addStances(&c, b.job.Stances)
	if u := b.job.Uncertainty; u != nil && c.OK() {
		var err error
		s.Uncertainty, err = certainty.Propagate(s.Setup(), *u)
		c.Add("uncertainty", err)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	for i, e := range s.Ends() {
		if e.Gauge != nil {
			s.addGauge(e, b.ends[i].EndJob.Gauge)
		}
		s.Warnings = append(s.Warnings, e.warnings(string(e.Axle))...)
	}
	s.Warnings = append(s.Warnings, s.standingWarnings()...)
	return s, nil
}

// answer fills in one end, under a valid load on its spring.
func (e *EndSheet) answer(job *endJob, load units.Force) (err error) {
	curve := job.options.Curve()
	e.options, e.Travel, e.Stroke = job.options, curve.Travel(), curve.Stroke()
	e.LeverRatio, e.TargetSag, e.Friction = curve.Progression(), job.Sag, job.Friction
	if e.Choice, err = job.options.Choose(load); err != nil {
		return err
	}
	if *e.State = e.Choice.State(); e.End().Curve == nil {
		e.State = nil
	}
	e.Measure = e.measure()
	return e.addDrop(job.EndJob)
}

// Wheel returns the recommended spring as laws at the wheel, as [sag.End.Wheel] does: standing still
// and over a fast stroke. Both are nil for an end that has no State, and for one that [NewSheet] did
// not make, such as one read from JSON.
func (e *EndSheet) Wheel() (slow, fast *linkage.WheelLaw) {
	if !e.known() || e.options == nil {
		return nil, nil
	}
	slow, fast, _ = e.End().Wheel() // no error, since NewSheet made the end
	return slow, fast
}

// Curve returns the end's lever-ratio curve; nil for an end that [NewSheet] did not make.
func (e *EndSheet) Curve() *linkage.Curve {
	if e == nil || e.options == nil {
		return nil
	}
	return e.options.Curve()
}

// Along returns where the stroke of an end is read: "along the stanchion" of a fork, whose lever
// ratio is at most 1, or "at the shock".
func (e *EndSheet) Along() string {
	if e.LeverRatio.Max <= 1 {
		return "along the stanchion"
	}
	return "at the shock"
}

// Setup returns the recommended set-up for [certainty.Propagate] and [certainty.Simulate]; the zero
// Setup for a sheet that [NewSheet] did not make.
func (s *Sheet) Setup() certainty.Setup {
	all := certainty.Setup{Masses: s.masses}
	for _, e := range s.Ends() {
		if e.options == nil {
			return certainty.Setup{}
		}
		one := &certainty.EndSetup{Spec: e.options.Spec(), Curve: e.Curve(), Choice: e.Choice}
		if e.Landing != nil {
			one.Drop.Height = e.Landing.Height
		}
		if e.Damping != nil {
			one.Drop.Damping = e.Damping.Wheel
		}
		*sag.AtAxle(e.Axle, &all.Front, &all.Rear) = one
	}
	return all
}

// SheetEnd is one end of a [Sheet] with the axle that it is at.
type SheetEnd struct {
	Axle sag.Axle `json:"axle"`
	*EndSheet
}

// Ends returns the ends that a sheet has, the front first.
func (s *Sheet) Ends() []SheetEnd {
	return slices.DeleteFunc([]SheetEnd{{sag.Front, s.Front}, {sag.Rear, s.Rear}}, func(e SheetEnd) bool { return e.EndSheet == nil })
}

// DampingSheet is the damper of one end.
type DampingSheet struct {
	Ratio float64       `json:"ratio"` // of critical damping about the sag, over a fast stroke
	Wheel units.Damping `json:"wheel"` // coefficient at the wheel
	Shock units.Damping `json:"shock"` // the same at the shock or along the stanchion, at the sag
}

// addDrop fills in Damping and Landing where the job asks for them and the end has a State.
func (e *EndSheet) addDrop(job *EndJob) error {
	if e.State == nil {
		return nil
	}
	damping, field, value := job.Damping, "damping", any(job.Damping)
	if job.DampingRatio > 0 {
		damping, field, value = sag.DampingFor(job.DampingRatio, e.FastWheelRate, e.Load), "damping_ratio", job.DampingRatio
	}
	if damping > 0 {
		c := units.Checker{Package: "sag"}
		if e.End().CheckDamping(&c, field, value, damping, e.Load); !c.OK() {
			return c.Err()
		}
		e.Damping = &DampingSheet{Ratio: sag.DampingRatio(damping, e.FastWheelRate, e.Load), Wheel: damping, Shock: sag.DampingAtShock(damping, e.Rest.LeverRatio)}
	}
	if job.DropHeight > 0 {
		l, err := e.End().Land(e.Load, sag.Drop{Height: job.DropHeight, Damping: damping})
		if err != nil {
			return err
		}
		e.Landing = &l
	}
	return nil
}
