package visit

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
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

// CoilSetting is a coil spring as it is fitted. If PreloadMax is 0 and there are no spacers, the range of
// the collar is unknown, and up to the stroke of the shock is offered as preload.
type CoilSetting struct {
	fit.ShelfSpring              // its solid travel is more than Preload
	Preload         units.Length `json:"preload,omitempty"` // at full extension, 0 or more
	fit.Collar
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

// With returns a setting with the fill or the preload of a correction that was made for it.
func (s Setting) With(a Correction) Setting {
	if a.Coil != nil {
		coil := *s.Coil
		coil.Preload = a.Coil.Preload
		s.Coil = &coil
	} else {
		air := *s.Air
		air.Fill = a.Air.Fill
		s.Air = &air
	}
	return s
}

// Assembly is one end of the bike as it is set, checked: a spring behind its curve. Standing still the gas
// of its air spring has the temperature of its surroundings. If its coil binds before the end of the stroke, the
// travel of its law ends there. Make it with [Setting.Assemble].
type Assembly struct {
	units.Opaque[Assembly]
	end  sag.End
	set  Setting
	gas  airspring.Spec  // of an air spring
	coil fit.ShelfSpring // of a coil spring, compiled
}

// End returns the end.
func (e *Assembly) End() sag.End { return e.end }

// Assemble returns a setting put together. If its air spring has no ambient, that is the standard
// atmosphere's at the altitude of the conditions, which may be nil. The error names every bad field, such
// as coil.rate.
func (s Setting) Assemble(where *airspring.Conditions) (*Assembly, error) {
	c := units.Checker{Package: "sag"}
	return units.Checked(&c, s.assemble(&c, where))
}

// assemble is Assemble; nil if the setting has faults.
func (s Setting) assemble(c *units.Checker, where *airspring.Conditions) *Assembly {
	e := &Assembly{end: sag.End{Friction: s.Friction}, set: s}
	var err error
	e.end.Curve, err = linkage.New(s.Curve)
	c.Add("curve", err)
	sag.CheckSag(c, s.Sag)
	sag.CheckFriction(c, s.Friction)
	coil, air := c.Child("coil"), c.Child("air")
	switch {
	case s.Coil == nil && s.Air == nil:
		coil.Fail("", nil, "a coil spring, or air instead", units.ErrMissing)
	case s.Coil != nil && s.Air != nil:
		coil.Fail("", nil, units.Want{Text: "either coil or air, not both", Without: []string{"air"}}, units.ErrConflict)
	case s.Coil != nil:
		e.fitCoil(&coil, s.Coil)
	default:
		e.fitAir(&air, s.Air, where)
	}
	if c.OK() {
		e.end.Check(c)
	}
	if !c.OK() {
		return nil
	}
	return e
}

// fitCoil checks a coil spring and sets the law.
func (e *Assembly) fitCoil(c *units.Checker, s *CoilSetting) {
	s.ShelfSpring.Check(c)
	units.NonNegative(c, "preload", s.Preload)
	if c.OK() {
		stroke := fit.MostCompression // if the curve is bad
		if e.end.Curve != nil {
			stroke = e.end.Curve.Stroke()
		}
		if most := max(s.Preload, s.PreloadMin); s.SolidTravel > 0 && !(most < s.SolidTravel) {
			c.Fail("solid_travel", s.SolidTravel, units.MoreThan(most).With("the greater of preload and preload_min"), units.ErrConflict)
		} else {
			var err error
			e.coil = s.Compiled()
			e.end.Law, err = e.coil.Preloaded(stroke, s.Preload)
			c.Add("", err)
		}
	}
	collar := s.Collar
	if collar.PreloadMax == 0 { // unknown
		collar.PreloadMax = max(collar.PreloadMin, 0)
	}
	if collar.Check(c); c.Bad("preload") {
		return
	}
	if !c.Bad("preload_min") && s.Preload < s.PreloadMin {
		c.Fail("preload", s.Preload, units.AtLeast(s.PreloadMin).Of("preload_min"), units.ErrConflict)
	}
	most := s.Most()
	if len(s.PreloadSpacers) > 0 {
		most *= 1 + 1e-12 // sums are rounded
	}
	if most > 0 && !c.Bad("preload_spacers") && s.Preload > most {
		c.Fail("preload", s.Preload, units.AtMost(most).With("which the collar and all spacers give together"), units.ErrConflict)
	}
}

// inflate sets the laws of an air spring, standing still and fast.
func (e *Assembly) inflate() error {
	made, err := sag.AirEnd(e.end.Curve, e.gas)
	if made.Friction = e.end.Friction; err == nil {
		e.end = made
	}
	return err
}

// fitAir checks an air spring and sets its laws.
func (e *Assembly) fitAir(c *units.Checker, s *AirSetting, where *airspring.Conditions) {
	e.gas = s.Spec
	if s.Exponent == 0 || !units.Between(c, "exponent", s.Exponent, 1, 2) {
		e.gas.Exponent = 1
	}
	if e.end.Curve != nil && s.Travel == 0 {
		e.gas.Travel = e.end.Curve.Stroke()
	}
	if s.Ambient == 0 && where != nil {
		if around, err := airspring.Atmosphere(where.Altitude); err == nil {
			e.gas.Ambient = around.Pressure
		}
	}
	err := e.inflate()
	c.Add("", err)
	if e.end.Curve != nil && e.gas.Travel < e.end.Curve.Stroke() {
		c.Fail("travel", s.Travel, units.AtLeast(e.end.Curve.Stroke()).Of("stroke"), units.ErrConflict)
	}
	fit.CheckNegative(c, s.Spec, s.NegativeChamber)
	gas.CheckFill(c, "max_fill", s.MaxFill)
	if s.Fill > s.MaxFill && s.MaxFill > 0 && err == nil {
		c.Fail("fill", s.Fill, units.AtMost(s.MaxFill).Of("max_fill").With("the marking"), units.ErrConflict)
	}
}

// Setting returns how the end is set. What the setting left to the curve or to the altitude, the travel or
// the ambient of an air spring, is left to them.
func (e *Assembly) Setting() Setting {
	s := e.set
	if s.Air != nil {
		air := *s.Air
		air.Fill, air.SecondFill, air.Spacers = e.gas.Fill, e.gas.SecondFill, e.gas.Spacers
		if air.Ambient != 0 {
			air.Ambient = e.gas.Ambient
		}
		s.Air = &air
	}
	return s
}

// stroke returns the lesser of the travel of the spring and the stroke of the curve.
func (e *Assembly) stroke() units.Length { return min(e.end.Law.Travel(), e.end.Curve.Stroke()) }

// atTarget returns the stroke of the target.
func (e *Assembly) atTarget() units.Length {
	return e.end.Curve.StrokeAt(units.Length(e.set.Sag) * e.end.Curve.Travel())
}
