package main

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func straight(t testing.TB, b motion.TwoEnds) *linear {
	t.Helper()
	l, err := linearise(&b)
	require.NoError(t, err)
	return l
}

// coil is a linear spring of that rate, preload force and travel behind a constant ratio, all at
// the wheel.
func coil(t testing.TB, ratio float64, rate units.Stiffness, preload units.Force, travel units.Length) *linkage.WheelLaw {
	t.Helper()
	law, err := spring.NewLinear(spring.Linear{
		Rate: rate * units.Stiffness(ratio*ratio), Travel: travel / units.Length(ratio),
		Preload: units.Length(float64(preload) / float64(rate) / ratio),
	})
	require.NoError(t, err)
	return behind(t, law, linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: travel}})
}

// shock is an invented air shock behind a rising lever ratio.
func shock(t testing.TB) *linkage.WheelLaw {
	t.Helper()
	law, err := airspring.New(airspring.Spec{Bore: 0.045, Travel: 0.06, PositiveVolume: 190e-6, Ambient: 98e3, Exponent: 1.4, Fill: 900e3})
	require.NoError(t, err)
	return behind(t, law, linkage.Spec{Table: &linkage.Table{
		Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.054, 0.103, 0.149},
	}})
}

func behind(t testing.TB, law spring.Law, spec linkage.Spec) *linkage.WheelLaw {
	t.Helper()
	curve, err := linkage.New(spec)
	require.NoError(t, err)
	wheel, err := linkage.AtWheel(curve, law)
	require.NoError(t, err)
	return wheel
}

// off checks that got is within by of want.
func off(t testing.TB, what string, got, want, by float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Abs(by))
}

// rider is an invented bike with its dampers at the wheel.
func rider(t testing.TB) motion.TwoEnds {
	return motion.TwoEnds{
		Mass: 82, Gyration: 0.42, Ahead: 0.68, Behind: 0.52,
		Front: motion.Corner{Spring: coil(t, 1, 7e3, 60, 0.16), Stops: 150e3, Damping: 420, Unsprung: 3.2, Tyre: 90e3},
		Rear:  motion.Corner{Spring: coil(t, 2.5, 9.5e3, 90, 0.15), Stops: 170e3, Damping: 560, Unsprung: 4.1, Tyre: 110e3},
	}
}

// On rigid wheels without dampers the frequencies are the roots of
//
//	(k_f + k_r − m·ω²)·(a²·k_f + b²·k_r − m·ρ²·ω²) = (a·k_f − b·k_r)²
//
// (from memory, as any text on vibrations has it). With ρ² = a·b the ends do not feel each other:
// each swings as its part of the mass, m·b/(a + b) and m·a/(a + b), on its own spring.
func TestFrequenciesOfHeaveAndPitch(t *testing.T) {
	const kf, kr, m = 7e3, 9.5e3, 82.0
	for _, test := range []struct{ a, b, gyration float64 }{{0.68, 0.52, 0.42}, {0.5, 0.7, 0.6}, {0.68, 0.52, math.Sqrt(0.68 * 0.52)}} {
		bike := motion.TwoEnds{
			Mass: m, Gyration: units.Length(test.gyration), Ahead: units.Length(test.a), Behind: units.Length(test.b),
			Front: motion.Corner{Spring: coil(t, 1, kf, 0, 0.2)}, Rear: motion.Corner{Spring: coil(t, 2.5, kr, 0, 0.2)},
		}
		modes := straight(t, bike).modes()
		require.Len(t, modes, 2)
		inertia := m * test.gyration * test.gyration
		p := (kf+kr)/m + (test.a*test.a*kf+test.b*test.b*kr)/inertia
		q := ((kf+kr)*(test.a*test.a*kf+test.b*test.b*kr) - math.Pow(test.a*kf-test.b*kr, 2)) / (m * inertia)
		for i, sign := range []float64{-1, 1} {
			near(t, "frequency", float64(modes[i].Frequency), math.Sqrt((p+sign*math.Sqrt(p*p-4*q))/2)/(2*math.Pi), 1e-10)
			off(t, "damping", modes[i].Damping, 0, 1e-10)
		}
		if test.gyration == math.Sqrt(test.a*test.b) {
			base := test.a + test.b
			near(t, "front alone", float64(modes[0].Frequency), math.Sqrt(kf/(m*test.b/base))/(2*math.Pi), 1e-9)
			near(t, "rear alone", float64(modes[1].Frequency), math.Sqrt(kr/(m*test.a/base))/(2*math.Pi), 1e-9)
		}
	}
}

// A mass on spring and damper over a rigid wheel follows the ground by
// √((1 + (2ζr)²)/((1 − r²)² + (2ζr)²)), r the frequency over its own (from memory, as any text
// on vibrations has it). The load on the wheel varies as the mass is accelerated. With ρ² = a·b
// each end is such a mass.
func TestTransmissibilityOfOneMass(t *testing.T) {
	const k, c, m, base, a = 9.5e3, 300.0, 82.0, 1.2, 0.68
	b := base - a
	bike := motion.TwoEnds{
		Mass: m, Gyration: units.Length(math.Sqrt(a * b)), Ahead: a, Behind: units.Length(b),
		Front: motion.Corner{Spring: coil(t, 1, 7e3, 0, 0.2), Damping: 200},
		Rear:  motion.Corner{Spring: coil(t, 2.5, k, 0, 0.2), Damper: linearDamper(c * 2.5 * 2.5)},
	}
	l := straight(t, bike)
	part := m * a / base
	own := math.Sqrt(k / part)
	zeta := c / (2 * part * own)
	for _, f := range []float64{0, 0.1, 1, 2, 2.3, 5, 20} {
		r, err := l.response(units.Frequency(f), 0.2)
		require.NoError(t, err)
		x := 2 * math.Pi * f / own
		want := math.Sqrt((1 + math.Pow(2*zeta*x, 2)) / (math.Pow(1-x*x, 2) + math.Pow(2*zeta*x, 2)))
		what := fmt.Sprintf("%v Hz: ", f)
		near(t, what+"transmissibility", cmplx.Abs(r.RearBody), want, 1e-9)
		off(t, what+"load", cmplx.Abs(r.RearLoad), want*part*math.Pow(2*math.Pi*f, 2), 1e-6+1e-9*part*f*f*1e3)
		near(t, what+"the wheel is on the ground", cmplx.Abs(r.RearAxle), 1, 1e-12)
	}
	// Of a mode of that end.
	modes := l.modes()
	near(t, "frequency", float64(modes[1].Frequency), own/(2*math.Pi), 1e-9)
	near(t, "damping", modes[1].Damping, zeta, 1e-9)
	// Without a damper there is a frequency without bound.
	bike.Rear.Damper, bike.Front.Damping = nil, 0
	l = straight(t, bike)
	if r, err := l.response(units.Frequency(math.NaN()), 0); !errors.Is(err, errSingular) || r != (response{}) {
		t.Errorf("%v, %v", r, err)
	}
}

// Ground of a small sine under both wheels, ridden until only its own frequency is left: places
// and loads are as the linear response says, in size and in phase. A wave of 0.2 mm lifts nothing.
func TestResponseIsThatOfTheRide(t *testing.T) {
	const f, size, delay = 3.7, 2e-4, 0.11
	bike := rider(t)
	bike.Rear.Spring, bike.Rear.Damping, bike.Rear.Damper = shock(t), 0, linearDamper(560*2.5*2.5)
	omega := 2 * math.Pi * f
	under := func(delay float64) motion.Ground {
		return func(t float64) (units.Length, units.Speed) {
			sin, cos := math.Sincos(omega * (t - delay))
			return units.Length(size * cos), units.Speed(-size * omega * sin)
		}
	}
	want, err := straight(t, bike).response(f, delay)
	require.NoError(t, err)
	rest, err := bike.Rest()
	require.NoError(t, err)
	restFront, restRear := bike.Forces(0, rest)
	bike.Front.Ground, bike.Rear.Ground = under(0), under(delay)
	s, err := motion.NewSolver(motion.Problem{Slope: bike.Slope, Scale: bike.Scale(), Tolerance: 1e-12})
	require.NoError(t, err)
	s.Start(0, rest, 1e-3)
	for s.Step(5) {
	}
	// Fourier's integral over one period, by the trapezium rule, which is exact for a few harmonics.
	const n = 64
	var got [6]complex128
	for i := range n {
		at := 5 + float64(i)/n/f
		for s.Step(at) {
		}
		y := s.State()
		front, rear := bike.Forces(at, y)
		turn := cmplx.Exp(complex(0, -omega*at)) * complex(2.0/n/size, 0)
		for j, v := range [6]float64{y[motion.Heave] - rest[motion.Heave], y[motion.Pitch] - rest[motion.Pitch], y[motion.FrontAxle] - rest[motion.FrontAxle],
			y[motion.RearAxle] - rest[motion.RearAxle], float64(front.Ground - restFront.Ground), float64(rear.Ground - restRear.Ground)} {
			got[j] += complex(v, 0) * turn
		}
	}
	for j, w := range [6]complex128{want.Heave, want.Pitch, want.FrontAxle, want.RearAxle, want.FrontLoad, want.RearLoad} {
		if off := cmplx.Abs(got[j] - w); !(off < 2e-3*cmplx.Abs(w)) {
			t.Errorf("%d: %v, want %v", j, got[j], w)
		}
	}
	if !(cmplx.Abs(want.FrontLoad) > 1000 && cmplx.Abs(want.RearLoad) > 1000) {
		t.Errorf("the loads vary by %v and %v N/m, and show nothing", want.FrontLoad, want.RearLoad)
	}
}

// Slow ground lifts the bike as it is, and under both wheels at once does not pitch it. The
// heaviest modes are the wheels on their tyres.
func TestLimitsOfTheResponse(t *testing.T) {
	bike := rider(t)
	l := straight(t, bike)
	r, err := l.response(0, 1)
	require.NoError(t, err)
	for _, v := range []complex128{r.Heave, r.FrontBody, r.RearBody, r.FrontAxle, r.RearAxle} {
		near(t, "slow", real(v), 1, 1e-10)
		off(t, "slow", imag(v), 0, 1e-10)
	}
	for _, v := range []complex128{r.Pitch, r.FrontLoad, r.RearLoad} {
		off(t, "slow", cmplx.Abs(v), 0, 1e-6)
	}
	require.Len(t, l.modes(), 4)
	bike.Front.Damping, bike.Rear.Damping = 0, 0
	modes := straight(t, bike).modes()
	require.Len(t, modes, 4)
	// The body hardly moves: √((k + k_t)/m_u), within what it does.
	near(t, "rear wheel", float64(modes[2].Frequency), math.Sqrt(119.5e3/4.1)/(2*math.Pi), 0.02)
	near(t, "front wheel", float64(modes[3].Frequency), math.Sqrt(97e3/3.2)/(2*math.Pi), 0.02)
	// Far overdamped, a motion falls apart into two that do not swing.
	bike.Front.Damping, bike.Rear.Damping = 20e3, 20e3
	modes = straight(t, bike).modes()
	slow := 0
	for _, m := range modes {
		if m.Damping > 0.999 {
			slow++
		}
	}
	if slow < 2 || len(modes) < 5 {
		t.Errorf("%+v", modes)
	}
}

// A spring that is too weak, and rests in its stop, has the stop's rate.
func TestResponseInTheStop(t *testing.T) {
	bike := rider(t)
	bike.Rear.Spring = coil(t, 2.5, 1e3, 0, 0.15)
	modes := straight(t, bike).modes()
	near(t, "rear wheel", float64(modes[len(modes)-1].Frequency), math.Sqrt((170e3+110e3)/4.1)/(2*math.Pi), 0.04) // the body gives way a little
}
