package lesson

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

var chambers = Lesson{
	Name: "chambers", Title: "Why two chambers",
	About: "One chamber pushes, another pulls, and a small port joins them. What is that good for?",
	Sliders: []Slider{
		{Name: "travel", Label: "Travel", Unit: "mm", Min: 0, Max: 160, Step: 1, Start: 20},
		{Name: "negative", Label: "Negative chamber", Unit: "cm³", Min: 40, Max: 70, Step: 1, Start: 60},
	},
	write: writeChambers,
}

const forkPort = 7.0 // mm of travel

// fork is an invented fork with a negative chamber of so many cubic
// centimetres, or without one for 0.
func fork(negative float64) airspring.Spec {
	s := airspring.Spec{
		Bore: 36 * mm, Travel: 160 * mm, PositiveVolume: 250 * cm3,
		Fill: units.BarGauge(5), Ambient: units.StandardAtmosphere, Exponent: 1,
	}
	if negative > 0 {
		s.Shaft, s.NegativeVolume, s.PortTravel = 10*mm, units.Volume(negative)*cm3, forkPort*mm
	}
	return s
}

func writeChambers(c *Content, v Values) {
	spec := fork(v["negative"])
	one, two, large := must(airspring.New(fork(0))), must(airspring.New(spec)), must(airspring.New(fork(1.5*v["negative"])))
	port := spec.PortTravel
	same, shaft := two.PositivePressure(port), area(spec.Shaft)
	force := func(s *airspring.Spring, x float64) float64 { return airForce(s)(x) }
	c.say("An invented fork has one chamber, a piston of 36 mm and 5 bar on the gauge. It pushes itself out with %.0f N before anybody sits on it, and does not move at all until that much stands on it. Small bumps are then not for the spring but for your hands.", force(one, 0))
	c.say("So a second chamber, the negative one, sits on the other side of the piston and pulls it in. How hard must it pull? As hard as the first one pushes, whatever you pumped in. Nobody wants to set two pressures to match, so there is a trick: a small port in the wall. When the piston passes it, %.0f mm into the travel, gas flows from one chamber to the other until both have the same pressure. Past it each keeps what it has.", port.Millimetres())
	c.say("At the port one pressure, %.2f bar above vacuum, pushes on both sides of the piston, and nearly all of the force is gone. Nearly: the shaft of 10 mm takes away a bit of the one side. On that bit the pressure finds only the air outside against it, and what is left is", same.Bar())
	c.show(cell("F = A_shaft·(p − p_outside) = %.2f mm² · %.4f N/mm² = %.1f N", shaft, (same-spec.Ambient).Pascals()/1e6, two.Force(port).Newtons()))
	c.say("Let the fork come out those last %.0f mm, and the negative chamber of %.0f cm³ gets smaller and stronger, the positive one larger and weaker: at full extension the force is %.0f N, below zero. It pulls itself in and rests at %.1f mm. Push it the other way, and the negative chamber grows large and weak, so that the two forks come together:",
		port.Millimetres(), v["negative"], force(two, 0), two.RestTravel().Millimetres())
	var rows [][]string
	for _, x := range []float64{0, 5, 7, 10, 20, 40, 80, 120, 160} {
		rows = append(rows, []string{cell("%.0f mm", x), cell("%.0f N", force(one, x)), cell("%.0f N", force(two, x))})
	}
	c.table([]string{"travel", "one chamber", "two chambers"}, rows...)
	up := must(airspring.PlanTopUp(airspring.TopUpOf(spec, units.BarGauge(5.5), units.BarGauge(0.02))))
	c.say("It has a price at the pump, for the pump reaches the first chamber only. Go from 5 to 5.5 bar, push the fork past the port a few times, and gas flows over: the gauge now shows %.2f bar. The negative chamber takes %.0f %% of every change, so what is still missing shrinks to that each time. After %d rounds of pumping and pushing it stays within 0.02 bar.",
		up.Reading[0].Bar(), percent(up.Carry), up.Cycles)
	c.caution("air_pressure")

	x := v.mm("travel")
	push, pull := area(spec.Bore)*two.PositivePressure(x).Gauge(spec.Ambient).Pascals()/1e6, (area(spec.Bore)-shaft)*two.NegativePressure(x).Gauge(spec.Ambient).Pascals()/1e6
	f := two.Force(x).Newtons()
	c.now("%.0f mm in, the positive chamber has %.2f bar on the gauge and pushes with %.0f N, the negative one has %.2f bar and pulls with %.0f N. The difference is the fork's force, %.0f N; with one chamber alone it would be %.0f N.",
		x.Millimetres(), two.PositivePressure(x).Gauge(spec.Ambient).Bar(), push, two.NegativePressure(x).Gauge(spec.Ambient).Bar(), pull, f, one.Force(x).Newtons())

	full := spec
	full.Fill = units.BarGauge(5.5)
	down := must(airspring.PlanTopUp(airspring.TopUpOf(full, units.BarGauge(5), units.BarGauge(0.02))))
	c.estimate("Go down instead, from 5.5 to 5 bar. In how many rounds of letting air out and pushing the fork past the port is it within 0.02 bar?", float64(down.Cycles), 0, "rounds")
	c.explain("In %d rounds. The pump lets out the first chamber alone. The second one is still full and pulls the fork in, past its port. So let out no more than to %.2f bar, where the fork stands %.1f mm in, push it past the port so that gas flows back out of the negative chamber, and do so again.",
		down.Cycles, down.Steps[0].After.Bar(), down.Steps[0].Stands.Millimetres())
	c.choose("Make the negative chamber half as large again. What happens to the fork's force at a quarter of the travel?",
		[]string{"It gets less", "It gets more", "It stays the same"}, whichOf(force(large, 40) < force(two, 40), force(large, 40) > force(two, 40)))
	c.explain("At 40 mm the force is %.0f N instead of %.0f N, and at 160 mm %.0f N instead of %.0f N. A larger chamber gets weaker more slowly, so it pulls farther into the travel.",
		force(large, 40), force(two, 40), force(large, 160), force(two, 160))

	travel := along(0, 160, 80)
	c.Curve = Curve{
		Title: "Force of one chamber and of two over the travel", X: Axis{Label: "travel along the stanchion", Unit: "mm"}, Y: Axis{Label: "force", Unit: "N"},
		Lines: []Line{{"two chambers", travel, at(travel, airForce(two))}, {"one chamber", travel, at(travel, airForce(one))}},
		Dot:   [2]float64{x.Millimetres(), f},
	}
	c.Drawing.Title = "Two chambers and a port, cut open"
	c.Drawing.Desc = cell("The piston is %.0f mm in. The positive chamber pushes it out with %.0f N, the negative one pulls it in with %.0f N, and %.0f N from outside hold it. The port is at %.0f mm.", x.Millimetres(), push, pull, f, forkPort)
	drawChambers(&c.Drawing, two, x, push, pull)
}

// drawChambers draws the fork's air spring lying, the positive chamber on the left,
// one pixel for each millimetre of its length and two of its width.
func drawChambers(p *Drawing, s *airspring.Spring, travel units.Length, push, pull float64) {
	const head, y, half, perNewton = 14.0, 96.0, 36.0, 0.045
	p.size(360, 252)
	spec, bore := s.Spec(), area(36*mm)
	out := head + 250e3/bore // where the piston's face is at full extension
	face := out - travel.Millimetres()
	back := face + 8
	end := out + 8 + spec.NegativeVolume.CubicCentimetres()*1e3/(bore-area(10*mm))
	top, bottom := y-half, y+half
	gas := func(pressure units.AbsolutePressure, volume float64) int {
		return int(math.Round(pressure.Bar() * volume / 6))
	}
	p.dots(point{head, top}, point{face, bottom}, gas(s.PositivePressure(0), 250))
	p.dots(point{back, top}, point{end, bottom}, gas(s.NegativePressure(0), spec.NegativeVolume.CubicCentimetres()))
	open := out - forkPort + 4 // the middle of the piston as it passes
	p.line("wall", point{open - 9, top}, point{head, top}, point{head, bottom}, point{end, bottom}, point{end, y + 10})
	p.line("wall port", point{open - 9, top}, point{open - 6, top - 7}, point{open + 6, top - 7}, point{open + 9, top})
	p.line("wall", point{open + 9, top}, point{end, top}, point{end, y - 10})
	p.label("faint", point{open, top - 13}, "middle", "port")
	p.box("piston", point{face, top + 1}, point{back, bottom - 1})
	p.box("shaft", point{back, y - 10}, point{end + 14, y + 10})
	p.label("on", point{(head + face) / 2, bottom + 18}, "middle", "positive")
	p.label("on", point{(back + end) / 2, bottom + 18}, "middle", "negative")
	p.line("ghost", point{out, bottom + 2}, point{out, bottom + 42})
	p.measure(point{face, bottom + 34}, point{out, bottom + 34}, cell("%.0f mm", travel.Millimetres()), "middle", 0, 17)
	// The forces on the piston: they balance.
	for i, f := range []struct {
		name  string
		right float64
	}{{"positive chamber", push}, {"negative chamber", -pull}, {"from outside", pull - push}} {
		at := point{222, bottom + 66 + 20*float64(i)}
		p.label("faint", point{head, at.y + 4}, "start", f.name)
		p.force(at, at.plus(f.right*perNewton, 0), cell("%.0f N", math.Abs(f.right)), "end", 130, 4)
	}
	p.line("ghost", point{222, bottom + 56}, point{222, bottom + 116})
}
