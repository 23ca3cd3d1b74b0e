package setup

import (
	"math"
	"slices"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// blank is a field that hardly counts if every spring is known by readings of its gauge ([fit.Gauge]), since the
// weight cancels. Both values are choices of this package.
type blank struct {
	code, field, text, other string // END stands for the end
	// fill puts the value taken, or the other one, into a blank field of a job whose pointers are its
	// own. It reports whether the field is blank.
	fill func(j *Job, e endJob, other bool) bool
}

// blanks are the fields, those of the whole job first.
var blanks = []blank{
	{"bike_mass", "masses.bike_mass", "The bike's mass is taken as 16 kg; it counts for riders of other masses.", "20 kg",
		func(j *Job, _ endJob, other bool) bool { return put(&j.Masses.BikeMass, other, 16, 20) }},
	{"rear_share", "masses.rear_share", "The share of the weight on the rear wheel is taken as 0.6; it counts for riders of other masses.", "0.5",
		func(j *Job, _ endJob, other bool) bool {
			m := &j.Masses
			return !m.Scaled() && m.MassCentreBehindFrontAxle == 0 && put(&m.RearShare, other, 0.6, 0.5)
		}},
	{"ambient", "ambient", "The air around is taken as that at sea level, 1.013 bar.", "0.795 bar, as at 2000 m",
		func(j *Job, e endJob, other bool) bool {
			return e.Gauge.Ambient == 0 && put(&j.Ambient, other, units.StandardAtmosphere, 79.5*units.KilopascalAbsolute)
		}},
	{"unsprung", "masses.unsprung_END", "The unsprung mass at the END is taken as 2.5 kg; it counts for riders of other masses.", "4 kg",
		func(j *Job, e endJob, other bool) bool {
			at := sag.AtAxle(e.axle, &j.Masses.UnsprungFront, &j.Masses.UnsprungRear)
			if *at != nil {
				return false
			}
			*at = new(units.Mass)
			return put(*at, other, 2.5, 4)
		}},
	{"head_angle", "END.curve.fork.head_angle", "The head angle is taken as 64°.", "68°",
		func(_ *Job, e endJob, other bool) bool {
			return e.Curve.Fork != nil && put(&e.Curve.Fork.HeadAngle, other, 64*units.Degree, 68*units.Degree)
		}},
	{"outside_diameter", "END.gauge.outside_diameter", "The shaft at the END is taken as 10 mm thick.", "14 mm",
		func(_ *Job, e endJob, other bool) bool {
			return e.Gauge.NegativeChamber == fit.SelfFilling && put(&e.Gauge.OutsideDiameter, other, 10*units.Millimetre, 14*units.Millimetre)
		}},
}

// put sets a field that is 0 to one of two values, and reports whether it was 0.
func put[Q ~float64](v *Q, other bool, taken, instead Q) bool {
	if *v != 0 {
		return false
	}
	if *v = taken; other {
		*v = instead
	}
	return true
}

// taken is a blank of a job that was filled in.
type taken struct {
	*blank
	axle sag.Axle
}

// Filled returns a job with the values that [NewSheet] takes for its blanks: those that may be left out
// if every spring is known by readings of its gauge. Any other job is returned as it is.
func (j Job) Filled() Job {
	j, _ = j.filled(nil)
	return j
}

// filled is Filled with the blanks that there were. Into other, if it is not nil, goes its other value.
func (j Job) filled(other *taken) (Job, []taken) {
	for _, e := range j.ends() {
		if e.Gauge == nil || e.Coil != nil || e.Air != nil {
			return j, nil
		}
	}
	j.Front, j.Rear = j.Front.clone(), j.Rear.clone()
	var list []taken
	for i := range blanks {
		for _, e := range j.ends() {
			one := taken{&blanks[i], e.axle}
			if one.fill(&j, e, other != nil && *other == one) {
				list = append(list, one)
			}
		}
	}
	return j, list
}

// clone returns an end whose fork and gauge are its own.
func (e *EndJob) clone() *EndJob {
	if e == nil {
		return nil
	}
	own := *e
	own.Curve.Fork, own.Gauge = copied(e.Curve.Fork), copied(e.Gauge)
	return &own
}

// addFilled notes what was taken for the blanks of a job, and what another value would change of the fill.
func (s *Sheet) addFilled(job Job, list []taken) {
	var idle []string
	for _, t := range list {
		moved, _ := job.filled(&t)
		var c units.Checker
		b, loads := moved.prepareWithRider(&c)
		var effects []Effect
		for i, e := range s.Ends() {
			if !c.OK() { // the other value doesn't suit this job
				break
			}
			if other, err := b.ends[i].options.Choose(loads.Load(e.Axle)); err == nil {
				f := Effect{End: e.Axle, With: t.other, Fill: other.Gauge.Fill - e.Gauge.Fill}
				if math.Abs(f.Fill.Pascals()) < leastChange {
					f.Fill = 0
				}
				effects = append(effects, f)
			}
		}
		s.take(true, t.axle, t.code, t.field, t.text, func() []Effect { return effects })
		if len(effects) > 0 && !slices.ContainsFunc(effects, func(f Effect) bool { return !f.none() }) {
			idle = append(idle, s.LeftOut[len(s.LeftOut)-1].Field)
		}
	}
	if idle != nil {
		s.omit("unchanged", "", "Another value than the one taken changes no fill here: "+strings.Join(idle, ", ")+".")
	}
}

// copied returns a pointer to a copy, nil for nil.
func copied[V any](v *V) *V {
	if v == nil {
		return nil
	}
	own := *v
	return &own
}
