package coil_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// mmFit is a power fit in MPa·mmᵐ, inFit one in kpsi·inᵐ.
func mmFit(a, m float64) coil.StrengthFit {
	return coil.StrengthFit{Form: coil.PowerStrength, AtUnit: units.Stress(a) * units.Megapascal, Exponent: m}
}

func inFit(a, m float64) coil.StrengthFit {
	return coil.StrengthFit{Form: coil.PowerStrength, WireUnit: units.Inch, AtUnit: units.Stress(a) * units.Kpsi, Exponent: m}
}

// Worked examples, at half a unit in the last digit that they print, and the
// fits of EN 10270 as an independent computation with mpmath at 50 digits has
// them. Old constants stand here because the examples use them.
func TestTensileStrengthPublished(t *testing.T) {
	logarithm := func(a, b, top float64) coil.StrengthFit {
		return coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: units.Stress(a) * 1e6, PerDecade: units.Stress(b) * 1e6, Cap: units.Stress(top) * 1e6}
	}
	const kpsi = units.Kpsi
	for _, row := range []struct {
		source       string
		fit          coil.StrengthFit
		wire         units.Length
		want, within units.Stress
	}{
		{"Shigley, problem 10-3, publisher's solutions", mmFit(2211, 0.145), 2.5e-3, 1936e6, 0.5e6},
		{"Shigley, problem 10-5, 99.3 kpsi as half of it", inFit(147, 0.187), 0.2 * units.Inch, 2 * 99.3 * kpsi, 2 * 0.05 * kpsi},
		{"Shigley, problem 10-6", mmFit(1855, 0.187), 4e-3, 1431e6, 0.5e6},
		{"Jindal, example 8-7, 992.7 MPa as 0.45 of it", mmFit(2211, 0.145), 1.016e-3, 992.7e6 / 0.45, 0.05e6 / 0.45},
		{"Jindal, example 8-6, 686.9 MPa as 0.40 of it", mmFit(1783, 0.190), 1.219e-3, 686.9e6 / 0.40, 0.05e6 / 0.40},
		{"an engineering-exam problem on oil-tempered wire, old constants", mmFit(1610, 0.193), 10e-3, 1032e6, 0.5e6},
		{"an engineering-exam problem on music wire, old constants", mmFit(2060, 0.163), 7.25e-3, 1492e6, 0.5e6},
		{"a worked answer on music wire, old constants", inFit(186, 0.163), 0.0625 * units.Inch, 292 * kpsi, 0.5 * kpsi},
		{"computed, EN 10270-1 SH", logarithm(2220, 820, 2660), 6e-3, 1581.91597468541e6, 1e-3},
		{"computed, capped in thin wire", logarithm(2103, 435, 2100), 10e-3, 1668e6, 1e-3},
		{"computed, of 8.5 mm", logarithm(2125, 466, 2080), 8.5e-3, 1691.89078061714e6, 1e-3},
		{"computed, of 3.5 mm", logarithm(1971, 740, 2370), 3.5e-3, 1568.3896471808e6, 1e-3},
	} {
		got, err := coil.TensileStrength(row.fit, row.wire)
		require.NoError(t, err, row.source)
		if !(math.Abs(float64(got-row.want)) <= float64(row.within)) {
			t.Errorf("%s: %v, want %v", row.source, got, row.want)
		}
	}
}

func TestTensileStrengthLimits(t *testing.T) {
	// Wire of the unit diameter has the strength A, by either form.
	got, err := coil.TensileStrength(mmFit(2211, 0.145), 1e-3)
	require.NoError(t, err)
	close12(t, "power at 1 mm", float64(got), 2211e6)
	fit := coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 2220e6, PerDecade: 820e6, WireFrom: 0.28e-3, WireTo: 20e-3}
	got, err = coil.TensileStrength(fit, 1e-3)
	require.NoError(t, err)
	close12(t, "logarithm at 1 mm", float64(got), 2220e6)
	got, err = coil.TensileStrength(fit, 10e-3)
	require.NoError(t, err)
	close12(t, "logarithm at 10 mm", float64(got), 1400e6)
	// 0.28 mm is 2220 + 820·0.5528 MPa: without a cap it stays so.
	got, err = coil.TensileStrength(fit, 0.28e-3)
	require.NoError(t, err)
	close12(t, "without a cap", float64(got), 2220e6-820e6*math.Log10(0.28))
	fit.Cap = 2660e6
	got, err = coil.TensileStrength(fit, 0.28e-3)
	require.NoError(t, err)
	close12(t, "capped", float64(got), 2660e6)
	// Thicker wire is never stronger.
	for _, f := range []coil.StrengthFit{fit, mmFit(1855, 0.187)} {
		before := units.Stress(math.Inf(1))
		for d := units.Length(0.3e-3); d < 19e-3; d += 0.1e-3 {
			s, err := coil.TensileStrength(f, d)
			if err != nil || !(s <= before) {
				t.Errorf("%s: %v at %v, %v", f.Form, s, d, err)
			}
			before = s
		}
	}
}

func TestTensileStrengthRefuses(t *testing.T) {
	nan := math.NaN()
	sh := coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 2220e6, PerDecade: 820e6, Cap: 2660e6, WireFrom: 0.28e-3, WireTo: 20e-3}
	music := coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2211e6, Exponent: 0.145, WireFrom: 0.1e-3, WireTo: 6.5e-3}
	for _, row := range []struct {
		name string
		fit  coil.StrengthFit
		wire units.Length
		want []string
	}{
		{"at the upper bound", music, 6.5e-3, nil},
		{"at the lower bound", music, 0.1e-3, nil},
		{"thicker", music, 6.5001e-3, []string{"wire_diameter"}},
		{"thinner", sh, 0.27e-3, []string{"wire_diameter"}},
		{"below a lone bound", coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2211e6, WireFrom: 1e-3}, 0.9e-3, []string{"wire_diameter"}},
		{"above a lone bound", coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2211e6, WireTo: 1e-3}, 1.1e-3, []string{"wire_diameter"}},
		{"one diameter", coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2211e6, WireFrom: 1e-3, WireTo: 1e-3}, 1e-3, nil},
		{"NaN", sh, units.Length(nan), []string{"wire_diameter"}},
		{"infinite", coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2211e6}, units.Length(math.Inf(1)), []string{"wire_diameter"}},
		{"negative", mmFit(2211, 0.145), -1e-3, []string{"wire_diameter"}},
		{"nothing left", coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 100e6, PerDecade: 100e6}, 10e-3, []string{"wire_diameter"}},
		{"nothing", coil.StrengthFit{}, 0, []string{"at_unit", "form", "wire_diameter"}},
		{"all NaN", coil.StrengthFit{Form: coil.PowerStrength, WireUnit: units.Length(nan), AtUnit: units.Stress(nan), Exponent: nan, WireFrom: units.Length(nan), WireTo: units.Length(nan)}, 1e-3,
			[]string{"wire_unit", "at_unit", "wire_from", "wire_to", "exponent"}},
		{"the logarithm all NaN", coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e9, PerDecade: units.Stress(nan), Cap: units.Stress(nan)}, 1e-3, []string{"per_decade", "cap"}},
		{"mixed forms", coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 1e9, PerDecade: 1e9, Cap: 1e9}, 1e-3, []string{"per_decade", "cap"}},
		{"mixed forms the other way", coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e9, Exponent: 0.1}, 1e-3, []string{"exponent"}},
		{"bounds the wrong way round", coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 1e9, WireFrom: 2e-3, WireTo: 1e-3}, 1.5e-3, []string{"wire_to"}},
		{"exponent beyond sense", mmFit(2211, 1.1), 1e-3, []string{"exponent"}},
	} {
		got, err := coil.TensileStrength(row.fit, row.wire)
		if diff := cmp.Diff(row.want, fieldsOf(err)); diff != "" || (err != nil) != (got == 0) {
			t.Errorf("%s: %v (-want +got):\n%s", row.name, got, diff)
		}
	}
}

func TestStrengthBounds(t *testing.T) {
	power := func(change func(f *coil.StrengthFit, v float64)) func(float64) error {
		return func(v float64) error {
			f := coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2e9, Exponent: 0.15}
			change(&f, v)
			return second(coil.TensileStrength(f, 2e-3))
		}
	}
	logarithm := func(change func(f *coil.StrengthFit, v float64)) func(float64) error {
		return func(v float64) error {
			f := coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e15, PerDecade: 8e8}
			change(&f, v)
			return second(coil.TensileStrength(f, 0.9e-3))
		}
	}
	bounds(t, "wire_diameter", 1e-6, 1e3, func(v float64) error { return second(coil.TensileStrength(mmFit(2000, 0.15), units.Length(v))) })
	bounds(t, "wire_unit", 1e-6, 1e3, power(func(f *coil.StrengthFit, v float64) { f.WireUnit = units.Length(v) }))
	bounds(t, "at_unit", 1, 1e15, power(func(f *coil.StrengthFit, v float64) { f.AtUnit = units.Stress(v) }))
	bounds(t, "per_decade", 0, 1e15, logarithm(func(f *coil.StrengthFit, v float64) { f.PerDecade = units.Stress(v) }))
	bounds(t, "cap", 0, 1e15, logarithm(func(f *coil.StrengthFit, v float64) { f.Cap = units.Stress(v) }))
	from := power(func(f *coil.StrengthFit, v float64) { f.WireFrom = units.Length(v) })
	refuses(t, from(1e3), "wire_diameter") // which is of 2 mm
	refuses(t, from(1001), "wire_from")
	to := power(func(f *coil.StrengthFit, v float64) { f.WireTo = units.Length(v) })
	refuses(t, to(1e3))
	refuses(t, to(1001), "wire_to")

	// What the fit covers is said with the bound it has, or with both.
	var fields [2][]*units.FieldError
	for i, to := range []units.Length{0, 2e-3} {
		_, err := coil.TensileStrength(coil.StrengthFit{Form: coil.PowerStrength, AtUnit: 2e9, WireFrom: 1e-3, WireTo: to}, 0.9e-3)
		if fields[i] = units.Fields(err); len(fields[i]) != 1 {
			t.Fatal(err)
		}
	}
	if lone, both := fields[0][0].Want.String(), fields[1][0].Want.String(); lone != "1 mm or more, which is what the fit covers" || both != "from 1 mm to 2 mm, which is what the fit covers" {
		t.Errorf("want %q and %q", lone, both)
	}

	// Half a pascal: weaker than anything, and yet some strength.
	fit := coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1.5, PerDecade: 1}
	got, err := coil.TensileStrength(fit, 10e-3)
	if err != nil {
		t.Error(err)
	}
	close12(t, "half a pascal left", float64(got), 0.5)
	fit.Cap = 0.25
	got, err = coil.TensileStrength(fit, 1e-3)
	if err != nil {
		t.Error(err)
	}
	close12(t, "capped at a quarter of a pascal", float64(got), 0.25)
}

// FuzzTensileStrength: a finite strength of more than 0, or a refusal that
// names a field.
func FuzzTensileStrength(f *testing.F) {
	f.Add(0, 0.0, 2211e6, 0.145, 0.0, 0.0, 0.1e-3, 6.5e-3, 2.5e-3)
	f.Add(1, 0.0, 2220e6, 0.0, 820e6, 2660e6, 0.28e-3, 20e-3, 6e-3)
	f.Add(1, 1e-6, 1e15, 0.0, 1e15, 0.0, 0.0, 0.0, 1e3)
	f.Fuzz(func(t *testing.T, form int, unit, at, m, decade, top, from, to, wire float64) {
		forms := []coil.StrengthForm{coil.PowerStrength, coil.LogarithmicStrength, ""}
		s, err := coil.TensileStrength(coil.StrengthFit{forms[uint(form)%3], units.Length(unit), units.Stress(at), m,
			units.Stress(decade), units.Stress(top), units.Length(from), units.Length(to)}, units.Length(wire))
		switch {
		case err != nil:
			named(t, "refused", err)
		case !(s > 0) || math.IsInf(float64(s), 0):
			t.Fatalf("strength %v", s)
		}
	})
}

// Shigley, problem 10-3 (publisher's solutions, 10th ed.): music wire of
// 2.5 mm, for which 1936 MPa is printed.
func ExampleTensileStrength() {
	music := coil.StrengthFit{
		Form: coil.PowerStrength, AtUnit: 2211 * units.Megapascal, Exponent: 0.145,
		WireFrom: 0.1 * units.Millimetre, WireTo: 6.5 * units.Millimetre,
	}
	s, err := coil.TensileStrength(music, 2.5*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f\n", s)
	// The wire of a shock spring is thicker than music wire is made.
	_, err = coil.TensileStrength(music, 10*units.Millimetre)
	fmt.Println(err)
	// Output:
	// 1936 MPa
	// coil: wire_diameter 10 mm: want from 0.1 mm to 6.5 mm, which is what the fit covers
}
