package unitstest

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"example.com/wheelrate/units"
)

// Tolerance says how far a value may be from the wanted one. Make one with
// [Rel] or [Abs], or use [Exact] or [NaN].
type Tolerance struct {
	relative float64
	absolute float64
	quantity reflect.Type // of absolute; nil for a relative tolerance
	nan      bool
	text     string
}

var (
	// Exact permits no difference; -0 and 0 are the same.
	Exact = Rel(0)
	// NaN lets NaN equal NaN, and nothing else.
	NaN = Tolerance{nan: true, text: "NaN"}
)

// Rel permits a difference of rel times the magnitude of the wanted value: 0
// where 0 is wanted. A negative or non-finite rel fails every comparison.
func Rel(rel float64) Tolerance {
	return Tolerance{relative: rel, text: fmt.Sprintf("%g relative", rel)}
}

// Abs permits a difference of up to d, a quantity of the very type compared.
// A negative or non-finite d fails every comparison.
func Abs[Q ~float64](d Q) Tolerance {
	return Tolerance{absolute: float64(d), quantity: reflect.TypeFor[Q](), text: difference(d)}
}

// wrong says what makes the tolerance useless for values of a type, or "".
func (t Tolerance) wrong(values reflect.Type) string {
	amount := t.relative
	if t.quantity != nil {
		amount = t.absolute
	}
	switch {
	case !(amount >= 0) || math.IsInf(amount, 0):
		return "is not finite and 0 or more"
	case t.quantity != nil && t.quantity != values:
		return fmt.Sprintf("is a %v, the values are %v", t.quantity, values)
	}
	return ""
}

// near tells whether a is within the tolerance of b, where scale is the
// magnitude that a relative tolerance is taken of.
func (t Tolerance) near(a, b, scale float64) bool {
	switch {
	case t.nan:
		return math.IsNaN(a) && math.IsNaN(b)
	case a == b:
		return true
	case math.IsInf(a, 0) || math.IsInf(b, 0):
		return false
	case t.quantity != nil:
		return math.Abs(a-b) <= t.absolute
	}
	return math.Abs(a-b) <= t.relative*scale
}

func anyNear(tolerances []Tolerance, a, b, scale float64) bool {
	for _, t := range tolerances {
		if t.near(a, b, scale) {
			return true
		}
	}
	return false
}

func join(tolerances []Tolerance) string {
	texts := make([]string, len(tolerances))
	for i, t := range tolerances {
		texts[i] = t.text
	}
	return strings.Join(texts, " or ")
}

// difference prints d as a difference. It has its unit, except that a
// difference of temperatures is in kelvin: as a temperature, one of 1 K would
// read -272.15 °C.
func difference[Q ~float64](d Q) string {
	if reflect.TypeFor[Q]() == reflect.TypeFor[units.Temperature]() {
		return fmt.Sprintf("%.3g K", float64(d))
	}
	return fmt.Sprintf("%.3g", d)
}
