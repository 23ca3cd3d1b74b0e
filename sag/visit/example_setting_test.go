package visit_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// workshopRear is the rear end of the workshop's record with what it rests under.
func workshopRear() *visit.Arrival {
	r := workshopRecord()
	rear, err := r.Arrive(sag.Rear, r.Situation, 0)
	if err != nil {
		log.Fatal(err)
	}
	return rear
}

func ExampleSetting_Assemble() {
	rear := workshopRecord().Rear.Setting
	end, err := rear.Assemble(nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f at 20 mm\n", end.End().Law.Force(20*units.Millimetre)) // 80·(20 + 2)

	rear.Coil.Rate = 0
	_, err = rear.Assemble(nil)
	fmt.Println(err)
	// Output:
	// 1760 N at 20 mm
	// sag: coil.rate 0 N/mm: want a finite value, more than 0
}

func ExampleAssembly_End() {
	end := workshopRear().End()
	fmt.Printf("%.0f of stroke, %.0f at its end\n", end.Curve.Stroke(), end.Law.Force(end.Curve.Stroke())) // 80·(60 + 2)
	// Output: 60 mm of stroke, 4960 N at its end
}

func ExampleSetting_Text() {
	fmt.Println(workshopRecord().Rear.Setting.Text())
	// Output: spring 457 lbf/in (80.00 N/mm), 2.0 mm (0.08 in) of preload, 1.25 turns from free
}

func ExampleSetting_Gas() {
	fmt.Println(workshopRecord().Rear.Setting.Gas())
	// Output: false
}

// By hand: 558.98·2.5/80 − 16.8 mm, in quarter turns of 1.6 mm.
func ExampleSetting_With() {
	rear := workshopRear()
	c, err := rear.Correction(sag.Target{Load: rear.Now.Load, Sag: rear.Setting().Sag})
	if err != nil {
		log.Fatal(err)
	}
	next := rear.Setting().With(c)
	fmt.Println(next.Text())
	// Output: spring 457 lbf/in (80.00 N/mm), 0.8 mm (0.03 in) of preload, 0.50 turns from free
}

func ExampleCorrection_Text() {
	rear := workshopRear()
	c, err := rear.Correction(sag.Target{Load: rear.Now.Load, Sag: rear.Setting().Sag})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("set", c.Text())
	// Output: set 0.8 mm (0.03 in) of preload, 0.50 turns from free
}

// By hand: (558.98·2.5/80 − 0.8) mm of 60 mm.
func ExampleCorrection_AtRest() {
	rear := workshopRear()
	c, err := rear.Correction(sag.Target{Load: rear.Now.Load, Sag: rear.Setting().Sag})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("sag %.1f %%\n", 100*c.AtRest().Rest.Sag)
	// Output: sag 27.8 %
}

// By hand: 600·2.5/80 N/mm − 2 mm.
func ExampleAssembly_Outcome() {
	o, err := workshopRear().Outcome(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f of stroke, %s\n", o.Rest.Stroke, o.Findings)
	// Output: 16.75 mm of stroke, [on_target]
}

func ExampleAssembly_Setting() {
	fmt.Printf("preload %.1f\n", workshopRear().Setting().Coil.Preload)
	// Output: preload 2.0 mm
}

func ExampleSituation_Check() {
	s := workshopRecord().Situation
	c := units.Checker{Package: "visit"}
	fmt.Printf("%.1f behind\n", s.Check(&c, sag.Rear).Load(sag.Rear)) // (0.6·100 − 3)·9.80665
	s.Masses.RiderMass = -84
	s.Check(&c, sag.Rear)
	fmt.Println(c.Err())
	// Output:
	// 559.0 N behind
	// visit: masses.rider_mass -84 kg: want a finite value, more than 0
}

func ExampleFelt_Check() {
	c := units.Checker{Package: "visit"}
	visit.FeltTooSoft.Check(&c)
	visit.Felt("wooden").Check(&c)
	fmt.Println(c.Err())
	// Output: visit: felt "wooden": want "too_soft", "too_hard" or "right"
}

func ExampleRideOption_Text() {
	coil := visit.RideOption{Rate: 84 * units.NewtonPerMillimetre, Preload: 1 * units.Millimetre}
	air := visit.RideOption{Fill: units.BarGauge(5), Spacers: 2}
	for adjustment, o := range map[visit.Adjustment]visit.RideOption{visit.AdjustRate: coil, visit.AdjustPreload: coil, visit.AdjustFill: air, visit.AdjustSpacers: air} {
		o.Adjustment = adjustment
		fmt.Println(o.Text())
	}
	// Unordered output:
	// a spring of 480 lbf/in (84.00 N/mm) with 1.0 mm (0.04 in) of preload
	// the same spring with 1.0 mm (0.04 in) of preload
	// a fill of 5.00 bar (72.5 psi)
	// 2 spacers and 5.00 bar (72.5 psi)
}
