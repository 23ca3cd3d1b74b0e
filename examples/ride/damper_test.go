package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// digressive is an invented damper, as measured.
var digressive = damperSpec{
	Compression: []damperSample{{0.05, 120}, {0.13, 260}, {0.26, 380}, {0.52, 520}, {1, 700}},
	Rebound:     []damperSample{{0.05, 260}, {0.13, 520}, {0.26, 760}, {0.52, 1000}},
}

func damper(t testing.TB, spec damperSpec) motion.Damper {
	t.Helper()
	var c units.Checker
	d := spec.build(&c)
	require.NoError(t, c.Err())
	return d
}

// By hand: what was measured, straight between rest and the first sample where that is the only one,
// and straight on behind the last.
func TestDampers(t *testing.T) {
	d := damper(t, digressive)
	for sign, samples := range map[units.Speed][]damperSample{1: digressive.Compression, -1: digressive.Rebound} {
		for i, s := range samples {
			near(t, "as measured", float64(d.Force(sign*s.Speed)), float64(sign)*float64(s.Force), 1e-14)
			if i > 0 { // no overshoot in between
				mean := float64(d.Force(sign*(s.Speed+samples[i-1].Speed)/2)) * float64(sign)
				if !(mean > float64(samples[i-1].Force) && mean < float64(s.Force)) {
					t.Errorf("%v between %v and %v", mean, samples[i-1].Force, s.Force)
				}
			}
		}
		last := samples[len(samples)-1]
		slope := float64(d.Damping(sign * last.Speed))
		near(t, "straight on", float64(d.Force(sign*2*last.Speed)), float64(sign)*(float64(last.Force)+slope*float64(last.Speed)), 1e-12)
		near(t, "slope behind", float64(d.Damping(sign*3*last.Speed)), slope, 1e-12)
	}
	off(t, "at rest", float64(d.Force(0)), 0, 1e-12)
	for v := units.Speed(-0.7); v < 1.2; v += 0.01 {
		const h = 1e-6
		off(t, "slope", float64(d.Damping(v)), float64(d.Force(v+h)-d.Force(v-h))/(2*h), 0.05)
	}
	l := damper(t, damperSpec{Damping: 350})
	near(t, "linear", float64(l.Force(-2)), -700, 0)
	near(t, "linear", float64(l.Damping(7)), 350, 0)
	one := damper(t, damperSpec{Compression: []damperSample{{1, 500}}, Rebound: []damperSample{{1, 500}}})
	near(t, "one sample each", float64(one.Force(0.3)), 150, 1e-12)
	fields := func(spec damperSpec) (list []string) {
		var c units.Checker
		d := spec.build(&c)
		require.Equal(t, c.OK(), d != nil)
		for _, f := range units.Fields(c.Err()) {
			list = append(list, f.Field)
		}
		return list
	}
	nan := units.Speed(math.NaN())
	ok := []damperSample{{1, 500}}
	require.Equal(t, []string{"damping"}, fields(damperSpec{Damping: -1}))
	require.Equal(t, []string{"damping"}, fields(damperSpec{Damping: 1, Compression: ok, Rebound: ok}))
	require.Equal(t, []string{"rebound"}, fields(damperSpec{Compression: ok}))
	require.Equal(t, []string{"compression"}, fields(damperSpec{Rebound: ok}))
	require.Equal(t, []string{"compression[0].speed", "compression[1].force", "rebound[1].speed", "rebound[2].force"}, fields(damperSpec{
		Compression: []damperSample{{nan, 1}, {2, -1}},
		Rebound:     []damperSample{{1, 100}, {1, 200}, {2, 150}, {3, 200}},
	}))
	require.Equal(t, []string{"compression[0].speed", "compression[0].force"}, fields(damperSpec{Compression: []damperSample{{1001, 2e9}}, Rebound: ok}))
}
