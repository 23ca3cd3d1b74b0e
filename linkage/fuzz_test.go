package linkage_test

import (
	"encoding/binary"
	"math"
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
