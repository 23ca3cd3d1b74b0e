package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func TestNewReserveLinear(t *testing.T) {
	// By hand: constant ratio 2, k = 50 N/mm, 50 mm stroke, no preload:
	// E = ½·50e3·0.05² = 62.5 J over 0.1 m of wheel travel; a load of 250 N
	// takes 62.5 J over 0.25 m, so it may drop 0.15 m. F = 50e3·0.05/2.
	r, err := NewReserve(constant(t, 2, 0.1), linear(t, 50e3, 0.05, 0), 250)
	require.NoError(t, err)
	near(t, "energy", float64(r.Energy), 62.5, 1e-12)
	near(t, "drop", float64(r.DropHeight), 0.15, 1e-12)
	near(t, "force", float64(r.FullForce), 1250, 1e-12)

	_, err = NewReserve(nil, nil, 0)
	if diff := cmp.Diff([]string{"load", "curve", "law"}, names(err)); diff != "" {
		t.Errorf("fields (-want +got):\n%s", diff)
	}
}

func TestNewBandsConstantRatio(t *testing.T) {
	// With a constant ratio, no preload and linear springs the ideal load is
	// k·s*/LR, and neighbours miss alike where the load is the harmonic mean of
	// their ideals: w = load·LR²/k for each, and the two average to the target.
	rates := []units.Stiffness{60e3, 70e3, 80e3}
	r := Range{Rates: rates, End: RearEnd, RearShare: 0.6, BikeMass: 17, Unsprung: 3, Sag: 0.3}
	c := constant(t, 2.5, 0.15)
	b, err := NewBands(c, r)
	require.NoError(t, err)
	ideal := func(k units.Stiffness) float64 { return float64(k) * 0.3 * 0.06 / 2.5 }
	rider := func(load float64) float64 { return (load/9.80665+3)/0.6 - 17 }
	for i, k := range rates {
		near(t, "ideal", float64(b.IdealMass[i]), rider(ideal(k)), 1e-11)
	}
	for i := range b.EdgeMass {
		x, y := ideal(rates[i]), ideal(rates[i+1])
		near(t, "edge", float64(b.EdgeMass[i]), rider(2*x*y/(x+y)), 1e-11)
		if !(b.IdealMass[i] < b.EdgeMass[i] && b.EdgeMass[i] < b.IdealMass[i+1]) {
			t.Errorf("edge %v not between %v and %v", b.EdgeMass[i], b.IdealMass[i], b.IdealMass[i+1])
		}
	}
}

// At the edge the softer spring sags as far over the target as the harder is
// under it, on a curved linkage and with preload too.
func TestNewBandsEdgeMissesAlike(t *testing.T) {
	c := bent(t)
	r := Range{Rates: []units.Stiffness{70e3, 79e3, 88e3}, Preload: 1e-3, End: FrontEnd, RearShare: 0.45, BikeMass: 17, Unsprung: 2.5, Sag: 0.28}
	b, err := NewBands(c, r)
	require.NoError(t, err)
	for i, m := range b.EdgeMass {
		load := units.Mass(float64(m+r.BikeMass)*(1-r.RearShare) - float64(r.Unsprung)).Weight()
		soft, err := Settle(c, linear(t, r.Rates[i], c.Stroke(), r.Preload), load, 0)
		require.NoError(t, err)
		hard, err := Settle(c, linear(t, r.Rates[i+1], c.Stroke(), r.Preload), load, 0)
		require.NoError(t, err)
		near(t, "over and under", soft.Sag-r.Sag, r.Sag-hard.Sag, 1e-9)
	}
}

func TestNewBandsRefuses(t *testing.T) {
	good := Range{Rates: []units.Stiffness{60e3, 70e3}, End: RearEnd, RearShare: 0.6, BikeMass: 17, Unsprung: 3, Sag: 0.3}
	c := constant(t, 2.5, 0.15)
	nan := math.NaN()
	for _, test := range []struct {
		name   string
		change func(*Range)
		want   []string
	}{
		{"nothing", func(r *Range) { *r = Range{} }, []string{"sag", "rates", "rear_share", "bike_mass", "end"}},
		{"NaN", func(r *Range) {
			*r = Range{Rates: []units.Stiffness{units.Stiffness(nan)}, Preload: units.Length(nan), End: "both", RearShare: nan, BikeMass: units.Mass(nan), Unsprung: units.Mass(nan), Sag: nan}
		}, []string{"sag", "rates[0]", "preload", "rear_share", "bike_mass", "unsprung", "end"}},
		{"falling rates", func(r *Range) { r.Rates = []units.Stiffness{70e3, 60e3} }, []string{"rates[1]"}},
		{"too soft for the bike alone", func(r *Range) { r.Rates = []units.Stiffness{1e3, 70e3} }, []string{"rates[0]"}},
		{"the same rate twice", func(r *Range) { r.Rates = []units.Stiffness{60e3, 60e3} }, []string{"rates[1]"}},
		{"too soft, alone on the shelf", func(r *Range) { r.Rates = []units.Stiffness{1e3} }, []string{"rates[0]"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := good
			test.change(&r)
			_, err := NewBands(c, r)
			if diff := cmp.Diff(test.want, names(err)); diff != "" {
				t.Errorf("fields (-want +got):\n%s", diff)
			}
		})
	}
}

func wholeBike(t testing.TB) Bike {
	front := constant(t, 0.9, 0.15)
	return Bike{
		Masses: Masses{RiderMass: 80, BikeMass: 17, UnsprungFront: 2.5, UnsprungRear: 3.3, RearShare: 0.58, Wheelbase: 1.22, MassCentreHeight: 1.1},
		Front:  Fitted{front, linear(t, 9e3, front.Stroke(), 0)},
		Rear:   Fitted{bent(t), linear(t, 79e3, 0.065, 1e-3)},
	}
}

func TestNewStanceHolds(t *testing.T) {
	b := wholeBike(t)
	s, err := NewStance(b)
	require.NoError(t, err)
	// Each end by itself, at the share that the stance ends with.
	m := b.Masses
	m.RearShare = s.RearShare
	l, err := NewLoads(m)
	require.NoError(t, err)
	for _, end := range []struct {
		name   string
		fitted Fitted
		load   units.Force
		sag    float64
	}{{"front", b.Front, l.Front, s.FrontSag}, {"rear", b.Rear, l.Rear, s.RearSag}} {
		r, err := Settle(end.fitted.Curve, end.fitted.Law, end.load, 0)
		require.NoError(t, err)
		near(t, end.name, end.sag, r.Sag, 1e-11)
	}
	near(t, "pitch", math.Tan(float64(s.Pitch)), float64(s.RearTravel-s.FrontTravel)/1.22, 1e-12)
	near(t, "share", s.RearShare, 0.58+1.1*math.Sin(float64(s.Pitch))/1.22, 1e-11)
	if !(s.RearTravel > s.FrontTravel) == (s.Pitch > 0) {
		t.Errorf("pitch %v with travels %v and %v", s.Pitch, s.FrontTravel, s.RearTravel)
	}
}

func TestNewStanceSymmetric(t *testing.T) {
	// Two equal ends and an even split sag alike and do not pitch.
	c := constant(t, 1, 0.15)
	end := Fitted{c, linear(t, 8e3, 0.15, 0)}
	s, err := NewStance(Bike{Masses: Masses{RiderMass: 80, BikeMass: 17, RearShare: 0.5, Wheelbase: 1.2, MassCentreHeight: 1}, Front: end, Rear: end})
	require.NoError(t, err)
	if math.Abs(float64(s.Pitch)) > 1e-12 || math.Abs(s.RearShare-0.5) > 1e-12 {
		t.Errorf("pitch %v, share %v", s.Pitch, s.RearShare)
	}
	near(t, "sag", s.FrontSag, 97*9.80665/2/8e3/0.15, 1e-11)
}

// Between two equal springs of rate k the balance is that of a pencil where
// more weight on the rear moves the mass centre back by more: the travels
// differ by (2q − 1)·m·g/k, so q₀ + H·(2q − 1)·m·g/(k·L²) outruns q where
// H > k·L²/(2·m·g), here 6.055 m. The middle is then no stance.
func TestNewStanceNeedsAStableBalance(t *testing.T) {
	c := constant(t, 1, 0.15)
	end := Fitted{c, linear(t, 8e3, 0.15, 0)}
	b := Bike{Masses: Masses{RiderMass: 80, BikeMass: 17, RearShare: 0.5, Wheelbase: 1.2}, Front: end, Rear: end}
	for _, test := range []struct {
		height units.Length
		want   []string
	}{{6.0, nil}, {6.1, []string{"mass_centre_height"}}, {1e4, []string{"mass_centre_height"}}} {
		b.MassCentreHeight = test.height
		_, err := NewStance(b)
		if diff := cmp.Diff(test.want, names(err)); diff != "" {
			t.Errorf("%v (-want +got):\n%s", test.height, diff)
		}
	}
}

// Moments about the front wheel's contact point, both wheel loads and the
// weight at the mass centre behind it, are in balance on the pitched bike; and
// so are they about the rear's. Each end carries what its spring pushes.
func TestNewStanceIsInBalance(t *testing.T) {
	b := wholeBike(t)
	for _, share := range []float64{0.35, 0.5, 0.58, 0.7} {
		for _, height := range []units.Length{0.3, 0.8, 1.1, 1.6} {
			b.RearShare, b.MassCentreHeight = share, height
			s, err := NewStance(b)
			require.NoError(t, err)
			weight, base := 97*9.80665, 1.22
			front := float64(s.FrontLoad) + 2.5*9.80665
			rear := float64(s.RearLoad) + 3.3*9.80665
			behind := share*base + float64(height)*math.Sin(float64(s.Pitch))
			near(t, "moment about the front", rear*base, weight*behind, 1e-11)
			near(t, "moment about the rear", front*base, weight*(base-behind), 1e-11)
			for _, end := range []struct {
				fitted Fitted
				travel units.Length
				load   units.Force
			}{{b.Front, s.FrontTravel, s.FrontLoad}, {b.Rear, s.RearTravel, s.RearLoad}} {
				wheel, err := linkage.AtWheel(end.fitted.Curve, end.fitted.Law)
				require.NoError(t, err)
				if end.travel < wheel.Travel() {
					near(t, "spring against load", float64(wheel.Force(end.travel)), float64(end.load), 1e-9)
				}
			}
		}
	}
}

// A mass centre on the ground moves nowhere: each end then rests as by itself.
// The higher it is, the more the end that sags more must carry.
func TestNewStanceHeight(t *testing.T) {
	b := wholeBike(t)
	l, err := NewLoads(b.Masses)
	require.NoError(t, err)
	b.MassCentreHeight = 1e-9
	low, err := NewStance(b)
	require.NoError(t, err)
	front, err := Settle(b.Front.Curve, b.Front.Law, l.Front, 0)
	require.NoError(t, err)
	rear, err := Settle(b.Rear.Curve, b.Rear.Law, l.Rear, 0)
	require.NoError(t, err)
	near(t, "front", low.FrontSag, front.Sag, 1e-9)
	near(t, "rear", low.RearSag, rear.Sag, 1e-9)
	near(t, "share", low.RearShare, 0.58, 1e-9)
	last := low
	for h := units.Length(0.1); h < 1.5; h += 0.1 {
		b.MassCentreHeight = h
		s, err := NewStance(b)
		require.NoError(t, err)
		if !(s.Pitch > 0 && s.Pitch > last.Pitch && s.RearShare > last.RearShare && s.RearSag > last.RearSag && s.FrontSag < last.FrontSag) {
			t.Errorf("%v: %+v after %+v", h, s, last)
		}
		last = s
	}
}

func TestNewStanceRefuses(t *testing.T) {
	_, err := NewStance(Bike{})
	want := []string{"rider_mass", "bike_mass", "rear_share", "wheelbase", "mass_centre_height", "front.curve", "front.law", "rear.curve", "rear.law"}
	if diff := cmp.Diff(want, names(err)); diff != "" {
		t.Errorf("fields (-want +got):\n%s", diff)
	}
	b := wholeBike(t)
	b.RearShare, b.FrontScale, b.RearScale = 0, 40, 57
	_, err = NewStance(b)
	if diff := cmp.Diff([]string{"front_scale"}, names(err)); diff != "" {
		t.Errorf("scales (-want +got):\n%s", diff)
	}
}

func TestSolve(t *testing.T) {
	x, err := solve(func(x float64) float64 { return x*x - 2 }, 2)
	require.NoError(t, err)
	near(t, "√2", x, math.Sqrt2, 1e-12)
	if _, err := solve(func(x float64) float64 { return x + 1 }, 2); err == nil {
		t.Error("no root, yet no error")
	}
	var _ spring.Law = rising{}
}
