package setup

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// RiderSheet is what another rider of the same bike would set.
type RiderSheet struct {
	RiderMass units.Mass `json:"rider_mass"`
	Own       bool       `json:"own,omitempty"`   // the rider of the job
	Front     *RiderEnd  `json:"front,omitempty"` // nil for an end that the job does not have, as is Rear
	Rear      *RiderEnd  `json:"rear,omitempty"`
}

// RiderEnd is the recommended set-up of one end for a rider.
type RiderEnd struct {
	IdealRate units.Stiffness    `json:"ideal_rate,omitempty"` // that of [fit.CoilAnswer], for a coil
	Spring    *fit.CoilCandidate `json:"spring,omitempty"`
	Fill      *fit.AirOption     `json:"fill,omitempty"`
	Gauge     *fit.GaugeAnswer   `json:"gauge,omitempty"`
}

// mostRiders is how many riders a job may list; each takes time.
const mostRiders = 100

// The riders of a job that lists none, to both sides of its own.
const ridersAside, riderStep = 3, 5 * units.Kilogram

// checkRiders checks a job's list of riders.
func checkRiders(c *units.Checker, list []units.Mass) {
	if len(list) > mostRiders {
		c.Fail("riders", len(list), fmt.Sprintf("at most %d riders", mostRiders), nil)
		return
	}
	for i, mass := range list {
		units.Positive(c, fmt.Sprintf("riders[%d]", i), mass)
	}
}

// addRiders fills in Riders. The share of the weight is that of the sheet. A rider that is listed and
// can have no sheet is an error; of those not listed, such a one is left out.
func (s *Sheet) addRiders(c *units.Checker, b *Template) {
	masses := s.masses.WithRearShare(s.Loads.RearShare)
	list, listed, own := b.job.Riders, len(b.job.Riders) > 0, masses.RiderMass
	for i := -ridersAside; i <= ridersAside && !listed; i++ {
		if m := own + units.Mass(i)*riderStep; m > 0 {
			list = append(list, m)
		}
	}
	for i, mass := range list {
		one := RiderSheet{RiderMass: mass, Own: math.Abs(float64(mass-own)) <= 1e-9*float64(own)}
		masses.RiderMass = mass
		loads, err := masses.Loads()
		if err == nil {
			ends := units.Checker{Package: "sag"}
			one.Front, one.Rear = riderEnd(&ends, "front", b.front, loads.Front), riderEnd(&ends, "rear", b.rear, loads.Rear)
			err = ends.Err()
		}
		switch {
		case err == nil:
			s.Riders = append(s.Riders, one)
		case listed:
			c.Fail(fmt.Sprintf("riders[%d]", i), mass, "a rider for whom each end has a spring or a fill", units.ErrConflict)
		}
	}
}

// riderEnd returns the recommended set-up of an end under a load; nil for an end that is not there.
func riderEnd(c *units.Checker, end string, options *fit.Options, load units.Force) *RiderEnd {
	if options == nil {
		return nil
	}
	choice, err := options.Choose(load)
	if c.Add(end, err); err != nil {
		return nil
	}
	one := &RiderEnd{Spring: choice.Spring(), Fill: choice.Fill(), Gauge: choice.Gauge}
	if choice.Coil != nil {
		one.IdealRate = choice.Coil.IdealRate
	}
	return one
}

// pumpWithin is how near to the recommended fill the last reading of a plan comes: what the gauge of
// a pump can be read to, a choice of this package.
var pumpWithin = units.PSIGauge(0.5)

// mostCycles is how often anybody cycles a spring for one change of its fill.
const mostCycles = 50

// addPump fills in the steps at the pump of each end that has a negative chamber and whose fill is
// known, or notes why there are none.
func (s *Sheet) addPump() {
	for _, e := range s.Ends() {
		chamber, best := e.options.Spec().Air, e.Fill()
		if chamber == nil || best == nil || chamber.NegativeVolume == 0 || chamber.Fill == 0 {
			continue
		}
		spec := chamber.Spec
		spec.Spacers = best.Spacers
		plan, err := airspring.PlanTopUp(airspring.TopUpOf(spec, best.Fill, pumpWithin))
		if err != nil || plan.Cycles > mostCycles {
			s.LeftOut = append(s.LeftOut, Omission{Code: "pump", Field: string(e.Axle) + ".air.fill", Text: fmt.Sprintf("Steps at the pump, %s: there is no plan of %d cycles or fewer from %s to %s.", e.Axle, mostCycles, chamber.Fill.Both(), best.Fill.Both())})
			continue
		}
		e.Pump = &plan
	}
}
