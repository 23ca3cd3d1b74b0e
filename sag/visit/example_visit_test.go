package visit_test

import (
	"fmt"
	"log"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/rows"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// left is an invented rear end of 150 mm of travel with a coil of 80 N/mm at 2 mm of preload.
var left = visit.Setting{
	Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28, Friction: 40 * units.Newton,
	Coil: &visit.CoilSetting{Rate: 80 * units.NewtonPerMillimetre, Preload: 2 * units.Millimetre, Collar: fit.Collar{ThreadPitch: 1.5 * units.Millimetre}},
}

// lastTime is the record of that end alone, with 558.98 N on its spring.
var lastTime = visit.Record{
	Schema: visit.RecordSchema, Date: "2026-11-25", Rear: &visit.EndRecord{Setting: left},
	Situation: visit.Situation{Masses: sag.Masses{RiderMass: 84, BikeMass: 16, UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6}},
}

// By hand: 50 mm of stroke are 125 of 150 mm of travel; the spring stores 108 J there, as a fall of
// 193.2 mm under 558.98 N does, 125 mm of which are travel. At 0.75 mm of preload as much is stored where
// 40·s² + 60·s = 558.98·(68.2 + 2.5·s), which is at 51.8 mm.
func ExampleRecord_Ride() {
	a, err := lastTime.Ride(sag.Rear, visit.Ride{Stroke: 50 * units.Millimetre, Error: 0.5 * units.Millimetre})
	if err != nil {
		log.Fatal(err) // names every bad field
	}
	fmt.Printf("%s: %.1f %% of the travel, as an undamped drop of %.1f\n", a.Verdict, 100*a.Used, a.Drop)
	for _, o := range a.Options {
		fmt.Printf("%s: %.0f at %.2f of preload would use %.1f %%\n", o.Adjustment, o.Rate, o.Preload, 100*o.Used)
	}
	// Output:
	// little_used: 83.3 % of the travel, as an undamped drop of 68.2 mm
	// preload: 80 N/mm at 0.75 mm of preload would use 86.4 %
	// rate: 76 N/mm at 1.50 mm of preload would use 88.0 %
	// preload: 80 N/mm at 0.00 mm of preload would use 88.2 %
}

func ExampleBracket_Plan() {
	p, err := visit.Bracket{Setting: left, Load: 640 * units.Newton, RingError: 0.5 * units.Millimetre}.Plan()
	if err != nil {
		log.Fatal(err) // names every bad field
	}
	for _, t := range p.Trials {
		fmt.Printf("%s: preload %.2f, ring at %.1f\n", t.Name, t.Coil.Preload, t.Coil.Rest.Stroke)
	}
	fmt.Println("ride", p.Next.Name)
	// Output:
	// softer: preload 1.88 mm, ring at 18.1 mm
	// predicted: preload 3.38 mm, ring at 16.6 mm
	// harder: preload 4.50 mm, ring at 15.5 mm
	// ride predicted
}

func ExamplePlan_After() {
	p, err := visit.Bracket{Setting: left, Load: 640 * units.Newton, RingError: 0.5 * units.Millimetre}.Plan()
	if err != nil {
		log.Fatal(err)
	}
	for _, felt := range []visit.Felt{visit.FeltTooSoft, visit.FeltRight} {
		fmt.Printf("%s at %.2f of preload is %s\n", p.Next.Name, p.Next.Coil.Preload, felt)
		if p, err = p.After(visit.Tried{Sag: p.Next.Coil.Rest.Sag, Felt: felt}); err != nil {
			log.Fatal(err)
		}
	}
	fmt.Println(p.Ending)
	// Output:
	// predicted at 3.38 mm of preload is too_soft
	// harder at 4.50 mm of preload is right
	// found
}

func ExampleVisit_Answer() {
	v := visit.Visit{
		Schema: visit.VisitSchema, Date: "2026-11-26", Record: &lastTime,
		Rear: &visit.EndVisit{Readings: []visit.Reading{{Stroke: 19 * units.Millimetre, Error: 1 * units.Millimetre}}},
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
	v := visit.Visit{Schema: visit.VisitSchema, Date: "2026-11-26", Record: &lastTime}
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
	v, err := visit.ReadVisit(strings.NewReader(`{
		"schema": "wheelrate/visit/1", "date": "2026-11-26",
		"rear": {"readings": [{"stroke": "19 mm", "error": "1 mm"}], "felt": "too_soft"}
	}`))
	if err != nil {
		log.Fatal(err) // names every field that does not parse
	}
	v.Record = &lastTime // which a program keeps in a file of its own
	a, err := v.Answer()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("ring expected at", a.Rear.Now.Rest.Stroke.Both(), "and read at", v.Rear.Readings[0].Stroke.Both())
	// Output: ring expected at 15.5 mm (0.61 in) and read at 19.0 mm (0.75 in)
}
