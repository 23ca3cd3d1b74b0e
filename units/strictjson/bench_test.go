package strictjson_test

import (
	"strings"
	"testing"

	"example.com/wheelrate/units/strictjson"
)

// Budget: at most 25 µs for a job's size of text, 1 kB. How the types are read
// is worked out before, once.
func BenchmarkUnmarshal(b *testing.B) {
	text := []byte(`{"front": {"air": {"bore": "36 mm", "fill": "72 psi", "spacers": 2, "exponent": 1.3}, "sag": 0.2},
		"rear": {"shelf": [` + strings.Repeat(`{"rate": "450 lbf/in"}, `, 35) + `{"rate": "80 N/mm"}], "sag": 0.3}}`)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		var v struct {
			Front end  `json:"front"`
			Rear  *end `json:"rear"`
		}
		if err := strictjson.Unmarshal("job", text, &v); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: at least 20 MB/s, so that a megabyte of hostile text takes at most
// 50 ms.
func BenchmarkHostile(b *testing.B) {
	for _, bench := range []struct{ name, text string }{
		{"brackets", "[" + strings.Repeat("[],", 1<<18) + "[]]"},
		{"names", "{" + strings.Repeat(`"a":{},`, 1<<17) + `"a":{}}`},
		{"digits", strings.Repeat("1", 1<<20)},
		{"escapes", `"` + strings.Repeat(`\u00e9`, 1<<17) + `"`},
	} {
		b.Run(bench.name, func(b *testing.B) {
			b.SetBytes(int64(len(bench.text)))
			b.ReportAllocs()
			for b.Loop() {
				var v everything
				if strictjson.Unmarshal("job", []byte(bench.text), &v) == nil {
					b.Fatal("accepted")
				}
			}
		})
	}
}
