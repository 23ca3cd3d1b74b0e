package refdata_test

import (
	"errors"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Strengths worked out by hand from the constants of the sources, with mpmath
// at 50 digits where a row says so.
func TestTensileStrength(t *testing.T) {
	tests := []struct {
		material string
		wire     units.Length
		want     units.Stress
		within   units.Stress
	}{
		// mpmath, 50 digits: Rm = min(Rm0 − slope·log₁₀(d/mm), cap)
		{"EN 10270-1 SH", 6 * units.Millimetre, 1581.91597468541 * units.Megapascal, 1e-9 * units.Megapascal},
		{"EN 10270-2 FDSiCr", 10 * units.Millimetre, 1668 * units.Megapascal, 1e-9 * units.Megapascal},
		{"EN 10270-2 VDSiCr", 8.5 * units.Millimetre, 1691.89078061714 * units.Megapascal, 1e-9 * units.Megapascal},
		{"EN 10270-1 SM", 3.5 * units.Millimetre, 1568.3896471808 * units.Megapascal, 1e-9 * units.Megapascal},
		// capped: 2220 + 820·log₁₀2 = 2466.8 and 2220 + 820·log₁₀(1/0.28) = 2673.3 at 0.28 mm
		{"EN 10270-1 SH", 0.28 * units.Millimetre, 2660 * units.Megapascal, 1e-9 * units.Megapascal},
		// engineeringprep.com problems 387 and 141, the older constants, printed 1032 and 1492 MPa
		{"ASTM A229, 1987 constants", 10 * units.Millimetre, 1032 * units.Megapascal, 0.5 * units.Megapascal},
		{"ASTM A228, 1987 constants", 7.25 * units.Millimetre, 1492 * units.Megapascal, 0.5 * units.Megapascal},
		// 1 mm wire has the constant itself
		{"ASTM A228", 1 * units.Millimetre, 2211 * units.Megapascal, 1e-9 * units.Megapascal},
		// 1.6^0.108 = exp(0.108·0.4700036292) = 1.0520707785 by its series
		{"ASTM A401", 1.6 * units.Millimetre, 1974 / 1.0520707785 * units.Megapascal, 1e-5 * units.Megapascal},
		// the row of the diameter, of three
		{"ASTM A313 302", 1 * units.Millimetre, 1867 * units.Megapascal, 1e-9 * units.Megapascal},
		{"ASTM A313 302", 10 * units.Millimetre, 968.4 * units.Megapascal, 0.1 * units.Megapascal}, // 2911/10^0.478 = 2911/3.00608
	}
	for _, tt := range tests {
		m, err := refdata.MaterialNamed(tt.material)
		require.NoError(t, err)
		got, err := m.TensileStrength(tt.wire)
		if err != nil || !(math.Abs(float64(got-tt.want)) <= float64(tt.within)) {
			t.Errorf("%s, %v: %v (%v), want %v within %v", tt.material, tt.wire, got, err, tt.want, tt.within)
		}
	}
}

// Within a row thicker wire is weaker, and every row covers both its ends.
func TestStrengthFalls(t *testing.T) {
	for _, m := range refdata.Materials() {
		if m.Strength == nil {
			continue
		}
		for _, row := range m.Strength.Rows {
			from, to := row.WireFrom, row.WireTo
			if to == 0 {
				from, to = 0.5*units.Millimetre, 10*units.Millimetre
			}
			last := units.Stress(math.Inf(1))
			for i := range 101 {
				d := from + (to-from)*units.Length(float64(i)/100)
				if i == 100 {
					d = to
				}
				one := m // where rows meet, the one before counts
				one.Strength = &refdata.Strength{Rows: []refdata.StrengthAt{row}}
				s, err := one.TensileStrength(d)
				if err != nil || !(s <= last) || !(s > 0) {
					t.Errorf("%s: %v at %v after %v (%v)", m.Name, s, d, last, err)
				}
				if _, err := m.TensileStrength(d); err != nil {
					t.Errorf("%s: %v", m.Name, err)
				}
				last = s
			}
		}
	}
}

func TestMaterialRefusals(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	tests := []struct {
		material string
		wire     units.Length
		modulus  string // the field that ModuliOf refuses
		strength string // the field that TensileStrength refuses
	}{
		{"ASTM A228", 0, "wire_diameter", "wire_diameter"},
		{"ASTM A228", -1, "wire_diameter", "wire_diameter"},
		{"ASTM A228", nan, "wire_diameter", "wire_diameter"},
		{"ASTM A228", inf, "wire_diameter", "wire_diameter"},
		{"ASTM A228", 6.6 * units.Millimetre, "", "wire_diameter"},
		{"ASTM A228", 0.09 * units.Millimetre, "", "wire_diameter"},
		{"ASTM A227", 16 * units.Millimetre, "wire_diameter", "wire_diameter"},
		{"ASTM A230", 5 * units.Millimetre, "", "material"},
		{"ASTM A228, third fit", 5 * units.Millimetre, "material", ""},
		{"ASTM A228, 1987 constants", inf, "material", "wire_diameter"},
		{"ASTM A228, 1987 constants", nan, "material", "wire_diameter"},
	}
	for _, tt := range tests {
		m, err := refdata.MaterialNamed(tt.material)
		require.NoError(t, err)
		_, errM := m.ModuliOf(tt.wire)
		_, errS := m.TensileStrength(tt.wire)
		for want, err := range map[string]error{"modulus " + tt.modulus: errM, "strength " + tt.strength: errS} {
			got := want[:len("modulus ")]
			if want[0] == 's' {
				got = "strength "
			}
			for _, f := range units.Fields(err) {
				got += f.Field
			}
			if got != want {
				t.Errorf("%s, %v: refused for %q, want %q (%v)", tt.material, tt.wire, got, want, err)
			}
		}
	}
}

// Names are found whatever their case, spaces and punctuation. The error for
// another lists those that there are.
func TestMaterialNamed(t *testing.T) {
	for name, want := range map[string]string{
		"EN 10270-1 SH": "EN 10270-1 SH", "EN10270-1 SH": "EN 10270-1 SH", "en 10270-1-sh": "EN 10270-1 SH",
		"A228": "ASTM A228", "astm a228": "ASTM A228", "Music wire": "ASTM A228", "ASTM A231": "ASTM A232",
	} {
		m, err := refdata.MaterialNamed(name)
		if err != nil || m.Name != want {
			t.Errorf("%q: %q (%v), want %q", name, m.Name, err, want)
		}
	}
	var names []string
	for _, m := range refdata.Materials() {
		names = append(names, m.Name)
	}
	for name, class := range map[string]error{"": units.ErrMissing, " ": units.ErrUnknown, "-": units.ErrUnknown, "A22": units.ErrUnknown, "unobtainium": units.ErrUnknown} {
		m, err := refdata.MaterialNamed(name)
		f := units.Fields(err)
		if len(f) != 1 || f[0].Field != "material" || f[0].Class != class || f[0].Want.String() != "one of "+strings.Join(names, "; ") {
			t.Errorf("%q: %q, %v; want an error in material", name, m.Name, err)
		}
	}
}

// A wire outside a material's range is told the range, with the bounds that the
// source gives.
func TestMaterialRefusalsSayTheRange(t *testing.T) {
	const mm = units.Millimetre
	for _, row := range []struct {
		from, to, wire units.Length
		want           string // "" where the wire is inside
	}{
		{1 * mm, 2 * mm, 2 * mm, ""}, {0, 2 * mm, 0.1 * mm, ""}, {1 * mm, 0, 100 * mm, ""}, {0, 0, 1 * mm, ""}, {0, 0, 2 * units.Metre, ""},
		{1 * mm, 2 * mm, 3 * mm, "from 1 mm to 2 mm"}, {0, 2 * mm, 3 * mm, "more than 0 and at most 2 mm"},
		{1 * mm, 0, 0.5 * mm, "more than 1 mm"}, {0, 0, -1 * mm, "more than 0 mm"},
	} {
		stress := refdata.StressValue{Value: units.Gigapascal}
		m := refdata.MaterialData{Name: "a wire",
			Moduli:   &refdata.Moduli{Rows: []refdata.ModuliAt{{WireFrom: row.from, WireTo: row.to, ShearModulus: stress, ElasticModulus: stress}}},
			Density:  &refdata.DensityData{Value: 8000},
			Strength: &refdata.Strength{Rows: []refdata.StrengthAt{{WireFrom: row.from, WireTo: row.to, AtOne: stress, Exponent: 0.1}}}}
		moduli, errM := m.ModuliOf(row.wire)
		strength, errS := m.TensileStrength(row.wire)
		at, errA := m.At(row.wire)
		if row.want == "" {
			want := coil.Material{Name: "a wire", ShearModulus: stress.Value, ElasticModulus: stress.Value, Density: 8000, TensileStrength: strength}
			if err := errors.Join(errM, errS, errA); err != nil || at != want || !(strength > 0) {
				t.Errorf("%v: %+v, %v", row.wire, at, err)
			}
			continue
		}
		for _, err := range []error{errM, errS, errA} {
			if f := units.Fields(err); len(f) != 1 || f[0].Want.String() != row.want+", which is what the source for a wire covers" {
				t.Errorf("%v: %v, want %s", row.wire, err, row.want)
			}
		}
		if moduli != (refdata.ModuliAt{}) || strength != 0 || at != (coil.Material{}) {
			t.Errorf("%v: refused, yet %v, %v, %v", row.wire, moduli, strength, at)
		}
	}
}

// The bands of music wire as Table 10-5 prints them; a wire in a gap between
// two bands counts to the thicker one.
func TestModuliByDiameter(t *testing.T) {
	m, err := refdata.MaterialNamed("ASTM A228")
	require.NoError(t, err)
	for wire, want := range map[units.Length]units.Stress{
		0.010 * units.Inch: 82.7 * units.Gigapascal, 0.032 * units.Inch: 82.7 * units.Gigapascal,
		0.0325 * units.Inch: 81.7 * units.Gigapascal, 0.050 * units.Inch: 81.7 * units.Gigapascal,
		0.1 * units.Inch: 81.0 * units.Gigapascal, 0.2 * units.Inch: 80.0 * units.Gigapascal,
	} {
		row, err := m.ModuliOf(wire)
		if err != nil || math.Abs(float64(row.ShearModulus.Value/want-1)) > 1e-12 {
			t.Errorf("%v: %v (%v), want %v", wire, row.ShearModulus.Value, err, want)
		}
	}
}

func TestMaterialsAreComplete(t *testing.T) {
	list := refdata.Materials()
	if len(list) != 27 {
		t.Errorf("%d materials, want 27", len(list))
	}
	seen := map[string]string{}
	for _, m := range list {
		own := map[string]bool{}
		for _, name := range append([]string{m.Name}, m.Aliases...) {
			plain := plain(name)
			if other, ok := seen[plain]; ok && other != m.Name || own[plain] && name == m.Name {
				t.Errorf("%q names both %s and %s", name, other, m.Name)
			}
			seen[plain], own[plain] = m.Name, true
		}
		if m.Moduli == nil && m.Strength == nil {
			t.Errorf("%s says nothing", m.Name)
		}
		c := units.Checker{Package: "refdata"}
		if v := m.Moduli; v != nil {
			v.Source.Check(&c, v.Standing)
			if v.Source.Title == "" {
				t.Errorf("%s: moduli from nowhere", m.Name)
			}
			for i, r := range v.Rows {
				if i > 0 && r.WireFrom < v.Rows[i-1].WireTo || r.WireTo != 0 && r.WireTo <= r.WireFrom {
					t.Errorf("%s: moduli rows out of order", m.Name)
				}
				g, e := r.ShearModulus, r.ElasticModulus
				if !(g.Uncertainty > 0) || !(e.Uncertainty > 0) || g.Uncertainty > g.Value/5 || e.Uncertainty > e.Value/5 {
					t.Errorf("%s: uncertainties %v, %v", m.Name, g.Uncertainty, e.Uncertainty)
				}
				// E/2G − 1 is Poisson's ratio, near 0.3 for steel and titanium;
				// the tables' own pairs spread from 0.2 to 0.45.
				if nu := float64(e.Value/g.Value)/2 - 1; !(nu > 0.2 && nu < 0.45) {
					t.Errorf("%s: Poisson's ratio %.3f from E %v and G %v", m.Name, nu, e.Value, g.Value)
				}
			}
		}
		if v := m.Density; v != nil {
			v.Source.Check(&c, v.Standing)
			if !(v.Value > 4000 && v.Value < 9000) || !(v.Uncertainty > 0) {
				t.Errorf("%s: density %v ± %v", m.Name, v.Value, v.Uncertainty)
			}
		}
		if v := m.Strength; v != nil {
			v.Source.Check(&c, v.Standing)
			for i, r := range v.Rows {
				if i > 0 && r.WireFrom < v.Rows[i-1].WireTo || r.WireTo != 0 && r.WireTo <= r.WireFrom {
					t.Errorf("%s: strength rows out of order", m.Name)
				}
				if power := v.Form == "power"; power != (r.Exponent > 0) || power != (r.PerDecade == nil) || power != (r.Cap == nil) {
					t.Errorf("%s: a row that is not of the form %s", m.Name, v.Form)
				}
			}
		}
		if err := c.Err(); err != nil {
			t.Errorf("%s: %v", m.Name, err)
		}
	}
}

// plain keeps the letters and digits of a name, in lower case.
func plain(name string) string {
	return strings.ToLower(regexp.MustCompile(`[^\pL\pN]`).ReplaceAllString(name, ""))
}
