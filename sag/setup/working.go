package setup

import (
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Working returns the steps to the exact spring or the fill of one end: load, travel and stroke at
// the target, what the spring must carry, and the answer. It is nil for an axle that is neither
// [sag.Front] nor [sag.Rear], and for a sheet that [NewSheet] did not make.
//
// Each result is a number of the sheet. The last one is IdealRate of a coil, and FillWanted of an air
// spring, or Fill if the marking permits less, and FillWanted of a spring known by its gauge. If no fill
// carries the load, or the readings of the gauge don't tell it, the last one is the force that the spring
// must carry.
func (s *Sheet) Working(end sag.Axle) []units.Step {
	e := s.end(end)
	if e == nil {
		return nil
	}
	w := units.Symbols{
		"F_g": e.WheelLoad, "q": sag.AtAxle(end, 1-s.Loads.RearShare, s.Loads.RearShare), "m_rider": s.RiderMass, "m_bike": s.masses.BikeMass,
		"F_w": e.load(), "m_unsprung": s.masses.Unsprung(end), "g": "9.80665 m/s²",
	}
	steps := append([]units.Step{
		w.Step("load of the wheel", "F_g = q·(m_rider + m_bike)·g", "statics of a beam on two supports; g is standard gravity, exact",
			"F_g", "q", "m_rider", "m_bike", "g"),
		w.Step("load on the spring, at the wheel", "F_w = F_g − m_unsprung·g", "the spring doesn't carry the wheel itself", "F_w", "F_g", "m_unsprung", "g"),
	}, e.target().Working(e.Curve())...)
	if shelf := e.options.Spec().Coil; shelf != nil && e.Coil != nil {
		stroke, force := e.target().AtSpring(e.Curve())
		w := units.Symbols{"k": e.Coil.IdealRate, "F_s": force, "s": stroke, "preload": shelf.PreloadMin}
		steps = append(steps, w.Step("exact spring", "k = F_s/(s + preload)", "a linear spring, with the collar's least preload", "k", "F_s", "s", "preload"))
	}
	return slices.Concat(steps, e.airSteps(), e.gaugeSteps())
}

// RestWorking continues [Sheet.Working] with what is fitted: PreloadWanted and Preload of the
// recommended spring, and the sheet's Rest, FastSpringRate, FastWheelRate and FastFrequency. It is
// nil if Working is, and for an end without a State. An end that stays at full extension or goes to
// full travel is not in balance, and only its preload is shown.
func (s *Sheet) RestWorking(end sag.Axle) []units.Step {
	e := s.end(end)
	if !e.known() {
		return nil
	}
	return append(e.preloadSteps(), e.End().WorkingAt(*e.State)...)
}

// end returns one end of a sheet that NewSheet made; nil of another.
func (s *Sheet) end(axle sag.Axle) *EndSheet {
	for _, e := range s.Ends() {
		if e.Axle == axle && e.options != nil {
			return e.EndSheet
		}
	}
	return nil
}

func (e *EndSheet) target() sag.Target { return sag.Target{Load: e.load(), Sag: e.TargetSag} }

// preloadSteps are the steps to the preload of the recommended spring.
func (e *EndSheet) preloadSteps() []units.Step {
	best, shelf := e.Spring(), e.options.Spec().Coil
	if best == nil || shelf == nil {
		return nil
	}
	stroke, force := e.target().AtSpring(e.Curve())
	w := units.Symbols{
		"preload": best.PreloadWanted, "F_s": force, "k": best.Rate, "s": stroke, "p": best.Preload, "least": shelf.PreloadMin, "most": shelf.PreloadMax,
	}
	wanted := w.Step("preload that this spring wants", "preload = F_s/k − s", "a linear spring; below 0 it is too hard for any", "preload", "F_s", "k", "s")
	if best.Law != "" {
		wanted = w.Step("preload that this spring wants", "F(s + preload) = F_s, solved for the preload", "the spring's law, from its free length: "+best.Law,
			"preload", "F_s", "s")
	}
	set := w.Step("preload to set", "the nearest that the collar gives", "its range, and whole quarter turns where its pitch is known", "p", "preload", "least", "most")
	if shelf.ThreadPitch > 0 {
		set.Given = append(set.Given, units.Value{Symbol: "pitch", Quantity: shelf.ThreadPitch})
	}
	for _, one := range best.PreloadSpacers {
		set.Given = append(set.Given, units.Value{Symbol: "spacer", Quantity: one})
	}
	return []units.Step{wanted, set}
}

// airSteps are the steps to the fill.
func (e *EndSheet) airSteps() (steps []units.Step) {
	best, chamber := e.Fill(), e.options.Spec().Air
	if best == nil || chamber == nil {
		return nil
	}
	spec := chamber.Spec
	spec.Spacers, spec.Exponent = best.Spacers, 1
	stroke, force := e.target().AtSpring(e.Curve())
	if fill, err := airspring.FillWorking(spec, force, stroke); err == nil { // there may be none
		steps = fill
	}
	if best.Fill < best.FillWanted {
		steps = append(steps, units.Step{Name: "fill to set", Formula: "the nearest that the marking permits", Source: "the marking on the part wins",
			Given: []units.Value{{Symbol: "g", Quantity: best.FillWanted}, {Symbol: "marking", Quantity: chamber.MaxFill}}, Result: units.Value{Symbol: "g", Quantity: best.Fill}})
	}
	return steps
}
