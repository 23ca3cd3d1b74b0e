package coil_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestGroupsRefused(t *testing.T) {
	for _, v := range bad {
		_, err := coil.NewGroups(coil.Groups{
			WireDiameter: units.Length(v), MeanDiameter: mm(30), ShearModulus: units.Stress(v),
			Groups: []coil.Group{{ActiveCoils: v, Pitch: mm(10)}},
		})
		refuses(t, err, "wire_diameter", "shear_modulus", "groups[0].active_coils")
	}
	_, err := coil.NewGroups(coil.Groups{
		WireDiameter: mm(20), MeanDiameter: mm(30), ShearModulus: 80 * units.Gigapascal,
		Groups: []coil.Group{{ActiveCoils: 1, Pitch: mm(20)}, {ActiveCoils: 1, Pitch: units.Length(math.NaN())}},
	})
	refuses(t, err, "groups[0].pitch", "groups[1].pitch")
	_, err = coil.NewGroups(coil.Groups{
		WireDiameter: mm(30), MeanDiameter: mm(30), ShearModulus: 80 * units.Gigapascal,
		Groups: []coil.Group{{ActiveCoils: 1, Pitch: mm(31)}},
	})
	refuses(t, err, "wire_diameter")
	_, err = coil.NewGroups(coil.Groups{WireDiameter: mm(3), MeanDiameter: mm(30), ShearModulus: 80 * units.Gigapascal})
	if refuses(t, err, "groups"); !errors.Is(err, units.ErrMissing) {
		t.Errorf("no groups: %v", err)
	}
	refuses(t, second(coil.NewGroups(coil.Groups{})), "mean_diameter", "wire_diameter", "shear_modulus", "groups")
}

func FuzzNewGroups(f *testing.F) {
	f.Add(0.006, 0.032, 79.5e9, 2.0, 0.0085, 7.0, 0.012)
	f.Add(1e-300, 1e300, 1e300, 1e-300, 1e300, 5e-324, 1.0)
	f.Fuzz(func(t *testing.T, d, mean, shear, n1, p1, n2, p2 float64) {
		law, err := coil.NewGroups(coil.Groups{
			WireDiameter: units.Length(d), MeanDiameter: units.Length(mean), ShearModulus: units.Stress(shear),
			Groups: []coil.Group{{ActiveCoils: n1, Pitch: units.Length(p1)}, {ActiveCoils: n2, Pitch: units.Length(p2)}},
		})
		if err != nil {
			named(t, "refused", err)
			return
		}
		finiteLaw(t, law)
	})
}

// A spring of 6 mm wire with 2, 3 and 7 active coils of three pitches. The
// pitch alone decides at what force a group closes.
func ExampleNewGroups() {
	law, err := coil.NewGroups(coil.Groups{
		WireDiameter: 6 * units.Millimetre,
		MeanDiameter: 32 * units.Millimetre,
		ShearModulus: 79500 * units.Megapascal,
		Groups: []coil.Group{
			{ActiveCoils: 2, Pitch: 8.5 * units.Millimetre},
			{ActiveCoils: 3, Pitch: 10 * units.Millimetre},
			{ActiveCoils: 7, Pitch: 12 * units.Millimetre},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, then %.2f from %.0f on\n", law.Rate(0), law.Rate(35*units.Millimetre), law.Segments()[0].Length)
	// Output:
	// 32.75 N/mm, then 39.30 N/mm from 30 mm on
}
