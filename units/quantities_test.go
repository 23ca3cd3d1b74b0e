package units_test

import (
	"encoding"
	"fmt"
	"reflect"
	"testing"

	"example.com/wheelrate/units"
)

// quantity is one of the types of the package, without its Go type.
type quantity struct {
	name      string
	parse     func(string) (float64, error) // in SI
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
	encoding.TextAppender
}

func quantityOf[Q interface {
	~float64
	value
}, P interface {
	*Q
	encoding.TextUnmarshaler
}](parse func(string) (Q, error), unit Q, symbol string) quantity {
	return quantity{
		name:  reflect.TypeFor[Q]().Name(),
		parse: func(text string) (float64, error) { q, err := parse(text); return float64(q), err },
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
	quantityOf(units.ParseLength, units.Millimetre, "mm"),
	quantityOf(units.ParseArea, units.SquareMillimetre, "mm²"),
	quantityOf(units.ParseVolume, units.CubicCentimetre, "cm³"),
	quantityOf(units.ParseMass, units.Kilogram, "kg"),
	quantityOf(units.ParseForce, units.Newton, "N"),
	quantityOf(units.ParseStiffness, units.NewtonPerMillimetre, "N/mm"),
	quantityOf(units.ParseGaugePressure, units.KilopascalGauge(1), "kPa(g)"),
	quantityOf(units.ParseAbsolutePressure, units.KilopascalAbsolute, "kPa(a)"),
	quantityOf(units.ParseStress, units.Megapascal, "MPa"),
	quantityOf(units.ParseDamping, units.NewtonSecondPerMetre, "N·s/m"),
	quantityOf(units.ParseTorque, units.NewtonMetre, "N·m"),
	quantityOf(units.ParseEnergy, units.Joule, "J"),
	quantityOf(units.ParseTemperature, units.Kelvin, "°C"), // and a zero of its own
	quantityOf(units.ParseAngle, units.Degree, "°"),
	quantityOf(units.ParseFrequency, units.Hertz, "Hz"),
	quantityOf(units.ParseDensity, units.KilogramPerCubicMetre, "kg/m³"),
	quantityOf(units.ParseTime, units.Second, "s"),
	quantityOf(units.ParseRatioSlope, units.PerMetre, "1/m"),
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

func TestQuantitiesAreAll(t *testing.T) {
	if len(quantities) != 18 {
		t.Errorf("%d quantities, want 18", len(quantities))
	}
	seen := map[string]bool{}
	for _, q := range quantities {
		if seen[q.name] {
			t.Errorf("%s is listed twice", q.name)
		}
		seen[q.name] = true
		if got := fmt.Sprintf("%T", q.of(1)); got != "units."+q.name {
			t.Errorf("%s has type %s", q.name, got)
		}
	}
}
