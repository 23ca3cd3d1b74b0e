package sag

import (
	"example.com/wheelrate/airspring"
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
func (s *Sheet) Working(job Job, end End) []units.Step {
	e, j := s.at(job, end)
	if e == nil {
		return nil
	}
	unsprung, share := job.Masses.UnsprungRear, s.Loads.RearShare
	if end == FrontEnd {
		unsprung, share = job.Masses.UnsprungFront, 1-s.Loads.RearShare
	}
	target := Target{Load: e.Load, Sag: e.TargetSag}
	steps := append([]units.Step{
		{
			Name: "load of the wheel", Formula: "F_g = q·(m_rider + m_bike)·g", Source: "statics of a beam on two supports; g is standard gravity, exact",
			Given: []units.Value{
				given("q", share), given("m_rider", s.RiderMass), given("m_bike", job.Masses.BikeMass), given("g", gravityText),
			},
			Result: given("F_g", e.WheelLoad),
		},
		{
			Name: "load on the spring, at the wheel", Formula: "F_w = F_g − m_unsprung·g", Source: "the spring doesn't carry the wheel itself",
			Given:  []units.Value{given("F_g", e.WheelLoad), given("m_unsprung", unsprung), given("g", gravityText)},
			Result: given("F_w", e.Load),
		},
	}, targetSteps(e.curve, target)...)
	switch {
	case e.Coil != nil && j.Coil != nil:
		stroke, force := target.atSpring(e.curve)
		exact := rateStep(CoilRate{Rate: e.Coil.IdealRate, Stroke: stroke, SpringForce: force}, j.Coil.PreloadMin)
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
func (s *Sheet) RestWorking(job Job, end End) []units.Step {
	e, j := s.at(job, end)
	if e == nil {
		return nil
	}
	var steps []units.Step
	var found []Finding
	switch {
	case e.Coil != nil && j.Coil != nil && len(e.Coil.Candidates) > 0:
		best := &e.Coil.Candidates[0]
		steps = e.preloadSteps(j.Coil, best)
		found = best.Findings
	case e.Air != nil && len(e.Air.Options) > 0:
		found = e.Air.Options[0].Findings
	}
	if has(found, HeldAtTop) || has(found, Collapses) {
		return steps
	}
	steps = append(steps, restSteps(e.curve, e.slow, e.Load, e.Rest)...)
	if e.Air != nil {
		steps = append(steps, units.Step{
			Name: "spring rate over a fast stroke", Formula: "k_s = n·dF_s/ds", Source: "the gas law's slope has the factor n, for each chamber",
			Given: []units.Value{given("n", e.Air.Exponent), given("dF_s/ds", e.Rest.SpringRate)}, Result: given("k_s", e.FastSpringRate),
		})
	}
	return append(steps, bounceSteps(e.curve, e.slow, e.Load, e.Rest, e.FastSpringRate, e.FastWheelRate, e.FastFrequency)...)
}

// at returns one end of a sheet that NewSheet made, and of its job; or nil.
func (s *Sheet) at(job Job, end End) (*EndSheet, *EndJob) {
	e, j := &s.Rear, &job.Rear
	switch end {
	case RearEnd:
	case FrontEnd:
		e, j = &s.Front, &job.Front
	default:
		return nil, nil
	}
	if e.curve == nil {
		return nil, nil
	}
	return e, j
}

// preloadSteps are the steps to the preload of the best spring of the shelf.
func (e *EndSheet) preloadSteps(j *CoilChoice, best *CoilCandidate) []units.Step {
	set := units.Step{
		Name: "preload to set", Formula: "the nearest that the collar gives", Source: "its range, and whole quarter turns where its pitch is known",
		Given: []units.Value{given("preload", best.PreloadWanted), given("least", j.PreloadMin), given("most", j.PreloadMax)}, Result: given("p", best.Preload),
	}
	if j.ThreadPitch > 0 {
		set.Given = append(set.Given, given("pitch", j.ThreadPitch))
	}
	target := Target{Load: e.Load, Sag: e.TargetSag}
	return []units.Step{preloadStep(e.curve, target, best.Rate, best.PreloadWanted), set}
}

// airSteps are the steps to the fill.
func (e *EndSheet) airSteps(j *AirChoice, target Target) (steps []units.Step) {
	best := &e.Air.Options[0]
	spec := j.Spec
	spec.Spacers, spec.Ambient, spec.Exponent = best.Spacers, e.Air.Ambient, 1
	if spec.Travel == 0 {
		spec.Travel = e.Stroke
	}
	stroke, force := target.atSpring(e.curve)
	if fill, err := airspring.FillWorking(spec, force, stroke); err == nil {
		steps = fill
	}
	if best.Fill < best.FillWanted {
		steps = append(steps, units.Step{
			Name: "fill to set", Formula: "the nearest that the marking permits", Source: "the marking on the part wins",
			Given: []units.Value{given("g", best.FillWanted), given("marking", j.MaxFill)}, Result: given("g", best.Fill),
		})
	}
	return steps
}
