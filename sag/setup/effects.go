package setup

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// The values with which answers are worked out again where a job states none. They are examples, a
// choice of this package.
const (
	otherUnsprung  = 0.15                    // of the bike's mass
	otherRider     = 1 * units.Kilogram      // more
	otherShare     = 0.05                    // less of the bike's weight on the rear wheel
	otherWheelbase = 1250 * units.Millimetre // where none is stated
	otherHeight    = 1100 * units.Millimetre
	otherRadius    = 360 * units.Millimetre // of the wheels
	otherFriction  = 0.03                   // of the spring's force at the sag
	otherPreload   = 2 * units.Millimetre
	otherOil       = 0.03 // of the positive volume
	otherPort      = 0.05 // of the travel
	otherExponent  = 1.3
	otherDay       = units.Temperature(283.15)
	otherWarmth    = units.Temperature(15) // warmer than that
	otherAltitude  = 1000 * units.Metre    // higher
)

// exactly returns by how much what puts an end exactly on target changes with another load or another
// spec, and reports whether there is such a spring or fill.
func (e SheetEnd) exactly(load units.Force, spec fit.Spec, with string) (Effect, bool) {
	f, target := Effect{End: e.Axle, With: with}, sag.Target{Load: load, Sag: spec.Sag}
	switch best := e.Fill(); {
	case spec.Coil != nil:
		exact, err := sag.RequiredRate(e.Curve(), target, spec.Coil.PreloadMin)
		f.Rate = exact.Rate - e.Coil.IdealRate
		return f, err == nil
	case spec.Air != nil && best.FillWanted > 0:
		air := spec.Air.Spec
		air.Exponent = 1
		fill, err := sag.RequiredFill(e.Curve(), target, air)
		f.Fill = fill - best.FillWanted
		return f, err == nil
	}
	return f, false
}

// fitted returns the spec of an end, an air spring with the recommended fill and spacers.
func (e SheetEnd) fitted() fit.Spec {
	spec := e.options.Spec()
	if best := e.Fill(); best != nil && spec.Air != nil {
		air := *spec.Air
		air.Fill, air.Spacers = best.Fill, best.Spacers
		spec.Air = &air
	}
	return spec
}

// withMasses returns what other masses change at each end.
func (s *Sheet) withMasses(m sag.Masses, with string) (list []Effect) {
	loads, err := m.Loads()
	if err != nil {
		return nil // nothing is left on a spring
	}
	for _, e := range s.Ends() {
		if f, ok := e.exactly(map[sag.Axle]units.Force{sag.Front: loads.Front, sag.Rear: loads.Rear}[e.Axle], e.fitted(), with); ok {
			list = append(list, f)
		}
	}
	return list
}

// withUnsprung returns what an unsprung mass at an axle changes there.
func (s *Sheet) withUnsprung(at sag.Axle) (list []Effect) {
	m, mass := s.masses, otherUnsprung*s.masses.BikeMass
	if at == sag.Front {
		m.UnsprungFront = &mass
	} else {
		m.UnsprungRear = &mass
	}
	for _, f := range s.withMasses(m, mass.Both().String()) {
		if f.End == at {
			list = append(list, f)
		}
	}
	return list
}

// withShare returns what another share of the bike's weight changes of the free sag.
func (s *Sheet) withShare() []Effect {
	m := s.masses
	m.BikeRearShare = s.Loads.RearShare - otherShare
	loads, err := m.BikeLoads()
	if err != nil {
		return nil // nothing is left on a spring
	}
	c := units.Checker{Package: "sag"}
	other := s.stand(&c, loads)
	if !c.OK() {
		return nil // a spring that falls away there
	}
	var list []Effect
	add := func(end sag.Axle, rest, free *EndRest) {
		if rest != nil && free != nil {
			list = append(list, Effect{End: end, With: units.Percent(m.BikeRearShare), Sag: rest.Rest.Sag - free.Rest.Sag})
		}
	}
	add(sag.Front, other.Front, s.Free.Front)
	add(sag.Rear, other.Rear, s.Free.Rear)
	return list
}

// withPitch returns what it changes that both ends settle together, where the job states no wheelbase or
// no height of the mass centre.
func (s *Sheet) withPitch() []Effect {
	m := s.masses
	if !s.Front.known() || !s.Rear.known() || m.Scaled() {
		return nil
	}
	if m.Wheelbase == 0 {
		m.Wheelbase = otherWheelbase
	}
	if m.MassCentreHeight == 0 {
		m.MassCentreHeight = otherHeight
	}
	if m.Radius(sag.Front) == 0 || m.Radius(sag.Rear) == 0 {
		m.WheelRadius = otherRadius
	}
	both, err := s.couple(m)
	if err != nil {
		return nil // it falls over
	}
	with := fmt.Sprintf("a wheelbase of %s, a mass centre %s high and wheels of %s radius", m.Wheelbase.Both(), m.MassCentreHeight.Both(), m.Radius(sag.Rear).Both())
	return []Effect{
		{End: sag.Front, With: with, Sag: both.FrontSag - s.Front.Rest.Sag},
		{End: sag.Rear, With: with, Sag: both.RearSag - s.Rear.Rest.Sag},
	}
}

// withFriction returns the band that a friction gives the sag.
func (e SheetEnd) withFriction() []Effect {
	if !e.known() {
		return nil
	}
	end := e.End()
	end.Friction = otherFriction * end.Law.Force(e.Rest.Stroke)
	if !(end.Friction > 0) {
		return nil
	}
	r := end.RestAt(e.Rest.Stroke, e.Load)
	return []Effect{{End: e.Axle, With: end.Friction.Both().String(), Band: float64((r.TravelHigh - r.TravelLow) / 2 / e.Travel)}}
}

// withPreload returns what another least preload changes of a coil.
func (e SheetEnd) withPreload() []Effect {
	spec := e.options.Spec()
	coil := *spec.Coil
	coil.PreloadMin = otherPreload
	spec.Coil = &coil
	return effects(e.exactly(e.Load, spec, otherPreload.Both().String()))
}

// withAir returns what another air spring changes at its end.
func (e SheetEnd) withAir(with string, change func(air *fit.Chamber)) []Effect {
	spec := e.fitted()
	change(spec.Air)
	return effects(e.exactly(e.Load, spec, with))
}

// withSpacer returns what one more spacer changes, where their volume is known.
func (e SheetEnd) withSpacer() []Effect {
	if e.options.Spec().Air.SpacerVolume == 0 {
		return nil
	}
	return e.withAir("one more", func(a *fit.Chamber) { a.Spacers++ })
}

// withExponent returns what another exponent changes at full travel.
func (e SheetEnd) withExponent() []Effect {
	air := e.fitted().Air.Spec
	air.Exponent = otherExponent
	end, err := sag.AirEnd(e.Curve(), air)
	if err != nil {
		return nil // a fill that no spring has
	}
	ratio := end.StateAt(e.Rest, e.Load).FullRatio
	return []Effect{{End: e.Axle, With: fmt.Sprint(otherExponent), FullRatio: ratio - e.FullRatio}}
}

// withWarmth returns what the gas changes that is warmer where it is filled than where it is ridden.
func (s *Sheet) withWarmth() (list []Effect) {
	for _, e := range s.Ends() {
		if spec := e.fitted(); spec.Air != nil && spec.Air.Fill > 0 {
			warm, err := airspring.SpecAt(spec.Air.Spec, otherDay, otherDay+otherWarmth, spec.Air.Ambient)
			if err == nil {
				list = append(list, Effect{End: e.Axle, With: "gas 15 °C (27 °F) warmer at the pump", Fill: warm.Fill - spec.Air.Fill})
			}
		}
	}
	return list
}

// withAltitude returns what the thinner air changes where the bike is ridden higher than its springs are
// filled: the fill to set below for the target above. The ambient falls as in the standard atmosphere.
func (s *Sheet) withAltitude() (list []Effect) {
	low, errLow := airspring.Atmosphere(0)
	high, errHigh := airspring.Atmosphere(otherAltitude)
	if errLow != nil || errHigh != nil {
		return nil
	}
	for _, e := range s.Ends() {
		spec := e.fitted()
		if spec.Air == nil || !(e.Fill().FillWanted > 0) {
			continue
		}
		below, up := spec.Air.Ambient, spec.Air.Spec
		up.Ambient, up.Exponent = below*high.Pressure/low.Pressure, 1
		fill, err := sag.RequiredFill(e.Curve(), sag.Target{Load: e.Load, Sag: e.TargetSag}, up)
		if err != nil {
			continue // no fill does it there
		}
		up.Fill = fill
		if down, err := airspring.SpecAt(up, otherDay, otherDay, below); err == nil {
			list = append(list, Effect{End: e.Axle, With: "1000 m (3281 ft) more", Fill: down.Fill - e.Fill().FillWanted})
		}
	}
	return list
}

// effects returns the effect if there is one.
func effects(f Effect, ok bool) []Effect {
	if !ok {
		return nil
	}
	return []Effect{f}
}
