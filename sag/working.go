package sag

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// Working returns the steps to a sheet's headline number at one end, the exact
// spring or the fill, for showing: load, travel and stroke at the target, what
// the spring must carry, and the answer. The job must be the one that the sheet
// was made of by [NewSheet]. It is nil for an end that is neither.
//
// Every result is the sheet's own or that of the function the sheet calls; the
// last is IdealRate of a coil and the recommended Fill of an air spring, unless
// the marking limits that one.
func (s *Sheet) Working(job Job, end End) []units.Step {
	v := func(symbol string, quantity any) units.Value { return units.Value{Symbol: symbol, Quantity: quantity} }
	e, j := &s.Rear, job.Rear
	unsprung, share := job.Masses.UnsprungRear, s.Loads.RearShare
	switch end {
	case RearEnd:
	case FrontEnd:
		e, j = &s.Front, job.Front
		unsprung, share = job.Masses.UnsprungFront, 1-s.Loads.RearShare
	default:
		return nil
	}
	if e.curve == nil {
		return nil
	}
	target := Target{Load: e.Load, Sag: e.TargetSag}
	stroke, force := target.atSpring(e.curve)
	ratio := e.curve.LeverRatio(stroke)
	travel := units.Length(e.TargetSag) * e.Travel
	const virtual = "virtual work: what the wheel does is done on the spring"
	steps := []units.Step{
		{
			Name: "load of the wheel", Formula: "F_g = q·(m_rider + m_bike)·g", Source: "statics of a beam on two supports; g is standard gravity, exact",
			Given: []units.Value{v("q", share), v("m_rider", s.RiderMass), v("m_bike", job.Masses.BikeMass), v("g", "9.80665 m/s²")}, Result: v("F_g", e.WheelLoad),
		},
		{
			Name: "load on the spring, at the wheel", Formula: "F_w = F_g − m_unsprung·g", Source: "the spring doesn't carry the wheel itself",
			Given: []units.Value{v("F_g", e.WheelLoad), v("m_unsprung", unsprung)}, Result: v("F_w", e.Load),
		},
		{
			Name: "travel at the target", Formula: "w = sag·W", Source: "definition of sag",
			Given: []units.Value{v("sag", e.TargetSag), v("W", e.Travel)}, Result: v("w", travel),
		},
		{
			Name: "stroke there", Formula: "s = s(w)", Source: "the lever-ratio curve",
			Given: []units.Value{v("w", travel)}, Result: v("s", stroke),
		},
		{
			Name: "lever ratio there", Formula: "LR = dw/ds", Source: "the lever-ratio curve",
			Given: []units.Value{v("s", stroke)}, Result: v("LR", ratio),
		},
		{
			Name: "force that the spring must carry", Formula: "F_s = F_w·LR", Source: virtual,
			Given: []units.Value{v("F_w", e.Load), v("LR", ratio)}, Result: v("F_s", force),
		},
	}
	switch {
	case e.Coil != nil && j.Coil != nil:
		return append(steps, units.Step{
			Name: "exact spring", Formula: "k = F_s/(s + preload)", Source: "a linear spring, with the collar's least preload",
			Given:  []units.Value{v("F_s", force), v("s", stroke), v("preload", j.Coil.PreloadMin)},
			Result: v("k", e.Coil.IdealRate),
		})
	case e.Air != nil && j.Air != nil && len(e.Air.Options) > 0:
		spec := j.Air.Spec
		spec.Spacers, spec.Ambient, spec.Exponent = e.Air.Options[0].Spacers, e.Air.Ambient, 1
		if spec.Travel == 0 {
			spec.Travel = e.Stroke
		}
		if fill, err := airspring.FillWorking(spec, force, stroke); err == nil {
			return append(steps, fill...)
		}
	}
	return steps
}
