package setup_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Each rider on the sheet has what a sheet of that rider recommends.
func TestRidersAreThoseOfTheirSheets(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	var masses []units.Mass
	for _, one := range s.Riders {
		masses = append(masses, one.RiderMass)
		j.Masses.RiderMass = one.RiderMass
		alone := sheet(t, j)
		want := setup.RiderSheet{
			RiderMass: one.RiderMass, Own: one.RiderMass == 82, Front: &setup.RiderEnd{Fill: alone.Front.Fill()},
			Rear: &setup.RiderEnd{IdealRate: alone.Rear.Coil.IdealRate, Spring: alone.Rear.Spring()},
		}
		if diff := cmp.Diff(want, one); diff != "" {
			t.Errorf("%v (-want +got):\n%s", one.RiderMass, diff)
		}
	}
	require.Equal(t, []units.Mass{67, 72, 77, 82, 87, 92, 97}, masses)
}

// A job may list its riders. One who leaves a spring nothing to carry is left out, and named if the job
// lists that rider; the others have their set-ups.
func TestRidersOfTheJob(t *testing.T) {
	j := plainJob(t)
	j.Riders = []units.Mass{95, 60}
	s := sheet(t, j)
	require.Len(t, s.Riders, 2)
	require.Equal(t, units.Mass(60), s.Riders[1].RiderMass)
	j.Riders = []units.Mass{80, -1, 0}
	_, err := setup.NewSheet(j)
	refused(t, "no masses", err, "riders[1]", "riders[2]")
	j.Riders = make([]units.Mass, 101)
	_, err = setup.NewSheet(j)
	refused(t, "too many", err, "riders")
	j = plainJob(t)
	*j.Masses.UnsprungFront = 9 // of 40 % of rider and bike
	j.Riders = []units.Mass{80, 2}
	s = sheet(t, j)
	require.Len(t, s.Riders, 1)
	require.Equal(t, units.Mass(80), s.Riders[0].RiderMass)
	require.Contains(t, omission(t, s, "riders", "riders").Text, "2.0 kg")
	j.Riders, j.Masses.RiderMass = nil, 12
	s = sheet(t, j)
	require.Len(t, s.Riders, 5) // of 2, 7, 12, 17, 22 and 27 kg all but the first
	require.True(t, s.Riders[1].Own)
	require.False(t, slices.ContainsFunc(s.LeftOut, func(o setup.Omission) bool { return o.Code == "riders" }))
}

// Scales weigh one rider; for the others the share of the weight is kept.
func TestRidersOfAJobWithScales(t *testing.T) {
	j := plainJob(t)
	want := sheet(t, j).Riders
	j.Masses.RiderMass, j.Masses.RearShare, j.Masses.FrontScale, j.Masses.RearScale = 0, 0, 40, 60
	got := sheet(t, j).Riders
	require.Len(t, got, len(want))
	for i := range got {
		near(t, fmt.Sprint("mass ", i), float64(got[i].RiderMass), float64(want[i].RiderMass), 1e-12)
		near(t, fmt.Sprint("rate ", i), float64(got[i].Rear.IdealRate), float64(want[i].Rear.IdealRate), 1e-12)
		require.Equal(t, want[i].Own, got[i].Own)
	}
}

// One end is enough for riders too.
func TestRidersOfOneEnd(t *testing.T) {
	j := plainJob(t)
	j.Rear = nil
	for _, one := range sheet(t, j).Riders {
		if one.Front == nil || one.Rear != nil {
			t.Errorf("%+v", one)
		}
	}
}
