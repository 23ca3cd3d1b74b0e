package visit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// gasOf returns the spec of a setting's gas at rest.
func gasOf(t *testing.T, s visit.Setting) airspring.Spec {
	t.Helper()
	return stands(t, s).Law.(*airspring.Spring).Spec()
}

// By hand, for 580 N predicted and 18 mm ± 1 mm read:
// the spring then has to carry 1450 N with up to 40 N of friction.
func TestExplanationsAreTheNearestValues(t *testing.T) {
	a := report(t, coilEnd(), 580, readings(1, 18)...)
	inf := units.Force(math.Inf(1))
	type row struct {
		Cause             visit.Cause
		Needed, Low, High float64
		Relative          float64
	}
	want := []row{
		{visit.CauseRate, 1490 / 19e-3, 1410 / 21e-3, 1490 / 19e-3, 1 - 1490/19e-3/80e3},
		{visit.CauseLoad, 592, 592, 688, 12.0 / 580},
		{visit.CausePreload, 1.625e-3, -1.375e-3, 1.625e-3, 0.1875}, // 1490/80 − 17, 1410/80 − 19
		{visit.CauseReading, 1.375e-3, 1.375e-3, float64(inf), 0.375},
		{visit.CauseFriction, 70, 70, float64(inf), 0.75}, // 80·19 − 1450; above, 18 − (1490/80 − 2)
	}
	if len(a.Explanations) != len(want) {
		t.Fatalf("%d explanations, want %d: %+v", len(a.Explanations), len(want), a.Explanations)
	}
	for i, w := range want {
		g := a.Explanations[i]
		if g.Cause != w.Cause {
			t.Errorf("%d is %s, want %s", i, g.Cause, w.Cause)
			continue
		}
		near(t, string(w.Cause)+" needed", number(g.Needed), w.Needed, 1e-9)
		near(t, string(w.Cause)+" low", number(g.Low), w.Low, 1e-9)
		if math.IsInf(w.High, 1) != (g.High == nil) {
			t.Errorf("%s: high %v", w.Cause, g.High)
		} else if g.High != nil {
			near(t, string(w.Cause)+" high", number(g.High), w.High, 1e-9)
		}
		near(t, string(w.Cause)+" relative", g.Relative, w.Relative, 1e-8)
		near(t, string(w.Cause)+" change", number(g.Change), number(g.Needed)-number(g.Stated), 1e-9)
	}
	near(t, "turns", a.Explanations[2].Turns, -0.25, 1e-9)
	// Where nothing was stated a change has no relative size, and comes last.
	s := coilEnd()
	s.Friction, s.Coil.Preload = 0, 0
	a = report(t, s, 700, readings(1, 18)...)
	var order []visit.Cause
	for _, e := range a.Explanations {
		order = append(order, e.Cause)
	}
	// Load: 608/700; rate: 1750/19/80; error: 1750/80 − 18 over 1 mm.
	if diff := cmp.Diff([]visit.Cause{visit.CauseLoad, visit.CauseRate, visit.CauseReading, visit.CausePreload, visit.CauseFriction}, order); diff != "" {
		t.Errorf("order (-want +got):\n%s", diff)
	}
}

// with returns m with one cause set to a value.
func with(m series, cause visit.Cause, value float64) (series, bool) {
	m.Readings = append([]visit.Reading{}, m.Readings...)
	if m.Setting.Coil != nil {
		coil := *m.Setting.Coil
		m.Setting.Coil = &coil
	} else {
		air := *m.Setting.Air
		m.Setting.Air = &air
	}
	switch cause {
	case visit.CauseLoad:
		m.Load = units.Force(value)
	case visit.CauseRate:
		m.Setting.Coil.Rate = units.Stiffness(value)
	case visit.CausePreload:
		m.Setting.Coil.Preload = units.Length(value)
		return m, value >= 0
	case visit.CauseFill:
		m.Setting.Air.Fill = units.GaugePressure(value)
	case visit.CauseFriction:
		m.Setting.Friction = units.Force(value)
	case visit.CauseReading:
		more := units.Length(value)
		for _, r := range m.Readings {
			more = min(more, units.Length(value)-r.Error)
		}
		for i := range m.Readings {
			m.Readings[i].Error += more
			if m.Readings[i].Error >= m.Readings[i].Stroke {
				return m, false
			}
		}
	}
	return m, true
}

// Each explanation, taken at its word, explains; a little less does not.
func TestExplanationsExplain(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	seen := map[visit.Cause]int{}
	for _, end := range []visit.Setting{coilEnd(), airEnd(), tableEnd()} {
		b := stands(t, end)
		b.Friction = 0
		for round := range 120 {
			truth := units.Force(350 + 300*random.Float64())
			rest, err := b.Settle(truth)
			require.NoError(t, err)
			m := series{Setting: end, Load: truth * units.Force(0.75+0.5*random.Float64())}
			for range 1 + random.IntN(4) {
				m.Readings = append(m.Readings, visit.Reading{Stroke: rest.Stroke + units.Length(random.NormFloat64())*milli, Error: units.Length(0.5+random.Float64()) * milli})
			}
			if round%10 == 0 { // readings that contradict each other
				m.Readings = append(m.Readings, visit.Reading{Stroke: rest.Stroke + 8*milli, Error: milli})
			}
			a, err := m.Report()
			require.NoError(t, err)
			last := 0.0
			for _, e := range a.Explanations {
				if e.Relative < last && e.Relative != 0 {
					t.Errorf("%s needs %v, after %v", e.Cause, e.Relative, last)
				}
				last = e.Relative
				nudge := 1e-6 * number(e.Change)
				if inside, ok := with(m, e.Cause, number(e.Needed)+nudge); ok && fits(e, number(e.Needed)+nudge) {
					b, err := inside.Report()
					require.NoError(t, err, "%s %v", e.Cause, e.Needed)
					if b.Verdict == visit.Unexplained || b.Verdict == visit.Contradictory {
						t.Errorf("%s at %v leaves the readings %s (stated %v)", e.Cause, e.Needed, b.Verdict, e.Stated)
					}
					seen[e.Cause]++
				}
				if outside, ok := with(m, e.Cause, number(e.Needed)-nudge); ok {
					b, err := outside.Report()
					require.NoError(t, err)
					if b.Verdict != visit.Unexplained && b.Verdict != visit.Contradictory {
						t.Errorf("%s: less than %v does too: %s", e.Cause, e.Needed, b.Verdict)
					}
				}
			}
		}
	}
	for _, cause := range []visit.Cause{visit.CauseLoad, visit.CauseRate, visit.CausePreload, visit.CauseFill, visit.CauseFriction, visit.CauseReading} {
		if seen[cause] < 10 {
			t.Errorf("%s was tried %d times", cause, seen[cause])
		}
	}
}

// fits reports whether a value lies within an explanation's bounds: what explains
// several readings may be a narrow band.
func fits(e visit.Explanation, value float64) bool {
	return (e.Low == nil || value >= number(e.Low)) && (e.High == nil || value <= number(e.High))
}

func TestFillsThatExplainAreThoseOfAnAirSpring(t *testing.T) {
	s := airEnd()
	s.Friction = 0
	find := func(load units.Force) *visit.Explanation {
		if e, ok := explained(t, s, load, readings(1, 40)...)[visit.CauseFill]; ok {
			return &e
		}
		return nil
	}
	if e := find(0.5); e != nil { // the ambient on the shaft alone carries more
		t.Errorf("a fill explains next to no load: %+v", e)
	}
	if e := find(1e9); e != nil { // more than 1000 bar
		t.Errorf("a fill of %v", e.Needed)
	}
	// Friction that could hold the load with no fill at all leaves it unbounded below.
	s.Friction = 150
	e := find(20)
	if e == nil || e.Low != units.GaugePressure(0) || e.Needed != e.High {
		t.Fatalf("explained by %+v", e)
	}
	fill, err := airspring.FillFor(gasOf(t, s), units.Force(20*math.Sin(float64(64*units.Degree))+150), 39*milli)
	require.NoError(t, err)
	near(t, "fill", number(e.Needed), float64(fill), 1e-12)
	if want := fmt.Sprint("A fill of ", fill.Both(), " instead of 5.00 bar (72.5 psi): air lost or gained since it was filled, or another gauge."); e.Text != want {
		t.Errorf("%q, want %q", e.Text, want)
	}
	// By hand (150 000 N + 100 000 N) on 962 mm² are 2600 bar: then what may be held bounds it.
	s.Friction = 1e5
	e = find(units.Force(150e3 / math.Sin(float64(64*units.Degree))))
	if e == nil || e.High != airspring.MaxFill || e.Needed != e.Low {
		t.Errorf("explained by %+v", e)
	}
}

// explained are the explanations of readings, by cause.
func explained(t *testing.T, s visit.Setting, load units.Force, list ...visit.Reading) map[visit.Cause]visit.Explanation {
	t.Helper()
	by := map[visit.Cause]visit.Explanation{}
	for _, e := range report(t, s, load, list...).Explanations {
		by[e.Cause] = e
	}
	return by
}

// Neither a load nor a rate is ever less than nothing. By hand, without preload: 0.4 mm
// ± 0.1 mm take 24 N to 40 N, so with 40 N of friction the load is 80 N/2.5 at the most
// and nothing at the least; and a load of 4 N, 10 N at the spring, with 20 N of friction
// at 1 mm ± 0.5 mm wants a rate of 30 N/0.5 mm at the most and none at the least.
func TestExplanationsAreNoLessThanNothing(t *testing.T) {
	s := coilEnd()
	s.Coil.Preload, s.Coil.ThreadPitch = 0, 0
	e := explained(t, s, 580, readings(0.1, 0.4)...)[visit.CauseLoad]
	if e.Low != units.Force(0) {
		t.Errorf("load from %v", e.Low)
	}
	near(t, "load", number(e.Needed), 80/2.5, 1e-12)
	s.Friction = 20
	by := explained(t, s, 4, readings(0.5, 1)...)
	e = by[visit.CauseRate]
	if e.Low != units.Stiffness(0) {
		t.Errorf("rate from %v", e.Low)
	}
	near(t, "rate", number(e.Needed), 30/0.5e-3, 1e-9)
	// A preload of less than nothing is a spring that is loose; an unknown pitch has no turns.
	p := by[visit.CausePreload]
	near(t, "preload", number(p.Needed), 30/80e3-0.5e-3, 1e-9)
	if p.Turns != 0 || p.Relative != 0 || !(number(p.Low) < 0) {
		t.Errorf("%+v", p)
	}
}

// Every explanation there is, by hand. The spring of coilEnd carries 80 N/mm from 2 mm of
// preload, so that 18 mm ± 1 mm are 1520 N to 1680 N, and f of friction either way; the load
// is on a lever of 2.5.
func TestNeededValues(t *testing.T) {
	set := func(rate units.Stiffness, preload, solid units.Length, friction units.Force) visit.Setting {
		s := coilEnd()
		s.Coil.Rate, s.Coil.Preload, s.Coil.SolidTravel, s.Friction = rate, preload*milli, solid*milli, friction
		return s
	}
	plain, smooth, apart := coilEnd(), set(80e3, 2, 0, 0), append(readings(0.5, 21), readings(1.5, 13)...)
	const load, rate, preload, reading, friction = visit.CauseLoad, visit.CauseRate, visit.CausePreload, visit.CauseReading, visit.CauseFriction
	for _, test := range []struct {
		name     string
		s        visit.Setting
		load     units.Force
		readings []visit.Reading
		want     map[visit.Cause]float64
	}{
		{"less than 1 N is predicted", plain, 0.5, readings(1, 18), map[visit.Cause]float64{ // 1.25 N, held at the top
			load: 592, rate: 41.25 / 19e-3, preload: 41.25/80e3 - 17e-3, reading: 18e-3, friction: 1520 - 1.25}},
		{"none is predicted, and one reading contradicts nothing", plain, 0, readings(1, 18), map[visit.Cause]float64{}},
		{"a little friction", smooth, 607.8, readings(1, 18), map[visit.Cause]float64{
			load: 608, rate: 1519.5 / 19e-3, preload: 1519.5/80e3 - 17e-3, reading: 18e-3 - (1519.5/80e3 - 2e-3), friction: 0.5}},
		{"none is predicted, and readings contradict each other", plain, 0, readings(1, 18, 27), map[visit.Cause]float64{}},
		// 640 N stand at 18 mm: no load, rate or preload explains readings on both sides of it, and of
		// errors that differ both grow by as much, 3.5 mm.
		{"errors grow together", smooth, 640, apart, map[visit.Cause]float64{reading: 5e-3, friction: 280}},
		// Friction may hold a load some way from where the spring holds it: 1397.45 N at the top of
		// 80·(s + 20) − 400, 1300 N at full travel of 20·(s + 2) + 100.
		{"off the top", set(80e3, 20, 0, 400), 558.97905, readings(0.5, 5), map[visit.Cause]float64{
			load: 624, rate: 1797.447625 / 24.5e-3, preload: 1797.447625/80e3 - 4.5e-3, reading: 25e-3 - 1797.447625/80e3, friction: 1960 - 1397.447625}},
		{"off full travel", set(20e3, 2, 0, 100), 520, readings(1, 50), map[visit.Cause]float64{
			load: 464, rate: 1200 / 53e-3, preload: 9e-3, reading: 8e-3, friction: 240}},
		{"a spring that binds at 30 mm, where 5000 N press it", set(80e3, 2, 32, 40), 2000, readings(1, 18), map[visit.Cause]float64{
			load: 688, rate: 4960 / 21e-3, preload: 43e-3, reading: 12e-3, friction: 3320}},
	} {
		by, got := explained(t, test.s, test.load, test.readings...), map[visit.Cause]float64{}
		for cause, e := range by {
			got[cause] = number(e.Needed)
		}
		if diff := cmp.Diff(test.want, got, unitstest.Approx(1e-9)); diff != "" {
			t.Errorf("%s (-want +needed):\n%s", test.name, diff)
		}
	}
	// Of errors that differ the most is what was stated.
	e := explained(t, smooth, 640, apart...)[reading]
	near(t, "stated", number(e.Stated), 1.5*milli, 1e-12)
	near(t, "relative", e.Relative, 3.5/1.5, 1e-9)
}

// A reading whose error reaches up to where more fill would only pull in harder is
// explained by fills for the rest of it: the least is the one for its deepest stroke.
func TestExplainedByFillNextToThePort(t *testing.T) {
	s := airEnd()
	s.Friction, s.Air.NegativeVolume, s.Air.PortTravel = 0, 20e-6, 30*milli
	_, err := airspring.FillFor(gasOf(t, s), 1, 1*milli)
	named(t, "at 1 mm", err, "at")
	e := explained(t, s, 3000, readings(35, 36)...)[visit.CauseFill]
	deepest, err := airspring.FillFor(gasOf(t, s), units.Force(3000*math.Sin(float64(64*units.Degree))), 71*milli)
	require.NoError(t, err)
	near(t, "least", number(e.Low), float64(deepest), 1e-12)
	if e.Needed != e.Low || e.High != airspring.MaxFill {
		t.Errorf("%+v", e)
	}
}
