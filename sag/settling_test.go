package sag_test

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

//go:embed testdata/settling.json
var settling []byte

// settlingSpring is a coil, or one chamber of gas where it has a bore.
type settlingSpring struct {
	Rate, Bore, Volume, Fill, Exponent, Preload, Stroke float64
}

func (s settlingSpring) law(t testing.TB) spring.Law {
	if s.Bore == 0 {
		return linear(t, units.Stiffness(s.Rate), units.Length(s.Stroke), units.Length(s.Preload))
	}
	law, err := airspring.New(airspring.Spec{
		Bore: units.Length(s.Bore), Travel: units.Length(s.Stroke), PositiveVolume: units.Volume(s.Volume), Fill: units.GaugePressure(s.Fill), Ambient: units.StandardAtmosphere, Exponent: s.Exponent,
	})
	require.NoError(t, err)
	return law
}

// parabola is the curve of a travel a·s + b·s².
func parabola(t testing.TB, c [2]float64, stroke float64) *linkage.Curve {
	curve, err := linkage.NewFunction(units.Length(stroke), func(s units.Length) (units.Length, float64, units.RatioSlope) {
		x := float64(s)
		return units.Length(c[0]*x + c[1]*x*x), c[0] + 2*c[1]*x, units.RatioSlope(2 * c[1])
	})
	require.NoError(t, err)
	return curve
}

// Landings and stances against SciPy's DOP853 on equations of its own; see testdata/settling.py. A
// stance is there the end of a way down the energy.
func TestAgainstAnotherIntegrator(t *testing.T) {
	var want struct {
		Landings []struct {
			Job struct {
				Spring                settlingSpring
				Curve                 [2]float64
				Load, Height, Damping float64
			}
			Want struct {
				Travel, Time, Force, Peak, Work, Left float64
				Bottoms                               bool
			}
		}
		Stances []struct {
			Job struct {
				Masses            struct{ Rider, Bike, Front, Rear float64 }
				RearShare         float64 `json:"rear_share"`
				Wheelbase, Height float64
				FrontRadius       float64 `json:"front_radius"`
				RearRadius        float64 `json:"rear_radius"`
				HeadAngle         float64 `json:"head_angle"`
				Front, Rear       settlingSpring
				Curve             [2]float64
			}
			Want struct {
				FrontStroke float64 `json:"front_stroke"`
				RearStroke  float64 `json:"rear_stroke"`
			}
		}
	}
	require.NoError(t, json.Unmarshal(settling, &want))
	require.Len(t, want.Landings, 12)
	require.Len(t, want.Stances, 12)
	for i, one := range want.Landings {
		j, w := one.Job, one.Want
		l, err := land(parabola(t, j.Curve, j.Spring.Stroke), j.Spring.law(t), units.Force(j.Load), sag.Drop{Height: units.Length(j.Height), Damping: units.Damping(j.Damping)})
		require.NoError(t, err)
		what := fmt.Sprintf("landing %d: ", i)
		near(t, what+"travel", float64(l.Travel), w.Travel, 1e-9)
		near(t, what+"time", float64(l.Time), w.Time, 1e-8)
		near(t, what+"force", float64(l.Force), w.Force, 1e-9)
		near(t, what+"peak", float64(l.PeakForce), w.Peak, 1e-8)
		if !(math.Abs(float64(l.DamperWork)-w.Work) < 1e-7 && math.Abs(float64(l.EnergyLeft)-w.Left) < 1e-6) || l.Bottoms != w.Bottoms {
			t.Errorf("%s%+v, want %+v", what, l, w)
		}
	}
	for i, one := range want.Stances {
		j, w := one.Job, one.Want
		fork, err := linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(j.HeadAngle) * units.Degree, Travel: units.Length(j.Front.Stroke)})
		require.NoError(t, err)
		s, err := sag.Bike{
			Masses: sag.Masses{
				RiderMass: units.Mass(j.Masses.Rider), BikeMass: units.Mass(j.Masses.Bike),
				UnsprungFront: new(units.Mass(j.Masses.Front)), UnsprungRear: new(units.Mass(j.Masses.Rear)),
				RearShare: j.RearShare, Wheelbase: units.Length(j.Wheelbase), MassCentreHeight: units.Length(j.Height),
				FrontWheelRadius: units.Length(j.FrontRadius), RearWheelRadius: units.Length(j.RearRadius),
			},
			Front: sag.End{Curve: fork, Law: j.Front.law(t)},
			Rear:  sag.End{Curve: parabola(t, j.Curve, j.Rear.Stroke), Law: j.Rear.law(t)},
		}.Stance()
		require.NoError(t, err)
		near(t, fmt.Sprintf("stance %d: front", i), float64(s.FrontStroke), w.FrontStroke, 1e-9)
		near(t, fmt.Sprintf("stance %d: rear", i), float64(s.RearStroke), w.RearStroke, 1e-9)
	}
}
