package linkage_test

import (
	"encoding/binary"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// fuzzed turns bytes into two columns: numbers as they come, or steps that
// make a rising table, so that the fuzzer gets past the checks too.
func fuzzed(data []byte, rising bool) (stroke, travel []units.Length) {
	var sum [2]float64
	if rising {
		stroke, travel = append(stroke, 0), append(travel, 0)
	}
	for ; len(data) >= 4 && rising; data = data[4:] {
		sum[0] += float64(binary.LittleEndian.Uint16(data)) * 1e-6
		sum[1] += float64(binary.LittleEndian.Uint16(data[2:])) * 3e-6
		stroke, travel = append(stroke, units.Length(sum[0])), append(travel, units.Length(sum[1]))
	}
	for ; len(data) >= 16; data = data[16:] {
		stroke = append(stroke, units.Length(math.Float64frombits(binary.LittleEndian.Uint64(data))))
		travel = append(travel, units.Length(math.Float64frombits(binary.LittleEndian.Uint64(data[8:]))))
	}
	return stroke, travel
}

// A table makes a sound curve or an error that names a field, never a panic.
func FuzzNewTable(f *testing.F) {
	words := func(list ...uint16) (b []byte) {
		for _, v := range list {
			b = binary.LittleEndian.AppendUint16(b, v)
		}
		return b
	}
	numbers := func(list ...float64) (b []byte) {
		for _, v := range list {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		return b
	}
	f.Add("monotone", true, words(5000, 5000, 5000, 4800, 5000, 4600))
	f.Add("smooth", true, words(5000, 5000, 5000, 4800, 5000, 4600, 5000, 4400))
	f.Add("measured", true, words(5000, 5000, 5000, 4800, 5000, 4600, 5000, 4400, 5000, 4300, 5000, 4250, 5000, 4200))
	f.Add("smooth", true, words(1, 65535, 65535, 1, 1, 65535, 65535, 1))
	f.Add("monotone", false, numbers(0, 0, 0.01, 0.03, 0.02, 0.05))
	f.Add("smooth", false, numbers(0, 0, 1e-300, 1, 1, 2, math.Inf(1), math.NaN()))
	f.Add("", false, numbers(0, 0, 0, 0))
	f.Add("akima", false, []byte{})
	f.Fuzz(func(t *testing.T, method string, rising bool, data []byte) {
		stroke, travel := fuzzed(data, rising)
		c, err := linkage.NewTable(linkage.Table{Stroke: stroke, Travel: travel, Method: linkage.Method(method)})
		if err != nil {
			if len(fieldsOf(err)) == 0 || c != nil {
				t.Fatalf("error %v, curve %v", err, c)
			}
			return
		}
		soundCurve(t, c)
		if method == "measured" {
			return
		}
		for i, s := range stroke {
			unitstest.Near(t, "point", c.TravelAt(s), travel[i], unitstest.Rel(1e-12))
		}
	})
}

// JSON makes a sound curve or an error that names fields, never a panic.
func FuzzNew(f *testing.F) {
	for _, text := range []string{
		`{"constant": 2.6, "travel": "150 mm"}`,
		`{"fork": {"head_angle": "64 deg", "travel": "170 mm"}}`,
		`{"table": {"stroke": ["0 mm", "20 mm", "40 mm", "60 mm"], "travel": ["0 mm", "60 mm", "110 mm", "150 mm"], "method": "smooth"}}`,
		`{"table": {"stroke": ["0 m", "1e-300 m"], "travel": ["0 in", "1e300 in"]}}`,
		`{"constant": 1e400, "travel": "-0 mm"}`,
		`{"constant": 2, "travel": "1 m", "fork": null}`,
		`{}`,
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := fromJSON(text)
		if err != nil {
			if len(units.Fields(err)) == 0 || c != nil {
				t.Fatalf("error %v, curve %v", err, c)
			}
			return
		}
		soundCurve(t, c)
	})
}

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
		m.Points[name] = linkage.Point{p[0] + mm(float64(dx)/50), p[1] + mm(float64(dy)/50)}
		m.Stroke = mm(float64(stroke) / 1000)
		if swap > 0 {
			bodies := slices.Sorted(maps.Keys(m.Bodies))
			body := bodies[int(swap)%len(bodies)]
			list := slices.Clone(m.Bodies[body])
			list[int(swap/8)%len(list)] = name
			m.Bodies[body] = list
		}
		k, err := linkage.NewMechanism(m)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		curve := k.Curve()
		last := linkage.Pose{Travel: -1}
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
			unitstest.Near(t, "curve", curve.TravelAt(p.Stroke), p.Travel, unitstest.Abs(mm(1e-5)))
		}
		if d, err := linkage.NewDrive(k, drive(32, 20, nil)); err == nil {
			for i := range 5 {
				at := d.At(m.Stroke * units.Length(i) / 4)
				for _, v := range []float64{at.AntiSquat, at.AntiRise, float64(at.ChainGrowth), float64(at.KickbackWheelRolling)} {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Fatalf("%+v", at)
					}
				}
			}
		}
	})
}

// Any text is a table or an error; a table can be written and read again.
func FuzzReadCSV(f *testing.F) {
	for _, text := range []string{
		"stroke (mm),travel (mm)\n0,0\n5,13.1\n", "stroke (mm);travel (in)\n0;0\n5;13,1\n", "\ufeffstroke [m]\t travel (ft)\n1e3\t-0\n",
		"stroke (mm),travel (mm)\n\"0\n", "a,b\n", "",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		table, err := linkage.ReadCSV(strings.NewReader(text), linkage.Monotone)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		if len(table.Stroke) != len(table.Travel) || len(table.Stroke) > 1000 {
			t.Fatalf("%d strokes, %d travels", len(table.Stroke), len(table.Travel))
		}
		for _, v := range append(table.Stroke, table.Travel...) {
			if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
				t.Fatalf("%v", table)
			}
		}
		if curve, err := linkage.NewTable(table); err == nil {
			var out strings.Builder
			if err := linkage.WriteCSV(&out, curve, 9); err != nil {
				t.Fatal(err)
			}
			if _, err := linkage.ReadCSV(strings.NewReader(out.String()), linkage.Monotone); err != nil {
				t.Fatalf("wrote what it can't read: %v\n%s", err, out.String())
			}
		}
	})
}
