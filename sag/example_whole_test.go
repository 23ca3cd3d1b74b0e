package sag_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Two equal ends and an even split: by hand 97 kg · 9.80665 m/s²/2 on 8 N/mm
// sag 59.5 mm of 150 mm at each end, and nothing pitches. With 60 % on the rear
// the bike sags more there, pitches back and puts still more on it: by hand
// q = 0.6 + (1000 − 360 − 59.5) mm·(2q − 1)·118.91 mm/(1200 mm)² has the root 0.6106.
func ExampleBike_Stance() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 150 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 8 * units.NewtonPerMillimetre, Travel: 150 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	end := sag.End{Curve: curve, Law: coil}
	for _, share := range []float64{0.5, 0.6} {
		s, err := sag.Bike{
			Masses: sag.Masses{RiderMass: 80 * units.Kilogram, BikeMass: 17 * units.Kilogram, RearShare: share,
				Wheelbase: 1.2 * units.Metre, MassCentreHeight: 1 * units.Metre, WheelRadius: 360 * units.Millimetre},
			Front: end, Rear: end,
		}.Stance()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%.0f %% on the rear: front %.1f, rear %.1f, then %.1f %% on the rear\n",
			100*share, s.FrontTravel, s.RearTravel, 100*s.RearShare)
	}
	// Output:
	// 50 % on the rear: front 59.5 mm, rear 59.5 mm, then 50.0 % on the rear
	// 60 % on the rear: front 46.3 mm, rear 72.6 mm, then 61.1 % on the rear
}

// The geometry of an invented bike at full extension, and with each spring a third in: by hand the fork
// lets the front down by 53.33·sin 64° = 47.94 mm and back by 53.33·cos 64° = 23.38 mm, the rear comes down by
// 50 mm, and the pitch is 2.06/1196.6 = 0.099°.
func ExampleBike_GeometryAt() {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	rear, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	bike := sag.Bike{
		Masses: sag.Masses{Wheelbase: 1.22 * units.Metre, WheelRadius: 370 * units.Millimetre, ForkOffset: new(44 * units.Millimetre),
			BottomBracketHeight: 345 * units.Millimetre, ChainstayLength: 440 * units.Millimetre},
		Front: sag.End{Curve: fork}, Rear: sag.End{Curve: rear},
	}
	for _, part := range []units.Length{0, 1.0 / 3} {
		g, err := bike.GeometryAt(part*fork.Stroke(), part*rear.Stroke())
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("wheelbase %.1f, head angle %.2f, trail %.1f, bottom bracket %.1f\n", g.Wheelbase, g.HeadAngle, g.Trail, g.BottomBracketHeight)
	}
	// Output:
	// wheelbase 1220.0 mm, head angle 64.00°, trail 131.5 mm, bottom bracket 345.0 mm
	// wheelbase 1196.6 mm, head angle 63.90°, trail 132.3 mm, bottom bracket 295.8 mm
}

// What a stance wants of the masses besides: a wheelbase, the wheels' radius and a height.
func ExampleMasses_CheckStance() {
	c := units.Checker{Package: "mine"}
	sag.Masses{RiderMass: 80, BikeMass: 20, RearShare: 0.6}.CheckStance(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// wheelbase
	// wheel_radius
	// mass_centre_height
}

// Down a slope of 20° a bike that rolls freely gains sin 20° of g₀, and with as much braking it keeps its speed.
func ExampleGround_Acceleration() {
	for _, braking := range []float64{0, 0.342} {
		fmt.Printf("%.2f\n", sag.Ground{Slope: -20 * units.Degree, FrontBraking: braking}.Acceleration())
	}
	// Output:
	// 0.34
	// 0.00
}

// By hand: 0.62·97 kg − 3 kg of wheel and brake are 57.14 kg, and without the rider 0.62·17 − 3 = 7.54 kg.
func ExampleMasses_SprungLoad() {
	m := sag.Masses{RiderMass: 80, BikeMass: 17, UnsprungRear: new(units.Mass(3)), RearShare: 0.62}
	fmt.Printf("%.1f\n", m.SprungLoad(sag.Rear, m.Total()))
	fmt.Printf("%.1f\n", m.SprungLoad(sag.Rear, m.BikeMass))
	// Output:
	// 560.4 N
	// 73.9 N
}

func ExampleGround_Check() {
	c := units.Checker{Package: "mine"}
	sag.Ground{Slope: 70 * units.Degree, RearBraking: -0.2}.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// slope
	// rear_braking
}
