package units

// Time is a span of time, stored in seconds as a float64; unlike
// time.Duration it is not counted in whole nanoseconds.
type Time float64

// Units of time; both exact.
const (
	Second      Time = 1
	Millisecond Time = 1e-3
)

// Seconds returns the time in s.
func (t Time) Seconds() float64 { return float64(t) }

// Milliseconds returns the time in ms.
func (t Time) Milliseconds() float64 { return float64(t / Millisecond) }

var timeCodec = codec{kind: "time", goal: "Time", si: 0, units: []unit{
	{symbols: []string{"s"}, scale: 1},
	{symbols: []string{"ms"}, scale: float64(Millisecond)},
},
	metric: shown{"s", 2},
}
