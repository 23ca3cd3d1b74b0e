package units

// GaugePressure is pressure above ambient, as a pump's gauge shows it, stored in pascals. It is
// negative below ambient. Converting to an [AbsolutePressure] needs the ambient pressure.
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

// Bar returns the gauge pressure in bar.
func (p GaugePressure) Bar() float64 { return float64(p / bar) }

// PSI returns the gauge pressure in psi.
func (p GaugePressure) PSI() float64 { return float64(p / psi) }

// Absolute returns the pressure above vacuum: p plus the ambient pressure.
func (p GaugePressure) Absolute(ambient AbsolutePressure) AbsolutePressure {
	return AbsolutePressure(p) + ambient
}

// AbsolutePressure is pressure above vacuum, stored in pascals. Parsing and writing refuse values
// below 0.
type AbsolutePressure float64

// Units of absolute pressure. StandardAtmosphere is exactly 101 325 Pa (10th CGPM, 1954).
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

// Gauge returns the pressure above ambient: p minus the ambient pressure.
func (p AbsolutePressure) Gauge(ambient AbsolutePressure) GaugePressure {
	return GaugePressure(p - ambient)
}

var gaugePressureCodec = codec{kind: "gauge pressure", goal: "GaugePressure", metric: shown{"bar", 2}, customary: shown{"psi", 1}, units: []unit{
	{symbols: []string{"kPa(g)", "kPa"}, anyCase: []string{"kPa(g)", "kPa"}, scale: 1e3},
	{symbols: []string{"bar", "bar(g)"}, anyCase: []string{"bar", "bars", "bar(g)"}, scale: bar},
	{symbols: []string{"psi", "psig"}, anyCase: []string{"psi", "psig", "psi(g)"}, scale: psi},
	{symbols: []string{"MPa(g)"}, scale: 1e6},
	{symbols: []string{"Pa(g)"}, scale: 1},
}}

var absolutePressureCodec = codec{kind: "absolute pressure", goal: "AbsolutePressure", floor: "below vacuum", metric: shown{"kPa(a)", 1}, customary: shown{"psia", 2}, units: []unit{
	{symbols: []string{"kPa(a)"}, anyCase: []string{"kPa(a)"}, scale: float64(KilopascalAbsolute)},
	{symbols: []string{"Pa(a)"}, scale: 1},
	{symbols: []string{"bar(a)"}, anyCase: []string{"bar(a)", "bara"}, scale: float64(BarAbsolute)},
	{symbols: []string{"psia"}, anyCase: []string{"psia", "psi(a)"}, scale: float64(PSIAbsolute)},
	{symbols: []string{"atm(a)"}, anyCase: []string{"atm(a)"}, scale: float64(StandardAtmosphere)},
}}

// Stress is a mechanical stress or an elastic modulus, stored in pascals. It is neither of the two
// fluid pressures, [GaugePressure] and [AbsolutePressure].
type Stress float64

// Units of stress. The pound-force per square inch is exact, Kpsi a thousand and Mpsi a million of
// them, as handbooks of machine design print them. For the psi of a gauge see [PSIGauge].
const (
	Pascal                  Stress = 1
	Kilopascal              Stress = 1e3
	Megapascal              Stress = 1e6
	Gigapascal              Stress = 1e9
	PoundForcePerSquareInch Stress = psi
	Kpsi                    Stress = psi * 1e3
	Mpsi                    Stress = psi * 1e6
)

// Megapascals returns the stress in MPa, which is also N/mm².
func (s Stress) Megapascals() float64 { return float64(s / Megapascal) }

var stressCodec = codec{kind: "stress", goal: "Stress", metric: shown{"MPa", 0}, customary: shown{"kpsi", 1}, units: []unit{
	{symbols: []string{"MPa"}, also: []string{"Mpa", "N/mm²", "N/mm2"}, scale: float64(Megapascal)},
	{symbols: []string{"Pa"}, scale: 1},
	{symbols: []string{"kPa"}, anyCase: []string{"kPa"}, scale: float64(Kilopascal)},
	{symbols: []string{"GPa"}, anyCase: []string{"GPa"}, scale: float64(Gigapascal)},
	{symbols: []string{"psi"}, anyCase: []string{"psi"}, scale: float64(PoundForcePerSquareInch)},
	{symbols: []string{"kpsi"}, anyCase: []string{"kpsi", "ksi"}, scale: float64(Kpsi)},
	{symbols: []string{"Mpsi"}, also: []string{"Msi"}, scale: float64(Mpsi)},
}}
