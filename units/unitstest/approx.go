package unitstest

import (
	"fmt"
	"math"
	"reflect"

	"github.com/google/go-cmp/cmp"
)

// Approx lets go-cmp compare float64 values of every type, named ones such as
// the quantities of package units included, wherever they stand in what is
// compared. (EquateApprox of go-cmp takes float64 and float32 alone.)
//
// Values are equal where they differ by at most rel times the smaller of
// their magnitudes, for go-cmp does not know which of the two is wanted, or
// where they meet one of the other tolerances. One made with [Abs] holds for
// values of its own type only. NaN equals nothing unless [NaN] is given.
//
// Approx panics, as the options of go-cmp do, where a tolerance is negative or
// not finite.
func Approx(rel float64, or ...Tolerance) cmp.Option {
	tolerances := append([]Tolerance{Rel(rel)}, or...)
	for _, t := range tolerances {
		if wrong := t.wrong(t.quantity); wrong != "" {
			panic(fmt.Sprintf("unitstest: tolerance %s %s", t.text, wrong))
		}
	}
	return cmp.FilterValues(
		func(x, y any) bool {
			a, b := reflect.TypeOf(x), reflect.TypeOf(y)
			return a == b && a != nil && a.Kind() == reflect.Float64
		},
		cmp.Comparer(func(x, y any) bool {
			quantity := reflect.TypeOf(x)
			a, b := reflect.ValueOf(x).Float(), reflect.ValueOf(y).Float()
			scale := math.Min(math.Abs(a), math.Abs(b))
			for _, t := range tolerances {
				if (t.quantity == nil || t.quantity == quantity) && t.near(a, b, scale) {
					return true
				}
			}
			return false
		}),
	)
}
