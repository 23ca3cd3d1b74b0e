package units

// StandardGravity is the conventional acceleration of free fall in m/s², exactly 9.80665 (3rd CGPM,
// 1901; NIST SP 811, appendix B).
const StandardGravity = 9.80665

// The exact definitions that every customary unit is derived from. As untyped constants they are
// rounded once, where they are used. Inch and pound: international yard and pound agreement of
// 1959, exact (NIST SP 811, appendix B).
const (
	inch  = 0.0254                  // m
	foot  = 12 * inch               // m
	pound = 0.45359237              // kg
	ounce = pound / 16              // kg
	lbf   = pound * StandardGravity // N
	kgf   = StandardGravity         // N
	psi   = lbf / (inch * inch)     // Pa
	atm   = 101325                  // Pa, exact
	bar   = 1e5                     // Pa, exact
)

// Mass is a mass, stored in kilograms. The pound is exactly 0.45359237 kg and the ounce a sixteenth
// of it (yard and pound agreement of 1959). "lb" is always a mass; the force is "lbf".
type Mass float64

// Units of mass; all exact.
const (
	Kilogram Mass = 1
	Gram     Mass = 1e-3
	Pound    Mass = pound
	Ounce    Mass = ounce
)

// Kilograms returns the mass in kg.
func (m Mass) Kilograms() float64 { return float64(m) }

// Weight returns the force that standard gravity exerts on the mass: m · 9.80665 m/s².
func (m Mass) Weight() Force { return Force(float64(m) * StandardGravity) }

var massCodec = codec{kind: "mass", goal: "Mass", metric: shown{"kg", 1}, customary: shown{"lb", 1}, units: []unit{
	{symbols: []string{"kg"}, anyCase: []string{"kg", "kgs", "kilo", "kilos"}, scale: 1},
	{symbols: []string{"g"}, anyCase: []string{"gram", "grams"}, scale: float64(Gram)},
	{symbols: []string{"lb"}, anyCase: []string{"lb", "lbs", "lbm", "pound", "pounds"}, scale: float64(Pound)},
	{symbols: []string{"oz"}, anyCase: []string{"oz", "ounce", "ounces"}, scale: float64(Ounce)},
}}

// Density is mass per volume, stored in kilograms per cubic metre.
type Density float64

// Units of density; both exact.
const (
	KilogramPerCubicMetre  Density = 1
	GramPerCubicCentimetre Density = 1e3
)

var densityCodec = codec{kind: "density", goal: "Density", metric: shown{"kg/m³", 0}, units: []unit{
	{symbols: []string{"kg/m³", "kg/m3"}, also: []string{"kg/m^3"}, scale: 1},
	{symbols: []string{"g/cm³", "g/cm3"}, also: []string{"g/cm^3", "g/cc"}, scale: float64(GramPerCubicCentimetre)},
}}

// Force is a force, stored in newtons. The pound-force is exactly 0.45359237 · 9.80665 N and the
// kilogram-force exactly 9.80665 N (NIST SP 811, appendix B).
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

// PoundsForce returns the force in lbf.
func (f Force) PoundsForce() float64 { return float64(f / PoundForce) }

// Mass returns the mass whose weight under standard gravity is f: f/9.80665 m/s².
func (f Force) Mass() Mass { return Mass(float64(f) / StandardGravity) }

var forceCodec = codec{kind: "force", goal: "Force", metric: shown{"N", 0}, customary: shown{"lbf", 1}, units: []unit{
	{symbols: []string{"N"}, scale: 1},
	{symbols: []string{"kN"}, also: []string{"KN"}, scale: float64(Kilonewton)},
	{symbols: []string{"lbf"}, anyCase: []string{"lbf", "lbsf"}, scale: float64(PoundForce)},
	{symbols: []string{"kgf"}, anyCase: []string{"kgf"}, scale: float64(KilogramForce)},
}}

// Stiffness is a linear spring rate, force per travel, stored in newtons per metre.
type Stiffness float64

// Units of stiffness.
const (
	NewtonPerMetre             Stiffness = 1
	NewtonPerMillimetre        Stiffness = 1e3
	PoundForcePerInch          Stiffness = lbf / inch
	KilogramForcePerMillimetre Stiffness = kgf * 1e3
)

// NewtonsPerMillimetre returns the rate in N/mm.
func (k Stiffness) NewtonsPerMillimetre() float64 { return float64(k / NewtonPerMillimetre) }

// PoundsForcePerInch returns the rate in lbf/in.
func (k Stiffness) PoundsForcePerInch() float64 { return float64(k / PoundForcePerInch) }

// Times returns the force of a linear spring of rate k compressed by x: k·x.
func (k Stiffness) Times(x Length) Force { return Force(float64(k) * float64(x)) }

var stiffnessCodec = codec{kind: "stiffness", goal: "Stiffness", metric: shown{"N/mm", 2}, customary: shown{"lbf/in", 0}, units: []unit{
	{symbols: []string{"N/mm"}, also: []string{"N/MM", "n/mm"}, scale: float64(NewtonPerMillimetre)},
	{symbols: []string{"N/m"}, scale: 1},
	// A spring's rate in "lb/in" or "kg/mm" means pounds-force and kilograms-force: common practice.
	{symbols: []string{"lbf/in"}, anyCase: []string{"lbf/in", "lb/in", "lbs/in", "lbf/inch", "lb/inch", "lbs/inch"}, scale: float64(PoundForcePerInch)},
	{symbols: []string{"kgf/mm"}, also: []string{"kg/mm", "KG/MM", "KGF/MM"}, scale: float64(KilogramForcePerMillimetre)},
}}

// Damping is the coefficient of a linear damper, force per speed, stored in newton seconds per metre.
type Damping float64

// Units of damping.
const (
	NewtonSecondPerMetre      Damping = 1
	NewtonSecondPerMillimetre Damping = 1e3
	PoundForceSecondPerInch   Damping = lbf / inch
)

var dampingCodec = codec{kind: "damping", goal: "Damping", metric: shown{"N·s/m", 0}, customary: shown{"lbf·s/in", 2}, units: []unit{
	{symbols: []string{"N·s/m", "N.s/m", "N s/m"}, also: []string{"Ns/m", "N*s/m"}, scale: 1},
	{symbols: []string{"N·s/mm", "N.s/mm", "N s/mm"}, also: []string{"Ns/mm", "N*s/mm"}, scale: float64(NewtonSecondPerMillimetre)},
	{symbols: []string{"lbf·s/in", "lbf.s/in", "lbf s/in"}, also: []string{"lbf*s/in", "lb·s/in", "lb*s/in", "lb s/in"}, scale: float64(PoundForceSecondPerInch)},
}}

// Torque is a torque, stored in newton metres. It has the dimension of an [Energy] but is not one,
// and no conversion is offered.
type Torque float64

// Units of torque.
const (
	NewtonMetre    Torque = 1
	PoundForceInch Torque = lbf * inch
	PoundForceFoot Torque = lbf * foot
)

var torqueCodec = codec{kind: "torque", goal: "Torque", metric: shown{"N·m", 1}, customary: shown{"lbf·in", 0}, units: []unit{
	{symbols: []string{"N·m", "N.m", "N m"}, also: []string{"Nm", "N*m", "N-m"}, scale: 1},
	{symbols: []string{"lbf·in", "lbf.in", "lbf in"}, scale: float64(PoundForceInch)},
	{symbols: []string{"lbf·ft", "lbf.ft", "lbf ft"}, scale: float64(PoundForceFoot)},
}}

// Energy is an energy or a work, stored in joules.
type Energy float64

// Units of energy.
const (
	Joule          Energy = 1
	Kilojoule      Energy = 1e3
	FootPoundForce Energy = foot * lbf
)

// Joules returns the energy in J.
func (e Energy) Joules() float64 { return float64(e) }

var energyCodec = codec{kind: "energy", goal: "Energy", metric: shown{"J", 0}, customary: shown{"ft·lbf", 0}, units: []unit{
	{symbols: []string{"J"}, scale: 1},
	{symbols: []string{"kJ"}, also: []string{"KJ"}, scale: float64(Kilojoule)},
	{symbols: []string{"ft·lbf", "ft.lbf", "ft lbf"}, scale: float64(FootPoundForce)},
}}
