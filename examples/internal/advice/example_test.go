package advice_test

import (
	"fmt"
	"log"
	"strings"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// left is an invented rear end of 150 mm of travel with a coil of 80 N/mm at 2 mm of preload.
var left = visit.Setting{
	Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28, Friction: 40 * units.Newton,
	Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80 * units.NewtonPerMillimetre}, Preload: 2 * units.Millimetre, Collar: fit.Collar{ThreadPitch: 1.5 * units.Millimetre}},
}

// lastTime is the record of that end alone, with 558.98 N on its spring.
var lastTime = visit.Record{
	Schema: visit.RecordSchema, Date: "2026-11-25", Rear: &visit.EndRecord{Setting: left},
	Situation: visit.Situation{Masses: sag.Masses{RiderMass: 84, BikeMass: 16, UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6}},
}

func ExampleVisit_Answer() {
	v := advice.Visit{
		Schema: advice.VisitSchema, Date: "2026-11-26", Record: &lastTime,
		Rear: &advice.EndVisit{Readings: []visit.Reading{{Stroke: 19 * units.Millimetre, Error: 1 * units.Millimetre}}},
	}
	a, err := v.Answer()
	if err != nil {
		log.Fatal(err) // names every bad field, such as rear.readings[0].error
	}
	for _, advice := range a.Rear.Advice {
		fmt.Println("-", advice.Text)
	}
	fmt.Println("next time:", a.Next.Rear.Coil.Preload)
	// Output:
	// - The ring stands at 19.0 mm (0.75 in), not at 15.5 mm (0.61 in): something is not as the record has it. Any one of these explains it; look at them before you trust the setting.
	// - A spring rate of 71.87 N/mm (410 lbf/in) instead of 80.00 N/mm (457 lbf/in): measure the spring.
	// - A sprung load of 624 N (140.3 lbf) on this wheel instead of 559 N (125.7 lbf): the rider's kit, mass or stance.
	// - A preload of 0.0 mm (0.00 in) instead of 2.0 mm (0.08 in); below 0 the spring is loose at full extension.
	// - For a sag of 28.0 % set 4.1 mm (0.16 in) of preload, 2.75 turns from free, +2.1 mm (+0.08 in), +1.42 turns.
	// next time: 4.125 mm
}

func ExampleAnswer_Rows() {
	v := advice.Visit{Schema: advice.VisitSchema, Date: "2026-11-26", Record: &lastTime}
	a, err := v.Answer()
	if err != nil {
		log.Fatal(err)
	}
	for _, row := range rows.Pick(a.Rows(), rows.Adjust) {
		fmt.Println(row)
	}
	// Output:
	// target sag: 28.0 %
	// preload: 0.8 mm (0.03 in), 0.50 turns from free
	// change: -1.2 mm (-0.05 in), -0.83 turns
	// or a spring of: 74.33 N/mm (424 lbf/in), at the preload that is set
	// ring then: 16.7 mm (0.66 in), sag 27.9 %
}

func ExampleReadVisit() {
	v, err := advice.ReadVisit(strings.NewReader(`{
		"schema": "wheelrate/visit/1", "date": "2026-11-26",
		"rear": {"readings": [{"stroke": "19 mm", "error": "1 mm"}], "felt": "too_soft"}
	}`), &lastTime, nil) // a program keeps the record in a file of its own
	if err != nil {
		log.Fatal(err) // names every field that does not parse
	}
	a, err := v.Answer()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("ring expected at", a.Rear.Now.Rest.Stroke.Both(), "and read at", v.Rear.Readings[0].Stroke.Both())
	// Output: ring expected at 15.5 mm (0.61 in) and read at 19.0 mm (0.75 in)
}
