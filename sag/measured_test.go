package sag

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

const milli = 1e-3 // of a metre

// coilEnd is an invented rear end: constant ratio 2.5, 60 mm of stroke, 80 N/mm
// from 2 mm of preload, 40 N of friction, 28 % wanted.
func coilEnd() Setting {
	return Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15}}, Sag: 0.28, Friction: 40,
		Coil: &CoilSetting{Rate: 80e3, Preload: 2 * milli, ThreadPitch: 1.5 * milli},
	}
}

// airEnd is an invented fork with one chamber and a shaft for its negative one.
func airEnd() Setting {
	return Setting{
		Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.16}}, Sag: 0.2, Friction: 15,
		Air: &AirSetting{MaxFill: 3e6, Spec: airspring.Spec{Bore: 0.035, Shaft: 0.01, PositiveVolume: 240e-6, NegativeVolume: 60e-6,
			PortTravel: 0.008, Fill: 500e3, Ambient: airspring.SeaLevel}},
	}
}

// tableEnd has a lever ratio that falls from 2.95 to 2.40.
func tableEnd() Setting {
	s := coilEnd()
	table := linkage.Table{Method: linkage.Smooth}
	for x := 0.0; x < 66; x += 5 {
		table.Stroke = append(table.Stroke, units.Length(x*milli))
		table.Travel = append(table.Travel, units.Length((2.95*x-0.00425*x*x)*milli))
	}
	s.Curve = linkage.Spec{Table: &table}
	return s
}

func TestImpliedLoadByHand(t *testing.T) {
	// 18 mm ± 1 mm: 80·20/2.5, 80·19/2.5, 80·21/2.5, (80·19 − 40)/2.5, (80·21 + 40)/2.5.
	i, err := ImpliedLoad(constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 2*milli), 40, Reading{Stroke: 18 * milli, Error: 1 * milli})
	require.NoError(t, err)
	for _, row := range []struct {
		what string
		got  units.Force
		want float64
	}{
		{"load", i.Load, 640}, {"error low", i.ErrorLow, 608}, {"error high", i.ErrorHigh, 672},
		{"low", i.Low, 592}, {"high", i.High, 688}, {"standard error", i.StandardError, 32 / math.Sqrt(3)},
	} {
		near(t, row.what, float64(row.got), row.want, 1e-12)
	}
	// Friction larger than the force lets no load at all agree, never one below 0.
	i, err = ImpliedLoad(constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 2*milli), 5e3, Reading{Stroke: 18 * milli, Error: 1 * milli})
	require.NoError(t, err)
	if i.Low != 0 {
		t.Errorf("low %v", i.Low)
	}
}

// valley is a force that falls and rises again inside the reading's error.
type valley struct{}

func (valley) Force(x units.Length) units.Force {
	return units.Force(1000 + 1e8*math.Pow(float64(x)-0.018, 2))
}
func (valley) Rate(x units.Length) units.Stiffness {
	return units.Stiffness(2e8 * (float64(x) - 0.018))
}
func (valley) Energy(x units.Length) units.Energy { return units.Energy(1000 * float64(x)) }
func (valley) Travel() units.Length               { return 0.06 }

func TestImpliedLoadLooksBetweenTheEnds(t *testing.T) {
	i, err := ImpliedLoad(constant(t, 2, 0.12), valley{}, 0, Reading{Stroke: 18.5 * milli, Error: 1 * milli})
	require.NoError(t, err)
	// By hand: 1000/2 in the valley at 18 mm, a quarter of the way; (1000 + 1e8·0.0015²)/2 at 19.5 mm.
	near(t, "low", float64(i.ErrorLow), 500, 1e-12)
	near(t, "high", float64(i.ErrorHigh), 612.5, 1e-12)
}

func TestImpliedLoadRefuses(t *testing.T) {
	nan := math.NaN()
	c, law := constant(t, 2.5, 0.15), linear(t, 80e3, 0.06, 2*milli)
	for _, test := range []struct {
		name string
		err  error
		want []string
	}{
		{"everything", second(ImpliedLoad(nil, nil, -1, Reading{units.Length(nan), units.Length(nan), "", ""})), []string{"curve", "law", "friction", "stroke", "error"}},
		{"friction beyond sense", second(ImpliedLoad(c, law, 1e200, Reading{Stroke: 18 * milli, Error: milli})), []string{"friction"}},
		{"friction is no number", second(ImpliedLoad(c, law, units.Force(nan), Reading{Stroke: 18 * milli, Error: milli})), []string{"friction"}},
		{"no stroke", second(ImpliedLoad(c, law, 0, Reading{Error: milli})), []string{"stroke"}},
		{"at the stop", second(ImpliedLoad(c, law, 0, Reading{Stroke: 60 * milli, Error: milli})), []string{"stroke"}},
		{"endless", second(ImpliedLoad(c, law, 0, Reading{Stroke: units.Length(math.Inf(1)), Error: milli})), []string{"stroke"}},
		{"no error stated", second(ImpliedLoad(c, law, 0, Reading{Stroke: 18 * milli})), []string{"error"}},
		{"error reaches the top", second(ImpliedLoad(c, law, 0, Reading{Stroke: 2 * milli, Error: 2 * milli})), []string{"error"}},
		{"error reaches the end", second(ImpliedLoad(c, law, 0, Reading{Stroke: 59 * milli, Error: 2 * milli})), []string{"error"}},
		{"error is no number", second(ImpliedLoad(c, law, 0, Reading{Stroke: 18 * milli, Error: units.Length(nan)})), []string{"error"}},
		{"the spring ends first", second(ImpliedLoad(c, linear(t, 80e3, 0.02, 0), 0, Reading{Stroke: 30 * milli, Error: milli})), []string{"stroke"}},
	} {
		if diff := cmp.Diff(test.want, names(test.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	// A negative chamber that pulls in carries no load there.
	s := airEnd()
	b := s.build(&units.Checker{})
	pull, err := airspring.New(airspring.Spec{Bore: 0.035, Shaft: 0.01, Travel: 0.16, PositiveVolume: 240e-6, NegativeVolume: 20e-6, PortTravel: 0.03, Fill: 500e3, Ambient: airspring.SeaLevel, Exponent: 1})
	require.NoError(t, err)
	if diff := cmp.Diff([]string{"stroke"}, names(second(ImpliedLoad(b.curve, pull, 0, Reading{Stroke: 2 * milli, Error: milli})))); diff != "" {
		t.Errorf("pulls in (-want +got):\n%s", diff)
	}
}

func TestVerdictsByHand(t *testing.T) {
	for load, want := range map[units.Force]Verdict{
		0: NotCompared, 607.99: WithinFriction, 608.01: Agrees, 671.99: Agrees, 672.01: WithinFriction,
		592.01: WithinFriction, 591.99: Unexplained, 687.99: WithinFriction, 688.01: Unexplained,
	} {
		a, err := NewMeasured(Measuring{Setting: coilEnd(), Load: load, Readings: []Reading{{Stroke: 18 * milli, Error: milli}}})
		require.NoError(t, err)
		if a.Verdict != want || a.Readings[0].Verdict != want {
			t.Errorf("%v: %s and %s, want %s", load, a.Verdict, a.Readings[0].Verdict, want)
		}
		if (len(a.Explanations) > 0) != (want == Unexplained) {
			t.Errorf("%v: %s with %d explanations", load, want, len(a.Explanations))
		}
	}
}

func TestNewMeasuredByHand(t *testing.T) {
	a, err := NewMeasured(Measuring{Setting: coilEnd(), Load: 650, Readings: []Reading{{Stroke: 18 * milli, Error: milli}}})
	require.NoError(t, err)
	r := a.Readings[0]
	near(t, "sag", r.Sag, 0.3, 1e-12)
	near(t, "shock sag", r.ShockSag, 0.3, 1e-12)
	near(t, "load", float64(a.Estimate.Load), 640, 1e-12)
	near(t, "stated error", float64(a.Estimate.StatedError), 32/math.Sqrt(3), 1e-12)
	if a.Estimate.ScatterError != 0 || a.Estimate.Count != 1 || a.Predicted != 650 {
		t.Errorf("estimate %+v", a.Estimate)
	}
	// 640·2.5/80 − 16.8 = 3.2 mm are 8.53 quarter turns of 0.375 mm: nine of them.
	c := a.Correction.Coil
	near(t, "preload wanted", float64(c.PreloadWanted), 3.2*milli, 1e-12)
	near(t, "preload", float64(c.Preload), 3.375*milli, 1e-12)
	near(t, "change", float64(c.PreloadChange), 1.375*milli, 1e-12)
	near(t, "turns", c.TurnsChange, 1.375/1.5, 1e-12)
	near(t, "rate", float64(c.NewRate), 1600/18.8e-3, 1e-12)
	near(t, "rate change", float64(c.RateChange), 1600/18.8e-3-80e3, 1e-11)
	if a.Correction.Air != nil || len(a.Cautions) == 0 || a.Cautions[1].Code != "compressed_spring" {
		t.Errorf("correction %+v, cautions %v", a.Correction, a.Cautions)
	}
}

func TestMeasuredAirCorrectionByHand(t *testing.T) {
	// One chamber: A·(p·V₀/(V₀ − A·s) − p_a) = load·LR, so the fill that reads
	// 40 mm is off by the ratio of volumes, and the load follows from it.
	s := Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
		Air: &AirSetting{MaxFill: 1e6, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Fill: 300e3, Ambient: 100e3, Exponent: 1.4}}}
	const a = math.Pi / 4 * 0.035 * 0.035
	load := a * (400e3*240e-6/(240e-6-a*0.04) - 100e3)
	fill := (load/a+100e3)*(240e-6-a*0.032)/240e-6 - 100e3
	m, err := NewMeasured(Measuring{Setting: s, Readings: []Reading{{Stroke: 0.04, Error: milli}}})
	require.NoError(t, err)
	near(t, "load", float64(m.Estimate.Load), load, 1e-12)
	near(t, "fill", float64(m.Correction.Air.Fill), fill, 1e-11)
	near(t, "change", float64(m.Correction.Air.FillChange), fill-300e3, 1e-10)
	near(t, "sag", m.Correction.Air.Rest.Sag, 0.2, 1e-9)
	if m.Verdict != NotCompared || m.Cautions[1].Code != "air_pressure" {
		t.Errorf("verdict %v, cautions %v", m.Verdict, m.Cautions)
	}
	s.Air.MaxFill = units.GaugePressure((fill + 300e3) / 2) // the marking stands in the way
	m, err = NewMeasured(Measuring{Setting: s, Readings: []Reading{{Stroke: 0.04, Error: milli}}})
	require.NoError(t, err)
	if o := m.Correction.Air; o.Fill != s.Air.MaxFill || !o.has(FillAtMax) || !(o.Rest.Sag > 0.2) {
		t.Errorf("past the marking: %+v", o.AirOption)
	}
}

// What is predicted, and read where it is predicted, implies the load it was
// predicted from; wherever friction lets it stop, the verdict knows.
func TestMeasuredRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, end := range []Setting{coilEnd(), airEnd(), tableEnd()} {
		c := units.Checker{}
		b := end.build(&c)
		require.NoError(t, c.Err())
		for range 50 {
			load := units.Force(300 + 400*random.Float64())
			rest, err := Settle(b.curve, b.law, load, end.Friction)
			require.NoError(t, err)
			const e units.Length = 0.01 * milli
			read := func(s units.Length) *Measured {
				a, err := NewMeasured(Measuring{Setting: end, Load: load, Readings: []Reading{{Stroke: s, Error: e}}})
				require.NoError(t, err)
				return a
			}
			a := read(rest.Stroke)
			near(t, "load", float64(a.Estimate.Load), float64(load), 1e-9)
			near(t, "sag", a.Readings[0].Sag, rest.Sag, 1e-12)
			if a.Verdict != Agrees {
				t.Errorf("%v: %s where it was predicted", load, a.Verdict)
			}
			for s, want := range map[units.Length]Verdict{
				rest.StrokeLow + e/2: WithinFriction, rest.StrokeHigh - e/2: WithinFriction,
				rest.StrokeLow - e/2: WithinFriction, rest.StrokeHigh + e/2: WithinFriction,
				rest.StrokeLow - 2*e: Unexplained, rest.StrokeHigh + 2*e: Unexplained,
			} {
				if a := read(s); a.Verdict != want {
					t.Errorf("%v, rest %v to %v: %s at %v, want %s", load, rest.StrokeLow, rest.StrokeHigh, a.Verdict, s, want)
				}
			}
			// Set as corrected, the bike rests on target.
			fixed := end
			if end.Coil != nil {
				coil := *end.Coil
				coil.Rate = a.Correction.Coil.NewRate
				fixed.Coil = &coil
			} else {
				air := *end.Air
				air.Fill = a.Correction.Air.Fill
				fixed.Air = &air
			}
			f := fixed.build(&c)
			require.NoError(t, c.Err())
			rest, err = Settle(f.curve, f.law, load, 0)
			require.NoError(t, err)
			near(t, "corrected sag", rest.Sag, end.Sag, 1e-8)
		}
	}
}

func TestNewMeasuredRefuses(t *testing.T) {
	nan := math.NaN()
	good := []Reading{{Stroke: 18 * milli, Error: milli}}
	for _, test := range []struct {
		name string
		m    Measuring
		want []string
	}{
		{"nothing", Measuring{}, []string{"setting.curve", "setting.sag", "setting.coil", "readings"}},
		{"a bad setting and a bad reading", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 2, Friction: -1}, Load: -1, Readings: []Reading{{Error: milli}, {Stroke: 18 * milli}}},
			[]string{"setting.sag", "setting.friction", "setting.coil", "load", "readings[0].stroke", "readings[1].error"}},
		{"both springs", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: coilEnd().Coil, Air: airEnd().Air}, Readings: good}, []string{"setting.coil"}},
		{"bad coil", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &CoilSetting{Rate: units.Stiffness(nan), Preload: -1, SolidTravel: -1, PreloadMin: -1, PreloadMax: -1, ThreadPitch: -1}}, Readings: good},
			[]string{"setting.coil.rate", "setting.coil.preload", "setting.coil.solid_travel", "setting.coil.preload_min", "setting.coil.preload_max", "setting.coil.thread_pitch"}},
		{"outside the collar's range", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &CoilSetting{Rate: 8e4, Preload: 6 * milli, PreloadMax: 5 * milli, SolidTravel: 6 * milli}}, Readings: good},
			[]string{"setting.coil.solid_travel", "setting.coil.preload"}},
		{"below the collar's range", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &CoilSetting{Rate: 8e4, PreloadMin: 6 * milli, PreloadMax: 5 * milli, SolidTravel: 6 * milli}}, Readings: good},
			[]string{"setting.coil.preload_max", "setting.coil.preload", "setting.coil.solid_travel"}},
		{"bad air", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Air: &AirSetting{Spec: airspring.Spec{Exponent: 3}}}, Readings: good},
			[]string{"setting.air.exponent", "setting.air.bore", "setting.air.positive_volume", "setting.air.ambient", "setting.air.fill", "setting.air.max_fill"}},
		{"over the marking", Measuring{Setting: Setting{Curve: airEnd().Curve, Sag: 0.3, Air: &AirSetting{Spec: airEnd().Air.Spec, MaxFill: 400e3}}, Readings: good}, []string{"setting.air.fill"}},
		{"a marking that is none", Measuring{Setting: Setting{Curve: airEnd().Curve, Sag: 0.3, Air: &AirSetting{Spec: airEnd().Air.Spec, MaxFill: 1e20}}, Readings: good}, []string{"setting.air.max_fill"}},
		{"friction beyond sense", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Friction: 1e120, Coil: coilEnd().Coil}, Readings: good}, []string{"setting.friction"}},
		{"past where the spring binds", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &CoilSetting{Rate: 8e4, Preload: 2 * milli, SolidTravel: 20 * milli}}, Readings: good}, []string{"readings[0].error"}},
		{"a force that does not change", Measuring{Setting: Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &CoilSetting{Rate: 1e-6, Preload: 1e15}}, Readings: good}, []string{"readings[0].stroke"}},
		{"too many", Measuring{Setting: coilEnd(), Readings: make([]Reading, 1001)}, []string{"readings"}},
		{"predicted load is no number", Measuring{Setting: coilEnd(), Load: units.Force(nan), Readings: good}, []string{"load"}},
	} {
		a, err := NewMeasured(test.m)
		if diff := cmp.Diff(test.want, names(err)); diff != "" || a != nil {
			t.Errorf("%s: %v (-want +got):\n%s", test.name, a, diff)
		}
	}
	open := coilEnd() // a collar of unknown range but for where it starts
	open.Coil.PreloadMin, open.Coil.ThreadPitch = milli, 0
	a, err := NewMeasured(Measuring{Setting: open, Readings: good})
	require.NoError(t, err)
	near(t, "preload on a collar of unknown range", float64(a.Correction.Coil.Preload), 3.2*milli, 1e-12) // 640·2.5/80 − 16.8
	short := airEnd()
	short.Air.Travel = 0.1
	if diff := cmp.Diff([]string{"setting.air.travel"}, names(second(NewMeasured(Measuring{Setting: short, Readings: good})))); diff != "" {
		t.Errorf("short air spring (-want +got):\n%s", diff)
	}
	if err := second(NewMeasured(Measuring{})); !errors.Is(err, units.ErrMissing) {
		t.Errorf("%v", err)
	}
}
