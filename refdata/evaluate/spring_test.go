package evaluate_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
)

func coilResult(t *testing.T, given string) evaluate.Result {
	t.Helper()
	r, err := evaluate.Compute(refdata.Case{Computes: "spring.coil", Given: []byte(given)})
	require.NoError(t, err)
	return r
}

// A coil offers what its inputs suffice for, and nothing else.
func TestCoilOffersWhatItKnows(t *testing.T) {
	const spring = `"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "shear_modulus": "79500 MPa"`
	loaded := []string{"travel", "stress", "stress_wahl", "stress_uncorrected", "load_tolerance_1", "load_tolerance_2", "load_tolerance_3"}
	heavy := []string{"mass", "surge_frequency"}
	long := []string{"pitch", "helix_angle", "solid_travel", "solid_force", "solid_stress", "outer_diameter_solid"}
	held := []string{"rate_ends_free", "rate_ends_held"}
	slender := []string{"stable_slenderness"}
	buckling := []string{"buckling_travel"}
	all := [][]string{loaded, heavy, long, held, slender, buckling}
	for _, row := range []struct {
		given string
		known [][]string
	}{
		{`{` + spring + `}`, nil},
		{`{` + spring + `, "load": "5500 N"}`, [][]string{loaded}},
		{`{` + spring + `, "density": "7850 kg/m3"}`, [][]string{heavy}},
		{`{` + spring + `, "free_length": "115 mm"}`, [][]string{long}},
		{`{` + spring + `, "end_fixity": 0.5}`, nil},
		{`{` + spring + `, "elastic_modulus": "206 GPa", "end_fixity": 0.5}`, [][]string{slender}},
		{`{` + spring + `, "free_length": "115 mm", "elastic_modulus": "206 GPa"}`, [][]string{long, held}},
		{`{` + spring + `, "free_length": "280 mm", "elastic_modulus": "206 GPa", "end_fixity": 0.5}`, [][]string{long, held, slender, buckling}},
	} {
		r := coilResult(t, row.given)
		for _, output := range slices.Concat(all...) {
			_, got := r[output]
			if want := slices.Contains(slices.Concat(row.known...), output); got != want {
				t.Errorf("%s: %s is given: %v, want %v", row.given, output, got, want)
			}
		}
		if r["rate"] == nil || r["index"] == nil {
			t.Errorf("%s: %v", row.given, r)
		}
	}
	// Computed with mpmath at 50 digits: steel on pivots is stable to 2.6155 mean diameters.
	r := coilResult(t, `{`+spring+`, "elastic_modulus": "206 GPa", "end_fixity": 1}`)
	if got, ok := r["stable_slenderness"].(float64); !ok || math.Abs(got-2.61555406188022) > 1e-13 {
		t.Errorf("stable to %v", r["stable_slenderness"])
	}
}

// Outputs of a chamber that there is not, or of an amplitude that is not asked for, are
// not given.
func TestAirOffersWhatItKnows(t *testing.T) {
	const one = `"bore": "36 mm", "travel": "160 mm", "positive_volume": "230 cm3", "fill": "5 bar", "ambient": "101325 Pa(a)", "exponent": 1`
	const heat = `"area": "1000 mm2", "volume": "170 cm3", "omega_tau": 1, "fill": "7 bar", "ambient": "101325 Pa(a)", "heat_ratio": 1.4`
	for _, row := range []struct {
		computes, given string
		known           []string
	}{
		{"airspring.law", `{` + one + `, "at": ["1 mm"]}`, nil},
		{"airspring.law", `{` + one + `, "negative_volume": "60 cm3", "shaft": "10 mm", "port_travel": "9 mm", "at": ["1 mm"]}`, []string{"negative_pressure"}},
		{"airspring.heat", `{` + heat + `}`, nil},
		{"airspring.heat", `{` + heat + `, "amplitude": "20 mm"}`, []string{"energy_small", "energy_lost", "pressure"}},
	} {
		r, err := evaluate.Compute(refdata.Case{Computes: row.computes, Given: []byte(row.given)})
		require.NoError(t, err)
		for _, output := range []string{"negative_pressure", "opening_travel", "energy_small", "energy_lost", "pressure"} {
			if _, known := r[output]; known != slices.Contains(row.known, output) {
				t.Errorf("%s: %s is given: %v", row.given, output, known)
			}
		}
	}
}

// A material gives what it says and the case doesn't.
func TestCoilOfAMaterial(t *testing.T) {
	r := coilResult(t, `{"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "material": "EN 10270-2 FDSiCr", "density": "5000 kg/m3"}`)
	// By hand: 79 500 MPa · 10⁴/(8·46³·5); 5000 kg/m³ · π/4 · (10 mm)² · π · 46 mm · 7.
	if k := r["rate"].(units.Stiffness).NewtonsPerMillimetre(); math.Abs(k-79500*1e4/(8*46*46*46*5.0)) > 1e-10 {
		t.Errorf("rate %v N/mm", k)
	}
	if m := r["mass"].(units.Mass); math.Abs(float64(m)-5000*math.Pi/4*1e-4*math.Pi*0.046*7) > 1e-14 {
		t.Errorf("mass %v", m)
	}
}
