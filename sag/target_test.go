package sag_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// The rate, the preload and the fill that a target requires put the end on the target.
// A coil's rate is proportional to the load, on any linkage. It falls with a higher
// target wherever the ratio rises by less than in step with stroke and preload; so does
// a fill.
func TestRequiredPutsEveryEndOnTarget(t *testing.T) {
	eachEnd(t, 403, 250, func(t *testing.T, r lot, e *drawnEnd) {
		target := sag.Target{Load: units.Force(r.between(200, 1500)), Sag: r.between(0.1, 0.5)}
		preload := units.Length(r.between(0, 3) * milli)
		k, err := sag.RequiredRate(e.curve, target, preload)
		require.NoError(t, err)
		law := made(spring.NewLinear(spring.Linear{Rate: k.Rate, Travel: e.curve.Stroke(), Preload: preload}))
		if least, _ := made(linkage.AtWheel(e.curve, law)).MinRate(); least > 0 {
			rest := made(settle(e.curve, law, target.Load, 0))
			near(t, "sag of the rate", rest.Sag, target.Sag, 1e-10)
			near(t, "stroke of the rate", float64(k.Stroke), float64(rest.Stroke), 1e-10)
		}
		back, err := sag.RequiredPreload(e.curve, target, k.Rate)
		if err != nil || math.Abs(float64(back-preload)) > 1e-13 {
			t.Errorf("preload %v, %v, want %v", back, err, preload)
		}
		double := made(sag.RequiredRate(e.curve, sag.Target{Load: 2 * target.Load, Sag: target.Sag}, preload))
		near(t, "rate for twice the load", float64(double.Rate), 2*float64(k.Rate), 1e-14)
		lr, slope := e.curve.LeverRatio(k.Stroke), float64(e.curve.LeverRatioSlope(k.Stroke))
		if slope*float64(k.Stroke+preload) < 0.99*lr {
			if deeper := made(sag.RequiredRate(e.curve, sag.Target{Load: target.Load, Sag: target.Sag * (1 + 1e-6)}, preload)); !(deeper.Rate < k.Rate) {
				t.Errorf("a deeper target takes %v after %v", deeper.Rate, k.Rate)
			}
		}
		if e.spec == nil {
			return
		}
		fill, err := sag.RequiredFill(e.curve, target, *e.spec)
		if err != nil {
			if f := units.Fields(err); len(f) != 1 || f[0].Field != "load" && f[0].Field != "sag" {
				t.Error(err)
			}
			return // a fill of nothing may be more than the load already
		}
		spec := *e.spec
		spec.Fill = fill
		air := made(airspring.New(spec))
		if least, _ := made(linkage.AtWheel(e.curve, air)).MinRate(); least > 0 {
			near(t, "sag of the fill", made(settle(e.curve, air, target.Load, 0)).Sag, target.Sag, 1e-9)
		}
		if spec.SecondVolume > 0 {
			return // where it joins in near the target, two fills may carry the load
		}
		if deeper, err := sag.RequiredFill(e.curve, sag.Target{Load: target.Load, Sag: target.Sag + 1e-6}, *e.spec); slope <= 0 && (err != nil || !(deeper < fill)) {
			t.Errorf("a deeper target takes %v after %v, %v", deeper, fill, err)
		}
		if heavier := made(sag.RequiredFill(e.curve, sag.Target{Load: target.Load * 1.01, Sag: target.Sag}, *e.spec)); !(heavier > fill) {
			t.Errorf("a heavier load takes %v after %v", heavier, fill)
		}
	})
}

// Every bad field of target and spring is named at once, the zero Curve among them.
func TestRequiredRefuses(t *testing.T) {
	good := sag.Target{Load: 400, Sag: 0.2}
	for _, test := range []struct {
		name string
		err  error
		want []string
	}{
		{"rate", second(sag.RequiredRate(nil, sag.Target{}, -1)), []string{"curve", "load", "sag", "preload"}},
		{"preload", second(sag.RequiredPreload(new(linkage.Curve), sag.Target{Load: 1, Sag: 1}, 0)), []string{"curve", "sag", "rate"}},
		{"fill", second(sag.RequiredFill(nil, sag.Target{Load: units.Force(math.Inf(1)), Sag: math.NaN()}, airspring.Spec{})),
			[]string{"curve", "load", "sag", "bore", "travel", "positive_volume", "ambient", "exponent"}},
		{"a good spring without a curve", second(sag.RequiredFill(nil, good, tube())), []string{"curve"}},
	} {
		named(t, test.name, test.err, test.want...)
	}
}

// tube is an invented fork chamber without a negative one.
func tube() airspring.Spec {
	return airspring.Spec{Bore: 0.034, Travel: 0.16, PositiveVolume: 190e-6, Ambient: airspring.SeaLevel, Exponent: 1}
}

// A target that no fill meets is the load's or the sag's fault, with the reason of
// [airspring.FillFor].
func TestRequiredFillNamesLoadOrSag(t *testing.T) {
	fork := made(linkage.NewFork(linkage.Fork{HeadAngle: 65.5 * units.Degree, Travel: 0.16}))
	dual, short, staged, none := tube(), tube(), tube(), tube()
	dual.Shaft, dual.NegativeVolume, dual.PortTravel = 0.01, 20e-6, 0.03
	short.Travel = 0.1
	staged.SecondVolume, staged.SecondFill = 50e-6, 12e5
	none.Bore = 0
	for _, test := range []struct {
		name   string
		target sag.Target
		spec   airspring.Spec
		want   string
		class  error
	}{
		{"a load too small for any fill", sag.Target{Load: 5, Sag: 0.2}, tube(), "load", airspring.ErrNoFill},
		{"a load too large for any fill", sag.Target{Load: 1e6, Sag: 0.2}, tube(), "load", airspring.ErrFillBeyond},
		{"a load whose force no float64 holds", sag.Target{Load: 1.79e308, Sag: 0.2}, tube(), "load", airspring.ErrFillBeyond},
		{"the same in two stages", sag.Target{Load: 1e6, Sag: 0.2}, staged, "load", airspring.ErrFillBeyond},
		{"a sag where more air pulls in harder", sag.Target{Load: 400, Sag: 0.001}, dual, "sag", airspring.ErrFillPullsIn},
		{"a sag beyond the spring's travel", sag.Target{Load: 400, Sag: 0.9}, short, "sag", units.ErrConflict},
		{"no bore", sag.Target{Load: 400, Sag: 0.2}, none, "bore", units.ErrRange},
	} {
		fill, err := sag.RequiredFill(fork, test.target, test.spec)
		refused(t, test.name, fill, err, test.want)
		if !errors.Is(err, test.class) {
			t.Errorf("%s: %v is not %v", test.name, err, test.class)
		}
	}
}

// An answer that no float64 holds is the load's fault, whichever way it goes.
func TestRequiredBeyondFloat64(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	inf := sag.Target{Load: 1e308, Sag: 0.3}
	little := sag.Target{Load: 1e-20, Sag: 0.3}
	rate, err := sag.RequiredRate(c, inf, 0)
	refused(t, "a rate without end", rate, err, "load")
	rate, err = sag.RequiredRate(c, little, 1e308)
	refused(t, "a rate of nothing", rate, err, "load")
	preload, err := sag.RequiredPreload(c, inf, 1)
	refused(t, "a preload without end", preload, err, "load")
	preload, err = sag.RequiredPreload(c, sag.Target{Load: 600, Sag: 0.3}, -1)
	refused(t, "no rate", preload, err, "rate")
	// Next to nothing is a number: 2.5·10⁻²⁰ N over 18 mm, and less than nothing to press.
	rate, err = sag.RequiredRate(c, little, 0)
	require.NoError(t, err)
	near(t, "rate", float64(rate.Rate), 2.5e-20/0.018, 1e-12)
	preload, err = sag.RequiredPreload(c, little, 0.5)
	require.NoError(t, err)
	near(t, "preload", float64(preload), -0.018, 1e-12)
}

func TestSagIsFromAMillionthToBelowOne(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	for _, test := range []struct {
		sag  float64
		want []string
	}{{1e-6, nil}, {justBelow(1e-6), []string{"sag"}}, {0, []string{"sag"}}, {justBelow(1), nil}, {1, []string{"sag"}}, {0.9999, nil}} {
		_, err := sag.RequiredRate(c, sag.Target{Load: 0.5, Sag: test.sag}, 0)
		named(t, "sag", err, test.want...)
	}
}

// ratios is a curve of three points whose ratio goes from one number to another.
func ratios(start, end float64, travel units.Length) (*linkage.Curve, error) {
	mean := (start + end) / 2
	stroke := travel / units.Length(mean)
	return linkage.NewTable(linkage.Table{
		Stroke: []units.Length{0, stroke / 2, stroke},
		Travel: []units.Length{0, stroke / 2 * units.Length((start+mean)/2), travel},
		Method: linkage.Monotone,
	})
}

// The rate, the preload and the fill that are required put the bike on its target when
// it is settled on them, or a field is named.
func FuzzRequired(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 600.0, 0.30, 0.002, 80e3, 0.036, 100e-6, 1.0, 20.0)
	f.Add(2.4, 3.0, 0.150, 600.0, 0.30, 0.0, 120e3, 0.036, 100e-6, 1.35, 0.0)
	f.Add(1e3, 1e-3, 1e3, 1e300, 1.0, 1e300, 1e-300, 1.0, 1e-9, 2.0, math.Inf(1))
	f.Add(math.NaN(), -1.0, 0.0, math.NaN(), math.NaN(), -1.0, 0.0, 0.0, 0.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, start, end, travel, load, share, preload, rate, bore, volume, exponent, friction float64) {
		c, err := ratios(start, end, units.Length(travel))
		if err != nil {
			answered(t, "curve", nil, err)
			c = nil
		}
		target := sag.Target{Load: units.Force(load), Sag: share}
		onTarget := func(what string, law spring.Law) {
			t.Helper()
			wheel, err := linkage.AtWheel(c, law)
			if !answered(t, what+" at the wheel", nil, err) {
				return
			}
			rising, _ := wheel.MinRate() // where the wheel force falls there is no one rest
			r, err := settle(c, law, target.Load, units.Force(friction))
			if !settled(t, what+" settled", r, err) {
				if rising > 0 && share > 1e-6 && share < 1-1e-6 && len(units.Fields(err)) == 0 {
					t.Fatalf("%s: wanted at sag %v: %v", what, share, err)
				}
				return
			}
			if rising > 0 && math.Abs(r.Sag-share) > 1e-6 {
				t.Fatalf("%s: rests at sag %v, wanted %v", what, r.Sag, share)
			}
			if rising > 0 && !(r.TravelLow <= r.Travel && r.Travel <= r.TravelHigh && r.StrokeLow <= r.Stroke && r.Stroke <= r.StrokeHigh) {
				t.Fatalf("%s: band %+v", what, r)
			}
			steps, err := working(sag.End{Curve: c, Law: law}, target.Load)
			if err != nil {
				t.Fatalf("%s: settles, but has no working: %v", what, err)
			}
			answered(t, what+" working", steps, nil)
		}
		k, err := sag.RequiredRate(c, target, units.Length(preload))
		if answered(t, "rate", k, err) && answered(t, "the target's working", target.Working(c), nil) {
			if !(k.Rate > 0) {
				t.Fatalf("rate %v", k.Rate)
			}
			if law, err := spring.NewLinear(spring.Linear{Rate: k.Rate, Travel: c.Stroke(), Preload: units.Length(preload)}); err == nil && units.Length(preload) < c.Stroke() {
				onTarget("rate", law)
			}
		}
		p, err := sag.RequiredPreload(c, target, units.Stiffness(rate))
		if answered(t, "preload", p, err) {
			if law, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: c.Stroke(), Preload: p}); err == nil && p < c.Stroke() {
				onTarget("preload", law)
			}
		}
		spec := airspring.Spec{Bore: units.Length(bore), PositiveVolume: units.Volume(volume), Ambient: units.StandardAtmosphere, Exponent: exponent}
		if c != nil {
			spec.Travel = c.Stroke()
		}
		fill, err := sag.RequiredFill(c, target, spec)
		if answered(t, "fill", fill, err) {
			spec.Fill = fill
			law, err := airspring.New(spec)
			if err != nil {
				t.Fatalf("a fill of %v is refused: %v", float64(fill), err)
			}
			onTarget("fill", law)
		}
	})
}
