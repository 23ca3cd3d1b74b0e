package units_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

func TestMessagesHaveTheDigitsTheyNeed(t *testing.T) {
	cm3 := func(v float64) units.Volume { return units.Volume(v) * units.CubicCentimetre }
	for _, test := range []struct {
		value       any
		want        units.Want
		shown, told string
	}{
		// Without a limit near it, four.
		{units.Volume(0.117926031610361), units.Want{Text: "a finite value"}, "117900 cm³", "a finite value"},
		{cm3(150), units.MoreThan(cm3(162.860163162095)).Of("swept"), "150 cm³", "more than swept 162.9 cm³"},
		{450 * units.PoundForcePerInch, units.MoreThan(500 * units.PoundForcePerInch), "78.81 N/mm", "more than 87.56 N/mm"},
		{-1.0 / 3, units.From(0.001, 1000), "-0.3333", "from 0.001 to 1000"},
		{nil, units.LessThan(57.1234567 * mm), "", "less than 57.12 mm"},
		{1.0 / 3e7, units.MoreThan(1), "3.333e-08", "more than 1"},
		{units.Angle(1.0 / 3), units.LessThan(12.3456789 * units.Degree).With("from the axle"), "19.1°", "less than 12.35°, from the axle"},
		// What a person gives stays.
		{46.12 * mm, units.LessThan(40.25 * mm), "46.12 mm", "less than 40.25 mm"},
		{123456 * units.Kilogram, units.LessThan(1 * units.Kilogram), "123456 kg", "less than 1 kg"},
		{12.3456 * units.Kilogram, units.LessThan(1 * units.Kilogram), "12.3456 kg", "less than 1 kg"},
		{"117926.031610361 cm", units.Want{Text: "1.79769313486232 l?"}, "117926.031610361 cm", "1.79769313486232 l?"},
		{json.Number("117926.031610361"), units.AtMost(1), "117900", "at most 1"},
		{1048577, units.AtMost(1048576).Count("bytes"), "1048577", "at most 1048576 bytes"},
		{[]float64{1.23456789, 2}, units.Exactly(1).Count("number"), "[1.23456789 2]", "exactly 1 number"},
		// As many as show the side.
		{cm3(162.87), units.LessThan(cm3(162.860163162095)), "162.87 cm³", "less than 162.86 cm³"},
		{cm3(162.86), units.MoreThan(cm3(162.860163162095)), "162.86 cm³", "more than 162.9 cm³"},
		{1.00000001, units.AtMost(1), "1.00000001", "at most 1"},
		{0.999999987654321, units.AtLeast(1), "0.99999999", "1 or more"},
		{57.1234567 * mm, units.LessThan(57.1234567 * mm), "57.12 mm", "less than 57.12 mm"},
		{57.1234567 * mm, units.From(57.1299999*mm, 57.123456*mm), "57.123457 mm", "from 57.13 mm to 57.123456 mm"},
		// A limit in another unit needs none.
		{57.1234567 * mm, units.LessThan(57.1234568 * units.Newton), "57.12 mm", "less than 57.12 N"},
		{1e100 / 3 * mm, units.LessThan(57.1234567 * mm), "3.333e+99 mm", "less than 57.12 mm"},
		{units.Length(math.NaN()), units.MoreThan(1.23456789 * mm), "NaN mm", "more than 1.235 mm"},
		{math.Inf(-1), units.MoreThan(math.NaN()), "-Inf", "more than NaN"},
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
		shown, told := (&units.FieldError{Value: units.Length(value), Want: units.LessThan(units.Length(limit))}).Texts()
		told = strings.TrimPrefix(told, "less than ")
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
	c.Fail("positive_volume", 2.5*units.CubicInch, units.MoreThan(units.CubicInch*2.500001).Of("swept_volume"), nil)
	value, want := units.Fields(c.Err())[0].Texts()
	fmt.Println(value, "| want", want)
	// Output: 40.96766 cm³ | want more than swept_volume 40.96768 cm³
}
