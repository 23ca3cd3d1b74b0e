package units

// Density is mass per volume, stored in kilograms per cubic metre.
type Density float64

// Units of density; both exact.
const (
	KilogramPerCubicMetre  Density = 1
	GramPerCubicCentimetre Density = 1e3
)

// KilogramsPerCubicMetre returns the density in kg/m³.
func (d Density) KilogramsPerCubicMetre() float64 { return float64(d) }

// GramsPerCubicCentimetre returns the density in g/cm³.
func (d Density) GramsPerCubicCentimetre() float64 { return float64(d / GramPerCubicCentimetre) }

var densityCodec = codec{kind: "density", goal: "Density", si: 0, units: []unit{
	{symbols: []string{"kg/m³", "kg/m3"}, scale: 1},
	{symbols: []string{"g/cm³", "g/cm3"}, scale: float64(GramPerCubicCentimetre)},
},
	metric: shown{"kg/m³", 0},
}
