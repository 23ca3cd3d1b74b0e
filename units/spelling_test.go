package units_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

// spellings are what people write besides the symbols, and the symbol that each means. That
// "lb/in" and "kg/mm" of a spring mean forces is common practice in the trade.
var spellings = map[string]map[string]string{
	"Length": {"MM": "mm", "CM": "cm", "IN": "in", "In": "in", "inch": "in", "inches": "in", "Inches": "in", `"`: "in", "″": "in", "FT": "ft", "foot": "ft", "feet": "ft"},
	"Area":   {"mm^2": "mm²", "MM2": "mm²", "MM²": "mm²", "cm^2": "cm²", "sq in": "in²", "SQ IN": "in²", "in^2": "in²", "IN2": "in²"},
	"Volume": {"CC": "cm³", "ccm": "cm³", "cm^3": "cm³", "CM3": "cm³", "mm^3": "mm³", "mL": "ml", "L": "l", "litres": "l", "Liter": "l", "cu in": "in³", "in^3": "in³"},
	"Mass": {"KG": "kg", "Kg": "kg", "kgs": "kg", "KGS": "kg", "kilo": "kg", "kilos": "kg", "grams": "g", "lbs": "lb", "LBS": "lb", "Lbs": "lb", "LB": "lb",
		"lbm": "lb", "pounds": "lb", "OZ": "oz", "ounces": "oz"},
	"Force": {"KN": "kN", "LBF": "lbf", "lbsf": "lbf", "KGF": "kgf"},
	"Stiffness": {"lb/in": "lbf/in", "lbs/in": "lbf/in", "LBS/IN": "lbf/in", "Lbs/In": "lbf/in", "LBF/IN": "lbf/in", "lb/inch": "lbf/in", "lbs / inch": "lbf/in",
		"lbf / in": "lbf/in", "lb /in": "lbf/in", "N/MM": "N/mm", "n/mm": "N/mm", "N / mm": "N/mm", "N / m": "N/m", "kg/mm": "kgf/mm", "KG/MM": "kgf/mm"},
	"GaugePressure":    {"PSI": "psi", "Psi": "psi", "PSIG": "psi", "psi(g)": "psi", "Bar": "bar", "BAR": "bar", "bars": "bar", "Bar(g)": "bar", "kpa": "kPa(g)", "KPa": "kPa(g)", "KPA": "kPa(g)"},
	"AbsolutePressure": {"PSIA": "psia", "psi(a)": "psia", "bara": "bar(a)", "Bar(a)": "bar(a)", "BAR(A)": "bar(a)", "kpa(a)": "kPa(a)", "KPA(A)": "kPa(a)", "ATM(a)": "atm(a)"},
	"Stress":           {"Mpa": "MPa", "N/mm²": "MPa", "N/mm2": "MPa", "N / mm²": "MPa", "kpa": "kPa", "KPA": "kPa", "Gpa": "GPa", "GPA": "GPa", "PSI": "psi", "ksi": "kpsi", "KSI": "kpsi", "KPSI": "kpsi", "Msi": "Mpsi"},
	"Damping":          {"Ns/m": "N·s/m", "N*s/m": "N·s/m", "Ns/mm": "N·s/mm", "N*s/mm": "N·s/mm", "lbf*s/in": "lbf·s/in", "lb·s/in": "lbf·s/in", "lb s/in": "lbf·s/in", "N·s / m": "N·s/m"},
	"Torque":           {"Nm": "N·m", "N*m": "N·m", "N-m": "N·m"},
	"Energy":           {"KJ": "kJ"},
	"Temperature": {"C": "°C", "ºC": "°C", "℃": "°C", "°c": "°C", "° C": "°C", "deg C": "°C", "celsius": "°C", "Celsius": "°C",
		"F": "°F", "ºF": "°F", "℉": "°F", "° F": "°F", "deg F": "°F", "Fahrenheit": "°F"},
	"Angle":     {"º": "°", "Deg": "°", "DEG": "°", "degree": "°", "degrees": "°"},
	"Frequency": {"hz": "Hz", "HZ": "Hz"},
	"Density":   {"kg/m^3": "kg/m³", "g/cm^3": "g/cm³", "g/cc": "g/cm³", "kg / m³": "kg/m³"},
	"Time":      {"sec": "s", "secs": "s", "Sec": "s", "seconds": "s", "msec": "ms"},
}

// A spelling that people use parses to the very bits of its symbol. Read by symbols alone it is
// refused, with the symbol to ask for where that is near.
func TestSpellings(t *testing.T) {
	for quantity, list := range spellings {
		q := quantityNamed(t, quantity)
		for spelling, symbol := range list {
			for _, number := range []string{"46", "46.25 ", "1e-3\u00a0", "+7\t"} {
				want, err := q.parse(number + " " + symbol)
				got, spelledErr := q.parse(number + spelling)
				if err != nil || spelledErr != nil || math.Float64bits(got) != math.Float64bits(want) {
					t.Errorf("%s %q = %v, %v, and %q is %v, %v", quantity, number+spelling, got, spelledErr, symbol, want, err)
				}
			}
			if err := q.exact("46 " + symbol); err != nil {
				t.Errorf("%s: %v", quantity, err)
			}
			p, ok := errors.AsType[*units.ParseError](q.exact("46 " + spelling))
			if !ok || p.Class != units.ErrUnit {
				t.Errorf("%s %q by symbols alone: %v", quantity, spelling, p)
			}
		}
	}
	if err := units.Exact("a text", "46 MM"); err != nil {
		t.Error(err)
	}
}

// What a spelling means in one quantity, no symbol means in another, except that a pound or a
// kilogram in a spring's rate is a force. No letter case of a unit is taken that could be another
// prefix.
func TestSpellingsAreUnambiguous(t *testing.T) {
	for quantity, list := range spellings {
		for spelling := range list {
			for _, other := range quantities {
				if other.name != quantity && other.exact("46 "+spelling) == nil {
					t.Errorf("%q is a %s, and a symbol of %s", spelling, quantity, other.name)
				}
			}
		}
	}
	for _, u := range parsedUnits() {
		q := quantityNamed(t, u.quantity)
		want, _ := q.parse("46 " + u.spellings[0])
		for _, symbol := range u.spellings {
			for _, variant := range []string{strings.ToLower(symbol), strings.ToUpper(symbol), strings.ToUpper(symbol[:1]) + symbol[1:]} {
				if got, err := q.parse("46 " + variant); err == nil && got != want {
					t.Errorf("%s: %q is taken for another unit than %q", u.quantity, variant, symbol)
				}
			}
		}
	}
	for quantity, list := range map[string]string{
		"Length": "M Mm mM Cm", "Volume": "ML Ml", "Mass": "G mg Mg MG kG_ gr", "Force": "n kn MN lb kg", "Stress": "mPa mpa MPA mpsi MPSI",
		"Temperature": "k c f", "Time": "S Ms MS", "Energy": "j kj mJ MJ", "GaugePressure": "MPa mPa psia", "Damping": "lbs/in lb/in", "Torque": "nm NM ft·lbf lb",
	} {
		for _, symbol := range strings.Fields(list) {
			if got, err := quantityNamed(t, quantity).parse("46 " + symbol); err == nil {
				t.Errorf("%s: 46 %s is %v", quantity, symbol, got)
			}
		}
	}
}

// What may have been meant is asked for, each of it parses, and nothing is asked where nothing is
// near.
func TestParseErrorsAskWhatWasMeant(t *testing.T) {
	for _, test := range []struct {
		quantity, text string
		meant          []string
	}{
		{"Mass", "82", []string{"82 kg", "82 lb"}},
		{"Stiffness", " 450. ", []string{"450. N/mm", "450. lbf/in"}},
		{"GaugePressure", "72", []string{"72 bar", "72 psi"}},
		{"Temperature", "20", []string{"20 °C", "20 °F"}},
		{"Angle", "64", []string{"64°"}},
		{"Time", "5", []string{"5 s"}},
		{"Mass", strings.Repeat("8", 40), nil},
		{"Stiffness", "450 lbf/ni", []string{"450 lbf/in"}},
		{"Stiffness", "450 lbss/in", []string{"450 lbf/in"}},
		{"Stiffness", "450 N", nil}, // a unit of force
		{"Length", "46 mmm", []string{"46 mm"}},
		{"Length", "46 milli", nil},
		{"Length", "46 furlongs", nil},
		{"AbsolutePressure", "72 psi", nil},
		{"Length", "1,5 mm", []string{"1.5 mm"}},
		{"Length", "1,500 MM", []string{"1.500 mm", "1500 mm"}},
		{"Length", "1,500,000 mm", nil},
		{"Length", "1,5", nil},
		{"Length", "1, mm", nil},
	} {
		_, err := quantityNamed(t, test.quantity).parse(test.text)
		p, ok := errors.AsType[*units.ParseError](err)
		if !ok {
			t.Errorf("%s %q: %v", test.quantity, test.text, err)
			continue
		}
		if diff := cmp.Diff(test.meant, p.Meant); diff != "" {
			t.Errorf("%s %q (-want +got):\n%s", test.quantity, test.text, diff)
		}
		for _, text := range p.Meant {
			if _, err := quantityNamed(t, test.quantity).parse(text); err != nil || !strings.Contains(p.Error(), text) {
				t.Errorf("%v: asks for %q, %v", p, text, err)
			}
		}
		if (p.Ask() == "") != (len(p.Meant) == 0) {
			t.Errorf("asks %q", p.Ask())
		}
	}
}

// Nearest agrees with a recursion on prefixes, which is the definition of the distance written out.
func TestNearestHasTheLeastDistance(t *testing.T) {
	var distance func(a, b string) int
	distance = func(a, b string) int {
		if a == "" || b == "" {
			return len(a) + len(b)
		}
		i, j, differs := len(a)-1, len(b)-1, 1
		if a[i] == b[j] {
			differs = 0
		}
		d := min(distance(a[:i], b)+1, distance(a, b[:j])+1, distance(a[:i], b[:j])+differs)
		if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
			d = min(d, distance(a[:i-1], b[:j-1])+1)
		}
		return d
	}
	var words []string
	for n := range 3 * 3 * 3 * 3 * 3 {
		word := ""
		for ; n > 0; n /= 3 {
			word += string("abc"[n%3])
		}
		words = append(words, word)
	}
	for _, name := range words {
		if len(name) < 3 {
			continue
		}
		for _, list := range [][]string{words[200:204], words[100:103], {"abcab"}, {"cb", "abcb"}} {
			want := slices.IndexFunc(list, func(w string) bool {
				d := distance(name, w)
				return d <= max(len(name), len(w))/3 && !slices.ContainsFunc(list, func(o string) bool {
					return distance(name, o) < d && distance(name, o) <= max(len(name), len(o))/3
				})
			})
			if begun := slices.DeleteFunc(slices.Clone(list), func(w string) bool { return w == name || !strings.HasPrefix(w, name) }); want < 0 && len(begun) == 1 {
				want = slices.Index(list, begun[0])
			}
			got, found := units.Nearest(name, list)
			if found != (want >= 0) || found && got != list[want] {
				t.Errorf("nearest to %s of %v is %q, want number %d", name, list, got, want)
			}
		}
	}
	for name, want := range map[string]string{"bike": "bike_mass", "RIDER": "rider_mass", "rid": "rider_mass", "ri": "", "front": "", "front_": "", "mass": ""} {
		if got, ok := units.Nearest(name, []string{"bike_mass", "rider_mass", "front_scale", "front_wheel"}); got != want || ok != (want != "") {
			t.Errorf("nearest to %s is %q", name, got)
		}
	}
	if got, ok := units.Nearest(strings.Repeat("x", 65), []string{strings.Repeat("x", 64)}); ok {
		t.Errorf("%q for a name of 65 bytes", got)
	}
	if got, _ := units.Nearest("RIDER_MAS", []string{"bike_mass", "rider_mass"}); got != "rider_mass" {
		t.Errorf("%q", got)
	}
}

func ExampleNearest() {
	fmt.Println(units.Nearest("rider_mas", []string{"bike_mass", "rider_mass"}))
	fmt.Println(units.Nearest("saddle", []string{"bike_mass", "rider_mass"}))
	// Output:
	// rider_mass true
	//  false
}

func ExampleExact() {
	rate, err := units.Parse[units.Stiffness]("450 lb/in")
	fmt.Println(rate.Both(), err)
	fmt.Println(units.Exact(rate, "450 lb/in"))
	// Output:
	// 78.81 N/mm (450 lbf/in) <nil>
	// units: stiffness "450 lb/in": unknown unit "lb/in"; 450 lbf/in? (want a number and one of N/mm, N/m, lbf/in, kgf/mm)
}
