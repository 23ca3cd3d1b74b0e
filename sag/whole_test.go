package sag_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// wholeBike is an invented bike with a coil at each end.
func wholeBike(t testing.TB) sag.Bike {
	front := constant(t, 0.9, 0.15)
	return sag.Bike{
		Masses: sag.Masses{RiderMass: 80, BikeMass: 17, UnsprungFront: new(units.Mass(2.5)), UnsprungRear: new(units.Mass(3.3)), RearShare: 0.58, Wheelbase: 1.22, MassCentreHeight: 1.1},
		Front:  sag.End{Curve: front, Law: linear(t, 9e3, front.Stroke(), 0)},
		Rear:   sag.End{Curve: bent(t), Law: linear(t, 79e3, 0.065, 1e-3)},
	}
}

// Moments about the front wheel's contact point, both wheel loads and the
// weight at the mass centre behind it, are in balance on the pitched bike; and
// so are they about the rear's. Each end carries what its spring pushes.
func TestStanceIsInBalance(t *testing.T) {
	b := wholeBike(t)
	for _, share := range []float64{0.35, 0.5, 0.58, 0.7} {
		for _, height := range []units.Length{0.3, 0.8, 1.1, 1.6} {
			b.RearShare, b.MassCentreHeight = share, height
			s, err := b.Stance()
			require.NoError(t, err)
			weight, base := 97*9.80665, 1.22
			front := float64(s.FrontLoad) + 2.5*9.80665
			rear := float64(s.RearLoad) + 3.3*9.80665
			behind := share*base + float64(height)*math.Sin(float64(s.Pitch))
			near(t, "pitch", math.Tan(float64(s.Pitch)), float64(s.RearTravel-s.FrontTravel)/base, 1e-12)
			near(t, "share", s.RearShare, rear/weight, 1e-11)
			near(t, "moment about the front", rear*base, weight*behind, 1e-11)
			near(t, "moment about the rear", front*base, weight*(base-behind), 1e-11)
			for _, end := range []struct {
				fitted sag.End
				travel units.Length
				sag    float64
				load   units.Force
			}{{b.Front, s.FrontTravel, s.FrontSag, s.FrontLoad}, {b.Rear, s.RearTravel, s.RearSag, s.RearLoad}} {
				wheel := made(linkage.AtWheel(end.fitted.Curve, end.fitted.Law))
				near(t, "sag", end.sag, float64(end.travel/end.fitted.Curve.Travel()), 1e-14)
				if end.travel < wheel.Travel() {
					near(t, "spring against load", float64(wheel.Force(end.travel)), float64(end.load), 1e-9)
				}
			}
		}
	}
}

// The higher the mass centre is, the more the end that sags more must carry.
func TestStanceShiftsWithTheHeightOfTheMassCentre(t *testing.T) {
	b := wholeBike(t)
	last := sag.Stance{FrontSag: 1}
	for h := units.Length(0.1); h < 1.5; h += 0.1 {
		b.MassCentreHeight = h
		s := made(b.Stance())
		if !(s.Pitch > last.Pitch && s.RearShare > last.RearShare && s.RearSag > last.RearSag && s.FrontSag < last.FrontSag) {
			t.Errorf("%v: %+v after %+v", h, s, last)
		}
		last = s
	}
}

// Between two equal springs of rate k the balance is that of a pencil where
// more weight on the rear moves the mass centre back by more: the travels
// differ by (2q − 1)·m·g/k, so q₀ + H·(2q − 1)·m·g/(k·L²) outruns q where
// H > k·L²/(2·m·g), here 6.055 m. The middle is then no stance.
func TestStanceNeedsAStableBalance(t *testing.T) {
	c := constant(t, 1, 0.15)
	end := sag.End{Curve: c, Law: linear(t, 8e3, 0.15, 0)}
	b := sag.Bike{Masses: sag.Masses{RiderMass: 80, BikeMass: 17, RearShare: 0.5, Wheelbase: 1.2}, Front: end, Rear: end}
	for _, test := range []struct {
		height units.Length
		want   []string
	}{{6.0, nil}, {6.1, []string{"mass_centre_height"}}, {1e4, []string{"mass_centre_height"}}} {
		b.MassCentreHeight = test.height
		_, err := b.Stance()
		named(t, test.height.String(), err, test.want...)
	}
}

// A whole bike whose ends hardly know of each other, its mass centre on the ground
// or its wheels far apart, rests end by end; turned front to back it rests as
// before, pitched the other way; a stance with more weight on the rear sags more
// there and less in front; twice the masses on twice the springs rest the same.
func TestStanceOfEveryBike(t *testing.T) {
	stood := 0
	eachEnd(t, 407, 120, func(t *testing.T, r lot, e *drawnEnd) {
		says, curve := drawCurve(r)
		rate := made(sag.RequiredRate(curve, sag.Target{Load: 400, Sag: 0.25}, 0)).Rate
		coil := made(spring.NewLinear(spring.Linear{Rate: rate, Travel: curve.Stroke()}))
		e.says += ", in front " + says
		// The rear spring as drawn, times what puts it near a fourth of its travel.
		hard := 600 / math.Max(float64(e.wheel.Force(e.curve.Travel()/4)), 1)
		b := sag.Bike{
			Masses: sag.Masses{RiderMass: units.Mass(r.between(50, 100)), BikeMass: 16, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: r.between(0.5, 0.65),
				Wheelbase: units.Length(r.between(1.1, 1.3)), MassCentreHeight: units.Length(r.between(0.7, 1.2))},
			Front: sag.End{Curve: curve, Law: coil}, Rear: sag.End{Curve: e.curve, Law: stiffer{e.law, hard}},
		}
		s, err := b.Stance()
		if err != nil {
			return // so soft in places that it does not stand
		}
		stood++
		if _, pitch := math.Sincos(float64(s.Pitch)); !(pitch > 0) {
			t.Errorf("pitched by %v", s.Pitch)
		}

		apart, grounded := b, b
		apart.Wheelbase, grounded.MassCentreHeight = 1e9, 1e-12
		l := made(b.Masses.Loads())
		for what, one := range map[string]sag.Bike{"far apart": apart, "on the ground": grounded} {
			alone := made(one.Stance())
			near(t, what+": share", alone.RearShare, b.RearShare, 1e-9)
			for _, end := range []struct {
				f    sag.End
				load units.Force
				w    units.Length
			}{{b.Front, l.Front, alone.FrontTravel}, {b.Rear, l.Rear, alone.RearTravel}} {
				rest, err := settle(end.f.Curve, end.f.Law, end.load, 0)
				if err != nil { // at an end of its travel
					rest.Travel = 0
					if errors.Is(err, spring.ErrBottomedOut) {
						rest.Travel = made(linkage.AtWheel(end.f.Curve, end.f.Law)).Travel()
					}
				}
				if math.Abs(float64(end.w-rest.Travel)) > 1e-8*float64(end.f.Curve.Travel()) {
					t.Errorf("%s: an end rests at %v, by itself at %v", what, end.w, rest.Travel)
				}
			}
		}

		turned := b
		turned.Front, turned.Rear, turned.RearShare = b.Rear, b.Front, 1-b.RearShare
		turned.UnsprungFront, turned.UnsprungRear = b.UnsprungRear, b.UnsprungFront
		o := made(turned.Stance())
		near(t, "turned: share", o.RearShare, 1-s.RearShare, 1e-9)
		if math.Abs(float64(o.FrontTravel-s.RearTravel))+math.Abs(float64(o.RearTravel-s.FrontTravel))+math.Abs(float64(o.Pitch+s.Pitch)) > 1e-8 {
			t.Errorf("turned: %+v, want %+v turned", o, s)
		}

		double := b
		double.RiderMass, double.BikeMass, double.UnsprungFront, double.UnsprungRear = 2*b.RiderMass, 2*b.BikeMass, new(2**b.UnsprungFront), new(2**b.UnsprungRear)
		double.Front.Law, double.Rear.Law = stiffer{coil, 2}, stiffer{e.law, 2 * hard}
		d := made(double.Stance())
		if math.Abs(d.FrontSag-s.FrontSag)+math.Abs(d.RearSag-s.RearSag) > 1e-9 {
			t.Errorf("twice the bike: %+v after %+v", d, s)
		}

		back := b
		back.RearShare += 0.02
		if m, err := back.Stance(); err == nil && !(m.RearTravel >= s.RearTravel && m.FrontTravel <= s.FrontTravel && m.RearShare > s.RearShare) {
			t.Errorf("more on the rear: %+v after %+v", m, s)
		}
	})
	if stood < 100 {
		t.Errorf("%d bikes stand: the test looks at too little", stood)
	}
}

// Each bad field is named, those of an end under its name. Scales are refused.
func TestStanceRefuses(t *testing.T) {
	s, err := sag.Bike{}.Stance()
	refused(t, "nothing", s, err, "rider_mass", "bike_mass", "rear_share", "wheelbase", "mass_centre_height", "front.curve", "front.law", "rear.curve", "rear.law")
	b := wholeBike(t)
	b.RearShare, b.FrontScale, b.RearScale = 0, 40, 57
	s, err = b.Stance()
	refused(t, "scales", s, err, "front_scale")
	b.RearScale = 0 // told once
	s, err = b.Stance()
	refused(t, "one scale", s, err, "rear_scale", "front_scale")
	b = wholeBike(t)
	b.Wheelbase, b.MassCentreHeight, b.Rear.Friction = 0, 1, -1
	s, err = b.Stance()
	refused(t, "no wheelbase", s, err, "wheelbase", "rear.friction")
}

// The loads of a bike at rest add up, and sags are fractions.
func FuzzStance(f *testing.F) {
	f.Add(80.0, 16.0, 2.0, 3.0, 0.6, 1.25, 1.1, 8e3, 80e3, 0.002)
	f.Add(80.0, 16.0, 0.0, 0.0, 0.6, 1e-3, 1e3, 1.0, 1.0, 0.0)
	f.Add(math.NaN(), 1e300, -1.0, 1e300, 1.0, 0.0, math.Inf(1), 1e300, 1e-300, 1.0)
	f.Fuzz(func(t *testing.T, rider, bike, uf, ur, share, base, height, front, rear, preload float64) {
		law := func(rate float64, travel units.Length) spring.Law {
			if k, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: travel, Preload: units.Length(preload)}); err == nil {
				return k
			}
			return nil
		}
		b := sag.Bike{
			Masses: sag.Masses{RiderMass: units.Mass(rider), BikeMass: units.Mass(bike), UnsprungFront: new(units.Mass(uf)), UnsprungRear: new(units.Mass(ur)), RearShare: share,
				Wheelbase: units.Length(base), MassCentreHeight: units.Length(height)},
			Front: sag.End{Curve: constant(t, 1, 0.16), Law: law(front, 0.16)},
			Rear:  sag.End{Curve: rearOf150(t), Law: law(rear, 0.06)},
		}
		s, err := b.Stance()
		if !answered(t, "stance", s, err) {
			return
		}
		sprung := (rider + bike - uf - ur) * g0
		if !(s.FrontSag >= 0 && s.FrontSag <= 1 && s.RearSag >= 0 && s.RearSag <= 1) || math.Abs(float64(s.FrontLoad+s.RearLoad)-sprung) > 1e-6*(rider+bike)*g0 {
			t.Fatalf("%+v of %v N", s, sprung)
		}
	})
}
