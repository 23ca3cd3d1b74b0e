package units

// Force is a force, stored in newtons. The pound-force is exactly
// 0.45359237 · 9.80665 N and the kilogram-force exactly 9.80665 N
// (NIST SP 811, appendix B).
type Force float64

// Units of force; all exact, the pound-force rounded once to a float64.
const (
	Newton        Force = 1
	Kilonewton    Force = 1e3
	PoundForce    Force = lbf
	KilogramForce Force = kgf
)

// Newtons returns the force in N.
func (f Force) Newtons() float64 { return float64(f) }

// Kilonewtons returns the force in kN.
func (f Force) Kilonewtons() float64 { return float64(f / Kilonewton) }

// PoundsForce returns the force in lbf.
func (f Force) PoundsForce() float64 { return float64(f / PoundForce) }

// KilogramsForce returns the force in kgf.
func (f Force) KilogramsForce() float64 { return float64(f / KilogramForce) }

// Mass returns the mass whose weight under standard gravity is f: f/9.80665 m/s².
func (f Force) Mass() Mass { return Mass(float64(f) / StandardGravity) }

var forceCodec = codec{kind: "force", goal: "Force", si: 0, units: []unit{
	{symbols: []string{"N"}, scale: 1},
	{symbols: []string{"kN"}, scale: float64(Kilonewton)},
	{symbols: []string{"lbf"}, scale: float64(PoundForce)},
	{symbols: []string{"kgf"}, scale: float64(KilogramForce)},
},
	metric: shown{"N", 0}, customary: shown{"lbf", 1},
}
