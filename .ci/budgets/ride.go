package main

import (
	"fmt"
	"math"
	"runtime"
	"slices"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// ride is one second of a bike on air in front and on a coil behind a linkage, over a bump of half a
// sine, with dampers as measured. Its errors are below 1e-6 of the travel. It costs at the least
// what the equations of motion do, as often as they are asked for.
func ride(curve *linkage.Curve, coil, air spring.Law) (do, floor func(n int), err error) {
	damper := &measured{}
	if err := damper.curve.Fit([]float64{-4, -0.52, -0.13, -0.05, 0, 0.05, 0.13, 0.52, 4}, []float64{-5e3, -1000, -520, -260, 0, 120, 260, 520, 3e3}); err != nil {
		return nil, nil, err
	}
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: air.Travel()})
	if err != nil {
		return nil, nil, err
	}
	front, err := linkage.AtWheel(fork, air)
	if err != nil {
		return nil, nil, err
	}
	rear, err := linkage.AtWheel(curve, coil)
	if err != nil {
		return nil, nil, err
	}
	const permitted = 1.5e-7               // of a step
	const met, delay, long = 0.1, 0.2, 0.2 // s
	bump := func(from float64) motion.Ground {
		return func(t float64) (units.Length, units.Speed) {
			if t -= from; !(t > 0 && t < long) {
				return 0, 0
			}
			sin, cos := math.Sincos(math.Pi * t / long)
			return units.Length(0.08 * sin), units.Speed(0.08 * math.Pi / long * cos)
		}
	}
	bike := motion.TwoEnds{
		Mass: 82, Gyration: 0.42, Ahead: 0.68, Behind: 0.52,
		Front: motion.Corner{Spring: front, Damper: damper, Stops: 150e3, Unsprung: 3.2, Tyre: 90e3, Ground: bump(met)},
		Rear:  motion.Corner{Spring: rear, Damper: damper, Stops: 170e3, Unsprung: 4.1, Tyre: 110e3, Ground: bump(met + delay)},
	}
	rest, err := bike.Rest()
	if err != nil {
		return nil, nil, err
	}
	looks := 0
	counted := func(t float64, y, slope []float64) {
		looks++
		bike.Slope(t, y, slope)
	}
	p := motion.Problem{Slope: counted, Scale: bike.Scale(), Events: bike.Kinks(), Tolerance: permitted}
	follow := func(s *motion.Solver) {
		s.Start(0, rest, 1e-3)
		for _, end := range [...]float64{met, met + long, met + delay + long, 1} { // where the ground has kinks
			for s.Step(end) {
			}
		}
	}
	s, err := motion.NewSolver(p)
	if err != nil {
		return nil, nil, err
	}
	follow(s)
	got := slices.Clone(s.State())
	p.Slope, p.Tolerance = bike.Slope, 1e-11
	if s, err = motion.NewSolver(p); err != nil {
		return nil, nil, err
	}
	follow(s)
	for i, want := range s.State()[:motion.HeaveSpeed] {
		if !(math.Abs(got[i]-want) < 1e-6*float64(rear.Travel())) {
			return nil, nil, fmt.Errorf("the ride is off by %v m", got[i]-want)
		}
	}
	p.Tolerance = permitted
	s, err = motion.NewSolver(p)
	slope := make([]float64, motion.TwoEndStates)
	return func(n int) {
			for range n {
				follow(s)
			}
		}, func(n int) {
			for range n * looks {
				bike.Slope(0, rest, slope)
			}
		}, err
}

// stance is a bike at rest on both springs at once. It costs at the least what its curves and springs
// do, as often as they are asked for.
func stance(curve *linkage.Curve, coil, air spring.Law) (do, floor func(n int), err error) {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: air.Travel()})
	if err != nil {
		return nil, nil, err
	}
	asked := &counted{Law: air}
	unsprung := units.Mass(3.5)
	bike := sag.Bike{
		Masses: sag.Masses{RiderMass: 82, BikeMass: 16.8, UnsprungFront: &unsprung, UnsprungRear: &unsprung, RearShare: 0.58,
			Wheelbase: 1.24, MassCentreHeight: 1.1, FrontWheelRadius: 0.37, RearWheelRadius: 0.35},
		Front: sag.End{Curve: fork, Law: asked}, Rear: sag.End{Curve: curve, Law: coil},
	}
	at, err := bike.Stance()
	if err != nil {
		return nil, nil, err
	}
	bike.Front.Law = air
	ends := [...]struct {
		sag.End
		at units.Length
	}{{bike.Front, at.FrontStroke}, {bike.Rear, at.RearStroke}}
	return func(n int) {
			for range n {
				if _, err := bike.Stance(); err != nil {
					panic(err) // it stood before
				}
			}
		}, func(n int) {
			total := 0.0
			for range n * asked.looks {
				for _, e := range &ends {
					axle := e.Curve.AxleAt(e.at)
					total += axle.UpRate + float64(e.Law.Force(e.at)) + float64(e.Law.Rate(e.at)) + float64(e.Law.Energy(e.at))
				}
			}
			runtime.KeepAlive(total)
		}, nil
}

// measured is a damper whose forces over speed are joined by monotone cubics.
type measured struct{ curve interp.FritschButland }

func (d *measured) Force(v units.Speed) units.Force { return units.Force(d.curve.Predict(float64(v))) }

func (d *measured) Damping(v units.Speed) units.Damping {
	return units.Damping(d.curve.PredictDerivative(float64(v)))
}
