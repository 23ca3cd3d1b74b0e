package lesson

import (
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

var pitching = Lesson{
	Name: "pitch", Title: "Load and pitch",
	About: "Two wheels share one weight. Lean, brake, change a spring: what do both ends do?",
	Sliders: []Slider{
		{Name: "share", Label: "On the rear wheel, with the bike level", Unit: "%", Min: 50, Max: 68, Step: 0.5, Start: 60},
		{Name: "braking", Label: "Front brake, in parts of the weight", Min: 0, Max: 0.5, Step: 0.01, Start: 0},
		{Name: "rate", Label: "Rear spring", Unit: "N/mm", Min: 70, Max: 130, Step: 1, Start: 90},
	},
	write: writePitch,
}

const (
	demoWheelbase, demoHeight, demoRadius = 1250.0, 1000.0, 350.0 // mm
	demoHead                              = 64.0                  // °
)

// standing is an invented bike with its rider.
func standing(share, braking, rate float64) (sag.Bike, sag.Stance) {
	m := weights(80)
	m.RearShare = share / 100
	m.Wheelbase, m.MassCentreHeight, m.WheelRadius = demoWheelbase*mm, demoHeight*mm, demoRadius*mm
	b := sag.Bike{Masses: m, Front: coilFork(demoHead), Rear: rear(rate, 0), Ground: sag.Ground{FrontBraking: braking}}
	return b, must(b.Stance())
}

func writePitch(c *Content, v Values) {
	share, braking, rate := v["share"], v["braking"], v["rate"]
	bike, s := standing(share, braking, rate)
	loads := must(bike.Loads())
	weight := (loads.FrontWheel + loads.RearWheel).Newtons()
	front, back := s.FrontWheelLoad.Newtons(), s.RearWheelLoad.Newtons()
	still := func(x float64) sag.Stance { _, s := standing(share, x, rate); return s }

	c.say("A bike stands on two wheels like a plank on two trestles. Who stands nearer to one of them loads it more. If the mass centre of bike and rider is a distance a ahead of the rear wheel, and the wheels are D apart, then turning about the front wheel gives what the rear one carries:")
	c.show("N_rear = W·(D − a)/D", "N_front = W·a/D")
	c.say("An invented bike and its rider weigh %.0f N. Level, %.4g %% of that stands on the rear wheel: %.0f N, and %.0f N on the front. Lean back a little, and the shares change at once: with wheels %.0f mm apart each centimetre moves %.1f N from one to the other. So sag is read in the stance that you ride in, and two readings in two stances can't be compared.",
		weight, share, loads.RearWheel.Newtons(), loads.FrontWheel.Newtons(), demoWheelbase, weight*10/demoWheelbase)
	c.say("But it doesn't stay level. The rear sags by what its spring asks for, the front by what the fork asks for. If they differ the frame tips: that is pitch, and here it is %.2f°, %s. The mass centre, a metre above the ground, moves with the frame, which shifts the load again, and the fork takes the front wheel back and the wheelbase with it. So both ends have to be found together: the library looks for the place where nothing is left over at either.", math.Abs(s.Pitch.Degrees()), noseWords(s.Pitch))
	c.table([]string{"", "front", "rear"},
		[]string{"on the wheel", cell("%.0f N", front), cell("%.0f N", back)},
		[]string{"on the spring", cell("%.0f N", s.FrontLoad.Newtons()), cell("%.0f N", s.RearLoad.Newtons())},
		[]string{"wheel travel", cell("%.1f mm", s.FrontTravel.Millimetres()), cell("%.1f mm", s.RearTravel.Millimetres())},
		[]string{"sag", cell("%.1f %%", percent(s.FrontSag)), cell("%.1f %%", percent(s.RearSag))})
	c.say("A pitched frame has other angles. The fork of %.0f° now stands at %.2f°: a soft rear makes the steering slacker, a soft front steeper. A spring at one end is felt at the other.", demoHead, s.HeadAngle.Degrees())
	c.say("Then the brake. It holds the bike back at the ground, and the weight wants to go on, a metre higher up. Those two turn the bike forward, and only the wheels can hold against it: the front one carries more, the rear one less, both by the same.")
	c.show("shift = braking·W·h/D")
	hard := still(0.5)
	c.say("h is the height of the mass centre. Brake with half the weight, and here the front wheel carries %.0f N instead of %.0f N and the rear one %.0f N instead of %.0f N: the fork dives to %.0f %% and the rear rises to %.0f %%. No spring takes the shift away, for the wheels must carry it. Springs only decide how far the bike moves until they do.",
		hard.FrontWheelLoad.Newtons(), still(0).FrontWheelLoad.Newtons(), hard.RearWheelLoad.Newtons(), still(0).RearWheelLoad.Newtons(), percent(hard.FrontSag), percent(hard.RearSag))
	c.say("Left out: tyres, the rider's arms and legs, the pull of the brake on the rear linkage, and everything that happens before the bike has settled.")
	c.caution("measure_first")

	c.now("The front wheel carries %.0f N and sags %.1f %%, the rear one %.0f N and %.1f %%. The frame is pitched by %.2f°, %s; %.1f %% of the weight is on the rear wheel.",
		front, percent(s.FrontSag), back, percent(s.RearSag), math.Abs(s.Pitch.Degrees()), noseWords(s.Pitch), percent(s.RearShare))
	now, shift := still(0), still(0.3).FrontWheelLoad.Newtons()-still(0).FrontWheelLoad.Newtons()
	c.estimate("Brake the front wheel with 0.3 of the weight. By how many newtons does the load on the front wheel grow? Use shift = braking·W·h/D, and allow for what the sag changes.", shift, 0.06*shift, "N")
	c.explain("By %.0f N. With the height and the wheelbase of the level bike the formula says %.0f N; with the sag the mass centre is lower and the wheels are nearer together.", shift, 0.3*weight*demoHeight/demoWheelbase)
	_, stiff := standing(share, 0, rate+10)
	c.choose("Fit a rear spring that is 10 N/mm stiffer, and let go of the brake. What does the head angle do?",
		[]string{"It gets steeper", "It gets slacker", "It stays the same"}, whichOf(stiff.HeadAngle > now.HeadAngle, stiff.HeadAngle < now.HeadAngle))
	c.explain("%.2f° instead of %.2f°: the rear stands %.1f mm higher, and the frame tips forward.", stiff.HeadAngle.Degrees(), now.HeadAngle.Degrees(), (now.RearTravel - stiff.RearTravel).Millimetres())

	x := along(0, 0.5, 20)
	var frontSag, rearSag []float64
	for _, b := range x {
		s := still(b)
		frontSag, rearSag = append(frontSag, percent(s.FrontSag)), append(rearSag, percent(s.RearSag))
	}
	c.Curve = Curve{
		Title: "Sag of both ends over braking", X: Axis{Label: "front braking, parts of the weight"}, Y: Axis{Label: "sag", Unit: "%"},
		Lines: []Line{{"front", x, frontSag}, {"rear", x, rearSag}},
		Dot:   [2]float64{braking, percent(s.FrontSag)},
	}
	c.Drawing.Title = "The bike from its right side, its front to the right"
	c.Drawing.Desc = cell("The wheels are %.0f mm apart. The ground pushes the front wheel with %.0f N and the rear one with %.0f N; the weight is %.0f N. The frame is pitched by %.2f°, %s.", s.Wheelbase.Millimetres(), front, back, weight, math.Abs(s.Pitch.Degrees()), noseWords(s.Pitch))
	if braking > 0 {
		c.Drawing.Desc += cell(" The brake holds it back with %.0f N.", braking*weight)
	}
	drawPitch(&c.Drawing, bike.Masses, s, weight, braking)
}

// noseWords says which way a frame is pitched.
func noseWords(pitch units.Angle) string {
	switch degrees := pitch.Degrees(); {
	case degrees > 0.005:
		return "nose up"
	case degrees < -0.005:
		return "nose down"
	}
	return "level"
}

// drawPitch draws the bike at 0.175 pixels for each millimetre and forces at 0.085
// pixels for each newton.
func drawPitch(p *Drawing, m sag.Masses, s sag.Stance, weight, braking float64) {
	const scale, perNewton, ground = 0.175, 0.085, 236.0
	p.size(360, 292)
	// Places on the frame, in millimetres from the rear axle at full extension, x forward and y up,
	// and where they are above the point where the rear wheel touches the ground.
	sin, cos := math.Sincos(float64(s.Pitch))
	w := s.RearTravel.Millimetres()
	place := func(x, y float64) (float64, float64) {
		return x*cos - (y-w)*sin, demoRadius + x*sin + (y-w)*cos
	}
	on := func(x, y float64) point { return point{68 + x*scale, ground - y*scale} }
	frame := func(x, y float64) point { return on(place(x, y)) }
	stroke := s.FrontStroke.Millimetres()
	headSin, headCos := math.Sincos(demoHead * math.Pi / 180)
	fx, fy := demoWheelbase-stroke*headCos, stroke*headSin
	front, back := frame(fx, fy), frame(0, w)
	total := float64(m.Total())
	unsprung, sprung := []float64{2, 3}, total-5
	cx := ((1-m.RearShare)*total - unsprung[0]) * demoWheelbase / sprung
	cy := demoHeight - demoRadius
	gx := (sprung*cx + unsprung[0]*fx) / total
	gy := (sprung*cy + unsprung[0]*fy + unsprung[1]*w) / total
	centre := frame(gx, gy)

	p.line("ground", on(-370, 0), on(demoWheelbase+370, 0))
	p.circle("wheel", back, demoRadius*scale)
	p.circle("wheel", front, demoRadius*scale)
	bottom, seat := frame(430, 10), frame(330, 480)
	head, neck := frame(demoWheelbase-700*headCos, 700*headSin), frame(demoWheelbase-590*headCos, 590*headSin)
	p.line("bar", back, bottom)
	p.line("frame", seat, head, neck, bottom, seat)
	p.line("bar", front, head)
	p.line("ghost level", bottom.plus(-40, 0), bottom.plus(150, 0))
	p.line("pitch", bottom, frame(430+700, 10))
	p.circle("joint axle", back, 3.5)
	p.circle("joint axle", front, 3.5)
	p.circle("centre", centre, 6)
	p.line("axis", centre.plus(-9, 0), centre.plus(9, 0))
	p.line("axis", centre.plus(0, -9), centre.plus(0, 9))

	rearAt, frontAt := point{back.x, ground}, point{front.x, ground}
	p.force(centre, centre.plus(0, weight*perNewton), cell("%.0f N", weight), "middle", 0, -14)
	p.force(rearAt, rearAt.plus(0, -s.RearWheelLoad.Newtons()*perNewton), cell("%.0f N", s.RearWheelLoad.Newtons()), "middle", 0, 18)
	p.force(frontAt, frontAt.plus(0, -s.FrontWheelLoad.Newtons()*perNewton), cell("%.0f N", s.FrontWheelLoad.Newtons()), "middle", 0, 18)
	if braking > 0 {
		long, label := braking*weight*perNewton, cell("%.0f N", braking*weight)
		p.force(frontAt, frontAt.plus(-long, 0), label, "end", -long-6, -7)
		p.force(centre, centre.plus(long, 0), label, "start", long+6, 4)
	}
	p.measure(point{back.x, ground + 28}, point{front.x, ground + 28}, cell("D = %.0f mm", s.Wheelbase.Millimetres()), "middle", 0, 18)
	p.label("on", point{back.x - 34, ground + 48}, "start", "rear")
	p.label("on", point{front.x + 34, ground + 48}, "end", "front")
	p.text(point{(back.x + front.x) / 2, 16}, "middle", cell("pitch %.2f°, %s", math.Abs(s.Pitch.Degrees()), noseWords(s.Pitch)))
}
