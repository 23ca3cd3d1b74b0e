package sag

import "example.com/wheelrate/units"

// Correction is what to set at one end of the bike for its target under a load.
type Correction struct {
	Target Target          `json:"target"`
	Coil   *CoilCorrection `json:"coil,omitempty"`
	Air    *AirCorrection  `json:"air,omitempty"`
}

// CoilCorrection is the preload to set with the spring that is fitted, and the
// rate that would meet the target instead with the preload left alone.
type CoilCorrection struct {
	CoilCandidate
	PreloadChange units.Length    `json:"preload_change"` // Preload less that now set
	TurnsChange   float64         `json:"turns_change"`   // of the collar; 0 where the pitch is unknown
	NewRate       units.Stiffness `json:"new_rate"`
	RateChange    units.Stiffness `json:"rate_change"` // NewRate less that now fitted
}

// AirCorrection is the fill to set, never above the marking.
type AirCorrection struct {
	AirOption
	FillChange units.GaugePressure `json:"fill_change"` // Fill less that now set
}

// NewCorrection returns what to set at one end of the bike, as it is set now,
// for its target sag under a sprung load at the wheel in N, finite and more
// than 0: the preload within the collar's range or the rate ([RequiredPreload],
// [RequiredRate]), or the fill up to the marking ([RequiredFill]), with where
// the end then rests and what speaks against it as findings. The error names
// every bad field.
func NewCorrection(s Setting, load units.Force) (Correction, error) {
	c := units.Checker{Package: "sag"}
	b := s.build(&c)
	units.Positive(&c, "load", load)
	if err := c.Err(); err != nil {
		return Correction{}, err
	}
	return b.correct(load)
}

// correct works out a setting that was found good.
func (b set) correct(load units.Force) (Correction, error) {
	target := Target{Load: load, Sag: b.Sag}
	a := Correction{Target: target}
	if b.Coil != nil {
		now := b.Coil
		choice := CoilChoice{Shelf: []ShelfSpring{{Rate: now.Rate, SolidTravel: now.SolidTravel}},
			PreloadMin: now.PreloadMin, PreloadMax: now.PreloadMax, ThreadPitch: now.ThreadPitch}
		if choice.PreloadMax == 0 {
			choice.PreloadMax = max(b.curve.Stroke(), choice.PreloadMin)
		}
		answer, err := choice.choose(b.curve, target, b.Friction)
		if err != nil {
			return Correction{}, err
		}
		rate, err := RequiredRate(b.curve, target, now.Preload)
		if err != nil {
			return Correction{}, err
		}
		one := CoilCorrection{CoilCandidate: answer.Candidates[0], NewRate: rate.Rate, RateChange: rate.Rate - now.Rate}
		one.PreloadChange = one.Preload - now.Preload
		if now.ThreadPitch > 0 {
			one.TurnsChange = float64(one.PreloadChange / now.ThreadPitch)
		}
		a.Coil = &one
		return a, nil
	}
	choice := AirChoice{Spec: b.air, MaxFill: b.Air.MaxFill}
	choice.Exponent = max(1, b.Air.Exponent)
	answer, err := choice.choose(b.curve, target, b.Friction)
	if err != nil {
		return Correction{}, err
	}
	a.Air = &AirCorrection{AirOption: answer.Options[0], FillChange: answer.Options[0].Fill - b.air.Fill}
	return a, nil
}
