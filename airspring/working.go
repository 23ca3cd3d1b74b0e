package airspring

import (
	"maps"
	"strconv"

	"example.com/wheelrate/units"
)

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
	w := units.Symbols{"g": fill, "F": force, "x": at, "n": spec.Exponent, "p_a": spec.Ambient}
	if spec.SecondVolume > 0 {
		return []units.Step{w.Step("fill", "F(x; g) = F", "search, since with a second chamber the force is not linear in the fill", "g", "F", "x")}, nil
	}
	unit := newSpring(&spec, 1) // with an absolute fill of 1 Pa
	p, m := &unit.positive, &unit.negative
	c, pull := p.area*p.at(float64(at), spec.Exponent), m.area*m.at(float64(at), spec.Exponent)
	maps.Copy(w, units.Symbols{
		"d": spec.Bore, "A": units.Area(p.area), "V": spec.PositiveVolume, "V_oil": spec.OilVolume, "N": spec.Spacers, "V_spacer": spec.SpacerVolume,
		"V₀": units.Volume(p.volume), "V_x": unit.PositiveVolume(at), "C": units.Area(c - pull),
	})
	steps := []units.Step{
		w.Step("area of the piston", "A = π·d²/4", "geometry", "A", "d"),
		w.Step("chamber at full extension", "V₀ = V − V_oil − N·V_spacer", "what oil and spacers leave of it", "V₀", "V", "V_oil", "N", "V_spacer"),
		w.Step("chamber at the travel", "V_x = V₀ − A·x", sweptByPiston, "V_x", "V₀", "A", "x"),
	}
	const perFill, last = "force per absolute fill", "balance of the piston, with the air around pressing on its outside"
	if spec.NegativeVolume == 0 {
		return append(steps, w.Step(perFill, "C = A·(V₀/V_x)ⁿ", gasLaw, "C", "A", "V₀", "V_x", "n"),
			w.Step("fill", "g = (F + A·p_a)/C − p_a", last, "g", "F", "A", "p_a", "C")), nil
	}
	maps.Copy(w, units.Symbols{
		"d_s": spec.Shaft, "A_n": units.Area(m.area), "A_s": units.Area(area(spec.Shaft)), "x_t": spec.PortTravel, "q": m.pressure,
		"V_n": spec.NegativeVolume, "V_nx": units.Volume(m.volume * m.left(float64(at))), "C_n": units.Area(pull),
	})
	return append(steps,
		w.Step("area of the ring about the shaft", "A_n = π·(d² − d_s²)/4", "geometry", "A_n", "d", "d_s"),
		w.Step("area of the shaft", "A_s = π·d_s²/4", "geometry", "A_s", "d_s"),
		w.Step("negative chamber at the travel", "V_nx = V_n + A_n·x", sweptByPiston, "V_nx", "V_n", "A_n", "x"),
		w.Step("its pressure at full extension, as a part of the fill", "q = V₀/(V₀ − A·x_t)·(V_n + A_n·x_t)/V_n",
			"both chambers have one pressure at the port, and each keeps its gas from there", "q", "V₀", "A", "x_t", "V_n", "A_n"),
		w.Step("its pull per absolute fill", "C_n = A_n·q·(V_n/V_nx)ⁿ", gasLaw, "C_n", "A_n", "q", "V_n", "V_nx", "n"),
		w.Step(perFill, "C = A·(V₀/V_x)ⁿ − C_n", gasLaw, "C", "A", "V₀", "V_x", "n", "C_n"),
		w.Step("fill", "g = (F + A_s·p_a)/C − p_a", last, "g", "F", "A_s", "p_a", "C")), nil
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
	ap, an := area(t.Bore), ring(t.Bore, t.Shaft)
	first, second := t.PositiveVolume-units.Volume(ap*float64(t.PortTravel)), t.NegativeVolume+units.Volume(an*float64(t.PortTravel))
	w := units.Symbols{
		"V_p0": t.PositiveVolume, "V_n0": t.NegativeVolume, "V_p": first, "V_n": second, "p_a": t.Ambient, "x_t": t.PortTravel,
		"A": units.Area(ap), "A_n": units.Area(an), "A_s": units.Area(area(t.Shaft)), "β": plan.Carry,
		"g": t.Fill, "p": t.Fill.Absolute(t.Ambient), "g_old": t.OldFill, "p_n": t.Ambient,
	}
	const before = "pressure of the negative chamber before, at full extension"
	negative := w.Step(before, "p_n = p_a", "just assembled: the chamber was open to the air around", "p_n", "p_a")
	if t.OldFill > 0 {
		w["p_n"] = t.OldFill.Absolute(t.Ambient) * units.AbsolutePressure(t.PositiveVolume/first*second/t.NegativeVolume)
		negative = w.Step(before, "p_n = (g_old + p_a)·V_p0/V_p·V_n/V_n0", "cycled before: both chambers had one pressure at the port",
			"p_n", "g_old", "p_a", "V_p0", "V_p", "V_n", "V_n0")
	}
	steps := []units.Step{
		w.Step("positive chamber at the port", "V_p = V_p0 − A·x_t", sweptByPiston, "V_p", "V_p0", "A", "x_t"),
		w.Step("negative chamber at the port", "V_n = V_n0 + A_n·x_t", sweptByPiston+" less its shaft", "V_n", "V_n0", "A_n", "x_t"),
		w.Step("share of what is pumped in that goes into the negative chamber", "β = V_n/(V_p + V_n)", balance, "β", "V_n", "V_p"),
		negative,
	}
	lowers := t.Fill < t.OldFill
	if !lowers {
		steps = append(steps, w.Step("pressure that is set before each cycle", "p = g + p_a", "gauge to absolute", "p", "g", "p_a"))
	}
	for i, reading := range plan.Reading[:min(3, plan.Cycles)] {
		number := strconv.Itoa(i + 1)
		if set := plan.Steps[2*i]; lowers {
			x, shown := "x"+number, "s"+number
			w[x], w[shown] = set.Stands, set.After
			if set.Stands > 0 || set.After > t.Fill {
				steps = append(steps, w.Step("gauge where the spring stands, release "+number, shown+" = [A_n·p_n·V_n0/(V_n0 + A_n·"+x+") + A_s·p_a]/A − p_a",
					unloaded, shown, "A_n", "p_n", "V_n0", x, "A_s", "p_a", "A"))
			} else {
				steps = append(steps, w.Step("gauge at full extension, release "+number, shown+" = g", "the spring is pushed out all the way", shown, "g"))
			}
			whole := t.PositiveVolume - units.Volume(ap*float64(set.Stands))
			w["p"] = set.After.Absolute(t.Ambient) * units.AbsolutePressure(whole/t.PositiveVolume)
			steps = append(steps, w.Step("pressure then, at full extension", "p = ("+shown+" + p_a)·(V_p0 − A·"+x+")/V_p0", "the positive chamber alone, slow",
				"p", shown, "p_a", "V_p0", "A", x))
		}
		// The pressure at the port follows from the reading, so that it is not computed twice.
		gauge := "g" + number
		w["p_e"], w[gauge] = reading.Absolute(t.Ambient)*units.AbsolutePressure(t.PositiveVolume/first), reading
		steps = append(steps,
			w.Step("both chambers at the port, cycle "+number, "p_e = (p·V_p0 + p_n·V_n0)/(V_p + V_n)", balance, "p_e", "p", "V_p0", "p_n", "V_n0", "V_p", "V_n"),
			w.Step("gauge at full extension, after cycle "+number, gauge+" = p_e·V_p/V_p0 − p_a", "the positive chamber alone, slow", gauge, "p_e", "V_p", "V_p0", "p_a"))
		w["p_n"] = plan.NegativePressure[i]
	}
	return steps, nil
}
