package sag_test

import (
	"errors"
	"fmt"
	"log"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// forkAir is an invented spring with a negative chamber, of a fork of 170 mm.
func forkAir(fill units.GaugePressure) airspring.Spec {
	return airspring.Spec{
		Bore: 34 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 170 * units.Millimetre, Ambient: airspring.SeaLevel, Exponent: 1,
		PositiveVolume: 230 * units.CubicCentimetre, NegativeVolume: 70 * units.CubicCentimetre, PortTravel: 8 * units.Millimetre, Fill: fill,
	}
}

// readAt returns readings of an end with that spring at the wheel, from where the end rests.
func readAt(t *testing.T, curve *linkage.Curve, rows ...[2]float64) sag.LoadReadings {
	t.Helper()
	r := sag.LoadReadings{Ambient: airspring.SeaLevel, NegativeChamber: new(true), OutsideDiameter: 10 * units.Millimetre, RingError: units.Millimetre}
	for _, row := range rows {
		fill, load := units.BarGauge(row[0]), units.Force(row[1])
		end, err := sag.AirEnd(curve, forkAir(fill))
		if err != nil {
			t.Fatal(err)
		}
		rest, err := end.Settle(load)
		if err != nil {
			t.Fatal(err)
		}
		r.Readings = append(r.Readings, sag.LoadReading{Fill: fill, Stroke: rest.Stroke, Load: load})
	}
	return r
}

// Four readings of where a bike rests give the fill that its chambers would, for any load and sag, behind
// a straight fork and behind a curve.
func TestCalibratedFillIsTheChambers(t *testing.T) {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 150 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	for what, c := range map[string]struct {
		curve *linkage.Curve
		scale float64 // of the loads
	}{"fork": {fork, 1}, "curve": {progressive(t), 0.2}} {
		rows := [][2]float64{{4, 380}, {5, 400}, {6, 420}, {7.5, 400}}
		for i := range rows {
			rows[i][1] *= c.scale
		}
		r := readAt(t, c.curve, rows...)
		spring, err := sag.Calibrate(c.curve, r)
		if err != nil {
			t.Fatal(err)
		}
		for _, target := range []sag.Target{{Load: 400, Sag: 0.3}, {Load: 500, Sag: 0.4}, {Load: 300, Sag: 0.25}} {
			target.Load *= units.Force(c.scale)
			want, err := sag.RequiredFill(c.curve, target, forkAir(0))
			if err != nil {
				t.Fatal(err)
			}
			got, err := sag.CalibratedFill(c.curve, target, spring)
			if err != nil || math.Abs(float64(got.Fill/want-1)) > 1e-8 {
				t.Errorf("%s: %+v: %v, want %v; %v", what, target, got.Fill, want, err)
			}
		}
	}
}

func TestCalibrateNamesEveryBadField(t *testing.T) {
	fork := constant(t, 1, 0.15)
	nan := units.Force(math.NaN())
	good := readAt(t, fork, [2]float64{4, 380}, [2]float64{5, 400}, [2]float64{6, 420}, [2]float64{7.5, 400})
	for what, row := range map[string]struct {
		spoil func(*sag.LoadReadings)
		curve *linkage.Curve
		want  []string
	}{
		"nothing":   {func(r *sag.LoadReadings) { *r = sag.LoadReadings{} }, nil, []string{"curve", "ambient", "negative_chamber", "outside_diameter", "ring_error", "readings"}},
		"NaN":       {func(r *sag.LoadReadings) { r.Readings[1].Load = nan }, fork, []string{"readings[1].load"}},
		"negative":  {func(r *sag.LoadReadings) { r.Readings[0].Load, r.Readings[2].Fill = -1, -1 }, fork, []string{"readings[0].load", "readings[2].fill"}},
		"heavy":     {func(r *sag.LoadReadings) { r.Readings[0].Load = 2e9 }, fork, []string{"readings[0].load"}},
		"too deep":  {func(r *sag.LoadReadings) { r.Readings[3].Stroke = 0.151 }, fork, []string{"readings[3].stroke"}},
		"back deep": {func(r *sag.LoadReadings) { r.Readings[3].StrokeBack = 0.151 }, fork, []string{"readings[3].stroke_back"}},
		"three":     {func(r *sag.LoadReadings) { r.Readings = r.Readings[:3] }, fork, []string{"readings"}},
	} {
		r := good
		r.Readings = append([]sag.LoadReading(nil), good.Readings...)
		row.spoil(&r)
		_, err := sag.Calibrate(row.curve, r)
		refused(t, what, 0, err, row.want...)
	}
	spring, err := sag.Calibrate(fork, good)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		target sag.Target
		class  error
		want   string
	}{
		{sag.Target{Load: 1, Sag: 0.3}, airspring.ErrNoFill, "load"},
		{sag.Target{Load: 1e9, Sag: 0.3}, airspring.ErrFillBeyond, "load"},
		{sag.Target{Load: 400, Sag: 1e-5}, airspring.ErrFillPullsIn, "sag"},
	} {
		_, err := sag.CalibratedFill(fork, row.target, spring)
		refused(t, fmt.Sprint(row.target), 0, err, row.want)
		if !errors.Is(err, row.class) {
			t.Errorf("%+v: %v, want %v", row.target, err, row.class)
		}
	}
	long := constant(t, 0.1, 0.15) // a stroke of 1.5 m
	_, err = sag.CalibratedFill(long, sag.Target{Load: 400, Sag: 0.9}, spring)
	refused(t, "beyond the chamber", 0, err, "sag")
	_, err = sag.CalibratedFill(nil, sag.Target{Load: -1, Sag: 2}, nil)
	refused(t, "nothing", 0, err, "curve", "load", "sag", "spring")
}

// A rider knows the load on the front wheel, what the gauge and the ring said for two fills, and nothing
// of the fork's inside. The readings are invented, of a fork without a negative chamber.
func ExampleCalibrate() {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	spring, err := sag.Calibrate(fork, sag.LoadReadings{
		Ambient: airspring.SeaLevel, NegativeChamber: new(false), OutsideDiameter: 34 * units.Millimetre, RingError: units.Millimetre,
		Readings: []sag.LoadReading{
			{Fill: units.PSIGauge(50), Stroke: 48 * units.Millimetre, Load: 400 * units.Newton},
			{Fill: units.PSIGauge(54), Stroke: 27 * units.Millimetre, Load: 400 * units.Newton},
		},
	})
	if err != nil {
		log.Fatal(err)
	}
	fill, err := sag.CalibratedFill(fork, sag.Target{Load: 440 * units.Newton, Sag: 0.22}, spring)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f psi, give or take %.1f psi\n", fill.Fill.PSI(), fill.StandardError.PSI())
	// By hand, on the line of (g + p_a)/(F + A·p_a) through both readings: 57.8 psi at 35.2 mm.

	// Output: 57.8 psi, give or take 0.1 psi
}
