package airspring_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// values are what a step is given, in SI, by symbol.
func values(s units.Step) map[string]float64 {
	m := map[string]float64{}
	for _, v := range append(s.Given, s.Result) {
		switch q := v.Quantity.(type) {
		case units.Length:
			m[v.Symbol] = float64(q)
		case units.Area:
			m[v.Symbol] = float64(q)
		case units.Volume:
			m[v.Symbol] = float64(q)
		case units.Force:
			m[v.Symbol] = float64(q)
		case units.GaugePressure:
			m[v.Symbol] = float64(q)
		case units.AbsolutePressure:
			m[v.Symbol] = float64(q)
		case float64:
			m[v.Symbol] = q
		case int:
			m[v.Symbol] = float64(q)
		default:
			panic(v)
		}
	}
	return m
}

// byFormula are the formulas of the steps, worked here apart; what each gives
// must be the step's result.
var byFormula = map[string]func(x map[string]float64) (got, want float64){
	"A = π·d²/4":     func(x map[string]float64) (float64, float64) { return x["A"], math.Pi * x["d"] * x["d"] / 4 },
	"A_s = π·d_s²/4": func(x map[string]float64) (float64, float64) { return x["A_s"], math.Pi * x["d_s"] * x["d_s"] / 4 },
	"A_n = π·(d² − d_s²)/4": func(x map[string]float64) (float64, float64) {
		return x["A_n"], math.Pi * (x["d"]*x["d"] - x["d_s"]*x["d_s"]) / 4
	},
	"V₀ = V − V_oil − N·V_spacer": func(x map[string]float64) (float64, float64) {
		return x["V₀"], x["V"] - x["V_oil"] - x["N"]*x["V_spacer"]
	},
	"V_x = V₀ − A·x":     func(x map[string]float64) (float64, float64) { return x["V_x"], x["V₀"] - x["A"]*x["x"] },
	"V_nx = V_n + A_n·x": func(x map[string]float64) (float64, float64) { return x["V_nx"], x["V_n"] + x["A_n"]*x["x"] },
	"q = V₀/(V₀ − A·x_t)·(V_n + A_n·x_t)/V_n": func(x map[string]float64) (float64, float64) {
		return x["q"], x["V₀"] / (x["V₀"] - x["A"]*x["x_t"]) * (x["V_n"] + x["A_n"]*x["x_t"]) / x["V_n"]
	},
	"C_n = A_n·q·(V_n/V_nx)ⁿ": func(x map[string]float64) (float64, float64) {
		return x["C_n"], x["A_n"] * x["q"] * math.Pow(x["V_n"]/x["V_nx"], x["n"])
	},
	"C = A·(V₀/V_x)ⁿ": func(x map[string]float64) (float64, float64) {
		return x["C"], x["A"] * math.Pow(x["V₀"]/x["V_x"], x["n"])
	},
	"C = A·(V₀/V_x)ⁿ − C_n": func(x map[string]float64) (float64, float64) {
		return x["C"], x["A"]*math.Pow(x["V₀"]/x["V_x"], x["n"]) - x["C_n"]
	},
	"g = (F + A·p_a)/C − p_a": func(x map[string]float64) (float64, float64) {
		return x["g"], (x["F"]+x["A"]*x["p_a"])/x["C"] - x["p_a"]
	},
	"g = (F + A_s·p_a)/C − p_a": func(x map[string]float64) (float64, float64) {
		return x["g"], (x["F"]+x["A_s"]*x["p_a"])/x["C"] - x["p_a"]
	},

	"V_p = V_p0 − A·x_t":   func(x map[string]float64) (float64, float64) { return x["V_p"], x["V_p0"] - x["A"]*x["x_t"] },
	"V_n = V_n0 + A_n·x_t": func(x map[string]float64) (float64, float64) { return x["V_n"], x["V_n0"] + x["A_n"]*x["x_t"] },
	"β = V_n/(V_p + V_n)":  func(x map[string]float64) (float64, float64) { return x["β"], x["V_n"] / (x["V_p"] + x["V_n"]) },
	"p_n = (g_old + p_a)·V_p0/V_p·V_n/V_n0": func(x map[string]float64) (float64, float64) {
		return x["p_n"], (x["g_old"] + x["p_a"]) * x["V_p0"] / x["V_p"] * x["V_n"] / x["V_n0"]
	},
	"p_n = p_a":   func(x map[string]float64) (float64, float64) { return x["p_n"], x["p_a"] },
	"p = g + p_a": func(x map[string]float64) (float64, float64) { return x["p"], x["g"] + x["p_a"] },
	"p_e = (p·V_p0 + p_n·V_n0)/(V_p + V_n)": func(x map[string]float64) (float64, float64) {
		return x["p_e"], (x["p"]*x["V_p0"] + x["p_n"]*x["V_n0"]) / (x["V_p"] + x["V_n"])
	},
	"s1 = [A_n·p_n·V_n0/(V_n0 + A_n·x1) + A_s·p_a]/A − p_a": unloaded("s1", "x1"),
	"s2 = [A_n·p_n·V_n0/(V_n0 + A_n·x2) + A_s·p_a]/A − p_a": unloaded("s2", "x2"),
	"s3 = [A_n·p_n·V_n0/(V_n0 + A_n·x3) + A_s·p_a]/A − p_a": unloaded("s3", "x3"),
	"s1 = g":                            func(x map[string]float64) (float64, float64) { return x["s1"], x["g"] },
	"s2 = g":                            func(x map[string]float64) (float64, float64) { return x["s2"], x["g"] },
	"s3 = g":                            func(x map[string]float64) (float64, float64) { return x["s3"], x["g"] },
	"p = (s1 + p_a)·(V_p0 − A·x1)/V_p0": extended("s1", "x1"),
	"p = (s2 + p_a)·(V_p0 − A·x2)/V_p0": extended("s2", "x2"),
	"p = (s3 + p_a)·(V_p0 − A·x3)/V_p0": extended("s3", "x3"),
	"g1 = p_e·V_p/V_p0 − p_a":           func(x map[string]float64) (float64, float64) { return x["g1"], x["p_e"]*x["V_p"]/x["V_p0"] - x["p_a"] },
	"g2 = p_e·V_p/V_p0 − p_a":           func(x map[string]float64) (float64, float64) { return x["g2"], x["p_e"]*x["V_p"]/x["V_p0"] - x["p_a"] },
	"g3 = p_e·V_p/V_p0 − p_a":           func(x map[string]float64) (float64, float64) { return x["g3"], x["p_e"]*x["V_p"]/x["V_p0"] - x["p_a"] },
}

func unloaded(gauge, at string) func(map[string]float64) (got, want float64) {
	return func(x map[string]float64) (float64, float64) {
		return x[gauge], (x["A_n"]*x["p_n"]*x["V_n0"]/(x["V_n0"]+x["A_n"]*x[at])+x["A_s"]*x["p_a"])/x["A"] - x["p_a"]
	}
}

func extended(gauge, at string) func(map[string]float64) (got, want float64) {
	return func(x map[string]float64) (float64, float64) {
		return x["p"], (x[gauge] + x["p_a"]) * (x["V_p0"] - x["A"]*x[at]) / x["V_p0"]
	}
}

// holds checks that every step's formula gives its result, and that a symbol
// that one step finds has that value wherever a later step is given it.
func holds(t *testing.T, name string, steps []units.Step) {
	t.Helper()
	known := map[string]any{}
	for _, s := range steps {
		if s.Name == "" || s.Source == "" {
			t.Errorf("%s: %+v", name, s)
		}
		formula, ok := byFormula[s.Formula]
		if !ok {
			t.Errorf("%s: nobody has worked %q apart", name, s.Formula)
			continue
		}
		got, want := formula(values(s))
		unitstest.Near(t, name+", "+s.Formula, got, want, unitstest.Rel(1e-11))
		for _, g := range s.Given {
			if before, ok := known[g.Symbol]; ok && before != g.Quantity && g.Symbol != "p_n" && g.Symbol != "p" { // which every cycle changes
				t.Errorf("%s, %s: given %v, found %v before", name, s.Name, g, before)
			}
		}
		known[s.Result.Symbol] = s.Result.Quantity
	}
}

// The last result is FillFor's very value, and every formula gives what stands
// under it, before the port as well as after it.
func TestFillWorking(t *testing.T) {
	two := airspring.Spec{
		Bore: 36 * mm, Shaft: 10 * mm, Travel: 160 * mm, PositiveVolume: 240 * cm3, NegativeVolume: 55 * cm3, PortTravel: 8 * mm,
		OilVolume: 6 * cm3, SpacerVolume: 7 * cm3, Spacers: 2, Ambient: units.StandardAtmosphere, Exponent: 1,
	}
	single := two
	single.NegativeVolume, single.Shaft, single.PortTravel = 0, 0, 0
	fast := two
	fast.Exponent = 1.3
	for name, spec := range map[string]airspring.Spec{"two": two, "single": single, "fast": fast} {
		for _, at := range []units.Length{5 * mm, 8 * mm, 34 * mm, 160 * mm} {
			want, err := airspring.FillFor(spec, 900*units.Newton, at)
			if err != nil {
				t.Fatal(name, err)
			}
			steps, err := airspring.FillWorking(spec, 900*units.Newton, at)
			if err != nil {
				t.Fatal(name, err)
			}
			if last := steps[len(steps)-1]; last.Result.Quantity != want {
				t.Errorf("%s: %v, FillFor %v", name, last.Result, want)
			}
			holds(t, fmt.Sprint(name, " at ", at), steps)
			// No area comes from nowhere.
			found := map[string]bool{}
			for _, s := range steps {
				for _, g := range s.Given {
					if _, ok := g.Quantity.(units.Area); ok && !found[g.Symbol] {
						t.Errorf("%s at %v: %s of %q was not found before", name, at, g.Symbol, s.Name)
					}
				}
				found[s.Result.Symbol] = true
			}
		}
	}
	staged := single
	staged.SecondVolume, staged.SecondFill = 40*cm3, units.BarGauge(9)
	want, err := airspring.FillFor(staged, 420*units.Newton, 34*mm)
	if err != nil {
		t.Fatal(err)
	}
	if steps, err := airspring.FillWorking(staged, 420*units.Newton, 34*mm); err != nil || len(steps) != 1 || steps[0].Result.Quantity != want {
		t.Errorf("%v, %v", steps, err)
	}
	if _, err := airspring.FillWorking(airspring.Spec{}, 1, 0); err == nil {
		t.Error("the working of nothing")
	}
}

// Carry and readings are the plan's very values, and the mass balance shown
// gives them: pumping up, letting out, and from a spring just assembled.
func TestTopUpWorking(t *testing.T) {
	for name, old := range map[string]float64{"up": 64.5, "down": 80, "down a little": 72.5, "new": 0, "hardly any": 0.0001} {
		top := airspring.TopUp{
			Bore: 34 * mm, Shaft: 10 * mm, PositiveVolume: 220 * cm3, NegativeVolume: 50 * cm3, PortTravel: 8 * mm,
			OldFill: units.PSIGauge(old), Fill: units.PSIGauge(72), Ambient: units.StandardAtmosphere, Within: units.PSIGauge(0.001),
		}
		plan, err := airspring.PlanTopUp(top)
		if err != nil {
			t.Fatal(err)
		}
		steps, err := top.Working()
		if err != nil {
			t.Fatal(err)
		}
		first, each := 6, 2
		if old > 72 {
			first, each = 7, 4
		}
		if len(steps) != first+2*each+1 || len(plan.Reading) < 4 || steps[2].Result.Quantity != plan.Carry {
			t.Fatalf("%s: %v", name, steps)
		}
		for i := range 3 {
			if s := steps[first+each*i]; s.Result.Quantity != plan.Reading[i] {
				t.Errorf("%s: %v, plan %v", name, s.Result, plan.Reading[i])
			}
		}
		if cycled := strings.Contains(steps[3].Formula, "g_old"); cycled != (old > 0) {
			t.Errorf("%s: the negative chamber before is that of %q", name, steps[3].Formula)
		}
		holds(t, name, steps)
	}
	if _, err := (airspring.TopUp{}).Working(); err == nil {
		t.Error("the working of nothing")
	}
}

// Whatever air is let out, the formulas give what stands under them: from a port at full extension, where the
// spring may not be pulled in, all at once and in rounds.
func TestReleaseWorking(t *testing.T) {
	little := release(10)
	little.Fill = units.PSIGauge(149)
	asks := []airspring.TopUp{little}
	for i := range releases {
		asks = append(asks, release(i))
	}
	for _, ask := range asks {
		steps, err := ask.Working()
		if err != nil {
			t.Fatal(err)
		}
		holds(t, fmt.Sprintf("%+v", ask), steps)
	}
	steps, _ := little.Working()
	if got := steps[4].Formula; got != "s1 = g" {
		t.Errorf("let out at once: %s", got)
	}
}
