package sag

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// falling is a curve whose ratio goes from 2 to 3 over 10 mm of stroke. A spring
// of rate k with 30 mm of preload has 25 mm·k at the wheel before that and
// 20 mm·k after it, so that the wheel force falls in between.
func falling(t *testing.T) *linkage.Curve {
	t.Helper()
	table := linkage.Table{Method: linkage.Monotone}
	for i, mm := range []units.Length{0, 20, 40, 65, 95, 125, 155} {
		table.Stroke = append(table.Stroke, units.Length(10*i)*units.Millimetre)
		table.Travel = append(table.Travel, mm*units.Millimetre)
	}
	curve, err := linkage.NewTable(table)
	require.NoError(t, err)
	return curve
}

func preloaded(t *testing.T, rate units.Stiffness) spring.Law {
	t.Helper()
	law, err := spring.NewLinear(spring.Linear{Rate: rate, Travel: 60 * units.Millimetre, Preload: 30 * units.Millimetre})
	require.NoError(t, err)
	return law
}

// However the wheel force falls, the rest that is told carries the load and lies
// within its band.
func TestBandHoldsTheRestWhereForceFalls(t *testing.T) {
	curve, law := falling(t), preloaded(t, 60*units.NewtonPerMillimetre)
	wheel, err := linkage.AtWheel(curve, law)
	require.NoError(t, err)
	if least, _ := wheel.MinRate(); !(least < 0) {
		t.Fatalf("the wheel force does not fall: its least rate is %v", least)
	}
	for load := units.Force(905); load <= 1795; load++ {
		for _, friction := range []units.Force{1, 30, 100, 200, 300, 500, 700} {
			r, err := Settle(curve, law, load, friction)
			require.NoError(t, err)
			if !(r.TravelLow <= r.Travel && r.Travel <= r.TravelHigh && r.StrokeLow <= r.Stroke && r.Stroke <= r.StrokeHigh) {
				t.Errorf("%v with %v of friction: %v is not within %v to %v", load, friction, r.Travel, r.TravelLow, r.TravelHigh)
			}
			near(t, "the force at "+r.Travel.String(), float64(wheel.Force(r.Travel)), float64(load), 1e-9)
		}
	}
}

// Where the force falls, no rider lies between two springs: they are refused
// rather than given an edge outside them.
func TestBandsWhereForceFalls(t *testing.T) {
	curve := falling(t)
	r := Range{Rates: []units.Stiffness{60e3, 70e3}, Preload: 30 * units.Millimetre, End: RearEnd, RearShare: 0.6, BikeMass: 16, Sag: 50.0 / 155}
	if b, err := NewBands(curve, r); len(units.Fields(err)) != 1 || units.Fields(err)[0].Field != "rates[1]" {
		t.Errorf("bands %+v, %v", b, err)
	}
	r.Preload, r.Sag = 5*units.Millimetre, 0.3 // k(s + 5 mm)/LR rises all over
	b, err := NewBands(curve, r)
	require.NoError(t, err)
	if !(b.IdealMass[0] < b.EdgeMass[0] && b.EdgeMass[0] < b.IdealMass[1]) {
		t.Errorf("bands %+v", b)
	}
}

// A rough table makes the wheel force fall in several places. The ends of the
// band are where the spring with its friction carries the load, F_s ± f = load·LR,
// and lie on their own sides of the rest, though the same holds elsewhere too.
func TestBandOnARoughTable(t *testing.T) {
	table := linkage.Table{}
	for _, mm := range []units.Length{0, 15, 27, 41, 45, 50, 51, 55, 62, 66} {
		table.Stroke = append(table.Stroke, mm*units.Millimetre)
	}
	for _, mm := range []units.Length{0, 57, 91, 148, 190, 249, 285, 349, 367, 428} {
		table.Travel = append(table.Travel, mm*units.Millimetre)
	}
	curve, err := linkage.NewTable(table)
	require.NoError(t, err)
	law, err := spring.NewLinear(spring.Linear{Rate: 60 * units.NewtonPerMillimetre, Travel: curve.Stroke(), Preload: units.Millimetre})
	require.NoError(t, err)
	const load, friction = 164.5 * units.Newton, 62.8 * units.Newton
	r, err := Settle(curve, law, load, friction)
	require.NoError(t, err)
	if !(r.StrokeLow < r.Stroke && r.Stroke < r.StrokeHigh && r.TravelLow < r.Travel && r.Travel < r.TravelHigh) {
		t.Errorf("%v is not between %v and %v", r.Stroke, r.StrokeLow, r.StrokeHigh)
	}
	for s, force := range map[units.Length]units.Force{
		r.StrokeLow: law.Force(r.StrokeLow) + friction, r.Stroke: law.Force(r.Stroke), r.StrokeHigh: law.Force(r.StrokeHigh) - friction,
	} {
		near(t, "the force at "+s.String(), float64(force), float64(load)*curve.LeverRatio(s), 1e-9)
	}
}
