package linkage_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/dual"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

var _ spring.Law = (*linkage.WheelLaw)(nil)

func wheel(t testing.TB, c *linkage.Curve, law spring.Law) *linkage.WheelLaw {
	t.Helper()
	w, err := linkage.AtWheel(c, law)
	require.NoError(t, err)
	return w
}

// hard is a law that is not linear, F = 200·eˣᐟ²⁵ᵐᵐ, over 70 mm: nothing real,
// but every derivative of it is known.
type hard struct{}

func (hard) Force(x units.Length) units.Force {
	return units.Force(200 * math.Exp(float64(spring.Clamp(x, 0.07))/hardLength))
}

func (h hard) Rate(x units.Length) units.Stiffness {
	return units.Stiffness(h.Force(x) / hardLength)
}

func (h hard) Energy(x units.Length) units.Energy {
	return units.Energy((h.Force(x) - 200) * hardLength)
}

func (hard) Travel() units.Length { return 0.07 }

const hardLength = 0.025

// A linear spring behind w = 2.95·s − 4.25·s² in closed form, with
// LR = 2.95 − 8.5·s and LR′ = −8.5/m.
func TestWheelAgreesWithTheClosedForm(t *testing.T) {
	const k, p = 80e3, 3e-3
	l := wheel(t, bent(t), linear(t, k, 0.065, p))
	for i := range 66 {
		s := 0.001 * float64(i)
		w := units.Length(2.95*s - 4.25*s*s)
		lr := 2.95 - 8.5*s
		f := k * (s + p)
		unitstest.Near(t, "force", l.Force(w), units.Force(f/lr), unitstest.Rel(1e-12))
		unitstest.Near(t, "rate", l.Rate(w), units.Stiffness(k/(lr*lr)+f*8.5/(lr*lr*lr)), unitstest.Rel(1e-11))
		unitstest.Near(t, "energy", l.Energy(w), units.Energy(k*s*(s/2+p)), unitstest.Rel(1e-12))
		unitstest.Near(t, "stroke", l.Stroke(w), units.Length(s), unitstest.Rel(1e-13))
		unitstest.Near(t, "spring force", l.SpringForce(w), units.Force(f), unitstest.Rel(1e-12))
	}
	unitstest.Near(t, "travel", l.Travel(), 2.95*0.065-4.25*0.065*0.065, unitstest.Rel(1e-14))
}

// The rate by dual numbers: F_s and LR as functions of the stroke, their
// quotient differentiated without a formula, over LR once more. Exact for the
// closed-form curve.
func TestWheelRateByDualNumbers(t *testing.T) {
	l := wheel(t, bent(t), hard{})
	for i := range 66 {
		s := dual.Number{Real: 0.001 * float64(i), Emag: 1}
		ratio := dual.Sub(dual.Number{Real: 2.95}, dual.Scale(8.5, s))
		force := dual.Scale(200, dual.Exp(dual.Scale(1/hardLength, s)))
		atWheel := dual.Mul(force, dual.Inv(ratio))
		w := units.Length(2.95*s.Real - 4.25*s.Real*s.Real)
		unitstest.Near(t, "force", float64(l.Force(w)), atWheel.Real, unitstest.Rel(1e-12))
		unitstest.Near(t, "rate", float64(l.Rate(w)), atWheel.Emag/ratio.Real, unitstest.Rel(1e-11))
	}
}

// The curve and the law need not be of one length.
func TestWheelTravelEndsWithCurveOrSpring(t *testing.T) {
	c := bent(t)
	short := wheel(t, c, linear(t, 80e3, 0.04, 0))
	unitstest.Near(t, "travel", short.Travel(), 2.95*0.04-4.25*0.04*0.04, unitstest.Rel(1e-13))
	unitstest.Near(t, "stroke at full travel", short.Stroke(short.Travel()), 0.04, unitstest.Exact)
	unitstest.Near(t, "stroke beyond", short.Stroke(1), 0.04, unitstest.Exact)
	unitstest.Near(t, "force beyond", short.Force(1), units.Force(80e3*0.04/(2.95-8.5*0.04)), unitstest.Rel(1e-12))
	long := wheel(t, c, linear(t, 80e3, 0.2, 0))
	unitstest.Near(t, "travel", long.Travel(), c.Travel(), unitstest.Exact)
	unitstest.Near(t, "force", long.Force(1), units.Force(80e3*0.065/(2.95-8.5*0.065)), unitstest.Rel(1e-12))
	for _, w := range []units.Length{-1, 0, 0.03, 0.1, long.Travel(), 1} {
		stroke, ratio := long.Leverage(w)
		unitstest.Near(t, "stroke", stroke, long.Stroke(w), unitstest.Exact)
		unitstest.Near(t, "ratio", ratio, 2.95-8.5*float64(stroke), unitstest.Rel(1e-12))
	}
	if long.Curve() != c || long.Spring() != spring.Law(linear(t, 80e3, 0.2, 0)) {
		t.Error("curve or spring is another")
	}
}

// Where the curve's ratio changes its slope with a jump, the wheel rate is the
// right-hand one, but the left-hand one where the travel ends.
func TestWheelRateAtAKnotIsTheRightHandOne(t *testing.T) {
	ref := refTables(t)[3] // knots at 15 mm
	c := curve(t, ref.table(linkage.Monotone))
	const k = 80e3
	through := wheel(t, c, linear(t, k, mm(60), 0))
	ending := wheel(t, c, linear(t, k, mm(30), 0))
	const s = 0.030
	f, lr := k*s, ref.Exact[linkage.Monotone].Ratio[8]
	right := ref.Exact[linkage.Monotone].Slope[8] * 1e3
	// Exact left-hand slope at 30 mm: of the cubic from 15 to 30 mm with the
	// ratios at both, 2·(r₀ + 2r₁ − 3·chord)/h by hand.
	left := 2 * (ref.Exact[linkage.Monotone].Ratio[4] + 2*lr - 3*(83.5-44)/15) / 0.015
	if math.Abs(left-right) < 0.1 {
		t.Fatalf("no jump: %v, %v", left, right)
	}
	rate := func(slope float64) units.Stiffness {
		return units.Stiffness(k/(lr*lr) - f*slope/(lr*lr*lr))
	}
	unitstest.Near(t, "passing", through.Rate(mm(83.5)), rate(right), unitstest.Rel(1e-11))
	unitstest.Near(t, "ending", ending.Rate(ending.Travel()), rate(left), unitstest.Rel(1e-11))
}

// A spring's own kink shows at the wheel at LR times its travel: two groups of
// 40 and 120 N/mm with gaps 15 and 30 mm close at 600 and 3600 N. Until 600 N
// both give: 30 N/mm over 20 mm; then 120 N/mm.
func TestWheelKeepsKinks(t *testing.T) {
	groups, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{
		{Rate: 40e3, Gap: mm(15)}, {Rate: 120e3, Gap: mm(30)},
	}})
	require.NoError(t, err)
	c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: mm(110)})
	require.NoError(t, err)
	l := wheel(t, c, groups)
	unitstest.Near(t, "before", l.Rate(mm(49.999)), 30e3/6.25, unitstest.Rel(1e-12))
	unitstest.Near(t, "at", l.Rate(mm(50)), 120e3/6.25, unitstest.Rel(1e-12))
	unitstest.Near(t, "force", l.Force(mm(50)), 600/2.5, unitstest.Rel(1e-12))
}

// Behind w = 1.5·s + 25·s², LR = 1.5 + 50·s rises, and a linear spring gives
// k_w = k·(1.5 − 50·p)/LR³: below 0 where the preload p is over 30 mm.
func TestMinRateFindsTheLeast(t *testing.T) {
	table := linkage.Table{Method: linkage.Smooth}
	for s := 0.0; s < 0.041; s += 0.005 {
		table.Stroke, table.Travel = append(table.Stroke, units.Length(s)), append(table.Travel, units.Length(1.5*s+25*s*s))
	}
	c := curve(t, table)
	const k = 50e3
	for _, test := range []struct {
		preload  float64
		ratio    float64 // where the least rate is
		atTravel units.Length
	}{{0, 3.5, c.Travel()}, {0.02, 3.5, c.Travel()}, {0.04, 1.5, 0}} {
		l := wheel(t, c, linear(t, k, 0.04, units.Length(test.preload)))
		rate, at := l.MinRate()
		unitstest.Near(t, "least rate", float64(rate), k*(1.5-50*test.preload)/math.Pow(test.ratio, 3), unitstest.Rel(1e-9))
		unitstest.Near(t, "where", at, test.atTravel, unitstest.Rel(1e-12))
	}
	// On a shorter law only as far as it goes.
	rate, at := wheel(t, c, linear(t, k, 0.02, 0)).MinRate()
	unitstest.Near(t, "least rate", float64(rate), k*1.5/math.Pow(2.5, 3), unitstest.Rel(1e-9))
	unitstest.Near(t, "where", float64(at), 1.5*0.02+25*0.02*0.02, unitstest.Rel(1e-12))
}

// A table printed too coarsely makes the wheel force fall between two points.
// The least rate says so, and Settle still finds a travel that carries a load
// between the forces at the ends.
func TestFallingWheelForceIsFoundAndSettles(t *testing.T) {
	c := curve(t, linkage.Table{
		Stroke: lengths(0, 10, 20, 30, 40, 50, 60), Travel: lengths(0, 20, 40, 60, 95, 120, 140),
	})
	l := wheel(t, c, linear(t, 40e3, mm(60), mm(20)))
	rate, at := l.MinRate()
	if !(rate < 0) || !(at > mm(40)) || !(at < mm(95)) {
		t.Fatalf("least rate %v at %v", rate, at)
	}
	// The force falls there, by more than rounding.
	if !(l.Force(at-mm(1)) > l.Force(at+mm(1))+1) {
		t.Errorf("force %v before and %v after", l.Force(at-mm(1)), l.Force(at+mm(1)))
	}
	for load := l.Force(0) + 1; load < l.Force(l.Travel()); load += 10 {
		w, err := spring.Settle(l, load)
		require.NoError(t, err)
		unitstest.Near(t, "force at rest", l.Force(w), load, unitstest.Rel(1e-9))
	}
}

// narrow is a law of one force whose rate falls to a tenth at one stroke alone.
type narrow struct{ travel, at units.Length }

func (narrow) Force(units.Length) units.Force { return 50 }

func (narrow) Energy(x units.Length) units.Energy { return units.Energy(50 * x) }

func (n narrow) Travel() units.Length { return n.travel }

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
		rate, _ := wheel(t, c, steady(1000, float64(c.Stroke()))).MinRate()
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

// A law that ends where two pieces of the curve meet knows nothing of the
// second: neither at full travel nor for its least rate.
func TestLawThatEndsAtAKnotIgnoresTheNextPiece(t *testing.T) {
	jumps := 0
	for _, ref := range refTables(t) {
		c := curve(t, ref.table(linkage.Monotone))
		before := math.Inf(1) // the least beside the knots so far
		for _, knot := range ref.Stroke[1 : len(ref.Stroke)-1] {
			l := wheel(t, c, steady(1000, float64(mm(knot))))
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
func TestLawThatEndsInsideAPieceAgreesWithTheCurve(t *testing.T) {
	for _, ref := range refTables(t) {
		c := curve(t, ref.table(linkage.Monotone))
		for i := range ref.Stroke[1:] {
			for _, part := range []float64{0.01, 0.5, 0.99} {
				s := mm(ref.Stroke[i] + part*(ref.Stroke[i+1]-ref.Stroke[i]))
				l := wheel(t, c, steady(1000, float64(s)))
				lr, slope := c.LeverRatio(s), float64(c.LeverRatioSlope(s))
				unitstest.Near(t, ref.Name+": force", float64(l.Force(l.Travel())), 1000/lr, unitstest.Rel(1e-12))
				unitstest.Near(t, ref.Name+": rate", float64(l.Rate(l.Travel())), -1000*slope/math.Pow(lr, 3), unitstest.Rel(1e-9), unitstest.Abs(1e-9))
			}
		}
		full := c.Stroke()
		l := wheel(t, c, steady(1000, 1))
		unitstest.Near(t, ref.Name+": force at full stroke", float64(l.Force(l.Travel())), 1000/c.LeverRatio(full), unitstest.Rel(1e-12))
	}
}

// told is a law that answers as it is told: force, rate and energy at full
// extension, and at full travel. It panics where it is told nothing.
type told struct {
	travel     float64
	start, end *[3]float64
}

func (l told) at(i int, x units.Length) float64 {
	if x > 0 {
		return l.end[i]
	}
	return l.start[i]
}

func (l told) Force(x units.Length) units.Force { return units.Force(l.at(0, x)) }

func (l told) Rate(x units.Length) units.Stiffness { return units.Stiffness(l.at(1, x)) }

func (l told) Energy(x units.Length) units.Energy { return units.Energy(l.at(2, x)) }

func (l told) Travel() units.Length { return units.Length(l.travel) }

// steady is a law of one force, whose rate is 0.
func steady(force, travel float64) told {
	v := &[3]float64{force, 0, 1}
	return told{travel, v, v}
}

func TestAtWheelRefuses(t *testing.T) {
	c := bent(t)
	nan, inf := math.NaN(), math.Inf(1)
	small, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 0.4, Travel: mm(20)})
	require.NoError(t, err)
	fine := &[3]float64{1, 1, 1}
	for _, test := range []struct {
		name   string
		curve  *linkage.Curve
		law    spring.Law
		fields []string
		class  error
		says   string
	}{
		{"nothing", nil, nil, []string{"curve", "law"}, units.ErrMissing, ""},
		{"the zero curve", &linkage.Curve{}, hard{}, []string{"curve"}, units.ErrMissing, ""},
		{"no law", c, nil, []string{"law"}, units.ErrMissing, ""},
		{"a nil pointer", c, (*told)(nil), []string{"law"}, units.ErrRange, "don't panic"},
		{"a panic at full travel", c, told{0.06, fine, nil}, []string{"law"}, units.ErrRange, "don't panic"},
		{"the zero spring", c, spring.LinearSpring{}, []string{"law"}, units.ErrRange, "travel is finite"},
		{"no travel", c, steady(1, 0), []string{"law"}, units.ErrRange, "travel is finite"},
		{"negative travel", c, steady(1, -1), []string{"law"}, units.ErrRange, "travel is finite"},
		{"NaN travel", c, steady(1, nan), []string{"law"}, units.ErrRange, "travel is finite"},
		{"infinite travel", c, steady(1, inf), []string{"law"}, units.ErrRange, "travel is finite"},
		{"two fifths of the least float64", small, steady(1, 5e-324), []string{"law"}, units.ErrRange, "moves the wheel"},
	} {
		t.Run(test.name, func(t *testing.T) {
			l, err := linkage.AtWheel(test.curve, test.law)
			refuses(t, err, test.fields...)
			if !errors.Is(err, test.class) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("error %v is not %v, or doesn't say %q", err, test.class, test.says)
			}
			if l != nil {
				t.Error("a law beside an error")
			}
		})
	}
	// Force, rate and energy, asked at both ends, must be below 1e150 either way.
	for i, what := range []string{"force", "rate", "energy"} {
		for v, ok := range map[float64]bool{
			0.999e150: true, -0.999e150: true, 1e150: false, -1e150: false, inf: false, -inf: false, nan: false,
		} {
			spoilt := *fine
			spoilt[i] = v
			for _, law := range []told{{0.06, &spoilt, fine}, {0.06, fine, &spoilt}} {
				if l, err := linkage.AtWheel(c, law); (l != nil) != ok || ok != (err == nil) {
					t.Errorf("%s of %v: law %v, error %v", what, v, l, err)
				} else if !ok {
					refuses(t, err, "law")
				}
			}
		}
	}
}

// A spring behind a curve keeps the contract of a law, kinks of spring and curve
// given.
func TestWheelKeepsTheContractOfALaw(t *testing.T) {
	stiff, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{{Rate: 80e3, Gap: mm(30)}, {Rate: 240e3, Gap: mm(20)}}})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]*linkage.Curve{"parabola": bent(t), "mechanism": compiled(t, solved("c1")), "six-bar": compiled(t, solved("f2"))} {
		if err := springtest.TestLaw(wheel(t, c, linear(t, 80e3, c.Stroke(), mm(2)))); err != nil {
			t.Errorf("%s, linear: %v", name, err)
		}
		var kinks []units.Length
		closed := units.Length(0)
		for _, s := range stiff.Segments() {
			closed += s.Length
			kinks = append(kinks, c.TravelAt(closed))
		}
		if err := springtest.TestLaw(wheel(t, c, stiff), kinks...); err != nil {
			t.Errorf("%s, with groups: %v", name, err)
		}
	}
}
