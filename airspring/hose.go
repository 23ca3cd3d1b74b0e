package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// HoseReading returns what a pump's gauge shows when it is screwed on to a
// filled chamber: the hose was at ambient, and takes its part,
//
//	reading = fill·V/(V + V_h)
//
// with V the chamber's volume at full extension and V_h that of hose and gauge,
// as gauge pressures: the ambient cancels. A pump that shows less than was put
// in therefore shows no leak. Topped up to a reading, the chamber holds it; what
// hisses on unscrewing is the hose's, where the valve shuts first.
//
// The chamber must be more than 0, the hose 0 or more, the fill 0 or more; the
// error names every field that isn't. Slow, ideal gas; follows from the mass
// balance, with check values computed in 40 digits.
func HoseReading(chamber, hose units.Volume, fill units.GaugePressure) (units.GaugePressure, error) {
	if err := checkHose(chamber, hose, "fill", fill); err != nil {
		return 0, err
	}
	return fill * units.GaugePressure(chamber/(chamber+hose)), nil
}

// HoseFill returns the fill that a chamber had before a pump was screwed on,
// from the pump's first reading: reading·(V + V_h)/V. It is [HoseReading] turned
// round and has the same limits.
func HoseFill(chamber, hose units.Volume, reading units.GaugePressure) (units.GaugePressure, error) {
	if err := checkHose(chamber, hose, "reading", reading); err != nil {
		return 0, err
	}
	return reading * units.GaugePressure((chamber+hose)/chamber), nil
}

func checkHose(chamber, hose units.Volume, field string, pressure units.GaugePressure) error {
	c := units.Checker{Package: "airspring"}
	units.Between(&c, "chamber_volume", chamber, gas.MinVolume, gas.MaxVolume)
	upTo(&c, "hose_volume", hose, gas.MaxVolume)
	upTo(&c, field, pressure, gas.MaxFill)
	return c.Err()
}
