package strictjson

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// setText puts a JSON string into v.
func (d *decoder) setText(p *plan, v reflect.Value, s string) bool {
	switch p.kind {
	case asText:
		return d.refused(v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(s)), clipped(s))
	case asString:
		v.SetString(s)
		return true
	}
	return d.fail(clipped(s), p.want(), units.ErrSyntax)
}

// setBool puts true or false into v.
func (d *decoder) setBool(p *plan, v reflect.Value, b bool) bool {
	if p.kind != asBool {
		return d.fail(b, p.want(), units.ErrSyntax)
	}
	v.SetBool(b)
	return true
}

// setNumber puts a JSON number into v. An integer must be written as one.
func (d *decoder) setNumber(p *plan, v reflect.Value, s string) bool {
	whole := !strings.ContainsAny(s, ".eE")
	switch {
	case p.kind == asInt && whole:
		if n, err := strconv.ParseInt(s, 10, 64); err == nil && !v.OverflowInt(n) {
			v.SetInt(n)
			return true
		}
		bits := v.Type().Bits()
		return d.fail(numeral(s), fmt.Sprintf("a whole number from %d to %d", int64(-1)<<(bits-1), int64(math.MaxInt64)>>(64-bits)), units.ErrRange)
	case p.kind == asUint && whole:
		if n, err := strconv.ParseUint(s, 10, 64); err == nil && !v.OverflowUint(n) {
			v.SetUint(n)
			return true
		}
		return d.fail(numeral(s), fmt.Sprintf("a whole number from 0 to %d", uint64(math.MaxUint64)>>(64-v.Type().Bits())), units.ErrRange)
	case p.kind == asFloat:
		if x, err := strconv.ParseFloat(s, v.Type().Bits()); err == nil {
			v.SetFloat(x)
			return true
		}
		most := math.MaxFloat64
		if v.Kind() == reflect.Float32 {
			most = math.MaxFloat32
		}
		return d.fail(numeral(s), fmt.Sprintf("a number of at most %.2g either side of 0", most), units.ErrRange)
	}
	return d.fail(numeral(s), p.want(), units.ErrSyntax)
}

// want says what JSON a value of the type is written as.
func (p *plan) want() string {
	switch p.kind {
	case asStruct, asMap:
		return "an object"
	case asSlice:
		return "a list"
	case asArray:
		return fmt.Sprintf("a list of %d", p.typ.Len())
	case asString:
		return "a string"
	case asBool:
		return "true or false"
	case asInt, asUint:
		return "a whole number"
	case asFloat:
		return "a number"
	}
	return p.wantText() // only asText is left: values of the other shapes are never asked
}

// wantText asks a text type what it takes, by giving it nothing: a quantity
// then names its kind and its units, an enumeration its names.
func (p *plan) wantText() string {
	err := reflect.New(p.typ).Interface().(encoding.TextUnmarshaler).UnmarshalText(nil)
	if q, ok := errors.AsType[*units.ParseError](err); ok {
		unit, _, _ := strings.Cut(q.Want, ", ")
		return fmt.Sprintf(`%s such as "46 %s"`, article(q.Kind), unit)
	}
	if fields := units.Fields(err); len(fields) == 1 {
		return "a string, " + fields[0].Want
	}
	return "a string"
}
