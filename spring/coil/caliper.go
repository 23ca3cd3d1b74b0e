package coil

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Caliper describes what was measured on a coil spring to find its rate, and how well: standard
// uncertainties, one standard deviation each. Give the outer or the inner diameter, whichever was
// measured, not both.
type Caliper struct {
	WireDiameter        units.Length `json:"wire_diameter"`            // more than 0
	OuterDiameter       units.Length `json:"outer_diameter,omitempty"` // more than twice the wire diameter
	InnerDiameter       units.Length `json:"inner_diameter,omitempty"` // more than 0
	ActiveCoils         float64      `json:"active_coils"`             // more than 0
	ShearModulus        units.Stress `json:"shear_modulus"`            // more than 0
	WireUncertainty     units.Length `json:"wire_uncertainty"`         // 0 or more, as are the next three
	DiameterUncertainty units.Length `json:"diameter_uncertainty"`
	CoilUncertainty     float64      `json:"coil_uncertainty"`
	ModulusUncertainty  units.Stress `json:"modulus_uncertainty"`
	Correlation         float64      `json:"correlation,omitempty"` // of the wire and diameter readings, -1 to 1; more than 0 where one caliper's zero error is in both
}

// CaliperRate is the rate of a measured spring and its variance budget.
type CaliperRate struct {
	MeanDiameter        units.Length    `json:"mean_diameter"`
	Rate                units.Stiffness `json:"rate"`
	RateUncertainty     units.Stiffness `json:"rate_uncertainty"`     // standard uncertainty of the rate
	RelativeUncertainty float64         `json:"relative_uncertainty"` // the same as a fraction of the rate
	Dominant            string          `json:"dominant"`             // the input with the largest variance; empty if all are 0
	Budget              [5]Contribution `json:"budget"`               // wire, diameter, active coils, shear modulus, correlation
}

// Contribution is one line of a variance budget.
type Contribution struct {
	Input       string  `json:"input"`       // name of the field of [Caliper]
	Sensitivity float64 `json:"sensitivity"` // d ln(rate)/d ln(input); 0 for the correlation
	Relative    float64 `json:"relative"`    // standard uncertainty of the input, as a fraction of it; 0 for the correlation
	Variance    float64 `json:"variance"`    // of the relative rate; the correlation's may be negative
	Share       float64 `json:"share"`       // of the whole variance; all shares add to 1, or are 0 without uncertainty
}

// Rate returns the rate k = G·d⁴/(8·D³·n) of a spring measured with a caliper, and its standard
// uncertainty from those of the readings,
//
//	(u_k/k)² = c_d²·u_d² + c_o²·u_o² + 2·r·c_d·c_o·u_d·u_o + (u_n/n)² + (u_G/G)²
//	c_d = 4/d ± 3/D,  c_o = −3/D
//
// with r the correlation of the wire and the diameter reading. The sign is + for the outer diameter,
// D = OD − d, where an error of d counts twice, and − for the inner one, D = ID + d. This is the law of
// propagation of uncertainty to first order, equations 10 and 13 of JCGM 100:2008 (the GUM, numbers
// from memory); the coefficients follow by differentiation.
//
// The coil count and the modulus, which no caliper measures, often outweigh the readings: 0.1 coil in
// 5 alone is 2 %. Not modelled: the errors of the rate formula itself, about 1 % for thick wire.
//
// Each input must be finite and in the range its field says, and the wire thinner than the mean
// diameter; the error names every bad field.
func (m Caliper) Rate() (CaliperRate, error) {
	c := units.Checker{Package: "coil"}
	field, measured, side := "outer_diameter", m.OuterDiameter, 1.0
	switch {
	case m.OuterDiameter != 0 && m.InnerDiameter != 0:
		c.Fail("inner_diameter", m.InnerDiameter, units.Want{Text: "either outer_diameter or inner_diameter, not both", Without: []string{"outer_diameter"}}, units.ErrConflict)
	case m.InnerDiameter != 0:
		field, measured, side = "inner_diameter", m.InnerDiameter, -1
	}
	ok := units.Positive(&c, "wire_diameter", m.WireDiameter)
	ok = units.Positive(&c, field, measured) && ok
	mean := measured - units.Length(side)*m.WireDiameter
	if ok && !(m.WireDiameter < mean) {
		c.Fail("wire_diameter", m.WireDiameter, "less than the mean diameter", units.ErrConflict)
	}
	units.Positive(&c, "active_coils", m.ActiveCoils)
	units.Positive(&c, "shear_modulus", m.ShearModulus)
	units.NonNegative(&c, "wire_uncertainty", m.WireUncertainty)
	units.NonNegative(&c, "diameter_uncertainty", m.DiameterUncertainty)
	units.NonNegative(&c, "coil_uncertainty", m.CoilUncertainty)
	units.NonNegative(&c, "modulus_uncertainty", m.ModulusUncertainty)
	units.Between(&c, "correlation", m.Correlation, -1, 1)
	if !c.OK() {
		return CaliperRate{}, c.Err()
	}

	out := CaliperRate{
		MeanDiameter: mean,
		Rate:         turnRate(m.ShearModulus, m.WireDiameter, mean) / units.Stiffness(m.ActiveCoils),
		Budget: [5]Contribution{
			{Input: "wire_diameter", Sensitivity: 4 + side*3*float64(m.WireDiameter/mean), Relative: float64(m.WireUncertainty / m.WireDiameter)},
			{Input: field, Sensitivity: -3 * float64(measured/mean), Relative: float64(m.DiameterUncertainty / measured)},
			{Input: "active_coils", Sensitivity: -1, Relative: m.CoilUncertainty / m.ActiveCoils},
			{Input: "shear_modulus", Sensitivity: 1, Relative: float64(m.ModulusUncertainty / m.ShearModulus)},
			{Input: "correlation"},
		},
	}
	b, total, largest := &out.Budget, 0.0, 0.0
	effect := func(i int) float64 { return b[i].Sensitivity * b[i].Relative }
	for i := range b[:4] {
		b[i].Variance = effect(i) * effect(i)
		if b[i].Variance > largest {
			largest, out.Dominant = b[i].Variance, b[i].Input
		}
	}
	if m.Correlation != 0 {
		b[4].Variance = 2 * m.Correlation * effect(0) * effect(1)
	}
	for _, line := range b {
		total += line.Variance
	}
	if total = max(total, 0); total > 0 { // rounding, where two effects cancel
		for i := range b {
			b[i].Share = b[i].Variance / total
		}
	}
	out.RelativeUncertainty = math.Sqrt(total)
	out.RateUncertainty = units.Stiffness(out.RelativeUncertainty) * out.Rate
	if !(out.Rate > 0) || !finite(float64(out.Rate), float64(out.RateUncertainty)) {
		c.Fail("wire_diameter", m.WireDiameter, "with the other fields a rate and an uncertainty that float64 can hold", nil)
	}
	return units.Checked(&c, out)
}

// Nominal is a spring of a shelf by what its label says.
type Nominal struct {
	Rate      units.Stiffness `json:"rate"`      // more than 0
	Tolerance float64         `json:"tolerance"` // greatest deviation, as a fraction of the rate: 0 or more, less than 1
}

// Candidate is a spring of the shelf, with how well it fits the measurement.
type Candidate struct {
	Index       int             `json:"index"`       // in the shelf, from 0
	Rate        units.Stiffness `json:"rate"`        // nominal
	Probability float64         `json:"probability"` // of being the measured one, given that it is one of the shelf; they add to 1
	Distance    float64         `json:"distance"`    // |measured − nominal| in standard deviations of their difference
	Surprise    float64         `json:"surprise"`    // chance that a spring of this label measures at least this far off
}

// Identify returns how probably each spring of a shelf is one whose rate was measured, by
// [Caliper.Rate], [spring.FitReadings] or any other way, with a standard uncertainty; the likeliest
// first.
//
// Before the measurement each is taken as equally likely. A spring labelled r with tolerance ±t·r is
// taken to have its rate anywhere within it with equal chance, standard deviation t·r/√3 (a
// rectangular distribution, JCGM 100:2008, 4.3.7, from memory); together with the measurement's u,
//
//	σᵢ² = u² + (tᵢ·rᵢ)²/3,  pᵢ ∝ exp(−dᵢ²/2)/σᵢ,  dᵢ = |k − rᵢ|/σᵢ
//
// with the combination taken as normal. The probabilities add to 1 even where nothing fits: Distance
// and Surprise of the likeliest say so. Distance² is chi-squared of one degree of freedom, Surprise its
// upper tail erfc(d/√2); the right spring has a distance of 3 or more about once in 370 times.
//
// The rate is more than 0 and the uncertainty 0 or more; the shelf holds 1 to 1000 springs. Where the
// measurement and a label both are without deviation nothing can be compared, and the uncertainty is
// refused. The error names every bad field, such as shelf[2].rate.
func Identify(rate, uncertainty units.Stiffness, shelf []Nominal) ([]Candidate, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", rate)
	certain := units.NonNegative(&c, "uncertainty", uncertainty) && uncertainty == 0
	switch n := len(shelf); {
	case n == 0:
		c.Fail("shelf", nil, "one spring or more", units.ErrMissing)
	case n > 1000:
		c.Fail("shelf", n, units.AtMost(1000).Count("springs"), nil)
		return nil, c.Err()
	}
	for i, s := range shelf {
		nominal := c.Element("shelf", i)
		units.Positive(&nominal, "rate", s.Rate)
		if !(s.Tolerance >= 0 && s.Tolerance < 1) {
			nominal.Fail("tolerance", s.Tolerance, units.AtLeast(0).And(units.LessThan(1)), nil)
		} else if certain && s.Tolerance == 0 {
			certain = false // said once
			c.Fail("uncertainty", uncertainty, "more than 0 where a tolerance of the shelf is 0", units.ErrConflict)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	list := make([]Candidate, len(shelf))
	logs := make([]float64, len(shelf)) // of the likelihoods, which would underflow
	for i, s := range shelf {
		sigma := math.Hypot(float64(uncertainty), s.Tolerance*float64(s.Rate)/math.Sqrt(3))
		d := math.Abs(float64(rate-s.Rate)) / sigma
		list[i] = Candidate{Index: i, Rate: s.Rate, Distance: d, Surprise: math.Erfc(d / math.Sqrt2)}
		if logs[i] = -d*d/2 - math.Log(sigma); !finite(logs[i]) {
			nominal := c.Element("shelf", i)
			nominal.Fail("rate", s.Rate, "a rate whose distance from the measured one float64 can hold", nil)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	best, sum := slices.Max(logs), 0.0
	for i := range list {
		list[i].Probability = math.Exp(logs[i] - best)
		sum += list[i].Probability
	}
	for i := range list {
		list[i].Probability /= sum
	}
	slices.SortStableFunc(list, func(a, b Candidate) int { return cmp.Compare(logs[b.Index], logs[a.Index]) })
	return list, nil
}

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
