package sag_test

import (
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// wholeBike is an invented bike with a coil at each end.
func wholeBike(t testing.TB) sag.Bike {
	front := constant(t, 0.9, 0.15)
	return sag.Bike{
		Masses: sag.Masses{RiderMass: 80, BikeMass: 17, UnsprungFront: new(units.Mass(2.5)), UnsprungRear: new(units.Mass(3.3)), RearShare: 0.58, Wheelbase: 1.22, MassCentreHeight: 1.1, FrontWheelRadius: 0.372, RearWheelRadius: 0.351},
		Front:  sag.End{Curve: front, Law: linear(t, 9e3, front.Stroke(), 0)},
		Rear:   sag.End{Curve: bent(t), Law: linear(t, 79e3, 0.065, 1e-3)},
	}
}

// grounds are level ground, slopes and forces along them.
var grounds = []sag.Ground{
	{}, {Slope: 15 * units.Degree}, {FrontBraking: 0.12}, {RearBraking: 0.15}, {Driving: 0.15},
	{Slope: -10 * units.Degree, FrontBraking: 0.08, RearBraking: 0.05}, {Slope: 12 * units.Degree, Driving: 0.2, RearBraking: 0.05},
}

// The bike as it stands is in balance: along the ground by the speed it gains, the moments of the loads
// and forces at both wheels and of weights and inertia about the points where the wheels touch the
// ground, and along each axle's way what the ground and the unsprung mass do to it against what the
// spring does. The places are those of the turned frame.
func TestStanceIsInBalance(t *testing.T) {
	b := wholeBike(t)
	angle := 64 * units.Degree
	b.Front.Curve = made(linkage.NewFork(linkage.Fork{HeadAngle: angle, Travel: 0.16}))
	b.Front.Law = linear(t, 8e3, 0.16, 2e-3)
	sin, cos := math.Sincos(float64(angle))
	l := leaned{bike: b, front: func(s float64) complex128 { return complex(-cos*s, sin*s) }}
	l.rear = func(s float64) complex128 { return complex(0, float64(b.Rear.Curve.TravelAt(units.Length(s)))) }
	product := func(a, b complex128) float64 { return real(a)*real(b) + imag(a)*imag(b) }
	moment := func(arm, force complex128) float64 { return imag(cmplx.Conj(arm) * force) }
	topped := 0
	for _, share := range []float64{0.35, 0.5, 0.58, 0.7} {
		for _, height := range []units.Length{0.3, 0.8, 1.1, 1.6} {
			for _, ground := range grounds {
				l.bike.RearShare, l.bike.MassCentreHeight, l.bike.Ground = share, height, ground
				s, err := l.bike.Stance()
				require.NoError(t, err)
				sf, sr := float64(s.FrontStroke), float64(s.RearStroke)
				_, turned, af, ar := l.place(sf, sr)
				near(t, "pitch", float64(s.Pitch), turned, 1e-11)
				turn := cmplx.Rect(1, turned)
				af, ar = af*turn, ar*turn // the ground is level in this view, and the weights lean
				centre := l.centre() * turn
				near(t, "wheelbase", float64(s.Wheelbase), real(af-ar), 1e-11)
				const mf, mr, all = 2.5, 3.3, 97.0
				push, lean := all*9.80665, cmplx.Rect(9.80665, -math.Pi/2-float64(ground.Slope))
				front := complex(-ground.FrontBraking*push, float64(s.FrontWheelLoad))
				rear := complex((ground.Driving-ground.RearBraking)*push, float64(s.RearWheelLoad))
				pull := (front + rear) / -all // weight and inertia of a kilogram
				near(t, "towards the ground", imag(pull), imag(lean), 1e-12)
				near(t, "acceleration", 1+ground.Acceleration(), 1+real(lean-pull)/9.80665, 1e-12)
				near(t, "share", s.RearShare, float64(s.RearWheelLoad/(s.FrontWheelLoad+s.RearWheelLoad)), 1e-12)
				near(t, "sprung", float64(s.FrontLoad), imag(front+mf*lean), 1e-12)
				near(t, "sprung", float64(s.RearLoad), imag(rear+mr*lean), 1e-12)
				for _, about := range []complex128{af - 0.372i, ar - 0.351i} { // where the wheels touch the ground
					near(t, "moments", 1+(moment(af-0.372i-about, front)+moment(ar-0.351i-about, rear)+moment(centre-about, (all-mf-mr)*pull)+moment(af-about, mf*pull)+moment(ar-about, mr*pull))/push, 1, 1e-12)
				}
				near(t, "fork", float64(b.Front.Law.Force(s.FrontStroke)), product(complex(-cos, sin)*turn, front+mf*pull), 1e-9)
				ratio := b.Rear.Curve.LeverRatio(s.RearStroke)
				if shock := float64(b.Rear.Law.Force(s.RearStroke)); sr > 0 {
					near(t, "shock", shock, ratio*product(1i*turn, rear+mr*pull), 1e-9)
				} else if topped++; !(shock >= ratio*product(1i*turn, rear+mr*pull)) {
					t.Errorf("the shock is fully extended with %v N", shock)
				}
				near(t, "sag", s.RearSag, float64(s.RearTravel/b.Rear.Curve.Travel()), 1e-14)
				near(t, "travel", float64(s.FrontTravel), sf*sin, 1e-12)
			}
		}
	}
	if topped > 5 {
		t.Errorf("%d bikes are topped out: the test looks at too little", topped)
	}
}

// The higher the mass centre is, the more the end that sags more must carry.
func TestStanceShiftsWithTheHeightOfTheMassCentre(t *testing.T) {
	b := wholeBike(t)
	last := sag.Stance{Geometry: sag.Geometry{FrontSag: 1}}
	for h := units.Length(0.1); h < 1.5; h += 0.1 {
		b.MassCentreHeight = h
		s := made(b.Stance())
		if !(s.Pitch > last.Pitch && s.RearShare > last.RearShare && s.RearSag > last.RearSag && s.FrontSag < last.FrontSag) {
			t.Errorf("%v: %+v after %+v", h, s, last)
		}
		last = s
	}
}

// Two equal springs of rate k, straight up at both ends, sag by w = m·g/2k. Turned by a small angle
// β about there, one is pressed by β·L/2 more and the other less, which takes k·β²L²/4, and the mass
// centre, H − R − w above the axles, falls by half of β²(H − R − w). The bike stands where the first is
// more: up to H = k·L²/(2·m·g) + R + w, here 6.0547 m + 0.35 m + 0.0595 m.
func TestStanceNeedsAStableBalance(t *testing.T) {
	c := constant(t, 1, 0.15)
	end := sag.End{Curve: c, Law: linear(t, 8e3, 0.15, 0)}
	b := sag.Bike{Masses: sag.Masses{RiderMass: 80, BikeMass: 17, RearShare: 0.5, Wheelbase: 1.2, WheelRadius: 0.35}, Front: end, Rear: end}
	for _, test := range []struct {
		height units.Length
		want   []string
	}{{6.464, nil}, {6.465, []string{"mass_centre_height"}}, {1e4, []string{"mass_centre_height"}}} {
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
				Wheelbase: units.Length(r.between(1.1, 1.3)), MassCentreHeight: units.Length(r.between(0.7, 1.2)), FrontWheelRadius: 0.37, RearWheelRadius: 0.35},
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

		apart := b
		apart.Wheelbase = 1e5
		l := made(b.Masses.Loads())
		{
			alone := made(apart.Stance())
			near(t, "far apart: share", alone.RearShare, b.RearShare, 1e-5)
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
				if math.Abs(float64(end.w-rest.Travel)) > 1e-4*float64(end.f.Curve.Travel()) {
					t.Errorf("far apart: an end rests at %v, by itself at %v", end.w, rest.Travel)
				}
			}
		}

		if b.Front.Curve.AxleAt(0.01).Forward == 0 && b.Rear.Curve.AxleAt(0.01).Forward == 0 { // both axles move straight up: it may be turned front to back
			turned := b
			turned.FrontWheelRadius, turned.RearWheelRadius = b.RearWheelRadius, b.FrontWheelRadius
			turned.Front, turned.Rear, turned.RearShare = b.Rear, b.Front, 1-b.RearShare
			turned.UnsprungFront, turned.UnsprungRear = b.UnsprungRear, b.UnsprungFront
			o := made(turned.Stance())
			near(t, "turned: share", o.RearShare, 1-s.RearShare, 1e-9)
			if math.Abs(float64(o.FrontTravel-s.RearTravel))+math.Abs(float64(o.RearTravel-s.FrontTravel))+math.Abs(float64(o.Pitch+s.Pitch)) > 1e-8 {
				t.Errorf("turned: %+v, want %+v turned", o, s)
			}
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
	refused(t, "nothing", s, err, "rider_mass", "bike_mass", "rear_share", "wheelbase", "wheel_radius", "mass_centre_height", "front.curve", "front.law", "rear.curve", "rear.law")
	b := wholeBike(t)
	b.RearShare, b.FrontScale, b.RearScale = 0, 40, 57
	s, err = b.Stance()
	refused(t, "scales", s, err, "front_scale")
	b.RearScale = 0 // told once
	s, err = b.Stance()
	refused(t, "one scale", s, err, "rear_scale", "front_scale")
	b = wholeBike(t)
	b.Wheelbase, b.MassCentreHeight, b.Rear.Friction, b.FrontWheelRadius = 0, 1, -1, 0
	s, err = b.Stance()
	refused(t, "no wheelbase", s, err, "wheelbase", "wheel_radius", "rear.friction")
	b = wholeBike(t)
	b.Ground = sag.Ground{Slope: 61 * units.Degree, FrontBraking: -0.1, RearBraking: 6, Driving: math.NaN()}
	s, err = b.Stance()
	refused(t, "ground", s, err, "slope", "front_braking", "rear_braking", "driving")
	for field, ground := range map[string]sag.Ground{ // over the front wheel, and over the rear
		"front_braking": {Slope: -30 * units.Degree, FrontBraking: 1, RearBraking: 0.1}, "rear_braking": {RearBraking: 1.5, Driving: 0.1}, "driving": {Slope: 30 * units.Degree, Driving: 0.8},
	} {
		b.Ground = ground
		s, err = b.Stance()
		refused(t, "over one wheel", s, err, field)
	}
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
				Wheelbase: units.Length(base), MassCentreHeight: units.Length(height), WheelRadius: 0.36},
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

// airInFront is that bike with air in a fork.
func airInFront(t testing.TB) sag.Bike {
	bike := wholeBike(t)
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.16})
	require.NoError(t, err)
	air, err := airspring.New(airspring.Spec{
		Bore: 0.036, Travel: 0.16, PositiveVolume: 230e-6, Fill: units.BarGauge(2.4), Ambient: units.StandardAtmosphere, Exponent: 1,
	})
	require.NoError(t, err)
	bike.Front = sag.End{Curve: fork, Law: air}
	return bike
}

func TestStanceDoesNotAllocate(t *testing.T) {
	bike := airInFront(t)
	s, err := bike.Stance()
	require.NoError(t, err)
	require.True(t, s.FrontStroke > 0 && s.RearStroke > 0, "%v", s)
	if n := testing.AllocsPerRun(100, func() { s, err = bike.Stance() }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// The budget is 5 µs without allocations.
func BenchmarkStance(b *testing.B) {
	bike := airInFront(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := bike.Stance(); err != nil {
			b.Fatal(err)
		}
	}
}
