package main

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/units"
)

// shock is an invented air spring without a negative chamber.
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
	p.say("An air spring has no spring in it: a piston pushes gas into less room. Half the room, twice the pressure, as long as the gas keeps its temperature. Note that it is the pressure above vacuum that doubles, not what the gauge shows: the gauge leaves out the air outside, about 1 bar.")
	p.say("An invented shock has a bore of 36 mm, 85 cm³ of air at full extension, and 10 bar on the gauge. Its piston sweeps %.1f cm³ over 60 mm, so %.1f cm³ are left at the end:", 85-slow.PositiveVolume(60*mm).CubicCentimetres(), slow.PositiveVolume(60*mm).CubicCentimetres())
	p.gap()
	p.show("p·V = p₀·V₀        F = A·(p − p_outside)        k = A²·p/V")
	p.say("The last one is the rate, and it is where the curve comes from: the pressure rises while the room shrinks, and both make the rate grow. Near full extension the spring is soft, near the end hard:")
	p.gap()
	p.show("%9s %10s %12s %12s %12s", "stroke", "room", "pressure", "force", "rate")
	series := func(name string, s *airspring.Spring) (f, k picture.Series) {
		f.Name, k.Name = name, name
		for i := 0; i <= 60; i++ {
			x := units.Length(i) * mm
			f.X, f.Y = append(f.X, float64(i)), append(f.Y, s.Force(x).Newtons())
			k.X, k.Y = append(k.X, float64(i)), append(k.Y, s.Rate(x).NewtonsPerMillimetre())
		}
		return f, k
	}
	for _, x := range []float64{0, 15, 30, 45, 60} {
		at := units.Length(x) * mm
		p.show("%6.0f mm %6.1f cm³ %8.1f bar(a) %8.0f N %8.1f N/mm", x, slow.PositiveVolume(at).CubicCentimetres(),
			slow.PositivePressure(at).Bar(), slow.Force(at).Newtons(), slow.Rate(at).NewtonsPerMillimetre())
	}
	p.say("That was slow: the heat of squeezing had time to leave. Over a fast stroke it has not, the gas gets hot, and hot gas pushes harder: p·Vⁿ stays the same instead, with n between 1 and about 1.4. With n = 1.3 the same shock ends at %.0f N instead of %.0f N, %.0f %% more. The exponent of a real stroke depends on the shock and is yours to state; no number is built in.",
		fast.Force(60*mm).Newtons(), slow.Force(60*mm).Newtons(), 100*(float64(fast.Force(60*mm)/slow.Force(60*mm))-1))
	p.say("To try: put in a spacer, so that less room is left. Which end of the curve feels it more? (Think of V in k = A²·p/V.)")
	p.say("Air under pressure can hurt: let all of it out before opening a chamber, never fill above the marking, and use a pump made for it.")
	fs, ks := series("slow", slow)
	ff, kf := series("fast, n = 1.3", fast)
	return picture.Chart{
		Title: "Force and rate of an air spring", Note: "An invented shock.",
		X: picture.Axis{Label: "stroke", Unit: "mm"},
		Panels: []picture.Panel{
			{Y: picture.Axis{Label: "force", Unit: "N", Zero: true}, Series: []picture.Series{fs, ff}},
			{Y: picture.Axis{Label: "rate", Unit: "N/mm", Zero: true}, Series: []picture.Series{ks, kf}},
		},
	}, nil
}

// chambers is lesson 4.
func chambers(p *page) (picture.Picture, error) {
	one := airspring.Spec{
		Bore: 36 * mm, Travel: 160 * mm, PositiveVolume: 250 * units.CubicCentimetre,
		Fill: units.BarGauge(5), Ambient: units.StandardAtmosphere, Exponent: 1,
	}
	two := one
	two.Shaft, two.NegativeVolume, two.PortTravel = 10*mm, 60*units.CubicCentimetre, 7*mm
	a, err := airspring.New(one)
	if err != nil {
		return nil, err
	}
	b, err := airspring.New(two)
	if err != nil {
		return nil, err
	}
	p.say("An invented fork with one chamber, a bore of 36 mm and 5 bar on the gauge, pushes itself out with %.0f N before anybody sits on it. So much must be on the wheel before it moves at all: small bumps are not felt by the spring but by the hands.", a.Force(0).Newtons())
	p.say("So a second, negative chamber sits on the other side of the piston and pulls it in. How hard must it pull? As hard as the first one pushes, whatever the fill; and a rider can't be asked to set two pressures to match. The trick is a small port in the wall: when the piston passes it, %.0f mm into the travel, both chambers are one, and have one pressure. Past it each keeps its gas.", two.PortTravel.Millimetres())
	p.say("With 60 cm³ of negative chamber the same fork at full extension pushes with %.0f N: it even pulls itself in by %.1f mm until both sides balance. Farther in, the negative chamber grows large and weak, and the two forks come together:", b.Force(0).Newtons(), b.RestTravel().Millimetres())
	p.gap()
	p.show("%9s %14s %14s", "travel", "one chamber", "two chambers")
	single, double := picture.Series{Name: "one chamber"}, picture.Series{Name: "two chambers"}
	for i := 0; i <= 160; i++ {
		x := units.Length(i) * mm
		single.X, single.Y = append(single.X, float64(i)), append(single.Y, a.Force(x).Newtons())
		double.X, double.Y = append(double.X, float64(i)), append(double.Y, b.Force(x).Newtons())
	}
	for _, x := range []float64{0, 5, 10, 20, 40, 80, 120, 160} {
		p.show("%6.0f mm %12.0f N %12.0f N", x, a.Force(units.Length(x)*mm).Newtons(), b.Force(units.Length(x)*mm).Newtons())
	}
	plan, err := airspring.PlanTopUp(airspring.TopUpOf(two, units.BarGauge(5.5), units.PSIGauge(0.5)))
	if err != nil {
		return nil, err
	}
	p.say("It has a price at the pump. The pump reaches the first chamber only. Raise the fork from 5 to 5.5 bar, cycle it past the port, and gas flows over: the gauge then shows %.2f bar, not 5.50. Pump again, cycle again: after %d rounds it stays within half a psi.", plan.Reading[0].Bar(), plan.Cycles)
	p.say("To try: is the gauge low or high after letting air out and cycling? And what would a larger negative chamber change?")
	return picture.Chart{
		Title: "One chamber and two", Note: "An invented fork at one fill.",
		X:      picture.Axis{Label: "travel along the stanchion", Unit: "mm"},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "force", Unit: "N"}, Series: []picture.Series{single, double}}},
		Marks:  []picture.Mark{{Label: "port", At: 7}},
	}, nil
}
