package spring_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// A preloaded law is the law itself, further on: force and rate the same,
// energy less what the preload stored.
func TestPreloaded(t *testing.T) {
	groups, err := progressive[0].make()
	require.NoError(t, err)
	closing := func(i int) units.Length { return units.Length(ends(groups)[i].travel) }
	pitch, err := coil.NewLinearPitch(evenly)
	require.NoError(t, err)
	for _, c := range []struct {
		name    string
		law     spring.Law
		preload units.Length
		kinks   []units.Length // of the preloaded law
	}{
		{"groups", groups, mm(10), []units.Length{closing(0) - mm(10), closing(1) - mm(10)}},
		{"groups past a closure", groups, mm(30), []units.Length{closing(1) - mm(30)}},
		{"groups by nothing", groups, 0, []units.Length{closing(0), closing(1)}},
		{"hidden groups", opaque{groups}, mm(30), []units.Length{closing(1) - mm(30)}},
		{"linear pitch", pitch, mm(20), []units.Length{mm(52), mm(96.9)}},
	} {
		t.Run(c.name, func(t *testing.T) {
			law := preloadedOf(t, c.law, c.preload)
			agree(t, "travel", law.Travel(), c.law.Travel()-c.preload, 1e-14)
			for i := range 101 {
				x := law.Travel() * units.Length(i) / 101
				agree(t, fmt.Sprint("force at ", x), law.Force(x), c.law.Force(x+c.preload), 1e-12)
				agree(t, fmt.Sprint("rate at ", x), law.Rate(x), c.law.Rate(x+c.preload), 1e-9)
				agree(t, fmt.Sprint("energy at ", x), law.Energy(x)+c.law.Energy(c.preload), c.law.Energy(x+c.preload), 1e-12)
			}
			obeysItself(t, law, c.kinks)
		})
	}
}

// By hand: 80 N/mm preloaded by 5 mm, and a spring of its own preload of 2 mm
// preloaded by 3 mm more: both start at 400 N, and 10 mm on store
// 400 N · 10 mm + 80/2 N/mm · 10² mm² = 8 J.
func TestPreloadedLinear(t *testing.T) {
	for _, own := range []float64{0, 2} {
		k := linearOf(t, 80e3, 60e-3, 1e-3*(own))
		law := preloadedOf(t, k, mm(5-own))
		agree(t, "force at 0", law.Force(0), 400, 1e-14)
		agree(t, "energy at 10 mm", law.Energy(mm(10)), 8, 1e-13)
		agree(t, "travel", law.Travel(), mm(55+own), 1e-14)
	}
}

func TestPreloadedRefused(t *testing.T) {
	k := linearOf(t, 80e3, 60e-3)
	for _, v := range []float64{-1, math.NaN(), math.Inf(1), 0.06, 1} {
		_, err := spring.NewPreloaded(k, units.Length(v))
		refuses(t, err, "preload")
		_, err = spring.NewPreloaded(opaque{k}, units.Length(v))
		refuses(t, err, "preload")
	}
}

// A preloaded law asks for the full travel itself at its end, whatever
// travel − preload + preload rounds to, and for nothing beyond.
func TestPreloadedLawEndsWhereTheLawDoes(t *testing.T) {
	rounded := 0
	for i := range 100 {
		var asked []float64
		travel, preload := 0.1+float64(i)*1e-3, 0.013+float64(i)*1e-4
		if i%2 == 1 {
			preload = travel - 0.001*float64(i) // nearly all of it
		}
		law := preloadedOf(t, straight{5, 1000, travel, &asked}, units.Length(preload))
		if (travel-preload)+preload != travel {
			rounded++
		}
		for _, x := range []units.Length{law.Travel(), law.Travel() + 0.05, 1} {
			asked = asked[:0]
			law.Force(x)
			if diff := cmp.Diff([]float64{travel}, asked); diff != "" {
				t.Errorf("travel %v, preload %v, at %v (-want +got):\n%s", travel, preload, x, diff)
			}
		}
	}
	if rounded == 0 {
		t.Error("no sum of the table is rounded")
	}
}

// A preload that leaves 1e-13 of the travel is less than it.
func TestPreloadUpToTheTravel(t *testing.T) {
	for _, travel := range []units.Length{0.0625, 1024} {
		preload := travel - travel*0x1p-43
		for _, law := range []spring.Law{linearOf(t, 1000, float64(travel)), straight{0, 1000, float64(travel), nil}} {
			got, err := spring.NewPreloaded(law, preload)
			if err != nil || got.Travel() != travel*0x1p-43 {
				t.Errorf("preload %v of %v: %v", preload, travel, err)
			}
			_, err = spring.NewPreloaded(law, travel)
			refuses(t, err, "preload")
		}
	}
}

// A progressive spring put in with 10 mm of preload starts at the force it has
// there.
func ExampleNewPreloaded() {
	law, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{
		{Rate: 60 * units.NewtonPerMillimetre, Gap: 12 * units.Millimetre},
		{Rate: 90 * units.NewtonPerMillimetre, Gap: 20 * units.Millimetre},
		{Rate: 140 * units.NewtonPerMillimetre, Gap: 25 * units.Millimetre},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	preloaded, err := spring.NewPreloaded(law, 10*units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f at full extension, %.0f of travel left\n", preloaded.Force(0), preloaded.Travel())
	// Output:
	// 286.4 N at full extension, 47 mm of travel left
}
