package evaluate

import (
	"cmp"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// someRing is the error of a ring where a case gives none. The fill depends on it only beside that of a
// gauge.
const someRing = units.Millimetre

// calibrate returns the spring that readings give.
func calibrate(c *units.Checker, r airspring.GaugeReadings) *airspring.Calibration {
	r.RingError = cmp.Or(r.RingError, someRing)
	r.CheckEnough(c)
	return run(c, func() (*airspring.Calibration, error) { return airspring.Calibrate(r) })
}

// carrying are readings, and a force that the spring is to carry at a stroke.
type carrying struct {
	airspring.GaugeReadings
	Force units.Force  `json:"force"`
	At    units.Length `json:"at"`
}

// calibrated is the spring that readings give, with the fill that carries the force.
type calibrated struct {
	*airspring.Calibration
	fill     airspring.FillEstimate
	chambers airspring.ChamberEstimate
}

func calibratedFill(c *units.Checker, in carrying) (k calibrated) {
	units.Finite(c, "force", in.Force)
	units.NonNegative(c, "at", in.At)
	k.Calibration = calibrate(c, in.GaugeReadings)
	k.fill = run(c, func() (airspring.FillEstimate, error) { return k.FillFor(in.Force, in.At) })
	return k
}

func chambers(c *units.Checker, in carrying) calibrated {
	k := calibratedFill(c, in)
	k.chambers = run(c, k.Chambers)
	return k
}

// residual is a list of what the residuals of the readings say.
func residual[V any](name string, get func(airspring.Residual) V) output[calibrated] {
	return give(name, func(k calibrated) []V { return over(k.Residuals(), get) })
}

// bothSides reports whether a reading was approached from both sides, and so tells of friction.
func (k calibrated) bothSides() bool { _, known := k.Friction(); return known }

// beyond lists the readings that differ from the rest.
func (k calibrated) beyond() []int {
	list := []int{}
	for i, r := range k.Residuals() {
		if r.Beyond {
			list = append(list, i)
		}
	}
	return list
}

func fillStep(c *units.Checker, in struct {
	carrying
	MaxFill units.GaugePressure `json:"max_fill"`
}) airspring.FillStep {
	in.RingError = cmp.Or(in.RingError, someRing)
	return run(c, func() (airspring.FillStep, error) { return in.Next(in.Force, in.At, in.MaxFill) })
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
}) along[knownLaw] {
	gas.CheckFill(c, "fill", in.Fill)
	known := calibrate(c, in.GaugeReadings)
	return along[knownLaw]{run(c, func() (knownLaw, error) {
		law, err := known.Law(in.Fill)
		return knownLaw{law, known.Length()}, err
	}), in.At}
}

// markedFill is a fill that carries a force, as far as a marking permits.
func markedFill(c *units.Checker, in struct {
	airspring.Spec
	Force   units.Force         `json:"force"`
	At      units.Length        `json:"at"`
	MaxFill units.GaugePressure `json:"max_fill"`
}) airspring.Trial {
	if in.Fill != 0 {
		c.Fail("fill", in.Fill, "no fill: it is what is sought", units.ErrConflict)
	}
	in.Spec.Check(c)
	units.Finite(c, "force", in.Force)
	units.Inside(c, "at", in.At, 0, math.MaxFloat64)
	gas.CheckFill(c, "max_fill", in.MaxFill)
	list := run(c, airspring.FillSearch{Spec: in.Spec, Force: in.Force, At: in.At, MaxFill: in.MaxFill, First: in.Spacers, Last: in.Spacers}.Trials)
	if len(list) == 0 {
		return airspring.Trial{}
	}
	if list[0].Outcome == airspring.FillPullsIn {
		c.Fail("at", in.At, "a travel at which more fill gives more force", airspring.ErrFillPullsIn)
	}
	return list[0]
}
