package sag_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

var (
	near, named, answered = sagtest.Near, sagtest.Named, sagtest.Answered
	constant, linear      = sagtest.Constant, sagtest.Linear
)

// bent is the invented rear end of sagtest.Progressive.
func bent(t testing.TB) *linkage.Curve { return sagtest.Curve(t, sagtest.Progressive()) }

// refused checks that there is no answer beside an error that names just these
// fields, in order.
func refused[T comparable](t *testing.T, what string, got T, err error, want ...string) {
	t.Helper()
	named(t, what, err, want...)
	var none T
	if got != none {
		t.Errorf("%s: refused, yet %+v", what, got)
	}
}

func justBelow(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }

func justAbove(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }

// rearOf150 is a rear end of ratio 2.5 over 150 mm, so 60 mm of stroke.
func rearOf150(t testing.TB) *linkage.Curve { return constant(t, 2.5, 0.15) }

// progressive is a rear end of 150 mm whose ratio falls from 2.8 to 2.2 over
// 60 mm of stroke: w = 2.8·s − 5·s², in metres.
func progressive(t testing.TB) *linkage.Curve { return sagtest.Curve(t, sagtest.Bend(2.8, -0.005, 60)) }

// single is an invented chamber of 36 mm bore and 100 cm³ over 60 mm.
func single(fill units.GaugePressure, exponent float64) airspring.Spec {
	return airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Fill: fill, Ambient: units.StandardAtmosphere, Exponent: exponent,
	}
}

func second[T any](_ T, err error) error { return err }

// pullsIn is an air spring of fork size that pulls in at full extension.
func pullsIn(t *testing.T) (*linkage.Curve, *airspring.Spring) {
	law, err := airspring.New(airspring.Spec{Bore: 0.035, Shaft: 0.01, Travel: 0.16, PositiveVolume: 240e-6, NegativeVolume: 30e-6,
		PortTravel: 0.012, Fill: 500e3, Ambient: airspring.SeaLevel, Exponent: 1})
	require.NoError(t, err)
	require.Positive(t, float64(law.RestTravel()))
	return constant(t, 1, 0.16), law
}

// slack is a law of 80 N/mm that begins to push after 20 mm of 60.
type slack struct{}

func (slack) Force(x units.Length) units.Force {
	return 80e3 * units.Force(max(0, spring.Clamp(x, 0.06)-0.02))
}

func (slack) Rate(x units.Length) units.Stiffness {
	if x < 0.02 {
		return 0
	}
	return 80e3
}

func (slack) Energy(x units.Length) units.Energy {
	d := float64(max(0, spring.Clamp(x, 0.06)-0.02))
	return units.Energy(40e3 * d * d)
}

func (slack) Travel() units.Length { return 0.06 }

// jumps is a law that jumps by 1000 N in the middle of 60 mm.
type jumps struct{}

func (jumps) Force(x units.Length) units.Force {
	if x < 0.03 {
		return units.Force(1e4 * spring.Clamp(x, 0.06))
	}
	return 1000 + units.Force(1e4*spring.Clamp(x, 0.06))
}

func (jumps) Rate(units.Length) units.Stiffness { return 1e4 }

func (jumps) Energy(x units.Length) units.Energy { return units.Energy(5e3 * x * x) }

func (jumps) Travel() units.Length { return 0.06 }

// stiffer is a law of twice, or any number of times, the stiffness.
type stiffer struct {
	spring.Law
	times float64
}

func (m stiffer) Force(x units.Length) units.Force { return m.Law.Force(x) * units.Force(m.times) }

func (m stiffer) Rate(x units.Length) units.Stiffness {
	return m.Law.Rate(x) * units.Stiffness(m.times)
}

func (m stiffer) Energy(x units.Length) units.Energy { return m.Law.Energy(x) * units.Energy(m.times) }

// settled is answered for what a load may also top or bottom out.
func settled(t *testing.T, what string, answer any, err error) bool {
	t.Helper()
	if errors.Is(err, spring.ErrToppedOut) || errors.Is(err, spring.ErrBottomedOut) {
		return false
	}
	return answered(t, what, answer, err)
}

const (
	milli = float64(units.Millimetre)
	g0    = units.StandardGravity
)

func settle(curve *linkage.Curve, law spring.Law, load, friction units.Force) (sag.Rest, error) {
	return sag.End{Curve: curve, Law: law, Friction: friction}.Settle(load)
}

func settleWithin(curve *linkage.Curve, law spring.Law, load, friction units.Force) (sag.Rest, sag.Finding, error) {
	return sag.End{Curve: curve, Law: law, Friction: friction}.SettleWithin(load)
}

func loadAt(curve *linkage.Curve, law spring.Law, stroke units.Length) (units.Force, error) {
	return sag.End{Curve: curve, Law: law}.LoadAt(stroke)
}

func reserve(curve *linkage.Curve, law spring.Law, load units.Force) (sag.Reserve, error) {
	return sag.End{Curve: curve, Law: law}.Reserve(load)
}

func land(curve *linkage.Curve, law spring.Law, load units.Force, drop sag.Drop) (sag.Landing, error) {
	return sag.End{Curve: curve, Law: law}.Land(load, drop)
}

// rearShare is the rear of an invented bike: of 17 kg, 3 kg of them unsprung there,
// with 60 % of the weight.
func rearShare() sag.AxleShare {
	return sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 17, Unsprung: 3}
}
