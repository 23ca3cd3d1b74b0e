package setup_test

import (
	"testing"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// manySprings is a job of 12 springs and 7 counts of spacers.
func manySprings(b *testing.B) setup.Job {
	j := readJob(b, jobText)
	for i := 0; len(j.Rear.Coil.Springs) < 12; i++ {
		s := j.Rear.Coil.Springs[i]
		s.Rate += 10 * units.PoundForcePerInch
		j.Rear.Coil.Springs = append(j.Rear.Coil.Springs, s)
	}
	j.Front.Air.MaxSpacers = 6
	return j
}

// Budget: 1 ms for 12 springs and 7 counts of spacers, those of 7 riders, and the effects of what was
// taken for granted.
func BenchmarkNewSheet(b *testing.B) {
	j := manySprings(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := setup.NewSheet(j); err != nil {
			b.Fatal(err)
		}
	}
}

// Budget: 50 µs for 12 springs and 7 counts of spacers.
func BenchmarkTemplateSheet(b *testing.B) {
	it, err := setup.NewTemplate(manySprings(b))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := it.Sheet(82); err != nil {
			b.Fatal(err)
		}
	}
}
