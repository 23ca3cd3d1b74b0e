package setup

import (
	"cmp"
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

// fitted returns a copy of the spec of an end, an air spring with the recommended fill and spacers.
func (e SheetEnd) fitted() fit.Spec {
	spec := e.options.Spec()
	spec.Coil, spec.Air = copied(spec.Coil), copied(spec.Air)
	if best := e.Fill(); best != nil && spec.Air != nil {
		spec.Air.Fill, spec.Air.Spacers = best.Fill, best.Spacers
	}
	return spec
}

// exactly returns how what puts an end exactly on target changes with another load or
// spec; nothing if no such spring or fill is known.
func (e SheetEnd) exactly(load units.Force, spec fit.Spec, with string) []Effect {
	f, target := Effect{End: e.Axle, With: with}, sag.Target{Load: load, Sag: spec.Sag}
	var err error
	switch best := e.Fill(); {
	case spec.Coil != nil:
		var exact sag.CoilRate
		exact, err = sag.RequiredRate(e.Curve(), target, spec.Coil.PreloadMin)
		f.Rate = exact.Rate - e.Coil.IdealRate
	case spec.Air != nil && best.FillWanted > 0:
		air := spec.Air.Spec
		air.Exponent = 1
		f.Fill, err = sag.RequiredFill(e.Curve(), target, air)
		f.Fill -= best.FillWanted
	default:
		return nil
	}
	if err != nil {
		return nil
	}
	return []Effect{f}
}

// with returns a function for what another value in the spec changes at its end.
func (e SheetEnd) with(other string, change func(spec fit.Spec)) func() []Effect {
	return func() []Effect {
		spec := e.fitted()
		change(spec)
		return e.exactly(e.Load, spec, other)
	}
}

// withRider returns what a heavier rider changes.
func (s *Sheet) withRider() (list []Effect) {
	loads, err := s.masses.LoadsWith(s.RiderMass + otherRider)
	for _, e := range s.Ends() {
		if err == nil {
			list = append(list, e.exactly(loads.Load(e.Axle), e.fitted(), "a rider "+otherRider.Both().String()+" heavier")...)
		}
	}
	return list
}

// withShare returns what another share of the bike's weight changes of the free sag.
func (s *Sheet) withShare() (list []Effect) {
	m := s.masses
	m.BikeRearShare = s.Loads.RearShare - otherShare
	loads, err := m.BikeLoads()
	for _, e := range s.Ends() {
		if err != nil || !e.known() { // nothing is left on a spring, or nothing told of it
			continue
		}
		if rest, _, err := e.End().SettleWithin(loads.Load(e.Axle)); err == nil {
			list = append(list, Effect{End: e.Axle, With: units.Percent(m.BikeRearShare), Sag: rest.Sag - sag.AtAxle(e.Axle, s.Free.Front, s.Free.Rear).Rest.Sag})
		}
	}
	return list
}

// withPitch returns what it changes that both ends settle together, where the job does not state what that takes.
func (s *Sheet) withPitch() []Effect {
	m := s.masses
	if !s.Front.known() || !s.Rear.known() || m.Scaled() {
		return nil
	}
	m.Wheelbase, m.MassCentreHeight = cmp.Or(m.Wheelbase, otherWheelbase), cmp.Or(m.MassCentreHeight, otherHeight)
	if m.Radius(sag.Front) == 0 || m.Radius(sag.Rear) == 0 {
		m.WheelRadius = otherRadius
	}
	both, err := s.couple(m)
	if err != nil {
		return nil // it falls over
	}
	with := fmt.Sprintf("a wheelbase of %s, a mass centre %s high and wheels of %s radius", m.Wheelbase.Both(), m.MassCentreHeight.Both(), m.Radius(sag.Rear).Both())
	return []Effect{{End: sag.Front, With: with, Sag: both.FrontSagChange}, {End: sag.Rear, With: with, Sag: both.RearSagChange}}
}

// withFriction returns the band that a friction gives the sag.
func (e SheetEnd) withFriction() []Effect {
	if !e.known() {
		return nil
	}
	end := e.End()
	if end.Friction = otherFriction * end.Law.Force(e.Rest.Stroke); !(end.Friction > 0) {
		return nil
	}
	r := end.RestAt(e.Rest.Stroke, e.Load)
	return []Effect{{End: e.Axle, With: end.Friction.Both().String(), Band: float64((r.TravelHigh - r.TravelLow) / 2 / e.Travel)}}
}

// withExponent returns what another exponent changes at full travel.
func (e SheetEnd) withExponent() []Effect {
	air := e.fitted().Air.Spec
	air.Exponent = otherExponent
	end, err := sag.AirEnd(e.Curve(), air)
	if err != nil {
		return nil // a fill that no spring has
	}
	return []Effect{{End: e.Axle, With: fmt.Sprint(otherExponent), FullRatio: end.StateAt(e.Rest, e.Load).FullRatio - e.FullRatio}}
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

// withAltitude returns how the fill to set below changes for the target above, in thinner air.
func (s *Sheet) withAltitude() (list []Effect) {
	high, err := airspring.Atmosphere(otherAltitude)
	for _, e := range s.Ends() {
		spec := e.fitted()
		if err != nil || spec.Air == nil || !(e.Fill().FillWanted > 0) {
			continue
		}
		below, up := spec.Air.Ambient, spec.Air.Spec
		up.Ambient, up.Exponent = below*high.Pressure/units.StandardAtmosphere, 1
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
