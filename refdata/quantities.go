package refdata

import (
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// quantity is one kind of quantity as a case file may hold it.
type quantity struct {
	kind  string // as "units.convert" calls it
	parse func(text string) (any, error)
	goal  reflect.Type
}

// quantities lists every kind of quantity a computation may take or give.
var quantities = []quantity{
	quantityOf("length", units.ParseLength),
	quantityOf("mass", units.ParseMass),
	quantityOf("force", units.ParseForce),
	quantityOf("stiffness", units.ParseStiffness),
	quantityOf("gauge_pressure", units.ParseGaugePressure),
	quantityOf("absolute_pressure", units.ParseAbsolutePressure),
	quantityOf("stress", units.ParseStress),
	quantityOf("volume", units.ParseVolume),
	quantityOf("area", units.ParseArea),
	quantityOf("torque", units.ParseTorque),
	quantityOf("energy", units.ParseEnergy),
	quantityOf("temperature", units.ParseTemperature),
	quantityOf("angle", units.ParseAngle),
	quantityOf("frequency", units.ParseFrequency),
	quantityOf("density", units.ParseDensity),
	quantityOf("time", units.ParseTime),
	quantityOf("ratio_slope", units.ParseRatioSlope),
}

func quantityOf[Q ~float64](kind string, parse func(string) (Q, error)) quantity {
	return quantity{kind: kind, goal: reflect.TypeFor[Q](), parse: func(text string) (any, error) {
		return parse(text)
	}}
}

// quantityByKind finds a quantity by its name, nil where there is none.
func quantityByKind(kind string) *quantity {
	for i := range quantities {
		if quantities[i].kind == kind {
			return &quantities[i]
		}
	}
	return nil
}

// quantityByType finds the quantity that a Go type stands for, nil where it
// stands for none.
func quantityByType(t reflect.Type) *quantity {
	for i := range quantities {
		if quantities[i].goal == t {
			return &quantities[i]
		}
	}
	return nil
}

// value reads text as this quantity, in SI.
func (q *quantity) value(text string) (float64, bool) {
	v, err := q.parse(text)
	if err != nil {
		return 0, false
	}
	return reflect.ValueOf(v).Float(), true
}

// scale returns the SI size of one unit, as a difference: 1 for "°C", 5/9 for
// "°F". It is false for a unit of another quantity.
func (q *quantity) scale(unit string) (float64, bool) {
	if q.kind == "temperature" {
		switch unit {
		case "K", "°C", "degC":
			return 1, true
		case "°F", "degF":
			return 1 / 1.8, true
		}
		return 0, false
	}
	return q.value("1 " + unit)
}

// difference reads text as a difference of two of this quantity, in SI:
// "0.5 °C" is half a kelvin.
func (q *quantity) difference(text string) (float64, bool) {
	number, unit, ok := splitNumber(text)
	if !ok {
		return 0, false
	}
	size, ok := q.scale(unit)
	if !ok || math.IsInf(number*size, 0) {
		return 0, false
	}
	return number * size, true
}

// show prints an SI value in the unit that expected is written in, and si
// meant as a difference where difference is set.
func (q *quantity) show(si float64, expected string, difference bool) string {
	_, unit, _ := splitNumber(expected)
	size, ok := q.scale(unit)
	if !ok {
		return strconv.FormatFloat(si, 'g', 12, 64) + " (SI)"
	}
	number, precision := si/size, 15
	switch {
	case difference:
		precision = 3
	case q.kind == "temperature":
		precision = 12 // taking the zero off cancels some digits
		if zero, ok := q.value("0 " + unit); ok {
			number -= zero / size
		}
	}
	return strconv.FormatFloat(number, 'g', precision, 64) + " " + unit
}

var leadingNumber = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?`)

// splitNumber cuts a text such as "204.18 N/mm" into its number and its unit,
// which may be missing.
func splitNumber(text string) (number float64, unit string, ok bool) {
	text = strings.TrimSpace(text)
	n := len(leadingNumber.FindString(text))
	number, err := strconv.ParseFloat(text[:n], 64)
	return number, strings.TrimLeft(text[n:], " \t\u00a0\u202f"), err == nil
}
