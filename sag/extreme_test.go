package sag_test

import (
	"errors"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// loaded is an end with a coil spring under a load, by its numbers.
type loaded struct {
	Table    linkage.Table
	Spring   spring.Linear
	Friction units.Force
	Load     units.Force
}

func newLoaded() loaded {
	return loaded{linkage.Table{Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.058, 0.112, 0.16}},
		spring.Linear{Rate: 80e3, Travel: 0.06, Preload: 0.002}, 50, 900}
}

func (l loaded) end() (sag.End, error) {
	curve, err := linkage.NewTable(l.Table)
	if err != nil {
		return sag.End{}, err
	}
	law, err := spring.NewLinear(l.Spring)
	return sag.End{Curve: curve, Law: law, Friction: l.Friction}, err
}

// finiteEnd checks what an end with a coil spring answers. A load out of its range is no fault.
func finiteEnd[A any](t *testing.T, name string, ask func(e sag.End, l loaded) (A, error)) {
	t.Helper()
	unitstest.FiniteOrRefused(t, name, newLoaded(), func(l loaded) (answer A, err error) {
		e, err := l.end()
		if err != nil {
			return answer, err
		}
		answer, err = ask(e, l)
		if errors.Is(err, spring.ErrToppedOut) || errors.Is(err, spring.ErrBottomedOut) {
			err = &units.FieldError{Field: "load", Class: units.ErrRange}
		}
		return answer, err
	})
}

// Whatever is next to nothing or enormous, an end answers with numbers or refuses it.
func TestEndsAreFinite(t *testing.T) {
	finiteEnd(t, "under", func(e sag.End, l loaded) (sag.State, error) { return e.Under(l.Load) })
	finiteEnd(t, "settle", func(e sag.End, l loaded) (sag.Rest, error) { return e.Settle(l.Load) })
	finiteEnd(t, "reserve", func(e sag.End, l loaded) (sag.Reserve, error) { return e.Reserve(l.Load) })
	finiteEnd(t, "load", func(e sag.End, l loaded) (units.Force, error) { return e.LoadAt(l.Spring.Travel / 3) })
	air := drawnAir()
	type filled struct {
		Air            airspring.Spec
		Friction, Load units.Force
	}
	curve := made(newLoaded().end()).Curve
	unitstest.FiniteOrRefused(t, "air", filled{air, 50, 900}, func(f filled) (sag.State, error) {
		e, err := sag.AirEnd(curve, f.Air)
		if err != nil {
			return sag.State{}, err
		}
		e.Friction = f.Friction
		return e.Under(f.Load)
	})
}

func drawnAir() airspring.Spec {
	return airspring.Spec{Bore: 0.036, Shaft: 0.01, Travel: 0.06, PositiveVolume: 85e-6, NegativeVolume: 20e-6, PortTravel: 0.005,
		SpacerVolume: 3e-6, Spacers: 1, Fill: 5e5, Ambient: 101325, Exponent: 1.3}
}

func TestLandingsAreFinite(t *testing.T) {
	type dropped struct {
		Load units.Force
		Drop sag.Drop
		Rate units.Stiffness
	}
	curve := made(newLoaded().end()).Curve
	unitstest.FiniteOrRefused(t, "landing", dropped{900, sag.Drop{Height: 1, Damping: 500}, 80e3}, func(d dropped) (sag.Landing, error) {
		law, err := spring.NewLinear(spring.Linear{Rate: d.Rate, Travel: 0.06, Preload: 0.002})
		if err != nil {
			return sag.Landing{}, err
		}
		return sag.End{Curve: curve, Law: law}.Land(d.Load, d.Drop)
	})
}

func TestLoadsAndStancesAreFinite(t *testing.T) {
	m := sag.Masses{RiderMass: 80, BikeMass: 18, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6,
		BikeRearShare: 0.55, Wheelbase: 1.2, MassCentreHeight: 1, WheelRadius: 0.36}
	unitstest.FiniteOrRefused(t, "loads", m, sag.Masses.Loads)
	unitstest.FiniteOrRefused(t, "bike alone", m, sag.Masses.BikeLoads)
	end := made(newLoaded().end())
	unitstest.FiniteOrRefused(t, "stance", m, func(m sag.Masses) (sag.Stance, error) { return sag.Bike{Masses: m, Front: end, Rear: end}.Stance() })
	centre := m
	centre.RearShare, centre.MassCentreBehindFrontAxle = 0, 0.7
	unitstest.FiniteOrRefused(t, "mass centre", centre, sag.Masses.Loads)
	scales := sag.Masses{BikeMass: 18, UnsprungFront: m.UnsprungFront, UnsprungRear: m.UnsprungRear, FrontScale: 40, RearScale: 60}
	unitstest.FiniteOrRefused(t, "scales", scales, sag.Masses.Loads)
}

func TestTargetsAreFinite(t *testing.T) {
	curve := made(newLoaded().end()).Curve
	type target struct {
		sag.Target
		Preload units.Length
		Rate    units.Stiffness
	}
	valid := target{sag.Target{Load: 900, Sag: 0.3}, 0.002, 80e3}
	unitstest.FiniteOrRefused(t, "rate", valid, func(x target) (sag.CoilRate, error) { return sag.RequiredRate(curve, x.Target, x.Preload) })
	unitstest.FiniteOrRefused(t, "preload", valid, func(x target) (units.Length, error) { return sag.RequiredPreload(curve, x.Target, x.Rate) })
	type aired struct {
		sag.Target
		Air airspring.Spec
	}
	unitstest.FiniteOrRefused(t, "fill", aired{valid.Target, drawnAir()}, func(x aired) (units.GaugePressure, error) { return sag.RequiredFill(curve, x.Target, x.Air) })
	share := sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 18, Unsprung: 3}
	unitstest.FiniteOrRefused(t, "bands", sag.Range{Rates: []units.Stiffness{70e3, 80e3}, Preload: 0.002, AxleShare: share, Sag: 0.3}, func(r sag.Range) (sag.Bands, error) { return sag.BandsOf(curve, r) })
}

func TestCalibrationsAreFinite(t *testing.T) {
	fork := made(linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}))
	type calibrated struct {
		Readings sag.LoadReadings
		Target   sag.Target
	}
	valid := calibrated{sag.LoadReadings{
		Ambient: airspring.SeaLevel, NegativeChamber: new(false), OutsideDiameter: 0.034, RingError: 1e-3, GaugeError: 3e3,
		Readings: []sag.LoadReading{{Fill: 3.447e5, Stroke: 0.048, Load: 400}, {Fill: 3.723e5, Stroke: 0.027, Load: 400}, {Fill: 3.55e5, Stroke: 0.0395, Load: 400}},
	}, sag.Target{Load: 440, Sag: 0.22}}
	unitstest.FiniteOrRefused(t, "calibration", valid, func(c calibrated) ([]any, error) {
		spring, err := sag.Calibrate(fork, c.Readings)
		if err != nil {
			return nil, err
		}
		fill, err := sag.CalibratedFill(fork, c.Target, spring)
		return []any{spring, fill}, err
	})
}

// The formulas that refuse nothing are 0 where there is no number.
func TestFormulasAreFinite(t *testing.T) {
	type given struct {
		Rate    units.Stiffness
		Force   units.Force
		Ratio   float64
		Slope   units.RatioSlope
		Damping units.Damping
		Share   float64
	}
	unitstest.FiniteOrRefused(t, "formulas", given{80e3, 900, 2.6, -3, 500, 0.3}, func(g given) ([]any, error) {
		return []any{sag.WheelRate(g.Rate, g.Force, g.Ratio, g.Slope), sag.Frequency(g.Rate, g.Force), sag.DampingFor(g.Share, g.Rate, g.Force),
			sag.DampingRatio(g.Damping, g.Rate, g.Force), sag.DampingAtShock(g.Damping, g.Ratio)}, nil
	})
	for what, got := range map[string]float64{
		"no ratio": float64(sag.WheelRate(80e3, 900, 0, -3)), "ratio below 0": float64(sag.WheelRate(80e3, 900, -2, 0)),
		"beyond": float64(sag.WheelRate(80e3, 900, 1e-200, -3)), "NaN": float64(sag.WheelRate(units.Stiffness(math.NaN()), 900, 2, -3)),
		"a shock beyond": float64(sag.DampingAtShock(300, 1e200)), "a shock below": float64(sag.DampingAtShock(-300, 1e200)), "NaN at the shock": float64(sag.DampingAtShock(units.Damping(math.NaN()), 2)),
	} {
		if got != 0 {
			t.Errorf("%s: %v", what, got)
		}
	}
}
