package linkage_test

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// What these examples print was computed independently, with 40 digits; the
// geometries are invented.

// A single pivot as JSON. Its lever ratio falls from 2.41 to 2.27, and the
// wheel turns about the pivot.
func ExampleNewMechanism() {
	var m linkage.Mechanism
	if err := strictjson.Unmarshal("linkage", []byte(`{
		"points": {"P": ["12 mm", "72 mm"], "A": ["-438 mm", "28 mm"], "S1": ["-92 mm", "238 mm"], "S2": ["112 mm", "292 mm"]},
		"bodies": {"frame": ["P", "S2"], "swingarm": ["P", "A", "S1"]},
		"axle": "A", "shock": ["S1", "S2"], "stroke": "57.5 mm"
	}`), &m); err != nil {
		fmt.Println(err)
		return
	}
	k, err := linkage.NewMechanism(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	r := k.Progression()
	fmt.Printf("travel %.3f, lever ratio %.4f to %.4f, progression %.4f\n", k.Travel(), r.Start, r.End, r.Value)
	p := k.Pose(k.Stroke())
	fmt.Printf("path %.3f, axle growth %.2f, turns about (%.0f, %.0f)\n",
		k.PathLength(p.Stroke), p.AxleGrowth, p.InstantCentre[0], p.InstantCentre[1])
	// Output:
	// travel 134.659 mm, lever ratio 2.4053 to 2.2652, progression 0.0582
	// path 135.348 mm, axle growth 21.74 mm, turns about (12 mm, 72 mm)
}

// A spring behind a four-bar is a law at the wheel like any other.
func ExampleKinematics_Curve() {
	k := solved("c1")
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: k.Stroke()})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(k.Curve(), coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	// At full travel the shock carries 80·62.5 = 5000 N, at a ratio of 2.2515.
	fmt.Printf("%.0f at %.1f\n", wheel.Force(wheel.Travel()), wheel.Travel())
	// Output:
	// 2221 N at 154.7 mm
}

// A mechanism that can't be used over its stroke says where it stops.
func ExampleLockError() {
	_, err := linkage.NewMechanism(spec("x1"))
	var lock *linkage.LockError
	if errors.As(err, &lock) {
		fmt.Println(errors.Is(err, linkage.ErrLocks))
		fmt.Println(lock.Reason)
	}
	// Output:
	// true
	// the axle rises no more while the shock is compressed
}

// At a third of the travel, 32 teeth in front and 21 behind: most of the load
// transfer is cancelled by the chain under acceleration.
func ExampleNewDrive() {
	d, err := linkage.NewDrive(solved("a1"), linkage.DriveSpec{
		Drivetrain:  linkage.Drivetrain{Chainring: 32, Sprocket: 21},
		WheelRadius: 370 * millimetre,
		FrontAxleX:  780 * millimetre,
		MassCentre:  linkage.Point{0, 1120 * millimetre},
		Ground:      linkage.GroundLevel,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := d.At(d.Kinematics().Stroke())
	fmt.Printf("anti-squat %.1f %%, anti-rise %.1f %%\n", 100*p.AntiSquat, 100*p.AntiRise)
	fmt.Printf("chain growth %.2f, kickback %.2f, or %.2f rolling\n", p.ChainGrowth, p.KickbackWheelFixed, p.KickbackWheelRolling)
	// Output:
	// anti-squat 95.4 %, anti-rise 77.5 %
	// chain growth 15.13 mm, kickback 13.38°, or 12.66° rolling
}

// Where must the shock's rocker eye be for the ratio that a drawing has? Here
// it was moved by 4 mm and 3 mm on purpose, and is found again.
func ExampleFitPivots() {
	k := solved("a1")
	ask := linkage.PivotSearch{
		Mechanism: k.Mechanism(),
		Move:      []linkage.Movable{{Point: "S1", X: 8 * millimetre, Y: 8 * millimetre}},
		AnyShock:  true,
	}
	for i := range 6 {
		s := k.Stroke() * units.Length(i) / 5
		ask.Stroke = append(ask.Stroke, s)
		ask.LeverRatio = append(ask.LeverRatio, k.Pose(s).LeverRatio)
	}
	ask.Mechanism.Points["S1"] = linkage.Point{-88 * millimetre, 235 * millimetre}
	fit, err := linkage.FitPivots(ask)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("S1 by %.2f and %.2f, to within %.4f\n", fit.Moved[0].X, fit.Moved[0].Y, fit.Worst)
	// Output:
	// S1 by -4.00 mm and 3.00 mm, to within 0.0000
}

func ExampleReadCSV() {
	table, err := linkage.ReadCSV(strings.NewReader("stroke (mm),travel (mm)\n0,0\n15,44\n30,83.5\n45,119.6\n60,153.2\n"), linkage.Smooth)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(table.Stroke), table.Stroke[4], table.Travel[4])
	_, err = linkage.ReadCSV(strings.NewReader("stroke (mm),travel\n0,0\n"), linkage.Smooth)
	fmt.Println(err)
	// Output:
	// 5 60 mm 153.2 mm
	// linkage: travel "travel": want a title with a unit of length, such as travel (mm)
}

func ExampleWriteCSV() {
	curve, err := linkage.NewConstant(linkage.Constant{Ratio: 2.5, Travel: 150 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := linkage.WriteCSV(os.Stdout, curve, 3); err != nil {
		fmt.Println(err)
	}
	// Output:
	// stroke (mm),travel (mm),lever ratio,lever ratio slope (1/m)
	// 0,0,2.5,0
	// 30,75,2.5,0
	// 60,150,2.5,0
}

// With the shock out, the wheel is lifted on blocks; rule and caliper say where
// axle and shock eyes are.
func ExamplePositions() {
	p := linkage.Positions{
		ShockLength: []units.Length{210 * millimetre, 200 * millimetre, 190 * millimetre},
		AxleHeight:  []units.Length{372 * millimetre, 401 * millimetre, 428.5 * millimetre},
	}
	r, err := p.Readings()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range r.Stroke {
		fmt.Printf("%.1f: %.1f\n", r.Stroke[i], r.Travel[i])
	}
	// Output:
	// 0.0 mm: 0.0 mm
	// 10.0 mm: 29.0 mm
	// 20.0 mm: 56.5 mm
}
