package sag

import (
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Every step's result is what the next is given, and the last is the sheet's.
func TestSheetWorking(t *testing.T) {
	j := readJob(t, jobText)
	s, err := NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	rear := s.Working(j, RearEnd)
	last := rear[len(rear)-1]
	if last.Result.Quantity != s.Rear.Coil.IdealRate {
		t.Errorf("%v, the sheet says %v", last.Result, s.Rear.Coil.IdealRate)
	}
	f, stroke, preload := float64(last.Given[0].Quantity.(units.Force)), float64(last.Given[1].Quantity.(units.Length)), float64(last.Given[2].Quantity.(units.Length))
	unitstest.Near(t, "exact spring", float64(s.Rear.Coil.IdealRate), f/(stroke+preload), unitstest.Rel(1e-12))
	// By hand: 0.58·98.8 kg·g₀ = 561.9603 N, less 3.2 kg·g₀ = 530.5790 N.
	unitstest.Near(t, "wheel", float64(rear[0].Result.Quantity.(units.Force)), 0.58*98.8*9.80665, unitstest.Rel(1e-12))
	unitstest.Near(t, "sprung", float64(rear[1].Result.Quantity.(units.Force)), (0.58*98.8-3.2)*9.80665, unitstest.Rel(1e-12))

	front := s.Working(j, FrontEnd)
	last = front[len(front)-1]
	best := s.Front.Air.Options[0]
	unitstest.Near(t, "fill", last.Result.Quantity.(units.GaugePressure), best.Fill, unitstest.Rel(1e-9))
	unitstest.Near(t, "front wheel", float64(front[0].Result.Quantity.(units.Force)), 0.42*98.8*9.80665, unitstest.Rel(1e-12))
	for _, steps := range [][]units.Step{front, rear} {
		for i, step := range steps {
			if step.Name == "" || step.Formula == "" || step.Source == "" || len(step.Given) == 0 {
				t.Errorf("step %d: %+v", i, step)
			}
		}
	}
	var none Sheet
	if none.Working(j, RearEnd) != nil || s.Working(j, "middle") != nil {
		t.Error("the working of nothing")
	}
}
