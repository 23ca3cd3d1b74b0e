package main

import (
	"runtime"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// stated is an invented uncertainty of 13 inputs of the job.
var stated = certainty.Uncertainty{
	RiderMass: 0.5, BikeMass: 0.1, UnsprungFront: 0.2, UnsprungRear: 0.2, RearShare: 0.005, Ambient: 300 * units.PascalAbsolute,
	Front: certainty.EndUncertainty{HeadAngle: 0.3 * units.Degree, Fill: units.BarGauge(0.05), PositiveVolume: 2 * units.CubicCentimetre, GasTemperature: 0.005},
	Rear:  certainty.EndUncertainty{SpringRate: 0.02, Preload: 0.3 * mm, LeverRatio: 0.002},
}

// uncertain returns works: the uncertainty of a sheet to first order, a hundred draws of its inputs, and what
// each draw takes at least, both ends under their loads without friction.
func uncertain(s *setup.Sheet) (first, draws, under func(int)) {
	of := s.Setup()
	front, rear := of.Front.Choice.End(), of.Rear.Choice.End()
	front.Friction, rear.Friction = 0, 0
	first = func(n int) {
		for range n {
			b, err := certainty.Propagate(of, stated)
			if err != nil {
				panic(err) // the sheet is good
			}
			runtime.KeepAlive(b)
		}
	}
	draws = func(n int) {
		for range n {
			b, err := certainty.Simulate(of, stated, 100, 1)
			if err != nil {
				panic(err)
			}
			runtime.KeepAlive(b)
		}
	}
	under = func(n int) {
		for range n {
			one, _ := front.Under(s.Front.Load) // the sheet has them
			other, _ := rear.Under(s.Rear.Load)
			runtime.KeepAlive([2]*sag.State{&one, &other})
		}
	}
	return first, draws, under
}
