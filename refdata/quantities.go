package refdata

import (
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// Quantity is a kind of quantity of the case format, such as a length.
type Quantity struct {
	Kind  string `json:"kind"` // its name in a units.convert case, such as "gauge_pressure"
	goal  reflect.Type
	parse func(text string) (any, error)
}

// quantities lists every kind of quantity that a computation takes or gives.
var quantities = []Quantity{
	quantityOf[units.Length]("length"),
	quantityOf[units.Mass]("mass"),
	quantityOf[units.Force]("force"),
	quantityOf[units.Stiffness]("stiffness"),
	quantityOf[units.GaugePressure]("gauge_pressure"),
	quantityOf[units.AbsolutePressure]("absolute_pressure"),
	quantityOf[units.Stress]("stress"),
	quantityOf[units.Volume]("volume"),
	quantityOf[units.Area]("area"),
	quantityOf[units.Torque]("torque"),
	quantityOf[units.Energy]("energy"),
	quantityOf[units.Temperature]("temperature"),
	quantityOf[units.Angle]("angle"),
	quantityOf[units.Frequency]("frequency"),
	quantityOf[units.Density]("density"),
	quantityOf[units.Time]("time"),
	quantityOf[units.RatioSlope]("ratio_slope"),
	quantityOf[units.Damping]("damping"),
}

func quantityOf[Q units.Dimensional](kind string) Quantity {
	return Quantity{kind, reflect.TypeFor[Q](), func(text string) (any, error) {
		if err := units.Exact(Q(0), text); err != nil {
			return Q(0), err
		}
		return units.Parse[Q](text)
	}}
}

// Quantities returns every kind of quantity of the case format. The result is a copy.
func Quantities() []Quantity { return slices.Clone(quantities) }

// QuantityNamed returns the kind of quantity of that name, and reports whether it exists.
func QuantityNamed(kind string) (Quantity, bool) {
	return quantityWhere(func(q Quantity) bool { return q.Kind == kind })
}

// QuantityOf returns the kind of quantity of a type of package units, and reports whether there is
// one.
func QuantityOf(t reflect.Type) (Quantity, bool) {
	return quantityWhere(func(q Quantity) bool { return q.goal == t })
}

func quantityWhere(is func(Quantity) bool) (Quantity, bool) {
	if i := slices.IndexFunc(quantities, is); i >= 0 {
		return quantities[i], true
	}
	return Quantity{}, false
}

// Parse parses a text such as "25.4 mm" and returns a value of the quantity's type in package
// units. Of the spellings of a unit the case format has the symbols alone; see [units.Exact].
func (q Quantity) Parse(text string) (any, error) { return q.parse(text) }

// Value parses a text such as "25.4 mm" and returns the value in SI. It reports false for a text
// that is no value of the quantity.
func (q Quantity) Value(text string) (float64, bool) {
	v, err := q.parse(text)
	return reflect.ValueOf(v).Float(), err == nil // the value is 0 where there is an error
}

// Of returns a value in SI as the quantity's type in package units.
func (q Quantity) Of(si float64) any { return reflect.ValueOf(si).Convert(q.goal).Interface() }

// Difference parses a text as the difference of two values of the quantity and returns it in SI:
// "0.5 °C" is half a kelvin. It reports false for a text that is no such difference.
func (q Quantity) Difference(text string) (float64, bool) {
	number, unit, ok := SplitQuantity(text)
	if !ok {
		return 0, false
	}
	size, ok := q.scale(unit)
	if !ok || math.IsInf(number*size, 0) {
		return 0, false
	}
	return number * size, true
}

// scale returns the SI size of one unit, as a difference: 1 for "°C", 5/9 for "°F". It reports
// false for a unit of another quantity.
func (q Quantity) scale(unit string) (float64, bool) {
	if q.Kind == "temperature" {
		size, ok := map[string]float64{"K": 1, "°C": 1, "degC": 1, "°F": 1 / 1.8, "degF": 1 / 1.8}[unit]
		return size, ok
	}
	return q.Value("1 " + unit)
}

var leadingNumber = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?`)

// SplitQuantity splits a text such as "204.18 N/mm" into its number and its unit, which may be
// empty. It reports false if the text does not begin with a number, or if the number overflows a
// float64.
func SplitQuantity(text string) (number float64, unit string, ok bool) {
	text = strings.TrimSpace(text)
	n := len(leadingNumber.FindString(text))
	number, err := strconv.ParseFloat(text[:n], 64)
	return number, strings.TrimLeft(text[n:], " \t\u00a0\u202f"), err == nil
}
