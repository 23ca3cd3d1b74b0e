package mechanism_test

import (
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Any mechanism of the tests, its points shifted, its stroke changed, a body's
// points exchanged, moves soundly or is refused with a field or as locking.
func FuzzNewMechanism(f *testing.F) {
	f.Add(uint8(0), int16(0), int16(0), uint8(0), uint16(5000), uint8(0))
	f.Add(uint8(5), int16(300), int16(-2000), uint8(2), uint16(60000), uint8(0))
	f.Add(uint8(10), int16(-32768), int16(32767), uint8(5), uint16(100), uint8(1))
	f.Add(uint8(12), int16(7), int16(9), uint8(1), uint16(0), uint8(7))
	f.Add(uint8(11), int16(7), int16(32), uint8(20), uint16(3), uint8(7))
	f.Add(uint8(4), int16(331), int16(-2244), uint8('<'), uint16(60132), uint8(4))
	names := movable()
	f.Fuzz(func(t *testing.T, which uint8, dx, dy int16, point uint8, stroke uint16, swap uint8) {
		m := spec(append(names, "x1")[int(which)%(len(names)+1)])
		points := slices.Sorted(maps.Keys(m.Points))
		name := points[int(point)%len(points)]
		p := m.Points[name]
		m.Points[name] = mechanism.Point{p[0] + mm(float64(dx)/50), p[1] + mm(float64(dy)/50)}
		m.Stroke = mm(float64(stroke) / 1000)
		if swap > 0 {
			bodies := slices.Sorted(maps.Keys(m.Bodies))
			body := bodies[int(swap)%len(bodies)]
			list := slices.Clone(m.Bodies[body])
			list[int(swap/8)%len(list)] = name
			m.Bodies[body] = list
		}
		k, err := mechanism.New(m)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		last := mechanism.Pose{Travel: -1}
		for i := range 23 {
			p := k.Pose(m.Stroke * units.Length(i) / 22)
			for _, v := range []float64{float64(p.Travel), p.LeverRatio, float64(p.LeverRatioSlope), float64(p.Axle[0]), float64(p.AxleGrowth),
				p.CarrierTurning, float64(p.InstantCentre[0]), float64(p.InstantCentre[1]), float64(k.PathLength(p.Stroke))} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v", p)
				}
			}
			if !(p.Travel > last.Travel) || !(p.LeverRatio > 0) {
				t.Fatalf("travel %v after %v, ratio %v", p.Travel, last.Travel, p.LeverRatio)
			}
			last = p
		}
		for i := range 3 {
			s := m.Stroke * units.Length(i) / 2
			e, err := k.Equilibrium(s, mechanism.Load{At: k.Axle(), Force: [2]units.Force{0, 1000}})
			if ratio := k.Pose(s).LeverRatio; err != nil || !(math.Abs(float64(e.ShockForce)/1000-ratio) <= 1e-6*ratio) {
				t.Fatalf("shock force %v, lever ratio %v, error %v", e.ShockForce, ratio, err)
			}
			g, turns := k.PoseGradient(s), k.Turns(s)
			for h := range k.Holes() {
				allFinite(t, "hole", float64(e.Holes[h].Force[0]), float64(e.Holes[h].Force[1]), g.Travel.Holes[h][0], g.Travel.Holes[h][1], g.LeverRatio.Holes[h][0], g.LeverRatio.Holes[h][1])
			}
			for b := range k.Bearings() {
				allFinite(t, "turn", float64(turns[b]))
			}
		}
	})
}

// FuzzMechanismJSON: any text that is read as a mechanism moves soundly, or
// is refused with a field or as locking.
func FuzzMechanismJSON(f *testing.F) {
	for _, name := range append(movable(), "x1") {
		text, err := json.Marshal(spec(name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`{"points": {"A": ["0 mm", "NaN mm"]}, "bodies": {"A": ["A", "A"]}, "axle": "A", "shock": ["A", "A"], "stroke": "1 mm"}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var m mechanism.Spec
		if err := strictjson.Unmarshal("linkage", text, &m); err != nil {
			named(t, "text", err)
			return
		}
		k, err := mechanism.New(m)
		if (k == nil) == (err == nil) {
			t.Fatalf("motion %v, error %v", k, err)
		}
		if err != nil {
			named(t, "mechanism", err)
			if lock, ok := errors.AsType[*mechanism.LockError](err); ok && !errors.Is(err, mechanism.ErrLocks) {
				t.Fatalf("%v is not ErrLocks", lock)
			}
			return
		}
		path, travel := units.Length(-1), units.Length(-1)
		for i := range 17 {
			s := k.Stroke() * units.Length(i) / 16
			p := k.Pose(s)
			allFinite(t, "pose", float64(p.Travel), p.LeverRatio, float64(p.LeverRatioSlope), float64(p.Axle[0]), float64(p.Axle[1]), p.AxleForward, float64(p.AxleGrowth),
				float64(p.WheelbaseGrowth), float64(p.CarrierTurn), p.CarrierTurning, float64(p.InstantCentre[0]), float64(p.InstantCentre[1]))
			length := k.PathLength(s)
			if !(p.Travel > travel) || !(p.LeverRatio > 0) || !(length >= path) || !(float64(length) >= float64(p.Travel)*(1-1e-6)-1e-9) {
				t.Fatalf("at %v: travel %v after %v, path %v after %v, ratio %v", s, p.Travel, travel, length, path, p.LeverRatio)
			}
			path, travel = length, p.Travel
		}
		for _, s := range strokesOf(k.Stroke()) {
			if k.Pose(s) != k.Pose(spring.Clamp(s, k.Stroke())) {
				t.Fatalf("stroke %v is not clamped", float64(s))
			}
			for name, p := range k.Positions(s) {
				allFinite(t, name, float64(p[0]), float64(p[1]))
			}
		}
		back, err := json.Marshal(k.Spec())
		if err != nil {
			t.Fatal(err)
		}
		var again mechanism.Spec
		if err := strictjson.Unmarshal("linkage", back, &again); err != nil {
			t.Fatalf("can't read what it wrote: %v\n%s", err, back)
		}
	})
}
