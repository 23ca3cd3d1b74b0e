package sag

import (
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Sheet is the answer to a [Job]: everything a set-up sheet prints, as data.
type Sheet struct {
	Note      string     `json:"note,omitempty"`
	RiderMass units.Mass `json:"rider_mass"` // as stated, or what scales show beyond the bike's mass
	Loads     Loads      `json:"loads"`
	Front     EndSheet   `json:"front"`
	Rear      EndSheet   `json:"rear"`
	// FrequencyRatio is the front's bounce frequency over the rear's, both of
	// a stroke too fast for the gas to cool.
	FrequencyRatio float64 `json:"frequency_ratio"`
	// Coupled is the bike with both ends let settle together, where the job
	// gives a wheelbase and the height of the mass centre.
	Coupled *Coupled `json:"coupled,omitempty"`
	// Free is the bike standing by itself, with nobody on it.
	Free *FreeSag `json:"free,omitempty"`
	// Stances are those that the job names.
	Stances []StanceSheet `json:"stances,omitempty"`
	// Uncertainty is how well the answers are known, where the job says how
	// well its inputs are; see [Propagate].
	Uncertainty *Budget `json:"uncertainty,omitempty"`
	// LeftOut is what the sheet could tell if it knew more.
	LeftOut  []Omission      `json:"left_out"`
	Warnings []units.Warning `json:"warnings"`
	Cautions []Caution       `json:"cautions"`
}

// EndSheet is one end of the bike as recommended.
type EndSheet struct {
	WheelLoad  units.Force         `json:"wheel_load"` // of the wheel on the ground
	Load       units.Force         `json:"load"`       // sprung load at the wheel
	Travel     units.Length        `json:"travel"`     // full vertical wheel travel
	Stroke     units.Length        `json:"stroke"`     // full stroke of the shock, or along the stanchion
	LeverRatio linkage.Progression `json:"lever_ratio"`
	TargetSag  float64             `json:"target_sag"`
	// Friction is as the job stated it; 0 means none was stated.
	Friction units.Force `json:"friction"`
	// One of Coil and Air says what to fit; its first entry is recommended.
	Coil *CoilAnswer `json:"coil,omitempty"`
	Air  *AirAnswer  `json:"air,omitempty"`
	// Rest is the predicted sag with what is recommended.
	Rest Rest `json:"rest"`
	// FastSpringRate, FastWheelRate and FastFrequency hold for a stroke about
	// the rest position too fast for the gas to exchange heat: the gas rate
	// there is the exponent times the slow one. For a coil they equal Rest's.
	FastSpringRate units.Stiffness `json:"fast_spring_rate"`
	FastWheelRate  units.Stiffness `json:"fast_wheel_rate"`
	FastFrequency  units.Frequency `json:"fast_frequency"`
	// MinWheelRate is the least wheel rate anywhere over the travel, standing
	// still, and MinRateTravel where it is; see [linkage.WheelLaw.MinRate].
	MinWheelRate  units.Stiffness `json:"min_wheel_rate"`
	MinRateTravel units.Length    `json:"min_rate_travel"`
	// TravelLeft and EnergyLeft are what is left from the rest position to full travel.
	TravelLeft units.Length `json:"travel_left"`
	EnergyLeft units.Energy `json:"energy_left"`
	// Reserve is over the full travel, for a fast stroke; FullRatio is its
	// force over Load.
	Reserve   Reserve `json:"reserve"`
	FullRatio float64 `json:"full_ratio"`
	// Damping is what the job states of the damper, and Landing how this end
	// takes the drop that the job asks for, with that damping.
	Damping *DampingSheet `json:"damping,omitempty"`
	Landing *Landing      `json:"landing,omitempty"`
	// Measure is what to read on the stand to confirm the prediction.
	Measure []Measurement `json:"measure"`

	fit
}

// Measurement is a reading that confirms or refutes a prediction.
type Measurement struct {
	What     string       `json:"what"` // "stroke" at the shock or stanchion, "wheel" for vertical wheel travel
	Expected units.Length `json:"expected"`
	// Low and High bound what agrees with the prediction, by the friction
	// stated. They equal Expected where none was.
	Low  units.Length `json:"low"`
	High units.Length `json:"high"`
}

// NewSheet works a job out: the loads on the wheels; for each end the spring
// of the shelf with its preload, or the fill with its spacers, that comes
// nearest to the target; and what the bike does then. A job with bad fields
// gives one error that names them all, "front.air.bore" and the like; see
// [units.Fields].
//
// Coil springs are ranked: those that reach the end of the stroke before those
// that go solid, then those within half a per cent of travel of the target by
// least preload, then by how near they come. Fills never exceed the marking.
// The gas is at the temperature around it while the bike stands (exponent 1)
// and follows the job's exponent over a fast stroke from full extension.
//
// Each end is chosen by itself on level ground. What is chosen is then also
// put under the bike's own weight (Free), under the job's stances, and where
// wheelbase and height of the mass centre are given, both ends are let settle
// together (Coupled). LeftOut names what the job says too little for.
func NewSheet(job Job) (*Sheet, error) {
	c := units.Checker{Package: "sag"}
	if job.Schema != JobSchema {
		c.Fail("schema", job.Schema, `"`+JobSchema+`"`, units.ErrUnknown)
	}
	loads, err := NewLoads(job.Masses)
	c.Add("masses", err)
	checkStances(&c, job.Stances)
	b := Template{job: job}
	b.prepare(&c)
	if !c.OK() && job.Uncertainty != nil {
		// The same faults, and those of the uncertainty.
		_, err := Propagate(job, *job.Uncertainty)
		return nil, err
	}
	if !c.OK() {
		return nil, c.Err()
	}
	return b.answer(new(scratch), job.Masses, loads)
}

// scratch is memory for what is tried and not kept, used from spring to spring
// and from sheet to sheet by one goroutine.
type scratch struct {
	over     strokeLaw         // the spring that is tried, behind its curve
	trials   []airspring.Trial // the fills of an end
	tried    []triedCoil       // the springs of a shelf
	order    []*triedCoil      // the same, best first
	findings []Finding         // of the springs or fills
}

// answer works out a sheet from parts that are known to be good. It shares no
// memory with the template or with another sheet, but for the curves and
// springs behind [EndSheet.Wheel], which never change.
func (b *Template) answer(m *scratch, masses Masses, loads Loads) (*Sheet, error) {
	c := units.Checker{Package: "sag"}
	s := &Sheet{
		Note: b.job.Note, RiderMass: masses.Rider(), Loads: loads, LeftOut: make([]Omission, 0, 2),
		Cautions: slices.Clone(b.cautions), Warnings: []units.Warning{},
	}
	c.Add("front", b.front.solveIn(m, &s.Front, loads.FrontWheel, loads.Front))
	c.Add("rear", b.rear.solveIn(m, &s.Rear, loads.RearWheel, loads.Rear))
	if !c.OK() {
		return nil, c.Err()
	}
	if s.Rear.FastFrequency > 0 {
		s.FrequencyRatio = float64(s.Front.FastFrequency / s.Rear.FastFrequency)
	}
	s.addCoupled(&c, masses)
	s.addFree(&c, masses)
	s.addStances(&c, masses, b.job.Stances)
	s.addUncertainty(&c, &b.job, masses)
	if !c.OK() {
		return nil, c.Err()
	}
	s.Warnings = append(s.Warnings, s.Front.warnings("front")...)
	s.Warnings = append(s.Warnings, s.Rear.warnings("rear")...)
	s.Warnings = append(s.Warnings, s.standingWarnings(masses)...)
	return s, nil
}

// prepared is an end's job with its curve built and its blanks filled in.
type prepared struct {
	EndJob
	curve *linkage.Curve
}

func (e EndJob) prepare(all *units.Checker, path string, ambient units.AbsolutePressure) prepared {
	c := units.Checker{Package: "sag"}
	p := prepared{EndJob: e}
	curve, err := linkage.New(e.Curve)
	c.Add("curve", err)
	p.curve = curve
	checkSag(&c, e.Sag)
	units.NonNegative(&c, "friction", e.Friction)
	e.checkDamping(&c)
	switch {
	case e.Coil == nil && e.Air == nil:
		c.Fail("coil", nil, "a shelf of coil springs, or air instead", units.ErrMissing)
	case e.Coil != nil && e.Air != nil:
		c.Fail("coil", nil, "either coil or air, not both", units.ErrConflict)
	case e.Coil != nil:
		var in units.Checker
		in.Package = "sag"
		e.Coil.check(&in)
		c.Add("coil", in.Err())
	default:
		air := *e.Air // filled in below without touching the caller's job
		if air.Ambient == 0 {
			air.Ambient = ambient
		}
		if air.Travel == 0 && curve != nil {
			air.Travel = curve.Stroke()
		}
		p.Air = &air
		var in units.Checker
		in.Package = "sag"
		air.check(&in)
		c.Add("air", in.Err())
		if curve != nil && air.Travel < curve.Stroke() {
			c.Fail("air.travel", air.Travel, "the curve's stroke, "+curve.Stroke().String()+", or more", units.ErrConflict)
		}
	}
	all.Add(path, c.Err())
	return p
}

// solve works out one end whose job is known to be good.
func (p *prepared) solve(wheelLoad, load units.Force) (EndSheet, error) {
	var e EndSheet
	err := p.solveIn(new(scratch), &e, wheelLoad, load)
	return e, err
}

// solveIn is solve into an empty sheet, which an error leaves half done.
func (p *prepared) solveIn(m *scratch, e *EndSheet, wheelLoad, load units.Force) error {
	e.WheelLoad, e.Load, e.Travel, e.Stroke = wheelLoad, load, p.curve.Travel(), p.curve.Stroke()
	e.LeverRatio, e.TargetSag, e.Friction = p.curve.Progression(), p.Sag, p.Friction
	target := Target{Load: load, Sag: p.Sag}
	var slow, fast spring.Law
	exponent := 1.0
	var err error
	if p.Coil != nil {
		if e.Coil, err = p.Coil.chooseIn(m, p.curve, target, p.Friction); err != nil {
			return units.At("coil", err)
		}
		e.Rest, slow = e.Coil.Candidates[0].Rest, e.Coil.law
		fast = slow
	} else {
		if e.Air, err = p.Air.chooseIn(m, p.curve, target, p.Friction); err != nil {
			return err // of the end's own sag or load; the chambers were checked
		}
		best := &e.Air.Options[0]
		e.Rest, slow, fast, exponent = best.Rest, best.slow, best.fast, p.Air.Exponent
	}
	e.fit = fit{p.curve, slow, fast}
	e.FastSpringRate = units.Stiffness(exponent * float64(e.Rest.SpringRate))
	e.FastWheelRate = wheelRate(e.FastSpringRate, slow.Force(e.Rest.Stroke), e.Rest.LeverRatio, p.curve.LeverRatioSlope(e.Rest.Stroke))
	e.FastFrequency = Frequency(e.FastWheelRate, load)
	c := units.Checker{Package: "sag"}
	checkCarried(&c, load)
	wheel := atWheel(&c, p.curve, fast)
	if err := c.Err(); err != nil {
		return err
	}
	e.Reserve = reserve(wheel, load)
	e.FullRatio = float64(e.Reserve.FullForce / load)
	still := wheel
	if p.Air != nil {
		if still, err = linkage.AtWheel(p.curve, slow); err != nil {
			return err
		}
	}
	e.MinWheelRate, e.MinRateTravel = still.MinRate()
	e.TravelLeft = wheel.Travel() - e.Rest.Travel
	e.EnergyLeft = wheel.Energy(wheel.Travel()) - wheel.Energy(e.Rest.Travel)
	if err := e.addDrop(&p.EndJob, wheel); err != nil {
		return err
	}
	e.Measure = []Measurement{
		{What: "stroke", Expected: e.Rest.Stroke, Low: e.Rest.StrokeLow, High: e.Rest.StrokeHigh},
		{What: "wheel", Expected: e.Rest.Travel, Low: e.Rest.TravelLow, High: e.Rest.TravelHigh},
	}
	return nil
}

// Wheel returns the spring that is recommended as laws at the wheel: standing
// still, with the gas at the temperature around it, and over a stroke too fast
// for the gas to exchange heat. For a coil they are the same. Both are nil for
// an end that [NewSheet] did not make, such as one read from JSON.
func (e *EndSheet) Wheel() (slow, fast *linkage.WheelLaw) {
	if e.curve == nil {
		return nil, nil
	}
	// No errors: NewSheet has put both behind this very curve.
	slow, _ = linkage.AtWheel(e.curve, e.slow)
	fast, _ = linkage.AtWheel(e.curve, e.fast)
	return slow, fast
}

// Curve returns the end's lever-ratio curve; nil for an end that [NewSheet] did
// not make.
func (e *EndSheet) Curve() *linkage.Curve { return e.curve }

// findings are those of what is recommended.
func (e *EndSheet) findings() []Finding {
	if e.Coil != nil {
		return e.Coil.Candidates[0].Findings
	}
	return e.Air.Options[0].Findings
}
