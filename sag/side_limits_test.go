package sag

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A comparison at its limits: the load, the number of travels, of springs, and
// the exponent of a gas.
func TestCompareAtItsLimits(t *testing.T) {
	two := contenders(t)
	many := make([]Contender, 101) // without a name or a law, which is not looked at
	with := func(exponent float64, fast spring.Law) []Contender {
		return []Contender{two[0], {Name: "air", Slow: two[1].Slow, Fast: fast, Exponent: exponent}}
	}
	for _, test := range []struct {
		name    string
		load    units.Force
		springs []Contender
		n       int
		want    []string
	}{
		{"the least load", 1e-150, two, 2, nil},
		{"less", units.Force(justBelow(1e-150)), two, 2, []string{"load"}},
		{"a load below 1 N", 0.5, two, 2, nil},
		{"one travel", 600, two, 1, []string{"n"}},
		{"a thousand travels", 600, two, 1000, nil},
		{"one more", 600, two, 1001, []string{"n"}},
		{"one spring", 600, two[:1], 2, []string{"springs"}},
		{"too many springs", 600, many, 2, []string{"springs"}},
		{"exponent 1", 600, with(1, two[1].Fast), 2, nil},
		{"exponent 2", 600, with(2, two[1].Fast), 2, nil},
		{"more", 600, with(justAbove(2), two[1].Fast), 2, []string{"springs[1].exponent"}},
		{"less than 1", 600, with(justBelow(1), two[1].Fast), 2, []string{"springs[1].exponent"}},
		{"exponent 1 of a coil", 600, with(1, nil), 2, nil},
		{"more than 1 of a coil", 600, with(justAbove(1), nil), 2, []string{"springs[1].fast"}},
		{"no exponent and no fast law", 600, with(0, nil), 2, nil},
	} {
		c, err := Compare(rearOf150(t), test.load, test.springs, test.n)
		named(t, test.name, err, test.want...)
		if (c == nil) != (err != nil) {
			t.Errorf("%s: %v beside %v", test.name, c, err)
		}
	}
	if _, err := AirContender("air", single(units.BarGauge(11), 0.5)); err == nil {
		t.Error("an exponent of 0.5")
	}
}

// jumps is a law that jumps by 1000 N in the middle of 60 mm.
type jumps struct{}

func (jumps) Force(x units.Length) units.Force {
	if x < 0.03 {
		return units.Force(1e4 * spring.Clamp(x, 0.06))
	}
	return 1000 + units.Force(1e4*spring.Clamp(x, 0.06))
}
func (jumps) Rate(units.Length) units.Stiffness  { return 1e4 }
func (jumps) Energy(x units.Length) units.Energy { return units.Energy(5e3 * x * x) }
func (jumps) Travel() units.Length               { return 0.06 }

// A law that jumps past the load has no rest: each that does is told, and the
// others are not in the way.
func TestCompareTellsOfJumps(t *testing.T) {
	two := contenders(t)
	c, err := Compare(rearOf150(t), 320, []Contender{two[0], {Name: "jumps", Slow: jumps{}}, two[1]}, 2)
	if c != nil || !errors.Is(err, spring.ErrJump) {
		t.Errorf("%v, %v", c, err)
	}
	_, finding, err := settleAnywhere(rearOf150(t), jumps{}, 320, 0)
	if finding != "" || !errors.Is(err, spring.ErrJump) {
		t.Errorf("%q, %v", finding, err)
	}
}

func TestMore(t *testing.T) {
	for _, test := range [][3]float64{{3, 2, 0.5}, {1, 2, -0.5}, {0, 2, -1}, {0.3, 0.2, 0.5}, {1, 0, 0}, {0, 0, 0}, {1, -2, 0}, {1e308, 1e-308, 0}, {1e308, 1e308, 0}, {-1e308, 1e-308, 0}} {
		if got := more(test[0], test[1]); !(math.Abs(got-test[2]) <= 1e-15) {
			t.Errorf("more(%v, %v) = %v, want %v", test[0], test[1], got, test[2])
		}
	}
}

// The fast rate of a coil is its rate, also where an exponent of less than 1 would
// be taken from nothing; the energy left is what is stored beyond the rest.
func TestCompareCoilOnACurve(t *testing.T) {
	curve := progressive(t)
	coil := linear(t, 80e3, 0.06, 1e-3)
	c, err := Compare(curve, 600, []Contender{{Name: "a", Slow: coil}, {Name: "b", Slow: coil, Exponent: 1}}, 3)
	require.NoError(t, err)
	for _, s := range c.Springs {
		near(t, "fast rate", float64(s.FastWheelRate), float64(s.Rest.WheelRate), 1e-14)
		near(t, "fast frequency", float64(s.FastFrequency), float64(s.Rest.Frequency), 1e-14)
		if r := s.Rest; r.StrokeLow != r.Stroke || r.TravelHigh != r.Travel {
			t.Errorf("a band without friction: %+v", r)
		}
		x := float64(s.Rest.Stroke) + 1e-3
		near(t, "energy left", float64(s.EnergyLeft), 40e3*(0.061*0.061-x*x), 1e-12)
	}
}

// corrected is a coil of 80 N/mm behind a constant ratio of 2.5 under a load that
// wants a preload, in mm, at its target of 16.8 mm of stroke.
func corrected(t *testing.T, wanted float64, change func(*CoilSetting)) CoilCorrection {
	t.Helper()
	s := coilEnd()
	s.Friction = 0
	change(s.Coil)
	a, err := NewCorrection(s, units.Force(80*(16.8+wanted)/2.5))
	require.NoError(t, err)
	require.Nil(t, a.Air)
	near(t, "wanted", float64(a.Coil.PreloadWanted), wanted*milli, 1e-9)
	return *a.Coil
}

func TestCorrectionOfTheCollar(t *testing.T) {
	// A pitch of 1.5 mm makes quarter turns of 0.375 mm: 3.2 mm are 8.53 of them.
	a := corrected(t, 3.2, func(*CoilSetting) {})
	near(t, "preload", float64(a.Preload), 9*0.375*milli, 1e-12)
	near(t, "preload change", float64(a.PreloadChange), (9*0.375-2)*milli, 1e-12)
	near(t, "turns change", a.TurnsChange, (9*0.375-2)/1.5, 1e-12)
	near(t, "rate", float64(a.NewRate), 80e3*20/18.8, 1e-12)
	near(t, "rate change", float64(a.RateChange), 80e3*(20/18.8-1), 1e-11)
	// A pitch of half a metre is a pitch, and one of 0 none.
	a = corrected(t, 3.2, func(c *CoilSetting) { c.ThreadPitch = 0 })
	near(t, "stepless change", float64(a.PreloadChange), 1.2*milli, 1e-10)
	if a.TurnsChange != 0 || a.Turns != 0 {
		t.Errorf("turns of an unknown pitch: %v", a.TurnsChange)
	}
	// An unknown end of the collar is the stroke of 60 mm, or its beginning.
	a = corrected(t, 59, func(c *CoilSetting) { c.ThreadPitch = 0 })
	near(t, "a long collar", float64(a.Preload), 59*milli, 1e-10)
	if a.has(PreloadAtMax) {
		t.Errorf("%v", a.Findings)
	}
	if a = corrected(t, 62, func(c *CoilSetting) { c.ThreadPitch = 0 }); !a.has(PreloadAtMax) || a.Preload != 0.06 {
		t.Errorf("past the stroke: %v of %v", a.Findings, a.Preload)
	}
	a = corrected(t, 65, func(c *CoilSetting) { c.ThreadPitch, c.PreloadMin, c.Preload = 0, 70*milli, 70*milli })
	if !a.has(PreloadAtMin) || a.has(PreloadAtMax) || a.Preload != 70*milli {
		t.Errorf("a collar that begins past the stroke: %v of %v", a.Findings, a.Preload)
	}
	// A known end is kept to.
	if a = corrected(t, 3.2, func(c *CoilSetting) { c.ThreadPitch, c.PreloadMax = 0, 2.5*milli }); a.Preload != 2.5*milli {
		t.Errorf("past the collar: %v", a.Preload)
	}
}

// A fill at the marking is not over it; the next number is.
func TestOverMarkingAtTheMarking(t *testing.T) {
	for _, test := range []struct {
		fill units.GaugePressure
		want bool
	}{{1e6, false}, {units.GaugePressure(justAbove(1e6)), true}} {
		s := tube()
		s.Air.Ambient = 100e3
		c := units.Checker{}
		b := s.build(&c)
		require.NoError(t, c.Err())
		b.air.Fill = test.fill // as heat leaves it
		o, err := b.outcome(400)
		require.NoError(t, err)
		if o.Fill != test.fill || o.Ambient != 100e3 || has(o.Findings, OverMarking) != test.want {
			t.Errorf("%+v", o)
		}
	}
}

// A correction of air counts from the fill that is set.
func TestCorrectionOfTheFill(t *testing.T) {
	s := tube()
	s.Air.Ambient = 100e3
	const area = math.Pi / 4 * 0.035 * 0.035
	fill := (400/area+100e3)*(240e-6-area*0.032)/240e-6 - 100e3
	for _, exponent := range []float64{0, 1, 1.4} {
		s.Air.Exponent = exponent
		a, err := NewCorrection(s, 400)
		require.NoError(t, err)
		require.Nil(t, a.Coil)
		near(t, "fill", float64(a.Air.Fill), fill, 1e-11)
		near(t, "change", float64(a.Air.FillChange), fill-300e3, 1e-10)
		n := max(1, exponent)
		near(t, "full ratio", a.Air.FullRatio, area*((fill+100e3)*math.Pow(240e-6/(240e-6-area*0.16), n)-100e3)/400, 1e-11)
		if a.Target != (Target{Load: 400, Sag: 0.2}) {
			t.Errorf("%+v", a.Target)
		}
	}
}

// Either end by itself, and neither.
func TestChangeOfOneEnd(t *testing.T) {
	front, rear := tube(), coilEnd()
	from, to := Situation{rider(80), at(20, 0)}, Situation{rider(90), at(30, 0)}
	a, err := NewChanged(Change{From: from, To: to, Front: &front})
	require.NoError(t, err)
	if a.Rear != nil || a.Front == nil || len(a.Cautions) == 0 {
		t.Errorf("%+v", a)
	}
	near(t, "front before", float64(a.From.Front), 38*g0, 1e-13)
	near(t, "front after", float64(a.To.Front), 42*g0, 1e-13)
	a, err = NewChanged(Change{From: from, To: to, Rear: &rear})
	require.NoError(t, err)
	if a.Front != nil || a.Rear == nil {
		t.Errorf("%+v", a)
	}
	// What is wrong with either end, when it is worked out, bears its name.
	little := tube()
	little.Air.Fill = 5e3
	cold := Situation{rider(90), at(-30, 0)}
	a, err = NewChanged(Change{From: from, To: cold, Front: &rear, Rear: &little})
	named(t, "rear", err, "rear.air.fill")
	if a != nil {
		t.Errorf("%+v", a)
	}
	a, err = NewChanged(Change{From: from, To: cold, Front: &little, Rear: &little})
	named(t, "both", err, "front.air.fill", "rear.air.fill")
	if a != nil {
		t.Errorf("%+v", a)
	}
}

// A chart at its limits.
func TestPressureChartAtItsLimits(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*PressureRange)
		want   []string
	}{
		{"masses below 1 kg", func(r *PressureRange) { r.BikeMass, r.From, r.To, r.Step, r.Unsprung = 0.5, 0.25, 0.5, 0.25, 0 }, nil},
		{"a travel of just the stroke", func(r *PressureRange) { r.Air.Travel = 0.06 }, nil},
		{"a travel a little less", func(r *PressureRange) { r.Air.Travel = units.Length(justBelow(0.06)) }, []string{"air.travel"}},
		{"no travel", func(r *PressureRange) { r.Air.Travel = 0 }, []string{"air.travel"}},
		{"no bike", func(r *PressureRange) { r.BikeMass = -1 }, []string{"bike_mass"}},
		{"a bike of infinite weight", func(r *PressureRange) { r.BikeMass = units.Mass(math.Inf(1)) }, []string{"bike_mass"}},
		{"no marking", func(r *PressureRange) { r.MaxFill = -1 }, []string{"max_fill"}},
		{"all on the rear", func(r *PressureRange) { r.RearShare = 1 }, []string{"rear_share"}},
		{"all on the front", func(r *PressureRange) { r.RearShare = 0 }, []string{"rear_share"}},
		{"from no number", func(r *PressureRange) { r.From = units.Mass(math.NaN()) }, []string{"from"}},
		{"to no number", func(r *PressureRange) { r.To = units.Mass(math.NaN()) }, []string{"to"}},
		{"from far below", func(r *PressureRange) { r.From = -1e9 }, []string{"from"}},
		{"to far above, without an end", func(r *PressureRange) { r.To = units.Mass(math.Inf(1)) }, []string{"to"}},
		{"from below", func(r *PressureRange) { r.From = 0 }, []string{"from"}},
		{"to below", func(r *PressureRange) { r.To = -1 }, []string{"to"}},
		{"no step", func(r *PressureRange) { r.Step = 0 }, []string{"step"}},
		{"a step of all", func(r *PressureRange) { r.Step = 1000 }, nil},
		{"no end", func(r *PressureRange) { r.End = "middle" }, []string{"end"}},
		{"no exponent", func(r *PressureRange) { r.Air.Exponent, r.Air.Fill = -1, -1 }, nil}, // passed over
	} {
		r := pressures()
		test.change(&r)
		rows, err := NewPressureChart(rearOf150(t), r)
		named(t, test.name, err, test.want...)
		if (rows == nil) != (err != nil) {
			t.Errorf("%s: %d rows beside %v", test.name, len(rows), err)
		}
	}
	_, err := NewPressureChart(nil, pressures())
	named(t, "no curve", err, "curve")
}

// Whom the end's unsprung mass is just the share of, rides on nothing; the
// marking that is just enough is enough.
func TestPressureChartMetExactly(t *testing.T) {
	r := pressures()
	r.RearShare, r.BikeMass, r.Unsprung, r.From, r.To, r.Step = 0.5, 2, 2, 2, 3, 1
	rows, err := NewPressureChart(rearOf150(t), r)
	require.NoError(t, err)
	if len(rows) != 1 || rows[0].RiderMass != 3 {
		t.Errorf("%+v", rows)
	}
	near(t, "load", float64(rows[0].Load), 0.5*g0, 1e-14)
	r.From, r.To = 2.1, 2.1
	rows, err = NewPressureChart(rearOf150(t), r)
	require.NoError(t, err)
	require.Len(t, rows, 1)
	near(t, "a load below 1 N", float64(rows[0].Load), 0.05*g0, 1e-12)

	met := 0
	for bar := 5.0; bar < 9; bar += 0.25 {
		r = pressures()
		r.RearShare, r.BikeMass, r.Unsprung, r.MaxFill, r.Step = 0.5, 16, 0, units.BarGauge(bar), 1
		spec := r.Air
		spec.Fill, spec.Exponent = r.MaxFill, 1
		air, err := airspring.New(spec)
		require.NoError(t, err)
		c := rearOf150(t)
		s := c.StrokeAt(units.Length(r.Sag) * c.Travel())
		carries := units.Force(float64(air.Force(s)) / c.LeverRatio(s))
		m := float64(carries)/g0/0.5 - 16
		for range 8 {
			m = justBelow(m)
		}
		for range 16 {
			m = justAbove(m)
			if (0.5 * (units.Mass(m) + 16)).Weight() != carries {
				continue
			}
			met++
			r.From, r.To = units.Mass(m), units.Mass(m)
			rows, err := NewPressureChart(c, r)
			require.NoError(t, err)
			if len(rows) != 1 || rows[0].Finding != "" || rows[0].Fill > r.MaxFill {
				t.Errorf("%v: %+v", r.MaxFill, rows)
			}
			near(t, fmt.Sprint(r.MaxFill), float64(rows[0].Fill), float64(r.MaxFill), 1e-12)
		}
	}
	if met == 0 {
		t.Error("no rider takes just the marking: the test shows nothing")
	}
}

// Either end's air is that around it in the first situation, where it states none.
func TestChangeOfAirAtEitherEnd(t *testing.T) {
	end := tube()
	a, err := NewChanged(Change{From: Situation{rider(80), at(20, 0)}, To: Situation{rider(80), at(20, 2000)}, Front: &end, Rear: &end})
	require.NoError(t, err)
	high := 101325 * math.Pow(275.15/288.15, 9.80665*0.0289644/(8.31432*0.0065)) // the standard atmosphere
	for _, e := range []*EndChange{a.Front, a.Rear} {
		near(t, "now", float64(e.Now.Ambient), 101325, 1e-9)
		near(t, "leave", float64(e.Leave.Ambient), high, 1e-9)
		near(t, "fill", float64(e.Leave.Fill), 300e3+101325-high, 1e-9)
	}
}
