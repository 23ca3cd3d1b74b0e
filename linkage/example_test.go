package linkage_test

import (
	"fmt"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

const millimetre = units.Millimetre

// coarse is a table with steps of 15 mm.
var coarse = linkage.Table{
	Stroke: lengths(0, 15, 30, 45, 60),
	Travel: lengths(0, 44, 83.5, 119.6, 153.2),
}

// A rear end with a lever ratio of 2.5 and a spring of 80 N/mm settles under
// 600 N where the spring carries 600·2.5 N: at 18.75 mm of stroke.
func Example() {
	var spec linkage.Spec
	if err := strictjson.Unmarshal("linkage", []byte(`{"constant": 2.5, "travel": "150 mm"}`), &spec); err != nil {
		fmt.Println(err)
		return
	}
	curve, err := linkage.New(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: curve.Stroke()})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := spring.Settle(wheel, 600*units.Newton)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("wheel rate %.2f\n", wheel.Rate(w))
	fmt.Printf("travel %.3f (%.2f in), stroke %.2f\n", w, w.Inches(), wheel.Stroke(w))
	fmt.Printf("sag %.2f %%\n", 100*float64(w/wheel.Travel()))
	// Output:
	// wheel rate 12.80 N/mm
	// travel 46.875 mm (1.85 in), stroke 18.75 mm
	// sag 31.25 %
}

func ExampleNew() {
	_, err := linkage.New(linkage.Spec{Fork: &linkage.Fork{HeadAngle: 26 * units.Degree}})
	for _, fault := range units.Fields(err) {
		fmt.Println(fault)
	}
	// Output:
	// linkage: fork.head_angle 26°: want more than 30° and at most 90°, from the horizontal
	// linkage: fork.travel 0 mm: want from 0.001 mm to 1000000 mm
}

func ExampleNewConstant() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("stroke %.1f, at 18 mm of it %.1f of travel\n", curve.Stroke(), curve.TravelAt(18*millimetre))
	// Output:
	// stroke 60.0 mm, at 18 mm of it 45.0 mm of travel
}

// At 60° the sine is √3/2: of 160 mm along the stanchions 138.6 mm are vertical.
func ExampleNewFork() {
	curve, err := linkage.NewFork(linkage.Fork{HeadAngle: 60 * units.Degree, Travel: 160 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("travel %.4f, ratio %.6f\n", curve.Travel(), curve.LeverRatio(0))
	// Output:
	// travel 138.5641 mm, ratio 0.866025
}

func ExampleNewTable() {
	for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth} {
		table := coarse
		table.Method = method
		curve, err := linkage.NewTable(table)
		if err != nil {
			fmt.Println(err)
			return
		}
		s := 7.5 * millimetre
		fmt.Printf("%-8s %.4f, ratio %.5f\n", method, curve.TravelAt(s), curve.LeverRatio(s))
	}
	// Output:
	// monotone 22.5777 mm, ratio 2.93535
	// smooth   22.6344 mm, ratio 2.93014
}

// A table typed with a slip is refused with the place of every slip.
func ExampleNewTable_refused() {
	table := linkage.Table{Stroke: lengths(0, 15, 30, 45), Travel: lengths(0, 44, 38.5, 119.6), Method: "cubic"}
	_, err := linkage.NewTable(table)
	for _, fault := range units.Fields(err) {
		fmt.Println(fault)
	}
	// Output:
	// linkage: method "cubic": want one of monotone, smooth, measured
	// linkage: travel[2] 38.5 mm: want more than 44 mm before it; the method measured takes readings that fall back
}

// Readings to 0.1 mm: the ratio comes with its standard error.
func ExampleFitReadings() {
	fit, err := linkage.FitReadings(linkage.Table{
		Stroke: lengths(0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 62.5),
		Travel: lengths(0, 14.3, 28.1, 41.4, 54.4, 67.1, 79.4, 91.5, 103.4, 115, 126.5, 137.8, 149.1, 154.7),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("one reading is good to %.3f\n", fit.ReadingError)
	for _, s := range lengths(0, 30, 62.5) {
		fmt.Printf("ratio at %v: %.4f ± %.4f\n", s, fit.Curve.LeverRatio(s), fit.LeverRatioError(s))
	}
	// Output:
	// one reading is good to 0.034 mm
	// ratio at 0 mm: 2.9033 ± 0.0051
	// ratio at 30 mm: 2.4413 ± 0.0012
	// ratio at 62.5 mm: 2.2339 ± 0.0073
}

func ExampleCurve_StrokeAt() {
	curve, err := linkage.NewTable(coarse)
	if err != nil {
		fmt.Println(err)
		return
	}
	sag := 44 * millimetre // at the wheel, measured
	s := curve.StrokeAt(sag)
	fmt.Printf("%.2f of stroke: %.1f %% at the wheel are %.1f %% at the shock\n",
		s, 100*float64(sag/curve.Travel()), 100*float64(s/curve.Stroke()))
	// Output:
	// 15.00 mm of stroke: 28.7 % at the wheel are 25.0 % at the shock
}

func ExampleCurve_LeverRatioSlope() {
	curve, err := linkage.NewTable(coarse)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := 22.5 * millimetre
	fmt.Printf("%.4f of travel, ratio %.5f, %.4f\n", curve.TravelAt(s), curve.LeverRatio(s), curve.LeverRatioSlope(s))
	// Output:
	// 64.2381 mm of travel, ratio 2.62746, -17.3564 1/m
}

// Ends alone don't see a hump: this ratio rises from 2.84 to 3.06 first.
func ExampleCurve_Progression() {
	curve, err := linkage.NewTable(linkage.Table{
		Stroke: lengths(0, 3, 8, 12, 20, 27, 35, 41, 50, 57),
		Travel: lengths(0, 8.6, 23.2, 35.1, 59.4, 79.6, 101.3, 116.5, 138.2, 154.4),
		Method: linkage.Smooth,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := curve.Progression()
	fmt.Printf("%.1f %%, from %.4f to %.4f, between %.4f and %.4f\n", 100*p.Value, p.Start, p.End, p.Min, p.Max)
	// Output:
	// 19.9 %, from 2.8426 to 2.2783, between 2.2783 and 3.0577
}

func ExampleCurve_Samples() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	for s := range curve.Samples(4) {
		fmt.Printf("%2.0f %3.0f %.2f\n", s.Stroke.Millimetres(), s.Travel.Millimetres(), s.LeverRatio)
	}
	// Output:
	//  0   0 2.50
	// 20  50 2.50
	// 40 100 2.50
	// 60 150 2.50
}

// Behind w = 2.95·s − 4.25·s² (in metres) the ratio at 20 mm of stroke is 2.78
// and its slope −8.5/m. A spring of 80 N/mm carries 1600 N there, so
// k = 80/2.78² + 1600·0.0085/2.78³ N/mm: 10.35 for the ratio, 0.63 for its slope.
func ExampleAtWheel() {
	table := linkage.Table{Method: linkage.Smooth}
	for s := 0.0; s < 0.061; s += 0.01 {
		table.Stroke = append(table.Stroke, units.Length(s))
		table.Travel = append(table.Travel, units.Length(2.95*s-4.25*s*s))
	}
	curve, err := linkage.NewTable(table)
	if err != nil {
		fmt.Println(err)
		return
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: curve.Stroke()})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	w := curve.TravelAt(20 * millimetre)
	fmt.Printf("at %.1f: %.2f, %.2f, %.2f\n", w, wheel.Force(w), wheel.Rate(w), wheel.Energy(w))
	// Output:
	// at 57.3 mm: 575.54 N, 10.98 N/mm, 16.00 J
}

// Behind a ratio that rises steeply, LR = 1.5 + 50·s, a preload of 40 mm makes
// the wheel force fall: k = 50 N/mm·(1.5 − 50·0.04)/1.5³ at the start.
func ExampleWheelLaw_MinRate() {
	table := linkage.Table{Method: linkage.Smooth}
	for s := 0.0; s < 0.041; s += 0.01 {
		table.Stroke = append(table.Stroke, units.Length(s))
		table.Travel = append(table.Travel, units.Length(1.5*s+25*s*s))
	}
	curve, err := linkage.NewTable(table)
	if err != nil {
		fmt.Println(err)
		return
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 50 * units.NewtonPerMillimetre, Travel: curve.Stroke(), Preload: 40 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	rate, at := wheel.MinRate()
	fmt.Printf("%.3f at %v\n", rate, at)
	// Output:
	// -7.407 N/mm at 0 mm
}

// A spring behind a four-bar is a law at the wheel like any other.
func ExampleCompile() {
	k := solved("c1")
	curve, err := linkage.Compile(k)
	if err != nil {
		fmt.Println(err)
		return
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: k.Stroke()})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	// At full travel the shock carries 80·62.5 = 5000 N, at a ratio of 2.2515.
	fmt.Printf("%.0f at %.1f\n", wheel.Force(wheel.Travel()), wheel.Travel())
	// Output:
	// 2221 N at 154.7 mm
}

// A lever ratio of 3 that falls evenly to 2.4 over 60 mm: w = 3·s − 5/m·s².
func ExampleNewFunction() {
	curve, err := linkage.NewFunction(60*millimetre, func(s units.Length) (units.Length, float64, units.RatioSlope) {
		return 3*s - 5*s*s, 3 - 10*float64(s), -10
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(curve)
	fmt.Printf("%.3f at %.1f\n", curve.LeverRatio(30*millimetre), curve.TravelAt(30*millimetre))
	// Output:
	// curve: stroke 60 mm, travel 162.0 mm, lever ratio 3.000 to 2.400
	// 2.700 at 85.5 mm
}

// A lever ratio that is known to 2 %.
func ExampleCurve_Scaled() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, factor := range []float64{0.98, 1.02} {
		c, err := curve.Scaled(factor)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(c)
	}
	// Output:
	// curve: stroke 60 mm, travel 147.0 mm, lever ratio 2.450 to 2.450
	// curve: stroke 60 mm, travel 153.0 mm, lever ratio 2.550 to 2.550
}
