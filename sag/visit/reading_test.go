package visit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// plainEnd is the end of coilEnd with some friction.
func plainEnd(t *testing.T, friction units.Force) sag.End {
	return sag.End{Curve: constant(t, 2.5, 0.15), Law: linear(t, 80e3, 0.06, 2*milli), Friction: friction}
}

func TestImpliedLoadIsTheSpringsOverTheRatio(t *testing.T) {
	// 18 mm ± 1 mm: 80·20/2.5, 80·19/2.5, 80·21/2.5, (80·19 − 40)/2.5, (80·21 + 40)/2.5.
	i, err := visit.Reading{Stroke: 18 * milli, Error: 1 * milli}.ImpliedLoad(plainEnd(t, 40))
	require.NoError(t, err)
	for _, row := range []struct {
		what string
		got  units.Force
		want float64
	}{
		{"load", i.Load, 640}, {"error low", i.ErrorLow, 608}, {"error high", i.ErrorHigh, 672},
		{"low", i.Low, 592}, {"high", i.High, 688}, {"standard error", i.StandardError, 32 / math.Sqrt(3)},
	} {
		near(t, row.what, float64(row.got), row.want, 1e-12)
	}
	// Friction larger than the force lets no load at all agree, never one below 0.
	i, err = visit.Reading{Stroke: 18 * milli, Error: 1 * milli}.ImpliedLoad(plainEnd(t, 5e3))
	require.NoError(t, err)
	if i.Low != 0 {
		t.Errorf("low %v", i.Low)
	}
}

// notched is a force with a notch at one stroke alone.
type notched struct {
	spring.LinearSpring
	at    units.Length
	depth units.Force
}

func (n notched) Force(x units.Length) units.Force {
	if math.Abs(float64(x-n.at)) < 1e-9 {
		return n.LinearSpring.Force(x) - n.depth
	}
	return n.LinearSpring.Force(x)
}

// Both ends of the interval and 15 strokes evenly between are looked at, with
// friction helping for the low bound and hindering for the high one.
func TestImpliedLoadLooksAtSeventeenStrokes(t *testing.T) {
	curve, plain := constant(t, 2, 0.12), linear(t, 80e3, 0.06, 0)
	r := visit.Reading{Stroke: 20 * milli, Error: 1.6 * milli}
	for k := range 17 {
		at := r.Stroke - r.Error + units.Length(k)*0.2*milli
		i, err := r.ImpliedLoad(sag.End{Curve: curve, Law: notched{plain, at, 1000}, Friction: 100})
		require.NoError(t, err)
		near(t, fmt.Sprint("low of a notch at ", at), float64(i.ErrorLow), (80e3*float64(at)-1000)/2, 1e-12)
		near(t, fmt.Sprint("and with friction at ", at), float64(i.Low), (80e3*float64(at)-1100)/2, 1e-12)
		i, err = r.ImpliedLoad(sag.End{Curve: curve, Law: notched{plain, at, -1000}, Friction: 100})
		require.NoError(t, err)
		near(t, fmt.Sprint("high of a peak at ", at), float64(i.ErrorHigh), (80e3*float64(at)+1000)/2, 1e-12)
		near(t, fmt.Sprint("and with friction at ", at), float64(i.High), (80e3*float64(at)+1100)/2, 1e-12)
	}
}

func TestReadingsAreRefusedByField(t *testing.T) {
	nan := math.NaN()
	short := plainEnd(t, 0)
	short.Law = linear(t, 80e3, 0.02, 0)
	// A negative chamber that pulls in carries no load there.
	pulls, err := airspring.New(airspring.Spec{Bore: 0.035, Shaft: 0.01, Travel: 0.16, PositiveVolume: 240e-6, NegativeVolume: 20e-6, PortTravel: 0.03, Fill: 500e3, Ambient: airspring.SeaLevel, Exponent: 1})
	require.NoError(t, err)
	good := visit.Reading{Stroke: 18 * milli, Error: milli}
	for _, test := range []struct {
		name string
		end  sag.End
		r    visit.Reading
		want []string
	}{
		{"everything", sag.End{Friction: -1}, visit.Reading{Stroke: units.Length(nan), Error: units.Length(nan)}, []string{"curve", "law", "friction", "stroke", "error"}},
		{"friction beyond sense", plainEnd(t, 1e200), good, []string{"friction"}},
		{"friction is no number", plainEnd(t, units.Force(nan)), good, []string{"friction"}},
		{"no stroke", plainEnd(t, 0), visit.Reading{Error: milli}, []string{"stroke"}},
		{"at the stop", plainEnd(t, 0), visit.Reading{Stroke: 60 * milli, Error: milli}, []string{"stroke"}},
		{"endless", plainEnd(t, 0), visit.Reading{Stroke: units.Length(math.Inf(1)), Error: milli}, []string{"stroke"}},
		{"no error stated", plainEnd(t, 0), visit.Reading{Stroke: 18 * milli}, []string{"error"}},
		{"error reaches the top", plainEnd(t, 0), visit.Reading{Stroke: 2 * milli, Error: 2 * milli}, []string{"error"}},
		{"error reaches the end", plainEnd(t, 0), visit.Reading{Stroke: 59 * milli, Error: 2 * milli}, []string{"error"}},
		{"error is no number", plainEnd(t, 0), visit.Reading{Stroke: 18 * milli, Error: units.Length(nan)}, []string{"error"}},
		{"the spring ends first", short, visit.Reading{Stroke: 30 * milli, Error: milli}, []string{"stroke"}},
		{"pulls in", sag.End{Curve: stands(t, airEnd()).Curve, Law: pulls}, visit.Reading{Stroke: 2 * milli, Error: milli}, []string{"stroke"}},
	} {
		i, err := test.r.ImpliedLoad(test.end)
		if named(t, test.name, err, test.want...); i != (visit.ImpliedLoad{}) {
			t.Errorf("%s: %+v beside an error", test.name, i)
		}
	}
}

// A reading taken of the rest without friction implies the load that made it, and
// its bands hold that load, narrower with less friction and less error; readings
// anywhere in the band of friction do too. Over ends drawn at random.
func TestBandsOfAReadingHoldTheLoad(t *testing.T) {
	random := rand.New(rand.NewPCG(404, 1))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*random.Float64() }
	seen := 0
	for range 300 {
		for _, s := range []visit.Setting{coilEnd(), airEnd(), tableEnd()} {
			s.Friction = units.Force(between(1, 40))
			if s.Coil != nil {
				s.Coil.Rate, s.Coil.Preload = units.Stiffness(between(30e3, 120e3)), units.Length(between(0, 6)*milli)
			} else {
				s.Air.Fill, s.Air.PositiveVolume = units.BarGauge(between(3, 9)), units.Volume(between(200e-6, 320e-6))
			}
			e := stands(t, s)
			wheel, _, err := e.Wheel()
			require.NoError(t, err)
			load := max(wheel.Force(0), 0) + units.Force(between(0.02, 0.9))*(wheel.Force(wheel.Travel())-max(wheel.Force(0), 0))
			rest, err := e.Settle(load)
			require.NoError(t, err)
			off := 0.5 * milli
			for _, part := range []units.Length{0, 0.5, 1} {
				r := visit.Reading{Stroke: rest.StrokeLow + (rest.StrokeHigh-rest.StrokeLow)*part, Error: units.Length(off)}
				if !(r.Stroke > 2*r.Error && r.Stroke+2*r.Error < e.Curve.Stroke()) {
					continue
				}
				seen++
				i, err := r.ImpliedLoad(e)
				require.NoError(t, err)
				slack := units.Force(1e-9) * load
				if !(i.Low <= load+slack && load-slack <= i.High && i.Low <= i.ErrorLow && i.ErrorLow <= i.Load && i.Load <= i.ErrorHigh && i.ErrorHigh <= i.High) {
					t.Errorf("a reading of %v: %+v, of a load of %v", r.Stroke, i, load)
				}
				narrow := e
				narrow.Friction /= 2
				r.Error /= 2
				less, err := r.ImpliedLoad(narrow)
				require.NoError(t, err)
				if !(less.Low >= i.Low && less.High <= i.High && less.ErrorLow >= i.ErrorLow && less.ErrorHigh <= i.ErrorHigh) {
					t.Errorf("less friction and error: %+v, not inside %+v", less, i)
				}
			}
		}
	}
	if seen < 1500 {
		t.Errorf("%d readings", seen)
	}
}

// FuzzImpliedLoad: a load that a reading stands for is that of the stroke, and lies
// within its bounds.
func FuzzImpliedLoad(f *testing.F) {
	f.Add(3.0, 2.4, 0.150, 80e3, 0.06, 0.002, 20.0, 0.017, 0.001)
	f.Add(2.4, 3.0, 0.150, 1e-300, 1e3, 0.0, 0.0, 1e-6, 1e-9)
	f.Add(1.0, 1.0, 0.170, 1e300, 1e-3, 1e3, math.Inf(1), math.NaN(), -1.0)
	f.Fuzz(func(t *testing.T, start, end, travel, rate, springTravel, preload, friction, stroke, off float64) {
		e := sag.End{Friction: units.Force(friction)}
		length := units.Length(travel / (start + end) * 2)
		e.Curve, _ = linkage.NewTable(linkage.Table{Stroke: []units.Length{0, length / 2, length}, Travel: []units.Length{0, length * units.Length(3*start+end) / 8, units.Length(travel)}})
		if k, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: units.Length(springTravel), Preload: units.Length(preload)}); err == nil {
			e.Law = k
		}
		load, wrong := e.LoadAt(units.Length(stroke))
		i, err := visit.Reading{Stroke: units.Length(stroke), Error: units.Length(off)}.ImpliedLoad(e)
		if !answered(t, "implied", i, err) {
			return
		}
		if wrong != nil || i.Load != load {
			t.Fatalf("implies %v, holds %v (%v)", i.Load, load, wrong)
		}
		if !(i.Low <= i.ErrorLow && i.ErrorLow <= i.Load && i.Load <= i.ErrorHigh && i.ErrorHigh <= i.High && i.Low >= 0 && i.StandardError >= 0) {
			t.Fatalf("bounds out of order: %+v", i)
		}
	})
}
