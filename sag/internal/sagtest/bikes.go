package sagtest

import (
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// JobText is an invented job: an air fork in front, a shelf of coil springs behind.
const JobText = `{
  "schema": "wheelrate/job/1",
  "masses": {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "unsprung_front": "2.4 kg", "unsprung_rear": "3.2 kg", "rear_share": 0.58},
  "ambient": "97.7 kPa(a)",
  "front": {
    "curve": {"fork": {"head_angle": "63.5 deg", "travel": "170 mm"}}, "sag": 0.2, "friction": "20 N",
    "air": {"bore": "35 mm", "shaft": "10 mm", "positive_volume": "252 cm³", "negative_volume": "68 cm³", "port_travel": "9 mm",
      "oil_volume": "6 cm³", "spacer_volume": "9 cm³", "spacers": 1, "fill": "5.2 bar", "exponent": 1.35,
      "max_fill": "10 bar", "max_spacers": 5, "full_travel_ratio": 12}},
  "rear": {
    "curve": {"table": {"stroke": ["0 mm", "13 mm", "26 mm", "39 mm", "52 mm", "65 mm"],
      "travel": ["0 mm", "37.63 mm", "73.83 mm", "108.59 mm", "141.91 mm", "173.79 mm"], "method": "smooth"}}, "sag": 0.29, "friction": "35 N",
    "coil": {"shelf": [{"rate": "350 lbf/in", "solid_travel": "76 mm"}, {"rate": "400 lbf/in", "solid_travel": "75 mm"},
        {"rate": "450 lbf/in", "solid_travel": "74 mm"}, {"rate": "500 lbf/in", "solid_travel": "73 mm"}],
      "preload_min": "0.5 mm", "preload_max": "5 mm", "thread_pitch": "1.5 mm"}}
}`

// must returns v, and fails the test if it could not be made.
func must[T any](t testing.TB, v T, err error) T {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Job returns the job of a text.
func Job(t testing.TB, text string) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(text))
	return must(t, j, err)
}

// Sheet returns the sheet of a job.
func Sheet(t testing.TB, j setup.Job) *setup.Sheet {
	t.Helper()
	s, err := setup.NewSheet(j)
	return must(t, s, err)
}

// Curve returns the lever-ratio curve of a spec.
func Curve(t testing.TB, spec linkage.Spec) *linkage.Curve {
	t.Helper()
	c, err := linkage.New(spec)
	return must(t, c, err)
}

// Constant returns a curve of one lever ratio over a travel of the wheel.
func Constant(t testing.TB, ratio float64, travel units.Length) *linkage.Curve {
	t.Helper()
	return Curve(t, linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: travel}})
}

// Bend returns a smooth table of w = ratio·s + half·s², both in mm, at every 5 mm of a stroke. Its
// lever ratio is ratio + 2·half·s, which the spline draws exactly.
func Bend(ratio, half float64, stroke int) linkage.Spec {
	table := linkage.Table{Method: linkage.Smooth}
	for s := 0; s <= stroke; s += 5 {
		x := float64(s)
		table.Stroke = append(table.Stroke, units.Length(x)*units.Millimetre)
		table.Travel = append(table.Travel, units.Length(ratio*x+half*x*x)*units.Millimetre)
	}
	return linkage.Spec{Table: &table}
}

// Progressive returns a rear end of 65 mm of stroke whose lever ratio falls from 2.95 to 2.40.
func Progressive() linkage.Spec { return Bend(2.95, -0.00425, 65) }

// Linear returns a linear spring.
func Linear(t testing.TB, k units.Stiffness, travel, preload units.Length) spring.LinearSpring {
	t.Helper()
	law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: travel, Preload: preload})
	return must(t, law, err)
}
