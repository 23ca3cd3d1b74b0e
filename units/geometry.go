package units

import "math"

// Length is a length or a travel, stored in metres. The inch is exactly 25.4 mm and the foot
// exactly 12 in (yard and pound agreement of 1959).
type Length float64

// Units of length; all exact.
const (
	Metre      Length = 1
	Centimetre Length = 1e-2
	Millimetre Length = 1e-3
	Inch       Length = inch
	Foot       Length = foot
)

// Metres returns the length in m.
func (l Length) Metres() float64 { return float64(l) }

// Millimetres returns the length in mm.
func (l Length) Millimetres() float64 { return float64(l / Millimetre) }

// Inches returns the length in in.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Feet returns the length in ft.
func (l Length) Feet() float64 { return float64(l / Foot) }

var lengthCodec = codec{kind: "length", goal: "Length", metric: shown{"mm", 1}, customary: shown{"in", 2}, units: []unit{
	{symbols: []string{"mm"}, also: []string{"MM"}, scale: float64(Millimetre)},
	{symbols: []string{"cm"}, also: []string{"CM"}, scale: float64(Centimetre)},
	{symbols: []string{"m"}, scale: 1},
	{symbols: []string{"in"}, anyCase: []string{"in", "inch", "inches", `"`, "″"}, scale: float64(Inch)},
	{symbols: []string{"ft"}, anyCase: []string{"ft", "foot", "feet"}, scale: float64(Foot)},
}}

// Area is an area, stored in square metres.
type Area float64

// Units of area; all exact.
const (
	SquareMetre      Area = 1
	SquareCentimetre Area = 1e-4
	SquareMillimetre Area = 1e-6
	SquareInch       Area = inch * inch
)

var areaCodec = codec{kind: "area", goal: "Area", metric: shown{"mm²", 1}, customary: shown{"in²", 3}, units: []unit{
	{symbols: []string{"mm²", "mm2"}, also: []string{"mm^2", "MM²", "MM2"}, scale: float64(SquareMillimetre)},
	{symbols: []string{"cm²", "cm2"}, also: []string{"cm^2", "CM²", "CM2"}, scale: float64(SquareCentimetre)},
	{symbols: []string{"m²", "m2"}, scale: 1},
	{symbols: []string{"in²", "in2"}, anyCase: []string{"in²", "in2", "in^2", "sq in"}, scale: float64(SquareInch)},
}}

// Volume is a volume, stored in cubic metres.
type Volume float64

// Units of volume; all exact. The litre is 1 dm³ (12th CGPM, 1964).
const (
	CubicMetre      Volume = 1
	Litre           Volume = 1e-3
	CubicCentimetre Volume = 1e-6
	CubicMillimetre Volume = 1e-9
	CubicInch       Volume = inch * inch * inch
)

// CubicCentimetres returns the volume in cm³, which is also ml.
func (v Volume) CubicCentimetres() float64 { return float64(v / CubicCentimetre) }

var volumeCodec = codec{kind: "volume", goal: "Volume", metric: shown{"cm³", 1}, customary: shown{"in³", 2}, units: []unit{
	{symbols: []string{"cm³", "cm3", "cc"}, also: []string{"cm^3", "CM³", "CM3", "CC", "ccm"}, scale: float64(CubicCentimetre)},
	{symbols: []string{"mm³", "mm3"}, also: []string{"mm^3", "MM³", "MM3"}, scale: float64(CubicMillimetre)},
	{symbols: []string{"ml"}, also: []string{"mL"}, scale: float64(CubicCentimetre)},
	{symbols: []string{"l"}, also: []string{"L"}, anyCase: []string{"litre", "litres", "liter", "liters"}, scale: float64(Litre)},
	{symbols: []string{"m³", "m3"}, scale: 1},
	{symbols: []string{"in³", "in3"}, anyCase: []string{"in³", "in3", "in^3", "cu in"}, scale: float64(CubicInch)},
}}

// Angle is a plane angle, stored in radians, counter-clockwise positive.
type Angle float64

// Units of angle. The degree is π/180 rad, rounded once to a float64.
const (
	Radian Angle = 1
	Degree Angle = math.Pi / 180
)

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

var angleCodec = codec{kind: "angle", goal: "Angle", tight: true, metric: shown{"°", 2}, units: []unit{
	{symbols: []string{"°", "deg"}, also: []string{"º"}, anyCase: []string{"deg", "degree", "degrees"}, scale: float64(Degree)},
	{symbols: []string{"rad"}, scale: 1},
}}

// RatioSlope is the change of a ratio along a travel, such as dLR/ds of a lever ratio, stored per
// metre. Its text needs a space: "46 1/m".
type RatioSlope float64

// Units of a ratio's slope; both exact.
const (
	PerMetre      RatioSlope = 1
	PerMillimetre RatioSlope = 1e3
)

// PerMetre returns the slope in 1/m.
func (r RatioSlope) PerMetre() float64 { return float64(r) }

var ratioSlopeCodec = codec{kind: "slope of a ratio", goal: "RatioSlope", metric: shown{"1/m", 2}, units: []unit{
	{symbols: []string{"1/m"}, scale: 1},
}}
