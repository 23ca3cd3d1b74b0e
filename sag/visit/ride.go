package visit

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Ride is where a ring on the shaft or the stanchion was after a ride: the deepest stroke of it.
type Ride struct {
	Stroke units.Length `json:"stroke"`         // of the shock, from full extension; more than 0 and at most its stroke, as far as Error tells
	Error  units.Length `json:"error"`          // the most that the reading may be off to either side; more than 0 and less than Stroke
	Date   string       `json:"date,omitempty"` // any text
	Note   string       `json:"note,omitempty"` // any text, such as the trail
}

// RideVerdict is a stable code for how much of its travel an end used on a ride.
type RideVerdict string

// Verdicts of a ride. What suits is common practice, with no source: the hardest hit that a bike is
// set up for uses nearly all of the travel.
const (
	AllUsed    RideVerdict = "all_used"    // full travel is within the error of the reading: the end may have hit its stop
	WellUsed   RideVerdict = "well_used"   // WellUsedFrom of the travel or more, within the error of the reading
	LittleUsed RideVerdict = "little_used" // less than that
)

// WellUsedFrom is the fraction of the travel from which a ride has used it well; a choice of this
// package.
const WellUsedFrom = 0.85

// RideReport is what a ride used of one end's travel, and what the same hit would use with other
// settings.
type RideReport struct {
	Stroke   units.Length `json:"stroke"`    // as read, or the full stroke if that is less
	Travel   units.Length `json:"travel"`    // of the wheel there
	Used     float64      `json:"used"`      // Travel over the wheel's full travel
	UsedLow  float64      `json:"used_low"`  // the least within the error of the reading
	UsedHigh float64      `json:"used_high"` // the most within the error of the reading
	Verdict  RideVerdict  `json:"verdict"`
	// Drop is the height of the undamped drop that uses as much: E/load − Travel with E the energy of
	// the spring at Travel over a fast stroke, see [sag.End.Reserve]. It is less than 0 if the ride
	// used less than the load does when it is let down from full extension, and a lower bound if all
	// was used.
	Drop    units.Length `json:"drop"`
	Reserve sag.Reserve  `json:"reserve"`           // of the end as it was set
	Landing *sag.Landing `json:"landing,omitempty"` // of the drop that the job asks about, as the end was set; nil without one
	Options []RideOption `json:"options"`           // none for a ride that used its travel well
}

// Adjustment is a stable code for what is changed at an end.
type Adjustment string

// Adjustments.
const (
	AdjustFill    Adjustment = "fill"
	AdjustSpacers Adjustment = "spacers"
	AdjustPreload Adjustment = "preload"
	AdjustRate    Adjustment = "rate"
)

// RideOption is another setting of an end, and how much travel the hit of a ride would use with it.
type RideOption struct {
	Adjustment Adjustment          `json:"adjustment"`
	Fill       units.GaugePressure `json:"fill,omitempty"`    // of an air spring
	Spacers    int                 `json:"spacers,omitempty"` // of an air spring
	Rate       units.Stiffness     `json:"rate,omitempty"`    // of a coil spring
	Preload    units.Length        `json:"preload,omitempty"` // of a coil spring
	Sag        float64             `json:"sag"`               // at rest under the load
	// Used is the part of the travel that the hit uses, 1 if it uses all of it. It is a lower bound
	// where the ride itself used all: how much harder the hit was than that is unknown.
	Used    float64      `json:"used"`
	Reserve units.Length `json:"reserve"` // height of the undamped drop that uses the full travel
}

// Ride returns what a ride used of one end's travel as the record left it, under the load that the
// masses put on it. Options are the fill or the preload for the target, unless it is set, and then one
// step harder or softer: for air a spacer more or less at the fill for the target, and the fill for
// 2 % of the travel less or more sag; for a coil the next spring of the job's shelf, or without a job
// a rate 5 % away, at the preload for the target, and the preload for 2 % less or more. These steps
// are choices of this package.
//
// The same hit is the drop of the same height ([RideReport.Drop]) with the same damping and the same
// arms and legs: the energy that they take is left out before and after. The error names every bad
// field of the masses, the setting and the ride, or end if the record does not have that end.
//
// Not modelled: the damper, see [sag.End.Land]; a ring pushed on by a seal's oil or by a knock.
func (r Record) Ride(axle sag.Axle, ride Ride) (*RideReport, error) {
	e, load, err := r.left(axle)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "sag"}
	a := e.ride(&c, load, ride, r.asked(axle))
	return a, c.Err()
}

// asked returns what the job of a record asks of an end; nil if there is none.
func (r Record) asked(axle sag.Axle) *setup.EndJob {
	switch {
	case r.Job == nil:
		return nil
	case axle == sag.Front:
		return r.Job.Front
	}
	return r.Job.Rear
}

// check records what is wrong with a ride on an end that passed all checks.
func (r Ride) check(c *units.Checker, e *end) {
	if !units.Positive(c, "stroke", r.Stroke) {
		units.Positive(c, "error", r.Error)
		return
	}
	units.Inside(c, "error", r.Error, 0, r.Stroke)
	if e.good && c.OK() && !(r.Stroke-r.Error < e.stroke()) {
		c.Fail("stroke", r.Stroke, "at most the full stroke, "+e.stroke().String(), units.ErrRange)
	}
}

// stroke returns the lesser of the travel of the spring and the stroke of the curve.
func (e *end) stroke() units.Length { return min(e.Law.Travel(), e.Curve.Stroke()) }

// moving returns an end that passed all checks with its gas over a fast stroke too. Without an
// exponent its gas is isothermal there as well.
func (e *end) moving() (sag.End, error) {
	moving := e.End
	if e.set.Air == nil || !(e.set.Air.Exponent > 1) {
		return moving, nil
	}
	spec := e.gas
	spec.Exponent = e.set.Air.Exponent
	law, err := airspring.New(spec)
	if err != nil {
		return sag.End{}, units.At("air", err)
	}
	moving.Fast, moving.Exponent = law, spec.Exponent
	return moving, nil
}

// ride is Record.Ride for an end that passed all checks. The job is that of the end, or nil.
func (e *end) ride(c *units.Checker, load units.Force, ride Ride, job *setup.EndJob) *RideReport {
	ride.check(c, e)
	if !c.OK() {
		return nil
	}
	moving, err := e.moving()
	if err != nil {
		c.Add("", err)
		return nil
	}
	state, err := moving.Under(load)
	if err != nil {
		c.Add("", err)
		return nil
	}
	_, fast, _ := moving.Wheel() // no error, as Under had none
	landing, err := e.land(load, job)
	if err != nil {
		c.Add("", err)
		return nil
	}
	full, curve := e.stroke(), e.Curve
	used := func(s units.Length) float64 { return float64(curve.TravelAt(min(s, full)) / curve.Travel()) }
	a := &RideReport{
		Stroke: min(ride.Stroke, full), Used: used(ride.Stroke), UsedLow: used(ride.Stroke - ride.Error), UsedHigh: used(ride.Stroke + ride.Error),
		Reserve: state.Reserve, Landing: landing, Options: []RideOption{},
	}
	a.Travel = curve.TravelAt(a.Stroke)
	a.Drop = units.Length(float64(fast.Energy(a.Travel))/float64(load)) - a.Travel
	switch {
	case ride.Stroke+ride.Error >= full:
		a.Verdict = AllUsed
	case a.UsedHigh >= WellUsedFrom:
		a.Verdict = WellUsed
		return a
	default:
		a.Verdict = LittleUsed
	}
	a.Options = e.options(load, a.Drop, a.Used, a.Verdict == LittleUsed, job)
	return a
}

// land returns the landing of the drop that a job asks about; nil if it asks about none.
func (e *end) land(load units.Force, job *setup.EndJob) (*sag.Landing, error) {
	if job == nil || !(job.DropHeight > 0) {
		return nil, nil
	}
	moving, err := e.moving()
	if err != nil {
		return nil, err
	}
	damping := job.Damping
	if job.DampingRatio > 0 {
		state, err := moving.Under(load)
		if err != nil {
			return nil, err
		}
		damping = sag.DampingFor(job.DampingRatio, state.FastWheelRate, load)
	}
	l, err := moving.Land(load, sag.Drop{Height: job.DropHeight, Damping: damping})
	return &l, err
}
