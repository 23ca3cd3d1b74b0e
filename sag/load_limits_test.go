package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// named tells of an error that does not name just these fields; none are none.
func named(t *testing.T, what string, err error, want ...string) {
	t.Helper()
	if diff := cmp.Diff(want, names(err)); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

// What a doc comment calls "more than" is refused at the very number, and taken
// next to it.
func TestLoadsAtTheirLimits(t *testing.T) {
	for _, test := range []struct {
		name string
		m    Masses
		want []string
	}{
		{"half a newton on each spring", Masses{RiderMass: 0.05, BikeMass: 0.05, RearShare: 0.5}, nil},
		{"masses below 1 kg", Masses{RiderMass: 0.5, BikeMass: 0.5, UnsprungFront: 0.1, UnsprungRear: 0.1, RearShare: 0.5}, nil},
		{"all of the front unsprung", Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: 50, RearShare: 0.5}, []string{"unsprung_front"}},
		{"all of the rear unsprung", Masses{RiderMass: 80, BikeMass: 20, UnsprungRear: 50, RearShare: 0.5}, []string{"unsprung_rear"}},
		{"scales that show the bike alone", Masses{BikeMass: 20, FrontScale: 8, RearScale: 12}, []string{"bike_mass"}},
		{"scales with a breath of a rider", Masses{BikeMass: 20, FrontScale: 8, RearScale: 12.0001}, nil},
		{"a rear scale that rounds to no share", Masses{BikeMass: 20, FrontScale: 100, RearScale: 5e-324}, []string{"rear_scale"}},
		{"a front scale that rounds to no share", Masses{BikeMass: 20, FrontScale: 5e-324, RearScale: 100}, []string{"rear_scale"}},
		{"scales that read less than 1 kg", Masses{BikeMass: 0.1, FrontScale: 0.3, RearScale: 0.4}, nil},
		{"more than a float64 weighs", Masses{RiderMass: 1e308, BikeMass: 1, RearShare: 0.5}, []string{"unsprung_front", "unsprung_rear"}},
		{"a mass centre over the front axle", Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, MassCentreBehindFrontAxle: -0.01}, []string{"mass_centre_behind_front_axle"}},
		{"a mass centre over the rear axle", Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, MassCentreBehindFrontAxle: 1.2}, []string{"mass_centre_behind_front_axle"}},
		{"a short wheelbase", Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 0.5, MassCentreBehindFrontAxle: 0.3}, nil},
		{"a bike's share of all", Masses{RiderMass: 80, BikeMass: 20, RearShare: 0.5, BikeRearShare: 1}, []string{"bike_rear_share"}},
		{"a low mass centre", Masses{RiderMass: 80, BikeMass: 20, RearShare: 0.5, Wheelbase: 0.9, MassCentreHeight: 0.5}, nil},
	} {
		_, err := NewLoads(test.m)
		named(t, test.name, err, test.want...)
	}
}

// The bike alone does not hide what is wrong with the rider's share.
func TestBikeLoadsTellWhatIsWrongBesides(t *testing.T) {
	for _, test := range []struct {
		name string
		m    Masses
		want []string
	}{
		{"its own share alone", Masses{BikeMass: 20, BikeRearShare: 0.5}, nil},
		{"a rider's share of NaN", Masses{BikeMass: 20, BikeRearShare: 0.5, RearShare: math.NaN()}, []string{"rear_share"}},
		{"a mass centre without a wheelbase", Masses{BikeMass: 20, BikeRearShare: 0.5, MassCentreBehindFrontAxle: 0.7}, []string{"wheelbase"}},
		{"one scale", Masses{BikeMass: 20, BikeRearShare: 0.5, RearScale: 60}, []string{"front_scale"}},
		{"the other scale", Masses{BikeMass: 20, BikeRearShare: 0.5, FrontScale: 60}, []string{"rear_scale"}},
		{"no share at all", Masses{BikeMass: 20}, []string{"rear_share"}},
		{"heavier than scales show", Masses{BikeMass: 20, FrontScale: 4, RearScale: 6}, nil}, // the rider is of no account
	} {
		_, err := NewBikeLoads(test.m)
		named(t, test.name, err, test.want...)
	}
	// Scales give the share where the bike has none of its own: 6/10 of 20 kg.
	l, err := NewBikeLoads(Masses{BikeMass: 20, FrontScale: 4, RearScale: 6})
	require.NoError(t, err)
	near(t, "rear wheel", float64(l.RearWheel), 12*g0, 1e-14)
}

// A stated rider counts; what scales show beyond the bike's mass is the rider
// where none is stated.
func TestRider(t *testing.T) {
	for _, test := range []struct {
		m    Masses
		want units.Mass
	}{
		{Masses{}, 0}, {Masses{RiderMass: 0.5}, 0.5}, {Masses{BikeMass: 20}, 0},
		{Masses{BikeMass: 20, FrontScale: 40, RearScale: 60}, 80},
		{Masses{RiderMass: 75, BikeMass: 20, FrontScale: 40, RearScale: 60}, 75},
	} {
		if got := test.m.Rider(); got != test.want {
			t.Errorf("%+v: rider %v, want %v", test.m, got, test.want)
		}
	}
}
