package airspring_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// unknown is an invented spring whose chambers the calibration is not told.
type unknown struct{ airspring.Spec }

// inventSpring returns a spring with chambers as forks and shocks have them: bore 28 to 40 mm, travel
// 100 to 200 mm, compression ratio 2.2 to 4.5, and for a negative chamber 0.15 to 0.5 of the positive
// volume and a port at 3 to 6 % of the travel.
func inventSpring(r *rand.Rand, negative bool) unknown {
	from := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	bore, travel, ratio := from(28, 40), from(100, 200), from(2.2, 4.5)
	s := one(bore, travel, math.Pi/4*bore*bore*travel*ratio/(ratio-1)/1000, 0, 1)
	if negative {
		s.Shaft, s.PortTravel = units.Length(from(8, 12))*mm, s.Travel*units.Length(from(0.03, 0.06))
		s.NegativeVolume = s.PositiveVolume * units.Volume(from(0.15, 0.5))
	}
	return unknown{s}
}

// gauge returns readings of a spring without any.
func (u unknown) gauge() airspring.GaugeReadings {
	g := airspring.GaugeReadings{Ambient: u.Ambient, NegativeChamber: new(u.NegativeVolume > 0), OutsideDiameter: u.Bore, RingError: mm}
	if *g.NegativeChamber {
		g.OutsideDiameter = u.Shaft
	}
	return g
}

// read returns the reading of a spring that stands at a part of its travel under a force, from the
// equations of its chambers.
func (u unknown) read(t testing.TB, force units.Force, part float64) airspring.GaugeReading {
	t.Helper()
	at := u.Travel * units.Length(part)
	fill, err := airspring.FillFor(u.Spec, force, at)
	if err != nil {
		t.Fatal(err)
	}
	return airspring.GaugeReading{Fill: fill, Stroke: at, Force: force}
}

// settled returns the travel at which a law carries a force.
func settled(t testing.TB, law spring.Law, force units.Force) units.Length {
	t.Helper()
	x, err := spring.Settle(law, force)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// rest returns the reading of a spring under a force with a fill.
func (u unknown) rest(t testing.TB, fill units.GaugePressure, force units.Force) airspring.GaugeReading {
	t.Helper()
	u.Fill = fill
	return airspring.GaugeReading{Fill: fill, Stroke: settled(t, make1(t, u.Spec), force), Force: force}
}

// From as many exact readings as there are unknowns, and from more, the fill is that of the chambers, at
// any stroke and under any force.
func TestCalibrateIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 8))
	for n := range map[bool]int{true: 2000, false: 60}[unitstest.Long()] {
		negative := n%2 == 1
		u := inventSpring(r, negative)
		g := u.gauge()
		force := units.Force(300 + 700*r.Float64())
		parts := []float64{0.12, 0.3}
		if negative {
			parts = []float64{0.12, 0.18, 0.24, 0.3}
		}
		if n%3 == 0 {
			parts = append(parts, 0.33, 0.21)
		}
		for i, part := range parts {
			g.Readings = append(g.Readings, u.read(t, force*units.Force(1+0.1*float64(i%3)), part))
		}
		c, err := airspring.Calibrate(g)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []float64{0.1, 0.15, 0.2, 0.25, 0.35, 0.5} {
			want := u.read(t, 600, part)
			got, err := c.FillFor(want.Force, want.Stroke)
			if err != nil {
				t.Fatal(err)
			}
			if !(math.Abs(float64(got.Fill/want.Fill-1)) <= 1e-10) {
				t.Errorf("%+v at %v of the travel: fill %v, want %v", u.Spec, part, got.Fill, want.Fill)
			}
			if extrapolated := part < 0.12 || want.Stroke > g.Readings[len(parts)-1].Stroke && part > 0.33; got.Extrapolated != extrapolated && part != 0.35 {
				t.Errorf("at %v of the travel: extrapolated is %v", part, got.Extrapolated)
			}
		}
	}
}

// The law of a calibration is the spring's, past its port.
func TestCalibrationLawIsTheSprings(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 9))
	for n := range 20 {
		u := inventSpring(r, n%2 == 1)
		g := u.gauge()
		for _, part := range []float64{0.1, 0.2, 0.3, 0.4, 0.5} {
			g.Readings = append(g.Readings, u.read(t, 700, part))
		}
		c, err := airspring.Calibrate(g)
		if err != nil {
			t.Fatal(err)
		}
		fill := units.BarGauge(5)
		law, err := c.Law(fill)
		if err != nil {
			t.Fatal(err)
		}
		if err := springtest.TestLaw(law); err != nil {
			t.Error(err)
		}
		u.Fill = fill
		want := make1(t, u.Spec)
		if law.Travel() != u.Travel*0.5 {
			t.Errorf("travel %v, want that of the deepest reading", law.Travel())
		}
		from := 0.1 * u.Travel
		for _, part := range []units.Length{0.1, 0.2, 0.4, 0.5} {
			x := part * u.Travel
			for what, pair := range map[string][2]float64{
				"force":  {float64(law.Force(x)), float64(want.Force(x))},
				"rate":   {float64(law.Rate(x)), float64(want.Rate(x))},
				"energy": {float64(law.Energy(x) - law.Energy(from)), float64(want.Energy(x) - want.Energy(from))},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-8*math.Abs(pair[1]) {
					t.Errorf("%s at %v: %v, want %v", what, x, pair[0], pair[1])
				}
			}
		}
	}
}

func TestCalibrateNamesBadFields(t *testing.T) {
	good := func() airspring.GaugeReadings {
		return airspring.GaugeReadings{Ambient: airspring.SeaLevel, NegativeChamber: new(false), OutsideDiameter: 34 * mm, RingError: mm,
			Readings: []airspring.GaugeReading{{Fill: 5e5, Stroke: 30 * mm, Force: 700}, {Fill: 6e5, Stroke: 20 * mm, Force: 700}}}
	}
	nan := math.NaN()
	for what, row := range map[string]struct {
		spoil func(*airspring.GaugeReadings)
		want  []string
	}{
		"nothing": {func(g *airspring.GaugeReadings) { *g = airspring.GaugeReadings{} }, []string{"ambient", "negative_chamber", "outside_diameter", "ring_error", "readings"}},
		"NaN": {func(g *airspring.GaugeReadings) {
			g.Readings[0].Stroke, g.Readings[1].Fill = units.Length(nan), units.GaugePressure(nan)
		}, []string{"readings[0].stroke", "readings[1].fill"}},
		"a pull":       {func(g *airspring.GaugeReadings) { g.Readings[1].Force = -1 }, []string{"readings[1].force"}},
		"one stroke":   {func(g *airspring.GaugeReadings) { g.Readings[1].Stroke = 30 * mm }, []string{"readings"}},
		"four needed":  {func(g *airspring.GaugeReadings) { g.NegativeChamber = new(true) }, []string{"readings"}},
		"more is less": {func(g *airspring.GaugeReadings) { g.Readings[1].Fill = 4.5e5 }, []string{"readings"}},
		"more is more": {func(g *airspring.GaugeReadings) { g.Readings[1].Fill, g.Readings[1].Stroke = 6e5, 40*mm }, []string{"readings"}},
		"the way back": {func(g *airspring.GaugeReadings) { g.Readings[1].StrokeBack = 19 * mm }, []string{"readings[1].stroke_back"}},
		"errors":       {func(g *airspring.GaugeReadings) { g.RingError, g.GaugeError = -1, -1 }, []string{"ring_error", "gauge_error"}},
	} {
		g := good()
		row.spoil(&g)
		_, err := airspring.Calibrate(g)
		wantFields(t, what, err, row.want...)
	}
	g := good()
	c, err := airspring.Calibrate(g)
	if err != nil {
		t.Fatal(err)
	}
	_, err = c.FillFor(units.Force(nan), -1)
	wantFields(t, "NaN and -1", err, "force", "at")
}

// Two readings of a fork without a negative chamber, and the fill for another rider's sag. The fork is
// invented; a chamber of 290 cm³ behind a bore of 34 mm gives these readings.
func ExampleCalibrate() {
	c, err := airspring.Calibrate(airspring.GaugeReadings{
		Ambient: airspring.SeaLevel, NegativeChamber: new(false), OutsideDiameter: 34 * mm, RingError: mm,
		Readings: []airspring.GaugeReading{
			{Fill: units.PSIGauge(65.96), Stroke: 47 * mm, Force: 500},
			{Fill: units.PSIGauge(71.29), Stroke: 29 * mm, Force: 500},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := c.FillFor(560, 38*mm)
	fmt.Printf("%.1f ± %.1f psi %v\n", f.Fill.PSI(), f.StandardError.PSI(), err)
	// Output: 77.1 ± 0.2 psi <nil>
}
