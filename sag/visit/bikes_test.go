package visit_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

const (
	milli = 1e-3 // of a metre
	g0    = 9.80665
)

// coilEnd is an invented rear end: constant ratio 2.5, 60 mm of stroke, 80 N/mm
// from 2 mm of preload, 40 N of friction, 28 % wanted.
func coilEnd() visit.Setting {
	return visit.Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15}}, Sag: 0.28, Friction: 40,
		Coil: &visit.CoilSetting{Rate: 80e3, Preload: 2 * milli, Collar: fit.Collar{ThreadPitch: 1.5 * milli}},
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
	table := linkage.Table{Method: linkage.Smooth}
	for x := 0.0; x < 66; x += 5 {
		table.Stroke = append(table.Stroke, units.Length(x*milli))
		table.Travel = append(table.Travel, units.Length((2.95*x-0.00425*x*x)*milli))
	}
	s.Curve = linkage.Spec{Table: &table}
	return s
}

// tube is a fork end without a lever, of one chamber: everything closed form.
func tube() visit.Setting {
	return visit.Setting{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
		Air: &visit.AirSetting{MaxFill: 1e6, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Fill: 300e3}}}
}

// stands returns an end as it is set, by way of a record of it.
func stands(t testing.TB, s visit.Setting) sag.End {
	t.Helper()
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: s}
	e, err := r.End(sag.Rear)
	require.NoError(t, err)
	return e
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
	a, err := visit.Series{Setting: s, Load: load, Readings: list}.Report()
	require.NoError(t, err)
	return a
}

func effect(t testing.TB, ch visit.Change) *visit.Effect {
	t.Helper()
	a, err := ch.Effect()
	require.NoError(t, err)
	return a
}

func outcome(t testing.TB, r visit.Record, axle sag.Axle) visit.Outcome {
	t.Helper()
	o, err := r.Outcome(axle)
	require.NoError(t, err)
	return o
}

// check is the error of a record's check.
func check(r visit.Record) error {
	c := units.Checker{Package: "sag"}
	r.Check(&c)
	return c.Err()
}

func rider(m units.Mass) sag.Masses {
	return sag.Masses{RiderMass: m, BikeMass: 20, UnsprungFront: 2, UnsprungRear: 3, RearShare: 0.6}
}

func at(celsius float64, altitude units.Length) *airspring.Conditions {
	return &airspring.Conditions{Temperature: units.Celsius(celsius), Altitude: altitude}
}

func constant(t testing.TB, ratio float64, travel units.Length) *linkage.Curve {
	t.Helper()
	c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: travel})
	require.NoError(t, err)
	return c
}

func linear(t testing.TB, k units.Stiffness, travel, preload units.Length) spring.LinearSpring {
	t.Helper()
	law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: travel, Preload: preload})
	require.NoError(t, err)
	return law
}

// handRecord is an invented bike that can be worked out by hand: 100 kg with
// 60 % on the rear wheel, 3 kg of it unsprung; ratio 2.5, 80 N/mm, 2 mm of
// preload behind; a fork of ratio 1 with 8 N/mm, 2 kg unsprung, in front.
func handRecord() visit.Record {
	return visit.Record{
		Schema: visit.RecordSchema, Date: "2026-11-25", Notes: []string{"second", "first", "", "second"},
		Situation: visit.Situation{Masses: sag.Masses{RiderMass: 84, BikeMass: 16, UnsprungFront: 2, UnsprungRear: 3, RearShare: 0.6}},
		Front: &visit.EndRecord{Setting: visit.Setting{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
			Coil: &visit.CoilSetting{Rate: 8e3},
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
		Front: setup.EndJob{Spec: fit.Spec{Curve: r.Front.Curve, Sag: 0.2, Coil: &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 8e3}}}}},
		Rear: setup.EndJob{Spec: fit.Spec{Curve: r.Rear.Curve, Sag: 0.28, Friction: 40, Coil: &fit.Shelf{
			Springs: []fit.ShelfSpring{{Rate: 80e3, SolidTravel: 0.05}, {Rate: 80e3, SolidTravel: 0.07}, {Rate: 80e3}},
			Collar:  fit.Collar{PreloadMax: 0.01, ThreadPitch: 1.5 * milli},
		}}},
	}
}

// demoText is an invented job: an air fork in front, a shelf of coils behind.
const demoText = `{
  "schema": "wheelrate/job/1",
  "masses": {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "unsprung_front": "2.4 kg", "unsprung_rear": "3.2 kg", "rear_share": 0.58},
  "ambient": "97.7 kPa(a)",
  "front": {
    "curve": {"fork": {"head_angle": "63.5 deg", "travel": "170 mm"}}, "sag": 0.2, "friction": "20 N",
    "air": {"bore": "35 mm", "shaft": "10 mm", "positive_volume": "252 cm³", "negative_volume": "68 cm³", "port_travel": "9 mm",
      "oil_volume": "6 cm³", "spacer_volume": "9 cm³", "spacers": 1, "fill": "5.2 bar", "exponent": 1.35,
      "max_fill": "10 bar", "max_spacers": 5, "full_travel_ratio": 6}},
  "rear": {
    "curve": {"table": {"stroke": ["0 mm", "13 mm", "26 mm", "39 mm", "52 mm", "65 mm"],
      "travel": ["0 mm", "37.63 mm", "73.83 mm", "108.59 mm", "141.91 mm", "173.79 mm"], "method": "smooth"}}, "sag": 0.29, "friction": "35 N",
    "coil": {"shelf": [{"rate": "350 lbf/in", "solid_travel": "76 mm"}, {"rate": "400 lbf/in", "solid_travel": "75 mm"},
        {"rate": "450 lbf/in", "solid_travel": "74 mm"}, {"rate": "500 lbf/in", "solid_travel": "73 mm"}],
      "preload_min": "0.5 mm", "preload_max": "5 mm", "thread_pitch": "1.5 mm"}}
}`

func demoJob(t testing.TB) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(demoText))
	require.NoError(t, err)
	return j
}

func sheet(t testing.TB, j setup.Job) *setup.Sheet {
	t.Helper()
	s, err := setup.NewSheet(j)
	require.NoError(t, err)
	return s
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

func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, rel)
	}
}

// names are the fields that an error names.
func names(err error) (list []string) {
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

// named holds the fields that an error names against those wanted.
func named(t testing.TB, what string, err error, want ...string) {
	t.Helper()
	if diff := cmp.Diff(want, names(err)); diff != "" {
		t.Errorf("%s: %v (-want +got):\n%s", what, err, diff)
	}
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

// unsound returns what is NaN or infinite within v.
func unsound(v reflect.Value) error {
	switch {
	case !v.IsValid():
	case v.CanFloat():
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf(" is %v", f)
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			if err := unsound(v.Field(i)); err != nil {
				return fmt.Errorf(".%s%w", v.Type().Field(i).Name, err)
			}
		}
	case v.Kind() == reflect.Slice, v.Kind() == reflect.Array:
		for i := range v.Len() {
			if err := unsound(v.Index(i)); err != nil {
				return fmt.Errorf("[%d]%w", i, err)
			}
		}
	case v.Kind() == reflect.Pointer, v.Kind() == reflect.Interface:
		return unsound(v.Elem())
	}
	return nil
}

// answered holds that a call gave an answer of finite numbers or an error that names
// a field, and reports whether it was an answer.
func answered(t *testing.T, what string, answer any, err error) bool {
	t.Helper()
	if err != nil {
		if len(units.Fields(err)) == 0 {
			t.Fatalf("%s: an error that names no field: %v", what, err)
		}
		return false
	}
	if err := unsound(reflect.ValueOf(answer)); err != nil {
		t.Fatalf("%s%v", what, err)
	}
	return true
}
