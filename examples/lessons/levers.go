package main

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func at(x, y float64) mechanism.Point {
	return mechanism.Point{units.Length(x) * mm, units.Length(y) * mm}
}

// fourBar is an invented four-bar whose lever ratio falls.
func fourBar() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M": at(14, 53), "H": at(-390, 32), "A": at(-437, 30), "T": at(-144, 387), "R": at(-20, 302), "S1": at(52, 330), "S2": at(36, 113),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "A", "T"}, "rocker": {"T", "R", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 62.5 * mm,
	}
}

// levers is lesson 3.
func levers(p *page) (picture.Picture, error) {
	k, err := mechanism.New(fourBar())
	if err != nil {
		return nil, err
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: k.Stroke()})
	if err != nil {
		return nil, err
	}
	curve, err := linkage.Compile(k)
	if err != nil {
		return nil, err
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		return nil, err
	}
	start := k.Pose(0).LeverRatio
	// The two parts of the wheel rate in N/mm, from where the pivots stand.
	parts := func(s units.Length) (first, second float64) {
		lr, slope := k.Pose(s).LeverRatio, float64(k.Pose(s).LeverRatioSlope)
		return coil.Rate(s).NewtonsPerMillimetre() / lr / lr, -coil.Force(s).Newtons() * slope / lr / lr / lr / 1000
	}
	p.say("Between the rear wheel and its spring are levers. Let the wheel rise by a little, dw, and the spring gets shorter by ds. The lever ratio is LR = dw/ds: so many millimetres of wheel for one of the spring, often between 2 and 3. Levers make no work and, but for friction, lose none. What the wheel puts in, F_wheel·dw, is what the spring gets, F_spring·ds, and so")
	p.show("")
	p.show("F_wheel = F_spring/LR")
	p.say("How much does F_wheel grow for each millimetre of wheel? That is the rate at the wheel, which is what you feel. If LR were always the same: the spring is pressed only 1/LR as far, and of its force only 1/LR arrives, which makes k/LR². A spring of 80 N/mm behind %.2f gives %.2f N/mm. That is the rule of thumb, and it is right only where LR stays the same.",
		start, 80/start/start)
	p.say("On most bikes it changes on the way. Then F_spring/LR changes for two reasons, and for a fraction both count, as in (u/v)′ = u′/v − u·v′/v². Taken by the stroke s of the spring, that is k/LR − F_spring·LR′/LR², with LR′ = dLR/ds, how much the ratio changes for each metre of stroke. And a bit of w has only 1/LR as much s in it:")
	p.show("")
	p.show("k_wheel = k/LR² − F_spring·LR′/LR³")
	p.say("The second part does not ask how hard the spring is. It asks how much force is in it. Where the ratio falls (LR′ below 0) it makes the wheel harder. An invented four-bar linkage, its pivots solved at each stroke:")
	p.show("")
	p.show("%8s %8s %10s %10s %12s %11s", "travel", "LR", "LR′", "k/LR²", "second part", "wheel rate")
	for i := 0.0; i <= 10; i++ {
		s := k.Stroke() * units.Length(i) / 10
		first, second := parts(s)
		pose := k.Pose(s)
		p.show("%5.1f mm %8.3f %6.1f /m %10.2f %12.2f %6.2f N/mm", pose.Travel.Millimetres(), pose.LeverRatio, float64(pose.LeverRatioSlope), first, second, wheel.Rate(pose.Travel).NewtonsPerMillimetre())
	}
	middle := k.Pose(k.Stroke() / 2)
	w := middle.Travel
	low, high := wheel.Force(w-0.5*mm), wheel.Force(w+0.5*mm)
	first, _ := parts(middle.Stroke)
	rate := wheel.Rate(w).NewtonsPerMillimetre()
	p.say("Don't believe it, check it. The middle of the stroke is at %.1f mm of travel. Half a millimetre before it the force at the wheel is %.2f N, half a millimetre after it %.2f N: %.2f N for one millimetre. Both parts together say %.2f, the rule of thumb %.2f. Leave the second part out and the rate is %.0f %% too low here, and how fast the bike bounces on its spring comes out %.0f %% too slow, for that goes with the root of the rate.",
		w.Millimetres(), low.Newtons(), high.Newtons(), (high - low).Newtons(), rate, first, 100*(1-first/rate), 100*(1-math.Sqrt(first/rate)))

	// Where the second part is gone: the slope of the ratio passes 0.
	turn := units.Length(0)
	for lo, hi := k.Stroke()/2, k.Stroke(); hi-lo > 1e-9; {
		if turn = (lo + hi) / 2; k.Pose(turn).LeverRatioSlope < 0 {
			lo = turn
		} else {
			hi = turn
		}
	}
	p.ask("at which travel does the rule of thumb become right again on this bike, and what happens after that?",
		"at %.1f mm, where LR is least, %.4f, and LR′ is 0. After that LR rises, and the second part makes the wheel softer.", k.Pose(turn).Travel.Millimetres(), k.Pose(turn).LeverRatio)
	answer, err := softening()
	if err != nil {
		return nil, err
	}
	p.ask("can the rate at the wheel be below 0, though the spring is a good one? (Which kind of spring has much force and little rate?)",
		"yes. The air shock of lesson 2 starts with %.0f N and only %.1f N/mm. Behind a ratio of 2.5 all of its rate is gone once LR rises by k·LR/F = %.1f for each metre of stroke. With 40 the library finds %.2f N/mm at the wheel: the farther in, the less force against you, until the shock gets hard by itself.",
		answer.force, answer.rate, answer.limit, answer.wheel)

	travel := k.Travel().Millimetres()
	return picture.Chart{
		Title: "What the levers make of 80 N/mm", Note: "An invented four-bar linkage.",
		X: picture.Axis{Label: "vertical wheel travel", Unit: "mm"},
		Panels: []picture.Panel{
			{Y: picture.Axis{Label: "lever ratio"}, Series: []picture.Series{line("lever ratio", 0, travel, func(w float64) float64 {
				return curve.LeverRatio(curve.StrokeAt(units.Length(w) * mm))
			})}},
			{Y: picture.Axis{Label: "wheel rate", Unit: "N/mm", Zero: true}, Series: []picture.Series{
				line("wheel rate", 0, travel, func(w float64) float64 { return wheel.Rate(units.Length(w) * mm).NewtonsPerMillimetre() }),
				line("k/LR² alone", 0, travel, func(w float64) float64 {
					lr := curve.LeverRatio(curve.StrokeAt(units.Length(w) * mm))
					return 80 / lr / lr
				}),
			}},
		},
		Marks: []picture.Mark{{Label: "LR′ = 0", At: k.Pose(turn).Travel.Millimetres()}},
	}, nil
}

// soft is an air shock behind a ratio that rises from 2.5.
type soft struct{ force, rate, limit, wheel float64 }

func softening() (soft, error) {
	air, err := airspring.New(shock(1))
	if err != nil {
		return soft{}, err
	}
	var t linkage.Table // w = 2.5·s + 20·s² in metres: LR′ = 40 1/m
	t.Method = linkage.Smooth
	for i := 0.0; i <= 12; i++ {
		s := 0.005 * i
		t.Stroke, t.Travel = append(t.Stroke, units.Length(s)), append(t.Travel, units.Length(2.5*s+20*s*s))
	}
	curve, err := linkage.NewTable(t)
	if err != nil {
		return soft{}, err
	}
	wheel, err := linkage.AtWheel(curve, air)
	if err != nil {
		return soft{}, err
	}
	f, k := air.Force(0).Newtons(), air.Rate(0).NewtonsPerMillimetre()
	return soft{f, k, 1000 * k * 2.5 / f, wheel.Rate(0).NewtonsPerMillimetre()}, nil
}
