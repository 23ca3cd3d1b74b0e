package main

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/units"
)

// fork is an invented fork with a negative chamber of so many cubic
// centimetres, or with none for 0.
func fork(negative float64) airspring.Spec {
	s := airspring.Spec{
		Bore: 36 * mm, Travel: 160 * mm, PositiveVolume: 250 * units.CubicCentimetre,
		Fill: units.BarGauge(5), Ambient: units.StandardAtmosphere, Exponent: 1,
	}
	if negative > 0 {
		s.Shaft, s.NegativeVolume, s.PortTravel = 10*mm, units.Volume(negative)*units.CubicCentimetre, 7*mm
	}
	return s
}

// chambers is lesson 4.
func chambers(p *page) (picture.Picture, error) {
	one, err := airspring.New(fork(0))
	if err != nil {
		return nil, err
	}
	two, err := airspring.New(fork(60))
	if err != nil {
		return nil, err
	}
	spec := fork(60)
	p.say("An invented fork has one chamber, a piston of 36 mm and 5 bar on the gauge. It pushes itself out with %.0f N before anybody sits on it, and does not move at all until that much stands on it. Small bumps are then not for the spring but for your hands.", one.Force(0).Newtons())
	p.say("So a second chamber, the negative one, sits on the other side of the piston and pulls it in. How hard must it pull? As hard as the first one pushes, whatever you pumped in. Nobody wants to set two pressures to match, so there is a trick: a small port in the wall. When the piston passes it, %.0f mm into the travel, gas flows from one chamber to the other until both have the same pressure. Past it each keeps what it has.", spec.PortTravel.Millimetres())
	port := spec.PortTravel
	same := two.PositivePressure(port)
	p.say("At the port one pressure, %.2f bar above vacuum, pushes on both sides of the piston, and nearly all of the force is gone. Nearly: the shaft of 10 mm takes away a bit of the one side. On that bit the pressure finds only the air outside against it, and what is left is", same.Bar())
	p.show("")
	p.show("F = A_shaft·(p − p_outside) = %.2f mm² · %.4f N/mm² = %.1f N", shaftArea(spec), (same-spec.Ambient).Pascals()/1e6, two.Force(port).Newtons())
	p.say("Let the fork come out those last %.0f mm, and the negative chamber gets smaller and stronger, the positive one larger and weaker: at full extension the force is %.0f N, below zero. It pulls itself in and rests at %.1f mm. Push it the other way, and the negative chamber grows large and weak, so that the two forks come together:",
		port.Millimetres(), two.Force(0).Newtons(), two.RestTravel().Millimetres())
	p.show("")
	p.show("%9s %14s %15s", "travel", "one chamber", "two chambers")
	for _, x := range []float64{0, 5, 7, 10, 20, 40, 80, 120, 160} {
		p.show("%6.0f mm %12.0f N %13.0f N", x, one.Force(units.Length(x)*mm).Newtons(), two.Force(units.Length(x)*mm).Newtons())
	}
	up, err := airspring.PlanTopUp(airspring.TopUpOf(spec, units.BarGauge(5.5), units.BarGauge(0.02)))
	if err != nil {
		return nil, err
	}
	p.say("It has a price at the pump, for the pump reaches the first chamber only. Go from 5 to 5.5 bar, push the fork past the port a few times, and gas flows over: the gauge now shows %.2f bar. The negative chamber takes %.0f %% of every change, so what is still missing shrinks to that each time. After %d rounds of pumping and pushing it stays within 0.02 bar.",
		up.Reading[0].Bar(), 100*up.Carry, up.Cycles)
	p.say("Gas under pressure can hurt. Let all of it out before you open a chamber, never fill above the marking on the part, and use a pump made for it.")

	full := spec
	full.Fill = units.BarGauge(5.5)
	down, err := airspring.PlanTopUp(airspring.TopUpOf(full, units.BarGauge(5), units.BarGauge(0.02)))
	if err != nil {
		return nil, err
	}
	p.ask("go down instead, from 5.5 to 5 bar. Why not let the air out in one go?",
		"the pump lets out the first chamber alone. The second one is still full and pulls the fork in, past its port. So let out no more than to %.2f bar, where the fork stands %.1f mm in, push it past the port so that gas flows back out of the negative chamber, and do so again: after %d rounds it is within 0.02 bar.",
		down.Steps[0].After.Bar(), down.Steps[0].Stands.Millimetres(), down.Cycles)
	large, err := airspring.New(fork(90))
	if err != nil {
		return nil, err
	}
	p.ask("make the negative chamber larger, 90 cm³ instead of 60. What happens at a quarter of the travel, and why?",
		"at 40 mm the force is %.0f N instead of %.0f N, and at 160 mm %.0f N instead of %.0f N. A larger chamber gets weaker more slowly, so it pulls farther into the travel.",
		large.Force(40*mm).Newtons(), two.Force(40*mm).Newtons(), large.Force(160*mm).Newtons(), two.Force(160*mm).Newtons())
	return picture.Chart{
		Title: "One chamber and two", Note: "An invented fork, 5 bar on the gauge in both.",
		X: picture.Axis{Label: "travel along the stanchion", Unit: "mm"},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "force", Unit: "N", Min: -200, Max: 1800}, Series: []picture.Series{
			line("one chamber", 0, 160, func(x float64) float64 { return one.Force(units.Length(x) * mm).Newtons() }),
			line("two chambers", 0, 160, func(x float64) float64 { return two.Force(units.Length(x) * mm).Newtons() }),
		}}},
		Marks: []picture.Mark{{Label: "port", At: port.Millimetres()}},
	}, nil
}

// shaftArea is the area of the shaft in mm².
func shaftArea(s airspring.Spec) float64 {
	d := s.Shaft.Millimetres()
	return math.Pi / 4 * d * d
}
