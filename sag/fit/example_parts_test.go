package fit_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// dual is a soft spring of 200 N/mm that stops after 5 mm on top of one of 90 N/mm: it carries 310.3 N at 5 mm,
// and 1000 N where the soft one stops, at 16.11 mm; invented.
func dual() fit.ShelfSpring {
	law, err := spring.NewDualRate(spring.DualRate{
		SoftRate: 200 * units.NewtonPerMillimetre, MainRate: 90 * units.NewtonPerMillimetre, SoftTravel: 5 * units.Millimetre, MainTravel: 65 * units.Millimetre,
	})
	if err != nil {
		log.Fatal(err)
	}
	return fit.ShelfSpring{Law: law}
}

// By hand: 1000 N at 16.11 mm and 90 N/mm from there on carry 1500 N at 21.67 mm, 16.8 mm of it by the stroke.
func ExampleShelfSpring_PreloadFor() {
	fmt.Printf("%.2f\n", dual().PreloadFor(1500*units.Newton, 16.8*units.Millimetre))
	// Output: 4.87 mm
}

// By hand: 1500 N over 21.67 mm.
func ExampleShelfSpring_RateAt() {
	fmt.Printf("%.2f\n", dual().RateAt(195./9*units.Millimetre))
	// Output: 69.23 N/mm
}

// A spring that is 2 % harder than it is sold for.
func ExampleShelfSpring_Scaled() {
	fmt.Println(fit.ShelfSpring{Rate: 80 * units.NewtonPerMillimetre}.Scaled(1.02).Rate)
	// Output: 81.6 N/mm
}

func ExampleShelfSpring_Describe() {
	fmt.Println(dual().Describe())
	// Output: 62.069 N/mm to 90 N/mm over 70 mm
}

// By hand: 80 N/mm over 2 mm, and over 10 mm more.
func ExampleShelfSpring_Preloaded() {
	law, err := fit.ShelfSpring{Rate: 80 * units.NewtonPerMillimetre, SolidTravel: 66 * units.Millimetre}.Preloaded(60*units.Millimetre, 2*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(law.Force(0), law.Force(10*units.Millimetre), law.Travel())
	// Output: 160 N 960 N 60 mm
}

// A law that is solid before its end ends there.
func ExampleShelfSpring_Compiled() {
	one := dual()
	one.SolidTravel = 60 * units.Millimetre
	fmt.Println(one.Compiled().Law.Travel())
	// Output: 60 mm
}

func ExampleShelfSpring_Check() {
	c := units.Checker{Package: "shelf"}
	one := dual()
	one.Rate = 80 * units.NewtonPerMillimetre
	one.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: rate
}

func ExampleShelf_Gas() {
	s := demoShelf()
	fmt.Println(s.Gas())
	// Output: false
}

// By hand: 1.75 mm on a pitch of 1 mm.
func ExampleCollar_Turns() {
	fmt.Println(demoShelf().Turns(1.75 * units.Millimetre))
	// Output: 1.75
}

// A collar of 5 mm, and two spacers of 3 mm.
func ExampleCollar_Most() {
	collar := fit.Collar{PreloadMax: 5 * units.Millimetre, PreloadSpacers: []fit.PreloadSpacer{{Thickness: 3 * units.Millimetre, Count: 2}}}
	fmt.Println(collar.Most())
	// Output: 11 mm
}

func ExampleChoice_Spring() {
	choice, err := demoCoil().Choose(520 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f lbf/in with %.2f of preload\n", choice.Spring().Rate.PoundsForcePerInch(), choice.Spring().Preload)
	// Output: 400 lbf/in with 1.75 mm of preload
}

// The recommended end, asked what it does under another load. By hand: 600 N · 2.5 on 70.05 N/mm, less 1.75 mm of
// preload, are 19.66 mm of 60.
func ExampleChoice_End() {
	choice, err := demoCoil().Choose(520 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	rest, err := choice.End().Settle(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f, %.1f %%\n", rest.Stroke, 100*rest.Sag)
	// Output: 19.66 mm, 32.8 %
}

// demoAir is a rear end with an air spring of one chamber, 45 mm wide; invented.
func demoAir() *fit.Options {
	o, err := fit.New(fit.Spec{Curve: ofRatio25(), Sag: 0.28, Air: &fit.Chamber{
		Spec:            airspring.Spec{Bore: 45 * units.Millimetre, PositiveVolume: 190 * units.CubicCentimetre, Exponent: 1.3},
		NegativeChamber: fit.None, MaxFill: units.BarGauge(20),
	}}, airspring.SeaLevel)
	if err != nil {
		log.Fatal(err)
	}
	return o
}

// By hand: 520 N · 2.5 on 15.9 cm² and 1.013 bar around are 9.187 bar absolute at 16.8 mm, where 190 cm³ have become
// 163.3 cm³: 7.895 bar at full extension.
func ExampleChoice_Fill() {
	choice, err := demoAir().Choose(520 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f bar\n", choice.Fill().Fill.Bar())
	// Output: 6.88 bar
}

// A choice for each of two riders by the same options, which never change. By hand for the second as in the example of
// Choice.Fill.
func ExampleOptions_Choose() {
	options := demoAir()
	for _, load := range []units.Force{480, 520} {
		choice, err := options.Choose(load)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%v: %.1f psi\n", load, choice.Fill().Fill.PSI())
	}
	// Output:
	// 480 N: 92.0 psi
	// 520 N: 99.8 psi
}

func ExampleOptions_Curve() {
	fmt.Println(demoAir().Curve().Travel())
	// Output: 150 mm
}

// Two readings by a ring read to 1 mm do not tell the chamber, but where the ring stands between them.
func ExampleOptions_Filled() {
	load := 344 * units.Newton
	options, err := fit.New(fit.Spec{Curve: ofRatio25(), Sag: 0.28, Gauge: &fit.Gauge{NegativeChamber: fit.None, Readings: []fit.GaugeReading{
		{Fill: units.PSIGauge(70), Stroke: 16 * units.Millimetre, Load: &load}, {Fill: units.PSIGauge(95), Stroke: 8 * units.Millimetre, Load: &load},
	}}}, airspring.SeaLevel)
	if err != nil {
		log.Fatal(err)
	}
	end, whole, err := options.Filled(units.PSIGauge(70))
	if err != nil {
		log.Fatal(err)
	}
	rest, err := end.Settle(load)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f, with its chambers: %t\n", rest.Stroke, whole)
	// Output: 16.0 mm, with its chambers: false
}

func ExampleSpec_Ranking() {
	spec := demoCoil().Spec()
	_, best, err := spec.Ranking(demoCoil().Curve()).Lead(0, 540*units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f\n", spec.Coil.Springs[best].Rate.PoundsForcePerInch())
	// Output: 450
}

func ExampleGauge_Highest() {
	gauge := fit.Gauge{Readings: []fit.GaugeReading{{Fill: units.PSIGauge(70)}, {Fill: units.PSIGauge(95)}}}
	fmt.Printf("%.0f psi\n", gauge.Highest().PSI())
	gauge.MaxFill = units.PSIGauge(150)
	fmt.Printf("%.0f psi\n", gauge.Highest().PSI())
	// Output:
	// 95 psi
	// 150 psi
}

func ExampleGauge_Check() {
	c := units.Checker{Package: "fork"}
	gauge := fit.Gauge{NegativeChamber: fit.None, Ambient: airspring.SeaLevel, RingError: units.Millimetre}
	gauge.Check(&c, demoAir().Curve())
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: readings
}

func ExampleGaugeReading_Middle() {
	fmt.Println(fit.GaugeReading{Stroke: 30 * units.Millimetre, StrokeBack: 33 * units.Millimetre}.Middle())
	// Output: 31.5 mm
}

func ExampleGaugeReading_Check() {
	c := units.Checker{Package: "reading"}
	fit.GaugeReading{Fill: units.PSIGauge(70), Stroke: 70 * units.Millimetre, Load: new(344 * units.Newton)}.Check(&c, demoAir().Curve())
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: stroke
}

// Nothing is said of a negative chamber.
func ExampleCheckNegative() {
	c := units.Checker{Package: "fork"}
	fit.CheckNegative(&c, airspring.Spec{Bore: 35 * units.Millimetre}, "")
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: negative_volume
}

func ExampleHas() {
	fmt.Println(fit.Has([]sag.Finding{sag.TooHard, sag.PreloadAtMin}, sag.OnTarget))
	// Output: false
}
