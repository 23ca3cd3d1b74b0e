package airspring

import (
	"testing"

	"example.com/wheelrate/units/unitstest"
)

// The gas states of table A2 of Lemmon and others (J. Phys. Chem. Ref. Data 29
// (2000) 331), as quoted in the public test data of a property library: K, Pa,
// density in mol/dm³, c_v and c_p in J/(mol K), with half a unit of the last
// digit printed.
func TestLemmonPrinted(t *testing.T) {
	for _, r := range []struct{ kelvin, pascals, density, half, cv, cp float64 }{
		{100, 101325, 0.12449, 5e-6, 21.09, 30.13},
		{130, 1e6, 1.0295, 5e-5, 22.05, 34.69},
		{500, 0.2e6, 0.048077, 5e-7, 21.51, 29.84},
		{2000, 10e6, 0.59094, 5e-6, 27.93, 36.25},
	} {
		density := airDensity(r.pascals, r.kelvin)
		unitstest.Near(t, "density", density/1000, r.density, unitstest.Abs(r.half))
		unitstest.Near(t, "pressure", airPressure(density, r.kelvin), r.pascals, unitstest.Rel(1e-12))
		tau := airReference / r.kelvin
		h := residual(density, tau)
		cv := airHeat(h, tau)
		unitstest.Near(t, "cv", cv*airR, r.cv, unitstest.Abs(0.005))
		unitstest.Near(t, "cp", (cv+h.cross()*h.cross()/h.slow())*airR, r.cp, unitstest.Abs(0.005))
	}
}

// Derivatives against differences: entropy by temperature, pressure by density.
func TestLemmonDerivatives(t *testing.T) {
	const kelvin, density, step = 300.0, 800.0, 1e-4
	tau := airReference / kelvin
	h := residual(density, tau)
	ds := (airEntropy(density, kelvin*(1+step)) - airEntropy(density, kelvin*(1-step))) / (2 * step)
	unitstest.Near(t, "cv", airHeat(h, tau), ds, unitstest.Rel(1e-7))
	dp := (airPressure(density*(1+step), kelvin) - airPressure(density*(1-step), kelvin)) / (2 * step * density * airR * kelvin)
	unitstest.Near(t, "slow", h.slow(), dp, unitstest.Rel(1e-7))
	dt := (airPressure(density, kelvin*(1+step)) - airPressure(density, kelvin*(1-step))) / (2 * step * density * airR * kelvin)
	unitstest.Near(t, "cross", h.cross(), dt, unitstest.Rel(1e-7))
	// ∂s/∂lnρ is minus the same as ∂p/∂T, by Maxwell's relation.
	maxwell := (airEntropy(density*(1-step), kelvin) - airEntropy(density*(1+step), kelvin)) / (2 * step)
	unitstest.Near(t, "cross", h.cross(), maxwell, unitstest.Rel(1e-7))
}
