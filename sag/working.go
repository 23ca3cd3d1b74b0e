package sag

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// WorkingAt returns the steps to a state from [End.Under] or [End.StateAt], for display: the stroke
// where the spring carries the load without friction, the force of the spring there to confirm it,
// the sag, and the wheel rate and the frequency over a fast stroke. There are no steps if the load
// tops or bottoms the end out.
func (e End) WorkingAt(s State) []units.Step {
	if s.Finding != "" || e.Curve == nil || e.Law == nil {
		return nil
	}
	r, force := s.Rest, e.Law.Force(s.Rest.Stroke)
	w := units.Symbols{
		"s": r.Stroke, "F_w": s.Load, "LR": r.LeverRatio, "F_s": force, "F_w·LR": units.Force(float64(s.Load) * r.LeverRatio), "w": r.Travel, "sag": r.Sag,
		"W": e.Curve.Travel(), "k_s": s.FastSpringRate, "n": e.Exponent, "dF_s/ds": r.SpringRate, "k_w": s.FastWheelRate,
		"LR′": e.Curve.LeverRatioSlope(r.Stroke), "f": s.FastFrequency, "g": "9.80665 m/s²",
	}
	steps := []units.Step{
		w.Step("stroke where it rests", "F_s(s) = F_w·LR(s)", virtualWork+"; solved for s", "s", "F_w"),
		w.Step("lever ratio there", "LR = dw/ds", fromCurve, "LR", "s"),
		w.Step("force of the spring there, which proves it", "F_s(s), to compare with F_w·LR", "the spring's law", "F_s", "s", "F_w·LR"),
		w.Step("travel of the wheel there", "w = w(s)", fromCurve, "w", "s"),
		w.Step("sag", "sag = w/W", "definition of sag", "sag", "w", "W"),
	}
	if e.Fast != nil {
		steps = append(steps, w.Step("spring rate over a fast stroke", "k_s = n·dF_s/ds", "the gas law's slope has the factor n, for each chamber", "k_s", "n", "dF_s/ds"))
	}
	return append(steps,
		w.Step("wheel rate there", "k_w = k_s/LR² − F_s·LR′/LR³", "F_s(s)/LR(s) differentiated by w", "k_w", "k_s", "LR", "F_s", "LR′"),
		w.Step("bounce frequency", "f = √(k_w·g/F_w)/(2·π)", "a mass on a spring, undamped; 0 for a rate that isn't more than 0", "f", "k_w", "g", "F_w"))
}

// Working returns the steps from a target on a curve to the force that the spring must carry there,
// for display. The target must pass [Target.Check].
func (t Target) Working(curve *linkage.Curve) []units.Step {
	stroke, force := t.AtSpring(curve)
	w := units.Symbols{
		"w": units.Length(t.Sag) * curve.Travel(), "sag": t.Sag, "W": curve.Travel(), "s": stroke, "LR": curve.LeverRatio(stroke), "F_s": force, "F_w": t.Load,
	}
	return []units.Step{
		w.Step("travel at the target", "w = sag·W", "definition of sag", "w", "sag", "W"),
		w.Step("stroke there", "s = s(w)", fromCurve, "s", "w"),
		w.Step("lever ratio there", "LR = dw/ds", fromCurve, "LR", "s"),
		w.Step("force that the spring must carry", "F_s = F_w·LR", virtualWork, "F_s", "F_w", "LR"),
	}
}

const (
	virtualWork = "virtual work: what the wheel does is done on the spring"
	fromCurve   = "the lever-ratio curve"
)
