package units

// Temperature is a thermodynamic temperature, stored in kelvin. Text below
// absolute zero is refused. Differences of temperature are not modelled.
type Temperature float64

// Kelvin is the unit of temperature. Degrees have a zero of their own, so
// they are functions: [Celsius], [Fahrenheit].
const Kelvin Temperature = 1

// The zeros of the two degree scales, exact: t/°C = T/K − 273.15 and
// t/°F = 1.8·T/K − 459.67 (NIST SP 811, appendix B).
const (
	celsiusZero      = 273.15
	fahrenheitZero   = 459.67
	fahrenheitDegree = 1 / 1.8
)

// Celsius returns the temperature t °C.
func Celsius(t float64) Temperature { return Temperature(t + celsiusZero) }

// Fahrenheit returns the temperature t °F.
func Fahrenheit(t float64) Temperature {
	return Temperature((t + fahrenheitZero) * fahrenheitDegree)
}

// Kelvin returns the temperature in K.
func (t Temperature) Kelvin() float64 { return float64(t) }

// Celsius returns the temperature in °C.
func (t Temperature) Celsius() float64 { return float64(t) - celsiusZero }

// Fahrenheit returns the temperature in °F.
func (t Temperature) Fahrenheit() float64 { return float64(t)/fahrenheitDegree - fahrenheitZero }

var temperatureCodec = codec{kind: "temperature", goal: "Temperature", si: 1, floor: "below absolute zero", units: []unit{
	{symbols: []string{"°C", "degC"}, scale: 1, zero: celsiusZero},
	{symbols: []string{"K"}, scale: 1},
	{symbols: []string{"°F", "degF"}, scale: fahrenheitDegree, zero: fahrenheitZero},
},
	metric: shown{"°C", 1}, customary: shown{"°F", 1},
}
