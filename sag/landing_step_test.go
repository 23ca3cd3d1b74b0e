package sag

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// One step of Dormand and Prince's method over a linear equation y′ = M·y is the
// polynomial R(hM) of M, and its error R − R̂, with
//
//	R(z)     = 1 + z + z²/2 + z³/6 + z⁴/24 + z⁵/120 + z⁶/600
//	R − R̂(z) = −97/120000·z⁵ + 13/40000·z⁶ − z⁷/24000
//
// The first is in textbooks (from memory); both come out of the published
// coefficients in exact fractions too.
func TestLandingStepIsDormandPrince(t *testing.T) {
	const load, k, damping, full, h = 490.3325, 12e3, 900.0, 0.3, 0.013 // 50 kg
	wheel, err := linkage.AtWheel(constant(t, 1, full), linear(t, k, full, 0))
	require.NoError(t, err)
	f := fall{wheel: wheel, load: load, damping: damping, full: full}
	at := motion{0.11, 1.7, 3}
	// About its rest: x′ = v, v′ = −k/m·x − c/m·v.
	x, v := at.travel-load/k, at.speed
	poly := func(factors ...float64) (px, pv float64) {
		a, b := x, v
		for _, c := range factors {
			px, pv = px+c*a, pv+c*b
			a, b = h*b, h*(-k/50*a-damping/50*b)
		}
		return px, pv
	}
	px, pv := poly(1, 1, 1./2, 1./6, 1./24, 1./120, 1./600)
	ex, ev := poly(0, 0, 0, 0, 0, -97./120000, 13./40000, -1./24000)
	f.scale = motion{1e-3, math.Inf(1), math.Inf(1)}
	next, off := f.step(at, h)
	near(t, "travel", next.travel-load/k, px, 1e-12)
	near(t, "speed", next.speed, pv, 1e-12)
	near(t, "error of travel", off, math.Abs(ex)/1e-3/1e-11, 1e-7)
	f.scale = motion{math.Inf(1), 2, math.Inf(1)}
	_, off = f.step(at, h)
	near(t, "error of speed", off, math.Abs(ev)/2/1e-11, 1e-7)
}

// The method is of order 5, and its error that of one of order 4: where the
// equation bends too, a step of half the length is at least 2⁶ times as
// near, and its error 2⁵ times as small. So is the work c·∫v² dt.
func TestLandingStepHasItsOrder(t *testing.T) {
	c, law := landingAir(t)
	wheel, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	f := fall{wheel: wheel, load: 600, damping: 700, full: 0.15}
	at := motion{0.06, 1.1, 0}
	exact := func(h float64) motion {
		y := at
		for range 64 {
			y, _ = f.step(y, h/64)
		}
		return y
	}
	components := func(m motion) [3]float64 { return [3]float64{m.travel, m.speed, m.work} }
	inf := math.Inf(1)
	for i, scale := range []motion{{1, inf, inf}, {inf, 1, inf}, {inf, inf, 1}} {
		f.scale = scale
		var apart, off [2]float64
		for j, h := range []float64{0.008, 0.004} {
			var y motion
			y, off[j] = f.step(at, h)
			apart[j] = math.Abs(components(y)[i] - components(exact(h))[i])
		}
		if order := math.Log2(apart[0] / apart[1]); !(order > 5.5) {
			t.Errorf("component %d: order %.2f of one step, %v", i, order, apart)
		}
		if order := math.Log2(off[0] / off[1]); !(order > 4.5 && order < 5.7) {
			t.Errorf("component %d: order %.2f of its error, %v", i, order, off)
		}
	}
}

// The bounds of a drop: from 0 to 1000 m, damped up to twenty times the critical
// damping of the mean wheel rate, by hand 2·√(12.8 N/mm · load/g₀).
func TestLandingAtItsLimits(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 0)
	most := 20 * 2 * math.Sqrt(12.8e3*600/9.80665)
	for _, test := range []struct {
		load units.Force
		drop Drop
		want []string
	}{
		{600, Drop{1000, 0}, nil},
		{600, Drop{units.Length(justAbove(1000)), 0}, []string{"height"}},
		{600, Drop{0.1, Damping(most * (1 - 1e-12))}, nil},
		{600, Drop{0.1, Damping(most * (1 + 1e-12))}, []string{"damping"}},
		{0.5, Drop{0.1, 0}, nil},
		{0, Drop{0.1, 1e9}, []string{"load"}},
		{600, Drop{-0.1, -1}, []string{"height", "damping"}},
	} {
		l, err := NewLanding(c, law, test.load, test.drop)
		refusedIf(t, fmt.Sprint(test), l, err, test.want...)
	}
	// Twenty times to the last place is no more than that, and a load of less than 1 N
	// has its own.
	wheel, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	for _, load := range []units.Force{0.5, 600} {
		most := 20 * DampingFor(1, meanRate(wheel, load), load)
		near(t, "most", float64(most), 20*2*math.Sqrt(12.8e3*float64(load)/9.80665), 1e-12)
		_, err = NewLanding(c, law, load, Drop{0.01, most})
		require.NoError(t, err)
		_, err = NewLanding(c, law, load, Drop{0.01, Damping(justAbove(float64(most)))})
		named(t, "damping", err, "damping")
	}
	// Where the load is more than the spring pushes at full travel, the mean rate is
	// what would carry it there: 20 N/mm under 3000 N over 150 mm.
	most = 20 * 2 * math.Sqrt(3000/0.15*3000/9.80665)
	l, err := NewLanding(c, law, 3000, Drop{0.1, Damping(most * (1 - 1e-12))})
	require.NoError(t, err)
	if !l.Bottoms {
		t.Errorf("%+v", l)
	}
	_, err = NewLanding(c, law, 3000, Drop{0.1, Damping(most * (1 + 1e-12))})
	named(t, "damping", err, "damping")
}

// refusedIf is refused, where something is wanted of the error.
func refusedIf[T comparable](t *testing.T, what string, got T, err error, want ...string) {
	t.Helper()
	if want == nil {
		named(t, what, err)
		return
	}
	refused(t, what, got, err, want...)
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
	for _, load := range []units.Force{held, held / 2} {
		l, err := NewLanding(c, law, load, Drop{})
		require.NoError(t, err)
		if want := (Landing{Force: held, PeakForce: held}); l != want {
			t.Errorf("%v: %+v, want %+v", load, l, want)
		}
	}
	l, err := NewLanding(c, law, held*1.01, Drop{})
	require.NoError(t, err)
	near(t, "travel", float64(l.Travel), 2*0.64/12.8e3, 1e-6) // twice the sag: energy
	if l.Height != 0 || l.Bottoms {
		t.Errorf("%+v", l)
	}
	// From any height it goes down.
	l, err = NewLanding(c, law, held/2, Drop{Height: 1e-6})
	require.NoError(t, err)
	if !(l.Travel > 0) || l.Height != 1e-6 {
		t.Errorf("%+v", l)
	}
}

// The time to full travel and what is left there: 50 kg fall through 0.3 m on
// 1 N/mm from 5 m, x = v/ω·sin ωt + x_s·(1 − cos ωt), and ½·m·v² is what the fall
// gave less ½·k·x².
func TestLandingBottomsByHand(t *testing.T) {
	const load, k, full, height = 490.3325, 1e3, 0.3, 5.0
	l, err := NewLanding(constant(t, 1, full), linear(t, k, full, 0), load, Drop{Height: height})
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
	l, err := NewLanding(c, law, 500, Drop{Height: 1})
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

// What is wrong besides is told beside a damping that nothing can be held against.
func TestLandingTellsEachFaultOnce(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 0)
	nan := Damping(math.NaN())
	_, err := NewLanding(nil, law, 600, Drop{0.1, 1e9})
	named(t, "no curve", err, "curve")
	_, err = NewLanding(c, nil, 600, Drop{0.1, 300})
	named(t, "no law", err, "law")
	_, err = NewLanding(nil, nil, 600, Drop{0.1, nan})
	named(t, "nothing", err, "damping", "curve", "law")
	_, err = NewLanding(c, law, 600, Drop{0.1, nan})
	named(t, "no number", err, "damping")
	_, err = NewLanding(c, law, -600, Drop{0.1, 300})
	named(t, "no load", err, "load")
	_, err = NewLanding(c, law, 600, Drop{0.1, -1})
	named(t, "negative", err, "damping")
}

// A job's drop and damping at their limits, each taken and refused beyond.
func TestJobDampingAtItsLimits(t *testing.T) {
	for _, test := range []struct {
		e    EndJob
		want []string
	}{
		{EndJob{DropHeight: 1000}, nil},
		{EndJob{DropHeight: units.Length(justAbove(1000))}, []string{"drop_height"}},
		{EndJob{DampingRatio: 20}, nil},
		{EndJob{DampingRatio: justAbove(20)}, []string{"damping_ratio"}},
		{EndJob{Damping: 0.5, DampingRatio: 0.5}, []string{"damping_ratio"}},
		{EndJob{Damping: 0.5}, nil},
	} {
		var c units.Checker
		test.e.checkDamping(&c)
		named(t, fmt.Sprintf("%+v", test.e), c.Err(), test.want...)
	}
}

// A sheet's damping below 1 N·s/m is one, and so are a ratio and a drop of next to
// nothing; one of more than twenty times critical, by hand 2·√(12.8 N/mm · 57 kg) as
// in TestSheetLanding, is refused by the name that it has in the job.
func TestSheetDampingAtItsLimits(t *testing.T) {
	critical := 2 * math.Sqrt(12.8e3*57)
	for _, test := range []struct {
		change func(*EndJob)
		wheel  float64 // the damping at the wheel; 0 for none
		want   []string
	}{
		{func(e *EndJob) { e.Damping = 0.5 }, 0.5, nil},
		{func(e *EndJob) { e.DampingRatio = 0.01 }, 0.01 * critical, nil},
		{func(e *EndJob) {}, 0, nil},
		{func(e *EndJob) { e.Damping = Damping(20 * critical * (1 - 1e-9)) }, 20 * critical * (1 - 1e-9), nil},
		{func(e *EndJob) { e.Damping = Damping(20 * critical * (1 + 1e-9)) }, 0, []string{"rear.damping"}},
		{func(e *EndJob) { e.DampingRatio = 20 * (1 - 1e-9) }, 20 * critical * (1 - 1e-9), nil},
	} {
		j := plainJob(t)
		test.change(&j.Rear)
		s, err := NewSheet(j)
		named(t, "rear", err, test.want...)
		if err != nil {
			continue
		}
		if (s.Rear.Damping != nil) != (test.wheel > 0) || s.Rear.Landing != nil {
			t.Errorf("%+v, %+v", s.Rear.Damping, s.Rear.Landing)
		}
		if d := s.Rear.Damping; d != nil {
			near(t, "wheel", float64(d.Wheel), test.wheel, 1e-12)
			near(t, "shock", float64(d.Shock), test.wheel*6.25, 1e-12)
			near(t, "ratio", d.Ratio, test.wheel/critical, 1e-12)
		}
	}
	// To the last place.
	j := plainJob(t)
	rear := sheet(t, j).Rear
	_, wheel := rear.Wheel()
	most := 20 * DampingFor(1, meanRate(wheel, rear.Load), rear.Load)
	j.Rear.Damping = most
	near(t, "most", float64(sheet(t, j).Rear.Damping.Wheel), 20*critical, 1e-9)
	j.Rear.Damping = Damping(justAbove(float64(most)))
	_, err := NewSheet(j)
	named(t, "more", err, "rear.damping")
	j = plainJob(t)
	j.Rear.DropHeight = 0.01
	if s := sheet(t, j); s.Rear.Landing == nil || s.Rear.Landing.Height != 0.01 || s.Rear.Damping != nil {
		t.Errorf("%+v", s.Rear.Landing)
	}
}

// Forces a million times as small, of load, spring and damper alike, leave travel and
// time as they are, and make every force and energy a million times as small.
func TestLandingScales(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	for _, drop := range []Drop{{0.05, 600}, {0.02, 350}, {0, 900}} {
		l, err := NewLanding(c, linear(t, 80e3, 0.06, 1e-3), 600, drop)
		require.NoError(t, err)
		small, err := NewLanding(c, linear(t, 80e-3, 0.06, 1e-3), 600e-6, Drop{drop.Height, drop.Damping * 1e-6})
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

// What bottoms has used all of its travel, to the last place, from whatever height.
func TestLandingBottomsExactly(t *testing.T) {
	c, law := landingAir(t)
	wheel, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	for h := units.Length(1); h < 4; h += 0.1 {
		l, err := NewLanding(c, law, 900, Drop{h, 300})
		require.NoError(t, err)
		if !l.Bottoms || l.Travel != wheel.Travel() || l.Force != wheel.Force(wheel.Travel()) || l.Used != float64(wheel.Travel()/c.Travel()) {
			t.Errorf("%v: %+v", h, l)
		}
	}
}

// The error of a step is a size, of travel, speed and work alike, whichever way it goes.
func TestLandingStepErrorIsASize(t *testing.T) {
	c, law := landingAir(t)
	wheel, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	f := fall{wheel: wheel, load: 600, damping: 700, full: 0.15}
	inf := math.Inf(1)
	for _, scale := range []motion{{1, inf, inf}, {inf, 1, inf}, {inf, inf, 1}} {
		f.scale = scale
		for _, at := range []motion{{0.01, 3, 0}, {0.06, 1.1, 0}, {0.1, 0.2, 0}, {0.1, -1, 0}, {0.14, 2, 0}, {0.14, -2, 0}, {0.12, 0, 0}, {0.001, -1, 0}} {
			if _, off := f.step(at, 0.004); !(off > 0) {
				t.Errorf("%+v of %+v: an error of %v", at, scale, off)
			}
		}
	}
}
