package lesson

import (
	"math"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

var wire = Lesson{
	Name: "wire", Title: "Why four powers of wire",
	About: "A spring of slightly thicker wire is very much stiffer. Where does the fourth power come from?",
	Sliders: []Slider{
		{Name: "wire", Label: "Wire", Unit: "mm", Min: 7, Max: 12, Step: 0.1, Start: 8},
		{Name: "mean", Label: "Coil, wire centre to wire centre", Unit: "mm", Min: 36, Max: 50, Step: 0.5, Start: 43},
	},
	write: writeWire,
}

// demoCoil is an invented spring without its two diameters.
var demoCoil = coil.Spec{ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal}

// coilRate returns the rate in N/mm of the invented spring with these diameters in
// millimetres.
func coilRate(wire, mean float64) float64 {
	spec := demoCoil
	spec.WireDiameter, spec.MeanDiameter = units.Length(wire)*mm, units.Length(mean)*mm
	return must(coil.New(spec)).Rate().NewtonsPerMillimetre()
}

func writeWire(c *Content, v Values) {
	const force = 1000.0 // N
	d, mean, n, g := v["wire"], v["mean"], demoCoil.ActiveCoils, demoCoil.ShearModulus.Megapascals()
	rate := coilRate(d, mean)
	moment, j, length := force*mean/2, math.Pi*math.Pow(d, 4)/32, math.Pi*mean*n
	twist := moment * length / (g * j)
	shorter := force / rate

	c.say("Press a coil spring, and its wire is twisted. The force F acts along the axis, through the middle of the coil, and the wire is half a coil away from there. With D the diameter of the coil, from the middle of the wire to the middle of the wire on the other side, every piece of wire is twisted by the same moment:")
	c.show("M = F·D/2")
	c.say("How much does a wire of diameter d twist? Look at its end: it is made of thin rings of radius r. How far the steel of a ring is sheared grows with r. Its resistance acts on a lever, which is r. And a ring of thickness dr has 2πr·dr of steel. So each ring counts r·r·2πr·dr, and all of them from the middle out to d/2 add up to")
	c.show("J = π·d⁴/32")
	c.say("One power of d for the shear, one for the lever, two for how much wire there is: four. The wire twists by M/(G·J) for each unit of its length. G, the shear modulus, says how hard the steel is to shear. n coils are π·D·n of wire, and each radian of twist brings the ends of the spring nearer by D/2.")
	c.say("An invented spring has d = %.4g mm, D = %.4g mm, n = 6.5 coils that can move, and G = 79 500 MPa. Put F = 1000 N on it:", d, mean)
	c.table(nil,
		[]string{"moment", "F·D/2", cell("%.1f N·m", moment/1000)},
		[]string{"J", "π·d⁴/32", cell("%.1f mm⁴", j)},
		[]string{"wire", "π·D·n", cell("%.1f mm", length)},
		[]string{"twist", "M·L/(G·J)", cell("%.4f rad, or %.1f°", twist, twist*180/math.Pi)},
		[]string{"shorter", "twist·D/2", cell("%.3f mm", twist*mean/2)})
	c.say("1000 N for %.3f mm are %.2f N/mm. The same in letters is the formula of the handbooks, and the library's rate is %s:", twist*mean/2, force/(twist*mean/2), (units.Stiffness(rate) * npm).Both())
	c.show("k = G·d⁴ / (8·D³·n)")
	c.say("Now only the wire changes:")
	var rows [][]string
	for _, thick := range []float64{4, 6, 7, 8, 9, 10, 12, 16} {
		k := coilRate(thick, mean)
		rows = append(rows, []string{cell("%.0f mm", thick), cell("%.1f N/mm", k), cell("%.4f", k/rate)})
	}
	c.table([]string{"wire", "rate", "times"}, rows...)
	c.say("Twice the wire, %.0f times the rate. (So narrow a coil of such wire could hardly be wound. The formula doesn't mind.) And it cuts both ways: a caliper that reads a tenth of a millimetre too much on %.4g mm makes the rate %.1f %% too high. So a spring is known by its rate, measured or marked, and not by the look of its wire.",
		coilRate(2*d, mean)/rate, d, percent(coilRate(d+0.1, mean)/rate-1))
	c.say("Left out: the wire is curved, and bent a little too. That matters more for what the steel must bear than for the rate.")
	c.caution("compressed_spring")

	wider, painted := coilRate(d, 1.1*mean), coilRate(d+0.2, mean)
	c.now("Wire of %.4g mm on a coil of %.4g mm: %.1f N/mm. With 1000 N on it the wire is twisted by %.1f° over its %.0f mm, and the spring gets %.1f mm shorter.",
		d, mean, rate, twist*180/math.Pi, length, shorter)
	c.estimate("Keep the wire and make the coil 10 % wider. By how many per cent does the rate fall? Count the powers of D, and find where in the table above each of them came from.", percent(1-wider/rate), 0.5, "%")
	c.explain("It falls by %.1f %%. One power for the moment, one for the length of wire, one for how far a radian of twist moves the ends.", percent(1-wider/rate))
	c.estimate("The wire has 0.1 mm of paint all round. By how many per cent is the rate from a caliper too high?", percent(painted/rate-1), 0.4, "%")
	c.explain("%.1f %% too high: the caliper finds the paint on both sides, %.1f mm for %.1f mm.", percent(painted/rate-1), d+0.2, d)

	x := along(7, 12, 25)
	c.Curve = Curve{
		Title: "Rate over wire diameter", X: Axis{Label: "wire diameter", Unit: "mm", Loose: true}, Y: Axis{Label: "spring rate", Unit: "N/mm"},
		Lines: []Line{
			{"d⁴, as it is", x, at(x, func(x float64) float64 { return coilRate(x, mean) })},
			{"if it were d²", x, at(x, func(x float64) float64 { return rate / d / d * x * x })},
		},
		Dot: [2]float64{d, rate},
	}
	c.Drawing.Title = "A coil spring, cut open, and its wire, unrolled"
	c.Drawing.Desc = cell("The coil is %.1f mm wide between the centres of its wire of %.1f mm. 1000 N twist the wire by %.1f° and make the spring %.1f mm shorter.", mean, d, twist*180/math.Pi, shorter)
	drawWire(&c.Drawing, d, mean, shorter, twist)
}

// drawWire draws the spring cut open at 1.2 pixels for each millimetre, and beside
// it the wire with the lines along it that its twist makes screws.
func drawWire(p *Drawing, d, mean, shorter, twist float64) {
	const scale, free, top = 1.2, 150.0, 42.0
	p.size(360, 262)
	axis := 88.0
	height := (free - shorter) * scale
	seat := top + free*scale
	left, right := axis-mean/2*scale, axis+mean/2*scale
	p.line("plate ghost", point{left - 16, top}, point{right + 16, top})
	p.line("plate", point{left - 16, seat}, point{right + 16, seat})
	lid := seat - height
	p.line("plate", point{left - 16, lid}, point{right + 16, lid})
	pitch := (height - d*scale) / 6.5
	for i := range 7 { // the wire behind the cut, from each circle on the left to the next on the right
		y := lid + d*scale/2 + float64(i)*pitch
		p.line("wire", point{left, y}, point{right, y + pitch/2})
		p.circle("cut", point{left, y}, d/2*scale)
		p.circle("cut", point{right, y + pitch/2}, d/2*scale)
	}
	p.line("axis", point{axis, top - 10}, point{axis, seat + 6})
	p.force(point{axis, lid - 30}, point{axis, lid}, "F = 1000 N", "start", 8, 10)
	p.measure(point{left, seat + 16}, point{right, seat + 16}, cell("D = %.1f mm", mean), "middle", 0, 17)
	p.measure(point{right + 24, top}, point{right + 24, lid}, cell("%.1f mm", shorter), "start", 7, 4)
	p.label("faint", point{right + 31, (top+lid)/2 + 18}, "start", "shorter")

	// The unrolled wire lies along x, its near end a circle; the scale is its own.
	const from, to, y, r = 178.0, 278.0, 176.0, 32.0
	p.text(point{from, y - r - 30}, "start", cell("the wire, %.1f mm thick", d))
	p.label("faint", point{from, y - r - 14}, "start", "shown short and thick")
	p.line("rod", point{from, y - r}, point{to, y - r})
	p.line("rod", point{from, y + r}, point{to, y + r})
	for k := range 12 {
		var points []point
		for _, t := range along(0, 1, 20) {
			a := float64(k)*math.Pi/6 + twist*t
			if math.Cos(a) > 0 {
				points = append(points, point{from + t*(to-from), y - r*math.Sin(a)})
			} else if len(points) > 0 {
				break
			}
		}
		if len(points) > 1 {
			p.line("fibre", points...)
		}
	}
	end := point{to, y}
	p.circle("rod", end, r)
	p.line("ghost", end, end.plus(r, 0))
	p.line("radius", end, end.plus(r*math.Cos(twist), -r*math.Sin(twist)))
	p.angle(end, 0.6*r, 0, twist*180/math.Pi, cell("%.1f°", twist*180/math.Pi), "start", 0.4*r+4-0.6*r*(math.Cos(twist/2)-1), 4+0.6*r*math.Sin(twist/2)-r*math.Sin(twist/2))
}
