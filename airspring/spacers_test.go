package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The force at full travel of each number of spacers by the formula of one
// chamber; a wish a little nearer to one of two neighbours gets that one.
func TestSpacersFor(t *testing.T) {
	spec := one(36, 160, 250, 6, 1.35)
	spec.SpacerVolume = 8 * cm3
	spec.Spacers = 3 // out of account
	full := func(n int) float64 {
		a := math.Pi / 4 * 0.036 * 0.036
		v := 250e-6 - float64(n)*8e-6
		return a * (701325*math.Pow(v/(v-a*0.16), 1.35) - 101325)
	}
	for n := range 10 {
		for _, share := range []float64{0.49, 0.51} {
			want := n
			if share > 0.5 {
				want++
			}
			force := full(n) + share*(full(n+1)-full(n))
			got, err := airspring.SpacersFor(spec, units.Force(force), 20)
			if err != nil || got.Spacers != want {
				t.Errorf("%d spacers for %.0f N, want %d (%v)", got.Spacers, force, want, err)
			}
			unitstest.Near(t, "force", float64(got.FullForce), full(want), close12)
			unitstest.Near(t, "miss", float64(got.FullMiss), full(want)-force, unitstest.Abs(1e-8))
		}
	}
	// The volume that meets a number's force is that number's.
	exact := spec
	exact.Spacers = 0
	v, err := airspring.VolumeFor(exact, units.Force(full(4)))
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "volume", v, (250-4*8)*cm3, unitstest.Rel(1e-11))
	// No more than fit, and none where the wish is softer than all; 10 leave 7.1 cm³.
	for _, c := range []struct {
		force float64
		most  int
		want  int
	}{{1e7, 20, 10}, {1e7, 4, 4}, {1, 20, 0}} {
		got, err := airspring.SpacersFor(spec, units.Force(c.force), c.most)
		if err != nil || got.Spacers != c.want {
			t.Errorf("%d spacers for %g N of at most %d, want %d (%v)", got.Spacers, c.force, c.most, c.want, err)
		}
	}
	// With a negative chamber too it is the nearest of all.
	two := twoRows[0].spec()
	two.SpacerVolume = 6 * cm3
	got, err := airspring.SpacersFor(two, 2500, 6)
	if err != nil {
		t.Fatal(err)
	}
	for n := range 7 {
		two.Spacers = n
		if two.PositiveVolume-units.Volume(n)*two.SpacerVolume < 160*cm3 {
			break
		}
		force, _ := textbook(two, float64(two.Travel))
		if math.Abs(force-2500) < math.Abs(float64(got.FullMiss))-1e-6 {
			t.Errorf("%d spacers miss by %g, %d by %v", n, force-2500, got.Spacers, got.FullMiss)
		}
	}
}

func TestSpacersForRefuses(t *testing.T) {
	good := one(36, 160, 250, 6, 1.35)
	good.SpacerVolume = 8 * cm3
	for _, c := range []struct {
		name   string
		change func(*airspring.Spec)
		force  float64
		most   int
		want   []string
	}{
		{"good", func(*airspring.Spec) {}, 2000, 1, nil},
		{"nothing", func(s *airspring.Spec) { *s = airspring.Spec{} }, nan, 0,
			[]string{"bore", "travel", "positive_volume", "ambient", "exponent", "fill", "spacer_volume", "force", "most"}},
		{"no fill", func(s *airspring.Spec) { s.Fill = 0 }, 2000, 4, []string{"fill"}},
		{"no force", func(*airspring.Spec) {}, 0, 1001, []string{"force", "most"}},
		{"infinite", func(*airspring.Spec) {}, inf, 3, []string{"force"}},
	} {
		spec := good
		c.change(&spec)
		_, err := airspring.SpacersFor(spec, units.Force(c.force), c.most)
		wantFields(t, c.name, err, c.want...)
	}
}
