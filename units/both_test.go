package units_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// By the exact definitions: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 lbf =
// 4.4482216 N, 1 lbf/in = 0.1751268 N/mm, 1 psi = 6.894757 kPa, 1 ft·lbf =
// 1.3558179 J, 1 in³ = 16.387064 cm³, 1 lbf·in = 0.1129848 N·m.
func TestBothSystemsOfEveryQuantity(t *testing.T) {
	for _, test := range []struct {
		q    interface{ Both() units.Dual }
		want string
	}{
		{34 * units.Millimetre, "34.0 mm (1.34 in)"},
		{82 * units.Kilogram, "82.0 kg (180.8 lb)"},
		{407 * units.Newton, "407 N (91.5 lbf)"},
		{450 * units.PoundForcePerInch, "78.81 N/mm (450 lbf/in)"},
		{units.BarGauge(5.97), "5.97 bar (86.6 psi)"},
		{units.StandardAtmosphere, "101.3 kPa(a) (14.70 psia)"},
		{188 * units.Joule, "188 J (139 ft·lbf)"},
		{250 * units.CubicCentimetre, "250.0 cm³ (15.26 in³)"},
		{1000 * units.SquareMillimetre, "1000.0 mm² (1.550 in²)"},
		{2 * units.NewtonMetre, "2.0 N·m (18 lbf·in)"},
		{units.Celsius(20), "20.0 °C (68.0 °F)"},
		{690 * units.Megapascal, "690 MPa (100.1 kpsi)"},
		{64 * units.Degree, "64.00°"},
		{3.12 * units.Hertz, "3.12 Hz"},
		{7850 * units.KilogramPerCubicMetre, "7850 kg/m³"},
		{350 * units.NewtonSecondPerMetre, "350 N·s/m (2.00 lbf·s/in)"},
		{1.5 * units.Second, "1.50 s"},
		{-8.6 * units.PerMetre, "-8.60 1/m"},
	} {
		if got := test.q.Both().String(); got != test.want {
			t.Errorf("%T: %q, want %q", test.q, got, test.want)
		}
	}
}

func TestBothRoundsToNoNegativeZero(t *testing.T) {
	if got := (-0.01 * units.Millimetre).Both(); got != (units.Dual{Metric: "0.0 mm", Customary: "0.00 in"}) {
		t.Errorf("%+v", got)
	}
	// Each unit by itself: -0.05 mm are -0.002 in.
	if got := (-0.05 * units.Millimetre).Both(); got.Customary != "0.00 in" || got.Metric != "-0.1 mm" {
		t.Errorf("%+v", got)
	}
	if got := units.Percent(-0.0001); got != "0.0 %" {
		t.Errorf("%q", got)
	}
}

func TestDualSaysItsUnitOnce(t *testing.T) {
	low, high := (28.5 * units.Millimetre).Both(), (32.4 * units.Millimetre).Both()
	pitch := (2 * units.Degree).Both()
	share := units.Dual{Metric: units.Percent(0.2)}
	for _, test := range []struct{ got, want string }{
		{low.Through(high).String(), "28.5–32.4 mm (1.12–1.28 in)"},
		{high.PlusMinus((1.8 * units.Millimetre).Both()).String(), "32.4 ± 1.8 mm (1.28 ± 0.07 in)"},
		{pitch.Through((3 * units.Degree).Both()).String(), "2.00–3.00°"},
		{share.PlusMinus(units.Dual{Metric: units.Percent(0.009)}).String(), "20.0 ± 0.9 %"},
		{units.Dual{Metric: "4"}.Through(units.Dual{Metric: "6"}).String(), "4–6"},
		{units.BarGauge(-0.37).Both().Through(units.BarGauge(0.5).Both()).Metric, "-0.37–0.50 bar"},
	} {
		if test.got != test.want {
			t.Errorf("%q, want %q", test.got, test.want)
		}
	}
}

func TestSignedDual(t *testing.T) {
	for p, want := range map[units.GaugePressure]string{
		units.BarGauge(0.37):  "+0.37 bar (+5.4 psi)",
		units.BarGauge(-0.37): "-0.37 bar (-5.4 psi)",
		units.BarGauge(-1e-4): "+0.00 bar (+0.0 psi)",
	} {
		if got := p.Both().Signed().String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := (2 * units.Hertz).Both().Signed(); got != (units.Dual{Metric: "+2.00 Hz"}) {
		t.Errorf("%+v", got)
	}
}

// What is no finite number is printed as that, with its unit.
func TestBothOfNoNumber(t *testing.T) {
	if got := units.Length(math.NaN()).Both().String(); got != "NaN mm (NaN in)" {
		t.Errorf("%q", got)
	}
	if got := units.Force(math.Inf(-1)).Both().Metric; got != "-Inf N" {
		t.Errorf("%q", got)
	}
}

func ExampleDual() {
	fill := units.PSIGauge(86.6)
	fmt.Println(fill.Both())
	fmt.Println("change by", units.BarGauge(0.37).Both().Signed())
	// Output:
	// 5.97 bar (86.6 psi)
	// change by +0.37 bar (+5.4 psi)
}

func ExampleDual_CustomaryFirst() {
	fmt.Println((450 * units.PoundForcePerInch).Both().CustomaryFirst())
	fmt.Println((2.3 * units.Hertz).Both().CustomaryFirst())
	// Output:
	// 450 lbf/in (78.81 N/mm)
	// 2.30 Hz
}

func ExampleDual_Through() {
	fmt.Println((28.5 * units.Millimetre).Both().Through((32.4 * units.Millimetre).Both()))
	// Output: 28.5–32.4 mm (1.12–1.28 in)
}

func ExampleDual_PlusMinus() {
	fmt.Println(units.BarGauge(5.97).Both().PlusMinus(units.BarGauge(0.19).Both()).Metric)
	// Output: 5.97 ± 0.19 bar
}

func ExamplePercent() {
	fmt.Println(units.Percent(0.284))
	// Output: 28.4 %
}
