package evaluate

import (
	"fmt"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// heat is how a gas answers small strokes, and strokes of an amplitude where one is given.
type heat struct {
	small     gas.Response
	amplitude *units.Length
	loop      gas.PressureLoop
}

func airHeat(c *units.Checker, in struct {
	gas.Vibration
	Amplitude *units.Length `json:"amplitude"`
}) heat {
	h := heat{amplitude: in.Amplitude, small: run(c, func() (gas.Response, error) { return gas.Vibrate(in.Vibration) })}
	if in.Amplitude == nil || !units.Positive(c, "amplitude", *in.Amplitude) || !c.OK() {
		return h
	}
	swept := units.Volume(float64(in.Area) * float64(*in.Amplitude))
	if !(swept < 0.99*in.Volume) {
		c.Fail("amplitude", *in.Amplitude, "a stroke that leaves some of the volume", units.ErrConflict)
		return h
	}
	h.loop = run(c, func() (gas.PressureLoop, error) {
		return gas.Oscillate(gas.Oscillation{MeanVolume: in.Volume, Amplitude: swept,
			Fill: in.Fill, Ambient: in.Ambient, HeatRatio: in.HeatRatio, OmegaTau: in.OmegaTau})
	})
	return h
}

// large reports whether strokes of an amplitude are asked for.
func (h heat) large() bool { return h.amplitude != nil }

// pressure is that at the four quarters of a cycle.
func (h heat) pressure() (list []units.AbsolutePressure) {
	for i := range 4 {
		list = append(list, h.loop.Pressure[i*(len(h.loop.Pressure)/4)])
	}
	return list
}

// longest is the most that a time in a case may be.
const longest units.Time = 1e6

// airHold returns the pressures at times after a compression began, which happens at once or evenly
// over the time of a ramp.
func airHold(c *units.Checker, in struct {
	gas.VolumeStep
	Ramp  *units.Time  `json:"ramp"`
	After []units.Time `json:"after"`
}) []units.AbsolutePressure {
	held, err := gas.Hold(in.VolumeStep)
	c.Add("", err)
	for i, t := range in.After {
		if !(t >= 0 && (t <= longest || in.Ramp == nil)) {
			c.Fail(fmt.Sprintf("after[%d]", i), t, units.AtLeast(0).With("and with a ramp at most 1e6 s"), nil)
			break
		}
	}
	if in.Ramp != nil && !(*in.Ramp > 0 && *in.Ramp <= longest) {
		c.Fail("ramp", *in.Ramp, units.MoreThan(0).And(units.AtMost(1e6*units.Second)), nil)
	}
	switch {
	case !c.OK():
		return nil
	case in.Ramp == nil:
		return over(in.After, held.Pressure)
	}
	return over(in.After, func(t units.Time) units.AbsolutePressure { return ramped(c, in.VolumeStep, *in.Ramp, t) })
}

// ramped returns the pressure at a time after a ramp began.
func ramped(c *units.Checker, s gas.VolumeStep, ramp, t units.Time) units.AbsolutePressure {
	if t == 0 {
		return s.Fill.Absolute(s.Ambient)
	}
	h := gas.VolumeHistory{Time: []units.Time{0, min(t, ramp)}, Volume: []units.Volume{s.Volume, s.Volume + (s.ToVolume-s.Volume)*units.Volume(min(t/ramp, 1))},
		Fill: s.Fill, Ambient: s.Ambient, HeatRatio: s.HeatRatio, TimeConstant: s.TimeConstant}
	if t > ramp {
		h.Time, h.Volume = append(h.Time, t), append(h.Volume, s.ToVolume)
	}
	f := run(c, func() (gas.PressureHistory, error) { return gas.Follow(h) })
	if !c.OK() {
		return 0
	}
	return f.Pressure[len(f.Pressure)-1]
}

// realGas is the state of a real gas, or a compression from it where a ratio is given.
type realGas struct {
	state  gas.RealState
	stroke *gas.Compression
}

func airGas(c *units.Checker, in struct {
	Gas         gas.Species            `json:"gas"`
	Pressure    units.AbsolutePressure `json:"pressure"`
	Temperature units.Temperature      `json:"temperature"`
	Ratio       *float64               `json:"ratio"`
}) realGas {
	if in.Ratio == nil {
		return realGas{state: run(c, func() (gas.RealState, error) { return gas.StateAt(in.Gas, in.Pressure, in.Temperature) })}
	}
	stroke := run(c, func() (gas.Compression, error) { return gas.Compress(in.Gas, in.Pressure, in.Temperature, *in.Ratio) })
	return realGas{stroke: &stroke}
}

func (g realGas) stroked() bool { return g.stroke != nil }

func (g realGas) exponent() float64 {
	if g.stroked() {
		return g.stroke.Exponent
	}
	return g.state.EffectiveExponent
}

func heatRatio(in struct {
	Gas         gas.Species            `json:"gas"`
	Pressure    units.AbsolutePressure `json:"pressure"`
	Temperature units.Temperature      `json:"temperature"`
}) (gas.RealState, error) {
	return gas.StateAt(in.Gas, in.Pressure, in.Temperature)
}
