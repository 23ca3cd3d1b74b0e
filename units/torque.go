package units

// Torque is a torque, stored in newton metres. It has the dimension of an
// [Energy] but is not one, and no conversion is offered.
type Torque float64

// Units of torque.
const (
	NewtonMetre    Torque = 1
	PoundForceInch Torque = lbf * inch
	PoundForceFoot Torque = lbf * foot
)

// NewtonMetres returns the torque in N·m.
func (t Torque) NewtonMetres() float64 { return float64(t) }

// PoundForceInches returns the torque in lbf·in.
func (t Torque) PoundForceInches() float64 { return float64(t / PoundForceInch) }

// PoundForceFeet returns the torque in lbf·ft.
func (t Torque) PoundForceFeet() float64 { return float64(t / PoundForceFoot) }

var torqueCodec = codec{kind: "torque", goal: "Torque", si: 0, units: []unit{
	{symbols: []string{"N·m", "N.m", "N m"}, scale: 1},
	{symbols: []string{"lbf·in", "lbf.in", "lbf in"}, scale: float64(PoundForceInch)},
	{symbols: []string{"lbf·ft", "lbf.ft", "lbf ft"}, scale: float64(PoundForceFoot)},
},
	metric: shown{"N·m", 1}, customary: shown{"lbf·in", 0},
}
