package units

// Frequency is a frequency in cycles per second, stored in hertz.
type Frequency float64

// Hertz is the unit of frequency.
const Hertz Frequency = 1

// Hertz returns the frequency in Hz.
func (f Frequency) Hertz() float64 { return float64(f) }

var frequencyCodec = codec{kind: "frequency", goal: "Frequency", si: 0, units: []unit{
	{symbols: []string{"Hz"}, scale: 1},
},
	metric: shown{"Hz", 2},
}
