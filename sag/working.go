package sag

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// RequiredRateWorking returns the steps to the answer of [RequiredRate], for
// showing; the error is that function's.
func RequiredRateWorking(curve *linkage.Curve, target Target, preload units.Length) ([]units.Step, error) {
	k, err := RequiredRate(curve, target, preload)
	if err != nil {
		return nil, err
	}
	return append(target.Working(curve), rateStep(k, preload)), nil
}

// RequiredPreloadWorking returns the steps to the answer of [RequiredPreload],
// for showing; the error is that function's.
func RequiredPreloadWorking(curve *linkage.Curve, target Target, rate units.Stiffness) ([]units.Step, error) {
	p, err := RequiredPreload(curve, target, rate)
	if err != nil {
		return nil, err
	}
	return append(target.Working(curve), preloadStep(curve, target, rate, p)), nil
}

// Working returns the steps to where an end rests under a load without friction,
// for showing: the balance that was solved, proved by the force of the spring
// there, the sag, and wheel rate and frequency over a fast stroke. The results are
// those of [End.Under], and so is the error. If the load tops or bottoms the end out
// no balance holds, and there are no steps.
func (e End) Working(load units.Force) ([]units.Step, error) {
	s, err := e.Under(load)
	if err != nil {
		return nil, err
	}
	return e.WorkingAt(s), nil
}

// WorkingAt is [End.Working] for an end whose state is known, from [End.Under] or
// [End.StateAt].
func (e End) WorkingAt(s State) []units.Step {
	if s.Finding != "" || e.Curve == nil || e.Law == nil {
		return nil
	}
	load, r, force := s.Load, s.Rest, e.Law.Force(s.Rest.Stroke)
	steps := []units.Step{
		{
			Name: "stroke where it rests", Formula: "F_s(s) = F_w·LR(s)", Source: virtualWork + "; solved for s",
			Given: []units.Value{given("F_w", load)}, Result: given("s", r.Stroke),
		},
		{
			Name: "lever ratio there", Formula: "LR = dw/ds", Source: fromCurve,
			Given: []units.Value{given("s", r.Stroke)}, Result: given("LR", r.LeverRatio),
		},
		{
			Name: "force of the spring there, which proves it", Formula: "F_s(s), to compare with F_w·LR", Source: "the spring's law",
			Given: []units.Value{given("s", r.Stroke), given("F_w·LR", units.Force(float64(load)*r.LeverRatio))}, Result: given("F_s", force),
		},
		{
			Name: "travel of the wheel there", Formula: "w = w(s)", Source: fromCurve,
			Given: []units.Value{given("s", r.Stroke)}, Result: given("w", r.Travel),
		},
		{
			Name: "sag", Formula: "sag = w/W", Source: "definition of sag",
			Given: []units.Value{given("w", r.Travel), given("W", e.Curve.Travel())}, Result: given("sag", r.Sag),
		},
	}
	if e.Fast != nil {
		steps = append(steps, units.Step{
			Name: "spring rate over a fast stroke", Formula: "k_s = n·dF_s/ds", Source: "the gas law's slope has the factor n, for each chamber",
			Given: []units.Value{given("n", e.Exponent), given("dF_s/ds", r.SpringRate)}, Result: given("k_s", s.FastSpringRate),
		})
	}
	return append(steps, units.Step{
		Name: "wheel rate there", Formula: "k_w = k_s/LR² − F_s·LR′/LR³", Source: "F_s(s)/LR(s) differentiated by w",
		Given: []units.Value{
			given("k_s", s.FastSpringRate), given("LR", r.LeverRatio),
			given("F_s", force), given("LR′", e.Curve.LeverRatioSlope(r.Stroke)),
		},
		Result: given("k_w", s.FastWheelRate),
	}, units.Step{
		Name: "bounce frequency", Formula: "f = √(k_w·g/F_w)/(2·π)", Source: "a mass on a spring, undamped; 0 for a rate that isn't more than 0",
		Given:  []units.Value{given("k_w", s.FastWheelRate), given("g", gravityText), given("F_w", load)},
		Result: given("f", s.FastFrequency),
	})
}

func given(symbol string, quantity any) units.Value {
	return units.Value{Symbol: symbol, Quantity: quantity}
}

const (
	virtualWork = "virtual work: what the wheel does is done on the spring"
	fromCurve   = "the lever-ratio curve"
	gravityText = "9.80665 m/s²"
)

// Working returns the steps from a target on a curve to what the spring must carry
// there, for showing. Target and curve must be good, as [Target.Check] has them.
func (t Target) Working(curve *linkage.Curve) []units.Step {
	stroke, force := t.AtSpring(curve)
	ratio := curve.LeverRatio(stroke)
	travel := units.Length(t.Sag) * curve.Travel()
	return []units.Step{
		{
			Name: "travel at the target", Formula: "w = sag·W", Source: "definition of sag",
			Given: []units.Value{given("sag", t.Sag), given("W", curve.Travel())}, Result: given("w", travel),
		},
		{
			Name: "stroke there", Formula: "s = s(w)", Source: fromCurve,
			Given: []units.Value{given("w", travel)}, Result: given("s", stroke),
		},
		{
			Name: "lever ratio there", Formula: "LR = dw/ds", Source: fromCurve,
			Given: []units.Value{given("s", stroke)}, Result: given("LR", ratio),
		},
		{
			Name: "force that the spring must carry", Formula: "F_s = F_w·LR", Source: virtualWork,
			Given: []units.Value{given("F_w", t.Load), given("LR", ratio)}, Result: given("F_s", force),
		},
	}
}

func rateStep(k CoilRate, preload units.Length) units.Step {
	return units.Step{
		Name: "exact spring", Formula: "k = F_s/(s + preload)", Source: "a linear spring",
		Given:  []units.Value{given("F_s", k.SpringForce), given("s", k.Stroke), given("preload", preload)},
		Result: given("k", k.Rate),
	}
}

func preloadStep(curve *linkage.Curve, target Target, rate units.Stiffness, p units.Length) units.Step {
	stroke, force := target.AtSpring(curve)
	return units.Step{
		Name: "preload that this spring wants", Formula: "preload = F_s/k − s", Source: "a linear spring; below 0 it is too hard for any",
		Given:  []units.Value{given("F_s", force), given("k", rate), given("s", stroke)},
		Result: given("preload", p),
	}
}
