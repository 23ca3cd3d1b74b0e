package main

import (
	"math"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

const mm = units.Millimetre

// wire is lesson 1.
func wire(p *page) (picture.Picture, error) {
	base := spring.Coil{WireDiameter: 8 * mm, MeanDiameter: 43 * mm, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal}
	thin, err := spring.NewCoil(base)
	if err != nil {
		return nil, err
	}
	p.say("A coil spring is a wire that is twisted. Pull its ends along the axis with a force F, and every piece of wire feels a twisting moment F·D/2, because the force passes through the middle of the coil, half a mean diameter D away.")
	p.say("How much does a wire of diameter d twist? Each fibre resists by how far it is from the middle, it has a lever arm to the middle, and there is more wire farther out. Adding up r·r·(2πr dr) from the middle to d/2 gives π·d⁴/32: one power for how far the fibre is strained, one for its lever arm, two for how much wire there is.")
	p.say("So twice the wire is not twice the spring. The angle adds up along the wire, π·D·n of it for n coils, and pulls the ends apart by another D/2 for each radian. Put together:")
	p.gap()
	p.show("k = G·d⁴ / (8·D³·n)")
	p.say("An invented spring: wire of %.0f mm, coils of %.0f mm, %.1f of them, steel with G = 79 500 MPa. Its rate comes out as %.1f N/mm (%.0f lbf/in). Now only the wire changes:",
		base.WireDiameter.Millimetres(), base.MeanDiameter.Millimetres(), base.ActiveCoils, thin.Rate().NewtonsPerMillimetre(), thin.Rate().PoundsForcePerInch())
	p.gap()
	p.show("%8s %12s %10s", "wire", "rate", "times")
	line, fourth := picture.Series{Name: "rate"}, picture.Series{Name: "if it were d²"}
	for _, d := range []float64{6, 7, 8, 9, 10, 12, 16} {
		c := base
		c.WireDiameter = units.Length(d) * mm
		s, err := spring.NewCoil(c)
		if err != nil {
			return nil, err
		}
		p.show("%5.0f mm %7.1f N/mm %10.3f", d, s.Rate().NewtonsPerMillimetre(), float64(s.Rate()/thin.Rate()))
	}
	for d := 6.0; d <= 12; d += 0.1 {
		c := base
		c.WireDiameter = units.Length(d) * mm
		s, err := spring.NewCoil(c)
		if err != nil {
			return nil, err
		}
		line.X, line.Y = append(line.X, d), append(line.Y, s.Rate().NewtonsPerMillimetre())
		fourth.X, fourth.Y = append(fourth.X, d), append(fourth.Y, thin.Rate().NewtonsPerMillimetre()*d*d/64)
	}
	p.say("Twice the wire, sixteen times the rate. And it cuts both ways: a caliper that reads a tenth of a millimetre too much on %.0f mm makes the rate %.1f %% too high. That is why a spring is told by its rate and not by the look of its wire.",
		base.WireDiameter.Millimetres(), 100*(math.Pow(8.1/8, 4)-1))
	p.say("To try: keep the wire and make the coil 10 %% wider. By how much does the rate fall? (Three powers of D. And what does paint on the wire do?)")
	return picture.Chart{
		Title: "Rate over wire diameter", Note: "An invented spring; only the wire changes.",
		X:      picture.Axis{Label: "wire diameter", Unit: "mm"},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "spring rate", Unit: "N/mm", Zero: true}, Series: []picture.Series{line, fourth}}},
		Marks:  []picture.Mark{{Label: "8 mm", At: 8}},
	}, nil
}
