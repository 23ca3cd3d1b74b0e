package fit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// secret is an invented spring whose chambers the person at the stand doesn't know, in SI units: the law
// of Boyle for each chamber, and the balance of forces.
type secret struct {
	area, volume float64 // of the positive chamber
	ring, behind float64 // area and volume of the negative one; 0 for none
	port         float64 // stroke at which both have one pressure
	outside      float64 // area that the ambient presses on
	ambient      float64
}

// force returns the force along the spring with a fill.
func (p secret) force(fill, s float64) float64 {
	first := (fill + p.ambient) * p.volume // pressure times volume
	f := first/(p.volume-p.area*s)*p.area - p.outside*p.ambient
	if p.ring > 0 {
		shared := first / (p.volume - p.area*p.port)
		f -= shared * (p.behind + p.ring*p.port) / (p.behind + p.ring*s) * p.ring
	}
	return f
}

// single is a spring without a negative chamber, double one with.
func single(bore, volume float64) secret {
	a := math.Pi / 4 * bore * bore
	return secret{area: a, volume: volume, outside: a, ambient: 101325}
}

func double(bore, shaft, volume, behind, port float64) secret {
	a, rod := math.Pi/4*bore*bore, math.Pi/4*shaft*shaft
	return secret{area: a, volume: volume, ring: a - rod, behind: behind, port: port, outside: rod, ambient: 101325}
}

// find returns the argument between two at which a function is 0.
func find(t testing.TB, f func(float64) float64, from, to float64) float64 {
	t.Helper()
	x, err := root.Find(f, from, to, 1e-14)
	require.NoError(t, err)
	return x
}

// rest returns the stroke at which the spring with a fill carries a load at the wheel.
func (p secret) rest(t testing.TB, curve *linkage.Curve, fill, load float64) units.Length {
	t.Helper()
	return units.Length(find(t, func(s float64) float64 {
		return p.force(fill, s) - load*curve.LeverRatio(units.Length(s))
	}, 0, float64(curve.Stroke())))
}

// read returns a reading of the ring with a fill under a load at the wheel.
func (p secret) read(t testing.TB, curve *linkage.Curve, fill units.GaugePressure, load units.Force) fit.GaugeReading {
	t.Helper()
	return fit.GaugeReading{Fill: fill, Stroke: p.rest(t, curve, float64(fill), float64(load)), Load: &load}
}

// fill returns the fill with which the spring carries a load at a sag.
func (p secret) fill(t testing.TB, curve *linkage.Curve, load units.Force, sagged float64) float64 {
	t.Helper()
	s := curve.StrokeAt(units.Length(sagged) * curve.Travel())
	return find(t, func(fill float64) float64 {
		return p.force(fill, float64(s)) - float64(load)*curve.LeverRatio(s)
	}, 0, 1e8)
}

// onlyGauge is an end with readings, in standard air.
func onlyGauge(said fit.Statement, readings ...fit.GaugeReading) fit.Spec {
	g := fit.Gauge{NegativeChamber: said, MaxFill: units.BarGauge(30), RingError: 0.1 * units.Millimetre, Readings: readings}
	if said == fit.SelfFilling {
		g.OutsideDiameter = 10 * units.Millimetre
	}
	return fit.Spec{Curve: sagtest.Progressive(), Sag: 0.28, Gauge: &g}
}

// Two exact readings of a spring without a negative chamber, by riders of two weights behind a linkage,
// give the fill for a third one, the chambers, and all that the end does.
func TestTwoReadingsTellASpringOfOneChamber(t *testing.T) {
	hidden, curve := single(0.031, 95e-6), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.None, hidden.read(t, curve, units.BarGauge(14), 480), hidden.read(t, curve, units.BarGauge(19), 560))
	c := choose(t, spec, 530)
	g := c.Gauge
	near(t, "fill", g.Fill.Pascals(), hidden.fill(t, curve, 530, 0.28), 1e-9)
	near(t, "bore", g.Chambers.Bore.Metres(), 0.031, 1e-9)
	near(t, "volume", g.Chambers.PositiveVolume.CubicMetres(), 95e-6, 1e-9)
	near(t, "sag", g.Rest.Sag, 0.28, 1e-9)
	if !g.Answer || c.Fill() != nil || c.Spring() != nil {
		t.Errorf("answer %+v", g)
	}
	check(t, "findings", c.Findings(), sag.OnTarget)
	// Over a fast stroke the gas follows p·V^1.4, unless another exponent is stated.
	full := curve.Stroke()
	fast := func(n float64) float64 {
		p := (g.Fill.Pascals() + 101325) * math.Pow(hidden.volume/(hidden.volume-hidden.area*full.Metres()), n)
		return (p - 101325) * hidden.area / curve.LeverRatio(full)
	}
	near(t, "force at full travel", c.State().Reserve.FullForce.Newtons(), fast(1.4), 1e-9)
	spec.Gauge.Exponent = 1.25
	stated := choose(t, spec, 530)
	near(t, "with an exponent", stated.State().Reserve.FullForce.Newtons(), fast(1.25), 1e-9)
}

// Five exact readings of a spring with a negative chamber give its fill and its chambers. The ring is
// read on a shaft of 10 mm.
func TestFiveReadingsTellASpringOfTwoChambers(t *testing.T) {
	hidden, curve := double(0.042, 0.010, 190e-6, 62e-6, 0.004), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.SelfFilling)
	spec.Gauge.MaxFill = units.BarGauge(60)
	for _, sagged := range []float64{0.2, 0.25, 0.33, 0.5, 0.75} {
		fill := units.GaugePressure(hidden.fill(t, curve, 480, sagged))
		spec.Gauge.Readings = append(spec.Gauge.Readings, hidden.read(t, curve, fill, 480))
	}
	spec.Gauge.RingError = 1e-3 * units.Millimetre
	c := choose(t, spec, 510)
	near(t, "fill", c.Gauge.Fill.Pascals(), hidden.fill(t, curve, 510, 0.28), 1e-7)
	require.NotNil(t, c.Gauge.Chambers)
	near(t, "bore", c.Gauge.Chambers.Bore.Metres(), 0.042, 1e-5)
	near(t, "negative volume", c.Gauge.Chambers.NegativeVolume.CubicMetres(), 62e-6, 1e-4)
	near(t, "port", c.Gauge.Chambers.PortTravel.Metres(), 0.004, 1e-3)

	// With the errors that rings have, the fill stays and the chambers don't: then it says nothing of
	// them, and the rest and its rates are those standing still.
	spec.Gauge.RingError = 1 * units.Millimetre
	spec.Gauge.Readings = spec.Gauge.Readings[:4]
	c = choose(t, spec, 510)
	near(t, "fill", c.Gauge.Fill.Pascals(), hidden.fill(t, curve, 510, 0.28), 1e-7)
	if c.Gauge.Chambers != nil || c.End() != (sag.End{}) || c.State() != (sag.State{}) {
		t.Errorf("says more than it knows: %+v", c.Gauge)
	}
	s, h := float64(c.Gauge.Stroke), 1e-5
	fill := c.Gauge.Fill.Pascals()
	near(t, "spring rate", c.Gauge.Rest.SpringRate.NewtonsPerMetre(), (hidden.force(fill, s+h)-hidden.force(fill, s-h))/(2*h), 1e-6)
}

// drawn returns an invented spring, with or without a negative chamber, a rider's load and the fill that
// puts the load at 35 % sag.
func drawn(t testing.TB, r *rand.Rand, curve *linkage.Curve) (secret, fit.Statement, units.Force) {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	full, bore := curve.Stroke().Metres(), between(0.028, 0.045)
	swept := math.Pi / 4 * bore * bore * full
	ratio := between(2.2, 4.5)
	volume := swept * ratio / (ratio - 1)
	if r.IntN(3) == 0 {
		return single(bore, volume), fit.None, units.Force(between(300, 900))
	}
	return double(bore, 0.010, volume, volume*between(0.15, 0.5), full*between(0.03, 0.06)), fit.SelfFilling, units.Force(between(300, 900))
}

// From one reading on, each step leads on until the ring is on target within its error, in a few
// readings, and no step is above the marking.
func TestStepsLeadToTheTarget(t *testing.T) {
	curve := sagtest.Curve(t, sagtest.Progressive())
	r := rand.New(rand.NewPCG(1, 2))
	most, sum, n := 0, 0, 300
	for i := range n {
		hidden, said, load := drawn(t, r, curve)
		first := units.GaugePressure(hidden.fill(t, curve, load, 0.15+0.3*r.Float64()))
		spec := onlyGauge(said, hidden.read(t, curve, first, load))
		spec.Gauge.RingError = 1 * units.Millimetre
		spec.Gauge.MaxFill = 2 * max(first, units.GaugePressure(hidden.fill(t, curve, load, 0.28)))
		for {
			g := choose(t, spec, load).Gauge
			require.LessOrEqual(t, g.Fill, spec.Gauge.MaxFill)
			if g.Answer {
				s := hidden.rest(t, curve, g.Fill.Pascals(), float64(load))
				if off := math.Abs(float64(s - g.Stroke)); off > 1.2*mm {
					t.Errorf("spring %d, %s: the answer is %.2f mm off the target after %d readings", i, said, off/mm, len(spec.Gauge.Readings))
				}
				break
			}
			spec.Gauge.Readings = append(spec.Gauge.Readings, hidden.read(t, curve, g.Fill, load))
			require.Less(t, len(spec.Gauge.Readings), 9, "spring %d", i)
		}
		most, sum = max(most, len(spec.Gauge.Readings)), sum+len(spec.Gauge.Readings)
	}
	t.Logf("%.2f readings on average, %d at the most", float64(sum)/float64(n), most)
}
