package coil_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The results are the very values of Rate; what is put in gives them by
// the formula shown, worked here apart. The working names what was measured,
// inside or outside, and what the sum is made of.
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
				t.Errorf("%s, %s: %v, Rate has %v", name, steps[i].Name, steps[i].Result, want[i])
			}
		}
		formula, given, factor := "D = D_o − d", units.Value{Symbol: "D_o", Quantity: m.OuterDiameter}, "(4/d + 3/D)"
		if name == "inner" {
			formula, given, factor = "D = D_i + d", units.Value{Symbol: "D_i", Quantity: m.InnerDiameter}, "(4/d − 3/D)"
		}
		if got := steps[0]; got.Formula != formula || got.Given[0] != given {
			t.Errorf("%+v", got)
		}
		for _, i := range []int{2, 6} { // the wire's part, and that of both readings
			if got := steps[i].Formula; !strings.Contains(got, factor) {
				t.Errorf("%s: %q has no %q", steps[i].Name, got, factor)
			}
		}
		var symbols []string
		for _, v := range steps[7].Given {
			symbols = append(symbols, v.Symbol)
		}
		if diff := cmp.Diff([]string{"k", "v_d", "v_D", "v_n", "v_G", "v_r"}, symbols); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
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

// FuzzWorking: the working of a caliper's rate is the rate, in finite numbers.
func FuzzWorking(f *testing.F) {
	f.Add(0.01, 0.056, 5.0, 79.5e9, 2e-5, 2e-5, 0.1, 8e8, 0.5)
	f.Add(1e-300, 1.0, 5e-324, 1e300, 1.0, 1.0, 0.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, d, od, n, g, ud, uo, un, ug, r float64) {
		m := coil.Caliper{
			WireDiameter: units.Length(d), OuterDiameter: units.Length(od), ActiveCoils: n, ShearModulus: units.Stress(g),
			WireUncertainty: units.Length(ud), DiameterUncertainty: units.Length(uo), CoilUncertainty: un, ModulusUncertainty: units.Stress(ug), Correlation: r,
		}
		rate, rateErr := m.Rate()
		steps, err := m.Working()
		if (err == nil) != (rateErr == nil) {
			t.Fatalf("the rate: %v; its working: %v", rateErr, err)
		}
		if err != nil {
			named(t, "working", err)
		} else {
			soundSteps(t, steps)
			if !holds(steps, float64(rate.Rate)) {
				t.Fatalf("no step comes to the rate %v", float64(rate.Rate))
			}
		}
	})
}

// number is the SI number of a value; 0 for a text.
func number(v units.Value) float64 {
	if r := reflect.ValueOf(v.Quantity); r.CanFloat() {
		return r.Float()
	}
	return 0
}

// holds reports whether some step results in v.
func holds(steps []units.Step, v float64) bool {
	return slices.ContainsFunc(steps, func(s units.Step) bool { return number(s.Result) == v })
}

// soundSteps holds that every step says what it is, how and from where, in
// finite numbers.
func soundSteps(t *testing.T, steps []units.Step) {
	t.Helper()
	if len(steps) == 0 {
		t.Fatal("no working")
	}
	for _, s := range steps {
		if s.Name == "" || s.Formula == "" || s.Source == "" {
			t.Fatalf("%+v", s)
		}
		for _, v := range append(slices.Clip(s.Given), s.Result) {
			if v.Quantity == nil || !finite(number(v)) {
				t.Fatalf("%+v", s)
			}
		}
	}
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
