package visit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

func in(masses sag.Masses, where *airspring.Conditions) visit.Situation {
	return visit.Situation{Masses: masses, Conditions: where}
}

func TestEffectOnACoil(t *testing.T) {
	s := coilEnd()
	a := effect(t, change{From: visit.Situation{Masses: rider(80)}, To: visit.Situation{Masses: rider(90)}, Rear: &s})
	// 60 % of 100 kg less 3 kg, then of 110 kg; k·(s + p) = load·LR.
	near(t, "load now", float64(a.Rear.Now.Load), 57*g0, 1e-13)
	near(t, "load then", float64(a.Rear.Leave.Load), 63*g0, 1e-13)
	near(t, "now", float64(a.Rear.Now.Rest.Stroke), 57*g0*2.5/80e3-2e-3, 1e-11)
	near(t, "leave", float64(a.Rear.Leave.Rest.Stroke), 63*g0*2.5/80e3-2e-3, 1e-11)
	near(t, "leave miss", a.Rear.Leave.Miss, (63*g0*2.5/80e3-2e-3)/0.06-0.28, 1e-9)
	near(t, "preload", float64(a.Rear.Set.Coil.PreloadWanted), 63*g0*2.5/80e3-16.8e-3, 1e-11)
	near(t, "rate", float64(a.Rear.Set.Coil.NewRate), 63*g0*2.5/18.8e-3, 1e-12)
	if a.Front != nil || a.Rear.Leave.Fill != 0 || a.Rear.Leave.Ambient != 0 {
		t.Errorf("%+v", a)
	}
	if diff := cmp.Diff([]sag.Finding{sag.TooHard}, a.Rear.Now.Findings); diff != "" { // 25.8 %
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	near(t, "friction", float64(a.Rear.Now.Rest.StrokeHigh), (57*g0*2.5+40)/80e3-2e-3, 1e-11)
}

func TestEffectOnAir(t *testing.T) {
	s := tube()
	a := effect(t, change{From: in(rider(80), at(20, 0)), To: in(rider(90), at(-5, 2000)), Front: &s})
	// The standard atmosphere at 2000 m: 275.15 K; the exponent is g₀M/(R*·L).
	high := 101325 * math.Pow(275.15/288.15, 9.80665*0.0289644/(8.31432*0.0065))
	const area = math.Pi / 4 * 0.035 * 0.035
	gauge := (300e3+101325)*268.15/293.15 - high
	stroke := func(load, fill, ambient float64) float64 {
		return 240e-6 / area * (1 - (fill+ambient)/(load/area+ambient))
	}
	e := a.Front
	near(t, "load before", float64(e.Now.Load), 38*g0, 1e-13)
	near(t, "load after", float64(e.Leave.Load), 42*g0, 1e-13)
	near(t, "now", float64(e.Now.Rest.Stroke), stroke(38*g0, 300e3, 101325), 1e-10)
	near(t, "gauge", float64(e.Leave.Fill), gauge, 1e-10)
	near(t, "ambient", float64(e.Leave.Ambient), high, 1e-10)
	near(t, "leave", float64(e.Leave.Rest.Stroke), stroke(42*g0, gauge, high), 1e-9)
	fill := (42*g0/area+high)*(240e-6-area*0.032)/240e-6 - high
	near(t, "fill", float64(e.Set.Air.Fill), fill, 1e-9)
	near(t, "fill change", float64(e.Set.Air.FillChange), fill-gauge, 1e-8)
	near(t, "sag then", e.Set.Air.Rest.Sag, 0.2, 1e-9)

	if a.Rear != nil || fit.Has(e.Now.Findings, visit.OverMarking) {
		t.Errorf("%+v", a)
	}
	// Either end's air is that around it in the first situation, where it states none.
	a = effect(t, change{From: in(rider(80), at(20, 0)), To: in(rider(80), at(20, 2000)), Front: &s, Rear: &s})
	for _, e := range []*endChanged{a.Front, a.Rear} {
		near(t, "ambient now", float64(e.Now.Ambient), 101325, 1e-9)
		near(t, "ambient there", float64(e.Leave.Ambient), high, 1e-9)
		near(t, "fill there", float64(e.Leave.Fill), 300e3+101325-high, 1e-9)
	}
	// A measured ambient keeps its weather: 98 kPa where the standard has 101.325.
	s.Air.Ambient = 98e3
	a = effect(t, change{From: in(rider(80), at(20, 0)), To: in(rider(80), at(20, 2000)), Front: &s})
	near(t, "ambient with weather", float64(a.Front.Leave.Ambient), 98e3*high/101325, 1e-10)
	near(t, "gauge with weather", float64(a.Front.Leave.Fill), 300e3+98e3-98e3*high/101325, 1e-10)
	// Without conditions the air around stays what it was.
	a = effect(t, change{From: visit.Situation{Masses: rider(80)}, To: visit.Situation{Masses: rider(90)}, Front: &s})
	if a.Front.Leave.Fill != 300e3 || a.Front.Leave.Ambient != 98e3 {
		t.Errorf("leave %+v", a.Front.Leave)
	}
	near(t, "heavier", float64(a.Front.Leave.Rest.Stroke), stroke(42*g0, 300e3, 98e3), 1e-10)
}

func TestHeatRaisesAFillAboveTheMarking(t *testing.T) {
	s := tube()
	s.Air.MaxFill, s.Air.Fill = 310e3, 310e3 // up to the marking is not above it
	a := effect(t, change{From: in(rider(80), at(20, 0)), To: in(rider(120), at(45, 0)), Front: &s, Rear: ptr(coilEnd())})
	// By hand: 411.325·318.15/293.15 − 101.325 = 345.08 kPa.
	near(t, "gauge", float64(a.Front.Leave.Fill), 411325*318.15/293.15-101325, 1e-10)
	if !fit.Has(a.Front.Leave.Findings, visit.OverMarking) || fit.Has(a.Front.Now.Findings, visit.OverMarking) || a.Front.Set.Air.Fill != 310e3 || !fit.Has(a.Front.Set.Air.Findings, sag.FillAtMax) {
		t.Errorf("%+v", a.Front)
	}
}

// There and back is where one was; and set as told, the bike is on target.
func TestThereAndBackIsWhereOneWas(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 100 {
		front, rear := airEnd(), tableEnd()
		front.Air.Ambient = 0
		rear.Coil.ThreadPitch = 0
		rear.Coil.PreloadMax = 0.05
		a := in(rider(units.Mass(60+50*random.Float64())), at(-10+40*random.Float64(), units.Length(3000*random.Float64())))
		b := in(rider(units.Mass(60+50*random.Float64())), at(-10+40*random.Float64(), units.Length(3000*random.Float64())))
		out := effect(t, change{From: a, To: b, Front: &front, Rear: &rear})
		moved := front
		moved.Air = ptr(*front.Air)
		moved.Air.Fill, moved.Air.Ambient = out.Front.Leave.Fill, out.Front.Leave.Ambient
		home := effect(t, change{From: b, To: a, Front: &moved, Rear: &rear})
		near(t, "away", home.Front.Now.Rest.Sag, out.Front.Leave.Rest.Sag, 1e-9)
		near(t, "home", home.Front.Leave.Rest.Sag, out.Front.Now.Rest.Sag, 1e-8)
		near(t, "home fill", float64(home.Front.Leave.Fill), float64(front.Air.Fill), 1e-10)
		near(t, "rear home", home.Rear.Leave.Rest.Sag, out.Rear.Now.Rest.Sag, 1e-12)
		near(t, "front on target", out.Front.Set.Air.Rest.Sag, front.Sag, 1e-8)
		if out.Rear.Set.Coil.PreloadWanted > 0 {
			near(t, "rear on target", out.Rear.Set.Coil.Rest.Sag, rear.Sag, 1e-8)
		}
	}
}

func TestChangesAreRefusedByField(t *testing.T) {
	good := in(rider(80), at(20, 0))
	front := airEnd()
	bare := airEnd()
	bare.Air.Ambient = 0
	little := tube()
	little.Air.Fill = 5e3
	for _, test := range []struct {
		name string
		c    change
		want []string
	}{
		{"no situation", change{Front: &front}, []string{"situation.masses.rider_mass", "situation.masses.bike_mass", "situation.masses.rear_share", "situation.masses.unsprung_front",
			"to.masses.rider_mass", "to.masses.bike_mass", "to.masses.rear_share", "to.masses.unsprung_front"}},
		{"degrees as kelvin, and a mountain of the moon", change{From: in(rider(80), &airspring.Conditions{Temperature: 20, Altitude: 12000}), To: good, Front: &front},
			[]string{"situation.conditions.temperature", "situation.conditions.altitude"}},
		{"just too cold, and just too hot", change{From: in(rider(80), &airspring.Conditions{Temperature: 199.9}), To: in(rider(80), &airspring.Conditions{Temperature: 400.1}), Front: &front},
			[]string{"situation.conditions.temperature", "to.conditions.temperature"}},
		{"no number", change{From: good, To: in(rider(80), &airspring.Conditions{Temperature: units.Temperature(math.NaN())}), Front: &front}, []string{"to.conditions.temperature"}},
		{"no ambient", change{From: visit.Situation{Masses: rider(80)}, To: visit.Situation{Masses: rider(80)}, Front: &bare}, []string{"air.ambient"}},
		{"a bad end", change{From: good, To: good, Front: &visit.Setting{}}, []string{"curve", "sag", "coil"}},
		{"another", change{From: good, To: good, Rear: &visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Coil: &visit.CoilSetting{}}}, []string{"coil.rate"}},
		{"a fill that the cold takes", change{From: good, To: in(rider(80), at(-30, 0)), Front: &little}, []string{"air.fill"}},
		{"behind", change{From: good, To: in(rider(80), at(-30, 0)), Front: &front, Rear: &little}, []string{"air.fill"}},
	} {
		a, err := test.c.effect()
		if named(t, test.name, err, test.want...); a != nil {
			t.Errorf("%s: %+v beside an error", test.name, a)
		}
	}
	if bare.Air.Ambient != 0 {
		t.Error("the caller's setting was changed")
	}
}

func TestEndHeldAtTheTopIsAFinding(t *testing.T) {
	s := coilEnd()
	s.Coil.Preload = 20 * milli // by hand: 1600 N, and 559 N on a lever of 2.5 make 1397
	a := effect(t, change{From: visit.Situation{Masses: rider(80)}, To: visit.Situation{Masses: rider(100)}, Rear: &s})
	if diff := cmp.Diff([]sag.Finding{sag.HeldAtTop, sag.TooHard}, a.Rear.Now.Findings); diff != "" || a.Rear.Now.Rest.Stroke != 0 {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]sag.Finding{sag.TooHard}, a.Rear.Leave.Findings); diff != "" { // 69 kg · g · 2.5 = 1692 N
		t.Errorf("findings (-want +got):\n%s", diff)
	}
}

func TestCorrectionMeetsTheTarget(t *testing.T) {
	s := tube()
	s.Air.Ambient, s.Air.Exponent = 100e3, 1.3
	o, err := corrected(s, 400)
	require.NoError(t, err)
	// The full travel is that of a fast stroke from the fill at full extension.
	const area = math.Pi / 4 * 0.035 * 0.035
	fill := (400/area + 100e3) * (240e-6 - area*0.032) / 240e-6
	near(t, "full ratio", o.Air.FullRatio, area*(fill*math.Pow(240e-6/(240e-6-area*0.16), 1.3)-100e3)/400, 1e-11)
	c, err := corrected(coilEnd(), 640)
	require.NoError(t, err)
	near(t, "rate", float64(c.Coil.NewRate), 1600/18.8e-3, 1e-12)
	named(t, "a bad setting", second(corrected(visit.Setting{Curve: coilEnd().Curve, Friction: -1}, 600)), "sag", "friction", "coil")
	named(t, "a bad target", second(arrive(t, handRecord(), sag.Rear).Correction(sag.Target{Sag: 1})), "load", "sag")
}

func FuzzEffect(f *testing.F) {
	f.Add(80.0, 90.0, 293.15, 268.15, 0.0, 2000.0, 300e3, 240e-6, 60e-6, 0.2, 101325.0)
	f.Fuzz(func(t *testing.T, m1, m2, t1, t2, h1, h2, fill, v, nv, wanted, ambient float64) {
		s := airEnd()
		s.Sag = wanted
		s.Air.Fill, s.Air.PositiveVolume, s.Air.NegativeVolume, s.Air.Ambient = units.GaugePressure(fill), units.Volume(v), units.Volume(nv), units.AbsolutePressure(ambient)
		a, err := change{
			From:  in(rider(units.Mass(m1)), &airspring.Conditions{Temperature: units.Temperature(t1), Altitude: units.Length(h1)}),
			To:    in(rider(units.Mass(m2)), &airspring.Conditions{Temperature: units.Temperature(t2), Altitude: units.Length(h2)}),
			Front: &s,
		}.effect()
		if !answered(t, "effect", a, err) {
			return
		}
		if a.Front.Set.Air.Fill > s.Air.MaxFill {
			t.Fatalf("a fill of %v, over the marking", a.Front.Set.Air.Fill)
		}
	})
}

// FuzzCorrection: what to set is within its marks and in numbers.
func FuzzCorrection(f *testing.F) {
	f.Add(2.5, 0.150, 0.30, 20.0, 80e3, 0.002, 0.07, 0.001, 0.008, 0.0015, 600.0, 12e5, 24e5)
	f.Add(1.0, 0.170, 0.999, 1e300, 1e-300, 0.0, 0.0, 0.0, 0.0, 1e-300, 1e-300, 1e-3, 1e8)
	f.Fuzz(func(t *testing.T, ratio, travel, sag, friction, rate, preload, solid, least, most, pitch, load, fill, mark float64) {
		s := visit.Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: units.Length(travel)}}, Sag: sag, Friction: units.Force(friction),
			Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: units.Stiffness(rate), SolidTravel: units.Length(solid)}, Preload: units.Length(preload), Collar: fit.Collar{PreloadMin: units.Length(least), PreloadMax: units.Length(most), ThreadPitch: units.Length(pitch)}}}
		got, err := corrected(s, units.Force(load))
		if answered(t, "coil", got, err) && (got.Coil == nil || got.Air != nil) {
			t.Fatalf("%+v", got)
		}
		s.Coil, s.Air = nil, &visit.AirSetting{NegativeChamber: fit.None, Spec: airspring.Spec{Bore: 0.036, PositiveVolume: 100e-6, Ambient: airspring.SeaLevel, Fill: units.GaugePressure(fill)}, MaxFill: units.GaugePressure(mark)}
		got, err = corrected(s, units.Force(load))
		if answered(t, "air", got, err) && (got.Air == nil || got.Coil != nil || !(got.Air.Fill <= s.Air.MaxFill)) {
			t.Fatalf("%+v with a marking of %v", got.Air, s.Air.MaxFill)
		}
	})
}
