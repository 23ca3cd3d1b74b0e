package setup

import (
	"fmt"
	"math"
	"slices"
	"strings"

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

// none reports whether nothing changes.
func (f Effect) none() bool { return f == Effect{End: f.End, With: f.With} }

// omit notes an omission.
func (s *Sheet) omit(code, field, text string, effects ...Effect) {
	s.LeftOut = append(s.LeftOut, omission(code, field, text, effects...))
}

// omission returns an omission whose text ends with its effects, except those of which nothing changes.
func omission(code, field, text string, effects ...Effect) Omission {
	var said []string
	for _, f := range effects {
		switch {
		case f.none():
		case len(effects) == 1:
			said = append(said, f.With+" "+f.String())
		case said == nil:
			said = append(said, fmt.Sprintf("%s: %s, %s", f.With, f.End, f))
		default:
			said = append(said, fmt.Sprintf("%s, %s", f.End, f))
		}
	}
	if said != nil {
		text += " With " + strings.Join(said, "; ") + "."
	}
	return Omission{code, field, effects, text}
}

// take notes what was taken for granted where it is missing from the job. END in field and text is the axle.
func (s *Sheet) take(missing bool, axle sag.Axle, code, field, text string, effects ...func() []Effect) {
	if !missing {
		return
	}
	var list []Effect
	for _, f := range effects {
		list = append(list, f()...)
	}
	at := strings.NewReplacer("END", string(axle))
	s.omit(code, at.Replace(field), at.Replace(text), list...)
}

// addTaken notes what was taken for granted.
func (s *Sheet) addTaken() {
	for i, o := range s.LeftOut {
		if o.Code == "coupled" {
			s.LeftOut[i] = omission(o.Code, o.Field, o.Text, s.withPitch()...)
		}
	}
	if s.Free != nil && s.Free.ShareAssumed {
		s.omit("bike_rear_share", "masses.bike_rear_share",
			"Free sag: bike_rear_share is not stated, so the bike's own weight is shared as with the rider on.", s.withShare()...)
	}
	if slices.ContainsFunc(s.Stances, func(st StanceSheet) bool { return st.Coupled != nil && (st.RearBraking > 0 || st.Driving > 0) }) {
		s.omit("linkage", "stances", "Rear brake and chain are taken to do nothing to the linkage, neither anti-rise nor anti-squat: what they hold back of the shift of load, the rear does not move.")
	}
	air := false
	for _, e := range s.Ends() {
		s.addTakenAt(e)
		air = air || e.Coil == nil
	}
	if air {
		s.omit("temperature", "ambient", "Each spring is taken to be as warm when it is filled as when it is ridden.", s.withWarmth()...)
		s.omit("altitude", "ambient", "The bike is taken to be ridden at the height at which its springs are filled.", s.withAltitude()...)
	}
	if s.Uncertainty == nil {
		s.omit("uncertainty", "uncertainty", "No uncertainty is stated, so no answer has its ±.", s.withRider()...)
	}
}

// addTakenAt notes what was taken for granted at one end.
func (s *Sheet) addTakenAt(e SheetEnd) {
	spec, axle := e.options.Spec(), e.Axle
	mass := otherUnsprung * s.masses.BikeMass
	s.take(s.masses.Unsprung(axle) == 0, axle, "unsprung", "masses.unsprung_END", "The unsprung mass at the END is taken as nothing.",
		func() []Effect { return e.exactly(e.load()-mass.Weight(), e.fitted(), mass.Both().String()) })
	s.take(spec.Friction == 0, axle, "friction", "END.friction", "No friction is stated at the END, so its sag has no band.", e.withFriction)
	if coil := spec.Coil; coil != nil {
		s.take(coil.PreloadMin == 0, axle, "preload_min", "END.coil.preload_min", "The least preload of the collar at the END is taken as 0.",
			e.with(otherPreload.Both().String(), func(spec fit.Spec) { spec.Coil.PreloadMin = otherPreload }))
		one := coil.PreloadMax == coil.PreloadMin
		s.take(one, axle, "preload_max", "END.coil.preload_max", "The collar at the END is taken to have one preload, its least.")
		s.take(!one && coil.ThreadPitch == 0, axle, "thread_pitch", "END.coil.thread_pitch", "The thread pitch of the collar at the END is not stated: no preload is told in turns, and none is rounded to a quarter of one.")
	}
	if air := spec.Air; air != nil {
		oil, port := otherOil*air.PositiveVolume, otherPort*air.Travel
		none := ", so neither is a change or what to do at the pump."
		if e.Pump != nil { // from none, once the chamber was opened
			none = ", so neither is a change."
		}
		s.take(air.Fill == 0, axle, "fill", "END.air.fill", "The fill that the spring at the END holds now is not stated"+none)
		s.take(air.MaxSpacers == 0, axle, "spacers", "END.air.max_spacers",
			fmt.Sprintf("The spacers fitted at the END, %d, are kept: without max_spacers no other number is tried.", air.Spacers),
			e.with("one more", func(spec fit.Spec) { spec.Air.Spacers++ }))
		s.take(air.OilVolume == 0, axle, "oil_volume", "END.air.oil_volume", "The air chamber at the END is taken to hold no oil.",
			e.with(oil.Both().String(), func(spec fit.Spec) { spec.Air.OilVolume = oil }))
		s.take(air.NegativeVolume != 0 && air.PortTravel == 0, axle, "port_travel", "END.air.port_travel", "The port of the negative chamber at the END is taken to be at full extension.",
			e.with(port.Both().String(), func(spec fit.Spec) { spec.Air.PortTravel = port }))
		s.take(air.Exponent == 1, axle, "exponent", "END.air.exponent", "The gas at the END is taken to be as warm as its surroundings over a fast stroke too, exponent 1.", e.withExponent)
	}
}
