package units_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

func TestMessagesHaveTheDigitsTheyNeed(t *testing.T) {
	for _, test := range []struct {
		value       any
		want        string
		shown, told string
	}{
		// Without a limit near it, four.
		{units.Volume(0.117926031610361), "a finite value", "117900 cm³", "a finite value"},
		{150 * units.CubicCentimetre, "more than the 162.860163162095 cm³ that the travel sweeps", "150 cm³", "more than the 162.9 cm³ that the travel sweeps"},
		{450 * units.PoundForcePerInch, "more than the rate before it, 87.5634176232382 N/mm", "78.81 N/mm", "more than the rate before it, 87.56 N/mm"},
		{-1.0 / 3, "from 0.001 to 1000", "-0.3333", "from 0.001 to 1000"},
		{nil, "less than the travel, 57.1234567 mm", "", "less than the travel, 57.12 mm"},
		{1.0 / 3e7, "more", "3.333e-08", "more"},
		{units.Angle(1.0 / 3), "less than 12.3456789°, from the axle", "19.1°", "less than 12.35°, from the axle"},
		// What a person gives stays.
		{46.12 * units.Millimetre, "less than 40.25 mm", "46.12 mm", "less than 40.25 mm"},
		{123456 * units.Kilogram, "less", "123456 kg", "less"},
		{12.3456 * units.Kilogram, "less", "12.3456 kg", "less"},
		{"117926.031610361 cm", "117926.031610361 cm³ or 1.79769313486232 l?", "117926.031610361 cm", "117926.031610361 cm³ or 1.79769313486232 l?"},
		{1048577, "at most 1048576 bytes", "1048577", "at most 1048576 bytes"},
		{[]float64{1.23456789, 2}, "one number", "[1.23456789 2]", "one number"},
		// As many as show the side.
		{162.87 * units.CubicCentimetre, "less than 162.860163162095 cm³", "162.87 cm³", "less than 162.86 cm³"},
		{162.86 * units.CubicCentimetre, "more than 162.860163162095 cm³", "162.86 cm³", "more than 162.9 cm³"},
		{1.00000001, "at most 1", "1.00000001", "at most 1"},
		{0.999999987654321, "1 or more", "0.99999999", "1 or more"},
		{1000.0000123 * 1e5 * units.GaugePressure(1), "up to 1000 bar", "100000.001 kPa(g)", "up to 1000 bar"},
		{57.1234567 * units.Millimetre, "less than 57.1234567 mm", "57.12 mm", "less than 57.12 mm"},
		{57.1234567 * units.Millimetre, "less than 57.123456 mm, or more than 57.1299999 mm", "57.123457 mm", "less than 57.123456 mm, or more than 57.13 mm"},
		// A limit of another kind needs none.
		{57.1234567 * units.Millimetre, "less with 57.1234568 mm² or 57.1234568 N", "57.12 mm", "less with 57.12 mm² or 57.12 N"},
		// A name is not a number.
		{nil, `nothing beside "x 1.23456789", m1.23456789, m_1.23456789, 1.23456789x, 1.2.3456789 and 2026-11-2.7123456`, "", `nothing beside "x 1.23456789", m1.23456789, m_1.23456789, 1.23456789x, 1.2.3456789 and 2026-11-2.7123456`},
		{nil, `less than 1.23456789, é1.23456789 and "an open 1.23456789`, "", `less than 1.235, é1.23456789 and "an open 1.23456789`},
		{1.0 / 3, "less than 0x1.8999999p3 or 1.23456789e999", "0.3333", "less than 0x1.8999999p3 or 1.23456789e999"},
		{1e100 / 3 * units.Millimetre, "less than 2.5 in (57.1234567 mm)", "3.333e+99 mm", "less than 2.5 in (57.12 mm)"},
		{units.Length(math.NaN()), "more than 1.23456789 m", "NaN mm", "more than 1.23456789 m"},
	} {
		err := units.FieldError{Field: "x", Value: test.value, Want: test.want}
		if value, want := err.Texts(); value != test.shown || want != test.told {
			t.Errorf("%v, want %s: got %q and %q, want %q and %q", test.value, test.want, value, want, test.shown, test.told)
		}
		if text := err.Error(); !strings.HasSuffix(text, ": want "+test.told) || !strings.Contains(text, test.shown) {
			t.Errorf("the error of %q and %q is %q", test.shown, test.told, text)
		}
	}
}

// However near a value is to a limit, its text is on the same side of the limit's.
func TestMessagesShowTheSideOfALimit(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 12))
	for range 20_000 {
		limit := math.Exp(random.Float64()*20 - 10)
		distance := math.Pow(10, -1-random.Float64()*12)
		value := limit * (1 + distance*(2*random.Float64()-1))
		var exact, bound units.Length
		parse := func(text string, into *units.Length) float64 {
			if err := into.UnmarshalText([]byte(text)); err != nil {
				t.Fatal(err)
			}
			return float64(*into)
		}
		given, wanted := units.Length(value).String(), units.Length(limit).String()
		before := cmp.Compare(parse(given, &exact), parse(wanted, &bound))
		shown, told := (&units.FieldError{Value: units.Length(value), Want: "less than " + wanted + ", the travel"}).Texts()
		told = strings.TrimSuffix(strings.TrimPrefix(told, "less than "), ", the travel")
		if after := cmp.Compare(parse(shown, &exact), parse(told, &bound)); before != after {
			t.Fatalf("%s beside %s is shown as %s beside %s", given, wanted, shown, told)
		}
		if math.Abs(value-limit) > 2e-3*limit && (len(digitsOf(shown)) > 4 || len(digitsOf(told)) > 4) {
			t.Fatalf("%s beside %s is shown as %s beside %s", given, wanted, shown, told)
		}
	}
}

// digitsOf returns the significant digits of a quantity's number.
func digitsOf(text string) string {
	number, _, _ := strings.Cut(text, " ")
	mantissa, _, _ := strings.Cut(number, "e")
	digits := strings.TrimLeft(strings.ReplaceAll(mantissa, ".", ""), "0")
	return strings.TrimRight(digits, "0")
}

func ExampleFieldError_Texts() {
	var c units.Checker
	c.Fail("positive_volume", 2.5*units.CubicInch, "more than what the travel sweeps, "+fmt.Sprint(units.CubicInch*2.500001), nil)
	value, want := units.Fields(c.Err())[0].Texts()
	fmt.Println(value, "| want", want)
	// Output: 40.96766 cm³ | want more than what the travel sweeps, 40.96768 cm³
}
