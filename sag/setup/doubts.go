package setup

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// The limits of what two values of a job have to do with each other, a choice of this package.
const (
	mostUnsprung   = 1.0 / 3  // of the bike's mass, at one end
	leastOfMarking = 0.1      // fill over marking
	mostOffShelf   = 4        // the exact rate over the hardest of the shelf, or the softest over it
	mostFront      = 1 + 1e-6 // lever ratio of a fork
	leastRear      = 1.0      // lever ratio of a rear end
	mostRear       = 6.0
)

// implausible returns the warnings of [Implausible] for the job, and those of values that do not go
// together.
func (s *Sheet) implausible(job Job) []units.Warning {
	w := implausible(Implausible("", job))
	m := s.masses
	for _, e := range s.Ends() {
		if u, most := m.Unsprung(e.Axle), mostUnsprung*m.BikeMass; u > most {
			w.add("masses.unsprung_"+string(e.Axle), round(u), "a third of bike_mass, "+round(most),
				"Of the bike's %s, %s are said to be unsprung at the %s alone. It is what the spring does not carry: wheel, brake, and what moves with them.", m.BikeMass.Both(), u.Both(), e.Axle)
		}
	}
	if m.BikeMass > s.RiderMass {
		w.add("masses.bike_mass", round(m.BikeMass), "the rider, "+round(s.RiderMass), "The bike, %s, is said to be heavier than its rider, %s.", m.BikeMass.Both(), s.RiderMass.Both())
	}
	for _, e := range s.Ends() {
		e.doubt(&w)
	}
	return w
}

// doubt adds the warnings about one end.
func (e SheetEnd) doubt(w *implausible) {
	end, lr := string(e.Axle), e.LeverRatio
	switch {
	case e.Axle == sag.Rear && lr.Min < leastRear:
		w.add(end+".curve", round(lr.Min), "1 or more",
			"The wheel is said to move less than the shock, a lever ratio of %.3f. Is the ratio given the other way round, or are the columns stroke and travel swapped?", lr.Min)
	case e.Axle == sag.Rear && lr.Max > mostRear:
		w.add(end+".curve", round(lr.Max), "at most 6", "The wheel is said to move %.3f times as far as the shock, where rear ends have from 1 to 6.", lr.Max)
	case e.Axle == sag.Front && lr.Max > mostFront:
		w.add(end+".curve", round(lr.Max), "at most 1",
			"The front wheel is said to move %.3f times as far as its spring. That of a telescopic fork moves less, by the sine of the head angle.", lr.Max)
	}
	if !e.known() {
		return
	}
	force := e.End().Law.Force(e.Rest.Stroke)
	if e.Friction > force && force > 0 {
		w.add(end+".friction", round(e.Friction), "the spring's force at the sag, "+round(force), "The friction, %s, is said to be more than the whole force of the spring at the sag, %s.", e.Friction.Both(), force.Both())
	}
	spec := e.options.Spec()
	if best := e.Fill(); best != nil && spec.Air != nil {
		if limit := leastOfMarking * spec.Air.MaxFill; best.Fill <= limit {
			w.add(end+".air.max_fill", round(best.Fill), "a tenth of the marking, "+round(limit),
				"The fill comes to %s, a tenth or less of the marking, %s: look at bore, volumes and marking.", best.Fill.Both(), spec.Air.MaxFill.Both())
		}
		if spec.Air.Fill > spec.Air.MaxFill {
			w.add(end+".air.fill", round(spec.Air.Fill), "the marking, "+round(spec.Air.MaxFill), "The spring is said to hold %s, more than its marking permits, %s.", spec.Air.Fill.Both(), spec.Air.MaxFill.Both())
		}
		if spec.Air.Bore > e.Travel {
			w.add(end+".air.bore", round(spec.Air.Bore), "the wheel's travel, "+round(e.Travel), "The piston is said to be wider, %s, than the wheel travels, %s.", spec.Air.Bore.Both(), e.Travel.Both())
		}
		if spec.Air.NegativeVolume > spec.Air.PositiveVolume {
			w.add(end+".air.negative_volume", round(spec.Air.NegativeVolume), "positive_volume, "+round(spec.Air.PositiveVolume),
				"The negative chamber is said to be larger than the positive one: are the two swapped?")
		}
	}
	if e.Coil != nil && spec.Coil != nil && len(spec.Coil.Springs) > 0 {
		softest, hardest := spec.Coil.Springs[0].Rate, spec.Coil.Springs[0].Rate
		for _, one := range spec.Coil.Springs {
			softest, hardest = min(softest, one.Rate), max(hardest, one.Rate)
		}
		if ideal := e.Coil.IdealRate; ideal > mostOffShelf*hardest || ideal < softest/mostOffShelf {
			w.add(end+".coil.shelf", round(ideal), round(softest)+" to "+round(hardest),
				"The exact spring, %s, is more than four times as hard or as soft as all of the shelf, %s to %s: look at the units of the rates, and at the curve.",
				ideal.Both().CustomaryFirst(), softest.Both().CustomaryFirst(), hardest.Both().CustomaryFirst())
		}
	}
}
