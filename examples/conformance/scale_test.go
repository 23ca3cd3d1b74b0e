package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"testing"
)

// mixed are cases of several computations, one of which fails.
var mixed = []string{
	`{"id":"%d","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25.4 mm"}}`,
	`{"id":"%d","computes":"spring.coil","given":{"wire_diameter":"10 mm","mean_diameter":"46 mm","active_coils":5,"shear_modulus":"79500 MPa"},"expect":{"rate":"204.189611243528 N/mm"}}`,
	`{"id":"%d","computes":"spring.coil","given":{"wire_diameter":"50 mm","mean_diameter":"46 mm","active_coils":5,"shear_modulus":"79500 MPa"},"error":["wire_diameter"]}`,
	`{"id":"%d","computes":"spring.law","given":{"law":{"linear":{"rate":"80 N/mm","travel":"60 mm"}},"at":["0 mm","10 mm","60 mm"]},"expect":{"force":["0 N","800 N","4800 N"],"energy":["0 J","4 J","144 J"]}}`,
	`{"id":"%d","computes":"sag.settle","given":{"curve":{"constant":2.5,"travel":"150 mm"},"law":{"linear":{"rate":"80 N/mm","travel":"60 mm"}},"load":"500 N"},"expect":{"stroke":"15.625 mm"}}`,
	`{"id":"%d","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25 mm"}}`,
}

// many is a case file of n cases in groups of 500, never held as a whole.
func many(n int) io.Reader {
	r, w := io.Pipe()
	go func() {
		fmt.Fprint(w, `{"schema":"wheelrate/cases/1","subject":"many","groups":[`)
		for i := range n {
			switch {
			case i == 0:
				fmt.Fprint(w, `{"source":{"title":"none"},"standing":"common practice","cases":[`)
			case i%500 == 0:
				fmt.Fprint(w, `]},{"source":{"title":"none"},"standing":"common practice","cases":[`)
			default:
				fmt.Fprint(w, ",")
			}
			fmt.Fprintf(w, mixed[i%len(mixed)], i)
		}
		fmt.Fprint(w, `]}]}`)
		w.Close()
	}()
	return r
}

// gauge measures the memory in use now and then while a run prints.
type gauge struct {
	writes, every int
	most          uint64
	last          []byte
}

func (g *gauge) Write(p []byte) (int, error) {
	if g.writes++; g.writes%g.every == 0 {
		g.most = max(g.most, inUse())
	}
	g.last = append(g.last[:0], p...)
	return len(p), nil
}

func inUse() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// Ten thousand cases with all reports take little more memory than their text: a
// file is held while it is read, and the ids are; what came of the cases is not.
func TestManyCasesStayFlat(t *testing.T) {
	dir := t.TempDir()
	live := func(n int) uint64 {
		before := inUse()
		out := &gauge{every: n / 4}
		var errs bytes.Buffer
		status := run([]string{"-cases", "-", "-json", filepath.Join(dir, "r.json"), "-html", filepath.Join(dir, "r.html")}, many(n), out, &errs)
		if status != 1 || errs.Len() > 0 {
			t.Fatalf("status %d, %s", status, errs.String())
		}
		failed := n / len(mixed) // the last of each six
		if want := fmt.Sprintf("%d passed, %d failed", n-failed, failed); lastLine(string(out.last)) != want {
			t.Errorf("%d cases: %q, want %q", n, lastLine(string(out.last)), want)
		}
		if out.writes < n {
			t.Errorf("%d cases printed in %d writes", n, out.writes)
		}
		return out.most - min(before, out.most)
	}
	few, lots := live(500), live(10_000)
	t.Logf("%d bytes in use for 500 cases, %d for 10 000", few, lots)
	text, err := io.Copy(io.Discard, many(10_000))
	if err != nil {
		t.Fatal(err)
	}
	if limit := few + uint64(text) + 10_000*150; lots > limit { // an id, its header and its place in the map
		t.Errorf("%d bytes in use for 10 000 cases, %d for 500, want at most %d", lots, few, limit)
	}
}

// BenchmarkCases runs cases of several computations; the budget is 0.3 ms a
// case, so that ten thousand take 3 s at most.
func BenchmarkCases(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		run([]string{"-cases", "-"}, many(100), io.Discard, io.Discard)
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(100*b.N), "µs/case")
}
