package sag_test

import (
	"fmt"
	"log"
	"os"
	"strings"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A coil fork: which spring, for this load and this sag? By hand:
// 380 N · sin 64° / (32 mm + 5 mm) = 9.23 N/mm.
func Example() {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err) // names every bad field
	}
	load := sag.Target{Load: 380 * units.Newton, Sag: 0.20}
	k, err := sag.RequiredRate(fork, load, 5*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f lbf/in, or %.2f\n", k.Rate.PoundsForcePerInch(), k.Rate)
	// Output: 52.7 lbf/in, or 9.23 N/mm
}

// The README's embedding code is the body of the package's Example, so it
// compiles, runs and prints what it should.
func TestReadmeCodeIsTheExample(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, code, ok := strings.Cut(string(readme), "```go\n")
	code, _, end := strings.Cut(code, "```")
	if !ok || !end {
		t.Fatal("the README has no Go code")
	}
	example, err := os.ReadFile("example_test.go")
	if err != nil {
		t.Fatal(err)
	}
	var indented strings.Builder
	for _, line := range strings.SplitAfter(code, "\n") {
		if line != "" {
			indented.WriteString("\t" + line)
		}
	}
	if !strings.Contains(string(example), indented.String()) {
		t.Errorf("this is not in example_test.go as it stands in the README:\n%s", code)
	}
}

// rear is the rear end of the examples: a constant ratio of 2.5 over 150 mm, and a
// spring of 80 N/mm with 2 mm of preload.
func rear() sag.End {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	return sag.End{Curve: curve, Law: coil, Friction: 40 * units.Newton}
}

func ExampleMasses_Loads() {
	l, err := sag.Masses{
		RiderMass: 80 * units.Kilogram, BikeMass: 20 * units.Kilogram,
		UnsprungFront: new(2 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6,
	}.Loads()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("front %.1f, rear %.1f\n", l.Front, l.Rear)
	// Output: front 372.7 N, rear 559.0 N
}

// The bike by itself: by hand, 46 % of 16 kg less 3 kg of wheel are 4.36 kg.
func ExampleMasses_BikeLoads() {
	l, err := sag.Masses{
		BikeMass: 16 * units.Kilogram, UnsprungFront: new(2 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram), BikeRearShare: 0.46,
	}.BikeLoads()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("front %.1f, rear %.1f\n", l.Front, l.Rear)
	// Output: front 65.1 N, rear 42.8 N
}

// Two bathroom scales in place of a share: what they show beyond the bike is the
// rider. By hand: 58.9 kg less 3.2 kg weigh 546.2 N.
func ExampleMasses_Rider() {
	m := sag.Masses{BikeMass: 17 * units.Kilogram, UnsprungFront: new(2.4 * units.Kilogram), UnsprungRear: new(3.2 * units.Kilogram),
		FrontScale: 41.3 * units.Kilogram, RearScale: 58.9 * units.Kilogram}
	l, err := m.Loads()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("rider %.1f of %.1f, %.1f %% on the rear, %.1f on its spring\n", m.Rider(), m.Total(), 100*l.RearShare, l.Rear)
	// Output: rider 83.2 kg of 100.2 kg, 58.8 % on the rear, 546.2 N on its spring
}

// Standing on the pedals behind the saddle: 5 % more of the weight on the rear.
func ExampleMasses_WithRearShare() {
	m := sag.Masses{RiderMass: 80 * units.Kilogram, BikeMass: 20 * units.Kilogram, RearShare: 0.6}
	l, err := m.WithRearShare(0.65).Loads()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("rear %.1f\n", l.Rear) // 65 kg · 9.80665 m/s²
	// Output: rear 637.4 N
}

func ExampleRequiredPreload() {
	p, err := sag.RequiredPreload(rear().Curve, sag.Target{Load: 600 * units.Newton, Sag: 0.28}, 80*units.NewtonPerMillimetre)
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 600·2.5/80 − 0.28·150/2.5 = 18.75 − 16.8.
	fmt.Printf("%.2f\n", p)
	// Output: 1.95 mm
}

func ExampleRequiredRate() {
	k, err := sag.RequiredRate(rear().Curve, sag.Target{Load: 600 * units.Newton, Sag: 0.28}, 0)
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 600 N · 2.5 over 0.28 · 60 mm.
	fmt.Printf("%.2f, which pushes with %.0f at %.1f\n", k.Rate, k.SpringForce, k.Stroke)
	// Output: 89.29 N/mm, which pushes with 1500 N at 16.8 mm
}

func ExampleRequiredFill() {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	fill, err := sag.RequiredFill(fork, sag.Target{Load: 380 * units.Newton, Sag: 0.20}, airspring.Spec{
		Bore: 35 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre,
		Ambient: airspring.SeaLevel, Exponent: 1,
	})
	if err != nil {
		log.Fatal(err)
	}
	// By hand: A = 962.11 mm², so 341.54 N at 32 mm want 354.99 kPa above the
	// ambient; the fill is (354.99 + 101.325)·(240 − 30.79)/240 − 101.325 kPa.
	fmt.Printf("%.0f\n", fill)
	// Output: 296 kPa(g)
}

// The target by itself: what the spring must carry, and where.
func ExampleTarget_AtSpring() {
	stroke, force := sag.Target{Load: 600 * units.Newton, Sag: 0.28}.AtSpring(rear().Curve)
	fmt.Printf("%.0f at %.1f\n", force, stroke)
	// Output: 1500 N at 16.8 mm
}

// Under 600 N the spring carries 1500 N, 18.75 mm of 80 N/mm, 2 mm of them preload.
func ExampleEnd_Settle() {
	r, err := rear().Settle(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("stroke %.2f, wheel %.1f (%.1f %%), between %.1f and %.1f\n", r.Stroke, r.Travel, 100*r.Sag, r.TravelLow, r.TravelHigh)
	// Output: stroke 16.75 mm, wheel 41.9 mm (27.9 %), between 40.6 mm and 43.1 mm
}

// A load below the 64 N that the preload holds at the wheel leaves it at the top.
func ExampleEnd_SettleWithin() {
	r, finding, err := rear().SettleWithin(50 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(r.Travel, finding)
	// Output: 0 mm held_at_top
}

// All at once. By hand: 80/2.5² = 12.8 N/mm at the wheel, √(12.8·g₀/0.6)/2π Hz; at
// full travel 80·62/2.5 = 1984 N.
func ExampleEnd_Under() {
	s, err := rear().Under(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("sag %.1f %%, %.1f, %.2f, at full travel %.0f, %.2f times the load\n",
		100*s.Rest.Sag, s.FastWheelRate, s.FastFrequency, s.Reserve.FullForce, s.FullRatio)
	// Output: sag 27.9 %, 12.8 N/mm, 2.30 Hz, at full travel 1984 N, 3.31 times the load
}

// StateAt is for a rest that is known already.
func ExampleEnd_StateAt() {
	end := rear()
	rest := end.RestAt(16.75*units.Millimetre, 600*units.Newton)
	fmt.Printf("%.1f left\n", end.StateAt(rest, 600*units.Newton).TravelLeft)
	// Output: 108.1 mm left
}

// The ring on the shaft says 18 mm: 80·(18 + 2)/2.5.
func ExampleEnd_LoadAt() {
	load, err := rear().LoadAt(18 * units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f\n", load)
	// Output: 640 N
}

// By hand: ½·80 N/mm·(62² − 2²) mm² = 153.6 J = 600 N·(106 mm + 150 mm).
func ExampleEnd_Reserve() {
	r, err := rear().Reserve(600 * units.Newton)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f, a drop of %.0f\n", r.Energy, r.DropHeight)
	// Output: 153.6 J, a drop of 106 mm
}

// The same spring as the wheel feels it: 80·(40 + 2)/2.5 N after 100 mm.
func ExampleEnd_Wheel() {
	still, _, err := rear().Wheel()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f\n", still.Force(100*units.Millimetre))
	// Output: 1344 N
}

// An air spring standing still, and over a fast stroke with an exponent of 1.3. By
// hand for 40 mm: A = 1017.876 mm² leaves 59.285 of 100 cm³, at which 1201.325 kPa have
// become 2026.36 kPa, or 2370.5 kPa with the exponent; less 101.325 kPa on A.
func ExampleAirEnd() {
	end, err := sag.AirEnd(rear().Curve, airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Fill: units.BarGauge(11), Ambient: airspring.SeaLevel, Exponent: 1.3,
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f, fast %.0f\n", end.Law.Force(40*units.Millimetre), end.Fast.Force(40*units.Millimetre))
	// Output: 1959 N, fast 2310 N
}

// A drop on 12 N/mm under 50 kg. Without damping by hand from the energy,
// ½·12·x² = 0.490·(100 + x) in J and mm: x = 140.1 mm and 1681 N. Damped by 0.3
// of critical it goes 91.6 mm deep, 1099 N, by the closed form of a damped swing.
func ExampleEnd_Land() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 200 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 12 * units.NewtonPerMillimetre, Travel: 200 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	load := (50 * units.Kilogram).Weight()
	for _, zeta := range []float64{0, 0.3} {
		l, err := sag.End{Curve: curve, Law: coil}.Land(load, sag.Drop{
			Height: 100 * units.Millimetre, Damping: sag.DampingFor(zeta, 12*units.NewtonPerMillimetre, load),
		})
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%.1f deep, %.0f there, %.0f at most, %.0f for the damper\n", l.Travel, l.Force, l.PeakForce, l.DamperWork)
	}
	// Output:
	// 140.1 mm deep, 1681 N there, 1681 N at most, 0 J for the damper
	// 91.6 mm deep, 1099 N there, 1227 N at most, 44 J for the damper
}

// By hand: 10 N/mm under 40 kg is critically damped by 2·√(10 000·40) N·s/m, a
// shock behind a lever ratio of 2.5 needs 2.5² times as much as the wheel.
func ExampleDampingFor() {
	c := sag.DampingFor(0.25, 10*units.NewtonPerMillimetre, (40 * units.Kilogram).Weight())
	fmt.Printf("%.0f at the wheel, %.0f at the shock\n", c, sag.DampingAtShock(c, 2.5))
	// Output: 316 N·s/m at the wheel, 1976 N·s/m at the shock
}

// A shock behind a lever ratio of 2 needs four times the damping of the wheel.
func ExampleDampingAtShock() {
	fmt.Println(sag.DampingAtShock(300, 2))
	// Output: 1200 N·s/m
}

func ExampleDampingRatio() {
	c, err := units.Parse[units.Damping]("316 N·s/m")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f of critical, %.2f lbf·s/in\n", sag.DampingRatio(c, 10*units.NewtonPerMillimetre, (40*units.Kilogram).Weight()), units.In(c, units.PoundForceSecondPerInch))
	// Output: 0.25 of critical, 1.80 lbf·s/in
}

func ExampleFrequency() {
	// 10 N/mm under the weight of 40 kg: √(10 000/40)/2π.
	fmt.Printf("%.3f\n", sag.Frequency(10*units.NewtonPerMillimetre, (40*units.Kilogram).Weight()))
	// Output: 2.516 Hz
}

// 1500 N of 80 N/mm behind a ratio of 2.5 that falls by 10 a metre: by hand
// 80/6.25 + 1.5·10/15.625 N/mm.
func ExampleWheelRate() {
	fmt.Printf("%.2f\n", sag.WheelRate(80*units.NewtonPerMillimetre, 1500*units.Newton, 2.5, -10))
	// Output: 13.76 N/mm
}

func ExampleBandsOf() {
	b, err := sag.BandsOf(rear().Curve, sag.Range{
		Rates:     []units.Stiffness{60 * units.NewtonPerMillimetre, 70 * units.NewtonPerMillimetre},
		AxleShare: sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 17 * units.Kilogram, Unsprung: 3 * units.Kilogram}, Sag: 0.3,
	})
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 60 N/mm · 18 mm / 2.5 = 432 N, of a rider of
	// (432/9.80665 + 3)/0.6 − 17 kg; the edge is at the harmonic mean of 432 and 504 N.
	fmt.Printf("ideal %.1f and %.1f, edge %.1f\n", b.IdealMass[0], b.IdealMass[1], b.EdgeMass[0])
	// Output: ideal 61.4 kg and 73.7 kg, edge 67.1 kg
}

// A check records every fault under the name of its part.
func ExampleEnd_Check() {
	c := units.Checker{Package: "mine"}
	front, end := c.Child("front"), rear()
	end.Law, end.Exponent = nil, 3
	end.Check(&front)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output:
	// front.law
	// front.exponent
}

func ExampleMasses_Check() {
	c := units.Checker{Package: "mine"}
	loads := sag.Masses{RiderMass: 80, BikeMass: 20, RearShare: 0.6}.Check(&c)
	fmt.Printf("%.1f %v\n", loads.RearWheel, c.OK())
	// Output: 588.4 N true
}

// The rider is still to come.
func ExampleMasses_CheckBike() {
	c := units.Checker{Package: "mine"}
	sag.Masses{BikeMass: 20, RearShare: 1.6}.CheckBike(&c)
	fmt.Println(c.Err())
	// Output: mine: rear_share 1.6: want more than 0 and less than 1
}

func ExampleTarget_Check() {
	c := units.Checker{Package: "mine"}
	sag.Target{Load: 600, Sag: 28}.Check(&c, rear().Curve) // 28 % is 0.28
	fmt.Println(c.Err())
	// Output: mine: sag 28: want more than 0 and less than 1
}

func ExampleCheckSag() {
	c := units.Checker{Package: "mine"}
	sag.CheckSag(&c, 1e-9)
	fmt.Println(c.Err())
	// Output: mine: sag 1e-09: want a millionth of the travel, or more
}

func ExampleCheckFriction() {
	c := units.Checker{Package: "mine"}
	sag.CheckFriction(&c, -1)
	fmt.Println(c.Err())
	// Output: mine: friction -1 N: want a finite value, 0 or more
}

func ExampleCheckLoad() {
	c := units.Checker{Package: "mine"}
	sag.CheckLoad(&c, 1e-200)
	fmt.Println(c.Err())
	// Output: mine: load 1e-200 N: want a load that some wheel carries
}

// The mean wheel rate is (1984 − 64) N over 150 mm, so twenty times the critical
// damping under 600 N are 20·2·√(12 800·600/g₀) N·s/m.
func ExampleEnd_CheckDamping() {
	c := units.Checker{Package: "mine"}
	rear().CheckDamping(&c, "damping", units.Damping(36e3), 36e3, 600*units.Newton)
	fmt.Println(c.Err())
	// Output: mine: damping 36000 N·s/m: want at most 35400 N·s/m, twenty times critical, at the wheel
}

// The rest at a stroke that is known to carry the load, with the band of 40 N.
func ExampleEnd_RestAt() {
	r := rear().RestAt(16.75*units.Millimetre, 600*units.Newton)
	fmt.Printf("%.2f to %.2f\n", r.StrokeLow, r.StrokeHigh)
	// Output: 16.25 mm to 17.25 mm
}

func ExampleTarget_Working() {
	steps := sag.Target{Load: 600 * units.Newton, Sag: 0.28}.Working(rear().Curve)
	fmt.Println(steps[len(steps)-1])
	// Output: force that the spring must carry: F_s = F_w·LR; F_w = 600 N; LR = 2.5 → F_s = 1500 N [virtual work: what the wheel does is done on the spring]
}

func ExampleCheckCurve() {
	c := units.Checker{Package: "mine"}
	sag.CheckCurve(&c, nil)
	fmt.Println(c.Err())
	// Output: mine: curve: want a lever-ratio curve
}

func ExampleRange_Check() {
	c := units.Checker{Package: "mine"}
	sag.Range{Rates: []units.Stiffness{70e3, 60e3}, Sag: 0.3, AxleShare: sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 17}}.Check(&c)
	fmt.Println(c.Err())
	// Output: mine: rates[1] 60 N/mm: want more than 70 N/mm, the rate before it
}
