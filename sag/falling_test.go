package sag_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// falling is a curve whose ratio goes from 2 to 3 over 10 mm of stroke. A spring
// of rate k with 30 mm of preload has 25 mm·k at the wheel before that and
// 20 mm·k after it, so that the wheel force falls in between.
func falling(t *testing.T) *linkage.Curve {
	t.Helper()
	table := linkage.Table{Method: linkage.Monotone}
	for i, w := range []units.Length{0, 20, 40, 65, 95, 125, 155} {
		table.Stroke = append(table.Stroke, units.Length(10*i)*units.Millimetre)
		table.Travel = append(table.Travel, w*units.Millimetre)
	}
	return made(linkage.NewTable(table))
}

// However the wheel force falls, the rest carries the load and lies within its band.
func TestBandHoldsTheRestWhereForceFalls(t *testing.T) {
	curve, law := falling(t), linear(t, 60e3, 0.06, 0.03)
	wheel, err := linkage.AtWheel(curve, law)
	require.NoError(t, err)
	if least, _ := wheel.MinRate(); !(least < 0) {
		t.Fatalf("the wheel force does not fall: its least rate is %v", least)
	}
	for load := units.Force(905); load <= 1795; load++ {
		for _, friction := range []units.Force{1, 30, 100, 200, 300, 500, 700} {
			r, err := settle(curve, law, load, friction)
			require.NoError(t, err)
			if !(r.TravelLow <= r.Travel && r.Travel <= r.TravelHigh && r.StrokeLow <= r.Stroke && r.Stroke <= r.StrokeHigh) {
				t.Errorf("%v with %v of friction: %v is not within %v to %v", load, friction, r.Travel, r.TravelLow, r.TravelHigh)
			}
			near(t, "the force at "+r.Travel.String(), float64(wheel.Force(r.Travel)), float64(load), 1e-9)
		}
	}
}

// A rough table makes the wheel force fall in several places. The ends of the
// band are where the spring with its friction carries the load, F_s ± f = load·LR,
// and lie on their own sides of the rest, though the same holds elsewhere too.
func TestBandOnARoughTable(t *testing.T) {
	table := linkage.Table{}
	for _, s := range []units.Length{0, 15, 27, 41, 45, 50, 51, 55, 62, 66} {
		table.Stroke = append(table.Stroke, s*units.Millimetre)
	}
	for _, w := range []units.Length{0, 57, 91, 148, 190, 249, 285, 349, 367, 428} {
		table.Travel = append(table.Travel, w*units.Millimetre)
	}
	curve, err := linkage.NewTable(table)
	require.NoError(t, err)
	law := linear(t, 60e3, curve.Stroke(), 1e-3)
	const load, friction = 164.5 * units.Newton, 62.8 * units.Newton
	r, err := settle(curve, law, load, friction)
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

// A load below the wheel force at full extension tops the end out, also if the force
// falls so far that it is above the force at full travel: 60 N/mm with 600 mm of
// preload have 18 000 N at the wheel behind a ratio of 2, and 13 200 N behind one of 3
// after 60 mm.
func TestLoadToppedOutWhereForceFalls(t *testing.T) {
	curve, law := falling(t), linear(t, 60e3, 0.06, 0.6)
	r, err := settle(curve, law, 15000, 100)
	refused(t, "settled", r, nil)
	if !errors.Is(err, spring.ErrToppedOut) {
		t.Errorf("%+v, %v", r, err)
	}
	r, finding, err := settleWithin(curve, law, 15000, 100)
	require.NoError(t, err)
	if finding != sag.HeldAtTop || r.Travel != 0 || r.TravelHigh != 0 {
		t.Errorf("%q at %+v", finding, r)
	}
	// The very forces at the ends are carried there.
	wheel := made(linkage.AtWheel(curve, law))
	for _, w := range []units.Length{0, wheel.Travel()} {
		if r, err := settle(curve, law, wheel.Force(w), 0); err != nil || r.Travel != w {
			t.Errorf("%v rests at %v, want %v: %v", wheel.Force(w), r.Travel, w, err)
		}
	}
}
