package strictjson

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// set decodes a scalar into v. An integer must be written without a point and an exponent.
func (d *decoder) set(p *plan, v reflect.Value, kind byte, text string) bool {
	var given any
	switch {
	case kind == '"' && p.kind == asText:
		err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
		if err == nil && d.rules.Exact {
			err = units.Exact(v.Interface(), text)
		}
		return err == nil || d.refused(err, units.Clip(text))
	case kind == '"' && p.kind == asFloat && !d.rules.Exact && setPercent(v, text):
		return true
	case kind == '"' && p.kind == asString:
		v.SetString(text)
		return true
	case kind == '"':
		given = units.Clip(text)
	case kind == '0':
		given = json.Number(units.Clip(text)) // printed without quotes
		if p.kind == asText {
			if q, ok := errors.AsType[*units.ParseError](p.refusal(text)); ok && len(q.Meant) > 0 {
				return d.fail(given, units.Want{Text: `a unit, in quotes: "` + strings.Join(q.Meant, `" or "`) + `"?`, Meant: q.Meant}, units.ErrUnit)
			}
		}
		if p.kind == asFloat || p.kind == asInt && !strings.ContainsAny(text, ".eE") {
			return json.Unmarshal([]byte(text), v.Addr().Interface()) == nil || d.fail(given, p.limits(), units.ErrRange)
		}
	case kind == 'n':
		return d.fail(nil, sentence(p.want()+", not null"), units.ErrSyntax)
	case p.kind == asBool:
		v.SetBool(text == "true")
		return true
	default:
		given = text == "true"
	}
	return d.fail(given, sentence(p.want()), units.ErrSyntax)
}

// setPercent sets a float to a text such as "20 %", which is 0.2, and reports whether it is one.
func setPercent(v reflect.Value, text string) bool {
	number, ok := strings.CutSuffix(strings.TrimSpace(text), "%")
	number = strings.TrimSpace(number)
	if !ok || strings.Trim(number, "+-.0123456789") != "" {
		return false
	}
	x, err := strconv.ParseFloat(number+"e-2", v.Type().Bits()) // rounded once
	if err == nil {
		v.SetFloat(x)
	}
	return err == nil
}

// limits returns the range of a number type.
func (p *plan) limits() units.Want {
	bits := p.typ.Bits()
	switch p.typ.Kind() {
	case reflect.Float32:
		return saying("a number of at most 3.4e+38 either side of 0", units.From(-math.MaxFloat32, math.MaxFloat32))
	case reflect.Float64:
		return saying("a number of at most 1.8e+308 either side of 0", units.From(-math.MaxFloat64, math.MaxFloat64))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return saying("a whole number %s", units.From(int64(-1)<<(bits-1), int64(math.MaxInt64)>>(64-bits)))
	}
	return saying("a whole number %s", units.From(0, uint64(math.MaxUint64)>>(64-bits)))
}

// saying returns w with another text, in which %s stands for its own.
func saying(text string, w units.Want) units.Want {
	w.Text = strings.Replace(text, "%s", w.String(), 1)
	return w
}

// wants are the JSON types of the shapes, in words.
var wants = map[shape]string{
	asStruct: "an object", asMap: "an object", asSlice: "a list", asString: "a string", asBool: "true or false",
	asInt: "a whole number", asFloat: "a number",
}

// refusal returns the error of a text type for a text.
func (p *plan) refusal(text string) error {
	return reflect.New(p.typ).Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
}

// want returns in words what JSON a value of the type is written as.
func (p *plan) want() string {
	if p.kind == asArray {
		return fmt.Sprintf("a list of %d", p.typ.Len())
	}
	if p.kind != asText {
		return wants[p.kind]
	}
	// A text type says what it takes when it gets nothing: a quantity names its kind and its units,
	// an enumeration its names.
	err := p.refusal("")
	if q, ok := errors.AsType[*units.ParseError](err); ok {
		unit, _, _ := strings.Cut(q.Want, ", ")
		return fmt.Sprintf(`%s such as "46 %s"`, article(q.Kind), unit)
	}
	if fields := units.Fields(err); len(fields) == 1 {
		return "a string, " + fields[0].Want.String()
	}
	return "a string"
}
