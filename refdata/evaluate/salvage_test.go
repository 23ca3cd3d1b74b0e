package evaluate_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
)

// named lists the fields that a refusal names, each once, in order; nil for
// none.
func named(computes string, given []byte) []string {
	_, err := evaluate.Compute(refdata.Case{Computes: computes, Given: given})
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// Every bad value is named, beside values that do not parse, that are missing and that
// contradict each other.
func TestEveryBadFieldIsNamed(t *testing.T) {
	const five = `"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5`
	const hose = `"chamber_volume": "190 cm3", "hose_volume": "4 cm3"`
	const weighed = `"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.3, ` // 60 mm of stroke
	const chamber = `"airspring": {"bore": "36 mm", "travel": "50 mm", "positive_volume": "150 cm3", "ambient": "101325 Pa(a)", "exponent": 1, `
	const air, hard, soft = chamber + `"fill": "10 bar"}`, chamber + `"fill": "900 bar"}`, chamber + `"fill": "0.01 bar"}`
	const pulling = `"bore": "34 mm", "shaft": "10 mm", "travel": "160 mm", "positive_volume": "190 cm3", "negative_volume": "60 cm3", "port_travel": "8 mm", "fill": "5.5 bar", "ambient": "101325 Pa(a)", "exponent": 1`
	const filled = `"fill": "7 bar", "ambient": "101325 Pa(a)", "heat_ratio": 1.4`
	const heat = `"area": "1000 mm2", "volume": "170 cm3", "omega_tau": 1, ` + filled
	const hold = `"volume": "210 cm3", "to_volume": "120 cm3", "time_constant": "1.5 s", ` + filled
	const coil = `"mean_diameter": "46 mm", "shear_modulus": "79500 MPa"`
	const short = `"law": {"linear": {"rate": "80 N/mm", "travel": "50 mm"}}, `
	const ring = `"curve": {"constant": 2.5, "travel": "150 mm"}, ` + short
	for _, row := range []struct {
		computes, given string
		want            []string
	}{
		{"spring.coil", `{"wire_diameter": "10 furlong", "active_coils": -5, ` + coil + `}`, []string{"active_coils", "wire_diameter"}},
		{"spring.coil", `{"wire_diameter": "10 mm", "active_coils": "five", "free_length": "-1 mm", ` + coil + `}`, []string{"active_coils", "free_length"}},
		{"spring.coil", `{"wire_diameter": "10", "active_coils": 5, "load": "x", "end_fixity": 0, ` + coil + `}`, []string{"end_fixity", "load", "wire_diameter"}},
		{"spring.coil", `{"wire_diameter": "10", "mean_diameter": "46 mm"}`, []string{"active_coils", "shear_modulus", "wire_diameter"}},
		// Which of two diameters is meant depends on the one that can't be read.
		{"spring.coil", `{"wire_diameter": "10 mm", "outer_diameter": "x", "active_coils": -5, "shear_modulus": "79500 MPa"}`, []string{"active_coils", "outer_diameter"}},
		// A misspelt field is named once, and another that is out of range as well.
		{"spring.coil", `{"wire_diametr": "10 mm", "active_coils": -5, ` + coil + `}`, []string{"active_coils", "wire_diametr"}},
		{"spring.coil", `{"wire_diameter": "10 mm", "active_coils": -5, "ends": "pointed", ` + coil + `}`, []string{"active_coils", "ends"}},
		// A material and what contradicts it.
		{"spring.coil", `{` + five + `, "material": "chalk"}`, []string{"material"}},
		{"spring.coil", `{` + five + `, "material": "EN 10270-2 FDSiCr", "shear_modulus": "79 GPa"}`, []string{"material"}},
		{"spring.coil", `{` + five + `}`, []string{"shear_modulus"}},
		{"spring.coil", `{"wire_diameter": "-1 mm", "mean_diameter": "46 mm", "active_coils": 5, "material": "EN 10270-2 FDSiCr"}`, []string{"wire_diameter"}},
		{"spring.coil", `{"wire_diameter": "50 mm", "mean_diameter": "46 mm", "active_coils": 0, "material": "chalk", "load": "-1 N", "end_fixity": 0}`,
			[]string{"active_coils", "end_fixity", "load", "material", "wire_diameter"}},
		{"spring.coil", `{` + five + `, "material": "EN 10270-2 FDSiCr", "elastic_modulus": "70 GPa"}`, []string{"elastic_modulus"}},
		{"spring.coil", `{` + five + `, "material": "EN 10270-2 FDSiCr", "free_length": "70 mm", "load":"1N"}`, []string{"free_length"}},
		{"spring.law", `{"law": {"linear": {"rate": "80", "travel": "-1 mm"}}, "at": ["1"]}`, []string{"at[0]", "law.linear.rate", "law.linear.travel"}},
		{"spring.law", `{"law": {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}}`, []string{"at"}},
		{"spring.law", `{"law": {"linnear": {"rate": "80 N/mm"}}}`, []string{"law.linnear"}},
		{"sag.settle", `{"curve": {"constant": "x", "travel": "150 mm"}, "law": {"linear": {"rate": "0 N/mm", "travel": "60 mm"}}, "load": "x", "friction": "-1 N"}`,
			[]string{"curve.constant", "friction", "law.linear.rate", "load"}},
		{"sag.whole", `{"rider_mass": "80", "front": {"curve": {"constant": 1, "travel": "x"}, "law": {"linear": {"rate": "-8 N/mm", "travel": "150 mm"}}}, "rear": 5}`,
			[]string{"front.curve.travel", "front.law.linear.rate", "rear", "rider_mass"}},
		{"airspring.hose", `{` + hose + `, "fill": "5 bar", "reading": "5 bar"}`, []string{"reading"}},
		{"airspring.hose", `{` + hose + `}`, []string{"fill"}},
		{"sag.correct", `{` + weighed + air + `, "measured_stroke": "15 mm", "preload": "1 mm"}`, []string{"preload"}},
		{"sag.correct", `{` + weighed + air + `, "measured_stroke": "55 mm"}`, []string{"measured_stroke"}},
		// The load is computed, and no input; a sag of 0.9 is beyond this spring.
		{"sag.correct", `{"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.01, ` + hard + `, "measured_stroke": "45 mm"}`, []string{"measured_stroke"}},
		{"sag.correct", `{"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.8, ` + soft + `, "measured_stroke": "0.1 mm"}`, []string{"measured_stroke"}},
		{"sag.correct", `{"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.9, ` + soft + `, "measured_stroke": "15 mm"}`, []string{"sag"}},
		{"sag.correct", `{"curve": {"constant": 1, "travel": "160 mm"}, "sag": 0.005, "airspring": {` + pulling + `}, "measured_stroke": "40 mm"}`, []string{"sag"}},
		{"sag.correct", `{` + weighed + `"rate": "80 N/mm", "measured_stroke": "61 mm"}`, []string{"measured_stroke"}},
		{"sag.correct", `{` + weighed + `"rate": "80 N/mm", "measured_stroke": "59 mm"}`, nil},
		{"airspring.atmosphere", `{}`, []string{"altitude"}},
		// One unknown field may be the missing one misspelt; two are not both.
		{"airspring.atmosphere", `{"height": "1 m"}`, []string{"height"}},
		{"airspring.atmosphere", `{"height": "1 m", "latitude": 45}`, []string{"altitude", "height", "latitude"}},
		{"airspring.conditions", `{"fill": "5 bar", "colour": 1, "taste": 2, "from": {"temperature": "0 °C"}}`, []string{"colour", "taste", "to.temperature"}},
		// 1000 mm² sweep 0.99 of 170 cm³ in 168.3 mm.
		{"airspring.heat", `{` + heat + `, "amplitude": "168.2 mm"}`, nil},
		{"airspring.heat", `{` + heat + `, "amplitude": "168.4 mm"}`, []string{"amplitude"}},
		{"airspring.hold", `{` + hold + `, "after": ["2e6 s"]}`, nil},
		{"airspring.hold", `{` + hold + `, "after": ["1e6 s"], "ramp": "1e6 s"}`, nil},
		{"airspring.hold", `{` + hold + `, "after": ["1.1e6 s"], "ramp": "1.1e6 s"}`, []string{"after[0]", "ramp"}},
		{"sag.damping", `{"damping_ratio": 1e300, "wheel_rate": "1e300 N/m", "load": "1e300 N"}`, []string{"damping_ratio"}},
		// The spring ends at 50 mm, the curve at 60 mm.
		{"sag.implied", `{` + ring + `"stroke": "45 mm", "error": "4.9 mm"}`, nil},
		{"sag.implied", `{` + ring + `"stroke": "45 mm", "error": "5.1 mm"}`, []string{"error"}},
		{"sag.implied", `{` + ring + `"stroke": "51 mm", "error": "-1 mm"}`, []string{"error", "stroke"}},
		{"sag.implied", `{"curve": {"constant": 0, "travel": "150 mm"}, ` + short + `"stroke": "-1 mm", "error": "-1 mm"}`, []string{"curve.constant", "error", "stroke"}},
		// Short of the port, where this fork pulls.
		{"sag.implied", `{"curve": {"constant": 1, "travel": "160 mm"}, "law": {"air": {` + pulling + `}}, "stroke": "1 mm", "error": "0.5 mm"}`,
			[]string{"stroke"}},
		// A null is no way to leave a field out.
		{"spring.coil", `{` + five + `, "shear_modulus": "79 GPa", "end_fixity": null}`, []string{"end_fixity"}},
		{"spring.coil", `{"wire_diameter": "0 mm", "mean_diameter": "46 mm", "active_coils": 5, "material": null}`, []string{"material", "wire_diameter"}},
		{"spring.law", `{"law": {"linear": null}, "at": ["1 mm"]}`, []string{"law.linear"}},
		{"linkage.wheel", `{"curve": {"fork": null}, ` + short + `"at": ["1 mm"]}`, []string{"curve.fork"}},
		{"units.convert", `{"kind": "speed", "value": 5}`, []string{"value"}},
		{"units.convert", `{"kind":"length","value":"` + strings.Repeat(" ", refdata.CaseLimit) + `1 in"}`, []string{"given"}},
	} {
		if diff := cmp.Diff(row.want, named(row.computes, []byte(row.given))); diff != "" {
			t.Errorf("%s %.300s (-want +got):\n%s", row.computes, row.given, diff)
		}
	}
}

// place is where a quantity or a number stands in what is given.
type place struct {
	path string
	set  func(v any)
	old  any
}

// places lists every quantity and number within v.
func places(path string, v any, set func(any)) []place {
	var list []place
	switch v := v.(type) {
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			inner := strings.TrimPrefix(path+"."+name, ".")
			if strings.Contains(name, " ") {
				inner = path + "[" + strconv.Quote(name) + "]"
			}
			list = append(list, places(inner, v[name], func(x any) { v[name] = x })...)
		}
	case []any:
		for i := range v {
			list = append(list, places(fmt.Sprintf("%s[%d]", path, i), v[i], func(x any) { v[i] = x })...)
		}
	case float64:
		list = append(list, place{path, set, v})
	case string:
		if _, unit, ok := refdata.SplitQuantity(v); ok && unit != "" {
			list = append(list, place{path, set, v})
		}
	}
	return list
}

// In every case that is computed, each quantity and number in turn is given a
// text that does not parse, or a null: the refusal names it and nothing else. And
// with two of them at once, both are named.
func TestUnparsedIsNamedAlone(t *testing.T) {
	turns := 0
	for _, c := range cases(t) {
		if c.Error != nil || c.Computes == "units.convert" {
			continue
		}
		var given map[string]any
		require.NoError(t, json.Unmarshal(c.Given, &given))
		list := places("", given, nil)
		refused := func() []string {
			text, err := json.Marshal(given)
			require.NoError(t, err)
			return named(c.Computes, text)
		}
		for i, p := range list {
			p.set(nil)
			if diff := cmp.Diff([]string{p.path}, refused()); diff != "" {
				t.Errorf("%s: %s is null (-want +got):\n%s", c.ID, p.path, diff)
			}
			p.set("1 furlong")
			if diff := cmp.Diff([]string{p.path}, refused()); diff != "" {
				t.Errorf("%s: %s does not parse (-want +got):\n%s", c.ID, p.path, diff)
			}
			turns++
			if other := list[(i+1)%len(list)]; i == 0 && other.path != p.path {
				other.set("1 furlong")
				want := []string{p.path, other.path}
				slices.Sort(want)
				if diff := cmp.Diff(want, refused()); diff != "" {
					t.Errorf("%s: %s and %s do not parse (-want +got):\n%s", c.ID, p.path, other.path, diff)
				}
				other.set(other.old)
			}
			p.set(p.old)
		}
	}
	if turns < 3000 {
		t.Errorf("only %d values were tried", turns)
	}
}
