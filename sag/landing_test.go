package sag_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A linear spring and damper from x = 0 with speed v about the rest x_s = m·g/k:
// the fall stops where tan ω_d·t = −v·ω_d/(ω²·x_s − ζ·ω·v), at
// x = x_s + e^(−ζωt)·(−x_s·cos ω_d·t + (v − ζω·x_s)/ω_d·sin ω_d·t).
func TestLandingOnALinearDamperByHand(t *testing.T) {
	const load, k, full = 490.3325, 12e3, 0.3 // 50 kg
	c := constant(t, 1, full)
	law := linear(t, k, full, 0)
	omega, xs := math.Sqrt(k/50), load/k
	for _, zeta := range []float64{0, 0.05, 0.3, 0.7, 0.95} {
		for _, h := range []float64{0.01, 0.1, 0.35} {
			v := math.Sqrt(2 * g0 * h)
			wd := omega * math.Sqrt(1-zeta*zeta)
			at := math.Atan2(v*wd, zeta*omega*v-omega*omega*xs) / wd
			x := xs + math.Exp(-zeta*omega*at)*(-xs*math.Cos(wd*at)+(v-zeta*omega*xs)/wd*math.Sin(wd*at))
			l, err := land(c, law, load, sag.Drop{Height: units.Length(h), Damping: units.Damping(2 * zeta * math.Sqrt(k*50))})
			require.NoError(t, err)
			what := fmt.Sprintf("ζ %v, h %v: ", zeta, h)
			near(t, what+"travel", float64(l.Travel), x, 1e-9)
			near(t, what+"time", float64(l.Time), at, 1e-8)
			near(t, what+"force", float64(l.Force), k*x, 1e-9)
			near(t, what+"height", float64(l.Height), h, 1e-15)
			near(t, what+"used", l.Used, x/full, 1e-9)
			if l.Bottoms || l.EnergyLeft != 0 || l.PeakForce < l.Force {
				t.Errorf("%s%+v", what, l)
			}
			if zeta == 0 {
				near(t, what+"peak", float64(l.PeakForce), k*x, 1e-9)
			}
		}
	}
}

// An invented air shock behind a constant ratio of 2.5: one chamber of 45 mm
// bore, 190 cm³ and 998 kPa absolute in 98 kPa of air, exponent 1.4, 60 mm.
func landingAir(t testing.TB) (*linkage.Curve, spring.Law) {
	law, err := airspring.New(airspring.Spec{Bore: 0.045, Travel: 0.06, PositiveVolume: 190e-6, Ambient: 98e3, Exponent: 1.4, Fill: 900e3})
	require.NoError(t, err)
	return constant(t, 2.5, 0.15), law
}

// Expected values: the same equation by Taylor series at 30 digits (mpmath
// 1.2.1, odefun), its stop by root search, the peak by ternary search.
func TestLandingOnAirAgainstTaylorSeries(t *testing.T) {
	c, law := landingAir(t)
	for _, test := range []struct {
		load                      units.Force
		drop                      sag.Drop
		travel, work, time, force float64
		peak                      float64 // 0: not looked at
		left                      float64 // 0: it stops
	}{
		{600, sag.Drop{Height: 0.05, Damping: 350}, 0.082086510918669406, 19.340340057937546, 0.16344611475285553, 933.3013059572291, 997.204740148234, 0},   // the peak is on the way
		{600, sag.Drop{Height: 0.02, Damping: 0}, 0.085960880492413269, 0, 0.19992541385751651, 958.78366934784468, 958.783669347845, 0},                     // at the end
		{600, sag.Drop{Height: 0, Damping: 350}, 0.011134589512986514, 0.11541297085691685, 0.47818600880042175, 607.24132201199541, 610.219442267214, 0},    // just let down
		{600, sag.Drop{Height: 0.1, Damping: 2500}, 0.032133550817221772, 59.199744386985215, 0.094155408625606482, 682.24408525348165, 4073.74255973417, 0}, // at the start
		{900, sag.Drop{Height: 1.2, Damping: 500}, 0.15, 334.55476463884617, 0.033725602501483301, 0, 0, 737.20906578229314},
	} {
		l, err := land(c, law, test.load, test.drop)
		require.NoError(t, err)
		what := fmt.Sprintf("%+v: ", test.drop)
		near(t, what+"travel", float64(l.Travel), test.travel, 1e-9)
		near(t, what+"work", float64(l.DamperWork), test.work, 1e-8)
		near(t, what+"time", float64(l.Time), test.time, 1e-8)
		near(t, what+"left", float64(l.EnergyLeft), test.left, 1e-9)
		if l.Bottoms != (test.left > 0) {
			t.Errorf("%sbottoms: %v", what, l.Bottoms)
		}
		if test.force > 0 {
			near(t, what+"force", float64(l.Force), test.force, 1e-9)
		}
		if test.peak > 0 {
			near(t, what+"peak", float64(l.PeakForce), test.peak, 1e-9)
		}
	}
}

// The time to full travel and what is left there: 50 kg fall through 0.3 m on
// 1 N/mm from 5 m, x = v/ω·sin ωt + x_s·(1 − cos ωt), and ½·m·v² is what the fall
// gave less ½·k·x².
func TestLandingBottomsByHand(t *testing.T) {
	const load, k, full, height = 490.3325, 1e3, 0.3, 5.0
	l, err := land(constant(t, 1, full), linear(t, k, full, 0), load, sag.Drop{Height: height})
	require.NoError(t, err)
	omega, xs, v := math.Sqrt(k/50), load/k, math.Sqrt(2*9.80665*height)
	x := func(at float64) float64 { return v/omega*math.Sin(omega*at) + xs*(1-math.Cos(omega*at)) }
	near(t, "full travel at the time", x(float64(l.Time)), full, 1e-9)
	near(t, "energy left", float64(l.EnergyLeft), load*(height+full)-k*full*full/2, 1e-9)
	near(t, "force", float64(l.Force), k*full, 1e-12)
	near(t, "peak", float64(l.PeakForce), k*full, 1e-9)
	if !l.Bottoms || l.Travel != full || l.Used != 1 || l.DamperWork != 0 {
		t.Errorf("%+v", l)
	}
}

// A spring that ends before the curve's travel does is used up there: 40 mm of
// stroke behind a ratio of 2.5 are 100 mm of 150.
func TestLandingOnAShortSpring(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 10e3, 0.04, 0)
	l, err := land(c, law, 500, sag.Drop{Height: 1})
	require.NoError(t, err)
	near(t, "travel", float64(l.Travel), 0.1, 1e-12)
	near(t, "used", l.Used, 0.1/0.15, 1e-12)
	near(t, "force", float64(l.Force), 10e3*0.04/2.5, 1e-12)
	// load·(h + x) less ½·k·x² with k = 1.6 N/mm.
	near(t, "energy left", float64(l.EnergyLeft), 500*1.1-1.6e3*0.01/2, 1e-9)
	if !l.Bottoms {
		t.Errorf("%+v", l)
	}
}

// Far overdamped, it creeps to where it stands.
func TestLandingCreepsToItsRest(t *testing.T) {
	l, err := land(constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 0), 600, sag.Drop{Damping: 15 * sag.DampingFor(1, 80e3/6.25, 600)})
	require.NoError(t, err)
	near(t, "travel", float64(l.Travel), 600*6.25/80e3, 1e-7)
}

// From just overdamped to the most that is permitted, every fall ends, at rest where it is let down.
func TestEveryPermittedDampingEndsTheFall(t *testing.T) {
	end := made(newLoaded().end())
	for i := range 40 {
		damping := units.Damping(0.9+float64(i)/2) * sag.DampingFor(1, units.Stiffness(80e3/6.25), 600)
		for _, drop := range []sag.Drop{{Damping: damping}, {Height: 0.3, Damping: damping}} {
			for _, tolerance := range []float64{1e-11, 1e-9, 1e-5} {
				l, err := end.LandWithin(600, drop, tolerance)
				require.NoError(t, err, "%v to %v", drop, tolerance)
				require.Positive(t, l.Travel)
			}
		}
	}
}

// Let down on a spring whose preload pushes with just its load, or with more, the
// wheel stays at full extension; with less, it goes down. 2 mm of 80 N/mm are
// 160 N, 64 N at the wheel behind a ratio of 2.5. A push is never less than 0.
func TestLandingHeldByPreload(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 0.002)
	wheel, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	held := wheel.Force(0)
	near(t, "held", float64(held), 64, 1e-12)
	for load, damping := range map[units.Force]units.Damping{held: 0, held / 2: 0, 60: 100} {
		l, err := land(c, law, load, sag.Drop{Damping: damping})
		require.NoError(t, err)
		if want := (sag.Landing{Force: held, PeakForce: held}); l != want {
			t.Errorf("%v: %+v, want %+v", load, l, want)
		}
	}
	l, err := land(c, law, held*1.01, sag.Drop{})
	require.NoError(t, err)
	near(t, "travel", float64(l.Travel), 2*0.64/12.8e3, 1e-6) // twice the sag: energy
	if l.Height != 0 || l.Bottoms {
		t.Errorf("%+v", l)
	}
	// From any height it goes down.
	l, err = land(c, law, held/2, sag.Drop{Height: 1e-6})
	require.NoError(t, err)
	if !(l.Travel > 0) || l.Height != 1e-6 {
		t.Errorf("%+v", l)
	}
}

// Forces a million times as small, of load, spring and damper alike, leave travel and
// time as they are, and make every force and energy a million times as small.
func TestLandingScales(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	for _, drop := range []sag.Drop{{Height: 0.05, Damping: 600}, {Height: 0.02, Damping: 350}, {Damping: 900}} {
		l, err := land(c, linear(t, 80e3, 0.06, 1e-3), 600, drop)
		require.NoError(t, err)
		small, err := land(c, linear(t, 80e-3, 0.06, 1e-3), 600e-6, sag.Drop{Height: drop.Height, Damping: drop.Damping * 1e-6})
		require.NoError(t, err)
		near(t, "travel", float64(small.Travel), float64(l.Travel), 1e-9)
		near(t, "time", float64(small.Time), float64(l.Time), 1e-7)
		near(t, "force", float64(small.Force), float64(l.Force)*1e-6, 1e-9)
		near(t, "peak", float64(small.PeakForce), float64(l.PeakForce)*1e-6, 1e-9)
		near(t, "work", float64(small.DamperWork), float64(l.DamperWork)*1e-6, 1e-8)
		if !(l.PeakForce > l.Force*1.001) {
			t.Errorf("%+v: the peak is at the end, and shows nothing", drop)
		}
	}
}

// Each bad field is named once: the load, a height that is not from 0 to 1000 m, and a
// damping of more than twenty times the critical one of the mean wheel rate, by hand
// 2·√(12.8 N/mm · load/g₀). A damping is not held against an end that is bad.
func TestLandRefuses(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 0)
	most := 20 * 2 * math.Sqrt(12.8e3*600/9.80665)
	// If the load is more than the spring pushes at full travel, the mean rate is what
	// would carry it there: 20 N/mm under 3000 N over 150 mm.
	heavy := 20 * 2 * math.Sqrt(3000/0.15*3000/9.80665)
	nan := math.NaN()
	for _, test := range []struct {
		name            string
		curve           *linkage.Curve
		law             spring.Law
		load            units.Force
		height, damping float64
		want            []string
	}{
		{"nothing", nil, nil, 0, 0, 0, []string{"load", "curve", "law"}},
		{"NaN", c, law, units.Force(nan), nan, nan, []string{"load", "height", "damping"}},
		{"negative", c, law, -600, -1, -1, []string{"load", "height", "damping"}},
		{"a thousand metres", c, law, 600, 1000, 0, nil},
		{"a little more", c, law, 600, justAbove(1000), 0, []string{"height"}},
		{"twenty times critical", c, law, 600, 0.1, most * (1 - 1e-12), nil},
		{"more", c, law, 600, 0.1, most * (1 + 1e-12), []string{"damping"}},
		{"twenty times critical of a heavy load", c, law, 3000, 0.1, heavy * (1 - 1e-12), nil},
		{"more of it", c, law, 3000, 0.1, heavy * (1 + 1e-12), []string{"damping"}},
		{"a load below 1 N", c, law, 0.5, 0.1, 0, nil},
		{"no load", c, law, 0, 0.1, 1e9, []string{"load"}},
		{"no curve", nil, law, 600, 0.1, 1e9, []string{"curve"}},
		{"no law and no damping", c, nil, 600, 0.1, nan, []string{"damping", "law"}},
	} {
		l, err := land(test.curve, test.law, test.load, sag.Drop{Height: units.Length(test.height), Damping: units.Damping(test.damping)})
		if test.want == nil {
			named(t, test.name, err)
		} else {
			refused(t, test.name, l, err, test.want...)
		}
	}
}

// torn is a law that is not a number around a third of its travel, between the travels at which laws are
// checked.
type torn struct{ spring.Law }

func (l torn) Force(x units.Length) units.Force {
	if part := float64(x / l.Travel()); part > 0.34 && part < 0.35 {
		return units.Force(math.NaN())
	}
	return l.Law.Force(x)
}

// No step is short enough to go through such a law, and the landing has no end.
func TestLandingThatDoesNotEndIsRefused(t *testing.T) {
	l, err := land(constant(t, 2.5, 0.15), torn{linear(t, 80e3, 0.06, 0)}, 600, sag.Drop{Height: 0.3, Damping: 100})
	refused(t, "torn", l, err, "damping")
	require.ErrorIs(t, err, motion.ErrUnbounded)
	require.ErrorContains(t, err, "a damping with which the fall ends")
}

// Whatever the drop, there is a landing of finite numbers, or an error that names a field.
func FuzzLand(f *testing.F) {
	f.Add(500.0, 0.3, 400.0, 80e3, 0.001)
	f.Add(5.0, 0.0, 0.0, 80e3, 0.0)
	f.Add(5000.0, 1000.0, 1e4, 1e3, 0.01)
	f.Add(1e-3, 1e-9, 1e-6, 1e6, 0.0)
	f.Fuzz(func(t *testing.T, load, height, damping, rate, preload float64) {
		law, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: 0.06, Preload: units.Length(preload)})
		if err != nil || rate > 1e8 || preload > 1 {
			return
		}
		c := constant(t, 2.5, 0.15)
		l, err := land(c, law, units.Force(load), sag.Drop{Height: units.Length(height), Damping: units.Damping(damping)})
		if !answered(t, "landing", l, err) {
			return
		}
		for _, v := range []float64{float64(l.Travel), l.Used, float64(l.Force), float64(l.PeakForce), float64(l.DamperWork), float64(l.Time), float64(l.EnergyLeft)} {
			if !(v >= 0) {
				t.Fatalf("%+v", l)
			}
		}
	})
}

// A wider tolerance says the same to within itself, times the steps; one that says little is refused.
func TestToleranceOfALandingIsItsError(t *testing.T) {
	end := made(newLoaded().end())
	exact, err := end.Land(600, sag.Drop{Height: 0.2, Damping: 400})
	require.NoError(t, err)
	for _, tolerance := range []float64{1e-12, 1e-9, 1e-6, 1e-4} {
		l, err := end.LandWithin(600, sag.Drop{Height: 0.2, Damping: 400}, tolerance)
		require.NoError(t, err)
		if off := math.Abs(l.Used - exact.Used); off > 50*tolerance+1e-10 || tolerance == 1e-6 && off == 0 {
			t.Errorf("%v: %v, not %v", tolerance, l.Used, exact.Used)
		}
	}
	for _, tolerance := range []float64{0, justBelow(1e-12), justAbove(1e-4), math.NaN()} {
		_, err := end.LandWithin(600, sag.Drop{Height: 0.2}, tolerance)
		named(t, fmt.Sprint(tolerance), err, "tolerance")
	}
}

// The undamped drop of ExampleEnd_Land to a ten-thousandth of the travel: by hand 140.1 mm.
func ExampleEnd_LandWithin() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 200 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 12 * units.NewtonPerMillimetre, Travel: 200 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	l, err := sag.End{Curve: curve, Law: coil}.LandWithin((50 * units.Kilogram).Weight(), sag.Drop{Height: 100 * units.Millimetre}, 1e-6)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f\n", l.Travel)
	// Output: 140.1 mm
}

func BenchmarkLand(b *testing.B) { // budget: 1 ms; computed only where a job asks for it
	c, law := landingAir(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := land(c, law, 600, sag.Drop{Height: 0.05, Damping: 350}); err != nil {
			b.Fatal(err)
		}
	}
}

// By hand: 2·√(10 000 N/m · 40 kg) = 1264.911 N·s/m. Outside its range it is 0, see
// TestFrequencyAndDampingOutsideAreZero.
func TestDampingForARatio(t *testing.T) {
	weight := units.Force(40 * g0)
	near(t, "critical", float64(sag.DampingFor(1, 10e3, weight)), 1264.9110640673518, 1e-14)
	near(t, "a quarter", float64(sag.DampingFor(0.25, 10e3, weight)), 316.22776601683795, 1e-14)
	near(t, "back", sag.DampingRatio(sag.DampingFor(0.25, 10e3, weight), 10e3, weight), 0.25, 1e-14)
	near(t, "at the shock", float64(sag.DampingAtShock(300, 2.5)), 1875, 1e-14)
}
