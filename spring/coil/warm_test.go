package coil_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestWarmShearModulus(t *testing.T) {
	g, err := coil.WarmShearModulus(81500*units.Megapascal, 0.25e-3, units.Celsius(-10))
	require.NoError(t, err)
	close12(t, "cold", g.Megapascals(), 82111.25)
	for _, test := range []struct {
		g    units.Stress
		r    float64
		t    units.Temperature
		want []string
	}{
		{0, -1, 0, []string{"shear_modulus", "coefficient", "temperature"}},
		{units.Stress(math.NaN()), math.NaN(), units.Temperature(math.NaN()), []string{"shear_modulus", "coefficient", "temperature"}},
		{80e9, 0.5, units.Celsius(30), []string{"temperature"}},
	} {
		_, err := coil.WarmShearModulus(test.g, test.r, test.t)
		if diff := cmp.Diff(test.want, fieldsOf(err)); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", test, diff)
		}
	}
}
