package airspring

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// The letters of the steps are those of [New].

// FillWorking returns the steps from a force wanted at a travel to the fill of a
// spring of one or two chambers, for showing; the last result is that of
// [FillFor], whose error this is. For a spring with a second positive chamber
// the fill is found by search, and there is one step that says so.
func FillWorking(spec Spec, force units.Force, at units.Length) ([]units.Step, error) {
	fill, err := FillFor(spec, force, at)
	if err != nil {
		return nil, err
	}
	v := func(symbol string, quantity any) units.Value { return units.Value{Symbol: symbol, Quantity: quantity} }
	found := v("g", fill)
	if spec.SecondVolume > 0 {
		return []units.Step{{
			Name: "fill", Formula: "F(x; g) = F", Source: "search; the second chamber makes the force bend with the fill",
			Given: []units.Value{v("F", force), v("x", at)}, Result: found,
		}}, nil
	}
	ap := area(spec.Bore)
	vp0 := float64(spec.PositiveVolume) - float64(spec.OilVolume) - float64(spec.Spacers)*float64(spec.SpacerVolume)
	vp := vp0 - ap*float64(at)
	n := spec.Exponent
	steps := []units.Step{
		{
			Name: "area of the piston", Formula: "A = π·d²/4", Source: "geometry",
			Given: []units.Value{v("d", spec.Bore)}, Result: v("A", units.Area(ap)),
		},
		{
			Name: "chamber at full extension", Formula: "V₀ = V − V_oil − N·V_spacer", Source: "what oil and spacers leave of it",
			Given:  []units.Value{v("V", spec.PositiveVolume), v("V_oil", spec.OilVolume), v("N", spec.Spacers), v("V_spacer", spec.SpacerVolume)},
			Result: v("V₀", units.Volume(vp0)),
		},
		{
			Name: "chamber at the travel", Formula: "V_x = V₀ − A·x", Source: "swept by the piston",
			Given:  []units.Value{v("V₀", units.Volume(vp0)), v("A", units.Area(ap)), v("x", at)},
			Result: v("V_x", units.Volume(vp)),
		},
	}
	c := ap * math.Pow(vp0/vp, n)
	coefficient := units.Step{
		Name: "force per absolute fill", Formula: "C = A·(V₀/V_x)ⁿ", Source: "gas law p·Vⁿ = const, with n = 1 for a gas as warm as its surroundings",
		Given: []units.Value{v("A", units.Area(ap)), v("V₀", units.Volume(vp0)), v("V_x", units.Volume(vp)), v("n", n)},
	}
	outside, formula := ap, "g = (F + A·p_a)/C − p_a"
	if spec.NegativeVolume > 0 {
		an := math.Pi / 4 * float64(spec.Bore-spec.Shaft) * float64(spec.Bore+spec.Shaft)
		vn0 := float64(spec.NegativeVolume)
		xt := float64(spec.PortTravel)
		q := vp0 / (vp0 - ap*xt) * (vn0 + an*xt) / vn0
		pull := an * q * math.Pow(vn0/(vn0+an*float64(at)), n)
		steps = append(steps, units.Step{
			Name: "pull of the negative chamber per absolute fill", Formula: "C_n = A_n·q·(V_n/(V_n + A_n·x))ⁿ, q = V₀/(V₀ − A·x_t)·(V_n + A_n·x_t)/V_n",
			Source: "both chambers have one pressure at the port, then keep their gas",
			Given:  []units.Value{v("A_n", units.Area(an)), v("V_n", spec.NegativeVolume), v("x_t", spec.PortTravel), v("x", at), v("n", n)},
			Result: v("C_n", units.Area(pull)),
		})
		c -= pull
		coefficient.Formula = "C = A·(V₀/V_x)ⁿ − C_n"
		coefficient.Given = append(coefficient.Given, v("C_n", units.Area(pull)))
		outside, formula = ap-an, "g = (F + A_s·p_a)/C − p_a, A_s = A − A_n"
	}
	coefficient.Result = v("C", units.Area(c))
	return append(steps, coefficient, units.Step{
		Name: "fill", Formula: formula, Source: "balance of the piston, the air around pressing on the rest of it",
		Given:  []units.Value{v("F", force), v("C", units.Area(c)), v("p_a", spec.Ambient), v("A outside", units.Area(outside))},
		Result: found,
	}), nil
}

// Working returns the steps of a top-up's first cycles, at most three, for
// showing; the results are the Carry and the Reading of [PlanTopUp], whose
// error this is.
func (t TopUp) Working() ([]units.Step, error) {
	plan, err := PlanTopUp(t)
	if err != nil {
		return nil, err
	}
	v := func(symbol string, quantity any) units.Value { return units.Value{Symbol: symbol, Quantity: quantity} }
	ap := area(t.Bore)
	an := math.Pi / 4 * float64(t.Bore-t.Shaft) * float64(t.Bore+t.Shaft)
	x := float64(t.PortTravel)
	vp, vn := units.Volume(float64(t.PositiveVolume)-ap*x), units.Volume(float64(t.NegativeVolume)+an*x)
	steps := []units.Step{
		{
			Name: "positive chamber at the port", Formula: "V_p = V_p0 − A·x_t", Source: "swept by the piston",
			Given: []units.Value{v("V_p0", t.PositiveVolume), v("A", units.Area(ap)), v("x_t", t.PortTravel)}, Result: v("V_p", vp),
		},
		{
			Name: "negative chamber at the port", Formula: "V_n = V_n0 + A_n·x_t", Source: "swept by the piston less its shaft",
			Given: []units.Value{v("V_n0", t.NegativeVolume), v("A_n", units.Area(an)), v("x_t", t.PortTravel)}, Result: v("V_n", vn),
		},
		{
			Name: "share of a change that the negative chamber takes", Formula: "β = V_n/(V_p + V_n)", Source: "mass of the gas, slow: p·V adds up",
			Given: []units.Value{v("V_n", vn), v("V_p", vp)}, Result: v("β", plan.Carry),
		},
	}
	old := t.OldFill
	const most = 3
	for i, reading := range plan.Reading[:min(most, len(plan.Reading))] {
		steps = append(steps, units.Step{
			Name: fmt.Sprintf("gauge after cycle %d", i+1), Formula: fmt.Sprintf("g%d = g − (g − g_old)·β^%d", i+1, i+1),
			Source: "the same again and again; exact for a spring that was settled before",
			Given:  []units.Value{v("g", t.Fill), v("g_old", old), v("β", plan.Carry)},
			Result: v(fmt.Sprintf("g%d", i+1), reading),
		})
	}
	return steps, nil
}
