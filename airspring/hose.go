package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// HoseReading returns the reading of a pump's gauge after its hose, at ambient pressure, is screwed
// on to a filled chamber:
//
//	reading = fill·V/(V + V_h)
//
// where V is the chamber's volume at full extension and V_h that of hose and gauge. A reading below
// the last fill is therefore no sign of a leak. A chamber topped up to a reading keeps that pressure
// when the hose is unscrewed, if its valve shuts first: the air that escapes is the hose's.
//
// The chamber is from 1 mm³ to 1 m³, the hose from 0 to 1 m³, the fill from 0 to [MaxFill]. The error
// names every bad field. The equation follows from the mass balance of an ideal gas as warm as its
// surroundings; the check values were computed in 40 digits.
func HoseReading(chamber, hose units.Volume, fill units.GaugePressure) (units.GaugePressure, error) {
	return withHose(chamber, hose, "fill", fill, chamber/(chamber+hose))
}

// HoseFill returns the fill that a chamber had before a pump was screwed on, from the pump's first
// reading: reading·(V + V_h)/V. It is the inverse of [HoseReading] and has the same limits.
func HoseFill(chamber, hose units.Volume, reading units.GaugePressure) (units.GaugePressure, error) {
	return withHose(chamber, hose, "reading", reading, (chamber+hose)/chamber)
}

// withHose returns a pressure times a factor.
func withHose(chamber, hose units.Volume, field string, pressure units.GaugePressure, factor units.Volume) (units.GaugePressure, error) {
	c := units.Checker{Package: "airspring"}
	units.Between(&c, "chamber_volume", chamber, gas.MinVolume, gas.MaxVolume)
	units.Between(&c, "hose_volume", hose, 0, gas.MaxVolume)
	units.Between(&c, field, pressure, 0, gas.MaxFill)
	return units.Checked(&c, pressure*units.GaugePressure(factor))
}
