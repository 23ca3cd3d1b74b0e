package rows_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

const gaugeText = `{"schema": "wheelrate/job/1", "masses": {"rider_mass": "78 kg"}, "front": {"curve": {"fork": {"travel": "160 mm"}}, "sag": 0.2,
  "gauge": {"negative_chamber": "SAID", "max_fill": "10 bar", "ring_error": "0.1 mm", "readings": [READINGS]}}}`

func gaugeRows(t *testing.T, said, readings string) []rows.Row {
	t.Helper()
	return rows.Of(sheetOf(t, readJob(t, strings.NewReplacer("SAID", said, "READINGS", readings).Replace(gaugeText))))
}

func keys(all []rows.Row) (list []string) {
	for _, r := range all {
		list = append(list, r.Key)
	}
	return list
}

// A step from readings says that it is one, what the readings allow and where the ring belongs, and
// nothing that is not known.
func TestRowsOfAStep(t *testing.T) {
	all := gaugeRows(t, "self_filling", `{"fill": "70 psi", "stroke": "46 mm"}, {"fill": "95 psi", "stroke": "24 mm"}`)
	set := rows.Pick(all, rows.Set)
	require.Len(t, set, 1)
	for _, want := range []string{"next fill 5.92 bar (85.9 psi)", "a step and not the answer", "sag 20.0 % = 32.0 mm (1.26 in) along the stanchion"} {
		require.Contains(t, set[0].Note, want)
	}
	fitted := rows.Pick(all, rows.Fit)
	require.Equal(t, []string{"fill", "fill_bounds", "ambient"}, keys(fitted))
	require.Equal(t, "fill to try next", fitted[0].Label)
	require.Contains(t, fitted[0].Note, "between the readings on both sides")
	require.Len(t, fitted[1].Values, 2)
	require.Empty(t, rows.Pick(all, rows.Expect))
	require.Empty(t, rows.Pick(all, rows.Full))
	require.InDelta(t, 32, rows.Pick(all, rows.Measure)[0].Values[0].(units.Length).Millimetres(), 1e-9)
	for _, r := range rows.Pick(all, rows.Riders, sag.Front) {
		require.Contains(t, r.Note, "step")
	}

	one := gaugeRows(t, "self_filling", `{"fill": "70 psi", "stroke": "46 mm"}`)
	require.Equal(t, []string{"fill", "fill_bounds", "ambient"}, keys(rows.Pick(one, rows.Fit)))
	require.Contains(t, rows.Pick(one, rows.Fit)[1].Label, "at least") // less fill sags more
	require.Contains(t, rows.Pick(one, rows.Fit)[0].Note, "one reading")
}

// An answer from readings has its error and the chambers, and all that the end does.
func TestRowsOfAnAnswer(t *testing.T) {
	all := gaugeRows(t, "none", `{"fill": "2.9 bar", "stroke": "46 mm"}, {"fill": "3.5 bar", "stroke": "24 mm"}`)
	fitted := rows.Pick(all, rows.Fit)
	require.Equal(t, []string{"fill", "fill_error", "fill_bounds", "ambient", "bore", "positive_volume"}, keys(fitted))
	require.Equal(t, "fill at full extension", fitted[0].Label)
	require.True(t, strings.HasPrefix(rows.Pick(all, rows.Set)[0].Note, "fill 3.28 bar"), rows.Pick(all, rows.Set)[0].Note)
	require.Contains(t, keys(rows.Pick(all, rows.Expect)), "fast_wheel_rate")
	require.Contains(t, keys(rows.Pick(all, rows.Full)), "full_force")
}
