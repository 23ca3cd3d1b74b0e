package setup

import (
	"cmp"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Choices of this package.
const (
	leastChange = 50   // of a fill, in Pa, that a gauge shows
	scalesAgree = 0.01 // of the masses stated, by which scales may differ from them without a warning
	fallsBy     = 0.05 // of the wheel rate at the sag, by which a linkage may lower it past the sag without a warning
)

// implausible returns the warnings of [Implausible] for the job, and of values that do not go together.
func (s *Sheet) implausible(job Job) []units.Warning {
	w, m := implausible(Implausible("", job)), s.masses
	for _, e := range s.Ends() {
		u, most := m.Unsprung(e.Axle), m.BikeMass/3
		w.doubt(u > most, "masses.unsprung_"+string(e.Axle), u, "a third of bike_mass, "+round(most),
			"Of the bike's %s, %s are said to be unsprung at the %s alone. It is what the spring does not carry: wheel, brake, and what moves with them.", m.BikeMass.Both(), u.Both(), e.Axle)
	}
	w.doubt(m.BikeMass > s.RiderMass, "masses.bike_mass", m.BikeMass, "the rider, "+round(s.RiderMass),
		"The bike, %s, is said to be heavier than its rider, %s.", m.BikeMass.Both(), s.RiderMass.Both())
	for _, e := range s.Ends() {
		e.doubt(&w)
	}
	return w
}

// doubt adds the warnings about one end.
func (e SheetEnd) doubt(w *implausible) {
	end, lr, rear := string(e.Axle), e.LeverRatio, e.Axle == sag.Rear
	w.doubt(rear && lr.Min < 1, end+".curve", lr.Min, "1 or more",
		"The wheel is said to move less than the shock, a lever ratio of %.3f. Is the ratio given the other way round, or are the columns stroke and travel swapped?", lr.Min)
	w.doubt(rear && lr.Min >= 1 && lr.Max > 6, end+".curve", lr.Max, "at most 6",
		"The wheel is said to move %.3f times as far as the shock, where rear ends have from 1 to 6.", lr.Max)
	w.doubt(!rear && lr.Max > 1+1e-6, end+".curve", lr.Max, "at most 1",
		"The front wheel is said to move %.3f times as far as its spring. That of a telescopic fork moves less, by the sine of the head angle.", lr.Max)
	if t := e.options.Spec().Curve.Table; t != nil {
		if scatter, ok := t.Scatter(); ok {
			scatter.Field = end + ".curve." + scatter.Field
			*w = append(*w, scatter)
		}
	}
	if !e.known() {
		return
	}
	force := e.End().Law.Force(e.Rest.Stroke)
	w.doubt(e.Friction > force && force > 0, end+".friction", e.Friction, "the spring's force at the sag, "+round(force),
		"The friction, %s, is said to be more than the whole force of the spring at the sag, %s.", e.Friction.Both(), force.Both())
	spec := e.options.Spec()
	if best, air := e.Fill(), spec.Air; best != nil && air != nil {
		limit := air.MaxFill / 10
		w.doubt(best.Fill <= limit, end+".air.max_fill", best.Fill, "a tenth of the marking, "+round(limit),
			"The fill comes to %s, a tenth or less of the marking, %s: look at bore, volumes and marking.", best.Fill.Both(), air.MaxFill.Both())
		w.doubt(air.Fill > air.MaxFill, end+".air.fill", air.Fill, "the marking, "+round(air.MaxFill),
			"The spring is said to hold %s, more than its marking permits, %s.", air.Fill.Both(), air.MaxFill.Both())
		w.doubt(air.Bore > e.Travel, end+".air.bore", air.Bore, "the wheel's travel, "+round(e.Travel),
			"The piston is said to be wider, %s, than the wheel travels, %s.", air.Bore.Both(), e.Travel.Both())
		w.doubt(air.NegativeVolume > air.PositiveVolume, end+".air.negative_volume", air.NegativeVolume, "positive_volume, "+round(air.PositiveVolume),
			"The negative chamber is said to be larger than the positive one: are the two swapped?")
	}
	if e.Coil != nil && len(e.Coil.Candidates) > 0 {
		byRate := func(a, b fit.CoilCandidate) int { return cmp.Compare(a.Rate, b.Rate) }
		softest, hardest := slices.MinFunc(e.Coil.Candidates, byRate).Rate, slices.MaxFunc(e.Coil.Candidates, byRate).Rate
		ideal := e.Coil.IdealRate
		w.doubt(ideal > 4*hardest || ideal < softest/4, end+".coil.shelf", ideal, round(softest)+" to "+round(hardest),
			"The exact spring, %s, is more than four times as hard or as soft as all of the shelf, %s to %s: look at the units of the rates, and at the curve.",
			ideal.Both().CustomaryFirst(), softest.Both().CustomaryFirst(), hardest.Both().CustomaryFirst())
	}
}
