package evaluate

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

func kindName(q *refdata.Quantity) string {
	if q == nil {
		return "number without unit"
	}
	return strings.ReplaceAll(q.Kind, "_", " ")
}

// brief returns a value for an error text, cut short if it is long.
func brief(v any) string {
	if list := reflect.ValueOf(v); list.IsValid() && list.Kind() == reflect.Slice && list.Len() > 4 {
		return fmt.Sprintf("a list of %d", list.Len())
	}
	return units.Clip(fmt.Sprint(v))
}

// defaultTolerance holds where a case says nothing.
var defaultTolerance = refdata.CaseTolerance{Relative: 1e-9}

// quantityOf returns the kind of quantity that a type holds, nil for none.
func quantityOf(t reflect.Type) *refdata.Quantity {
	if q, ok := refdata.QuantityOf(t); ok {
		return &q
	}
	return nil
}

// show prints an SI value of a quantity in the unit that expected is written in, or a number where
// q is nil. With difference set, si is the difference of two values.
func show(q *refdata.Quantity, si float64, expected string, difference bool) string {
	switch {
	case q == nil && difference:
		return strconv.FormatFloat(si, 'g', 3, 64)
	case q == nil:
		return fmt.Sprint(si)
	}
	_, unit, _ := refdata.SplitQuantity(expected)
	size, ok := q.Difference("1 " + unit)
	if !ok {
		return strconv.FormatFloat(si, 'g', 12, 64) + " (SI)"
	}
	number, precision := si/size, 15
	switch {
	case difference:
		precision = 3
	case q.Kind == "temperature":
		precision = 12 // taking the zero off cancels some digits
		if zero, ok := q.Value("0 " + unit); ok {
			number -= zero / size
		}
	}
	return strconv.FormatFloat(number, 'g', precision, 64) + " " + unit
}
