package units_test

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// anyNumber draws a number of any magnitude that occurs, of either sign, round
// now and then.
func anyNumber(random *rand.Rand) float64 {
	n := math.Pow(10, 18*random.Float64()-9)
	if random.IntN(3) == 0 {
		n, _ = strconv.ParseFloat(strconv.FormatFloat(n, 'g', 1+random.IntN(4), 64), 64)
	}
	if random.IntN(4) == 0 {
		n = -n
	}
	return n
}

// parsedUnits are the units that text may have.
func parsedUnits() []unit {
	return slices.DeleteFunc(slices.Clone(allUnits), func(u unit) bool { return u.spellings == nil })
}

// A number and any spelling of any unit parses to the very bits that the typed
// constant or the function makes. These are those of the exact definition to within
// the rounding of the factor, the sum with a zero of its own, and the product. A
// larger number gives no less.
func TestEveryUnitTimesItsConstant(t *testing.T) {
	listed := map[string][]string{}
	for i, u := range parsedUnits() {
		q := quantityNamed(t, u.quantity)
		listed[u.quantity] = append(listed[u.quantity], u.spellings[0])
		texts := []string{"1", "0", "0.1", "7", "46", "450", "1013.25", "2.54e1", "1E+6", "+8", ".5", "3.", "-12.75",
			"9.", "+9e0", "0.0e+09", "-09e-0", "1e1"}
		random := rand.New(rand.NewPCG(501, uint64(i)))
		for range 500 {
			texts = append(texts, strconv.FormatFloat(anyNumber(random), 'g', -1, 64))
		}
		before, last := math.Inf(-1), math.Inf(-1)
		for _, text := range texts {
			number, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			exact := new(big.Rat).SetFloat64(number)
			if u.zero != nil {
				exact.Add(exact, u.zero)
			}
			exact.Mul(exact, u.scale)
			want := u.make(number)
			for _, symbol := range u.spellings {
				got, err := q.parse(text + " " + symbol)
				if q.floor && want < 0 {
					if !errors.Is(err, units.ErrRange) {
						t.Errorf("seed 501, %d: %s %s %s = %v, %v, below its floor", i, u.quantity, text, symbol, got, err)
					}
					continue
				}
				if err != nil || math.Float64bits(got) != math.Float64bits(want) {
					t.Errorf("seed 501, %d: %s %s %s = %.17g, %v, the constant makes %.17g", i, u.quantity, text, symbol, got, err, want)
				}
				off := new(big.Rat).Sub(new(big.Rat).SetFloat64(got), exact)
				if miss, _ := off.Abs(off).Float64(); miss > 3*0x1p-53*u.size(number) || text == "1" && u.zero == nil && miss > 0x1p-53*want {
					t.Errorf("seed 501, %d: %s %s %s = %.17g, off by %g", i, u.quantity, text, symbol, got, miss)
				}
				if number >= before && got < last || number <= before && got > last && !math.IsInf(last, -1) {
					t.Errorf("seed 501, %d: %s %s %s = %v, and %v was %v", i, u.quantity, text, symbol, got, before, last)
				}
				before, last = number, got
			}
		}
		for _, symbol := range u.spellings {
			for _, text := range []string{"46#", " 46 #\n", "46\t#", "46\u00a0#", "46\u202f#", "46  #", "4.6e1#"} {
				if symbol == "1/m" {
					continue // 461/m would be read as 461 and /m
				}
				text = strings.ReplaceAll(text, "#", symbol)
				got, err := q.parse(text)
				if want := u.make(46); err != nil || got != want {
					t.Errorf("%s %q = %v, %v, want %v", u.quantity, text, got, err, want)
				}
			}
		}
	}
	for _, q := range quantities {
		_, err := q.parse("1")
		p, ok := errors.AsType[*units.ParseError](err)
		if !ok {
			t.Fatalf("%s: %v", q.name, err)
		}
		if diff := cmp.Diff(strings.Join(listed[q.name], ", "), p.Want); diff != "" {
			t.Errorf("%s: units that parse, and are listed (-want +got):\n%s", q.name, diff)
		}
	}
}

// A quantity written out in any of its units, to 17 digits of the exact quotient,
// reads back to within the rounding of the digits, the factor and the product; and
// in the unit that it prints, to the very bits of its text.
func TestEveryUnitRoundTrips(t *testing.T) {
	for i, u := range parsedUnits() {
		q := quantityNamed(t, u.quantity)
		random := rand.New(rand.NewPCG(502, uint64(i)))
		for range 500 {
			si := anyNumber(random)
			if q.floor {
				si = math.Abs(si)
			}
			roundTrip(t, q, si)
			number := over(new(big.Rat).SetFloat64(si), u.scale)
			size := math.Abs(si)
			if u.zero != nil {
				number.Sub(number, u.zero)
				zero, _ := times(u.zero, u.scale).Float64()
				size += 2 * zero // the number and the sum are rounded where they are of its size
			}
			text := new(big.Float).SetPrec(300).SetRat(number).Text('g', 17)
			back, err := q.parse(text + " " + u.spellings[0])
			if q.floor && u.zero != nil && si < 1e-10 {
				continue // rounded, it may be a hair below absolute zero
			}
			if err != nil || math.Abs(back-si) > 5*0x1p-53*size {
				t.Errorf("seed 502, %d: %s %.17g, %s %s, reads back as %.17g, %v", i, u.quantity, si, text, u.spellings[0], back, err)
			}
		}
	}
}

// Conversion factors as NIST SP 811 (2008), appendix B.8, prints them: seen as
// quoted in public unit definitions that cite it, the document itself was not
// opened; those of in³ and lbf/in are from memory. They are exact or rounded
// to seven digits.
func TestPrintedFactors(t *testing.T) {
	for _, test := range []struct {
		quantity, text string
		printed        string
	}{
		{"Length", "1 in", "2.54e-2"},
		{"Length", "1 ft", "3.048e-1"},
		{"Mass", "1 lb", "4.535924e-1"},
		{"Mass", "1 oz", "2.834952e-2"},
		{"Force", "1 lbf", "4.448222"},
		{"Force", "1 kgf", "9.80665"},
		{"Stiffness", "1 lbf/in", "1.751268e2"},
		{"GaugePressure", "1 psi", "6.894757e3"},
		{"AbsolutePressure", "1 psia", "6.894757e3"},
		{"Stress", "1 psi", "6.894757e3"},
		{"GaugePressure", "1 bar", "1e5"},
		{"AbsolutePressure", "1 atm(a)", "1.01325e5"},
		{"Torque", "1 lbf·in", "1.129848e-1"},
		{"Torque", "1 lbf·ft", "1.355818"},
		{"Energy", "1 ft·lbf", "1.355818"},
		{"Volume", "1 in³", "1.638706e-5"},
	} {
		got, err := quantityNamed(t, test.quantity).parse(test.text)
		if err != nil {
			t.Error(err)
			continue
		}
		// Rounded to the digits printed, the value must print just so.
		want, _ := rat(test.printed).Float64()
		digits := len(strings.NewReplacer(".", "").Replace(strings.SplitN(test.printed, "e", 2)[0]))
		half := 0.5 * math.Pow(10, math.Floor(math.Log10(max(want, 1e-300)))-float64(digits-1))
		unitstest.Near(t, test.text, got, want, unitstest.Abs(half), unitstest.Rel(4*0x1p-53))
	}
}

func TestParseRefusesLookAlikes(t *testing.T) {
	for _, test := range []struct {
		quantity string
		texts    string // separated by |
		class    error
	}{
		// A number alone never is a quantity.
		{"Length", "46|46.|0| 46 |-1|1e3", units.ErrUnit},
		// Not a number.
		{"Length", "|mm| |NaN mm|nan m|Inf m|+Inf m|-inf m|infinity m|e3 m|. m|- m|+ m|--1 m|−5 m|½ in|x46 mm|+|-|.|+.|-.mm|:|/ mm", units.ErrSyntax},
		// Forms that Go takes for a number and people don't.
		{"Length", "0x1F mm|0x1p3 m|1_000 mm|0b1 m|0o7 m|1e m|1e+ m|1 e3 m|1.2.3 m", units.ErrUnit},
		{"Length", "1e|1e+|1E-|1e5|1: mm|1.5: mm|1e5: mm|1/ mm|1./ mm|1e5/ mm", units.ErrUnit},
		// A comma may mean either.
		{"Length", "1,5 mm|1,500 mm|46, mm|1,5|1,", units.ErrSyntax},
		// Symbols are case-sensitive, and no others are known.
		{"Length", "46 Mm|46 mM|46 Cm|46 iN m|46 in.|46 MM|46 M|46 IN|46 inch|46 \"|46 km|46 mm.|46 m m|46 mm mm|46 mm 3|46 mm/s|46 yd|46 µm", units.ErrUnit},
		{"Length", "46 PSI|46 psi|46 mm²|46 kg|46 N|46 °", units.ErrUnit},
		{"Area", "1 mm|1 mm³|1 MM2|1 sq in|1 mm^2", units.ErrUnit},
		{"Volume", "1 ML|1 Ml|1 L|1 CC|1 mL|1 dl|1 mm2|1 gal", units.ErrUnit},
		{"Mass", "1 lbf|1 kgf|1 N|1 G|1 gr|1 #|1 M|1 lbs|1 LB|1 Kg|1 kilo|1 t|1 lbm", units.ErrUnit},
		{"Force", "1 lb|1 LB|1 pounds|1 KG|1 kg|1 kn|1 n|1 KN|1 LBF|1 lbs|1 oz|1 N·m|1 lbf/in", units.ErrUnit},
		{"Stiffness", "450|450.0", units.ErrUnit},
		{"Stiffness", "450 lb/in|450 lbs/in|450 lbf|450 #/in|450 n/mm|450 N/MM|450 N mm|450 Nmm|450 N/cm|450 lbf / in|450 kg/mm|450 lb-in|450 lb/ft|450 MN/mm|450 N / m m|450 lb/in/in", units.ErrUnit},
		{"GaugePressure", "72 psia|5 bar(a)|5 kPa(a)|72 PSI|72 Psi|5 Bar|5 kpa|5 KPa|5 Pa|5 MPa|5 atm|5 psi(g)|5 kg/cm²", units.ErrUnit},
		{"AbsolutePressure", "72 psi|72 psig|5 bar|5 bar(g)|101 kPa|101 kPa(g)|5 Pa|1 atm|1 MPa(g)|5 kPa (a)|5 PSIA", units.ErrUnit},
		{"Stress", "5 psia|5 psig|5 kPa(a)|5 bar|5 mpsi|5 MPSI|5 mpa|5 ksi|5 KPSI|5 mPa|5 N/mm²|5 MPA", units.ErrUnit},
		{"Damping", "350|350 N/m|350 N·s|350 N·s/s|350 s|350 N·m/s|350 kg·s/m|350 N·s/m extra", units.ErrUnit},
		{"Torque", "5 Nm|5 nm|5 N-m|5 N*m|5 J|5 lb ft|5 ft·lbf|5 ft lbf|5 lbf-in|5 N/m|5 N  m", units.ErrUnit},
		{"Energy", "5 N·m|5 Nm|5 j|5 KJ|5 lbf·ft|5 ft lb|5 cal|5 Wh", units.ErrUnit},
		{"Temperature", "20|20 C|20 F|20 k|20 °K|20 deg C|20 °c|20 ° C|20 °", units.ErrUnit},
		{"Angle", "64|64 Deg|64 degrees|64 grad|64 °C|64 '|64 RAD", units.ErrUnit},
		{"Frequency", "3 hz|3 HZ|3 1/s|3 rpm|3 kHz", units.ErrUnit},
		{"Density", "7850 kg|7850 g/cc|7850 kg/m^3|7850 KG/M3|7850 kg/m", units.ErrUnit},
		{"Time", "5 S|5 sec|5 min|5 h|5 µs|5 Ms", units.ErrUnit},
		{"Speed", "5|5 m|5 s|5 M/S|5 ft/s|5 kmh|5 kph|5 Mph|5 m·s", units.ErrUnit},
		{"RatioSlope", "5|5 1/mm|5 /m|5 m|5 1/M|51/m", units.ErrUnit},
		// Too large, as a number or in SI.
		{"Length", "1e999 m|-1e999 m|1e400 mm", units.ErrRange},
		{"Stress", "1e303 MPa|1e300 GPa|-1e308 kPa|1.8e308 Pa", units.ErrRange},
		{"Stiffness", "1e306 N/mm|1e999 N/m", units.ErrRange},
		{"Force", "-1e308 kN", units.ErrRange},
		// Below absolute zero, or below vacuum.
		{"Temperature", "-273.16 °C|-1 K|-459.68 °F|-1e-300 K|-1e308 °C", units.ErrRange},
		{"AbsolutePressure", "-1 kPa(a)|-0.001 psia|-5e-324 Pa(a)", units.ErrRange},
		// Bytes that are no text.
		{"Length", "46 \xffmm|46 mm\x00|46\x00mm|46 m\u200bm", units.ErrUnit},
	} {
		q := quantityNamed(t, test.quantity)
		for _, text := range strings.Split(test.texts, "|") {
			if err := q.exact(text); !errors.Is(err, test.class) {
				t.Errorf("%s %q, symbols alone: %v, want the class %v", test.quantity, text, err, test.class)
			}
			number := text[:strings.IndexAny(text+" ", " °½")]
			symbol := strings.TrimSpace(strings.TrimPrefix(text, number))
			if _, used := spellings[test.quantity][symbol]; used {
				continue // TestSpellings knows what it means
			}
			got, err := q.parse(text)
			if err == nil {
				t.Errorf("%s %q = %v, want an error", test.quantity, text, got)
				continue
			}
			if got != 0 {
				t.Errorf("%s %q: an error, and the value %v", test.quantity, text, got)
			}
			if !errors.Is(err, test.class) {
				t.Errorf("%v: want the class %v", err, test.class)
			}
		}
	}
	// What is next to these is taken.
	for quantity, texts := range map[string]string{
		"GaugePressure":    "-14.7 psi|-1 bar|0 kPa",
		"AbsolutePressure": "0 kPa(a)|-0 Pa(a)|5e-324 Pa(a)",
		"Temperature":      "0 K|-273.15 °C|-459.67 °F",
		"Stress":           "1e302 MPa|1.79e308 Pa",
		"Length":           "-46 mm|1e-999 m|0 m",
	} {
		for _, text := range strings.Split(texts, "|") {
			if _, err := quantityNamed(t, quantity).parse(text); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestParseErrorText(t *testing.T) {
	long := strings.Repeat("é", 1000)
	for _, test := range []struct {
		quantity, text, want string
	}{
		{"Stiffness", "450", `units: stiffness "450": missing unit; 450 N/mm or 450 lbf/in? (want a number and one of N/mm, N/m, lbf/in, kgf/mm)`},
		{"AbsolutePressure", "72 psi", `units: absolute pressure "72 psi": "psi" is a unit of gauge pressure (want a number and one of kPa(a), Pa(a), bar(a), psia, atm(a))`},
		{"Frequency", "3", `units: frequency "3": missing unit; 3 Hz? (want a number and Hz)`},
		{"Length", "1,5 mm", `units: length "1,5 mm": comma in the number; write a decimal point and no separators; 1.5 mm? (want a number and one of mm, cm, m, in, ft)`},
		{"Length", "one\n", `units: length "one\n": no number (want a number and one of mm, cm, m, in, ft)`},
		{"Temperature", "-300 °C", `units: temperature "-300 °C": below absolute zero (want a number and one of °C, K, °F)`},
		{"AbsolutePressure", "-1 psia", `units: absolute pressure "-1 psia": below vacuum (want a number and one of kPa(a), Pa(a), bar(a), psia, atm(a))`},
		{"Length", "1e999 m", `units: length "1e999 m": number too large (want a number and one of mm, cm, m, in, ft)`},
		{"Force", "-1e308 kN", `units: force "-1e308 kN": number too large (want a number and one of N, kN, lbf, kgf)`},
		{"Stress", "1e303 MPa", `units: stress "1e303 MPa": number too large (want a number and one of MPa, Pa, kPa, GPa, psi, kpsi, Mpsi)`},
		{"Length", "1 " + long, `units: length "1 ` + long[:62] + `…": unknown unit "` + long[:64] + `…" (want a number and one of mm, cm, m, in, ft)`},
	} {
		_, err := quantityNamed(t, test.quantity).parse(test.text)
		if err == nil || err.Error() != test.want {
			t.Errorf("got  %v\nwant %s", err, test.want)
		}
	}
}

// A failed UnmarshalText leaves the value as it was, and the error is that of
// the parser.
func TestUnmarshalTextKeeps(t *testing.T) {
	for _, q := range quantities {
		got, err := q.unmarshal(42, []byte("1 furlong"))
		if got != 42 || !errors.Is(err, units.ErrUnit) {
			t.Errorf("%s: %v, %v", q.name, got, err)
		}
		got, err = q.unmarshal(42, []byte("1 "+q.symbol))
		if want, _ := q.parse("1 " + q.symbol); got != want || err != nil {
			t.Errorf("%s: %v, %v", q.name, got, err)
		}
	}
}
