package setup

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Working returns the steps to a sheet's headline number at one end, the exact
// spring or the fill, for showing: load, travel and stroke at the target, what
// the spring must carry, and the answer. The job must be the one that the sheet
// was made of by [NewSheet]. It is nil for an end that is neither, and for a
// sheet that NewSheet did not make.
//
// Every result is the sheet's own or that of the function the sheet calls; the
// last is IdealRate of a coil, and FillWanted of an air spring or, where the
// marking permits no such fill, the Fill that it permits. Where no fill at all
// carries the load the steps end with what the spring must carry.
func (s *Sheet) Working(job Job, end sag.Axle) []units.Step {
	e, j := s.at(job, end)
	if e == nil {
		return nil
	}
	unsprung, share := job.Masses.UnsprungRear, s.Loads.RearShare
	if end == sag.Front {
		unsprung, share = job.Masses.UnsprungFront, 1-s.Loads.RearShare
	}
	target := sag.Target{Load: e.Load, Sag: e.TargetSag}
	steps := append([]units.Step{
		{
			Name: "load of the wheel", Formula: "F_g = q·(m_rider + m_bike)·g", Source: "statics of a beam on two supports; g is standard gravity, exact",
			Given: []units.Value{
				value("q", share), value("m_rider", s.RiderMass), value("m_bike", job.Masses.BikeMass), value("g", gravityText),
			},
			Result: value("F_g", e.WheelLoad),
		},
		{
			Name: "load on the spring, at the wheel", Formula: "F_w = F_g − m_unsprung·g", Source: "the spring doesn't carry the wheel itself",
			Given:  []units.Value{value("F_g", e.WheelLoad), value("m_unsprung", unsprung), value("g", gravityText)},
			Result: value("F_w", e.Load),
		},
	}, target.Working(e.Curve())...)
	switch {
	case e.Coil != nil && j.Coil != nil:
		all, err := sag.RequiredRateWorking(e.Curve(), target, j.Coil.PreloadMin)
		if err != nil {
			return steps
		}
		exact := all[len(all)-1]
		exact.Source = "a linear spring, with the collar's least preload"
		return append(steps, exact)
	case e.Air != nil && j.Air != nil && len(e.Air.Options) > 0:
		return append(steps, e.airSteps(j.Air, target)...)
	}
	return steps
}

// RestWorking goes on from [Sheet.Working] with what is fitted: the preload that
// the best spring of the shelf is set to, and where the bike comes to rest, its
// wheel rate and frequency over a fast stroke. It is nil where Working is.
//
// The results are PreloadWanted and Preload of the first candidate, and the
// sheet's Rest, FastSpringRate, FastWheelRate and FastFrequency. Where the bike
// does not sag at all or goes to the end of its travel no balance holds, and
// only the preload is told.
func (s *Sheet) RestWorking(job Job, end sag.Axle) []units.Step {
	e, j := s.at(job, end)
	if e == nil {
		return nil
	}
	var steps []units.Step
	switch {
	case e.Coil != nil && j.Coil != nil && len(e.Coil.Candidates) > 0:
		best := &e.Coil.Candidates[0]
		steps = e.preloadSteps(j.Coil, best)
	}
	rest, _ := e.End().Working(e.Load) // good, or there were no sheet
	return append(steps, rest...)
}

// at returns one end of a sheet that NewSheet made, and of its job; or nil.
func (s *Sheet) at(job Job, end sag.Axle) (*EndSheet, *EndJob) {
	e, j := &s.Rear, &job.Rear
	switch end {
	case sag.Rear:
	case sag.Front:
		e, j = &s.Front, &job.Front
	default:
		return nil, nil
	}
	if e.options == nil {
		return nil, nil
	}
	return e, j
}

// preloadSteps are the steps to the preload of the best spring of the shelf.
func (e *EndSheet) preloadSteps(j *fit.Shelf, best *fit.CoilCandidate) []units.Step {
	set := units.Step{
		Name: "preload to set", Formula: "the nearest that the collar gives", Source: "its range, and whole quarter turns where its pitch is known",
		Given: []units.Value{value("preload", best.PreloadWanted), value("least", j.PreloadMin), value("most", j.PreloadMax)}, Result: value("p", best.Preload),
	}
	if j.ThreadPitch > 0 {
		set.Given = append(set.Given, value("pitch", j.ThreadPitch))
	}
	target := sag.Target{Load: e.Load, Sag: e.TargetSag}
	all, err := sag.RequiredPreloadWorking(e.Curve(), target, best.Rate)
	if err != nil {
		return nil
	}
	return []units.Step{all[len(all)-1], set}
}

// airSteps are the steps to the fill.
func (e *EndSheet) airSteps(j *fit.Chamber, target sag.Target) (steps []units.Step) {
	best := &e.Air.Options[0]
	spec := j.Spec
	spec.Spacers, spec.Ambient, spec.Exponent = best.Spacers, e.Air.Ambient, 1
	if spec.Travel == 0 {
		spec.Travel = e.Stroke
	}
	stroke, force := target.AtSpring(e.Curve())
	if fill, err := airspring.FillWorking(spec, force, stroke); err == nil {
		steps = fill
	}
	if best.Fill < best.FillWanted {
		steps = append(steps, units.Step{
			Name: "fill to set", Formula: "the nearest that the marking permits", Source: "the marking on the part wins",
			Given: []units.Value{value("g", best.FillWanted), value("marking", j.MaxFill)}, Result: value("g", best.Fill),
		})
	}
	return steps
}

// value is a number with its symbol.
func value(symbol string, quantity any) units.Value {
	return units.Value{Symbol: symbol, Quantity: quantity}
}

const gravityText = "9.80665 m/s²"
