package unitstest_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// sheet stands for a result with quantities at every depth.
type sheet struct {
	Rate  units.Stiffness
	Ratio float64
	Name  string
	Steps int
	Warm  *units.Temperature
	Sizes []units.Length
	Forks map[string]units.Length
	Any   any
}

func some(f float64) sheet {
	warm := units.Celsius(20 * f)
	return sheet{Rate: units.Stiffness(78e3 * f), Ratio: 2.5 * f, Name: "rear", Steps: 3, Warm: &warm,
		Sizes: []units.Length{units.Length(0.01 * f), 0}, Forks: map[string]units.Length{"front": units.Length(0.16 * f)},
		Any: units.Force(400 * f)}
}

func TestApproxFindsEveryDifference(t *testing.T) {
	base := some(1)
	if diff := cmp.Diff(base, some(1+1e-13), unitstest.Approx(1e-12)); diff != "" {
		t.Errorf("1e-13 apart differ:\n%s", diff)
	}
	if !cmp.Equal([]any{nil, 1.0}, []any{nil, 1.0}, unitstest.Approx(0)) {
		t.Error("nil and 1 differ from themselves")
	}

	// Each place alone must be found to differ.
	off := 1 + 1e-11
	warm := units.Temperature(float64(*base.Warm) * off)
	for name, change := range map[string]func(*sheet){
		"rate":    func(s *sheet) { s.Rate *= units.Stiffness(off) },
		"ratio":   func(s *sheet) { s.Ratio *= off },
		"name":    func(s *sheet) { s.Name = "front" },
		"steps":   func(s *sheet) { s.Steps++ },
		"pointer": func(s *sheet) { s.Warm = &warm },
		"element": func(s *sheet) { s.Sizes = []units.Length{base.Sizes[0] * units.Length(off), 0} },
		"zero":    func(s *sheet) { s.Sizes = []units.Length{base.Sizes[0], 1e-300} },
		"map":     func(s *sheet) { s.Forks = map[string]units.Length{"front": base.Forks["front"] * units.Length(off)} },
		"any":     func(s *sheet) { s.Any = units.Force(400 * off) },
		"type":    func(s *sheet) { s.Any = units.Mass(400) },
		"nil":     func(s *sheet) { s.Any = nil },
		"NaN":     func(s *sheet) { s.Ratio = math.NaN() },
	} {
		changed := base
		change(&changed)
		if cmp.Equal(base, changed, unitstest.Approx(1e-12)) || cmp.Equal(changed, base, unitstest.Approx(1e-12)) {
			t.Errorf("%s: no difference found", name)
		}
	}
}

func TestApproxTolerances(t *testing.T) {
	for _, test := range []struct {
		name  string
		a, b  any
		opt   cmp.Option
		equal bool
	}{
		{"of the smaller magnitude", units.Length(1), units.Length(2), unitstest.Approx(0.6), false},
		{"below 0", units.Length(-1), units.Length(-1.5), unitstest.Approx(0.5), true},
		{"NaN", units.Length(nan), units.Length(nan), unitstest.Approx(1), false},
		{"infinity", units.Length(inf), units.Length(inf), unitstest.Approx(0), true},
		{"infinities", units.Length(inf), units.Length(-inf), unitstest.Approx(1), false},
		{"float32 is left alone", float32(1), float32(1 + 1e-6), unitstest.Approx(1e-3), false},
	} {
		if got := cmp.Equal(test.a, test.b, test.opt); got != test.equal {
			t.Errorf("%s: Equal = %v, want %v", test.name, got, test.equal)
		}
	}
	for _, rel := range []float64{-1, nan, inf} {
		panics(t, fmt.Sprintf("Approx(%v)", rel), func() { unitstest.Approx(rel) })
	}
}

// panics checks that a call panics.
func panics(t *testing.T, name string, call func()) {
	t.Helper()
	defer func() {
		if recover() == nil {
			t.Errorf("%s does not panic", name)
		}
	}()
	call()
}
