package airspring_test

import (
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// The limits that the documentation names are themselves permitted.
func TestLimitsArePermitted(t *testing.T) {
	at := func(kelvin, metres float64) airspring.Conditions {
		return airspring.Conditions{Temperature: units.Temperature(kelvin), Altitude: units.Length(metres)}
	}
	for _, c := range [][2]airspring.Conditions{{at(200, -500), at(400, 11000)}, {at(400, 11000), at(200, -500)}} {
		_, err := airspring.FillAt(units.BarGauge(1000), c[0], c[1])
		wantFields(t, "conditions", err)
	}
	for _, ambient := range []units.AbsolutePressure{1e3, 1e6} {
		_, err := airspring.SpecAt(one(36, 160, 230, 50, 1), 300, 300, ambient)
		wantFields(t, "ambient", err)
	}
	for _, z := range []units.Length{-10e3, 100e3} {
		_, err := airspring.GeopotentialAltitude(z)
		wantFields(t, "geometric", err)
	}
}
