package sag_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// wholeJob is a job built in code, as an application does it from its own
// forms. The rider, the bike and the parts are invented.
func wholeJob() sag.Job {
	return sag.Job{
		Schema: sag.JobSchema,
		Masses: sag.Masses{
			RiderMass: 74 * units.Kilogram, BikeMass: 16 * units.Kilogram,
			UnsprungFront: 2.3 * units.Kilogram, UnsprungRear: 3 * units.Kilogram,
			RearShare: 0.6,
		},
		Ambient: units.StandardAtmosphere,
		Front: sag.EndJob{
			Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}},
			Sag:   0.2,
			Air: &sag.AirChoice{
				Spec: airspring.Spec{
					Bore: 35 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre,
					SpacerVolume: 8 * units.CubicCentimetre, Exponent: 1.3,
				},
				MaxFill: units.BarGauge(10),
			},
		},
		Rear: sag.EndJob{
			// Pivots of a single-pivot rear end, in mm from the bottom bracket.
			Curve: linkage.Spec{Mechanism: &mechanism.Spec{
				Points: map[string]mechanism.Point{
					"pivot": point(12, 72), "axle": point(-438, 28), "eye": point(-92, 238), "mount": point(112, 292),
				},
				Bodies: map[string][]string{"frame": {"pivot", "mount"}, "swingarm": {"pivot", "axle", "eye"}},
				Axle:   "axle", Shock: [2]string{"eye", "mount"}, Stroke: 57.5 * units.Millimetre,
			}},
			Sag: 0.28,
			Coil: &sag.CoilChoice{
				Shelf: []sag.ShelfSpring{
					{Rate: 400 * units.PoundForcePerInch, SolidTravel: 64 * units.Millimetre},
					{Rate: 450 * units.PoundForcePerInch, SolidTravel: 63 * units.Millimetre},
					{Rate: 500 * units.PoundForcePerInch, SolidTravel: 62 * units.Millimetre},
				},
				PreloadMax: 4 * units.Millimetre, ThreadPitch: 1.5 * units.Millimetre,
			},
		},
	}
}

func point(x, y float64) mechanism.Point {
	return mechanism.Point{units.Length(x) * units.Millimetre, units.Length(y) * units.Millimetre}
}

// A whole job in code: rider, bike, a fork of two figures, a rear end of its
// pivots, an air spring and a shelf of coils; and what the sheet says of it.
func Example_wholeJob() {
	sheet, err := sag.NewSheet(wholeJob())
	if err != nil {
		for _, f := range units.Fields(err) { // each bad field, such as rear.coil.shelf[0].rate
			fmt.Println(f.Field, f.Want)
		}
		return
	}
	// By hand: (0.6·90 − 3)·9.80665 N = 500.1 N stand on the rear spring and, at
	// 28 % of 134.66 mm, press it with 2.3754 times as much at 15.77 mm of stroke
	// (the circles intersected with 30 digits): 75.34 N/mm, or 400 lbf/in with
	// 1.19 mm of preload, which is three quarter turns of the collar.
	rear := sheet.Rear.Coil
	fmt.Printf("rear: %.0f, exactly %.1f\n", float64(sheet.Rear.Load), rear.IdealRate)
	fmt.Printf("  fit %.0f lbf/in with %.3f mm of preload\n", rear.Candidates[0].Rate.PoundsForcePerInch(), rear.Candidates[0].Preload.Millimetres())
	if steps := sheet.Working(wholeJob(), sag.RearEnd); len(steps) > 0 {
		last := steps[len(steps)-1]
		fmt.Printf("  for %s\n", last.Formula)
	}
	for _, c := range sheet.Cautions[:1] {
		fmt.Println(c.Text)
	}
	if len(sheet.Warnings) > 0 {
		log.Println(sheet.Warnings[0].Text)
	}
	// Output:
	// rear: 500, exactly 75.3 N/mm
	//   fit 400 lbf/in with 1.125 mm of preload
	//   for k = F_s/(s + preload)
	// The marking on the part and the maker's manual win over every number here.
}
