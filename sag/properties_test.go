package sag

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// What must hold of every end of every bike, over ends drawn at random: a curve
// of every kind that needs no points in a plane, with a spring of every kind.

// drawnEnd is an end of a bike with a spring in it.
type drawnEnd struct {
	says  string
	curve *linkage.Curve
	law   spring.Law
	wheel *linkage.WheelLaw
	spec  *airspring.Spec // of an air spring
}

type lot struct{ *rand.Rand }

func (r lot) between(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// made is for what was drawn to be good.
func made[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func drawCurve(r lot) (string, *linkage.Curve) {
	switch r.IntN(4) {
	case 0:
		s := linkage.ConstantRatio{Ratio: r.between(1, 3.5), Travel: units.Length(r.between(80, 220) * mm)}
		return fmt.Sprintf("%#v", s), made(linkage.NewConstant(s))
	case 1:
		s := linkage.Fork{HeadAngle: units.Angle(r.between(60, 75)) * units.Degree, Travel: units.Length(r.between(80, 220) * mm)}
		return fmt.Sprintf("%#v", s), made(linkage.NewFork(s))
	}
	// w = a·s + b·s², the ratio rising or falling by up to 30 %, smooth or with
	// the jumps in slope of a monotone table.
	t := linkage.Table{Method: []linkage.Method{linkage.Smooth, linkage.Monotone}[r.IntN(2)]}
	stroke, start := r.between(40, 75)*mm, r.between(2, 3.5)
	bend := r.between(-0.15, 0.15) * start / stroke
	for i := range 12 {
		s := stroke * float64(i) / 11
		t.Stroke, t.Travel = append(t.Stroke, units.Length(s)), append(t.Travel, units.Length(start*s+bend*s*s))
	}
	return fmt.Sprintf("%#v", t), made(linkage.NewTable(t))
}

// kindsOfSpring draws a spring of every kind for a stroke.
var kindsOfSpring = []struct {
	name string
	draw func(r lot, stroke float64) (string, spring.Law)
}{
	{"coil", func(r lot, stroke float64) (string, spring.Law) {
		s := spring.Linear{Rate: units.Stiffness(r.between(10e3, 120e3)), Travel: units.Length(stroke * r.between(0.9, 1.2)), Preload: units.Length(r.between(0, 4) * mm)}
		return fmt.Sprintf("%#v", s), made(spring.NewLinear(s))
	}},
	{"groups", func(r lot, stroke float64) (string, spring.Law) {
		s := spring.Groups{Groups: []spring.Group{
			{Rate: units.Stiffness(r.between(20e3, 80e3)), Gap: units.Length(stroke * r.between(0.2, 0.5))},
			{Rate: units.Stiffness(r.between(90e3, 200e3)), Gap: units.Length(stroke * r.between(0.5, 0.9))},
		}}
		return fmt.Sprintf("%#v", s), made(spring.NewGroups(s))
	}},
	{"even pitch", func(r lot, stroke float64) (string, spring.Law) {
		s := coil.LinearPitch{WireDiameter: 0.012, MeanDiameter: units.Length(r.between(60, 80) * mm), ActiveCoils: 6, ShearModulus: 79e9,
			FirstGap: units.Length(stroke / 6 * r.between(0.3, 0.9)), LastGap: units.Length(stroke / 6 * r.between(1.2, 2))}
		return fmt.Sprintf("%#v", s), made(coil.NewLinearPitch(s))
	}},
	{"coils on end", func(r lot, stroke float64) (string, spring.Law) {
		a := made(spring.NewLinear(spring.Linear{Rate: units.Stiffness(r.between(20e3, 90e3)), Travel: units.Length(stroke * 0.4)}))
		b := made(spring.NewLinear(spring.Linear{Rate: units.Stiffness(r.between(90e3, 200e3)), Travel: units.Length(stroke * r.between(0.6, 1))}))
		return fmt.Sprintf("%#v on %#v", a, b), made(spring.NewSeries(a, b))
	}},
	{"air", func(r lot, stroke float64) (string, spring.Law) {
		s := drawAir(r, stroke)
		return fmt.Sprintf("%#v", s), made(airspring.New(s))
	}},
	{"air with a negative chamber", func(r lot, stroke float64) (string, spring.Law) {
		s := drawAir(r, stroke)
		s.Shaft, s.NegativeVolume = s.Bore*units.Length(r.between(0.2, 0.5)), s.PositiveVolume*units.Volume(r.between(0.05, 0.4))
		s.PortTravel = units.Length(stroke * r.between(0, 0.05))
		return fmt.Sprintf("%#v", s), made(airspring.New(s))
	}},
	{"air in two stages", func(r lot, stroke float64) (string, spring.Law) {
		s := drawAir(r, stroke)
		s.SecondVolume, s.SecondFill = s.PositiveVolume*units.Volume(r.between(0.1, 0.4)), s.Fill*units.GaugePressure(r.between(1.2, 2.5))
		return fmt.Sprintf("%#v", s), made(airspring.New(s))
	}},
}

func drawAir(r lot, stroke float64) airspring.Spec {
	bore := r.between(28, 45) * mm
	swept := math.Pi / 4 * bore * bore * stroke
	return airspring.Spec{Bore: units.Length(bore), Travel: units.Length(stroke), PositiveVolume: units.Volume(swept * r.between(1.3, 2.5)),
		Fill: units.BarGauge(r.between(3, 15)), Ambient: airspring.SeaLevel, Exponent: []float64{1, r.between(1, 1.5)}[r.IntN(2)]}
}

// eachEnd runs a check on ends with a spring of every kind whose wheel force
// rises throughout: where the ratio rises so steeply that it doesn't, several
// travels carry one load.
func eachEnd(t *testing.T, seed uint64, of int, check func(t *testing.T, r lot, e *drawnEnd)) {
	t.Helper()
	for _, kind := range kindsOfSpring {
		t.Run(kind.name, func(t *testing.T) {
			seen := 0
			for i := range of {
				r := lot{rand.New(rand.NewPCG(seed, uint64(i)))}
				e := &drawnEnd{}
				e.says, e.curve = drawCurve(r)
				says, law := kind.draw(r, float64(e.curve.Stroke()))
				e.says, e.law = e.says+" with "+says, law
				if a, ok := law.(*airspring.Spring); ok {
					spec := a.Spec()
					e.spec = &spec
				}
				e.wheel = made(linkage.AtWheel(e.curve, e.law))
				if least, _ := e.wheel.MinRate(); !(least > 0) {
					continue
				}
				seen++
				if check(t, r, e); t.Failed() {
					t.Fatalf("seed %d, %d: %s", seed, i, e.says)
				}
			}
			if seen < of/2 {
				t.Errorf("%d of %d wheel forces rise: the test looks at too little", seen, of)
			}
		})
	}
}

// load draws a load that the end carries.
func (e *drawnEnd) load(r lot) units.Force {
	low, high := max(float64(e.wheel.Force(0)), 0), float64(e.wheel.Force(e.wheel.Travel()))
	return units.Force(low + (high-low)*r.between(0.02, 0.95))
}

// stiffer is a law of twice, or any number of times, the stiffness.
type stiffer struct {
	spring.Law
	times float64
}

func (m stiffer) Force(x units.Length) units.Force { return m.Law.Force(x) * units.Force(m.times) }
func (m stiffer) Rate(x units.Length) units.Stiffness {
	return m.Law.Rate(x) * units.Stiffness(m.times)
}
func (m stiffer) Energy(x units.Length) units.Energy { return m.Law.Energy(x) * units.Energy(m.times) }

// At rest the spring carries what the load asks of it through the curve; friction
// makes a band about that rest, at whose edges the spring pushes that much more
// and less, wider with more friction; the wheel rate is how the load changes with
// the travel; the ends are exact; and twice the load on twice the spring rests at
// the same place.
func TestSettleAtEveryEnd(t *testing.T) {
	eachEnd(t, 401, 250, func(t *testing.T, r lot, e *drawnEnd) {
		load := e.load(r)
		friction := units.Force(r.between(1, 60))
		rest, err := Settle(e.curve, e.law, load, friction)
		if err != nil {
			t.Fatalf("%s: %v", e.says, err)
		}
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
		none, err := Settle(e.curve, e.law, load, 0)
		if err != nil || none.Stroke != rest.Stroke || none.StrokeLow != none.Stroke || none.StrokeHigh != none.Stroke || none.TravelLow != none.Travel || none.TravelHigh != none.Travel {
			t.Errorf("without friction: %+v, %v", none, err)
		}
		wider, err := Settle(e.curve, e.law, load, 2*friction)
		if err != nil || wider.StrokeLow > rest.StrokeLow || wider.StrokeHigh < rest.StrokeHigh || !(wider.StrokeHigh-wider.StrokeLow >= rest.StrokeHigh-rest.StrokeLow) {
			t.Errorf("with more friction: %+v, %v", wider, err)
		}
		near(t, "sag", rest.Sag, float64(e.curve.TravelAt(rest.Stroke)/e.curve.Travel()), 1e-14)

		twice, err := Settle(e.curve, stiffer{e.law, 2}, 2*load, 2*friction)
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
			if x, err := Settle(e.curve, e.law, low, 0); err != nil || x.Travel != 0 {
				t.Errorf("the force at full extension rests at %v, %v", x.Travel, err)
			}
			if _, err := Settle(e.curve, e.law, low*(1-1e-9), 0); !errors.Is(err, spring.ErrToppedOut) {
				t.Errorf("below the force at full extension: %v", err)
			}
		}
		if _, err := Settle(e.curve, e.law, high*(1+1e-9), 0); !errors.Is(err, spring.ErrBottomedOut) {
			t.Errorf("above the force at full travel: %v", err)
		}
	})
}

// A heavier load sags more, and the wheel rate is the slope of the one over the
// other.
func TestSagRisesWithTheLoad(t *testing.T) {
	eachEnd(t, 402, 250, func(t *testing.T, r lot, e *drawnEnd) {
		load := e.load(r)
		at := func(part float64) Rest { return made(Settle(e.curve, e.law, load*units.Force(1+part), 0)) }
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

// What is required for a target puts the end on the target: rate, preload and
// fill. A coil's rate goes with the load, and falls with a higher target wherever
// the ratio rises by less than in step with stroke and preload; so does a fill.
func TestRequiredPutsEveryEndOnTarget(t *testing.T) {
	eachEnd(t, 403, 250, func(t *testing.T, r lot, e *drawnEnd) {
		target := Target{Load: units.Force(r.between(200, 1500)), Sag: r.between(0.1, 0.5)}
		preload := units.Length(r.between(0, 3) * mm)
		k, err := RequiredRate(e.curve, target, preload)
		if err != nil {
			t.Fatal(err)
		}
		law := made(spring.NewLinear(spring.Linear{Rate: k.Rate, Travel: e.curve.Stroke(), Preload: preload}))
		if least, _ := made(linkage.AtWheel(e.curve, law)).MinRate(); least > 0 {
			near(t, "sag of the rate", made(Settle(e.curve, law, target.Load, 0)).Sag, target.Sag, 1e-10)
		}
		back, err := RequiredPreload(e.curve, target, k.Rate)
		if err != nil || math.Abs(float64(back-preload)) > 1e-13 {
			t.Errorf("preload %v, %v, want %v", back, err, preload)
		}
		double := made(RequiredRate(e.curve, Target{2 * target.Load, target.Sag}, preload))
		near(t, "rate for twice the load", float64(double.Rate), 2*float64(k.Rate), 1e-14)
		lr, slope := e.curve.LeverRatio(k.Stroke), float64(e.curve.LeverRatioSlope(k.Stroke))
		if slope*float64(k.Stroke+preload) < 0.99*lr {
			if deeper := made(RequiredRate(e.curve, Target{target.Load, target.Sag * (1 + 1e-6)}, preload)); !(deeper.Rate < k.Rate) {
				t.Errorf("a deeper target takes %v after %v", deeper.Rate, k.Rate)
			}
		}
		if e.spec == nil {
			return
		}
		fill, err := RequiredFill(e.curve, target, *e.spec)
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
			near(t, "sag of the fill", made(Settle(e.curve, air, target.Load, 0)).Sag, target.Sag, 1e-9)
		}
		if spec.SecondVolume > 0 {
			return // where it joins in near the target, two fills may carry the load
		}
		if deeper, err := RequiredFill(e.curve, Target{target.Load, target.Sag + 1e-6}, *e.spec); slope <= 0 && (err != nil || !(deeper < fill)) {
			t.Errorf("a deeper target takes %v after %v, %v", deeper, fill, err)
		}
		if heavier := made(RequiredFill(e.curve, Target{target.Load * 1.01, target.Sag}, *e.spec)); !(heavier > fill) {
			t.Errorf("a heavier load takes %v after %v", heavier, fill)
		}
	})
}

// A reading taken of the rest without friction implies the load that made it, and
// its bands hold that load, narrower with less friction and less error; readings
// anywhere in the band of friction do too.
func TestImpliedBandsHoldTheLoad(t *testing.T) {
	eachEnd(t, 404, 250, func(t *testing.T, r lot, e *drawnEnd) {
		load, friction := e.load(r), units.Force(r.between(1, 40))
		rest := made(Settle(e.curve, e.law, load, friction))
		near(t, "measured load", float64(made(MeasuredLoad(e.curve, e.law, rest.Stroke))), float64(load), 1e-9)
		stroke := min(e.law.Travel(), e.curve.Stroke())
		for _, part := range []float64{0, 0.5, 1} {
			s := rest.StrokeLow + (rest.StrokeHigh-rest.StrokeLow)*units.Length(part)
			off := units.Length(0.5 * mm)
			if !(s > 2*off && s+2*off < stroke) {
				continue
			}
			i, err := ImpliedLoad(e.curve, e.law, friction, Reading{Stroke: s, Error: off})
			if err != nil {
				if f := units.Fields(err); len(f) != 1 || f[0].Field != "stroke" {
					t.Error(err)
				}
				continue // a spring that pulls in carries no load there
			}
			slack := units.Force(1e-9) * load
			if !(i.Low <= load+slack && load-slack <= i.High && i.Low <= i.ErrorLow && i.ErrorLow <= i.Load && i.Load <= i.ErrorHigh && i.ErrorHigh <= i.High) {
				t.Errorf("a reading of %v: %+v, of a load of %v", s, i, load)
			}
			less := made(ImpliedLoad(e.curve, e.law, friction/2, Reading{Stroke: s, Error: off / 2}))
			if !(less.Low >= i.Low && less.High <= i.High && less.ErrorLow >= i.ErrorLow && less.ErrorHigh <= i.ErrorHigh) {
				t.Errorf("less friction and error: %+v, not inside %+v", less, i)
			}
		}
	})
}

// The reserve is the integral of the wheel force, and an undamped landing gives
// and takes energy in balance: load·(h + x) = E(x) + what the damper and the stop
// take.
func TestEnergyAtEveryEnd(t *testing.T) {
	eachEnd(t, 405, 60, func(t *testing.T, r lot, e *drawnEnd) {
		load := e.load(r)
		reserve := made(NewReserve(e.curve, e.law, load))
		sum, travel := 0.0, float64(e.wheel.Travel())
		const steps = 400 // kinks and knots lie anywhere
		for i := range steps {
			sum += quad.Fixed(func(x float64) float64 { return float64(e.wheel.Force(units.Length(x))) },
				travel*float64(i)/steps, travel*float64(i+1)/steps, 4, quad.Legendre{}, 0)
		}
		near(t, "reserve", float64(reserve.Energy), sum, 1e-5)
		near(t, "work of the drop", float64(load)*float64(reserve.DropHeight+e.wheel.Travel()), float64(reserve.Energy), 1e-12)
		drop := Drop{Height: units.Length(r.between(0, 0.5)), Damping: Damping(r.between(0, 300))}
		l, err := NewLanding(e.curve, e.law, load, drop)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "energy of the landing", float64(e.wheel.Energy(l.Travel)+l.DamperWork+l.EnergyLeft), float64(load)*float64(drop.Height+l.Travel), 1e-7) // next to solid the force of even pitch is too steep for the steps
	})
}

// Wheel loads add up to the weight, however the share is stated; the same share
// gives the same loads; more on the rear takes it off the front.
func TestLoadsAddUp(t *testing.T) {
	for i := range 1000 {
		r := lot{rand.New(rand.NewPCG(406, uint64(i)))}
		m := Masses{RiderMass: units.Mass(r.between(40, 130)), BikeMass: units.Mass(r.between(8, 30)), UnsprungFront: units.Mass(r.between(0, 3)), UnsprungRear: units.Mass(r.between(0, 4))}
		q, base := r.between(0.3, 0.8), r.between(1, 1.4)
		byShare, byCentre, byScales := m, m, m
		byShare.RearShare = q
		byCentre.Wheelbase, byCentre.MassCentreBehindFrontAxle = units.Length(base), units.Length(q*base)
		total := m.RiderMass + m.BikeMass
		byScales.FrontScale, byScales.RearScale = total*units.Mass(1-q), total*units.Mass(q)
		want := made(NewLoads(byShare))
		for _, one := range []Masses{byShare, byCentre, byScales} {
			l := made(NewLoads(one))
			near(t, "both wheels", float64(l.FrontWheel+l.RearWheel), float64(total)*9.80665, 1e-14)
			near(t, "moment", float64(l.RearWheel)*base, float64(total)*9.80665*q*base, 1e-13)
			near(t, "front", float64(l.Front), float64(want.Front), 1e-13)
			near(t, "rear", float64(l.Rear), float64(want.Rear), 1e-13)
			near(t, "unsprung front", float64(l.FrontWheel-l.Front), float64(m.UnsprungFront)*9.80665, 1e-11)
			near(t, "unsprung rear", float64(l.RearWheel-l.Rear), float64(m.UnsprungRear)*9.80665, 1e-11)
		}
		byShare.RearShare = q + 0.01
		if back := made(NewLoads(byShare)); !(back.Rear > want.Rear && back.Front < want.Front) {
			t.Errorf("more on the rear: %+v after %+v", back, want)
		}
		if t.Failed() {
			t.Fatalf("seed 406, %d: %+v, share %v", i, m, q)
		}
	}
}

// A whole bike whose ends hardly know of each other, its mass centre on the ground
// or its wheels far apart, rests end by end; turned front to back it rests as
// before, pitched the other way; a stance with more weight on the rear sags more
// there and less in front; twice the masses on twice the springs rest the same.
func TestStancesOfEveryBike(t *testing.T) {
	stood := 0
	eachEnd(t, 407, 120, func(t *testing.T, r lot, e *drawnEnd) {
		says, curve := drawCurve(r)
		rate := made(RequiredRate(curve, Target{400, 0.25}, 0)).Rate
		coil := made(spring.NewLinear(spring.Linear{Rate: rate, Travel: curve.Stroke()}))
		e.says += ", in front " + says
		// The rear spring as drawn, times what puts it near a fourth of its travel.
		hard := 600 / math.Max(float64(e.wheel.Force(e.curve.Travel()/4)), 1)
		b := Bike{
			Masses: Masses{RiderMass: units.Mass(r.between(50, 100)), BikeMass: 16, UnsprungFront: 2, UnsprungRear: 3, RearShare: r.between(0.5, 0.65),
				Wheelbase: units.Length(r.between(1.1, 1.3)), MassCentreHeight: units.Length(r.between(0.7, 1.2))},
			Front: Fitted{curve, coil}, Rear: Fitted{e.curve, stiffer{e.law, hard}},
		}
		s, err := NewStance(b)
		if err != nil {
			return // so soft in places that it does not stand
		}
		stood++
		if _, pitch := math.Sincos(float64(s.Pitch)); !(pitch > 0) {
			t.Errorf("pitched by %v", s.Pitch)
		}

		apart, grounded := b, b
		apart.Wheelbase, grounded.MassCentreHeight = 1e9, 1e-12
		l := made(NewLoads(b.Masses))
		for what, one := range map[string]Bike{"far apart": apart, "on the ground": grounded} {
			alone := made(NewStance(one))
			near(t, what+": share", alone.RearShare, b.RearShare, 1e-9)
			for _, end := range []struct {
				f    Fitted
				load units.Force
				w    units.Length
			}{{b.Front, l.Front, alone.FrontTravel}, {b.Rear, l.Rear, alone.RearTravel}} {
				rest, err := Settle(end.f.Curve, end.f.Law, end.load, 0)
				if err != nil { // at an end of its travel
					rest.Travel = 0
					if errors.Is(err, spring.ErrBottomedOut) {
						rest.Travel = made(linkage.AtWheel(end.f.Curve, end.f.Law)).Travel()
					}
				}
				if math.Abs(float64(end.w-rest.Travel)) > 1e-8*float64(end.f.Curve.Travel()) {
					t.Errorf("%s: an end rests at %v, by itself at %v", what, end.w, rest.Travel)
				}
			}
		}

		turned := b
		turned.Front, turned.Rear, turned.RearShare = b.Rear, b.Front, 1-b.RearShare
		turned.UnsprungFront, turned.UnsprungRear = b.UnsprungRear, b.UnsprungFront
		o := made(NewStance(turned))
		near(t, "turned: share", o.RearShare, 1-s.RearShare, 1e-9)
		if math.Abs(float64(o.FrontTravel-s.RearTravel))+math.Abs(float64(o.RearTravel-s.FrontTravel))+math.Abs(float64(o.Pitch+s.Pitch)) > 1e-8 {
			t.Errorf("turned: %+v, want %+v turned", o, s)
		}

		double := b
		double.RiderMass, double.BikeMass, double.UnsprungFront, double.UnsprungRear = 2*b.RiderMass, 2*b.BikeMass, 2*b.UnsprungFront, 2*b.UnsprungRear
		double.Front.Law, double.Rear.Law = stiffer{coil, 2}, stiffer{e.law, 2 * hard}
		d := made(NewStance(double))
		if math.Abs(d.FrontSag-s.FrontSag)+math.Abs(d.RearSag-s.RearSag) > 1e-9 {
			t.Errorf("twice the bike: %+v after %+v", d, s)
		}

		back := b
		back.RearShare += 0.02
		if m, err := NewStance(back); err == nil && !(m.RearTravel >= s.RearTravel && m.FrontTravel <= s.FrontTravel && m.RearShare > s.RearShare) {
			t.Errorf("more on the rear: %+v after %+v", m, s)
		}
	})
	if stood < 100 {
		t.Errorf("%d bikes stand: the test looks at too little", stood)
	}
}

// The ideal rider of every spring of a range rests on target; the edge between
// two lies between their riders, and there both miss by as much; and who gets
// which spring follows.
func TestBandsOfEveryRange(t *testing.T) {
	seen := 0
	for i := range 200 {
		r := lot{rand.New(rand.NewPCG(408, uint64(i)))}
		says, curve := drawCurve(r)
		g := Range{End: []End{FrontEnd, RearEnd}[r.IntN(2)], RearShare: r.between(0.45, 0.65), BikeMass: units.Mass(r.between(9, 18)),
			Unsprung: units.Mass(r.between(0, 4)), Sag: r.between(0.2, 0.35), Preload: units.Length(r.between(0, 2) * mm)}
		rate := made(RequiredRate(curve, Target{units.Force(r.between(400, 700)), g.Sag}, g.Preload)).Rate
		for range 1 + r.IntN(5) {
			g.Rates = append(g.Rates, rate)
			rate *= units.Stiffness(r.between(1.03, 1.15))
		}
		b, err := NewBands(curve, g)
		if err != nil {
			continue
		}
		seen++
		rest := func(k units.Stiffness, rider units.Mass) Rest {
			l := made(NewLoads(Masses{RiderMass: rider, BikeMass: g.BikeMass, RearShare: g.RearShare}))
			load := l.RearWheel
			if g.End == FrontEnd {
				load = l.FrontWheel
			}
			law := made(spring.NewLinear(spring.Linear{Rate: k, Travel: curve.Stroke(), Preload: g.Preload}))
			return made(Settle(curve, law, load-units.Force(float64(g.Unsprung)*9.80665), 0))
		}
		for j, k := range g.Rates {
			near(t, "sag of the ideal rider", rest(k, b.IdealMass[j]).Sag, g.Sag, 1e-9)
			if got := b.For(b.IdealMass[j]); got != j {
				t.Errorf("the ideal rider of spring %d gets %d", j, got)
			}
			if j == 0 {
				continue
			}
			edge := b.EdgeMass[j-1]
			if !(b.IdealMass[j-1] < edge && edge < b.IdealMass[j]) {
				t.Errorf("an edge at %v between %v and %v", edge, b.IdealMass[j-1], b.IdealMass[j])
			}
			near(t, "both miss alike", rest(g.Rates[j-1], edge).Sag-g.Sag, g.Sag-rest(k, edge).Sag, 1e-7)
		}
		if t.Failed() {
			t.Fatalf("seed 408, %d: %s, %#v", i, says, g)
		}
	}
	if seen < 100 {
		t.Errorf("%d of 200 ranges have bands: the test looks at too little", seen)
	}
}
