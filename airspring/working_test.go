package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The last result is FillFor's very value, and what the last step is given
// makes it by the formula that it shows.
func TestFillWorking(t *testing.T) {
	two := airspring.Spec{
		Bore: 36 * mm, Shaft: 10 * mm, Travel: 160 * mm, PositiveVolume: 240 * cm3, NegativeVolume: 55 * cm3, PortTravel: 8 * mm,
		OilVolume: 6 * cm3, SpacerVolume: 7 * cm3, Spacers: 2, Ambient: units.StandardAtmosphere, Exponent: 1,
	}
	single := two
	single.NegativeVolume, single.Shaft, single.PortTravel = 0, 0, 0
	fast := two
	fast.Exponent = 1.3
	for name, spec := range map[string]airspring.Spec{"two": two, "single": single, "fast": fast} {
		want, err := airspring.FillFor(spec, 420*units.Newton, 34*mm)
		if err != nil {
			t.Fatal(name, err)
		}
		steps, err := airspring.FillWorking(spec, 420*units.Newton, 34*mm)
		if err != nil {
			t.Fatal(name, err)
		}
		last := steps[len(steps)-1]
		if last.Result.Quantity != want {
			t.Errorf("%s: %v, FillFor %v", name, last.Result, want)
		}
		f, c := float64(last.Given[0].Quantity.(units.Force)), float64(last.Given[1].Quantity.(units.Area))
		pa, outside := float64(last.Given[2].Quantity.(units.AbsolutePressure)), float64(last.Given[3].Quantity.(units.Area))
		unitstest.Near(t, name, float64(want), (f+outside*pa)/c-pa, unitstest.Rel(1e-11))
		for _, s := range steps {
			if s.Name == "" || s.Formula == "" || s.Source == "" || len(s.Given) == 0 {
				t.Errorf("%s: %+v", name, s)
			}
		}
	}
	staged := single
	staged.SecondVolume, staged.SecondFill = 40*cm3, units.BarGauge(9)
	want, err := airspring.FillFor(staged, 420*units.Newton, 34*mm)
	if err != nil {
		t.Fatal(err)
	}
	if steps, err := airspring.FillWorking(staged, 420*units.Newton, 34*mm); err != nil || len(steps) != 1 || steps[0].Result.Quantity != want {
		t.Errorf("%v, %v", steps, err)
	}
	if _, err := airspring.FillWorking(airspring.Spec{}, 1, 0); err == nil {
		t.Error("the working of nothing")
	}
}

// The formula with powers of β gives each reading of the plan's recursion.
func TestTopUpWorking(t *testing.T) {
	top := airspring.TopUp{
		Bore: 34 * mm, Shaft: 10 * mm, PositiveVolume: 220 * cm3, NegativeVolume: 50 * cm3, PortTravel: 8 * mm,
		OldFill: units.PSIGauge(64.5), Fill: units.PSIGauge(72), Ambient: units.StandardAtmosphere, Within: units.PSIGauge(0.01),
	}
	plan, err := airspring.PlanTopUp(top)
	if err != nil {
		t.Fatal(err)
	}
	steps, err := top.Working()
	if err != nil {
		t.Fatal(err)
	}
	if len(steps) != 6 || steps[2].Result.Quantity != plan.Carry {
		t.Fatalf("%v", steps)
	}
	for i, s := range steps[3:] {
		if s.Result.Quantity != plan.Reading[i] {
			t.Errorf("%v, plan %v", s.Result, plan.Reading[i])
		}
		g, old, beta := float64(s.Given[0].Quantity.(units.GaugePressure)), float64(s.Given[1].Quantity.(units.GaugePressure)), s.Given[2].Quantity.(float64)
		unitstest.Near(t, s.Name, float64(plan.Reading[i]), g-(g-old)*math.Pow(beta, float64(i+1)), unitstest.Rel(1e-12))
	}
	if _, err := (airspring.TopUp{}).Working(); err == nil {
		t.Error("the working of nothing")
	}
}
