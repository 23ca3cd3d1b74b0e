package airspring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// travels in no order, so that no branch can be guessed.
func travels(full units.Length) []units.Length {
	list := make([]units.Length, 1024)
	for i := range list {
		list[i] = full * units.Length((i*619)%1024) / 1024
	}
	return list
}

// A polytropic chamber takes a logarithm and an exponential at least.
func BenchmarkUnavoidable(b *testing.B) {
	at, i, sum := travels(0.9), 0, 0.0
	for b.Loop() {
		sum += math.Exp(-1.3 * math.Log(1-float64(at[i&1023])))
		i++
	}
	_ = sum
}

// Budget: 1.5 times BenchmarkUnavoidable per chamber, no allocation.
func BenchmarkForce(b *testing.B) {
	slow := twoRows[0].spec()
	slow.Exponent = 1
	staged := one(34, 160, 185, 4.5, 1.3)
	staged.SecondVolume, staged.SecondFill = 45*cm3, units.BarGauge(8)
	for name, s := range map[string]airspring.Spec{
		"one chamber": one(34, 160, 190, 5.5, 1.3), "two chambers": twoRows[0].spec(), "two chambers slow": slow, "two stages": staged,
	} {
		b.Run(name, func(b *testing.B) {
			law := make1(b, s)
			b.ReportAllocs()
			at, i, sum := travels(law.Travel()), 0, units.Force(0)
			for b.Loop() {
				sum += law.Force(at[i&1023])
				i++
			}
			_ = sum
		})
	}
}

// Budget: 1 µs and the spring itself, one allocation.
func BenchmarkNew(b *testing.B) {
	s := twoRows[0].spec()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := airspring.New(s); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: 1 µs, no allocation.
func BenchmarkFillFor(b *testing.B) {
	s := twoRows[0].spec()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := airspring.FillFor(s, 400, 0.04); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: 1 µs, no allocation.
func BenchmarkRestTravel(b *testing.B) {
	law := make1(b, twoRows[0].spec())
	b.ReportAllocs()
	sum := units.Length(0)
	for b.Loop() {
		sum += law.RestTravel()
	}
	_ = sum
}

// Budget: 1 ms from six readings of a spring with a negative chamber, and 250 µs from three of one
// without: a chart of riders or a sweep through errors makes some hundred.
func BenchmarkCalibrate(b *testing.B) {
	for name, negative := range map[string]bool{"one chamber": false, "two chambers": true} {
		b.Run(name, func(b *testing.B) {
			u := inventSpring(rand.New(rand.NewPCG(19, 40)), negative)
			g := u.gauge()
			parts := []float64{0.1, 0.2, 0.3}
			if negative {
				parts = []float64{0.1, 0.15, 0.2, 0.25, 0.3, 0.35}
			}
			for i, part := range parts {
				g.Readings = append(g.Readings, u.read(b, 600, part))
				g.Readings[i].Stroke += units.Length(i%2) * mm
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := airspring.Calibrate(g); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
