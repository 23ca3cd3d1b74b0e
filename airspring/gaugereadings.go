package airspring

import (
	"example.com/wheelrate/airspring/gas"
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
	// Stroke is the compression of the spring at rest, more than 0: at full extension the top-out stop
	// carries an unknown part of the force. If the rest was approached from both sides, it is the one
	// approached from full extension.
	Stroke units.Length `json:"stroke"`
	// StrokeBack is the stroke at rest that was approached from a deeper one, Stroke or more; 0 if
	// only one approach was read.
	StrokeBack units.Length `json:"stroke_back,omitempty"`
	Force      units.Force  `json:"force"` // along the spring, 0 without a load
}

// ErrUndetermined is the class of the errors of readings that don't determine what is sought.
var ErrUndetermined = units.NewClass("undetermined", "airspring: the readings don't determine the unknowns", nil)

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
func (g GaugeReadings) Check(c *units.Checker) { g.check(c) }

// check is Check, and reports whether every stroke is good.
func (g *GaugeReadings) check(c *units.Checker) (strokes bool) {
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
		c.Fail("readings", len(g.Readings), units.AtMost(1000).Count("readings"), nil)
	}
	strokes = true
	for i, r := range g.Readings {
		own := c.Element("readings", i)
		gas.CheckFill(&own, "fill", r.Fill)
		if !(r.Stroke > 0 && r.Stroke <= mostTravel) {
			own.Fail("stroke", r.Stroke, units.MoreThan(0).And(units.AtMost(units.Length(mostTravel))).With("at 0 a stop carries an unknown part of the force"), nil)
		}
		if r.StrokeBack != 0 && units.Between(&own, "stroke_back", r.StrokeBack, 0, mostTravel) && !own.Bad("stroke") && !(r.StrokeBack >= r.Stroke) {
			own.Fail("stroke_back", r.StrokeBack, "stroke or more", units.ErrConflict)
		}
		strokes = strokes && !own.Bad("stroke") && !own.Bad("stroke_back")
		units.Between(&own, "force", r.Force, 0, mostForce)
	}
	if g.RingError == 0 {
		c.Fail("ring_error", nil, "the standard error of a stroke", units.ErrMissing)
	} else {
		units.Between(c, "ring_error", g.RingError, 1e-9, mostTravel)
	}
	units.Between(c, "gauge_error", g.GaugeError, 0, gas.MaxFill)
	return strokes
}

// CheckEnough records every bad field, and readings at too few different strokes for [Calibrate].
func (g GaugeReadings) CheckEnough(c *units.Checker) {
	if !g.check(c) {
		return // the number is not known
	}
	want := "readings at 2 different strokes or more"
	if g.negative() {
		want = "readings at 4 different strokes or more, since there is a negative chamber"
	}
	if n := g.Different(); n < g.Needed() {
		c.Fail("readings", n, want, ErrUndetermined)
	}
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
