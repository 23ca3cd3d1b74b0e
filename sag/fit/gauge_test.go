package fit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
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
	near(t, "volume", units.In(g.Chambers.PositiveVolume, units.CubicMetre), 95e-6, 1e-9)
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
	near(t, "negative volume", units.In(c.Gauge.Chambers.NegativeVolume, units.CubicMetre), 62e-6, 1e-4)
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
	near(t, "spring rate", units.In(c.Gauge.Rest.SpringRate, units.NewtonPerMetre), (hidden.force(fill, s+h)-hidden.force(fill, s-h))/(2*h), 1e-6)
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

// The highest fill that may be set is the marking, or the highest of the readings where nobody said what
// the marking is.
func TestGaugeKeepsToTheMarking(t *testing.T) {
	hidden, curve := single(0.031, 95e-6), sagtest.Curve(t, sagtest.Progressive())
	readings := []fit.GaugeReading{hidden.read(t, curve, units.BarGauge(14), 480), hidden.read(t, curve, units.BarGauge(15), 480)}
	wanted := hidden.fill(t, curve, 700, 0.28)
	for _, test := range []struct{ marking, want units.GaugePressure }{
		{units.BarGauge(16), units.BarGauge(16)}, {0, units.BarGauge(15)}, {units.BarGauge(30), units.GaugePressure(wanted)},
	} {
		spec := onlyGauge(fit.None, readings...)
		spec.Gauge.MaxFill = test.marking
		c := choose(t, spec, 700)
		near(t, "fill", c.Gauge.Fill.Pascals(), test.want.Pascals(), 1e-9)
		near(t, "wanted", c.Gauge.FillWanted.Pascals(), wanted, 1e-9)
		if beyond := test.want < units.GaugePressure(wanted)*(1-1e-6); beyond != c.Gauge.AtMarking || beyond != fit.Has(c.Findings(), sag.FillAtMax) || beyond != fit.Has(c.Findings(), sag.TooSoft) {
			t.Errorf("marking %v: %+v", test.marking, c.Findings())
		}
		// Where it rests with less than it wants is where that spring carries the load.
		near(t, "rest", float64(c.Gauge.Rest.Stroke), float64(hidden.rest(t, curve, c.Gauge.Fill.Pascals(), 700)), 1e-9)
	}
}

// A reading after air was lost is named, and a spring whose readings give another bore than stated.
func TestGaugeDoubts(t *testing.T) {
	hidden, curve := single(0.031, 95e-6), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.None)
	for i, bar := range []float64{13, 15, 16, 17, 18} {
		held := units.BarGauge(bar)
		if i == 3 {
			held -= units.BarGauge(1) // lost after the gauge was read
		}
		r := hidden.read(t, curve, held, 480)
		r.Fill = units.BarGauge(bar)
		spec.Gauge.Readings = append(spec.Gauge.Readings, r)
	}
	g := choose(t, spec, 500).Gauge
	if len(g.Misfits) != 1 || g.Misfits[0].Reading != 3 || !(g.Misfits[0].Stroke > 0) {
		t.Errorf("misfits %+v", g.Misfits)
	}
	require.Contains(t, g.Findings, sag.ReadingsDisagree)

	spec.Gauge.Readings = append(spec.Gauge.Readings[:3], spec.Gauge.Readings[4])
	spec.Gauge.OutsideDiameter = 31 * units.Millimetre
	agrees := choose(t, spec, 500)
	check(t, "findings", agrees.Findings(), sag.OnTarget)
	spec.Gauge.OutsideDiameter = 38 * units.Millimetre
	differs := choose(t, spec, 500)
	require.Contains(t, differs.Findings(), sag.BoreDiffers)
	near(t, "fill all the same", differs.Gauge.Fill.Pascals(), hidden.fill(t, curve, 500, 0.28), 1e-9)
}

// Beyond the deepest reading a spring without known chambers says where it would rest no more; the fill
// is marked as extrapolated.
func TestGaugeBeyondTheReadings(t *testing.T) {
	hidden, curve := double(0.042, 0.010, 190e-6, 62e-6, 0.004), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.SelfFilling)
	spec.Gauge.RingError, spec.Gauge.MaxFill = units.Millimetre, units.BarGauge(60)
	for _, sagged := range []float64{0.18, 0.2, 0.22, 0.26} {
		spec.Gauge.Readings = append(spec.Gauge.Readings, hidden.read(t, curve, units.GaugePressure(hidden.fill(t, curve, 480, sagged)), 480))
	}
	g := choose(t, spec, 480).Gauge
	if !g.Extrapolated || g.Rest != nil || g.Chambers != nil {
		t.Errorf("%+v", g)
	}
	o := options(t, spec)
	end, whole, err := o.Filled(g.Fill)
	require.NoError(t, err)
	require.False(t, whole)
	require.Equal(t, spec.Gauge.Readings[3].Stroke, end.Law.Travel())
	_, _, err = o.Filled(0)
	named(t, "no fill", err, "fill")
	spec.Gauge.Readings = spec.Gauge.Readings[:2]
	_, _, err = options(t, spec).Filled(g.Fill)
	named(t, "too few readings", err, "gauge.readings")
	require.ErrorIs(t, err, airspring.ErrUndetermined)
}

// Every bad field of a gauge is named at once.
func TestGaugeNamesBadFields(t *testing.T) {
	load, nan := 480*units.Newton, math.NaN()
	ok := fit.GaugeReading{Fill: units.BarGauge(14), Stroke: 0.02, Load: &load}
	good := onlyGauge(fit.SelfFilling, ok)
	for _, test := range []struct {
		change func(s *fit.Spec, g *fit.Gauge)
		want   []string
	}{
		{func(_ *fit.Spec, g *fit.Gauge) { *g = fit.Gauge{} }, []string{"gauge.negative_chamber", "gauge.readings"}},
		{func(_ *fit.Spec, g *fit.Gauge) { g.NegativeChamber, g.OutsideDiameter = "some", -1 }, []string{"gauge.negative_chamber", "gauge.outside_diameter"}},
		{func(_ *fit.Spec, g *fit.Gauge) { g.OutsideDiameter = 0 }, []string{"gauge.outside_diameter"}},
		{func(_ *fit.Spec, g *fit.Gauge) {
			g.MaxFill, g.RingError, g.GaugeError, g.Exponent, g.Ambient = -1, units.Length(nan), -1, 3, -1
		}, []string{"gauge.max_fill", "gauge.exponent", "gauge.ambient", "gauge.ring_error", "gauge.gauge_error"}},
		{func(_ *fit.Spec, g *fit.Gauge) {
			g.Readings = []fit.GaugeReading{{}, {Fill: ok.Fill, Stroke: 0.065, Load: &load}, {Fill: ok.Fill, Stroke: 0.02, StrokeBack: 0.01, Load: new(units.Force(nan))}}
		}, []string{"gauge.readings[0].fill", "gauge.readings[0].stroke", "gauge.readings[0].load", "gauge.readings[1].stroke", "gauge.readings[2].stroke_back", "gauge.readings[2].load"}},
		{func(_ *fit.Spec, g *fit.Gauge) { g.MaxFill = units.BarGauge(13) }, []string{"gauge.readings[0].fill"}},
		{func(_ *fit.Spec, g *fit.Gauge) { g.Readings = make([]fit.GaugeReading, 1001) }, []string{"gauge.readings"}},
		{func(s *fit.Spec, _ *fit.Gauge) { s.Air = &fit.Chamber{} }, []string{"coil"}},
		{func(_ *fit.Spec, g *fit.Gauge) { // the more air, the deeper
			g.NegativeChamber = fit.None
			g.Readings = []fit.GaugeReading{ok, {Fill: units.BarGauge(16), Stroke: 0.03, Load: &load}}
		}, []string{"gauge.readings"}},
	} {
		spec, g := good, *good.Gauge
		spec.Gauge = &g
		test.change(&spec, &g)
		_, err := fit.New(spec, units.StandardAtmosphere)
		named(t, "a gauge", err, test.want...)
	}
}

// A rest that was approached from both sides is halfway between. A ring whose error is not stated has
// that of the spec or, if that is 0 too, of 1 mm, and the fill's error is in proportion to it.
func TestGaugeReadingsFromBothSides(t *testing.T) {
	hidden, curve := single(0.031, 95e-6), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.None, hidden.read(t, curve, units.BarGauge(14), 480), hidden.read(t, curve, units.BarGauge(19), 560))
	spec.Gauge.RingError = 0
	for i := range spec.Gauge.Readings {
		r := &spec.Gauge.Readings[i]
		r.Stroke, r.StrokeBack = r.Stroke-units.Millimetre, r.Stroke+units.Millimetre
	}
	g := choose(t, spec, 530).Gauge
	near(t, "fill", g.FillWanted.Pascals(), hidden.fill(t, curve, 530, 0.28), 1e-9)
	for _, test := range []struct{ stated, spec, want units.Length }{{1e-3, 0, 1e-3}, {0, 4e-4, 4e-4}, {2e-4, 4e-4, 2e-4}} {
		spec.Gauge.RingError, spec.Reading = test.stated, test.spec
		near(t, "standard error", choose(t, spec, 530).Gauge.StandardError.Pascals(), float64(test.want)/1e-3*g.StandardError.Pascals(), 1e-6)
	}
}

// From one reading of a spring without a negative chamber, the step takes it that the full stroke
// compresses the gas to a third.
func TestStepFromOneReading(t *testing.T) {
	curve := sagtest.Curve(t, sagtest.Progressive())
	full := curve.Stroke().Metres()
	bore := 0.031
	swept := math.Pi / 4 * bore * bore * full
	hidden := single(bore, swept*1.5)
	spec := onlyGauge(fit.None, hidden.read(t, curve, units.BarGauge(14), 480))
	g := choose(t, spec, 480).Gauge
	near(t, "step", g.Fill.Pascals(), hidden.fill(t, curve, 480, 0.28), 1e-9)
	require.False(t, g.Answer)
	check(t, "findings", g.Findings, sag.NextReading)
}

// A load that the spring carries at the target without any fill has none, and friction gives a band.
func TestGaugeFindings(t *testing.T) {
	hidden, curve := single(0.031, 95e-6), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.None, hidden.read(t, curve, units.BarGauge(14), 480), hidden.read(t, curve, units.BarGauge(19), 560))
	spec.Friction = 20
	light := choose(t, spec, 1)
	check(t, "findings", light.Findings(), sag.FillImpossible)
	if light.Gauge.Fill != 0 || light.Gauge.Rest != nil || light.State() != (sag.State{}) {
		t.Errorf("%+v", light.Gauge)
	}
	c := choose(t, spec, 530)
	r := c.Gauge.Rest
	for _, side := range []struct {
		at   units.Length
		sign float64
	}{{r.StrokeLow, 1}, {r.StrokeHigh, -1}} {
		near(t, "band", hidden.force(c.Gauge.Fill.Pascals(), float64(side.at))+side.sign*20, 530*curve.LeverRatio(side.at), 1e-9)
	}
	end, whole, err := options(t, spec).Filled(c.Gauge.Fill)
	require.NoError(t, err)
	require.True(t, whole)
	require.Equal(t, units.Force(20), end.Friction)
}

// So near to full extension that the negative chamber pulls harder with more fill, no fill is right.
func TestGaugeRefusesASagThatPullsIn(t *testing.T) {
	hidden, curve := double(0.042, 0.010, 190e-6, 62e-6, 0.004), sagtest.Curve(t, sagtest.Progressive())
	spec := onlyGauge(fit.SelfFilling)
	spec.Gauge.MaxFill = units.BarGauge(60)
	for _, sagged := range []float64{0.2, 0.25, 0.33, 0.5, 0.75} {
		spec.Gauge.Readings = append(spec.Gauge.Readings, hidden.read(t, curve, units.GaugePressure(hidden.fill(t, curve, 480, sagged)), 480))
	}
	spec.Sag = 0.02
	_, err := options(t, spec).Choose(480)
	named(t, "a sag before the port", err, "sag")
	require.ErrorIs(t, err, airspring.ErrFillPullsIn)
}
