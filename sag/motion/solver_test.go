package motion_test

import (
	"errors"
	"fmt"
	"log"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Rel(rel))
}

func within(t testing.TB, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %v, want %v, off by %.3g, more than %.3g", what, got, want, got-want, by)
	}
}

func solver(t testing.TB, p motion.Problem) *motion.Solver {
	t.Helper()
	s, err := motion.NewSolver(p)
	require.NoError(t, err)
	return s
}

// A mass of 2 kg on 50 N/m swings with 5 rad/s. Let go at 0.1 m, it passes its rest after
// a quarter of 2π/5 s.
func ExampleSolver() {
	s, err := motion.NewSolver(motion.Problem{
		Slope: func(_ float64, y, slope []float64) { slope[0], slope[1] = y[1], -50./2*y[0] },
		Scale: []float64{0.1, 0.5}, Tolerance: 1e-9,
		Events: []motion.Event{func(_ float64, y []float64) float64 { return y[0] }},
	})
	if err != nil {
		log.Fatal(err)
	}
	s.Start(0, []float64{0.1, 0}, 0.01)
	for s.Step(1) && s.Event() < 0 {
	}
	if err := s.Err(); err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.6f s, %.6f m/s\n", s.Time(), s.State()[1])
	// Output: 0.314159 s, -0.500000 m/s
}

// One step over a linear equation y′ = M·y is the polynomial R(hM) of M, and its error
// R − R̂, with
//
//	R(z)     = 1 + z + z²/2 + z³/6 + z⁴/24 + z⁵/120 + z⁶/600
//	R − R̂(z) = −97/120000·z⁵ + 13/40000·z⁶ − z⁷/24000
//
// The first is in textbooks (from memory); both come out of the published coefficients in
// exact fractions too. A step is as long as it was tried if the error is permitted, and
// shorter if it is a little less.
func TestStepIsDormandPrince(t *testing.T) {
	const k, c, h = 240, 18, 0.013
	start := []float64{0.11, 1.7}
	poly := func(factors ...float64) (px, pv float64) {
		a, b := start[0], start[1]
		for _, f := range factors {
			px, pv = px+f*a, pv+f*b
			a, b = h*b, h*(-k*a-c*b)
		}
		return px, pv
	}
	x, v := poly(1, 1, 1./2, 1./6, 1./24, 1./120, 1./600)
	ex, ev := poly(0, 0, 0, 0, 0, -97./120000, 13./40000, -1./24000)
	ex, ev = math.Abs(ex), math.Abs(ev)
	const much = 1e-4
	for _, test := range []struct {
		what  string
		scale []float64
		whole bool
	}{
		{"error of the place permitted", []float64{ex / much * 1.00001, math.Inf(1)}, true},
		{"not quite", []float64{ex / much * 0.99999, math.Inf(1)}, false},
		{"error of the speed permitted", []float64{math.Inf(1), ev / much * 1.00001}, true},
		{"not quite", []float64{math.Inf(1), ev / much * 0.99999}, false},
	} {
		s := solver(t, motion.Problem{
			Slope: func(_ float64, y, slope []float64) { slope[0], slope[1] = y[1], -k*y[0]-c*y[1] },
			Scale: test.scale, Tolerance: much,
		})
		s.Start(7, start, h)
		if !s.Step(math.Inf(1)) || (s.Time() == 7+h) != test.whole {
			t.Errorf("%s: a step of %v", test.what, s.Time()-7)
		}
		if test.whole {
			near(t, "place", s.State()[0], x, 1e-13)
			near(t, "speed", s.State()[1], v, 1e-13)
		}
	}
}

// An integral of a polynomial: the method is exact up to t⁴, and its interpolant up to t³,
// at every time within a step. For t⁴ the interpolant is right at the step's ends alone.
// The stages are at the right times: the slope is of the time only.
func TestPolynomialsAreExact(t *testing.T) {
	const from, h = 0.3, 0.7
	for power := range 5 {
		n := float64(power)
		s := solver(t, motion.Problem{
			Slope: func(t float64, _, slope []float64) { slope[0] = math.Pow(t, n) },
			Scale: []float64{1e9}, Tolerance: 0.1,
		})
		exact := func(t float64) float64 { return (math.Pow(t, n+1) - math.Pow(from, n+1)) / (n + 1) }
		s.Start(from, []float64{0}, h)
		require.True(t, s.Step(math.Inf(1)))
		near(t, "end of the step", s.Time(), from+h, 1e-15)
		within(t, fmt.Sprintf("t^%d", power), s.State()[0], exact(from+h), 1e-15)
		worst, y := 0.0, []float64{0}
		for i := range 101 {
			at := from + h*float64(i)/100
			s.At(at, y)
			worst = max(worst, math.Abs(y[0]-exact(at)))
		}
		if (worst > 1e-15) != (power == 4) || worst > 1e-3 {
			t.Errorf("t^%d: the interpolant is off by %v", power, worst)
		}
		s.At(from-1, y)
		within(t, "before the step", y[0], 0, 0)
		s.At(from+h+1, y)
		within(t, "after it", y[0], s.State()[0], 1e-16)
	}
}

// swing is ẍ = −x, from x = 1: cos t.
func swing(tolerance float64) motion.Problem {
	return motion.Problem{
		Slope: func(_ float64, y, slope []float64) { slope[0], slope[1] = y[1], -y[0] },
		Scale: []float64{1, 1}, Tolerance: tolerance,
	}
}

// The error follows the tolerance, at the ends of steps and between them, over ten swings
// and for every tolerance. The number of steps grows with its fifth root.
func TestErrorFollowsTolerance(t *testing.T) {
	var counts []float64
	for _, tolerance := range []float64{1e-4, 1e-6, 1e-8, 1e-10, 1e-12} {
		s := solver(t, swing(tolerance))
		s.Start(0, []float64{1, 0}, 1e-3)
		const end = 20 * math.Pi
		worst, count, y := 0.0, 0.0, []float64{0, 0}
		for s.Step(end) {
			count++
			from, _ := s.Last()
			for i := range 9 {
				at := from + (s.Time()-from)*float64(i)/8
				s.At(at, y)
				worst = max(worst, math.Abs(y[0]-math.Cos(at)), math.Abs(y[1]+math.Sin(at)))
			}
		}
		if s.Time() != end || !(worst < 0.3*count*tolerance) || !(worst > 0.003*tolerance) {
			t.Errorf("tolerance %g: off by %.3g after %v steps", tolerance, worst, count)
		}
		counts = append(counts, count)
	}
	for i, c := range counts[1:] {
		if grown := c / counts[i]; !(grown > 2 && grown < 3.2) { // 100^(1/5) = 2.51
			t.Errorf("%v times as many steps for a hundredth of the tolerance", grown)
		}
	}
}

// The times at which cos t passes 0 upward, 3π/2 and on by 2π, and nothing else, are found within
// steps. Steps that end wherever it passes 0 do so once at each π/2 + nπ, in either direction, and the
// solution goes on as if they had not.
func TestEvents(t *testing.T) {
	const end = 40.0
	place := func(_ float64, y []float64) float64 { return y[0] }
	s := solver(t, swing(1e-12))
	s.Start(0, []float64{1, 0}, 1e-3)
	var times []float64
	for s.Step(end) {
		require.Equal(t, -1, s.Event())
		if at, ok := s.Find(place); ok {
			times = append(times, at)
		}
	}
	require.Len(t, times, 6)
	for i, at := range times {
		within(t, "passes 0", at, 1.5*math.Pi+2*math.Pi*float64(i), 1e-10)
	}
	p := swing(1e-12)
	never := func(_ float64, y []float64) float64 { return y[0] + 1.1 }
	p.Events = []motion.Event{never, place, func(t float64, _ []float64) float64 { return 20 - t }}
	s = solver(t, p)
	s.Start(0, []float64{1, 0}, 1e-3)
	times = times[:0]
	for s.Step(end) {
		switch s.Event() {
		case 1:
			times = append(times, s.Time())
			within(t, "place", s.State()[0], 0, 1e-10)
		case 2:
			within(t, "20 s", s.Time(), 20, 1e-12)
		default:
			require.Equal(t, -1, s.Event())
		}
	}
	require.Len(t, times, 13)
	for i, at := range times {
		within(t, "ends at 0", at, math.Pi*(0.5+float64(i)), 1e-10)
	}
	within(t, "at the end", s.State()[0], math.Cos(end), 1e-10)
	// From an event on, down and up again: the first is a half swing later.
	s.Start(0, []float64{0, -1}, 1e-3)
	for s.Step(end) && s.Event() < 0 {
	}
	within(t, "half a swing", s.Time(), math.Pi, 1e-10)
	// A function of time; a jump, whose time is found too; one that only falls; and one that is NaN.
	s = solver(t, swing(1e-6))
	s.Start(0, []float64{1, 0}, 0.1)
	require.True(t, s.Step(1))
	at, ok := s.Find(func(t float64, _ []float64) float64 { return t - 0.04 })
	within(t, "0.04 s", at, 0.04, 1e-15)
	require.True(t, ok)
	at, ok = s.Find(func(t float64, _ []float64) float64 { return math.Copysign(1, t-0.03) })
	within(t, "0.03 s", at, 0.03, 1e-12)
	require.True(t, ok)
	at, ok = s.Find(func(t float64, _ []float64) float64 { return 0.04 - t })
	require.False(t, ok)
	within(t, "nowhere", at, 0, 0)
	_, ok = s.Find(func(t float64, _ []float64) float64 { return t })
	require.False(t, ok, "it is 0 at the beginning")
	at, ok = s.Find(func(t float64, _ []float64) float64 { return t - s.Time() })
	require.True(t, ok, "it is 0 at the end")
	within(t, "the end", at, s.Time(), 0)
	at, ok = s.Find(func(t float64, _ []float64) float64 {
		if t > 0 && t < s.Time() {
			return math.NaN()
		}
		return t - 0.05
	})
	within(t, "nowhere but at the end", at, s.Time(), 0)
	require.True(t, ok)
}

// An event ends one step each time that the solution passes it, wherever rounding has left the state,
// so that the time goes on: here at 250 places near a turning point, beyond the last digits of
// the state. Of two at once, each ends its step, and may do so again where rounding decides. A step that
// goes over an event and back may not see it: nearer to the turning point than the last steps are long.
func TestEventsLetTheTimeGoOn(t *testing.T) {
	for i := range 500 {
		at, n := 1-1e-17*math.Pow(1.17, float64(i/2)), 1+i%2
		p := swing(1e-9)
		for range n {
			p.Events = append(p.Events, func(_ float64, y []float64) float64 { return y[0] - at })
		}
		s := solver(t, p)
		s.Start(1e3, []float64{0, -1}, 1e-3)
		steps, events := 0, make([]int, n)
		for before := s.Time(); s.Step(1010); before = s.Time() {
			if !(s.Time() > before) {
				t.Fatalf("%v: a step from %v to %v", at, before, s.Time())
			}
			if e := s.Event(); e >= 0 {
				events[e]++
				within(t, "place", s.State()[0], at, 1e-9)
			}
			steps++
		}
		if s.Err() != nil || steps > 1000 {
			t.Fatalf("%v: %d steps, %d events, %v", at, steps, events, s.Err())
		}
		passes := 0 // −sin t = at
		for turn := range 3 {
			for _, when := range [2]float64{-math.Asin(at), math.Pi + math.Asin(at)} {
				if when += 2 * math.Pi * float64(turn); when > 0 && when < 10 {
					passes++
				}
			}
		}
		if at < 0.999 && (slices.Min(events) < passes || n == 1 && events[0] > passes) {
			t.Errorf("%v: %d events of %d", at, events, passes)
		}
	}
}

// Of several events within a step the first ends it, whatever their order in the list.
func TestEventsComeInOrder(t *testing.T) {
	for _, order := range [][]float64{{0.02, 0.05, 0.07}, {0.07, 0.05, 0.02}, {0.05, 0.02, 0.07}} {
		p := swing(1e-6)
		for _, when := range order {
			p.Events = append(p.Events, func(t float64, _ []float64) float64 { return t - when })
		}
		s := solver(t, p)
		s.Start(0, []float64{1, 0}, 0.1)
		for _, want := range []float64{0.02, 0.05, 0.07} {
			require.True(t, s.Step(1))
			within(t, "event", s.Time(), want, 1e-14)
			require.Equal(t, want, order[s.Event()])
		}
		require.True(t, s.Step(1))
		require.Equal(t, -1, s.Event())
	}
}

// A step over an event and back, such as one that only grazes it, does not see it; one that another event
// shortens to a time in between does. Let go on a spring, a mass passes the depth 1.9999 shortly before it
// turns round at 2.
func TestEventsAmongOthers(t *testing.T) {
	p := motion.Problem{
		Slope: func(_ float64, y, slope []float64) { slope[0], slope[1] = y[1], 1-y[0] },
		Scale: []float64{1, 1}, Tolerance: 1e-3,
		Events: []motion.Event{
			func(_ float64, y []float64) float64 { return y[1] },
			func(_ float64, y []float64) float64 { return 1.9999 - y[0] },
		},
	}
	s := solver(t, p)
	s.Start(0, []float64{0, 0}, 1e-3)
	for s.Step(5) && s.Event() < 0 {
	}
	require.Equal(t, 1, s.Event())
	within(t, "the depth", s.State()[0], 1.9999, 1e-4)
	require.True(t, s.Step(5))
	for s.Event() < 0 && s.Step(5) {
	}
	require.Equal(t, 0, s.Event())
	within(t, "turns round", s.Time(), math.Pi, 0.02)
}

// A solution that grows without bound at t = 1, one whose slope is NaN from a time on, and
// one with a jump. Steps end there, and the state before is kept.
func TestWhereStepsEnd(t *testing.T) {
	grows := solver(t, motion.Problem{
		Slope: func(_ float64, y, slope []float64) { slope[0] = y[0] * y[0] },
		Scale: []float64{1}, Tolerance: 1e-9,
	})
	grows.Start(0, []float64{1}, 0.1)
	count := 0
	for grows.Step(2) {
		if count++; count > 1e6 {
			t.Fatal("it goes on")
		}
	}
	require.ErrorIs(t, grows.Err(), motion.ErrUnbounded)
	within(t, "1/(1 − t) ends", grows.Time(), 1, 1e-6)
	ends := solver(t, motion.Problem{
		Slope: func(t float64, _, slope []float64) {
			if slope[0] = 1; t > 0.5 {
				slope[0] = math.NaN()
			}
		},
		Scale: []float64{1}, Tolerance: 1e-9,
	})
	ends.Start(0, []float64{3}, 0.2)
	for ends.Step(2) {
	}
	require.ErrorIs(t, ends.Err(), motion.ErrUnbounded)
	require.False(t, ends.Step(0.1), "it is past")
	require.NoError(t, ends.Err())
	within(t, "NaN from 0.5 on", ends.Time(), 0.5, 1e-12)
	within(t, "the state before", ends.State()[0], 3.5, 1e-12)
	y := []float64{0}
	ends.At(0.3, y)
	within(t, "still", y[0], 3.5, 1e-12)
	jump := solver(t, motion.Problem{
		Slope: func(t float64, _, slope []float64) {
			if slope[0] = 1; t > 0.5 {
				slope[0] = 3
			}
		},
		Scale: []float64{1}, Tolerance: 1e-9,
	})
	jump.Start(0, []float64{0}, 0.2)
	for jump.Step(1) {
	}
	within(t, "over the jump", jump.State()[0], 2, 1e-7)
	require.False(t, jump.Step(1), "the time is reached")
	require.False(t, jump.Step(0.5), "the time is past")
	require.NoError(t, jump.Err())
	// Steps that can't be longer than their rate of 1e12/s permits would be 1e12 of them.
	stiff := solver(t, motion.Problem{
		Slope: func(t float64, y, slope []float64) { slope[0] = 1e12 * (math.Cos(t) - y[0]) },
		Scale: []float64{1}, Tolerance: 1e-6,
	})
	stiff.Start(0, []float64{1}, 1e-3)
	taken := 0
	for stiff.Step(1) {
		taken++
	}
	require.Equal(t, 262144, taken)
	require.ErrorIs(t, stiff.Err(), motion.ErrSteps)
	require.ErrorContains(t, stiff.Err(), "262144 steps")
	stiff.Start(0, []float64{1}, 1e-3)
	require.True(t, stiff.Step(1))
	require.NoError(t, stiff.Err())
}

// It ends exactly at the times that it is asked for, and a short one does not make the next
// steps short: as many evaluations as without it, and a few.
func TestStepsToGivenTimes(t *testing.T) {
	count := 0
	p := swing(1e-9)
	slope := p.Slope
	p.Slope = func(t float64, y, out []float64) { count++; slope(t, y, out) }
	s := solver(t, p)
	s.Start(0, []float64{1, 0}, 1e-3)
	for s.Step(10) {
	}
	whole := count
	count = 0
	s.Start(0, []float64{1, 0}, 1e-3)
	for _, end := range []float64{3, 3.0001, 7, 10} {
		for s.Step(end) {
		}
		within(t, "time", s.Time(), end, 0)
	}
	// What is hardly longer than a step is one, so that no sliver is left.
	straight := solver(t, motion.Problem{Slope: func(_ float64, _, slope []float64) { slope[0] = 1 }, Scale: []float64{1}, Tolerance: 1e-6})
	for until, want := range map[float64]float64{1.009: 1.009, 1.015: 1} {
		straight.Start(0, []float64{0}, 1)
		require.True(t, straight.Step(until))
		within(t, "a step", straight.Time(), want, 0)
	}
	// Where nothing is wrong the next is 0.9/1e-4^0.17 as long, by hand 4.3.
	straight.Start(0, []float64{0}, 1)
	require.True(t, straight.Step(100))
	require.True(t, straight.Step(100))
	near(t, "the next step", straight.Time()-1, 4.308, 1e-3)
	if count > whole+30 {
		t.Errorf("%d evaluations with times in between, %d without", count, whole)
	}
}

// A ball of 1 kg on a bed of 100 N/m that pushes only: it falls freely through 0.5 m, and is in the
// bed for (π + 2·atan(g/(ω·v)))/ω, ω = 10 rad/s and v = √(2·g·0.5 m). With the kink stated its steps
// end there, fewer of them, and a parabola is exact up to it.
func TestStepsEndAtKinks(t *testing.T) {
	evaluations := map[bool]int{}
	v := math.Sqrt(2 * g0 * 0.5)
	down := v / g0
	inside := (math.Pi + 2*math.Atan(g0/(10*v))) / 10
	end := down + inside + down/2 // on the way up again
	for _, stated := range []bool{false, true} {
		p := motion.Problem{Scale: []float64{1, 10}, Tolerance: 1e-9, Slope: func(_ float64, y, slope []float64) {
			evaluations[stated]++
			slope[0], slope[1] = y[1], -g0
			if y[0] < 0 {
				slope[1] -= 100 * y[0]
			}
		}}
		if stated {
			p.Events = append(p.Events, func(_ float64, y []float64) float64 { return y[0] }, func(t float64, _ []float64) float64 { return t - 0.1 })
		}
		s := solver(t, p)
		s.Start(0, []float64{0.5, 0}, 1e-3)
		var at []float64
		for s.Step(end) {
			if math.Abs(s.State()[0]) < 1e-9 || math.Abs(s.Time()-0.1) < 1e-9 {
				at = append(at, s.Time())
			}
		}
		within(t, "place", s.State()[0], 0.5-g0*down*down/8, 1e-6)
		if stated {
			require.Len(t, at, 3)
			for i, want := range []float64{0.1, down, down + inside} {
				within(t, "kink", at[i], want, 1e-8)
			}
		}
	}
	if !(10*evaluations[true] < 9*evaluations[false]) {
		t.Errorf("%v evaluations with the kinks stated, %v without", evaluations[true], evaluations[false])
	}
}

func TestSolverRefuses(t *testing.T) {
	nan := math.NaN()
	slope := func(_ float64, _, _ []float64) {}
	for _, test := range []struct {
		p    motion.Problem
		want []string
	}{
		{motion.Problem{}, []string{"slope", "scale", "tolerance"}},
		{motion.Problem{Slope: slope, Scale: []float64{1, 0, nan, -1, math.Inf(1)}, Tolerance: 0.11}, []string{"scale[1]", "scale[2]", "scale[3]", "tolerance"}},
		{motion.Problem{Slope: slope, Scale: []float64{1}, Tolerance: nan}, []string{"tolerance"}},
		{motion.Problem{Slope: slope, Scale: []float64{1}, Tolerance: 0.9e-14}, []string{"tolerance"}},
		{motion.Problem{Slope: slope, Scale: []float64{1}, Tolerance: 0.1}, nil},
		{motion.Problem{Slope: slope, Scale: []float64{1}, Tolerance: 0.1, Events: make([]motion.Event, 2)}, []string{"events[0]", "events[1]"}},
	} {
		s, err := motion.NewSolver(test.p)
		var fields []string
		for _, f := range units.Fields(err) {
			fields = append(fields, f.Field)
		}
		require.Equal(t, test.want, fields)
		require.Equal(t, err == nil, s != nil)
		if err != nil {
			require.True(t, errors.Is(err, units.ErrRange) || errors.Is(err, units.ErrMissing))
		}
	}
	require.Panics(t, func() { solver(t, swing(1e-6)).Start(0, []float64{1}, 1) })
}

// Between rests of a step that is cut, started anew or ended, the solver keeps nothing of its past, and
// nothing of the caller's: the scales may change, and a new start goes as the first one did.
func TestStartBeginsAnew(t *testing.T) {
	p := swing(1e-9)
	s := solver(t, p)
	p.Scale[0] = 1e-30
	var first []float64
	for round := range 2 {
		s.Start(2, []float64{1, 0}, 1e-3)
		from, last := s.Last()
		within(t, "begins", from, 2, 0)
		within(t, "at its start", last[0], 1, 0)
		y := []float64{0, 0}
		s.At(5, y)
		within(t, "stands", y[0], 1, 0)
		for s.Step(6) {
		}
		if round == 0 {
			first = append(first, s.State()...)
		}
		require.Equal(t, first, s.State())
	}
	within(t, "place", s.State()[0], math.Cos(4), 1e-7)
}

func TestSolverDoesNotAllocate(t *testing.T) {
	p, events := swing(1e-9), 0
	p.Events = []motion.Event{func(_ float64, y []float64) float64 { return y[0] }}
	s := solver(t, p)
	start, y := []float64{1, 0}, []float64{0, 0}
	n := testing.AllocsPerRun(10, func() {
		s.Start(0, start, 1e-3)
		for s.Step(10) {
			if at, ok := s.Find(func(_ float64, y []float64) float64 { return y[1] }); ok {
				s.At(at, y)
			}
			if s.Event() == 0 {
				events++
			}
		}
	})
	if n != 0 || events != 33 { // 3 in each of 11 runs
		t.Errorf("%v allocations, %d events", n, events)
	}
}
