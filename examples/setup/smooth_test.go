package main

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// rear returns the demonstration's rear with a change of its table, and the table.
func rear(t *testing.T, change func(*linkage.Table)) (setup.SheetEnd, linkage.Spec) {
	t.Helper()
	job, err := setup.ReadJob(bytes.NewReader(demo))
	if err != nil {
		t.Fatal(err)
	}
	change(job.Rear.Curve.Table)
	s, err := setup.NewSheet(job)
	if err != nil {
		t.Fatal(err)
	}
	return s.Ends()[1], job.Rear.Curve
}

// waves returns how often a line bends the other way.
func waves(y []float64) (n int) {
	bend := 0.0
	for i := 2; i < len(y); i++ {
		next := y[i] - 2*y[i-1] + y[i-2]
		if next*bend < 0 {
			n++
		}
		bend = next
	}
	return n
}

// A table's rounding makes waves of the wheel rate, which the picture does without; the force that is drawn
// is the sheet's to within 1 %, and so is the rate to within 5 %.
func TestPicturesHaveNoWavesOfRounding(t *testing.T) {
	e, spec := rear(t, func(*linkage.Table) {})
	d := drawnOf(e, spec)
	if !strings.Contains(d.note, "their last digit, 0.01 mm") {
		t.Fatalf("note %q", d.note)
	}
	c := endChart(d, e)
	force, rate := c.Panels[0].Series[0], c.Panels[1].Series[0]
	law, _ := e.Wheel()
	var through []float64
	for i, x := range rate.X {
		w := units.Length(x) * units.Millimetre
		through = append(through, law.Rate(w).NewtonsPerMillimetre())
		if off := math.Abs(force.Y[i] - law.Force(w).Newtons()); off > 0.01*force.Y[len(force.Y)-1] {
			t.Errorf("at %.1f mm the force is %.1f N off", x, off)
		}
		if off := rate.Y[i]/through[i] - 1; math.Abs(off) > 0.05 {
			t.Errorf("at %.1f mm the rate is %.1f %% off", x, 100*off)
		}
	}
	if n, m := waves(rate.Y), waves(through); n > 2 || m < 8 {
		t.Errorf("%d waves are drawn, through every point there are %d", n, m)
	}
	if got := leverChart(d, e); got.Note != d.note || waves(got.Panels[0].Series[0].Y) > 2 {
		t.Errorf("the lever ratio: note %q, %d waves", got.Note, waves(got.Panels[0].Series[0].Y))
	}
}

// What a smooth curve does not give to within the rounding is drawn through its points, and so is a curve
// that has no rounding.
func TestPicturesKeepWhatIsNoRounding(t *testing.T) {
	for name, change := range map[string]func(*linkage.Table){
		"a slip":     func(t *linkage.Table) { t.Travel[6] += 0.3 * units.Millimetre },
		"all digits": func(t *linkage.Table) { t.Travel[6] += 1.234567e-7 },
		"measured":   func(t *linkage.Table) { t.Method = linkage.Measured },
		"few points": func(t *linkage.Table) {
			t.Stroke, t.Travel = t.Stroke[:4], t.Travel[:4]
			t.Stroke[3], t.Travel[3] = 0.065, 0.174
		},
	} {
		e, spec := rear(t, change)
		if d := drawnOf(e, spec); d.note != "" || d.Curve != e.Curve() {
			t.Errorf("%s: note %q", name, d.note)
		}
	}
	e, _ := rear(t, func(*linkage.Table) {})
	if d := drawnOf(e, linkage.Spec{}); d.note != "" || d.Curve != e.Curve() {
		t.Errorf("no table: note %q", d.note)
	}
}
