package visit_test

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

const (
	milli    = 1e-3 // of a metre
	g0       = 9.80665
	demoText = sagtest.JobText
)

var (
	constant, linear             = sagtest.Constant, sagtest.Linear
	sheet                        = sagtest.Sheet
	near, names, named, answered = sagtest.Near, sagtest.Names, sagtest.Named, sagtest.Answered
)

func demoJob(t testing.TB) setup.Job { return sagtest.Job(t, demoText) }

// coilEnd is an invented rear end: constant ratio 2.5, 60 mm of stroke, 80 N/mm
// from 2 mm of preload, 40 N of friction, 28 % wanted.
func coilEnd() visit.Setting {
	return visit.Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15}}, Sag: 0.28, Friction: 40,
		Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80e3}, Preload: 2 * milli, Collar: fit.Collar{ThreadPitch: 1.5 * milli}},
	}
}

// airEnd is an invented fork with one chamber and a shaft for its negative one.
func airEnd() visit.Setting {
	return visit.Setting{
		Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.16}}, Sag: 0.2, Friction: 15,
		Air: &visit.AirSetting{MaxFill: 3e6, Spec: airspring.Spec{Bore: 0.035, Shaft: 0.01, PositiveVolume: 240e-6, NegativeVolume: 60e-6,
			PortTravel: 0.008, Fill: 500e3, Ambient: airspring.SeaLevel}},
	}
}

// tableEnd has a lever ratio that falls from 2.95 to 2.40.
func tableEnd() visit.Setting {
	s := coilEnd()
	s.Curve = sagtest.Progressive()
	return s
}

// tube is a fork end without a lever, of one chamber: everything closed form.
func tube() visit.Setting {
	return visit.Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
		Air: &visit.AirSetting{NegativeChamber: fit.None, MaxFill: 1e6, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Fill: 300e3}}}
}

// stands returns an end as it is set, by way of a record of it.
func stands(t testing.TB, s visit.Setting) sag.End {
	t.Helper()
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: s}
	return arrive(t, r, sag.Rear).End()
}

// arrive returns an end as it was left.
func arrive(t testing.TB, r visit.Record, axle sag.Axle) *visit.Arrival {
	t.Helper()
	a, err := r.Arrive(axle, r.Situation, 0)
	require.NoError(t, err)
	return a
}

// corrected returns what to set on a setting under a load.
func corrected(s visit.Setting, load units.Force) (visit.Correction, error) {
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: s}
	a, err := r.Arrive(sag.Rear, r.Situation, 0)
	if err != nil {
		return visit.Correction{}, err
	}
	return a.Correction(sag.Target{Load: load, Sag: s.Sag})
}

// readings are of strokes in mm, all with one error in mm.
func readings(off units.Length, strokes ...units.Length) []visit.Reading {
	var list []visit.Reading
	for _, s := range strokes {
		list = append(list, visit.Reading{Stroke: s * milli, Error: off * milli})
	}
	return list
}

func report(t testing.TB, s visit.Setting, load units.Force, list ...visit.Reading) *visit.Report {
	t.Helper()
	a, err := series{Setting: s, Load: load, Readings: list}.Report()
	require.NoError(t, err)
	return a
}

// series is a setting with readings on it, and bracket a search from a setting.
type series struct {
	Setting  visit.Setting
	Load     units.Force
	Readings []visit.Reading
}

func (m series) Report() (*visit.Report, error) {
	e, err := m.Setting.Assemble(nil)
	if err != nil {
		return nil, err
	}
	return e.Report(m.Load, m.Readings)
}

type bracket struct {
	Setting   visit.Setting
	Load      units.Force
	RingError units.Length
	SagError  float64
	Tried     []visit.Tried
}

func (b bracket) Plan() (*visit.Plan, error) {
	e, err := b.Setting.Assemble(nil)
	if err != nil {
		return nil, err
	}
	return e.Plan(visit.Bracket{Load: b.Load, RingError: b.RingError, SagError: b.SagError, Tried: b.Tried})
}

// after is a plan with one more setting tried.
func after(p *visit.Plan, tried visit.Tried) (*visit.Plan, error) {
	return bracket{p.Setting, p.Load, p.RingError, p.SagError, append(slices.Clone(p.Tried), tried)}.Plan()
}

// ride is what a ride used of an end as it was left.
func ride(r visit.Record, axle sag.Axle, of visit.Ride) (*visit.RideReport, error) {
	a, err := r.Arrive(axle, r.Situation, 0)
	if err != nil {
		return nil, err
	}
	return a.Ride(a.Now.Load, of)
}

// change is a bike that was set in one situation and is ridden in another.
type change struct {
	From, To    visit.Situation
	Front, Rear *visit.Setting
}

// changed is both ends of that bike.
type changed struct{ Front, Rear *endChanged }

type endChanged struct {
	Now   visit.Outcome    // as set, in the first situation
	Leave visit.Outcome    // as set, in the second
	Set   visit.Correction // for the target in the second
}

func (ch change) effect() (*changed, error) {
	all, r := &changed{}, visit.Record{Situation: ch.From}
	for _, one := range []struct {
		axle sag.Axle
		s    *visit.Setting
		in   **visit.EndRecord
		out  **endChanged
	}{{sag.Front, ch.Front, &r.Front, &all.Front}, {sag.Rear, ch.Rear, &r.Rear, &all.Rear}} {
		if one.s == nil {
			continue
		}
		*one.in = &visit.EndRecord{Setting: *one.s}
		a, err := r.Arrive(one.axle, ch.To, 0)
		if err != nil {
			return nil, err
		}
		set, err := a.Correction(sag.Target{Load: a.Now.Load, Sag: one.s.Sag})
		if err != nil {
			return nil, err
		}
		*one.out = &endChanged{a.Left, a.Now, set}
	}
	return all, nil
}

// to is a record's bike in another situation.
func to(r visit.Record, there visit.Situation) change {
	ch := change{From: r.Situation, To: there}
	if r.Front != nil {
		ch.Front = &r.Front.Setting
	}
	if r.Rear != nil {
		ch.Rear = &r.Rear.Setting
	}
	return ch
}

func effect(t testing.TB, ch change) *changed {
	t.Helper()
	a, err := ch.effect()
	require.NoError(t, err)
	return a
}

func outcome(t testing.TB, r visit.Record, axle sag.Axle) visit.Outcome {
	t.Helper()
	return arrive(t, r, axle).Left
}

// check is the error of a record's check.
func check(r visit.Record) error {
	c := units.Checker{Package: "sag"}
	r.Check(&c)
	return c.Err()
}

func rider(m units.Mass) sag.Masses {
	return sag.Masses{RiderMass: m, BikeMass: 20, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6}
}

func at(celsius float64, altitude units.Length) *airspring.Conditions {
	return &airspring.Conditions{Temperature: units.Celsius(celsius), Altitude: altitude}
}

// handRecord is an invented bike that can be worked out by hand: 100 kg with
// 60 % on the rear wheel, 3 kg of it unsprung; ratio 2.5, 80 N/mm, 2 mm of
// preload behind; a fork of ratio 1 with 8 N/mm, 2 kg unsprung, in front.
func handRecord() visit.Record {
	return visit.Record{
		Schema: visit.RecordSchema, Date: "2026-11-25", Notes: []string{"second", "first", "", "second"},
		Situation: visit.Situation{Masses: sag.Masses{RiderMass: 84, BikeMass: 16, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6}},
		Front: &visit.EndRecord{Setting: visit.Setting{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
			Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 8e3}},
		}},
		Rear:  &visit.EndRecord{Setting: coilEnd()},
		Extra: json.RawMessage(`{}`),
	}
}

// recordJob asks for the bike of handRecord.
func recordJob() setup.Job {
	r := handRecord()
	return setup.Job{
		Schema: setup.JobSchema, Masses: r.Situation.Masses,
		Front: &setup.EndJob{Spec: fit.Spec{Curve: r.Front.Curve, Sag: 0.2, Coil: &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 8e3}}}}},
		Rear: &setup.EndJob{Spec: fit.Spec{Curve: r.Rear.Curve, Sag: 0.28, Friction: 40, Coil: &fit.Shelf{
			Springs: []fit.ShelfSpring{{Rate: 80e3, SolidTravel: 0.05}, {Rate: 80e3, SolidTravel: 0.07}, {Rate: 80e3}},
			Collar:  fit.Collar{PreloadMax: 0.01, ThreadPitch: 1.5 * milli},
		}}},
	}
}

// visited is a record of the demonstration's job with a ring read at each end.
func visited(t testing.TB) visit.Record {
	t.Helper()
	j := demoJob(t)
	s := sheet(t, j)
	r, err := visit.NewRecord("2026-11-25", j, s)
	require.NoError(t, err)
	r.Note = "first visit"
	r.Front.Readings = []visit.Reading{{Stroke: s.Front.Rest.Stroke, Error: 1 * units.Millimetre, Date: "2026-11-25"}}
	r.Rear.Readings = []visit.Reading{
		{Stroke: s.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre, Note: "standing"},
		{Stroke: s.Rear.Rest.Stroke + 0.1*units.Millimetre, Error: 0.5 * units.Millimetre, Note: "again"},
	}
	r.Extra = json.RawMessage(`{"shop":{"ticket":41,"tags":["b","a"]}}`)
	return r
}

func written(t testing.TB, r visit.Record) []byte {
	t.Helper()
	var out bytes.Buffer
	n, err := r.WriteTo(&out)
	require.NoError(t, err)
	if int(n) != out.Len() {
		t.Fatalf("said to have written %d bytes of %d", n, out.Len())
	}
	return out.Bytes()
}

// read reads a record that today's checks pass.
func read(t testing.TB, text []byte) visit.Record {
	t.Helper()
	r, marked, err := visit.ReadRecord(bytes.NewReader(text))
	require.NoError(t, err)
	require.Empty(t, marked)
	return r
}

// number is a quantity of package units as a number.
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

func second[A any](_ A, err error) error { return err }

func ptr[T any](v T) *T { return &v }
