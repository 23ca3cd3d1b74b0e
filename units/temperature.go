package units

// Temperature is a thermodynamic temperature, stored in kelvin. Parsing and writing refuse values
// below absolute zero. Differences of temperature are not modelled.
type Temperature float64

// Kelvin is the unit of temperature. Degrees have a zero of their own, so they are functions:
// [Celsius], [Fahrenheit].
const Kelvin Temperature = 1

// The zeros of the two degree scales, exact: t/°C = T/K − 273.15 and t/°F = 1.8·T/K − 459.67 (NIST
// SP 811, appendix B).
const (
	celsiusZero      = 273.15
	fahrenheitZero   = 459.67
	fahrenheitDegree = 1 / 1.8
)

// Celsius returns the temperature t °C.
func Celsius(t float64) Temperature { return Temperature(t + celsiusZero) }

// Fahrenheit returns the temperature t °F.
func Fahrenheit(t float64) Temperature { return Temperature((t + fahrenheitZero) * fahrenheitDegree) }

// Kelvin returns the temperature in K.
func (t Temperature) Kelvin() float64 { return float64(t) }

// Celsius returns the temperature in °C.
func (t Temperature) Celsius() float64 { return float64(t) - celsiusZero }

// Fahrenheit returns the temperature in °F.
func (t Temperature) Fahrenheit() float64 { return float64(t)/fahrenheitDegree - fahrenheitZero }

var temperatureCodec = codec{kind: "temperature", goal: "Temperature", floor: "below absolute zero", metric: shown{"°C", 1}, customary: shown{"°F", 1}, units: []unit{
	{symbols: []string{"°C", "degC"}, also: []string{"C", "ºC", "℃"}, anyCase: []string{"°C", "° C", "deg C", "celsius"}, scale: 1, zero: celsiusZero},
	{symbols: []string{"K"}, scale: 1},
	{symbols: []string{"°F", "degF"}, also: []string{"F", "ºF", "℉"}, anyCase: []string{"°F", "° F", "deg F", "fahrenheit"}, scale: fahrenheitDegree, zero: fahrenheitZero},
}}

// Time is a span of time, stored in seconds.
type Time float64

// Units of time; both exact.
const (
	Second      Time = 1
	Millisecond Time = 1e-3
)

// Seconds returns the time in s.
func (t Time) Seconds() float64 { return float64(t) }

var timeCodec = codec{kind: "time", goal: "Time", metric: shown{"s", 2}, units: []unit{
	{symbols: []string{"s"}, anyCase: []string{"sec", "secs", "second", "seconds"}, scale: 1},
	{symbols: []string{"ms"}, also: []string{"msec"}, scale: float64(Millisecond)},
}}

// Frequency is a frequency in cycles per second, stored in hertz.
type Frequency float64

// Hertz is the unit of frequency.
const Hertz Frequency = 1

// Hertz returns the frequency in Hz.
func (f Frequency) Hertz() float64 { return float64(f) }

var frequencyCodec = codec{kind: "frequency", goal: "Frequency", metric: shown{"Hz", 2}, units: []unit{
	{symbols: []string{"Hz"}, anyCase: []string{"Hz"}, scale: 1},
}}
