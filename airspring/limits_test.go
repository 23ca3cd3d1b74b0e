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
	for _, area := range []units.Area{1e-12, 10} {
		_, err := airspring.Vibrate(airspring.Vibration{Area: area, Volume: 1e-4, Fill: 5e5, Ambient: airspring.SeaLevel, HeatRatio: 1.4, OmegaTau: 1})
		wantFields(t, "area", err)
	}
	for _, v := range []units.Volume{1e-12, 1e6} {
		_, err := airspring.Polytropic(airspring.Change{Pressure: 1e9, Volume: v, ToVolume: v, Exponent: 2})
		wantFields(t, "volume", err)
	}
	for _, ratio := range []float64{0.2, 5} {
		_, err := airspring.CompressReal(airspring.DryAir, 40e5, 250, ratio)
		wantFields(t, "ratio", err)
	}
	for _, kelvin := range []units.Temperature{250, 350} {
		_, err := airspring.RealState(airspring.Nitrogen, 1e-3, kelvin)
		wantFields(t, "temperature", err)
	}
}
