package setup_test

import (
	"encoding/json"
	"iter"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/setup"
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
