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
	vp0 := spec.chamber(spec.Spacers)
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
		Name: "force per absolute fill", Formula: "C = A·(V₀/V_x)ⁿ", Source: gasLaw,
		Given: []units.Value{v("A", units.Area(ap)), v("V₀", units.Volume(vp0)), v("V_x", units.Volume(vp)), v("n", n)},
	}
	last := units.Step{
		Name: "fill", Formula: "g = (F + A·p_a)/C − p_a",
		Source: "balance of the piston, with the air around pressing on its outside",
		Given:  []units.Value{v("F", force), v("A", units.Area(ap)), v("p_a", spec.Ambient)}, Result: found,
	}
	if spec.NegativeVolume > 0 {
		more, pull := negative(&spec, at, vp0)
		steps = append(steps, more...)
		c -= pull
		coefficient.Formula = "C = A·(V₀/V_x)ⁿ − C_n"
		coefficient.Given = append(coefficient.Given, v("C_n", units.Area(pull)))
		last.Formula = "g = (F + A_s·p_a)/C − p_a"
		last.Given[1] = v("A_s", more[1].Result.Quantity)
	}
	coefficient.Result = v("C", units.Area(c))
	last.Given = append(last.Given, coefficient.Result)
	return append(steps, coefficient, last), nil
}

const gasLaw = "gas law p·Vⁿ = const, with n = 1 for a gas as warm as its surroundings"

// negative are the steps to the pull of the negative chamber, the second of
// them to the area of the shaft, and that pull per pascal of absolute fill.
func negative(spec *Spec, at units.Length, vp0 float64) (steps []units.Step, pull float64) {
	v := func(symbol string, quantity any) units.Value { return units.Value{Symbol: symbol, Quantity: quantity} }
	ap, an, as := area(spec.Bore), ring(spec.Bore, spec.Shaft), area(spec.Shaft)
	vn0, xt := float64(spec.NegativeVolume), float64(spec.PortTravel)
	vn := vn0 + an*float64(at)
	q := vp0 / (vp0 - ap*xt) * (vn0 + an*xt) / vn0
	pull = an * q * math.Pow(vn0/vn, spec.Exponent)
	return []units.Step{
		{
			Name: "area of the ring about the shaft", Formula: "A_n = π·(d² − d_s²)/4", Source: "geometry",
			Given: []units.Value{v("d", spec.Bore), v("d_s", spec.Shaft)}, Result: v("A_n", units.Area(an)),
		},
		{
			Name: "area of the shaft", Formula: "A_s = π·d_s²/4", Source: "geometry",
			Given: []units.Value{v("d_s", spec.Shaft)}, Result: v("A_s", units.Area(as)),
		},
		{
			Name: "negative chamber at the travel", Formula: "V_nx = V_n + A_n·x", Source: "swept by the piston",
			Given: []units.Value{v("V_n", spec.NegativeVolume), v("A_n", units.Area(an)), v("x", at)}, Result: v("V_nx", units.Volume(vn)),
		},
		{
			Name: "its pressure at full extension, as a part of the fill", Formula: "q = V₀/(V₀ − A·x_t)·(V_n + A_n·x_t)/V_n",
			Source: "both chambers have one pressure at the port, and each keeps its gas from there",
			Given:  []units.Value{v("V₀", units.Volume(vp0)), v("A", units.Area(ap)), v("x_t", spec.PortTravel), v("V_n", spec.NegativeVolume), v("A_n", units.Area(an))},
			Result: v("q", q),
		},
		{
			Name: "its pull per absolute fill", Formula: "C_n = A_n·q·(V_n/V_nx)ⁿ", Source: gasLaw,
			Given:  []units.Value{v("A_n", units.Area(an)), v("q", q), v("V_n", spec.NegativeVolume), v("V_nx", units.Volume(vn)), v("n", spec.Exponent)},
			Result: v("C_n", units.Area(pull)),
		},
	}, pull
}

// Working returns the steps of a top-up's first cycles, at most three, for
// showing: the chambers at the port, and for every cycle the pressure that both
// come to there and what the gauge shows then. The results are the Carry and
// Reading of [PlanTopUp], whose error this is.
func (t TopUp) Working() ([]units.Step, error) {
	plan, err := PlanTopUp(t)
	if err != nil {
		return nil, err
	}
	v := func(symbol string, quantity any) units.Value { return units.Value{Symbol: symbol, Quantity: quantity} }
	ap, an, x := area(t.Bore), ring(t.Bore, t.Shaft), float64(t.PortTravel)
	vp0, vn0, pa := v("V_p0", t.PositiveVolume), v("V_n0", t.NegativeVolume), v("p_a", t.Ambient)
	vp := v("V_p", units.Volume(float64(t.PositiveVolume)-ap*x))
	vn := v("V_n", units.Volume(float64(t.NegativeVolume)+an*x))
	pump := v("p", t.Fill.Absolute(t.Ambient))
	negative := units.Step{
		Name: "pressure of the negative chamber before, at full extension", Formula: "p_n = (g_old + p_a)·V_p0/V_p·V_n/V_n0",
		Source: "cycled before: both chambers had one pressure at the port",
		Given:  []units.Value{v("g_old", t.OldFill), pa, vp0, vp, vn, vn0},
	}
	if t.OldFill > 0 {
		ratio := float64(t.PositiveVolume) / float64(vp.Quantity.(units.Volume)) * float64(vn.Quantity.(units.Volume)) / float64(t.NegativeVolume)
		negative.Result = v("p_n", units.AbsolutePressure(float64(t.OldFill.Absolute(t.Ambient))*ratio))
	} else {
		negative.Formula, negative.Source = "p_n = p_a", "just assembled: the chamber was open to the air around"
		negative.Given, negative.Result = []units.Value{pa}, v("p_n", t.Ambient)
	}
	steps := []units.Step{
		{
			Name: "positive chamber at the port", Formula: "V_p = V_p0 − A·x_t", Source: "swept by the piston",
			Given: []units.Value{vp0, v("A", units.Area(ap)), v("x_t", t.PortTravel)}, Result: vp,
		},
		{
			Name: "negative chamber at the port", Formula: "V_n = V_n0 + A_n·x_t", Source: "swept by the piston less its shaft",
			Given: []units.Value{vn0, v("A_n", units.Area(an)), v("x_t", t.PortTravel)}, Result: vn,
		},
		{
			Name: "share of what is pumped in that goes into the negative chamber", Formula: "β = V_n/(V_p + V_n)", Source: "mass of the gas, slow: p·V adds up",
			Given: []units.Value{vn, vp}, Result: v("β", plan.Carry),
		},
		negative,
		{
			Name: "pressure that is set before each cycle", Formula: "p = g + p_a", Source: "gauge to absolute",
			Given: []units.Value{v("g", t.Fill), pa}, Result: pump,
		},
	}
	// What the two come to follows from what the gauge shows then, so that
	// nothing is worked out a second time.
	old := negative.Result
	for i, reading := range plan.Reading[:min(mostShown, len(plan.Reading))] {
		shared := units.AbsolutePressure(float64(reading.Absolute(t.Ambient)) * float64(t.PositiveVolume) / float64(vp.Quantity.(units.Volume)))
		steps = append(steps, units.Step{
			Name:    fmt.Sprintf("both chambers at the port, cycle %d", i+1),
			Formula: "p_e = (p·V_p0 + p_n·V_n0)/(V_p + V_n)",
			Source:  "mass of the gas, slow: p·V adds up", Given: []units.Value{pump, vp0, old, vn0, vp, vn}, Result: v("p_e", shared),
		}, units.Step{
			Name: fmt.Sprintf("gauge at full extension, after cycle %d", i+1), Formula: fmt.Sprintf("g%d = p_e·V_p/V_p0 − p_a", i+1),
			Source: "the positive chamber alone, slow", Given: []units.Value{v("p_e", shared), vp, vp0, pa}, Result: v(fmt.Sprintf("g%d", i+1), reading),
		})
		old = v("p_n", plan.NegativePressure[i])
	}
	return steps, nil
}

// mostShown is how many cycles the working of a top-up shows.
const mostShown = 3
