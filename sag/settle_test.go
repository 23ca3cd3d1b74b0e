package sag

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

const mm = float64(units.Millimetre)

func constant(t testing.TB, ratio float64, travel units.Length) *linkage.Curve {
	c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: travel})
	require.NoError(t, err)
	return c
}

// bent is a progressive curve: invented, w = 2.95 s − 4.25/m · s², 65 mm stroke.
func bent(t testing.TB) *linkage.Curve {
	var table linkage.Table
	for s := 0.0; s < 66; s += 5 {
		table.Stroke = append(table.Stroke, units.Length(s*mm))
		table.Travel = append(table.Travel, units.Length((2.95*s-0.00425*s*s)*mm))
	}
	table.Method = linkage.Smooth
	c, err := linkage.NewTable(table)
	require.NoError(t, err)
	return c
}

func linear(t testing.TB, k units.Stiffness, travel, preload units.Length) spring.LinearSpring {
	law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: travel, Preload: preload})
	require.NoError(t, err)
	return law
}

func TestSettleConstantRatio(t *testing.T) {
	// By hand: k(s + p) = load·LR, so s = load·LR/k − p and w = LR·s.
	const lr, k, p, load, f = 2.5, 80e3, 2e-3, 600.0, 40.0
	c := constant(t, lr, 0.15)
	r, err := Settle(c, linear(t, k, 0.06, p), load, f)
	require.NoError(t, err)
	s := load*lr/k - p
	near(t, "stroke", float64(r.Stroke), s, 1e-12)
	near(t, "travel", float64(r.Travel), lr*s, 1e-12)
	near(t, "sag", r.Sag, lr*s/0.15, 1e-12)
	near(t, "shock sag", r.ShockSag, r.Sag, 1e-12)
	near(t, "low", float64(r.TravelLow), lr*((load*lr-f)/k-p), 1e-12)
	near(t, "high", float64(r.TravelHigh), lr*((load*lr+f)/k-p), 1e-12)
	near(t, "stroke low", float64(r.StrokeLow), (load*lr-f)/k-p, 1e-12)
	near(t, "wheel rate", float64(r.WheelRate), k/(lr*lr), 1e-12)
	// √(k_w/m)/2π with m = load/g₀ written out.
	near(t, "frequency", float64(r.Frequency), math.Sqrt(k/(lr*lr)/(load/9.80665))/(2*math.Pi), 1e-12)
}

func TestSettleFork(t *testing.T) {
	// Along the stanchion a vertical load L pushes with L·sin φ (virtual work).
	phi := 64 * units.Degree
	c, err := linkage.NewFork(linkage.Fork{HeadAngle: phi, Travel: 0.16})
	require.NoError(t, err)
	r, err := Settle(c, linear(t, 9e3, 0.16, 0.01), 400, 0)
	require.NoError(t, err)
	sin := math.Sin(float64(phi))
	s := 400*sin/9e3 - 0.01
	near(t, "stroke", float64(r.Stroke), s, 1e-12)
	near(t, "travel", float64(r.Travel), s*sin, 1e-12)
	near(t, "wheel rate", float64(r.WheelRate), 9e3/(sin*sin), 1e-12)
	if r.TravelLow != r.Travel || r.TravelHigh != r.Travel {
		t.Errorf("a band without friction: %v to %v around %v", r.TravelLow, r.TravelHigh, r.Travel)
	}
}

func TestSettleFrictionIsCutOffAtTheEnds(t *testing.T) {
	c := constant(t, 2, 0.1)
	law := linear(t, 10e3, 0.05, 0)
	r, err := Settle(c, law, 100, 1e6)
	require.NoError(t, err)
	if r.TravelLow != 0 || r.TravelHigh != c.Travel() {
		t.Errorf("band %v to %v, want all the travel", r.TravelLow, r.TravelHigh)
	}
}

func TestSettleWheelRateIsTheDerivative(t *testing.T) {
	c := bent(t)
	law := linear(t, 79e3, 0.065, 1e-3)
	wheel, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	for load := units.Force(100); load < 1600; load += 100 {
		r, err := Settle(c, law, load, 0)
		require.NoError(t, err)
		const h = 1e-6
		slope := float64(wheel.Force(r.Travel+h)-wheel.Force(r.Travel-h)) / (2 * h)
		near(t, "rate", float64(r.WheelRate), slope, 1e-7)
		near(t, "balance", float64(wheel.Force(r.Travel)), float64(load), 1e-12)
	}
}

func TestSettleRefuses(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	law := linear(t, 80e3, 0.06, 2e-3)
	_, err := Settle(nil, nil, units.Force(math.NaN()), -1)
	if diff := cmp.Diff([]string{"load", "friction", "curve", "law"}, names(err)); diff != "" {
		t.Errorf("fields (-want +got):\n%s", diff)
	}
	for _, test := range []struct {
		err  error
		want []string
	}{{second(Settle(nil, law, 600, 0)), []string{"curve"}}, {second(Settle(c, nil, 600, 0)), []string{"law"}}} {
		if diff := cmp.Diff(test.want, names(test.err)); diff != "" {
			t.Errorf("fields (-want +got):\n%s", diff)
		}
	}
	if diff := cmp.Diff([]string{"friction"}, names(second(Settle(c, law, 600, 1e200)))); diff != "" {
		t.Errorf("a friction beyond sense must not lose its band in silence (-want +got):\n%s", diff)
	}
	if _, err := Settle(c, law, 10, 0); !errors.Is(err, spring.ErrToppedOut) {
		t.Errorf("a load less than the preload carries: %v", err)
	}
	if _, err := Settle(c, law, 1e5, 0); !errors.Is(err, spring.ErrBottomedOut) {
		t.Errorf("a load past full travel: %v", err)
	}
}

func TestFrequencyOutsideIsZero(t *testing.T) {
	nan := math.NaN()
	for _, bad := range [][2]float64{{0, 1}, {-1, 1}, {1, 0}, {1, -1}, {nan, 1}, {1, nan}, {math.Inf(1), 1}, {1, math.Inf(1)}, {math.MaxFloat64, 5e-324}} {
		if f := Frequency(units.Stiffness(bad[0]), units.Force(bad[1])); f != 0 {
			t.Errorf("Frequency(%v, %v) = %v, want 0", bad[0], bad[1], f)
		}
	}
}

// A required rate, preload or fill must bring the very sag it was asked for.
func TestRequiredComesBack(t *testing.T) {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 63.5 * units.Degree, Travel: 0.17})
	require.NoError(t, err)
	air := airspring.Spec{Bore: 0.035, Shaft: 0.010, Travel: 0.17, PositiveVolume: 250e-6, NegativeVolume: 68e-6,
		PortTravel: 0.009, Ambient: airspring.SeaLevel, Exponent: 1}
	for _, sag := range []float64{0.1, 0.2, 0.3, 0.45} {
		for _, load := range []units.Force{300, 420, 700} {
			target := Target{Load: load, Sag: sag}
			for _, c := range []*linkage.Curve{fork, bent(t)} {
				k, err := RequiredRate(c, target, 1.5e-3)
				require.NoError(t, err)
				r, err := Settle(c, linear(t, k.Rate, c.Stroke(), 1.5e-3), load, 0)
				require.NoError(t, err)
				near(t, "sag by rate", r.Sag, sag, 1e-11)
				near(t, "stroke", float64(k.Stroke), float64(r.Stroke), 1e-11)

				p, err := RequiredPreload(c, target, k.Rate)
				require.NoError(t, err)
				near(t, "preload", float64(p), 1.5e-3, 1e-11)
			}
			fill, err := RequiredFill(fork, target, air)
			require.NoError(t, err)
			spec := air
			spec.Fill = fill
			law, err := airspring.New(spec)
			require.NoError(t, err)
			r, err := Settle(fork, law, load, 0)
			require.NoError(t, err)
			near(t, "sag by fill", r.Sag, sag, 1e-10)
		}
	}
}

func TestRequiredRefuses(t *testing.T) {
	for _, test := range []struct {
		name string
		err  error
		want []string
	}{
		{"rate", second(RequiredRate(nil, Target{}, -1)), []string{"curve", "load", "sag", "preload"}},
		{"preload", second(RequiredPreload(nil, Target{Load: 1, Sag: 1}, 0)), []string{"curve", "sag", "rate"}},
		{"fill", second(RequiredFill(nil, Target{Load: units.Force(math.Inf(1)), Sag: math.NaN()}, airspring.Spec{})),
			[]string{"curve", "load", "sag", "bore", "travel", "positive_volume", "ambient", "exponent"}},
	} {
		if diff := cmp.Diff(test.want, names(test.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// What an air spring calls force and at, a target calls load and sag.
func TestRequiredFillSpeaksOfTheTarget(t *testing.T) {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 65.5 * units.Degree, Travel: 0.16})
	require.NoError(t, err)
	single := airspring.Spec{Bore: 0.034, Travel: 0.16, PositiveVolume: 190e-6, Ambient: airspring.SeaLevel, Exponent: 1}
	dual := single
	dual.Shaft, dual.NegativeVolume, dual.PortTravel = 0.01, 20e-6, 0.03
	for _, test := range []struct {
		name   string
		target Target
		spec   airspring.Spec
		want   []string
	}{
		{"a load too small for any fill", Target{Load: 5, Sag: 0.2}, single, []string{"load"}},
		{"a sag where more air pulls in harder", Target{Load: 400, Sag: 0.001}, dual, []string{"sag"}},
		{"no bore", Target{Load: 400, Sag: 0.2}, airspring.Spec{Travel: 0.16, PositiveVolume: 190e-6, Ambient: airspring.SeaLevel, Exponent: 1}, []string{"bore"}},
	} {
		_, err := RequiredFill(fork, test.target, test.spec)
		if diff := cmp.Diff(test.want, names(err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// Heavier riders need harder springs and more air; more sag needs less.
func TestRequiredIsMonotone(t *testing.T) {
	c := bent(t)
	last := units.Stiffness(0)
	for load := units.Force(200); load < 1000; load += 50 {
		k, err := RequiredRate(c, Target{Load: load, Sag: 0.28}, 0)
		require.NoError(t, err)
		if !(k.Rate > last) {
			t.Errorf("load %v: rate %v, not above %v", load, k.Rate, last)
		}
		last = k.Rate
	}
	for sag := 0.1; sag < 0.9; sag += 0.1 {
		k, err := RequiredRate(c, Target{Load: 1000, Sag: sag}, 0)
		require.NoError(t, err)
		if sag > 0.1 && !(k.Rate < last) {
			t.Errorf("sag %v: rate %v, not below %v", sag, k.Rate, last)
		}
		last = k.Rate
	}
}

func TestMeasuredLoad(t *testing.T) {
	c := bent(t)
	law := linear(t, 79e3, 0.065, 1e-3)
	r, err := Settle(c, law, 520, 0)
	require.NoError(t, err)
	load, err := MeasuredLoad(c, law, r.Stroke)
	require.NoError(t, err)
	near(t, "load", float64(load), 520, 1e-11)
	for _, bad := range []units.Length{0, -1, 0.065, 1, units.Length(math.NaN())} {
		if _, err := MeasuredLoad(c, law, bad); cmp.Diff([]string{"measured_stroke"}, names(err)) != "" {
			t.Errorf("stroke %v: %v", bad, err)
		}
	}
	if _, err := MeasuredLoad(nil, nil, 1); cmp.Diff([]string{"curve", "law"}, names(err)) != "" {
		t.Errorf("nothing given: %v", err)
	}
}
