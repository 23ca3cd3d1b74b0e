package evaluate

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// someRing is the error of a ring where a case gives none. The fill depends on it only beside that of a
// gauge.
const someRing = units.Millimetre

func calibratedFill(c *units.Checker, in struct {
	airspring.GaugeReadings
	Force units.Force  `json:"force"`
	At    units.Length `json:"at"`
}) units.GaugePressure {
	if in.RingError == 0 {
		in.RingError = someRing
	}
	if in.CheckEnough(c); !c.OK() {
		units.Finite(c, "force", in.Force)
		units.NonNegative(c, "at", in.At)
		return 0
	}
	var fill airspring.FillEstimate
	spring, err := airspring.Calibrate(in.GaugeReadings)
	if err == nil {
		fill, err = spring.FillFor(in.Force, in.At)
	}
	c.Add("", err)
	return fill.Fill
}

func fillStep(c *units.Checker, in struct {
	airspring.GaugeReadings
	Force   units.Force         `json:"force"`
	At      units.Length        `json:"at"`
	MaxFill units.GaugePressure `json:"max_fill"`
}) airspring.FillStep {
	if in.RingError == 0 {
		in.RingError = someRing
	}
	step, err := in.Next(in.Force, in.At, in.MaxFill)
	c.Add("", err)
	return step
}

// bound is one of the two of a step.
func bound(fill *units.GaugePressure) (value units.GaugePressure, known bool) {
	if fill != nil {
		value = *fill
	}
	return value, fill != nil
}

// knownLaw is the spring that readings give, with a fill.
type knownLaw struct {
	spring.Law
	length units.Length
}

func knownSpring(c *units.Checker, in struct {
	airspring.GaugeReadings
	Fill units.GaugePressure `json:"fill"`
	At   []units.Length      `json:"at"`
}) (a along[knownLaw]) {
	if in.RingError == 0 {
		in.RingError = someRing
	}
	in.CheckEnough(c)
	gas.CheckFill(c, "fill", in.Fill)
	if !c.OK() {
		return a
	}
	known, err := airspring.Calibrate(in.GaugeReadings)
	if err == nil {
		a.at, a.of.length = in.At, known.Length()
		a.of.Law, err = known.Law(in.Fill)
	}
	c.Add("", err)
	return a
}

// markedFill is a fill that carries a force, as far as a marking permits.
func markedFill(c *units.Checker, in struct {
	airspring.Spec
	Force   units.Force         `json:"force"`
	At      units.Length        `json:"at"`
	MaxFill units.GaugePressure `json:"max_fill"`
}) (t airspring.Trial) {
	if in.Fill != 0 {
		c.Fail("fill", in.Fill, "no fill: it is what is sought", units.ErrConflict)
	}
	if in.Spec.Check(c); !c.OK() {
		units.Finite(c, "force", in.Force)
		units.Inside(c, "at", in.At, 0, math.MaxFloat64)
		gas.CheckFill(c, "max_fill", in.MaxFill)
		return t
	}
	list, err := airspring.FillSearch{Spec: in.Spec, Force: in.Force, At: in.At, MaxFill: in.MaxFill, First: in.Spacers, Last: in.Spacers}.Trials()
	if c.Add("", err); err == nil {
		t = list[0]
	}
	if t.Outcome == airspring.FillPullsIn {
		c.Fail("at", in.At, "a travel at which more fill gives more force", airspring.ErrFillPullsIn)
	}
	return t
}

// calibrated is what readings tell of a spring besides the fill.
type calibrated struct {
	chambers  airspring.ChamberEstimate
	fill      airspring.FillEstimate
	friction  units.Force
	bothSides bool // a reading was approached from both, and so tells of friction
	residuals []airspring.Residual
}

func chambers(c *units.Checker, in struct {
	airspring.GaugeReadings
	Force units.Force  `json:"force"`
	At    units.Length `json:"at"`
}) (k calibrated) {
	if in.RingError == 0 {
		in.RingError = someRing
	}
	if in.CheckEnough(c); !c.OK() {
		units.Finite(c, "force", in.Force)
		units.NonNegative(c, "at", in.At)
		return k
	}
	spring, err := airspring.Calibrate(in.GaugeReadings)
	if err == nil {
		k.chambers, err = spring.Chambers()
	}
	if err == nil {
		k.fill, err = spring.FillFor(in.Force, in.At)
		k.friction, k.bothSides = spring.Friction()
		k.residuals = spring.Residuals()
	}
	c.Add("", err)
	return k
}
