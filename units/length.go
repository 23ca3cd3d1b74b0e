package units

// Length is a length or a travel, stored in metres. The inch is exactly
// 25.4 mm and the foot exactly 12 in (yard and pound agreement of 1959).
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

// Centimetres returns the length in cm.
func (l Length) Centimetres() float64 { return float64(l / Centimetre) }

// Millimetres returns the length in mm.
func (l Length) Millimetres() float64 { return float64(l / Millimetre) }

// Inches returns the length in in.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Feet returns the length in ft.
func (l Length) Feet() float64 { return float64(l / Foot) }

var lengthCodec = codec{kind: "length", goal: "Length", si: 2, units: []unit{
	{symbols: []string{"mm"}, scale: float64(Millimetre)},
	{symbols: []string{"cm"}, scale: float64(Centimetre)},
	{symbols: []string{"m"}, scale: 1},
	{symbols: []string{"in"}, scale: float64(Inch)},
	{symbols: []string{"ft"}, scale: float64(Foot)},
},
	metric: shown{"mm", 1}, customary: shown{"in", 2},
}
