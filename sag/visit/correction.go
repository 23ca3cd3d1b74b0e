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

// CoilCorrection is what to do about a coil spring: set another preload, or fit another rate at the
// preload that is set.
type CoilCorrection struct {
	fit.CoilCandidate                 // the fitted spring with the preload to set, and where it then rests
	PreloadChange     units.Length    `json:"preload_change"` // Preload less the preload that is set
	TurnsChange       float64         `json:"turns_change"`   // PreloadChange in turns of the collar; 0 if the pitch is unknown, and with spacers at hand
	NewRate           units.Stiffness `json:"new_rate"`       // the rate that meets the target at the preload that is set
	RateChange        units.Stiffness `json:"rate_change"`    // NewRate less the rate that is fitted, by [fit.ShelfSpring.RateAt] at the target
}

// AirCorrection is the fill to set in an air spring, never above the marking.
type AirCorrection struct {
	fit.AirOption                     // the fill to set, and where it then rests
	FillChange    units.GaugePressure `json:"fill_change"` // Fill less the fill that is set
}

// AtRest returns where an end rests with what is to be set.
func (a Correction) AtRest() fit.AtRest {
	if a.Coil != nil {
		return a.Coil.AtRest
	}
	return a.Air.AtRest
}

// Correction returns what to set for a target sag under a load. For a coil that is the preload within
// the range of the collar ([sag.RequiredPreload]) or the rate ([sag.RequiredRate]), for air the fill up
// to the marking ([sag.RequiredFill]), each with where the end then rests and findings. The load is
// the sprung load at the wheel in N, finite and at least 1e-150, and the sag from 1e-6 to less than 1.
//
// Not modelled: the preload of another spring, for which see [fit.Options.Choose].
func (e *Assembly) Correction(t sag.Target) (Correction, error) {
	c := units.Checker{Package: "sag"}
	sag.CheckLoad(&c, t.Load)
	if sag.CheckSag(&c, t.Sag); !c.OK() {
		return Correction{}, c.Err()
	}
	coil, air := e.set.Coil, e.set.Air
	a := Correction{Target: t}
	spec := fit.Spec{Sag: t.Sag, Friction: e.set.Friction}
	if coil != nil {
		spec.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{e.coil}, Collar: coil.Collar}
		if coil.PreloadMax == 0 && len(coil.PreloadSpacers) == 0 {
			spec.Coil.PreloadMax = max(e.end.Curve.Stroke(), coil.PreloadMin)
		}
	} else {
		spec.Air = &fit.Chamber{Spec: e.gas, MaxFill: air.MaxFill, NegativeChamber: air.NegativeChamber}
	}
	options, err := fit.NewBehind(e.end.Curve, spec, 0)
	if err != nil {
		return Correction{}, err
	}
	choice, err := options.Choose(t.Load)
	if err != nil {
		return Correction{}, err
	}
	if air != nil {
		best := choice.Air.Options[0]
		a.Air = &AirCorrection{best, best.Fill - e.gas.Fill}
		return a, nil
	}
	rate, err := sag.RequiredRate(e.end.Curve, t, coil.Preload)
	if err != nil {
		return Correction{}, err
	}
	best := choice.Coil.Candidates[0]
	more := best.Preload - coil.Preload
	fitted := e.coil.RateAt(rate.Stroke + coil.Preload)
	a.Coil = &CoilCorrection{best, more, coil.turns(more), rate.Rate, rate.Rate - fitted}
	return a, nil
}
