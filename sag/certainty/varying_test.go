package certainty_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	lawspec "example.com/wheelrate/sag/law"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units/unitstest"
)

// asLaws gives the springs of a shelf as laws from their free length, every second one as JSON can say it.
func asLaws(t *testing.T, j setup.Job) setup.Job {
	t.Helper()
	rear, coil := *j.Rear, *j.Rear.Coil
	coil.Springs = nil
	for _, one := range j.Rear.Coil.Springs {
		law, err := spring.NewLinear(spring.Linear{Rate: one.Rate, Travel: one.SolidTravel})
		require.NoError(t, err)
		if as := (fit.ShelfSpring{Law: law}); len(coil.Springs)%2 == 0 {
			coil.Springs = append(coil.Springs, as)
			continue
		}
		spec := &lawspec.Spec{Linear: &spring.Linear{Rate: one.Rate, Travel: 2 * one.SolidTravel}} // solid before its end
		coil.Springs = append(coil.Springs, fit.ShelfSpring{Spec: spec, SolidTravel: one.SolidTravel})
	}
	rear.Coil = &coil
	j.Rear = &rear
	return j
}

// Springs of constant rate that are given as laws are as sure as those given by their rates, rivals
// and shares included.
func TestLawIsAsSureAsItsRate(t *testing.T) {
	u := certainty.Uncertainty{RiderMass: 2.5, RearShare: 0.005, Rear: certainty.EndUncertainty{SpringRate: 0.02, Preload: 3e-4, Friction: 10, LeverRatio: 0.002}}
	j := shelfJob(60e3, 68e3, 76e3)
	want, got := propagate(t, j, u).Rear, propagate(t, asLaws(t, j), u).Rear
	if diff := cmp.Diff(want, got, unitstest.Approx(1e-6)); diff != "" {
		t.Errorf("(-rates +laws):\n%s", diff)
	}
	require.Len(t, got.Rivals, 2)
	drawn, again := simulate(t, j, u, 200, 3).Rear, simulate(t, asLaws(t, j), u, 200, 3).Rear
	if diff := cmp.Diff(drawn, again, unitstest.Approx(1e-6)); diff != "" {
		t.Errorf("(-rates +laws):\n%s", diff)
	}
}

// A spring of two rates in a row is soft up to where one part is solid. By hand: 90 N/mm and 180 N/mm in
// a row are 60 N/mm until the soft one is solid at 10 mm, 15 mm in all, and 180 N/mm then; an error u of
// its force moves the force at a rest of 180 N/mm, F, by u·F, and so the stroke by −u·F/180 N/mm.
func TestForceOfADualRateSpringIsUncertain(t *testing.T) {
	const u = 0.02
	soft, err := spring.NewLinear(spring.Linear{Rate: 90e3, Travel: 0.010})
	require.NoError(t, err)
	hard, err := spring.NewLinear(spring.Linear{Rate: 180e3, Travel: 0.060})
	require.NoError(t, err)
	row, err := spring.NewSeries(soft, hard)
	require.NoError(t, err)
	j := handJob()
	j.Rear.Coil.Springs = []fit.ShelfSpring{{Law: row}}
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 1e-3, 1e-3
	s := sheet(t, j)
	near(t, "stroke", float64(s.Rear.Rest.Stroke), 0.015+(handForce-900)/180e3-1e-3, 1e-9)
	b := propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: u}}).Rear
	near(t, "effect on the stroke", effectOf(t, b.Stroke), -u*handForce/180e3, 1e-6)
	near(t, "effect on the wheel rate", effectOf(t, b.WheelRate), u*180e3/(tRatio*tRatio), 1e-6)
	near(t, "preload wanted", float64(b.PreloadWanted.Value), 0.015+(handForce-900)/180e3-tSag*tStroke, 1e-9)
	near(t, "effect on it", effectOf(t, b.PreloadWanted), -u*handForce/180e3, 1e-6)
	b = propagate(t, j, certainty.Uncertainty{Rear: certainty.EndUncertainty{Preload: 2e-4}}).Rear
	near(t, "effect of the preload", effectOf(t, b.Stroke), -2e-4, 1e-6)
	near(t, "energy is that from the preload on", float64(b.Energy.Value), float64(s.Rear.Reserve.Energy), 1e-9)
}
