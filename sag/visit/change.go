package visit

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Correction is what to set at one end of the bike for its target under a load.
type Correction struct {
	Target sag.Target      `json:"target"`
	Coil   *CoilCorrection `json:"coil,omitempty"`
	Air    *AirCorrection  `json:"air,omitempty"`
}

// CoilCorrection is the preload to set with the spring that is fitted, and the
// rate that would meet the target instead with the preload left alone.
type CoilCorrection struct {
	fit.CoilCandidate
	PreloadChange units.Length    `json:"preload_change"` // Preload less that now set
	TurnsChange   float64         `json:"turns_change"`   // of the collar; 0 where the pitch is unknown
	NewRate       units.Stiffness `json:"new_rate"`
	RateChange    units.Stiffness `json:"rate_change"` // NewRate less that now fitted
}

// AirCorrection is the fill to set, never above the marking.
type AirCorrection struct {
	fit.AirOption
	FillChange units.GaugePressure `json:"fill_change"` // Fill less that now set
}

// Correction returns what to set at one end of the bike, as it is set now,
// for its target sag under a sprung load at the wheel in N, finite and more
// than 0: the preload within the collar's range or the rate ([sag.RequiredPreload],
// [sag.RequiredRate]), or the fill up to the marking ([sag.RequiredFill]), with where
// the end then rests and what speaks against it as findings. The error names
// every bad field.
func (s Setting) Correction(load units.Force) (Correction, error) {
	c := units.Checker{Package: "sag"}
	b := s.build(&c)
	units.Positive(&c, "load", load)
	if err := c.Err(); err != nil {
		return Correction{}, err
	}
	return b.correct(load)
}

// correct works out a setting that was found good.
func (b end) correct(load units.Force) (Correction, error) {
	a := Correction{Target: sag.Target{Load: load, Sag: b.Sag}}
	spec := fit.Spec{Curve: b.Setting.Curve, Sag: b.Sag, Friction: b.Setting.Friction}
	if now := b.Coil; now != nil {
		spec.Coil = &fit.Shelf{Springs: []fit.Spring{{Rate: now.Rate, SolidTravel: now.SolidTravel}}, Collar: now.Collar}
		if now.PreloadMax == 0 {
			spec.Coil.PreloadMax = max(b.End.Curve.Stroke(), now.PreloadMin)
		}
	} else {
		spec.Air = &fit.Chamber{Spec: b.air, MaxFill: b.Air.MaxFill}
		spec.Air.Exponent = max(1, b.Air.Exponent)
	}
	options, err := fit.New(spec, 0)
	if err != nil {
		return Correction{}, err
	}
	choice, err := options.Choose(load)
	if err != nil {
		return Correction{}, err
	}
	if now := b.Coil; now != nil {
		rate, err := sag.RequiredRate(b.End.Curve, a.Target, now.Preload)
		if err != nil {
			return Correction{}, err
		}
		one := CoilCorrection{CoilCandidate: choice.Coil.Candidates[0], NewRate: rate.Rate, RateChange: rate.Rate - now.Rate}
		one.PreloadChange = one.Preload - now.Preload
		one.TurnsChange = now.Turns(one.PreloadChange)
		a.Coil = &one
		return a, nil
	}
	a.Air = &AirCorrection{AirOption: choice.Air.Options[0], FillChange: choice.Air.Options[0].Fill - b.air.Fill}
	return a, nil
}

// Situation is who rides with what, and where.
type Situation struct {
	Masses sag.Masses `json:"masses"`
	// Conditions are the temperature that the gas has taken on and the
	// altitude. Given in one situation of a [Change], they are needed in the
	// other; left out in both, the air around stays as it is. They mean
	// nothing to a coil spring.
	Conditions *airspring.Conditions `json:"conditions,omitempty"`
}

// check records what is wrong with the conditions.
func (s Situation) check(c *units.Checker) {
	if s.Conditions == nil {
		return
	}
	own := c.Child("conditions")
	units.Between(&own, "temperature", s.Conditions.Temperature, 200*units.Kelvin, 400*units.Kelvin)
	_, err := airspring.Atmosphere(s.Conditions.Altitude)
	own.Add("", err)
}

// Change is a bike that is set for one situation and goes to another. At least
// one end is given. A fill is what a gauge shows in the first situation. Where
// an air spring leaves its Ambient out, it is that of the altitude there.
type Change struct {
	From  Situation `json:"from"`
	To    Situation `json:"to"`
	Front *Setting  `json:"front,omitempty"`
	Rear  *Setting  `json:"rear,omitempty"`
}

// Changed says what to do about a [Change].
type Effect struct {
	From     sag.Loads     `json:"from"`
	To       sag.Loads     `json:"to"`
	Front    *EndEffect    `json:"front,omitempty"`
	Rear     *EndEffect    `json:"rear,omitempty"`
	Cautions []fit.Caution `json:"cautions"`
}

// EndChange is one end of the bike before and after.
type EndEffect struct {
	Now   Outcome    `json:"now"`   // as set, in the first situation
	Leave Outcome    `json:"leave"` // as set, in the second situation
	Set   Correction `json:"set"`   // for the target in the second situation; changes count from Leave
}

// Outcome is where an end rests.
type Outcome struct {
	Load units.Force `json:"load"` // sprung load at the wheel
	// Fill is what a gauge shows at full extension, and Ambient the pressure
	// around it; both 0 for a coil. The hose takes its part of what is
	// read, see [airspring.HoseReading].
	Fill     units.GaugePressure    `json:"fill,omitempty"`
	Ambient  units.AbsolutePressure `json:"ambient,omitempty"`
	Rest     sag.Rest               `json:"rest"`
	Miss     float64                `json:"miss"` // Rest.Sag less the target
	Findings []sag.Finding          `json:"findings"`
}

// OverMarking is the finding of a fill that has risen above the marking by
// itself, in heat or at altitude: let air out.
const OverMarking sag.Finding = "over_marking"

// Effect returns what becomes of a bike's sag when rider, kit, temperature
// or altitude change, if nothing is touched, and what to set instead: preload
// or rate for a coil, the fill as a gauge shows it in the second situation for
// air, never above the marking.
//
// The gas of an air spring that is left alone goes with temperature and altitude
// as [airspring.SpecAt] says,
//
//	g₂ = (g₁ + p_a1)·T₂/T₁ − p_a2
//
// in every chamber. The ambient pressure changes by the ratio that the
// standard atmosphere has between the two altitudes ([airspring.Atmosphere]),
// so an ambient measured in the first situation keeps its weather. Temperatures
// are from 200 to 400 K, altitudes from −500 to 11 000 m. The error names every
// bad field, such as to.masses.rider_mass, rear.air.bore or
// to.conditions.temperature.
//
// Not modelled: springs that soften as they warm, oil that thins and expands,
// a rider whose stance changes with the kit.
func (ch Change) Effect() (*Effect, error) {
	c := units.Checker{Package: "sag"}
	a := &Effect{}
	var ambient [2]units.AbsolutePressure
	for i, s := range []Situation{ch.From, ch.To} {
		own := c.Child([]string{"from", "to"}[i])
		masses := own.Child("masses")
		loads := s.Masses.Check(&masses)
		s.check(&own)
		if other := []Situation{ch.To, ch.From}[i]; s.Conditions == nil && other.Conditions != nil {
			own.Fail("conditions", nil, "temperature and altitude here too", units.ErrMissing)
		}
		if s.Conditions != nil {
			air, _ := airspring.Atmosphere(s.Conditions.Altitude) // an error is recorded already
			ambient[i] = air.Pressure
		}
		if i == 0 {
			a.From = loads
		} else {
			a.To = loads
		}
	}
	if ch.Front == nil && ch.Rear == nil {
		c.Fail("front", nil, "an end of the bike, or rear", units.ErrMissing)
	}
	front := ch.Front.prepare(&c, "front", ambient[0])
	rear := ch.Rear.prepare(&c, "rear", ambient[0])
	if !c.OK() {
		return nil, c.Err()
	}
	air, coil := false, false
	if front != nil {
		end, err := front.change(ch, a.From.Front, a.To.Front, ambient)
		c.Add("front", err)
		a.Front, air, coil = end, front.Air != nil, front.Coil != nil
	}
	if rear != nil {
		end, err := rear.change(ch, a.From.Rear, a.To.Rear, ambient)
		c.Add("rear", err)
		a.Rear, air, coil = end, air || rear.Air != nil, coil || rear.Coil != nil
	}
	if !c.OK() {
		return nil, c.Err()
	}
	a.Cautions = fit.Cautions(air, coil)
	return a, nil
}

// prepare builds a setting, which may be missing, with an ambient for an air
// spring that has none.
func (s *Setting) prepare(c *units.Checker, path string, ambient units.AbsolutePressure) *end {
	if s == nil {
		return nil
	}
	filled := *s
	if s.Air != nil && s.Air.Ambient == 0 {
		air := *s.Air
		air.Ambient = ambient
		filled.Air = &air
	}
	own := c.Child(path)
	b := filled.build(&own)
	return &b
}

// change works out one end that was found good.
func (b end) change(ch Change, from, to units.Force, ambient [2]units.AbsolutePressure) (*EndEffect, error) {
	e := &EndEffect{}
	var err error
	if e.Now, err = b.outcome(from); err != nil {
		return nil, err
	}
	if b.Air != nil && ch.To.Conditions != nil {
		around := b.air.Ambient * units.AbsolutePressure(float64(ambient[1]/ambient[0]))
		spec, err := airspring.SpecAt(b.air, ch.From.Conditions.Temperature, ch.To.Conditions.Temperature, around)
		var law spring.Law
		if err == nil {
			law, err = airspring.New(spec)
		}
		if err != nil {
			return nil, &units.FieldError{Package: "sag", Field: "air.fill", Value: b.air.Fill,
				Want: "a fill that lasts from the one temperature and altitude to the other", Class: units.ErrConflict}
		}
		b.air, b.Law = spec, law
	}
	if e.Leave, err = b.outcome(to); err != nil {
		return nil, err
	}
	e.Set, err = b.correct(to)
	return e, err
}

// outcome is where a setting rests under a load.
func (b end) outcome(load units.Force) (Outcome, error) {
	rest, finding, err := b.SettleWithin(load)
	if err != nil {
		return Outcome{}, err
	}
	o := Outcome{Load: load, Rest: rest, Miss: rest.Sag - b.Sag, Findings: []sag.Finding{}}
	if finding != "" {
		o.Findings = append(o.Findings, finding)
	}
	o.Findings = append(o.Findings, fit.SagFinding(o.Miss))
	if b.Air != nil {
		o.Fill, o.Ambient = b.air.Fill, b.air.Ambient
		if o.Fill > b.Air.MaxFill {
			o.Findings = append(o.Findings, OverMarking)
		}
	}
	return o, nil
}
