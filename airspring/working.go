package airspring

import (
	"fmt"

	"example.com/wheelrate/units"
)

// symbol returns a quantity with its letter. The letters are those of [New].
func symbol(letter string, quantity any) units.Value {
	return units.Value{Symbol: letter, Quantity: quantity}
}

func step(name, formula, source string, result units.Value, given ...units.Value) units.Step {
	return units.Step{Name: name, Formula: formula, Source: source, Given: given, Result: result}
}

const (
	gasLaw        = "gas law p·Vⁿ = const, with n = 1 for a gas as warm as its surroundings"
	sweptByPiston = "swept by the piston"
	balance       = "mass of the gas, slow: p·V adds up"
	unloaded      = "balance of the piston with no load on the spring"
)

// FillWorking returns the steps by which [FillFor] computes a fill, to be shown to a person. The
// arguments and errors are those of FillFor, and the last result is its fill. A spring with a second
// chamber has one step, which says that the fill is found by search.
func FillWorking(spec Spec, force units.Force, at units.Length) ([]units.Step, error) {
	fill, err := FillFor(spec, force, at)
	if err != nil {
		return nil, err
	}
	found, f, x := symbol("g", fill), symbol("F", force), symbol("x", at)
	if spec.SecondVolume > 0 {
		return []units.Step{step("fill", "F(x; g) = F", "search, since with a second chamber the force is not linear in the fill", found, f, x)}, nil
	}
	unit := newSpring(&spec, 1) // with an absolute fill of 1 Pa
	p, m := &unit.positive, &unit.negative
	c, pull := p.area*p.at(float64(at), spec.Exponent), m.area*m.at(float64(at), spec.Exponent)
	a, v0, vx := symbol("A", units.Area(p.area)), symbol("V₀", units.Volume(p.volume)), symbol("V_x", unit.PositiveVolume(at))
	n, pa, result := symbol("n", spec.Exponent), symbol("p_a", spec.Ambient), symbol("C", units.Area(c-pull))
	steps := []units.Step{
		step("area of the piston", "A = π·d²/4", "geometry", a, symbol("d", spec.Bore)),
		step("chamber at full extension", "V₀ = V − V_oil − N·V_spacer", "what oil and spacers leave of it", v0,
			symbol("V", spec.PositiveVolume), symbol("V_oil", spec.OilVolume), symbol("N", spec.Spacers), symbol("V_spacer", spec.SpacerVolume)),
		step("chamber at the travel", "V_x = V₀ − A·x", sweptByPiston, vx, v0, a, x),
	}
	const perFill, last = "force per absolute fill", "balance of the piston, with the air around pressing on its outside"
	if spec.NegativeVolume == 0 {
		return append(steps, step(perFill, "C = A·(V₀/V_x)ⁿ", gasLaw, result, a, v0, vx, n),
			step("fill", "g = (F + A·p_a)/C − p_a", last, found, f, a, pa, result)), nil
	}
	d, ds, around, shaft := symbol("d", spec.Bore), symbol("d_s", spec.Shaft), symbol("A_n", units.Area(m.area)), symbol("A_s", units.Area(area(spec.Shaft)))
	share, volume, later := symbol("q", m.pressure), symbol("V_n", spec.NegativeVolume), symbol("V_nx", units.Volume(m.volume*m.left(float64(at))))
	less := symbol("C_n", units.Area(pull))
	return append(steps,
		step("area of the ring about the shaft", "A_n = π·(d² − d_s²)/4", "geometry", around, d, ds),
		step("area of the shaft", "A_s = π·d_s²/4", "geometry", shaft, ds),
		step("negative chamber at the travel", "V_nx = V_n + A_n·x", sweptByPiston, later, volume, around, x),
		step("its pressure at full extension, as a part of the fill", "q = V₀/(V₀ − A·x_t)·(V_n + A_n·x_t)/V_n",
			"both chambers have one pressure at the port, and each keeps its gas from there", share, v0, a, symbol("x_t", spec.PortTravel), volume, around),
		step("its pull per absolute fill", "C_n = A_n·q·(V_n/V_nx)ⁿ", gasLaw, less, around, share, volume, later, n),
		step(perFill, "C = A·(V₀/V_x)ⁿ − C_n", gasLaw, result, a, v0, vx, n, less),
		step("fill", "g = (F + A_s·p_a)/C − p_a", last, found, f, shaft, pa, result)), nil
}

// Working returns the steps by which [PlanTopUp] computes its first cycles, at most three, to be shown
// to a person: the chambers at the port, and for each cycle the pressure there and the reading after
// it. Where air is let out, two steps before each cycle give the gauge where the spring then stands.
// The results are its Carry and Reading, and the errors are those of PlanTopUp.
func (t TopUp) Working() ([]units.Step, error) {
	plan, err := PlanTopUp(t)
	if err != nil {
		return nil, err
	}
	ap, an, x := area(t.Bore), ring(t.Bore, t.Shaft), float64(t.PortTravel)
	first, second := t.PositiveVolume-units.Volume(ap*x), t.NegativeVolume+units.Volume(an*x)
	vp0, vn0, vp, vn := symbol("V_p0", t.PositiveVolume), symbol("V_n0", t.NegativeVolume), symbol("V_p", first), symbol("V_n", second)
	pa, xt, pump := symbol("p_a", t.Ambient), symbol("x_t", t.PortTravel), symbol("p", t.Fill.Absolute(t.Ambient))
	const before = "pressure of the negative chamber before, at full extension"
	old := symbol("p_n", t.Ambient)
	negative := step(before, "p_n = p_a", "just assembled: the chamber was open to the air around", old, pa)
	if t.OldFill > 0 {
		ratio := t.PositiveVolume / first * second / t.NegativeVolume
		old = symbol("p_n", t.OldFill.Absolute(t.Ambient)*units.AbsolutePressure(ratio))
		negative = step(before, "p_n = (g_old + p_a)·V_p0/V_p·V_n/V_n0", "cycled before: both chambers had one pressure at the port",
			old, symbol("g_old", t.OldFill), pa, vp0, vp, vn, vn0)
	}
	steps := []units.Step{
		step("positive chamber at the port", "V_p = V_p0 − A·x_t", sweptByPiston, vp, vp0, symbol("A", units.Area(ap)), xt),
		step("negative chamber at the port", "V_n = V_n0 + A_n·x_t", sweptByPiston+" less its shaft", vn, vn0, symbol("A_n", units.Area(an)), xt),
		step("share of what is pumped in that goes into the negative chamber", "β = V_n/(V_p + V_n)", balance, symbol("β", plan.Carry), vn, vp),
		negative,
	}
	lowers := t.Fill < t.OldFill
	if !lowers {
		steps = append(steps, step("pressure that is set before each cycle", "p = g + p_a", "gauge to absolute", pump, symbol("g", t.Fill), pa))
	}
	piston, around, shaft := symbol("A", units.Area(ap)), symbol("A_n", units.Area(an)), symbol("A_s", units.Area(area(t.Shaft)))
	for i, reading := range plan.Reading[:min(3, plan.Cycles)] {
		if set := plan.Steps[2*i]; lowers {
			x, shown := symbol(fmt.Sprintf("x%d", i+1), set.Stands), symbol(fmt.Sprintf("s%d", i+1), set.After)
			whole := t.PositiveVolume - units.Volume(ap*float64(set.Stands))
			if set.Stands > 0 {
				steps = append(steps, step(fmt.Sprintf("gauge where the spring stands, release %d", i+1),
					shown.Symbol+" = [A_n·p_n·V_n0/(V_n0 + A_n·"+x.Symbol+") + A_s·p_a]/A − p_a", unloaded, shown, around, old, vn0, x, shaft, pa, piston))
			} else {
				steps = append(steps, step(fmt.Sprintf("gauge at full extension, release %d", i+1), shown.Symbol+" = g",
					"the spring is pushed out all the way", shown, symbol("g", t.Fill)))
			}
			pump = symbol("p", set.After.Absolute(t.Ambient)*units.AbsolutePressure(whole/t.PositiveVolume))
			steps = append(steps, step("pressure then, at full extension", "p = ("+shown.Symbol+" + p_a)·(V_p0 − A·"+x.Symbol+")/V_p0", "the positive chamber alone, slow",
				pump, shown, pa, vp0, piston, x))
		}
		// The pressure at the port follows from the reading, so that it is not computed twice.
		shared := symbol("p_e", reading.Absolute(t.Ambient)*units.AbsolutePressure(t.PositiveVolume/first))
		gauge := symbol(fmt.Sprintf("g%d", i+1), reading)
		steps = append(steps,
			step(fmt.Sprintf("both chambers at the port, cycle %d", i+1), "p_e = (p·V_p0 + p_n·V_n0)/(V_p + V_n)", balance, shared, pump, vp0, old, vn0, vp, vn),
			step(fmt.Sprintf("gauge at full extension, after cycle %d", i+1), gauge.Symbol+" = p_e·V_p/V_p0 − p_a",
				"the positive chamber alone, slow", gauge, shared, vp, vp0, pa))
		old = symbol("p_n", plan.NegativePressure[i])
	}
	return steps, nil
}
