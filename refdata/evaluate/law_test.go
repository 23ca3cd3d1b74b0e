package evaluate_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// lawAt computes a law at strokes.
func lawAt(t *testing.T, law, at string) evaluate.Result {
	t.Helper()
	r, err := evaluate.Compute(refdata.Case{Computes: "spring.law", Given: []byte(`{"law": ` + law + `, "at": [` + at + `]}`)})
	require.NoError(t, err)
	return r
}

// Every kind of law, worked out by hand: the rate at 10 mm and the force at full
// travel, which holds for any travel beyond.
func TestLawKinds(t *testing.T) {
	const coil = `{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "free_length": "120 mm", "shear_modulus": "80 GPa", "preload": "4 mm"}}`
	for _, row := range []struct {
		law   string
		rate  float64 // N/mm
		force float64 // N
	}{
		{`{"linear": {"rate": "80 N/mm", "travel": "60 mm", "preload": "5 mm"}}`, 80, 80 * 65},
		{`{"series": [{"linear": {"rate": "80 N/mm", "travel": "60 mm"}}, {"linear": {"rate": "20 N/mm", "travel": "30 mm"}}]}`, 16, 80 * 60},
		{`{"parallel": [{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}}, {"law": {"linear": {"rate": "20 N/mm", "travel": "30 mm"}}, "starts_at": "9 mm"}]}`, 100, 80*39 + 20*30},
		{`{"groups": [{"rate": "80 N/mm", "gap": "1 mm"}, {"rate": "20 N/mm", "gap": "30 mm"}]}`, 20, 20 * 30},
		// 80 GPa · (10 mm)⁴ / (8 · (50 mm)³ · 5) = 160 N/mm; 120 − 7·10 mm to solid.
		{coil, 160, 160 * 50},
		// 800 N/mm for each coil, the last of which closes after 8 mm.
		{`{"linear_pitch": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "shear_modulus": "80 GPa", "first_gap": "4 mm", "last_gap": "8 mm"}}`, 160, 800 * 8},
	} {
		r := lawAt(t, row.law, `"10 mm", "1000 m"`)
		unitstest.Near(t, "rate of "+row.law, r["rate"].([]units.Stiffness)[0], units.Stiffness(row.rate)*units.NewtonPerMillimetre, unitstest.Rel(1e-12))
		unitstest.Near(t, "force of "+row.law, r["force"].([]units.Force)[1], units.Force(row.force), unitstest.Rel(1e-12))
	}
	// Gauge pressure times area at full extension.
	r := lawAt(t, `{"air": {"bore": "36 mm", "travel": "160 mm", "positive_volume": "230 cm3", "fill": "5 bar", "ambient": "101325 Pa(a)", "exponent": 1}}`, `"0 mm"`)
	unitstest.Near(t, "force of the air", r["force"].([]units.Force)[0], units.Force(5e5*math.Pi*0.018*0.018), unitstest.Rel(1e-12))
}

// Errors carry the path from the law on.
func TestLawPaths(t *testing.T) {
	const good = `{"linear": {"rate": "80 N/mm", "travel": "60 mm"}}`
	for law, fields := range map[string][]string{
		`{"linear": {"rate": "80 N/mm", "travel": "60 mm"}, "groups": [{"rate": "1 N/mm", "gap": "1 mm"}]}`: {""},
		`{"linear": {}}`: {"linear.rate", "linear.travel"},
		`{"series": []}`: {"series"},
		`{"series": [` + good + `, {}, {"linear": {"rate": "0 N/mm", "travel": "60 mm"}}]}`:      {"series[1]", "series[2].linear.rate"},
		`{"series": [{"parallel": [{"law": {"groups": [{"rate": "1 N/mm", "gap": "0 mm"}]}}]}]}`: {"series[0].parallel[0].law.groups[0].gap"},
		`{"parallel": []}`: {"parallel"},
		`{"parallel": [{"law": ` + good + `, "starts_at": "-1 mm"}, {"starts_at": "-2 mm"}]}`: {"parallel[1].law", "parallel[0].starts_at", "parallel[1].starts_at"},
		`{"parallel": [{"law": ` + good + `}, {"law": ` + good + `, "starts_at": "60 mm"}]}`:  {"parallel[1].starts_at"},
		`{"groups": []}`: {"groups"},
		`{"groups": [{"rate": "1 N/mm", "gap": "1 mm"}, {"gap": "-1 mm"}]}`:                                                                                         {"groups[1].rate", "groups[1].gap"},
		`{"linear_pitch": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "shear_modulus": "80 GPa"}}`:                                      {"linear_pitch.last_gap"},
		`{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "shear_modulus": "80 GPa"}}`:                                              {"coil.free_length"},
		`{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 0, "shear_modulus": "80 GPa", "preload": "-1 mm"}}`:                          {"coil.active_coils", "coil.preload"},
		`{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "free_length": "120 mm", "shear_modulus": "80 GPa", "preload": "50 mm"}}`: {"coil.preload"},
		`{"air": {"bore": "36 mm", "travel": "160 mm", "positive_volume": "230 cm3", "fill": "5 bar", "ambient": "101325 Pa(a)", "exponent": -1}}`:                  {"air.exponent"},
	} {
		for i, f := range fields {
			fields[i] = strings.TrimSuffix("law."+f, ".")
		}
		slices.Sort(fields)
		if diff := cmp.Diff(fields, named("spring.law", []byte(`{"law": `+law+`, "at": ["0 mm"]}`))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", law, diff)
		}
	}
}

// A law of no kind is missing, one of two kinds is a contradiction.
func TestLawHasExactlyOneKind(t *testing.T) {
	const linear, air = `"linear": {"rate": "80 N/mm", "travel": "60 mm"}`, `"air": {"bore": "36 mm"}`
	for law, class := range map[string]error{`{}`: units.ErrMissing, `{` + linear + `, ` + air + `}`: units.ErrConflict} {
		_, err := evaluate.Compute(refdata.Case{Computes: "spring.law", Given: []byte(`{"law": ` + law + `, "at": ["0 mm"]}`)})
		if !errors.Is(err, class) {
			t.Errorf("%s: %v, want %v", law, err, class)
		}
	}
}

// A load beyond the law's forces is named by its place and class.
func TestSpringLawOutOfReach(t *testing.T) {
	const law = `{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm", "preload": "5 mm"}}, "load": ["399 N", "1000 N", "5201 N"]}`
	_, err := evaluate.Compute(refdata.Case{Computes: "spring.law", Given: []byte(law)})
	fields := units.Fields(err)
	if len(fields) != 2 || fields[0].Field != "load[0]" || fields[1].Field != "load[2]" ||
		!errors.Is(fields[0], spring.ErrToppedOut) || !errors.Is(fields[1], spring.ErrBottomedOut) {
		t.Errorf("%v", err)
	}
}
