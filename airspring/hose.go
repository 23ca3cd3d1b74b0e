package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// HoseReading returns what a pump's gauge shows when its hose, at ambient pressure, is
// screwed on to a filled chamber,
//
//	reading = fill·V/(V + V_h)
//
// with V the chamber's volume at full extension and V_h that of hose and gauge, as
// gauge pressures: the ambient cancels. A reading below the last fill is therefore no
// sign of a leak. A chamber topped up to a reading holds it; the air that hisses out
// on unscrewing is the hose's, if the valve shuts first.
//
// The chamber must be more than 0, the hose and the fill 0 or more; the error names
// every field that isn't. The gas is ideal and as warm as its surroundings. The
// equation follows from the mass balance; the check values were computed in 40 digits.
func HoseReading(chamber, hose units.Volume, fill units.GaugePressure) (units.GaugePressure, error) {
	if err := checkHose(chamber, hose, "fill", fill); err != nil {
		return 0, err
	}
	return fill * units.GaugePressure(chamber/(chamber+hose)), nil
}

// HoseFill returns the fill that a chamber had before a pump was screwed on,
// from the pump's first reading: reading·(V + V_h)/V. It is the
// inverse of [HoseReading] and has the same limits.
func HoseFill(chamber, hose units.Volume, reading units.GaugePressure) (units.GaugePressure, error) {
	if err := checkHose(chamber, hose, "reading", reading); err != nil {
		return 0, err
	}
	return reading * units.GaugePressure((chamber+hose)/chamber), nil
}

func checkHose(chamber, hose units.Volume, field string, pressure units.GaugePressure) error {
	c := units.Checker{Package: "airspring"}
	units.Between(&c, "chamber_volume", chamber, gas.MinVolume, gas.MaxVolume)
	units.Between(&c, "hose_volume", hose, 0, gas.MaxVolume)
	units.Between(&c, field, pressure, 0, gas.MaxFill)
	return c.Err()
}
