package setup_test

import (
	"encoding/json"
	"iter"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// jobText is an invented job: an air fork in front, a shelf of coils behind.
const jobText = `{
  "schema": "wheelrate/job/1",
  "masses": {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "unsprung_front": "2.4 kg", "unsprung_rear": "3.2 kg", "rear_share": 0.58},
  "ambient": "97.7 kPa(a)",
  "front": {
    "curve": {"fork": {"head_angle": "63.5 deg", "travel": "170 mm"}}, "sag": 0.2, "friction": "20 N",
    "air": {"bore": "35 mm", "shaft": "10 mm", "positive_volume": "252 cm³", "negative_volume": "68 cm³", "port_travel": "9 mm",
      "oil_volume": "6 cm³", "spacer_volume": "9 cm³", "spacers": 1, "fill": "5.2 bar", "exponent": 1.35,
      "max_fill": "10 bar", "max_spacers": 5, "full_travel_ratio": 6}},
  "rear": {
    "curve": {"table": {"stroke": ["0 mm", "13 mm", "26 mm", "39 mm", "52 mm", "65 mm"],
      "travel": ["0 mm", "37.63 mm", "73.83 mm", "108.59 mm", "141.91 mm", "173.79 mm"], "method": "smooth"}}, "sag": 0.29, "friction": "35 N",
    "coil": {"shelf": [{"rate": "350 lbf/in", "solid_travel": "76 mm"}, {"rate": "400 lbf/in", "solid_travel": "75 mm"},
        {"rate": "450 lbf/in", "solid_travel": "74 mm"}, {"rate": "500 lbf/in", "solid_travel": "73 mm"}],
      "preload_min": "0.5 mm", "preload_max": "5 mm", "thread_pitch": "1.5 mm"}}
}`

func readJob(t testing.TB, text string) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(text))
	require.NoError(t, err)
	return j
}

func sheet(t testing.TB, j setup.Job) *setup.Sheet {
	t.Helper()
	s, err := setup.NewSheet(j)
	require.NoError(t, err)
	return s
}

func template(t testing.TB) *setup.Template {
	t.Helper()
	b, err := setup.NewTemplate(readJob(t, jobText))
	require.NoError(t, err)
	return b
}

// massesFrom yields n masses from 40 kg on, in even steps up to 120 kg.
func massesFrom(n int) iter.Seq[units.Mass] {
	return func(yield func(units.Mass) bool) {
		for i := range n {
			if !yield(40 + 80*units.Mass(i)/units.Mass(n)) {
				return
			}
		}
	}
}

// text is a value as JSON.
func text(t testing.TB, v any) string {
	t.Helper()
	out, err := json.Marshal(v)
	require.NoError(t, err)
	return string(out)
}

// names are the fields that an error complains of, in order.
func names(err error) []string {
	var list []string
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

func near(t testing.TB, what string, got, want, relative float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Rel(relative))
}

// plainJob is an invented job with one coil of 80 N/mm and a collar fixed at 1 mm
// behind a constant ratio of 2.5, and one of 9 N/mm without preload in a
// vertical fork: all of it can be worked by hand.
func plainJob(t testing.TB) setup.Job {
	t.Helper()
	return readJob(t, `{
	  "schema": "wheelrate/job/1",
	  "masses": {"rider_mass": "80 kg", "bike_mass": "20 kg", "unsprung_front": "2 kg", "unsprung_rear": "3 kg", "rear_share": 0.6},
	  "front": {"curve": {"constant": 1, "travel": "160 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "9 N/mm", "solid_travel": "170 mm"}]}},
	  "rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28,
	    "coil": {"shelf": [{"rate": "80 N/mm", "solid_travel": "70 mm"}], "preload_min": "1 mm", "preload_max": "1 mm"}}
	}`)
}

// under is the plain job with so much on the spring of either end, and nothing
// unsprung.
func under(t testing.TB, load units.Force) setup.Job {
	t.Helper()
	j := plainJob(t)
	j.Masses = sag.Masses{RiderMass: load.Mass(), BikeMass: load.Mass(), RearShare: 0.5}
	return j
}

const g0 = 9.80665

// curveOf is the curve of an end.
func curveOf(t testing.TB, e setup.EndJob) *linkage.Curve {
	t.Helper()
	c, err := linkage.New(e.Curve)
	require.NoError(t, err)
	return c
}

func linear(t testing.TB, k units.Stiffness, travel, preload units.Length) spring.LinearSpring {
	t.Helper()
	law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: travel, Preload: preload})
	require.NoError(t, err)
	return law
}

// airSpring is an invented shock of one chamber, with all that it needs.
func airSpring() *fit.Chamber {
	return &fit.Chamber{
		Spec:    airspring.Spec{Bore: 0.045, PositiveVolume: 190e-6, Exponent: 1.4, Ambient: 98e3},
		MaxFill: units.BarGauge(40),
	}
}

// bend is a curve of w = ratio·s + half·s² over a stroke, both lengths in mm.
func bend(ratio, half float64, stroke int) linkage.Spec {
	var table linkage.Table
	for s := 0; s <= stroke; s += 5 {
		x := float64(s)
		table.Stroke = append(table.Stroke, units.Length(x)*units.Millimetre)
		table.Travel = append(table.Travel, units.Length(ratio*x+half*x*x)*units.Millimetre)
	}
	table.Method = linkage.Smooth
	return linkage.Spec{Table: &table}
}

// codes are the warnings of a sheet: "rear goes_solid".
func codes(s *setup.Sheet) []string {
	list := []string{}
	for _, w := range s.Warnings {
		list = append(list, w.Field+" "+w.Code)
	}
	return list
}

// warning is the one of a code about an end; the test fails where there is none.
func warning(t testing.TB, s *setup.Sheet, end, code string) units.Warning {
	t.Helper()
	for _, w := range s.Warnings {
		if w.Field == end && w.Code == code {
			return w
		}
	}
	t.Fatalf("no %s of %s among %v", code, end, codes(s))
	return units.Warning{}
}

// refused checks that an error complains of these fields and no others; of none,
// that there is no error.
func refused(t testing.TB, what string, err error, fields ...string) {
	t.Helper()
	got := names(err)
	slices.Sort(got)
	slices.Sort(fields)
	if !slices.Equal(got, fields) {
		t.Errorf("%s: complains of %q, want %q: %v", what, got, fields, err)
	}
}

func justBelow(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }
func justAbove(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }
