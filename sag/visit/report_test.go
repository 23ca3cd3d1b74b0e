package visit_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// A load at a bound of what a reading agrees with is within it, and bounds that meet in one
// load are a load that all readings agree with.
func TestVerdictsAtTheBounds(t *testing.T) {
	b := report(t, coilEnd(), 0, readings(1, 18)...).Estimate.LoadBounds // 592, 608, 672 and 688 N
	less, more := func(f units.Force) units.Force { return units.Force(math.Nextafter(float64(f), 0)) }, func(f units.Force) units.Force { return units.Force(math.Nextafter(float64(f), 1e3)) }
	for load, want := range map[units.Force]visit.Verdict{
		0: visit.NotCompared, less(b.Low): visit.Unexplained, b.Low: visit.WithinFriction, less(b.ErrorLow): visit.WithinFriction, b.ErrorLow: visit.Agrees,
		b.ErrorHigh: visit.Agrees, more(b.ErrorHigh): visit.WithinFriction, b.High: visit.WithinFriction, more(b.High): visit.Unexplained,
	} {
		a := report(t, coilEnd(), load, readings(1, 18)...)
		if a.Verdict != want || a.Readings[0].Verdict != want {
			t.Errorf("%v: %s and %s, want %s", load, a.Verdict, a.Readings[0].Verdict, want)
		}
		if (len(a.Explanations) > 0) != (want == visit.Unexplained) {
			t.Errorf("%v: %s with %d explanations", load, want, len(a.Explanations))
		}
	}
	// By hand, without rounding: both readings reach 18/1024 m, where 65536 N/m carry 1152 N.
	s := visit.Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2, Travel: 1. / 8}}, Sag: 0.25, Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 65536}}}
	for load, want := range map[units.Force]visit.Verdict{576: visit.Agrees, 0: visit.NotCompared, 577: visit.Unexplained} {
		if a := report(t, s, load, visit.Reading{Stroke: 16. / 1024, Error: 2. / 1024}, visit.Reading{Stroke: 20. / 1024, Error: 2. / 1024}); a.Verdict != want {
			t.Errorf("%v where the bounds meet: %s, want %s of %+v", load, a.Verdict, want, a.Estimate)
		}
	}
}

func TestReportOfACoil(t *testing.T) {
	a := report(t, coilEnd(), 650, visit.Reading{Stroke: 18 * milli, Error: milli})
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

func TestReportOfAnAirSpring(t *testing.T) {
	// One chamber: A·(p·V₀/(V₀ − A·s) − p_a) = load·LR, so the fill that reads
	// 40 mm is off by the ratio of volumes, and the load follows from it.
	s := visit.Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
		Air: &visit.AirSetting{NegativeChamber: fit.None, MaxFill: 1e6, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Fill: 300e3, Ambient: 100e3, Exponent: 1.4}}}
	const a = math.Pi / 4 * 0.035 * 0.035
	load := a * (400e3*240e-6/(240e-6-a*0.04) - 100e3)
	fill := (load/a+100e3)*(240e-6-a*0.032)/240e-6 - 100e3
	m := report(t, s, 0, visit.Reading{Stroke: 0.04, Error: milli})
	near(t, "load", float64(m.Estimate.Load), load, 1e-12)
	near(t, "fill", float64(m.Correction.Air.Fill), fill, 1e-11)
	near(t, "change", float64(m.Correction.Air.FillChange), fill-300e3, 1e-10)
	near(t, "sag", m.Correction.Air.Rest.Sag, 0.2, 1e-9)
	if m.Verdict != visit.NotCompared || m.Cautions[1].Code != "air_pressure" {
		t.Errorf("verdict %v, cautions %v", m.Verdict, m.Cautions)
	}
	s.Air.MaxFill = units.GaugePressure((fill + 300e3) / 2) // the marking stands in the way
	m = report(t, s, 0, visit.Reading{Stroke: 0.04, Error: milli})
	if o := m.Correction.Air; o.Fill != s.Air.MaxFill || !fit.Has(o.Findings, sag.FillAtMax) || !(o.Rest.Sag > 0.2) {
		t.Errorf("past the marking: %+v", o.AirOption)
	}
}

// What is predicted, and read where it is predicted, implies the load it was
// predicted from; wherever friction lets it stop, the verdict knows.
func TestReadingsOfAPredictionAgree(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, end := range []visit.Setting{coilEnd(), airEnd(), tableEnd()} {
		b := stands(t, end)
		for range 50 {
			load := units.Force(300 + 400*random.Float64())
			rest, err := b.Settle(load)
			require.NoError(t, err)
			const e units.Length = 0.01 * milli
			read := func(s units.Length) *visit.Report { return report(t, end, load, visit.Reading{Stroke: s, Error: e}) }
			a := read(rest.Stroke)
			near(t, "load", float64(a.Estimate.Load), float64(load), 1e-9)
			near(t, "sag", a.Readings[0].Sag, rest.Sag, 1e-12)
			if a.Verdict != visit.Agrees {
				t.Errorf("%v: %s where it was predicted", load, a.Verdict)
			}
			for s, want := range map[units.Length]visit.Verdict{
				rest.StrokeLow + e/2: visit.WithinFriction, rest.StrokeHigh - e/2: visit.WithinFriction,
				rest.StrokeLow - e/2: visit.WithinFriction, rest.StrokeHigh + e/2: visit.WithinFriction,
				rest.StrokeLow - 2*e: visit.Unexplained, rest.StrokeHigh + 2*e: visit.Unexplained,
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
			rest, err = stands(t, fixed).Settle(load)
			require.NoError(t, err)
			near(t, "corrected sag", rest.Sag, end.Sag, 1e-8)
		}
	}
}

func TestEstimateIsTheWeightedMean(t *testing.T) {
	// 17, 18 and 19 mm imply 608, 640 and 672 N, each ± 32 N: u = 32/√3, so
	// stated 32/3; the deviation of 608, 640, 672 is 32, over √3.
	a := report(t, coilEnd(), 0, readings(1, 17, 18, 19)...)
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
	a = report(t, coilEnd(), 0, visit.Reading{Stroke: 17 * milli, Error: 1 * milli}, visit.Reading{Stroke: 19 * milli, Error: 2 * milli})
	near(t, "weighted mean", float64(a.Estimate.Load), 620.8, 1e-12)
	near(t, "weighted stated", float64(a.Estimate.StatedError), 32/math.Sqrt(3)/math.Sqrt(1.25), 1e-12)
	// χ² = (12.8/u)² + (51.2/2u)² with u² = 1024/3, over n − 1 = 1.
	near(t, "weighted scatter", float64(a.Estimate.ScatterError), math.Sqrt((12.8*12.8+25.6*25.6)/1.25), 1e-12)
}

func TestOutliersAreMarkedAndStillCount(t *testing.T) {
	// 24 mm alone implies at least (80·25 − 40)/2.5 = 784 N, the others 640 N.
	a := report(t, coilEnd(), 0, readings(1, 18, 24, 18)...)
	if a.Readings[0].Outlier || !a.Readings[1].Outlier || a.Readings[2].Outlier || a.Verdict != visit.Contradictory {
		t.Errorf("%s %+v", a.Verdict, a.Readings)
	}
	near(t, "mean with it", float64(a.Estimate.Load), (640+832+640)/3.0, 1e-12)
	if !(a.Estimate.Low > a.Estimate.High) {
		t.Errorf("bounds %v to %v overlap", a.Estimate.Low, a.Estimate.High)
	}
	// One below the others as well: 12 mm is at most (80·15 + 40)/2.5 = 496 N.
	a = report(t, coilEnd(), 0, readings(1, 12, 18, 18)...)
	if !a.Readings[0].Outlier || a.Readings[1].Outlier || a.Readings[2].Outlier {
		t.Errorf("%+v", a.Readings)
	}
	// Of two that differ nobody can say which it is.
	a = report(t, coilEnd(), 0, readings(1, 18, 24)...)
	if a.Readings[0].Outlier || a.Readings[1].Outlier || a.Verdict != visit.Contradictory {
		t.Errorf("two: %s %+v", a.Verdict, a.Readings)
	}
}

func TestSeriesAreRefusedByField(t *testing.T) {
	nan := math.NaN()
	good := []visit.Reading{{Stroke: 18 * milli, Error: milli}}
	for _, test := range []struct {
		name string
		m    series
		want []string
	}{
		{"nothing", series{}, []string{"curve", "sag", "coil"}},
		{"no readings", series{Setting: coilEnd()}, []string{"readings"}},
		{"a bad setting", series{Setting: visit.Setting{Curve: coilEnd().Curve, Sag: 2, Friction: -1}}, []string{"sag", "friction", "coil"}},
		{"bad readings", series{Setting: coilEnd(), Load: -1, Readings: []visit.Reading{{Error: milli}, {Stroke: 18 * milli}}},
			[]string{"load", "readings[0].stroke", "readings[1].error"}},
		{"both springs", series{Setting: visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: coilEnd().Coil, Air: airEnd().Air}, Readings: good}, []string{"coil"}},
		{"bad coil", series{Setting: visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: units.Stiffness(nan), SolidTravel: -1}, Preload: -1, Collar: fit.Collar{PreloadMin: -1, PreloadMax: -1, ThreadPitch: -1}}}, Readings: good},
			[]string{"coil.rate", "coil.solid_travel", "coil.preload", "coil.preload_min", "coil.preload_max", "coil.thread_pitch"}},
		{"bad air", series{Setting: visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Air: &visit.AirSetting{NegativeChamber: fit.None, Spec: airspring.Spec{Exponent: 3}}}, Readings: good},
			[]string{"air.exponent", "air.bore", "air.positive_volume", "air.ambient", "air.fill", "air.max_fill"}},
		{"a marking beyond any spring", series{Setting: visit.Setting{Curve: airEnd().Curve, Sag: 0.3, Air: &visit.AirSetting{Spec: airEnd().Air.Spec, MaxFill: 1e20}}, Readings: good}, []string{"air.max_fill"}},
		{"past where the spring binds", series{Setting: visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 8e4, SolidTravel: 20 * milli}, Preload: 2 * milli}}, Readings: good}, []string{"readings[0].error"}},
		{"a force that does not change", series{Setting: visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 1e-6}, Preload: 1e15}}, Readings: good}, []string{"readings[0].stroke"}},
		{"too many", series{Setting: coilEnd(), Readings: make([]visit.Reading, 1001)}, []string{"readings"}},
		{"predicted load is no number", series{Setting: coilEnd(), Load: units.Force(nan), Readings: good}, []string{"load"}},
	} {
		a, err := test.m.Report()
		if named(t, test.name, err, test.want...); a != nil {
			t.Errorf("%s: %v beside an error", test.name, a)
		}
	}
	open := coilEnd() // a collar of unknown range but for where it starts
	open.Coil.PreloadMin, open.Coil.ThreadPitch = milli, 0
	a := report(t, open, 0, good...)
	near(t, "preload on a collar of unknown range", float64(a.Correction.Coil.Preload), 3.2*milli, 1e-12) // 640·2.5/80 − 16.8
	short := airEnd()
	short.Air.Travel = 0.1
	named(t, "short air spring", second(series{Setting: short, Readings: good}.Report()), "air.travel")
	if err := second(series{}.Report()); !errors.Is(err, units.ErrMissing) {
		t.Errorf("%v", err)
	}
}

// A thousand readings are taken, and of a bad setting each is still looked at
// by itself, whatever the stroke.
func TestAThousandReadingsAreTaken(t *testing.T) {
	many := make([]visit.Reading, 1000)
	for i := range many {
		many[i] = visit.Reading{Stroke: 18 * milli, Error: milli}
	}
	a := report(t, coilEnd(), 0, many...)
	// By hand: 32/√3 over √1000.
	near(t, "stated error of a thousand", float64(a.Estimate.StatedError), 32/math.Sqrt(3000), 1e-12)

	r := handRecord()
	r.Rear.Coil.Rate, r.Rear.Readings = -1, []visit.Reading{{Stroke: 900, Error: 1}, {Stroke: 1, Error: 1}, {Stroke: -1, Error: 1}}
	named(t, "a bad rate", check(r), "rear.coil.rate", "rear.readings[1].error", "rear.readings[2].stroke")
	// A load of 0 is no prediction, and the least above it is one.
	for load, want := range map[units.Force]visit.Verdict{0: visit.NotCompared, 5e-324: visit.Unexplained} {
		a := report(t, coilEnd(), load, many[:1]...)
		if a.Verdict != want || a.Predicted != load {
			t.Errorf("predicted %v: %s of %v", load, a.Verdict, a.Predicted)
		}
	}
}

// A spring that binds early ends the stroke early: predicted to bottom out there.
func TestSpringThatBindsEndsTheStroke(t *testing.T) {
	s := coilEnd()
	s.Coil.SolidTravel = 32 * milli
	if found := report(t, s, 2000, readings(1, 18)...).Correction.Coil.Findings; !fit.Has(found, sag.GoesSolid) {
		t.Errorf("findings %v", found)
	}
}

func FuzzReport(f *testing.F) {
	f.Add(2.5, 0.15, 0.28, 40.0, 80e3, 2e-3, 0.0, 600.0, 18e-3, 1e-3, 19e-3, 2e-3, false)
	f.Add(1.0, 0.16, 0.2, 15.0, 500e3, 240e-6, 60e-6, 300.0, 40e-3, 2e-3, 44e-3, 1e-3, true)
	f.Fuzz(func(t *testing.T, ratio, travel, wanted, friction, a, b, d, predicted, s1, e1, s2, e2 float64, air bool) {
		s := visit.Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: units.Length(travel)}}, Sag: wanted, Friction: units.Force(friction)}
		if air {
			s.Air = airEnd().Air
			s.Air.Fill, s.Air.PositiveVolume, s.Air.NegativeVolume = units.GaugePressure(a), units.Volume(b), units.Volume(d)
		} else {
			s.Coil = &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: units.Stiffness(a), SolidTravel: units.Length(d)}, Preload: units.Length(b)}
		}
		m, err := series{Setting: s, Load: units.Force(predicted), Readings: []visit.Reading{{Stroke: units.Length(s1), Error: units.Length(e1)}, {Stroke: units.Length(s2), Error: units.Length(e2)}}}.Report()
		if !answered(t, "report", m, err) {
			if m != nil {
				t.Fatalf("%+v beside an error", m)
			}
			return
		}
		for _, e := range m.Explanations {
			if e.Text == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}
