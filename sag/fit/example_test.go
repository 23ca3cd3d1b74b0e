package fit_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// demoShelf is two springs at hand and their collar; invented.
func demoShelf() fit.Shelf {
	return fit.Shelf{
		Springs: []fit.ShelfSpring{
			{Rate: 400 * units.PoundForcePerInch, SolidTravel: 70 * units.Millimetre},
			{Rate: 450 * units.PoundForcePerInch, SolidTravel: 69 * units.Millimetre},
		},
		Collar: fit.Collar{PreloadMax: 5 * units.Millimetre, ThreadPitch: 1 * units.Millimetre},
	}
}

// demoCoil is a rear end with that shelf.
func demoCoil() *fit.Options {
	coil := demoShelf()
	o, err := fit.New(fit.Spec{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}},
		Sag:   0.28, Coil: &coil,
	}, airspring.SeaLevel)
	if err != nil {
		log.Fatal(err) // names every bad field, such as coil.shelf[2].rate
	}
	return o
}

// Which spring of the shelf? By hand: 520 N · 2.5 on 16.8 mm of stroke want 77.4 N/mm
// with no preload; 400 lbf/in, 70.05 N/mm, gets there with 1.76 mm of it, which is
// seven quarter turns. 450 lbf/in, 78.81 N/mm, would rest at 16.50 mm or 27.49 %, just
// more than half a per cent short.
func Example() {
	choice, err := demoCoil().Choose(520 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("ideal %.1f\n", choice.Coil.IdealRate)
	for _, c := range choice.Coil.Candidates {
		fmt.Printf("%.0f lbf/in, %.2f turns: sag %.1f %% %v\n", c.Rate.PoundsForcePerInch(), c.Turns, 100*c.Rest.Sag, c.Findings)
	}
	// Output:
	// ideal 77.4 N/mm
	// 400 lbf/in, 1.75 turns: sag 28.0 % [on_target]
	// 450 lbf/in, 0.00 turns: sag 27.5 % [too_hard preload_at_min]
}

// Which fill of a fork, with none to four volume spacers, so that at full travel it
// pushes with about five times the load? By hand: 383.4 N · sin 64° on 962.11 mm² are
// 358.2 kPa above the air around; with two spacers, 224 cm³, the fill is
// (358.2 + 101.3)·(224 − 30.79)/224 − 101.3 kPa, and of 70.06 cm³ at full travel
// (396.4·(224/70.06)^1.3 − 101.3) kPa push with 1630 N, 1814 N at the wheel.
func ExampleNew() {
	fork, err := fit.New(fit.Spec{
		Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}},
		Sag:   0.2,
		Air: &fit.Chamber{
			Spec: airspring.Spec{
				Bore: 35 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre,
				SpacerVolume: 8 * units.CubicCentimetre, Exponent: 1.3,
			},
			MaxFill: units.BarGauge(10), MaxSpacers: 4, FullTravelRatio: 4.7, NegativeChamber: fit.None,
		},
	}, airspring.SeaLevel)
	if err != nil {
		log.Fatal(err)
	}
	choice, err := fork.Choose(383.4 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	best := choice.Air.Options[0]
	fmt.Printf("%d spacers and %.2f bar: %.2f times the load at full travel\n", best.Spacers, best.Fill.Bar(), best.FullRatio)
	// Output: 2 spacers and 2.95 bar: 4.73 times the load at full travel
}

// The same curve for another shelf, without making it again.
func ExampleNewBehind() {
	o, err := fit.NewBehind(demoCoil().Curve(), fit.Spec{Sag: 0.28, Coil: &fit.Shelf{
		Springs: []fit.ShelfSpring{{Rate: 80 * units.NewtonPerMillimetre}}, Collar: fit.Collar{PreloadMax: 5 * units.Millimetre},
	}}, airspring.SeaLevel)
	if err != nil {
		log.Fatal(err)
	}
	choice, err := o.Choose(560 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f of preload\n", choice.Coil.Candidates[0].Preload) // 1400/80 − 16.8 mm
	// Output: 0.70 mm of preload
}

// The spec has its blanks filled in.
func ExampleOptions_Spec() {
	o := demoCoil()
	fmt.Println(len(o.Spec().Coil.Springs), "springs behind", o.Curve().Stroke(), "of stroke")
	// Output: 2 springs behind 60 mm of stroke
}

// What the recommended end does, and under another load than it was chosen for. By
// hand: √(70.05/2.5²·g₀/0.52)/2π Hz; 1500/70.05 − 1.75 = 19.66 mm of stroke.
func ExampleChoice_State() {
	choice, err := demoCoil().Choose(520 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f, %.1f left\n", choice.State().FastFrequency, choice.State().TravelLeft)
	end := choice.End()
	heavier, err := end.Under(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("under 600 N sag %.1f %%\n", 100*heavier.Rest.Sag)
	// Output:
	// 2.31 Hz, 108.0 mm left
	// under 600 N sag 32.8 %
}

func ExampleChoice_Findings() {
	choice, err := demoCoil().Choose(800 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(choice.Findings(), fit.Has(choice.Findings(), sag.TooSoft))
	// Output: [too_soft preload_at_max] true
}

func ExampleChoice_AtRest() {
	choice, err := demoCoil().Choose(560 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	r := choice.AtRest()
	fmt.Printf("%+.2f points of ± %.2f: %v\n", 100*r.Miss, 100*r.Tolerance, r.Findings)
	// Output: -0.06 points of ± 0.50: [on_target]
}

func ExampleSpec_Best() {
	spec := demoCoil().Spec()
	for _, load := range []units.Force{480, 540} {
		i := spec.Best(demoCoil().Curve(), load)
		fmt.Printf("%v: %.0f lbf/in\n", load, spec.Coil.Springs[i].Rate.PoundsForcePerInch())
	}
	// Output:
	// 480 N: 400 lbf/in
	// 540 N: 450 lbf/in
}

func ExampleOptions_Recommend() {
	choice, err := demoCoil().Recommend(540)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f lbf/in, number %d of the shelf\n", choice.Spring().Rate.PoundsForcePerInch(), choice.Spring().Index)
	// Output: 450 lbf/in, number 1 of the shelf
}

func ExampleRanking_Lead() {
	spec := demoCoil().Spec()
	ranking := spec.Ranking(demoCoil().Curve())
	for _, load := range []units.Force{480, 505, 515, 540} {
		lead, best, err := ranking.Lead(1, load)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%v: %+.3f, spring %d\n", load, lead, best)
	}
	// Output:
	// 480 N: -0.021, spring 0
	// 505 N: -0.008, spring 0
	// 515 N: -0.003, spring 0
	// 540 N: +0.004, spring 1
}

// A pitch of 1 mm makes quarter turns of 0.25 mm.
func ExampleCollar_Set() {
	collar := demoShelf().Collar
	preload, _ := collar.Set(1.76 * units.Millimetre)
	fmt.Println(preload, collar.Turns(preload))
	// Output: 1.75 mm 1.75
}

// A check records every fault, under the name of its part.
func ExampleShelf_Check() {
	coil := demoShelf()
	coil.Springs[1].Rate, coil.PreloadMax = -1, -1
	c := units.Checker{Package: "mine"}
	part := c.Child("coil")
	coil.Check(&part)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// coil.shelf[1].rate
	// coil.preload_max
}

func ExampleChamber_Check() {
	c := units.Checker{Package: "mine"}
	(&fit.Chamber{
		NegativeChamber: fit.None,
		Spec: airspring.Spec{Bore: 35 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre,
			Ambient: airspring.SeaLevel, Exponent: 1.3},
		MaxFill: units.BarGauge(10), MaxSpacers: 4,
	}).Check(&c)
	fmt.Println(c.Err())
	// Output: mine: spacer_volume: want the volume of one spacer, more than 0
}

func ExampleCollar_Check() {
	c := units.Checker{Package: "mine"}
	fit.Collar{PreloadMax: 5 * units.Millimetre, ThreadPitch: 1e-7}.Check(&c)
	fmt.Println(c.Err())
	// Output: mine: thread_pitch 0.0001 mm: want 0.001 mm or more, or 0 if it is unknown
}

// A coil fork without a collar: 7.4 mm are wanted, and of two spacers of 5 mm and one each of 2 mm
// and 1 mm the 5 and the 2 come nearest.
func ExampleCollar_Set_spacers() {
	cap := fit.Collar{PreloadSpacers: []fit.PreloadSpacer{{Thickness: 5 * units.Millimetre, Count: 2}, {Thickness: 2 * units.Millimetre}, {Thickness: 1 * units.Millimetre}}}
	preload, spacers := cap.Set(7.4 * units.Millimetre)
	fmt.Println(preload, spacers, "of at most", cap.Most())
	// Output: 7 mm [5 mm 2 mm] of at most 13 mm
}

// 93 N/mm under 1500 N rest at 16.13 mm of 60 mm of stroke, 1.12 points short of 28 %;
// 150 N of friction may hold the wheel up to 1.61 mm farther on.
func ExampleRestOf() {
	curve := demoCoil().Curve()
	law, err := spring.NewLinear(spring.Linear{Rate: 93 * units.NewtonPerMillimetre, Travel: curve.Stroke()})
	if err != nil {
		log.Fatal(err)
	}
	for _, friction := range []units.Force{0, 150} {
		r, err := fit.RestOf(sag.End{Curve: curve, Law: law, Friction: friction}, sag.Target{Load: 600, Sag: 0.28}, 0)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%+.2f points of ± %.2f: %v\n", 100*r.Miss, 100*r.Tolerance, r.Findings)
	}
	// Output:
	// -1.12 points of ± 0.50: [too_hard]
	// -1.12 points of ± 2.69: [on_target]
}

func ExampleCautions() {
	for _, c := range fit.Cautions(true, false) {
		fmt.Println(c.Code)
	}
	// Output:
	// marking_wins
	// air_pressure
	// crown_and_axle
	// measure_first
	// local_rules
}

// Nobody knows the chambers of this fork. Two readings by the same rider are on both sides of the
// target: what to set next is a step. The ring then stands on target within its own error.
func ExampleGauge() {
	load := 344 * units.Newton
	at := func(psi, mm float64) fit.GaugeReading {
		return fit.GaugeReading{Fill: units.PSIGauge(psi), Stroke: units.Length(mm) * units.Millimetre, Load: &load}
	}
	fork := fit.Gauge{
		NegativeChamber: fit.SelfFilling, OutsideDiameter: 10 * units.Millimetre, MaxFill: units.PSIGauge(150),
		Readings: []fit.GaugeReading{at(70, 46), at(95, 24)},
	}
	spec := fit.Spec{Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}}, Sag: 0.2, Gauge: &fork}
	for range 2 {
		options, err := fit.New(spec, units.StandardAtmosphere)
		if err != nil {
			fmt.Println(err)
			return
		}
		choice, err := options.Choose(load)
		if err != nil {
			fmt.Println(err)
			return
		}
		g := choice.Gauge
		fmt.Printf("%.1f psi, answer: %t, %s\n", g.Fill.PSI(), g.Answer, g.Reason)
		fork.Readings = append(fork.Readings, at(85.9, 31.3))
	}
	// Output:
	// 85.9 psi, answer: false, between
	// 85.9 psi, answer: true, same_stroke
}

// A soft spring of 200 N/mm on top of one of 90 N/mm stops after 5 mm. The job's JSON says it in place of a
// rate; it carries 1500 N at 21.67 mm, and so wants 4.87 mm of preload to do that at a stroke of 16.8 mm.
func ExampleShelfSpring() {
	var one fit.ShelfSpring
	text := `{"law": {"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "65 mm"}}, "solid_travel": "66 mm"}`
	if err := strictjson.Unmarshal("job", []byte(text), &one); err != nil {
		log.Fatal(err)
	}
	c := units.Checker{Package: "job"}
	if one.Check(&c); !c.OK() {
		log.Fatal(c.Err())
	}
	fmt.Println(one.Describe())
	fmt.Printf("%.2f mm\n", one.PreloadFor(1500, 16.8*units.Millimetre).Millimetres())
	// Output:
	// 62.069 N/mm to 90 N/mm over 66 mm
	// 4.87 mm
}
