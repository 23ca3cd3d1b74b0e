package refdata_test

import (
	"fmt"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

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

// A file of one's own is read as those of the dataset are.
func ExampleCasesFrom() {
	file := `{
	  "schema": "wheelrate/cases/1",
	  "subject": "my bench",
	  "groups": [{"standing": "common practice", "cases": [
	    {"id": "my-1", "computes": "units.convert",
	     "given": {"kind": "length", "value": "2.5 in"},
	     "expect": {"value": "63.5 mm"}}]}]
	}`
	for _, text := range []string{file, strings.Replace(file, "expect", "expects", 1)} {
		for c, err := range refdata.CasesFrom("mine.json", strings.NewReader(text)) {
			if err == nil {
				fmt.Println(c.ID, "computes", c.Computes, "and expects", c.Expect["value"])
			}
			for _, f := range units.Fields(err) {
				fmt.Println("bad:", f.Field)
			}
		}
	}
	// Output:
	// my-1 computes units.convert and expects 63.5 mm
	// bad: groups[0].cases[0].expects
	// bad: groups[0].cases[0].expect
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

// What a program in another language must know of a computation.
func ExampleDescribe() {
	d, _ := refdata.Describe("airspring.hose")
	for _, f := range d.Fields() {
		fmt.Println(f.Name, f.Kind, f.Range != nil)
	}
	for _, o := range d.Outputs {
		fmt.Printf("%s %s = %s, if %s\n", o.Name, o.Kind, o.Formula, o.When)
	}
	// Output:
	// chamber_volume volume true
	// hose_volume volume true
	// fill gauge_pressure true
	// reading gauge_pressure true
	// reading gauge_pressure = fill·V/(V + V_h), if fill is given
	// fill gauge_pressure = reading·(V + V_h)/V, if reading is given
}

func ExampleForms() {
	curve := refdata.Forms()["curve"]
	fmt.Println(curve.OneOf[0].Of)
	// Output: [constant fork table mechanism]
}
