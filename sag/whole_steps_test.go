package sag_test

import (
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// tallied counts how often the rate of a law is asked for.
type tallied struct {
	spring.Law
	n *int
}

func (c tallied) Rate(s units.Length) units.Stiffness {
	*c.n++
	return c.Law.Rate(s)
}

// Newton's steps on exact derivatives double the digits each time: few are taken, on soft springs as on
// hard ones, with wheels of two sizes, whatever the ground. With a derivative that is off, more are.
func TestStanceTakesFewSteps(t *testing.T) {
	fork := made(linkage.NewFork(linkage.Fork{HeadAngle: 62 * units.Degree, Travel: 0.2}))
	all, stances := 0, 0
	for _, rear := range []*linkage.Curve{bent(t), made(linkage.Compile(arc()))} {
		for _, soft := range []units.Stiffness{1, 0.5, 0.3} {
			for _, ground := range append(grounds, sag.Ground{FrontBraking: 0.4}, sag.Ground{RearBraking: 0.35}, sag.Ground{Slope: 25 * units.Degree, Driving: 0.4}) {
				asked := 0
				b := wholeBike(t)
				b.Front = sag.End{Curve: fork, Law: tallied{linear(t, soft*8e3, 0.2, 0.09*units.Length(1-soft)), &asked}}
				b.Rear = sag.End{Curve: rear, Law: linear(t, soft*60e3, rear.Stroke(), 0.02*units.Length(1-soft))}
				b.RearShare, b.MassCentreHeight, b.FrontWheelRadius, b.RearWheelRadius, b.Ground = 0.5, 0.9, 0.4, 0.3, ground
				if made(b.Stance()); asked > 10 {
					t.Errorf("%v on %+v: %d steps", soft, ground, asked)
				}
				all, stances = all+asked, stances+1
			}
		}
	}
	if all > 7*stances {
		t.Errorf("%d steps for %d stances", all, stances)
	}
}

// As few are taken to a stop: to the full extension of an end that is preloaded, to the full travel of a
// soft one, at either end and at both.
func TestStanceTakesFewStepsToAStop(t *testing.T) {
	fork := made(linkage.NewFork(linkage.Fork{HeadAngle: 62 * units.Degree, Travel: 0.2}))
	rear := made(linkage.Compile(arc()))
	all, stances := 0, 0
	type end struct {
		rate    units.Stiffness
		preload units.Length
		sag     float64
	}
	for _, front := range []end{{8e3, 0.09, 0}, {8e3, 0, -1}, {1e3, 0, 1}} {
		for _, back := range []end{{60e3, 0.04, 0}, {60e3, 0, -1}, {6e3, 0, 1}} {
			for _, ground := range grounds[:5] {
				asked := 0
				b := wholeBike(t)
				b.Front = sag.End{Curve: fork, Law: tallied{linear(t, front.rate, 0.2, front.preload), &asked}}
				b.Rear = sag.End{Curve: rear, Law: linear(t, back.rate, rear.Stroke(), back.preload)}
				b.RearShare, b.MassCentreHeight, b.Ground = 0.5, 0.9, ground
				s := made(b.Stance())
				if front.sag >= 0 && s.FrontSag != front.sag || back.sag >= 0 && s.RearSag != back.sag {
					t.Errorf("%+v, %+v: rests at %v and %v", front, back, s.FrontSag, s.RearSag)
				}
				all, stances = all+asked, stances+1
			}
		}
	}
	if 2*all > 11*stances {
		t.Errorf("%d steps for %d stances", all, stances)
	}
}

// An end at its stop needs no rate of its own: a rear of 0.5 N/mm, by hand too soft for a bike so tall
// (see TestStanceNeedsAStableBalance), stands at full travel with a front that is hard enough.
func TestStanceOnAStopNeedsOneRate(t *testing.T) {
	c := constant(t, 1, 0.1)
	b := sag.Bike{Masses: sag.Masses{RiderMass: 80, BikeMass: 17, RearShare: 0.5, Wheelbase: 1.2, MassCentreHeight: 1.4, WheelRadius: 0.36},
		Front: sag.End{Curve: c, Law: linear(t, 8e3, 0.1, 0)}, Rear: sag.End{Curve: c, Law: linear(t, 500, 0.1, 0)}}
	if s := made(b.Stance()); s.RearSag != 1 || s.FrontSag == 1 {
		t.Errorf("%+v", s)
	}
	b.Front, b.Rear = b.Rear, b.Front
	if s := made(b.Stance()); s.FrontSag != 1 || s.RearSag == 1 {
		t.Errorf("%+v", s)
	}
}
