package setup_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// varyingText is an invented job of a rear with springs of varying rate on its shelf.
const varyingText = `{
  "schema": "wheelrate/job/1", "masses": {"rider_mass": "80 kg", "bike_mass": "17 kg", "unsprung_rear": "3 kg", "rear_share": 0.6},
  "uncertainty": {"rider_mass": "2 kg", "rear": {"spring_rate": 0.02, "preload": "0.2 mm"}},
  "rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28, "coil": {"preload_max": "9 mm", "shelf": [
    {"rate": "60 N/mm", "solid_travel": "75 mm"},
    {"law": {"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "68 mm"}}},
    {"rate": "70 N/mm", "solid_travel": "75 mm"},
    {"law": {"series": [{"linear": {"rate": "400 N/mm", "travel": "4 mm"}}, {"linear": {"rate": "140 N/mm", "travel": "70 mm"}}]}, "solid_travel": "72 mm"}
  ]}}}`

func varyingJob(t *testing.T) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(varyingText))
	require.NoError(t, err)
	return j
}

// A job whose shelf has springs of varying rate has the sheet of the same springs as groups of coils, its
// uncertainty and its riders included, and it is written as it was read.
func TestSheetOfSpringsOfVaryingRate(t *testing.T) {
	s, err := setup.NewSheet(varyingJob(t))
	require.NoError(t, err)
	other := strings.NewReplacer(
		`{"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "68 mm"}}`,
		`{"groups": [{"rate": "90 N/mm", "gap": "68 mm"}, {"rate": "200 N/mm", "gap": "5 mm"}]}`,
		`{"series": [{"linear": {"rate": "400 N/mm", "travel": "4 mm"}}, {"linear": {"rate": "140 N/mm", "travel": "70 mm"}}]}, "solid_travel": "72 mm"`,
		`{"groups": [{"rate": "400 N/mm", "gap": "4 mm"}, {"rate": "140 N/mm", "gap": "68 mm"}]}`).Replace(varyingText)
	require.NotEqual(t, varyingText, other)
	j, err := setup.ReadJob(strings.NewReader(other))
	require.NoError(t, err)
	again, err := setup.NewSheet(j)
	require.NoError(t, err)
	if diff := cmp.Diff(part(s).Rear.Coil, part(again).Rear.Coil, unitstest.Approx(1e-9)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(s.Uncertainty, again.Uncertainty, unitstest.Approx(1e-6)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	require.Len(t, s.Riders, len(again.Riders))
	require.NotEmpty(t, s.Uncertainty.Rear.Rivals)
	written, err := json.Marshal(varyingJob(t))
	require.NoError(t, err)
	back, err := setup.ReadJob(strings.NewReader(string(written)))
	require.NoError(t, err)
	if diff := cmp.Diff(varyingJob(t), back); diff != "" {
		t.Errorf("(-written +read):\n%s", diff)
	}
	if strings.Contains(string(written), `"rate":"0`) {
		t.Errorf("%s", written)
	}
}

// Faults of a law are named below it, with those of the rest of the job; a kind that there is not is
// told with the one that was meant.
func TestJobNamesFaultsOfLaws(t *testing.T) {
	bad := strings.NewReplacer(`"main_rate": "90 N/mm"`, `"main_rate": "0 N/mm"`, `"rate": "60 N/mm"`, `"rate": "-60 N/mm"`, `"travel": "70 mm"`, `"travel": "0 mm"`).Replace(varyingText)
	j, err := setup.ReadJob(strings.NewReader(bad))
	require.NoError(t, err)
	_, err = setup.NewSheet(j)
	refused(t, "laws", err, "rear.coil.shelf[0].rate", "rear.coil.shelf[1].law.dual_rate.main_rate", "rear.coil.shelf[3].law.series[1].linear.travel")
	_, err = setup.ReadJob(strings.NewReader(strings.Replace(varyingText, "dual_rate", "dual_rates", 1)))
	require.ErrorContains(t, err, "did you mean dual_rate?")
}

// Gas in the law of a spring has the cautions of gas.
func TestGasInALawHasItsCautions(t *testing.T) {
	codes := func(j setup.Job) (list []string) {
		s, err := setup.NewSheet(j)
		require.NoError(t, err)
		for _, c := range s.Cautions {
			list = append(list, c.Code)
		}
		return list
	}
	coil, helped := varyingJob(t), varyingJob(t)
	var one fit.ShelfSpring
	require.NoError(t, json.Unmarshal([]byte(`{"law": {"parallel": [{"law": {"linear": {"rate": "60 N/mm", "travel": "70 mm"}}},
	  {"law": {"air": {"bore": "20 mm", "travel": "70 mm", "positive_volume": "60 cm3", "fill": "2 bar", "ambient": "101325 Pa(a)", "exponent": 1}}}]}}`), &one))
	helped.Rear.Coil.Springs = append(helped.Rear.Coil.Springs, one)
	if slices.Contains(codes(coil), "air_pressure") || !slices.Contains(codes(helped), "air_pressure") {
		t.Errorf("%v, %v", codes(coil), codes(helped))
	}
	require.Greater(t, one.RateAt(10*units.Millimetre), 60*units.NewtonPerMillimetre)
}
