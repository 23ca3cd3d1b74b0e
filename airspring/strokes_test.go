package airspring_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Between the exponents that the tables have, the law is that of the textbook too.
func TestEveryExponent(t *testing.T) {
	for _, n := range []float64{1, 1.25, 1.5, 1.75, 2} {
		checkLaw(t, one(36, 160, 230, 5, n))
		two := twoRows[0].spec()
		two.Exponent = n
		checkLaw(t, two)
	}
}

// However little a spring pushes at full extension, it rests there.
func TestRestsWhereItPushes(t *testing.T) {
	a := math.Pi / 4 * 0.036 * 0.036
	for _, force := range []float64{1e-3, 0.5, 0.999, 2} {
		for _, n := range []float64{1, 1.3} {
			s := one(36, 160, 230, 0, n)
			s.Fill = units.GaugePressure(force / a)
			law := make1(t, s)
			unitstest.Near(t, "force", float64(law.Force(0)), force, unitstest.Rel(1e-9))
			if x := law.RestTravel(); x != 0 {
				t.Errorf("pushing with %v N it rests at %v", force, x)
			}
		}
	}
}

// The least reading of a spring that was cycled is not that of one just put
// together, whose negative chamber was open to the ambient: at a port at 8 mm the
// volumes have V_p/V_p0 = 0.9618 and V_n/V_n0 = 1.1106.
func TestTopUpFromTraces(t *testing.T) {
	ask := topUpRows[2].ask()
	first := func(old float64) float64 {
		ask.OldFill = units.GaugePressure(old)
		plan, err := airspring.PlanTopUp(ask)
		wantFields(t, fmt.Sprint("old fill ", old), err)
		return float64(plan.Reading[0])
	}
	ap, an := math.Pi/4*0.034*0.034, math.Pi/4*(0.034*0.034-0.010*0.010)
	vp, vn := 190e-6-ap*0.008, 60e-6+an*0.008
	for _, old := range []float64{0.25, 0.5, 0.9, 1.5, 0} {
		pn := (old + 101325) * 190e-6 / vp * vn / 60e-6
		if old == 0 {
			pn = 101325
		}
		pe := ((6.5e5+101325)*190e-6 + pn*60e-6) / (vp + vn)
		unitstest.Near(t, fmt.Sprint("reading from ", old), first(old), pe*vp/190e-6-101325, unitstest.Rel(1e-11))
	}
}

// A reading that is off by as much as it may be is near enough. With a port at
// full extension, a quarter of the volume in the negative chamber, and powers of
// two, all is exact: the first cycle leaves a quarter of the fill, the second a
// sixteenth.
func TestTopUpWithinExactly(t *testing.T) {
	ask := airspring.TopUp{
		Bore: 34 * mm, Shaft: 10 * mm, PositiveVolume: 3.0 / 16384, NegativeVolume: 1.0 / 16384,
		Fill: 1 << 20, Ambient: 1 << 17,
	}
	for within, cycles := range map[units.GaugePressure]int{1 << 18: 1, 1<<18 - 1: 2, 1 << 16: 2, 1<<16 - 1: 3} {
		ask.Within = within
		plan, err := airspring.PlanTopUp(ask)
		wantFields(t, "within", err)
		if plan.Cycles != cycles || plan.Reading[0] != 3<<18 {
			t.Errorf("%v cycles within %v, %v after the first", plan.Cycles, within, plan.Reading)
		}
	}
}
