package visit

import (
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

// Ride returns what a ride used of the end's travel as it is set now, under a load at the wheel. Options
// are the fill or the preload for the target, unless it is set, and then one step harder or softer: for
// air a spacer more or less at the fill for the target, and the fill for 2 % of the travel less or more
// sag; for a coil the next spring of the job's shelf, or without a job a rate 5 % away, at the preload
// for the target, and the preload for 2 % less or more. These steps are choices of this package.
//
// The same hit is the drop of the same height ([RideReport.Drop]) with the same damping and the same
// arms and legs: the energy that they take is left out before and after. The error names every bad
// field of the ride, load, and the damping of the job if no drop can be worked out with it.
//
// Not modelled: the damper, see [sag.End.Land]; a ring pushed on by a seal's oil or by a knock.
func (a *Arrival) Ride(load units.Force, ride Ride) (*RideReport, error) {
	c, e := units.Checker{Package: "sag"}, a.Assembly
	sag.CheckLoad(&c, load)
	if ride.check(&c, e); !c.OK() {
		return nil, c.Err()
	}
	state, err := e.end.Under(load)
	if err != nil {
		return nil, err
	}
	landing, err := e.land(state, a.job)
	if err != nil {
		return nil, err
	}
	_, fast, _ := e.end.Wheel() // no error, as Under had none
	full, curve := e.stroke(), e.end.Curve
	used := func(s units.Length) float64 { return float64(curve.TravelAt(min(s, full)) / curve.Travel()) }
	r := &RideReport{
		Stroke: min(ride.Stroke, full), Used: used(ride.Stroke), UsedLow: used(ride.Stroke - ride.Error), UsedHigh: used(ride.Stroke + ride.Error),
		Reserve: state.Reserve, Landing: landing, Options: []RideOption{},
	}
	r.Travel = curve.TravelAt(r.Stroke)
	r.Drop = units.Length(float64(fast.Energy(r.Travel))/float64(load)) - r.Travel
	way := 1.0 // harder
	switch {
	case ride.Stroke+ride.Error >= full:
		r.Verdict = AllUsed
	case r.UsedHigh >= WellUsedFrom:
		r.Verdict = WellUsed
		return r, nil
	default:
		r.Verdict, way = LittleUsed, -1
	}
	r.Options = e.options(load, r.Drop, r.Used, way, a.job)
	return r, nil
}

// check records what is wrong with a ride on an end, nil if that has faults.
func (r Ride) check(c *units.Checker, e *Assembly) {
	if !units.Positive(c, "stroke", r.Stroke) {
		units.Positive(c, "error", r.Error)
		return
	}
	units.Inside(c, "error", r.Error, 0, r.Stroke)
	if e != nil && !c.Bad("error") && !(r.Stroke-r.Error < e.stroke()) {
		c.Fail("stroke", r.Stroke, units.AtMost(e.stroke()).With("the full stroke"), units.ErrRange)
	}
}

// land returns the landing of the drop that a job asks about; nil if it asks about none.
func (e *Assembly) land(s sag.State, job *setup.EndJob) (*sag.Landing, error) {
	if job == nil || !(job.DropHeight > 0) {
		return nil, nil
	}
	damping := job.Damping
	if job.DampingRatio > 0 {
		damping = sag.DampingFor(job.DampingRatio, s.FastWheelRate, s.Load)
	}
	l, err := e.end.Land(s.Load, sag.Drop{Height: job.DropHeight, Damping: damping})
	return &l, err
}
