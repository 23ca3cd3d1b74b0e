package spring

import (
	"math"

	"example.com/wheelrate/units"
)

const rateSource = "Shigley, eq. 10-9, number from memory; every source agrees"

// Working returns the steps from caliper readings to a rate and its
// uncertainty, for showing; the last two results are the Rate and the
// RateUncertainty of [MeasureRate], whose error this is.
func (m Caliper) Working() ([]units.Step, error) {
	k, err := MeasureRate(m)
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
	sure := units.Step{
		Name: "its standard uncertainty", Formula: "u_k = k·√(Σ vᵢ)", Source: "law of propagation of uncertainty, JCGM 100:2008, from memory",
		Given:  []units.Value{{Symbol: "k", Quantity: k.Rate}},
		Result: units.Value{Symbol: "u_k", Quantity: k.RateUncertainty},
	}
	for _, b := range k.Budget {
		if b.Variance != 0 {
			sure.Given = append(sure.Given, units.Value{Symbol: "v of " + b.Input, Quantity: b.Variance})
		}
	}
	return []units.Step{mean, rate, sure}, nil
}

// Working returns the steps from the wire to the rate of a spring, and to the
// corrected shear stress at a force in N, for showing. Results are those of
// [CoilSpring.Rate] and of the stress methods. A force that isn't more than 0
// and finite leaves the stress out.
func (s *CoilSpring) Working(force units.Force) []units.Step {
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
	return append(steps, units.Step{
		Name: "curvature factor", Formula: "K_B = (4·C + 2)/(4·C − 3)", Source: "Bergsträsser; Shigley, eq. 10-5, seen in the published solutions",
		Given:  []units.Value{{Symbol: "C", Quantity: s.Index()}},
		Result: units.Value{Symbol: "K_B", Quantity: s.Bergstrasser()},
	}, units.Step{
		Name: "greatest shear stress", Formula: "τ = K_B·8·F·D/(π·d³)", Source: "torsion of the wire, corrected for its curvature",
		Given: []units.Value{
			{Symbol: "K_B", Quantity: s.Bergstrasser()}, {Symbol: "F", Quantity: force},
			{Symbol: "D", Quantity: s.MeanDiameter()}, {Symbol: "d", Quantity: s.WireDiameter()},
		},
		Result: units.Value{Symbol: "τ", Quantity: s.Stress(force)},
	})
}
