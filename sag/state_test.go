package sag_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// The fast rate at the rest is also the slope of a fast stroke that starts
// there: a gas of exponent 1.3 closed at the pressure and the volume of the rest.
func TestFastRateIsTheSlopeOfAFastStroke(t *testing.T) {
	end := made(sag.AirEnd(progressive(t), single(units.BarGauge(11), 1.3)))
	s := made(end.Under(600))
	const area, v0, pa, p0 = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 11e5 + 101325
	v := v0 - area*float64(s.Rest.Stroke)
	p := p0 * v0 / v
	fast := func(w float64) float64 {
		x := (2.8 - math.Sqrt(2.8*2.8-20*w)) / 10 // w = 2.8·x − 5·x²
		return area * (p*math.Pow(v/(v0-area*x), 1.3) - pa) / (2.8 - 10*x)
	}
	slope := fd.Derivative(fast, float64(s.Rest.Travel), &fd.Settings{Formula: fd.Central, Step: 1e-6})
	near(t, "fast wheel rate", float64(s.FastWheelRate), slope, 1e-6)
	near(t, "fast frequency", float64(s.FastFrequency), math.Sqrt(slope*9.80665/600)/(2*math.Pi), 1e-6)
	near(t, "fast spring rate", float64(s.FastSpringRate), 1.3*float64(s.Rest.SpringRate), 1e-14)
}

// The fast rate of a coil is its rate; the energy left is what is stored beyond the
// rest, and the least wheel rate is at full travel, k/LR² − F·LR′/LR³ with LR = 2.2
// and LR′ = −10/m, or at full extension.
func TestStateOfACoil(t *testing.T) {
	for _, exponent := range []float64{0, 1} {
		end := sag.End{Curve: progressive(t), Law: linear(t, 80e3, 0.06, 1e-3), Exponent: exponent}
		s := made(end.Under(600))
		near(t, "fast rate", float64(s.FastWheelRate), float64(s.Rest.WheelRate), 1e-14)
		near(t, "fast frequency", float64(s.FastFrequency), float64(s.Rest.Frequency), 1e-14)
		if r := s.Rest; s.Load != 600 || s.Finding != "" || r.StrokeLow != r.Stroke || r.TravelHigh != r.Travel {
			t.Errorf("%+v", s)
		}
		x := float64(s.Rest.Stroke) + 1e-3
		near(t, "energy left", float64(s.EnergyLeft), 40e3*(0.061*0.061-x*x), 1e-12)
		near(t, "travel left", float64(s.TravelLeft), 0.15-float64(s.Rest.Travel), 1e-12)
		near(t, "full ratio", s.FullRatio, 80e3*0.061/2.2/600, 1e-12)
		near(t, "least rate", float64(s.MinWheelRate), 80e3/(2.8*2.8)+80*10/(2.8*2.8*2.8), 1e-9)
		if s.MinRateTravel != 0 {
			t.Errorf("the least rate at %v", s.MinRateTravel)
		}
		still, fast, err := end.Wheel()
		require.NoError(t, err)
		if still.Force(0.1) != fast.Force(0.1) || still.Curve() != end.Curve {
			t.Error("a coil has two laws at the wheel")
		}
	}
}

// The wheel laws of an air end are the gas settled and the gas in a hurry.
func TestWheelLawsOfAnAirEnd(t *testing.T) {
	end := made(sag.AirEnd(rearOf150(t), single(units.BarGauge(11), 1.3)))
	still, fast, err := end.Wheel()
	require.NoError(t, err)
	const area, v0, pa, p0, x = math.Pi / 4 * 0.036 * 0.036, 100e-6, 101325.0, 11e5 + 101325, 0.04
	for n, law := range map[float64]*linkage.WheelLaw{1: still, 1.3: fast} {
		near(t, "force", float64(law.Force(2.5*x)), area*(p0*math.Pow(v0/(v0-area*x), n)-pa)/2.5, 1e-12)
	}
}

// A law of the user's own takes the same path as one of this module: told apart by
// nothing but its type, it has the same answers to the last bit.
func TestUserLawTakesTheSamePath(t *testing.T) {
	curve, own := bent(t), linear(t, 79e3, 0.065, 1e-3)
	ends := map[string][2]sag.End{
		"coil": {{Curve: curve, Law: own, Friction: 20}, {Curve: curve, Law: stiffer{own, 1}, Friction: 20}},
	}
	air := made(sag.AirEnd(rearOf150(t), single(units.BarGauge(11), 1.3)))
	ends["air"] = [2]sag.End{air, {Curve: air.Curve, Law: stiffer{air.Law, 1}, Fast: stiffer{air.Fast, 1}, Exponent: 1.3}}
	for name, pair := range ends {
		ours, users := pair[0], pair[1]
		if a, b := made(ours.Under(600)), made(users.Under(600)); a != b {
			t.Errorf("%s: a state of %+v, and of %+v", name, a, b)
		}
		if a, b := made(ours.Land(600, sag.Drop{Height: 0.05, Damping: 300})), made(users.Land(600, sag.Drop{Height: 0.05, Damping: 300})); a != b {
			t.Errorf("%s: a landing of %+v, and of %+v", name, a, b)
		}
		bike := wholeBike(t)
		bike.Rear = ours
		a := made(bike.Stance())
		bike.Rear = users
		if b := made(bike.Stance()); a != b {
			t.Errorf("%s: a stance of %+v, and of %+v", name, a, b)
		}
	}
}

// The reserve is the integral of the wheel force, and a landing gives and takes energy
// in balance: load·(h + x) = E(x) + what the damper and the stop take. More damping goes
// less deep. Without damping, more than the reserve's height bottoms.
func TestEnergyAtEveryEnd(t *testing.T) {
	eachEnd(t, 405, 24, func(t *testing.T, r lot, e *drawnEnd) {
		load := e.load(r)
		reserve := made(reserve(e.curve, e.law, load))
		sum, travel := 0.0, float64(e.wheel.Travel())
		const steps = 400 // kinks and knots lie anywhere
		for i := range steps {
			sum += quad.Fixed(func(x float64) float64 { return float64(e.wheel.Force(units.Length(x))) },
				travel*float64(i)/steps, travel*float64(i+1)/steps, 4, quad.Legendre{}, 0)
		}
		near(t, "reserve", float64(reserve.Energy), sum, 1e-5)
		near(t, "work of the drop", float64(load)*float64(reserve.DropHeight+e.wheel.Travel()), float64(reserve.Energy), 1e-12)
		last, damping := units.Length(1), units.Damping(r.between(0, 150))
		for range 3 {
			drop := sag.Drop{Height: units.Length(r.between(0, 0.5)), Damping: damping}
			l := made(land(e.curve, e.law, load, drop))
			near(t, "energy of the landing", float64(e.wheel.Energy(l.Travel)+l.DamperWork+l.EnergyLeft), float64(load)*float64(drop.Height+l.Travel), 1e-7) // next to solid the force of even pitch is too steep for the steps
			drop.Height = 0.1
			l = made(land(e.curve, e.law, load, drop))
			if !(l.Travel < last || l.Bottoms && l.Travel == last) {
				t.Errorf("%v of damping go %v deep, less went %v", damping, l.Travel, last)
			}
			last, damping = l.Travel, 2*damping
		}
		if h := reserve.DropHeight; h > 1e-3 {
			under, over := made(land(e.curve, e.law, load, sag.Drop{Height: h * (1 - 1e-6)})), made(land(e.curve, e.law, load, sag.Drop{Height: h * (1 + 1e-6)}))
			if full := e.wheel.Travel(); under.Bottoms || !(under.Travel > 0.99*full) || !over.Bottoms || over.Travel != full || over.Force != e.wheel.Force(full) {
				t.Errorf("%+v, then %+v", under, over)
			}
		}
	})
}

// A load next to nothing would be lifted without end.
func TestLoadIsOneThatAWheelCarries(t *testing.T) {
	end := sag.End{Curve: constant(t, 2.5, 0.15), Law: linear(t, 80e3, 0.06, 0)}
	for _, load := range []units.Force{1e-310, units.Force(justBelow(1e-150)), 0, -600, units.Force(math.NaN()), units.Force(math.Inf(1))} {
		r, err := end.Reserve(load)
		refused(t, load.String(), r, err, "load")
		s, err := end.Under(load)
		refused(t, load.String(), s, err, "load")
	}
	r, err := end.Reserve(1e-150)
	if err != nil || math.IsInf(float64(r.DropHeight), 0) {
		t.Errorf("%+v, %v", r, err)
	}
	r, err = sag.End{}.Reserve(0)
	refused(t, "nothing", r, err, "load", "curve", "law")
	s, err := end.Under(1e-150)
	require.NoError(t, err)
	answered(t, "state", s, err)
}

// An air end has both its laws, or the fields that [airspring.New] names.
func FuzzAirEnd(f *testing.F) {
	f.Add(0.036, 100e-6, 12e5, 1.35)
	f.Add(1e-6, 1.0, 1e8, 1.0)
	f.Add(math.NaN(), -1.0, 0.0, math.Inf(1))
	f.Add(0.036, 100e-6, 12e5, 0.5)
	f.Fuzz(func(t *testing.T, bore, volume, fill, exponent float64) {
		spec := single(units.GaugePressure(fill), exponent)
		spec.Bore, spec.PositiveVolume = units.Length(bore), units.Volume(volume)
		_, want := airspring.New(spec)
		e, err := sag.AirEnd(rearOf150(t), spec)
		if (err == nil) != (want == nil) {
			t.Fatalf("%v, but airspring.New: %v", err, want)
		}
		if err != nil {
			answered(t, "end", nil, err)
			return
		}
		if e.Exponent != exponent || e.Curve == nil || e.Law == nil || e.Fast == nil {
			t.Fatalf("%+v", e)
		}
		for i := range 9 {
			x := spec.Travel * units.Length(i) / 8
			slow, fast := e.Law.Force(x), e.Fast.Force(x)
			answered(t, "forces", []units.Force{slow, fast}, nil)
			if !(fast >= slow*(1-1e-9)-1e-9*units.Force(fill)) {
				t.Fatalf("at %v: %v slow, %v fast", x, slow, fast)
			}
		}
	})
}

func TestLawThatJumpsHasNoState(t *testing.T) {
	end := sag.End{Curve: rearOf150(t), Law: jumps{}}
	if s, err := end.Under(320); s != (sag.State{}) || !errors.Is(err, spring.ErrJump) {
		t.Errorf("%+v, %v", s, err)
	}
}
