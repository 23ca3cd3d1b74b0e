package coil_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The results are the very values of MeasureRate; what is put in gives them by
// the formula shown, worked here apart.
func TestCaliperWorking(t *testing.T) {
	outer := coil.Caliper{
		WireDiameter: 8.02 * units.Millimetre, OuterDiameter: 51.2 * units.Millimetre, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal,
		WireUncertainty: 0.02 * units.Millimetre, DiameterUncertainty: 0.08 * units.Millimetre, CoilUncertainty: 0.06, ModulusUncertainty: 500 * units.Megapascal,
		Correlation: 0.4,
	}
	inner := outer
	inner.InnerDiameter, inner.OuterDiameter = 35.16*units.Millimetre, 0
	for name, m := range map[string]coil.Caliper{"outer": outer, "inner": inner} {
		k, err := m.Rate()
		if err != nil {
			t.Fatal(err)
		}
		steps, err := m.Working()
		if err != nil || len(steps) != 8 {
			t.Fatal(name, len(steps), err)
		}
		want := []any{k.MeanDiameter, k.Rate}
		for _, b := range k.Budget {
			want = append(want, b.Variance)
		}
		want = append(want, k.RateUncertainty)
		for i := range steps {
			if steps[i].Result.Quantity != want[i] {
				t.Errorf("%s, %s: %v, MeasureRate has %v", name, steps[i].Name, steps[i].Result, want[i])
			}
		}
		x := numbers(steps[1])
		unitstest.Near(t, name+", rate", float64(k.Rate), x["G"]*math.Pow(x["d"], 4)/(8*math.Pow(x["D"], 3)*x["n"]), unitstest.Rel(1e-12))
		side := map[string]float64{"outer": 1, "inner": -1}[name]
		d, od, n, g, r := numbers(steps[2]), numbers(steps[3]), numbers(steps[4]), numbers(steps[5]), numbers(steps[6])
		sum := 0.0
		for i, v := range []float64{
			math.Pow((4/d["d"]+side*3/d["D"])*d["u_d"], 2), math.Pow(3*od["u_D"]/od["D"], 2), math.Pow(n["u_n"]/n["n"], 2), math.Pow(g["u_G"]/g["G"], 2),
			-2 * r["r"] * (4/r["d"] + side*3/r["D"]) * r["u_d"] * 3 * r["u_D"] / r["D"],
		} {
			unitstest.Near(t, name+", "+steps[i+2].Name, steps[i+2].Result.Quantity.(float64), v, unitstest.Rel(1e-12))
			sum += v
		}
		unitstest.Near(t, name+", uncertainty", float64(k.RateUncertainty), numbers(steps[7])["k"]*math.Sqrt(sum), unitstest.Rel(1e-12))
	}
	outer.DiameterUncertainty, outer.ModulusUncertainty = 0, 0
	if steps, err := outer.Working(); err != nil || len(steps) != 5 { // with the wire's and the coils' part
		t.Errorf("%d steps, %v", len(steps), err)
	}
	if _, err := (coil.Caliper{}).Working(); err == nil {
		t.Error("the working of nothing")
	}
}

// numbers are what a step is given, in SI, by symbol.
func numbers(s units.Step) map[string]float64 {
	m := map[string]float64{}
	for _, v := range s.Given {
		switch q := v.Quantity.(type) {
		case units.Length:
			m[v.Symbol] = float64(q)
		case units.Stress:
			m[v.Symbol] = float64(q)
		case units.Stiffness:
			m[v.Symbol] = float64(q)
		case float64:
			m[v.Symbol] = q
		}
	}
	return m
}

// Worked by hand: D = 53.5 − 8.5 = 45 mm; 79 500·8.5⁴/(8·45³·5.25) = 108.4316
// N/mm; the count of 5.25 known to 0.1 alone gives (0.1/5.25)² = 3.62812e-4, and
// 108.4316·0.1/5.25 = 2.06536 N/mm.
func ExampleCaliper_Working() {
	steps, err := coil.Caliper{
		WireDiameter: 8.5 * units.Millimetre, OuterDiameter: 53.5 * units.Millimetre, ActiveCoils: 5.25,
		ShearModulus: 79500 * units.Megapascal, CoilUncertainty: 0.1,
	}.Working()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range steps {
		fmt.Printf("%-28s  %-18s  %s\n", s.Name, s.Formula, s.Result)
	}
	// Output:
	// mean diameter                 D = D_o − d         D = 45 mm
	// spring rate                   k = G·d⁴/(8·D³·n)   k = 108.432 N/mm
	// what the count of coils adds  v_n = (u_n/n)²      v_n = 0.000362812
	// its standard uncertainty      u_k = k·√(Σ v)      u_k = 2.06536 N/mm
}

func ExampleSpring_Working() {
	c, err := coil.New(coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(c.Working(2000 * units.Newton)[0])
	// Output:
	// spring rate
	//   k = G·d⁴/(8·D³·n)
	//   [Shigley, eq. 10-9, number from memory; every source agrees]
	//     G = 79500 MPa; d = 10 mm; D = 46 mm; n = 5
	//   → k = 204.19 N/mm
}

func TestCoilWorking(t *testing.T) {
	c, err := coil.New(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal})
	if err != nil {
		t.Fatal(err)
	}
	steps := c.Working(2000 * units.Newton)
	if steps[0].Result.Quantity != c.Rate() || steps[1].Result.Quantity != c.Index() || steps[2].Result.Quantity != c.Bergstrasser() || steps[3].Result.Quantity != c.Stress(2000) {
		t.Errorf("%v", steps)
	}
	// 79 500·10⁴/(8·46³·5) N/mm, (4·4.6 + 2)/(4·4.6 − 3), 8·2000·46/(π·1000) MPa.
	unitstest.Near(t, "rate", c.Rate().NewtonsPerMillimetre(), 204.189611243528, unitstest.Rel(1e-12))
	unitstest.Near(t, "stress", float64(c.Stress(2000))/1e6, 20.4/15.4*8*2000*46/(math.Pi*1000), unitstest.Rel(1e-12))
	most := c.Working(1e300)
	if f := most[3].Given[1].Quantity; f != 1e15*units.Newton || most[3].Result.Quantity != c.Stress(1e300) {
		t.Errorf("beyond all force: %v", most[3])
	}
	if got := new(coil.Spring).Working(1); got != nil {
		t.Errorf("the working of nothing: %v", got)
	}
	for _, f := range []units.Force{0, -1, units.Force(math.NaN()), units.Force(math.Inf(1))} {
		if got := c.Working(f); len(got) != 2 {
			t.Errorf("%v: %d steps", f, len(got))
		}
	}
}
