package units

// Mass is a mass, stored in kilograms. The pound is exactly 0.45359237 kg and
// the ounce a sixteenth of it (yard and pound agreement of 1959). "lb" is
// always a mass; the force is "lbf".
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

// Grams returns the mass in g.
func (m Mass) Grams() float64 { return float64(m / Gram) }

// Pounds returns the mass in lb.
func (m Mass) Pounds() float64 { return float64(m / Pound) }

// Ounces returns the mass in oz.
func (m Mass) Ounces() float64 { return float64(m / Ounce) }

// Weight returns the force that standard gravity exerts on the mass:
// m · 9.80665 m/s².
func (m Mass) Weight() Force { return Force(float64(m) * StandardGravity) }

var massCodec = codec{kind: "mass", goal: "Mass", si: 0, units: []unit{
	{symbols: []string{"kg"}, scale: 1},
	{symbols: []string{"g"}, scale: float64(Gram)},
	{symbols: []string{"lb"}, scale: float64(Pound)},
	{symbols: []string{"oz"}, scale: float64(Ounce)},
},
	metric: shown{"kg", 1}, customary: shown{"lb", 1},
}
