package setup

import (
	"fmt"
	"math"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
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

// The riders of a job that lists none, to both sides of its own.
const ridersAside, riderStep = 3, 5 * units.Kilogram

// addRiders fills in Riders. One who can have no set-up is left out, and noted if the job lists that rider.
func (s *Sheet) addRiders(b *Template) {
	masses := s.masses.WithRearShare(s.Loads.RearShare)
	list, own := b.job.Riders, masses.RiderMass
	for i := -ridersAside; i <= ridersAside && len(b.job.Riders) == 0; i++ {
		list = append(list, own+units.Mass(i)*riderStep)
	}
	var without []string
	for _, mass := range list {
		one := RiderSheet{RiderMass: mass, Own: math.Abs(float64(mass-own)) <= 1e-9*float64(own)}
		masses.RiderMass = mass
		loads, err := masses.Loads()
		for _, e := range s.Ends() {
			choice := e.Choice
			if err == nil && !one.Own {
				choice, err = e.options.Recommend(loads.Load(e.Axle))
			}
			if err != nil {
				break
			}
			end := &RiderEnd{Spring: choice.Spring(), Fill: choice.Fill(), Gauge: choice.Gauge}
			if choice.Coil != nil {
				end.IdealRate = choice.Coil.IdealRate
			}
			*sag.AtAxle(e.Axle, &one.Front, &one.Rear) = end
		}
		if err == nil {
			s.Riders = append(s.Riders, one)
		} else {
			without = append(without, mass.Both().String())
		}
	}
	if without != nil && len(b.job.Riders) > 0 {
		s.omit("riders", "riders", "Riders for whom an end has no spring or fill: "+strings.Join(without, ", ")+".")
	}
}

// How often anybody cycles a spring for one change of its fill, and what a pump's gauge can be read to. Both are
// choices of this package.
const mostCycles = 50

var pumpWithin = units.PSIGauge(0.5)

// addPump fills in the steps at the pump of each end with a negative chamber and a known fill, or notes why there
// are none. A chamber whose spacers are changed is opened, and then holds no fill.
func (s *Sheet) addPump() {
	for _, e := range s.Ends() {
		chamber, best := e.options.Spec().Air, e.Fill()
		if chamber == nil || best == nil || chamber.NegativeVolume == 0 || chamber.Fill == 0 && e.Air.SpacerChange == 0 {
			continue
		}
		spec := chamber.Spec
		if e.Air.SpacerChange != 0 {
			spec.Spacers, spec.Fill = best.Spacers, 0
		}
		plan, err := airspring.PlanTopUp(airspring.TopUpOf(spec, best.Fill, pumpWithin))
		if err != nil || plan.Cycles > mostCycles {
			s.omit("pump", string(e.Axle)+".air.fill", fmt.Sprintf("Steps at the pump, %s: there is no plan of %d cycles or fewer from %s to %s.",
				e.Axle, mostCycles, spec.Fill.Both(), best.Fill.Both()))
			continue
		}
		e.Pump = &plan
	}
}
