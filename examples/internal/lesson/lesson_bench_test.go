package lesson_test

import (
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
)

// A lesson is worked out at each step of a slider. The budget is 2 ms each and 2000
// allocations, so that a page, where it takes about five times as long, follows within
// 16 ms.
func BenchmarkAt(b *testing.B) {
	for _, l := range lesson.All() {
		b.Run(l.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c, err := l.At(nil)
				if err != nil || len(c.HTML())+len(c.Drawing.SVG())+len(c.Curve.SVG()) == 0 {
					b.Fatal(err)
				}
			}
		})
	}
}
