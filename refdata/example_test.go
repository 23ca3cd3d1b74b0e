package refdata_test

import (
	"fmt"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

func Example() {
	var s refdata.Summary
	err := refdata.Each(refdata.CaseFiles(), func(c refdata.Case) error {
		if c.Computes != "units.convert" {
			return nil
		}
		o := refdata.Check(c)
		fmt.Print(o.Failure())
		s.Add(o)
		return nil
	})
	fmt.Println(&s, err)
	// Output: 81 passed, 0 failed <nil>
}

func ExampleEvaluate() {
	result, err := refdata.Evaluate(refdata.Case{
		Computes: "units.convert",
		Given:    []byte(`{"kind": "stiffness", "value": "450 lbf/in"}`),
	})
	fmt.Printf("%.3f %v\n", result["value"], err)

	_, err = refdata.Evaluate(refdata.Case{
		Computes: "units.convert",
		Given:    []byte(`{"kind": "force", "value": "450 lb"}`),
	})
	for _, f := range units.Fields(err) {
		fmt.Println(f.Field, "is bad:", err)
	}
	// Output:
	// 78.807 N/mm <nil>
	// value is bad: refdata: value "450 lb": want a force in one of N, kN, lbf, kgf
}

func ExampleCheck() {
	c := refdata.Case{
		ID: "made-up-1", File: "mine.json", Computes: "units.convert", Standing: refdata.CommonPractice,
		Given:     []byte(`{"kind": "gauge_pressure", "value": "1 bar"}`),
		Expect:    map[string]any{"value": "15 psi"},
		Tolerance: map[string]refdata.Tolerance{"value": {Absolute: "0.1 psi"}},
	}
	o := refdata.Check(c)
	fmt.Println(o.Pass())
	fmt.Print(o.Failure())
	// Output:
	// false
	// made-up-1: units.convert (mine.json)
	//   value: expected 15 psi, got 14.5037737730209 psi, off by -0.496 psi, tolerance ±0.1 psi
	//   source: none (common practice)
}

func ExampleEachFrom() {
	file := `{
	  "schema": "wheelrate/cases/1",
	  "subject": "my bench",
	  "groups": [{"standing": "common practice", "cases": [
	    {"id": "my-1", "computes": "units.convert",
	     "given": {"kind": "length", "value": "2.5 in"},
	     "expect": {"value": "63.5 mm"}}]}]
	}`
	err := refdata.EachFrom("mine.json", strings.NewReader(file), func(c refdata.Case) error {
		fmt.Println(refdata.Check(c))
		return nil
	})
	fmt.Println(err)

	misspelt := strings.Replace(file, "computes", "compute", 1)
	fmt.Println(refdata.EachFrom("mine.json", strings.NewReader(misspelt), func(refdata.Case) error { return nil }) != nil)
	// Output:
	// ok   my-1 units.convert
	// <nil>
	// true
}

func ExampleMaterialNamed() {
	m, err := refdata.MaterialNamed("EN 10270-1 SH")
	if err != nil {
		fmt.Println(err)
		return
	}
	moduli, _ := m.ModuliOf(6 * units.Millimetre)
	fmt.Println("G", moduli.ShearModulus.Value, "±", moduli.ShearModulus.Uncertainty)
	strength, _ := m.TensileStrength(6 * units.Millimetre)
	fmt.Printf("Rm at least %.0f\n", strength)
	_, err = m.TensileStrength(25 * units.Millimetre)
	fmt.Println(err)
	// Output:
	// G 81500 MPa ± 50 MPa
	// Rm at least 1582 MPa
	// refdata: wire_diameter 25 mm: want from 0.28 mm to 20 mm, which is what the source for EN 10270-1 SH covers
}

func ExampleConstantNamed() {
	c, err := refdata.ConstantNamed("standard_gravity")
	fmt.Println(c.Symbol, c.Value, c.Unit, c.Exact(), err)
	// Output: g₀ 9.80665 m/s² true <nil>
}

func ExampleFormat() {
	out, err := refdata.Format([]byte(`{"note":"","at":["1 mm","2 mm"],"id":"x"}`))
	fmt.Print(string(out), err)
	// Output:
	// {
	//   "id": "x",
	//   "note": "",
	//   "at": ["1 mm", "2 mm"]
	// }
	// <nil>
}

func ExampleGasNamed() {
	air, err := refdata.GasNamed("air")
	if err != nil {
		fmt.Println(err)
		return
	}
	γ, _ := air.Value("heat_ratio_300_k")
	fmt.Println(γ.Value, "±", γ.Uncertainty, "at", γ.Range, "-", γ.Source.Title)
	fmt.Println("real behaviour from", air.Range.TemperatureFrom, "to", air.Range.TemperatureTo, "up to", air.Range.PressureTo)
	// Output:
	// 1.4 ± 0.0005 at no pressure, 300 K - Hilsenrath et al., Tables of thermal properties of gases, NBS Circular 564
	// real behaviour from -23.15 °C to 76.85 °C up to 4000 kPa(a)
}
