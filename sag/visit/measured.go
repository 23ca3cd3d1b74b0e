package visit

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Setting is one end of the bike as it is set now. Exactly one of Coil and Air
// is given.
type Setting struct {
	Curve linkage.Spec `json:"curve"`
	// Sag is the target, as a fraction of the wheel's full travel, between 0 and 1.
	Sag float64 `json:"sag"`
	// Friction is the dry friction at the spring, from 0 to 1e12 N; 0 where unknown.
	Friction units.Force  `json:"friction,omitempty"`
	Coil     *CoilSetting `json:"coil,omitempty"`
	Air      *AirSetting  `json:"air,omitempty"`
}

// CoilSetting is a coil spring as it is fitted. A PreloadMax of 0 means that the
// collar's range is unknown: then as much as the stroke is offered.
type CoilSetting struct {
	Rate    units.Stiffness `json:"rate"`              // more than 0
	Preload units.Length    `json:"preload,omitempty"` // at full extension, 0 or more
	// SolidTravel is the compression from free to coil-bound, more than the
	// preload; 0 where unknown.
	SolidTravel units.Length `json:"solid_travel,omitempty"`
	fit.Collar
}

// AirSetting is an air spring as it is filled. Of the embedded spec, Travel
// may be left out where it is the curve's stroke. Exponent plays no part in
// what stands still, the gas being as warm as its surroundings, and may be
// left out.
type AirSetting struct {
	airspring.Spec
	// MaxFill is the highest fill that the marking on the part permits. No
	// fill above it is ever offered.
	MaxFill units.GaugePressure `json:"max_fill"`
}

// end is a setting that was found good.
type end struct {
	Setting
	sag.End
	air airspring.Spec // with the gas settled, where Air is given
}

// build checks a setting and joins its parts; c gets what is wrong. Where the
// setting is bad the end has no curve or no law.
func (s Setting) build(c *units.Checker) end {
	b := end{Setting: s, End: sag.End{Friction: s.Friction}}
	var err error
	b.End.Curve, err = linkage.New(s.Curve)
	c.Add("curve", err)
	sag.CheckSag(c, s.Sag)
	sag.CheckFriction(c, s.Friction)
	switch {
	case s.Coil == nil && s.Air == nil:
		c.Fail("coil", nil, "a coil spring, or air instead", units.ErrMissing)
	case s.Coil != nil && s.Air != nil:
		c.Fail("coil", nil, "either coil or air, not both", units.ErrConflict)
	case s.Coil != nil:
		own := c.Child("coil")
		b.Law = s.Coil.law(&own, b.End.Curve)
	default:
		own := c.Child("air")
		b.air, b.Law = s.Air.law(&own, b.End.Curve)
	}
	if c.OK() {
		b.End.Check(c)
	}
	return b
}

// law checks a coil spring and returns its law up to where it binds.
func (s *CoilSetting) law(c *units.Checker, curve *linkage.Curve) spring.Law {
	travel := units.Length(1) // stands in where the curve is at fault
	if curve != nil {
		travel = curve.Stroke()
	}
	law, err := spring.NewLinear(spring.Linear{Rate: s.Rate, Travel: travel, Preload: s.Preload})
	c.Add("", err)
	if units.NonNegative(c, "solid_travel", s.SolidTravel) && s.SolidTravel > 0 && err == nil {
		if !(s.SolidTravel > s.Preload) {
			c.Fail("solid_travel", s.SolidTravel, "more than preload, "+s.Preload.String(), units.ErrConflict)
		} else if free := s.SolidTravel - s.Preload; free < travel {
			// Over less travel no spring is too strong that was not before.
			law, _ = spring.NewLinear(spring.Linear{Rate: s.Rate, Travel: free, Preload: s.Preload})
		}
	}
	collar := s.Collar
	if collar.PreloadMax == 0 {
		collar.PreloadMax = max(collar.PreloadMin, 0) // unknown
	}
	collar.Check(c)
	low := s.PreloadMin >= 0
	if low && s.Preload < s.PreloadMin {
		c.Fail("preload", s.Preload, "preload_min, "+s.PreloadMin.String()+", or more", units.ErrConflict)
	}
	if s.PreloadMax > 0 && s.Preload > s.PreloadMax {
		c.Fail("preload", s.Preload, "no more than preload_max, "+s.PreloadMax.String(), units.ErrConflict)
	}
	if s.SolidTravel > 0 && low && !(s.SolidTravel > s.PreloadMin) {
		c.Fail("solid_travel", s.SolidTravel, "more than preload_min, "+s.PreloadMin.String(), units.ErrConflict)
	}
	return law
}

// law checks an air spring and returns its spec and law with the gas settled.
func (s *AirSetting) law(c *units.Checker, curve *linkage.Curve) (airspring.Spec, spring.Law) {
	spec := s.Spec
	if spec.Exponent != 0 {
		units.Between(c, "exponent", spec.Exponent, 1, 2)
	}
	spec.Exponent = 1
	if spec.Travel == 0 && curve != nil {
		spec.Travel = curve.Stroke()
	}
	law, err := airspring.New(spec)
	c.Add("", err)
	if curve != nil && spec.Travel < curve.Stroke() {
		c.Fail("travel", spec.Travel, "the curve's stroke, "+curve.Stroke().String()+", or more", units.ErrConflict)
	}
	if units.Positive(c, "max_fill", s.MaxFill) && err == nil {
		most := spec
		most.Fill = s.MaxFill
		if _, err := airspring.New(most); err != nil {
			c.Fail("max_fill", s.MaxFill, "a fill that an air spring can have", units.ErrRange)
		}
		if spec.Fill > s.MaxFill {
			c.Fail("fill", spec.Fill, "no more than the marking, max_fill "+s.MaxFill.String(), units.ErrConflict)
		}
	}
	return spec, law
}

// Reading is what a ring on the shaft, or on the stanchion, said after the
// rider stood still on the bike.
type Reading struct {
	Stroke units.Length `json:"stroke"` // from full extension
	// Error is how far the reading may be off, either way: more than 0, less
	// than Stroke, and less than what is left of the stroke.
	Error units.Length `json:"error"`
	Date  string       `json:"date,omitempty"` // for people; not read
	Note  string       `json:"note,omitempty"` // for people; not read
}

// Implied is the sprung load at the wheel that a reading stands for.
type ImpliedLoad struct {
	Load units.Force `json:"load"` // at the reading itself, without friction
	// ErrorLow and ErrorHigh bound the load by the error of the reading alone.
	ErrorLow  units.Force `json:"error_low"`
	ErrorHigh units.Force `json:"error_high"`
	// Low and High bound it by error and friction together.
	Low  units.Force `json:"low"`
	High units.Force `json:"high"`
	// StandardError is the standard uncertainty of Load from the error of the
	// reading: half of ErrorHigh − ErrorLow, over √3.
	StandardError units.Force `json:"standard_error"`
}

// ImpliedLoad returns the sprung loads at the wheel, in N, that a reading of
// the shock's stroke s agrees with, for any end of a bike. A wheel held by a dry
// friction f at the spring rests wherever
//
//	F_s(s) − f ≤ load·LR(s) ≤ F_s(s) + f
//
// so with a reading error e the bounds are the least (F_s − f)/LR and the
// greatest (F_s + f)/LR over [s − e, s + e]: those at its ends where the wheel
// force rises with travel; otherwise 15 strokes between are looked at too.
// Bounds below 0 are 0. Load itself is that of [sag.End.LoadAt].
//
// The error is a bound, not a deviation. Its standard uncertainty is taken to be
// that of a rectangular distribution, e/√3 (JCGM 100:2008, 4.3.7; from
// memory).
//
// The whole of [s − e, s + e] must lie inside the stroke, for the stops carry
// an unknown part of the load at its ends; e must be more than 0, friction
// from 0 to 1e12 N. The error names every bad field of curve, law, friction,
// stroke, error.
func (r Reading) ImpliedLoad(e sag.End) (ImpliedLoad, error) {
	c := units.Checker{Package: "sag"}
	e.Check(&c)
	if !c.OK() {
		r.check(&c, units.Length(math.Inf(1)))
		return ImpliedLoad{}, c.Err()
	}
	r.check(&c, min(e.Law.Travel(), e.Curve.Stroke()))
	if err := c.Err(); err != nil {
		return ImpliedLoad{}, err
	}
	load, err := e.LoadAt(r.Stroke)
	if err != nil {
		return ImpliedLoad{}, err
	}
	i := ImpliedLoad{Load: load}
	bounds := func(f units.Force) (units.Force, units.Force) {
		low, high := r.span(func(s units.Length, sign float64) (float64, bool) {
			return (float64(e.Law.Force(s)) + sign*float64(f)) / e.Curve.LeverRatio(s), true
		})
		return max(0, units.Force(low)), units.Force(high)
	}
	i.ErrorLow, i.ErrorHigh = bounds(0)
	i.Low, i.High = bounds(e.Friction)
	i.StandardError = (i.ErrorHigh - i.ErrorLow) / 2 / units.Force(math.Sqrt(3))
	return i, nil
}

// check records what is wrong with a reading where the stroke ends at end.
func (r Reading) check(c *units.Checker, end units.Length) {
	if units.Inside(c, "stroke", r.Stroke, 0, end) {
		room := min(r.Stroke, end-r.Stroke)
		if !(r.Error > 0 && r.Error < room) {
			c.Fail("error", r.Error, "more than 0 and less than "+room.String()+", that no stop has a part in the reading", units.ErrRange)
		}
		return
	}
	units.Positive(c, "error", r.Error)
}

// spanSteps is into how many parts a reading's interval is cut to find extremes.
const spanSteps = 16

// span returns the least of need(s, −1) and the greatest of need(s, +1) over
// the strokes that a reading may stand for. Need returns the value that
// explains stroke s with the friction helping (−1) or hindering (+1), and
// whether there is one. Where there is none, the bounds are +Inf and −Inf.
func (r Reading) span(need func(s units.Length, sign float64) (float64, bool)) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range spanSteps + 1 {
		s := r.Stroke + r.Error*units.Length(float64(2*i-spanSteps)/spanSteps)
		if x, ok := need(s, -1); ok {
			low = min(low, x)
		}
		if x, ok := need(s, +1); ok {
			high = max(high, x)
		}
	}
	return low, high
}

// Verdict is a stable code for how readings stand to a prediction.
type Verdict string

// Verdicts.
const (
	NotCompared    Verdict = "not_compared"    // no load was predicted
	Agrees         Verdict = "agrees"          // within the error of the readings alone
	WithinFriction Verdict = "within_friction" // within error and friction together
	Unexplained    Verdict = "unexplained"     // beyond both: some stated part is not as stated
	Contradictory  Verdict = "contradictory"   // no single load agrees with all the readings
)

// verdict holds a predicted load, 0 for none, against what a reading implies.
func (i ImpliedLoad) verdict(load units.Force) Verdict {
	switch {
	case load == 0:
		return NotCompared
	case load >= i.ErrorLow && load <= i.ErrorHigh:
		return Agrees
	case load >= i.Low && load <= i.High:
		return WithinFriction
	default:
		return Unexplained
	}
}

// Series is one end of the bike with what was read on it.
type Series struct {
	Setting Setting `json:"setting"`
	// Load is the sprung load at the wheel that was predicted, such as that of
	// [sag.Masses.Loads]; 0 where none was.
	Load     units.Force `json:"load,omitempty"`
	Readings []Reading   `json:"readings"` // from 1 to 1000
}

// maxReadings keeps the work of a hostile input small.
const maxReadings = 1000

// Measured is what readings say about one end of the bike.
type Report struct {
	// Predicted is the load they were held against; 0 where there was none.
	Predicted units.Force `json:"predicted"`
	Verdict   Verdict     `json:"verdict"`
	Estimate  Estimate    `json:"estimate"`
	// Readings are in the order given.
	Readings []ReadingReport `json:"readings"`
	// Explanations says what would explain the readings, each by itself, where
	// the verdict is Unexplained or Contradictory; empty otherwise. Those that need
	// the smallest relative change come first.
	Explanations []Explanation `json:"explanations"`
	// Correction is what to set for the target under the estimated load.
	Correction Correction    `json:"correction"`
	Cautions   []fit.Caution `json:"cautions"`
}

// MeasuredReading is one reading and what it implies.
type ReadingReport struct {
	Stroke   units.Length `json:"stroke"`
	Sag      float64      `json:"sag"`       // of the wheel, as a fraction of its full travel
	ShockSag float64      `json:"shock_sag"` // Stroke over the full stroke
	ImpliedLoad
	Verdict  Verdict     `json:"verdict"`  // of this reading alone
	Residual units.Force `json:"residual"` // Load less the mean of all readings
	// Outlier tells that the median of all implied loads lies outside this
	// reading's Low and High. It still counts in the mean: leaving it out is
	// for the user to decide. Never set with fewer than three readings.
	Outlier bool `json:"outlier"`
}

// Report returns what ring readings say about one end of the bike as it is
// set: the load that each implies ([Reading.ImpliedLoad]) and all together do, whether
// that agrees with the predicted load, what to change for the target, and
// where they can't be explained, what would explain them.
//
// The verdict holds the predicted load against the loads that all readings
// agree with. Readings must be more than 0 and the whole of their error inside
// the stroke, which a coil spring that binds early ends early; see
// [Reading.ImpliedLoad]. The predicted load must be finite and 0 or more. The error
// names every bad field, such as setting.coil.rate or readings[2].error.
//
// Not modelled: a rider who does not stand still, a tilted floor, a ring that
// slid on by its own momentum (put it in Reading.Error), and a temperature of
// the gas other than that around it.
func (m Series) Report() (*Report, error) {
	c := units.Checker{Package: "sag"}
	own := c.Child("setting")
	b := m.Setting.build(&own)
	units.NonNegative(&c, "load", m.Load)
	if n := len(m.Readings); n == 0 {
		c.Fail("readings", nil, "one reading or more", units.ErrMissing)
	} else if n > maxReadings {
		c.Fail("readings", n, fmt.Sprintf("at most %d readings", maxReadings), units.ErrRange)
		return nil, c.Err()
	}
	a := &Report{Predicted: m.Load, Readings: make([]ReadingReport, len(m.Readings)), Explanations: []Explanation{}}
	for i, r := range m.Readings {
		one := c.Element("readings", i)
		implied := b.implied(&one, r)
		if !c.OK() {
			continue
		}
		a.Readings[i] = ReadingReport{
			Stroke: r.Stroke, ImpliedLoad: implied, Verdict: implied.verdict(m.Load),
			Sag:      float64(b.End.Curve.TravelAt(r.Stroke) / b.End.Curve.Travel()),
			ShockSag: float64(r.Stroke / b.End.Curve.Stroke()),
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	a.Estimate = estimate(a.Readings)
	a.Verdict = a.Estimate.verdict(m.Load)
	if a.Verdict == Unexplained || a.Verdict == Contradictory {
		a.Explanations = explain(b, m)
	}
	var err error
	if a.Correction, err = b.correct(a.Estimate.Load); err != nil {
		return nil, units.At("setting", err)
	}
	a.Cautions = fit.Cautions(m.Setting.Air != nil, m.Setting.Coil != nil)
	return a, nil
}

// implied is what a reading stands for on an end, which may be bad; c gets what is
// wrong with the reading.
func (b *end) implied(c *units.Checker, r Reading) ImpliedLoad {
	if b.End.Curve == nil || b.Law == nil {
		r.check(c, units.Length(math.Inf(1)))
		return ImpliedLoad{}
	}
	implied, err := r.ImpliedLoad(b.End)
	c.Add("", err)
	if err == nil && !(implied.StandardError > 0) {
		c.Fail("stroke", r.Stroke, "a stroke at which the load changes with the stroke", units.ErrConflict)
	}
	return implied
}
