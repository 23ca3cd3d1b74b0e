package drivetrain_test

import (
	"fmt"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// At the end of the stroke, 32 teeth in front and 21 behind: nearly all of the load
// transfer is cancelled by the chain under acceleration.
func Example() {
	k := solved("a1")
	d, err := drivetrain.New(k, drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 21},
		WheelRadius: 370 * units.Millimetre,
		FrontAxleX:  780 * units.Millimetre,
		MassCentre:  mechanism.Point{0, 1120 * units.Millimetre},
		Ground:      drivetrain.GroundLevel,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := d.At(k.Stroke())
	fmt.Printf("anti-squat %.1f %%, anti-rise %.1f %%\n", 100*p.AntiSquat, 100*p.AntiRise)
	fmt.Printf("chain growth %.2f, kickback %.2f, or %.2f rolling\n", p.ChainGrowth, p.KickbackWheelFixed, p.KickbackWheelRolling)
	// Output:
	// anti-squat 95.4 %, anti-rise 77.5 %
	// chain growth 15.13 mm, kickback 13.38°, or 12.66° rolling
}

// The error names every fault by its field. Anti-squat depends on how the ground lies, so there is no
// default for that.
func ExampleNew() {
	_, err := drivetrain.New(solved("a1"), drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 5},
		WheelRadius: 370 * units.Millimetre,
		FrontAxleX:  780 * units.Millimetre,
		MassCentre:  mechanism.Point{0, 1120 * units.Millimetre},
	})
	for _, fault := range units.Fields(err) {
		fmt.Println(fault)
	}
	// Output:
	// drivetrain: drivetrain.sprocket 5: want from 6 to 120 teeth
	// drivetrain: ground "": want "level" or "front"
}

// An idler near the main pivot takes the kickback out of a high pivot.
func ExampleDrive_At() {
	k := solved("a2")
	for _, idler := range []*drivetrain.Idler{nil, {Teeth: 16, At: mechanism.Point{-18 * units.Millimetre, 196 * units.Millimetre}, On: "frame"}} {
		d, err := drivetrain.New(k, drivetrain.Spec{
			Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 24, Idler: idler},
			WheelRadius: 370 * units.Millimetre,
			FrontAxleX:  780 * units.Millimetre,
			MassCentre:  mechanism.Point{0, 1120 * units.Millimetre},
			Ground:      drivetrain.GroundLevel,
		})
		if err != nil {
			fmt.Println(err)
			return
		}
		p := d.At(k.Stroke())
		fmt.Printf("chain growth %.1f, kickback %.1f\n", p.ChainGrowth, p.KickbackWheelFixed)
	}
	// Output:
	// chain growth 70.0 mm, kickback 61.9°
	// chain growth 3.0 mm, kickback 2.6°
}

// What a main pivot drawn 1 mm higher does to anti-squat and kickback.
func ExampleDrive_PoseGradient() {
	k := solved("a1")
	d, err := drivetrain.New(k, drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 21},
		WheelRadius: 370 * units.Millimetre,
		FrontAxleX:  780 * units.Millimetre,
		MassCentre:  mechanism.Point{0, 1120 * units.Millimetre},
		Ground:      drivetrain.GroundLevel,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	g := d.PoseGradient(k.Stroke() / 3)
	up := func(of mechanism.Gradient) float64 { return k.PointGradient(of, "P")[1] / 1000 } // per mm of y
	fmt.Printf("anti-squat %+.2f %%, anti-rise %+.2f %%, kickback %+.3f°\n",
		100*up(g.AntiSquat), 100*up(g.AntiRise), units.Angle(up(g.KickbackWheelFixed)).Degrees())
	// Output:
	// anti-squat +2.37 %, anti-rise +0.20 %, kickback +0.112°
}

// What the pedals add to the force on the main pivot at a quarter of the stroke.
func ExampleDrive_Loads() {
	k := solved("a1")
	d, err := drivetrain.New(k, drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 21},
		WheelRadius: 370 * units.Millimetre,
		FrontAxleX:  780 * units.Millimetre,
		MassCentre:  mechanism.Point{0, 1120 * units.Millimetre},
		Ground:      drivetrain.GroundLevel,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	stroke := k.Stroke() / 4
	for _, forward := range []units.Force{0, 200, -200} {
		e, err := k.Equilibrium(stroke, d.Loads(stroke, 600*units.Newton, forward)...)
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, h := range e.Holes {
			if h.Hole == (mechanism.Hole{Body: "SW", Point: "P"}) {
				fmt.Printf("%.0f: shock %.0f, main pivot %.0f at %.0f\n", forward, e.ShockForce, h.Size(), h.Angle())
			}
		}
	}
	// Output:
	// 0 N: shock 1427 N, main pivot 1411 N at -11°
	// 200 N: shock 954 N, main pivot 1026 N at -168°
	// -200 N: shock 1826 N, main pivot 1982 N at -5°
}
