package sag

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

func readings(e units.Length, strokes ...units.Length) []Reading {
	var list []Reading
	for _, s := range strokes {
		list = append(list, Reading{Stroke: s * milli, Error: e * milli})
	}
	return list
}

func TestEstimateByHand(t *testing.T) {
	// 17, 18 and 19 mm imply 608, 640 and 672 N, each ± 32 N: u = 32/√3, so
	// stated 32/3; the deviation of 608, 640, 672 is 32, over √3.
	a, err := NewMeasured(Measuring{Setting: coilEnd(), Readings: readings(1, 17, 18, 19)})
	require.NoError(t, err)
	e := a.Estimate
	near(t, "mean", float64(e.Load), 640, 1e-12)
	near(t, "stated", float64(e.StatedError), 32.0/3, 1e-12)
	near(t, "scatter", float64(e.ScatterError), 32/math.Sqrt(3), 1e-12)
	near(t, "low", float64(e.Low), 640-16, 1e-12)
	near(t, "high", float64(e.High), 640+16, 1e-12)
	near(t, "error low", float64(e.ErrorLow), 640, 1e-12)
	near(t, "error high", float64(e.ErrorHigh), 640, 1e-12)
	near(t, "residual", float64(a.Readings[2].Residual), 32, 1e-11)

	// An error twice as large counts a quarter: (608 + 672/4)/1.25.
	m := Measuring{Setting: coilEnd(), Readings: readings(1, 17, 19)}
	m.Readings[1].Error = 2 * milli
	a, err = NewMeasured(m)
	require.NoError(t, err)
	near(t, "weighted mean", float64(a.Estimate.Load), 620.8, 1e-12)
	near(t, "weighted stated", float64(a.Estimate.StatedError), 32/math.Sqrt(3)/math.Sqrt(1.25), 1e-12)
	// χ² = (12.8/u)² + (51.2/2u)² with u² = 1024/3, over n − 1 = 1.
	near(t, "weighted scatter", float64(a.Estimate.ScatterError), math.Sqrt((12.8*12.8+25.6*25.6)/1.25), 1e-12)
}

func TestOutliersAreToldNotDropped(t *testing.T) {
	// 24 mm alone implies at least (80·25 − 40)/2.5 = 784 N, the others 640 N.
	m := Measuring{Setting: coilEnd(), Readings: readings(1, 18, 24, 18)}
	a, err := NewMeasured(m)
	require.NoError(t, err)
	if a.Readings[0].Outlier || !a.Readings[1].Outlier || a.Readings[2].Outlier || a.Verdict != Contradictory {
		t.Errorf("%s %+v", a.Verdict, a.Readings)
	}
	near(t, "mean with it", float64(a.Estimate.Load), (640+832+640)/3.0, 1e-12)
	if !(a.Estimate.Low > a.Estimate.High) {
		t.Errorf("bounds %v to %v overlap", a.Estimate.Low, a.Estimate.High)
	}
	// By hand: (80·25 − f)/2.5 = (80·21 + f)/2.5 at f = 160 N; with the 40 N stated,
	// 80·(25 − d) − 40 = 80·(21 + d) + 40 at d = 1.5 mm beyond the 1 mm stated.
	want := []struct {
		cause  Cause
		needed float64
	}{{CauseReading, 2.5e-3}, {CauseFriction, 160}}
	if len(a.Explanations) != len(want) {
		t.Fatalf("explanations %+v", a.Explanations)
	}
	near(t, "error", float64(a.Explanations[0].Needed.(units.Length)), want[0].needed, 1e-9)
	near(t, "friction", float64(a.Explanations[1].Needed.(units.Force)), want[1].needed, 1e-9)
	// One below the others as well: 12 mm is at most (80·15 + 40)/2.5 = 496 N.
	a, err = NewMeasured(Measuring{Setting: coilEnd(), Readings: readings(1, 12, 18, 18)})
	require.NoError(t, err)
	if !a.Readings[0].Outlier || a.Readings[1].Outlier || a.Readings[2].Outlier {
		t.Errorf("%+v", a.Readings)
	}
	// Of two that differ nobody can say which it is.
	m.Readings = m.Readings[:2]
	a, err = NewMeasured(m)
	require.NoError(t, err)
	if a.Readings[0].Outlier || a.Readings[1].Outlier || a.Verdict != Contradictory {
		t.Errorf("two: %s %+v", a.Verdict, a.Readings)
	}
}

func TestMedian(t *testing.T) {
	for want, loads := range map[units.Force][]units.Force{3: {9, 1, 3}, 4: {9, 5, 1, 3}, 7: {7}} {
		if got := median(loads); got != want {
			t.Errorf("median %v, want %v", got, want)
		}
	}
}

// what an explanation is, by hand, for 580 N predicted and 18 mm ± 1 mm read:
// the spring then has to carry 1450 N with up to 40 N of friction.
func TestExplanationsByHand(t *testing.T) {
	a, err := NewMeasured(Measuring{Setting: coilEnd(), Load: 580, Readings: readings(1, 18)})
	require.NoError(t, err)
	inf := units.Force(math.Inf(1))
	type row struct {
		Cause             Cause
		Needed, Low, High float64
		Relative          float64
	}
	want := []row{
		{CauseRate, 1490 / 19e-3, 1410 / 21e-3, 1490 / 19e-3, 1 - 1490/19e-3/80e3},
		{CauseLoad, 592, 592, 688, 12.0 / 580},
		{CausePreload, 1.625e-3, -1.375e-3, 1.625e-3, 0.1875}, // 1490/80 − 17, 1410/80 − 19
		{CauseReading, 1.375e-3, 1.375e-3, float64(inf), 0.375},
		{CauseFriction, 70, 70, float64(inf), 0.75}, // 80·19 − 1450; above, 18 − (1490/80 − 2)
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
	a, err = NewMeasured(Measuring{Setting: s, Load: 700, Readings: readings(1, 18)})
	require.NoError(t, err)
	var order []Cause
	for _, e := range a.Explanations {
		order = append(order, e.Cause)
	}
	// Load: 608/700; rate: 1750/19/80; error: 1750/80 − 18 over 1 mm.
	if diff := cmp.Diff([]Cause{CauseLoad, CauseRate, CauseReading, CausePreload, CauseFriction}, order); diff != "" {
		t.Errorf("order (-want +got):\n%s", diff)
	}
}

func number(q any) float64 {
	switch v := q.(type) {
	case units.Force:
		return float64(v)
	case units.Length:
		return float64(v)
	case units.Stiffness:
		return float64(v)
	case units.GaugePressure:
		return float64(v)
	}
	return math.NaN()
}

// with returns m with one cause set to a value.
func with(m Measuring, cause Cause, value float64) (Measuring, bool) {
	m.Readings = append([]Reading{}, m.Readings...)
	if m.Setting.Coil != nil {
		coil := *m.Setting.Coil
		m.Setting.Coil = &coil
	} else {
		air := *m.Setting.Air
		m.Setting.Air = &air
	}
	switch cause {
	case CauseLoad:
		m.Load = units.Force(value)
	case CauseRate:
		m.Setting.Coil.Rate = units.Stiffness(value)
	case CausePreload:
		m.Setting.Coil.Preload = units.Length(value)
		return m, value >= 0
	case CauseFill:
		m.Setting.Air.Fill = units.GaugePressure(value)
	case CauseFriction:
		m.Setting.Friction = units.Force(value)
	case CauseReading:
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
	seen := map[Cause]int{}
	for _, end := range []Setting{coilEnd(), airEnd(), tableEnd()} {
		c := units.Checker{}
		b := end.build(&c)
		require.NoError(t, c.Err())
		for round := range 120 {
			truth := units.Force(350 + 300*random.Float64())
			rest, err := Settle(b.curve, b.law, truth, 0)
			require.NoError(t, err)
			m := Measuring{Setting: end, Load: truth * units.Force(0.75+0.5*random.Float64())}
			for range 1 + random.IntN(4) {
				m.Readings = append(m.Readings, Reading{Stroke: rest.Stroke + units.Length(random.NormFloat64())*milli, Error: units.Length(0.5+random.Float64()) * milli})
			}
			if round%10 == 0 { // readings alone
				m.Load = 0
				m.Readings = append(m.Readings, Reading{Stroke: rest.Stroke + 8*milli, Error: milli})
			}
			a, err := NewMeasured(m)
			require.NoError(t, err)
			last := 0.0
			for _, e := range a.Explanations {
				if e.Relative < last && e.Relative != 0 {
					t.Errorf("%s needs %v, after %v", e.Cause, e.Relative, last)
				}
				last = e.Relative
				nudge := 1e-6 * number(e.Change)
				if inside, ok := with(m, e.Cause, number(e.Needed)+nudge); ok && fits(e, number(e.Needed)+nudge) {
					b, err := NewMeasured(inside)
					require.NoError(t, err, "%s %v", e.Cause, e.Needed)
					if b.Verdict == Unexplained || b.Verdict == Contradictory {
						t.Errorf("%s at %v leaves the readings %s (stated %v)", e.Cause, e.Needed, b.Verdict, e.Stated)
					}
					seen[e.Cause]++
				}
				if outside, ok := with(m, e.Cause, number(e.Needed)-nudge); ok {
					b, err := NewMeasured(outside)
					require.NoError(t, err)
					if b.Verdict != Unexplained && b.Verdict != Contradictory {
						t.Errorf("%s: less than %v does too: %s", e.Cause, e.Needed, b.Verdict)
					}
				}
			}
		}
	}
	for _, cause := range []Cause{CauseLoad, CauseRate, CausePreload, CauseFill, CauseFriction, CauseReading} {
		if seen[cause] < 10 {
			t.Errorf("%s was tried %d times", cause, seen[cause])
		}
	}
}

// fits tells whether a value lies within an explanation's bounds: what explains
// several readings may be a narrow band.
func fits(e Explanation, value float64) bool {
	return (e.Low == nil || value >= number(e.Low)) && (e.High == nil || value <= number(e.High))
}

func TestExplainFillAtItsLimits(t *testing.T) {
	s := airEnd()
	s.Friction = 0
	c := units.Checker{}
	b := s.build(&c)
	require.NoError(t, c.Err())
	find := func(load units.Force) *Explanation {
		for _, e := range explain(b, Measuring{Setting: s, Load: load, Readings: readings(1, 40)}) {
			if e.Cause == CauseFill {
				return &e
			}
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
	b.Friction = 150
	e := find(20)
	if e == nil || e.Low != units.GaugePressure(0) || e.Needed != e.High {
		t.Fatalf("explained by %+v", e)
	}
	fill, err := airspring.FillFor(b.air, units.Force(20*math.Sin(float64(64*units.Degree))+150), 39*milli)
	require.NoError(t, err)
	near(t, "fill", number(e.Needed), float64(fill), 1e-12)
	// By hand (150 000 N + 100 000 N) on 962 mm² are 2600 bar: then what may be held bounds it.
	b.Friction = 1e5
	e = find(units.Force(150e3 / math.Sin(float64(64*units.Degree))))
	if e == nil || e.High != units.GaugePressure(mostFill) || e.Needed != e.Low {
		t.Errorf("explained by %+v", e)
	}
}

func TestNewMeasuredBinding(t *testing.T) {
	// A spring that binds early ends the stroke early: predicted to bottom out there.
	s := coilEnd()
	s.Coil.SolidTravel = 32 * milli
	a, err := NewMeasured(Measuring{Setting: s, Load: 2000, Readings: readings(1, 18)})
	require.NoError(t, err)
	if !has(a.Correction.Coil.Findings, GoesSolid) {
		t.Errorf("findings %v", a.Correction.Coil.Findings)
	}
	for _, e := range a.Explanations {
		if e.Cause == CauseReading { // it would have stood at 30 mm, 12 mm from where it was read
			near(t, "error", number(e.Needed), 12e-3, 1e-9)
		}
	}
}

func FuzzNewMeasured(f *testing.F) {
	f.Add(2.5, 0.15, 0.28, 40.0, 80e3, 2e-3, 0.0, 600.0, 18e-3, 1e-3, 19e-3, 2e-3, false)
	f.Add(1.0, 0.16, 0.2, 15.0, 500e3, 240e-6, 60e-6, 300.0, 40e-3, 2e-3, 44e-3, 1e-3, true)
	f.Fuzz(func(t *testing.T, ratio, travel, wanted, friction, a, b, d, predicted, s1, e1, s2, e2 float64, air bool) {
		s := Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: units.Length(travel)}}, Sag: wanted, Friction: units.Force(friction)}
		if air {
			s.Air = airEnd().Air
			s.Air.Fill, s.Air.PositiveVolume, s.Air.NegativeVolume = units.GaugePressure(a), units.Volume(b), units.Volume(d)
		} else {
			s.Coil = &CoilSetting{Rate: units.Stiffness(a), Preload: units.Length(b), SolidTravel: units.Length(d)}
		}
		m, err := NewMeasured(Measuring{Setting: s, Load: units.Force(predicted), Readings: []Reading{{Stroke: units.Length(s1), Error: units.Length(e1)}, {Stroke: units.Length(s2), Error: units.Length(e2)}}})
		if err != nil {
			if m != nil || len(units.Fields(err)) == 0 {
				t.Fatalf("%v with %v", m, err)
			}
			return
		}
		for _, x := range []float64{float64(m.Estimate.Load), float64(m.Estimate.StatedError), float64(m.Estimate.ScatterError), float64(m.Estimate.Low), float64(m.Estimate.High)} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%+v", m.Estimate)
			}
		}
		for _, e := range m.Explanations {
			for _, q := range []any{e.Stated, e.Needed, e.Change} {
				if x := number(q); math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%+v", e)
				}
			}
			if math.IsNaN(e.Relative) || math.IsInf(e.Relative, 0) || e.Text == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}
