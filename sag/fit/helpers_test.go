package fit_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/units"
)

const mm = float64(units.Millimetre)

var near, named = sagtest.Near, sagtest.Named

func justBelow(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }

func justAbove(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }

func constant(ratio float64, travel units.Length) linkage.Spec {
	return linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: ratio, Travel: travel}}
}

// ofRatio25 is a rear end of ratio 2.5 over 150 mm, so 60 mm of stroke.
func ofRatio25() linkage.Spec { return constant(2.5, 0.15) }

// options makes the options of a spec, in standard air.
func options(t testing.TB, spec fit.Spec) *fit.Options {
	t.Helper()
	o, err := fit.New(spec, units.StandardAtmosphere)
	require.NoError(t, err)
	return o
}

// choose chooses from a spec that is good under a load that it carries.
func choose(t testing.TB, spec fit.Spec, load units.Force) fit.Choice {
	t.Helper()
	c, err := options(t, spec).Choose(load)
	require.NoError(t, err)
	return c
}

// shelf is one end with a shelf and a target of 28 %.
func shelf(s fit.Shelf) fit.Spec { return fit.Spec{Curve: ofRatio25(), Sag: 0.28, Coil: &s} }

func springs(list ...fit.ShelfSpring) fit.Shelf {
	return fit.Shelf{Springs: list, Collar: fit.Collar{PreloadMax: 4e-3}}
}

// check checks that the findings are these, in order.
func check(t *testing.T, what string, got []sag.Finding, want ...sag.Finding) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return string(text)
}

// checked checks which fields the check of each value names.
func checked[T interface{ Check(*units.Checker) }](t *testing.T, what string, v T, want ...string) {
	t.Helper()
	var c units.Checker
	v.Check(&c)
	named(t, what, c.Err(), want...)
}
