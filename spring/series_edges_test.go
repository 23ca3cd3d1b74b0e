package spring_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// ramp is F = low + rate·x over a travel, which no stack knows to be straight.
func ramp(low, rate, travel float64) spring.Law {
	return hostile{slope{low, rate}, func(x units.Length) units.Force {
		return units.Force(low + rate*float64(spring.Clamp(x, units.Length(travel))))
	}, units.Length(travel)}
}

// slope is the rest of a ramp.
type slope struct{ low, rate float64 }

func (s slope) Force(units.Length) units.Force    { return 0 }
func (s slope) Rate(units.Length) units.Stiffness { return units.Stiffness(s.rate) }
func (s slope) Energy(x units.Length) units.Energy {
	return units.Energy((s.low + s.rate*float64(x)/2) * float64(x))
}
func (s slope) Travel() units.Length { return 0 }

// A law that pulls over all its travel, or just not at its end, is one like
// any other. By hand: two of 3 N/m are 1.5 N/m on end.
func TestSeriesOfLawsThatPull(t *testing.T) {
	for _, low := range []float64{-7, -3, -2, -1} {
		for n := 1.0; n <= 2; n++ {
			laws := []spring.Law{ramp(low, 3, 1), ramp(low, 3, 1)}[:int(n)]
			s := seriesOf(t, laws...)
			for _, part := range []float64{0, 0.25, 0.5, 0.75, 1} {
				x := units.Length(part * n)
				what := fmt.Sprintf("%v of them from %v N, at %v of the travel: ", n, low, part)
				agree(t, what+"force", 10+s.Force(x), units.Force(10+low+3*part), 1e-12)
				agree(t, what+"rate", s.Rate(x), units.Stiffness(3/n), 1e-12)
				agree(t, what+"energy", 10+s.Energy(x), units.Energy(10+n*part*(low+3*part/2)), 1e-12)
			}
		}
	}
}

// At the very start all move that start at the same force, and at the very end
// all that end at the same one, rounding forgiven; one that was solid before
// does not. By hand: 60 and 90 N/mm on end are 36 N/mm.
func TestSeriesRateAtItsEnds(t *testing.T) {
	soft, hard := linearOf(t, 60e3, 0.012), linearOf(t, 90e3, 0.02)
	both, almost := linearOf(t, 60e3, 0.03), linearOf(t, 60e3, 0.03*(1+5e-13))
	for name, c := range map[string]struct {
		laws        []spring.Law
		start, full units.Stiffness
	}{
		"line solid first":       {[]spring.Law{soft, opaque{hard}}, 36e3, 90e3},
		"law solid first":        {[]spring.Law{opaque{soft}, hard}, 36e3, 90e3},
		"laws":                   {[]spring.Law{opaque{soft}, opaque{hard}}, 36e3, 90e3},
		"both to the end":        {[]spring.Law{opaque{both}, opaque{hard}}, 36e3, 36e3},
		"both, a line":           {[]spring.Law{opaque{both}, hard}, 36e3, 36e3},
		"both but for rounding":  {[]spring.Law{opaque{almost}, opaque{hard}}, 36e3, 36e3},
		"a line but for it":      {[]spring.Law{almost, opaque{hard}}, 36e3, 36e3},
		"a law beside such line": {[]spring.Law{opaque{almost}, hard}, 36e3, 36e3},
	} {
		s := seriesOf(t, c.laws...)
		agree(t, name+", at the start", s.Rate(0), c.start, 1e-12)
		agree(t, name+", at full travel", s.Rate(s.Travel()), c.full, 1e-12)
	}
}

// Springs on end may be put together one by one: the stack that comes out is
// the same, whatever is joined first, and however short its travel is.
func TestSeriesOfSeries(t *testing.T) {
	air := gas{c: 120, l: 0.18, d: 500, travel: 0.12}
	a, b := linearOf(t, 60e3, 0.03), linearOf(t, 90e3, 0.02)
	at := func(force float64) float64 { return air.at(force) + min(force/60e3, 0.03) + min(force/90e3, 0.02) }
	for name, s := range map[string]spring.Law{
		"at once": seriesOf(t, air, a, b), "one after the other": seriesOf(t, seriesOf(t, air, a), b),
		"line last": seriesOf(t, b, seriesOf(t, a, air)), "lines first": seriesOf(t, seriesOf(t, a, b), air),
	} {
		agree(t, name+": travel", s.Travel(), 0.17, 1e-14)
		for _, force := range []float64{200, 600, 1000, 1400} {
			x := units.Length(at(force))
			agree(t, fmt.Sprintf("%s: force at %v", name, x), s.Force(x), units.Force(force), 1e-11)
		}
	}
}

// A stack of travels of a nanometre, or of 1e200 m, is as one of millimetres:
// forces stay, rates shrink as the travel grows.
func TestSeriesOfAnySize(t *testing.T) {
	for _, size := range []float64{1e-12, 1e-9, 1e-3, 1, 1e6, 1e100, 1e140} {
		air := gas{c: 120 * size, l: 0.18 * size, d: 500, travel: 0.12 * size}
		line := linearOf(t, 60e3/size, 0.03*size)
		second := gas{c: 90 * size, l: 0.1 * size, d: 700, travel: 0.06 * size}
		for name, s := range map[string]spring.Law{
			"a gas and a line": seriesOf(t, air, opaque{line}), "a gas and a joined line": seriesOf(t, air, line),
		} {
			for _, force := range []float64{200, 500, 1000, 1400} {
				x := units.Length(air.at(force) + force/60e3*size)
				what := fmt.Sprintf("size %g, %s, at %v", size, name, x)
				agree(t, what+": force", s.Force(x), units.Force(force), 1e-11)
				left := (air.l - air.at(force))
				agree(t, what+": rate", s.Rate(x), units.Stiffness(1/(left*left/air.c+size/60e3)), 1e-10)
			}
		}
		s := seriesOf(t, air, second)
		for _, force := range []float64{250, 500, 700} {
			x := units.Length(air.at(force) + second.at(force))
			agree(t, fmt.Sprintf("size %g, two gases, at %v", size, x), s.Force(x), units.Force(force), 1e-11)
		}
	}
	// So far apart that a product of two travels would overflow.
	s := seriesOf(t, ramp(0, 1e-200, 1e200), ramp(0, 1e-200, 1e200))
	agree(t, "force of 1e200 m", s.Force(1e200), 0.5, 1e-12)
	agree(t, "rate of 1e200 m", s.Rate(1e200), 0.5e-200, 1e-12)
}

// Stacks of laws that each are fine are refused where they are too much
// together: travels that add to no finite one, on end or one after the other.
func TestStacksThatAreTooMuchTogether(t *testing.T) {
	far := ramp(1, 0, 1e308)
	_, err := spring.NewSeries(far, far)
	refuses(t, err, "laws")
	_, err = spring.NewParallel(spring.Member{Law: far, StartsAt: 1.7e308})
	refuses(t, err, "members")
	strong := ramp(1e308, 0, 1)
	_, err = spring.NewParallel(spring.Member{Law: strong}, spring.Member{Law: strong})
	refuses(t, err, "members")
	_, err = spring.NewGroups(spring.Groups{Groups: []spring.Group{{Rate: 1e-315, Gap: 1e308}, {Rate: 1e-315, Gap: 1e308}}})
	refuses(t, err, "groups")
	// Rates, forces and energies that do not add either. Each of the lines is
	// as strong as they come.
	a := linearOf(t, 1e308, 1e-160)
	_, err = spring.NewParallel(spring.Member{Law: a}, spring.Member{Law: a})
	refuses(t, err, "members")
	_ = parallelOf(t, spring.Member{Law: a}, spring.Member{Law: linearOf(t, 1e307, 1e-160)})
}

// A stack on end of one stack side by side has its travel to the last place,
// whatever the stretches between its kinks add to; so has one that is
// preloaded by nothing.
func TestStackOfOneStack(t *testing.T) {
	for i := range 100 {
		var members []spring.Member
		for j := range 5 {
			members = append(members, spring.Member{Law: linearOf(t, 50e3, 0.1+0.001*float64(i)), StartsAt: units.Length(0.0013*float64(i*j%7) + 0.0101*float64(j))})
		}
		stack, first := parallelOf(t, members...), units.Length(math.Inf(1))
		for _, m := range members {
			first = min(first, m.StartsAt+m.Law.Travel())
		}
		if stack.Travel() != first {
			t.Errorf("travel %v, the first spring is solid at %v", float64(stack.Travel()), float64(first))
		}
		if got := seriesOf(t, stack).Travel(); got != stack.Travel() {
			t.Errorf("travel %v on end, %v by itself", float64(got), float64(stack.Travel()))
		}
	}
}

// A rate as large as float64 has any is refused, or answered with a number.
func TestSeriesOfTheGreatestRate(t *testing.T) {
	for _, rate := range []float64{math.MaxFloat64, 1.79e308, 1e308} {
		s, err := spring.NewSeries(ramp(0, rate, 1e-160))
		if err != nil {
			refuses(t, err, "laws")
			continue
		}
		for _, part := range []units.Length{0, 0.25, 0.5, 1} {
			if k := float64(s.Rate(part * s.Travel())); !finite(k) || !(k > 0.9*rate) {
				t.Errorf("rate %v, of a law of %v", k, rate)
			}
		}
	}
}

// step is a law that is steep in its middle and flat at its ends, where a
// Newton step goes astray: F = A·(atan(b·(x − c)) + atan(b·c)).
type step struct{ a, b, c, travel float64 }

func (s step) u(x units.Length) float64 {
	return s.b * (float64(spring.Clamp(x, s.Travel())) - s.c)
}
func (s step) Force(x units.Length) units.Force {
	return units.Force(s.a * (math.Atan(s.u(x)) + math.Atan(s.b*s.c)))
}
func (s step) Rate(x units.Length) units.Stiffness {
	u := s.u(x)
	return units.Stiffness(s.a * s.b / (1 + u*u))
}
func (s step) Energy(x units.Length) units.Energy {
	whole := func(u float64) float64 { return u*math.Atan(u) - math.Log1p(u*u)/2 }
	return units.Energy(s.a * ((whole(s.u(x))-whole(-s.b*s.c))/s.b + math.Atan(s.b*s.c)*float64(spring.Clamp(x, s.Travel()))))
}
func (s step) Travel() units.Length { return units.Length(s.travel) }

// at is the inverse of Force.
func (s step) at(force float64) float64 {
	return s.c + math.Tan(force/s.a-math.Atan(s.b*s.c))/s.b
}

// Laws with a step in the middle on end with straight ones, inverted by hand:
// the right split is found, in at most 8 steps.
func TestSeriesOfSteps(t *testing.T) {
	for _, b := range []float64{30, 300, 3e3, 3e4} {
		for _, c := range []float64{0.01, 0.05, 0.09} {
			for _, rate := range []float64{2e3, 20e3, 200e3} {
				law, looks := step{a: 300, b: b, c: c, travel: 0.1}, 0
				counting := counting{law, &looks}
				line := linearOf(t, rate, 1000/rate)
				full := float64(law.Force(law.Travel()))
				for name, s := range map[string]spring.Law{"joined": seriesOf(t, counting, line), "opaque": seriesOf(t, counting, opaque{line})} {
					for part := 0.03; part < 1; part += 0.061 {
						force := part * full
						x := units.Length(law.at(force) + force/rate)
						looks = 0
						got := s.Force(x)
						what := fmt.Sprintf("b %v, c %v, %v N/m, %s, at %v", b, c, rate, name, x)
						agree(t, what, got, units.Force(force), 1e-8)
						if looks > 16 {
							t.Errorf("%s: %d evaluations", what, looks)
						}
					}
				}
			}
		}
	}
}

// Travels that add to no float64 are rounded up to one; the number just below
// that sum is within the last law's travel, and yet left − travel of the first
// rounds to all of it. Found by hand: 1/4 m and an odd number of halves of 2⁻⁵²
// m, 1 m and twice that.
func TestSeriesJustBelowFullTravel(t *testing.T) {
	for i := range 8 {
		a, b := 0.25+(2*float64(i)+1.5)*0x1p-52, 1+0x1p-51
		s := seriesOf(t, ramp(0, 1000, a), ramp(0, 1000, b))
		for x, n := s.Travel(), 0; n < 4; x, n = units.Length(math.Nextafter(float64(x), 0)), n+1 {
			what := fmt.Sprintf("%d steps below full travel, ", n)
			agree(t, what+"force", s.Force(x), 1000, 1e-14)
			agree(t, what+"rate", s.Rate(x), 1000, 1e-12)
			agree(t, what+"energy", s.Energy(x), units.Energy(500*(a*a+1)), 1e-14)
		}
	}
}

// A jump too small for Settle to mind, a ten-millionth of the range, is one to
// a stack: within it the other spring alone moves, whichever side is nearer.
func TestSeriesOfASmallJump(t *testing.T) {
	line := linearOf(t, 2000, 0.1)
	law := hostile{ramp(0, 1000, 0.1), func(x units.Length) units.Force {
		x = spring.Clamp(x, 0.1)
		if x > 0.05 {
			return units.Force(1000*float64(x) + 1e-5)
		}
		return units.Force(1000 * float64(x))
	}, 0.1}
	s := seriesOf(t, opaque{line}, law)
	for part, rate := range map[float64]float64{-2: 2000.0 / 3, 0.2: 2000, 0.8: 2000, 3: 2000.0 / 3} {
		force := 50 + part*1e-5
		x := units.Length(force/2000 + 0.05)
		if part < 0 {
			x = units.Length(force/2000 + force/1000)
		} else if part > 1 {
			x = units.Length(force/2000 + (force-1e-5)/1000)
		}
		agree(t, fmt.Sprintf("rate at %v of the jump", part), s.Rate(x), units.Stiffness(rate), 1e-9)
		agree(t, fmt.Sprintf("force at %v of the jump", part), s.Force(x), units.Force(force), 1e-11)
	}
}

// counting counts the evaluations of a law.
type counting struct {
	spring.Law
	looks *int
}

func (c counting) Force(x units.Length) units.Force {
	*c.looks++
	return c.Law.Force(x)
}

func (c counting) Rate(x units.Length) units.Stiffness {
	*c.looks++
	return c.Law.Rate(x)
}

// Laws of varying rate are evaluated for a force at most 8 times each, and at
// most 6 times on average, force and rate together; for a rate once more.
func TestSeriesTakesFewEvaluations(t *testing.T) {
	looks := 0
	counting := func(l spring.Law) spring.Law { return counting{l, &looks} }
	for name, laws := range map[string][]spring.Law{
		"a gas and a line":     {counting(gas{c: 120, l: 0.18, d: 500, travel: 0.12}), linearOf(t, 60e3, 0.03)},
		"a soft gas, a line":   {counting(gas{c: 120, l: 0.18, d: 500, travel: 0.12}), linearOf(t, 600e3, 0.003)},
		"a gas and two lines":  {counting(gas{c: 90, l: 0.1, d: 900, travel: 0.06}), linearOf(t, 60e3, 0.01), linearOf(t, 90e3, 0.03)},
		"two gases and a line": {counting(gas{c: 90, l: 0.1, d: 900, travel: 0.06}), counting(gas{c: 120, l: 0.18, d: 500, travel: 0.12}), linearOf(t, 60e3, 0.01)},
	} {
		s := seriesOf(t, laws...)
		looks = 0
		most, n, of := 0, 199, 1
		if len(name) > 18 {
			of = 2
		}
		for i := 1; i <= n; i++ {
			x, before := s.Travel()*units.Length(i)/units.Length(n+1), looks
			sink = float64(s.Force(x))
			took := looks - before
			if sink = float64(s.Rate(x)); looks > before+2*took+of {
				t.Errorf("%s at %v: %d evaluations for a force, %d for a rate", name, x, took, looks-before-took)
			}
			most, looks = max(most, took), before+took
		}
		if looks > 6*n*of || most > 8*of {
			t.Errorf("%s: %v evaluations on average, %d at the most", name, float64(looks)/float64(n), most)
		}
	}
}

// A spring of constant force is level ground over all its travel: 100 N over 50 mm, alone, twice, and on end with
// 1 N/mm that ends at 100 N as well, so that it moves last.
func TestSeriesOfConstantForce(t *testing.T) {
	level, line := ramp(100, 0, 0.05), ramp(0, 1000, 0.1)
	for name, c := range map[string]struct {
		laws []spring.Law
		from float64 // travel from which the force is level
	}{
		"alone": {[]spring.Law{level}, 0}, "twice": {[]spring.Law{level, level}, 0},
		"last": {[]spring.Law{line, level}, 0.1}, "last, turned": {[]spring.Law{level, line}, 0.1},
		"beside a chain": {[]spring.Law{level, linearOf(t, 1000, 0.1)}, 0.1},
	} {
		s := seriesOf(t, c.laws...)
		full := c.from + 0.05*float64(len(c.laws))
		if c.from > 0 {
			full = 0.15
		}
		agree(t, name+": travel", s.Travel(), units.Length(full), 1e-14)
		for _, part := range []float64{0.001, 0.3, 0.999} {
			x := c.from + part*(full-c.from)
			agree(t, fmt.Sprint(name, ": force at ", x), s.Force(units.Length(x)), 100, 1e-12)
			agree(t, fmt.Sprint(name, ": rate at ", x), s.Rate(units.Length(x)), 0, 0)
			agree(t, fmt.Sprint(name, ": energy at ", x), s.Energy(units.Length(x)), units.Energy(500*c.from*c.from+100*(x-c.from)), 1e-12)
		}
		agree(t, name+": at full travel", s.Force(units.Length(full)), 100, 1e-12)
		if c.from > 0 {
			agree(t, name+": halfway", s.Force(0.05), 50, 1e-12)
			agree(t, name+": rate halfway", s.Rate(0.05), 1000, 1e-12)
		}
	}
}
