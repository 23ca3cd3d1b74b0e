package advice_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

const milli = 1e-3 // of a metre

func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Rel(rel))
}

// named checks that an error names just these fields, in order.
func named(t testing.TB, what string, err error, want ...string) {
	t.Helper()
	var got []string
	for _, f := range units.Fields(err) {
		got = append(got, f.Field)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s: the error names %q, want %q: %v", what, got, want, err)
	}
}

// demoText is the invented job of the program that makes sheets.
func demoText(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../setup/demo/job.json")
	require.NoError(t, err)
	return string(text)
}

// demoJob is that job without its uncertainties.
func demoJob(t testing.TB) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(demoText(t)))
	require.NoError(t, err)
	j.Uncertainty = nil
	return j
}

func sheet(t testing.TB, j setup.Job) *setup.Sheet {
	t.Helper()
	s, err := setup.NewSheet(j)
	require.NoError(t, err)
	return s
}

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

// tableEnd has a lever ratio that falls from 2.95 to 2.40: w = 2.95·s − 0.00425·s², both in mm.
func tableEnd() visit.Setting {
	table := linkage.Table{Method: linkage.Smooth}
	for s := 0.0; s <= 65; s += 5 {
		table.Stroke = append(table.Stroke, units.Length(s)*units.Millimetre)
		table.Travel = append(table.Travel, units.Length(2.95*s-0.00425*s*s)*units.Millimetre)
	}
	s := coilEnd()
	s.Curve = linkage.Spec{Table: &table}
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
	return arrive(t, r, sag.Rear, r.Situation).End()
}

func arrive(t testing.TB, r visit.Record, axle sag.Axle, to visit.Situation) *visit.Arrival {
	t.Helper()
	a, err := r.Arrive(axle, to, 0)
	require.NoError(t, err)
	return a
}

// readings are of strokes in mm, all with one error in mm.
func readings(off units.Length, strokes ...units.Length) []visit.Reading {
	var list []visit.Reading
	for _, s := range strokes {
		list = append(list, visit.Reading{Stroke: s * milli, Error: off * milli})
	}
	return list
}

func outcome(t testing.TB, r visit.Record, axle sag.Axle) visit.Outcome {
	t.Helper()
	return arrive(t, r, axle, r.Situation).Left
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

// visited is a record of the demonstration's job.
func visited(t testing.TB) visit.Record {
	t.Helper()
	j := demoJob(t)
	r, err := visit.NewRecord("2026-11-25", j, sheet(t, j))
	require.NoError(t, err)
	return r
}

func second[A any](_ A, err error) error { return err }
