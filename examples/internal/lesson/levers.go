package lesson

import (
	"math"
	"sync"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

var levers = Lesson{
	Name: "levers", Title: "What the chain of levers does to a rate",
	About: "Between wheel and spring are levers. What becomes of the spring's rate on the way?",
	Sliders: []Slider{
		{Name: "stroke", Label: "Stroke of the shock", Unit: "mm", Min: 0, Max: 62.5, Step: 0.25, Start: 25},
		{Name: "rate", Label: "Spring", Unit: "N/mm", Min: 40, Max: 120, Step: 1, Start: 80},
	},
	write: writeLevers,
}

func placed(x, y float64) mechanism.Point {
	return mechanism.Point{units.Length(x) * mm, units.Length(y) * mm}
}

// fourBar is an invented four-bar whose lever ratio falls.
func fourBar() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M": placed(14, 53), "H": placed(-390, 32), "A": placed(-437, 30), "T": placed(-144, 387), "R": placed(-20, 302), "S1": placed(52, 330), "S2": placed(36, 113),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "A", "T"}, "rocker": {"T", "R", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 62.5 * mm,
	}
}

// The four-bar solved, and its curve: they don't depend on a slider.
var (
	solved   = sync.OnceValue(func() *mechanism.Mechanism { return must(mechanism.New(fourBar())) })
	compiled = sync.OnceValue(func() *linkage.Curve { return must(linkage.Compile(solved())) })
)

func writeLevers(c *Content, v Values) {
	k, curve := solved(), compiled()
	coil := must(spring.NewLinear(spring.Linear{Rate: units.Stiffness(v["rate"]) * npm, Travel: k.Stroke()}))
	wheel := must(linkage.AtWheel(curve, coil))
	start := k.Pose(0).LeverRatio
	// The two parts of the wheel rate in N/mm, from where the pivots stand.
	parts := func(s units.Length) (first, second float64) {
		lr, slope := k.Pose(s).LeverRatio, float64(k.Pose(s).LeverRatioSlope)
		return coil.Rate(s).NewtonsPerMillimetre() / lr / lr, -coil.Force(s).Newtons() * slope / lr / lr / lr / 1000
	}
	c.say("Between the rear wheel and its spring are levers. Let the wheel rise by a little, dw, and the spring gets shorter by ds. The lever ratio is LR = dw/ds: so many millimetres of wheel for one of the spring, often between 2 and 3. Levers make no work and, but for friction, lose none. What the wheel puts in, F_wheel·dw, is what the spring gets, F_spring·ds, and so")
	c.show("F_wheel = F_spring/LR")
	c.say("How much does F_wheel grow for each millimetre of wheel? That is the rate at the wheel, which is what you feel. If LR were always the same: the spring is pressed only 1/LR as far, and of its force only 1/LR arrives, which makes k/LR². A spring of %.0f N/mm behind %.2f gives %.2f N/mm. That is the rule of thumb, and it is right only where LR stays the same.",
		v["rate"], start, v["rate"]/start/start)
	c.say("On most bikes it changes on the way. Then F_spring/LR changes for two reasons, and for a fraction both count, as in (u/v)′ = u′/v − u·v′/v². Taken by the stroke s of the spring, that is k/LR − F_spring·LR′/LR², with LR′ = dLR/ds, how much the ratio changes for each metre of stroke. And a bit of w has only 1/LR as much s in it:")
	c.show("k_wheel = k/LR² − F_spring·LR′/LR³")
	c.say("The second part does not depend on how hard the spring is, but on how much force is in it. Where the ratio falls (LR′ below 0) it makes the wheel harder. An invented four-bar linkage, its pivots solved at each stroke:")
	var rows [][]string
	for i := 0.0; i <= 10; i++ {
		s := k.Stroke() * units.Length(i) / 10
		first, second := parts(s)
		pose := k.Pose(s)
		rows = append(rows, []string{cell("%.1f mm", pose.Travel.Millimetres()), cell("%.3f", pose.LeverRatio), cell("%.1f /m", float64(pose.LeverRatioSlope)),
			cell("%.2f", first), cell("%.2f", second), cell("%.2f N/mm", wheel.Rate(pose.Travel).NewtonsPerMillimetre())})
	}
	c.table([]string{"travel", "LR", "LR′", "k/LR²", "second part", "wheel rate"}, rows...)
	middle := k.Pose(k.Stroke() / 2)
	w := middle.Travel
	low, high := wheel.Force(w-0.5*mm), wheel.Force(w+0.5*mm)
	first, _ := parts(middle.Stroke)
	rate := wheel.Rate(w).NewtonsPerMillimetre()
	c.say("Don't believe it, check it. The middle of the stroke is at %.1f mm of travel. Half a millimetre before it the force at the wheel is %.2f N, half a millimetre after it %.2f N: %.2f N for one millimetre. Both parts together say %.2f, the rule of thumb %.2f. Leave the second part out and the rate is %.0f %% too low here, and how fast the bike bounces on its spring comes out %.0f %% too slow, for that goes with the root of the rate.",
		w.Millimetres(), low.Newtons(), high.Newtons(), (high - low).Newtons(), rate, first, percent(1-first/rate), percent(1-math.Sqrt(first/rate)))

	here := k.Pose(v.mm("stroke"))
	one, two := parts(here.Stroke)
	whole := wheel.Rate(here.Travel).NewtonsPerMillimetre()
	c.now("%.1f mm of stroke are %.1f mm at the wheel, and the ratio is %.3f. The spring pushes with %.0f N, the wheel with %.0f N. The rule of thumb says %.2f N/mm, the second part adds %.2f: %.2f N/mm.",
		here.Stroke.Millimetres(), here.Travel.Millimetres(), here.LeverRatio, coil.Force(here.Stroke).Newtons(), wheel.Force(here.Travel).Newtons(), one, two, whole)

	// Where the second part is gone: the slope of the ratio passes 0.
	turn := k.Pose(units.Length(must(root.Find(func(s float64) float64 { return float64(k.Pose(units.Length(s)).LeverRatioSlope) }, float64(k.Stroke()/2), float64(k.Stroke()), 1e-9))))
	c.estimate("At which travel of the wheel does the rule of thumb become right again on this bike? Look where the two curves meet.", turn.Travel.Millimetres(), 2, "mm")
	c.explain("At %.1f mm, where LR is least, %.4f, and LR′ is 0. After that LR rises, and the second part makes the wheel softer.", turn.Travel.Millimetres(), turn.LeverRatio)
	soft := softening()
	c.choose("Can the rate at the wheel be below 0, though the spring is a good one? Which kind of spring has much force and little rate?",
		[]string{"Yes, with an air spring", "No, no spring gives way as it is pressed"}, whichOf(soft.wheel < 0, true))
	c.explain("The air shock of the lesson on gas starts with %.0f N and only %.1f N/mm. Behind a ratio of 2.5 all of its rate is gone once LR rises by k·LR/F = %.1f for each metre of stroke. With 40 the library finds %.2f N/mm at the wheel: the farther in, the less force against you, until the shock gets hard by itself.",
		soft.force, soft.rate, soft.limit, soft.wheel)

	travel := along(0, k.Travel().Millimetres(), 60)
	c.Curve = Curve{
		Title: "Rate at the wheel over its travel", X: Axis{Label: "vertical wheel travel", Unit: "mm"}, Y: Axis{Label: "wheel rate", Unit: "N/mm", Loose: true},
		Lines: []Line{
			{"wheel rate", travel, at(travel, func(w float64) float64 { return wheel.Rate(units.Length(w) * mm).NewtonsPerMillimetre() })},
			{"k/LR² alone", travel, at(travel, func(w float64) float64 {
				lr := curve.LeverRatio(curve.StrokeAt(units.Length(w) * mm))
				return v["rate"] / lr / lr
			})},
		},
		Dot: [2]float64{here.Travel.Millimetres(), whole},
	}
	c.Drawing.Title = "The rear of an invented bike, from the drive side"
	c.Drawing.Desc = cell("The shock is %.2f mm shorter and the wheel %.1f mm higher than at full extension. The ground pushes the wheel up with %.0f N; the spring pushes the rocker with %.0f N.",
		here.Stroke.Millimetres(), here.Travel.Millimetres(), wheel.Force(here.Travel).Newtons(), coil.Force(here.Stroke).Newtons())
	drawLevers(&c.Drawing, here, wheel.Force(here.Travel).Newtons(), coil.Force(here.Stroke).Newtons())
}

// soft is an air shock behind a ratio that rises from 2.5.
type soft struct{ force, rate, limit, wheel float64 }

var softening = sync.OnceValue(func() soft {
	air := must(airspring.New(shock(10, 1)))
	t := linkage.Table{Method: linkage.Smooth} // w = 2.5·s + 20·s² in metres: LR′ = 40 1/m
	for i := 0.0; i <= 12; i++ {
		s := 0.005 * i
		t.Stroke, t.Travel = append(t.Stroke, units.Length(s)), append(t.Travel, units.Length(2.5*s+20*s*s))
	}
	wheel := must(linkage.AtWheel(must(linkage.NewTable(t)), air))
	f, k := air.Force(0).Newtons(), air.Rate(0).NewtonsPerMillimetre()
	return soft{f, k, 1000 * k * 2.5 / f, wheel.Rate(0).NewtonsPerMillimetre()}
})

// drawLevers draws the four-bar at 0.34 pixels for each millimetre, and forces at
// 0.009 pixels for each newton.
func drawLevers(p *Drawing, pose mechanism.Pose, wheelForce, springForce float64) {
	const scale, perNewton, radius = 0.34, 0.009, 350.0
	p.size(360, 304)
	on := func(at mechanism.Point) point {
		return point{274 + at[0].Millimetres()*scale, 186 - at[1].Millimetres()*scale}
	}
	places := solved().Positions(pose.Stroke)
	join := func(names ...string) (list []point) {
		for _, n := range names {
			list = append(list, on(places[n]))
		}
		return list
	}
	axle, rest := on(places["A"]), on(fourBar().Points["A"])
	p.circle("wheel", axle, radius*scale)
	p.line("ghost", rest.plus(-12, radius*scale), rest.plus(12, radius*scale))
	p.shape("frame", join("M", "R", "S2")...)
	p.line("bar", join("M", "H")...)
	p.shape("bar", join("H", "A", "T")...)
	p.shape("bar", join("T", "R", "S1")...)
	s1, s2 := on(places["S1"]), on(places["S2"])
	p.coil(s1, s2, 20, 7)
	for _, name := range []string{"M", "H", "T", "R", "S1", "S2"} {
		p.circle("joint", on(places[name]), 3)
	}
	p.circle("joint axle", axle, 4)
	p.measure(rest.plus(-64, 0), point{rest.x - 64, axle.y}, cell("%.1f mm", pose.Travel.Millimetres()), "middle", 0, 4-(rest.y-axle.y)/2-12)
	p.line("ghost", rest.plus(-70, 0), rest.plus(-6, 0))
	p.label("faint", rest.plus(-64, 17), "middle", "wheel")
	contact := axle.plus(0, radius*scale)
	p.force(contact, contact.plus(0, -wheelForce*perNewton), cell("%.0f N", wheelForce), "start", 8, -4)
	along := s1.towards(s2, -springForce*perNewton)
	p.force(s1, along, cell("%.0f N", springForce), "start", 14, 4)
	p.text(point{(s1.x+s2.x)/2 + 18, (s1.y+s2.y)/2 + 8}, "start", cell("s = %.1f", pose.Stroke.Millimetres()))
}
