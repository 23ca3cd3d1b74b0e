package sag

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A linear spring and damper from x = 0 with speed v about the rest x_s = m·g/k:
// the fall stops where tan ω_d·t = −v·ω_d/(ω²·x_s − ζ·ω·v), at
// x = x_s + e^(−ζωt)·(−x_s·cos ω_d·t + (v − ζω·x_s)/ω_d·sin ω_d·t).
func TestLandingLinear(t *testing.T) {
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
			l, err := NewLanding(c, law, load, Drop{Height: units.Length(h), Damping: Damping(2 * zeta * math.Sqrt(k*50))})
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
func TestLandingAir(t *testing.T) {
	c, law := landingAir(t)
	for _, test := range []struct {
		load                      units.Force
		drop                      Drop
		travel, work, time, force float64
		peak                      float64 // 0: not looked at
		left                      float64 // 0: it stops
	}{
		{600, Drop{0.05, 350}, 0.082086510918669406, 19.340340057937546, 0.16344611475285553, 933.3013059572291, 997.204740148234, 0},   // the peak is on the way
		{600, Drop{0.02, 0}, 0.085960880492413269, 0, 0.19992541385751651, 958.78366934784468, 958.783669347845, 0},                     // at the end
		{600, Drop{0, 350}, 0.011134589512986514, 0.11541297085691685, 0.47818600880042175, 607.24132201199541, 610.219442267214, 0},    // just let down
		{600, Drop{0.1, 2500}, 0.032133550817221772, 59.199744386985215, 0.094155408625606482, 682.24408525348165, 4073.74255973417, 0}, // at the start
		{900, Drop{1.2, 500}, 0.15, 334.55476463884617, 0.033725602501483301, 0, 0, 737.20906578229314},
	} {
		l, err := NewLanding(c, law, test.load, test.drop)
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

// Energy is kept: load·(h + x) = E(x) + the damper's work + what is left, over
// laws that bend, jump in rate and pull in; and undamped the drop that just uses
// the travel is Reserve's.
func TestLandingKeepsEnergy(t *testing.T) {
	c, air := landingAir(t)
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.17})
	require.NoError(t, err)
	pulls, err := airspring.New(airspring.Spec{Bore: 0.037, Shaft: 0.01, Travel: 0.17, PositiveVolume: 280e-6, NegativeVolume: 40e-6, PortTravel: 0.01,
		Ambient: 98e3, Exponent: 1.3, Fill: 600e3})
	require.NoError(t, err)
	groups, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{{Rate: 120e3, Gap: 0.02}, {Rate: 100e3, Gap: 0.07}}})
	require.NoError(t, err)
	for _, bike := range []struct {
		name  string
		curve *linkage.Curve
		law   spring.Law
	}{{"air shock", c, air}, {"fork", fork, pulls}, {"groups on a table", bent(t), groups}} {
		wheel, err := linkage.AtWheel(bike.curve, bike.law)
		require.NoError(t, err)
		r, err := NewReserve(bike.curve, bike.law, 500)
		require.NoError(t, err)
		last := units.Length(1)
		for _, damping := range []Damping{0, 100, 400, 1500, 6000} {
			l, err := NewLanding(bike.curve, bike.law, 500, Drop{Height: r.DropHeight * 0.6, Damping: damping})
			require.NoError(t, err)
			what := fmt.Sprintf("%s, %v: ", bike.name, damping)
			near(t, what+"energy", float64(wheel.Energy(l.Travel)+l.DamperWork+l.EnergyLeft), 500*float64(r.DropHeight*0.6+l.Travel), 1e-9)
			if l.Bottoms || !(l.Travel < last*(1+1e-9)) { // overdamped, both creep to their rest
				t.Errorf("%smore damping, yet %v after %v", what, l.Travel, last)
			}
			last = l.Travel
		}
		under, err := NewLanding(bike.curve, bike.law, 500, Drop{Height: r.DropHeight * (1 - 1e-7)})
		require.NoError(t, err)
		over, err := NewLanding(bike.curve, bike.law, 500, Drop{Height: r.DropHeight * (1 + 1e-7)})
		require.NoError(t, err)
		if under.Bottoms || !over.Bottoms || !(under.Used > 0.999) || over.Travel != wheel.Travel() {
			t.Errorf("%s: %v, then %v", bike.name, under, over)
		}
	}
}

func TestLandingAtRest(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	// 2 mm of preload hold 160 N, 64 N at the wheel: a load of 60 N let down stays up.
	l, err := NewLanding(c, linear(t, 80e3, 0.06, 2e-3), 60, Drop{Damping: 100})
	require.NoError(t, err)
	near(t, "force", float64(l.Force), 64, 1e-12)
	if l.Travel != 0 || l.DamperWork != 0 || l.Bottoms {
		t.Errorf("held by preload, yet %+v", l)
	}
	// Far overdamped, it creeps to where it stands.
	l, err = NewLanding(c, linear(t, 80e3, 0.06, 0), 600, Drop{Damping: 15 * DampingFor(1, 80e3/6.25, 600)})
	require.NoError(t, err)
	near(t, "travel", float64(l.Travel), 600*6.25/80e3, 1e-7)
}

func TestLandingRefuses(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	law := linear(t, 80e3, 0.06, 2e-3)
	nan := math.NaN()
	for _, test := range []struct {
		name  string
		curve *linkage.Curve
		law   spring.Law
		load  units.Force
		drop  Drop
		want  []string
	}{
		{"nothing", nil, nil, 0, Drop{}, []string{"load", "curve", "law"}},
		{"NaN", c, law, units.Force(nan), Drop{units.Length(nan), Damping(nan)}, []string{"load", "height", "damping"}},
		{"negative", c, law, 500, Drop{-1, -1}, []string{"height", "damping"}},
		{"out of the sky", c, law, 500, Drop{1001, 0}, []string{"height"}},
		{"set in concrete", c, law, 500, Drop{1, 1e6}, []string{"damping"}},
	} {
		_, err := NewLanding(test.curve, test.law, test.load, test.drop)
		if diff := cmp.Diff(test.want, names(err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// The sheet's landing is NewLanding's for what the sheet recommends, with the
// damping that the job states, either way.
func TestSheetLanding(t *testing.T) {
	j := plainJob(t)
	if s := sheet(t, j); s.Rear.Damping != nil || s.Rear.Landing != nil {
		t.Error("nobody asked for a drop")
	}
	// By hand: 80 N/mm behind 2.5 is 12.8 N/mm at the wheel, under 57 kg.
	critical := 2 * math.Sqrt(12.8e3*57)
	j.Rear.DampingRatio, j.Rear.DropHeight = 0.25, 0.05
	s := sheet(t, j)
	near(t, "at the wheel", float64(s.Rear.Damping.Wheel), 0.25*critical, 1e-12)
	near(t, "at the shock", float64(s.Rear.Damping.Shock), 0.25*critical*6.25, 1e-12)
	near(t, "ratio", s.Rear.Damping.Ratio, 0.25, 1e-12)
	want, err := NewLanding(curveOf(t, j.Rear), linear(t, 80e3, 0.06, 1e-3), s.Rear.Load, Drop{0.05, s.Rear.Damping.Wheel})
	require.NoError(t, err)
	if diff := cmp.Diff(&want, s.Rear.Landing); diff != "" || want.Bottoms {
		t.Errorf("landing (-want +got):\n%s", diff)
	}
	j.Rear.DampingRatio, j.Rear.Damping = 0, s.Rear.Damping.Wheel
	if again := sheet(t, j); cmp.Diff(s.Rear.Landing, again.Rear.Landing) != "" || s.Front.Landing != nil {
		t.Errorf("by coefficient %+v", again.Rear.Landing)
	}
	// Undamped from 0.5 m it bottoms, and the sheet says so.
	j.Rear.Damping, j.Rear.DropHeight = 0, 0.5
	s = sheet(t, j)
	if !s.Rear.Landing.Bottoms || s.Rear.Damping != nil || !strings.Contains(strings.Join(codes(s), "\n"), "rear drop_bottoms") {
		t.Errorf("landing %+v, warnings %v", s.Rear.Landing, codes(s))
	}
	// An air fork lands on its fast law.
	a := readJob(t, jobText)
	a.Front.DropHeight = 0.1
	s = sheet(t, a)
	_, fast := s.Front.Wheel()
	l := s.Front.Landing
	near(t, "energy", float64(fast.Energy(l.Travel)), float64(s.Front.Load)*float64(0.1+l.Travel), 1e-9)

	for _, test := range []struct {
		change func(*EndJob)
		want   []string
	}{
		{func(e *EndJob) { e.Damping, e.DampingRatio, e.DropHeight = -1, -1, -1 }, []string{"rear.damping", "rear.damping_ratio", "rear.drop_height"}},
		{func(e *EndJob) { e.Damping, e.DampingRatio = 300, 0.3 }, []string{"rear.damping_ratio"}},
		{func(e *EndJob) { e.Damping = 1e6 }, []string{"rear.damping"}},
		{func(e *EndJob) { e.DampingRatio = 21 }, []string{"rear.damping_ratio"}},
		{func(e *EndJob) { e.DropHeight = units.Length(math.NaN()) }, []string{"rear.drop_height"}},
	} {
		j := readJob(t, jobText)
		j.Rear.Coil, j.Rear.Air = nil, &AirChoice{Spec: airspring.Spec{Bore: 0.045, Travel: 0.065, PositiveVolume: 190e-6, Shaft: 0.01, NegativeVolume: 8e-6, PortTravel: 0.004, Exponent: 1.4}, MaxFill: 4e6}
		test.change(&j.Rear)
		_, err := NewSheet(j)
		if diff := cmp.Diff(test.want, names(err)); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
}

// FuzzLanding: whatever the drop, there is a landing of finite numbers that
// keeps the energy, or an error that names a field.
func FuzzLanding(f *testing.F) {
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
		l, err := NewLanding(c, law, units.Force(load), Drop{units.Length(height), Damping(damping)})
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		for _, v := range []float64{float64(l.Travel), l.Used, float64(l.Force), float64(l.PeakForce), float64(l.DamperWork), float64(l.Time), float64(l.EnergyLeft)} {
			if !(v >= 0 && v < math.MaxFloat64) {
				t.Fatalf("%+v", l)
			}
		}
	})
}

func BenchmarkNewLanding(b *testing.B) { // budget: 1 ms; computed only where a job asks for it
	c, law := landingAir(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewLanding(c, law, 600, Drop{0.05, 350}); err != nil {
			b.Fatal(err)
		}
	}
}
