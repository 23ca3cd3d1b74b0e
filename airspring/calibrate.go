package airspring

import (
	"math"
	"slices"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/airspring/internal/calibration"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Calibration is an air spring known by its readings. [Calibrate] makes one.
type Calibration struct {
	units.Opaque[Calibration]
	readings GaugeReadings
	points   []calibration.Point
	solution calibration.Solution
}

// Calibrate returns the spring that agrees best with readings of gauge and ring. With an exponent of 1,
// the force F at the stroke s with the fill g is
//
//	F + A_o·p_a = (g + p_a)·Φ(s),  Φ = a/(h − s) − b/(k + s)
//
// where Φ depends on the chambers alone. Without a negative chamber a is the volume of the chamber, a/h
// the area of its piston, and b = 0, so that 1/Φ is a straight line over the stroke. With a negative
// chamber, both sealed at every stroke and in the symbols of [New],
//
//	a = V_p0,  h = V_p0/A_p,  b = V_n(x_t)·V_p0/V_p(x_t),  k = V_n0/A_n
//
// Readings at two different strokes determine the spring without a negative chamber, and at four the
// one with it. From more readings the values are those of the least
//
//	Σ (s_i − s(Φ_i))²/(u_s² + (u_Φ,i/Φ')²),  Φ_i = (F_i + A_o·p_a)/(g_i + p_a)
//
// where s(Φ) is the stroke at which the spring has a Φ, u_s the error of the ring, and
// u_Φ = Φ·u_g/(g + p_a) that of the gauge. The search starts from several zeros of Φ, where the rest is
// linear, and goes on by the method of Levenberg and Marquardt. It keeps a, b, h − s and k far enough
// above 0, less than any spring has, for smooth forces from full extension to the greatest stroke read.
//
// The error names every bad field. It names readings if they are at too few different strokes, and if
// no spring has a 1/Φ that falls over them as theirs does: the more air, the less stroke under a force.
// It does so too if the chamber that suits them best ends at the deepest of them.
// Readings that contradict each other beyond their errors have [Calibration.Residuals] that say so.
//
// The equations follow from Boyle's law and the balance of forces; no source was found.
// Not modelled: friction, see [GaugeReading], and what [New] does not model.
func Calibrate(g GaugeReadings) (*Calibration, error) {
	c := units.Checker{Package: "airspring"}
	g.CheckEnough(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	points := make([]calibration.Point, len(g.Readings))
	for i, r := range g.Readings {
		y := g.inverse(r)
		points[i] = calibration.Point{Stroke: r.middle(), Phi: 1 / y, Blur: float64(g.GaugeError) / float64(r.Fill.Absolute(g.Ambient)) / y}
	}
	solution, ok := calibration.Fit(points, float64(g.RingError), g.negative())
	g.Readings, g.NegativeChamber = slices.Clone(g.Readings), new(g.negative())
	k := &Calibration{readings: g, points: points, solution: solution}
	if _, deepest := k.span(); !ok || !(k.Length() > deepest*(1+1e-6)) {
		c.Fail("readings", nil, "readings of one spring: the more fill, the less stroke under the same force", units.ErrConflict)
	}
	return units.Checked(&c, k)
}

// FillEstimate is a fill that readings of gauge and ring give.
type FillEstimate struct {
	Fill units.GaugePressure `json:"fill"`
	// StandardError is what the errors of ring and gauge make of the fill, to first order. If the
	// residuals are larger than those errors explain, it is as much larger: times √(χ²/ν) with ν readings
	// more than needed (Birge's ratio, from memory).
	StandardError units.GaugePressure `json:"standard_error"`
	// StrokeError is the error that StandardError makes of the stroke under the force.
	StrokeError units.Length `json:"stroke_error"`
	// Friction is what the friction found makes of the fill to either side: see [Calibration.Friction]. It
	// is a band and no part of StandardError.
	Friction units.GaugePressure `json:"friction"`
	// Extrapolated reports whether the stroke is outside those of the readings.
	Extrapolated bool `json:"extrapolated"`
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
	if outcome == FillBeyond && !(at < c.Length()) {
		check.Fail("at", at, units.LessThan(c.Length()).With("the length of the chamber"), ErrFillBeyond)
	} else {
		outcome.fail(&check, force, at)
	}
	return estimate, check.Err()
}

// SolveFill is [Calibration.FillFor] for a finite force and a stroke of 0 or more. It returns an
// estimate and [FillMet], or none and [FillPullsIn], [FillNone] or [FillBeyond].
func (c *Calibration) SolveFill(force units.Force, at units.Length) (FillEstimate, FillOutcome) {
	s := float64(at)
	if !(at < c.Length()) {
		return FillEstimate{}, FillBeyond
	}
	phi := c.solution.Phi(s)
	if !(phi > 0) {
		return FillEstimate{}, FillPullsIn
	}
	absolute := (float64(force) + c.readings.outside()) / phi
	fill, outcome := met(absolute - float64(c.readings.Ambient))
	if outcome != FillMet {
		return FillEstimate{}, outcome
	}
	u := c.solution.PhiError(s)
	from, to := c.span()
	friction, _ := c.Friction()
	return FillEstimate{
		Friction: units.GaugePressure(float64(friction) / phi),
		Fill:     fill, StandardError: units.GaugePressure(absolute * min(u/phi, 1e12)),
		StrokeError:  units.Length(min(u/c.solution.Slope(s), float64(mostTravel))),
		Extrapolated: at < from || at > to,
	}, FillMet
}

// Length returns the stroke at which the chamber that the readings give would have no volume left.
func (c *Calibration) Length() units.Length { return units.Length(c.solution.Length()) }

// span returns the least and the greatest stroke of the readings.
func (c *Calibration) span() (from, to units.Length) {
	from = units.Length(math.Inf(1))
	for _, p := range c.points {
		from, to = min(from, units.Length(p.Stroke)), max(to, units.Length(p.Stroke))
	}
	return from, to
}

// Residual is how far a reading is from the spring that agrees best with all.
type Residual struct {
	Stroke        units.Length `json:"stroke"`         // that of the reading less that of the spring, halfway between both approaches
	StandardError units.Length `json:"standard_error"` // of Stroke by the errors of ring and gauge; 0 if the spring goes through any such reading
	// Beyond reports whether the reading is more than 3 standard errors off and none is more. Then it, or
	// what it was made with, differs from the rest: a leak, another temperature, other spacers, a slip.
	// With one reading more than needed all are equally far off, and each is reported.
	Beyond bool `json:"beyond"`
}

// Residuals returns the residual of each reading, in their order.
func (c *Calibration) Residuals() []Residual {
	list, farthest := make([]Residual, len(c.points)), 3.0
	ratios := make([]float64, len(list))
	for i, p := range c.points {
		at := c.solution.Stroke(p.Phi)
		list[i].Stroke = units.Length(p.Stroke - at)
		if spare := 1 - c.solution.Leverage[i]; spare > 1e-6 {
			list[i].StandardError = units.Length(math.Hypot(float64(c.readings.RingError), p.Blur/c.solution.Slope(at)) * math.Sqrt(spare))
			ratios[i] = math.Abs(float64(list[i].Stroke / list[i].StandardError))
			farthest = max(farthest, ratios[i])
		}
	}
	for i := range list {
		list[i].Beyond = ratios[i] > 3 && ratios[i] >= farthest*(1-1e-3)
	}
	return list
}

// Friction returns the dry friction that the readings show, in N, and whether any was approached from
// both sides. It is the mean of half the difference of the forces of the spring at both strokes.
func (c *Calibration) Friction() (friction units.Force, known bool) {
	n := 0.0
	for _, r := range c.readings.Readings {
		if r.StrokeBack > 0 {
			n++
			rise := c.solution.Phi(float64(r.StrokeBack)) - c.solution.Phi(float64(r.Stroke))
			f := float64(r.Fill.Absolute(c.readings.Ambient)) * rise / 2
			friction += units.Force((f - float64(friction)) / n)
		}
	}
	return friction, n > 0
}

// Law returns the spring with a fill, standing still, as a [spring.Law] from full extension to the
// greatest stroke of the readings, where its travel ends: what it does beyond, the readings don't tell.
// Below the least stroke of the readings it is extrapolated, with the port taken as sealed. The error
// names fill.
func (c *Calibration) Law(fill units.GaugePressure) (spring.Law, error) {
	check := units.Checker{Package: "airspring"}
	gas.CheckFill(&check, "fill", fill)
	_, to := c.span()
	law := &calibrated{c.solution.Shape, float64(fill.Absolute(c.readings.Ambient)), c.readings.outside(), to}
	return units.Checked[spring.Law](&check, law)
}

// calibrated is the law of a calibration with a fill.
type calibrated struct {
	shape    calibration.Shape
	absolute float64 // fill
	outside  float64
	travel   units.Length
}

// Force, Rate, Energy and Travel are the methods of a [spring.Law].
func (l *calibrated) Force(x units.Length) units.Force {
	return units.Force(l.absolute*l.shape.Phi(float64(spring.Clamp(x, l.travel))) - l.outside)
}

func (l *calibrated) Rate(x units.Length) units.Stiffness {
	return units.Stiffness(l.absolute * l.shape.Slope(float64(spring.Clamp(x, l.travel))))
}

func (l *calibrated) Energy(x units.Length) units.Energy {
	at := float64(spring.Clamp(x, l.travel))
	return units.Energy(l.absolute*l.shape.Integral(at) - l.outside*at)
}

func (l *calibrated) Travel() units.Length { return l.travel }

// ChamberEstimate is the chambers that readings of gauge and ring give, with their standard errors.
type ChamberEstimate struct {
	Bore                units.Length `json:"bore"`
	BoreError           units.Length `json:"bore_error"`
	PositiveVolume      units.Volume `json:"positive_volume"` // what oil and spacers leave, at full extension
	PositiveVolumeError units.Volume `json:"positive_volume_error"`
	NegativeVolume      units.Volume `json:"negative_volume"` // at full extension; 0 without a negative chamber, as the rest
	NegativeVolumeError units.Volume `json:"negative_volume_error"`
	PortTravel          units.Length `json:"port_travel"`
	PortTravelError     units.Length `json:"port_travel_error"`
}

// Chambers returns the chambers of the spring. With a, h, b and k as in [Calibrate],
//
//	V_p0 = a,  A_p = a/h,  A_n = A_p − A_s,  V_n0 = k·A_n
//	q = b/V_n0,  x_t = h·k·(q − 1)/(q·k + h)
//
// Small errors of the ring become large ones of the chambers, even where they hardly move the fill for
// a sag: strokes from little to nearly all of the travel are needed. An unknown is undetermined if its
// standard error is above 25 %, for the port above 25 % or 1 mm, whichever is more.
// The error then names each of bore, positive_volume, negative_volume and port_travel, and is an
// [ErrUndetermined]. All are if the best chambers are at a limit of what a spring has.
//
// What depends on the chambers and not on Φ at the strokes read, such as the force at full travel,
// spacers and fast strokes, is as uncertain as they are.
func (c *Calibration) Chambers() (ChamberEstimate, error) {
	check := units.Checker{Package: "airspring"}
	names := []string{"bore", "positive_volume", "negative_volume", "port_travel"}
	if !c.readings.negative() {
		names = names[:2]
	}
	values, deviations := c.solution.Chambers(area(c.readings.OutsideDiameter))
	for i, name := range names {
		limit := 0.25 * math.Abs(values[i])
		least := 0.0
		if name == "port_travel" {
			limit = max(limit, 1e-3)
			least = -max(3*deviations[i], 1e-9)
		}
		if c.solution.AtLimit || !(deviations[i] <= limit && values[i] > least) {
			check.Fail(name, nil, "readings over more of the travel, or with less error, that determine it", ErrUndetermined)
		}
	}
	return units.Checked(&check, ChamberEstimate{
		Bore: units.Length(values[0]), BoreError: units.Length(deviations[0]),
		PositiveVolume: units.Volume(values[1]), PositiveVolumeError: units.Volume(deviations[1]),
		NegativeVolume: units.Volume(values[2]), NegativeVolumeError: units.Volume(deviations[2]),
		PortTravel: units.Length(max(values[3], 0)), PortTravelError: units.Length(deviations[3]),
	})
}
