package lesson

import (
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

var forkAngle = Lesson{
	Name: "fork", Title: "The fork's angle",
	About: "A fork leans back. What does that make of its travel, its load and its spring?",
	Sliders: []Slider{
		{Name: "angle", Label: "Head angle, from the horizontal", Unit: "°", Min: 58, Max: 74, Step: 0.5, Start: 64},
		{Name: "load", Label: "Load on the front, without the wheel", Unit: "N", Min: 200, Max: 600, Step: 10, Start: 350},
	},
	write: writeFork,
}

const forkRate = 9.0 // N/mm along the stanchions

// coilFork is an invented fork of 160 mm with a coil, at a head angle in degrees.
func coilFork(degrees float64) sag.End {
	curve := must(linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(degrees) * units.Degree, Travel: 160 * mm}))
	return sag.End{Curve: curve, Law: must(spring.NewLinear(spring.Linear{Rate: forkRate * npm, Travel: 160 * mm}))}
}

func writeFork(c *Content, v Values) {
	angle, load := v["angle"], units.Force(v["load"])
	end := coilFork(angle)
	rest := must(end.Settle(load))
	sin, cos := math.Sincos(angle * math.Pi / 180)
	stroke, travel, full := rest.Stroke.Millimetres(), rest.Travel.Millimetres(), end.Curve.Travel().Millimetres()
	axial := end.Law.Force(rest.Stroke).Newtons()
	across := load.Newtons() * cos

	c.say("A fork slides along its stanchions, and those lean back: the head angle is what they make with the horizontal. So when the fork is pressed by s, the wheel does not go up by s. It goes along the stanchions, part of it up and part of it back towards the rider. With φ for the head angle:")
	c.show("up = s·sin φ", "back = s·cos φ")
	c.say("A fork that is sold with 160 mm of travel has 160 mm along the stanchions, where the ring is. At %.1f° the wheel rises by %.1f mm when all of it is used, and comes back by %.1f mm, which shortens the wheelbase by as much.", angle, full, 160*cos)
	c.say("The load stands upright. The ground pushes straight up at the wheel when the bike rolls freely, and only the part of that along the stanchions gets to the spring. The other part lies across them:")
	c.show("along = load·sin φ", "across = load·cos φ")
	c.say("Of %.0f N those are %.0f N along and %.0f N across. They can't be added up: they are the sides of a triangle with a right angle, and the load is its long side. The part across does not press the spring, but presses the legs against their bushes. That is where a fork's friction comes from when it stands still, and why a fork on a slack bike breaks away less willingly than on a steep one.", load.Newtons(), axial, across)
	c.say("An invented fork has a coil of %.0f N/mm along the stanchions. It rests where that is the part along:", forkRate)
	c.show(cell("s = %.0f N / %.0f N/mm = %.1f mm", axial, forkRate, stroke), cell("sag = %.1f mm / 160 mm = %.1f %%", stroke, percent(rest.Sag)))
	c.say("In per cent it is the same whether you measure along the stanchions or straight up, since both are s times the same number. In millimetres it isn't: the ring shows %.1f mm, and the wheel is %.1f mm higher. The lesson on levers has a ratio LR between wheel and spring. For a fork it is sin φ, less than 1, and the rate at the wheel is more than that of the spring:", stroke, travel)
	c.show(cell("k_wheel = k/LR² = %.0f/%.4f² = %.2f N/mm", forkRate, sin, rest.WheelRate.NewtonsPerMillimetre()))
	var rows [][]string
	for _, a := range []float64{58, 62, 66, 70, 74, 90} {
		e := coilFork(a)
		r := must(e.Settle(load))
		rows = append(rows, []string{cell("%.0f°", a), cell("%.1f mm", e.Curve.Travel().Millimetres()), cell("%.0f N", e.Law.Force(r.Stroke).Newtons()), cell("%.1f %%", percent(r.Sag)), cell("%.2f N/mm", r.WheelRate.NewtonsPerMillimetre())})
	}
	c.table([]string{"angle", "travel, up", "along", "sag", "wheel rate"}, rows...)
	c.say("All of this is for wheels that roll freely on level ground. The brake pulls the wheel backward, which is more along a slack fork than a steep one, and shifts weight onto it: see the lesson on load and pitch.")
	c.caution("crown_and_axle")

	c.now("At %.1f° a load of %.0f N is %.0f N along the fork and %.0f N across it. The ring shows %.1f mm, %.1f %% sag, and the wheel stands %.1f mm higher and %.1f mm farther back.",
		angle, load.Newtons(), axial, across, stroke, percent(rest.Sag), travel, stroke*cos)
	c.estimate("By how much does the wheel rise when this fork uses all of its 160 mm?", full, 0.6, "mm")
	c.explain("By %.1f mm: 160 mm · sin %.1f°.", full, angle)
	slack := must(coilFork(angle - 2).Settle(load))
	c.choose("Make the head angle 2° slacker and leave load and spring as they are. What does the ring show?",
		[]string{"Less sag", "More sag", "The same"}, whichOf(slack.Stroke < rest.Stroke, slack.Stroke > rest.Stroke))
	c.explain("%.1f mm instead of %.1f mm. Less of the load is along the fork, though more of it is across.", slack.Stroke.Millimetres(), stroke)

	x := along(56, 76, 40)
	c.Curve = Curve{
		Title: "Sag over the head angle", X: Axis{Label: "head angle", Unit: "°", Loose: true}, Y: Axis{Label: "sag", Unit: "%", Loose: true},
		Lines: []Line{{"sag", x, at(x, func(a float64) float64 { return percent(must(coilFork(a).Settle(load)).Sag) })}},
		Dot:   [2]float64{angle, percent(rest.Sag)},
	}
	c.Drawing.Title = "A fork from the side, the front of the bike to the right, and the forces at its axle"
	c.Drawing.Desc = cell("The stanchions lean at %.1f°. All of the 160 mm along them is %.1f mm up; at the sag it is %.1f mm along and %.1f mm up. The load of %.0f N is %.0f N along and %.0f N across.",
		angle, full, stroke, travel, load.Newtons(), axial, across)
	drawFork(&c.Drawing, angle, rest, full, load.Newtons(), axial, across)
}

// drawFork draws the way of the axle with one pixel for each millimetre and the
// forces with 0.17 pixels for each newton.
func drawFork(p *Drawing, angle float64, rest sag.Rest, full, load, axial, across float64) {
	const perNewton, all = 0.17, 160.0
	p.size(360, 290)
	sin, cos := math.Sincos(angle * math.Pi / 180)
	out := point{140, 236} // the axle at full extension
	on := func(s float64) point { return out.plus(-s*cos, -s*sin) }
	side := func(p point, by float64) point { return p.plus(by*sin, -by*cos) } // ahead of the stanchions
	axle := on(rest.Stroke.Millimetres())
	p.line("axis", on(-20), on(all+58))
	for _, by := range []float64{-9, 9} { // the stanchions, then the lower legs over them
		p.line("leg", side(on(all-14), by), side(on(all+50), by))
	}
	leg := axle.plus(-(all-40)*cos, -(all-40)*sin)
	p.shape("body", side(axle, -13), side(axle, 13), side(leg, 13), side(leg, -13))
	p.circle("joint axle", axle, 6)
	p.circle("ghost", out, 6)
	end := on(all)
	p.line("ghost", out, out.plus(106, 0))
	p.line("ghost", end, point{out.x + 106, end.y})
	p.measure(out.plus(100, 0), point{out.x + 100, end.y}, cell("%.1f mm", full), "middle", 0, -(out.y-end.y)/2-9)
	p.label("faint", point{out.x + 100, end.y - 24}, "middle", "up, all of it")
	p.line("ghost", axle, point{out.x + 30, axle.y})
	p.measure(out.plus(24, 0), point{out.x + 24, axle.y}, cell("%.1f mm", rest.Travel.Millimetres()), "start", 7, 4)
	p.measure(side(out, -30), side(axle, -30), cell("%.1f mm", rest.Stroke.Millimetres()), "end", -8, 6)
	top := on(all + 44)
	p.line("ghost", top, top.plus(52, 0))
	p.angle(top, 40, 0, -angle, cell("%.1f°", angle), "start", 6, 4)

	// The push of the ground, and what it is along the fork and across.
	at := point{318, 236}
	tip := at.plus(0, -load*perNewton)
	knee := at.plus(-axial*perNewton*cos, -axial*perNewton*sin)
	p.force(at, tip, cell("%.0f N", load), "middle", 0, -load*perNewton-8)
	p.force(at, knee, "", "end", 0, 0)
	p.force(knee, tip, "", "end", 0, 0)
	p.text(point{at.x - 10, at.y + 20}, "middle", cell("%.0f N along", axial))
	p.text(point{at.x - 10, at.y + 37}, "middle", cell("%.0f N across", across))
}
