package main

import (
	"math"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

const mm = units.Millimetre

// demoCoil is an invented spring.
var demoCoil = coil.Spec{WireDiameter: 8 * mm, MeanDiameter: 43 * mm, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal}

// rateOf is the rate in N/mm of the invented spring with another wire and
// another mean diameter, in millimetres.
func rateOf(wire, mean float64) (float64, error) {
	c := demoCoil
	c.WireDiameter, c.MeanDiameter = units.Length(wire)*mm, units.Length(mean)*mm
	s, err := coil.New(c)
	if err != nil {
		return 0, err
	}
	return s.Rate().NewtonsPerMillimetre(), nil
}

// wire is lesson 1.
func wire(p *page) (picture.Picture, error) {
	made, err := coil.New(demoCoil)
	if err != nil {
		return nil, err
	}
	p.say("Press a coil spring, and its wire is twisted. The force F goes along the axis, through the middle of the coil, and the wire is half a coil away from there. With D the diameter of the coil, from the middle of the wire to the middle of the wire on the other side, every piece of wire feels the same twisting moment:")
	p.show("")
	p.show("M = F·D/2")
	p.say("How much does a wire of diameter d twist? Look at its end: it is made of thin rings of radius r. How far the steel of a ring is sheared goes with r. The force it puts up works on a lever, which is r. And a ring of thickness dr has 2πr·dr of steel. So each ring counts r·r·2πr·dr, and all of them from the middle out to d/2 come to")
	p.show("")
	p.show("J = π·d⁴/32")
	p.say("One power of d for the shear, one for the lever, two for how much wire there is: four. The wire twists by M/(G·J) for each unit of its length. G, the shear modulus, says how hard the steel is to shear. n coils are π·D·n of wire, and each radian of twist brings the ends of the spring nearer by D/2.")
	p.say("An invented spring has d = 8 mm, D = 43 mm, n = 6.5 coils that can move, and G = 79 500 MPa. Put F = 1000 N on it:")
	d, mean, n, g := demoCoil.WireDiameter.Millimetres(), demoCoil.MeanDiameter.Millimetres(), demoCoil.ActiveCoils, demoCoil.ShearModulus.Megapascals()
	const force = 1000.0 // N
	moment, j, length := force*mean/2, math.Pi*math.Pow(d, 4)/32, math.Pi*mean*n
	twist := moment * length / (g * j)
	p.show("")
	p.show("moment     F·D/2        %8.1f N·m", moment/1000)
	p.show("J          π·d⁴/32      %8.1f mm⁴", j)
	p.show("wire       π·D·n        %8.1f mm", length)
	p.show("twist      M·L/(G·J)    %8.4f rad, or %.1f°", twist, twist*180/math.Pi)
	p.show("shorter    twist·D/2    %8.3f mm", twist*mean/2)
	p.say("1000 N for %.3f mm are %.2f N/mm. The same in letters is the formula of the handbooks, and what the library makes of it is %s:",
		twist*mean/2, force/(twist*mean/2), made.Rate().Both())
	p.show("")
	p.show("k = G·d⁴ / (8·D³·n)")
	p.say("Now only the wire changes:")
	p.show("")
	p.show("%8s %13s %9s", "wire", "rate", "times")
	for _, thick := range []float64{4, 6, 7, 8, 9, 10, 12, 16} {
		k, err := rateOf(thick, mean)
		if err != nil {
			return nil, err
		}
		p.show("%5.0f mm %8.1f N/mm %9.4f", thick, k, k/made.Rate().NewtonsPerMillimetre())
	}
	double, err := rateOf(2*d, mean)
	if err != nil {
		return nil, err
	}
	misread, err := rateOf(d+0.1, mean)
	if err != nil {
		return nil, err
	}
	p.say("Twice the wire, %.0f times the rate. (The last one could hardly be wound, so narrow a coil of such wire. The formula doesn't mind.) And it cuts both ways: a caliper that reads a tenth of a millimetre too much on 8 mm makes the rate %.1f %% too high. So a spring is known by its rate, measured or marked, and not by the look of its wire.",
		double/made.Rate().NewtonsPerMillimetre(), 100*(misread/made.Rate().NewtonsPerMillimetre()-1))
	p.say("Left out: the wire is curved, and bent a little too. That is more important for how much the steel must bear than for the rate.")
	wider, err := rateOf(d, 1.1*mean)
	if err != nil {
		return nil, err
	}
	painted, err := rateOf(d+0.2, mean)
	if err != nil {
		return nil, err
	}
	p.ask("keep the wire and make the coil 10 % wider. By how much does the rate fall? (Count the powers of D, and find where in the table above each of them came from.)",
		"%.1f %%. One power for the moment, one for the length of wire, one for what a radian of twist makes of the ends.", 100*(1-wider/made.Rate().NewtonsPerMillimetre()))
	p.ask("the wire has 0.1 mm of paint all round. How wrong is the rate from a caliper?",
		"%.1f %% too high: the caliper finds the paint on both sides, %.1f mm for %.0f mm.", 100*(painted/made.Rate().NewtonsPerMillimetre()-1), d+0.2, d)
	square := made.Rate().NewtonsPerMillimetre() / d / d
	return picture.Chart{
		Title: "Rate over wire diameter", Note: "An invented spring; only the wire changes.",
		X: picture.Axis{Label: "wire diameter", Unit: "mm"},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "spring rate", Unit: "N/mm", Zero: true}, Series: []picture.Series{
			line("d⁴, as it is", 4, 16, func(x float64) float64 {
				k, err := rateOf(x, mean)
				if err != nil {
					return math.NaN() // which the picture refuses
				}
				return k
			}),
			line("if it were d²", 4, 16, func(x float64) float64 { return square * x * x }),
		}}},
		Marks: []picture.Mark{{Label: "8 mm", At: 8}},
	}, nil
}
