package units

import "testing"

// Text that must come back to the last bit falls back on a unit of factor 1.
func TestFallBackUnitsAreSI(t *testing.T) {
	for _, c := range []*codec{
		&lengthCodec, &areaCodec, &volumeCodec, &massCodec, &densityCodec, &timeCodec, &frequencyCodec, &angleCodec, &forceCodec,
		&stiffnessCodec, &energyCodec, &torqueCodec, &gaugePressureCodec, &absolutePressureCodec, &stressCodec, &temperatureCodec, &ratioSlopeCodec,
	} {
		if u := c.fallback(); u.scale != 1 || u.zero != 0 {
			t.Errorf("%s falls back on %s", c.kind, u.symbols[0])
		}
	}
}
