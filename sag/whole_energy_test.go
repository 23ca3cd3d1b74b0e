package sag_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// leaned is a bike in the side view, worked out with nothing but places: the frame is turned until
// both wheels stand on the ground, and what is high has energy.
type leaned struct {
	bike        sag.Bike
	front, rear func(stroke float64) complex128 // how far the axles have moved in the frame
}

// place returns the height of the sprung mass above the ground, the angle by which the frame is
// turned, and the axles in the frame.
func (l leaned) place(sf, sr float64) (height, turned float64, af, ar complex128) {
	b := l.bike
	base, rf, rr := float64(b.Wheelbase), float64(b.FrontWheelRadius), float64(b.RearWheelRadius)
	af, ar = complex(base, rf)+l.front(sf), complex(0, rr)+l.rear(sr)
	lo, hi := -1.0, 1.0
	for range 200 {
		turned = (lo + hi) / 2
		sin, cos := math.Sincos(turned)
		if apart := (af - ar) * complex(cos, sin); imag(apart) > rf-rr {
			hi = turned
		} else {
			lo = turned
		}
	}
	sin, cos := math.Sincos(turned)
	return rr + imag((l.centre()-ar)*complex(cos, sin)), turned, af, ar
}

// centre returns the centre of the sprung mass in the frame: that of all at full extension has the
// rear share, and the unsprung masses are at the axles.
func (l leaned) centre() complex128 {
	b := l.bike
	mf, mr, total := float64(*b.UnsprungFront), float64(*b.UnsprungRear), float64(b.RiderMass+b.BikeMass)
	return complex(((1-b.RearShare)*total-mf)*float64(b.Wheelbase)/(total-mf-mr), float64(b.MassCentreHeight))
}

// energy is that of the springs, of the masses in the weight and inertia that the ground's slope and the
// forces along it make, and of these forces, whose moments about the axles the frame takes.
func (l leaned) energy(sf, sr float64) float64 {
	b, g := l.bike, l.bike.Ground
	_, turned, af, ar := l.place(sf, sr)
	turn := cmplx.Rect(1, turned)
	sprung := float64(b.RiderMass + b.BikeMass - *b.UnsprungFront - *b.UnsprungRear)
	weight := float64(b.RiderMass+b.BikeMass) * 9.80665
	pushFront, pushRear := -g.FrontBraking*weight, (g.Driving-g.RearBraking)*weight
	field := complex((pushFront+pushRear)/weight, math.Cos(float64(g.Slope))) * 9.80665 // upward, along and from the ground
	e := float64(b.Front.Law.Energy(units.Length(sf)) + b.Rear.Law.Energy(units.Length(sr)))
	for _, m := range []struct {
		mass float64
		at   complex128
	}{{sprung, l.centre()}, {float64(*b.UnsprungFront), af}, {float64(*b.UnsprungRear), ar}} {
		at := (m.at - ar) * turn // the rear axle stays where it is along the ground
		e += m.mass * (real(at)*real(field) + imag(at)*imag(field))
	}
	return e - pushFront*real((af-ar)*turn) - (pushFront*float64(b.FrontWheelRadius)+pushRear*float64(b.RearWheelRadius))*turned
}

// arc is an invented single pivot, in mm from the bottom bracket.
func arc() *mechanism.Mechanism {
	at := func(x, y float64) mechanism.Point {
		return mechanism.Point{units.Length(x) * 1e-3, units.Length(y) * 1e-3}
	}
	return made(mechanism.New(mechanism.Spec{
		Points: map[string]mechanism.Point{"pivot": at(12, 72), "axle": at(-438, 28), "eye": at(-92, 238), "mount": at(112, 292)},
		Bodies: map[string][]string{"frame": {"pivot", "mount"}, "swingarm": {"pivot", "axle", "eye"}},
		Axle:   "axle", Shock: [2]string{"eye", "mount"}, Stroke: 57.5 * units.Millimetre,
	}))
}

// least returns the strokes around a pair of them with the least energy, in ever shorter steps.
func (l leaned) least(got [2]float64) [2]float64 {
	full, least := [2]float64{float64(l.bike.Front.Curve.Stroke()), float64(l.bike.Rear.Curve.Stroke())}, l.energy(got[0], got[1])
	for step := 0.01; step > 1e-9; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, by := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
				f, r := min(max(got[0]+step*by[0], 0), full[0]), min(max(got[1]+step*by[1], 0), full[1])
				if e := l.energy(f, r); e < least-1e-13 {
					got, least, moved = [2]float64{f, r}, e, true
				}
			}
		}
	}
	return got
}

// leaning is a bike on a fork of 180 mm and a single pivot, with preloads in front and in the rear.
func leaning(front, rear units.Stiffness, before, behind units.Length) leaned {
	m := arc()
	start := m.Pose(0).Axle
	fork := made(linkage.NewFork(linkage.Fork{HeadAngle: 63.5 * units.Degree, Travel: 0.18}))
	along := complex(-math.Cos(63.5*math.Pi/180), math.Sin(63.5*math.Pi/180))
	curve := made(linkage.Compile(m))
	return leaned{
		bike: sag.Bike{
			Masses: sag.Masses{RiderMass: 82, BikeMass: 17, UnsprungFront: new(units.Mass(2.4)), UnsprungRear: new(units.Mass(3.2)), RearShare: 0.58,
				Wheelbase: 1.27, MassCentreHeight: 1.12, FrontWheelRadius: 0.37, RearWheelRadius: 0.35},
			Front: sag.End{Curve: fork, Law: made(spring.NewLinear(spring.Linear{Rate: front, Travel: 0.18, Preload: before}))},
			Rear:  sag.End{Curve: curve, Law: made(spring.NewLinear(spring.Linear{Rate: rear, Travel: curve.Stroke(), Preload: behind}))},
		},
		front: func(s float64) complex128 { return along * complex(s, 0) },
		rear: func(s float64) complex128 {
			p := m.Pose(units.Length(s)).Axle
			return complex(float64(p[0]-start[0]), float64(p[1]-start[1]))
		},
	}
}

// stands checks that a bike rests where the energy of its springs and of the height of its mass is least.
func (l leaned) stands(t *testing.T, what string) sag.Stance {
	t.Helper()
	s := made(l.bike.Stance())
	got := l.least([2]float64{0.05, 0.02})
	unitstest.Near(t, what+": front", float64(s.FrontStroke), got[0], unitstest.Abs(1e-6))
	unitstest.Near(t, what+": rear", float64(s.RearStroke), got[1], unitstest.Abs(1e-6))
	_, turned, _, _ := l.place(float64(s.FrontStroke), float64(s.RearStroke))
	unitstest.Near(t, what+": pitch", float64(s.Pitch), turned, unitstest.Abs(1e-11))
	return s
}

func TestStanceHasTheLeastEnergy(t *testing.T) {
	for _, rates := range [][2]units.Stiffness{{9.5e3, 85e3}, {5e3, 85e3}, {9.5e3, 50e3}, {30e3, 300e3}} {
		leaning(rates[0], rates[1], 0.004, 0.001).stands(t, fmt.Sprint(rates))
	}
	for _, ground := range grounds[1:7] {
		l := leaning(9.5e3, 85e3, 0.004, 0.001)
		l.bike.Ground = ground
		l.stands(t, fmt.Sprint(ground))
	}
}

// An end that its load on level ground tops or bottoms out comes off its stop where the ground asks for it: the
// front under a brake, the rear where the bike is driven, and back again.
func TestStanceLeavesItsStops(t *testing.T) {
	for _, test := range []struct {
		what           string
		front, rear    units.Stiffness
		before, behind units.Length
		ground         sag.Ground
		level          [2]float64 // the sags on level ground that are at a stop; −1 for others
	}{
		{"topped in front", 9.5e3, 85e3, 0.05, 0.001, sag.Ground{FrontBraking: 0.4}, [2]float64{0, -1}},
		{"topped in the rear", 9.5e3, 85e3, 0.004, 0.03, sag.Ground{Driving: 0.3}, [2]float64{-1, 0}},
		{"topped at both ends", 9.5e3, 85e3, 0.05, 0.03, sag.Ground{FrontBraking: 0.4}, [2]float64{0, 0}},
		{"bottomed in front", 1.8e3, 85e3, 0, 0.001, sag.Ground{Driving: 0.35}, [2]float64{1, -1}},
		{"bottomed in the rear", 9.5e3, 22e3, 0.004, 0, sag.Ground{FrontBraking: 0.35}, [2]float64{-1, 1}},
	} {
		l := leaning(test.front, test.rear, test.before, test.behind)
		level := l.stands(t, test.what)
		for i, sag := range [2]float64{level.FrontSag, level.RearSag} {
			if at := sag == 0 || sag == 1; at != (test.level[i] >= 0) || at && sag != test.level[i] {
				t.Errorf("%s: end %d has a sag of %v", test.what, i, sag)
			}
		}
		l.bike.Ground = test.ground
		s := l.stands(t, test.what+", then not")
		if s.FrontSag == 0 && s.RearSag == 0 || s.FrontSag == 1 || s.RearSag == 1 {
			t.Errorf("%s: rests at %v and %v", test.what, s.FrontSag, s.RearSag)
		}
	}
}

// Two equal springs of 1.5 N/mm that push straight up hold this bike level up to 1.55 or 1.60 m, by hand as in
// TestStanceNeedsAStableBalance: k·L²/(2·m·g) + R + w, with the sag w = m·g/2k less the preload. A taller one leans,
// until the end with a little more weight bottoms out or the other one tops out, and stands there on the spring that
// is left. On springs of 0.5 N/mm, too soft for one of them to hold it, it leans until both are at a stop.
func TestStanceOfATallBikeLeansToAStop(t *testing.T) {
	c := constant(t, 1, 0.15)
	up := func(s float64) complex128 { return complex(0, s) }
	for _, test := range []struct {
		share   float64
		rate    units.Stiffness
		preload units.Length
		sags    [2]float64 // −1 for one within the travel
	}{
		{0.501, 1.5e3, 0.25, [2]float64{0, -1}}, {0.499, 1.5e3, 0.25, [2]float64{-1, 0}},
		{0.501, 1.5e3, 0.2, [2]float64{-1, 1}}, {0.499, 1.5e3, 0.2, [2]float64{1, -1}},
		{0.501, 500, 0.875, [2]float64{0, 1}}, {0.499, 500, 0.875, [2]float64{1, 0}},
	} {
		l := leaned{
			bike: sag.Bike{
				Masses: sag.Masses{RiderMass: 80, BikeMass: 17, UnsprungFront: new(units.Mass(0)), UnsprungRear: new(units.Mass(0)), RearShare: test.share,
					Wheelbase: 1.2, MassCentreHeight: 1.7, FrontWheelRadius: 0.35, RearWheelRadius: 0.35},
				Front: sag.End{Curve: c, Law: linear(t, test.rate, 0.15, test.preload)}, Rear: sag.End{Curve: c, Law: linear(t, test.rate, 0.15, test.preload)},
			},
			front: up, rear: up,
		}
		s := made(l.bike.Stance())
		got := l.least([2]float64{float64(s.FrontStroke), float64(s.RearStroke)})
		unitstest.Near(t, fmt.Sprintf("%+v: front", test), float64(s.FrontStroke), got[0], unitstest.Abs(1e-6))
		unitstest.Near(t, fmt.Sprintf("%+v: rear", test), float64(s.RearStroke), got[1], unitstest.Abs(1e-6))
		for i, sag := range [2]float64{s.FrontSag, s.RearSag} {
			if want := test.sags[i]; want >= 0 && sag != want || want < 0 && (sag == 0 || sag == 1) {
				t.Errorf("%+v: rests at %v and %v", test, s.FrontSag, s.RearSag)
			}
		}
	}
}
