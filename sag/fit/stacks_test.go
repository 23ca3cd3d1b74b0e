package fit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// spacers are a stack at hand, one of each thickness in mm.
func spacers(mms ...float64) (list []fit.PreloadSpacer) {
	for _, t := range mms {
		list = append(list, fit.PreloadSpacer{Thickness: units.Length(t * mm)})
	}
	return list
}

// Every choice of the spacers, tried one by one, comes no nearer to the preload that is wanted; what is
// put in is at hand, and adds up with the collar; and with a collar that has no steps nothing nearer
// takes fewer millimetres of spacers.
func TestStackIsTheNearest(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 11))
	for range 400 {
		var thick []float64 // one by one
		j := fit.Collar{PreloadMin: units.Length(2 * mm * float64(r.IntN(2)))}
		j.PreloadMax = j.PreloadMin + units.Length(float64(r.IntN(3))*1.5*mm)
		if r.IntN(2) == 0 {
			j.ThreadPitch = 1.25e-3
		}
		for range 1 + r.IntN(4) {
			one := fit.PreloadSpacer{Thickness: units.Length(math.Round(10+r.Float64()*600) * 0.01 * mm), Count: r.IntN(4)}
			j.PreloadSpacers = append(j.PreloadSpacers, one)
			for range max(1, one.Count) {
				thick = append(thick, float64(one.Thickness))
			}
		}
		wanted := units.Length((r.Float64()*40 - 4) * mm)
		got, stack := j.Set(wanted)
		bare := j
		bare.PreloadSpacers = nil
		nearest, least := math.Inf(1), math.Inf(1)
		for mask := range 1 << len(thick) {
			sum := 0.0
			for i, t := range thick {
				if mask>>i&1 == 1 {
					sum += t
				}
			}
			turned, _ := bare.Set(wanted - units.Length(sum))
			switch off := math.Abs(sum + float64(turned-wanted)); {
			case off < nearest-1e-9:
				nearest, least = off, sum
			case off < nearest+1e-9:
				least = min(least, sum)
			}
		}
		require.InDelta(t, nearest, math.Abs(float64(got-wanted)), 1.1e-6, "%v wanted of %+v: %v with %v", wanted, j, got, stack)
		sum, left := 0.0, append([]float64(nil), thick...)
		for i, one := range stack {
			at := -1
			for k, t := range left {
				if t == float64(one) {
					at = k
				}
			}
			require.GreaterOrEqual(t, at, 0, "%v is not at hand", one)
			left[at] = -1
			require.True(t, i == 0 || stack[i-1] >= one, "%v", stack)
			sum += float64(one)
		}
		if collar := float64(got) - sum; collar < float64(j.PreloadMin)-1e-12 || collar > float64(j.PreloadMax)+1e-12 {
			t.Errorf("%v with %v leaves %v to the collar", got, stack, collar)
		}
		if j.ThreadPitch == 0 && sum > least+1.1e-6 {
			t.Errorf("%v with %v, and %v m would do", got, stack, least)
		}
	}
}

// By hand: 60 N/mm want 8.2 mm for 1500 N at 16.8 mm. The cap alone gives 1 mm; 5 + 2 mm of spacers make
// 8 mm. A collar of 0 to 4 mm needs 5 mm of them and turns the other 3.2 mm, which is 12.8 of its quarter
// turns of 0.25 mm: 13 of them.
func TestShelfUsesSpacers(t *testing.T) {
	s := springs(fit.ShelfSpring{Rate: 60e3, SolidTravel: 0.08})
	s.Collar = fit.Collar{PreloadMin: 1e-3, PreloadMax: 1e-3, PreloadSpacers: spacers(1.5, 5, 2, 5)}
	one := choose(t, shelf(s), 600).Coil.Candidates[0]
	near(t, "preload", float64(one.Preload), 8*mm, 1e-12)
	near(t, "of the cap", float64(one.CollarPreload), 1*mm, 1e-12)
	if diff := cmp.Diff([]units.Length{5 * units.Millimetre, 2 * units.Millimetre}, one.PreloadSpacers); diff != "" {
		t.Error(diff)
	}
	near(t, "sag", one.Rest.Sag, (25-8)/60.0, 1e-10)
	check(t, "with a cap", one.Findings, sag.OnTarget)
	s.Collar = fit.Collar{PreloadMax: 4e-3, ThreadPitch: 1e-3, PreloadSpacers: spacers(1.5, 5, 2, 5)}
	one = choose(t, shelf(s), 600).Coil.Candidates[0]
	near(t, "preload", float64(one.Preload), 8.25*mm, 1e-12)
	near(t, "turns", one.Turns, 3.25, 1e-12)
	if len(one.PreloadSpacers) != 1 || one.PreloadSpacers[0] != 5*units.Millimetre {
		t.Errorf("%v", one.PreloadSpacers)
	}
	// 17.5 mm are the most that all give, and a softer spring wants more.
	s.Springs[0].Rate = 42e3 // 18.9 mm
	one = choose(t, shelf(s), 600).Coil.Candidates[0]
	near(t, "all there is", float64(one.Preload), 17.5*mm, 1e-12)
	if len(one.PreloadSpacers) != 4 || !fit.Has(one.Findings, sag.PreloadAtMax) {
		t.Errorf("%v %v", one.PreloadSpacers, one.Findings)
	}
	// No stack goes so high that the spring binds at rest.
	s.Springs[0].SolidTravel = 7e-3
	one = choose(t, shelf(s), 600).Coil.Candidates[0]
	near(t, "below 7 mm", float64(one.Preload), 6.75*mm, 1e-12)
}

// Spacers have a thickness that can be had, and are not without number.
func TestSpacersRefuse(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		name string
		list []fit.PreloadSpacer
		want []string
	}{
		{"none", nil, nil},
		{"good", []fit.PreloadSpacer{{Thickness: 0.05e-3}, {Thickness: 2e-3, Count: 50}}, []string{"preload_spacers"}}, // 100.05 mm
		{"100 mm", []fit.PreloadSpacer{{Thickness: 2e-3, Count: 50}}, nil},
		{"NaN, negative, too thin", []fit.PreloadSpacer{{Thickness: nan}, {Thickness: -1}, {Thickness: 0.04e-3}, {}}, []string{"preload_spacers[0].thickness", "preload_spacers[1].thickness", "preload_spacers[2].thickness", "preload_spacers[3].thickness"}},
		{"too many", []fit.PreloadSpacer{{Thickness: 1e-3, Count: 51}, {Thickness: 1e-3, Count: -1}}, []string{"preload_spacers[0].count", "preload_spacers[1].count"}},
		{"21 thicknesses", make([]fit.PreloadSpacer, 21), []string{"preload_spacers"}},
		{"20 thicknesses", spacers(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2), nil},
	} {
		checked(t, test.name, fit.Collar{PreloadSpacers: test.list}, test.want...)
	}
}
