package refdata_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// The heat ratios of the dataset, which no equation of package airspring made,
// are what its equations of state come to where there is no pressure; and the
// range is the one it answers for.
func TestGasesAgreeWithAirspring(t *testing.T) {
	kelvins := map[string]units.Temperature{"heat_ratio_250_k": 250, "heat_ratio_300_k": 300, "heat_ratio_350_k": 350}
	for _, g := range refdata.Gases() {
		species, tried := gas.Species(g.Name), 0
		for _, v := range g.Values {
			kelvin, ok := kelvins[v.Name]
			if !ok {
				continue
			}
			tried++
			state, err := gas.StateAt(species, 1e-3, kelvin)
			require.NoError(t, err)
			// The table of 1955 is one unit off in its last digit, see gas-0001; a
			// millipascal does 3e-11.
			if off := math.Abs(state.HeatRatio - v.Value); off > 2*v.Uncertainty+1e-10 {
				t.Errorf("%s: %s is %v in the dataset, %v from the equation", g.Name, v.Name, v.Value, state.HeatRatio)
			}
		}
		if tried != len(kelvins) {
			t.Errorf("%s: %d heat ratios, want %d", g.Name, tried, len(kelvins))
		}
		for _, end := range []struct {
			p  units.AbsolutePressure
			t  units.Temperature
			ok bool
		}{
			{g.Range.PressureTo, g.Range.TemperatureFrom, true}, {g.Range.PressureTo, g.Range.TemperatureTo, true},
			{g.Range.PressureTo * 1.001, g.Range.TemperatureTo, false}, {g.Range.PressureTo, g.Range.TemperatureTo + 0.1, false},
			{g.Range.PressureTo, g.Range.TemperatureFrom - 0.1, false},
		} {
			if _, err := gas.StateAt(species, end.p, end.t); (err == nil) != end.ok {
				t.Errorf("%s at %v and %v: %v", g.Name, end.p, end.t, err)
			}
		}
	}
}

func TestGasesAreComplete(t *testing.T) {
	list := refdata.Gases()
	require.Len(t, list, 2)
	for _, g := range list {
		seen := map[string]bool{}
		for _, v := range g.Values {
			check := units.Checker{Package: "refdata"}
			v.Source.Check(&check, v.Standing)
			if err := check.Err(); err != nil || v.Source.Title == "" || seen[v.Name] || !(v.Value > 0) || v.Unit == "" || !(v.Uncertainty >= 0) {
				t.Errorf("%s: %+v: %v", g.Name, v, err)
			}
			seen[v.Name] = true
		}
	}
	air, err := refdata.GasNamed("air")
	require.NoError(t, err)
	mass, err := air.Value("molar_mass")
	if err != nil || mass.Value != 0.0289586 || mass.Exact() {
		t.Errorf("%+v, %v", mass, err)
	}
	if r, err := air.Value("gas_constant"); err != nil || !r.Exact() {
		t.Errorf("%+v, %v", r, err)
	}
	_, err = air.Value("colour")
	require.ErrorIs(t, err, units.ErrUnknown)
	if again, err := refdata.GasNamed("Air"); err != nil || again.Name != "air" {
		t.Errorf("%s, %v", again.Name, err)
	}
	for _, name := range []string{"", "helium"} {
		_, err := refdata.GasNamed(name)
		if f := units.Fields(err); len(f) != 1 || f[0].Field != "gas" || f[0].Want.String() != "one of air, nitrogen" {
			t.Errorf("%q: %v", name, err)
		}
	}
}
