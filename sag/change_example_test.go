package sag_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

func ExampleNewCorrection() {
	s := sag.Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28,
		Coil: &sag.CoilSetting{Rate: 80 * units.NewtonPerMillimetre, Preload: 2 * units.Millimetre},
	}
	c, err := sag.NewCorrection(s, 640*units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 640·2.5/80 − 16.8, or 640·2.5/(16.8 + 2).
	fmt.Printf("preload %.1f, or a spring of %.1f\n", c.Coil.Preload, c.Coil.NewRate)
	// Output: preload 3.2 mm, or a spring of 85.1 N/mm
}

// From the valley at 20 °C to the pass at −5 °C, with 10 kg of kit. By hand the
// gauge then shows (300 + 101.325)·268.15/293.15 − 79.495 kPa, and 42 kg on
// 962.11 mm² want 428.1 + 79.495 kPa above vacuum at 32 mm, where 87.17 % of the
// chamber are left. Now 401.325/(387.33 + 101.325) of it are.
func ExampleNewChanged() {
	fork := sag.Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 160 * units.Millimetre}}, Sag: 0.2,
		Air: &sag.AirSetting{MaxFill: units.BarGauge(10), Spec: airspring.Spec{
			Bore: 35 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre, Fill: units.BarGauge(3)}},
	}
	masses := sag.Masses{RiderMass: 80 * units.Kilogram, BikeMass: 20 * units.Kilogram, UnsprungFront: 2 * units.Kilogram, UnsprungRear: 3 * units.Kilogram, RearShare: 0.6}
	packed := masses
	packed.RiderMass += 10 * units.Kilogram
	a, err := sag.NewChanged(sag.Change{
		From:  sag.Situation{Masses: masses, Conditions: &airspring.Conditions{Temperature: units.Celsius(20)}},
		To:    sag.Situation{Masses: packed, Conditions: &airspring.Conditions{Temperature: units.Celsius(-5), Altitude: 2000 * units.Metre}},
		Front: &fork,
	})
	if err != nil {
		log.Fatal(err) // names every bad field, such as to.conditions.temperature
	}
	f := a.Front
	fmt.Printf("now %.1f %%\n", 100*f.Now.Rest.Sag)
	fmt.Printf("left alone: the gauge shows %.1f, sag %.1f %%\n", f.Leave.Fill, 100*f.Leave.Rest.Sag)
	fmt.Printf("set %.1f: sag %.1f %%\n", f.Set.Air.Fill, 100*f.Set.Air.Rest.Sag)
	// Output:
	// now 27.9 %
	// left alone: the gauge shows 287.6 kPa(g), sag 43.2 %
	// set 363.0 kPa(g): sag 20.0 %
}
