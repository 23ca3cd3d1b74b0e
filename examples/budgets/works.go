package main

import (
	"bytes"
	_ "embed"
	"errors"
	"math"
	"runtime"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

const mm = units.Millimetre

// over returns 1024 values from 0 to a whole in no order, so that no branch
// can be guessed.
func over(whole units.Length) []units.Length {
	list := make([]units.Length, 1024)
	for i := range list {
		list[i] = whole * units.Length(i*619%1024) / 1024
	}
	return list
}

// sum makes work of a function of a length.
func sum(whole units.Length, f func(units.Length) float64) func(int) {
	at := over(whole)
	return func(n int) {
		total := 0.0
		for i := range n {
			total += f(at[i&1023])
		}
		runtime.KeepAlive(total)
	}
}

// jobText is invented, like every number in this program.
//
//go:embed job.json
var jobText []byte

// works lists what is promised.
func works() ([]work, error) {
	var failed error
	keep := func(err error) { failed = errors.Join(failed, err) }

	air, err := airspring.New(airspring.Spec{
		Bore: 34 * mm, Travel: 160 * mm, PositiveVolume: 190 * units.CubicCentimetre,
		Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere, Exponent: 1.3,
	})
	keep(err)
	linear, err := spring.NewLinear(spring.Linear{Rate: 60 * units.NewtonPerMillimetre, Travel: 20 * mm})
	keep(err)
	stack, err := spring.NewSeries(linear, linear, linear)
	keep(err)
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 62.5 * mm})
	keep(err)
	fourBar, err := linkage.NewMechanism(fourBar())
	keep(err)
	onCoupler, err := linkage.NewMechanism(shortLinks())
	keep(err)
	job, err := sag.ReadJob(bytes.NewReader(jobText))
	keep(err)
	for i := 0; err == nil && len(job.Rear.Coil.Shelf) < 12; i++ {
		s := job.Rear.Coil.Shelf[i]
		s.Rate += 12 * units.PoundForcePerInch
		job.Rear.Coil.Shelf = append(job.Rear.Coil.Shelf, s)
	}
	if failed != nil {
		return nil, failed
	}
	wheel, err := linkage.AtWheel(fourBar.Curve(), coil)
	keep(err)
	_, err = sag.NewSheet(job)
	keep(err)
	if failed != nil {
		return nil, failed
	}

	const floor = "exp and log"
	unavoidable := sum(0.9, func(x units.Length) float64 { return math.Exp(-1.3 * math.Log(1-float64(x))) })
	return []work{
		{name: "force of an air spring", do: sum(air.Travel(), func(x units.Length) float64 { return float64(air.Force(x)) }),
			ratio: 1.5, floor: unavoidable, floorName: floor},
		{name: "force of a stack of three", do: sum(stack.Travel(), func(x units.Length) float64 { return float64(stack.Force(x)) }), budget: 25},
		{name: "lever ratio of a curve", do: sum(fourBar.Stroke(), fourBar.Curve().LeverRatio), budget: 30},
		{name: "settle: looks at the force", count: func() int { return looks(wheel, air, stack) }, most: 12},
		{name: "pose of a four-bar, closed form", do: poses(fourBar), budget: 200},
		{name: "pose of a four-bar, general", do: poses(onCoupler), budget: 2000},
		{name: "mechanism to curve, closed form", do: mechanisms(fourBar.Mechanism()), budget: 1e6, allocs: -1},
		{name: "mechanism to curve, general", do: mechanisms(onCoupler.Mechanism()), budget: 1e6, allocs: -1},
		{name: "a whole job, 12 springs", do: sheets(job), budget: 50e3, allocs: -1},
	}, nil
}

// counted counts how often its force is asked for.
type counted struct {
	spring.Law
	looks int
}

func (c *counted) Force(x units.Length) units.Force {
	c.looks++
	return c.Law.Force(x)
}

// looks returns the most looks at a force that settling takes, over a thousand
// loads of each law.
func looks(laws ...spring.Law) int {
	most := 0
	for _, law := range laws {
		low, high := law.Force(0), law.Force(law.Travel())
		for i := range 1000 {
			c := &counted{Law: law}
			if _, err := spring.Settle(c, low+(high-low)*units.Force(i+1)/1002); err != nil {
				return math.MaxInt // can't be: the load is within the law's range
			}
			most = max(most, c.looks)
		}
	}
	return most
}

func poses(k *linkage.Kinematics) func(int) {
	return sum(k.Stroke(), func(s units.Length) float64 { return k.Pose(s).LeverRatio })
}

func mechanisms(m linkage.Mechanism) func(int) {
	return func(n int) {
		for range n {
			k, err := linkage.NewMechanism(m)
			if err != nil {
				panic(err) // it was made before
			}
			runtime.KeepAlive(k)
		}
	}
}

func sheets(j sag.Job) func(int) {
	return func(n int) {
		for range n {
			s, err := sag.NewSheet(j)
			if err != nil {
				panic(err) // it was made before
			}
			runtime.KeepAlive(s)
		}
	}
}

func at(x, y float64) linkage.Point {
	return linkage.Point{units.Length(x) * mm, units.Length(y) * mm}
}

// fourBar is an invented four-bar with its axle on the coupler.
func fourBar() linkage.Mechanism {
	return linkage.Mechanism{
		Points: map[string]linkage.Point{
			"M": at(14, 53), "H": at(-390, 32), "A": at(-437, 30), "T": at(-144, 387), "R": at(-20, 302), "S1": at(52, 330), "S2": at(36, 113),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "A", "T"}, "rocker": {"T", "R", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 62.5 * mm,
	}
}

// shortLinks is an invented rear triangle on two short links, the shock on the
// triangle, which takes the general solver.
func shortLinks() linkage.Mechanism {
	return linkage.Mechanism{
		Points: map[string]linkage.Point{
			"M1": at(-2, 75), "U1": at(-26, 228), "S2": at(159, 348), "M2": at(-64, 42), "U2": at(-115, 328), "A": at(-437, 24), "S1": at(-42, 275),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1", "S2"}, "lower": {"M1", "M2"}, "triangle": {"M2", "U2", "A", "S1"}, "upper": {"U1", "U2"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 52.5 * mm,
	}
}
