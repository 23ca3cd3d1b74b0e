package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// GaugeReadings are what is known of an air spring whose chambers are not: fills and the strokes at
// which it stood under known forces. All readings are of one spring, with the same spacers and oil, at
// one temperature, and without a leak between them.
type GaugeReadings struct {
	Ambient units.AbsolutePressure `json:"ambient"`
	// NegativeChamber says whether the spring has a negative chamber that fills itself. It has no
	// default.
	NegativeChamber *bool `json:"negative_chamber"`
	// OutsideDiameter is that of the area A_o on which the ambient presses: the bore without a negative
	// chamber, the shaft with one.
	OutsideDiameter units.Length   `json:"outside_diameter"`
	Readings        []GaugeReading `json:"readings"` // in any order, 1000 at most
	// RingError is the standard error of a stroke, more than 0. Fills depend on it only if there is a
	// GaugeError as well.
	RingError  units.Length        `json:"ring_error"`
	GaugeError units.GaugePressure `json:"gauge_error,omitempty"` // the standard error of a fill; 0 for a gauge taken as exact
}

// GaugeReading is a reading of gauge and ring under a force.
type GaugeReading struct {
	Fill units.GaugePressure `json:"fill"` // of the positive chamber at full extension, after slow cycling
	// Stroke is the compression of the spring at rest, from 0 at full extension. If friction was found
	// by approaching the rest from both sides, it is the lesser.
	Stroke units.Length `json:"stroke"`
	// StrokeBack is the stroke at rest that was approached from a deeper one, Stroke or more; 0 if
	// only one approach was read.
	StrokeBack units.Length `json:"stroke_back,omitempty"`
	Force      units.Force  `json:"force"` // along the spring, 0 without a load
}

// middle returns the stroke without friction, halfway between both approaches.
func (r GaugeReading) middle() float64 {
	if r.StrokeBack > 0 {
		return float64(r.Stroke+r.StrokeBack) / 2
	}
	return float64(r.Stroke)
}

// Limits of gauge readings.
const (
	mostReadings = 1000
	mostForce    = 1e9 * units.Newton
)

// Check records every bad field. It does not ask for a number of readings.
func (g GaugeReadings) Check(c *units.Checker) {
	gas.CheckAmbient(c, "ambient", g.Ambient)
	if g.NegativeChamber == nil {
		c.Fail("negative_chamber", nil, "true or false", units.ErrMissing)
	}
	if g.OutsideDiameter == 0 {
		c.Fail("outside_diameter", nil, "the diameter of the bore, or of the shaft if there is a negative chamber", units.ErrMissing)
	} else {
		units.Between(c, "outside_diameter", g.OutsideDiameter, leastLength, mostBore)
	}
	if len(g.Readings) > mostReadings {
		c.Fail("readings", len(g.Readings), "1000 readings at most", nil)
	}
	for i, r := range g.Readings {
		own := c.Element("readings", i)
		gas.CheckFill(&own, "fill", r.Fill)
		ok := units.Between(&own, "stroke", r.Stroke, 0, mostTravel)
		if r.StrokeBack != 0 && units.Between(&own, "stroke_back", r.StrokeBack, 0, mostTravel) && ok && !(r.StrokeBack >= r.Stroke) {
			own.Fail("stroke_back", r.StrokeBack, "stroke or more", units.ErrConflict)
		}
		units.Between(&own, "force", r.Force, 0, mostForce)
	}
	if g.RingError == 0 {
		c.Fail("ring_error", nil, "the standard error of a stroke", units.ErrMissing)
	} else {
		units.Between(c, "ring_error", g.RingError, 1e-9, mostTravel)
	}
	units.Between(c, "gauge_error", g.GaugeError, 0, gas.MaxFill)
}

// Needed returns the number of different strokes that [Calibrate] needs: 2, or 4 with a negative
// chamber.
func (g GaugeReadings) Needed() int {
	if g.negative() {
		return 4
	}
	return 2
}

// Different returns the number of different strokes among the readings.
func (g GaugeReadings) Different() int {
	strokes := map[float64]bool{}
	for _, r := range g.Readings {
		strokes[r.middle()] = true
	}
	return len(strokes)
}

func (g *GaugeReadings) negative() bool { return g.NegativeChamber != nil && *g.NegativeChamber }

// outside returns the force of the ambient.
func (g *GaugeReadings) outside() float64 { return area(g.OutsideDiameter) * float64(g.Ambient) }

// Calibration is an air spring known by its readings. [Calibrate] makes one.
type Calibration struct {
	readings GaugeReadings
	shape    shape
	points   []point
	errors   calibrationErrors
}

// Calibrate returns the spring that agrees best with readings of gauge and ring. With an exponent of 1,
// the force F at the stroke s with the fill g is
//
//	F + A_o·p_a = (g + p_a)·Φ(s),  Φ = a/(h − s) − b/(k + s)
//
// where Φ depends on the chambers alone. Without a negative chamber a is the volume of the chamber,
// a/h the area of its piston, and b = 0, so that 1/Φ is a straight line over the stroke. With a negative
// chamber
//
//	a = V_p0,  h = V_p0/A_p,  b = V_n(x_t)·V_p0/V_p(x_t),  k = V_n0/A_n
//
// in the symbols of [New], for both chambers sealed. The port is taken as sealed at every stroke.
// Readings at two different strokes determine the spring without a negative chamber, and at four the
// one with it. From more readings the values are those of the least
//
//	Σ (s_i − s(Φ_i))²/(u_s² + (u_Φ,i/Φ')²),  Φ_i = (F_i + A_o·p_a)/(g_i + p_a)
//
// where s(Φ) is the stroke at which the spring has a Φ, u_s the error of the ring, and
// u_Φ = Φ·u_g/(g + p_a) that of the gauge. The values a, b, h − s and k are more than 0. The search
// starts from a grid of h and k, for which Φ is linear in a and b, and goes on by the method of
// Levenberg and Marquardt.
//
// The error names every bad field. It names readings if they are at too few different strokes, and if
// no spring has a 1/Φ that falls over them as theirs does: the more air, the less stroke under a force.
// If readings contradict each other beyond their errors, a spring is returned: see
// [Calibration.Residuals].
//
// The equations follow from Boyle's law and the balance of forces; no source was found.
// Not modelled: friction, see [GaugeReading], and what [New] does not model.
func Calibrate(g GaugeReadings) (*Calibration, error) {
	c := units.Checker{Package: "airspring"}
	g.Check(&c)
	if n := g.Different(); n < g.Needed() {
		want := "readings at 2 different strokes or more"
		if g.negative() {
			want = "readings at 4 different strokes or more, since there is a negative chamber"
		}
		c.Fail("readings", n, want, ErrUndetermined)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	f := newCalibrating(&g)
	if !f.minimise() {
		c.Fail("readings", nil, "readings of one spring: the more fill, the less stroke under the same force", units.ErrConflict)
		return nil, c.Err()
	}
	return &Calibration{readings: g, shape: f.at, points: f.points, errors: f.judge()}, nil
}

// FillEstimate is a fill that readings of gauge and ring give.
type FillEstimate struct {
	Fill units.GaugePressure
	// StandardError is what the errors of ring and gauge make of the fill, to first order. If the
	// residuals are larger than those errors explain, it is as much larger: times √(χ²/ν) with ν readings
	// more than needed (Birge's ratio, from memory).
	StandardError units.GaugePressure
	// Stroke is the error that StandardError makes of the stroke under the force.
	StrokeError units.Length
	// Extrapolated reports whether the stroke is outside those of the readings.
	Extrapolated bool
}

// FillFor returns the fill with which the spring carries a force in N at a stroke,
//
//	g = (F + A_o·p_a)/Φ(s) − p_a
//
// The error names force if it is not finite, or with [ErrNoFill] or [ErrFillBeyond] as that of
// [FillFor] does. It names at for a stroke below 0, with [ErrFillPullsIn] for one so near to full
// extension that more fill pulls in harder, and for one beyond the end of the chamber that the readings
// give.
func (c *Calibration) FillFor(force units.Force, at units.Length) (FillEstimate, error) {
	check := units.Checker{Package: "airspring"}
	units.Finite(&check, "force", force)
	units.Between(&check, "at", at, 0, mostTravel)
	if !check.OK() {
		return FillEstimate{}, check.Err()
	}
	estimate, outcome := c.SolveFill(force, at)
	switch {
	case outcome == FillPullsIn:
		check.Fail("at", at, "a travel at which more fill gives more force", ErrFillPullsIn)
	case outcome == FillBeyond && !(at < c.length()):
		check.Fail("at", at, "less than the length of the chamber, "+c.length().String(), ErrFillBeyond)
	case outcome == FillNone:
		check.Fail("force", force, "more than what a fill of 0 above ambient would give there", ErrNoFill)
	case outcome == FillBeyond:
		check.Fail("force", force, "a force that a fill of at most 1000 bar gives there", ErrFillBeyond)
	}
	return estimate, check.Err()
}

// SolveFill is [Calibration.FillFor] for a finite force and a stroke of 0 or more. It returns an
// estimate and [FillMet], or none and [FillPullsIn], [FillNone] or [FillBeyond].
func (c *Calibration) SolveFill(force units.Force, at units.Length) (FillEstimate, FillOutcome) {
	s := float64(at)
	if !(at < c.length()) {
		return FillEstimate{}, FillBeyond
	}
	phi := c.shape.phi(s)
	if !(phi > 0) {
		return FillEstimate{}, FillPullsIn
	}
	absolute := (float64(force) + c.readings.outside()) / phi
	fill := absolute - float64(c.readings.Ambient)
	switch {
	case !(fill > 0):
		return FillEstimate{}, FillNone
	case !(fill <= float64(gas.MaxFill)):
		return FillEstimate{}, FillBeyond
	}
	gradient, _ := c.shape.gradients(s)
	slope, _ := c.shape.slopes(s)
	u := c.errors.of(gradient) // of Φ
	from, to := c.Range()
	return FillEstimate{
		Fill: units.GaugePressure(fill), StandardError: units.GaugePressure(absolute * min(u/phi, 1e12)),
		StrokeError:  units.Length(min(u/slope, float64(mostTravel))),
		Extrapolated: at < from || at > to,
	}, FillMet
}

// length returns the stroke at which the chamber would have no volume left.
func (c *Calibration) length() units.Length { return units.Length(c.shape.parts().h) }

// Range returns the least and the greatest stroke of the readings.
func (c *Calibration) Range() (from, to units.Length) {
	from, to = units.Length(math.Inf(1)), 0
	for _, p := range c.points {
		from, to = min(from, units.Length(p.stroke)), max(to, units.Length(p.stroke))
	}
	return from, to
}

// Readings returns what the calibration was made of.
func (c *Calibration) Readings() GaugeReadings { return c.readings }

// Law returns the spring with a fill, standing still, as a [spring.Law] from full extension to the
// greatest stroke of the readings, where its travel ends: what it does beyond, the readings don't tell.
// Below the least stroke of the readings it is extrapolated, with the port taken as sealed. The error
// names fill.
func (c *Calibration) Law(fill units.GaugePressure) (spring.Law, error) {
	check := units.Checker{Package: "airspring"}
	if gas.CheckFill(&check, "fill", fill); !check.OK() {
		return nil, check.Err()
	}
	_, to := c.Range()
	return &calibrated{c.shape, c.shape.parts(), float64(fill.Absolute(c.readings.Ambient)), c.readings.outside(), to}, nil
}
