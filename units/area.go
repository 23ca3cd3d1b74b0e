package units

// Area is an area, stored in square metres.
type Area float64

// Units of area; all exact.
const (
	SquareMetre      Area = 1
	SquareCentimetre Area = 1e-4
	SquareMillimetre Area = 1e-6
	SquareInch       Area = inch * inch
)

// SquareMetres returns the area in m².
func (a Area) SquareMetres() float64 { return float64(a) }

// SquareCentimetres returns the area in cm².
func (a Area) SquareCentimetres() float64 { return float64(a / SquareCentimetre) }

// SquareMillimetres returns the area in mm².
func (a Area) SquareMillimetres() float64 { return float64(a / SquareMillimetre) }

// SquareInches returns the area in in².
func (a Area) SquareInches() float64 { return float64(a / SquareInch) }

var areaCodec = codec{kind: "area", goal: "Area", si: 2, units: []unit{
	{symbols: []string{"mm²", "mm2"}, scale: float64(SquareMillimetre)},
	{symbols: []string{"cm²", "cm2"}, scale: float64(SquareCentimetre)},
	{symbols: []string{"m²", "m2"}, scale: 1},
	{symbols: []string{"in²", "in2"}, scale: float64(SquareInch)},
},
	metric: shown{"mm²", 1}, customary: shown{"in²", 3},
}
