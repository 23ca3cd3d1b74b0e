package coil_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Nothing comes with a refusal, and nothing with a false, but 0.
func TestNothingComesWithARefusal(t *testing.T) {
	refused := func(name string, got any, err error) {
		t.Helper()
		switch v := got.(type) {
		case units.Length, units.Force, units.Stress, units.Frequency, float64:
			if v != units.Length(0) && v != units.Force(0) && v != units.Stress(0) && v != units.Frequency(0) && v != 0.0 {
				t.Errorf("%s is %v with %v", name, got, err)
			}
		default:
			t.Fatalf("%s: %T", name, got)
		}
		if err == nil {
			t.Errorf("%s is not refused", name)
		}
	}
	var got any
	var err error
	got, err = coil.WireForLoad(0, 5, 1e9)
	refused("wire for no load", got, err)
	got, err = coil.WireForLoad(1e300, 5, 1e9)
	refused("wire for any load", got, err)
	got, err = coil.EndMassFrequency(coil.EndMass{})
	refused("frequency of nothing", got, err)
	got, err = coil.EndMassFrequency(coil.EndMass{Rate: 1e300, Mass: 1e-300})
	refused("frequency beyond all", got, err)
	got, err = spring.CollarPreload(-1, 1)
	refused("preload of turns back", got, err)
	got, err = spring.CollarTurns(-1, 1)
	refused("turns back", got, err)
	got, err = coil.TensileStrength(coil.StrengthFit{}, 1)
	refused("strength of nothing", got, err)
	got, err = coil.TensileStrength(coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e8, PerDecade: 1e8}, 10e-3)
	refused("no strength left", got, err)
	got, err = coil.WarmShearModulus(0, 0, 0)
	refused("modulus of nothing", got, err)
	got, err = coil.WarmShearModulus(80e9, 0.5, units.Celsius(30))
	refused("no modulus left", got, err)

	law, err := spring.NewLinear(spring.Linear{Rate: 50e3, Travel: 0.06, Preload: 0.002})
	if err != nil {
		t.Fatal(err)
	}
	for name, load := range map[string]float64{"NaN": math.NaN(), "infinity": math.Inf(1), "too little": 1, "too much": 1e6} {
		got, err = spring.Settle(law, units.Force(load))
		refused("travel under "+name, got, err)
	}
	got, err = spring.Settle(nil, 1)
	refused("travel of no law", got, err)
	got, err = spring.Settle(spring.LinearSpring{}, 1)
	refused("travel of a law of none", got, err)
}

func TestNothingComesWithAFalse(t *testing.T) {
	bare := coilOf(t, coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 5, ShearModulus: 79500e6})
	full := coilOf(t, shockSpring)
	unknown := func(name string, got any, ok bool) {
		t.Helper()
		if diff := cmp.Diff(0.0, got); ok || diff != "" {
			t.Errorf("%s is %v, %v", name, got, ok)
		}
	}
	stable, ok := bare.StableSlenderness(0.5)
	unknown("stable slenderness without E", stable, ok)
	stable, ok = full.StableSlenderness(0.00999)
	unknown("stable slenderness of hardly a fixity", stable, ok)
	stable, ok = full.StableSlenderness(100.1)
	unknown("stable slenderness of too much fixity", stable, ok)
	surge, ok := bare.SurgeFrequency()
	unknown("surge without a density", float64(surge), ok)
	length, ok := full.FreeLengthTolerance(0)
	unknown("tolerance of no grade", float64(length), ok)
	load, ok := full.LoadTolerance(1500, 0)
	unknown("load tolerance of no grade", float64(load), ok)
	load, ok = full.LoadTolerance(1.001e15, coil.Grade1)
	unknown("tolerance of a load beyond all", float64(load), ok)
	if load, ok = full.LoadTolerance(1e15, coil.Grade2); !ok || !(load > 0.015e15) {
		t.Errorf("tolerance of the greatest load: %v, %v", load, ok)
	}

	// What the free length is needed for is not told without it, whatever else
	// is known.
	spec := shockSpring
	spec.FreeLength = 0
	loose := coilOf(t, spec)
	pitch, ok := loose.Pitch()
	unknown("pitch", float64(pitch), ok)
	angle, ok := loose.HelixAngle()
	unknown("helix angle", float64(angle), ok)
	rate, ok := loose.RateEndsFree()
	unknown("rate with free ends", float64(rate), ok)
	rate, ok = loose.RateEndsHeld()
	unknown("rate with held ends", float64(rate), ok)
	length, ok = loose.OuterDiameterSolid()
	unknown("solid diameter", float64(length), ok)
	if b, ok := loose.Buckling(0.5); ok || b != (coil.Buckling{}) {
		t.Errorf("bows out without a free length: %+v", b)
	}
	for _, fixity := range []float64{0.01, 100} {
		if _, ok := full.Buckling(fixity); !ok {
			t.Errorf("buckling at a fixity of %v is not told", fixity)
		}
	}
}

// Loads and stresses count by their size, up to 1e15 N and 1 PPa, and NaN as 0.
func TestLoadsAndStressesAreLimited(t *testing.T) {
	s, nan := coilOf(t, shockSpring), math.NaN()
	if s.StressUncorrected(units.Force(nan)) != 0 || s.LoadForStress(units.Stress(nan)) != 0 {
		t.Error("NaN is not taken as 0")
	}
	close12(t, "stress of twice the greatest load", float64(s.Stress(2e15)), float64(s.Stress(1e15)))
	close12(t, "stress of the greatest load", float64(s.Stress(1e15)), 2*float64(s.Stress(-0.5e15)))
	close12(t, "load for twice the greatest stress", float64(s.LoadForStress(2e15)), float64(s.LoadForStress(1e15)))
	close12(t, "load for the greatest stress", float64(s.LoadForStress(1e15)), 2*float64(s.LoadForStress(-0.5e15)))
}
