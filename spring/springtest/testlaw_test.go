package springtest_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
)

// law is a law given by its methods.
type law struct {
	force, rate, energy func(x float64) float64
	travel              float64
}

func (l law) Force(x units.Length) units.Force { return units.Force(l.force(l.clamp(x))) }
func (l law) Rate(x units.Length) units.Stiffness {
	return units.Stiffness(l.rate(l.clamp(x)))
}
func (l law) Energy(x units.Length) units.Energy { return units.Energy(l.energy(l.clamp(x))) }
func (l law) Travel() units.Length               { return units.Length(l.travel) }
func (l law) clamp(x units.Length) float64       { return float64(spring.Clamp(x, l.Travel())) }

// times is a law of so many times the length and the force.
func (l law) times(length, force float64) law {
	return law{
		func(x float64) float64 { return force * l.force(x/length) },
		func(x float64) float64 { return force / length * l.rate(x/length) },
		func(x float64) float64 { return force * length * l.energy(x/length) }, length * l.travel,
	}
}

// scales are the lengths and forces that a verdict must not depend on.
var scales = [][2]float64{{1, 1}, {0x1p-20, 0x1p-20}, {0x1p-20, 0x1p20}, {0x1p20, 0x1p-20}, {0x1p20, 0x1p20}}

// step is 0 below a travel, 1 from there on.
func step(x, at float64) float64 {
	if x >= at {
		return 1
	}
	return 0
}

// line is F = force + rate·x over a metre.
func line(force, rate float64) law {
	return law{
		func(x float64) float64 { return force + rate*x }, func(float64) float64 { return rate },
		func(x float64) float64 { return (force + rate*x/2) * x }, 1,
	}
}

// bumper is 1000 N/m for a metre, with a bumper of 5000 N/m more from 0.5 m on,
// by hand.
func bumper() law {
	return law{
		func(x float64) float64 { return 1000*x + 5000*max(x-0.5, 0) },
		func(x float64) float64 { return 1000 + 5000*step(x, 0.5) },
		func(x float64) float64 { return 500*x*x + 2500*max(x-0.5, 0)*max(x-0.5, 0) }, 1,
	}
}

// jump is 1000 N/m, with 300 N more from 0.3 m on.
func jump() law {
	return law{
		func(x float64) float64 { return 1000*x + 300*step(x, 0.3) }, func(float64) float64 { return 1000 },
		func(x float64) float64 { return 500*x*x + 300*max(x-0.3, 0) }, 1,
	}
}

// gas pulls near full extension.
var gas = law{
	func(x float64) float64 { return 120/(0.18-x) - 1000 },
	func(x float64) float64 { return 120 / ((0.18 - x) * (0.18 - x)) },
	func(x float64) float64 { return -120*math.Log1p(-x/0.18) - 1000*x }, 0.12,
}

func TestGoodLawsPass(t *testing.T) {
	root := law{
		func(x float64) float64 { return 1 - math.Sqrt(1-x) },
		func(x float64) float64 { return min(0.5/math.Sqrt(1-x), 1e9) },
		func(x float64) float64 { return x + 2.0/3*((1-x)*math.Sqrt(1-x)-1) }, 1,
	}
	level := law{ // from 0.5 m on, at a force that is not a short number
		func(x float64) float64 { return math.Pi * min(x, 0.5) }, func(x float64) float64 { return math.Pi * step(-x, -0.499999999) },
		func(x float64) float64 { return math.Pi * (min(x, 0.5)*min(x, 0.5)/2 + 0.5*max(x-0.5, 0)) }, 1,
	}
	for name, test := range map[string]struct {
		law   law
		kinks []float64
	}{
		"kink": {bumper(), nil}, "kink told": {bumper(), []float64{0.5, 1}}, "jump": {jump(), nil}, "gas": {gas, []float64{0.12}}, "root": {root, nil},
		"no force": {line(0, 0), []float64{1}}, "level at the end": {level, []float64{0.5, 1}}, "pulls to the end": {line(-1000, 1000), nil},
	} {
		for _, by := range scales {
			var kinks []units.Length
			for _, x := range test.kinks {
				kinks = append(kinks, units.Length(x*by[0]))
			}
			if err := springtest.TestLaw(test.law.times(by[0], by[1]), kinks...); err != nil {
				t.Errorf("%s, times %v: %v", name, by, err)
			}
		}
	}
}

// Every fault is found at any scale, and said with its place.
func TestFaultsAreFound(t *testing.T) {
	for name, test := range map[string]struct {
		change func(l *law)
		want   string
	}{
		"no travel": {func(l *law) { l.travel = 0 }, "travel is 0 mm"},
		"endless":   {func(l *law) { l.travel = math.Inf(1) }, "travel is +Inf"},
		"NaN":       {func(l *law) { l.energy = func(x float64) float64 { return math.NaN() } }, "want them finite"},
		"infinite":  {func(l *law) { l.rate = func(x float64) float64 { return 1 / (1 - x) } }, "at 1000 mm"},
		"NaN at a kink": {func(l *law) {
			l.rate = func(x float64) float64 { return 1000 + 5000*step(x, 0.5) + 0*math.Log(math.Abs(x-0.3)) }
		}, "at 300 mm force is 300 N, rate NaN"},
		"NaN in between": {func(l *law) {
			f := l.force
			l.force = func(x float64) float64 { return f(x) + 0*math.Sqrt(math.Abs(x-0x1.02p-1)-1e-4) }
		}, "integral of force is NaN"},
		"rough": {func(l *law) {
			f := l.force
			l.force = func(x float64) float64 { return f(x) + 10*math.Abs(math.Sin(0x1p30*math.Pi*x)) }
		}, "integral of force is NaN"},
		"panic":                 {func(l *law) { l.force = nil }, "panics"},
		"falls":                 {func(l *law) { l.force = func(x float64) float64 { return 1000*x - 2000*max(x-0.75, 0) } }, "force falls from 750 N"},
		"rate below 0":          {func(l *law) { l.rate = func(x float64) float64 { return -1000 } }, "rate is -1 N/mm at 0 mm"},
		"rate off by 1 %":       {func(l *law) { l.rate = func(x float64) float64 { return 1000 + 5050*step(x, 0.5) } }, "rate is 6.05 N/mm at 505.78"},
		"rate at the start":     {func(l *law) { l.rate = func(x float64) float64 { return 6000 - 5000*step(0.5, x)*step(x, 1e-9) } }, "rate is 6 N/mm at 0 mm"},
		"rate left at a kink":   {func(l *law) { l.rate = func(x float64) float64 { return 1000 + 5000*step(x, 0.5+1e-12) } }, "rate is 1 N/mm at 500 mm"},
		"rate right at the end": {func(l *law) { l.rate = func(x float64) float64 { return 1000 + 5000*step(x, 0.5) + 1000*step(x, 1) } }, "rate is 7 N/mm at 1000 mm"},
		"energy from elsewhere": {func(l *law) { e := l.energy; l.energy = func(x float64) float64 { return e(x) + 1 } }, "energy at travel 0 is 1 J"},
		"energy off by 1e-6":    {func(l *law) { e := l.energy; l.energy = func(x float64) float64 { return e(x) * (1 + 1e-6) } }, "but the integral of force is"},
	} {
		l := bumper()
		test.change(&l)
		for i, by := range scales {
			err := springtest.TestLaw(l.times(by[0], by[1]), units.Length(0.3*by[0]), units.Length(0.5*by[0]), units.Length(by[0]))
			if err == nil || i == 0 && !strings.Contains(err.Error(), test.want) {
				t.Errorf("%s, times %v: %v, want %q", name, by, err, test.want)
			}
		}
	}
	if err := springtest.TestLaw(nil); err == nil {
		t.Error("nil passes")
	}
}

// What is off by as much as the documentation grants passes, and by a little more
// does not.
func TestTolerances(t *testing.T) {
	for name, test := range map[string]struct {
		with     func(off float64) law
		off, too float64
	}{
		"force falls":          {func(off float64) law { return fallen(line(1000, 0), 1000*off) }, 0.9e-9, 1.1e-9},
		"force that pulls":     {func(off float64) law { return fallen(line(-1000, 0), 1000*off) }, 0.9e-9, 1.1e-9},
		"force falls below 0":  {func(off float64) law { return fallen(bent(), 1000*off) }, 0.9e-12, 1.1e-12},
		"rate":                 {func(off float64) law { l := line(0, 1000); l.rate = line(1000*(1+off), 0).force; return l }, 1.35e-4, 1.45e-4},
		"rate that is too low": {func(off float64) law { l := line(0, 1000); l.rate = line(1000*(1-off), 0).force; return l }, 1.35e-4, 1.45e-4},
		"energy":               {func(off float64) law { l := line(0, 1000); l.energy = line(1000*off, 1000).energy; return l }, 0.9e-9, 1.1e-9},
		"energy, too little":   {func(off float64) law { l := line(0, 1000); l.energy = line(-1000*off, 1000).energy; return l }, 0.9e-9, 1.1e-9},
	} {
		for _, by := range scales {
			if err := springtest.TestLaw(test.with(test.off).times(by[0], by[1])); err != nil {
				t.Errorf("%s, times %v: %v", name, by, err)
			}
			if springtest.TestLaw(test.with(test.too).times(by[0], by[1])) == nil {
				t.Errorf("%s, times %v: an error of %v passes", name, by, test.too)
			}
		}
	}
}

// fallen is a law whose force falls at 0.3 m.
func fallen(l law, by float64) law {
	whole := l.force
	l.force = func(x float64) float64 { return whole(x) - by*step(x, 0.3) }
	return l
}

// bent has no force up to 0.5 m, and 1000 N after a metre.
func bent() law {
	return law{
		func(x float64) float64 { return 2000 * max(x-0.5, 0) }, func(x float64) float64 { return 2000 * step(x, 0.5) },
		func(x float64) float64 { return 1000 * max(x-0.5, 0) * max(x-0.5, 0) }, 1,
	}
}

// A law of any shape is evaluated some thousand times.
func TestFewEvaluations(t *testing.T) {
	for name, test := range map[string]struct {
		law  law
		most int
	}{"line": {line(100, 1000), 940}, "kink": {bumper(), 940}, "jump": {jump(), 1060}, "gas": {gas, 1350}} {
		n := 0
		count := func(f func(float64) float64) func(float64) float64 {
			return func(x float64) float64 { n++; return f(x) }
		}
		l := law{count(test.law.force), count(test.law.rate), count(test.law.energy), test.law.travel}
		if err := springtest.TestLaw(l); err != nil || n > test.most {
			t.Errorf("%s: %d evaluations, %v", name, n, err)
		}
	}
}

// loose is a law that does not clamp.
type loose struct {
	law
	what string
}

func (l loose) Force(x units.Length) units.Force {
	if l.what == "force" {
		return units.Force(1000 * x)
	}
	return l.law.Force(x)
}

func (l loose) Rate(x units.Length) units.Stiffness {
	if l.what == "rate" && !(x >= 0) {
		return 0
	}
	return l.law.Rate(x)
}

func (l loose) Energy(x units.Length) units.Energy {
	if l.what == "energy" && x > 1 {
		return 0
	}
	return l.law.Energy(x)
}

func TestArgumentsMustBeClamped(t *testing.T) {
	for _, what := range []string{"force", "rate", "energy"} {
		if err := springtest.TestLaw(loose{line(0, 1000), what}); err == nil || !strings.Contains(err.Error(), "is not taken as") {
			t.Errorf("%s: %v", what, err)
		}
	}
	if err := springtest.TestLaw(loose{line(0, 1000), ""}); err != nil {
		t.Error(err)
	}
}

// chain is a law that says its segments.
type chain struct {
	law
	segments []spring.Segment
}

func (c chain) Segments() []spring.Segment { return c.segments }

// The segments of a polyline are those of its law, at any scale, or said to be wrong.
func TestSegmentsMustBeTheLaws(t *testing.T) {
	soft, hard := spring.Segment{Length: 0.5, Rate: 1000, End: 500}, spring.Segment{Length: 0.5, Rate: 6000, Start: 500, End: 3500}
	for _, test := range []struct {
		law      law
		segments []spring.Segment
		want     string
	}{
		{bumper(), []spring.Segment{soft, hard}, ""}, {bumper(), nil, ""}, {line(0, 0), []spring.Segment{{Length: 1}}, ""},
		{jump(), []spring.Segment{{Length: 0.3, Rate: 1000, End: 300}, {Length: 0.7, Rate: 1000, Start: 600, End: 1300}}, ""},
		{bumper(), []spring.Segment{soft, {Length: 0.5, Rate: 5000, Start: 500, End: 3000}}, "segment 1, from 500 N at 500 mm"},
		{bumper(), []spring.Segment{{Length: 0.5, Rate: 1000, Start: 1, End: 500}, hard}, "segment 0, from 1 N"},
		{bumper(), []spring.Segment{{Length: 0.5, Rate: 1000, End: 501}, hard}, "segment 0, from 0 N at 0 mm to 501 N"},
		{bumper(), []spring.Segment{soft}, "end at 500 mm, want the travel 1000 mm"},
		{bumper(), []spring.Segment{soft, hard, {}}, "segment 2"},
		{bumper(), []spring.Segment{soft, {Rate: 6000, Start: 500, End: 500}, hard}, "segment 1"},
	} {
		for i, by := range scales {
			var scaled []spring.Segment
			for _, s := range test.segments {
				f := units.Force(by[1])
				scaled = append(scaled, spring.Segment{Length: s.Length * units.Length(by[0]), Rate: s.Rate * units.Stiffness(by[1]/by[0]), Start: s.Start * f, End: s.End * f})
			}
			err := springtest.TestLaw(chain{test.law.times(by[0], by[1]), scaled})
			if (err == nil) != (test.want == "") || i == 0 && err != nil && !strings.Contains(err.Error(), test.want) {
				t.Errorf("%+v: %v, want %q", scaled, err, test.want)
			}
		}
	}
}

// hardening is a spring of one's own: F = a·x + b·x³.
type hardening struct {
	a, b   float64
	travel units.Length
}

func (h hardening) Force(x units.Length) units.Force {
	s := float64(spring.Clamp(x, h.travel))
	return units.Force(h.a*s + h.b*s*s*s)
}

func (h hardening) Rate(x units.Length) units.Stiffness {
	s := float64(spring.Clamp(x, h.travel))
	return units.Stiffness(h.a + 3*h.b*s*s)
}

func (h hardening) Energy(x units.Length) units.Energy {
	s := float64(spring.Clamp(x, h.travel))
	return units.Energy(h.a*s*s/2 + h.b*s*s*s*s/4)
}

func (h hardening) Travel() units.Length { return h.travel }

// A law of one's own, tested, then used as any other.
func ExampleTestLaw() {
	own := hardening{a: 40e3, b: 5e6, travel: 60 * units.Millimetre}
	fmt.Println(springtest.TestLaw(own))
	// By hand: 40 N/mm · 40 mm + 5e6 N/m³ · (40 mm)³.
	x, err := spring.Settle(own, 1920*units.Newton)
	fmt.Printf("%.3f %v\n", x, err)

	own.travel = 0
	fmt.Println(springtest.TestLaw(own))
	// Output:
	// <nil>
	// 40.000 mm <nil>
	// springtest: travel is 0 mm, want it finite and more than 0
}

// perMillimetre is a law whose rate is in N/mm where N/m is due.
type perMillimetre struct{ hardening }

func (l perMillimetre) Rate(x units.Length) units.Stiffness { return l.hardening.Rate(x) / 1000 }

// A program that takes a law from somebody else tests it before use: [spring.Settle] asks no rate, but
// frequencies and ideal rates follow from it.
func ExampleTestLaw_rate() {
	err := springtest.TestLaw(perMillimetre{hardening{a: 40e3, travel: 64 * units.Millimetre}})
	rate, _, _ := strings.Cut(err.Error(), ", but force rises with 40")
	fmt.Println(rate)
	// Output:
	// springtest: rate is 0.04 N/mm at 0.37 mm
}
