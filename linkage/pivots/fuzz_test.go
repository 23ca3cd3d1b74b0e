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
	f.Add(uint8(0), uint8(0), 0.004, 0.004, 0.9, 2.6, 0.0, false)
	f.Add(uint8(3), uint8(2), 0.0, 0.010, 0.5, 3.0, 0.21, false)
	f.Add(uint8(5), uint8(1), 1.0, math.NaN(), -1.0, math.Inf(1), 1e-9, true)
	names := movable()
	f.Fuzz(func(t *testing.T, which, point uint8, roomX, roomY, share, ratio, shock float64, anyShock bool) {
		m := spec(names[int(which)%len(names)])
		points := slices.Sorted(maps.Keys(m.Points))
		name := points[int(point)%len(points)]
		ask := pivots.Search{
			Mechanism: m, Move: []pivots.Movable{{Point: name, X: pivots.Bounds{Min: -units.Length(roomX), Max: units.Length(roomX)}, Y: pivots.Bounds{Max: units.Length(roomY)}}},
			Targets:  pivots.Targets{LeverRatio: &pivots.Target[float64]{At: []float64{0, share}, Value: []float64{ratio, ratio * 0.9}}},
			AnyShock: anyShock,
		}
		if shock != 0 {
			ask.Shocks = []pivots.Shock{{Length: units.Length(shock), Stroke: m.Stroke}}
			ask.KeepOut = []pivots.Region{{Line: []mechanism.Point{m.Points[name]}, Radius: units.Length(roomX / 2)}}
			ask.ShockClearance = units.Length(roomY)
		}
		fit, err := pivots.Find(ask)
		if (fit == nil) == (err == nil) {
			t.Fatalf("fit %v, error %v", fit, err)
		}
		if err != nil {
			named(t, "pivots", err)
			return
		}
		miss := fit.Misses[0]
		allFinite(t, "fit", miss.RMS, miss.Worst, float64(miss.WorstAt), miss.StartRMS, float64(fit.ShockLength))
		if !(miss.RMS >= 0 && miss.Worst >= miss.RMS*(1-1e-9)) {
			t.Fatalf("misses by %v rms, %v at the worst", miss.RMS, miss.Worst)
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
		if math.Abs(float64(is[0]-was[0])) > roomX*(1+1e-9)+1e-12 || float64(is[1]-was[1]) > roomY*(1+1e-9)+1e-12 || is[1] < was[1]-1e-12 {
			t.Fatalf("%s went from %v to %v, with room for %v and %v", name, was, is, roomX, roomY)
		}
		for other, p := range fit.Mechanism.Points {
			if other != name && p != m.Points[other] {
				t.Fatalf("%s moved too", other)
			}
		}
	})
}
