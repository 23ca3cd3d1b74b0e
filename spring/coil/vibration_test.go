package coil_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Computed with mpmath 1.3.0 at 50 digits from β·tan β = m/M, printed to 15.
// The end mass is the spring's over the ratio. Rayleigh's approximation, of the
// same source, is listed to show that it can be told apart.
func TestEndMassFrequency(t *testing.T) {
	for _, c := range []struct {
		springMass, ratio, rate          float64 // kg, m/M, N/m
		beta, exact, rayleigh, noneOfIts float64 // Hz
	}{
		{0.42, 0.02, 90000, 0.140951676373282, 10.384533377832, 10.3845790078794, 10.4191367706428},
		{0.42, 0.3, 45000, 0.521791176313584, 27.1830681586292, 27.2060835917299, 28.5339811950631},
		{0.6, 2.5, 30000, 1.14222685478235, 40.6497145659644, 41.5579791407994, 56.2697697598191},
	} {
		spec := coil.EndMass{Rate: units.Stiffness(c.rate), SpringMass: units.Mass(c.springMass), Mass: units.Mass(c.springMass / c.ratio)}
		got, err := coil.EndMassFrequency(spec)
		require.NoError(t, err)
		agree(t, fmt.Sprint("frequency for m/M = ", c.ratio), got.Hertz(), c.exact, 1e-13)
		agree(t, "β", got.Hertz()*2*math.Pi/math.Sqrt(c.rate/c.springMass), c.beta, 1e-13)
		if d := c.rayleigh/got.Hertz() - 1; !(d > 1e-6) {
			t.Errorf("Rayleigh is higher by %g", d)
		}
		spec.SpringMass = 0
		got, err = coil.EndMassFrequency(spec)
		require.NoError(t, err)
		agree(t, "frequency without the spring's mass", got.Hertz(), c.noneOfIts, 1e-13)
	}
}

// Without an end mass a spring swings at a quarter of √(k/m), by hand for
// 40 000 N/m and 0.4 kg: √(10⁵)/4 Hz. Ever smaller masses go there and, on the
// other side, to the massless spring, without a step.
func TestEndMassLimits(t *testing.T) {
	alone, err := coil.EndMassFrequency(coil.EndMass{Rate: 40000, SpringMass: 0.4})
	require.NoError(t, err)
	agree(t, "no end mass", alone.Hertz(), math.Sqrt(1e5)/4, 1e-14)
	for _, ratio := range []float64{0.99e-30, 1.01e-30, 0.99e30, 1.01e30} {
		got, err := coil.EndMassFrequency(coil.EndMass{Rate: 40000, SpringMass: 0.4, Mass: units.Mass(0.4 / ratio)})
		require.NoError(t, err)
		want := math.Sqrt(1e5) / 4
		if ratio < 1 {
			want = math.Sqrt(40000*ratio/0.4) / (2 * math.Pi)
		}
		agree(t, fmt.Sprint("m/M = ", ratio), got.Hertz(), want, 1e-12)
	}
	before := alone
	for end := units.Mass(1e-6); end < 1e6; end *= 3 {
		got, err := coil.EndMassFrequency(coil.EndMass{Rate: 40000, SpringMass: 0.4, Mass: end})
		require.NoError(t, err)
		if !(got < before) {
			t.Errorf("%v on the end do not slow it: %v after %v", end, got, before)
		}
		before = got
	}
}

func TestEndMassRefused(t *testing.T) {
	for _, v := range bad {
		_, err := coil.EndMassFrequency(coil.EndMass{Rate: units.Stiffness(v), SpringMass: -1, Mass: units.Mass(math.NaN())})
		refuses(t, err, "rate", "spring_mass", "mass")
	}
	_, err := coil.EndMassFrequency(coil.EndMass{Rate: 1})
	refuses(t, err, "mass")
	_, err = coil.EndMassFrequency(coil.EndMass{Rate: 1e300, Mass: 1e-300})
	refuses(t, err, "rate")
}

func FuzzEndMassFrequency(f *testing.F) {
	f.Add(90000.0, 0.42, 21.0)
	f.Add(1e-300, 1e300, 1e271)
	f.Fuzz(func(t *testing.T, k, m, end float64) {
		got, err := coil.EndMassFrequency(coil.EndMass{Rate: units.Stiffness(k), SpringMass: units.Mass(m), Mass: units.Mass(end)})
		if err != nil {
			named(t, "refused", err)
			return
		}
		if !(got > 0) || !finite(float64(got)) {
			t.Fatalf("%v Hz", float64(got))
		}
	})
}

// A mass of 1.4 kg on a spring of 45 N/mm that weighs 0.42 kg.
func ExampleEndMassFrequency() {
	f, err := coil.EndMassFrequency(coil.EndMass{
		Rate: 45 * units.NewtonPerMillimetre, SpringMass: 0.42 * units.Kilogram, Mass: 1.4 * units.Kilogram,
	})
	fmt.Printf("%.2f %v\n", f, err)
	// Output:
	// 27.18 Hz <nil>
}

func ExampleSpring_SurgeFrequency() {
	s := exampleCoil()
	f, _ := s.SurgeFrequency()
	m, _ := s.Mass()
	fmt.Printf("%.3f of spring surges at %.1f\n", m, f)
	// Output: 0.624 kg of spring surges at 338.5 Hz
}
