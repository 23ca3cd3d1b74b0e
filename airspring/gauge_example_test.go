package airspring_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// gauge returns three readings of a fork, the first approached from 40 mm and from 54 mm. It is invented: a chamber of
// 290 cm³ behind a bore of 34 mm gives them, (F + A·p_a)·(1/A − s/V) − p_a, with A = 907.92 mm² and A·p_a = 91.995 N.
func gauge() airspring.GaugeReadings {
	negative := false
	return airspring.GaugeReadings{
		Ambient: airspring.SeaLevel, NegativeChamber: &negative, OutsideDiameter: 34 * units.Millimetre, RingError: units.Millimetre / 2,
		Readings: []airspring.GaugeReading{
			{Fill: units.BarGauge(4.54765), Stroke: 40 * units.Millimetre, StrokeBack: 54 * units.Millimetre, Force: 500},
			{Fill: units.BarGauge(8.19618), Stroke: 20 * units.Millimetre, Force: 800},
			{Fill: units.BarGauge(6.49209), Stroke: 100 * units.Millimetre, Force: 900},
		},
	}
}

func calibrated() *airspring.Calibration {
	c, err := airspring.Calibrate(gauge())
	if err != nil {
		log.Fatal(err)
	}
	return c
}

// By hand: 691.995 N·(1101.418 − 103.448)/m² − 101 325 Pa.
func ExampleCalibration_FillFor() {
	f, err := calibrated().FillFor(600, 30*units.Millimetre)
	fmt.Printf("%.2f bar, extrapolated: %v %v\n", f.Fill.Bar(), f.Extrapolated, err)
	// Output: 5.89 bar, extrapolated: false <nil>
}

// No fill carries a load beyond the end of the chamber.
func ExampleCalibration_SolveFill() {
	c := calibrated()
	_, near := c.SolveFill(600, 30*units.Millimetre)
	_, beyond := c.SolveFill(600, 400*units.Millimetre)
	fmt.Println(near, beyond)
	// Output: met beyond
}

// By hand: 290 cm³ over the area of the bore.
func ExampleCalibration_Length() {
	fmt.Printf("%.0f\n", calibrated().Length())
	// Output: 319 mm
}

// The bore and the chamber that the readings are made of.
func ExampleCalibration_Chambers() {
	e, err := calibrated().Chambers()
	fmt.Printf("bore %.0f, chamber %.0f cm³ %v\n", e.Bore, float64(e.PositiveVolume/units.CubicCentimetre), err)
	// Output: bore 34 mm, chamber 290 cm³ <nil>
}

// The readings agree, being exact.
func ExampleCalibration_Residuals() {
	for _, r := range calibrated().Residuals() {
		fmt.Printf("%.1f %v\n", max(r.Stroke, -r.Stroke), r.Beyond)
	}
	// Output:
	// 0.0 mm false
	// 0.0 mm false
	// 0.0 mm false
}

// By hand: half of what 556.09 kPa gain from 40 to 54 mm, 556.09 kPa·(1.09265 − 1.03790)·10⁻³ m²/2.
func ExampleCalibration_Friction() {
	friction, known := calibrated().Friction()
	fmt.Printf("%.1f %v\n", friction, known)
	// Output: 15.2 N true
}

// With the fill of the first reading 500 N rest halfway between its two strokes.
func ExampleCalibration_Law() {
	law, err := calibrated().Law(units.BarGauge(4.54765))
	if err != nil {
		log.Fatal(err)
	}
	x, err := spring.Settle(law, 500)
	fmt.Printf("%.1f of %.0f %v\n", x, law.Travel(), err)
	// Output: 47.0 mm of 100 mm <nil>
}

// The marking on the part permits less than the 5.89 bar that 600 N at 30 mm need.
func ExampleCalibration_Next() {
	for _, most := range []float64{8, 5} {
		step, err := calibrated().Next(600, 30*units.Millimetre, units.BarGauge(most))
		fmt.Printf("%.2f bar: %s, at the marking: %v %v\n", step.Fill.Bar(), step.Reason, step.AtMarking, err)
	}
	// Output:
	// 5.89 bar: calibrated, at the marking: false <nil>
	// 5.00 bar: calibrated, at the marking: true <nil>
}

func ExampleGaugeReadings_Check() {
	g, c := gauge(), units.Checker{Package: "workshop"}
	g.Readings[1].Stroke, g.RingError = 0, 0
	g.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// readings[1].stroke
	// ring_error
}

// With a negative chamber three readings are too few.
func ExampleGaugeReadings_CheckEnough() {
	g, c := gauge(), units.Checker{Package: "workshop"}
	*g.NegativeChamber, g.OutsideDiameter = true, 10*units.Millimetre
	g.CheckEnough(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field, f.Want)
	}
	// Output: readings readings at 4 different strokes or more, since there is a negative chamber
}

func ExampleGaugeReadings_Needed() {
	g := gauge()
	fmt.Println(g.Needed())
	*g.NegativeChamber = true
	fmt.Println(g.Needed())
	// Output:
	// 2
	// 4
}

// Two readings at one stroke count once.
func ExampleGaugeReadings_Different() {
	g := gauge()
	g.Readings = append(g.Readings, g.Readings[2])
	fmt.Println(len(g.Readings), g.Different())
	// Output: 4 3
}

// shock is an invented spring of one chamber.
func shock() *airspring.Spring {
	s, err := airspring.New(airspring.Spec{
		Bore: 32 * units.Millimetre, Travel: 120 * units.Millimetre, PositiveVolume: 160 * units.CubicCentimetre,
		Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1,
	})
	if err != nil {
		log.Fatal(err)
	}
	return s
}

func ExampleSpring_Travel() {
	fmt.Printf("%.0f\n", shock().Travel())
	// Output: 120 mm
}

// Another fill is another spring.
func ExampleSpring_Spec() {
	spec := shock().Spec()
	spec.Fill = units.BarGauge(6)
	harder, err := airspring.New(spec)
	fmt.Println(harder, err)
	// Output: air spring: bore 32 mm, travel 120 mm, filled to 600 kPa(g) <nil>
}

func ExampleSpring_String() {
	fmt.Println(shock())
	// Output: air spring: bore 32 mm, travel 120 mm, filled to 500 kPa(g)
}
