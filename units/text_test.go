package units_test

import (
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// printed is what 46.25 of the printed unit is in SI.
func (q quantity) printed(t testing.TB, number string) value {
	t.Helper()
	si, err := q.parse(number + " " + q.symbol)
	if err != nil {
		t.Fatal(err)
	}
	return q.of(si)
}

// inSI returns the SI unit of a quantity, in which the largest number is written.
func inSI(t *testing.T, v value) string {
	t.Helper()
	text, err := v.MarshalText()
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimLeft(string(text), "0123456789.e+ ")
}

// A finite value is printed as a number, in the SI unit where that of the quantity's own unit is
// beyond float64.
func TestEveryFiniteValueIsPrintedAsANumber(t *testing.T) {
	const most = units.Length(math.MaxFloat64)
	for got, want := range map[string]string{
		most.String(): "1.79769313486232e+308 m", fmt.Sprintf("%.3g", -most): "-1.8e+308 m", fmt.Sprint(most / 1e3): "1.79769313486232e+308 mm",
		most.Both().Metric[300:]: "124858368.0 m", (most / 1e6).Both().Customary[300:]: " in",
	} {
		if !strings.HasSuffix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestEveryVerbPrintsTheUnit(t *testing.T) {
	for _, q := range quantities {
		v := q.printed(t, "46.25")
		unit := " " + q.symbol
		if q.name == "Angle" {
			unit = q.symbol
		}
		right := func(text string) string { // in a field of 20
			return strings.Repeat(" ", 20-len([]rune(text))) + text
		}
		for format, want := range map[string]string{
			"%v":     "46.25" + unit,
			"%s":     "46.25" + unit,
			"%d":     "46.25" + unit,
			"%g":     "46.25" + unit,
			"%f":     "46.250000" + unit,
			"%F":     "46.250000" + unit,
			"%e":     "4.625000e+01" + unit,
			"%E":     "4.625000E+01" + unit,
			"%q":     `"46.25` + unit + `"`,
			"%.1f":   "46.2" + unit,
			"%.3v":   "46.2" + unit,
			"%.2s":   "46" + unit,
			"%+v":    "+46.25" + unit,
			"% v":    " 46.25" + unit,
			"%20v":   right("46.25" + unit),
			"%20q":   right(`"46.25` + unit + `"`),
			"%-20v|": strings.TrimLeft(right("46.25"+unit), " ") + strings.Repeat(" ", 20-len([]rune("46.25"+unit))) + "|",
			"%020v":  strings.Repeat("0", 20-len([]rune("46.25"+unit))) + "46.25" + unit,
			"%020q":  right(`"46.25` + unit + `"`),
			"%z":     "%!z(units." + q.name + "=46.25" + unit + ")",
			"%T":     "units." + q.name,
		} {
			if q.name == "Temperature" && format == "%g" {
				continue // taking 273.15 off leaves digits that this verb prints
			}
			if got := fmt.Sprintf(format, v); got != want {
				t.Errorf("%s %s prints %q, want %q", q.name, format, got, want)
			}
		}
		if got, want := v.String(), "46.25"+unit; got != want {
			t.Errorf("%s.String() = %q, want %q", q.name, got, want)
		}
		if got, want := fmt.Sprintf("%v", []value{v}), "["+v.String()+"]"; got != want {
			t.Errorf("in a slice: %q, want %q", got, want)
		}
		for _, n := range []float64{46.25, math.NaN(), math.Inf(1), math.Inf(-1), math.Copysign(0, -1), math.MaxFloat64, 5e-324} {
			for _, format := range []string{"%v", "%s", "%d", "%f", "%F", "%e", "%g", "%G", "%x", "%X", "%b", "%.3x", "%q", "%#v", "%#g", "%#q", "%0q", "%z", "%c", "%t",
				"%+012.3f", "% -+#012.3f", "% 012v", "%-12v", "%.0f", "%.2e", "%1.40f", "%.300e", "%500v"} {
				got := fmt.Sprintf(format, q.of(n))
				if !strings.Contains(got, q.symbol) && !strings.HasPrefix(got, "units."+q.name+"(") && !(n == math.MaxFloat64 && strings.Contains(got, inSI(t, q.of(n)))) {
					t.Errorf("%s %s of %v prints %q, with no unit", q.name, format, n, got)
				}
				if !math.IsInf(n, 0) && strings.Contains(got, "Inf") {
					t.Errorf("%s %s of %v prints %q", q.name, format, n, got)
				}
			}
		}
	}
}

func TestFormatText(t *testing.T) {
	for _, test := range []struct {
		format string
		value  any
		want   string
	}{
		{"%v", 450 * units.PoundForcePerInch, "78.8070758609144 N/mm"},
		{"%.1f", 450 * units.PoundForcePerInch, "78.8 N/mm"},
		{"%.1f", units.PSIGauge(72), "496.4 kPa(g)"},
		{"%.3f", units.StandardAtmosphere, "101.325 kPa(a)"},
		{"%v", units.Celsius(20), "20 °C"},
		{"%v", units.Celsius(-40), "-40 °C"},
		{"%v", 64 * units.Degree, "64°"},
		{"%012.2f", -3.5 * units.Millimetre, "-00003.50 mm"},
		{"%012.2f", units.Length(math.NaN()), "      NaN mm"},
		{"%+v", units.Length(math.NaN()), "+NaN mm"},
		{"%x", 46 * units.Newton, "0x1.7p+05 N"},
		{"%v", 1e9 * units.Metre, "1000000000000 mm"},
		{"%v", 1e15 * units.Metre, "1e+18 mm"},
		{"%v", 1e-9 * units.Metre, "1e-06 mm"},
		{"%#v", 46 * units.Millimetre, "units.Length(0.046)"},
		{"%#v", units.Length(math.NaN()), "units.Length(NaN)"},
		{"%8.1f|", 2.5 * units.SquareMillimetre, " 2.5 mm²|"}, // counted in characters, not bytes
	} {
		if got := fmt.Sprintf(test.format, test.value); got != test.want {
			t.Errorf("%s prints %q, want %q", test.format, got, test.want)
		}
	}
}

func TestMarshalText(t *testing.T) {
	for _, test := range []struct {
		value any
		want  string
	}{
		{46 * units.Millimetre, "46 mm"},
		{-0.5 * units.Millimetre, "-0.5 mm"},
		{0.1 * units.Metre, "100 mm"},
		{1 * units.Inch, "25.4 mm"},
		{units.Celsius(20), "20 °C"},
		{64 * units.Degree, "64°"},
		// The float64 nearest to 450 lbf/in; 15 digits would not give it back.
		{units.Stiffness(78807.07586091437), "78.80707586091437 N/mm"},
		{1e6 * units.Newton, "1000000 N"},
		{79.5 * units.Gigapascal, "79500 MPa"},
		{1e20 * units.Newton, "100000000000000000000 N"},
		{1e21 * units.Newton, "1e+21 N"},
		{1e-6 * units.Newton, "0.000001 N"},
		{1e-7 * units.Newton, "1e-07 N"},
		{units.Force(math.Copysign(0, -1)), "-0 N"},
		{units.Temperature(0), "-273.15 °C"},
		{units.Temperature(5e-324), "5e-324 K"}, // not in °C
		{units.Length(math.MaxFloat64), "1.7976931348623157e+308 m"},
	} {
		text, err := test.value.(value).MarshalText()
		if err != nil || string(text) != test.want {
			t.Errorf("%#v is written %q, %v, want %q", test.value, text, err, test.want)
		}
	}
}

// awkward are bit patterns that rounding, signs and limits make awkward.
func awkward() []float64 {
	list := []float64{0, math.Copysign(0, -1), 5e-324, -5e-324, 2.2250738585072014e-308, 2.225073858507201e-308,
		math.MaxFloat64, -math.MaxFloat64, math.MaxFloat64 / 1e3, 273.15, 255.3722222222222, 1, 0.1, 1e-3, 1e21, 1e-7, math.Pi, 1.0 / 3}
	for _, v := range list[:len(list):len(list)] {
		list = append(list, math.Nextafter(v, 1), math.Nextafter(v, -1))
	}
	return list
}

// roundTrip checks that the bits of a value survive being written and read.
func roundTrip(t testing.TB, q quantity, si float64) {
	t.Helper()
	text, err := q.of(si).MarshalText()
	if math.IsNaN(si) || math.IsInf(si, 0) || q.floor && si < 0 {
		if err == nil {
			t.Errorf("%s %v is written as %q", q.name, si, text)
		}
		return
	}
	if err != nil {
		t.Errorf("%s %v: %v", q.name, si, err)
		return
	}
	back, err := q.unmarshal(math.NaN(), text)
	if err != nil || math.Float64bits(back) != math.Float64bits(si) {
		t.Errorf("%s %x is written as %q and reads back as %x, %v", q.name, si, text, back, err)
	}
}

func TestTextRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	values := awkward()
	for range 3000 { // any bits, and magnitudes that occur
		values = append(values, math.Float64frombits(random.Uint64()), (random.Float64()-0.3)*math.Pow(10, float64(random.IntN(12)-4)))
	}
	for _, q := range quantities {
		for _, si := range values {
			roundTrip(t, q, si)
		}
		for range 200 { // String keeps 15 digits, and of degrees twelve decimals
			si := math.Exp(40 * (random.Float64() - 0.5))
			scale := si
			if q.name == "Temperature" {
				scale += 300
			}
			if got, err := q.parse(q.of(si).String()); err != nil || !(math.Abs(got-si) <= 1e-11*scale) {
				t.Errorf("%s %v of %g reads back as %g, %v", q.name, q.of(si), si, got, err)
			}
		}
		for n := range 1000 { // whole numbers and tenths of the printed unit keep their digits
			for _, number := range []string{fmt.Sprint(n), fmt.Sprintf("%d.5", n)} {
				text, err := q.printed(t, number).MarshalText()
				if got := strings.TrimSuffix(strings.TrimSuffix(string(text), q.symbol), " "); err != nil || got != number {
					t.Errorf("%s %s %s is written as %q, %v", q.name, number, q.symbol, text, err)
				}
			}
		}
	}
}

func TestTextRefusesWhatIsNoQuantity(t *testing.T) {
	for _, q := range quantities {
		for _, si := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
			if si == -1 && !q.floor {
				continue
			}
			v := q.of(si)
			text, err := v.MarshalText()
			fields := units.Fields(err)
			if text != nil || !errors.Is(err, units.ErrRange) || len(fields) != 1 || fields[0].Package != "units" || !strings.Contains(err.Error(), q.symbol) {
				t.Errorf("%s %v: %q, %v", q.name, si, text, err)
			}
			if text, err := json.Marshal(v); err == nil {
				t.Errorf("%s %v is JSON %s", q.name, si, text)
			}
		}
	}
	for want, v := range map[string]value{
		`length "NaN mm": want a finite value, to write as text`:                                            units.Length(math.NaN()),
		`length "+Inf mm": want a finite value, to write as text`:                                           units.Length(math.Inf(1)),
		`absolute pressure "-0.00123456789012345 kPa(a)": want a finite value, 0 or more, to write as text`: units.AbsolutePressure(-1.23456789012345),
	} {
		if _, err := v.MarshalText(); err == nil || err.Error() != "units: "+want {
			t.Errorf("got %v\nwant %s", err, want)
		}
	}
}

func TestQuantitiesAreStringsInJSON(t *testing.T) {
	type part struct {
		Bore   units.Length            `json:"bore"`
		Volume *units.Volume           `json:"volume,omitempty"`
		Loads  []units.Force           `json:"loads"`
		Fill   units.GaugePressure     `json:"fill"`
		Shelf  map[units.Length]string `json:"shelf"`
		Empty  units.Length            `json:"empty,omitempty"`
	}
	volume := 1 * units.CubicInch
	in := part{Bore: 36 * units.Millimetre, Volume: &volume, Loads: []units.Force{1 * units.PoundForce, -3}, Fill: units.PSIGauge(72),
		Shelf: map[units.Length]string{57.5 * units.Millimetre: "short"}}
	// The long numbers are the float64 nearest to the exact value (1959 pound and
	// inch), divided by the unit, as Python prints them.
	const want = `{"bore":"36 mm","volume":"16.387064 cm³","loads":["4.4482216152605 N","-3 N"],` +
		`"fill":"496.42252510812204 kPa(g)","shelf":{"57.5 mm":"short"}}`
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(text)); diff != "" {
		t.Errorf("written (-want +got):\n%s", diff)
	}
	var out part
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(in, out); diff != "" {
		t.Errorf("read back (-want +got):\n%s", diff)
	}

	// A bare number is no quantity in JSON either.
	for _, bad := range []string{`{"bore": 36}`, `{"bore": "36"}`, `{"fill": "72 psia"}`, `{"bore": "NaN mm"}`} {
		if err := json.Unmarshal([]byte(bad), &out); err == nil {
			t.Errorf("%s is accepted", bad)
		}
	}
}

func TestAllocations(t *testing.T) {
	for _, u := range parsedUnits() {
		q := quantityNamed(t, u.quantity)
		text := "46.25 " + u.spellings[0]
		if n := testing.AllocsPerRun(20, func() { _, _ = q.parse(text) }); n != 0 {
			t.Errorf("parsing %q allocates %v times", text, n)
		}
	}
	rate, text := 450*units.PoundForcePerInch, []byte("450 lbf/in")
	if n := testing.AllocsPerRun(20, func() { _ = rate.UnmarshalText(text) }); n != 0 {
		t.Errorf("Stiffness.UnmarshalText allocates %v times", n)
	}
	if n := testing.AllocsPerRun(20, func() { _, _ = rate.MarshalText() }); n > 1 {
		t.Errorf("Stiffness.MarshalText allocates %v times", n)
	}
}

// Signs, zeros and widths are those of fmt for the number alone; a width counts
// the unit too.
func TestFlagsMeanWhatTheyMeanForNumbers(t *testing.T) {
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
func TestHundredthsOfDegreesStayShort(t *testing.T) {
	for i := -10000; i <= 10000; i++ {
		want := strconv.FormatFloat(float64(i)/100, 'f', -1, 64) + " °C"
		if got := units.Celsius(float64(i) / 100).String(); got != want {
			t.Errorf("%s is printed as %s", want, got)
		}
	}
}

// Degrees are printed to 12 decimals or 15 digits, whichever is less.
func TestDegreesPrintAtMostTwelveDecimals(t *testing.T) {
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
}

// Package database/sql stores a quantity as its number in SI, and reads that back and no text.
func TestQuantitiesInADatabase(t *testing.T) {
	stored, err := driver.DefaultParameterConverter.ConvertValue(46.1 * units.Millimetre)
	require.NoError(t, err)
	require.Equal(t, float64(46.1*units.Millimetre), stored)
	var read sql.Null[units.Length]
	require.NoError(t, read.Scan(stored))
	require.Equal(t, 46.1*units.Millimetre, read.V)
	require.Error(t, read.Scan("46 mm"))
}
