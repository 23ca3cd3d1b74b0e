package airspring

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/diff/fd"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The model's force is that of New, and its derivatives are those of its force,
// by central differences.
func TestFitModel(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for i := range 200 {
		spec := Spec{
			Bore: units.Length(0.03 + 0.02*rng.Float64()), Travel: units.Length(0.05 + 0.1*rng.Float64()),
			Ambient: SeaLevel, Exponent: 1 + rng.Float64(),
		}
		if i%2 == 0 {
			spec.Shaft, spec.NegativeVolume, spec.PortTravel = spec.Bore/3, 30e-6, spec.Travel*units.Length(0.2*rng.Float64())
		}
		if i%5 == 0 { // as large as may be, where the derivatives by the volume are not lost beside the others
			spec.Bore, spec.Travel, spec.Shaft, spec.PortTravel, spec.NegativeVolume = 20*spec.Bore, 10*spec.Travel, 20*spec.Shaft, 10*spec.PortTravel, 2000*spec.NegativeVolume
		}
		spec.PositiveVolume = units.Volume(spec.sweep(spec.Travel) * (1.1 + rng.Float64()))
		p := 3e5 + 20e5*rng.Float64()
		m := newFitModel(&spec)
		v := m.variables([unknowns]float64{p, float64(spec.PositiveVolume), spec.Exponent})
		x := float64(spec.Travel) * rng.Float64()
		law := newSpring(&spec, p)
		force := float64(law.Force(units.Length(x)))
		k := m.look(x, m.unknowns(v))
		unitstest.Near(t, "force", k.force, force, unitstest.Rel(1e-10), unitstest.Abs(1e-8))
		unitstest.Near(t, "gas", m.gas(x, m.unknowns(v))-m.outside, force, unitstest.Rel(1e-10), unitstest.Abs(1e-8))
		for a := range unknowns {
			at := func(shift float64, f func(look) float64) float64 {
				w := v
				w[a] += shift
				return f(m.look(x, m.unknowns(w)))
			}
			central := &fd.Settings{Formula: fd.Central, Step: 1e-5}
			first := fd.Derivative(func(d float64) float64 { return at(d, func(k look) float64 { return k.force }) }, 0, central)
			unitstest.Near(t, "first derivative", k.first[a], first, unitstest.Abs(1e-7*p*m.area))
			for b := a; b < unknowns; b++ {
				second := fd.Derivative(func(d float64) float64 { return at(d, func(k look) float64 { return k.first[b] }) }, 0, central)
				unitstest.Near(t, "second derivative", k.second[b][a], second, unitstest.Abs(1e-6*p*m.area))
			}
		}
		back := m.unknowns(v)
		unitstest.Near(t, "fill", back[fill], p, unitstest.Rel(1e-13))
		unitstest.Near(t, "volume", back[volume], float64(spec.PositiveVolume), unitstest.Rel(1e-13))
		for a := range unknowns {
			up, down := v, v
			up[a] += 1e-6
			down[a] -= 1e-6
			unitstest.Near(t, "size", m.size(a, back), (m.unknowns(up)[a]-m.unknowns(down)[a])/2e-6, unitstest.Rel(1e-6))
		}
	}
}
