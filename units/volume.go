package units

// Volume is a volume, stored in cubic metres.
type Volume float64

// Units of volume; all exact. The litre is 1 dm³ (12th CGPM, 1964).
const (
	CubicMetre      Volume = 1
	Litre           Volume = 1e-3
	CubicCentimetre Volume = 1e-6
	Millilitre      Volume = 1e-6
	CubicMillimetre Volume = 1e-9
	CubicInch       Volume = inch * inch * inch
)

// CubicMetres returns the volume in m³.
func (v Volume) CubicMetres() float64 { return float64(v) }

// Litres returns the volume in l.
func (v Volume) Litres() float64 { return float64(v / Litre) }

// CubicCentimetres returns the volume in cm³, which is also ml.
func (v Volume) CubicCentimetres() float64 { return float64(v / CubicCentimetre) }

// Millilitres returns the volume in ml, which is also cm³.
func (v Volume) Millilitres() float64 { return float64(v / Millilitre) }

// CubicMillimetres returns the volume in mm³.
func (v Volume) CubicMillimetres() float64 { return float64(v / CubicMillimetre) }

// CubicInches returns the volume in in³.
func (v Volume) CubicInches() float64 { return float64(v / CubicInch) }

var volumeCodec = codec{kind: "volume", goal: "Volume", si: 4, units: []unit{
	{symbols: []string{"cm³", "cm3", "cc"}, scale: float64(CubicCentimetre)},
	{symbols: []string{"mm³", "mm3"}, scale: float64(CubicMillimetre)},
	{symbols: []string{"ml"}, scale: float64(Millilitre)},
	{symbols: []string{"l"}, scale: float64(Litre)},
	{symbols: []string{"m³", "m3"}, scale: 1},
	{symbols: []string{"in³", "in3"}, scale: float64(CubicInch)},
},
	metric: shown{"cm³", 1}, customary: shown{"in³", 2},
}
