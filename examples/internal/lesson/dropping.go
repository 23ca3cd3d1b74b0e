package lesson

import (
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

var dropping = Lesson{
	Name: "drop", Title: "Energy and the drop",
	About: "What happens to a fall? How far does the wheel come, and what does the damper do about it?",
	Sliders: []Slider{
		{Name: "height", Label: "Height of the drop", Unit: "m", Min: 0, Max: 0.6, Step: 0.01, Start: 0.12},
		{Name: "damping", Label: "Damper, at the wheel", Unit: "N·s/m", Min: 0, Max: 1500, Step: 50, Start: 400},
	},
	write: writeDrop,
}

func writeDrop(c *Content, v Values) {
	const rate = 90.0
	end, load := rear(rate, 0), rearLoad(80)
	height, damping := units.Length(v["height"]), units.Damping(v["damping"])
	land := func(h units.Length, damping units.Damping) sag.Landing {
		return must(end.LandWithin(load, sag.Drop{Height: h, Damping: damping}, 1e-9))
	}
	hit, bare, deeper := land(height, damping), land(height, 0), land(2*height, damping)
	wheel, _, err := end.Wheel()
	must(wheel, err)
	stored := wheel.Energy(hit.Travel).Joules()
	fall, sunk := load.Newtons()*float64(height), load.Newtons()*float64(hit.Travel)
	reserve := must(end.Reserve(load))
	speed := math.Sqrt(2 * float64(units.StandardGravity) * v["height"])
	ratio := sag.DampingRatio(damping, wheel.Rate(0), load)

	c.say("Lift the rear of the bike by a height h and let it fall. A weight that is lifted has energy, load times height, and a fall doesn't lose it. At the ground it is speed; then the wheel stops, the bike goes on, and the spring has to take all of it. While it does, the bike sinks by another x, and that counts as a fall as well:")
	c.show("load·(h + x) = energy of the spring + work of the damper + what is left")
	c.say("The energy in a spring is force times way, added up over each little bit of the way: the area under its curve. A force that starts at 0 and grows evenly to F over x makes a triangle, F·x/2. So a spring with twice the force at the end takes twice the energy over the same travel, and a curve that is hollow in the middle takes less than a straight one to the same end.")
	c.say("The invented bike of the lesson on sag, with %.0f N on a spring of %.0f N/mm behind a lever ratio of 2.5, falls %.2f m:", load.Newtons(), rate, v["height"])
	c.table(nil,
		[]string{"the fall", "load·h", cell("%.1f J", fall)},
		[]string{"sinking on", "load·x", cell("%.1f J", sunk)},
		[]string{"in the spring", "area to x", cell("%.1f J", stored)},
		[]string{"in the damper", "turned to heat", cell("%.1f J", hit.DamperWork.Joules())},
		[]string{"left at the end", "½·m·v²", cell("%.1f J", hit.EnergyLeft.Joules())})
	c.say("Without a damper it would come to %.0f mm, %.0f %% of the travel. With %.0f N·s/m it comes to %.0f mm, %.0f %%. A damper pushes against speed, so many newtons for each metre per second, and what it takes becomes heat. It can't hold anything up: at the deepest place, where nothing moves, it does nothing, and all that stands there is the spring.",
		bare.Travel.Millimetres(), percent(bare.Used), v["damping"], hit.Travel.Millimetres(), percent(hit.Used))
	c.say("It is never for nothing. The wheel moves fastest about where it touches the ground, at %.2f m/s, and there the damper alone pushes with %.0f N. Damper and spring together push with up to %.0f N on the way; without the damper the most is %.0f N. Too much damping, and the landing is hard from the first millimetre. And then comes the way back. A spring gives back all that it took, and without a damper throws the rider up as high as he came from; this damper has %.0f %% of what would bring the bike back without swinging over.",
		speed, v["damping"]*speed, hit.PeakForce.Newtons(), bare.PeakForce.Newtons(), percent(ratio))
	c.say("If the travel is used up before the fall is stopped, the rest goes into the bump stop, the tyre, the frame and the legs, in a few millimetres and so with a great force. That is bottoming. Without a damper this end has room for a fall of %.2f m, for the area under its whole curve is %.0f J. More preload adds a little to that; a stiffer spring, less room for gas, or more travel add more.",
		float64(reserve.DropHeight), reserve.Energy.Joules())
	c.say("In a real landing two ends share the work, tyres give, and above all arms and legs do, which have more travel than any bike. So these numbers are for comparing springs. They are no promise that a landing ends well.")
	c.caution("marking_wins")

	c.now("A drop of %.2f m uses %.0f mm, %.0f %% of the travel. Of %.0f J the spring takes %.0f and the damper %.0f. The most that pushes at the wheel is %.0f N.",
		v["height"], hit.Travel.Millimetres(), percent(hit.Used), fall+sunk, stored, hit.DamperWork.Joules(), hit.PeakForce.Newtons())
	if hit.Bottoms {
		c.now(" It bottoms, with %.0f J left.", hit.EnergyLeft.Joules())
	}
	c.estimate("From how high could this end fall and just use all of its travel, without a damper? The area under the whole curve has to be load·(h + 150 mm).", float64(reserve.DropHeight), 0.01, "m")
	c.explain("From %.3f m: %.1f J are %.0f N over %.3f m, and 0.150 m of that is the travel itself.", float64(reserve.DropHeight), reserve.Energy.Joules(), load.Newtons(), reserve.Energy.Joules()/load.Newtons())
	times := float64(deeper.Travel) / float64(hit.Travel)
	c.choose(cell("Twice the height, %.2f m instead of %.2f. How much more of its travel does the wheel use, with the damper as it is?", 2*v["height"], v["height"]),
		[]string{"Less than twice as much", "Twice as much or more"}, whichOf(times < 2, true))
	c.explain("%.0f mm instead of %.0f mm, %.2f times as much.%s The energy in a spring grows with the square of its travel, and part of the travel is there at no height at all: a bike that is let go at once sinks deeper than its sag.", deeper.Travel.Millimetres(), hit.Travel.Millimetres(), times, either(deeper.Bottoms, " It bottoms.", ""))

	x := along(0, 150, 60)
	push := wheelForce(end)
	c.Curve = Curve{
		Title: "Force of the spring at the wheel; the area is its energy", X: Axis{Label: "wheel travel", Unit: "mm"}, Y: Axis{Label: "wheel force", Unit: "N"},
		Lines: []Line{{"spring", x, at(x, push)}}, Level: &Level{"load", load.Newtons()}, Under: true,
		Dot: [2]float64{hit.Travel.Millimetres(), push(hit.Travel.Millimetres())},
	}
	c.Drawing.Title = "A bike let go, the same bike at its deepest, and where the energy went"
	c.Drawing.Desc = cell("From %.2f m it sinks %.0f mm of 150 mm into its travel. The fall gave %.0f J and the sinking %.0f J; the spring took %.0f J, the damper %.0f J, and %.0f J are left.",
		v["height"], hit.Travel.Millimetres(), fall, sunk, stored, hit.DamperWork.Joules(), hit.EnergyLeft.Joules())
	drawDrop(&c.Drawing, v["height"], hit.Travel.Millimetres(), []float64{fall, sunk}, []float64{stored, hit.DamperWork.Joules(), hit.EnergyLeft.Joules()})
}

// drawDrop draws heights at 0.24 pixels for each millimetre and energies at 0.42
// pixels for each joule.
func drawDrop(p *Drawing, height, travel float64, in, out []float64) {
	const scale, perJoule, ground, wheel, body, stand = 0.24, 0.42, 222.0, 11.0, 20.0, 46.0
	p.size(360, 262)
	p.line("ground", point{10, ground}, point{168, ground})
	fall := height * 1000 * scale
	one := func(x, contact, sunk float64, class string) {
		axle := contact - wheel
		low := axle - stand + sunk
		p.circle("wheel"+class, point{x, axle}, wheel)
		p.coil(point{x, low}, point{x, axle}, 14, 5)
		p.box("mass"+class, point{x - 20, low - body}, point{x + 20, low})
	}
	one(60, ground-fall, 0, "")
	p.measure(point{26, ground}, point{26, ground - fall}, cell("%.0f mm", height*1000), "middle", 6, fall/2+18)
	one(118, ground, travel*scale, "")
	top := ground - wheel - stand
	p.line("ghost", point{92, top}, point{166, top})
	p.line("ghost", point{92, top + 150*scale}, point{166, top + 150*scale})
	p.measure(point{156, top}, point{156, top + travel*scale}, cell("%.0f mm", travel), "middle", 2, -travel*scale/2-7)
	stack := func(x float64, energies []float64, names ...string) {
		y := ground
		for i, e := range energies {
			next := y - e*perJoule
			p.box("bar "+names[i], point{x, y}, point{x + 26, next})
			if e*perJoule > 11 {
				p.text(point{x + 31, (y+next)/2 + 4}, "start", names[i])
			}
			y = next
		}
	}
	stack(188, in, "fall", "sinking")
	stack(274, out, "spring", "damper", "left")
	p.label("faint", point{184, ground + 20}, "start", cell("%.0f J in", in[0]+in[1]))
	p.label("faint", point{270, ground + 20}, "start", cell("%.0f J out", out[0]+out[1]+out[2]))
}
