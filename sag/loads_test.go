package sag_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// A share q of the weight is on the rear wheel, the rest on the front, and the springs
// carry what is not unsprung.
func TestLoadsFromAShare(t *testing.T) {
	// By hand: 80 kg + 20 kg weigh 980.665 N; 60 % of it is 588.399 N.
	m := sag.Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6}
	l, err := m.Loads()
	require.NoError(t, err)
	near(t, "rear wheel", float64(l.RearWheel), 588.399, 1e-14)
	near(t, "front wheel", float64(l.FrontWheel), 392.266, 1e-14)
	near(t, "rear", float64(l.Rear), 588.399-29.41995, 1e-14)
	near(t, "front", float64(l.Front), 392.266-19.6133, 1e-14)

	// The same share from a mass centre: 720 mm behind the front axle of 1200.
	m.RearShare, m.Wheelbase, m.MassCentreBehindFrontAxle = 0, 1.2, 0.72
	same, err := m.Loads()
	require.NoError(t, err)
	near(t, "share from the mass centre", same.RearShare, 0.6, 1e-15)
	near(t, "rear from the mass centre", float64(same.Rear), float64(l.Rear), 1e-14)
}

// Each bad field is named, all of them at once.
func TestLoadsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := sag.Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6}
	for _, test := range []struct {
		name   string
		change func(*sag.Masses)
		want   []string
	}{
		{"nothing at all", func(m *sag.Masses) { *m = sag.Masses{} }, []string{"rider_mass", "bike_mass", "rear_share"}},
		{"NaN everywhere", func(m *sag.Masses) {
			*m = sag.Masses{RiderMass: units.Mass(nan), BikeMass: units.Mass(nan), UnsprungFront: new(units.Mass(nan)), UnsprungRear: new(units.Mass(nan)), RearShare: nan,
				Wheelbase: units.Length(nan), MassCentreHeight: units.Length(nan), BikeRearShare: nan}
		}, []string{"rider_mass", "bike_mass", "unsprung_front", "unsprung_rear", "rear_share", "wheelbase", "mass_centre_height", "bike_rear_share"}},
		{"NaN on the scales", func(m *sag.Masses) { m.RearShare, m.FrontScale, m.RearScale = 0, units.Mass(nan), units.Mass(inf) }, []string{"front_scale", "rear_scale"}},
		{"one scale", func(m *sag.Masses) { m.RearShare, m.RearScale = 0, 60 }, []string{"front_scale"}},
		{"scales of ants and whales", func(m *sag.Masses) { m.RearShare, m.FrontScale, m.RearScale = 0, 1e-300, 100 }, []string{"rear_scale"}},
		{"scales beside a share and a mass centre", func(m *sag.Masses) {
			m.FrontScale, m.RearScale, m.MassCentreBehindFrontAxle, m.Wheelbase = 40, 60, 0.7, 1.2
		},
			[]string{"rear_share", "mass_centre_behind_front_axle"}},
		{"scales that hold less than the bike", func(m *sag.Masses) { m.RearShare, m.FrontScale, m.RearScale = 0, 8, 11 }, []string{"bike_mass"}},
		{"a height without a wheelbase", func(m *sag.Masses) { m.MassCentreHeight = 1 }, []string{"wheelbase"}},
		{"below the ground", func(m *sag.Masses) { m.Wheelbase, m.MassCentreHeight = -1, -1 }, []string{"wheelbase", "mass_centre_height"}},
		{"infinite rider", func(m *sag.Masses) { m.RiderMass = units.Mass(inf) }, []string{"rider_mass"}},
		{"negative bike", func(m *sag.Masses) { m.BikeMass = -1 }, []string{"bike_mass"}},
		{"all on the rear", func(m *sag.Masses) { m.RearShare = 1 }, []string{"rear_share"}},
		{"two ways at once", func(m *sag.Masses) { m.Wheelbase, m.MassCentreBehindFrontAxle = 1.2, 0.7 }, []string{"rear_share"}},
		{"centre behind the bike", func(m *sag.Masses) { m.RearShare, m.Wheelbase, m.MassCentreBehindFrontAxle = 0, 1.2, 1.3 }, []string{"mass_centre_behind_front_axle"}},
		{"centre without a wheelbase", func(m *sag.Masses) { m.RearShare, m.MassCentreBehindFrontAxle = 0, 0.7 }, []string{"wheelbase"}},
		{"wheelbase without a centre", func(m *sag.Masses) { m.RearShare, m.Wheelbase = 0, 1.2 }, []string{"mass_centre_behind_front_axle"}},
		{"front all unsprung", func(m *sag.Masses) { m.UnsprungFront = new(units.Mass(41)) }, []string{"unsprung_front"}},
		{"both all unsprung", func(m *sag.Masses) { m.UnsprungFront, m.UnsprungRear = new(units.Mass(41)), new(units.Mass(61)) }, []string{"unsprung_front", "unsprung_rear"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			m := good
			test.change(&m)
			l, err := m.Loads()
			refused(t, "loads", l, err, test.want...)
		})
	}
	_, err := sag.Masses{}.Loads()
	if !errors.Is(err, units.ErrRange) || !errors.Is(err, units.ErrMissing) {
		t.Errorf("classes of %v", err)
	}
}

// Scales under the wheels show the loads, whatever the rider is said to weigh.
func TestLoadsFromScales(t *testing.T) {
	// By hand: 41 kg and 61 kg weigh 402.07265 N and 598.20565 N; 61/102 is on the rear.
	m := sag.Masses{BikeMass: 17, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), FrontScale: 41, RearScale: 61}
	l, err := m.Loads()
	require.NoError(t, err)
	near(t, "front wheel", float64(l.FrontWheel), 402.07265, 1e-14)
	near(t, "rear wheel", float64(l.RearWheel), 598.20565, 1e-14)
	near(t, "rear", float64(l.Rear), 598.20565-29.41995, 1e-14)
	near(t, "share", l.RearShare, 61.0/102, 1e-14)
	near(t, "rider", float64(m.Rider()), 85, 1e-14)
	// The scales are the loads, whatever the rider says.
	m.RiderMass = 80
	if again := made(m.Loads()); again != l || m.Rider() != 80 {
		t.Errorf("with a rider stated: %+v", again)
	}
	if m = (sag.Masses{BikeMass: 20}); m.Rider() != 0 {
		t.Errorf("without scales or a rider: %v", m.Rider())
	}
}

// The bike alone has a share of its own, or the one with the rider on.
func TestBikeLoadsWithoutARider(t *testing.T) {
	// By hand: 20 kg weigh 196.133 N; 45 % of it are 88.25985 N.
	m := sag.Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6, BikeRearShare: 0.45}
	l, err := m.BikeLoads()
	require.NoError(t, err)
	near(t, "rear wheel", float64(l.RearWheel), 88.25985, 1e-14)
	near(t, "front wheel", float64(l.FrontWheel), 107.87315, 1e-14)
	near(t, "rear", float64(l.Rear), 88.25985-29.41995, 1e-13)
	near(t, "front", float64(l.Front), 107.87315-19.6133, 1e-13)
	// The rider is ignored, and need not be given.
	alone, err := sag.Masses{BikeMass: 20, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), BikeRearShare: 0.45}.BikeLoads()
	if err != nil || alone != l {
		t.Errorf("without a rider: %+v, %v", alone, err)
	}
	// With no share of its own, the bike's is that with the rider on.
	m.BikeRearShare = 0
	if l, err = m.BikeLoads(); err != nil {
		t.Fatal(err)
	}
	near(t, "share", l.RearShare, 0.6, 1e-15)
}

// What a doc comment calls "more than" is refused at the very number, and taken
// next to it.
func TestLoadsAtTheirLimits(t *testing.T) {
	for _, test := range []struct {
		name string
		m    sag.Masses
		want []string
	}{
		{"half a newton on each spring", sag.Masses{RiderMass: 0.05, BikeMass: 0.05, RearShare: 0.5}, nil},
		{"masses below 1 kg", sag.Masses{RiderMass: 0.5, BikeMass: 0.5, UnsprungFront: new(units.Mass(0.1)), UnsprungRear: new(units.Mass(0.1)), RearShare: 0.5}, nil},
		{"all of the front unsprung", sag.Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: new(units.Mass(50)), RearShare: 0.5}, []string{"unsprung_front"}},
		{"all of the rear unsprung", sag.Masses{RiderMass: 80, BikeMass: 20, UnsprungRear: new(units.Mass(50)), RearShare: 0.5}, []string{"unsprung_rear"}},
		{"scales that show the bike alone", sag.Masses{BikeMass: 20, FrontScale: 8, RearScale: 12}, []string{"bike_mass"}},
		{"scales with a breath of a rider", sag.Masses{BikeMass: 20, FrontScale: 8, RearScale: 12.0001}, nil},
		{"a rear scale that rounds to no share", sag.Masses{BikeMass: 20, FrontScale: 100, RearScale: 5e-324}, []string{"rear_scale"}},
		{"a front scale that rounds to no share", sag.Masses{BikeMass: 20, FrontScale: 5e-324, RearScale: 100}, []string{"rear_scale"}},
		{"scales that read less than 1 kg", sag.Masses{BikeMass: 0.1, FrontScale: 0.3, RearScale: 0.4}, nil},
		{"more than a float64 weighs", sag.Masses{RiderMass: 1e308, BikeMass: 1, RearShare: 0.5}, []string{"unsprung_front", "unsprung_rear"}},
		{"a mass centre over the front axle", sag.Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, MassCentreBehindFrontAxle: -0.01}, []string{"mass_centre_behind_front_axle"}},
		{"a mass centre over the rear axle", sag.Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, MassCentreBehindFrontAxle: 1.2}, []string{"mass_centre_behind_front_axle"}},
		{"a short wheelbase", sag.Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 0.5, MassCentreBehindFrontAxle: 0.3}, nil},
		{"a bike's share of all", sag.Masses{RiderMass: 80, BikeMass: 20, RearShare: 0.5, BikeRearShare: 1}, []string{"bike_rear_share"}},
		{"a low mass centre", sag.Masses{RiderMass: 80, BikeMass: 20, RearShare: 0.5, Wheelbase: 0.9, MassCentreHeight: 0.5}, nil},
	} {
		_, err := test.m.Loads()
		named(t, test.name, err, test.want...)
	}
}

// The checks are those with a rider: the bike's own share does not hide what is wrong
// with the other.
func TestBikeLoadsRefuse(t *testing.T) {
	for _, test := range []struct {
		name string
		m    sag.Masses
		want []string
	}{
		{"its own share alone", sag.Masses{BikeMass: 20, BikeRearShare: 0.5}, nil},
		{"nothing", sag.Masses{}, []string{"bike_mass", "rear_share"}},
		{"a share above 1", sag.Masses{BikeMass: 20, BikeRearShare: 1.2}, []string{"bike_rear_share"}},
		{"a share above 1 beside a good one", sag.Masses{BikeMass: 20, RearShare: 0.5, BikeRearShare: 1.2}, []string{"bike_rear_share"}},
		{"all of the rear unsprung", sag.Masses{BikeMass: 20, UnsprungRear: new(units.Mass(11)), RearShare: 0.6, BikeRearShare: 0.5}, []string{"unsprung_rear"}},
		{"a rider's share of NaN", sag.Masses{BikeMass: 20, BikeRearShare: 0.5, RearShare: math.NaN()}, []string{"rear_share"}},
		{"a mass centre without a wheelbase", sag.Masses{BikeMass: 20, BikeRearShare: 0.5, MassCentreBehindFrontAxle: 0.7}, []string{"wheelbase"}},
		{"one scale", sag.Masses{BikeMass: 20, BikeRearShare: 0.5, RearScale: 60}, []string{"front_scale"}},
		{"the other scale", sag.Masses{BikeMass: 20, BikeRearShare: 0.5, FrontScale: 60}, []string{"rear_scale"}},
		{"no share at all", sag.Masses{BikeMass: 20}, []string{"rear_share"}},
		{"heavier than scales show", sag.Masses{BikeMass: 20, FrontScale: 4, RearScale: 6}, nil}, // the rider is ignored
	} {
		_, err := test.m.BikeLoads()
		named(t, test.name, err, test.want...)
	}
	// Scales give the share where the bike has none of its own: 6/10 of 20 kg.
	l, err := sag.Masses{BikeMass: 20, FrontScale: 4, RearScale: 6}.BikeLoads()
	require.NoError(t, err)
	near(t, "rear wheel", float64(l.RearWheel), 12*g0, 1e-14)
}

// Another share of the same weight takes the place of whichever way the share was given.
func TestWithRearShareMovesTheWeight(t *testing.T) {
	want := made(sag.Masses{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, RearShare: 0.7}.Loads())
	for _, m := range []sag.Masses{
		{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, RearShare: 0.5},
		{RiderMass: 80, BikeMass: 20, Wheelbase: 1.2, MassCentreBehindFrontAxle: 0.6},
		{BikeMass: 20, Wheelbase: 1.2, FrontScale: 45, RearScale: 55},
		{RiderMass: 75, BikeMass: 20, Wheelbase: 1.2, FrontScale: 45, RearScale: 55}, // the scales count
	} {
		if got := made(m.WithRearShare(0.7).Loads()); got != want {
			t.Errorf("%+v: %+v, want %+v", m, got, want)
		}
	}
}

// A bike without its rider is checked but for the rider, and takes no scales.
func TestCheckBikeIgnoresTheRider(t *testing.T) {
	for _, test := range []struct {
		name string
		m    sag.Masses
		want []string
	}{
		{"good", sag.Masses{RiderMass: -1, BikeMass: 20, RearShare: 0.5}, nil},
		{"nothing", sag.Masses{}, []string{"rear_share", "bike_mass"}},
		{"scales", sag.Masses{BikeMass: 20, FrontScale: 40, RearScale: 60}, []string{"front_scale"}},
		{"the rest", sag.Masses{BikeMass: 20, RearShare: 0.5, UnsprungRear: new(units.Mass(-1)), BikeRearShare: 2}, []string{"unsprung_rear", "bike_rear_share"}},
	} {
		var c units.Checker
		test.m.CheckBike(&c)
		named(t, test.name, c.Err(), test.want...)
	}
}

// Wheel loads add up to the weight, however the share is stated; the same share
// gives the same loads; more on the rear takes it off the front.
func TestLoadsAddUpToTheWeight(t *testing.T) {
	for i := range 1000 {
		r := lot{rand.New(rand.NewPCG(406, uint64(i)))}
		m := sag.Masses{RiderMass: units.Mass(r.between(40, 130)), BikeMass: units.Mass(r.between(8, 30)), UnsprungFront: new(units.Mass(r.between(0, 3))), UnsprungRear: new(units.Mass(r.between(0, 4)))}
		q, base := r.between(0.3, 0.8), r.between(1, 1.4)
		byShare, byCentre, byScales := m, m, m
		byShare.RearShare = q
		byCentre.Wheelbase, byCentre.MassCentreBehindFrontAxle = units.Length(base), units.Length(q*base)
		total := m.RiderMass + m.BikeMass
		byScales.FrontScale, byScales.RearScale = total*units.Mass(1-q), total*units.Mass(q)
		want := made(byShare.Loads())
		for _, one := range []sag.Masses{byShare, byCentre, byScales} {
			l := made(one.Loads())
			near(t, "both wheels", float64(l.FrontWheel+l.RearWheel), float64(total)*9.80665, 1e-14)
			near(t, "moment", float64(l.RearWheel)*base, float64(total)*9.80665*q*base, 1e-13)
			near(t, "front", float64(l.Front), float64(want.Front), 1e-13)
			near(t, "rear", float64(l.Rear), float64(want.Rear), 1e-13)
			near(t, "unsprung front", float64(l.FrontWheel-l.Front), float64(*m.UnsprungFront)*9.80665, 1e-11)
			near(t, "unsprung rear", float64(l.RearWheel-l.Rear), float64(*m.UnsprungRear)*9.80665, 1e-11)
		}
		byShare.RearShare = q + 0.01
		if back := made(byShare.Loads()); !(back.Rear > want.Rear && back.Front < want.Front) {
			t.Errorf("more on the rear: %+v after %+v", back, want)
		}
		if t.Failed() {
			t.Fatalf("seed 406, %d: %+v, share %v", i, m, q)
		}
	}
}

func FuzzLoads(f *testing.F) {
	f.Add(80.0, 20.0, 2.0, 3.0, 0.6, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(80.0, 20.0, 2.0, 3.0, 0.0, 1.2, 0.7, 0.0, 0.0, 0.48)
	f.Add(0.0, 20.0, 2.0, 3.0, 0.0, 0.0, 0.0, 41.0, 60.0, 0.0)
	f.Add(1e308, 1e308, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, rider, bike, uf, ur, q, base, behind, front, rear, alone float64) {
		m := sag.Masses{RiderMass: units.Mass(rider), BikeMass: units.Mass(bike), UnsprungFront: new(units.Mass(uf)), UnsprungRear: new(units.Mass(ur)),
			RearShare: q, Wheelbase: units.Length(base), MassCentreBehindFrontAxle: units.Length(behind),
			FrontScale: units.Mass(front), RearScale: units.Mass(rear), BikeRearShare: alone}
		for _, loads := range []func(sag.Masses) (sag.Loads, error){sag.Masses.Loads, sag.Masses.BikeLoads} {
			l, err := loads(m)
			if !answered(t, "loads", l, err) {
				continue
			}
			if !(l.Front > 0 && l.Rear > 0 && l.RearShare > 0 && l.RearShare < 1) {
				t.Fatalf("accepted, yet %+v", l)
			}
		}
	})
}

// However the share is stated, the sprung load is that of the loads, and less than 0 where those refuse.
func TestSprungLoadIsThatOfTheLoads(t *testing.T) {
	shared := sag.Masses{RiderMass: 80, BikeMass: 17, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.62}
	centred, scaled := shared, shared
	centred.RearShare, centred.Wheelbase, centred.MassCentreBehindFrontAxle = 0, 1.25, 0.7
	scaled.RearShare, scaled.FrontScale, scaled.RearScale = 0, 41, 58
	for _, m := range []sag.Masses{shared, centred, scaled} {
		l, err := m.Loads()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "front", float64(m.SprungLoad(sag.Front, m.Total())), float64(l.Front), 1e-13)
		near(t, "rear", float64(m.SprungLoad(sag.Rear, m.Total())), float64(l.Rear), 1e-13)
	}
	shared.UnsprungFront = new(units.Mass(40)) // by hand: 0.38·97 − 40 = −3.14 kg
	near(t, "more than the wheel carries", float64(shared.SprungLoad(sag.Front, 97)), -3.14*units.StandardGravity, 1e-13)
}
