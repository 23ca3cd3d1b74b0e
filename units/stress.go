package units

// Stress is a mechanical stress or an elastic modulus, stored in pascals. It
// is neither of the two fluid pressures, [GaugePressure] and [AbsolutePressure].
type Stress float64

// Units of stress. The pound-force per square inch is exact, Kpsi a thousand and
// Mpsi a million of them, as handbooks of machine design print them. It is not
// called PSI, which to most people is what a gauge shows: see [PSIGauge].
const (
	Pascal                  Stress = 1
	Kilopascal              Stress = 1e3
	Megapascal              Stress = 1e6
	Gigapascal              Stress = 1e9
	PoundForcePerSquareInch Stress = psi
	Kpsi                    Stress = psi * 1e3
	Mpsi                    Stress = psi * 1e6
)

// Pascals returns the stress in Pa.
func (s Stress) Pascals() float64 { return float64(s) }

// Kilopascals returns the stress in kPa.
func (s Stress) Kilopascals() float64 { return float64(s / Kilopascal) }

// Megapascals returns the stress in MPa, which is also N/mm².
func (s Stress) Megapascals() float64 { return float64(s / Megapascal) }

// Gigapascals returns the stress in GPa.
func (s Stress) Gigapascals() float64 { return float64(s / Gigapascal) }

// PSI returns the stress in psi.
func (s Stress) PSI() float64 { return float64(s / PoundForcePerSquareInch) }

// Kpsi returns the stress in thousands of psi.
func (s Stress) Kpsi() float64 { return float64(s / Kpsi) }

// Mpsi returns the stress in millions of psi.
func (s Stress) Mpsi() float64 { return float64(s / Mpsi) }

var stressCodec = codec{kind: "stress", goal: "Stress", si: 1, units: []unit{
	{symbols: []string{"MPa"}, scale: float64(Megapascal)},
	{symbols: []string{"Pa"}, scale: 1},
	{symbols: []string{"kPa"}, scale: float64(Kilopascal)},
	{symbols: []string{"GPa"}, scale: float64(Gigapascal)},
	{symbols: []string{"psi"}, scale: float64(PoundForcePerSquareInch)},
	{symbols: []string{"kpsi"}, scale: float64(Kpsi)},
	{symbols: []string{"Mpsi"}, scale: float64(Mpsi)},
},
	metric: shown{"MPa", 0}, customary: shown{"kpsi", 1},
}
