package visit

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Arrival is one end of a bike that comes back: as a record left it, in today's situation, with the
// fill that is in it now. Make it with [Record.Arrive].
type Arrival struct {
	Left Outcome // as the record left it, in its situation
	Now  Outcome // as it is now, under the load that today's masses put on it
	// FillChange is the fill that was read less the one that is in the spring if no air was lost; 0 if
	// none was read.
	FillChange units.GaugePressure

	end *end
	was Setting
	job *setup.EndJob
}

// Arrive returns one end of a record's bike in another situation. The gas changes as by
// [Change.Effect] if both situations have conditions, and stays as it was left otherwise. Fill is the
// gauge pressure read at full extension today, up to 1000 bar, which may be above the marking, and 0 if
// it was not read. The error names every bad field of the record's masses and setting, of to, and fill,
// or end if the record does not have that end.
func (r Record) Arrive(axle sag.Axle, to Situation, fill units.GaugePressure) (*Arrival, error) {
	e, load, err := r.left(axle)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "sag"}
	own := c.Child("to")
	loads := to.check(&own, false, axle == sag.Front, axle == sag.Rear)
	if !c.OK() {
		return nil, c.Err()
	}
	_, today := r.at(axle, loads)
	a := &Arrival{end: e, job: r.asked(axle)}
	left, _ := r.at(axle, loads)
	a.was = left.Setting
	if a.Left, err = e.outcome(load); err != nil {
		return nil, err
	}
	if r.Situation.Conditions != nil && to.Conditions != nil {
		if err := e.carry(Change{From: r.Situation, To: to}); err != nil {
			return nil, err
		}
	}
	if a.refill(&c, fill); !c.OK() {
		return nil, c.Err()
	}
	a.Now, err = e.outcome(today)
	return a, err
}

// refill takes a fill that was read as the one that is in the spring.
func (a *Arrival) refill(c *units.Checker, fill units.GaugePressure) {
	e := a.end
	if fill == 0 {
		return
	}
	if e.set.Air == nil {
		c.Fail("fill", fill, "nothing: this end has no air spring", units.ErrConflict)
		return
	}
	if gas.CheckFill(c, "fill", fill); !c.OK() {
		return
	}
	a.FillChange = fill - e.gas.Fill
	e.gas.Fill = fill
	law, err := airspring.New(e.gas)
	if err != nil {
		c.Fail("fill", fill, "a fill with which the spring can be worked out", units.ErrConflict)
		return
	}
	e.Law = law
}

// End returns the end as it is now.
func (a *Arrival) End() sag.End { return a.end.End }

// Setting returns how the end is set now. What the record left to the curve or to the altitude, the
// travel or the ambient of an air spring, is left to them.
func (a *Arrival) Setting() Setting {
	s := a.end.current()
	s.Sag = a.was.Sag
	if s.Air != nil {
		s.Air.Travel = a.was.Air.Travel
		if a.was.Air.Ambient == 0 {
			s.Air.Ambient = 0
		}
	}
	return s
}

// Outcome returns where the end rests under a load at the wheel, as [Record.Outcome] does.
func (a *Arrival) Outcome(load units.Force) (Outcome, error) {
	c := units.Checker{Package: "sag"}
	if sag.CheckLoad(&c, load); !c.OK() {
		return Outcome{}, c.Err()
	}
	return a.end.outcome(load)
}

// Report returns what readings say of the end, as [Series.Report] does, against the load of Now.
func (a *Arrival) Report(readings []Reading) (*Report, error) {
	c := units.Checker{Package: "sag"}
	r := a.end.report(&c, Series{Setting: a.end.current(), Load: a.Now.Load, Readings: readings})
	if err := c.Err(); err != nil {
		return nil, err
	}
	var err error
	r.Correction, err = a.end.correction(r.Estimate.Load)
	return r, err
}

// Ride returns what a ride used of the end under a load at the wheel, as [Record.Ride] does.
func (a *Arrival) Ride(load units.Force, ride Ride) (*RideReport, error) {
	c := units.Checker{Package: "sag"}
	if sag.CheckLoad(&c, load); !c.OK() {
		return nil, c.Err()
	}
	r := a.end.ride(&c, load, ride, a.job)
	return r, c.Err()
}

// Plan returns the plan of a bracket whose Setting is that of the end, as [Bracket.Plan] does.
func (a *Arrival) Plan(b Bracket) (*Plan, error) {
	b.Setting = a.end.current()
	c := units.Checker{Package: "sag"}
	if b.check(&c, a.end); !c.OK() {
		return nil, c.Err()
	}
	return a.end.plan(b)
}

// Correction returns what to set for a target, as [Setting.Correction] does.
func (a *Arrival) Correction(t sag.Target) (Correction, error) {
	c := units.Checker{Package: "sag"}
	sag.CheckLoad(&c, t.Load)
	if sag.CheckSag(&c, t.Sag); !c.OK() {
		return Correction{}, c.Err()
	}
	moved := *a.end
	moved.set.Sag = t.Sag
	return moved.correction(t.Load)
}
