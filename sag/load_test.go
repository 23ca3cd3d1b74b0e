package sag

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

// names lists the fields an error names, in order.
func names(err error) []string {
	var list []string
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g within %g relative", what, got, want, rel)
	}
}

func TestNewLoads(t *testing.T) {
	// By hand: 80 kg + 20 kg weigh 980.665 N; 60 % of it is 588.399 N.
	m := Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: 2, UnsprungRear: 3, RearShare: 0.6}
	l, err := NewLoads(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rear wheel", float64(l.RearWheel), 588.399, 1e-14)
	near(t, "front wheel", float64(l.FrontWheel), 392.266, 1e-14)
	near(t, "rear", float64(l.Rear), 588.399-29.41995, 1e-14)
	near(t, "front", float64(l.Front), 392.266-19.6133, 1e-14)

	// The same share from a mass centre: 720 mm behind the front axle of 1200.
	m.RearShare, m.Wheelbase, m.MassCentreBehindFrontAxle = 0, 1.2, 0.72
	same, err := NewLoads(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share from the mass centre", same.RearShare, 0.6, 1e-15)
	near(t, "rear from the mass centre", float64(same.Rear), float64(l.Rear), 1e-14)

	// Both wheels together carry the whole weight, whatever the share.
	for q := 0.05; q < 1; q += 0.05 {
		l, err := NewLoads(Masses{RiderMass: 70, BikeMass: 15, RearShare: q})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "sum", float64(l.FrontWheel+l.RearWheel), 85*9.80665, 1e-14)
	}
}

func TestNewLoadsRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: 2, UnsprungRear: 3, RearShare: 0.6}
	for _, test := range []struct {
		name   string
		change func(*Masses)
		want   []string
	}{
		{"nothing at all", func(m *Masses) { *m = Masses{} }, []string{"rider_mass", "bike_mass", "rear_share"}},
		{"NaN everywhere", func(m *Masses) {
			*m = Masses{RiderMass: units.Mass(nan), BikeMass: units.Mass(nan), UnsprungFront: units.Mass(nan), UnsprungRear: units.Mass(nan), RearShare: nan,
				Wheelbase: units.Length(nan), MassCentreHeight: units.Length(nan), BikeRearShare: nan}
		}, []string{"rider_mass", "bike_mass", "unsprung_front", "unsprung_rear", "rear_share", "wheelbase", "mass_centre_height", "bike_rear_share"}},
		{"NaN on the scales", func(m *Masses) { m.RearShare, m.FrontScale, m.RearScale = 0, units.Mass(nan), units.Mass(inf) }, []string{"front_scale", "rear_scale"}},
		{"one scale", func(m *Masses) { m.RearShare, m.RearScale = 0, 60 }, []string{"front_scale"}},
		{"scales of ants and whales", func(m *Masses) { m.RearShare, m.FrontScale, m.RearScale = 0, 1e-300, 100 }, []string{"rear_scale"}},
		{"scales beside a share and a mass centre", func(m *Masses) {
			m.FrontScale, m.RearScale, m.MassCentreBehindFrontAxle, m.Wheelbase = 40, 60, 0.7, 1.2
		},
			[]string{"rear_share", "mass_centre_behind_front_axle"}},
		{"scales that hold less than the bike", func(m *Masses) { m.RearShare, m.FrontScale, m.RearScale = 0, 8, 11 }, []string{"bike_mass"}},
		{"a height without a wheelbase", func(m *Masses) { m.MassCentreHeight = 1 }, []string{"wheelbase"}},
		{"below the ground", func(m *Masses) { m.Wheelbase, m.MassCentreHeight = -1, -1 }, []string{"wheelbase", "mass_centre_height"}},
		{"infinite rider", func(m *Masses) { m.RiderMass = units.Mass(inf) }, []string{"rider_mass"}},
		{"negative bike", func(m *Masses) { m.BikeMass = -1 }, []string{"bike_mass"}},
		{"all on the rear", func(m *Masses) { m.RearShare = 1 }, []string{"rear_share"}},
		{"two ways at once", func(m *Masses) { m.Wheelbase, m.MassCentreBehindFrontAxle = 1.2, 0.7 }, []string{"rear_share"}},
		{"centre behind the bike", func(m *Masses) { m.RearShare, m.Wheelbase, m.MassCentreBehindFrontAxle = 0, 1.2, 1.3 }, []string{"mass_centre_behind_front_axle"}},
		{"centre without a wheelbase", func(m *Masses) { m.RearShare, m.MassCentreBehindFrontAxle = 0, 0.7 }, []string{"wheelbase"}},
		{"wheelbase without a centre", func(m *Masses) { m.RearShare, m.Wheelbase = 0, 1.2 }, []string{"mass_centre_behind_front_axle"}},
		{"front all unsprung", func(m *Masses) { m.UnsprungFront = 41 }, []string{"unsprung_front"}},
		{"both all unsprung", func(m *Masses) { m.UnsprungFront, m.UnsprungRear = 41, 61 }, []string{"unsprung_front", "unsprung_rear"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			m := good
			test.change(&m)
			l, err := NewLoads(m)
			if diff := cmp.Diff(test.want, names(err)); diff != "" {
				t.Errorf("fields named (-want +got):\n%s", diff)
			}
			if l != (Loads{}) {
				t.Errorf("refused, yet loads %+v", l)
			}
		})
	}
	_, err := NewLoads(Masses{})
	if !errors.Is(err, units.ErrRange) || !errors.Is(err, units.ErrMissing) {
		t.Errorf("classes of %v", err)
	}
}

func TestNewLoadsFromScales(t *testing.T) {
	// By hand: 41 kg and 61 kg weigh 402.07265 N and 598.20565 N; 61/102 is on the rear.
	m := Masses{BikeMass: 17, UnsprungFront: 2, UnsprungRear: 3, FrontScale: 41, RearScale: 61}
	l, err := NewLoads(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "front wheel", float64(l.FrontWheel), 402.07265, 1e-14)
	near(t, "rear wheel", float64(l.RearWheel), 598.20565, 1e-14)
	near(t, "rear", float64(l.Rear), 598.20565-29.41995, 1e-14)
	near(t, "share", l.RearShare, 61.0/102, 1e-14)
	near(t, "rider", float64(m.Rider()), 85, 1e-14)
	// The scales are the loads, whatever the rider says.
	m.RiderMass = 80
	if again, err := NewLoads(m); err != nil || again != l || m.Rider() != 80 {
		t.Errorf("with a rider stated: %+v, %v", again, err)
	}
}

func TestNewBikeLoads(t *testing.T) {
	// By hand: 20 kg weigh 196.133 N; 45 % of it are 88.25985 N.
	m := Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: 2, UnsprungRear: 3, RearShare: 0.6, BikeRearShare: 0.45}
	l, err := NewBikeLoads(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rear wheel", float64(l.RearWheel), 88.25985, 1e-14)
	near(t, "front wheel", float64(l.FrontWheel), 107.87315, 1e-14)
	near(t, "rear", float64(l.Rear), 88.25985-29.41995, 1e-13)
	near(t, "front", float64(l.Front), 107.87315-19.6133, 1e-13)
	// The rider is of no account, and need not be given.
	alone, err := NewBikeLoads(Masses{BikeMass: 20, UnsprungFront: 2, UnsprungRear: 3, BikeRearShare: 0.45})
	if err != nil || alone != l {
		t.Errorf("without a rider: %+v, %v", alone, err)
	}
	// With no share of its own, the bike's is that with the rider on.
	m.BikeRearShare = 0
	if l, err = NewBikeLoads(m); err != nil {
		t.Fatal(err)
	}
	near(t, "share", l.RearShare, 0.6, 1e-15)
	for _, test := range []struct {
		m    Masses
		want []string
	}{
		{Masses{}, []string{"bike_mass", "rear_share"}},
		{Masses{BikeMass: 20, BikeRearShare: 1.2}, []string{"bike_rear_share"}},
		{Masses{BikeMass: 20, RearShare: 0.5, BikeRearShare: 1.2}, []string{"bike_rear_share"}},
		{Masses{BikeMass: 20, UnsprungRear: 11, RearShare: 0.6, BikeRearShare: 0.5}, []string{"unsprung_rear"}},
	} {
		_, err := NewBikeLoads(test.m)
		if diff := cmp.Diff(test.want, names(err)); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", test.m, diff)
		}
	}
}

func FuzzNewLoads(f *testing.F) {
	f.Add(80.0, 20.0, 2.0, 3.0, 0.6, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(80.0, 20.0, 2.0, 3.0, 0.0, 1.2, 0.7, 0.0, 0.0, 0.48)
	f.Add(0.0, 20.0, 2.0, 3.0, 0.0, 0.0, 0.0, 41.0, 60.0, 0.0)
	f.Add(1e308, 1e308, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, rider, bike, uf, ur, q, base, behind, front, rear, alone float64) {
		m := Masses{RiderMass: units.Mass(rider), BikeMass: units.Mass(bike), UnsprungFront: units.Mass(uf), UnsprungRear: units.Mass(ur),
			RearShare: q, Wheelbase: units.Length(base), MassCentreBehindFrontAxle: units.Length(behind),
			FrontScale: units.Mass(front), RearScale: units.Mass(rear), BikeRearShare: alone}
		for _, loads := range []func(Masses) (Loads, error){NewLoads, NewBikeLoads} {
			l, err := loads(m)
			if err != nil {
				if len(units.Fields(err)) == 0 {
					t.Fatalf("names no field: %v", err)
				}
				continue
			}
			if !(l.Front > 0 && l.Rear > 0 && l.RearShare > 0 && l.RearShare < 1) || math.IsInf(float64(l.Front+l.Rear), 0) {
				t.Fatalf("accepted, yet %+v", l)
			}
		}
	})
}
