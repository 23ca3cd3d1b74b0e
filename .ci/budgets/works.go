package main

import (
	"bytes"
	_ "embed"
	"errors"
	"math"
	"runtime"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
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
	fourBar, err := mechanism.New(fourBar())
	keep(err)
	onCoupler, err := mechanism.New(shortLinks())
	keep(err)
	sixBar, err := mechanism.New(sixBar())
	keep(err)
	bent, err := linkage.Compile(fourBar)
	keep(err)
	job, err := readJob()
	keep(err)
	if failed != nil {
		return nil, failed
	}
	wheel, err := linkage.AtWheel(bent, coil)
	keep(err)
	table, err := rawTable(bent)
	keep(err)
	sheet, err := setup.NewSheet(job)
	keep(err)
	if failed != nil {
		return nil, failed
	}

	air160 := loads(air)
	roots := sum(1, func(x units.Length) float64 { return math.Sqrt(float64(x)) })
	ride, looks, err := ride(bent, coil, air)
	keep(err)
	soft, err := airspring.New(airspring.Spec{
		Bore: 36 * mm, Travel: 160 * mm, PositiveVolume: 230 * units.CubicCentimetre,
		Fill: units.BarGauge(2.4), Ambient: units.StandardAtmosphere, Exponent: 1,
	})
	keep(err)
	stance, axles, err := stance(bent, coil, soft)
	keep(err)
	if failed != nil {
		return nil, failed
	}
	firstOrder, draws, under := uncertain(sheet)
	return []work{
		{name: "force of an air spring", do: sum(air.Travel(), func(x units.Length) float64 { return float64(air.Force(x)) }), ratio: 1.5,
			floor: sum(0.9, func(x units.Length) float64 { return math.Exp(-1.3 * math.Log(1-float64(x))) }), floorName: "exp and log"},
		{name: "force of a stack of three", do: sum(stack.Travel(), func(x units.Length) float64 { return float64(stack.Force(x)) }), budget: 25,
			floor: sum(linear.Travel(), func(x units.Length) float64 { return float64(linear.Force(x)) }), floorName: "the force of one of them"},
		{name: "lever ratio of a curve", do: sum(fourBar.Stroke(), bent.LeverRatio), budget: 30,
			floor: sum(fourBar.Stroke(), func(x units.Length) float64 { return table.PredictDerivative(float64(x)) }), floorName: "a look-up in a plain table of cubics"},
		{name: "settle: looks at the force", count: func() int { return looksAtForce(wheel, air, stack) }, most: 12},
		{name: "settle: time", do: func(n int) { settle(air, air160, n) },
			floor: sum(air.Travel(), func(x units.Length) float64 {
				total := 0.0
				for i := range 12 {
					total += float64(air.Force(x + units.Length(i)*mm))
				}
				return total
			}), floorName: "12 looks at the force"},
		{name: "pose of a four-bar, closed form", do: poses(fourBar), budget: 200,
			floor: func(n int) { roots(2 * n) }, floorName: "two square roots"},
		{name: "pose of a four-bar, general", do: poses(onCoupler), budget: 2000,
			floor: poses(fourBar), floorName: "a pose in closed form"},
		{name: "mechanism to curve, closed form", do: mechanisms(fourBar.Spec()), budget: 1e6, allocs: -1,
			floor: func(n int) { poses(fourBar)(101 * n) }, floorName: "101 poses"},
		{name: "mechanism to curve, general", do: mechanisms(onCoupler.Spec()), budget: 1e6, allocs: -1,
			floor: func(n int) { poses(onCoupler)(101 * n) }, floorName: "101 poses"},
		{name: "gradients of a six-bar, 101 poses", do: gradients(sixBar), budget: 5e6, allocs: -1,
			floor: func(n int) { poses(sixBar)(101 * n) }, floorName: "101 poses"},
		{name: "pivots of a four-bar, six coordinates", do: searches(search(fourBar)), budget: 50e6, allocs: -1,
			floor: func(n int) { mechanisms(fourBar.Spec())(100 * n) }, floorName: "100 mechanisms to curves"},
		{name: "a whole bike at rest", do: stance, budget: 5e3,
			floor: axles, floorName: "what its curves and springs take"},
		{name: "a second of a ride, both ends", do: ride, budget: 2e6,
			floor: looks, floorName: "what its forces take"},
		{name: "a job of one rider, 12 springs", do: jobs(job), allocs: -1,
			floor: settlings(sheet, job), floorName: "settling all that is tried"},
		{name: "a rider of a job, 12 springs", do: riderSheets(job), budget: 50e3, allocs: -1,
			floor: settlings(sheet, job), floorName: "settling all that is tried"},
		{name: "a whole job, with 7 riders", do: sheets(job), budget: 1e6, allocs: -1,
			floor: func(n int) { riderSheets(job)(8 * n) }, floorName: "8 riders of it"},
		{name: "uncertainty of 13 inputs", do: firstOrder, budget: 1e6, allocs: -1,
			floor: func(n int) { under(27 * n) }, floorName: "both ends, twice for each"},
		{name: "100 draws of a job, 12 springs", do: draws, budget: 5e6, allocs: -1,
			floor: func(n int) { under(100 * n) }, floorName: "both ends under their loads"},
	}, nil
}

// readJob is the whole job of the budget: 12 springs, the fitted ones and as
// many a little harder, and up to 6 spacers.
func readJob() (setup.Job, error) {
	job, err := setup.ReadJob(bytes.NewReader(jobText))
	for i := 0; err == nil && len(job.Rear.Coil.Springs) < 12; i++ {
		s := job.Rear.Coil.Springs[i]
		s.Rate += 12 * units.PoundForcePerInch
		job.Rear.Coil.Springs = append(job.Rear.Coil.Springs, s)
	}
	return job, err
}

// rawTable is a curve's travel as a table of 101 points for a general library
// to look up in, with no conditions on what is asked.
func rawTable(curve *linkage.Curve) (*interp.PiecewiseCubic, error) {
	var x, y, slope []float64
	for s := range curve.Samples(101) {
		x, y, slope = append(x, float64(s.Stroke)), append(y, float64(s.Travel)), append(slope, s.LeverRatio)
	}
	var table interp.PiecewiseCubic
	table.FitWithDerivatives(x, y, slope)
	if got, want := table.PredictDerivative(x[50]), slope[50]; !(math.Abs(got-want) < 1e-9) {
		return nil, errors.New("the table is not the curve's")
	}
	return &table, nil
}

// loads are 1024 that a law carries, in no order.
func loads(law spring.Law) []units.Force {
	list := make([]units.Force, 0, 1024)
	for _, x := range over(law.Travel()) {
		list = append(list, law.Force(x))
	}
	return list
}

func settle(law spring.Law, at []units.Force, n int) {
	total := units.Length(0)
	for i := range n {
		x, err := spring.Settle(law, at[i&1023])
		if err != nil {
			panic(err) // can't be: the load is the law's own
		}
		total += x
	}
	runtime.KeepAlive(total)
}

// behind is a spring behind a curve over the stroke: what a sheet settles for each
// spring and each fill.
type behind struct {
	curve *linkage.Curve
	law   spring.Law
}

// settle finds the stroke at which the spring, with a friction on top, carries a
// load at the wheel. An error says that it rests at an end of its travel: no more to
// find.
func (b *behind) settle(load, friction units.Force) {
	end := float64(min(b.law.Travel(), b.curve.Stroke()))
	x, _ := root.Find(func(s float64) float64 {
		at := units.Length(s)
		return float64(b.law.Force(at)+friction) - float64(load)*b.curve.LeverRatio(at)
	}, 0, end, 1e-13*end)
	runtime.KeepAlive(x)
}

// settlings settles what a sheet tries, each spring and each fill at the middle
// and at both ends of the band that friction allows: the least that its answers
// take. The middle of a fill is given by the fill itself.
func settlings(s *setup.Sheet, job setup.Job) func(int) {
	slow, _ := s.Front.Wheel()
	front, rear := &behind{curve: s.Front.Curve(), law: slow.Spring()}, make([]*behind, len(s.Rear.Coil.Candidates))
	for i, c := range s.Rear.Coil.Candidates {
		law, err := spring.NewLinear(spring.Linear{Rate: c.Rate, Travel: s.Rear.Stroke, Preload: c.Preload})
		if err != nil {
			panic(err) // the sheet made the same
		}
		rear[i] = &behind{curve: s.Rear.Curve(), law: law}
	}
	return func(n int) {
		for range n {
			for _, b := range rear {
				for _, sign := range [3]units.Force{0, 1, -1} {
					b.settle(s.Rear.Load, sign*job.Rear.Friction)
				}
			}
			for range s.Front.Air.Options {
				front.settle(s.Front.Load, job.Front.Friction)
				front.settle(s.Front.Load, -job.Front.Friction)
			}
		}
	}
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

// looksAtForce returns the most looks at a force that settling takes, over a thousand
// loads of each law.
func looksAtForce(laws ...spring.Law) int {
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

func poses(k *mechanism.Mechanism) func(int) {
	return sum(k.Stroke(), func(s units.Length) float64 { return k.Pose(s).LeverRatio })
}

// gradients takes the pose at 101 strokes with its derivatives by all holes.
func gradients(k *mechanism.Mechanism) func(int) {
	return func(n int) {
		for range n {
			for i := range 101 {
				runtime.KeepAlive(k.PoseGradient(k.Stroke() * units.Length(i) / 100))
			}
		}
	}
}

func mechanisms(m mechanism.Spec) func(int) {
	return func(n int) {
		for range n {
			c, err := linkage.New(linkage.Spec{Mechanism: &m})
			if err != nil {
				panic(err) // it was made before
			}
			runtime.KeepAlive(c)
		}
	}
}

func riderSheets(j setup.Job) func(int) {
	return func(n int) {
		b, err := setup.NewTemplate(j)
		if err != nil {
			panic(err) // its sheet was made before
		}
		for range n {
			s, err := b.Sheet(j.Masses.RiderMass)
			if err != nil {
				panic(err)
			}
			runtime.KeepAlive(s)
		}
	}
}

// jobs checks a job, makes its curves and springs, and answers for its rider alone.
func jobs(j setup.Job) func(int) {
	one := riderSheets(j)
	return func(n int) {
		for range n {
			one(1)
		}
	}
}

func sheets(j setup.Job) func(int) {
	return func(n int) {
		for range n {
			s, err := setup.NewSheet(j)
			if err != nil {
				panic(err) // it was made before
			}
			runtime.KeepAlive(s)
		}
	}
}

func at(x, y float64) mechanism.Point {
	return mechanism.Point{units.Length(x) * mm, units.Length(y) * mm}
}

// fourBar is an invented four-bar with its axle on the coupler.
func fourBar() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M": at(14, 53), "H": at(-390, 32), "A": at(-437, 30), "T": at(-144, 387), "R": at(-20, 302), "S1": at(52, 330), "S2": at(36, 113),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "A", "T"}, "rocker": {"T", "R", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 62.5 * mm,
	}
}

// shortLinks is an invented rear triangle on two short links, the shock on the
// triangle, which takes the general solver.
func shortLinks() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M1": at(-2, 75), "U1": at(-26, 228), "S2": at(159, 348), "M2": at(-64, 42), "U2": at(-115, 328), "A": at(-437, 24), "S1": at(-42, 275),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1", "S2"}, "lower": {"M1", "M2"}, "triangle": {"M2", "U2", "A", "S1"}, "upper": {"U1", "U2"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 52.5 * mm,
	}
}

// sixBar is an invented four-bar whose coupler drives a second rocker by a link.
func sixBar() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M": at(6, 44), "R": at(-16, 294), "R2": at(-32, 169), "S2": at(175, 162), "H": at(-396, 14), "A": at(-436, 30),
			"T": at(-97, 360), "K": at(-177, 242), "Q": at(-105, 276), "S1": at(-10, 259),
		},
		Bodies: map[string][]string{"frame": {"M", "R", "R2", "S2"}, "chainstay": {"M", "H"}, "seatstay": {"H", "A", "T", "K"},
			"rocker": {"T", "R"}, "link": {"K", "Q"}, "second": {"Q", "R2", "S1"}},
		Axle: "A", Shock: [2]string{"S1", "S2"}, Stroke: 55 * mm,
	}
}
