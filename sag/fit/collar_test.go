package fit_test

import (
	"math"
	"testing"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Whatever the pitch, the preload lies within the collar's range, on a whole
// quarter turn if there is one: by hand, with steps of 1.
func TestCollarSetsToItsMarks(t *testing.T) {
	for _, test := range []struct{ least, most, wanted, want units.Length }{
		{0, 10, 3.4, 3}, {0, 10, 3.5, 4}, {0, 10, 3.6, 4}, {0, 10, 12, 10}, {0, 10, -2, 0},
		{0.6, 10, 0, 1},      // up to the first mark
		{1.2, 9.8, 1.3, 2},   // the nearest, 1, is below the range
		{1.2, 9.8, 9.7, 9},   // the nearest, 10, is above it
		{1.2, 1.8, 1.6, 1.6}, // no mark within it
		{1.2, 1.8, 1.3, 1.3},
		{2, 2, 5, 2}, {2, 2, 0, 2}, {2, 3, 2.4, 2}, {2, 3, 2.6, 3}, // marks at both its ends
	} {
		j := fit.Collar{PreloadMin: test.least, PreloadMax: test.most, ThreadPitch: 4}
		if got, _ := j.Set(test.wanted); got != test.want {
			t.Errorf("%v wanted from %v to %v: %v, want %v", test.wanted, test.least, test.most, got, test.want)
		}
	}
	// Three quarters of 1.5 mm are 1.125 mm, though not to the last place.
	if got, _ := (fit.Collar{PreloadMax: 1.125e-3, ThreadPitch: 1.5e-3}).Set(1.1e-3); got != 1.125e-3 {
		t.Errorf("to a mark that ends the range: %v", got)
	}
	stepless := fit.Collar{PreloadMin: 1, PreloadMax: 2}
	set := func(wanted units.Length) units.Length {
		preload, _ := stepless.Set(wanted)
		return preload
	}
	if a, b, c := set(0), set(1.23), set(3); a != 1 || b != 1.23 || c != 2 {
		t.Errorf("with no pitch: %v, %v, %v", a, b, c)
	}
}

// A mark that is an end of the range to the last place is kept to, though the end over
// the step rounds to less than a whole number of them, or to more.
func TestCollarSetsToItsLastMark(t *testing.T) {
	down, up := 0, 0
	for step := 0.25 * mm; step < 0.35*mm; step += 1e-6 {
		for n := 2.0; n < 40; n++ {
			end := n * step
			down, up = down+int(n-math.Floor(end/step)), up+int(math.Ceil(end/step)-n)
			j := fit.Collar{PreloadMax: units.Length(end), ThreadPitch: units.Length(4 * step)}
			if got, _ := j.Set(1); got != j.PreloadMax {
				t.Errorf("%v: %v of the collar's most", end, got)
			}
			j.PreloadMin, j.PreloadMax = j.PreloadMax, 1
			if got, _ := j.Set(0); got != j.PreloadMin {
				t.Errorf("%v: %v of the collar's least", end, got)
			}
		}
	}
	if down == 0 || up == 0 {
		t.Error("no quotient is rounded: the test shows nothing")
	}
}

// A collar's range does not turn round, and its advance is a micrometre at the least,
// or unknown.
func TestCollarRefuses(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		name   string
		collar fit.Collar
		want   []string
	}{
		{"nothing", fit.Collar{}, nil},
		{"NaN", fit.Collar{PreloadMin: nan, PreloadMax: nan, ThreadPitch: nan}, []string{"preload_min", "preload_max", "thread_pitch"}},
		{"a range turned round", fit.Collar{PreloadMin: 2, PreloadMax: 1}, []string{"preload_max"}},
		{"a fixed collar", fit.Collar{PreloadMin: 2, PreloadMax: 2}, nil},
		{"a range that ends below 0", fit.Collar{PreloadMax: -1}, []string{"preload_max"}},
		{"a range that begins below 0", fit.Collar{PreloadMin: -1}, []string{"preload_min"}},
		{"a pitch of a micrometre", fit.Collar{ThreadPitch: 1e-6}, nil},
		{"less", fit.Collar{ThreadPitch: units.Length(justBelow(1e-6))}, []string{"thread_pitch"}},
		{"a negative pitch", fit.Collar{ThreadPitch: -1e-6}, []string{"thread_pitch"}},
		{"half a metre", fit.Collar{ThreadPitch: 0.5}, nil},
	} {
		checked(t, test.name, test.collar, test.want...)
	}
}

// What the collar is told to turn is the preload that is told, also for a spring that
// would go solid before: 3.2 mm are wanted of 3 mm of spring.
func TestTurnsArePreload(t *testing.T) {
	s := springs(fit.ShelfSpring{Rate: 75e3, SolidTravel: 0.003})
	s.ThreadPitch = 1e-3
	best := choose(t, shelf(s), 600).Coil.Candidates[0]
	near(t, "turns", best.Turns*1e-3, float64(best.Preload), 1e-12)
	near(t, "preload", float64(best.Preload), 3e-3*0.999, 1e-12)
	if n := (fit.Collar{}).Turns(1); n != 0 {
		t.Errorf("%v turns of an unknown pitch", n)
	}
}

// Within half a step of the collar's ends the wish counts as met: half a step of a
// pitch of 2 mm is 0.25 mm.
func TestPreloadFindingsAllowHalfAStep(t *testing.T) {
	for _, test := range []struct {
		wanted     float64 // preload in mm
		above, low bool
	}{{4.2, false, false}, {4.3, true, false}, {0.8, false, false}, {0.7, false, true}} {
		s := springs(fit.ShelfSpring{Rate: units.Stiffness(1500 / ((16.8 + test.wanted) * mm)), SolidTravel: 0.08})
		s.PreloadMin, s.ThreadPitch = 1e-3, 2e-3
		found := choose(t, shelf(s), 600).Coil.Candidates[0].Findings
		if fit.Has(found, sag.PreloadAtMax) != test.above || fit.Has(found, sag.PreloadAtMin) != test.low {
			t.Errorf("%v mm wanted: %v", test.wanted, found)
		}
	}
}
