package coil_test

import (
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// A short, thick spring by the same computation.
func TestCoilHelixComputed(t *testing.T) {
	s := coilOf(t, coil.Spec{WireDiameter: 3e-3, MeanDiameter: 12e-3, ActiveCoils: 3, FreeLength: 21e-3, ShearModulus: 81500e6})
	known[units.Length](t, "outer diameter when solid", 15.0673584076333e-3)(s.OuterDiameterSolid())
	known[units.Angle](t, "helix angle", 7.55499599921987*math.Pi/180)(s.HelixAngle())
	known[units.Stress](t, "stress when solid", 1496.66859946032e6)(s.SolidStress())
	close12(t, "wire length", float64(s.WireLength()), 188.495559215388e-3)
	close12(t, "Wahl stress", float64(s.StressWahl(600)), 953.232005825058e6)
	close12(t, "uncorrected stress", float64(s.StressUncorrected(-600)), 679.06109052542e6)
	// What needs what was not given is not known.
	for name, ok := range map[string]bool{
		"mass": second2(s.Mass()), "surge": second2(s.SurgeFrequency()), "free": second2(s.RateEndsFree()),
		"held": second2(s.RateEndsHeld()), "buckling": second2(s.Buckling(1)), "stability": second2(s.StableSlenderness(1)),
	} {
		if ok {
			t.Errorf("%s is known without density and modulus of elasticity", name)
		}
	}
}
