package linkage_test

import (
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Of curves whose numbers are next to nothing or enormous, every answer is finite.
func TestCurvesAreFinite(t *testing.T) {
	table := linkage.Table{Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.058, 0.112, 0.16}}
	for _, table.Method = range []linkage.Method{linkage.Monotone, linkage.Smooth} {
		unitstest.FiniteOrRefused(t, string(table.Method), table, linkage.NewTable)
	}
	unitstest.FiniteOrRefused(t, "fork", linkage.Fork{HeadAngle: 1.1, Travel: 0.16}, linkage.NewFork)
	unitstest.FiniteOrRefused(t, "constant", linkage.ConstantRatio{Ratio: 2.5, Travel: 0.16}, linkage.NewConstant)
	var r linkage.Table
	for i := range 9 {
		s := units.Length(i) * 0.0075
		r.Stroke, r.Travel = append(r.Stroke, s), append(r.Travel, 2.9*s-3*s*s)
	}
	for _, r.Degree = range []int{4, 5} {
		unitstest.FiniteOrRefused(t, "readings", r, linkage.FitReadings)
	}
	type scaled struct {
		Table  linkage.Table
		Factor float64
	}
	unitstest.FiniteOrRefused(t, "scaled", scaled{table, 1.1}, func(s scaled) (*linkage.Curve, error) {
		curve, err := linkage.NewTable(s.Table)
		if err != nil {
			return nil, err
		}
		return curve.Scaled(s.Factor)
	})
	type sprung struct {
		Table  linkage.Table
		Spring spring.Linear
	}
	unitstest.FiniteOrRefused(t, "at the wheel", sprung{table, spring.Linear{Rate: 80e3, Travel: 0.06, Preload: 0.002}}, func(s sprung) (*linkage.WheelLaw, error) {
		curve, err := linkage.NewTable(s.Table)
		if err != nil {
			return nil, err
		}
		law, err := spring.NewLinear(s.Spring)
		if err != nil {
			return nil, err
		}
		return linkage.AtWheel(curve, law)
	})
}
