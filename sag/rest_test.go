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

// By hand: k(s + p) = load·LR, so s = load·LR/k − p and w = LR·s.
func TestSettleBehindAConstantRatio(t *testing.T) {
	const lr, k, p, load, f = 2.5, 80e3, 2e-3, 600.0, 40.0
	c := constant(t, lr, 0.15)
	r, err := settle(c, linear(t, k, 0.06, p), load, f)
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

// At rest the spring carries what the load asks of it through the curve, and the
// stroke implies that load. Friction makes a band about the rest: at its edges the
// spring pushes that much more and less, and more friction makes it wider. A load that
// the end just carries rests at the end of the travel. Twice the load on twice the
// spring rests at the same place.
func TestSettleAtEveryEnd(t *testing.T) {
	eachEnd(t, 401, 250, func(t *testing.T, r lot, e *drawnEnd) {
		load := e.load(r)
		friction := units.Force(r.between(1, 60))
		end := sag.End{Curve: e.curve, Law: e.law, Friction: friction}
		rest, err := end.Settle(load)
		if err != nil {
			t.Fatalf("%s: %v", e.says, err)
		}
		if again := end.RestAt(rest.Stroke, load); again != rest {
			t.Errorf("at its stroke the rest is %+v, want %+v", again, rest)
		}
		near(t, "load of the stroke", float64(made(end.LoadAt(rest.Stroke))), float64(load), 1e-9)
		demand := func(s units.Length) float64 { return float64(load) * e.curve.LeverRatio(s) }
		at := func(what string, s units.Length, off units.Force) {
			t.Helper()
			if s > 0 && s < min(e.law.Travel(), e.curve.Stroke()) {
				slack := 1e-11*demand(s) + 1e-12*float64(e.law.Rate(s))*float64(e.curve.Stroke())
				if got := float64(e.law.Force(s) + off); math.Abs(got-demand(s)) > slack {
					t.Errorf("%s: the spring pushes %v, want %v", what, got, demand(s))
				}
			}
		}
		at("at rest", rest.Stroke, 0)
		at("at the low edge", rest.StrokeLow, friction)
		at("at the high edge", rest.StrokeHigh, -friction)
		if !(rest.StrokeLow <= rest.Stroke && rest.Stroke <= rest.StrokeHigh && rest.TravelLow <= rest.Travel && rest.Travel <= rest.TravelHigh) {
			t.Errorf("the rest is outside its band: %+v", rest)
		}
		none, err := settle(e.curve, e.law, load, 0)
		if err != nil || none.Stroke != rest.Stroke || none.StrokeLow != none.Stroke || none.StrokeHigh != none.Stroke || none.TravelLow != none.Travel || none.TravelHigh != none.Travel {
			t.Errorf("without friction: %+v, %v", none, err)
		}
		wider, err := settle(e.curve, e.law, load, 2*friction)
		if err != nil || wider.StrokeLow > rest.StrokeLow || wider.StrokeHigh < rest.StrokeHigh || !(wider.StrokeHigh-wider.StrokeLow >= rest.StrokeHigh-rest.StrokeLow) {
			t.Errorf("with more friction: %+v, %v", wider, err)
		}
		near(t, "sag", rest.Sag, float64(e.curve.TravelAt(rest.Stroke)/e.curve.Travel()), 1e-14)

		twice, err := settle(e.curve, stiffer{e.law, 2}, 2*load, 2*friction)
		if err != nil {
			t.Errorf("twice the spring: %v", err)
		}
		for _, pair := range [][2]units.Length{{twice.Stroke, rest.Stroke}, {twice.StrokeLow, rest.StrokeLow}, {twice.StrokeHigh, rest.StrokeHigh}} {
			if math.Abs(float64(pair[0]-pair[1])) > 1e-12*float64(e.curve.Stroke()) {
				t.Errorf("twice the load on twice the spring rests at %v, want %v", pair[0], pair[1])
			}
		}
		near(t, "frequency of twice the spring", float64(twice.Frequency), float64(rest.Frequency), 1e-9)

		low, high := e.wheel.Force(0), e.wheel.Force(e.wheel.Travel())
		if low > 0 {
			if x, err := settle(e.curve, e.law, low, 0); err != nil || x.Travel != 0 {
				t.Errorf("the force at full extension rests at %v, %v", x.Travel, err)
			}
			if _, err := settle(e.curve, e.law, low*(1-1e-9), 0); !errors.Is(err, spring.ErrToppedOut) {
				t.Errorf("below the force at full extension: %v", err)
			}
		}
		if _, err := settle(e.curve, e.law, high*(1+1e-9), 0); !errors.Is(err, spring.ErrBottomedOut) {
			t.Errorf("above the force at full travel: %v", err)
		}
	})
}

// A heavier load sags more, and the wheel rate is the slope of the one over the
// other.
func TestSagRisesWithTheLoad(t *testing.T) {
	eachEnd(t, 402, 250, func(t *testing.T, r lot, e *drawnEnd) {
		load := e.load(r)
		at := func(part float64) sag.Rest { return made(settle(e.curve, e.law, load*units.Force(1+part), 0)) }
		rest := at(0)
		if up := at(1e-3); !(up.Travel > rest.Travel && up.Stroke > rest.Stroke && up.Sag > rest.Sag) {
			t.Errorf("a heavier load rests at %+v after %+v", up, rest)
		}
		// Over a kink a difference says nothing of either side.
		slope := func(h float64) float64 { return 2 * h * float64(load) / float64(at(h).Travel-at(-h).Travel) }
		coarse, fine := slope(2e-4), slope(1e-4)
		if math.Abs(coarse-fine) < 1e-6*fine {
			near(t, "wheel rate", float64(rest.WheelRate), (4*fine-coarse)/3, 1e-5)
		}
	})
}

// A band goes as far as the friction lets it, to the ends of the travel at most.
func TestFrictionBandEndsWithTheTravel(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 2e-3)
	for _, friction := range []units.Force{1e6, 1e12} {
		r, err := settle(c, law, 600, friction)
		require.NoError(t, err)
		if r.TravelLow != 0 || r.StrokeLow != 0 || r.TravelHigh != c.Travel() {
			t.Errorf("%v: band %v to %v, want all the travel", friction, r.TravelLow, r.TravelHigh)
		}
		near(t, "stroke high", float64(r.StrokeHigh), 0.06, 1e-15)
	}
	r, err := settle(c, law, 600, units.Force(justAbove(1e12)))
	refused(t, "more", r, err, "friction")
	r, err = settle(c, law, 600, 0.5)
	require.NoError(t, err)
	near(t, "low", float64(r.StrokeLow), 1499.5/80e3-2e-3, 1e-11)
	near(t, "high", float64(r.StrokeHigh), 1500.5/80e3-2e-3, 1e-11)
}

// A load out of the spring's range rests at the end of the travel that it pushes
// against, and one that an end just carries rests there without a finding.
func TestSettleWithinEndsOfTravel(t *testing.T) {
	c := constant(t, 2, 0.1)
	law := linear(t, 10e3, 0.05, 0.01) // 50 N to 300 N at the wheel
	for _, test := range []struct {
		load    units.Force
		finding sag.Finding
		travel  units.Length
	}{{49, sag.HeldAtTop, 0}, {50, "", 0}, {175, "", 0.05}, {300, "", 0.1}, {301, sag.Collapses, 0.1}} {
		r, finding, err := settleWithin(c, law, test.load, 0)
		require.NoError(t, err)
		if state := made(sag.End{Curve: c, Law: law}.Under(test.load)); state.Finding != test.finding || state.Rest != r {
			t.Errorf("%v: a state of %q at %+v", test.load, state.Finding, state.Rest)
		}
		if finding != test.finding || math.Abs(float64(r.Travel-test.travel)) > 1e-12 || r.TravelLow != r.Travel || r.StrokeHigh != r.Stroke {
			t.Errorf("%v: %q at %+v, want %q at %v", test.load, finding, r, test.finding, test.travel)
		}
	}
}

// A spring that ends before the curve does collapses there: 40 mm of 10 N/mm carry no
// more than 160 N behind a ratio of 2.5.
func TestShortSpringCollapsesAtItsEnd(t *testing.T) {
	end := sag.End{Curve: constant(t, 2.5, 0.15), Law: linear(t, 10e3, 0.04, 0)}
	for load, want := range map[units.Force]sag.Finding{159: "", 161: sag.Collapses} {
		s := made(end.Under(load))
		if s.Finding != want || want != "" && s.Rest.Stroke != 0.04 {
			t.Errorf("%v: %q at %v", load, s.Finding, s.Rest.Stroke)
		}
	}
}

// Every bad field of an end is named at once; a load out of range and a law that jumps
// or is no number in between have errors of their own.
func TestSettleRefuses(t *testing.T) {
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 2e-3)
	var none *airspring.Spring
	for _, test := range []struct {
		name string
		end  sag.End
		load units.Force
		want []string
	}{
		{"nothing", sag.End{Friction: -1}, units.Force(math.NaN()), []string{"load", "curve", "law", "friction"}},
		{"no curve", sag.End{Law: law}, 600, []string{"curve"}},
		{"the zero curve", sag.End{Curve: new(linkage.Curve), Law: law}, 600, []string{"curve"}},
		{"no law", sag.End{Curve: c}, 600, []string{"law"}},
		{"a pointer to no law", sag.End{Curve: c, Law: none}, 600, []string{"law"}},
		{"a law too short to move the wheel", sag.End{Curve: constant(t, 0.4, 0.15), Law: linear(t, 80e3, 5e-324, 0)}, 600, []string{"law"}},
		{"a negative load", sag.End{Curve: c, Law: law}, -1, []string{"load"}},
		{"a friction beyond sense", sag.End{Curve: c, Law: law, Friction: 1e200}, 600, []string{"friction"}},
		{"an exponent of a coil", sag.End{Curve: c, Law: law, Exponent: 1.3}, 600, []string{"fast"}},
		{"a fast law without its exponent", sag.End{Curve: c, Law: law, Fast: law}, 600, []string{"exponent"}},
		{"an exponent of 1 of a coil", sag.End{Curve: c, Law: law, Exponent: 1}, 600, nil},
		{"an exponent just above 1 of a coil", sag.End{Curve: c, Law: law, Exponent: justAbove(1)}, 600, []string{"fast"}},
		{"an exponent of 2", sag.End{Curve: c, Law: law, Fast: law, Exponent: 2}, 600, nil},
		{"an exponent just above 2", sag.End{Curve: c, Law: law, Fast: law, Exponent: justAbove(2)}, 600, []string{"exponent"}},
		{"an exponent just below 1", sag.End{Curve: c, Law: law, Fast: law, Exponent: justBelow(1)}, 600, []string{"exponent"}},
		{"a fast law that is invalid", sag.End{Curve: c, Law: law, Fast: none, Exponent: 1.3}, 600, []string{"fast"}},
	} {
		r, err := test.end.Settle(test.load)
		if test.want == nil {
			named(t, test.name, err)
			continue
		}
		refused(t, test.name, r, err, test.want...)
		r, finding, err := test.end.SettleWithin(test.load)
		refused(t, test.name, r, err, test.want...)
		still, fast, wheelErr := test.end.Wheel()
		if finding != "" || test.name != "a negative load" && (still != nil || fast != nil || wheelErr == nil) {
			t.Errorf("%s: %q, %v, %v", test.name, finding, still, fast)
		}
	}
	for _, test := range []struct {
		law  spring.Law
		load units.Force
		want error
	}{
		{law, 10, spring.ErrToppedOut}, {law, 1e5, spring.ErrBottomedOut}, {law, 1.7e308, spring.ErrBottomedOut},
		{jumps{}, 320, spring.ErrJump}, {hollow{law}, 700, spring.ErrLaw},
	} {
		r, err := settle(c, test.law, test.load, 0)
		refused(t, "settled", r, nil)
		if !errors.Is(err, test.want) {
			t.Errorf("%v under %v: %v, want %v", test.law, test.load, err, test.want)
		}
	}
	if r, finding, err := settleWithin(c, jumps{}, 320, 0); finding != "" || r != (sag.Rest{}) || !errors.Is(err, spring.ErrJump) {
		t.Errorf("%+v, %q, %v", r, finding, err)
	}
}

// hollow is a law that is no number but at its ends.
type hollow struct{ spring.LinearSpring }

func (h hollow) Force(x units.Length) units.Force {
	if x > 0 && x < h.Travel() {
		return units.Force(math.NaN())
	}
	return h.LinearSpring.Force(x)
}

// counted is a law that counts how often its force is asked for.
type counted struct {
	spring.Law
	asked *int
}

func (c counted) Force(x units.Length) units.Force { *c.asked++; return c.Law.Force(x) }

// A rest takes few evaluations of the law, its band of friction a few more: two for the
// check, two for the ends, and a straight balance is met at once.
func TestSettleAsksTheLawFewTimes(t *testing.T) {
	air := made(airspring.New(single(units.BarGauge(11), 1)))
	for _, test := range []struct {
		name           string
		curve          *linkage.Curve
		law            spring.Law
		rest, withBand int
	}{
		{"a coil behind a constant ratio", rearOf150(t), linear(t, 80e3, 0.06, 1e-3), 7, 11},
		{"a coil behind a straight ratio", progressive(t), linear(t, 80e3, 0.06, 1e-3), 7, 12},
		{"air behind a straight ratio", progressive(t), air, 12, 25},
	} {
		for load := units.Force(400); load < 1200; load += 25 {
			asked := 0
			end := sag.End{Curve: test.curve, Law: counted{test.law, &asked}}
			if made(end.Settle(load)); asked > test.rest {
				t.Errorf("%s: %d evaluations at %v", test.name, asked, load)
			}
			asked, end.Friction = 0, 30
			if made(end.Settle(load)); asked > test.withBand {
				t.Errorf("%s: %d evaluations with a band at %v", test.name, asked, load)
			}
		}
	}
}

// The stops carry an unknown part of the load at the ends of the travel; a spring that
// pulls in or does not push yet carries none.
func TestLoadAtRefuses(t *testing.T) {
	c, law := bent(t), linear(t, 79e3, 0.065, 1e-3)
	for _, bad := range []units.Length{0, -1, 0.065, 1, units.Length(math.NaN())} {
		load, err := loadAt(c, law, bad)
		refused(t, bad.String(), load, err, "stroke")
	}
	load, err := loadAt(nil, nil, 1)
	refused(t, "nothing", load, err, "curve", "law")

	c, air := pullsIn(t)
	load, err = loadAt(c, air, air.RestTravel()-0.1e-3)
	refused(t, "pulled in", load, err, "stroke")
	load, err = loadAt(c, air, air.RestTravel()+1e-6)
	require.NoError(t, err)
	if !(load > 0 && load < 1) {
		t.Errorf("a micrometre beyond where it rests by itself, a load of %v", load)
	}
	c = constant(t, 2.5, 0.15)
	load, err = loadAt(c, slack{}, 0.01)
	refused(t, "slack", load, err, "stroke")
	near(t, "load", float64(made(loadAt(c, slack{}, 0.03))), 320, 1e-11)
}

// Frequency and critical damping are 0, and not −0, for rates, loads and ratios that are
// not finite and more than 0.
func TestFrequencyAndDampingOutsideAreZero(t *testing.T) {
	negative := math.Copysign(0, -1)
	values := []float64{math.NaN(), math.Inf(-1), -1, negative, 0, 1e-200, 0.5, 2, 12e3, math.Inf(1)}
	good := func(x float64) bool { return x > 0 && x <= math.MaxFloat64 }
	for _, k := range values {
		for _, load := range values {
			f := float64(sag.Frequency(units.Stiffness(k), units.Force(load)))
			if good(k) && good(load) {
				near(t, "frequency", f, math.Sqrt(k/load*9.80665)/(2*math.Pi), 1e-14)
			} else if f != 0 || math.Signbit(f) {
				t.Errorf("Frequency(%v, %v) = %v", k, load, f)
			}
			for _, ratio := range values {
				c := float64(sag.DampingFor(ratio, units.Stiffness(k), units.Force(load)))
				if good(k) && good(load) && good(ratio) {
					near(t, "damping", c, 2*ratio*math.Sqrt(k)*math.Sqrt(load/9.80665), 1e-14)
				} else if c != 0 || math.Signbit(c) {
					t.Errorf("DampingFor(%v, %v, %v) = %v", ratio, k, load, c)
				}
				r := sag.DampingRatio(units.Damping(ratio), units.Stiffness(k), units.Force(load))
				if good(k) && good(load) && good(ratio) {
					near(t, "ratio", r, ratio/(2*math.Sqrt(k)*math.Sqrt(load/9.80665)), 1e-14)
				} else if r != 0 || math.Signbit(r) {
					t.Errorf("Ratio of %v at %v, %v = %v", ratio, k, load, r)
				}
			}
		}
	}
	if r := sag.DampingRatio(1e300, 1e-20, 1e-20); r != 0 {
		t.Errorf("a ratio that no float64 holds: %v", r)
	}
	if f := sag.Frequency(math.MaxFloat64, 5e-324); f != 0 {
		t.Errorf("a frequency that no float64 holds: %v", f)
	}
}

// A load that a stroke implies rests at that stroke; what is left for a drop is a number.
func FuzzLoadAt(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 80e3, 0.06, 0.002, 0.25, 0.017, 600.0)
	f.Add(2.4, 3.0, 0.150, 1e-300, 1e3, 0.0, 0.0, 1e-6, 1e-150)
	f.Add(1.0, 1.0, 0.170, 1e300, 1e-3, 1e3, math.Inf(1), math.NaN(), math.NaN())
	f.Fuzz(func(t *testing.T, start, end, travel, rate, springTravel, preload, ratio, stroke, load float64) {
		c, err := ratios(start, end, units.Length(travel))
		if err != nil {
			c = nil
		}
		var law spring.Law
		if k, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: units.Length(springTravel), Preload: units.Length(preload)}); err == nil {
			law = k
		}
		at, err := loadAt(c, law, units.Length(stroke))
		measured := answered(t, "load", at, err)
		if measured && at > 0 {
			if r, err := settle(c, law, at, 0); settled(t, "settled", r, err) {
				wheel, err := linkage.AtWheel(c, law)
				require.NoError(t, err)
				if least, _ := wheel.MinRate(); least > 0 && math.Abs(float64(r.Stroke)-stroke) > 1e-6*float64(c.Stroke()) && wheel.SpringForce(r.Travel) != wheel.SpringForce(c.TravelAt(units.Length(stroke))) {
					t.Fatalf("read at %v, rests at %v", stroke, float64(r.Stroke))
				}
			}
		}
		left, err := reserve(c, law, units.Force(load))
		if answered(t, "reserve", left, err) && !(left.Energy >= 0 && left.FullForce >= 0) {
			t.Fatalf("%+v", left)
		}
		if v := sag.Frequency(units.Stiffness(rate), units.Force(load)); !(v >= 0) || math.IsInf(float64(v), 0) {
			t.Fatalf("%v Hz", float64(v))
		}
		if v := sag.DampingFor(ratio, units.Stiffness(rate), units.Force(load)); !(v >= 0) || math.IsInf(float64(v), 0) {
			t.Fatalf("damping %v", float64(v))
		}
	})
}
