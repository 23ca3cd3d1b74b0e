package evaluate

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Every kind of law, each worked out by hand: rate at 10 mm and full travel.
func TestLawKinds(t *testing.T) {
	const coil = `{"coil": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "free_length": "120 mm", "shear_modulus": "80 GPa", "preload": "4 mm"}}`
	for _, c := range []struct {
		law    string
		rate   float64 // N/mm
		travel float64 // mm
	}{
		{`{"linear": {"rate": "80 N/mm", "travel": "60 mm", "preload": "5 mm"}}`, 80, 60},
		{`{"series": [{"linear": {"rate": "80 N/mm", "travel": "60 mm"}}, {"linear": {"rate": "20 N/mm", "travel": "30 mm"}}]}`, 16, 90},
		{`{"parallel": [{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}}, {"law": {"linear": {"rate": "20 N/mm", "travel": "30 mm"}}, "starts_at": "9 mm"}]}`, 100, 39},
		{`{"groups": [{"rate": "80 N/mm", "gap": "1 mm"}, {"rate": "20 N/mm", "gap": "30 mm"}]}`, 20, 31},
		// 80 GPa · (10 mm)⁴ / (8 · (50 mm)³ · 5) = 160 N/mm; 120 − 7·10 mm to solid.
		{coil, 160, 46},
		{`{"linear_pitch": {"wire_diameter": "10 mm", "mean_diameter": "50 mm", "active_coils": 5, "shear_modulus": "80 GPa", "first_gap": "4 mm", "last_gap": "8 mm"}}`, 160, 30},
	} {
		law, err := decoded(t, c.law)
		if err != nil {
			t.Errorf("%s: %v", c.law, err)
			continue
		}
		unitstest.Near(t, "rate of "+c.law, law.Rate(10*units.Millimetre), units.Stiffness(c.rate)*units.NewtonPerMillimetre, unitstest.Rel(1e-12))
		unitstest.Near(t, "travel of "+c.law, law.Travel(), units.Length(c.travel)*units.Millimetre, unitstest.Rel(1e-12))
	}
	air, err := decoded(t, `{"air": {"bore": "36 mm", "travel": "160 mm", "positive_volume": "230 cm3", "fill": "5 bar", "ambient": "101325 Pa(a)", "exponent": 1}}`)
	if err != nil {
		t.Fatal(err)
	}
	// Gauge pressure times area at full extension.
	unitstest.Near(t, "force of the air", air.Force(0), units.Force(5e5*math.Pi*0.018*0.018), unitstest.Rel(1e-12))
}

// Errors carry the path from the law on.
func TestLawPaths(t *testing.T) {
	const good = `{"linear": {"rate": "80 N/mm", "travel": "60 mm"}}`
	for law, fields := range map[string][]string{
		`{}`: {""},
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
		built, err := decoded(t, law)
		if built != nil {
			t.Errorf("%s: built %v", law, built)
		}
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		if !slices.Equal(got, fields) {
			t.Errorf("%s: refused %q, want %q (%v)", law, got, fields, err)
		}
	}
}

func decoded(t *testing.T, law string) (spring.Law, error) {
	t.Helper()
	spec, err := decode[lawSpec](&input{json: []byte(law)})
	if err != nil {
		t.Fatalf("%s: %v", law, err)
	}
	return spec.build()
}

// A load beyond the law's forces is told with the load's place and why.
func TestSpringLawOutOfReach(t *testing.T) {
	const law = `{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm", "preload": "5 mm"}}, "load": ["399 N", "1000 N", "5201 N"]}`
	_, err := Compute(refdata.Case{Computes: "spring.law", Given: []byte(law)})
	fields := units.Fields(err)
	if len(fields) != 2 || fields[0].Field != "load[0]" || fields[1].Field != "load[2]" ||
		!errors.Is(fields[0], spring.ErrToppedOut) || !errors.Is(fields[1], spring.ErrBottomedOut) {
		t.Errorf("%v", err)
	}
	_, err = Compute(refdata.Case{Computes: "spring.law", Given: []byte(`{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}}`)})
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "at" {
		t.Errorf("neither at nor load: %v", err)
	}
}
