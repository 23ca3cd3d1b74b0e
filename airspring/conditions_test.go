package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// An independent computation (mpmath, 40 digits) for sealed rigid chambers:
// fill in bar, °C and m before and after, bore in mm, then the gauge pressure in
// Pa and the force at full extension in N.
var conditionRows = []struct{ fill, t1, t2, h1, h2, bore, after, force float64 }{
	{5.5, 20, 0, 0, 0, 34, 505563.70458809484, 459.0115386538682},
	{5.5, 20, 0, 0, 2000, 34, 527393.4890775557, 478.83124263193287},
	{4.0, 15, 40, 500, 500, 34, 442986.3646835247, 402.1963028808308},
	{16.0, 20, 0, 0, 0, 40, 1483928.0231963159, 1864.758950451828},
	{16.0, 20, -10, 200, 3000, 40, 1454972.3437578862, 1828.3721705304395},
	{5.5, 20, 20, 0, 2500, 34, 576642.4663385426, 523.5453877031518},
}

func TestConditions(t *testing.T) {
	for _, r := range conditionRows {
		from := airspring.Conditions{Temperature: units.Celsius(r.t1), Altitude: units.Length(r.h1)}
		to := airspring.Conditions{Temperature: units.Celsius(r.t2), Altitude: units.Length(r.h2)}
		fill, err := airspring.FillAt(units.BarGauge(r.fill), from, to)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "fill", fill, units.GaugePressure(r.after), close12)
		back, err := airspring.FillAt(fill, to, from)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "and back", back, units.BarGauge(r.fill), close12)

		low, _ := airspring.Atmosphere(from.Altitude)
		high, _ := airspring.Atmosphere(to.Altitude)
		spec := one(r.bore, 100, 150, r.fill, 1.3)
		spec.Ambient = low.Pressure
		moved, err := airspring.SpecAt(spec, from.Temperature, to.Temperature, high.Pressure)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "fill of the spec", moved.Fill, units.GaugePressure(r.after), close12)
		unitstest.Near(t, "force", make1(t, moved).Force(0), units.Force(r.force), close12)
	}
}

// Two chambers at 40 mm, from 20 °C at sea level to 0 °C at 2000 m (mpmath, 40
// digits): both chambers cool, and only the shaft feels the ambient.
func TestTwoChambersMoved(t *testing.T) {
	spec := twoRows[0].spec()
	unitstest.Near(t, "force before", make1(t, spec).Force(40*mm), 419.17821064098456, close12)
	moved, err := airspring.SpecAt(spec, units.Celsius(20), units.Celsius(0), 79495.2155105391)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "force after", make1(t, moved).Force(40*mm), 391.75157804322663, close12)
}

// Every force of a moved spring is F = (F + outside)·T₂/T₁ − outside₂, the
// outside being the ambient's force, at every travel and also with two stages.
func TestMovedForce(t *testing.T) {
	staged := stagedRows[0].spec()
	staged.Shaft, staged.NegativeVolume, staged.PortTravel = 10*mm, 60*cm3, 8*mm
	for _, spec := range []airspring.Spec{one(34, 160, 190, 5, 1.3), twoRows[1].spec(), stagedRows[1].spec(), staged} {
		const warmer, ambient = 300.0 / 280, 80e3
		moved, err := airspring.SpecAt(spec, 280, 300, ambient)
		if err != nil {
			t.Fatal(err)
		}
		a := math.Pi / 4 * float64(spec.Bore*spec.Bore)
		if spec.NegativeVolume > 0 {
			a = math.Pi / 4 * float64(spec.Shaft*spec.Shaft)
		}
		before, after := make1(t, spec), make1(t, moved)
		for i := range 11 {
			x := spec.Travel * units.Length(i) / 10
			want := (float64(before.Force(x))+a*101325)*warmer - a*ambient
			unitstest.Near(t, "force", float64(after.Force(x)), want, unitstest.Rel(1e-11))
		}
		unitstest.Near(t, "opening", after.OpeningTravel(), before.OpeningTravel(), unitstest.Rel(1e-11))
	}
}

func TestConditionsRefuse(t *testing.T) {
	good := airspring.Conditions{Temperature: 293.15}
	for _, c := range []struct {
		name     string
		fill     units.GaugePressure
		from, to airspring.Conditions
		want     []string
	}{
		{"vacuum", -101326, good, good, []string{"fill"}},
		{"NaN", units.GaugePressure(nan), good, good, []string{"fill"}},
		{"NaN everywhere", units.GaugePressure(nan), airspring.Conditions{Temperature: units.Temperature(nan), Altitude: units.Length(nan)},
			airspring.Conditions{Temperature: units.Temperature(nan), Altitude: units.Length(nan)},
			[]string{"fill", "from.altitude", "from.temperature", "to.altitude", "to.temperature"}},
		{"too much", 1.1e8, good, good, []string{"fill"}},
		{"degrees taken for kelvin", 5e5, airspring.Conditions{Temperature: 20}, good, []string{"from.temperature"}},
		{"stratosphere", 5e5, good, airspring.Conditions{Temperature: 293, Altitude: 12000}, []string{"to.altitude"}},
		{"missing", 5e5, airspring.Conditions{}, airspring.Conditions{}, []string{"from.temperature", "to.temperature"}},
	} {
		_, err := airspring.FillAt(c.fill, c.from, c.to)
		wantFields(t, c.name, err, c.want...)
	}
	spec := stagedRows[0].spec()
	_, err := airspring.SpecAt(airspring.Spec{}, units.Temperature(nan), 500, 0)
	wantFields(t, "all", err, "bore", "travel", "positive_volume", "fill", "ambient", "exponent", "from", "to", "to_ambient")
	spec.Fill = 1000
	_, err = airspring.SpecAt(spec, 300, 250, airspring.SeaLevel)
	wantFields(t, "nothing left", err, "to_ambient")
	spec.Fill, spec.SecondFill = 5e5, 1000
	_, err = airspring.SpecAt(spec, 300, 250, airspring.SeaLevel)
	wantFields(t, "nothing left of the second", err, "to_ambient")
	spec.SecondFill, spec.Fill = 8e5, 1e8
	_, err = airspring.SpecAt(spec, 300, 310, airspring.SeaLevel)
	wantFields(t, "too much", err, "to_ambient")
	// A small fill in the cold is a gauge below 0, not an error.
	fill, err := airspring.FillAt(0, good, airspring.Conditions{Temperature: 283.15})
	if err != nil {
		t.Error(err)
	}
	unitstest.Near(t, "fill", fill, units.GaugePressure(101325*(283.15/293.15-1)), unitstest.Rel(1e-11))
}
