package coil_test

import (
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestCoilEnds(t *testing.T) {
	// Machinery's Handbook, 31st ed., table 3 on p. 318, worked for n = 5,
	// d = 10 mm, L₀ = 115 mm.
	for _, row := range []struct {
		ends                coil.Ends
		total, solid, pitch float64
	}{
		{coil.Plain, 5, 60, 105.0 / 5}, {coil.PlainGround, 6, 60, 115.0 / 6}, {coil.Squared, 7, 80, 85.0 / 5}, {coil.SquaredGround, 7, 70, 95.0 / 5},
	} {
		spec := shockSpring
		spec.Ends = row.ends
		s := coilOf(t, spec)
		close12(t, string(row.ends)+" total", s.TotalCoils(), row.total)
		close12(t, string(row.ends)+" solid", float64(s.SolidLength()), row.solid*1e-3)
		known[units.Length](t, string(row.ends)+" pitch", row.pitch*1e-3)(s.Pitch())
		known[units.Length](t, string(row.ends)+" solid travel", (115-row.solid)*1e-3)(s.SolidTravel())
		known[units.Force](t, string(row.ends)+" solid force", float64(s.Rate())*(115-row.solid)*1e-3)(s.SolidForce())
	}
}
