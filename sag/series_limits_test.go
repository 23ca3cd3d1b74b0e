package sag

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// reading is one that implies a load, give or take a standard error and a band.
func reading(load, u, low, high units.Force) MeasuredReading {
	return MeasuredReading{Implied: Implied{Load: load, StandardError: u, ErrorLow: low, ErrorHigh: high, Low: low, High: high}}
}

// Weights neither overflow nor vanish, however far apart the errors are: what is
// known next to exactly stands alone.
func TestEstimateOfFarDifferentErrors(t *testing.T) {
	e := estimate([]MeasuredReading{reading(500, 1, 400, 600), reading(520, 1e-200, 510, 530), reading(540, 2, 500, 600)})
	near(t, "load", float64(e.Load), 520, 1e-15)
	near(t, "stated", float64(e.StatedError), 1e-200, 1e-12)
	if e.Count != 3 || e.ErrorLow != 510 || e.ErrorHigh != 530 || e.Low != 510 || e.High != 530 {
		t.Errorf("%+v", e)
	}
	// Errors below 1 N, by hand: (2/0.01 + 1/0.04)/(1/0.01 + 1/0.04) more than 500.
	e = estimate([]MeasuredReading{reading(502, 0.1, 400, 600), reading(501, 0.2, 400, 600)})
	near(t, "mean", float64(e.Load), 500+225./125, 1e-14)
	near(t, "stated", float64(e.StatedError), 1/math.Sqrt(125), 1e-14)
	near(t, "scatter", float64(e.ScatterError), math.Sqrt((0.2*0.2/0.01+0.8*0.8/0.04)/125), 1e-12)
	// One reading has no scatter.
	if e = estimate([]MeasuredReading{reading(502, 3, 400, 600)}); e.ScatterError != 0 || e.StatedError != 3 || e.Load != 502 || e.Count != 1 {
		t.Errorf("%+v", e)
	}
}

// A median that is a reading's own bound is within it, and bounds that meet in one
// load are a load that all agree with.
func TestBoundsThatMeet(t *testing.T) {
	list := []MeasuredReading{reading(500, 1, 400, 520), reading(520, 1, 510, 530), reading(540, 1, 520, 600), reading(520, 1, 521, 600), reading(520, 1, 400, 519)}
	e := estimate(list)
	for i, want := range []bool{false, false, false, true, true} {
		if list[i].Outlier != want {
			t.Errorf("%d: outlier %v of %+v", i, list[i].Outlier, list[i])
		}
	}
	near(t, "residual", float64(list[0].Residual), 500-float64(e.Load), 1e-12)
	if v := (Estimate{ErrorLow: 5, ErrorHigh: 5, Low: 5, High: 5}).verdict(5); v != Agrees {
		t.Errorf("one load: %s", v)
	}
	if v := (Estimate{Low: 5, High: 4}).verdict(0); v != Contradictory {
		t.Errorf("none: %s", v)
	}
	if v := (Estimate{ErrorLow: 4, ErrorHigh: 6, Low: 4, High: 6}).verdict(0); v != NotCompared {
		t.Errorf("no prediction: %s", v)
	}
}

// explained are the explanations of readings, by cause.
func explained(t *testing.T, s Setting, load units.Force, list ...Reading) (map[Cause]Explanation, []Cause) {
	t.Helper()
	c := units.Checker{}
	b := s.build(&c)
	require.NoError(t, c.Err())
	all := explain(b, Measuring{Setting: s, Load: load, Readings: list})
	by, order := map[Cause]Explanation{}, []Cause(nil)
	for _, e := range all {
		by[e.Cause], order = e, append(order, e.Cause)
	}
	return by, order
}

// Neither a load nor a rate is ever less than nothing. By hand, without preload: 0.4 mm
// ± 0.1 mm take 24 N to 40 N, so with 40 N of friction the load is 80 N/2.5 at the most
// and nothing at the least; and a load of 4 N, 10 N at the spring, with 20 N of friction
// at 1 mm ± 0.5 mm wants a rate of 30 N/0.5 mm at the most and none at the least.
func TestExplanationsAreNotLessThanNothing(t *testing.T) {
	s := coilEnd()
	s.Coil.Preload, s.Coil.ThreadPitch = 0, 0
	by, _ := explained(t, s, 580, Reading{Stroke: 0.4 * milli, Error: 0.1 * milli})
	e := by[CauseLoad]
	if e.Low != units.Force(0) {
		t.Errorf("load from %v", e.Low)
	}
	near(t, "load", number(e.Needed), 80/2.5, 1e-12)
	s.Friction = 20
	by, _ = explained(t, s, 4, Reading{Stroke: 1 * milli, Error: 0.5 * milli})
	e = by[CauseRate]
	if e.Low != units.Stiffness(0) {
		t.Errorf("rate from %v", e.Low)
	}
	near(t, "rate", number(e.Needed), 30/0.5e-3, 1e-9)
	// A preload of less than nothing is a spring that is loose; an unknown pitch has no turns.
	p := by[CausePreload]
	near(t, "preload", number(p.Needed), 30/80e3-0.5e-3, 1e-9)
	if p.Turns != 0 || p.Relative != 0 || !(number(p.Low) < 0) {
		t.Errorf("%+v", p)
	}
}

// A load of less than 1 N is predicted; none is not.
func TestExplanationsOfALittleLoad(t *testing.T) {
	s := coilEnd()
	r := Reading{Stroke: 18 * milli, Error: milli}
	by, order := explained(t, s, 0.5, r)
	for _, cause := range []Cause{CauseLoad, CauseRate, CausePreload, CauseReading, CauseFriction} {
		if _, ok := by[cause]; !ok {
			t.Errorf("no %s among %v", cause, order)
		}
	}
	near(t, "load", number(by[CauseLoad].Needed), 592, 1e-12)
	near(t, "friction", number(by[CauseFriction].Needed), 80*19-0.5*2.5, 1e-9) // 80·(17 + 2) N less the load
	// Without a prediction one reading contradicts nothing.
	if by, order = explained(t, s, 0, r); len(by) != 0 {
		t.Errorf("%v", order)
	}
}

// Two readings without a prediction, the nearer the more friction or error: by hand
// (80·(b − 1 + 2) − f) = (80·(a + 1 + 2) + f) at f = 40·(b − a − 2) N, and for the error
// 80·(b − a − 2d) = 2·40 N.
func TestReadingsAloneByHand(t *testing.T) {
	s := coilEnd()
	for _, apart := range []float64{3.5, 4, 6, 9} {
		by, order := explained(t, s, 0, Reading{Stroke: 18 * milli, Error: milli}, Reading{Stroke: units.Length(18+apart) * milli, Error: milli})
		if len(order) != 2 {
			t.Fatalf("%v", order)
		}
		near(t, "friction", number(by[CauseFriction].Needed), 40*(apart-2), 1e-9)
		near(t, "error", number(by[CauseReading].Needed), (apart-1)/2*milli, 1e-9)
		if by[CauseFriction].High != nil || by[CauseReading].High != nil {
			t.Errorf("%+v", by)
		}
		near(t, "least", number(by[CauseReading].Low), (apart-1)/2*milli, 1e-9)
	}
	// Near an end there is less room: of 2 mm and 8 mm ± 1 mm without friction one would
	// have to be off by 3 mm, which is past full extension.
	s.Friction = 0
	by, order := explained(t, s, 0, Reading{Stroke: 2 * milli, Error: milli}, Reading{Stroke: 8 * milli, Error: milli})
	if _, ok := by[CauseReading]; ok {
		t.Errorf("%v", order)
	}
	near(t, "friction", number(by[CauseFriction].Needed), 160, 1e-9)
	// And at full travel: 60 mm of stroke end 1.5 mm past the deeper one.
	by, order = explained(t, s, 0, Reading{Stroke: 50 * milli, Error: milli}, Reading{Stroke: 58.5 * milli, Error: milli})
	if _, ok := by[CauseReading]; ok {
		t.Errorf("%v", order)
	}
	near(t, "friction", number(by[CauseFriction].Needed), 40*6.5, 1e-9)
}

// Of errors that differ the most is what was stated, and both grow by as much.
func TestReadingErrorOfSeveral(t *testing.T) {
	s := coilEnd()
	s.Friction = 0
	// By hand: 640 N stand at 18 mm; the readings are 3 mm and 5 mm off it.
	by, _ := explained(t, s, 640, Reading{Stroke: 21 * milli, Error: 0.5 * milli}, Reading{Stroke: 13 * milli, Error: 1.5 * milli})
	e := by[CauseReading]
	near(t, "stated", number(e.Stated), 1.5*milli, 1e-12)
	near(t, "needed", number(e.Needed), 5*milli, 1e-9) // 3.5 mm more: 4 mm and 5 mm
	near(t, "relative", e.Relative, 3.5/1.5, 1e-9)
	if len(by) == 0 || e.Turns != 0 {
		t.Errorf("%+v", e)
	}
	// On both sides of it no load, rate or preload explains them.
	for _, cause := range []Cause{CauseLoad, CauseRate, CausePreload} {
		if _, ok := by[cause]; ok {
			t.Errorf("%s explains both", cause)
		}
	}
	near(t, "friction", number(by[CauseFriction].Needed), 80*3.5, 1e-9)
}

// What is added to a list of explanations: not what is stated already, nor what no
// number explains; and a bound that is none is left out.
func TestExplanationsAdded(t *testing.T) {
	inf := units.Force(math.Inf(1))
	for _, test := range []struct {
		stated, low, high units.Force
		needed            any // nil for no explanation
		least, most       any
		relative          float64
	}{
		{5, 7, 9, units.Force(7), units.Force(7), units.Force(9), 0.4},
		{5, 1, 3, units.Force(3), units.Force(1), units.Force(3), 0.4},
		{5, 7, 7, units.Force(7), units.Force(7), units.Force(7), 0.4},
		{-5, 5, inf, units.Force(5), units.Force(5), nil, 2},
		{0, 7, inf, units.Force(7), units.Force(7), nil, 0},
		{0.5, -inf, 0.25, units.Force(0.25), nil, units.Force(0.25), 0.5},
		{5, 3, 9, nil, nil, nil, 0},       // as stated
		{5, 9, 7, nil, nil, nil, 0},       // no number
		{5, inf, inf, nil, nil, nil, 0},   // beyond all numbers
		{5, -inf, -inf, nil, nil, nil, 0}, // below all numbers
	} {
		x := explainer{}
		add(&x, CauseLoad, test.stated, test.low, test.high, bothForces, "%s instead of %s")
		if test.needed == nil {
			if len(x.list) != 0 {
				t.Errorf("%+v: %+v", test, x.list)
			}
			continue
		}
		require.Len(t, x.list, 1)
		e := x.list[0]
		if e.Needed != test.needed || e.Low != test.least || e.High != test.most || e.Stated != test.stated || e.Change != test.needed.(units.Force)-test.stated {
			t.Errorf("%+v: %+v", test, e)
		}
		near(t, "relative", e.Relative, test.relative, 1e-15)
		if want := bothForces(test.needed.(units.Force)) + " instead of " + bothForces(test.stated); e.Text != want {
			t.Errorf("%q, want %q", e.Text, want)
		}
	}
}

// Half a newton of friction explains too, by hand 80·19 N less 607.8 N behind 2.5.
func TestExplainedByALittleFriction(t *testing.T) {
	s := coilEnd()
	s.Friction = 0
	by, _ := explained(t, s, 607.8, Reading{Stroke: 18 * milli, Error: milli})
	near(t, "friction", number(by[CauseFriction].Needed), 0.5, 1e-9)
}

// A reading whose error reaches up to where more fill would only pull in harder is
// explained by fills for the rest of it: the least is the one for its deepest stroke.
func TestExplainedByFillNextToThePort(t *testing.T) {
	s := airEnd()
	s.Friction, s.Air.NegativeVolume, s.Air.PortTravel = 0, 20e-6, 30*milli
	c := units.Checker{}
	b := s.build(&c)
	require.NoError(t, c.Err())
	_, err := airspring.FillFor(b.air, 1, 1*milli)
	named(t, "at 1 mm", err, "at")
	by, order := explained(t, s, 3000, Reading{Stroke: 36 * milli, Error: 35 * milli})
	e, ok := by[CauseFill]
	if !ok {
		t.Fatalf("%v", order)
	}
	deepest, err := airspring.FillFor(b.air, units.Force(3000*math.Sin(float64(64*units.Degree))), 71*milli)
	require.NoError(t, err)
	near(t, "least", number(e.Low), float64(deepest), 1e-12)
	if e.Needed != e.Low || e.High != units.GaugePressure(mostFill) {
		t.Errorf("%+v", e)
	}
}
