package sag

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// RequiredRateWorking returns the steps to the answer of [RequiredRate], for display, or its error.
func RequiredRateWorking(curve *linkage.Curve, target Target, preload units.Length) ([]units.Step, error) {
	k, err := RequiredRate(curve, target, preload)
	if err != nil {
		return nil, err
	}
	return append(target.Working(curve), step("exact spring", "k = F_s/(s + preload)", "a linear spring",
		value("k", k.Rate), value("F_s", k.SpringForce), value("s", k.Stroke), value("preload", preload))), nil
}

// RequiredPreloadWorking returns the steps to the answer of [RequiredPreload], for display, or its
// error.
func RequiredPreloadWorking(curve *linkage.Curve, target Target, rate units.Stiffness) ([]units.Step, error) {
	p, err := RequiredPreload(curve, target, rate)
	if err != nil {
		return nil, err
	}
	stroke, force := target.AtSpring(curve)
	return append(target.Working(curve), step("preload that this spring wants", "preload = F_s/k − s", "a linear spring; below 0 it is too hard for any",
		value("preload", p), value("F_s", force), value("k", rate), value("s", stroke))), nil
}

// WorkingAt returns the steps to a state from [End.Under] or [End.StateAt], for display: the stroke
// where the spring carries the load without friction, the force of the spring there to confirm it,
// the sag, and the wheel rate and the frequency over a fast stroke. There are no steps if the load
// tops or bottoms the end out.
func (e End) WorkingAt(s State) []units.Step {
	if s.Finding != "" || e.Curve == nil || e.Law == nil {
		return nil
	}
	load, r, force := s.Load, s.Rest, e.Law.Force(s.Rest.Stroke)
	steps := []units.Step{
		step("stroke where it rests", "F_s(s) = F_w·LR(s)", virtualWork+"; solved for s",
			value("s", r.Stroke), value("F_w", load)),
		step("lever ratio there", "LR = dw/ds", fromCurve,
			value("LR", r.LeverRatio), value("s", r.Stroke)),
		step("force of the spring there, which proves it", "F_s(s), to compare with F_w·LR", "the spring's law",
			value("F_s", force), value("s", r.Stroke), value("F_w·LR", units.Force(float64(load)*r.LeverRatio))),
		step("travel of the wheel there", "w = w(s)", fromCurve,
			value("w", r.Travel), value("s", r.Stroke)),
		step("sag", "sag = w/W", "definition of sag",
			value("sag", r.Sag), value("w", r.Travel), value("W", e.Curve.Travel())),
	}
	if e.Fast != nil {
		steps = append(steps, step("spring rate over a fast stroke", "k_s = n·dF_s/ds", "the gas law's slope has the factor n, for each chamber",
			value("k_s", s.FastSpringRate), value("n", e.Exponent), value("dF_s/ds", r.SpringRate)))
	}
	return append(steps,
		step("wheel rate there", "k_w = k_s/LR² − F_s·LR′/LR³", "F_s(s)/LR(s) differentiated by w",
			value("k_w", s.FastWheelRate), value("k_s", s.FastSpringRate), value("LR", r.LeverRatio),
			value("F_s", force), value("LR′", e.Curve.LeverRatioSlope(r.Stroke))),
		step("bounce frequency", "f = √(k_w·g/F_w)/(2·π)", "a mass on a spring, undamped; 0 for a rate that isn't more than 0",
			value("f", s.FastFrequency), value("k_w", s.FastWheelRate), value("g", "9.80665 m/s²"), value("F_w", load)))
}

// Working returns the steps from a target on a curve to the force that the spring must carry there,
// for display. The target must pass [Target.Check].
func (t Target) Working(curve *linkage.Curve) []units.Step {
	stroke, force := t.AtSpring(curve)
	ratio := curve.LeverRatio(stroke)
	travel := units.Length(t.Sag) * curve.Travel()
	return []units.Step{
		step("travel at the target", "w = sag·W", "definition of sag",
			value("w", travel), value("sag", t.Sag), value("W", curve.Travel())),
		step("stroke there", "s = s(w)", fromCurve,
			value("s", stroke), value("w", travel)),
		step("lever ratio there", "LR = dw/ds", fromCurve,
			value("LR", ratio), value("s", stroke)),
		step("force that the spring must carry", "F_s = F_w·LR", virtualWork,
			value("F_s", force), value("F_w", t.Load), value("LR", ratio)),
	}
}

const (
	virtualWork = "virtual work: what the wheel does is done on the spring"
	fromCurve   = "the lever-ratio curve"
)

func step(name, formula, source string, result units.Value, given ...units.Value) units.Step {
	return units.Step{Name: name, Formula: formula, Source: source, Given: given, Result: result}
}

func value(symbol string, quantity any) units.Value {
	return units.Value{Symbol: symbol, Quantity: quantity}
}
