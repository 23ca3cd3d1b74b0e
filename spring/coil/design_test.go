package coil_test

import (
	"errors"
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Active coils for a rate as books print them: Bhandari 10.4 and 10.5, Wentzell
// 8.2 (which prints total coils, 12.79) and Jindal 8-4 (which prints the solid
// length of squared and ground ends, 26.18 mm) as worked in published textbook
// companions, and Mott, 4th ed., section 19-6.
func TestForRateGivesPublishedCoils(t *testing.T) {
	jindal := (26.18e-3)/2.337e-3 - 2
	for _, row := range []struct {
		name          string
		wire, mean    units.Length
		shear         units.Stress
		rate          units.Stiffness
		coils, within float64 // half a unit in the last printed digit
	}{
		{"Bhandari 10.4", 4e-3, 24e-3, 81370e6, 30e3, 6.278549, 0.5e-6},
		{"Bhandari 10.5", 7e-3, 42e-3, 81370e6, 15e3, 21.974923, 0.5e-6},
		{"Wentzell 8.2", 0.105 * units.Inch, 0.62 * units.Inch, 11.85 * units.Mpsi, 70 * units.PoundForcePerInch, 12.79 - 2, 0.005},
		{"Jindal 8-4", 2.337e-3, 22.2e-3, 81000e6, 3e3, jindal, 0.005e-3 / 2.337e-3},
		{"Mott 19-6", 0.0625 * units.Inch, 0.6 * units.Inch, 11.2 * units.Mpsi, 8 * units.PoundForcePerInch, 12.36, 0.005},
	} {
		spec, err := coil.ForRate(coil.Spec{WireDiameter: row.wire, MeanDiameter: row.mean, ShearModulus: row.shear}, row.rate)
		require.NoError(t, err)
		if math.Abs(spec.ActiveCoils-row.coils) > row.within {
			t.Errorf("%s: %v coils, printed are %v", row.name, spec.ActiveCoils, row.coils)
		}
		close12(t, row.name+" rate", float64(coilOf(t, spec).Rate()), float64(row.rate))
	}
}

// The coil is the spec that was given, and what was looked for.
func TestForRateKeepsTheSpec(t *testing.T) {
	spec := coil.Spec{WireDiameter: 10e-3, OuterDiameter: 56e-3, Ends: coil.Squared, ShearModulus: 79500e6, ElasticModulus: 206e9, Density: 7850}
	got, err := coil.ForRate(spec, 204189.611243528)
	require.NoError(t, err)
	close12(t, "coils", got.ActiveCoils, 5)
	want := spec
	want.ActiveCoils = got.ActiveCoils
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("coils (-want +got):\n%s", diff)
	}
	spec = coil.Spec{WireDiameter: 10e-3, TotalCoils: 7, Ends: coil.Squared, FreeLength: 115e-3, ShearModulus: 79500e6, ElasticModulus: 206e9, Density: 7850}
	got, err = coil.ForRate(spec, 204189.611243528)
	require.NoError(t, err)
	close12(t, "diameter", float64(got.MeanDiameter), 46e-3)
	want = spec
	want.MeanDiameter = got.MeanDiameter
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("diameter (-want +got):\n%s", diff)
	}
}

func TestForRateRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	refused := func(spec coil.Spec, rate float64) error {
		got, err := coil.ForRate(spec, units.Stiffness(rate))
		if err != nil && got != (coil.Spec{}) {
			t.Errorf("%+v beside the error", got)
		}
		return err
	}
	flat := coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 80e9}
	long, whole, wound := flat, flat, coil.Spec{WireDiameter: 4e-3, ActiveCoils: 30, ShearModulus: 85e9}
	long.FreeLength = 1
	whole.ActiveCoils, whole.FreeLength = 5, 1
	for _, row := range []struct {
		name string
		err  error
		want []string
	}{
		{"nothing", refused(coil.Spec{}, 0), []string{"rate", "wire_diameter", "mean_diameter", "shear_modulus"}},
		{"NaN", refused(coil.Spec{WireDiameter: units.Length(nan), ActiveCoils: nan, ShearModulus: units.Stress(nan)}, nan),
			[]string{"rate", "wire_diameter", "active_coils", "shear_modulus"}},
		{"infinite", refused(flat, inf), []string{"rate"}},
		{"a free length", refused(long, 80e3), []string{"free_length"}},
		{"nothing left out", refused(whole, 80e3), []string{"active_coils"}},
		{"too soft for any coils", refused(flat, 1e-300), []string{"rate"}},
		{"stiffer than its wire", refused(wound, 1e9), []string{"rate"}},
		{"softer than any diameter", refused(wound, 1e-30), []string{"rate"}},
	} {
		if diff := cmp.Diff(row.want, fieldsOf(row.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
	}
	for _, spec := range []coil.Spec{{OuterDiameter: 24e-3}, {InnerDiameter: 16e-3}} {
		spec.WireDiameter, spec.TotalCoils, spec.ShearModulus = 4e-3, 30, 85e9
		refuses(t, refused(spec, 12.5e3), "active_coils")
	}
	// k = G·d⁴/(8·D³): 600 m of wire on coils of up to a kilometre.
	for mean, good := range map[float64]bool{999: true, 1001: false} {
		k := 1e9 * 600 * 600 * 600 * 600 / (8 * mean * mean * mean)
		if err := refused(coil.Spec{WireDiameter: 600, ActiveCoils: 1, ShearModulus: 1e9}, k); (err == nil) != good {
			t.Errorf("a coil of %v m: %v", mean, err)
		}
	}
	if s := coilOf(t, shockSpring); s.LoadForStress(units.Stress(nan)) != 0 || s.LoadForStress(-1e9) != s.LoadForStress(1e9) ||
		math.IsInf(float64(s.LoadForStress(units.Stress(inf))), 0) {
		t.Error("LoadForStress of no stress")
	}
}

// FuzzForRate: a coil that New takes and that has the rate, or a refusal that names a field.
func FuzzForRate(f *testing.F) {
	f.Add(0.010, 0.046, 0.0, 79.5e9, 80e3)
	f.Add(4e-3, 0.0, 30.0, 85e9, 12.5e3)
	f.Add(1e3, 0.0, 1e6, 1e15, 1e300)
	f.Fuzz(func(t *testing.T, wire, mean, coils, shear, rate float64) {
		spec := coil.Spec{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean), ActiveCoils: coils, ShearModulus: units.Stress(shear)}
		spec, err := coil.ForRate(spec, units.Stiffness(rate))
		if err != nil {
			named(t, "refused", err)
			return
		}
		made, err := coil.New(spec)
		if err != nil || !(math.Abs(float64(made.Rate())/rate-1) < 1e-9) {
			t.Fatalf("%+v: %v", spec, err)
		}
	})
}

// Bhandari, Design of Machine Elements, example 10.4, as worked in a published textbook companion:
// 6.278549 active coils; and Sadhu Singh, Machine Design-I, example 8.8, p. 234, as worked in another,
// which prints 19.36 mm.
func ExampleForRate() {
	coils, err := coil.ForRate(coil.Spec{
		WireDiameter: 4 * units.Millimetre, MeanDiameter: 24 * units.Millimetre, ShearModulus: 81370 * units.Megapascal,
	}, 30*units.NewtonPerMillimetre)
	diameter, other := coil.ForRate(coil.Spec{
		WireDiameter: 4 * units.Millimetre, ActiveCoils: 30, ShearModulus: 85 * units.Gigapascal,
	}, 12.5*units.NewtonPerMillimetre)
	if err := errors.Join(err, other); err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.6f coils; %.2f\n", coils.ActiveCoils, diameter.MeanDiameter)
	// Output: 6.278549 coils; 19.36 mm
}

// Shigley, problem 10-3 (publisher's solutions, 10th ed.), which prints 167.9 N
// and 162.8 mm, with the factor cut to 1.117.
func ExampleSpring_LoadForStress() {
	s := coilOr(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, OuterDiameter: 31 * units.Millimetre, TotalCoils: 14,
		Ends: coil.PlainGround, ShearModulus: 81 * units.Gigapascal,
	})
	yield := 871.2 * units.Megapascal
	fmt.Printf("%.1f when solid, wound to %.1f at the most\n", s.LoadForStress(yield), s.SolidLength()+units.Length(s.LoadForStress(yield)/units.Force(s.Rate())))
	// Output: 167.9 N when solid, wound to 162.7 mm at the most
}
