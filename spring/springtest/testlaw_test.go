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

// bumper is 1000 N/m for a metre, with a bumper of 5000 N/m more from 0.5 m on,
// by hand.
func bumper() law {
	return law{
		func(x float64) float64 { return 1000*x + 5000*max(x-0.5, 0) },
		func(x float64) float64 {
			if x >= 0.5 {
				return 6000
			}
			return 1000
		},
		func(x float64) float64 { return 500*x*x + 2500*max(x-0.5, 0)*max(x-0.5, 0) },
		1,
	}
}

// Good laws pass: one with a kink, told or not, one that jumps, one that pulls
// and is curved, one that ends in a square root.
func TestGoodLawsPass(t *testing.T) {
	jump := bumper()
	jump.force = func(x float64) float64 { return 1000*x + 300*step(x) }
	jump.rate = func(float64) float64 { return 1000 }
	jump.energy = func(x float64) float64 { return 500*x*x + 300*max(x-0.3, 0) }
	gas := law{
		func(x float64) float64 { return 120/(0.18-x) - 1000 },
		func(x float64) float64 { return 120 / ((0.18 - x) * (0.18 - x)) },
		func(x float64) float64 { return -120*math.Log1p(-x/0.18) - 1000*x }, 0.12,
	}
	root := law{
		func(x float64) float64 { return 1 - math.Sqrt(1-x) },
		func(x float64) float64 { return min(0.5/math.Sqrt(1-x), 1e9) },
		func(x float64) float64 { return x + 2.0/3*((1-x)*math.Sqrt(1-x)-1) }, 1,
	}
	for name, test := range map[string]struct {
		law   spring.Law
		kinks []units.Length
	}{
		"kink": {bumper(), nil}, "kink told": {bumper(), []units.Length{0.5, 1}}, "jump": {jump, nil}, "gas": {gas, []units.Length{0.12}}, "root": {root, nil},
	} {
		if err := springtest.TestLaw(test.law, test.kinks...); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func step(x float64) float64 {
	if x >= 0.3 {
		return 1
	}
	return 0
}

// Every fault is found, and said with its place.
func TestFaultsAreFound(t *testing.T) {
	for name, test := range map[string]struct {
		change func(l *law)
		want   string
	}{
		"no travel":       {func(l *law) { l.travel = 0 }, "travel is 0 mm"},
		"endless":         {func(l *law) { l.travel = math.Inf(1) }, "travel is +Inf"},
		"NaN":             {func(l *law) { l.energy = func(x float64) float64 { return math.NaN() } }, "want them finite"},
		"infinite":        {func(l *law) { l.rate = func(x float64) float64 { return 1 / (1 - x) } }, "at 1000 mm"},
		"panic":           {func(l *law) { l.force = nil }, "panics"},
		"falls":           {func(l *law) { l.force = func(x float64) float64 { return 1000*x - 2000*max(x-0.75, 0) } }, "force falls from 750 N"},
		"rate below 0":    {func(l *law) { l.rate = func(x float64) float64 { return -1000 } }, "rate is -1 N/mm at 0 mm"},
		"rate off by 1 %": {func(l *law) { l.rate = func(x float64) float64 { return 1000 + 5050*heaviside(x-0.5) } }, "rate is 6.05 N/mm at 505.78"},
		"rate at the start": {func(l *law) {
			l.rate = func(x float64) float64 { return 6000 - 5000*heaviside(0.5-x)*heaviside(x-1e-9) }
		}, "rate is 6 N/mm at 0 mm"},
		"rate left at a kink": {func(l *law) { l.rate = func(x float64) float64 { return 1000 + 5000*heaviside(x-0.5-1e-12) } }, "rate is 1 N/mm at 500 mm"},
		"rate right at the end": {func(l *law) {
			l.rate = func(x float64) float64 { return 1000 + 5000*heaviside(x-0.5) + 1000*heaviside(x-1) }
		},
			"rate is 7 N/mm at 1000 mm"},
		"energy from elsewhere": {func(l *law) { e := l.energy; l.energy = func(x float64) float64 { return e(x) + 1 } }, "energy at travel 0 is 1 J"},
		"energy off by 1e-6":    {func(l *law) { e := l.energy; l.energy = func(x float64) float64 { return e(x) * (1 + 1e-6) } }, "but the integral of force is"},
	} {
		l := bumper()
		test.change(&l)
		if err := springtest.TestLaw(l, 0.5, 1); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", name, err, test.want)
		}
	}
	if err := springtest.TestLaw(nil); err == nil {
		t.Error("nil passes")
	}
}

func heaviside(x float64) float64 {
	if x >= 0 {
		return 1
	}
	return 0
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
	line := bumper()
	line.force, line.energy = func(x float64) float64 { return 1000 * x }, func(x float64) float64 { return 500 * x * x }
	line.rate = func(float64) float64 { return 1000 }
	for _, what := range []string{"force", "rate", "energy"} {
		if err := springtest.TestLaw(loose{line, what}); err == nil || !strings.Contains(err.Error(), "is not taken as") {
			t.Errorf("%s: %v", what, err)
		}
	}
	if err := springtest.TestLaw(loose{line, ""}); err != nil {
		t.Error(err)
	}
}

// chain is a law that says its segments.
type chain struct {
	law
	segments []spring.Segment
}

func (c chain) Segments() []spring.Segment { return c.segments }

// The segments of a polyline are those of the bumper, or said to be wrong.
func TestSegmentsMustBeTheLaws(t *testing.T) {
	good := []spring.Segment{{Length: 0.5, Rate: 1000, End: 500}, {Length: 0.5, Rate: 6000, Start: 500, End: 3500}}
	for want, segments := range map[string][]spring.Segment{
		"": good, "segment 1, from 500 N at 500 mm": {good[0], {Length: 0.5, Rate: 5000, Start: 500, End: 3000}},
		"segment 0, from 1 N": {{Length: 0.5, Rate: 1000, Start: 1, End: 500}, good[1]}, "end at 500 mm, want the travel 1000 mm": good[:1],
		"segment 2": append(good[:2:2], spring.Segment{}),
	} {
		err := springtest.TestLaw(chain{bumper(), segments}, 0.5, 1)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	if err := springtest.TestLaw(chain{bumper(), nil}, 0.5, 1); err != nil {
		t.Error(err)
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
