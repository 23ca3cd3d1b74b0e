package linkage_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// drawnCurve is a curve drawn at random, with the strokes at which two of its
// pieces meet with a jump in the ratio's slope.
type drawnCurve struct {
	says  string
	curve *linkage.Curve
	knots []units.Length
}

// kindsOfCurve draws a curve of every kind; nil where what was drawn is no
// linkage.
var kindsOfCurve = []struct {
	name string
	draw func(rng *rand.Rand) *drawnCurve
}{
	{"constant", func(rng *rand.Rand) *drawnCurve {
		s := linkage.ConstantRatio{Ratio: math.Pow(10, 2*rng.Float64()-1), Travel: mm(20 + 300*rng.Float64())}
		c, err := linkage.NewConstant(s)
		return drawnOr(fmt.Sprintf("%#v", s), c, err, nil)
	}},
	{"fork", func(rng *rand.Rand) *drawnCurve {
		s := linkage.Fork{HeadAngle: units.Angle(31+59*rng.Float64()) * units.Degree, Travel: mm(20 + 300*rng.Float64())}
		c, err := linkage.NewFork(s)
		return drawnOr(fmt.Sprintf("%#v", s), c, err, nil)
	}},
	{"monotone table", func(rng *rand.Rand) *drawnCurve {
		t := drawTable(rng, 2+rng.IntN(20), 0.8, 3)
		c, err := linkage.NewTable(t)
		return drawnOr(fmt.Sprintf("%#v", t), c, err, t.Stroke)
	}},
	{"smooth table", func(rng *rand.Rand) *drawnCurve {
		t := bentTable(rng, 4+rng.IntN(20))
		t.Method = linkage.Smooth
		c, err := linkage.NewTable(t)
		return drawnOr(fmt.Sprintf("%#v", t), c, err, t.Stroke)
	}},
	{"readings", func(rng *rand.Rand) *drawnCurve {
		t := bentTable(rng, 7+rng.IntN(10))
		for i := range t.Travel[1:] {
			t.Travel[i+1] += mm(0.3 * (2*rng.Float64() - 1))
		}
		t.Method = linkage.Measured
		c, err := linkage.NewTable(t)
		return drawnOr(fmt.Sprintf("%#v", t), c, err, nil)
	}},
	{"mechanism", func(rng *rand.Rand) *drawnCurve {
		m, says := drawMechanism(rng)
		k, err := mechanism.New(m)
		if err != nil {
			return nil
		}
		c, err := linkage.Compile(k)
		return drawnOr(says, c, err, nil)
	}},
}

func drawnOr(says string, c *linkage.Curve, err error, knots []units.Length) *drawnCurve {
	if err != nil {
		return nil
	}
	return &drawnCurve{says, c, knots}
}

// drawTable draws steps of a stroke and mean ratios over them, evenly over a
// factor of spread about a ratio of 2.5.
func drawTable(rng *rand.Rand, n int, uneven, spread float64) linkage.Table {
	t := linkage.Table{Stroke: make([]units.Length, n), Travel: make([]units.Length, n)}
	for i := 1; i < n; i++ {
		step := mm(5 * math.Pow(10, uneven*(rng.Float64()-0.5)))
		ratio := 2.5 * math.Pow(spread, rng.Float64()-0.5)
		t.Stroke[i], t.Travel[i] = t.Stroke[i-1]+step, t.Travel[i-1]+step*units.Length(ratio)
	}
	return t
}

// bentTable draws points of w = a·s + b·s² + c·s³ whose ratio keeps above 0.
func bentTable(rng *rand.Rand, n int) linkage.Table {
	stroke, start := 0.03+0.05*rng.Float64(), 1.5+2*rng.Float64()
	bend, twist := (2*rng.Float64()-1)*0.4*start, (2*rng.Float64()-1)*0.2*start
	t := linkage.Table{}
	for i := range n {
		u := float64(i) / float64(n-1)
		t.Stroke = append(t.Stroke, units.Length(stroke*u))
		t.Travel = append(t.Travel, units.Length(stroke*u*(start+bend*u/2+twist*u*u/3)))
	}
	return t
}

// drawMechanism moves every point of an invented mechanism by up to 8 mm.
func drawMechanism(rng *rand.Rand) (mechanism.Spec, string) {
	names := movable()
	name := names[rng.IntN(len(names))]
	m := spec(name)
	for _, p := range slices.Sorted(maps.Keys(m.Points)) {
		v := m.Points[p]
		m.Points[p] = mechanism.Point{v[0] + mm(16*rng.Float64()-8), v[1] + mm(16*rng.Float64()-8)}
	}
	return m, fmt.Sprintf("%s as %v", name, m.Points)
}

// drawnLaw is a spring with the travels of its kinks.
type drawnLaw struct {
	says  string
	law   spring.Law
	kinks []units.Length
}

func drawSpring(rng *rand.Rand, stroke units.Length) drawnLaw {
	travel := stroke * units.Length(0.7+0.6*rng.Float64())
	rate := units.Stiffness(10e3 * math.Pow(20, rng.Float64()))
	switch rng.IntN(3) {
	case 0:
		gap := travel * units.Length(0.2+0.5*rng.Float64())
		law, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{{Rate: rate, Gap: gap}, {Rate: 3 * rate, Gap: travel - gap}}})
		if err != nil {
			panic(err)
		}
		var kinks []units.Length
		closed := units.Length(0)
		for _, s := range law.Segments() {
			closed += s.Length
			kinks = append(kinks, closed)
		}
		return drawnLaw{fmt.Sprintf("groups of %v over %v, and 3 times that over %v", rate, gap, travel-gap), law, kinks}
	case 1:
		return drawnLaw{"hard", hard{}, nil}
	}
	s := spring.Linear{Rate: rate, Travel: travel, Preload: travel * units.Length(0.3*rng.Float64())}
	law, err := spring.NewLinear(s)
	if err != nil {
		panic(err)
	}
	return drawnLaw{fmt.Sprintf("%#v", s), law, nil}
}

// eachCurve runs a check on curves of every kind.
func eachCurve(t *testing.T, seed uint64, of int, check func(t *testing.T, rng *rand.Rand, d *drawnCurve)) {
	t.Helper()
	for _, kind := range kindsOfCurve {
		t.Run(kind.name, func(t *testing.T) {
			made := 0
			for i := range of {
				rng := rand.New(rand.NewPCG(seed, uint64(i)))
				d := kind.draw(rng)
				if d == nil {
					continue
				}
				made++
				if check(t, rng, d); t.Failed() {
					t.Fatalf("seed %d, %d: %s", seed, i, d.says)
				}
			}
			if made < of/2 {
				t.Errorf("%d of %d draws are linkages: the test looks at too little", made, of)
			}
		})
	}
}

// wide reports whether the ratio keeps so far from 0 that the wheel's force is not
// too steep for differences and quadrature.
func wide(d *drawnCurve) bool { return d.curve.Progression().Min > 0.3 || d.knots == nil }

// parts returns the wheel travels between which force and rate are smooth.
func parts(d *drawnCurve, l drawnLaw, w *linkage.WheelLaw) []float64 {
	list := []float64{0, float64(w.Travel())}
	for _, s := range slices.Concat(d.knots, l.kinks) {
		if x := float64(d.curve.TravelAt(s)); x > 1e-9 && x < float64(w.Travel())*(1-1e-9) {
			list = append(list, x)
		}
	}
	slices.Sort(list)
	return slices.CompactFunc(list, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
}

// Ratio and its slope are the derivatives of the travel by central differences,
// extrapolated once; stroke and travel turn each other round.
func TestEveryCurveHasItsDerivatives(t *testing.T) {
	eachCurve(t, 301, 60, func(t *testing.T, rng *rand.Rand, d *drawnCurve) {
		soundCurve(t, d.curve)
		ends := slices.Concat([]units.Length{0}, d.knots, []units.Length{d.curve.Stroke()})
		slices.Sort(ends)
		for range 12 {
			i := rng.IntN(len(ends) - 1)
			from, to := ends[i], ends[i+1]
			if !(to-from > 1e-9*d.curve.Stroke()) {
				continue
			}
			s, h := from+(to-from)*units.Length(0.1+0.8*rng.Float64()), (to-from)/500
			slope := func(f func(units.Length) float64) float64 {
				at := func(h units.Length) float64 { return (f(s+h) - f(s-h)) / float64(2*h) }
				return (4*at(h/2) - at(h)) / 3
			}
			ratio := slope(func(s units.Length) float64 { return float64(d.curve.TravelAt(s)) })
			unitstest.Near(t, "ratio", d.curve.LeverRatio(s), ratio, unitstest.Rel(1e-8))
			bend := slope(d.curve.LeverRatio)
			unitstest.Near(t, "slope", float64(d.curve.LeverRatioSlope(s)), bend, unitstest.Rel(1e-5), unitstest.Abs(1e-12/float64(h)))
			unitstest.Near(t, "stroke", d.curve.StrokeAt(d.curve.TravelAt(s)), s, unitstest.Rel(1e-13))
		}
	})
}

// widest returns the longest stroke between two points of a table.
func widest(d *drawnCurve) units.Length {
	most := units.Length(0)
	for i := 1; i < len(d.knots); i++ {
		most = max(most, d.knots[i]-d.knots[i-1])
	}
	return max(most, d.curve.Stroke()/64)
}

// What the wheel puts in is what the spring takes up: F_w·dw = F_s·ds at every
// travel, by the ratio and by a small step of both, and the energy is the integral
// of either force.
func TestEveryWheelDoesVirtualWork(t *testing.T) {
	eachCurve(t, 302, 60, func(t *testing.T, rng *rand.Rand, d *drawnCurve) {
		l := drawSpring(rng, d.curve.Stroke())
		d.says += " with " + l.says
		w := wheel(t, d.curve, l.law)
		ends, sum := parts(d, l, w), 0.0
		for i, to := range ends[1:] {
			from := ends[i]
			steps := 16         // near a ratio of little the force over the travel is steep
			if d.knots == nil { // the pieces of a compiled curve meet smoothly, but there are many
				steps = 60
			}
			for j := range steps {
				a, b := from+(to-from)*float64(j)/float64(steps), from+(to-from)*float64(j+1)/float64(steps)
				sum += quad.Fixed(func(x float64) float64 { return float64(w.Force(units.Length(x))) }, a, b, 16, quad.Legendre{}, 0)
			}
			if wide(d) {
				unitstest.Near(t, "energy at the wheel", float64(w.Energy(units.Length(to))), sum, unitstest.Rel(1e-8))
			}
			s := d.curve.StrokeAt(units.Length(to))
			unitstest.Near(t, "energy of the spring", float64(w.Energy(units.Length(to))), float64(l.law.Energy(s)), unitstest.Rel(1e-12))
			for range 3 {
				x := units.Length(from + (to-from)*(0.05+0.9*rng.Float64()))
				s, h := d.curve.StrokeAt(x), units.Length(to-from)*1e-4
				unitstest.Near(t, "force times ratio", float64(w.Force(x))*d.curve.LeverRatio(s), float64(l.law.Force(s)), unitstest.Rel(1e-12))
				if !wide(d) {
					continue
				}
				ds := d.curve.StrokeAt(x+h) - d.curve.StrokeAt(x-h)
				unitstest.Near(t, "work of a small step", float64(w.Force(x)*units.Force(2*h)), float64(l.law.Force(s)*units.Force(ds)), unitstest.Rel(1e-5))
				unitstest.Near(t, "spring force", w.SpringForce(x), l.law.Force(s), unitstest.Rel(1e-12))
			}
		}
	})
}

// The wheel rate is the slope of the wheel force, by central differences
// extrapolated once, and right-hand where two pieces meet.
func TestWheelRateIsTheSlopeOfForce(t *testing.T) {
	eachCurve(t, 303, 60, func(t *testing.T, rng *rand.Rand, d *drawnCurve) {
		l := drawSpring(rng, d.curve.Stroke())
		d.says += " with " + l.says
		w := wheel(t, d.curve, l.law)
		if !wide(d) {
			return
		}
		ends := parts(d, l, w)
		top := math.Abs(float64(w.Force(w.Travel())))
		for i, to := range ends[1:] {
			from := ends[i]
			x, h := units.Length(from+(to-from)*(0.1+0.8*rng.Float64())), units.Length(to-from)/200
			at := func(h units.Length) float64 { return float64(w.Force(x+h)-w.Force(x-h)) / float64(2*h) }
			want := (4*at(h/2) - at(h)) / 3
			unitstest.Near(t, "rate", float64(w.Rate(x)), want, unitstest.Rel(1e-5), unitstest.Abs(1e-12*top/float64(h)+1e-6*top/float64(w.Travel())))
			// At the start of the piece, from what the curve and the spring say there.
			start := d.curve.StrokeAt(units.Length(from))
			lr, slope := d.curve.LeverRatio(start), float64(d.curve.LeverRatioSlope(start))
			right := float64(l.law.Rate(start))/(lr*lr) - float64(l.law.Force(start))*slope/(lr*lr*lr)
			inside := float64(w.Rate(units.Length(from + (to-from)*1e-7)))
			unitstest.Near(t, "rate at a knot", float64(w.Rate(units.Length(from))), right, unitstest.Rel(1e-9))
			unitstest.Near(t, "right-hand rate", float64(w.Rate(units.Length(from))), inside, unitstest.Rel(1e-4), unitstest.Abs(1e-4*top/float64(w.Travel())))
		}
	})
}

// The wheel force never falls where the physics says so: where the spring's
// rate over its force is at least the slope of the ratio over the ratio. Where the
// ratio rises faster than that it need not, and the least rate then says so, if it
// falls over more than the steps that it looks at. Where
// the least rate is more than 0, Settle turns the force round.
func TestWheelForceFallsOnlyWhereTheRatioRises(t *testing.T) {
	rising, falling := 0, 0
	eachCurve(t, 304, 60, func(t *testing.T, rng *rand.Rand, d *drawnCurve) {
		l := drawSpring(rng, d.curve.Stroke())
		d.says += " with " + l.says
		w := wheel(t, d.curve, l.law)
		least, _ := w.MinRate()
		fell := false
		before, held := w.Force(0), true
		longest, run := units.Length(0), units.Length(0) // strokes over which the force falls
		const steps = 2000
		for i := 1; i <= steps; i++ {
			x := w.Travel() * units.Length(i) / steps
			s := d.curve.StrokeAt(x)
			lr, slope := d.curve.LeverRatio(s), float64(d.curve.LeverRatioSlope(s))
			holds := float64(l.law.Rate(s))*lr >= float64(l.law.Force(s))*slope
			f := w.Force(x)
			down := f < before*(1-1e-13)
			if fell = fell || down; down && held && holds {
				t.Errorf("force falls from %v to %v at %v, where it should not", before, f, x)
			}
			if run += s - d.curve.StrokeAt(x-w.Travel()/steps); !down {
				run = 0
			}
			longest = max(longest, run)
			before, held = f, holds
		}
		if fell {
			falling++
			if seen := d.curve.Stroke() / 8; !(least < 0) && (longest > seen || longest > widest(d)/7) {
				t.Errorf("the force falls, but the least rate is %v", least)
			}
			return
		}
		if !(least > 0) {
			return
		}
		rising++
		for range 10 {
			x := w.Travel() * units.Length(rng.Float64())
			load := w.Force(x)
			got, err := spring.Settle(w, load)
			if rate := float64(w.Rate(x)); err != nil || math.Abs(float64(got-x)) > 1e-12*float64(w.Travel())+1e-14*float64(load)/math.Min(rate, float64(least)) {
				t.Errorf("the force at %v settles at %v, %v", x, got, err)
			}
		}
		if x, err := spring.Settle(w, w.Force(0)); x != 0 || err != nil {
			t.Errorf("the force at full extension settles at %v, %v", x, err)
		}
		if x, err := spring.Settle(w, w.Force(w.Travel())); x != w.Travel() || err != nil {
			t.Errorf("the force at full travel settles at %v, %v", x, err)
		}
	})
	if rising < 100 || falling < 10 {
		t.Errorf("%d rise, %d fall: the test looks at too little", rising, falling)
	}
}
