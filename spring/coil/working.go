package coil

import (
	"math"

	"example.com/wheelrate/units"
)

const rateSource = "Shigley, eq. 10-9, number from memory; every source agrees"

// Working returns the steps from caliper readings to a rate and its
// uncertainty, for showing: the mean diameter, the rate, what each reading adds
// to the variance of the relative rate, and what they come to. The results are
// the MeanDiameter, Rate, Budget and RateUncertainty of [Caliper.Rate], whose
// error this is. A reading that adds nothing is left out.
func (m Caliper) Working() ([]units.Step, error) {
	k, err := m.Rate()
	if err != nil {
		return nil, err
	}
	mean := units.Step{
		Name: "mean diameter", Formula: "D = D_o − d", Source: "geometry of a ring",
		Given:  []units.Value{{Symbol: "D_o", Quantity: m.OuterDiameter}, {Symbol: "d", Quantity: m.WireDiameter}},
		Result: units.Value{Symbol: "D", Quantity: k.MeanDiameter},
	}
	if m.InnerDiameter != 0 {
		mean.Formula = "D = D_i + d"
		mean.Given[0] = units.Value{Symbol: "D_i", Quantity: m.InnerDiameter}
	}
	rate := units.Step{
		Name: "spring rate", Formula: "k = G·d⁴/(8·D³·n)",
		Source: rateSource,
		Given: []units.Value{
			{Symbol: "G", Quantity: m.ShearModulus}, {Symbol: "d", Quantity: m.WireDiameter},
			{Symbol: "D", Quantity: k.MeanDiameter}, {Symbol: "n", Quantity: m.ActiveCoils},
		},
		Result: units.Value{Symbol: "k", Quantity: k.Rate},
	}
	steps := []units.Step{mean, rate}
	effects := m.effects(k)
	sure := units.Step{
		Name: "its standard uncertainty", Formula: "u_k = k·√(Σ v)", Source: propagation,
		Given:  []units.Value{{Symbol: "k", Quantity: k.Rate}},
		Result: units.Value{Symbol: "u_k", Quantity: k.RateUncertainty},
	}
	for _, step := range effects {
		sure.Given = append(sure.Given, step.Result)
	}
	return append(append(steps, effects...), sure), nil
}

const propagation = "law of propagation of uncertainty, JCGM 100:2008 (the GUM), eqs. 10 and 13, numbers from memory"

// effects are the steps to the variance of the relative rate that each input
// makes, for those that make any.
func (m Caliper) effects(k CaliperRate) (steps []units.Step) {
	d, mean := units.Value{Symbol: "d", Quantity: m.WireDiameter}, units.Value{Symbol: "D", Quantity: k.MeanDiameter}
	u := func(symbol string, quantity any) units.Value { return units.Value{Symbol: symbol, Quantity: quantity} }
	wire := "(4/d + 3/D)"
	if m.InnerDiameter != 0 {
		wire = "(4/d − 3/D)"
	}
	list := [...]units.Step{
		{Name: "what the wire's reading adds", Formula: "v_d = (" + wire + "·u_d)²", Given: []units.Value{d, mean, u("u_d", m.WireUncertainty)}},
		{Name: "what the diameter's reading adds", Formula: "v_D = (3·u_D/D)²", Given: []units.Value{mean, u("u_D", m.DiameterUncertainty)}},
		{Name: "what the count of coils adds", Formula: "v_n = (u_n/n)²", Given: []units.Value{u("n", m.ActiveCoils), u("u_n", m.CoilUncertainty)}},
		{Name: "what the modulus adds", Formula: "v_G = (u_G/G)²", Given: []units.Value{u("G", m.ShearModulus), u("u_G", m.ModulusUncertainty)}},
		{
			Name: "what one caliper for both readings adds, or takes off", Formula: "v_r = −2·r·" + wire + "·u_d·3·u_D/D",
			Given: []units.Value{u("r", m.Correlation), d, mean, u("u_d", m.WireUncertainty), u("u_D", m.DiameterUncertainty)},
		},
	}
	for i, v := range []string{"v_d", "v_D", "v_n", "v_G", "v_r"} {
		if k.Budget[i].Variance == 0 {
			continue
		}
		step := list[i]
		step.Source, step.Result = "k differentiated, in parts of k", u(v, k.Budget[i].Variance)
		steps = append(steps, step)
	}
	return steps
}

// Working returns the steps from the wire to the rate of a spring, and to the
// corrected shear stress at a force in N, for showing. Results are those of
// [Spring.Rate], [Spring.Bergstrasser] and [Spring.Stress]. A force
// that isn't more than 0 and finite leaves the stress out; one over 1e15 N
// counts as that, as for the stress. The zero value has no steps.
func (s *Spring) Working(force units.Force) []units.Step {
	if !(s.d > 0) {
		return nil
	}
	steps := []units.Step{
		{
			Name: "spring rate", Formula: "k = G·d⁴/(8·D³·n)",
			Source: rateSource,
			Given: []units.Value{
				{Symbol: "G", Quantity: units.Stress(s.g)}, {Symbol: "d", Quantity: s.WireDiameter()},
				{Symbol: "D", Quantity: s.MeanDiameter()}, {Symbol: "n", Quantity: s.ActiveCoils()},
			},
			Result: units.Value{Symbol: "k", Quantity: s.Rate()},
		},
		{
			Name: "spring index", Formula: "C = D/d", Source: "definition",
			Given:  []units.Value{{Symbol: "D", Quantity: s.MeanDiameter()}, {Symbol: "d", Quantity: s.WireDiameter()}},
			Result: units.Value{Symbol: "C", Quantity: s.Index()},
		},
	}
	if !(force > 0) || math.IsInf(float64(force), 0) {
		return steps
	}
	force = min(force, maxCoilLoad)
	return append(steps, units.Step{
		Name: "curvature factor", Formula: "K_B = (4·C + 2)/(4·C − 3)", Source: "Bergsträsser; Shigley, eq. 10-5, seen in the published solutions",
		Given:  []units.Value{{Symbol: "C", Quantity: s.Index()}},
		Result: units.Value{Symbol: "K_B", Quantity: s.Bergstrasser()},
	}, units.Step{
		Name: "greatest shear stress", Formula: "τ = K_B·8·F·D/(π·d³)", Source: "torsion of a straight bar, times the factor for the curvature of the wire",
		Given: []units.Value{
			{Symbol: "K_B", Quantity: s.Bergstrasser()}, {Symbol: "F", Quantity: force},
			{Symbol: "D", Quantity: s.MeanDiameter()}, {Symbol: "d", Quantity: s.WireDiameter()},
		},
		Result: units.Value{Symbol: "τ", Quantity: s.Stress(force)},
	})
}
