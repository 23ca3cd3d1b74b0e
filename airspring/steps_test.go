package airspring_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// The fill of the chambers is within the bounds, whatever the readings, with errors up to two standard
// errors. More readings never widen them.
func TestBoundsHoldTheFill(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	finite := 0
	for n := range 400 {
		u := inventSpring(r, n%2 == 1)
		g := u.gauge()
		g.GaugeError = 2000
		want := u.read(t, units.Force(400+500*r.Float64()), 0.1+0.3*r.Float64())
		last := airspring.FillBounds{}
		for range 1 + r.IntN(5) {
			reading := u.read(t, units.Force(300+500*r.Float64()), 0.08+0.4*r.Float64())
			reading.Stroke += g.RingError * units.Length(4*r.Float64()-2)
			reading.Fill += g.GaugeError * units.GaugePressure(4*r.Float64()-2)
			g.Readings = append(g.Readings, reading)
			step, err := g.Next(want.Force, want.Stroke, airspring.MaxFill)
			if err != nil {
				t.Fatal(err)
			}
			b := step.Bounds
			if b.Low != nil && !(*b.Low <= want.Fill) || b.High != nil && !(*b.High >= want.Fill) {
				t.Errorf("%+v: fill %v is not from %v to %v", u.Spec, want.Fill, b.Low, b.High)
			}
			if last.Low != nil && !(b.Low != nil && *b.Low >= *last.Low) || last.High != nil && !(b.High != nil && *b.High <= *last.High) {
				t.Errorf("a reading more widens %v to %v", last, b)
			}
			last = b
		}
		if last.Low != nil && last.High != nil {
			finite++
		}
	}
	if finite < 200 {
		t.Errorf("%d of 400 have both bounds", finite)
	}
}

// Exact readings on either side bound the fill by their chord, and without a negative chamber two exact
// readings are all.
func TestBoundsAreTheChords(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 21))
	for n := range 40 {
		negative := n%2 == 1
		u := inventSpring(r, negative)
		g := u.gauge()
		g.RingError = 1e-9
		for _, part := range []float64{0.1, 0.15, 0.3, 0.35} {
			g.Readings = append(g.Readings, u.read(t, 700, part))
		}
		want := u.read(t, 700, 0.2)
		step, err := g.Next(700, want.Stroke, airspring.MaxFill)
		if err != nil {
			t.Fatal(err)
		}
		b := step.Bounds
		width := float64(*b.High/want.Fill - *b.Low/want.Fill)
		if !(*b.Low <= want.Fill && want.Fill <= *b.High) || !negative && width > 1e-5 || negative && !(width > 1e-4 && width < 0.3) {
			t.Errorf("from %v to %v, want about %v", *b.Low, *b.High, want.Fill)
		}
		// The chord of the two beside it, by hand.
		absolute := func(i int) float64 { return float64(g.Readings[i].Fill.Absolute(u.Ambient)) }
		chord := units.GaugePressure(absolute(1)+(absolute(2)-absolute(1))/3) - units.GaugePressure(u.Ambient)
		if d := float64(*b.High/chord - 1); d > 1e-5 || d < -1e-5 {
			t.Errorf("upper bound %v, want the chord's %v", *b.High, chord)
		}
		if negative {
			continue
		}
		for _, two := range [][]airspring.GaugeReading{g.Readings[1:3], g.Readings[:2], g.Readings[2:]} {
			g.Readings = two
			step, err := g.Next(700, want.Stroke, airspring.MaxFill)
			if b := step.Bounds; err != nil || float64((*b.High-*b.Low)/want.Fill) > 1e-5 {
				t.Errorf("two readings: from %v to %v, %v", *b.Low, *b.High, err)
			}
		}
	}
}

func TestContradictionsHaveNoBounds(t *testing.T) {
	g := unknown{one(34, 160, 290, 0, 1)}.gauge()
	g.Readings = []airspring.GaugeReading{{Fill: 5e5, Stroke: 40 * mm, Force: 600}, {Fill: 6e5, Stroke: 60 * mm, Force: 600}}
	step, err := g.Next(600, 50*mm, airspring.MaxFill)
	wantFields(t, "more fill with more stroke", err)
	if step.Bounds != (airspring.FillBounds{}) || step.Answer {
		t.Errorf("%+v", step)
	}
	g.Readings = nil
	_, err = g.Next(-1, 0, 0)
	wantFields(t, "nothing", err, "readings", "force", "at", "max_fill")
}

// Following the steps from one reading leads to the fill in a few readings, with a ring that errs by up
// to a standard error, and never above the marking.
func TestNextLeadsToTheFill(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 22))
	total, most := 0, 0
	const springs = 200
	for n := range springs {
		u := inventSpring(r, n%2 == 1)
		g := u.gauge()
		want := u.read(t, units.Force(400+500*r.Float64()), 0.15+0.15*r.Float64())
		first := want.Fill * units.GaugePressure(0.6+0.5*r.Float64())
		read := func(fill units.GaugePressure) airspring.GaugeReading {
			reading := u.rest(t, fill, want.Force)
			reading.Stroke += g.RingError * units.Length(2*r.Float64()-1)
			return reading
		}
		g.Readings = []airspring.GaugeReading{read(first)}
		marking := want.Fill * 3
		for {
			step, err := g.Next(want.Force, want.Stroke, marking)
			if err != nil {
				t.Fatal(err)
			}
			if step.Fill > marking {
				t.Fatalf("a step to %v, above the marking %v", step.Fill, marking)
			}
			if step.Answer {
				off := u.rest(t, step.Fill, want.Force).Stroke - want.Stroke
				if off > 3*g.RingError || off < -3*g.RingError {
					t.Errorf("%+v: after %d readings %+v, which stands %v off", u.Spec, len(g.Readings), step, off)
				}
				break
			}
			if len(g.Readings) == 8 {
				t.Errorf("%+v: no answer after 8 readings: %+v, want %v", u.Spec, step, want.Fill)
				break
			}
			g.Readings = append(g.Readings, read(step.Fill))
		}
		total += len(g.Readings)
		most = max(most, len(g.Readings))
	}
	t.Logf("%.2f readings in the mean, %d at most", float64(total)/springs, most)
	if float64(total)/springs > 3.5 {
		t.Errorf("%.2f readings in the mean, %d at most", float64(total)/springs, most)
	}
}

// Under another load at the same sag one reading is an answer, in proportion to F + A_o·p_a.
func TestNextAtTheSameStrokeIsAnAnswer(t *testing.T) {
	u := inventSpring(rand.New(rand.NewPCG(19, 23)), true)
	g := u.gauge()
	g.Readings = []airspring.GaugeReading{u.read(t, 600, 0.2)}
	want := u.read(t, 800, 0.2)
	step, err := g.Next(want.Force, want.Stroke, 2e6)
	if err != nil || !step.Answer || step.Reason != airspring.StepSameStroke || step.Fill/want.Fill-1 > 1e-12 || step.Fill/want.Fill-1 < -1e-12 {
		t.Errorf("%+v, %v, want %v", step, err, want.Fill)
	}
	step, err = g.Next(want.Force, want.Stroke, want.Fill/2)
	if err != nil || step.Answer || !step.AtMarking || step.Fill != want.Fill/2 {
		t.Errorf("below the marking: %+v, %v", step, err)
	}
}

// One reading of a fork with a negative chamber, under the weight of a rider, and what to try for less
// sag. The reading is invented.
func ExampleGaugeReadings_Next() {
	g := airspring.GaugeReadings{
		Ambient: airspring.SeaLevel, NegativeChamber: new(true), OutsideDiameter: 10 * mm, RingError: mm,
		Readings: []airspring.GaugeReading{{Fill: units.PSIGauge(70), Stroke: 42 * mm, Force: 520}},
	}
	step, err := g.Next(520, 34*mm, units.PSIGauge(140))
	fmt.Printf("%.0f psi, %s, an answer: %v %v\n", step.Fill.PSI(), step.Reason, step.Answer, err)
	g.Readings = append(g.Readings, airspring.GaugeReading{Fill: units.PSIGauge(90), Stroke: 34.5 * mm, Force: 520})
	step, err = g.Next(520, 34*mm, units.PSIGauge(140))
	fmt.Printf("%.0f psi, %s, an answer: %v %v\n", step.Fill.PSI(), step.Reason, step.Answer, err)
	// Output:
	// 90 psi, one, an answer: false <nil>
	// 90 psi, same_stroke, an answer: true <nil>
}
