package visit

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Correction is what to set at one end of the bike for its target under a load.
type Correction struct {
	Target sag.Target      `json:"target"`
	Coil   *CoilCorrection `json:"coil,omitempty"`
	Air    *AirCorrection  `json:"air,omitempty"`
}

// CoilCorrection is the preload to set with the spring that is fitted, and the rate that would meet
// the target instead with the preload left alone.
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

// Correction returns what to set at one end of the bike, as it is set now, for its target sag under
// a sprung load at the wheel in N, finite and at least 1e-150: the preload within the collar's
// range or the rate ([sag.RequiredPreload], [sag.RequiredRate]), or the fill up to the marking
// ([sag.RequiredFill]), with where the end then rests and what speaks against it as findings. The
// error names every bad field.
//
// Not modelled: another spring's preload, for which see [fit.Options.Choose].
func (s Setting) Correction(load units.Force) (Correction, error) {
	c := units.Checker{Package: "sag"}
	e := s.end(&c)
	sag.CheckLoad(&c, load)
	if err := c.Err(); err != nil {
		return Correction{}, err
	}
	return e.correction(load)
}

// correction is Setting.Correction for an end that was found good.
func (e *end) correction(load units.Force) (Correction, error) {
	s := &e.set
	a := Correction{Target: sag.Target{Load: load, Sag: s.Sag}}
	spec := fit.Spec{Sag: s.Sag, Friction: s.Friction}
	if now := s.Coil; now != nil {
		spec.Coil = &fit.Shelf{Springs: []fit.Spring{{Rate: now.Rate, SolidTravel: now.SolidTravel}}, Collar: now.Collar}
		if now.PreloadMax == 0 {
			spec.Coil.PreloadMax = max(e.Curve.Stroke(), now.PreloadMin)
		}
	} else {
		spec.Air = &fit.Chamber{Spec: e.gas, MaxFill: s.Air.MaxFill}
		spec.Air.Exponent = max(1, s.Air.Exponent)
	}
	options, err := fit.NewBehind(e.Curve, spec, 0)
	if err != nil {
		return Correction{}, err
	}
	choice, err := options.Choose(load)
	if err != nil {
		return Correction{}, err
	}
	if now := s.Coil; now != nil {
		rate, err := sag.RequiredRate(e.Curve, a.Target, now.Preload)
		if err != nil {
			return Correction{}, err
		}
		one := CoilCorrection{CoilCandidate: choice.Coil.Candidates[0], NewRate: rate.Rate, RateChange: rate.Rate - now.Rate}
		one.PreloadChange = one.Preload - now.Preload
		one.TurnsChange = now.Turns(one.PreloadChange)
		a.Coil = &one
		return a, nil
	}
	a.Air = &AirCorrection{AirOption: choice.Air.Options[0], FillChange: choice.Air.Options[0].Fill - e.gas.Fill}
	return a, nil
}
