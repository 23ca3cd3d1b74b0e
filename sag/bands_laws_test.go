package sag_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Springs of constant rate that are given as laws have the bands of their rates. By hand: with a
// ratio of 2.5 and 60 % on the rear, a row of 90 N/mm up to 10 mm and 180 N/mm carries 900 N at 15 mm, and
// at the 16.8 mm of the target 1224 N, 489.6 N at the wheel.
func TestBandsOfLaws(t *testing.T) {
	curve := constant(t, 2.5, 0.15)
	share := sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 15, Unsprung: 3}
	law := func(rate units.Stiffness, travel units.Length) spring.Law {
		return made(spring.NewLinear(spring.Linear{Rate: rate, Travel: travel}))
	}
	rates := sag.Range{Rates: []units.Stiffness{60e3, 68e3, 76e3}, Preload: 2e-3, AxleShare: share, Sag: 0.28}
	laws := rates
	laws.Rates, laws.Laws = nil, []spring.Law{law(60e3, 0.07), law(68e3, 0.07), law(76e3, 0.07)}
	want, got := made(sag.BandsOf(curve, rates)), made(sag.BandsOf(curve, laws))
	if diff := cmp.Diff(want, got, unitstest.Approx(1e-9)); diff != "" {
		t.Errorf("(-rates +laws):\n%s", diff)
	}
	row, err := spring.NewSeries(law(90e3, 0.010), law(180e3, 0.060))
	require.NoError(t, err)
	b := made(sag.BandsOf(curve, sag.Range{Laws: []spring.Law{row, law(80e3, 0.07)}, AxleShare: share, Sag: 0.28}))
	near(t, "rider", float64(b.IdealMass[0]), (489.6/9.80665+3)/0.6-15, 1e-9)
	for name, test := range map[string]struct {
		r    sag.Range
		want []string
	}{
		"both":                  {sag.Range{Rates: rates.Rates, Laws: laws.Laws, AxleShare: share, Sag: 0.28}, []string{"laws"}},
		"no law":                {sag.Range{Laws: []spring.Law{nil}, AxleShare: share, Sag: 0.28}, []string{"laws[0].law"}},
		"solid at the target":   {sag.Range{Laws: []spring.Law{law(90e3, 0.016)}, AxleShare: share, Sag: 0.28}, []string{"laws[0]"}},
		"falling":               {sag.Range{Laws: []spring.Law{law(80e3, 0.07), law(70e3, 0.07)}, AxleShare: share, Sag: 0.28}, []string{"laws[1]"}},
		"too many":              {sag.Range{Laws: make([]spring.Law, 1001), AxleShare: share, Sag: 0.28}, []string{"laws"}},
		"too soft for the bike": {sag.Range{Laws: []spring.Law{law(1e3, 0.07)}, AxleShare: share, Sag: 0.28}, []string{"laws[0]"}},
	} {
		_, err := sag.BandsOf(curve, test.r)
		named(t, name, err, test.want...)
	}
}
