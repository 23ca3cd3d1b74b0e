package visit_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// twoRates is 62.07 N/mm up to 1000 N, at 16.11 mm, and 90 N/mm from there to 70 mm: above 1000 N it
// pushes with 90·(x − 5 mm).
func twoRates() *law.Spec {
	return &law.Spec{DualRate: &spring.DualRate{SoftRate: 200e3, MainRate: 90e3, SoftTravel: 5 * milli, MainTravel: 65 * milli}}
}

// varyingEnd is coilEnd with that spring.
func varyingEnd() visit.Setting {
	s := coilEnd()
	s.Coil.Rate, s.Coil.Spec, s.Coil.ThreadPitch = 0, twoRates(), 0
	return s
}

// hardening pushes with 60·x + x², in N and mm, up to 70 mm.
type hardening struct{}

func (hardening) Travel() units.Length { return 0.07 }
func (h hardening) Force(x units.Length) units.Force {
	x = spring.Clamp(x, h.Travel())
	return units.Force(60e3*x + 1e6*x*x)
}
func (h hardening) Rate(x units.Length) units.Stiffness {
	return units.Stiffness(60e3 + 2e6*spring.Clamp(x, h.Travel()))
}
func (h hardening) Energy(x units.Length) units.Energy {
	x = spring.Clamp(x, h.Travel())
	return units.Energy(30e3*x*x + 1e6*x*x*x/3)
}

// By hand: 600 N at the wheel are 1500 N at 16.8 mm of stroke. Two rates carry them at
// 5 + 1500/90 = 21.67 mm, with 4.87 mm of preload; at the 2 mm that are set they carry
// 90·(18.8 − 5) = 1242 N there. What hardens carries them where 60·x + x² = 1500, at
// √2400 − 30 = 18.99 mm, and 60·18.8 + 18.8² = 1481.44 N at what is set.
func TestSpringOfVaryingRateIsCorrectedByHand(t *testing.T) {
	own := varyingEnd()
	own.Coil.Spec, own.Coil.Law = nil, hardening{}
	for _, test := range []struct {
		name         string
		s            visit.Setting
		wanted, held float64 // compression in mm, and the force at 18.8 mm of it
	}{
		{"two rates", varyingEnd(), 5 + 1500/90.0, 1242},
		{"hardening", own, math.Sqrt(2400) - 30, 1481.44},
	} {
		a, err := corrected(test.s, 600)
		require.NoError(t, err, test.name)
		near(t, test.name, float64(a.Coil.Preload), (test.wanted-16.8)*milli, 1e-9)
		near(t, test.name+", change", float64(a.Coil.PreloadChange), (test.wanted-18.8)*milli, 1e-8)
		near(t, test.name+", sag then", a.Coil.Rest.Sag, 0.28, 1e-9)
		near(t, test.name+", rate that would do", float64(a.Coil.NewRate), 1500/18.8e-3, 1e-12)
		near(t, test.name+", less what is fitted", float64(a.Coil.RateChange), (1500-test.held)/18.8e-3, 1e-9)
		e := stands(t, test.s.With(a))
		near(t, test.name+", force there", float64(e.Law.Force(0.0168)), 1500, 1e-9)
	}
	// As it is set, two rates rest at 5 + 1500/90 − 2 mm; read at 18 mm they carry 90·(20 − 5) N.
	s := varyingEnd()
	rest, _, err := stands(t, s).SettleWithin(600)
	require.NoError(t, err)
	near(t, "rest as set", float64(rest.Stroke), (3+1500/90.0)*milli, 1e-9)
	load, err := visit.Reading{Stroke: 18 * milli, Error: milli}.ImpliedLoad(stands(t, s))
	require.NoError(t, err)
	near(t, "implied load", float64(load.Load), 90*15/2.5, 1e-9)
	// Solid at 50 mm of compression, and so at 48 mm of stroke.
	s.Coil.SolidTravel = 50 * milli
	near(t, "travel", float64(stands(t, s).Law.Travel()), 48*milli, 1e-12)
}

// By hand, for 600 N predicted and 18 mm ± 1 mm read: from 1460 N at 19 mm of stroke to 1540 N at 17 mm.
// The spring gives 90·16 = 1440 N and 90·14 = 1260 N there, so that it is 1460/1440 to 1540/1260 times as
// hard; up to the target, 1242 N at 18.8 mm. Or it carries them at 5 + 1460/90 and 5 + 1540/90 mm.
func TestSpringOfVaryingRateIsExplainedByHand(t *testing.T) {
	by := explained(t, varyingEnd(), 600, readings(1, 18)...)
	rate, preload := by[visit.CauseRate], by[visit.CausePreload]
	near(t, "stated", number(rate.Stated), 1242/18.8e-3, 1e-9)
	near(t, "rate", number(rate.Needed), 1242/18.8e-3*1460/1440, 1e-9)
	near(t, "rate at most", number(rate.High), 1242/18.8e-3*1540/1260, 1e-9)
	near(t, "relative", rate.Relative, 20/1440.0, 1e-9)
	near(t, "preload", number(preload.Needed), (5+1460/90.0-19)*milli, 1e-9)
	near(t, "preload at most", number(preload.High), (5+1540/90.0-17)*milli, 1e-9)
	if !strings.Contains(rate.Text, "rate up to the target") {
		t.Error(rate.Text)
	}
	// Harder by just that, the spring explains the reading.
	s := varyingEnd()
	s.Coil.Spec, s.Coil.Law = nil, fit.ShelfSpring{Spec: twoRates()}.Scaled(1460/1440.0+1e-9).Law
	if still := explained(t, s, 600, readings(1, 18)...); len(still) != 0 {
		t.Errorf("%+v", still)
	}
}

// A record of such a spring reads back as it was written, and one of a law of one's own is not written.
func TestRecordKeepsASpringOfVaryingRate(t *testing.T) {
	job := recordJob()
	rear := *job.Rear
	rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 60e3}, {Spec: twoRates(), SolidTravel: 66 * milli}}, Collar: fit.Collar{PreloadMax: 6 * milli}}
	job.Rear = &rear
	s, err := setup.NewSheet(job)
	require.NoError(t, err)
	require.Equal(t, 1, s.Rear.Spring().Index)
	r, err := visit.NewRecord("2026-11-25", job, s)
	require.NoError(t, err)
	near(t, "stroke at rest", float64(arrive(t, r, sag.Rear).Left.Rest.Stroke), float64(s.Rear.Rest.Stroke), 1e-9)
	if text := r.Rear.Text(); !strings.HasPrefix(text, "spring 62.069 N/mm to 90 N/mm over 66 mm, ") {
		t.Error(text)
	}
	var out bytes.Buffer
	_, err = r.WriteTo(&out)
	require.NoError(t, err)
	again, _, err := visit.ReadRecord(&out)
	require.NoError(t, err)
	if diff := cmp.Diff(r.Rear.Setting, again.Rear.Setting); diff != "" {
		t.Errorf("(-written +read):\n%s", diff)
	}
	if diff := cmp.Diff(r.Job.Rear.Coil, again.Job.Rear.Coil); diff != "" {
		t.Errorf("(-written +read):\n%s", diff)
	}
	coil := *r.Rear.Coil
	coil.Spec, coil.Law, coil.SolidTravel = nil, hardening{}, 0
	r.Rear.Coil = &coil
	rear.Coil.Springs[1] = fit.ShelfSpring{Law: hardening{}}
	_, err = r.WriteTo(&out)
	named(t, "own laws", err, "job.rear.coil.shelf[1].rate", "rear.coil.rate")
}

// Faults of a law are named below it, beside those of the preload.
func TestSettingRefusesLaws(t *testing.T) {
	for name, test := range map[string]struct {
		spoil func(c *visit.CoilSetting)
		want  []string
	}{
		"a rate beside it":         {func(c *visit.CoilSetting) { c.Rate = 80e3 }, []string{"coil.rate"}},
		"no kind":                  {func(c *visit.CoilSetting) { c.Spec = &law.Spec{}; c.Preload = -1 }, []string{"coil.law", "coil.preload"}},
		"a bad rate":               {func(c *visit.CoilSetting) { c.Spec.DualRate.MainRate = 0 }, []string{"coil.law.dual_rate.main_rate"}},
		"solid with its preload":   {func(c *visit.CoilSetting) { c.Preload = 70 * milli }, []string{"coil.preload"}},
		"solid below nothing":      {func(c *visit.CoilSetting) { c.SolidTravel = -1 }, []string{"coil.solid_travel"}},
		"less than the collar has": {func(c *visit.CoilSetting) { c.PreloadMin, c.PreloadMax = 3*milli, 4*milli }, []string{"coil.preload"}},
	} {
		s := varyingEnd()
		test.spoil(s.Coil)
		_, err := corrected(s, 600)
		named(t, name, err, test.want...)
	}
}

// After a ride a spring of two rates is offered harder or softer: by hand 90·(16.8 − 5) = 1062 N at the
// target without preload, 5 % more or less, or the next of a shelf.
func TestRideOffersASpringOfVaryingRate(t *testing.T) {
	const stated = 1062 / 16.8e-3
	rear := *recordJob().Rear
	rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 50e3}, {Rate: 60e3}, {Spec: twoRates()}, {Rate: 70e3}, {Rate: 80e3}}, Collar: fit.Collar{PreloadMax: 8 * milli}}
	job := recordJob()
	job.Rear = &rear
	for _, test := range []struct {
		stroke units.Length
		job    *setup.Job
		want   float64
	}{
		{60, nil, 1.05 * stated}, {42, nil, 0.95 * stated}, {60, &job, 70e3}, {42, &job, 60e3},
	} {
		r := rides(varyingEnd())
		r.Rear.Coil.PreloadMax, r.Job = 8*milli, test.job
		var offered visit.RideOption
		for _, o := range ridden(t, r, test.stroke, 1).Options {
			if o.Adjustment == visit.AdjustRate {
				offered = o
			}
		}
		near(t, "rate offered", float64(offered.Rate), test.want, 1e-9)
	}
}

// With spacers at hand nothing is said in turns but what the collar alone does.
func TestTurnsAreTheCollarsAlone(t *testing.T) {
	s := coilEnd()
	s.Coil.Rate = 70e3
	s.Coil.Collar = fit.Collar{PreloadMax: 2 * milli, ThreadPitch: milli, PreloadSpacers: []fit.PreloadSpacer{{Thickness: 3 * milli}}}
	a, err := corrected(s, 600)
	require.NoError(t, err)
	// 1500/70 − 16.8 = 4.63 mm: the spacer and 1.75 mm of the collar, by its quarter turns.
	near(t, "preload", float64(a.Coil.Preload), 4.75*milli, 1e-9)
	near(t, "turns", a.Coil.Turns, 1.75, 1e-9)
	if a.Coil.TurnsChange != 0 {
		t.Errorf("%g turns of change", a.Coil.TurnsChange)
	}
	if by := explained(t, s, 600, readings(1, 18)...); by[visit.CausePreload].Turns != 0 {
		t.Errorf("%+v", by[visit.CausePreload])
	}
	for _, text := range []string{a.Text(), s.Text()} {
		if strings.Contains(text, "turn") {
			t.Error(text)
		}
	}
}
