package evaluate

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

var ofAirSprings = []computation{
	computes("airspring.law", by(airLaw), append(ofLaw[*airspring.Spring](),
		each("positive_pressure", (*airspring.Spring).PositivePressure),
		each("negative_pressure", (*airspring.Spring).NegativePressure).where(func(a along[*airspring.Spring]) bool { return a.of.Spec().NegativeVolume > 0 }),
		whole("opening_travel", (*airspring.Spring).OpeningTravel).where(func(a along[*airspring.Spring]) bool { return a.of.Spec().SecondVolume > 0 }),
		whole("rest_travel", (*airspring.Spring).RestTravel),
		whole("compression_ratio", (*airspring.Spring).CompressionRatio))...),
	computes("airspring.fill", airFill, give("fill", itself[units.GaugePressure])),
	computes("airspring.calibrate", calibratedFill, give("fill", func(k calibrated) units.GaugePressure { return k.fill.Fill })),
	computes("airspring.chambers", chambers, append(
		lift(func(k calibrated) airspring.ChamberEstimate { return k.chambers }, tell[airspring.ChamberEstimate]("bore", "bore_error",
			"positive_volume", "positive_volume_error", "negative_volume", "negative_volume_error", "port_travel", "port_travel_error")),
		give("fill_error", func(k calibrated) units.GaugePressure { return k.fill.StandardError }),
		give("stroke_error", func(k calibrated) units.Length { return k.fill.StrokeError }),
		offer("friction", calibrated.Friction),
		give("friction_fill", func(k calibrated) units.GaugePressure { return k.fill.Friction }).where(calibrated.bothSides),
		residual("residual", func(r airspring.Residual) units.Length { return r.Stroke }),
		residual("residual_error", func(r airspring.Residual) units.Length { return r.StandardError }),
		give("beyond", calibrated.beyond),
	)...),
	computes("airspring.step", fillStep,
		give("fill", func(s airspring.FillStep) units.GaugePressure { return s.Fill }),
		give("reason", func(s airspring.FillStep) string { return string(s.Reason) }),
		maybe("low", func(s airspring.FillStep) *units.GaugePressure { return s.Bounds.Low }),
		maybe("high", func(s airspring.FillStep) *units.GaugePressure { return s.Bounds.High }),
	),
	computes("airspring.known", knownSpring, append(ofLaw[knownLaw](), whole("length", func(k knownLaw) units.Length { return k.length }))...),
	computes("airspring.marked", markedFill,
		give("outcome", func(t airspring.Trial) string { return string(t.Outcome) }),
		offer("fill_wanted", func(t airspring.Trial) (units.GaugePressure, bool) { return t.FillWanted, t.FillWanted > 0 }),
		give("fill", func(t airspring.Trial) units.GaugePressure { return t.Fill }),
		give("slow_full_force", func(t airspring.Trial) units.Force { return t.Slow.Force(t.Slow.Travel()) }),
		give("fast_full_force", func(t airspring.Trial) units.Force { return t.Fast.Force(t.Fast.Travel()) }),
	),
	computes("airspring.topup", by(airspring.PlanTopUp), append(tell[airspring.TopUpPlan]("cycles", "reading", "negative_pressure"),
		offer("pull_in", func(p airspring.TopUpPlan) (units.Length, bool) {
			return p.PullIn, p.Steps[0].Action == airspring.Release
		}),
		give("gauge", func(p airspring.TopUpPlan) []units.GaugePressure {
			return over(p.Steps, func(s airspring.TopUpStep) units.GaugePressure { return s.After })
		}),
		give("stands", func(p airspring.TopUpPlan) []units.Length {
			return over(p.Steps, func(s airspring.TopUpStep) units.Length { return s.Stands })
		}))...),
	computes("airspring.carry", by(airspring.PlanTopUp), tell[airspring.TopUpPlan]("carry")...),
	computes("airspring.hose", airHose,
		offer("fill", func(h hose) (units.GaugePressure, bool) { return h.found, h.Reading != nil }),
		offer("reading", func(h hose) (units.GaugePressure, bool) { return h.found, h.Fill != nil }),
	),
	computes("airspring.conditions", by(airConditions), give("fill", itself[units.GaugePressure])),
	computes("airspring.change", by(airChange),
		whole("fill", func(s *airspring.Spring) units.GaugePressure { return s.Spec().Fill }),
		each("force", (*airspring.Spring).Force),
		each("rate", (*airspring.Spring).Rate),
		each("positive_volume", (*airspring.Spring).PositiveVolume),
		each("second_volume", (*airspring.Spring).SecondVolume).where(func(a along[*airspring.Spring]) bool { return a.of.Spec().SecondVolume > 0 }),
	),
	computes("airspring.atmosphere", airAtmosphere, tell[airspring.Air]("pressure", "temperature")...),
	computes("airspring.polytropic", by(gas.Polytropic), tell[gas.PolytropicEnd]("pressure", "work")...),
	computes("airspring.warming", by(gas.Polytropic), tell[gas.PolytropicEnd]("warming")...),
	computes("airspring.follow", by(gas.Follow), tell[gas.PressureHistory]("pressure", "warming", "work")...),
	computes("airspring.heat", airHeat, append(
		lift(func(h heat) gas.Response { return h.small }, tell[gas.Response]("isothermal_rate", "storage_rate", "loss_rate", "loss_factor")),
		give("energy_small", func(h heat) units.Energy { return h.small.EnergyPerCycle(*h.amplitude) }).where(heat.large),
		give("energy_lost", func(h heat) units.Energy { return h.loop.Lost }).where(heat.large),
		give("pressure", heat.pressure).where(heat.large))...),
	computes("airspring.hold", airHold, give("pressure", itself[[]units.AbsolutePressure])),
	computes("airspring.gas", airGas,
		offer("compressibility", func(g realGas) (float64, bool) { return g.state.Compressibility, !g.stroked() }),
		give("effective_exponent", realGas.exponent),
		give("slow_pressure", func(g realGas) units.AbsolutePressure { return g.stroke.Slow }).where(realGas.stroked),
		give("fast_pressure", func(g realGas) units.AbsolutePressure { return g.stroke.Fast }).where(realGas.stroked),
		give("fast_temperature", func(g realGas) units.Temperature { return g.stroke.Temperature }).where(realGas.stroked),
	),
	computes("airspring.heat_ratio", by(heatRatio), tell[gas.RealState]("heat_ratio")...),
}

func airLaw(in struct {
	airspring.Spec
	At []units.Length `json:"at"`
}) (along[*airspring.Spring], error) {
	s, err := airspring.New(in.Spec)
	return along[*airspring.Spring]{s, in.At}, err
}

func airFill(c *units.Checker, in struct {
	airspring.Spec
	Force units.Force  `json:"force"`
	At    units.Length `json:"at"`
}) units.GaugePressure {
	if in.Fill != 0 {
		c.Fail("fill", in.Fill, "no fill: it is what is sought", units.ErrConflict)
	}
	fill, err := airspring.FillFor(in.Spec, in.Force, in.At)
	c.Add("", err)
	return fill
}

// hose is a chamber with the hose of a pump on it, and the pressure found.
type hose struct {
	Chamber units.Volume         `json:"chamber_volume"`
	Hose    units.Volume         `json:"hose_volume"`
	Fill    *units.GaugePressure `json:"fill"`
	Reading *units.GaugePressure `json:"reading"`

	found units.GaugePressure
}

func airHose(c *units.Checker, in hose) hose {
	find, known := airspring.HoseReading, new(units.GaugePressure)
	switch {
	case in.Fill != nil && in.Reading != nil:
		c.Fail("reading", *in.Reading, units.Want{Text: "either fill or reading, not both", Without: []string{"fill"}}, units.ErrConflict)
	case in.Reading != nil:
		find, known = airspring.HoseFill, in.Reading
	case in.Fill != nil:
		known = in.Fill
	default:
		c.Fail("fill", nil, "a fill or a reading", units.ErrMissing)
	}
	var err error
	in.found, err = find(in.Chamber, in.Hose, *known)
	c.Add("", err)
	return in
}

func airConditions(in struct {
	Fill units.GaugePressure  `json:"fill"`
	From airspring.Conditions `json:"from"`
	To   airspring.Conditions `json:"to"`
}) (units.GaugePressure, error) {
	return airspring.FillAt(in.Fill, in.From, in.To)
}

// airChange is a sealed spring at another temperature and under another ambient.
func airChange(in struct {
	airspring.Spec
	From units.Temperature      `json:"from"`
	To   units.Temperature      `json:"to"`
	Into units.AbsolutePressure `json:"to_ambient"`
	At   []units.Length         `json:"at"`
}) (along[*airspring.Spring], error) {
	spec, err := airspring.SpecAt(in.Spec, in.From, in.To, in.Into)
	if err != nil {
		return along[*airspring.Spring]{}, err
	}
	s, err := airspring.New(spec)
	return along[*airspring.Spring]{s, in.At}, err
}

func airAtmosphere(c *units.Checker, in struct {
	Altitude *units.Length `json:"altitude"`
}) (air airspring.Air) {
	if in.Altitude == nil {
		c.Fail("altitude", nil, "an altitude", units.ErrMissing)
		return air
	}
	air, err := airspring.Atmosphere(*in.Altitude)
	c.Add("", err)
	return air
}
