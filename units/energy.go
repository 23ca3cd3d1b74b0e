package units

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

// Kilojoules returns the energy in kJ.
func (e Energy) Kilojoules() float64 { return float64(e / Kilojoule) }

// FootPoundsForce returns the energy in ft·lbf.
func (e Energy) FootPoundsForce() float64 { return float64(e / FootPoundForce) }

var energyCodec = codec{kind: "energy", goal: "Energy", si: 0, units: []unit{
	{symbols: []string{"J"}, scale: 1},
	{symbols: []string{"kJ"}, scale: float64(Kilojoule)},
	{symbols: []string{"ft·lbf", "ft.lbf", "ft lbf"}, scale: float64(FootPoundForce)},
},
	metric: shown{"J", 0}, customary: shown{"ft·lbf", 0},
}
