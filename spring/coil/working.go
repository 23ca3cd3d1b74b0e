package coil

import (
	"math"

	"example.com/wheelrate/units"
)

const (
	rateSource  = "Shigley, eq. 10-9, number from memory; every source agrees"
	propagation = "law of propagation of uncertainty, JCGM 100:2008 (the GUM), eqs. 10 and 13, numbers from memory"
)

func value(symbol string, quantity any) units.Value {
	return units.Value{Symbol: symbol, Quantity: quantity}
}

func step(name, formula, source string, result units.Value, given ...units.Value) units.Step {
	return units.Step{Name: name, Formula: formula, Source: source, Given: given, Result: result}
}

// rateStep is the step from wire, diameter and coils to the rate.
func rateStep(g units.Stress, d, mean units.Length, n float64, k units.Stiffness) units.Step {
	return step("spring rate", "k = G·d⁴/(8·D³·n)", rateSource, value("k", k), value("G", g), value("d", d), value("D", mean), value("n", n))
}

// Working returns the steps from caliper readings to a rate and its
// uncertainty, for showing: the mean diameter, the rate, what each reading adds
// to the variance of the relative rate, and the uncertainty. The results are
// the MeanDiameter, Rate, Budget and RateUncertainty of [Caliper.Rate], whose
// error this is. A reading that adds nothing is left out.
func (m Caliper) Working() ([]units.Step, error) {
	k, err := m.Rate()
	if err != nil {
		return nil, err
	}
	d, mean := value("d", m.WireDiameter), value("D", k.MeanDiameter)
	formula, measured, wire := "D = D_o − d", value("D_o", m.OuterDiameter), "(4/d + 3/D)"
	if m.InnerDiameter != 0 {
		formula, measured, wire = "D = D_i + d", value("D_i", m.InnerDiameter), "(4/d − 3/D)"
	}
	steps := []units.Step{
		step("mean diameter", formula, "geometry of a ring", mean, measured, d),
		rateStep(m.ShearModulus, m.WireDiameter, k.MeanDiameter, m.ActiveCoils, k.Rate),
	}
	u, uD := value("u_d", m.WireUncertainty), value("u_D", m.DiameterUncertainty)
	sum := []units.Value{value("k", k.Rate)}
	for i, e := range [...]struct {
		name, symbol, formula string
		given                 []units.Value
	}{
		{"what the wire's reading adds", "v_d", "v_d = (" + wire + "·u_d)²", []units.Value{d, mean, u}},
		{"what the diameter's reading adds", "v_D", "v_D = (3·u_D/D)²", []units.Value{mean, uD}},
		{"what the count of coils adds", "v_n", "v_n = (u_n/n)²", []units.Value{value("n", m.ActiveCoils), value("u_n", m.CoilUncertainty)}},
		{"what the modulus adds", "v_G", "v_G = (u_G/G)²", []units.Value{value("G", m.ShearModulus), value("u_G", m.ModulusUncertainty)}},
		{"what one caliper for both readings adds, or takes off", "v_r", "v_r = −2·r·" + wire + "·u_d·3·u_D/D",
			[]units.Value{value("r", m.Correlation), d, mean, u, uD}},
	} {
		if v := k.Budget[i].Variance; v != 0 {
			result := value(e.symbol, v)
			steps = append(steps, step(e.name, e.formula, "k differentiated, in parts of k", result, e.given...))
			sum = append(sum, result)
		}
	}
	return append(steps, step("its standard uncertainty", "u_k = k·√(Σ v)", propagation, value("u_k", k.RateUncertainty), sum...)), nil
}

// Working returns the steps from the wire to the rate of a spring, and to the
// corrected shear stress at a force in N, for showing. Results are those of
// [Spring.Rate], [Spring.Bergstrasser] and [Spring.Stress]. A force that is not
// more than 0 and finite leaves the stress out; one over 1e15 N counts as that,
// as for the stress. The zero value has no steps.
func (s *Spring) Working(force units.Force) []units.Step {
	if !(s.d > 0) {
		return nil
	}
	d, mean, index := value("d", s.WireDiameter()), value("D", s.MeanDiameter()), value("C", s.Index())
	steps := []units.Step{
		rateStep(units.Stress(s.g), s.WireDiameter(), s.MeanDiameter(), s.n, s.Rate()),
		step("spring index", "C = D/d", "definition", index, mean, d),
	}
	if !(force > 0) || math.IsInf(float64(force), 0) {
		return steps
	}
	force = min(force, maxLoad)
	factor := value("K_B", s.Bergstrasser())
	return append(steps,
		step("curvature factor", "K_B = (4·C + 2)/(4·C − 3)", "Bergsträsser; Shigley, eq. 10-5, seen in the published solutions", factor, index),
		step("greatest shear stress", "τ = K_B·8·F·D/(π·d³)", "torsion of a straight bar, times the factor for the curvature of the wire",
			value("τ", s.Stress(force)), factor, value("F", force), mean, d))
}
