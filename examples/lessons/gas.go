package main

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/units"
)

// shock is an invented air spring of one chamber.
func shock(exponent float64) airspring.Spec {
	return airspring.Spec{
		Bore: 36 * mm, Travel: 60 * mm, PositiveVolume: 85 * units.CubicCentimetre,
		Fill: units.BarGauge(10), Ambient: units.StandardAtmosphere, Exponent: exponent,
	}
}

// gas is lesson 2.
func gas(p *page) (picture.Picture, error) {
	slow, err := airspring.New(shock(1))
	if err != nil {
		return nil, err
	}
	fast, err := airspring.New(shock(1.3))
	if err != nil {
		return nil, err
	}
	// The stroke at which half of the room is left, by halving.
	start, half := slow.PositiveVolume(0), units.Length(0)
	for lo, hi := units.Length(0), slow.Travel(); hi-lo > 1e-9; {
		if half = (lo + hi) / 2; slow.PositiveVolume(half) > start/2 {
			lo = half
		} else {
			hi = half
		}
	}
	gauge := func(x units.Length) float64 { return slow.PositivePressure(x).Gauge(units.StandardAtmosphere).Bar() }
	p.say("There is no spring in an air spring, only a piston that pushes gas into less room. Half the room, twice the pressure: that is all, as long as the gas keeps its temperature. But it is the pressure above vacuum that doubles, p, and not what a gauge shows. A gauge leaves out the air outside, which is about 1 bar.")
	p.say("An invented shock: a piston of 36 mm, %.0f cm³ of air when it is fully out, 10 bar on the gauge. At %.2f mm of stroke half of the room is left. The gauge would show %.2f bar there, not 20, for %.2f bar have become %.2f.",
		start.CubicCentimetres(), half.Millimetres(), gauge(half), slow.PositivePressure(0).Bar(), slow.PositivePressure(half).Bar())
	p.say("Now the force and how fast it grows. The piston has the area A, with gas on one side and the air outside on the other. Push it in by a little, dx. The room V gets smaller by A·dx, which is the fraction A·dx/V of it, and the pressure gets higher by the same fraction of p. The force gets higher by A times that. So")
	p.show("")
	p.show("p·V = p₀·V₀          F = A·(p − p_outside)          k = A²·p/V")
	p.say("k is the rate: how much force for how much more stroke. And here is the curve: the pressure p rises, the room V shrinks, and k has the one above and the other below. Near full extension the spring is soft, near the end it is hard:")
	p.show("")
	p.show("%9s %11s %15s %9s %12s", "stroke", "room", "p above vacuum", "force", "rate")
	for _, x := range []float64{0, 15, 30, 45, 60} {
		at := units.Length(x) * mm
		p.show("%6.0f mm %7.1f cm³ %11.2f bar %7.0f N %7.1f N/mm", x, slow.PositiveVolume(at).CubicCentimetres(),
			slow.PositivePressure(at).Bar(), slow.Force(at).Newtons(), slow.Rate(at).NewtonsPerMillimetre())
	}
	p.say("Don't believe the rate, check it. At 29 mm the force is %.1f N and at 31 mm it is %.1f N: %.2f N for each millimetre, where the table has %.1f.",
		slow.Force(29*mm).Newtons(), slow.Force(31*mm).Newtons(), (slow.Force(31*mm)-slow.Force(29*mm)).Newtons()/2, slow.Rate(30*mm).NewtonsPerMillimetre())
	p.say("All that was slow: the gas gets warm when it is squeezed, and the warmth had time to leave. In a fast stroke it has not, and warm gas pushes harder. Then p·Vⁿ stays the same instead of p·V, and k is n times A²·p/V. n is 1 for slow and 1.4 for air that keeps all its warmth; a real stroke is somewhere between. With n = 1.3 the same shock ends at %.0f N instead of %.0f N, which is %.0f %% more. Which n is right for your shock only a measurement tells, so the library has no number of its own.",
		fast.Force(60*mm).Newtons(), slow.Force(60*mm).Newtons(), 100*(float64(fast.Force(60*mm)/slow.Force(60*mm))-1))
	p.say("Gas under pressure can hurt. Let all of it out before you open a chamber, never fill above the marking on the part, and use a pump made for it.")

	spaced := shock(1)
	spaced.SpacerVolume, spaced.Spacers = 10*units.CubicCentimetre, 1
	tight, err := airspring.New(spaced)
	if err != nil {
		return nil, err
	}
	p.ask("put a spacer of 10 cm³ into the chamber, so that there is less room from the start. Which end of the stroke feels it more? (Look at V in k = A²·p/V.)",
		"at the start the rate goes from %.1f to %.1f N/mm, at the end from %.0f to %.0f N/mm. 10 cm³ are a small part of %.0f cm³ and a large one of %.0f cm³.",
		slow.Rate(0).NewtonsPerMillimetre(), tight.Rate(0).NewtonsPerMillimetre(), slow.Rate(60*mm).NewtonsPerMillimetre(), tight.Rate(60*mm).NewtonsPerMillimetre(),
		start.CubicCentimetres(), slow.PositiveVolume(60*mm).CubicCentimetres())
	above, err := airspring.Atmosphere(2000 * units.Metre)
	if err != nil {
		return nil, err
	}
	up := shock(1)
	up.Ambient = above.Pressure
	high, err := airspring.New(up)
	if err != nil {
		return nil, err
	}
	p.ask("2000 m up a mountain the air outside is thinner. Filled there to 10 bar on the gauge, is it the same spring?",
		"the same at the start, %.0f N, since the gauge counts from the air outside. At the end it is %.0f N instead of %.0f N: there is less gas in it, %.2f bar above vacuum instead of %.2f.",
		high.Force(0).Newtons(), high.Force(60*mm).Newtons(), slow.Force(60*mm).Newtons(), high.PositivePressure(0).Bar(), slow.PositivePressure(0).Bar())

	at := func(f func(units.Length) float64) func(float64) float64 {
		return func(x float64) float64 { return f(units.Length(x) * mm) }
	}
	force := func(s *airspring.Spring) func(float64) float64 {
		return at(func(x units.Length) float64 { return s.Force(x).Newtons() })
	}
	rate := func(s *airspring.Spring) func(float64) float64 {
		return at(func(x units.Length) float64 { return s.Rate(x).NewtonsPerMillimetre() })
	}
	return picture.Chart{
		Title: "Force and rate of an air spring", Note: "An invented shock, slow and fast.",
		X: picture.Axis{Label: "stroke", Unit: "mm"},
		Panels: []picture.Panel{
			{Y: picture.Axis{Label: "force", Unit: "N", Zero: true}, Series: []picture.Series{line("slow", 0, 60, force(slow)), line("fast, n = 1.3", 0, 60, force(fast))}},
			{Y: picture.Axis{Label: "rate", Unit: "N/mm", Zero: true}, Series: []picture.Series{line("slow", 0, 60, rate(slow)), line("fast, n = 1.3", 0, 60, rate(fast))}},
		},
	}, nil
}
