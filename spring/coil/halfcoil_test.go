package coil_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Less than one of anything is no reason to answer 0: half a coil of wire of
// half a kilogram per cubic metre, rates of half a newton per metre and forces
// of half a newton follow the same formulas as a thousand times as much.

func TestHalfACoil(t *testing.T) {
	const g, d, mean, rho = 79500e6, 10e-3, 46e-3, 0.5
	s := coilOf(t, coil.Spec{WireDiameter: d, MeanDiameter: mean, ActiveCoils: 0.5, ShearModulus: g, Density: rho})
	k := g * d * d * d * d / (8 * mean * mean * mean * 0.5)
	close12(t, "rate", float64(s.Rate()), k)
	mass := rho * math.Pi * d * d / 4 * math.Pi * mean // of one coil
	known[units.Mass](t, "mass of 2.5 coils", 2.5*mass)(s.Mass())
	known[units.Frequency](t, "surge", math.Sqrt(k/(0.5*mass))/2)(s.SurgeFrequency())
	// By hand: K_B = (4·4.6 + 2)/(4·4.6 − 3).
	load := 1e9 * math.Pi * d * d * d / (8 * mean) * 15.4 / 20.4
	close12(t, "load at 1 GPa", float64(s.LoadForStress(1e9)), load)
	close12(t, "free length for 1 GPa when solid", float64(s.FreeLengthForStress(1e9)), 2.5*d+load/k)
	var codes []string
	for _, w := range s.Warnings() {
		codes = append(codes, w.Code)
	}
	if diff := cmp.Diff([]string{coil.WarnCoils, coil.WarnScope}, codes); diff != "" {
		t.Errorf("warnings (-want +got):\n%s", diff)
	}
	// 8·0.5·D/(π·d³) is what half a newton does, K_B times.
	steps := s.Working(0.5)
	if len(steps) != 4 {
		t.Fatalf("%d steps at half a newton", len(steps))
	}
	close12(t, "stress of half a newton", float64(steps[3].Result.Quantity.(units.Stress)), 8*0.5*mean/(math.Pi*d*d*d)*20.4/15.4)
}

func TestHalfACoilOfEvenPitch(t *testing.T) {
	// The rate of one coil is G·d⁴/(8·D³); half a coil has twice that.
	const perTurn = 79500e6 * 1e-8 / (8 * 46e-3 * 46e-3 * 46e-3)
	s, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 0.5, ShearModulus: 79500e6, FirstGap: 4e-3, LastGap: 8e-3})
	if err != nil {
		t.Fatal(err)
	}
	close12(t, "travel", float64(s.Travel()), 3e-3)
	close12(t, "rate", float64(s.Rate(1e-3)), 2*perTurn)
	close12(t, "force", float64(s.Force(1e-3)), 2*perTurn*1e-3)
	close12(t, "energy", float64(s.Energy(1e-3)), perTurn*1e-6)
}

func TestHalfANewtonPerMetre(t *testing.T) {
	// Wire of 1 mm, 9 coils of 11 mm outside: G·1e-12/(8·1e-6·n) is 0.5 N/m for
	// G = 36 MPa.
	got, err := coil.Caliper{WireDiameter: 1e-3, OuterDiameter: 11e-3, ActiveCoils: 9, ShearModulus: 36e6}.Rate()
	if err != nil {
		t.Fatal(err)
	}
	close12(t, "measured", float64(got.Rate), 0.5)
	line, err := spring.FitReadings(spring.Readings{Travel: []units.Length{0, 1, 2, 3}, Force: []units.Force{1, 1.5, 2, 2.5}})
	if err != nil {
		t.Fatal(err)
	}
	close12(t, "read", float64(line.Rate), 0.5)
}
