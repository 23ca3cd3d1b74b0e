package airspring_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Without giving off heat a stroke can be taken back: a gas let out to a larger
// volume and compressed again is what it was, and the exponent of the stroke as a
// whole, ln(p₂/p₁)/ln(V₁/V₂), is that of both ways.
func TestRealStrokeThereAndBack(t *testing.T) {
	for _, gas := range []airspring.Gas{airspring.DryAir, airspring.Nitrogen} {
		for _, pressure := range []units.AbsolutePressure{1e5, 10e5, 39e5} {
			for _, ratio := range []float64{0.65, 0.8, 0.99, 0.999999} {
				out, err := airspring.CompressReal(gas, pressure, 305, ratio)
				wantFields(t, "out", err)
				unitstest.Near(t, "exponent", out.Exponent, math.Log(float64(out.Fast/pressure))/math.Log(ratio), unitstest.Rel(1e-8))
				back, err := airspring.CompressReal(gas, out.Fast, out.Temperature, 1/ratio)
				wantFields(t, "back", err)
				unitstest.Near(t, "pressure", back.Fast, pressure, unitstest.Rel(1e-12))
				unitstest.Near(t, "temperature", back.Temperature, 305, unitstest.Rel(1e-12))
				unitstest.Near(t, "exponent", back.Exponent, out.Exponent, unitstest.Rel(1e-8))
			}
		}
	}
}

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

// Times before the step count as 0: the very pressure of that moment, after the
// deepest strokes too, where the two that it ends between lie far apart.
func TestHeldBeforeTheStep(t *testing.T) {
	for _, to := range []units.Volume{1e-9, 1e-7, 3e-4, 0.07, 1} {
		for _, gamma := range []float64{1, 1.3, 1.4, 2} {
			h, err := airspring.Hold(airspring.Step{Volume: 1e-4, ToVolume: to, Fill: 7e5, Ambient: airspring.SeaLevel, HeatRatio: gamma, TimeConstant: 0.3})
			wantFields(t, "hold", err)
			if at, before := h.Pressure(0), h.Pressure(-5); at != before {
				t.Errorf("to %v with γ %v: %v at 0, %v before", to, gamma, float64(at), float64(before))
			}
			unitstest.Near(t, "at the end", h.Pressure(units.Time(inf)), h.Settled(), unitstest.Exact)
		}
	}
	var zero airspring.Held
	for _, after := range []float64{-1, 0, 1e-300, 1, inf, nan} {
		if p := zero.Pressure(units.Time(after)); p != 0 {
			t.Errorf("the zero value has %v after %v", p, after)
		}
	}
	// A response turned round gives its energy back, but none for strokes without end.
	back := airspring.Response{LossRate: -1}
	if e := back.EnergyPerCycle(units.Length(inf)); e != 0 {
		t.Errorf("%v", e)
	}
	unitstest.Near(t, "energy", float64(back.EnergyPerCycle(0.1)), -math.Pi*0.01, close12)
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
