package spring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The last results are the very values of the methods; what is put in gives
// them by the formula shown, worked here apart.
func TestCaliperWorking(t *testing.T) {
	m := spring.Caliper{
		WireDiameter: 8.02 * units.Millimetre, OuterDiameter: 51.2 * units.Millimetre, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal,
		WireUncertainty: 0.02 * units.Millimetre, CoilUncertainty: 0.06,
	}
	for range 2 {
		k, err := spring.MeasureRate(m)
		if err != nil {
			t.Fatal(err)
		}
		steps, err := m.Working()
		if err != nil {
			t.Fatal(err)
		}
		if steps[1].Result.Quantity != k.Rate || steps[2].Result.Quantity != k.RateUncertainty || steps[0].Result.Quantity != k.MeanDiameter {
			t.Errorf("%v", steps)
		}
		given := steps[1].Given
		g, d := float64(given[0].Quantity.(units.Stress)), float64(given[1].Quantity.(units.Length))
		mean, n := float64(given[2].Quantity.(units.Length)), given[3].Quantity.(float64)
		unitstest.Near(t, "rate", float64(k.Rate), g*math.Pow(d, 4)/(8*math.Pow(mean, 3)*n), unitstest.Rel(1e-12))
		sum := 0.0
		for _, v := range steps[2].Given[1:] {
			sum += v.Quantity.(float64)
		}
		unitstest.Near(t, "uncertainty", float64(k.RateUncertainty), float64(k.Rate)*math.Sqrt(sum), unitstest.Rel(1e-12))
		m.InnerDiameter, m.OuterDiameter = 35.16*units.Millimetre, 0
	}
	if _, err := (spring.Caliper{}).Working(); err == nil {
		t.Error("the working of nothing")
	}
}

func TestCoilWorking(t *testing.T) {
	c, err := spring.NewCoil(spring.Coil{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal})
	if err != nil {
		t.Fatal(err)
	}
	steps := c.Working(2000 * units.Newton)
	if steps[0].Result.Quantity != c.Rate() || steps[1].Result.Quantity != c.Index() || steps[2].Result.Quantity != c.Bergstrasser() || steps[3].Result.Quantity != c.Stress(2000) {
		t.Errorf("%v", steps)
	}
	// 79 500·10⁴/(8·46³·5) N/mm, (4·4.6 + 2)/(4·4.6 − 3), 8·2000·46/(π·1000) MPa.
	unitstest.Near(t, "rate", c.Rate().NewtonsPerMillimetre(), 204.189611243528, unitstest.Rel(1e-12))
	unitstest.Near(t, "stress", float64(c.Stress(2000))/1e6, 20.4/15.4*8*2000*46/(math.Pi*1000), unitstest.Rel(1e-12))
	for _, f := range []units.Force{0, -1, units.Force(math.NaN()), units.Force(math.Inf(1))} {
		if got := c.Working(f); len(got) != 2 {
			t.Errorf("%v: %d steps", f, len(got))
		}
	}
}
