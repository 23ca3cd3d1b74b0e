package spring_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func TestLinear(t *testing.T) {
	// By hand: 50 N/mm with 2 mm of preload; at 20 mm 1100 N, and the work
	// there is the trapezoid (100 N + 1100 N)/2 · 20 mm = 12 J.
	s, err := spring.NewLinear(spring.Linear{Rate: 50e3, Travel: 0.06, Preload: 0.002})
	require.NoError(t, err)
	close12(t, "force", float64(s.Force(0.02)), 1100)
	close12(t, "energy", float64(s.Energy(0.02)), 12)
	close12(t, "rate", float64(s.Rate(0.02)), 50e3)
	close12(t, "preload force", float64(s.Force(0)), 100)
	close12(t, "full force", float64(s.Force(9)), 3100)
	close12(t, "full energy", float64(s.Energy(9)), (100+3100)/2.0*0.06)
	if s.Travel() != 0.06 || s.Energy(-1) != 0 || s.Force(units.Length(math.NaN())) != s.Force(0) {
		t.Errorf("ends of %+v", s)
	}
	var none spring.LinearSpring
	if none.Force(1) != 0 || none.Rate(1) != 0 || none.Energy(1) != 0 || none.Travel() != 0 {
		t.Errorf("the zero spring pushes: %+v", none)
	}
}

func TestNewLinearRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, row := range []struct {
		spec spring.Linear
		want []string
	}{
		{spring.Linear{}, []string{"rate", "travel"}},
		{spring.Linear{1, units.Length(nan), 0}, []string{"travel"}},
		{spring.Linear{1, 1, units.Length(nan)}, []string{"preload"}},
		{spring.Linear{-1, -1, -1}, []string{"rate", "travel", "preload"}},
		{spring.Linear{units.Stiffness(nan), units.Length(nan), units.Length(nan)}, []string{"rate", "travel", "preload"}},
		{spring.Linear{units.Stiffness(inf), units.Length(inf), units.Length(inf)}, []string{"rate", "travel", "preload"}},
		{spring.Linear{1e308, 1e308, 0}, []string{"rate"}},
		{spring.Linear{1e-10, 1e200, 0}, []string{"rate"}},
		{spring.Linear{1, 1, 1e80}, []string{"rate"}},    // its energy is 1e160 J
		{spring.Linear{1, 1e80, 1e80}, []string{"rate"}}, // and so is this one's
		{spring.Linear{1e100, 1e-60, 1e-60}, nil},
		{spring.Linear{1e149, 1, 0}, nil},
		{spring.Linear{5e-324, 5e-324, 0}, nil},
		// From a force or an energy of 1e150 on it is refused.
		{spring.Linear{0.999e150, 1, 0}, nil}, {spring.Linear{1e150, 1, 0}, []string{"rate"}},
		{spring.Linear{0.999e151, 0.1, 0}, nil}, {spring.Linear{1e151, 0.1, 0}, []string{"rate"}},
		{spring.Linear{0.999e148, 10, 0}, nil}, {spring.Linear{1e148, 10, 0}, []string{"rate"}},
	} {
		_, err := spring.NewLinear(row.spec)
		if diff := cmp.Diff(row.want, fieldsOf(err)); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", row.spec, diff)
		}
	}
}

func ExampleNewLinear() {
	law, err := spring.NewLinear(spring.Linear{Rate: 50 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	x := 20 * units.Millimetre
	// By hand: 50 N/mm · 22 mm, and the trapezoid (100 N + 1100 N)/2 · 20 mm.
	fmt.Printf("%.0f, %.0f, %.0f\n", law.Force(x), law.Rate(x), law.Energy(x))
	// Output: 1100 N, 50 N/mm, 12 J
}
