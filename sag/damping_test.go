package sag_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// By hand: 2·√(10 000 N/m · 40 kg) = 1264.911 N·s/m. Outside its range it is 0, see
// TestFrequencyAndDampingOutsideAreZero.
func TestDampingForARatio(t *testing.T) {
	weight := units.Force(40 * g0)
	near(t, "critical", float64(sag.DampingFor(1, 10e3, weight)), 1264.9110640673518, 1e-14)
	near(t, "a quarter", float64(sag.DampingFor(0.25, 10e3, weight)), 316.22776601683795, 1e-14)
	near(t, "back", sag.DampingFor(0.25, 10e3, weight).Ratio(10e3, weight), 0.25, 1e-14)
	near(t, "at the shock", float64(sag.Damping(300).AtShock(2.5)), 1875, 1e-14)
}

// A damping reads from a number with its unit, metric or customary, and nothing else.
func TestParseDamping(t *testing.T) {
	for _, test := range []struct {
		text string
		want float64
	}{
		{"350 N·s/m", 350}, {"350 N s/m", 350}, {"350N.s/m", 350}, {"0.35 N·s/mm", 350},
		{"2 lbf·s/in", 2 * 0.45359237 * 9.80665 / 0.0254},
	} {
		c, err := sag.ParseDamping(test.text)
		require.NoError(t, err)
		near(t, test.text, float64(c), test.want, 1e-15)
	}
	near(t, "lbf·s/in", sag.Damping(175.12683524647636).PoundForceSecondsPerInch(), 1, 1e-14)
	near(t, "N·s/m", (350 * sag.NewtonSecondPerMetre).NewtonSecondsPerMetre(), 350, 1e-15)
	for _, bad := range []string{"", "350", "350 N/m", "350 N·s", "350 N·s/s", "350 s", "350 N·m/s", "350 kg·s/m", "NaN N·s/m", "1e999 N·s/m", "350 N·s/m extra"} {
		v, err := sag.ParseDamping(bad)
		parse, ok := errors.AsType[*units.ParseError](err)
		if v != 0 || !ok || parse.Kind != "damping" || parse.Want != "N·s/m, N·s/mm, lbf·s/in" {
			t.Errorf("%q: %v, %v", bad, v, err)
		}
	}
	if _, err := sag.ParseDamping("350 N/m"); !errors.Is(err, units.ErrUnit) {
		t.Error(err)
	}
}

// The text of a damping reads back to the same bits; NaN and infinities have none, and
// a text that is refused leaves the value as it was.
func TestDampingTextReadsBack(t *testing.T) {
	for _, c := range []sag.Damping{0, 350, -0.1, 1.0 / 3, 5e-324, math.MaxFloat64, -2} {
		text, err := json.Marshal(c)
		require.NoError(t, err)
		var back sag.Damping
		require.NoError(t, json.Unmarshal(text, &back))
		if back != c {
			t.Errorf("%v came back from %s as %v", float64(c), text, float64(back))
		}
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		text, err := sag.Damping(bad).MarshalText()
		if text != nil || !errors.Is(err, units.ErrRange) {
			t.Errorf("%v: %q, %v", bad, text, err)
		}
	}
	c := sag.Damping(7)
	if err := c.UnmarshalText([]byte("350 kg")); err == nil || c != 7 {
		t.Errorf("%v, %v", c, err)
	}
}

// Every verb prints the unit, with six digits unless told otherwise.
func TestDampingPrintsItsUnit(t *testing.T) {
	const c = sag.Damping(350)
	for verb, want := range map[string]string{"%e": "3.500000e+02 N·s/m", "%E": "3.500000E+02 N·s/m", "%.2f": "350.00 N·s/m", "%F": "350.000000 N·s/m",
		"%.3g": "350 N·s/m", "%G": "350 N·s/m", "%v": "350 N·s/m", "%s": "350 N·s/m", "%d": "350 N·s/m"} {
		if got := fmt.Sprintf(verb, c); got != want {
			t.Errorf("%s: %q, want %q", verb, got, want)
		}
	}
	if got := sag.Damping(1234567.8).String(); got != "1.23457e+06 N·s/m" {
		t.Error(got)
	}
}

func FuzzParseDamping(f *testing.F) {
	f.Add("350 N·s/m")
	f.Add("2 lbf s/in")
	f.Add("350 N/m")
	f.Fuzz(func(t *testing.T, text string) {
		c, err := sag.ParseDamping(text)
		if err != nil {
			return
		}
		again, err := c.MarshalText()
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if back, err := sag.ParseDamping(string(again)); err != nil || back != c {
			t.Fatalf("%q gave %q, then %v, %v", text, again, back, err)
		}
	})
}
