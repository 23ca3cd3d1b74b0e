package airspring

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// FillBounds are the least and the greatest fill with which a spring can carry a force at a stroke,
// whatever its chambers: more fill means less stroke under a force, so readings on either side of the
// stroke are bounds. Each reading may be off by two standard errors of ring and gauge, about 95 of 100 for
// each. A bound is nil if no reading gives it, and both are if the readings contradict each other.
type FillBounds struct {
	Low  *units.GaugePressure `json:"low,omitempty"`
	High *units.GaugePressure `json:"high,omitempty"`
}

// corner is a point of 1/Φ over the stroke.
type corner struct{ s, y float64 }

// corners returns the readings as points, and for each a point above the curve of 1/Φ and one below it:
// the reading moved by two standard errors of ring and gauge, to the deeper and to the shallower.
func (g *GaugeReadings) corners() (read, above, below []corner) {
	for _, r := range g.Readings {
		at, ring, y := r.middle(), 2*float64(g.RingError), g.inverse(r)
		gauge := y * 2 * float64(g.GaugeError) / float64(r.Fill.Absolute(g.Ambient))
		read, above, below = append(read, corner{at, y}), append(above, corner{at + ring, y + gauge}), append(below, corner{at - ring, y - gauge})
	}
	return read, above, below
}

// inverse returns the 1/Φ of a reading.
func (g *GaugeReadings) inverse(r GaugeReading) float64 {
	return float64(r.Fill.Absolute(g.Ambient)) / (float64(r.Force) + g.outside())
}

// line returns at s the straight line through two points.
func line(a, b corner, s float64) float64 { return a.y + (b.y-a.y)*(s-a.s)/(b.s-a.s) }

// between returns bounds of 1/Φ at a stroke: 0 and infinity where the readings give none. With a negative
// chamber
//
//	1/Φ = α − β·s + γ/(s − s₀),  γ > 0
//
// falls and is convex past the zero s₀ of Φ: between two readings it is below their chord, and beyond them
// above it. Without a negative chamber it is straight.
func (g *GaugeReadings) between(s float64) (low, high float64) {
	_, above, below := g.corners()
	high = math.Inf(1)
	atLeast, atMost := func(y float64) { low = max(low, y) }, func(y float64) { high = min(high, y) }
	for i, a := range above {
		if a.s <= s {
			atMost(a.y)
		}
		if below[i].s >= s {
			atLeast(below[i].y)
		}
	}
	chords(above, below, s, atMost, atLeast)
	if !g.negative() {
		chords(below, above, s, atLeast, atMost)
	}
	return low, high
}

// chords calls inside with each chord of points at a stroke between them, and beyond with each line that
// starts from the farther of two points and passes the nearer one on its other side, at a stroke past both.
func chords(points, others []corner, s float64, inside, beyond func(float64)) {
	for i, a := range points {
		for j, b := range points {
			near := others[j]
			switch {
			case i == j:
			case a.s <= s && s <= b.s && a.s < b.s:
				inside(line(a, b, s))
			case near.s <= s && a.s < near.s, near.s >= s && a.s > near.s:
				beyond(line(a, near, s))
			}
		}
	}
}

// bounds returns the bounds of the fill.
func (g *GaugeReadings) bounds(force units.Force, at units.Length) (b FillBounds) {
	low, high := g.between(float64(at))
	if !(low <= high) {
		return b
	}
	if fill := g.fill(force, low); fill > 0 {
		b.Low = &fill
	}
	if fill := g.fill(force, high); fill <= gas.MaxFill {
		fill = max(fill, 0)
		b.High = &fill
	}
	return b
}

// fill returns the fill that carries a force where 1/Φ is y.
func (g *GaugeReadings) fill(force units.Force, y float64) units.GaugePressure {
	return units.GaugePressure((float64(force)+g.outside())*y - float64(g.Ambient))
}

// StepReason is a stable code for what a [FillStep] is based on.
type StepReason string

// The reasons, from the strongest.
const (
	StepCalibrated StepReason = "calibrated"  // there are readings enough for [Calibrate]
	StepSameStroke StepReason = "same_stroke" // a reading has this stroke, under this or another force
	StepBetween    StepReason = "between"     // readings on either side; on their chord
	StepBeyond     StepReason = "beyond"      // two readings on one side; on their chord, continued
	StepOne        StepReason = "one"         // a single reading; by a rule that is near to a spring
)

// FillStep is the next fill to set, and what to make of it.
type FillStep struct {
	Fill units.GaugePressure `json:"fill"`
	// Answer reports whether the fill puts the spring at the stroke within the error of the ring. If it
	// is false, the fill is a step: set it, read the ring, and ask again with the reading added.
	Answer bool       `json:"answer"`
	Reason StepReason `json:"reason"`
	// AtMarking reports whether more would be needed than the marking permits. The fill is then that
	// of the marking and no answer.
	AtMarking bool       `json:"at_marking,omitempty"`
	Bounds    FillBounds `json:"bounds"`
}

// mostChange is the greatest ratio of absolute fill by which a step goes beyond the readings.
const mostChange = 1.5

// Next returns the fill to set next so as to find the one that carries a force in N, from 0 to 1e9 N, at
// a stroke, from one reading or more. The fill is never above most, the marking on the part.
//
// If the readings determine the spring, it is that of [Calibration.FillFor], an answer if its StrokeError
// is within the error of the ring. A reading whose stroke is within the error of the ring gives an answer
// under any force, since g + p_a is proportional to F + A_o·p_a at a stroke. Otherwise the fill is a step.
// Two readings give the straight line of 1/Φ through the nearest of them. One reading gives 1/Φ ∝ 1/s
// with a negative chamber, as if Φ rose in proportion to the stroke, and without one the line to 1/A_o at
// full extension. These are rules near to a spring, not facts. A step changes the absolute fill beyond
// those read, at the same force, by a factor of 1.5 at most.
//
// The error names every bad field; force with [ErrNoFill] if it is carried there without any fill.
func (g GaugeReadings) Next(force units.Force, at units.Length, most units.GaugePressure) (FillStep, error) {
	spring, err := Calibrate(g)
	if err != nil { // too few readings, or bad ones, which are named below
		spring = nil
	}
	return g.step(spring, force, at, most)
}

// Next is [GaugeReadings.Next] of the readings, without calibrating again.
func (c *Calibration) Next(force units.Force, at units.Length, most units.GaugePressure) (FillStep, error) {
	return c.readings.step(c, force, at, most)
}

// step is Next for the spring that the readings determine, nil for none.
func (g *GaugeReadings) step(spring *Calibration, force units.Force, at units.Length, most units.GaugePressure) (FillStep, error) {
	c := units.Checker{Package: "airspring"}
	g.Check(&c)
	if len(g.Readings) == 0 {
		c.Fail("readings", nil, "a reading or more", units.ErrMissing)
	}
	units.Between(&c, "force", force, 0, mostForce)
	if !(at > 0 && at <= mostTravel) {
		c.Fail("at", at, units.MoreThan(0).And(units.AtMost(units.Length(mostTravel))), nil)
	}
	gas.CheckFill(&c, "max_fill", most)
	if err := c.Err(); err != nil {
		return FillStep{}, err
	}
	step := g.next(spring, force, at)
	if !(step.Fill > 0) {
		FillNone.fail(&c, force, at)
	}
	if step.Fill > most {
		step.Fill, step.AtMarking, step.Answer = most, true, false
	}
	step.Bounds = g.bounds(force, at)
	return units.Checked(&c, step)
}

func (g *GaugeReadings) next(spring *Calibration, force units.Force, at units.Length) FillStep {
	read, _, _ := g.corners()
	s, calibrated := float64(at), FillStep{}
	if spring != nil {
		if f, outcome := spring.SolveFill(force, at); outcome == FillMet {
			calibrated = FillStep{Fill: f.Fill, Answer: f.StrokeError <= g.RingError, Reason: StepCalibrated}
		}
	}
	near := nearest(read, s, func(corner) bool { return true })
	switch {
	case calibrated.Answer:
		return calibrated
	case math.Abs(near.s-s) <= float64(g.RingError):
		return FillStep{Fill: g.fill(force, near.y), Answer: true, Reason: StepSameStroke}
	}
	// The nearest reading on the other side of the stroke, or else of another stroke on this side.
	other, reason := nearest(read, s, func(p corner) bool { return (p.s < s) != (near.s < s) && falls(p, near) }), StepBetween
	if math.IsInf(other.s, 1) {
		other, reason = nearest(read, s, func(p corner) bool { return falls(p, near) }), StepBeyond
	}
	var y float64
	switch {
	case calibrated.Reason != "":
		y, reason = float64(calibrated.Fill.Absolute(g.Ambient))/(float64(force)+g.outside()), StepCalibrated
	case !math.IsInf(other.s, 1):
		y = line(other, near, s)
	case !g.negative() && near.y*area(g.OutsideDiameter) < 1:
		y, reason = line(corner{0, 1 / area(g.OutsideDiameter)}, near, s), StepOne
	default:
		y, reason = near.y*near.s/s, StepOne
	}
	by := func(a, b corner) int { return cmp.Compare(a.y, b.y) }
	y = min(max(y, slices.MinFunc(read, by).y/mostChange), slices.MaxFunc(read, by).y*mostChange)
	return FillStep{Fill: g.fill(force, y), Reason: reason}
}

// falls reports whether 1/Φ falls from one point to another.
func falls(a, b corner) bool { return a.s != b.s && (a.y > b.y) == (a.s < b.s) && a.y != b.y }

// nearest returns the point nearest to a stroke of those wanted, and one at infinity without any.
func nearest(points []corner, s float64, wanted func(corner) bool) corner {
	best := corner{s: math.Inf(1)}
	for _, p := range points {
		if wanted(p) && math.Abs(p.s-s) < math.Abs(best.s-s) {
			best = p
		}
	}
	return best
}
