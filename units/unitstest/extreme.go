package unitstest

import (
	"fmt"
	"iter"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

// What [Extreme] puts in the place of a number: extremes, and parts and multiples of what is there.
var (
	extremes = []float64{5e-324, 1e-310, 1e-307, 1e-150, 1e-30, 1e-9, 1, 1e9, 1e30, 1e150, 1e300, math.MaxFloat64}
	parts    = []float64{1e-6, 1e-3, 0.999999, 1.000001, 1e3, 1e6}
)

// Extreme yields copies of a value in which numbers are next to nothing, subnormal ones among them,
// or enormous: each number alone at each of 18 extremes, and then n copies with two to four of them
// changed at random. Each copy comes with the changed fields and their values. A number is a
// float64, whatever its type, in exported fields at any depth of structs, pointers, slices and
// arrays; a pointer to a struct that has other fields is shared with the original. The sequence is
// the same every time.
func Extreme[T any](valid T, n int) iter.Seq2[string, T] {
	return func(yield func(string, T) bool) {
		fields, choices := len(numbers(reflect.ValueOf(&valid), "")), len(extremes)+len(parts)
		for i := range fields {
			for which := range choices {
				if !yield(changed(valid, map[int]int{i: which})) {
					return
				}
			}
		}
		rng := rand.New(rand.NewPCG(1, 2))
		for range n {
			changes := map[int]int{}
			for range 2 + rng.IntN(3) {
				changes[rng.IntN(fields)] = rng.IntN(choices)
			}
			if !yield(changed(valid, changes)) {
				return
			}
		}
	}
}

// changed returns a copy of a value with some of its numbers changed, and says which. The changes
// are from the number's index to that of the extreme.
func changed[T any](valid T, changes map[int]int) (string, T) {
	deep := reflect.New(reflect.TypeFor[T]())
	deep.Elem().Set(deepCopy(reflect.ValueOf(&valid).Elem()))
	var says []string
	for i, one := range numbers(deep, "") {
		which, ok := changes[i]
		switch {
		case !ok:
			continue
		case which < len(extremes):
			one.value.SetFloat(extremes[which])
		default:
			one.value.SetFloat(one.value.Float() * parts[which-len(extremes)])
		}
		says = append(says, strings.TrimPrefix(fmt.Sprintf("%s = %g", one.path, one.value.Float()), " = "))
	}
	return strings.Join(says, ", "), *deep.Interface().(*T)
}

// number is a number that can be set, and where it is.
type number struct {
	path  string
	value reflect.Value
}

// numbers lists the numbers within v.
func numbers(v reflect.Value, path string) (list []number) {
	switch v.Kind() {
	case reflect.Float64:
		list = []number{{strings.TrimPrefix(path, "."), v}}
	case reflect.Struct:
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				list = append(list, numbers(v.Field(i), path+"."+field.Name)...)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			list = append(list, numbers(v.Index(i), fmt.Sprintf("%s[%d]", path, i))...)
		}
	case reflect.Pointer:
		if copied(v) {
			list = numbers(v.Elem(), path)
		}
	}
	return list
}

// copied reports whether a pointer is not nil and all that it points to can be copied.
func copied(pointer reflect.Value) bool {
	t := pointer.Type().Elem()
	for i := 0; t.Kind() == reflect.Struct && i < t.NumField(); i++ {
		if !t.Field(i).IsExported() {
			return false
		}
	}
	return !pointer.IsNil()
}

// deepCopy returns a copy of v that has numbers of its own.
func deepCopy(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(deepCopy(v.Field(i)))
			}
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			out.Index(i).Set(deepCopy(v.Index(i)))
		}
	case reflect.Pointer:
		if copied(v) {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(deepCopy(v.Elem()))
		}
	}
	return out
}

// FiniteOrRefused checks that ask answers every input of [Extreme] with finite numbers, see
// [Infinite], or refuses it with an error that names a field. It takes all inputs and 10 000 drawn
// ones if [Long] is true, and every third of all with 500 drawn ones if not. One failure is reported
// for each place. An ask that refuses every input is a failure too.
func FiniteOrRefused[S, A any](t testing.TB, name string, valid S, ask func(S) (A, error)) {
	t.Helper()
	n, each, i := 500, 3, -1
	if Long() {
		n, each = 10000, 1
	}
	answered, reported := false, map[string]bool{}
	report := func(what, input string) {
		if !reported[what] {
			reported[what] = true
			t.Errorf("%s%s, with %s", name, what, input)
		}
	}
	for input, spec := range Extreme(valid, n) {
		if i++; i%each != 0 {
			continue
		}
		answer, err := ask(spec)
		switch {
		case err == nil:
			answered = true
			if found := Infinite(answer); found != "" {
				report(found, input)
			}
		case len(units.Fields(err)) == 0:
			report(": an error that names no field", input+": "+err.Error())
		}
	}
	if !answered {
		t.Errorf("%s: every input is refused", name)
	}
}
