package motion_test

import (
	"errors"
	"fmt"
	"log"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func linear(t testing.TB, b motion.TwoEnds) *motion.Linear {
	t.Helper()
	l, err := b.Linearise()
	require.NoError(t, err)
	return l
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
		modes := linear(t, bike).Modes()
		require.Len(t, modes, 2)
		inertia := m * test.gyration * test.gyration
		p := (kf+kr)/m + (test.a*test.a*kf+test.b*test.b*kr)/inertia
		q := ((kf+kr)*(test.a*test.a*kf+test.b*test.b*kr) - math.Pow(test.a*kf-test.b*kr, 2)) / (m * inertia)
		for i, sign := range []float64{-1, 1} {
			near(t, "frequency", float64(modes[i].Frequency), math.Sqrt((p+sign*math.Sqrt(p*p-4*q))/2)/(2*math.Pi), 1e-10)
			within(t, "damping", modes[i].Damping, 0, 1e-10)
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
		Rear:  motion.Corner{Spring: coil(t, 2.5, k, 0, 0.2), Damper: damper(t, motion.DamperSpec{Damping: c * 2.5 * 2.5})},
	}
	l := linear(t, bike)
	part := m * a / base
	own := math.Sqrt(k / part)
	zeta := c / (2 * part * own)
	for _, f := range []float64{0, 0.1, 1, 2, 2.3, 5, 20} {
		r, err := l.Response(units.Frequency(f), 0.2)
		require.NoError(t, err)
		x := 2 * math.Pi * f / own
		want := math.Sqrt((1 + math.Pow(2*zeta*x, 2)) / (math.Pow(1-x*x, 2) + math.Pow(2*zeta*x, 2)))
		what := fmt.Sprintf("%v Hz: ", f)
		near(t, what+"transmissibility", cmplx.Abs(r.RearBody), want, 1e-9)
		within(t, what+"load", cmplx.Abs(r.RearLoad), want*part*math.Pow(2*math.Pi*f, 2), 1e-6+1e-9*part*f*f*1e3)
		near(t, what+"the wheel is on the ground", cmplx.Abs(r.RearAxle), 1, 1e-12)
	}
	// Of a mode of that end.
	modes := l.Modes()
	near(t, "frequency", float64(modes[1].Frequency), own/(2*math.Pi), 1e-9)
	near(t, "damping", modes[1].Damping, zeta, 1e-9)
	// Without a damper there is a frequency without bound.
	bike.Rear.Damper, bike.Front.Damping = nil, 0
	l = linear(t, bike)
	if r, err := l.Response(units.Frequency(math.NaN()), 0); !errors.Is(err, motion.ErrSingular) || r != (motion.Response{}) {
		t.Errorf("%v, %v", r, err)
	}
}

// Ground of a small sine under both wheels, ridden until only its own frequency is left: places
// and loads are as the linear response says, in size and in phase. A wave of 0.2 mm lifts nothing.
func TestResponseIsThatOfTheRide(t *testing.T) {
	const f, size, delay = 3.7, 2e-4, 0.11
	bike := rider(t)
	bike.Rear.Spring = shock(t)
	omega := 2 * math.Pi * f
	under := func(delay float64) motion.Ground {
		return func(t float64) (units.Length, units.Speed) {
			sin, cos := math.Sincos(omega * (t - delay))
			return units.Length(size * cos), units.Speed(-size * omega * sin)
		}
	}
	want, err := linear(t, bike).Response(f, delay)
	require.NoError(t, err)
	rest, err := bike.Rest()
	require.NoError(t, err)
	restFront, restRear := bike.Forces(0, rest)
	bike.Front.Ground, bike.Rear.Ground = under(0), under(delay)
	s := solver(t, motion.Problem{Slope: bike.Slope, Scale: bike.Scale(), Tolerance: 1e-12})
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
	l := linear(t, bike)
	r, err := l.Response(0, 1)
	require.NoError(t, err)
	for _, v := range []complex128{r.Heave, r.FrontBody, r.RearBody, r.FrontAxle, r.RearAxle} {
		near(t, "slow", real(v), 1, 1e-10)
		within(t, "slow", imag(v), 0, 1e-10)
	}
	for _, v := range []complex128{r.Pitch, r.FrontLoad, r.RearLoad} {
		within(t, "slow", cmplx.Abs(v), 0, 1e-6)
	}
	require.Len(t, l.Modes(), 4)
	bike.Front.Damping, bike.Rear.Damping = 0, 0
	modes := linear(t, bike).Modes()
	require.Len(t, modes, 4)
	// The body hardly moves: √((k + k_t)/m_u), within what it does.
	near(t, "rear wheel", float64(modes[2].Frequency), math.Sqrt(119.5e3/4.1)/(2*math.Pi), 0.02)
	near(t, "front wheel", float64(modes[3].Frequency), math.Sqrt(97e3/3.2)/(2*math.Pi), 0.02)
	// Far overdamped, a motion falls apart into two that do not swing.
	bike.Front.Damping, bike.Rear.Damping = 20e3, 20e3
	modes = linear(t, bike).Modes()
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

// By hand: what was measured, straight between rest and the first sample where that is the only one,
// and straight on behind the last.
func TestDampers(t *testing.T) {
	d := damper(t, digressive)
	for sign, samples := range map[units.Speed][]motion.DamperSample{1: digressive.Compression, -1: digressive.Rebound} {
		for i, s := range samples {
			near(t, "as measured", float64(d.Force(sign*s.Speed)), float64(sign)*float64(s.Force), 1e-14)
			if i > 0 { // no overshoot in between
				mean := float64(d.Force(sign*(s.Speed+samples[i-1].Speed)/2)) * float64(sign)
				if !(mean > float64(samples[i-1].Force) && mean < float64(s.Force)) {
					t.Errorf("%v between %v and %v", mean, samples[i-1].Force, s.Force)
				}
			}
		}
		last := samples[len(samples)-1]
		slope := float64(d.Damping(sign * last.Speed))
		near(t, "straight on", float64(d.Force(sign*2*last.Speed)), float64(sign)*(float64(last.Force)+slope*float64(last.Speed)), 1e-12)
		near(t, "slope behind", float64(d.Damping(sign*3*last.Speed)), slope, 1e-12)
	}
	within(t, "at rest", float64(d.Force(0)), 0, 1e-12)
	for v := units.Speed(-0.7); v < 1.2; v += 0.01 {
		const h = 1e-6
		within(t, "slope", float64(d.Damping(v)), float64(d.Force(v+h)-d.Force(v-h))/(2*h), 0.05)
	}
	l := damper(t, motion.DamperSpec{Damping: 350})
	near(t, "linear", float64(l.Force(-2)), -700, 0)
	near(t, "linear", float64(l.Damping(7)), 350, 0)
	one := damper(t, motion.DamperSpec{Compression: []motion.DamperSample{{1, 500}}, Rebound: []motion.DamperSample{{1, 500}}})
	near(t, "one sample each", float64(one.Force(0.3)), 150, 1e-12)
	fields := func(spec motion.DamperSpec) (list []string) {
		d, err := motion.NewDamper(spec)
		require.Equal(t, err == nil, d != nil)
		for _, f := range units.Fields(err) {
			list = append(list, f.Field)
		}
		return list
	}
	nan := units.Speed(math.NaN())
	ok := []motion.DamperSample{{1, 500}}
	require.Equal(t, []string{"damping"}, fields(motion.DamperSpec{Damping: -1}))
	require.Equal(t, []string{"damping"}, fields(motion.DamperSpec{Damping: 1, Compression: ok, Rebound: ok}))
	require.Equal(t, []string{"rebound"}, fields(motion.DamperSpec{Compression: ok}))
	require.Equal(t, []string{"compression"}, fields(motion.DamperSpec{Rebound: ok}))
	require.Equal(t, []string{"compression[0].speed", "compression[1].force", "rebound[1].speed", "rebound[2].force"}, fields(motion.DamperSpec{
		Compression: []motion.DamperSample{{nan, 1}, {2, -1}},
		Rebound:     []motion.DamperSample{{1, 100}, {1, 200}, {2, 150}, {3, 200}},
	}))
	require.Equal(t, []string{"compression[0].speed", "compression[0].force"}, fields(motion.DamperSpec{Compression: []motion.DamperSample{{1001, 2e9}}, Rebound: ok}))
}

// Front and rear as one mass each on 5 N/mm, 40 kg with the damping of 0.3 of critical: they swing
// at √(5000/40)/2π Hz.
func ExampleTwoEnds_Linearise() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	law, err := spring.NewLinear(spring.Linear{Rate: 5 * units.NewtonPerMillimetre, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	wheel, err := linkage.AtWheel(curve, law)
	if err != nil {
		log.Fatal(err)
	}
	end := motion.Corner{Spring: wheel, Damping: 268.328}
	bike := motion.TwoEnds{Mass: 80, Gyration: 0.6, Ahead: 0.6, Behind: 0.6, Front: end, Rear: end}
	l, err := bike.Linearise()
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range l.Modes() {
		fmt.Printf("%.3f, %.2f of critical\n", m.Frequency, m.Damping)
	}
	r, err := l.Response(10, 0)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("at 10 Hz the body follows %.0f %% of the ground\n", 100*cmplx.Abs(r.Heave))
	// Output:
	// 1.779 Hz, 0.30 of critical
	// 1.779 Hz, 0.30 of critical
	// at 10 Hz the body follows 11 % of the ground
}

// A damper as it was measured on a dynamometer, invented here.
func ExampleNewDamper() {
	d, err := motion.NewDamper(motion.DamperSpec{
		Compression: []motion.DamperSample{{Speed: 0.1, Force: 200}, {Speed: 0.3, Force: 400}},
		Rebound:     []motion.DamperSample{{Speed: 0.1, Force: 400}, {Speed: 0.3, Force: 900}},
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f, %.0f\n", d.Force(0.3), d.Force(-100*units.MillimetrePerSecond))
	// Output: 400 N, -400 N
}
