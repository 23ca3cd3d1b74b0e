package units_test

import (
	"encoding"
	"fmt"
	"math"
	"math/big"
	"reflect"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

// quantity is one of the types of the package, without its Go type.
type quantity struct {
	name      string
	parse     func(string) (float64, error) // in SI
	exact     func(string) error            // of a text that has a symbol of the package
	unmarshal func(old float64, text []byte) (float64, error)
	of        func(si float64) value
	symbol    string  // the one printed
	scale     float64 // of that symbol
	floor     bool    // nothing below 0
}

// value is what every quantity can do.
type value interface {
	fmt.Stringer
	fmt.Formatter
	encoding.TextMarshaler
}

func quantityOf[Q interface {
	units.Dimensional
	value
}, P interface {
	*Q
	encoding.TextUnmarshaler
}](unit Q, symbol string) quantity {
	return quantity{
		name:  reflect.TypeFor[Q]().Name(),
		parse: func(text string) (float64, error) { q, err := units.Parse[Q](text); return float64(q), err },
		exact: func(text string) error { return units.Exact(Q(0), text) },
		unmarshal: func(old float64, text []byte) (float64, error) {
			q := Q(old)
			err := P(&q).UnmarshalText(text)
			return float64(q), err
		},
		of:     func(si float64) value { return Q(si) },
		symbol: symbol, scale: float64(unit),
		floor: symbol == "°C" || symbol == "kPa(a)",
	}
}

// quantities are all types of the package with the unit they print.
var quantities = []quantity{
	quantityOf(units.Millimetre, "mm"),
	quantityOf(units.SquareMillimetre, "mm²"),
	quantityOf(units.CubicCentimetre, "cm³"),
	quantityOf(units.Kilogram, "kg"),
	quantityOf(units.Newton, "N"),
	quantityOf(units.NewtonPerMillimetre, "N/mm"),
	quantityOf(units.KilopascalGauge(1), "kPa(g)"),
	quantityOf(units.KilopascalAbsolute, "kPa(a)"),
	quantityOf(units.Megapascal, "MPa"),
	quantityOf(units.NewtonSecondPerMetre, "N·s/m"),
	quantityOf(units.NewtonMetre, "N·m"),
	quantityOf(units.Joule, "J"),
	quantityOf(units.Kelvin, "°C"), // and a zero of its own
	quantityOf(units.Degree, "°"),
	quantityOf(units.Hertz, "Hz"),
	quantityOf(units.KilogramPerCubicMetre, "kg/m³"),
	quantityOf(units.Second, "s"),
	quantityOf(units.MetrePerSecond, "m/s"),
	quantityOf(units.PerMetre, "1/m"),
}

func quantityNamed(t testing.TB, name string) quantity {
	t.Helper()
	for _, q := range quantities {
		if q.name == name {
			return q
		}
	}
	t.Fatalf("no quantity %s", name)
	return quantity{}
}

// rat reads an exact decimal or a fraction.
func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("not a number: " + text)
	}
	return r
}

func times(factors ...*big.Rat) *big.Rat {
	r := big.NewRat(1, 1)
	for _, f := range factors {
		r.Mul(r, f)
	}
	return r
}

func over(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

// The definitions, all exact but π: inch, foot, pound and ounce by the yard
// and pound agreement of 1959; standard gravity, 3rd CGPM 1901; standard
// atmosphere, 10th CGPM 1954. π to 35 decimals, from memory.
var (
	one        = rat("1")
	exactInch  = rat("0.0254")
	exactFoot  = rat("0.3048")
	exactPound = rat("0.45359237")
	exactOunce = over(exactPound, rat("16"))
	exactG     = rat("9.80665")
	exactLbf   = times(exactPound, exactG)
	exactPSI   = over(exactLbf, times(exactInch, exactInch))
	exactPi    = rat("3.14159265358979323846264338327950288")
)

// unit is a unit of a quantity: SI value = (number + zero)·scale, exactly.
type unit struct {
	quantity  string
	spellings []string // that parse; the first is the one that errors list
	scale     *big.Rat
	zero      *big.Rat                 // nil for 0
	make      func(n float64) float64  // by the package's constant or function, in SI
	get       func(si float64) float64 // by the package's getter or [units.In]; nil for none
	whole     bool                     // the package documentation promises whole numbers back
}

// unitFunc is a unit that the package has a function for.
func unitFunc[Q ~float64](spellings string, scale, zero *big.Rat, of func(float64) Q, get func(Q) float64) unit {
	u := unit{quantity: reflect.TypeFor[Q]().Name(), scale: scale, zero: zero, make: func(n float64) float64 { return float64(of(n)) }}
	if spellings != "" {
		u.spellings = strings.Split(spellings, ",")
	}
	if get != nil {
		u.get = func(si float64) float64 { return get(Q(si)) }
	}
	return u
}

// unitConst is a unit that the package has a constant for. Without a getter it is read by [units.In].
func unitConst[Q units.Dimensional](spellings string, scale *big.Rat, constant Q, get func(Q) float64) unit {
	if get == nil {
		get = func(q Q) float64 { return units.In(q, constant) }
	}
	return unitFunc(spellings, scale, nil, func(n float64) Q { return Q(n) * constant }, get)
}

func (u unit) wholly() unit { u.whole = true; return u }

func (u unit) String() string { return u.quantity + " " + strings.Join(u.spellings, ", ") }

// size is the magnitude of what is rounded where n of the unit is converted, in SI.
func (u unit) size(n float64) float64 {
	size := math.Abs(n)
	if u.zero != nil {
		zero, _ := u.zero.Float64()
		size += zero
	}
	scale, _ := u.scale.Float64()
	return size * scale
}

// allUnits are the units of the package, in the order in which errors list them.
var allUnits = []unit{
	unitConst("mm", rat("1e-3"), units.Millimetre, units.Length.Millimetres).wholly(),
	unitConst("cm", rat("1e-2"), units.Centimetre, nil),
	unitConst("m", one, units.Metre, units.Length.Metres).wholly(),
	unitConst("in", exactInch, units.Inch, units.Length.Inches),
	unitConst("ft", exactFoot, units.Foot, units.Length.Feet),
	unitConst("mm²,mm2", rat("1e-6"), units.SquareMillimetre, nil),
	unitConst("cm²,cm2", rat("1e-4"), units.SquareCentimetre, nil),
	unitConst("m²,m2", one, units.SquareMetre, nil).wholly(),
	unitConst("in²,in2", times(exactInch, exactInch), units.SquareInch, nil),
	unitConst("cm³,cm3,cc", rat("1e-6"), units.CubicCentimetre, units.Volume.CubicCentimetres),
	unitConst("mm³,mm3", rat("1e-9"), units.CubicMillimetre, nil),
	unitConst("ml", rat("1e-6"), units.CubicCentimetre, units.Volume.CubicCentimetres),
	unitConst("l", rat("1e-3"), units.Litre, nil).wholly(),
	unitConst("m³,m3", one, units.CubicMetre, nil).wholly(),
	unitConst("in³,in3", times(exactInch, exactInch, exactInch), units.CubicInch, nil),
	unitConst("kg", one, units.Kilogram, units.Mass.Kilograms).wholly(),
	unitConst("g", rat("1e-3"), units.Gram, nil).wholly(),
	unitConst("lb", exactPound, units.Pound, nil),
	unitConst("oz", exactOunce, units.Ounce, nil),
	unitConst("N", one, units.Newton, units.Force.Newtons).wholly(),
	unitConst("kN", rat("1e3"), units.Kilonewton, nil).wholly(),
	unitConst("lbf", exactLbf, units.PoundForce, units.Force.PoundsForce),
	unitConst("kgf", exactG, units.KilogramForce, nil),
	unitConst("N/mm", rat("1e3"), units.NewtonPerMillimetre, units.Stiffness.NewtonsPerMillimetre).wholly(),
	unitConst("N/m", one, units.NewtonPerMetre, nil).wholly(),
	unitConst("lbf/in", over(exactLbf, exactInch), units.PoundForcePerInch, units.Stiffness.PoundsForcePerInch),
	unitConst("kgf/mm", over(exactG, rat("1e-3")), units.KilogramForcePerMillimetre, nil),
	unitFunc("kPa(g),kPa", rat("1e3"), nil, units.KilopascalGauge, nil).wholly(),
	unitFunc("bar,bar(g)", rat("1e5"), nil, units.BarGauge, units.GaugePressure.Bar).wholly(),
	unitFunc("psi,psig", exactPSI, nil, units.PSIGauge, units.GaugePressure.PSI),
	unitConst("MPa(g)", rat("1e6"), units.GaugePressure(units.Megapascal), nil),
	unitFunc("Pa(g)", one, nil, units.PascalGauge, units.GaugePressure.Pascals).wholly(),
	unitConst("kPa(a)", rat("1e3"), units.KilopascalAbsolute, units.AbsolutePressure.Kilopascals).wholly(),
	unitConst("Pa(a)", one, units.PascalAbsolute, units.AbsolutePressure.Pascals).wholly(),
	unitConst("bar(a)", rat("1e5"), units.BarAbsolute, units.AbsolutePressure.Bar).wholly(),
	unitConst("psia", exactPSI, units.PSIAbsolute, nil),
	unitConst("atm(a)", rat("101325"), units.StandardAtmosphere, nil).wholly(),
	unitConst("MPa", rat("1e6"), units.Megapascal, units.Stress.Megapascals).wholly(),
	unitConst("Pa", one, units.Pascal, nil).wholly(),
	unitConst("kPa", rat("1e3"), units.Kilopascal, nil).wholly(),
	unitConst("GPa", rat("1e9"), units.Gigapascal, nil).wholly(),
	unitConst("psi", exactPSI, units.PoundForcePerSquareInch, nil),
	unitConst("kpsi", times(exactPSI, rat("1e3")), units.Kpsi, nil),
	unitConst("Mpsi", times(exactPSI, rat("1e6")), units.Mpsi, nil),
	unitConst("N·s/m,N.s/m,N s/m", one, units.NewtonSecondPerMetre, nil).wholly(),
	unitConst("N·s/mm,N.s/mm,N s/mm", rat("1e3"), units.NewtonSecondPerMillimetre, nil).wholly(),
	unitConst("lbf·s/in,lbf.s/in,lbf s/in", over(exactLbf, exactInch), units.PoundForceSecondPerInch, nil),
	unitConst("N·m,N.m,N m", one, units.NewtonMetre, nil).wholly(),
	unitConst("lbf·in,lbf.in,lbf in", times(exactLbf, exactInch), units.PoundForceInch, nil),
	unitConst("lbf·ft,lbf.ft,lbf ft", times(exactLbf, exactFoot), units.PoundForceFoot, nil),
	unitConst("J", one, units.Joule, units.Energy.Joules).wholly(),
	unitConst("kJ", rat("1e3"), units.Kilojoule, nil).wholly(),
	unitConst("ft·lbf,ft.lbf,ft lbf", times(exactFoot, exactLbf), units.FootPoundForce, nil),
	// t/°C = T/K − 273.15, t/°F = 1.8·T/K − 459.67 (NIST SP 811).
	unitFunc("°C,degC", one, rat("273.15"), units.Celsius, units.Temperature.Celsius),
	unitConst("K", one, units.Kelvin, units.Temperature.Kelvin).wholly(),
	unitFunc("°F,degF", rat("5/9"), rat("459.67"), units.Fahrenheit, units.Temperature.Fahrenheit),
	unitConst("°,deg", over(exactPi, rat("180")), units.Degree, units.Angle.Degrees),
	unitConst("rad", one, units.Radian, nil).wholly(),
	unitConst("Hz", one, units.Hertz, units.Frequency.Hertz).wholly(),
	unitConst("kg/m³,kg/m3", one, units.KilogramPerCubicMetre, nil).wholly(),
	unitConst("g/cm³,g/cm3", rat("1e3"), units.GramPerCubicCentimetre, nil).wholly(),
	unitConst("s", one, units.Second, units.Time.Seconds).wholly(),
	unitConst("ms", rat("1e-3"), units.Millisecond, nil).wholly(),
	unitConst("m/s", one, units.MetrePerSecond, units.Speed.MetresPerSecond).wholly(),
	unitConst("mm/s", rat("1e-3"), units.MillimetrePerSecond, nil).wholly(),
	unitConst("in/s", exactInch, units.InchPerSecond, nil),
	unitConst("km/h", rat("10/36"), units.KilometrePerHour, units.Speed.KilometresPerHour),
	unitConst("mph", over(times(rat("5280"), exactFoot), rat("3600")), units.MilePerHour, nil),
	unitConst("1/m", one, units.PerMetre, units.RatioSlope.PerMetre).wholly(),
	unitConst("", rat("1e3"), units.PerMillimetre, nil).wholly(), // not parsed
}

func TestQuantitiesAreAll(t *testing.T) {
	seen := map[string]bool{}
	for _, q := range quantities {
		seen[q.name] = true
		if got := fmt.Sprintf("%T", q.of(1)); got != "units."+q.name {
			t.Errorf("%s has type %s", q.name, got)
		}
	}
	if len(quantities) != 19 || len(seen) != 19 {
		t.Errorf("%d quantities, %d different, want 19", len(quantities), len(seen))
	}
}
