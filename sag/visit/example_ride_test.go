package visit_test

import (
	"fmt"
	"log"

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

// By hand: 50 mm of stroke are 125 of 150 mm of travel; the spring stores 108 J there, as a fall of
// 193.2 mm under 558.98 N does, 125 mm of which are travel. At 0.75 mm of preload as much is stored where
// 40·s² + 60·s = 558.98·(68.2 + 2.5·s), which is at 51.8 mm.
func ExampleArrival_Ride() {
	rear, err := lastTime.Arrive(sag.Rear, lastTime.Situation, 0)
	if err != nil {
		log.Fatal(err) // names every bad field
	}
	a, err := rear.Ride(rear.Now.Load, visit.Ride{Stroke: 50 * units.Millimetre, Error: 0.5 * units.Millimetre})
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

func ExampleAssembly_Plan() {
	end, err := left.Assemble(nil)
	if err != nil {
		log.Fatal(err)
	}
	p, err := end.Plan(visit.Bracket{Load: 640 * units.Newton, RingError: 0.5 * units.Millimetre})
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

func ExampleAssembly_Plan_next() {
	end, err := left.Assemble(nil)
	if err != nil {
		log.Fatal(err)
	}
	p, err := end.Plan(visit.Bracket{Load: 640 * units.Newton, RingError: 0.5 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	for _, felt := range []visit.Felt{visit.FeltTooSoft, visit.FeltRight} {
		fmt.Printf("%s at %.2f of preload is %s\n", p.Next.Name, p.Next.Coil.Preload, felt)
		b := p.Bracket
		b.Tried = append(b.Tried, visit.Tried{Sag: p.Next.Coil.Rest.Sag, Felt: felt})
		if p, err = end.Plan(b); err != nil {
			log.Fatal(err)
		}
	}
	fmt.Println(p.Ending)
	// Output:
	// predicted at 3.38 mm of preload is too_soft
	// harder at 4.50 mm of preload is right
	// found
}
