package airspring_test

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// An invented fork goes from 64.5 to 72 psi. The pump reaches the positive
// chamber alone, so the gauge reads low after each cycle; two rounds do.
func ExamplePlanTopUp() {
	plan, err := airspring.PlanTopUp(airspring.TopUp{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, PortTravel: 8 * units.Millimetre,
		PositiveVolume: 220 * units.CubicCentimetre, NegativeVolume: 50 * units.CubicCentimetre,
		OldFill: units.PSIGauge(64.5), Fill: units.PSIGauge(72), Within: units.PSIGauge(0.5), Ambient: airspring.SeaLevel,
	})
	for _, step := range plan.Steps {
		fmt.Printf("%-5s %.1f psi to %.1f psi\n", step.Action, step.Before.PSI(), step.After.PSI())
	}
	fmt.Println(plan.Cycles, "cycles", err)
	// Output:
	// pump  64.5 psi to 72.0 psi
	// cycle 72.0 psi to 70.4 psi
	// pump  70.4 psi to 72.0 psi
	// cycle 72.0 psi to 71.7 psi
	// 2 cycles <nil>
}

// Common practice: a fork raised from 64.5 to 72 psi and cycled about an inch reads
// 1 to 2 psi low. For which proportions of the chambers, with a port near full
// extension, is that so? By hand, 7.5 psi·r/(1 + r) of a negative chamber r times
// as large as the positive one: for r from 2/13 to 4/11. The invented forks of
// these examples have 50 to 220 cm³, 0.23.
func ExamplePlanTopUp_commonPractice() {
	for _, r := range []float64{0.1, 2.0 / 13, 0.23, 4.0 / 11, 0.5} {
		plan, _ := airspring.PlanTopUp(airspring.TopUp{
			Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre,
			PositiveVolume: 220 * units.CubicCentimetre, NegativeVolume: units.Volume(r) * 220 * units.CubicCentimetre,
			OldFill: units.PSIGauge(64.5), Fill: units.PSIGauge(72), Within: units.PSIGauge(0.55), Ambient: airspring.SeaLevel,
		})
		fmt.Printf("r = %.2f: %.1f psi low, %d rounds\n", r, 72-plan.Reading[0].PSI(), plan.Cycles)
	}
	// Output:
	// r = 0.10: 0.7 psi low, 2 rounds
	// r = 0.15: 1.0 psi low, 2 rounds
	// r = 0.23: 1.4 psi low, 2 rounds
	// r = 0.36: 2.0 psi low, 2 rounds
	// r = 0.50: 2.5 psi low, 3 rounds
}

// The question for a spring whose spec is at hand.
func ExampleTopUpOf() {
	fork := airspring.Spec{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre, PortTravel: 8 * units.Millimetre,
		PositiveVolume: 236 * units.CubicCentimetre, SpacerVolume: 8 * units.CubicCentimetre, Spacers: 2, NegativeVolume: 50 * units.CubicCentimetre,
		Fill: units.PSIGauge(64.5), Ambient: airspring.SeaLevel, Exponent: 1,
	}
	plan, _ := airspring.PlanTopUp(airspring.TopUpOf(fork, units.PSIGauge(60), units.PSIGauge(0.5)))
	fmt.Printf("%s to %.0f psi, then it reads %.1f psi\n", plan.Steps[0].Action, plan.Steps[0].After.PSI(), plan.Reading[0].PSI())
	// Output: release to 60 psi, then it reads 61.0 psi
}

// By hand: 20 bar · 60/65.
func ExampleHoseReading() {
	reading, err := airspring.HoseReading(60*units.CubicCentimetre, 5*units.CubicCentimetre, units.BarGauge(20))
	fmt.Printf("%.2f bar %v\n", reading.Bar(), err)
	// Output: 18.46 bar <nil>
}

func ExampleHoseFill() {
	fill, err := airspring.HoseFill(60*units.CubicCentimetre, 5*units.CubicCentimetre, units.BarGauge(18.46))
	fmt.Printf("%.1f bar %v\n", fill.Bar(), err)
	// Output: 20.0 bar <nil>
}

// The chamber with which an invented fork at 5 bar has 3500 N at full travel.
func ExampleVolumeFor() {
	v, err := airspring.VolumeFor(airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	}, 3500*units.Newton)
	fmt.Printf("%.1f %v\n", v, err)
	// Output: 218.8 cm³ <nil>
}

// An invented fork is to carry 600 N at 40 mm, and 2600 N at the end of a fast
// stroke. The figures were confirmed with mpmath, 30 digits.
func ExampleChoose() {
	options, err := airspring.Choose(airspring.Wish{
		Spec: airspring.Spec{
			Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 250 * units.CubicCentimetre,
			SpacerVolume: 8 * units.CubicCentimetre, Ambient: airspring.SeaLevel, Exponent: 1.35,
		},
		SagForce: 600 * units.Newton, SagTravel: 40 * units.Millimetre, FullForce: 2600 * units.Newton,
		MaxFill: units.BarGauge(8), MaxSpacers: 8,
	})
	for _, o := range options[:3] {
		fmt.Printf("%d spacers, %.2f bar: %.0f at the end, %+.0f\n", o.Spacers, o.Fill.Bar(), o.FullForce, o.FullMiss)
	}
	fmt.Println(err)
	// Output:
	// 1 spacers, 4.73 bar: 2541 N at the end, -59 N
	// 2 spacers, 4.69 bar: 2795 N at the end, +195 N
	// 0 spacers, 4.77 bar: 2339 N at the end, -261 N
	// <nil>
}

// Each spacer in an invented fork of one chamber needs a little less fill for the
// same sag, and makes the end of the travel harder.
func ExampleTrySpacers() {
	trials, err := airspring.TrySpacers(airspring.Search{
		Spec: airspring.Spec{
			Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 250 * units.CubicCentimetre, SpacerVolume: 8 * units.CubicCentimetre,
			Ambient: airspring.SeaLevel, Exponent: 1.35,
		},
		Force: 600 * units.Newton, At: 40 * units.Millimetre, MaxFill: units.BarGauge(8), Last: 3,
	})
	for _, t := range trials {
		fmt.Printf("%d: %s, %.2f bar, %.0f N at the end\n", t.Spacers, t.Outcome, t.Fill.Bar(), t.Fast.Force(160*units.Millimetre).Newtons())
	}
	fmt.Println(err)
	// Output:
	// 0: met, 4.77 bar, 2339 N at the end
	// 1: met, 4.73 bar, 2541 N at the end
	// 2: met, 4.69 bar, 2795 N at the end
	// 3: met, 4.65 bar, 3121 N at the end
	// <nil>
}

// How many spacers bring an invented fork of a given fill nearest to 3000 N at
// full travel. By hand, 1017.9 mm²·(5.813 bar·(234/71.14)^1.35 − 1.013 bar) is
// 2849 N with two, and 3206 N with three.
func ExampleSpacersFor() {
	got, err := airspring.SpacersFor(airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 250 * units.CubicCentimetre, SpacerVolume: 8 * units.CubicCentimetre,
		Fill: units.BarGauge(4.8), Ambient: airspring.SeaLevel, Exponent: 1.35,
	}, 3000*units.Newton, 4)
	fmt.Printf("%d, %.0f N, off by %.0f N %v\n", got.Spacers, got.FullForce.Newtons(), got.FullMiss.Newtons(), err)
	// Output: 2, 2849 N, off by -151 N <nil>
}
