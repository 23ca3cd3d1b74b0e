package visit_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
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
func with(m visit.Series, cause visit.Cause, value float64) (visit.Series, bool) {
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
			m := visit.Series{Setting: end, Load: truth * units.Force(0.75+0.5*random.Float64())}
			for range 1 + random.IntN(4) {
				m.Readings = append(m.Readings, visit.Reading{Stroke: rest.Stroke + units.Length(random.NormFloat64())*milli, Error: units.Length(0.5+random.Float64()) * milli})
			}
			if round%10 == 0 { // readings alone
				m.Load = 0
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
		by, _ := explained(t, s, load, readings(1, 40)...)
		if e, ok := by[visit.CauseFill]; ok {
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
	// By hand (150 000 N + 100 000 N) on 962 mm² are 2600 bar: then what may be held bounds it.
	s.Friction = 1e5
	e = find(units.Force(150e3 / math.Sin(float64(64*units.Degree))))
	if e == nil || e.High != airspring.MaxFill || e.Needed != e.Low {
		t.Errorf("explained by %+v", e)
	}
}

// explained are the explanations of readings, by cause.
func explained(t *testing.T, s visit.Setting, load units.Force, list ...visit.Reading) (map[visit.Cause]visit.Explanation, []visit.Cause) {
	t.Helper()
	by, order := map[visit.Cause]visit.Explanation{}, []visit.Cause(nil)
	for _, e := range report(t, s, load, list...).Explanations {
		by[e.Cause], order = e, append(order, e.Cause)
	}
	return by, order
}

// Neither a load nor a rate is ever less than nothing. By hand, without preload: 0.4 mm
// ± 0.1 mm take 24 N to 40 N, so with 40 N of friction the load is 80 N/2.5 at the most
// and nothing at the least; and a load of 4 N, 10 N at the spring, with 20 N of friction
// at 1 mm ± 0.5 mm wants a rate of 30 N/0.5 mm at the most and none at the least.
func TestExplanationsAreNoLessThanNothing(t *testing.T) {
	s := coilEnd()
	s.Coil.Preload, s.Coil.ThreadPitch = 0, 0
	by, _ := explained(t, s, 580, visit.Reading{Stroke: 0.4 * milli, Error: 0.1 * milli})
	e := by[visit.CauseLoad]
	if e.Low != units.Force(0) {
		t.Errorf("load from %v", e.Low)
	}
	near(t, "load", number(e.Needed), 80/2.5, 1e-12)
	s.Friction = 20
	by, _ = explained(t, s, 4, visit.Reading{Stroke: 1 * milli, Error: 0.5 * milli})
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

// A load of less than 1 N is predicted; none is not.
func TestALittleLoadIsPredicted(t *testing.T) {
	s := coilEnd()
	r := visit.Reading{Stroke: 18 * milli, Error: milli}
	by, order := explained(t, s, 0.5, r)
	for _, cause := range []visit.Cause{visit.CauseLoad, visit.CauseRate, visit.CausePreload, visit.CauseReading, visit.CauseFriction} {
		if _, ok := by[cause]; !ok {
			t.Errorf("no %s among %v", cause, order)
		}
	}
	near(t, "load", number(by[visit.CauseLoad].Needed), 592, 1e-12)
	near(t, "friction", number(by[visit.CauseFriction].Needed), 80*19-0.5*2.5, 1e-9) // 80·(17 + 2) N less the load
	// Without a prediction one reading contradicts nothing.
	if by, order = explained(t, s, 0, r); len(by) != 0 {
		t.Errorf("%v", order)
	}
}

// Two readings without a prediction, the nearer the more friction or error: by hand
// (80·(b − 1 + 2) − f) = (80·(a + 1 + 2) + f) at f = 40·(b − a − 2) N, and for the error
// 80·(b − a − 2d) = 2·40 N.
func TestReadingsAloneAreExplainedByFrictionOrError(t *testing.T) {
	s := coilEnd()
	for _, apart := range []float64{3.5, 4, 6, 9} {
		by, order := explained(t, s, 0, visit.Reading{Stroke: 18 * milli, Error: milli}, visit.Reading{Stroke: units.Length(18+apart) * milli, Error: milli})
		if len(order) != 2 {
			t.Fatalf("%v", order)
		}
		near(t, "friction", number(by[visit.CauseFriction].Needed), 40*(apart-2), 1e-9)
		near(t, "error", number(by[visit.CauseReading].Needed), (apart-1)/2*milli, 1e-9)
		if by[visit.CauseFriction].High != nil || by[visit.CauseReading].High != nil {
			t.Errorf("%+v", by)
		}
		near(t, "least", number(by[visit.CauseReading].Low), (apart-1)/2*milli, 1e-9)
	}
	// Near an end there is less room: of 2 mm and 8 mm ± 1 mm without friction one would
	// have to be off by 3 mm, which is past full extension.
	s.Friction = 0
	by, order := explained(t, s, 0, visit.Reading{Stroke: 2 * milli, Error: milli}, visit.Reading{Stroke: 8 * milli, Error: milli})
	if _, ok := by[visit.CauseReading]; ok {
		t.Errorf("%v", order)
	}
	near(t, "friction", number(by[visit.CauseFriction].Needed), 160, 1e-9)
	// And at full travel: 60 mm of stroke end 1.5 mm past the deeper one.
	by, order = explained(t, s, 0, visit.Reading{Stroke: 50 * milli, Error: milli}, visit.Reading{Stroke: 58.5 * milli, Error: milli})
	if _, ok := by[visit.CauseReading]; ok {
		t.Errorf("%v", order)
	}
	near(t, "friction", number(by[visit.CauseFriction].Needed), 40*6.5, 1e-9)
}

// Of errors that differ the most is what was stated, and both grow by as much.
func TestErrorsOfSeveralReadingsGrowTogether(t *testing.T) {
	s := coilEnd()
	s.Friction = 0
	// By hand: 640 N stand at 18 mm; the readings are 3 mm and 5 mm off it.
	by, _ := explained(t, s, 640, visit.Reading{Stroke: 21 * milli, Error: 0.5 * milli}, visit.Reading{Stroke: 13 * milli, Error: 1.5 * milli})
	e := by[visit.CauseReading]
	near(t, "stated", number(e.Stated), 1.5*milli, 1e-12)
	near(t, "needed", number(e.Needed), 5*milli, 1e-9) // 3.5 mm more: 4 mm and 5 mm
	near(t, "relative", e.Relative, 3.5/1.5, 1e-9)
	if len(by) == 0 || e.Turns != 0 {
		t.Errorf("%+v", e)
	}
	// On both sides of it no load, rate or preload explains them.
	for _, cause := range []visit.Cause{visit.CauseLoad, visit.CauseRate, visit.CausePreload} {
		if _, ok := by[cause]; ok {
			t.Errorf("%s explains both", cause)
		}
	}
	near(t, "friction", number(by[visit.CauseFriction].Needed), 80*3.5, 1e-9)
}

// Half a newton of friction explains too, by hand 80·19 N less 607.8 N behind 2.5.
func TestExplainedByALittleFriction(t *testing.T) {
	s := coilEnd()
	s.Friction = 0
	by, _ := explained(t, s, 607.8, visit.Reading{Stroke: 18 * milli, Error: milli})
	near(t, "friction", number(by[visit.CauseFriction].Needed), 0.5, 1e-9)
}

// A reading whose error reaches up to where more fill would only pull in harder is
// explained by fills for the rest of it: the least is the one for its deepest stroke.
func TestExplainedByFillNextToThePort(t *testing.T) {
	s := airEnd()
	s.Friction, s.Air.NegativeVolume, s.Air.PortTravel = 0, 20e-6, 30*milli
	_, err := airspring.FillFor(gasOf(t, s), 1, 1*milli)
	named(t, "at 1 mm", err, "at")
	by, order := explained(t, s, 3000, visit.Reading{Stroke: 36 * milli, Error: 35 * milli})
	e, ok := by[visit.CauseFill]
	if !ok {
		t.Fatalf("%v", order)
	}
	deepest, err := airspring.FillFor(gasOf(t, s), units.Force(3000*math.Sin(float64(64*units.Degree))), 71*milli)
	require.NoError(t, err)
	near(t, "least", number(e.Low), float64(deepest), 1e-12)
	if e.Needed != e.Low || e.High != airspring.MaxFill {
		t.Errorf("%+v", e)
	}
}

// Friction may hold a load that the spring holds at the top, or takes to full travel,
// some way from there. By hand: 80·(s + 20) − 400 = 558.98·2.5 at s = 2.4681 mm, and
// 20·(s + 2) + 100 = 520·2.5 at 58 mm.
func TestFrictionHoldsALoadOffTheEndsOfTheTravel(t *testing.T) {
	top := coilEnd()
	top.Coil.Preload, top.Friction = 20*milli, 400
	by, _ := explained(t, top, 558.97905, readings(0.5, 5)...)
	near(t, "from the top", number(by[visit.CauseReading].Needed), 5e-3-((558.97905*2.5+400)/80e3-20e-3), 1e-9)
	bottom := coilEnd()
	bottom.Coil.Rate, bottom.Friction = 20e3, 100
	by, _ = explained(t, bottom, 520, readings(1, 50)...)
	near(t, "from full travel", number(by[visit.CauseReading].Needed), 8e-3, 1e-9)
}

// The text of an explanation has both values in both units.
func TestExplanationsAreTextInBothUnits(t *testing.T) {
	by, _ := explained(t, coilEnd(), 580, readings(1, 18)...)
	for cause, want := range map[visit.Cause]string{
		visit.CauseLoad:     "A sprung load of 592 N (133.1 lbf) on this wheel instead of 580 N (130.4 lbf): the rider's kit, mass or stance.",
		visit.CauseRate:     "A spring rate of 78.42 N/mm (448 lbf/in) instead of 80.00 N/mm (457 lbf/in): measure the spring.",
		visit.CausePreload:  "A preload of 1.6 mm (0.06 in) instead of 2.0 mm (0.08 in); below 0 the spring is loose at full extension.",
		visit.CauseReading:  "Readings that may be off by 1.4 mm (0.05 in) instead of 1.0 mm (0.04 in): read the ring again.",
		visit.CauseFriction: "A friction at the spring of 70 N (15.7 lbf) instead of 40 N (9.0 lbf): look for bushings or seals that stick.",
	} {
		if got := by[cause].Text; got != want {
			t.Errorf("%s: %q, want %q", cause, got, want)
		}
	}
	by, _ = explained(t, airEnd(), 600, readings(1, 40)...)
	if got := by[visit.CauseFill].Text; !strings.HasPrefix(got, "A fill of ") || !strings.HasSuffix(got, " instead of 5.00 bar (72.5 psi): air lost or gained since it was filled, or another gauge.") {
		t.Errorf("%q", got)
	}
}
