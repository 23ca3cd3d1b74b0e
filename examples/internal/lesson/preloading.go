package lesson

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

var preloading = Lesson{
	Name: "preload", Title: "Preload is not rate",
	About: "Wind in the collar and the bike stands higher. Is the spring stiffer now?",
	Sliders: []Slider{
		{Name: "preload", Label: "Preload", Unit: "mm", Min: 0, Max: 12, Step: 0.25, Start: 3},
		{Name: "rate", Label: "Spring", Unit: "N/mm", Min: 60, Max: 140, Step: 1, Start: 90},
	},
	write: writePreload,
}

func writePreload(c *Content, v Values) {
	const rider, free = 80.0, 150.0
	preload, rate, load := v["preload"], v["rate"], rearLoad(rider)
	end, bare := rear(rate, preload), rear(rate, 0)
	state, without := must(end.Under(load)), must(bare.Under(load))
	rest := state.Rest
	force, plain := wheelForce(end), wheelForce(bare)
	full, fullPlain := force(150), plain(150)
	held := state.Finding != ""

	c.say("A coil spring on a shock sits between a seat and a collar on a thread. Wind the collar in, and the spring is pressed before anybody sits on the bike. By so many millimetres: that is the preload. It is one of the two things that can be changed on a coil; the other is the spring.")
	c.say("Turn it in and the bike stands higher under you, so people say it got stiffer. Did it? The rate of a coil is how much more force each further millimetre takes, and that is made of wire and coils (see the lesson on wire). No collar changes it. The invented bike of the lesson on sag has %.0f N on its rear spring, a lever ratio of 2.5 and a spring of %.0f N/mm:", load.Newtons(), rate)
	c.table([]string{"", "no preload", cell("%.4g mm", preload)},
		[]string{"spring, fully out", "0 N", cell("%.0f N", rate*preload)},
		[]string{"wheel, fully out", cell("%.0f N", plain(0)), cell("%.0f N", force(0))},
		[]string{"sag", cell("%.1f %%", percent(without.Rest.Sag)), cell("%.1f %%", percent(rest.Sag))},
		[]string{"rate at the wheel", cell("%.2f N/mm", without.Rest.WheelRate.NewtonsPerMillimetre()), cell("%.2f N/mm", rest.WheelRate.NewtonsPerMillimetre())},
		[]string{"wheel, all travel used", cell("%.0f N", fullPlain), cell("%.0f N", full)})
	c.say("The line of the force has moved up as a whole, by k·preload/2.5, and is as steep as before. At the sag, too, the bike bounces as fast as before: that depends on rate and mass.")
	c.show("F_wheel = k·(preload + s)/LR")
	c.say("So what does it do? The first part of the load, here %.0f N at the wheel, is already in the spring, and nothing moves until more than that stands on it. The rest of it sags less. Each millimetre of preload takes one off the stroke of the shock at the sag, and 2.5 off the travel of the wheel, until nothing is left. And at the end of the travel each millimetre adds as much force as anywhere else.", force(0))
	c.say("Which is why preload is for the last bit. Too soft a spring can be wound in until the sag is right, and is still too soft for everything that comes after: it has the force where the rider stands, but gains too little on the way down. And a wheel that stands high under much preload has lost the way down into a hole. If it takes more than the maker allows, or the spring gets loose before the collar is fully out, it is the wrong spring.")
	c.caution("compressed_spring")

	c.now("%.4g mm of preload put %.0f N into the spring, %.0f N at the wheel. Under the rider it sags %.1f %% instead of %.1f %%; its rate at the wheel is %.2f N/mm with and without.%s",
		preload, rate*preload, force(0), percent(rest.Sag), percent(without.Rest.Sag), rest.WheelRate.NewtonsPerMillimetre(), either(held, " The spring carries the rider without moving: far too much.", ""))
	heavy := rearLoad(rider + 15)
	same := must(sag.RequiredPreload(bare.Curve, sag.Target{Load: heavy, Sag: without.Rest.Sag}, units.Stiffness(rate)*npm)).Millimetres()
	c.estimate("A rider of 95 kg takes the bike, with the same spring. How much preload brings it to the sag that the first one has without any?", same, 0.15, "mm")
	c.explain("%.1f mm: the further %.0f N at the wheel are %.0f N at the spring, over %.0f N/mm.", same, (heavy - load).Newtons(), 2.5*(heavy-load).Newtons(), rate)
	more, less := must(rear(rate+20, 0).Under(heavy)), must(rear(rate, same).Under(heavy))
	c.choose("The same rider of 95 kg could have a spring that is 20 N/mm stiffer instead, without preload. Which of the two pushes back harder at the end of the travel?",
		[]string{"The stiffer spring", "The preloaded one", "Both the same"}, whichOf(more.Reserve.FullForce > less.Reserve.FullForce, more.Reserve.FullForce < less.Reserve.FullForce))
	c.explain("The stiffer spring ends at %.0f N and the preloaded one at %.0f N. At the sag the rider can't tell them by their height, %.0f and %.0f mm.",
		more.Reserve.FullForce.Newtons(), less.Reserve.FullForce.Newtons(), more.Rest.Travel.Millimetres(), less.Rest.Travel.Millimetres())

	x := along(0, 150, 60)
	c.Curve = Curve{
		Title: "Force at the wheel with preload and without", X: Axis{Label: "wheel travel", Unit: "mm"}, Y: Axis{Label: "wheel force", Unit: "N"},
		Lines: []Line{{"preloaded", x, at(x, force)}, {"without", x, at(x, plain)}}, Level: &Level{"load", load.Newtons()},
		Dot: [2]float64{rest.Travel.Millimetres(), force(rest.Travel.Millimetres())},
	}
	c.Drawing.Title = "A spring free, preloaded, and under the rider"
	c.Drawing.Desc = cell("The collar presses the spring by %.2f mm, and under the rider the shock gets %.1f mm shorter. The spring pushes with %.0f N, then with %.0f N.", preload, rest.Stroke.Millimetres(), rate*preload, rate*(preload+rest.Stroke.Millimetres()))
	drawPreload(&c.Drawing, preload, rest.Stroke.Millimetres(), rate)
}

// drawPreload draws the spring three times at 1.25 pixels for each millimetre.
func drawPreload(p *Drawing, preload, stroke, rate float64) {
	const scale, free, top = 1.25, 130.0, 54.0
	p.size(360, 288)
	seat := top + free*scale
	for i, s := range []struct {
		name         string
		collar, seat float64
	}{{"free", top, seat}, {"fully out", top + preload*scale, seat}, {"rider on", top + preload*scale, seat - stroke*scale}} {
		x := 58 + 112*float64(i)
		p.line("plate", point{x - 30, s.collar}, point{x + 30, s.collar})
		p.line("plate", point{x - 30, s.seat}, point{x + 30, s.seat})
		p.coil(point{x, s.collar}, point{x, s.seat}, 44, 7)
		p.label("on", point{x, 16}, "middle", s.name)
		force := rate * (free - (s.seat-s.collar)/scale)
		p.label("on", point{x, seat + 44}, "middle", cell("%.0f N", force))
		if i > 0 {
			p.line("ghost", point{x - 42, top}, point{x + 42, top})
			p.measure(point{x + 38, top}, point{x + 38, s.collar}, cell("%.2f mm", preload), "middle", 0, -6-preload*scale/2)
		}
		if i > 1 {
			p.line("ghost", point{x - 42, seat}, point{x + 42, seat})
			p.measure(point{x + 38, seat}, point{x + 38, s.seat}, cell("%.1f mm", stroke), "middle", -6, stroke*scale/2+18)
		}
	}
	p.label("faint", point{58 + 112, seat + 62}, "middle", "force in the spring")
}
