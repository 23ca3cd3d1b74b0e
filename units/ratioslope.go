package units

// RatioSlope is the change of a ratio along a travel, such as dLR/ds of a
// lever ratio, stored per metre. Its text needs a space: "46 1/m".
type RatioSlope float64

// Units of a ratio's slope; both exact.
const (
	PerMetre      RatioSlope = 1
	PerMillimetre RatioSlope = 1e3
)

// PerMetre returns the slope in 1/m.
func (r RatioSlope) PerMetre() float64 { return float64(r) }

// PerMillimetre returns the slope in 1/mm.
func (r RatioSlope) PerMillimetre() float64 { return float64(r / PerMillimetre) }

var ratioSlopeCodec = codec{kind: "slope of a ratio", goal: "RatioSlope", si: 0, units: []unit{
	{symbols: []string{"1/m"}, scale: 1},
},
	metric: shown{"1/m", 2},
}
