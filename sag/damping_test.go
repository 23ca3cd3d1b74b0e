package sag

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

func TestDampingFor(t *testing.T) {
	// By hand: 2·√(10 000 N/m · 40 kg) = 1264.911 N·s/m.
	weight := units.Force(40 * g0)
	near(t, "critical", float64(DampingFor(1, 10e3, weight)), 1264.9110640673518, 1e-14)
	near(t, "a quarter", float64(DampingFor(0.25, 10e3, weight)), 316.22776601683795, 1e-14)
	near(t, "back", DampingFor(0.25, 10e3, weight).Ratio(10e3, weight), 0.25, 1e-14)
	near(t, "at the shock", float64(Damping(300).AtShock(2.5)), 1875, 1e-14)
	nan := math.NaN()
	for _, bad := range [][3]float64{{0, 1, 1}, {-1, 1, 1}, {1, 0, 1}, {1, 1, -1}, {nan, 1, 1}, {1, nan, 1}, {1, 1, nan}, {math.Inf(1), 1, 1}, {1, math.Inf(1), 1}} {
		if c := DampingFor(bad[0], units.Stiffness(bad[1]), units.Force(bad[2])); c != 0 {
			t.Errorf("%v: %v, want 0", bad, c)
		}
	}
	for _, r := range []float64{Damping(nan).Ratio(1, 1), Damping(1).Ratio(0, 1), Damping(-1).Ratio(1, 1), Damping(math.Inf(1)).Ratio(1, 1)} {
		if r != 0 {
			t.Errorf("ratio %v, want 0", r)
		}
	}
}

func TestDampingText(t *testing.T) {
	for _, test := range []struct {
		text string
		want float64
	}{
		{"350 N·s/m", 350}, {"350 N s/m", 350}, {"350N.s/m", 350}, {"0.35 N·s/mm", 350},
		{"2 lbf·s/in", 2 * 0.45359237 * 9.80665 / 0.0254},
	} {
		c, err := ParseDamping(test.text)
		require.NoError(t, err)
		near(t, test.text, float64(c), test.want, 1e-15)
	}
	near(t, "lbf·s/in", Damping(175.12683524647636).PoundForceSecondsPerInch(), 1, 1e-14)
	near(t, "N·s/m", Damping(350).NewtonSecondsPerMetre(), 350, 1e-15)
	for _, bad := range []string{"", "350", "350 N/m", "350 N·s", "350 kg·s/m", "NaN N·s/m", "1e999 N·s/m", "350 N·s/m extra"} {
		_, err := ParseDamping(bad)
		parse := (*units.ParseError)(nil)
		if !errors.As(err, &parse) || parse.Kind != "damping" || parse.Want != dampingUnits {
			t.Errorf("%q: %v", bad, err)
		}
	}
	for _, c := range []Damping{0, 350, 1.0 / 3, 5e-324, math.MaxFloat64, -2} {
		text, err := json.Marshal(c)
		require.NoError(t, err)
		var back Damping
		require.NoError(t, json.Unmarshal(text, &back))
		if back != c {
			t.Errorf("%v came back from %s as %v", float64(c), text, float64(back))
		}
	}
	if _, err := Damping(math.NaN()).MarshalText(); err == nil {
		t.Error("NaN has a text")
	}
	for _, test := range []struct{ got, want string }{
		{fmt.Sprint(Damping(350)), "350 N·s/m"}, {fmt.Sprintf("%s", Damping(350)), "350 N·s/m"},
		{fmt.Sprintf("%.1f", Damping(350)), "350.0 N·s/m"}, {fmt.Sprintf("%d", Damping(350)), "350 N·s/m"},
	} {
		if test.got != test.want {
			t.Errorf("printed %q, want %q", test.got, test.want)
		}
	}
}

func FuzzParseDamping(f *testing.F) {
	f.Add("350 N·s/m")
	f.Add("2 lbf s/in")
	f.Add("350 N/m")
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseDamping(text)
		if err != nil {
			return
		}
		again, err := c.MarshalText()
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if back, err := ParseDamping(string(again)); err != nil || back != c {
			t.Fatalf("%q gave %q, then %v, %v", text, again, back, err)
		}
	})
}
