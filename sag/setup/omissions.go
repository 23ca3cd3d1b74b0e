package setup

import (
	"fmt"
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Omission is what a job does not state: a part of the sheet that is left out for the lack of it, or
// what was taken for granted in its place.
type Omission struct {
	Code    string   `json:"code"`              // such as "coupled" or "friction"
	Field   string   `json:"field,omitempty"`   // of the job, such as front.air.oil_volume
	Effects []Effect `json:"effects,omitempty"` // at most one for each end; none where they can't be told
	Text    string   `json:"text"`
}

// Effect is by how much an answer for one end changes with another value than the one taken, an
// example. One of the changes is given, or none if it is 0.
type Effect struct {
	End       sag.Axle            `json:"end"`
	With      string              `json:"with"`                        // the other value, in words
	Fill      units.GaugePressure `json:"fill_change,omitempty"`       // of the exact fill, with the same spacers
	Rate      units.Stiffness     `json:"rate_change,omitempty"`       // of the exact spring rate
	Sag       float64             `json:"sag_change,omitempty"`        // a fraction of the travel
	Band      float64             `json:"sag_band,omitempty"`          // by how much the sag may be off to either side, a fraction of the travel
	FullRatio float64             `json:"full_ratio_change,omitempty"` // of the force at full travel over the load
}

// String returns the change in words, such as "the exact fill is 0.12 bar (1.7 psi) lower".
func (f Effect) String() string {
	side := func(v float64, more, less string) string {
		if v < 0 {
			return less
		}
		return more
	}
	switch {
	case f.Fill != 0:
		return fmt.Sprintf("the exact fill is %s %s", max(f.Fill, -f.Fill).Both(), side(float64(f.Fill), "higher", "lower"))
	case f.Rate != 0:
		return fmt.Sprintf("the exact spring is %s %s", max(f.Rate, -f.Rate).Both().CustomaryFirst(), side(float64(f.Rate), "harder", "softer"))
	case f.Sag != 0:
		return fmt.Sprintf("the sag is %.1f points %s", 100*math.Abs(f.Sag), side(f.Sag, "more", "less"))
	case f.Band != 0:
		return fmt.Sprintf("the sag may be %.1f points off to either side", 100*f.Band)
	case f.FullRatio != 0:
		return fmt.Sprintf("the force at full travel is %.1f × the load %s", math.Abs(f.FullRatio), side(f.FullRatio, "more", "less"))
	}
	return "nothing changes"
}

// omission returns an omission whose text ends with its effects.
func omission(code, field, text string, effects ...Effect) Omission {
	for i, f := range effects {
		switch {
		case i > 0:
			text += fmt.Sprintf("; %s, %s", f.End, f)
		case len(effects) > 1:
			text += fmt.Sprintf(" With %s: %s, %s", f.With, f.End, f)
		default:
			text += fmt.Sprintf(" With %s %s", f.With, f)
		}
	}
	if len(effects) > 0 {
		text += "."
	}
	return Omission{code, field, effects, text}
}

// addTaken notes what was taken for granted.
func (s *Sheet) addTaken() {
	for i, o := range s.LeftOut {
		if o.Code == "coupled" {
			s.LeftOut[i] = omission(o.Code, o.Field, o.Text, s.withPitch()...)
		}
	}
	if s.Free != nil && s.Free.ShareAssumed {
		s.LeftOut = append(s.LeftOut, omission("bike_rear_share", "masses.bike_rear_share",
			"Free sag: bike_rear_share is not stated, so the bike's own weight is shared as with the rider on.", s.withShare()...))
	}
	air := false
	for _, e := range s.Ends() {
		s.LeftOut = append(s.LeftOut, s.taken(e)...)
		air = air || e.Air != nil || e.Gauge != nil
	}
	if air {
		s.LeftOut = append(s.LeftOut, omission("temperature", "ambient",
			"Each spring is taken to be as warm when it is filled as when it is ridden.", s.withWarmth()...),
			omission("altitude", "ambient", "The bike is taken to be ridden at the height at which its springs are filled.", s.withAltitude()...))
	}
	if s.Uncertainty == nil {
		heavier := s.masses.WithRearShare(s.Loads.RearShare)
		heavier.RiderMass += otherRider
		s.LeftOut = append(s.LeftOut, omission("uncertainty", "uncertainty", "No uncertainty is stated, so no answer has its ±.",
			s.withMasses(heavier, "a rider "+otherRider.Both().String()+" heavier")...))
	}
}

// taken returns what was taken for granted at one end.
func (s *Sheet) taken(e SheetEnd) (list []Omission) {
	end, spec := string(e.Axle), e.options.Spec()
	add := func(code, field, text string, effects ...Effect) {
		list = append(list, omission(code, field, text, effects...))
	}
	at := "at the " + end
	if s.masses.Unsprung(e.Axle) == 0 {
		add("unsprung", "masses.unsprung_"+end, "The unsprung mass "+at+" is taken as nothing.", s.withUnsprung(e.Axle)...)
	}
	if spec.Friction == 0 {
		add("friction", end+".friction", "No friction is stated "+at+", so its sag has no band.", e.withFriction()...)
	}
	if coil := spec.Coil; coil != nil {
		if coil.PreloadMin == 0 {
			add("preload_min", end+".coil.preload_min", "The least preload of the collar "+at+" is taken as 0.", e.withPreload()...)
		}
		if coil.PreloadMax == coil.PreloadMin {
			add("preload_max", end+".coil.preload_max", "The collar "+at+" is taken to have one preload, its least.")
		} else if coil.ThreadPitch == 0 {
			add("thread_pitch", end+".coil.thread_pitch", "The thread pitch of the collar "+at+" is not stated: no preload is told in turns, and none is rounded to a quarter of one.")
		}
	}
	if air := spec.Air; air != nil {
		if air.Fill == 0 {
			add("fill", end+".air.fill", "The fill that the spring "+at+" holds now is not stated, so neither is a change or what to do at the pump.")
		}
		if air.MaxSpacers == 0 {
			add("spacers", end+".air.max_spacers", fmt.Sprintf("The spacers fitted %s, %d, are kept: without max_spacers no other number is tried.", at, air.Spacers), e.withSpacer()...)
		}
		if air.OilVolume == 0 {
			oil := otherOil * air.PositiveVolume
			add("oil_volume", end+".air.oil_volume", "The air chamber "+at+" is taken to hold no oil.",
				e.withAir(oil.Both().String(), func(a *fit.Chamber) { a.OilVolume = oil })...)
		}
		if air.NegativeVolume != 0 && air.PortTravel == 0 {
			port := otherPort * air.Travel
			add("port_travel", end+".air.port_travel", "The port of the negative chamber "+at+" is taken to be at full extension.",
				e.withAir(port.Both().String(), func(a *fit.Chamber) { a.PortTravel = port })...)
		}
		if air.Exponent == 1 {
			add("exponent", end+".air.exponent", "The gas "+at+" is taken to be as warm as its surroundings over a fast stroke too, exponent 1.", e.withExponent()...)
		}
	}
	return list
}
