package unitstest

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
)

// Infinite returns the place of a number within v that is NaN or infinite, with its value, or of a
// text that has such a number in it; "" if there is none. It looks into exported fields, slices,
// arrays, maps, pointers and interfaces, and at what exported methods return that take no argument
// or one number. That is 0, 1, and a third and the whole of what a method Travel or Stroke returns.
// An answer beside an error is ignored, and so are the methods of package units.
func Infinite(v any) string { return infinite(reflect.ValueOf(v), 0) }

// Deep results of methods lead on for ever.
const deepest = 12

func infinite(v reflect.Value, depth int) string {
	if depth > deepest {
		return ""
	}
	switch v.Kind() {
	case reflect.Invalid:
		return ""
	case reflect.Float64, reflect.Float32:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Sprintf(" = %v", f)
		}
		return ""
	case reflect.String:
		if text := v.String(); (strings.Contains(text, "NaN") || strings.Contains(text, "Inf")) && noNumber.MatchString(text) {
			return fmt.Sprintf(" = %q", text)
		}
		return ""
	case reflect.Struct:
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				if found := infinite(v.Field(i), depth+1); found != "" {
					return "." + field.Name + found
				}
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if found := infinite(v.Index(i), depth+1); found != "" {
				return fmt.Sprintf("[%d]%s", i, found)
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			if found := infinite(v.MapIndex(key), depth+1); found != "" {
				return fmt.Sprintf("[%v]%s", key, found)
			}
		}
	case reflect.Interface:
		return infinite(v.Elem(), depth+1)
	case reflect.Pointer:
		if v.IsNil() {
			return ""
		}
		if found := infinite(v.Elem(), depth+1); found != "" {
			return found
		}
	}
	return infiniteByMethod(v, depth)
}

// noNumber matches what is printed of a number that is not finite.
var noNumber = regexp.MustCompile(`\b(NaN|Inf)\b`)

// infiniteByMethod is infinite for what the methods of v return.
func infiniteByMethod(v reflect.Value, depth int) string {
	if !v.CanInterface() || strings.HasSuffix(v.Type().PkgPath(), "/units") {
		return ""
	}
	for i := range v.NumMethod() {
		method := v.Method(i)
		for _, arguments := range arguments(v, method.Type()) {
			out := method.Call(arguments)
			if err, ok := out[len(out)-1].Interface().(error); ok && err != nil {
				continue
			}
			for _, answer := range out {
				if answer.Type() == v.Type() { // such as a copy
					continue
				}
				if found := infinite(answer, depth+6); found != "" {
					var with []string
					for _, a := range arguments {
						with = append(with, fmt.Sprint(a.Interface()))
					}
					return fmt.Sprintf(".%s(%s)%s", v.Type().Method(i).Name, strings.Join(with, ", "), found)
				}
			}
		}
	}
	return ""
}

// arguments returns those with which a method of v is called; none if it is not to be called.
func arguments(v reflect.Value, method reflect.Type) (list [][]reflect.Value) {
	switch {
	case method.NumOut() == 0 || method.NumIn() > 1:
		return nil
	case method.NumIn() == 0:
		return [][]reflect.Value{nil}
	case method.In(0).Kind() != reflect.Float64:
		return nil
	}
	at := []float64{0, 1}
	for _, name := range []string{"Travel", "Stroke"} {
		if full := v.MethodByName(name); full.IsValid() && full.Type().NumIn() == 0 && full.Type().Out(0).Kind() == reflect.Float64 {
			x := full.Call(nil)[0].Float()
			at = append(at, x/3, x)
		}
	}
	for _, x := range at {
		list = append(list, []reflect.Value{reflect.ValueOf(x).Convert(method.In(0))})
	}
	return list
}
