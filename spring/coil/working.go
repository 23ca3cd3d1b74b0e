package coil

import "example.com/wheelrate/units"

// Working returns the steps from caliper readings to a rate and its uncertainty, for showing: the
// mean diameter, the rate, what each reading adds to the variance of the relative rate, and the
// uncertainty. The results are the MeanDiameter, Rate, Budget and RateUncertainty of [Caliper.Rate],
// whose error this is. A reading that adds nothing is left out.
func (m Caliper) Working() ([]units.Step, error) {
	k, err := m.Rate()
	if err != nil {
		return nil, err
	}
	w := units.Symbols{
		"d": m.WireDiameter, "D": k.MeanDiameter, "D_o": m.OuterDiameter, "D_i": m.InnerDiameter, "n": m.ActiveCoils,
		"G": m.ShearModulus, "u_d": m.WireUncertainty, "u_D": m.DiameterUncertainty, "u_n": m.CoilUncertainty,
		"u_G": m.ModulusUncertainty, "r": m.Correlation, "k": k.Rate, "u_k": k.RateUncertainty,
	}
	formula, measured, wire := "D = D_o − d", "D_o", "(4/d + 3/D)"
	if m.InnerDiameter != 0 {
		formula, measured, wire = "D = D_i + d", "D_i", "(4/d − 3/D)"
	}
	steps := []units.Step{w.Step("mean diameter", formula, "geometry of a ring", "D", measured, "d"),
		w.Step("spring rate", "k = G·d⁴/(8·D³·n)", "Shigley, eq. 10-9, number from memory; every source agrees", "k", "G", "d", "D", "n")}
	sum := []string{"k"}
	for i, e := range [...]struct {
		name, symbol, formula string
		given                 []string
	}{
		{"what the wire's reading adds", "v_d", "(" + wire + "·u_d)²", []string{"d", "D", "u_d"}},
		{"what the diameter's reading adds", "v_D", "(3·u_D/D)²", []string{"D", "u_D"}},
		{"what the count of coils adds", "v_n", "(u_n/n)²", []string{"n", "u_n"}},
		{"what the modulus adds", "v_G", "(u_G/G)²", []string{"G", "u_G"}},
		{"what one caliper for both readings adds, or takes off", "v_r", "−2·r·" + wire + "·u_d·3·u_D/D", []string{"r", "d", "D", "u_d", "u_D"}},
	} {
		if v := k.Budget[i].Variance; v != 0 {
			w[e.symbol], sum = v, append(sum, e.symbol)
			steps = append(steps, w.Step(e.name, e.symbol+" = "+e.formula, "k differentiated, in parts of k", e.symbol, e.given...))
		}
	}
	return append(steps, w.Step("its standard uncertainty", "u_k = k·√(Σ v)",
		"law of propagation of uncertainty, JCGM 100:2008 (the GUM), eqs. 10 and 13, numbers from memory", "u_k", sum...)), nil
}
