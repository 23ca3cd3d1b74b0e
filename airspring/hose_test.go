package airspring_test

import (
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hoseRows are an independent computation (mpmath, 40 digits): volumes in cm³,
// the fill in bar, the reading in Pa above ambient.
var hoseRows = []struct{ chamber, hose, fill, reading float64 }{
	{190, 4.0, 5.5, 538659.793814433},
	{120, 6.0, 8.0, 761904.7619047619},
	{250, 3.0, 3.0, 296442.6877470356},
	{105, 4.0, 14.0, 1348623.8532110092},
	{60, 5.0, 20.0, 1846153.8461538462},
	{150, 8.0, 18.0, 1708860.759493671},
}

func TestHose(t *testing.T) {
	for _, r := range hoseRows {
		chamber, hose, fill := units.Volume(r.chamber)*cm3, units.Volume(r.hose)*cm3, units.BarGauge(r.fill)
		reading, err := airspring.HoseReading(chamber, hose, fill)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "reading", reading, units.GaugePressure(r.reading), close12)
		back, err := airspring.HoseFill(chamber, hose, reading)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "fill", back, fill, close12)
		// The gas is kept, in absolute pressures, whatever the ambient.
		for _, pa := range []float64{101325, 75e3} {
			before := (float64(fill)+pa)*r.chamber + pa*r.hose
			unitstest.Near(t, "gas", (float64(reading)+pa)*(r.chamber+r.hose), before, close12)
		}
	}
	if len(hoseRows) != 6 {
		t.Errorf("%d rows", len(hoseRows))
	}
	if reading, err := airspring.HoseReading(60*cm3, 0, 2e6); reading != 2e6 || err != nil {
		t.Errorf("without a hose: %v %v", reading, err)
	}
}

func TestHoseRefuses(t *testing.T) {
	for _, v := range []float64{nan, inf, -inf, -1} {
		_, err := airspring.HoseReading(units.Volume(v), units.Volume(v), units.GaugePressure(v))
		wantFields(t, "reading", err, "chamber_volume", "hose_volume", "fill")
		_, err = airspring.HoseFill(units.Volume(v), units.Volume(v), units.GaugePressure(v))
		wantFields(t, "fill", err, "chamber_volume", "hose_volume", "reading")
	}
	_, err := airspring.HoseReading(0, 0, 0)
	wantFields(t, "zero", err, "chamber_volume")
}
