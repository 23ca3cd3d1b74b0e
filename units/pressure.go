package units

// GaugePressure is pressure above the ambient, as a pump's gauge shows it,
// stored in pascals. It is not an [AbsolutePressure]: converting needs the
// ambient. Negative values mean less than ambient.
type GaugePressure float64

// PascalGauge returns p pascals above ambient.
func PascalGauge(p float64) GaugePressure { return GaugePressure(p) }

// KilopascalGauge returns p kPa above ambient.
func KilopascalGauge(p float64) GaugePressure { return GaugePressure(p * 1e3) }

// BarGauge returns p bar above ambient.
func BarGauge(p float64) GaugePressure { return GaugePressure(p * bar) }

// PSIGauge returns p psi above ambient; 1 psi is exactly 1 lbf/in².
func PSIGauge(p float64) GaugePressure { return GaugePressure(p * psi) }

// Pascals returns the gauge pressure in Pa.
func (p GaugePressure) Pascals() float64 { return float64(p) }

// Kilopascals returns the gauge pressure in kPa.
func (p GaugePressure) Kilopascals() float64 { return float64(p / 1e3) }

// Bar returns the gauge pressure in bar.
func (p GaugePressure) Bar() float64 { return float64(p / bar) }

// PSI returns the gauge pressure in psi.
func (p GaugePressure) PSI() float64 { return float64(p / psi) }

// Absolute returns the pressure above vacuum where the ambient is as given.
func (p GaugePressure) Absolute(ambient AbsolutePressure) AbsolutePressure {
	return AbsolutePressure(float64(p) + float64(ambient))
}

// AbsolutePressure is pressure above vacuum, stored in pascals. Text below 0
// is refused.
type AbsolutePressure float64

// Units of absolute pressure. StandardAtmosphere is exactly 101 325 Pa
// (10th CGPM, 1954).
const (
	PascalAbsolute     AbsolutePressure = 1
	KilopascalAbsolute AbsolutePressure = 1e3
	BarAbsolute        AbsolutePressure = bar
	PSIAbsolute        AbsolutePressure = psi
	StandardAtmosphere AbsolutePressure = atm
)

// Pascals returns the absolute pressure in Pa.
func (p AbsolutePressure) Pascals() float64 { return float64(p) }

// Kilopascals returns the absolute pressure in kPa.
func (p AbsolutePressure) Kilopascals() float64 { return float64(p / KilopascalAbsolute) }

// Bar returns the absolute pressure in bar.
func (p AbsolutePressure) Bar() float64 { return float64(p / BarAbsolute) }

// PSI returns the absolute pressure in psi.
func (p AbsolutePressure) PSI() float64 { return float64(p / PSIAbsolute) }

// Atmospheres returns the absolute pressure in standard atmospheres.
func (p AbsolutePressure) Atmospheres() float64 { return float64(p / StandardAtmosphere) }

// Gauge returns what a gauge shows where the ambient is as given.
func (p AbsolutePressure) Gauge(ambient AbsolutePressure) GaugePressure {
	return GaugePressure(float64(p) - float64(ambient))
}

var gaugePressureCodec = codec{kind: "gauge pressure", goal: "GaugePressure", si: 4, units: []unit{
	{symbols: []string{"kPa(g)", "kPa"}, scale: 1e3},
	{symbols: []string{"bar", "bar(g)"}, scale: bar},
	{symbols: []string{"psi", "psig"}, scale: psi},
	{symbols: []string{"MPa(g)"}, scale: 1e6},
	{symbols: []string{"Pa(g)"}, scale: 1},
},
	metric: shown{"bar", 2}, customary: shown{"psi", 1},
}

var absolutePressureCodec = codec{kind: "absolute pressure", goal: "AbsolutePressure", si: 1, floor: "below vacuum", units: []unit{
	{symbols: []string{"kPa(a)"}, scale: float64(KilopascalAbsolute)},
	{symbols: []string{"Pa(a)"}, scale: 1},
	{symbols: []string{"bar(a)"}, scale: float64(BarAbsolute)},
	{symbols: []string{"psia"}, scale: float64(PSIAbsolute)},
	{symbols: []string{"atm(a)"}, scale: float64(StandardAtmosphere)},
},
	metric: shown{"kPa(a)", 1}, customary: shown{"psia", 2},
}
