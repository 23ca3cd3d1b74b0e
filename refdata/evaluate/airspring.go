package evaluate

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

var airspringComputations = map[string]computation{
	"airspring.law":        airLaw,
	"airspring.fill":       airFill,
	"airspring.topup":      airTopUp,
	"airspring.hose":       airHose,
	"airspring.conditions": airConditions,
	"airspring.atmosphere": airAtmosphere,
	"airspring.polytropic": airPolytropic,
	"airspring.heat":       airHeat,
	"airspring.hold":       airHold,
	"airspring.gas":        airGas,
}

func airLaw(given *input) (Result, error) {
	in, err := decode[struct {
		airspring.Spec
		At []units.Length `json:"at"`
	}](given)
	if err != nil {
		return nil, err
	}
	s, err := airspring.New(in.Spec)
	if err != nil {
		return nil, err
	}
	r := Result{
		"force": over(in.At, s.Force), "rate": over(in.At, s.Rate), "energy": over(in.At, s.Energy),
		"positive_pressure": over(in.At, s.PositivePressure),
		"rest_travel":       s.RestTravel(), "compression_ratio": s.CompressionRatio(),
	}
	if in.NegativeVolume > 0 {
		r["negative_pressure"] = over(in.At, s.NegativePressure)
	}
	if in.SecondVolume > 0 {
		r["opening_travel"] = s.OpeningTravel()
	}
	return r, nil
}

// over lists a function's values at a list of arguments.
func over[X, Y any](at []X, f func(X) Y) []Y {
	list := make([]Y, len(at))
	for i, x := range at {
		list[i] = f(x)
	}
	return list
}

func airFill(given *input) (Result, error) {
	in, err := decode[struct {
		airspring.Spec
		Force units.Force  `json:"force"`
		At    units.Length `json:"at"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	if in.Fill != 0 {
		c.Fail("fill", in.Fill, "no fill: it is what is sought", units.ErrConflict)
		in.Fill = 0
	}
	fill, err := airspring.FillFor(in.Spec, in.Force, in.At)
	if err := besides(&c, err); err != nil {
		return nil, err
	}
	return Result{"fill": fill}, nil
}

func airTopUp(given *input) (Result, error) {
	in, err := decode[airspring.TopUp](given)
	if err != nil {
		return nil, err
	}
	plan, err := airspring.PlanTopUp(in)
	if err != nil {
		return nil, err
	}
	return Result{"cycles": plan.Cycles, "reading": plan.Reading, "negative_pressure": plan.NegativePressure}, nil
}

func airHose(given *input) (Result, error) {
	in, err := decode[struct {
		Chamber units.Volume         `json:"chamber_volume"`
		Hose    units.Volume         `json:"hose_volume"`
		Fill    *units.GaugePressure `json:"fill"`
		Reading *units.GaugePressure `json:"reading"`
	}](given)
	if err != nil {
		return nil, err
	}
	switch {
	case in.Fill != nil && in.Reading != nil:
		c := units.Checker{Package: "evaluate"}
		c.Fail("reading", *in.Reading, "either fill or reading, not both", units.ErrConflict)
		return nil, c.Err()
	case in.Reading != nil:
		fill, err := airspring.HoseFill(in.Chamber, in.Hose, *in.Reading)
		if err != nil {
			return nil, err
		}
		return Result{"fill": fill}, nil
	case in.Fill != nil:
		reading, err := airspring.HoseReading(in.Chamber, in.Hose, *in.Fill)
		if err != nil {
			return nil, err
		}
		return Result{"reading": reading}, nil
	}
	c := units.Checker{Package: "evaluate"}
	_, err = airspring.HoseReading(in.Chamber, in.Hose, 0)
	c.Add("", err)
	c.Fail("fill", nil, "a fill or a reading", units.ErrMissing)
	return nil, c.Err()
}

func airConditions(given *input) (Result, error) {
	in, err := decode[struct {
		Fill units.GaugePressure  `json:"fill"`
		From airspring.Conditions `json:"from"`
		To   airspring.Conditions `json:"to"`
	}](given)
	if err != nil {
		return nil, err
	}
	fill, err := airspring.FillAt(in.Fill, in.From, in.To)
	if err != nil {
		return nil, err
	}
	return Result{"fill": fill}, nil
}

func airAtmosphere(given *input) (Result, error) {
	in, err := decode[struct {
		Altitude *units.Length `json:"altitude"`
	}](given)
	if err != nil {
		return nil, err
	}
	if in.Altitude == nil {
		c := units.Checker{Package: "evaluate"}
		c.Fail("altitude", nil, "an altitude", units.ErrMissing)
		return nil, c.Err()
	}
	air, err := airspring.Atmosphere(*in.Altitude)
	if err != nil {
		return nil, err
	}
	return Result{"pressure": air.Pressure, "temperature": air.Temperature}, nil
}

func airPolytropic(given *input) (Result, error) {
	in, err := decode[gas.PolytropicChange](given)
	if err != nil {
		return nil, err
	}
	out, err := gas.Polytropic(in)
	if err != nil {
		return nil, err
	}
	return Result{"pressure": out.Pressure, "work": out.Work}, nil
}

// airHeat tells the stiffness of small strokes, and with an amplitude given what
// strokes of that size come to.
func airHeat(given *input) (Result, error) {
	in, err := decode[struct {
		gas.Vibration
		Amplitude *units.Length `json:"amplitude"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	r, err := gas.Vibrate(in.Vibration)
	c.Add("", err)
	var cycle gas.PressureLoop
	if in.Amplitude != nil {
		if !units.Positive(&c, "amplitude", *in.Amplitude) || !c.OK() {
			return nil, c.Err()
		}
		swept := units.Volume(float64(in.Area) * float64(*in.Amplitude))
		if !(swept < 0.99*in.Volume) {
			c.Fail("amplitude", *in.Amplitude, "a stroke that leaves some of the volume", units.ErrConflict)
			return nil, c.Err()
		}
		cycle, err = gas.Oscillate(gas.Oscillation{MeanVolume: in.Volume, Amplitude: swept,
			Fill: in.Fill, Ambient: in.Ambient, HeatRatio: in.HeatRatio, OmegaTau: in.OmegaTau})
		c.Add("", err)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	out := Result{
		"isothermal_rate": r.IsothermalRate, "storage_rate": r.StorageRate,
		"loss_rate": r.LossRate, "loss_factor": r.LossFactor,
	}
	if in.Amplitude != nil {
		quarter := len(cycle.Pressure) / 4
		out["energy_small"], out["energy_lost"] = r.EnergyPerCycle(*in.Amplitude), cycle.Lost
		out["pressure"] = []units.AbsolutePressure{cycle.Pressure[0], cycle.Pressure[quarter], cycle.Pressure[2*quarter], cycle.Pressure[3*quarter]}
	}
	return out, nil
}

const longest units.Time = 1e6

// airHold tells the pressure at times after a compression began: at once, or
// evenly over the time of a ramp.
func airHold(given *input) (Result, error) {
	in, err := decode[struct {
		gas.VolumeStep
		Ramp  *units.Time  `json:"ramp"`
		After []units.Time `json:"after"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	held, err := gas.Hold(in.VolumeStep)
	c.Add("", err)
	for _, t := range in.After {
		if !(t >= 0 && (t <= longest || in.Ramp == nil)) {
			c.Fail("after", t, "0 or more, and with a ramp up to 1e6 s", nil)
			break
		}
	}
	if in.Ramp != nil && !(*in.Ramp > 0 && *in.Ramp <= longest) {
		c.Fail("ramp", *in.Ramp, "more than 0, up to 1e6 s", nil)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	if in.Ramp == nil {
		return Result{"pressure": over(in.After, held.Pressure)}, nil
	}
	list := make([]units.AbsolutePressure, len(in.After))
	for i, t := range in.After {
		if list[i], err = ramped(in.VolumeStep, *in.Ramp, t); err != nil {
			return nil, err
		}
	}
	return Result{"pressure": list}, nil
}

// ramped is the pressure at a time after a ramp began.
func ramped(s gas.VolumeStep, ramp, t units.Time) (units.AbsolutePressure, error) {
	if t == 0 {
		return s.Fill.Absolute(s.Ambient), nil
	}
	h := gas.VolumeHistory{Time: []units.Time{0}, Volume: []units.Volume{s.Volume},
		Fill: s.Fill, Ambient: s.Ambient, HeatRatio: s.HeatRatio, TimeConstant: s.TimeConstant}
	add := func(t units.Time, v units.Volume) { h.Time, h.Volume = append(h.Time, t), append(h.Volume, v) }
	if t < ramp {
		add(t, s.Volume+(s.ToVolume-s.Volume)*units.Volume(t/ramp))
	} else if add(ramp, s.ToVolume); t > ramp {
		add(t, s.ToVolume)
	}
	f, err := gas.Follow(h)
	if err != nil {
		return 0, err
	}
	return f.Pressure[len(f.Pressure)-1], nil
}

// airGas tells a state, and where a ratio is given a compression from it.
func airGas(given *input) (Result, error) {
	in, err := decode[struct {
		Gas         gas.Species            `json:"gas"`
		Pressure    units.AbsolutePressure `json:"pressure"`
		Temperature units.Temperature      `json:"temperature"`
		Ratio       *float64               `json:"ratio"`
	}](given)
	if err != nil {
		return nil, err
	}
	if in.Ratio == nil {
		state, err := gas.StateAt(in.Gas, in.Pressure, in.Temperature)
		if err != nil {
			return nil, err
		}
		return Result{"compressibility": state.Compressibility, "effective_exponent": state.EffectiveExponent}, nil
	}
	out, err := gas.Compress(in.Gas, in.Pressure, in.Temperature, *in.Ratio)
	if err != nil {
		return nil, err
	}
	return Result{
		"effective_exponent": out.Exponent, "slow_pressure": out.Slow,
		"fast_pressure": out.Fast, "fast_temperature": out.Temperature,
	}, nil
}
