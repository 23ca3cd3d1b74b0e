package pivots_test

import (
	"maps"
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
)

// FuzzFind: what is found moves, lies within its bounds and is no worse
// than what was given, or a field is named.
func FuzzFind(f *testing.F) {
	f.Add(uint8(0), uint8(0), 0.004, 0.004, 0.05, 2.6, 0.0, false)
	f.Add(uint8(3), uint8(2), 0.0, 0.010, 0.03, 3.0, 0.21, false)
	f.Add(uint8(5), uint8(1), 1.0, math.NaN(), -1.0, math.Inf(1), 1e-9, true)
	names := movable()
	f.Fuzz(func(t *testing.T, which, point uint8, roomX, roomY, stroke, ratio, shock float64, anyShock bool) {
		m := spec(names[int(which)%len(names)])
		points := slices.Sorted(maps.Keys(m.Points))
		name := points[int(point)%len(points)]
		ask := pivots.Search{
			Mechanism: m, Move: []pivots.Movable{{Point: name, X: units.Length(roomX), Y: units.Length(roomY)}},
			Stroke: []units.Length{0, units.Length(stroke)}, LeverRatio: []float64{ratio, ratio * 0.9},
			ShockLength: units.Length(shock), AnyShock: anyShock,
		}
		fit, err := pivots.Find(ask)
		if (fit == nil) == (err == nil) {
			t.Fatalf("fit %v, error %v", fit, err)
		}
		if err != nil {
			named(t, "pivots", err)
			return
		}
		allFinite(t, "fit", fit.RMS, fit.Worst, float64(fit.WorstAt), fit.StartRMS, float64(fit.ShockLength))
		if !(fit.RMS >= 0 && fit.Worst >= fit.RMS*(1-1e-9)) {
			t.Fatalf("misses by %v rms, %v at the worst", fit.RMS, fit.Worst)
		}
		k, err := mechanism.New(fit.Mechanism)
		if err != nil {
			t.Fatalf("what was found does not move: %v", err)
		}
		for i := range 9 {
			if r := k.Pose(k.Stroke() * units.Length(i) / 8).LeverRatio; !(r > 0) {
				t.Fatalf("lever ratio %v", r)
			}
		}
		was, is := m.Points[name], fit.Mechanism.Points[name]
		if math.Abs(float64(is[0]-was[0])) > roomX*(1+1e-9)+1e-12 || math.Abs(float64(is[1]-was[1])) > roomY*(1+1e-9)+1e-12 {
			t.Fatalf("%s went from %v to %v, with room for %v and %v", name, was, is, roomX, roomY)
		}
		for other, p := range fit.Mechanism.Points {
			if other != name && p != m.Points[other] {
				t.Fatalf("%s moved too", other)
			}
		}
	})
}
