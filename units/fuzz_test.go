package units_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

// FuzzParse gives a text to all parsers: none panics or returns NaN, an
// infinity or a value below an absolute zero; what is refused says why, briefly;
// what is taken survives being written.
func FuzzParse(f *testing.F) {
	for _, u := range parsedUnits() {
		f.Add("46.25 " + u.spellings[0])
	}
	for _, seed := range []string{"", "46", "NaN mm", "Inf m", "-inf N", "1e999 m", "0x1p-2 mm", "1_000 N", "1,5 mm", "-300 °C", "-1 psia",
		"+.5e+1\u00a0kg", "1.7976931348623157e308 ft", "5e-324 °", "46 \xff", "−5 °C", "1e-400 K", "- 1 m", "9e18446744073709551616 m"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range quantities {
			si, err := q.parse(text)
			same, unmarshalErr := q.unmarshal(1, []byte(text))
			if (err == nil) != (unmarshalErr == nil) || err == nil && same != si {
				t.Errorf("%s %q: parsed %v, %v; unmarshalled %v, %v", q.name, text, si, err, same, unmarshalErr)
			}
			if err != nil {
				p, ok := errors.AsType[*units.ParseError](err)
				if !ok || si != 0 || len(p.Error()) > 1000 || p.Reason == "" || p.Want == "" {
					t.Errorf("%s %q = %v, %v", q.name, text, si, err)
				}
				if p.Class != units.ErrSyntax && p.Class != units.ErrUnit && p.Class != units.ErrRange {
					t.Errorf("%s %q: class %v", q.name, text, p.Class)
				}
				continue
			}
			if math.IsNaN(si) || math.IsInf(si, 0) || q.floor && si < 0 {
				t.Errorf("%s %q = %v", q.name, text, si)
			}
			roundTrip(t, q, si)
		}
	})
}

// FuzzText writes any bits as each quantity and reads them back.
func FuzzText(f *testing.F) {
	for _, v := range awkward() {
		f.Add(math.Float64bits(v))
	}
	f.Add(math.Float64bits(math.NaN()))
	f.Add(math.Float64bits(math.Inf(-1)))
	f.Fuzz(func(t *testing.T, bits uint64) {
		for _, q := range quantities {
			roundTrip(t, q, math.Float64frombits(bits))
		}
	})
}

// FuzzFormat prints any bits in any verb, width and precision: the unit is there.
func FuzzFormat(f *testing.F) {
	f.Add(math.Float64bits(0.046), "+", 'v', int16(12), int16(3))
	f.Add(math.Float64bits(-0.046), "0", 'f', int16(20), int16(0))
	f.Add(math.Float64bits(math.NaN()), "-# 0", 'e', int16(-1), int16(-1))
	f.Add(uint64(1), "", '☃', int16(2), int16(300))
	f.Fuzz(func(t *testing.T, bits uint64, flags string, verb rune, width, precision int16) {
		format := "%"
		for _, flag := range "+-# 0" {
			if strings.ContainsRune(flags, flag) {
				format += string(flag)
			}
		}
		if width >= 0 {
			format += fmt.Sprint(width % 500)
		}
		if precision >= 0 {
			format += fmt.Sprintf(".%d", precision%500)
		}
		if strings.ContainsRune("+-# 0123456789.*[%Tpw", verb) || verb == '\ufffd' || verb < ' ' {
			verb = 'v' // what package fmt answers itself
		}
		format += string(verb)
		for _, q := range quantities {
			got := fmt.Sprintf(format, q.of(math.Float64frombits(bits)))
			if !strings.Contains(got, q.symbol) && !strings.Contains(got, "units."+q.name+"(") {
				t.Errorf("%s %q prints %q, with no unit", q.name, format, got)
			}
			if width >= 0 && len([]rune(got)) < int(width%500) && !strings.HasPrefix(got, "%!") && !strings.HasPrefix(got, "units.") {
				t.Errorf("%s %q prints %q, too narrow", q.name, format, got)
			}
		}
	})
}
