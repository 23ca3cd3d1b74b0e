package linkage_test

import (
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// curves to look things up in: a table of 14 points, one of 101 even points,
// and a polynomial.
func benchCurves(b *testing.B) map[string]*linkage.Curve {
	fine := linkage.Table{Method: linkage.Smooth}
	for i := range 101 {
		s := lowPivot.stroke * float64(i) / 100
		w, _ := lowPivot.at(s)
		fine.Stroke, fine.Travel = append(fine.Stroke, mm(s)), append(fine.Travel, mm(w))
	}
	ref := refTables(b)[0]
	return map[string]*linkage.Curve{
		"14 points":  curve(b, ref.table(linkage.Monotone)),
		"101 points": curve(b, fine),
		"polynomial": curve(b, ref.table(linkage.Measured)),
	}
}

// places are strokes or travels in no order, so that no branch can be guessed.
func places(whole units.Length) []units.Length {
	rng := rand.New(rand.NewPCG(15, 16))
	list := make([]units.Length, 1024)
	for i := range list {
		list[i] = whole * units.Length(rng.Float64())
	}
	return list
}

// Budget: 30 ns, no allocation.
func BenchmarkLeverRatio(b *testing.B) {
	for name, c := range benchCurves(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			at, i, sum := places(c.Stroke()), 0, 0.0
			for b.Loop() {
				sum += c.LeverRatio(at[i&1023])
				i++
			}
			_ = sum
		})
	}
}

// Budget: 30 ns, no allocation.
func BenchmarkTravelAt(b *testing.B) {
	for name, c := range benchCurves(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			at, i, sum := places(c.Stroke()), 0, units.Length(0)
			for b.Loop() {
				sum += c.TravelAt(at[i&1023])
				i++
			}
			_ = sum
		})
	}
}

// Budget: 100 ns, no allocation.
func BenchmarkStrokeAt(b *testing.B) {
	for name, c := range benchCurves(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			at, i, sum := places(c.Travel()), 0, units.Length(0)
			for b.Loop() {
				sum += c.StrokeAt(at[i&1023])
				i++
			}
			_ = sum
		})
	}
}

// Budget: StrokeAt, the spring's own force, and 20 ns; no allocation.
func BenchmarkWheelForce(b *testing.B) {
	for name, c := range benchCurves(b) {
		b.Run(name, func(b *testing.B) {
			l := wheel(b, c, linear(b, 80e3, mm(70), 0))
			b.ReportAllocs()
			at, i, sum := places(c.Travel()), 0, units.Force(0)
			for b.Loop() {
				sum += l.Force(at[i&1023])
				i++
			}
			_ = sum
		})
	}
}

// Budget: 300 ns and two allocations, the law and the spring put into its
// interface: whole shelves of springs are tried behind one curve.
func BenchmarkAtWheel(b *testing.B) {
	c := bent(b)
	law := linear(b, 80e3, mm(70), 0)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := linkage.AtWheel(c, law); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: 100 µs for the 14 points of a usual table, by any method, and 1 ms for
// the longest spline.
func BenchmarkNewTable(b *testing.B) {
	ref := refTables(b)[0]
	for name, table := range map[string]linkage.Table{
		"monotone": ref.table(linkage.Monotone), "smooth": ref.table(linkage.Smooth), "measured": ref.table(linkage.Measured),
		"1000 points": points(bent(b), 1000, linkage.Smooth),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := linkage.NewTable(table); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Budget: 1 ms from a mechanism to its compiled curve, followed at 101 poses
// and checked in the middle between them. It allocates what it returns.
func BenchmarkCompile(b *testing.B) {
	for _, name := range []string{"c1", "d2", "f1"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			m := spec(name)
			for b.Loop() {
				if _, err := linkage.New(linkage.Spec{Mechanism: &m}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
