package lesson

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// rear is an invented rear end: 150 mm of travel at a lever ratio of 2.5, with a
// coil of a rate in N/mm that is pressed by a preload in mm.
func rear(rate, preload float64) sag.End {
	curve := must(linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * mm}))
	return sag.End{Curve: curve, Law: must(spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate) * npm, Travel: curve.Stroke(), Preload: units.Length(preload) * mm}))}
}

// weights are an invented bike with a rider of so many kilograms.
func weights(rider float64) sag.Masses {
	return sag.Masses{RiderMass: units.Mass(rider), BikeMass: 16, UnsprungFront: new(2 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6}
}

func rearLoad(rider float64) units.Force { return must(weights(rider).Loads()).Rear }

// wheelForce returns the force at the wheel in N over its travel in mm.
func wheelForce(e sag.End) func(float64) float64 {
	wheel, _, err := e.Wheel()
	must(wheel, err)
	return func(w float64) float64 { return wheel.Force(units.Length(w) * mm).Newtons() }
}

var sagging = Lesson{
	Name: "sag", Title: "Sag: where the spring meets the weight",
	About: "Sit on the bike and it sinks. How far, why there, and why is that the first thing to measure?",
	Sliders: []Slider{
		{Name: "rider", Label: "Rider with everything on", Unit: "kg", Min: 50, Max: 120, Step: 1, Start: 80},
		{Name: "rate", Label: "Spring", Unit: "N/mm", Min: 60, Max: 140, Step: 1, Start: 90},
		{Name: "friction", Label: "Friction at the shock", Unit: "N", Min: 0, Max: 150, Step: 5, Start: 60},
	},
	write: writeSag,
}

func writeSag(c *Content, v Values) {
	end := rear(v["rate"], 0)
	end.Friction = units.Force(v["friction"])
	load := rearLoad(v["rider"])
	rest := must(end.Settle(load))
	total := v["rider"] + 16
	c.say("Put a rider on a bike and it sinks, until the springs push back as hard as the weight presses. That is sag. Nothing else about a spring is so easy to measure, and it tells at once whether spring and rider belong together.")
	c.say("Which weight? Not all of it. An invented bike of 16 kg and its rider of %.0f kg are %.0f kg, and 60 %% of that stands on the rear wheel. But 3 kg of wheel and brake stand on the ground by themselves: the spring does not carry them. They are unsprung. What is left presses on the rear spring:", v["rider"], total)
	c.show(cell("load = (0.6 · %.0f kg − 3 kg) · 9.80665 m/s² = %.0f N", total, load.Newtons()))
	c.say("This bike's wheel moves 2.5 mm for each millimetre of the shock, 150 mm in all. So a spring of k N/mm is k/2.5² at the wheel (see the lesson on levers), and the wheel comes to rest where rate times travel is the load:")
	c.show(cell("%.0f/2.5² = %.2f N/mm", v["rate"], rest.WheelRate.NewtonsPerMillimetre()), cell("%.0f N / %.2f N/mm = %.1f mm", load.Newtons(), rest.WheelRate.NewtonsPerMillimetre(), rest.Travel.Millimetres()),
		cell("%.1f mm / 150 mm = %.1f %% sag", rest.Travel.Millimetres(), percent(rest.Sag)))
	c.say("How much is right? Enough that the wheel can follow the ground down into a hole, and not so much that too little is left for the bumps. From a fifth to a third of the travel is common practice; there is no law behind it, and what the maker of the bike says comes first. A rider who knows what he likes needs the number even more: it is how to find the same bike again with another spring.")
	low, high := rest.TravelLow, rest.TravelHigh
	c.say("Now measure it. Push the ring on the shock's shaft, or on the fork's stanchion, against the seal, sit down, get off, and read how far it went: here %.1f mm on the shock. But seals and bushes hold on to the shaft, and the wheel stops wherever they can hold it. With %.0f N of friction at the shock that is anywhere from %.1f to %.1f mm of the wheel. So take two readings: sit down slowly without bouncing, read; then press the bike deep, come up slowly, and read again. The truth is about halfway between.",
		rest.Stroke.Millimetres(), v["friction"], low.Millimetres(), high.Millimetres())
	c.table([]string{"rider", "load", "sag", "per cent"}, sagRow(end, 60), sagRow(end, 80), sagRow(end, 100), sagRow(end, 120))
	c.say("All this on level ground, in the stance that you ride in and dressed as you ride: pack, water and shoes are easily 5 kg.")
	c.caution("measure_first")

	c.now("%.0f N stand on the rear spring. It pushes back with as much at %.1f mm of wheel travel, %.1f %% of 150 mm, and the ring on the shock shows %.1f mm. Friction can hold the wheel anywhere from %.1f to %.1f mm.",
		load.Newtons(), rest.Travel.Millimetres(), percent(rest.Sag), rest.Stroke.Millimetres(), low.Millimetres(), high.Millimetres())
	target := must(sag.RequiredRate(end.Curve, sag.Target{Load: load, Sag: 0.28}, 0)).Rate.NewtonsPerMillimetre()
	c.estimate("This rider wants 28 % sag. Which spring does it take, with no preload?", target, 0.01*target, "N/mm")
	c.explain("%.1f N/mm: %.0f N over 0.28 · 150 mm is the rate at the wheel, and 2.5² times that the rate of the spring.", target, load.Newtons())
	heavier := must(end.Settle(rearLoad(v["rider"] + 5)))
	more := (heavier.Travel - rest.Travel).Millimetres()
	c.estimate("The rider puts on a pack of 5 kg. How many millimetres more does the rear wheel sag?", more, 0.15, "mm")
	c.explain("%.1f mm more: six tenths of the pack, %.1f N, over %.2f N/mm.", more, (rearLoad(v["rider"]+5) - load).Newtons(), rest.WheelRate.NewtonsPerMillimetre())

	x := along(0, 150, 60)
	force := wheelForce(end)
	c.Curve = Curve{
		Title: "Force of the spring at the wheel over its travel", X: Axis{Label: "wheel travel", Unit: "mm"}, Y: Axis{Label: "wheel force", Unit: "N"},
		Lines: []Line{{"spring", x, at(x, force)}}, Level: &Level{"load", load.Newtons()},
		Dot: [2]float64{rest.Travel.Millimetres(), force(rest.Travel.Millimetres())},
	}
	c.Drawing.Title = "A weight on a spring on a wheel, and the ring on the shock"
	c.Drawing.Desc = cell("The weight has sunk by %.1f of 150 mm. Its load of %.0f N and the push of the spring are equal. The ring was pushed %.1f mm along the shaft.", rest.Travel.Millimetres(), load.Newtons(), rest.Stroke.Millimetres())
	drawSag(&c.Drawing, rest, load.Newtons(), force(rest.Travel.Millimetres()))
}

// sagRow says how far a rider sags on an end.
func sagRow(end sag.End, rider float64) []string {
	load := rearLoad(rider)
	rest := must(end.Settle(load))
	return []string{cell("%.0f kg", rider), cell("%.0f N", load.Newtons()), cell("%.1f mm", rest.Travel.Millimetres()), cell("%.1f %%", percent(rest.Sag))}
}

// drawSag draws the end with one pixel for each millimetre of travel and stroke.
func drawSag(p *Drawing, rest sag.Rest, load, push float64) {
	const perNewton, x, top, ground = 0.08, 138.0, 62.0, 268.0
	p.size(360, 284)
	axle := ground - 26
	low := top + rest.Travel.Millimetres() // the weight's lower edge
	p.line("ground", point{60, ground}, point{220, ground})
	p.circle("wheel", point{x, axle}, 26)
	p.coil(point{x, low}, point{x, axle}, 30, 7)
	p.box("ghost", point{x - 34, top - 40}, point{x + 34, top})
	p.box("mass", point{x - 34, low - 40}, point{x + 34, low})
	p.circle("joint axle", point{x, axle}, 3.5)
	p.line("ghost", point{x - 84, top}, point{x - 34, top})
	p.line("ghost", point{x - 84, top + 150}, point{x - 20, top + 150})
	p.measure(point{x - 80, top}, point{x - 80, top + 150}, "150 mm", "middle", 0, -82)
	p.box("band", point{x + 38, top + rest.TravelLow.Millimetres()}, point{x + 50, top + rest.TravelHigh.Millimetres()})
	p.line("ghost", point{x + 34, top}, point{x + 62, top})
	p.measure(point{x + 56, top}, point{x + 56, low}, cell("%.1f mm", rest.Travel.Millimetres()), "start", 7, 4)
	p.force(point{x - 12, low - 20}, point{x - 12, low - 20 + load*perNewton}, cell("%.0f N", load), "end", -7, load*perNewton-2)
	p.force(point{x + 12, low - 20}, point{x + 12, low - 20 - push*perNewton}, cell("%.0f N", push), "start", 7, 6-push*perNewton)

	// The shock with nobody on it, and its ring where the seal pushed it.
	const sx, seal = 270.0, 196.0
	ring := seal - rest.Stroke.Millimetres()
	p.box("shaft", point{sx - 6, seal - 60}, point{sx + 6, seal})
	p.circle("joint", point{sx, seal - 69}, 9)
	p.box("body", point{sx - 16, seal}, point{sx + 16, seal + 66})
	p.box("ring", point{sx - 9, ring - 3}, point{sx + 9, ring})
	p.measure(point{sx + 22, seal}, point{sx + 22, ring}, cell("%.1f mm", rest.Stroke.Millimetres()), "start", 7, 4)
	p.label("faint", point{sx, seal + 84}, "middle", "the ring, rider off")
}
