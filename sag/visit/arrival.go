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
	Fill    units.GaugePressure    `json:"fill,omitempty"`
	Ambient units.AbsolutePressure `json:"ambient,omitempty"` // the pressure around; 0 for a coil
	fit.AtRest
}

// OverMarking is the finding of a fill that is above the marking on the part because of heat or
// altitude. Let air out until it is not.
const OverMarking sag.Finding = "over_marking"

// Arrival is one end of a bike that comes back: as a record left it, in today's situation, with the
// fill that is in it now. Make it with [Record.Arrive].
type Arrival struct {
	units.Opaque[Arrival]
	*Assembly
	Left Outcome // as the record left it, in its situation
	Now  Outcome // as it is now, under the load that today's masses put on it
	// FillChange is the fill that was read less the one that is in the spring if no air was lost; 0 if
	// none was read.
	FillChange units.GaugePressure

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
	e := left.assemble(&c, r.Situation.Conditions)
	if err := c.Err(); err != nil {
		return nil, err
	}
	a := &Arrival{Assembly: e, job: job}
	var err error
	if a.Left, err = e.Outcome(was); err != nil {
		return nil, err
	}
	if err = e.carry(r.Situation.Conditions, to.Conditions); err != nil {
		return nil, err
	}
	if a.refill(&c, fill); !c.OK() {
		return nil, c.Err()
	}
	if a.Now, err = e.Outcome(today); err != nil {
		return nil, err
	}
	return a, nil
}

// carry changes the gas of an air spring from some conditions to others. It does nothing if either
// are unknown.
func (e *Assembly) carry(from, to *airspring.Conditions) error {
	if e.set.Air == nil || from == nil || to == nil {
		return nil
	}
	low, _ := airspring.Atmosphere(from.Altitude) // valid, as the situations are
	high, _ := airspring.Atmosphere(to.Altitude)
	around := e.gas.Ambient * units.AbsolutePressure(float64(high.Pressure/low.Pressure))
	moved, err := airspring.SpecAt(e.gas, from.Temperature, to.Temperature, around)
	if err != nil {
		return &units.FieldError{Package: "sag", Field: "air.fill", Value: e.gas.Fill, Class: units.ErrConflict,
			Want: units.Want{Text: "a fill that is still above the ambient at the other temperature and altitude"}}
	}
	e.gas = moved
	return e.inflate()
}

// refill takes a fill that was read as the one that is in the spring.
func (a *Arrival) refill(c *units.Checker, fill units.GaugePressure) {
	if fill == 0 {
		return
	}
	if a.set.Air == nil {
		c.Fail("fill", fill, "nothing: this end has no air spring", units.ErrConflict)
		return
	}
	a.FillChange, a.gas.Fill = fill-a.gas.Fill, fill
	c.Add("", a.inflate())
}

// Outcome returns where the end rests under a load at the wheel in N.
func (e *Assembly) Outcome(load units.Force) (Outcome, error) {
	rest, err := fit.RestOf(e.end, sag.Target{Load: load, Sag: e.set.Sag}, 0)
	if err != nil {
		return Outcome{}, err
	}
	o := Outcome{Load: load, AtRest: rest}
	if air := e.set.Air; air != nil {
		if o.Fill, o.Ambient = e.gas.Fill, e.gas.Ambient; o.Fill > air.MaxFill {
			o.Findings = append(o.Findings, OverMarking)
		}
	}
	return o, nil
}

// ends returns which ends a record has.
func (r Record) ends() []sag.Axle {
	return slices.DeleteFunc([]sag.Axle{sag.Front, sag.Rear}, func(at sag.Axle) bool { e, _ := r.end(at); return e == nil })
}
