package sag

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// Rate, load and damping of every sign: there is no frequency and no critical
// damping but for what is more than 0, and then no −0 either.
func TestNoFrequencyWithoutRateAndLoad(t *testing.T) {
	negative := math.Copysign(0, -1)
	values := []float64{math.NaN(), math.Inf(-1), -1, negative, 0, 1e-3, 2, math.Inf(1)}
	good := func(x float64) bool { return x > 0 && x <= math.MaxFloat64 }
	for _, k := range values {
		for _, load := range values {
			f := float64(Frequency(units.Stiffness(k), units.Force(load)))
			if good(k) && good(load) {
				near(t, "frequency", f, math.Sqrt(k/load*9.80665)/(2*math.Pi), 1e-14)
			} else if f != 0 || math.Signbit(f) {
				t.Errorf("Frequency(%v, %v) = %v", k, load, f)
			}
			for _, ratio := range values {
				c := float64(DampingFor(ratio, units.Stiffness(k), units.Force(load)))
				if good(k) && good(load) && good(ratio) {
					near(t, "damping", c, 2*ratio*math.Sqrt(k*load/9.80665), 1e-14)
				} else if c != 0 || math.Signbit(c) {
					t.Errorf("DampingFor(%v, %v, %v) = %v", ratio, k, load, c)
				}
				r := Damping(ratio).Ratio(units.Stiffness(k), units.Force(load))
				if good(k) && good(load) && good(ratio) {
					near(t, "ratio", r, ratio/(2*math.Sqrt(k*load/9.80665)), 1e-14)
				} else if r != 0 || math.Signbit(r) {
					t.Errorf("Ratio of %v at %v, %v = %v", ratio, k, load, r)
				}
			}
		}
	}
	if r := Damping(1e300).Ratio(1e-20, 1e-20); r != 0 {
		t.Errorf("a ratio beyond all numbers: %v", r)
	}
}

func TestDampingReadsBackInPlace(t *testing.T) {
	c := Damping(7)
	if err := c.UnmarshalText([]byte("350 kg")); err == nil || c != 7 {
		t.Errorf("%v, %v", c, err)
	}
	require.NoError(t, c.UnmarshalText([]byte("350 N·s/m")))
	if c != 350 {
		t.Errorf("%v", c)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		text, err := Damping(bad).MarshalText()
		if text != nil || !errors.Is(err, units.ErrRange) {
			t.Errorf("%v: %q, %v", bad, text, err)
		}
	}
	text, err := Damping(-0.1).MarshalText()
	require.NoError(t, err)
	if string(text) != "-0.1 N·s/m" {
		t.Errorf("%s", text)
	}
	// Six digits for people.
	if got := Damping(1234567.8).String(); got != "1.23457e+06 N·s/m" {
		t.Error(got)
	}
	for verb, want := range map[string]string{"%e": "3.500000e+02 N·s/m", "%E": "3.500000E+02 N·s/m", "%.2f": "350.00 N·s/m", "%F": "350.000000 N·s/m", "%.3g": "350 N·s/m", "%G": "350 N·s/m", "%v": "350 N·s/m"} {
		if got := fmt.Sprintf(verb, c); got != want {
			t.Errorf("%s: %q, want %q", verb, got, want)
		}
	}
	if v, err := ParseDamping("350 N/m"); v != 0 || !errors.Is(err, units.ErrUnit) {
		t.Errorf("%v, %v", v, err)
	}
	for _, bad := range []string{"", "350", "350 N·s/s", "350 s", "1e999 N·s/m"} {
		if v, err := ParseDamping(bad); v != 0 || err == nil {
			t.Errorf("%q: %v, %v", bad, v, err)
		}
	}
	if v, err := ParseDamping("350 N·m/s"); v != 0 || err == nil {
		t.Errorf("%v, %v", v, err)
	}
}
