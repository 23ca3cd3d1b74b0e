package evaluate

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/wheelrate/refdata"
)

// Agreement is how one output of a case agrees with what is expected. Of a list it shows the
// element that agrees least.
type Agreement struct {
	Output    string  `json:"output"`              // its name, with the element's place in a list: "force[3]"
	Expected  string  `json:"expected,omitempty"`  // as the case has it
	Got       string  `json:"got,omitempty"`       // in the unit of Expected
	Deviation string  `json:"deviation,omitempty"` // got less expected, in the same unit
	Tolerance string  `json:"tolerance,omitempty"` // what was allowed
	Share     float64 `json:"share_of_tolerance"`  // the deviation as a share of the tolerance; at most 1 passes
	Digits    float64 `json:"agreeing_digits"`     // agreeing digits, −log₁₀ of the relative error, from 0 to 17; 17 for a value that is 0 within the tolerance
	Values    int     `json:"values"`              // how many values were compared
	Failed    int     `json:"failed"`              // how many of them failed
	Problem   string  `json:"problem,omitempty"`   // why it can't be compared; "" where it can
}

// Pass reports whether the output is as expected.
func (c Agreement) Pass() bool { return c.Failed == 0 && c.Problem == "" }

// allDigits stands for agreement to the last bit.
const allDigits = 17

// slack lets a deviation of exactly the tolerance pass, whatever the rounding of both to float64.
const slack = 1 + 1e-9

// compare returns how a computed output agrees with what is expected. The kind of quantity comes
// from what was computed.
func compare(output string, expected, got any, tolerances map[string]refdata.CaseTolerance) Agreement {
	tolerance, own := tolerances[output]
	if !own {
		var ok bool
		if tolerance, ok = tolerances["*"]; !ok {
			tolerance = defaultTolerance
		}
	}
	m := comparer{tolerance: tolerance, own: own, worst: Agreement{Output: output, Share: -1}}
	m.value(output, expected, reflect.ValueOf(got), 0)
	if m.worst.Values == 0 { // an empty list, as expected
		m.worst.Share, m.worst.Digits = 0, allDigits
		m.worst.Expected, m.worst.Got, m.worst.Tolerance = "an empty list", "an empty list", "the same length"
	}
	return m.worst
}

type comparer struct {
	tolerance refdata.CaseTolerance
	own       bool // the tolerance is for this output alone
	worst     Agreement
}

// value compares one value or, element by element, a list. Peak is the largest expected magnitude
// of the list that the value stands in.
func (m *comparer) value(at string, expected any, got reflect.Value, peak float64) {
	if m.worst.Problem != "" {
		return
	}
	list, isList := expected.([]any)
	switch {
	case !got.IsValid():
		m.problem(at, "the computation gives no value")
	case isList != (got.Kind() == reflect.Slice):
		m.problem(at, fmt.Sprintf("a list is compared with a single value (expected %s, got %s)", brief(expected), brief(got.Interface())))
	case isList && len(list) != got.Len():
		m.problem(at, fmt.Sprintf("%d values expected, got %d", len(list), got.Len()))
	case isList:
		peak := largest(list, got.Type().Elem())
		for i, e := range list {
			m.value(at+"["+strconv.Itoa(i)+"]", e, got.Index(i), peak)
		}
	default:
		m.single(at, expected, got, peak)
	}
}

// single compares a value that is no list.
func (m *comparer) single(at string, expected any, got reflect.Value, peak float64) {
	q := quantityOf(got.Type())
	text, isText := expected.(string)
	want, isNumber := expected.(float64)
	switch {
	case q != nil && isText:
		var ok bool
		if want, ok = q.Value(text); !ok {
			m.problem(at, fmt.Sprintf("expected %q is not a %s; got %v", text, kindName(q), got))
			return
		}
	case q != nil:
		m.problem(at, fmt.Sprintf("expected %v has no unit; got %v", expected, got))
		return
	case isText && got.Kind() == reflect.String:
		m.text(at, text, got.String())
		return
	case !isNumber || !got.CanFloat() && !got.CanInt():
		m.problem(at, fmt.Sprintf("expected %s and got %s are not of one kind", brief(expected), brief(got.Interface())))
		return
	}
	have := got.Convert(reflect.TypeFor[float64]()).Float()
	allowed, tolerance, ok := m.allowed(q, want, peak)
	if !ok {
		m.problem(at, fmt.Sprintf("tolerance %q is not a %s", m.tolerance.Absolute, kindName(q)))
		return
	}
	deviation := have - want
	share := math.MaxFloat64
	switch size := math.Abs(deviation); {
	case size == 0:
		share = 0
	case size <= allowed*slack: // NaN is not
		share = min(size/allowed, 1)
	case allowed > 0 && size/allowed < math.MaxFloat64:
		share = size / allowed
	}
	m.record(at, share, digits(deviation, want, peak, allowed), func(c *Agreement) {
		c.Expected = strings.TrimSpace(fmt.Sprint(expected))
		c.Got = show(q, have, c.Expected, false)
		c.Deviation = show(q, deviation, c.Expected, true)
		c.Tolerance = tolerance
	})
}

func (m *comparer) text(at, want, have string) {
	share, agreeing := 0.0, float64(allDigits)
	if want != have {
		share, agreeing = math.MaxFloat64, 0
	}
	m.record(at, share, agreeing, func(c *Agreement) {
		c.Expected, c.Got, c.Tolerance = strconv.Quote(want), strconv.Quote(have), "the same text"
	})
}

// record counts a value. If it is the worst so far, fill describes it.
func (m *comparer) record(at string, share, agreeing float64, fill func(*Agreement)) {
	c := &m.worst
	c.Values++
	if share > 1 {
		c.Failed++
	}
	if c.Values == 1 || agreeing < c.Digits {
		c.Digits = agreeing
	}
	if share > c.Share {
		c.Output, c.Share = at, share
		fill(c)
	}
}

func (m *comparer) problem(at, text string) {
	m.worst = Agreement{Output: at, Share: math.MaxFloat64, Values: m.worst.Values + 1, Failed: m.worst.Failed + 1, Problem: text}
}

// allowed returns the deviation permitted in SI and how to print it. It reports false for a
// tolerance of another quantity, unless that is the default of the whole case: the default of all
// cases holds instead.
func (m *comparer) allowed(q *refdata.Quantity, want, peak float64) (float64, string, bool) {
	t := m.tolerance
	if t.Absolute != "" {
		size, unit, ok := refdata.SplitQuantity(t.Absolute)
		if q != nil {
			size, ok = q.Difference(t.Absolute)
		} else {
			ok = ok && unit == ""
		}
		if ok || m.own {
			return size, t.String(), ok
		}
		t = defaultTolerance
	}
	if want == 0 && peak == 0 {
		return 0, "exact", true
	}
	if want == 0 {
		return t.Relative * peak, t.String() + " of the list's largest", true
	}
	return t.Relative * math.Abs(want), t.String(), true
}

// digits returns how many digits agree: −log₁₀ of the deviation relative to what is wanted, or to
// the list's largest where a 0 is wanted. Of a value that is 0 within its tolerance all agree.
func digits(deviation, want, peak, allowed float64) float64 {
	if want == 0 {
		want = peak
	}
	if deviation == 0 || math.Abs(deviation) <= allowed && math.Abs(want) <= allowed {
		return allDigits
	}
	d := -math.Log10(math.Abs(deviation / want))
	if !(d > 0) {
		return 0
	}
	return min(d, allDigits)
}

// largest returns the largest expected magnitude of a list, in SI.
func largest(list []any, elem reflect.Type) float64 {
	q := quantityOf(elem)
	peak := 0.0
	for _, e := range list {
		v, _ := e.(float64)
		if text, ok := e.(string); ok && q != nil {
			v, _ = q.Value(text)
		}
		peak = max(peak, math.Abs(v))
	}
	return peak
}
