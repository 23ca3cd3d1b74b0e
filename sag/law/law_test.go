package law_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
	"example.com/wheelrate/units/unitstest"
)

// read reads a spring from JSON.
func read(t *testing.T, text string) law.Spec {
	t.Helper()
	var spec law.Spec
	require.NoError(t, strictjson.Unmarshal("law", []byte(text), &spec), text)
	return spec
}

// Every kind by hand: its rate at 10 mm, its force at full travel, how many springs it has,
// and whether gas is in it.
func TestEveryKindMakesItsLaw(t *testing.T) {
	air := func(fill string) string {
		return `{"air": {"bore": "20 mm", "travel": "40 mm", "positive_volume": "60 cm3", "fill": "` + fill + `", "ambient": "1 bar(a)", "exponent": 1}}`
	}
	// 20 mm of bore sweep 12.566 cm³ of 60 in 40 mm: 3 bar rise to 3·60/47.434 bar, of which 1 is
	// around; the rate is p·A²/V.
	const area = math.Pi * 1e-4
	volume := func(x float64) float64 { return 60e-6 - area*x }
	gas := func(x float64) float64 { return (3e5*60e-6/volume(x) - 1e5) * area }
	gasRate := func(x float64) float64 { return 3e5 * 60e-6 / (volume(x) * volume(x)) * area * area }
	for _, one := range []struct {
		text        string
		rate, force float64 // N/mm, N
		springs     int
		gas         bool
	}{
		{`{"linear": {"rate": "80 N/mm", "travel": "60 mm", "preload": "5 mm"}}`, 80, 80 * 65, 1, false},
		// 60 and 30 N/mm in a row are 20 N/mm up to 30·4 N, at 6 mm; 60 N/mm then, up to 60·50 N.
		{`{"dual_rate": {"soft_rate": "30 N/mm", "main_rate": "60 N/mm", "soft_travel": "4 mm", "main_travel": "50 mm"}}`, 60, 3000, 1, false},
		{`{"series": [{"linear": {"rate": "30 N/mm", "travel": "4 mm"}}, {"linear": {"rate": "60 N/mm", "travel": "50 mm"}}]}`, 60, 3000, 2, false},
		{`{"parallel": [{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}}, {"law": {"linear": {"rate": "20 N/mm", "travel": "30 mm"}}, "starts_at": "9 mm"}]}`, 100, 80*39 + 20*30, 2, false},
		{`{"groups": [{"rate": "30 N/mm", "gap": "4 mm"}, {"rate": "60 N/mm", "gap": "50 mm"}]}`, 60, 3000, 2, false},
		// 80 GPa · (10 mm)⁴ / (8 · (50 mm)³) = 800 N/mm a coil; 120 − 7·10 mm to solid.
		{`{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "free_length": "120 mm", "shear_modulus": "80 GPa"}}`, 160, 160 * 50, 1, false},
		{`{"linear_pitch": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "shear_modulus": "80 GPa", "first_gap": "4 mm", "last_gap": "8 mm"}}`, 160, 800 * 8, 1, false},
		{air("2 bar"), gasRate(0.01) / 1e3, gas(0.04), 1, true},
		{`{"parallel": [{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}}, {"law": {"series": [` + air("2 bar") + `]}}]}`, 80 + gasRate(0.01)/1e3, 80*40 + gas(0.04), 2, true},
	} {
		spec := read(t, one.text)
		c := units.Checker{}
		made := spec.Build(&c)
		require.NoError(t, c.Err(), one.text)
		require.NoError(t, springtest.TestLaw(made), one.text)
		unitstest.Near(t, "rate of "+one.text, made.Rate(0.01), units.Stiffness(one.rate)*units.NewtonPerMillimetre, unitstest.Rel(1e-9))
		unitstest.Near(t, "force of "+one.text, made.Force(1), units.Force(one.force), unitstest.Rel(1e-9))
		if spec.Springs() != one.springs || spec.Gas() != one.gas {
			t.Errorf("%s: %d springs, gas %t", one.text, spec.Springs(), spec.Gas())
		}
	}
}

// Faults carry the path from the law on; a law of no kind is missing, one of two kinds a
// contradiction.
func TestLawNamesEveryFault(t *testing.T) {
	const good = `{"linear": {"rate": "80 N/mm", "travel": "60 mm"}}`
	for text, want := range map[string][]string{
		`{}`: {"law"},
		`{"linear": {"rate": "80 N/mm", "travel": "60 mm"}, "groups": [{"rate": "1 N/mm", "gap": "1 mm"}]}`:                                            {"law"},
		`{"series": [` + good + `, {}, {"dual_rate": {"soft_rate": "0 N/mm", "main_rate": "80 N/mm", "soft_travel": "5 mm", "main_travel": "5 mm"}}]}`: {"law.series[1]", "law.series[2].dual_rate.soft_rate"},
		`{"series": []}`: {"law.series"},
		`{"parallel": [{"law": ` + good + `, "starts_at": "-1 mm"}, {"law": {"series": [{"linear": {}}]}}]}`:                               {"law.parallel[0].starts_at", "law.parallel[1].law.series[0].linear.rate", "law.parallel[1].law.series[0].linear.travel"},
		`{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 0, "shear_modulus": "80 GPa", "preload": "-1 mm"}}`: {"law.coil.active_coils", "law.coil.preload"},
		`{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "shear_modulus": "80 GPa"}}`:                     {"law.coil.free_length"},
		`{"air": {"bore": "0 mm"}}`: nil, // more than are listed here
	} {
		c := units.Checker{}
		own := c.Child("law")
		made := read(t, text).Build(&own)
		var got []string
		for _, f := range units.Fields(c.Err()) {
			got = append(got, f.Field)
		}
		slices.Sort(got)
		if diff := cmp.Diff(want, got); want != nil && diff != "" || made != nil || len(got) == 0 {
			t.Errorf("%s: law %v, (-want +got)\n%s", text, made, diff)
		}
	}
	for text, class := range map[string]error{`{}`: units.ErrMissing, `{"linear": {}, "air": {}}`: units.ErrConflict} {
		c := units.Checker{}
		if read(t, text).Check(&c); !errors.Is(c.Err(), class) {
			t.Errorf("%s: %v", text, c.Err())
		}
	}
}
