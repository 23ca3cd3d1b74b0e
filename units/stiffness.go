package units

// Stiffness is a linear spring rate, force per travel, stored in newtons per
// metre.
type Stiffness float64

// Units of stiffness.
const (
	NewtonPerMetre             Stiffness = 1
	NewtonPerMillimetre        Stiffness = 1e3
	PoundForcePerInch          Stiffness = lbf / inch
	KilogramForcePerMillimetre Stiffness = kgf * 1e3
)

// NewtonsPerMetre returns the rate in N/m.
func (k Stiffness) NewtonsPerMetre() float64 { return float64(k) }

// NewtonsPerMillimetre returns the rate in N/mm.
func (k Stiffness) NewtonsPerMillimetre() float64 { return float64(k / NewtonPerMillimetre) }

// PoundsForcePerInch returns the rate in lbf/in.
func (k Stiffness) PoundsForcePerInch() float64 { return float64(k / PoundForcePerInch) }

// KilogramsForcePerMillimetre returns the rate in kgf/mm.
func (k Stiffness) KilogramsForcePerMillimetre() float64 {
	return float64(k / KilogramForcePerMillimetre)
}

// Times returns the force of a linear spring of rate k compressed by x: k·x.
func (k Stiffness) Times(x Length) Force { return Force(float64(k) * float64(x)) }

var stiffnessCodec = codec{kind: "stiffness", goal: "Stiffness", si: 1, units: []unit{
	{symbols: []string{"N/mm"}, scale: float64(NewtonPerMillimetre)},
	{symbols: []string{"N/m"}, scale: 1},
	{symbols: []string{"lbf/in"}, scale: float64(PoundForcePerInch)},
	{symbols: []string{"kgf/mm"}, scale: float64(KilogramForcePerMillimetre)},
},
	metric: shown{"N/mm", 2}, customary: shown{"lbf/in", 0},
}
