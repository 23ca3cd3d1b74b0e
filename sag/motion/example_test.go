package motion_test

import (
	"fmt"
	"log"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// demoBike has two ends alike, each with 40 kg on 10 N/mm over 200 mm and a damper of 300 N·s/m at the wheel;
// invented.
func demoBike() motion.TwoEnds {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 200 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	law, err := spring.NewLinear(spring.Linear{Rate: 10 * units.NewtonPerMillimetre, Travel: 200 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	wheel, err := linkage.AtWheel(curve, law)
	if err != nil {
		log.Fatal(err)
	}
	end := motion.Corner{Spring: wheel, Damping: 300}
	return motion.TwoEnds{Mass: 80 * units.Kilogram, Gyration: 0.5, Ahead: 0.6, Behind: 0.6, Front: end, Rear: end}
}

// A drop of 0.3 m onto both wheels, by the closed form of a damped swing 140.3 mm deep after 104 ms.
func Example() {
	bike := demoBike()
	s, err := motion.NewSolver(motion.Problem{Slope: bike.Slope, Scale: bike.Scale(), Tolerance: 1e-9, Events: []motion.Event{
		func(_ float64, y []float64) float64 { return y[motion.HeaveSpeed] },
	}})
	if err != nil {
		log.Fatal(err)
	}
	start := make([]float64, motion.TwoEndStates)
	start[motion.HeaveSpeed] = -math.Sqrt(2 * units.StandardGravity * 0.3)
	s.Start(0, start, 1e-3)
	for s.Step(1) && s.Event() < 0 { // until it comes up again
	}
	front, _ := bike.Forces(s.Time(), s.State())
	fmt.Printf("%.1f after %.0f ms, %.0f of each spring\n", front.Travel, 1000*s.Time(), front.Spring)
	// Output: 140.3 mm after 104 ms, 1403 N of each spring
}

// By hand: 40 kg·g₀ on 10 N/mm.
func ExampleTwoEnds_Rest() {
	bike := demoBike()
	rest, err := bike.Rest()
	if err != nil {
		log.Fatal(err)
	}
	front, rear := bike.Forces(0, rest)
	fmt.Printf("%.2f and %.2f\n", front.Travel, rear.Travel)
	// Output: 39.23 mm and 39.23 mm
}

func ExampleTwoEnds_Check() {
	bike := demoBike()
	bike.Gyration, bike.Rear.Damping = 0, -1
	c := units.Checker{Package: "ride"}
	bike.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// gyration
	// rear.damping
}

// Without a damper at full extension, the body falls with g₀.
func ExampleTwoEnds_Slope() {
	bike, slope := demoBike(), make([]float64, motion.TwoEndStates)
	bike.Slope(0, make([]float64, motion.TwoEndStates), slope)
	fmt.Printf("%.3f m/s²\n", slope[motion.HeaveSpeed])
	// Output: -9.807 m/s²
}

// Kinks are at both ends of each travel; with a tyre, where it lifts off too.
func ExampleTwoEnds_Kinks() {
	bike := demoBike()
	fmt.Println(len(bike.Kinks()))
	bike.Front.Tyre, bike.Front.Unsprung = 90*units.NewtonPerMillimetre, 2*units.Kilogram
	fmt.Println(len(bike.Kinks()))
	// Output:
	// 4
	// 5
}

// swinging is x″ = −x from x = 1 on.
func swinging() *motion.Solver {
	s, err := motion.NewSolver(motion.Problem{
		Slope: func(_ float64, y, slope []float64) { slope[0], slope[1] = y[1], -y[0] }, Scale: []float64{1, 1}, Tolerance: 1e-10,
	})
	if err != nil {
		log.Fatal(err)
	}
	s.Start(0, []float64{1, 0}, 0.1)
	return s
}

// The state within a step, which is cos 1.
func ExampleSolver_At() {
	s, at := swinging(), make([]float64, 2)
	for s.Step(10) && s.Time() < 1 {
	}
	s.At(1, at)
	fmt.Printf("%.6f\n", at[0])
	// Output: 0.540302
}

// The time within a step at which something happens: x falls through 0 at π/2.
func ExampleSolver_Find() {
	s := swinging()
	for s.Step(10) {
		if t, ok := s.Find(func(_ float64, y []float64) float64 { return -y[0] }); ok {
			fmt.Printf("%.6f\n", t)
			break
		}
	}
	// Output: 1.570796
}

// A step ends at the time that it must not pass.
func ExampleSolver_Step() {
	s := swinging()
	for s.Step(math.Pi) {
	}
	fmt.Printf("%.6f %.6f %v\n", s.Time(), s.State()[0], s.Err())
	// Output: 3.141593 -1.000000 <nil>
}

func ExampleProblem_Check() {
	c := units.Checker{Package: "ride"}
	motion.Problem{Scale: []float64{1, 0}, Tolerance: 1e-9}.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// slope
	// scale[1]
}
