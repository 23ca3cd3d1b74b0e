package fit

import (
	"errors"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// GaugeAnswer is what readings of gauge and ring say of the fill for a target.
type GaugeAnswer struct {
	Load   units.Force  `json:"load"`   // sprung load at the wheel
	Stroke units.Length `json:"stroke"` // where the ring is at the target
	// FillStep is the fill to set, never above the marking, nor above the highest reading if nobody said
	// the marking. It is an answer, or a step after which the ring is to be read again. The fill is 0 if
	// the load is carried at the target without any.
	airspring.FillStep
	// FillWanted is the fill for the target, StandardError its standard error from those of ring and
	// gauge, and StrokeError what that makes of the ring's stroke. All are 0 if the readings don't tell.
	FillWanted    units.GaugePressure `json:"fill_wanted,omitempty"`
	StandardError units.GaugePressure `json:"standard_error,omitempty"`
	StrokeError   units.Length        `json:"stroke_error,omitempty"`
	Extrapolated  bool                `json:"extrapolated,omitempty"` // the target lies outside the readings
	// Rest is where the end rests with the fill, and its rates there standing still; nil if the readings
	// don't tell.
	Rest *sag.Rest `json:"rest,omitempty"`
	// Miss is Rest.Sag less the target, and Tolerance the largest miss that can't be told from none there.
	Miss      float64 `json:"miss,omitempty"`
	Tolerance float64 `json:"tolerance,omitempty"`
	// Chambers are those that the readings give back, with the fill; nil if they don't.
	Chambers *airspring.Spec `json:"chambers,omitempty"`
	// Bore is that which the readings give, where it differs from the one stated; otherwise 0.
	Bore     units.Length           `json:"bore,omitempty"`
	Misfits  []Misfit               `json:"misfits,omitempty"` // readings that differ from the rest
	Ambient  units.AbsolutePressure `json:"ambient"`           // that the fills are above
	Exponent float64                `json:"exponent"`          // of a fast stroke
	Findings []sag.Finding          `json:"findings"`
}

// Misfit is a reading that is farther off the spring of all readings than the errors of ring and gauge
// explain. It, or what it was made with, differs from the rest: a leak, another temperature, other
// spacers, or a slip.
type Misfit struct {
	Reading       int          `json:"reading"`        // its index in the job
	Stroke        units.Length `json:"stroke"`         // that of the ring less that of the spring
	StandardError units.Length `json:"standard_error"` // of Stroke
}

// measured is a spring known by readings.
type measured struct {
	*Gauge
	readings airspring.GaugeReadings
	law      *airspring.Calibration // nil if the readings are too few
	chambers *airspring.Spec        // nil if the readings don't give them back
	bad      bool                   // the bore of the readings is not that stated
}

// measure returns the spring of a checked gauge behind a curve, and records readings that no spring has.
func (j *Gauge) measure(c *units.Checker, curve *linkage.Curve) *measured {
	m := &measured{Gauge: j, readings: j.asked(curve)}
	single := j.NegativeChamber == None
	var err error
	switch few := m.readings.Different() < m.readings.Needed(); {
	case few && single && j.OutsideDiameter == 0:
		m.readings.OutsideDiameter = m.likelyBore(curve.Stroke())
		return m
	case few:
		return m
	case single:
		m.findBore(c)
	default:
		m.law, err = airspring.Calibrate(m.readings)
		c.Add("", err)
	}
	if !c.OK() {
		return nil
	}
	found, err := m.law.Chambers()
	off := max(found.Bore-j.OutsideDiameter, j.OutsideDiameter-found.Bore)
	m.bad = err == nil && single && j.OutsideDiameter != 0 && off > max(3*found.BoreError, j.OutsideDiameter/20)
	if err != nil { // with these errors of ring and gauge the readings don't tell
		return m
	}
	m.chambers = &airspring.Spec{
		Bore: found.Bore, PositiveVolume: found.PositiveVolume, NegativeVolume: found.NegativeVolume, PortTravel: found.PortTravel,
		Ambient: j.Ambient, Exponent: j.Exponent, Travel: curve.Stroke(),
	}
	if !single {
		m.chambers.Shaft = j.OutsideDiameter
	}
	return m
}

// likelyBore returns a bore for the step after one reading: with it the full stroke compresses the gas to a third.
func (m *measured) likelyBore(stroke units.Length) units.Length {
	const left, least, most = 1.0 / 3, 10 * units.Millimetre, 100 * units.Millimetre
	r := m.readings.Readings[0]
	atTop := float64(r.Fill.Absolute(m.Ambient))/(1-(1-left)*float64(m.Readings[0].Middle()/stroke)) - float64(m.Ambient)
	return min(max(least, units.Length(math.Sqrt(float64(r.Force)/atTop/(math.Pi/4)))), most)
}

// findBore sets the law of a spring without a negative chamber: its outside diameter is the bore that the readings
// give with it.
func (m *measured) findBore(c *units.Checker) {
	var err error
	excess := func(outside float64) float64 {
		m.readings.OutsideDiameter = units.Length(outside)
		if m.law, err = airspring.Calibrate(m.readings); err != nil {
			return math.NaN()
		}
		return math.Sqrt(m.piston()/(math.Pi/4)) - outside
	}
	const least, most = 1e-3, 0.5 // m
	bore, failed := root.Find(excess, least, most, 1e-13)
	if failed != nil && err == nil {
		c.Fail("readings", nil, "readings of a spring without a negative chamber, whose gauge and ring give a fill at full extension", units.ErrConflict)
		return
	}
	if err == nil {
		excess(bore)
	}
	c.Add("", err)
}

// piston returns the area of the piston of a spring without a negative chamber.
func (m *measured) piston() float64 {
	const fill = 1e5 // any
	law, _ := m.law.Law(fill)
	outside := math.Pi / 4 * float64(m.readings.OutsideDiameter*m.readings.OutsideDiameter) * float64(m.Ambient)
	return (float64(law.Force(0)) + outside) / (fill + float64(m.Ambient))
}

// choose returns what the readings say of a target, and the end with the spring if its chambers are known.
func (m *measured) choose(c *units.Checker, end sag.End, t *trial) (*GaugeAnswer, sag.End) {
	a := &GaugeAnswer{Load: t.target.Load, Stroke: t.at, Ambient: m.Ambient, Exponent: m.Exponent, Findings: []sag.Finding{}}
	if m.law != nil {
		estimate, outcome := m.law.SolveFill(t.force, t.at)
		if outcome == airspring.FillPullsIn {
			c.Fail("sag", t.target.Sag, "a sag at which more fill carries more", airspring.ErrFillPullsIn)
			return nil, sag.End{}
		}
		a.FillWanted, a.StandardError, a.StrokeError, a.Extrapolated = estimate.Fill, estimate.StandardError, estimate.StrokeError, estimate.Extrapolated
		for i, r := range m.law.Residuals() {
			// A residual within the error of the ring says nothing, however well the rest agree.
			if r.Beyond && max(r.Stroke, -r.Stroke) > m.RingError {
				a.Misfits = append(a.Misfits, Misfit{i, r.Stroke, r.StandardError})
			}
		}
	}
	next := m.readings.Next
	if m.law != nil {
		next = m.law.Next
	}
	var err error
	switch a.FillStep, err = next(t.force, t.at, m.Highest()); {
	case errors.Is(err, airspring.ErrNoFill):
		a.Findings = append(a.Findings, sag.FillImpossible)
	case err != nil:
		c.Add("gauge", err)
	case a.AtMarking:
		a.Findings = append(a.Findings, sag.FillAtMax)
	case !a.Answer:
		a.Findings = append(a.Findings, sag.NextReading)
	}
	if m.bad {
		a.Bore = m.chambers.Bore
		a.Findings = append(a.Findings, sag.BoreDiffers)
	}
	if len(a.Misfits) > 0 {
		a.Findings = append(a.Findings, sag.ReadingsDisagree)
	}
	if a.Fill > 0 && m.law != nil {
		m.settle(c, a, &end, t)
	}
	if a.Chambers == nil {
		return a, sag.End{}
	}
	return a, end
}

// settle sets where an end with the fill of an answer rests, and gives it its spring if the chambers are known.
func (m *measured) settle(c *units.Checker, a *GaugeAnswer, end *sag.End, t *trial) {
	filled, chambers, err := m.filled(*end, a.Fill)
	if c.Add("gauge", err); err != nil {
		return
	}
	if a.Chambers = chambers; chambers != nil {
		*end = filled
	}
	r := AtRest{Findings: a.Findings}
	switch _, err := t.rest(&filled, &r); {
	case err != nil:
		c.Add("gauge", err)
	case chambers == nil && Has(r.Findings, sag.Collapses): // the readings don't reach so deep
	default:
		a.Rest, a.Miss, a.Tolerance, a.Findings = &r.Rest, r.Miss, r.Tolerance, r.Findings
	}
}

// filled is [Options.Filled] with the chambers, nil if the readings don't give them back.
func (m *measured) filled(end sag.End, fill units.GaugePressure) (sag.End, *airspring.Spec, error) {
	if m.chambers != nil {
		spec := *m.chambers
		spec.Fill = fill
		if air, err := sag.AirEnd(end.Curve, spec); err == nil { // else the stroke sweeps more than the chamber found
			air.Friction = end.Friction
			return air, &spec, nil
		}
	}
	law, err := m.law.Law(fill)
	end.Law = law
	return end, nil, err
}

// Filled returns the end of a [Gauge] with a fill in Pa, more than 0, and whether that is all of it. If
// the readings don't give back the chambers, the end stands still and its travel ends at the deepest
// reading. The error names gauge.readings if they don't tell the spring, and fill.
func (o *Options) Filled(fill units.GaugePressure) (end sag.End, whole bool, err error) {
	c := units.Checker{Package: "sag"}
	if gas.CheckFill(&c, "fill", fill); o.measured == nil || o.measured.law == nil {
		c.Fail("gauge.readings", nil, "readings that tell the spring", airspring.ErrUndetermined)
	}
	if !c.OK() {
		return sag.End{}, false, c.Err()
	}
	end, chambers, err := o.measured.filled(sag.End{Curve: o.curve, Friction: o.spec.Friction}, fill)
	return end, chambers != nil, err
}
