package visit

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Setting is one end of the bike as it is set now. Exactly one of Coil and Air is given.
type Setting struct {
	Curve linkage.Spec `json:"curve"`
	// Sag is the target as a fraction of the wheel's full travel, from 1e-6 to less than 1.
	Sag      float64      `json:"sag"`
	Friction units.Force  `json:"friction,omitempty"` // at the spring, from 0 to 1e12 N; 0 if unknown
	Coil     *CoilSetting `json:"coil,omitempty"`
	Air      *AirSetting  `json:"air,omitempty"`
}

// CoilSetting is a coil spring as it is fitted. Exactly one of Rate, Spec and Law is given, as of a
// [fit.ShelfSpring]. If PreloadMax is 0 and there are no spacers, the range of the collar is unknown, and
// up to the stroke of the shock is offered as preload.
type CoilSetting struct {
	Rate        units.Stiffness `json:"rate,omitempty"`         // of a spring of constant rate, more than 0
	Spec        *law.Spec       `json:"law,omitempty"`          // of a spring whose rate varies, from its free length on
	Law         spring.Law      `json:"-"`                      // the same in place of Spec; a record with one can't be written
	Preload     units.Length    `json:"preload,omitempty"`      // at full extension, 0 or more
	SolidTravel units.Length    `json:"solid_travel,omitempty"` // from free length to coil bind, more than Preload; 0 if unknown
	fit.Collar
}

// spring returns the spring as a shelf has it.
func (s CoilSetting) spring() fit.ShelfSpring {
	return fit.ShelfSpring{Rate: s.Rate, Spec: s.Spec, Law: s.Law, SolidTravel: s.SolidTravel}
}

// set returns the setting with another spring.
func (s CoilSetting) set(one fit.ShelfSpring) CoilSetting {
	s.Rate, s.Spec, s.Law, s.SolidTravel = one.Rate, one.Spec, one.Law, one.SolidTravel
	return s
}

// turns returns a preload, or a change of one, in turns of the collar. It is 0 if the pitch is unknown, and
// with spacers at hand, whose part of the preload the setting does not tell.
func (s CoilSetting) turns(preload units.Length) float64 {
	if len(s.PreloadSpacers) > 0 {
		return 0
	}
	return s.Turns(preload)
}

// Gas reports whether a setting has an air spring, or one in the stack of its coil.
func (s Setting) Gas() bool {
	return s.Air != nil || s.Coil != nil && s.Coil.Spec != nil && s.Coil.Spec.Gas()
}

// AirSetting is an air spring as it is filled. A Travel of 0 is the stroke of the curve. Exponent is
// from 1 to 2, or 0 if unknown: where the bike rests does not depend on it, and 0 is taken as 1 for
// fast movements.
type AirSetting struct {
	airspring.Spec
	// MaxFill is the highest fill that the marking on the part permits. No fill above it is offered.
	MaxFill units.GaugePressure `json:"max_fill"`
	// NegativeChamber is [fit.None] for a spring that has no negative chamber; see [fit.Chamber].
	NegativeChamber fit.Statement `json:"negative_chamber,omitempty"`
}

// at returns the setting. If its air spring has no ambient and the conditions are known, that is
// the standard atmosphere's at their altitude.
func (s Setting) at(where *airspring.Conditions) Setting {
	if s.Air == nil || s.Air.Ambient != 0 || where == nil {
		return s
	}
	if around, err := airspring.Atmosphere(where.Altitude); err == nil {
		air := *s.Air
		air.Ambient = around.Pressure
		s.Air = &air
	}
	return s
}

// end is one end as it is set. If the setting is bad, it may have no curve or no law.
type end struct {
	sag.End
	set  Setting
	gas  airspring.Spec  // of an air spring, isothermal
	coil fit.ShelfSpring // of a coil spring, compiled
	good bool            // the setting passed all checks
}

// end checks a setting and makes an end of it.
func (s Setting) end(c *units.Checker) *end {
	e := &end{End: sag.End{Friction: s.Friction}, set: s}
	var err error
	e.Curve, err = linkage.New(s.Curve)
	c.Add("curve", err)
	sag.CheckSag(c, s.Sag)
	sag.CheckFriction(c, s.Friction)
	coil, air := c.Child("coil"), c.Child("air")
	switch {
	case s.Coil == nil && s.Air == nil:
		coil.Fail("", nil, "a coil spring, or air instead", units.ErrMissing)
	case s.Coil != nil && s.Air != nil:
		coil.Fail("", nil, "either coil or air, not both", units.ErrConflict)
	case s.Coil != nil:
		e.fitCoil(&coil, s.Coil)
	default:
		e.fitAir(&air, s.Air)
	}
	if c.OK() {
		e.Check(c)
	}
	e.good = c.OK()
	return e
}

// fitCoil checks a coil spring and sets the law, whose travel ends where the spring binds.
func (e *end) fitCoil(c *units.Checker, s *CoilSetting) {
	e.coil = s.spring()
	if s.Spec != nil || s.Law != nil {
		e.fitLaw(c, s)
	} else {
		e.fitRate(c, s)
	}
	e.checkPreload(c, s)
}

// fitLaw is fitCoil for a spring whose rate varies.
func (e *end) fitLaw(c *units.Checker, s *CoilSetting) {
	if e.coil.Check(c); !c.OK() {
		units.NonNegative(c, "preload", s.Preload)
		return
	}
	e.coil = e.coil.Compiled()
	law, err := e.coil.Preloaded(1, s.Preload) // any stroke: the law has its own travel
	if c.Add("", err); err == nil {
		e.Law = law
	}
}

// solidBeyond checks that a spring is not solid before a compression that is known.
func (s *CoilSetting) solidBeyond(c *units.Checker, known bool, field string, least units.Length) {
	if known && s.SolidTravel > 0 && !(s.SolidTravel > least) {
		c.Fail("solid_travel", s.SolidTravel, "more than "+field+", "+least.String(), units.ErrConflict)
	}
}

// fitRate is fitCoil for a spring of constant rate.
func (e *end) fitRate(c *units.Checker, s *CoilSetting) {
	linear := spring.Linear{Rate: s.Rate, Travel: 1, Preload: s.Preload} // any travel if the curve is bad
	if e.Curve != nil {
		linear.Travel = e.Curve.Stroke()
	}
	if free := s.SolidTravel - s.Preload; free > 0 {
		linear.Travel = min(linear.Travel, free)
	}
	law, err := spring.NewLinear(linear)
	if c.Add("", err); err == nil {
		e.Law = law
	}
	units.Between(c, "solid_travel", s.SolidTravel, 0, fit.MostCompression)
	s.solidBeyond(c, err == nil, "preload", s.Preload)
}

// checkPreload checks the collar, and that it gives the preload.
func (e *end) checkPreload(c *units.Checker, s *CoilSetting) {
	collar := s.Collar
	if collar.PreloadMax == 0 { // unknown
		collar.PreloadMax = max(collar.PreloadMin, 0)
	}
	collar.Check(c)
	low := !c.Bad("preload_min")
	if low && !c.Bad("preload") && s.Preload < s.PreloadMin {
		c.Fail("preload", s.Preload, "preload_min, "+s.PreloadMin.String()+", or more", units.ErrConflict)
	}
	switch most := s.Most(); {
	case len(s.PreloadSpacers) > 0 && !c.Bad("preload_spacers") && s.Preload > most*(1+1e-12): // sums are rounded
		c.Fail("preload", s.Preload, "no more than preload_max and all spacers together, "+most.String(), units.ErrConflict)
	case len(s.PreloadSpacers) == 0 && s.PreloadMax > 0 && s.Preload > s.PreloadMax:
		c.Fail("preload", s.Preload, "no more than preload_max, "+s.PreloadMax.String(), units.ErrConflict)
	}
	s.solidBeyond(c, low, "preload_min", s.PreloadMin)
}

// fitAir checks an air spring and sets the law, that of slow movements.
func (e *end) fitAir(c *units.Checker, s *AirSetting) {
	e.gas = s.Spec
	e.gas.Exponent = 1
	if s.Exponent != 0 {
		units.Between(c, "exponent", s.Exponent, 1, 2)
	}
	if e.Curve != nil && s.Travel == 0 {
		e.gas.Travel = e.Curve.Stroke()
	}
	law, err := airspring.New(e.gas)
	if c.Add("", err); err == nil {
		e.Law = law
	}
	if e.Curve != nil && e.gas.Travel < e.Curve.Stroke() {
		c.Fail("travel", s.Travel, "the curve's stroke, "+e.Curve.Stroke().String()+", or more", units.ErrConflict)
	}
	fit.CheckNegative(c, s.Spec, s.NegativeChamber)
	gas.CheckFill(c, "max_fill", s.MaxFill)
	if s.Fill > s.MaxFill && s.MaxFill > 0 && err == nil {
		c.Fail("fill", s.Fill, "no more than the marking, max_fill "+s.MaxFill.String(), units.ErrConflict)
	}
}
