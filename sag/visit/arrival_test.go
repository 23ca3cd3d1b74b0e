package visit_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// fork is a record of airEnd in front, left at 20 °C at sea level.
func fork() visit.Record {
	r := handRecord()
	r.Front = &visit.EndRecord{Setting: airEnd()}
	r.Situation.Conditions = at(20, 0)
	return r
}

// By hand: 500 + 101.325 kPa at 20 °C are 601.325·268.15/293.15 kPa at −5 °C. A fill that is read there
// counts as what is in the spring, and the rest is lost; the spring then is the one of that fill.
func TestFillThatWasReadCounts(t *testing.T) {
	r := fork()
	cold := r.Situation
	cold.Conditions = at(-5, 0)
	left := 601.325e3*268.15/293.15 - 101.325e3
	for _, fill := range []units.GaugePressure{0, 400e3, units.GaugePressure(left) + 1e3} {
		a, err := r.Arrive(sag.Front, cold, fill)
		require.NoError(t, err)
		want, change := float64(fill), float64(fill)-left
		if fill == 0 {
			want, change = left, 0
		}
		near(t, "fill", float64(a.Now.Fill), want, 1e-9)
		near(t, "change", float64(a.FillChange), change, 1e-6)
		near(t, "as it was left", float64(a.Left.Fill), 500e3, 0)
		spec := airEnd().Air.Spec
		spec.Fill, spec.Travel, spec.Exponent = units.GaugePressure(want), a.End().Curve.Stroke(), 1
		end, err := sag.AirEnd(a.End().Curve, spec)
		require.NoError(t, err)
		rest, err := end.Settle(a.Now.Load)
		require.NoError(t, err)
		near(t, "rest", float64(a.Now.Rest.Stroke), float64(rest.Stroke), 1e-9)
		near(t, "in the setting", float64(a.Setting().Air.Fill), want, 1e-9)
		set, err := a.Correction(sag.Target{Load: a.Now.Load, Sag: 0.2})
		require.NoError(t, err)
		near(t, "to be set", float64(set.Air.FillChange), float64(set.Air.Fill)-want, 1e-6)
	}
	for fill, of := range map[units.GaugePressure]sag.Axle{1e5: sag.Rear, units.GaugePressure(math.NaN()): sag.Front, 1.001e8: sag.Front, -2e5: sag.Front} {
		named(t, fill.String(), second(r.Arrive(of, cold, fill)), "fill")
	}
	// Above the marking it is taken as it was read, and a finding.
	a, err := r.Arrive(sag.Front, cold, 3.1e6)
	require.NoError(t, err)
	require.True(t, fit.Has(a.Now.Findings, visit.OverMarking))
	rep, err := a.Report(a.Now.Load, []visit.Reading{{Stroke: 5 * milli, Error: milli}})
	require.NoError(t, err)
	near(t, "compared with the load of today", float64(rep.Predicted), float64(a.Now.Load), 0)
}

// What the record left to the curve and to the altitude stays left to them; all else is that of the
// record, whose setting arrives the same a second time.
func TestSettingOfAnArrivalKeepsItsStatements(t *testing.T) {
	for _, stated := range []units.AbsolutePressure{0, 98e3} {
		r := fork()
		r.Front.Air.Ambient, r.Front.Air.Exponent = stated, 1.3
		arrived := arrive(t, r, sag.Front)
		if diff := cmp.Diff(r.Front.Setting, arrived.Setting()); diff != "" {
			t.Errorf("ambient %v (-left +arrived):\n%s", stated, diff)
		}
		there := r.Situation
		there.Conditions = at(20, 2000)
		a, err := r.Arrive(sag.Front, there, 0)
		require.NoError(t, err)
		r.Situation, r.Front.Setting = there, a.Setting()
		near(t, "again", float64(arrive(t, r, sag.Front).Now.Rest.Stroke), float64(a.Now.Rest.Stroke), 1e-9)
		if (r.Front.Air.Ambient == 0) != (stated == 0) || r.Front.Air.Travel != 0 {
			t.Errorf("%+v", r.Front.Air)
		}
	}
	r := fork()
	r.Front.Air.Travel = 0.17
	near(t, "a travel that was stated", float64(arrive(t, r, sag.Front).Setting().Air.Travel), 0.17, 0)
	if diff := cmp.Diff(coilEnd(), arrive(t, r, sag.Rear).Setting()); diff != "" {
		t.Errorf("a coil (-left +arrived):\n%s", diff)
	}
}

// By hand: 640·2.5/80 N/mm less 2 mm.
func TestArrivalUnderAnotherLoad(t *testing.T) {
	a := arrive(t, handRecord(), sag.Rear)
	o, err := a.Outcome(640)
	require.NoError(t, err)
	near(t, "stroke", float64(o.Rest.Stroke), 18*milli, 1e-9)
	named(t, "no load", second(a.Outcome(0)), "load")
	named(t, "no load on a ride", second(a.Ride(0, visit.Ride{Stroke: 1, Error: milli})), "load", "stroke")

	b := visit.Bracket{Load: 640, RingError: 0.5 * milli, Tried: []visit.Tried{{Sag: 0.28, Felt: visit.FeltTooSoft}}}
	got, err := a.Plan(b)
	require.NoError(t, err)
	want, err := bracket{coilEnd(), b.Load, b.RingError, b.SagError, b.Tried}.Plan()
	require.NoError(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("plan (-bracket +arrival):\n%s", diff)
	}
	b.Load, b.RingError = 0, 0.015
	named(t, "no ring", second(a.Plan(b)), "load", "ring_error")
}

// A ride whose error just reaches the full stroke may have used all of it.
func TestRideThatReachesTheStopUsedAll(t *testing.T) {
	r := rides(coilEnd())
	full := arrive(t, r, sag.Rear).End().Curve.Stroke()
	off := units.Length(math.Ldexp(1, -13)) // sums with it are exact
	for stroke, want := range map[units.Length]visit.RideVerdict{full - off: visit.AllUsed, full - 2*off: visit.WellUsed} {
		a, err := ride(r, sag.Rear, visit.Ride{Stroke: stroke, Error: off})
		require.NoError(t, err)
		require.Equal(t, want, a.Verdict)
	}
}

// Without conditions on both sides the gas stays as it was left.
func TestUnknownWeatherLeavesTheGas(t *testing.T) {
	r := fork()
	for _, where := range [][2]*airspring.Conditions{{nil, at(-5, 2000)}, {at(-5, 2000), nil}, {nil, nil}} {
		r.Situation.Conditions = where[0]
		there := r.Situation
		there.Conditions = where[1]
		a, err := r.Arrive(sag.Front, there, 0)
		require.NoError(t, err)
		if a.Now.Fill != a.Left.Fill || a.Now.Ambient != a.Left.Ambient {
			t.Errorf("%+v, left %+v", a.Now, a.Left)
		}
	}
}
