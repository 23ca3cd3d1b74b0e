package visit

import (
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Situation is who rides, with which kit, and where.
type Situation struct {
	Masses sag.Masses `json:"masses"`
	// Conditions are the temperature of the gas, from 200 to 400 K, and the altitude, from −500 to
	// 11 000 m; nil if unknown.
	Conditions *airspring.Conditions `json:"conditions,omitempty"`
}

// Check records what is wrong with a situation of a bike that has these ends, such as
// masses.rider_mass, and returns the loads in it.
func (s Situation) Check(c *units.Checker, ends ...sag.Axle) sag.Loads {
	masses := c.Child("masses")
	loads := s.Masses.Check(&masses)
	for _, at := range ends {
		s.Masses.CheckStated(&masses, at)
	}
	if s.Conditions != nil {
		own := c.Child("conditions")
		units.Between(&own, "temperature", s.Conditions.Temperature, 200*units.Kelvin, 400*units.Kelvin)
		_, err := airspring.Atmosphere(s.Conditions.Altitude)
		own.Add("", err)
	}
	return loads
}

// Outcome is where an end rests under a load, by [sag.End.SettleWithin]: what a ring shows if
// everything is as stated.
type Outcome struct {
	Load units.Force `json:"load"` // sprung load at the wheel
	// Fill is the gauge pressure at full extension before a pump is connected, whose hose lowers it
	// ([airspring.HoseReading]). It is 0 for a coil.
	Fill     units.GaugePressure    `json:"fill,omitempty"`
	Ambient  units.AbsolutePressure `json:"ambient,omitempty"` // the pressure around; 0 for a coil
	Rest     sag.Rest               `json:"rest"`
	Miss     float64                `json:"miss"` // Rest.Sag less the target, as a fraction of full travel
	Findings []sag.Finding          `json:"findings"`
}

// OverMarking is the finding of a fill that is above the marking on the part because of heat or
// altitude. Let air out until it is not.
const OverMarking sag.Finding = "over_marking"

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

// Arrive returns one end of a record's bike in another situation: with another rider or kit, or at
// another temperature and altitude. Fill is the gauge pressure read at full extension today, up to
// 1000 bar, which may be above the marking, and 0 if it was not read.
//
// If both situations have conditions, the pressure of a gas that is left alone changes as
// [airspring.SpecAt] says, and the ambient in proportion to the standard atmosphere at the two altitudes
// ([airspring.Atmosphere]), so that an ambient measured in the first situation is taken on to the
// second. Otherwise both stay as they were left.
//
// The error names every bad field of the record's situation, of the end's setting, such as coil.rate,
// of to, and fill; or end if the record does not have that end.
//
// Not modelled: springs that soften as they warm, oil that thins and expands, a rider whose stance
// changes with the kit.
func (r Record) Arrive(axle sag.Axle, to Situation, fill units.GaugePressure) (*Arrival, error) {
	c := units.Checker{Package: "sag"}
	left, job := r.end(axle)
	if left == nil {
		c.Fail("end", string(axle), "front or rear, which the record has", units.ErrMissing)
		return nil, c.Err()
	}
	from, there := c.Child("situation"), c.Child("to")
	was, today := r.Situation.Check(&from, axle).Load(axle), to.Check(&there, axle).Load(axle)
	e := left.Setting.at(r.Situation.Conditions).end(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	a := &Arrival{end: e, was: left.Setting, job: job}
	var err error
	if a.Left, err = e.outcome(was); err != nil {
		return nil, err
	}
	if err = e.carry(r.Situation.Conditions, to.Conditions); err != nil {
		return nil, err
	}
	if a.refill(&c, fill); !c.OK() {
		return nil, c.Err()
	}
	if a.Now, err = e.outcome(today); err != nil {
		return nil, err
	}
	return a, nil
}

// carry changes the gas of an air spring from some conditions to others. It does nothing if either
// are unknown.
func (e *end) carry(from, to *airspring.Conditions) error {
	if e.set.Air == nil || from == nil || to == nil {
		return nil
	}
	low, _ := airspring.Atmosphere(from.Altitude) // valid, as the situations are
	high, _ := airspring.Atmosphere(to.Altitude)
	around := e.gas.Ambient * units.AbsolutePressure(float64(high.Pressure/low.Pressure))
	moved, err := airspring.SpecAt(e.gas, from.Temperature, to.Temperature, around)
	if err != nil {
		return &units.FieldError{Package: "sag", Field: "air.fill", Value: e.gas.Fill, Class: units.ErrConflict,
			Want: "a fill that is still above the ambient at the other temperature and altitude"}
	}
	e.gas = moved
	e.Law, err = airspring.New(moved)
	return err
}

// refill takes a fill that was read as the one that is in the spring.
func (a *Arrival) refill(c *units.Checker, fill units.GaugePressure) {
	e := a.end
	switch {
	case fill == 0:
		return
	case e.set.Air == nil:
		c.Fail("fill", fill, "nothing: this end has no air spring", units.ErrConflict)
		return
	}
	a.FillChange = fill - e.gas.Fill
	e.gas.Fill = fill
	law, err := airspring.New(e.gas)
	c.Add("", err)
	e.Law = law
}

// outcome returns where an end that passed all checks rests under a load.
func (e *end) outcome(load units.Force) (Outcome, error) {
	rest, miss, err := fit.MissOf(e.End, sag.Target{Load: load, Sag: e.set.Sag}, 0)
	if err != nil {
		return Outcome{}, err
	}
	o := Outcome{Load: load, Rest: rest, Miss: miss.Sag, Findings: miss.Findings}
	if air := e.set.Air; air != nil {
		o.Fill, o.Ambient = e.gas.Fill, e.gas.Ambient
		if o.Fill > air.MaxFill {
			o.Findings = append(o.Findings, OverMarking)
		}
	}
	return o, nil
}

// End returns the end as it is now. Its gas has the temperature of its surroundings. If a coil binds
// before the end of the stroke, the travel of its law ends there.
func (a *Arrival) End() sag.End { return a.end.End }

// Setting returns how the end is set now. What the record left to the curve or to the altitude, the
// travel or the ambient of an air spring, is left to them.
func (a *Arrival) Setting() Setting {
	s := a.end.current()
	if s.Air != nil {
		s.Air.Travel = a.was.Air.Travel
		if a.was.Air.Ambient == 0 {
			s.Air.Ambient = 0
		}
	}
	return s
}

// Outcome returns where the end rests under a load at the wheel.
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
	return a.end.report(&c, Series{Setting: a.end.current(), Load: a.Now.Load, Readings: readings}, "")
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

// Correction returns what to set for a target sag under a load. For a coil that is the preload within
// the range of the collar ([sag.RequiredPreload]) or the rate ([sag.RequiredRate]), for air the fill up
// to the marking ([sag.RequiredFill]), each with where the end then rests and findings. The load is
// the sprung load at the wheel in N, finite and at least 1e-150, and the sag from 1e-6 to less than 1.
//
// Not modelled: the preload of another spring, for which see [fit.Options.Choose].
func (a *Arrival) Correction(t sag.Target) (Correction, error) {
	c := units.Checker{Package: "sag"}
	sag.CheckLoad(&c, t.Load)
	if sag.CheckSag(&c, t.Sag); !c.OK() {
		return Correction{}, c.Err()
	}
	return a.end.correction(t)
}

// ends returns which ends a record has.
func (r Record) ends() []sag.Axle {
	return slices.DeleteFunc([]sag.Axle{sag.Front, sag.Rear}, func(at sag.Axle) bool { e, _ := r.end(at); return e == nil })
}
