package sag

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// refused tells of an answer beside an error, and of an error that does not name
// just these fields.
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

// An answer that float64 can't hold is the load's fault, whichever way it goes.
func TestRequiredBeyondAllNumbers(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	inf := Target{Load: 1e308, Sag: 0.3}
	little := Target{Load: 1e-20, Sag: 0.3}
	rate, err := RequiredRate(c, inf, 0)
	refused(t, "a rate without end", rate, err, "load")
	rate, err = RequiredRate(c, little, 1e308)
	refused(t, "a rate of nothing", rate, err, "load")
	preload, err := RequiredPreload(c, inf, 1)
	refused(t, "a preload without end", preload, err, "load")
	preload, err = RequiredPreload(c, Target{Load: 600, Sag: 0.3}, -1)
	refused(t, "no rate", preload, err, "rate")
	// Next to nothing is a number: 2.5·10⁻²⁰ N over 18 mm, and less than nothing to press.
	rate, err = RequiredRate(c, little, 0)
	require.NoError(t, err)
	near(t, "rate", float64(rate.Rate), 2.5e-20/0.018, 1e-12)
	preload, err = RequiredPreload(c, little, 0.5)
	require.NoError(t, err)
	near(t, "preload", float64(preload), -0.018, 1e-12)
}

// Where the target is bad, the spring's own faults are told and no others: that
// a newton at full extension is more or less than some fill gives is none.
func TestRequiredFillTellsOfTheSpringAlone(t *testing.T) {
	good := Target{Load: 400, Sag: 0.2}
	single := airspring.Spec{Bore: 0.034, Travel: 0.16, PositiveVolume: 190e-6, Ambient: airspring.SeaLevel, Exponent: 1}
	dual := single // pulls in harder with more fill, at full extension
	dual.Shaft, dual.NegativeVolume, dual.PortTravel = 0.01, 20e-6, 0.03
	needle := single // 1000 bar on 0.0079 mm² are 0.79 N
	needle.Bore = 0.1 * milli
	none := single
	none.Bore = 0
	for _, test := range []struct {
		name string
		spec airspring.Spec
		want []string
	}{{"good", single, []string{"curve"}}, {"dual", dual, []string{"curve"}}, {"needle", needle, []string{"curve"}}, {"no bore", none, []string{"curve", "bore"}}} {
		fill, err := RequiredFill(nil, good, test.spec)
		refused(t, test.name, fill, err, test.want...)
	}
}

// The target's limits: more than 0 and less than 1, a millionth at the least.
func TestTargetAtItsLimits(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	for _, test := range []struct {
		sag  float64
		want []string
	}{{1e-6, nil}, {justBelow(1e-6), []string{"sag"}}, {0, []string{"sag"}}, {justBelow(1), nil}, {1, []string{"sag"}}, {0.9999, nil}} {
		_, err := RequiredRate(c, Target{Load: 0.5, Sag: test.sag}, 0)
		named(t, "sag", err, test.want...)
	}
}

// Friction of a million million newtons is the most, and half a newton is some.
func TestFrictionAtItsLimits(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 2e-3)
	rest, err := Settle(c, law, 600, 1e12)
	require.NoError(t, err)
	if rest.TravelLow != 0 || rest.TravelHigh != c.Travel() {
		t.Errorf("band %v to %v", rest.TravelLow, rest.TravelHigh)
	}
	near(t, "stroke high", float64(rest.StrokeHigh), 0.06, 1e-15)
	if rest.StrokeLow != 0 {
		t.Errorf("from a stroke of %v", rest.StrokeLow)
	}
	rest, err = Settle(c, law, 600, units.Force(justAbove(1e12)))
	refused(t, "more", rest, err, "friction")
	rest, err = Settle(c, law, 600, 0.5)
	require.NoError(t, err)
	near(t, "low", float64(rest.StrokeLow), 1499.5/80e3-2e-3, 1e-11)
	near(t, "high", float64(rest.StrokeHigh), 1500.5/80e3-2e-3, 1e-11)
}

// pullsIn is an air spring of fork size that pulls in at full extension.
func pullsIn(t *testing.T) (*linkage.Curve, *airspring.Spring) {
	law, err := airspring.New(airspring.Spec{Bore: 0.035, Shaft: 0.01, Travel: 0.16, PositiveVolume: 240e-6, NegativeVolume: 30e-6,
		PortTravel: 0.012, Fill: 500e3, Ambient: airspring.SeaLevel, Exponent: 1})
	require.NoError(t, err)
	require.Positive(t, float64(law.RestTravel()))
	return constant(t, 1, 0.16), law
}

// Where the spring pulls in it implies no load; a little further it implies one.
func TestMeasuredLoadOfASpringThatPullsIn(t *testing.T) {
	c, law := pullsIn(t)
	load, err := MeasuredLoad(c, law, law.RestTravel()-0.1*milli)
	refused(t, "pulled in", load, err, "measured_stroke")
	load, err = MeasuredLoad(c, law, law.RestTravel()+1e-6)
	require.NoError(t, err)
	if !(load > 0 && load < 1) {
		t.Errorf("a micrometre beyond, a load of %v", load)
	}
	load, err = MeasuredLoad(c, law, 0)
	refused(t, "at full extension", load, err, "measured_stroke")
}

// slack is a spring of 80 N/mm that begins to push after 20 mm of 60.
type slack struct{}

func (slack) Force(x units.Length) units.Force {
	return 80e3 * units.Force(max(0, spring.Clamp(x, 0.06)-0.02))
}
func (slack) Energy(x units.Length) units.Energy {
	d := float64(max(0, spring.Clamp(x, 0.06)-0.02))
	return units.Energy(40e3 * d * d)
}
func (slack) Rate(x units.Length) units.Stiffness {
	if x < 0.02 {
		return 0
	}
	return 80e3
}
func (slack) Travel() units.Length { return 0.06 }

// Where a spring does not push yet it carries no load, and says so.
func TestMeasuredLoadOfASlackSpring(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	load, err := MeasuredLoad(c, slack{}, 0.01)
	refused(t, "slack", load, err, "measured_stroke")
	load, err = MeasuredLoad(c, slack{}, 0.03)
	require.NoError(t, err)
	near(t, "load", float64(load), 320, 1e-11)
}

// A rate or a load next to nothing has a frequency all the same, by hand
// √(k·g₀/load)/2π.
func TestFrequencyOfNextToNothing(t *testing.T) {
	for _, test := range [][2]float64{{0.5, 600}, {1e-3, 1}, {12e3, 0.5}, {1e-200, 1e-200}} {
		near(t, "frequency", float64(Frequency(units.Stiffness(test[0]), units.Force(test[1]))), math.Sqrt(test[0]/test[1]*9.80665)/(2*math.Pi), 1e-12)
	}
}

func TestReserveAtItsLimits(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 0)
	_, err := NewReserve(c, law, 1e-150)
	require.NoError(t, err)
	r, err := NewReserve(c, law, units.Force(justBelow(1e-150)))
	refused(t, "below", r, err, "load")
	r, err = NewReserve(c, law, -600)
	refused(t, "negative", r, err, "load")
}
