package certainty_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// gaugeText is a fork without a negative chamber of which two readings are known, with the rest of the
// second reading and of the job to fill in.
const gaugeText = `{"schema": "wheelrate/job/1", "ambient": "101.325 kPa(a)",
  "masses": {"rider_mass": "%.12g kg", "bike_mass": "%.12g kg", "rear_share": 0.6, "unsprung_front": "2 kg"},
  "front": {"curve": {"fork": {"head_angle": "64 deg", "travel": "160 mm"}}, "sag": 0.2,
    "gauge": {"negative_chamber": "%s", "outside_diameter": "%s", "max_fill": "10 bar", "ring_error": "0.5 mm", "exponent": 1.3,
      "readings": [{"fill": "2.9 bar", "stroke": "46 mm"}, {"fill": "3.5 bar", "stroke": "24 mm"%s}%s]}}}`

func gauged(t testing.TB, rider, bike float64, said, diameter, second, more string) *setup.Sheet {
	t.Helper()
	return sagtest.Sheet(t, sagtest.Job(t, fmt.Sprintf(gaugeText, rider, bike, said, diameter, second, more)))
}

func propagated(t testing.TB, s *setup.Sheet, u certainty.Uncertainty) *certainty.EndBudget {
	t.Helper()
	b, err := certainty.Propagate(s.Setup(), u)
	require.NoError(t, err)
	return b.Front
}

// By one rider the gauge against the ring is a straight line, whatever the weight: the error of the
// fill is that of the line by both rings, and the error of the weight does nothing to it.
func TestGaugeErrorsOfOneRider(t *testing.T) {
	s := gauged(t, 78, 16, "none", "0 mm", "", "")
	e := propagated(t, s, certainty.Uncertainty{RiderMass: 2, BikeMass: 1})
	slope, to := (3.5-2.9)*1e5/(46-24), (46-32.0)/(46-24)
	sagtest.Near(t, "fill", float64(e.FillWanted.Value), 2.9e5+slope*14, 1e-9)
	sagtest.Near(t, "error of the fill", float64(e.FillWanted.Uncertainty), 0.5*slope*math.Hypot(to, 1-to), 1e-6)
	require.Equal(t, "front.gauge.readings", e.FillWanted.Dominant)
	require.Len(t, e.FillWanted.Contributions, 1)
	// With the fill set, both errors move the ring. The weight moves it by the rate of the spring.
	sagtest.Near(t, "error of the load", float64(e.Load.Uncertainty), 0.4*math.Hypot(2, 1)*units.StandardGravity, 1e-6)
	require.NotNil(t, e.FullForce)
	require.NotNil(t, e.FastFrequency)
	for _, c := range e.Stroke.Contributions {
		if c.Input == "front.gauge.readings" {
			per := e.FillWanted.Uncertainty.Pascals() / slope // mm along the line
			sagtest.Near(t, "the ring by the readings", c.Effect.Millimetres(), per, 1e-3)
		}
	}
}

// An error of a mass moves the fill as a job with the other mass does, the loads of all readings
// included.
func TestGaugeErrorsOfTwoRiders(t *testing.T) {
	const heavier = `, "rider_mass": "85 kg"`
	fill := func(rider, bike float64) float64 {
		return gauged(t, rider, bike, "none", "0 mm", heavier, "").Front.Gauge.FillWanted.Pascals()
	}
	e := propagated(t, gauged(t, 78, 16, "none", "0 mm", heavier, ""), certainty.Uncertainty{RiderMass: 2, BikeMass: 1})
	want := map[string]float64{"rider_mass": (fill(78.01, 16) - fill(77.99, 16)) / 0.01, "bike_mass": (fill(78, 16.01) - fill(78, 15.99)) / 0.02}
	for _, c := range e.FillWanted.Contributions {
		if slope, ok := want[c.Input]; ok {
			sagtest.Near(t, c.Input, c.Effect.Pascals(), slope, 1e-4)
			delete(want, c.Input)
		}
	}
	require.Empty(t, want)
}

// What the readings don't tell has no answer, and the rest of the bike keeps its own.
func TestGaugeErrorsOfWhatIsKnown(t *testing.T) {
	step := propagated(t, gauged(t, 78, 16, "self_filling", "10 mm", "", ""), certainty.Uncertainty{RiderMass: 2, Front: certainty.EndUncertainty{Fill: 3e3}})
	require.NotNil(t, step.Load)
	for _, none := range []bool{step.FillWanted == nil, step.Stroke == nil, step.FullForce == nil, step.WheelRate == nil, step.Energy == nil} {
		require.True(t, none)
	}
	// Four readings of a spring with a negative chamber: the fill and the rest standing still, not the
	// fast stroke.
	more := `, {"fill": "4.1 bar", "stroke": "12.5 mm"}, {"fill": "2.6 bar", "stroke": "62 mm"}`
	s := gauged(t, 78, 16, "self_filling", "10 mm", "", more)
	require.Nil(t, s.Front.State)
	e := propagated(t, s, certainty.Uncertainty{RiderMass: 2, Front: certainty.EndUncertainty{Fill: 3e3, Reading: 5e-4, Bore: 1e-4}})
	sagtest.Near(t, "error of the fill", float64(e.FillWanted.Uncertainty), s.Front.Gauge.StandardError.Pascals(), 1e-2)
	for _, have := range []any{e.Stroke, e.WheelRate, e.TravelLeft} {
		require.NotNil(t, have)
	}
	if e.FullForce != nil || e.FastFrequency != nil || e.EnergyLeft != nil || e.DropHeight != nil {
		t.Errorf("more than the readings tell: %+v", e)
	}
	out, err := certainty.Simulate(s.Setup(), certainty.Uncertainty{RiderMass: 2, Front: certainty.EndUncertainty{Fill: 3e3}}, 200, 1)
	require.NoError(t, err)
	sagtest.Near(t, "simulated", out.Front.FillWanted.Uncertainty.Pascals(), float64(e.FillWanted.Uncertainty), 0.2)
	_, err = certainty.Simulate(s.Setup(), certainty.Uncertainty{}, 5000, 1)
	require.True(t, err != nil && strings.Contains(err.Error(), "draws"), "%v", err)
}
