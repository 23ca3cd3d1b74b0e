package units_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

// What just is no number any more, and what just is one.
func TestNumbersCutShort(t *testing.T) {
	for text, class := range map[string]error{
		"": units.ErrSyntax, "+": units.ErrSyntax, "-": units.ErrSyntax, ".": units.ErrSyntax, "+.": units.ErrSyntax, "-.mm": units.ErrSyntax,
		"e5 mm": units.ErrSyntax, ":": units.ErrSyntax, "/ mm": units.ErrSyntax,
		"1e": units.ErrUnit, "1e+": units.ErrUnit, "1E-": units.ErrUnit, "1e mm": units.ErrUnit, "1e5": units.ErrUnit,
		"1: mm": units.ErrUnit, "1.5: mm": units.ErrUnit, "1e5: mm": units.ErrUnit, "1/ mm": units.ErrUnit, "1./ mm": units.ErrUnit, "1e5/ mm": units.ErrUnit,
		"1,5": units.ErrSyntax, "1,": units.ErrSyntax,
		"-1e308 kN": units.ErrRange,
	} {
		parse := quantityNamed(t, "Length").parse
		if strings.HasSuffix(text, "kN") {
			parse = quantityNamed(t, "Force").parse
		}
		if v, err := parse(text); !errors.Is(err, class) {
			t.Errorf("%q is %v, %v; want %v", text, v, err, class)
		}
	}
	if _, err := quantityNamed(t, "Force").parse("-1e308 kN"); err == nil || !strings.Contains(err.Error(), "number too large") {
		t.Errorf("got %v", err)
	}
	for text, mm := range map[string]float64{"9. mm": 9, ".9 mm": 0.9, "+9e0 mm": 9, "0.0e+09 mm": 0, "-09e-0 mm": -9, "1e1mm": 10} {
		if v, err := quantityNamed(t, "Length").parse(text); err != nil || v != mm*0.001 {
			t.Errorf("%q is %v m, %v; want %v mm", text, v, err, mm)
		}
	}
}

// An input of 64 bytes is told whole, one of 65 is cut.
func TestWhereAnInputIsCut(t *testing.T) {
	for _, n := range []int{63, 64, 65} {
		text := strings.Repeat("x", n)
		want := text
		if n > 64 {
			want = text[:64] + "…"
		}
		var e *units.ParseError
		if _, err := quantityNamed(t, "Length").parse(text); !errors.As(err, &e) || e.Input != want {
			t.Errorf("%d bytes are told as %q", n, e.Input)
		}
		f := units.FieldError{Field: "note", Value: text, Want: "less"}
		if got, want := f.Error(), fmt.Sprintf("note %q: want less", want); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	for more := range 2 {
		of := func(n int) (text, want string) {
			text = strings.Repeat("x", n+more)
			return text, text[:n] + strings.Repeat("…", more)
		}
		field, path := of(256)
		value, shown := of(64)
		want, wanted := of(1024)
		line := fmt.Sprintf("job: %s %q: want %s", path, shown, wanted)
		if got := (&units.FieldError{Package: "job", Field: field, Value: value, Want: want}).Error(); got != line {
			t.Errorf("got %s\nwant %s", got, line)
		}
		c := units.Checker{Package: "job"}
		c.Fail(field, value, want, nil)
		f := units.Fields(c.Err())[0]
		if f.Field != path || f.Value != shown || f.Want != wanted {
			t.Errorf("a Checker keeps %v", f)
		}
	}
	// A character of two, three or four bytes is kept whole or left out.
	for _, c := range []string{"é", "€", "😀"} {
		for from := 60; from <= 64; from++ {
			want := strings.Repeat("x", from)
			if from+len(c) <= 64 {
				want += c
			}
			text := strings.Repeat("x", from) + c + strings.Repeat("y", 9)
			var e *units.ParseError
			_, err := quantityNamed(t, "Length").parse(text)
			if !errors.As(err, &e) {
				t.Fatal(err)
			}
			got := strings.TrimRight(strings.TrimSuffix(e.Input, "…"), "y")
			if got != want || len(strings.TrimSuffix(e.Input, "…")) > 64 {
				t.Errorf("%q at %d is cut to %q", c, from, e.Input)
			}
		}
	}
}

// What can't be written as text says why, with the value as it would be printed.
func TestRefusedTexts(t *testing.T) {
	for want, err := range map[string]error{
		`units: length "NaN mm": want a finite value to write as text`:                                             refusal(units.Length(math.NaN())),
		`units: length "+Inf mm": want a finite value to write as text`:                                            refusal(units.Length(math.Inf(1))),
		`units: absolute pressure "-5 kPa(a)": want a finite value, 0 or more, to write as text`:                   refusal(units.AbsolutePressure(-5000)),
		`units: absolute pressure "-0.00123456789012345 kPa(a)": want a finite value, 0 or more, to write as text`: refusal(units.AbsolutePressure(-1.23456789012345)),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("got %v\nwant %s", err, want)
		}
	}
}

func refusal(v interface{ MarshalText() ([]byte, error) }) error {
	_, err := v.MarshalText()
	return err
}

// Signs, zeros and widths are those of fmt for the number alone; a width counts
// the unit too.
func TestFlagsAsForNumbers(t *testing.T) {
	for _, number := range []float64{0, 0.5, 5, -5, 12345.5, -0.25, math.Inf(1), math.Inf(-1)} {
		for _, flags := range []string{"", "+", " ", "0", "+0", "+ ", "-", "-+"} {
			for _, width := range []int{3, 4, 9, 12} {
				want := fmt.Sprintf(fmt.Sprintf("%%%s%d.2f", flags, width-3), number) + " mm"
				if strings.HasPrefix(flags, "-") { // what fills up stands behind the unit
					want = fmt.Sprintf("%-*s", width, fmt.Sprintf("%"+flags[1:]+".2f mm", number))
				}
				verb := fmt.Sprintf("%%%s%d.2f", flags, width)
				if got := fmt.Sprintf(verb, units.Length(number)*units.Millimetre); got != want {
					t.Errorf("%s of %v mm is %q, want %q", verb, number, got, want)
				}
			}
		}
	}
}

// 273.15 K and a hundredth of a degree are known to 3e-14 K: what the subtraction
// of 273.15 leaves behind is not shown.
func TestHundredthsOfDegrees(t *testing.T) {
	for i := -2500; i <= 2500; i++ {
		want := strconv.FormatFloat(float64(i)/100, 'f', -1, 64) + " °C"
		if got := units.Celsius(float64(i) / 100).String(); got != want {
			t.Errorf("%s is printed as %s", want, got)
		}
	}
}

// Degrees are printed to 12 decimals or 15 digits, whichever is less.
func TestDigitsOfDegrees(t *testing.T) {
	random := rand.New(rand.NewPCG(20, 26))
	for decade := -11; decade <= 6; decade++ {
		for range 50 {
			sign := math.Copysign(1, random.Float64()-0.5)
			number := units.Celsius(sign * (1 + 9*random.Float64()) * math.Pow10(decade)).Celsius()
			if number < -273 {
				continue
			}
			want := strconv.FormatFloat(number, 'f', 12, 64)
			if math.Abs(number) >= 1000 {
				want = strconv.FormatFloat(number, 'g', 15, 64)
			}
			text := strings.TrimSuffix(units.Celsius(number).String(), " °C")
			got, err := strconv.ParseFloat(text, 64)
			if exact, _ := strconv.ParseFloat(want, 64); err != nil || got != exact {
				t.Errorf("%v °C is printed as %s, want %s", number, text, want)
			}
		}
	}
	for number, want := range map[float64]string{0: "0 °C", 100: "100 °C", 10: "10 °C", 1: "1 °C", 0.1: "0.1 °C", -100: "-100 °C"} {
		if got := units.Celsius(number).String(); got != want {
			t.Errorf("%v °C is printed as %s", number, got)
		}
	}
}

// A line of 74 columns is kept, with what separates it from the next; a word
// more makes a new line.
func TestStepFillsItsLines(t *testing.T) {
	for length := 10; length <= 80; length++ {
		value := units.Value{Symbol: strings.Repeat("k", length), Quantity: 1.5}
		s := units.Step{Name: "n", Formula: "f", Source: "s", Given: []units.Value{value, value}, Result: value}
		one := 4 + length + len(" = 1.5")
		both := one + len("; ") + length + len(" = 1.5")
		// Further values may follow, so that room for ";" is kept in every line.
		if got, want := strings.Contains(s.String(), "1.5; k"), both+1 <= 74; got != want {
			t.Errorf("two values of %d columns, %d in all, on one line: %v, want %v", length, both, got, want)
		}
	}
	for length := 60; length <= 80; length++ {
		word := strings.Repeat("w", length)
		s := units.Step{Name: "n", Formula: "f", Source: word + " s"}
		if got, want := strings.Contains(s.String(), "["+word+" s]"), 2+1+length+3 <= 74; got != want {
			t.Errorf("a word of %d columns and two more on one line: %v, want %v", length, got, want)
		}
	}
}

// Lines are told up to 4096 bytes, the first of them always, and none once one
// was left out.
func TestWhereAListOfFaultsEnds(t *testing.T) {
	for _, row := range []struct {
		lines []int // bytes in each
		told  int
	}{
		{[]int{2000, 2095}, 2}, // with the end of a line between them, 4096
		{[]int{2000, 2096}, 1},
		{[]int{2000, 2096, 1}, 1},
		{[]int{4094, 1, 1}, 2},
		{[]int{5000}, 1},
		{[]int{5000, 1}, 1},
		{[]int{1, 5000, 1, 1}, 1},
		{[]int{100, 100, 3000, 2000, 100}, 3},
	} {
		c := units.Checker{}
		var want []string
		for i, n := range row.lines {
			line := strings.Repeat(strconv.Itoa(i), n)
			c.Add("", errors.New(line))
			if i < row.told {
				want = append(want, line)
			}
		}
		if left := len(row.lines) - row.told; left > 0 {
			want = append(want, fmt.Sprintf("and %d more", left))
		}
		if got := c.Err().Error(); got != strings.Join(want, "\n") {
			t.Errorf("lines of %v bytes: %d bytes, ending in %q", row.lines, len(got), got[max(len(got)-20, 0):])
		}
	}
}
