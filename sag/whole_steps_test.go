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
