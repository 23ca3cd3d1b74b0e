package linkage_test

import (
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// narrow is a law of one force whose rate falls to a tenth at one stroke alone.
type narrow struct{ travel, at units.Length }

func (narrow) Force(units.Length) units.Force     { return 50 }
func (narrow) Energy(x units.Length) units.Energy { return units.Energy(50 * x) }
func (n narrow) Travel() units.Length             { return n.travel }
func (n narrow) Rate(x units.Length) units.Stiffness {
	if math.Abs(float64(x-n.at)) < 1e-9 {
		return 100
	}
	return 1000
}

// straight is a curve of the ratio 2.5 in even pieces over a stroke in mm.
func straight(t *testing.T, pieces int, stroke float64) *linkage.Curve {
	t.Helper()
	table := linkage.Table{}
	for i := range pieces + 1 {
		s := mm(stroke * float64(i) / float64(pieces))
		table.Stroke, table.Travel = append(table.Stroke, s), append(table.Travel, 2.5*s)
	}
	return curve(t, table)
}

// MinRate looks at 64 even steps of the stroke at the least, and at 8 of every
// piece of the curve, as far as the law goes: a fall at one of them is found,
// one between them stays hidden.
func TestMinRateLooksAtEvenSteps(t *testing.T) {
	for _, test := range []struct {
		pieces int
		stroke float64 // of the curve, mm
		travel float64 // of the law, mm
		step   float64 // mm
	}{
		{1, 64, 64, 1}, {1, 64, 100, 1}, {1, 100, 32, 0.5}, {2, 64, 64, 1}, {4, 64, 64, 1}, {8, 64, 64, 1},
		{16, 64, 64, 0.5}, {25, 50, 50, 0.25},
	} {
		c := straight(t, test.pieces, test.stroke)
		full := min(test.stroke, test.travel)
		for i := range int(full/test.step) + 1 {
			at := test.step * float64(i)
			rate, where := wheel(t, c, narrow{mm(test.travel), mm(at)}).MinRate()
			unitstest.Near(t, "rate", rate, 100/6.25, unitstest.Rel(1e-9))
			unitstest.Near(t, "where", where, mm(2.5*at), unitstest.Abs(mm(1e-5)))
			if t.Failed() {
				t.Fatalf("%+v, a fall at %v mm", test, at)
			}
			if at += test.step / 2; at < full {
				rate, _ := wheel(t, c, narrow{mm(test.travel), mm(at)}).MinRate()
				unitstest.Near(t, "hidden", rate, 1000/6.25, unitstest.Rel(1e-9))
			}
		}
	}
}

// Where the slope of the ratio jumps, MinRate looks at both sides: a steady
// force F gives the rate −F·LR′/LR³, least where the ratio rises most.
func TestMinRateLooksAtBothSides(t *testing.T) {
	for _, ref := range refTables(t) {
		c := curve(t, ref.table(linkage.Monotone))
		rate, _ := wheel(t, c, broken{1000, 0, 1, float64(c.Stroke())}).MinRate()
		for i, knot := range ref.Stroke {
			for _, s := range []float64{knot - 1e-7, knot + 1e-7} {
				if i == 0 && s < knot || i == len(ref.Stroke)-1 && s > knot {
					continue
				}
				beside := -1000 * float64(c.LeverRatioSlope(mm(s))) / math.Pow(c.LeverRatio(mm(s)), 3)
				if !(float64(rate) <= beside+1e-4*math.Abs(beside)) {
					t.Errorf("%s: least rate %v, but %v beside %v mm", ref.Name, float64(rate), beside, knot)
				}
			}
		}
	}
}

// late is a law that goes wrong at full travel only.
type late struct{ broken }

func (l late) at(x units.Length, v float64) float64 {
	if x < 0.05 {
		return 1
	}
	return v
}
func (l late) Force(x units.Length) units.Force    { return units.Force(l.at(x, l.force)) }
func (l late) Rate(x units.Length) units.Stiffness { return units.Stiffness(l.at(x, l.rate)) }
func (l late) Energy(x units.Length) units.Energy  { return units.Energy(l.at(x, l.energy)) }

// A law is asked at full travel as well, for force, rate and energy, each of
// which must be below 1e150 either way.
func TestAtWheelAsksAtFullTravel(t *testing.T) {
	c := bent(t)
	const fine = 0.999e150
	for _, v := range []float64{fine, -fine} {
		wheel(t, c, late{broken{v, 1, 1, 0.06}})
		wheel(t, c, late{broken{1, v, 1, 0.06}})
		wheel(t, c, late{broken{1, 1, v, 0.06}})
	}
	for _, v := range []float64{1e150, -1e150, math.Inf(1), math.Inf(-1), math.NaN()} {
		for _, law := range []broken{{v, 1, 1, 0.06}, {1, v, 1, 0.06}, {1, 1, v, 0.06}} {
			_, err := linkage.AtWheel(c, late{law})
			refuses(t, err, "law")
		}
	}
}

// A law that ends where two pieces of the curve meet knows nothing of the
// second: neither at full travel nor for its least rate.
func TestLawThatEndsAtAKnot(t *testing.T) {
	jumps := 0
	for _, ref := range refTables(t) {
		c := curve(t, ref.table(linkage.Monotone))
		before := math.Inf(1) // the least beside the knots so far
		for _, knot := range ref.Stroke[1 : len(ref.Stroke)-1] {
			l := wheel(t, c, broken{1000, 0, 1, float64(mm(knot))})
			rate := func(s units.Length) float64 {
				return -1000 * float64(c.LeverRatioSlope(s)) / math.Pow(c.LeverRatio(s), 3)
			}
			left, right := rate(mm(knot-1e-7)), rate(mm(knot))
			unitstest.Near(t, ref.Name+": at full travel", float64(l.Rate(l.Travel())), left, unitstest.Rel(1e-4), unitstest.Abs(1e-2))
			before = min(before, left)
			least := before
			for i := range 2000 {
				least = min(least, rate(mm(knot*float64(i)/2000)))
			}
			got, _ := l.MinRate()
			if !(float64(got) >= least-0.01*math.Abs(least)-1e-2) {
				t.Errorf("%s: least rate %v up to %v mm, want %v", ref.Name, float64(got), knot, least)
			}
			if right < least-0.02*math.Abs(least)-2e-2 {
				jumps++
			}
			before = min(before, right)
		}
	}
	if jumps < 3 {
		t.Errorf("only %d knots with less behind them: the test looks at too little", jumps)
	}
}

// Inside a piece, the end of a law is what the curve says there, and so it is at
// full stroke.
func TestLawThatEndsInsideAPiece(t *testing.T) {
	for _, ref := range refTables(t) {
		c := curve(t, ref.table(linkage.Monotone))
		for i := range ref.Stroke[1:] {
			for _, part := range []float64{0.01, 0.5, 0.99} {
				s := mm(ref.Stroke[i] + part*(ref.Stroke[i+1]-ref.Stroke[i]))
				l := wheel(t, c, broken{1000, 0, 1, float64(s)})
				lr, slope := c.LeverRatio(s), float64(c.LeverRatioSlope(s))
				unitstest.Near(t, ref.Name+": force", float64(l.Force(l.Travel())), 1000/lr, unitstest.Rel(1e-12))
				unitstest.Near(t, ref.Name+": rate", float64(l.Rate(l.Travel())), -1000*slope/math.Pow(lr, 3), unitstest.Rel(1e-9), unitstest.Abs(1e-9))
			}
		}
		full := c.Stroke()
		l := wheel(t, c, broken{1000, 0, 1, 1})
		unitstest.Near(t, ref.Name+": force at full stroke", float64(l.Force(l.Travel())), 1000/c.LeverRatio(full), unitstest.Rel(1e-12))
	}
}

// early goes wrong at full extension only; faint answers until it is asked at
// full travel.
type early struct{ broken }

func (l early) Energy(x units.Length) units.Energy {
	if x == 0 {
		return units.Energy(math.NaN())
	}
	return 1
}

type faint struct{ broken }

func (l faint) Rate(x units.Length) units.Stiffness {
	if x > 0 {
		panic("too far")
	}
	return 1
}

func TestAtWheelAsksAtBothEnds(t *testing.T) {
	for law, says := range map[spring.Law]string{
		early{broken{1, 1, 1, 0.06}}: "finite",
		faint{broken{1, 1, 1, 0.06}}: "panics",
	} {
		l, err := linkage.AtWheel(bent(t), law)
		refuses(t, err, "law")
		if l != nil || err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want that it %s", err, says)
		}
	}
}
