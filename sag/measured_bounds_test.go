package sag

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A bound that is given as "or more" or "no more than" is taken itself, and
// what is the least beyond it is refused by its field.
func TestSettingAtItsBounds(t *testing.T) {
	over := func(v float64) float64 { return math.Nextafter(v, math.Inf(1)) }
	coil := func(spoil func(*CoilSetting)) Setting {
		s := coilEnd()
		spoil(s.Coil)
		return s
	}
	air := func(fill, most float64, exponent float64) Setting {
		s := airEnd()
		s.Air.Fill, s.Air.MaxFill, s.Air.Exponent = units.GaugePressure(fill), units.GaugePressure(most), exponent
		return s
	}
	friction := func(s Setting, f units.Force) Setting {
		s.Friction = f
		return s
	}
	for _, test := range []struct {
		name string
		s    Setting
		want []string
	}{
		{"the most friction", friction(coilEnd(), 1e12), nil},
		{"more friction", friction(coilEnd(), units.Force(over(1e12))), []string{"friction"}},
		{"a collar that can't be turned", coil(func(c *CoilSetting) { c.PreloadMin, c.PreloadMax = 2*milli, 2*milli }), nil},
		{"preload below the least", coil(func(c *CoilSetting) { c.PreloadMin = units.Length(over(2 * milli)) }), []string{"coil.preload"}},
		{"preload above the most", coil(func(c *CoilSetting) { c.Preload, c.PreloadMax = units.Length(over(2*milli)), 2*milli }), []string{"coil.preload"}},
		{"a range upside down", coil(func(c *CoilSetting) {
			c.PreloadMin, c.Preload, c.PreloadMax = units.Length(over(2*milli)), units.Length(over(2*milli)), 2*milli
		}), []string{"coil.preload_max", "coil.preload"}},
		{"a least preload that is endless", coil(func(c *CoilSetting) { c.PreloadMin, c.PreloadMax = units.Length(math.Inf(1)), 5*milli }), []string{"coil.preload_min"}},
		{"solid where it starts", coil(func(c *CoilSetting) { c.SolidTravel = 2 * milli }), []string{"coil.solid_travel"}},
		{"solid where the collar starts", coil(func(c *CoilSetting) { c.SolidTravel, c.PreloadMin, c.Preload = 2*milli, 2*milli, 2*milli }),
			[]string{"coil.solid_travel", "coil.solid_travel"}},
		{"filled to the marking", air(500e3, 500e3, 0), nil},
		{"filled beyond it", air(over(500e3), 500e3, 0), []string{"air.fill"}},
		{"an isothermal gas", air(500e3, 500e3, 1), nil},
		{"an exponent of two", air(500e3, 500e3, 2), nil},
		{"an exponent above", air(500e3, 500e3, over(2)), []string{"air.exponent"}},
		{"an exponent below", air(500e3, 500e3, math.Nextafter(1, 0)), []string{"air.exponent"}},
	} {
		var c units.Checker
		test.s.build(&c)
		if diff := cmp.Diff(test.want, names(c.Err())); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// The law of a coil ends where the stroke does, or before it where it binds.
func TestSettingTravel(t *testing.T) {
	for solid, want := range map[units.Length]float64{
		0: 0.06, 0.07: 0.06, 0.062: 0.06, 0.05: 0.048, // less 2 mm of preload
	} {
		s := coilEnd()
		s.Coil.SolidTravel = solid
		var c units.Checker
		b := s.build(&c)
		require.NoError(t, c.Err())
		near(t, fmt.Sprint("travel of a spring that binds at ", solid), float64(b.law.Travel()), want, 1e-14)
	}
	// That of an air spring is the stroke, unless it is given.
	for given, want := range map[units.Length]float64{0: 0.06, 0.06: 0.06, 0.065: 0.065} {
		s := Setting{Curve: coilEnd().Curve, Sag: 0.3, Air: &AirSetting{MaxFill: 3e6, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Travel: given, Fill: 500e3, Ambient: airspring.SeaLevel}}}
		var c units.Checker
		b := s.build(&c)
		require.NoError(t, c.Err())
		near(t, fmt.Sprint("travel given as ", given), float64(b.law.Travel()), want, 1e-14)
		near(t, fmt.Sprint("settled, given as ", given), float64(b.air.Travel), want, 1e-14)
		if b.air.Exponent != 1 {
			t.Errorf("the gas at rest has an exponent of %v", b.air.Exponent)
		}
	}
}

// A predicted load at a bound still agrees with it.
func TestVerdictAtItsBounds(t *testing.T) {
	i := Implied{ErrorLow: 608, ErrorHigh: 672, Low: 592, High: 688}
	for load, want := range map[units.Force]Verdict{
		608: Agrees, 672: Agrees, 592: WithinFriction, 688: WithinFriction, -1: Unexplained,
	} {
		if got := i.verdict(load); got != want {
			t.Errorf("%v: %s, want %s", load, got, want)
		}
		if got := (Estimate{ErrorLow: 608, ErrorHigh: 672, Low: 592, High: 688}).verdict(load); got != want {
			t.Errorf("%v against all: %s, want %s", load, got, want)
		}
	}
	// One single load agrees with all the readings.
	if got := (Estimate{ErrorLow: 640, ErrorHigh: 640, Low: 640, High: 640}).verdict(640); got != Agrees {
		t.Errorf("at the one load that there is: %s", got)
	}
}

// notched is a force with a notch at one stroke alone.
type notched struct {
	spring.LinearSpring
	at    units.Length
	depth units.Force
}

func (n notched) Force(x units.Length) units.Force {
	if math.Abs(float64(x-n.at)) < 1e-9 {
		return n.LinearSpring.Force(x) - n.depth
	}
	return n.LinearSpring.Force(x)
}

// Both ends of the interval and 15 strokes evenly between are looked at, with
// friction helping for the low bound and hindering for the high one.
func TestImpliedLoadLooksAtSeventeenStrokes(t *testing.T) {
	curve, plain := constant(t, 2, 0.12), linear(t, 80e3, 0.06, 0)
	r := Reading{Stroke: 20 * milli, Error: 1.6 * milli}
	for k := range 17 {
		at := r.Stroke - r.Error + units.Length(k)*0.2*milli
		i, err := ImpliedLoad(curve, notched{plain, at, 1000}, 100, r)
		require.NoError(t, err)
		near(t, fmt.Sprint("low of a notch at ", at), float64(i.ErrorLow), (80e3*float64(at)-1000)/2, 1e-12)
		near(t, fmt.Sprint("and with friction at ", at), float64(i.Low), (80e3*float64(at)-1100)/2, 1e-12)
		i, err = ImpliedLoad(curve, notched{plain, at, -1000}, 100, r)
		require.NoError(t, err)
		near(t, fmt.Sprint("high of a peak at ", at), float64(i.ErrorHigh), (80e3*float64(at)+1000)/2, 1e-12)
		near(t, fmt.Sprint("and with friction at ", at), float64(i.High), (80e3*float64(at)+1100)/2, 1e-12)
	}
}

// A thousand readings are taken, and of a bad setting each is still looked at
// by itself, whatever the stroke.
func TestMeasuredReadingsAtTheirBounds(t *testing.T) {
	many := make([]Reading, 1000)
	for i := range many {
		many[i] = Reading{Stroke: 18 * milli, Error: milli}
	}
	a, err := NewMeasured(Measuring{Setting: coilEnd(), Readings: many})
	require.NoError(t, err)
	// By hand: 32/√3 over √1000.
	near(t, "stated error of a thousand", float64(a.Estimate.StatedError), 32/math.Sqrt(3000), 1e-12)

	s := coilEnd()
	s.Coil.Rate = -1
	_, err = NewMeasured(Measuring{Setting: s, Readings: []Reading{{Stroke: 900, Error: 1}, {Stroke: 1, Error: 1}, {Stroke: -1, Error: 1}}})
	if diff := cmp.Diff([]string{"setting.coil.rate", "readings[1].error", "readings[2].stroke"}, names(err)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// A predicted load of 0 is none, and the least above it is one.
	for load, want := range map[units.Force]Verdict{0: NotCompared, 5e-324: Unexplained} {
		a, err := NewMeasured(Measuring{Setting: coilEnd(), Load: load, Readings: many[:1]})
		require.NoError(t, err)
		if a.Verdict != want || a.Predicted != load {
			t.Errorf("predicted %v: %s of %v", load, a.Verdict, a.Predicted)
		}
	}
}
