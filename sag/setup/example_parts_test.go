package setup_test

import (
	"fmt"
	"log"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// demoSheet is the sheet of the job as a person writes it.
func demoSheet() *setup.Sheet {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	return sheet
}

// readForkJob is a fork known by two readings of gauge and ring, and nothing else; invented.
func readForkJob() setup.Job {
	return setup.Job{
		Schema: setup.JobSchema, Masses: sag.Masses{RiderMass: 82 * units.Kilogram},
		Front: &setup.EndJob{Spec: fit.Spec{Curve: linkage.Spec{Fork: &linkage.Fork{Travel: 160 * units.Millimetre}}, Sag: 0.2, Gauge: &fit.Gauge{
			NegativeChamber: fit.SelfFilling, MaxFill: units.PSIGauge(150),
			Readings: []fit.GaugeReading{{Fill: units.PSIGauge(70), Stroke: 46 * units.Millimetre}, {Fill: units.PSIGauge(95), Stroke: 24 * units.Millimetre}},
		}}},
	}
}

// What is taken for a fork that only readings are known of.
func ExampleJob_Filled() {
	whole := readForkJob().Filled()
	fmt.Println(whole.Masses.BikeMass, whole.Masses.RearShare, whole.Ambient)
	fmt.Printf("%.0f\n", whole.Front.Curve.Fork.HeadAngle)
	// Output:
	// 16 kg 0.6 101.325 kPa(a)
	// 64°
}

// The sheet says which fill to read next, and the reading leads to the next sheet. By hand the target of 32 mm lies
// between the readings at 95 psi − 25 psi·(32 − 24)/(46 − 24).
func ExampleJob_WithReading() {
	job := readForkJob()
	for range 2 {
		sheet, err := setup.NewSheet(job)
		if err != nil {
			log.Fatal(err)
		}
		next := sheet.Front.Gauge
		fmt.Printf("%.1f psi, an answer: %t\n", next.Fill.PSI(), next.Answer)
		if job, err = job.WithReading(sag.Front, fit.GaugeReading{Fill: next.Fill, Stroke: 32 * units.Millimetre}); err != nil {
			log.Fatal(err)
		}
	}
	// Output:
	// 85.9 psi, an answer: false
	// 85.9 psi, an answer: true
}

// By hand, see Example: 1326.2 N on 78.807 N/mm.
func ExampleEndSheet_Settled() {
	fmt.Printf("%.1f\n", demoSheet().Rear.Settled().Stroke)
	// Output: 16.8 mm
}

func ExampleEndSheet_Curve() {
	fmt.Println(demoSheet().Rear.Curve().Travel())
	// Output: 150 mm
}

func ExampleEndSheet_Along() {
	fmt.Println(demoSheet().Front.Along())
	fmt.Println(demoSheet().Rear.Along())
	// Output:
	// along the stanchion
	// at the shock
}

func ExampleSheet_Ends() {
	for _, end := range demoSheet().Ends() {
		fmt.Printf("%s: %.0f on the spring\n", end.Axle, end.Load)
	}
	// Output:
	// front: 383 N on the spring
	// rear: 531 N on the spring
}

func ExampleEffect_String() {
	fmt.Println(setup.Effect{End: sag.Rear, With: "3 mm", Sag: -0.012})
	// Output: the sag is 1.2 points less
}

// Two riders of one bike, which is checked once. By hand: (0.42·98.8 − 2.4) kg·g₀·sin 64° on 9.62 cm² and 1.013 bar are
// 4.60 bar absolute where 240 cm³ have become 209, and so 4.01 bar at full extension.
func ExampleTemplate_Sheet() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	bike, err := setup.NewTemplate(job)
	if err != nil {
		log.Fatal(err)
	}
	for _, rider := range []units.Mass{70, 82} {
		sheet, err := bike.Sheet(rider)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%v: %.1f bar in front\n", rider, sheet.Front.Fill().Fill.Bar())
	}
	// Output:
	// 70 kg: 2.6 bar in front
	// 82 kg: 3.0 bar in front
}
