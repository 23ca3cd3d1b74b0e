package main

import (
	"math"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func at(x, y float64) linkage.Point {
	return linkage.Point{units.Length(x) * mm, units.Length(y) * mm}
}

// fourBar is an invented four-bar whose lever ratio falls.
func fourBar() linkage.Mechanism {
	return linkage.Mechanism{
		Points: map[string]linkage.Point{
			"M": at(14, 53), "H": at(-390, 32), "A": at(-437, 30), "T": at(-144, 387), "R": at(-20, 302), "S1": at(52, 330), "S2": at(36, 113),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "A", "T"}, "rocker": {"T", "R", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 62.5 * mm,
	}
}

// levers is lesson 3.
func levers(p *page) (picture.Picture, error) {
	k, err := linkage.NewMechanism(fourBar())
	if err != nil {
		return nil, err
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: k.Stroke()})
	if err != nil {
		return nil, err
	}
	wheel, err := linkage.AtWheel(k.Curve(), coil)
	if err != nil {
		return nil, err
	}
	p.say("Between the rear wheel and its spring are levers. Let the wheel rise by a little, dw, and the shock gets shorter by ds. The lever ratio is LR = dw/ds, between 2 and 3 on most bikes. No friction, so what the wheel puts in the spring gets: F_wheel·dw = F_spring·ds, and so")
	p.gap()
	p.show("F_wheel = F_spring/LR")
	p.say("The spring is pressed LR times less far and its force counts 1/LR: the rate at the wheel is k/LR². A spring of 80 N/mm behind a ratio of 2.9 gives 80/2.9² = %.1f N/mm. That is what is usually printed, and it is wrong for nearly every bike, for the ratio changes along the way. Take F_spring/LR and ask how it changes with the travel:", 80/2.9/2.9)
	p.gap()
	p.show("k_wheel = k/LR² − F_spring·LR′/LR³        LR′ = dLR/ds")
	p.say("The second part has nothing to do with how hard the spring is: it grows with the force that it carries, and where the ratio falls (LR′ below 0) it makes the wheel harder. An invented four-bar, its pivots solved for every stroke:")
	p.gap()
	p.show("%8s %8s %9s %12s %12s %12s", "travel", "ratio", "LR′", "k/LR²", "second part", "wheel rate")
	first, whole := picture.Series{Name: "k/LR² alone"}, picture.Series{Name: "wheel rate"}
	ratio := picture.Series{Name: "lever ratio"}
	for i := 0; i <= 100; i++ {
		s := k.Stroke() * units.Length(i) / 100
		pose := k.Pose(s)
		part := 80 / pose.LeverRatio / pose.LeverRatio
		rate := wheel.Rate(pose.Travel).NewtonsPerMillimetre()
		w := pose.Travel.Millimetres()
		first.X, first.Y = append(first.X, w), append(first.Y, part)
		whole.X, whole.Y = append(whole.X, w), append(whole.Y, rate)
		ratio.X, ratio.Y = append(ratio.X, w), append(ratio.Y, pose.LeverRatio)
		if i%20 == 0 {
			p.show("%5.1f mm %8.3f %5.1f 1/m %7.2f N/mm %7.2f N/mm %7.2f N/mm", w, pose.LeverRatio, float64(pose.LeverRatioSlope), part, rate-part, rate)
		}
	}
	middle := k.Pose(k.Stroke() / 2)
	part := 80 / middle.LeverRatio / middle.LeverRatio
	p.say("Half way through the stroke the second part is %.0f %% of the whole. Leave it out and every frequency that follows is wrong by about half of that, since a frequency goes with the root of the rate.",
		100*(1-part/wheel.Rate(middle.Travel).NewtonsPerMillimetre()))
	p.say("To try: what if the ratio rises instead? Can the wheel rate become negative while the spring is a good one? (It can: then a bump in the middle of the travel finds less and less force against it.)")
	return picture.Chart{
		Title: "What the levers make of 80 N/mm", Note: "An invented four-bar.",
		X: picture.Axis{Label: "vertical wheel travel", Unit: "mm"},
		Panels: []picture.Panel{
			{Y: picture.Axis{Label: "lever ratio"}, Series: []picture.Series{ratio}},
			{Y: picture.Axis{Label: "wheel rate", Unit: "N/mm", Zero: true}, Series: []picture.Series{whole, first}},
		},
	}, nil
}

// sure is lesson 5.
func sure(p *page) (picture.Picture, error) {
	k, err := linkage.NewMechanism(fourBar())
	if err != nil {
		return nil, err
	}
	p.say("Every number that is measured is a little wrong. The question is what that does to the answer. First rule: errors that have nothing to do with each other don't add up, their squares do. Two of 3 %% and 4 %% make 5 %%, for one is rarely at its worst when the other is.")
	rate, err := spring.MeasureRate(spring.Caliper{
		WireDiameter: 8 * mm, OuterDiameter: 51 * mm, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal,
		WireUncertainty: 0.03 * mm, DiameterUncertainty: 0.1 * mm, CoilUncertainty: 0.1, ModulusUncertainty: 500 * units.Megapascal,
	})
	if err != nil {
		return nil, err
	}
	p.say("Second rule: powers multiply. The rate of a spring goes with four powers of its wire, so 0.03 mm on 8 mm, a third of a per cent, are well over one per cent of rate. Measured with a caliper, an invented spring comes out as %.1f ± %.1f N/mm, and of the variance of that:",
		rate.Rate.NewtonsPerMillimetre(), rate.RateUncertainty.NewtonsPerMillimetre())
	p.gap()
	for _, b := range rate.Budget {
		if b.Share > 0.001 {
			p.show("%4.0f %%  %s", 100*b.Share, map[string]string{
				"wire_diameter": "wire diameter", "outer_diameter": "outer diameter", "active_coils": "count of active coils", "shear_modulus": "shear modulus"}[b.Input])
		}
	}
	p.say("So know %s better first; whoever sharpens a figure with a small share has worked for nothing. That is what such a table is for: it says where the next ten minutes are well spent.",
		map[string]string{"wire_diameter": "the wire", "outer_diameter": "the diameter", "active_coils": "the count of coils", "shear_modulus": "the modulus"}[rate.Dominant])
	p.say("Third rule: never divide small differences. Say the wheel's travel is read every 5 mm of stroke to ±0.1 mm, and the lever ratio taken from neighbours: 0.1·√2/5 = %.3f of error, and reading every 2.5 mm makes it worse, %.3f. Draw a smooth curve near all readings instead, and every reading helps. With the same made-up errors on our four-bar:", 0.1*math.Sqrt2/5, 0.1*math.Sqrt2/2.5)
	// Errors that look like chance and are always the same: ±0.1 mm or less.
	var readings linkage.Readings
	var chord, fitted, truth picture.Series
	chord.Name, fitted.Name, truth.Name = "neighbours", "curve near all", "truth"
	const n = 25
	for i := 0; i <= n; i++ {
		s := k.Stroke() * units.Length(i) / n
		e := 0.1 * math.Sin(float64(7*i*i)) // mm
		if i == 0 {
			e = 0
		}
		readings.Stroke = append(readings.Stroke, s)
		readings.Travel = append(readings.Travel, k.Pose(s).Travel+units.Length(e)*mm)
	}
	fit, err := linkage.FitReadings(readings)
	if err != nil {
		return nil, err
	}
	worstChord, worstFit := 0.0, 0.0
	for i := 1; i <= n; i++ {
		s := (readings.Stroke[i] + readings.Stroke[i-1]) / 2
		r := float64((readings.Travel[i] - readings.Travel[i-1]) / (readings.Stroke[i] - readings.Stroke[i-1]))
		exact, smooth := k.Pose(s).LeverRatio, fit.Curve().LeverRatio(s)
		worstChord, worstFit = max(worstChord, math.Abs(r-exact)), max(worstFit, math.Abs(smooth-exact))
		x := s.Millimetres()
		chord.X, chord.Y = append(chord.X, x), append(chord.Y, r)
		fitted.X, fitted.Y = append(fitted.X, x), append(fitted.Y, smooth)
		truth.X, truth.Y = append(truth.X, x), append(truth.Y, exact)
	}
	p.gap()
	p.show("worst error of the lever ratio from neighbours   %.3f", worstChord)
	p.show("                           from a curve near all  %.3f", worstFit)
	load, err := sag.NewLoads(sag.Masses{RiderMass: 80, BikeMass: 16, UnsprungRear: 3, RearShare: 0.6})
	if err != nil {
		return nil, err
	}
	want, err := sag.RequiredRate(k.Curve(), sag.Target{Load: load.Rear, Sag: 0.28}, 0)
	if err != nil {
		return nil, err
	}
	more, err := sag.NewLoads(sag.Masses{RiderMass: 82, BikeMass: 16, UnsprungRear: 3, RearShare: 0.6})
	if err != nil {
		return nil, err
	}
	other, err := sag.RequiredRate(k.Curve(), sag.Target{Load: more.Rear, Sag: 0.28}, 0)
	if err != nil {
		return nil, err
	}
	p.say("And what of it all matters? A rider of 80 kg on this bike wants %.0f lbf/in for 28 %% sag; one of 82 kg, %.0f lbf/in. Springs are often sold in steps of 25. Two kilograms of water and tools are worth half a step: weigh the rider dressed to ride.",
		want.Rate.PoundsForcePerInch(), other.Rate.PoundsForcePerInch())
	p.say("To try: the program setup tells all this for a whole bike, when the job says how well its numbers are known.")
	return picture.Chart{
		Title: "Lever ratio from readings with errors", Note: "An invented four-bar, readings to ±0.1 mm.",
		X:      picture.Axis{Label: "stroke", Unit: "mm"},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "lever ratio"}, Series: []picture.Series{truth, fitted, chord}}},
	}, nil
}
