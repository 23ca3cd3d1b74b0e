package refdata_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// refused checks that an error names a field, one of the given where any are.
func refused(t *testing.T, err error, names ...string) {
	t.Helper()
	ours := func(f *units.FieldError) bool { return len(names) == 0 || slices.Contains(names, f.Field) }
	if !slices.ContainsFunc(units.Fields(err), ours) {
		t.Fatalf("names no field of %q: %v", names, err)
	}
}

// FuzzNames looks a name up among materials, constants and gases: what is
// found has that name or an alias, what isn't is refused by field; its values at
// any wire are numbers or refused by field.
func FuzzNames(f *testing.F) {
	for _, m := range refdata.Materials() {
		for _, name := range append(m.Aliases, m.Name) {
			f.Add(strings.ToLower(name), 0.004)
		}
	}
	for _, c := range refdata.Constants() {
		f.Add(c.Name, 1e-300)
	}
	f.Add("air", math.NaN())
	f.Add("", math.Inf(1))
	f.Add("\xff -", -1.0)
	f.Fuzz(func(t *testing.T, name string, wire float64) {
		if m, err := refdata.MaterialNamed(name); err != nil {
			refused(t, err, "material")
			if m.Name != "" {
				t.Fatalf("refused, yet %+v", m)
			}
		} else {
			if plain(name) == "" || m.Name == "" {
				t.Fatalf("%q is %q", name, m.Name)
			}
			at, err := m.At(units.Length(wire))
			moduli, moduliErr := m.ModuliOf(units.Length(wire))
			strength, strengthErr := m.TensileStrength(units.Length(wire))
			if (err == nil) != (moduliErr == nil) {
				t.Fatalf("%s at %v m: %v, but its moduli: %v", name, wire, err, moduliErr)
			}
			for _, err := range []error{moduliErr, strengthErr} {
				if err != nil {
					refused(t, err, "material", "wire_diameter")
				}
			}
			if !(wire > 0) && (err == nil || strengthErr == nil) {
				t.Fatalf("wire of %v m has moduli (%v) and a strength (%v)", wire, err, strengthErr)
			}
			if err == nil && (!(at.ShearModulus > 0) || at.ShearModulus != moduli.ShearModulus.Value || !(at.ElasticModulus >= 0) || !(at.Density >= 0) || at.TensileStrength != strength) {
				t.Fatalf("%+v, but %+v and %v", at, moduli, strength)
			}
			if !(strength >= 0) || math.IsInf(float64(strength), 0) || (strengthErr == nil) != (strength > 0) {
				t.Fatalf("strength %v, error %v", float64(strength), strengthErr)
			}
		}
		if c, err := refdata.ConstantNamed(name); err != nil {
			refused(t, err)
		} else if plain(c.Name) != plain(name) || c.Unit == "" || math.IsNaN(c.Value) || math.IsInf(c.Value, 0) || !(c.Uncertainty >= 0) {
			t.Fatalf("%+v", c)
		}
		g, err := refdata.GasNamed(name)
		if err != nil {
			refused(t, err)
			g = refdata.Gases()[0]
		}
		if v, err := g.Value(name); err != nil {
			refused(t, err)
		} else if plain(v.Name) != plain(name) {
			t.Fatalf("%q is %+v", name, v)
		}
	})
}

// FuzzMaterial: a material of the caller's own, whatever stands in it, answers
// for a wire in numbers or with a field.
func FuzzMaterial(f *testing.F) {
	f.Add(uint8(1), uint8(1), 81.5e9, 206e9, 0.0, 0.0, 1880e6, 0.186, 820e6, 0.004)
	f.Add(uint8(4), uint8(4), 81.5e9, 206e9, 0.0, 0.0, 1880e6, 0.186, 820e6, 0.004) // no rows
	f.Add(uint8(0), uint8(2), 0.0, 0.0, 1e-3, 2e-3, 1e300, 1e300, 1e300, 1e-300)
	f.Add(uint8(2), uint8(0), math.NaN(), math.Inf(1), -1.0, math.NaN(), -1.0, math.NaN(), 0.0, 0.0015)
	f.Fuzz(func(t *testing.T, moduli, strength uint8, shear, elastic, from, to, atOne, exponent, decade, wire float64) {
		m := refdata.MaterialData{Name: "a wire"}
		if moduli > 0 {
			m.Moduli = &refdata.Moduli{}
			for range moduli % 4 {
				m.Moduli.Rows = append(m.Moduli.Rows, refdata.ModuliAt{WireFrom: units.Length(from), WireTo: units.Length(to),
					ShearModulus: refdata.StressValue{Value: units.Stress(shear)}, ElasticModulus: refdata.StressValue{Value: units.Stress(elastic)}})
			}
		}
		if strength > 0 {
			m.Strength = &refdata.Strength{}
			for range strength % 4 {
				row := refdata.StrengthAt{WireFrom: units.Length(from), WireTo: units.Length(to), AtOne: refdata.StressValue{Value: units.Stress(atOne)}, Exponent: exponent}
				if decade > 0 {
					row.PerDecade, row.Cap = &refdata.StressValue{Value: units.Stress(decade)}, &refdata.StressValue{Value: units.Stress(elastic)}
				}
				m.Strength.Rows = append(m.Strength.Rows, row)
			}
		}
		if _, err := m.At(units.Length(wire)); err != nil {
			refused(t, err)
		}
		s, err := m.TensileStrength(units.Length(wire))
		if err != nil {
			refused(t, err)
		}
		if (err == nil) != (s > 0) || math.IsInf(float64(s), 0) || math.IsNaN(float64(s)) {
			t.Fatalf("strength %v, error %v", float64(s), err)
		}
	})
}
