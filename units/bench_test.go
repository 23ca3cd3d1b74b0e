package units_test

import (
	"fmt"
	"io"
	"testing"

	"example.com/wheelrate/units"
)

// Budget: at most 150 ns, no allocation.
func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := units.Parse[units.Stiffness]("450 lbf/in"); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: at most 400 ns, 1 allocation.
func BenchmarkMarshalText(b *testing.B) {
	rate := 450 * units.PoundForcePerInch
	b.ReportAllocs()
	for b.Loop() {
		if _, err := rate.MarshalText(); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: at most 400 ns, 2 allocations.
func BenchmarkFormat(b *testing.B) {
	rate := 450 * units.PoundForcePerInch
	b.ReportAllocs()
	for b.Loop() {
		fmt.Fprintf(io.Discard, "%.1f", rate)
	}
}

// Budget: at most 5 ns, no allocation: a type costs nothing.
func BenchmarkTimes(b *testing.B) {
	var sum units.Force
	k, x := 80*units.NewtonPerMillimetre, 25*units.Millimetre
	b.ReportAllocs()
	for b.Loop() {
		sum += k.Times(x)
	}
	if sum <= 0 {
		b.Fatal(sum)
	}
}
