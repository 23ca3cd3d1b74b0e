package lesson

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

var gas = Lesson{
	Name: "gas", Title: "Where the gas's curve comes from",
	About: "There is no spring in an air spring. Why is it soft at first and hard at the end?",
	Sliders: []Slider{
		{Name: "stroke", Label: "Stroke", Unit: "mm", Min: 0, Max: 60, Step: 0.5, Start: 30},
		{Name: "fill", Label: "Filled to, on the gauge", Unit: "bar", Min: 4, Max: 14, Step: 0.1, Start: 10},
	},
	write: writeGas,
}

// shock is an invented air spring of one chamber, filled to so many bar.
func shock(fill, exponent float64) airspring.Spec {
	return airspring.Spec{
		Bore: 36 * mm, Travel: 60 * mm, PositiveVolume: 85 * cm3,
		Fill: units.BarGauge(fill), Ambient: units.StandardAtmosphere, Exponent: exponent,
	}
}

// airForce returns the force in N over the travel in mm.
func airForce(s *airspring.Spring) func(float64) float64 {
	return func(x float64) float64 { return s.Force(units.Length(x) * mm).Newtons() }
}

func writeGas(c *Content, v Values) {
	x, fill := v.mm("stroke"), v["fill"]
	slow, fast := must(airspring.New(shock(fill, 1))), must(airspring.New(shock(fill, 1.3)))
	spaced, up := shock(fill, 1), shock(fill, 1)
	spaced.SpacerVolume, spaced.Spacers = 10*cm3, 1
	up.Ambient = must(airspring.Atmosphere(2000 * units.Metre)).Pressure
	tight, high := must(airspring.New(spaced)), must(airspring.New(up))
	start, end := slow.PositiveVolume(0), slow.Travel()
	half := units.Length(must(root.Find(func(x float64) float64 { return float64(slow.PositiveVolume(units.Length(x)) - start/2) }, 0, float64(end), 0)))
	gauge := func(x units.Length) float64 { return slow.PositivePressure(x).Gauge(units.StandardAtmosphere).Bar() }

	c.say("There is no spring in an air spring, only a piston that pushes gas into less room. Half the room, twice the pressure: that is all, as long as the gas keeps its temperature. But it is the pressure above vacuum that doubles, p, and not what a gauge shows. A gauge leaves out the air outside, which is about 1 bar.")
	c.say("An invented shock: a piston of 36 mm, %.0f cm³ of air when it is fully out, %.4g bar on the gauge. At %.2f mm of stroke half of the room is left. The gauge would show %.2f bar there, not %.4g, for %.2f bar have become %.2f.",
		start.CubicCentimetres(), fill, half.Millimetres(), gauge(half), 2*fill, slow.PositivePressure(0).Bar(), slow.PositivePressure(half).Bar())
	c.say("Now the force and how fast it grows. The piston has the area A, with gas on one side and the air outside on the other. Push it in by a little, dx. The room V gets smaller by A·dx, which is the fraction A·dx/V of it, and the pressure gets higher by the same fraction of p. The force gets higher by A times that. So")
	c.show("p·V = p₀·V₀", "F = A·(p − p_outside)", "k = A²·p/V")
	c.say("k is the rate: how much more force for each millimetre more of stroke. And here is the curve: the pressure p rises, the room V shrinks, and k has the one above and the other below. Near full extension the spring is soft, near the end it is hard:")
	var rows [][]string
	for _, s := range []float64{0, 15, 30, 45, 60} {
		at := units.Length(s) * mm
		rows = append(rows, []string{cell("%.0f mm", s), cell("%.1f cm³", slow.PositiveVolume(at).CubicCentimetres()), cell("%.2f bar", slow.PositivePressure(at).Bar()),
			cell("%.0f N", slow.Force(at).Newtons()), cell("%.1f N/mm", slow.Rate(at).NewtonsPerMillimetre())})
	}
	c.table([]string{"stroke", "room", "p above vacuum", "force", "rate"}, rows...)
	c.say("Don't believe the rate, check it. At 29 mm the force is %.1f N and at 31 mm it is %.1f N: %.2f N for each millimetre, where the table has %.1f.",
		slow.Force(29*mm).Newtons(), slow.Force(31*mm).Newtons(), (slow.Force(31*mm)-slow.Force(29*mm)).Newtons()/2, slow.Rate(30*mm).NewtonsPerMillimetre())
	c.say("All that was slow: the gas gets warm when it is squeezed, and the warmth had time to leave. In a fast stroke it has not, and warm gas pushes harder. Then p·Vⁿ stays the same instead of p·V, and k is n times A²·p/V. n is 1 for slow and 1.4 for air that keeps all its warmth; a real stroke is somewhere between. With n = 1.3 the same shock ends at %.0f N instead of %.0f N, which is %.0f %% more. Which n is right for your shock only a measurement tells, so the library has no number of its own.",
		fast.Force(end).Newtons(), slow.Force(end).Newtons(), percent(float64(fast.Force(end)/slow.Force(end))-1))
	c.caution("air_pressure")

	volume, force, rate := slow.PositiveVolume(x).CubicCentimetres(), slow.Force(x).Newtons(), slow.Rate(x).NewtonsPerMillimetre()
	c.now("At %.1f mm of stroke %.1f of %.0f cm³ are left, and the gauge would show %.2f bar. The piston pushes back with %.0f N; each millimetre more takes %.1f N more.",
		x.Millimetres(), volume, start.CubicCentimetres(), gauge(x), force, rate)
	atStart, atEnd := float64(tight.Rate(0)/slow.Rate(0)), float64(tight.Rate(end)/slow.Rate(end))
	c.choose("Put a spacer of 10 cm³ into the chamber, so that there is less room from the start. Which end of the stroke feels it more? Look at V in k = A²·p/V.",
		[]string{"The start of the stroke", "The end of the stroke", "Both the same"}, whichOf(atStart > atEnd, atEnd > atStart))
	c.explain("At the start the rate goes from %.1f to %.1f N/mm, at the end from %.0f to %.0f N/mm. 10 cm³ are a small part of %.0f cm³ and a large one of %.0f cm³.",
		slow.Rate(0).NewtonsPerMillimetre(), tight.Rate(0).NewtonsPerMillimetre(), slow.Rate(end).NewtonsPerMillimetre(), tight.Rate(end).NewtonsPerMillimetre(),
		start.CubicCentimetres(), slow.PositiveVolume(end).CubicCentimetres())
	c.choose(cell("2000 m up a mountain the air outside is thinner. Fill the shock there to %.4g bar on the gauge. What is it at the end of its stroke?", fill),
		[]string{"Harder than in the valley", "Softer than in the valley", "The same"}, whichOf(high.Force(end) > slow.Force(end), high.Force(end) < slow.Force(end)))
	c.explain("At the start it is the same, %.0f N, since the gauge counts from the air outside. At the end it is %.0f N instead of %.0f N: there is less gas in it, %.2f bar above vacuum instead of %.2f.",
		high.Force(0).Newtons(), high.Force(end).Newtons(), slow.Force(end).Newtons(), high.PositivePressure(0).Bar(), slow.PositivePressure(0).Bar())

	strokes := along(0, 60, 60)
	c.Curve = Curve{
		Title: "Force of an air spring over its stroke", X: Axis{Label: "stroke", Unit: "mm"}, Y: Axis{Label: "force", Unit: "N"},
		Lines: []Line{{"slow", strokes, at(strokes, airForce(slow))}, {"fast, n = 1.3", strokes, at(strokes, airForce(fast))}},
		Dot:   [2]float64{x.Millimetres(), force},
	}
	c.Drawing.Title = "A piston in a cylinder, cut open"
	c.Drawing.Desc = cell("The piston is %.1f mm in and leaves %.1f cm³ to the gas, at %.2f bar on the gauge. It takes %.0f N to hold it there.", x.Millimetres(), volume, gauge(x), force)
	drawGas(&c.Drawing, x.Millimetres(), volume, gauge(x), force, fill)
}

// whichOf returns 0 for the first that is true, 1 for the second, and else 2.
func whichOf(first, second bool) int {
	switch {
	case first:
		return 0
	case second:
		return 1
	}
	return 2
}

// drawGas draws the cylinder at 2 pixels for each millimetre, the gas on the left.
func drawGas(p *Drawing, stroke, volume, gauge, force, fill float64) {
	const scale, bore, head, y = 2.0, 36.0, 26.0, 122.0
	p.size(360, 224)
	long := 85e3 / area(bore*mm) * scale
	room := volume * 1e3 / area(bore*mm) * scale
	top, bottom, face := y-bore/2*scale, y+bore/2*scale, head+room
	p.dots(point{head, top}, point{face, bottom}, int(math.Round(26*(fill+1.01325))))
	p.line("wall", point{head + long + 14, top}, point{head, top}, point{head, bottom}, point{head + long + 14, bottom})
	p.box("piston", point{face, top + 1}, point{face + 10, bottom - 1})
	p.box("shaft", point{face + 10, y - 8}, point{face + 90, y + 8})
	p.line("ghost", point{head + long, top - 24}, point{head + long, bottom + 8})
	tip := point{face + 90, y}
	p.force(tip.plus(force*0.012, 0), tip, cell("%.0f N", force), "middle", 0, -14)
	p.measure(point{face, bottom + 18}, point{head + long, bottom + 18}, cell("stroke %.1f mm", stroke), "middle", 0, 17)
	p.text(point{head, top - 30}, "start", cell("%.1f cm³ of gas", volume))
	p.text(point{head, top - 13}, "start", cell("%.2f bar on the gauge", gauge))
	p.label("faint", point{head + long, top - 30}, "middle", "fully out")
}
