package units

// Speed is a speed, stored in metres per second. The hour is exactly 3600 s and the mile 5280 ft.
type Speed float64

// Units of speed.
const (
	MetrePerSecond      Speed = 1
	MillimetrePerSecond Speed = 1e-3
	InchPerSecond       Speed = inch
	KilometrePerHour    Speed = 1 / 3.6
	MilePerHour         Speed = 5280 * foot / 3600
)

// MetresPerSecond returns the speed in m/s.
func (v Speed) MetresPerSecond() float64 { return float64(v) }

// KilometresPerHour returns the speed in km/h.
func (v Speed) KilometresPerHour() float64 { return float64(v / KilometrePerHour) }

var speedCodec = codec{kind: "speed", goal: "Speed", metric: shown{"m/s", 2}, customary: shown{"in/s", 1}, units: []unit{
	{symbols: []string{"m/s"}, scale: 1},
	{symbols: []string{"mm/s"}, scale: float64(MillimetrePerSecond)},
	{symbols: []string{"in/s"}, scale: float64(InchPerSecond)},
	{symbols: []string{"km/h"}, scale: float64(KilometrePerHour)},
	{symbols: []string{"mph"}, scale: float64(MilePerHour)},
}}
