package evaluate_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// often reports whether a text that may be as good as another is tried: one in
// eight where every push runs them.
func often(i int) bool { return *hostile > 1<<20 || i%8 == 0 }

// slow logs, with -v, how long a text took.
func slow(t *testing.T, name string, from time.Time) {
	if took := time.Since(from); testing.Verbose() && took > 100*time.Millisecond {
		t.Logf("%v: %s", took.Round(time.Millisecond), name)
	}
}

// mostError is the longest text of an error, in bytes: about 4 kB, the last fault
// that fits, and before each line the file and the case.
const mostError = 10_000

// finite returns where v holds NaN or an infinity, nil where it does not.
func finite(v reflect.Value) error {
	switch {
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			if err := finite(v.Index(i)); err != nil {
				return fmt.Errorf("[%d]%w", i, err)
			}
		}
	case v.CanFloat():
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf(" is %v", f)
		}
	case v.CanInt(), v.Kind() == reflect.String:
	default:
		return fmt.Errorf(" is a %v", v.Type())
	}
	return nil
}

// judge runs a computation and checks what every one must keep: a result of finite
// values, or one short error that names what is wrong. It reports which of the two.
func judge(t *testing.T, name, computes string, given []byte) (refused bool) {
	t.Helper()
	start := time.Now()
	r, err := evaluate.Compute(refdata.Case{Computes: computes, Given: given})
	slow(t, name, start)
	if (err == nil) == (r == nil) {
		t.Errorf("%s: result %v, error %v", name, r, err)
	}
	for output, v := range r {
		if fault := finite(reflect.ValueOf(v)); fault != nil {
			t.Errorf("%s: %s%v", name, output, fault)
		}
	}
	if err == nil {
		return false
	}
	if wrong := unitstest.Refusal(err, mostError); wrong != "" {
		t.Errorf("%s: %s: %.300v", name, wrong, err)
	}
	return true
}

// Every computation refuses what is no object of its fields.
func TestHostileTextsAreRefused(t *testing.T) {
	for _, computes := range evaluate.Computations() {
		for name, doc := range unitstest.Hostile(*hostile / 16) {
			if name = computes + ": " + name; !judge(t, name, computes, doc) {
				t.Errorf("%s is not refused", name)
			}
		}
	}
	deep := `{"law":` + strings.Repeat(`{"series":[`, 50000) + strings.Repeat(`]}`, 50000) + `}`
	if !judge(t, "deep series", "spring.law", []byte(deep)) {
		t.Error("springs in series 50 000 deep are not refused")
	}
}

// Whatever one thing of a file is changed to, its cases are read and judged, or
// there is one short error.
func TestSpoiledFiles(t *testing.T) {
	text := file(`{"source":{"title":"T","edition":"3rd","year":1999,"where":"p. 4","url":"u"},"standing":"published","cases":[
		{"id":"a","computes":"units.convert","given":{"kind":"length","value":"1 in"},
		 "expect":{"value":"25.4 mm","list":[1,["2 mm"],-3.5]},"tolerance":{"*":1e-12,"value":"0.05 mm"},"second":"s","note":"n"},
		{"id":"b","computes":"units.convert","given":{},"error":["kind","value"]}]}`)
	i := 0
	for spoilt := range unitstest.Spoiled([]byte(text), min(*hostile/8, refdata.CaseLimit-2*len(text)), "given", "expect", "tolerance") {
		if i++; !spoilt.Bad && !often(i) {
			continue
		}
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() {
			var c refdata.Case
			for c, err = range refdata.CasesFrom("f.json", bytes.NewReader(spoilt.Text)) {
				if err != nil {
					break
				}
				o := evaluate.Run(c)
				if text := o.Failure(); len(text) > 20*refdata.CaseLimit || o.Pass() != (text == "") {
					t.Errorf("%s: passed %v, described in %d bytes", spoilt.Name, o.Pass(), len(text))
				}
			}
		})
		slow(t, spoilt.Name, start)
		if wrong := unitstest.Refusal(err, mostError); wrong != "" && (err != nil || spoilt.Bad) {
			t.Errorf("%s: %s: %.200v", spoilt.Name, wrong, err)
		}
		if most := 150*len(spoilt.Text) + 1<<20; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", spoilt.Name, n, len(spoilt.Text), most)
		}
	}
}

// Whatever one thing that a case gives is changed to, what comes out is finite,
// or there is one short error. One case of each computation is tried.
func TestSpoiledCases(t *testing.T) {
	tried := map[string]bool{}
	i := 0
	for _, c := range cases(t) {
		if tried[c.Computes] || len(c.Error) > 0 {
			continue
		}
		tried[c.Computes] = true
		for spoilt := range unitstest.Spoiled(c.Given, min(*hostile/32, refdata.CaseLimit-2*len(c.Given)), "points", "bodies") {
			if i++; !spoilt.Bad && !often(i) {
				continue
			}
			name, refused := c.Computes+": "+spoilt.Name, false
			n := unitstest.Allocated(func() { refused = judge(t, name, c.Computes, spoilt.Text) })
			if spoilt.Bad && !refused {
				t.Errorf("%s is not refused", name)
			}
			if most := 250*len(spoilt.Text) + 1<<21; n > most {
				t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(spoilt.Text), most)
			}
		}
	}
	if len(tried) != len(evaluate.Computations()) {
		t.Errorf("%d computations are tried of %d", len(tried), len(evaluate.Computations()))
	}
}

// Lists that a case gives are bounded, wherever they stand.
func TestListsOfACaseAreBounded(t *testing.T) {
	list := func(value string, n int) string { return strings.TrimSuffix(strings.Repeat(value+",", n), ",") }
	for _, row := range []struct{ computes, given, field string }{
		{"spring.law", `{"law":{"linear":{"rate":"50 N/mm","travel":"60 mm"}},"at":[` + list(`"5 mm"`, 1001) + `]}`, "at"},
		{"spring.law", `{"law":{"parallel":[{"law":{"series":[` + list("{}", 1001) + `]}}]},"at":["0 mm"]}`, "law.parallel[0].law.series"},
		{"sag.bands", `{"rates":[` + list(`"5 N/mm"`, 1001) + `]}`, "rates"},
		{"linkage.mechanism", `{"mechanism":{"bodies":{"a.b":[` + list(`"A"`, 1001) + `]}}}`, `mechanism.bodies["a.b"]`},
	} {
		_, err := evaluate.Compute(refdata.Case{Computes: row.computes, Given: []byte(row.given)})
		if f := units.Fields(err); len(f) != 1 || f[0].Field != row.field || f[0].Class != units.ErrRange {
			t.Errorf("%s: %.300v, want %s", row.computes, err, row.field)
		}
	}
	most := `{"law":{"linear":{"rate":"50 N/mm","travel":"60 mm"}},"at":[` + list(`"5 mm"`, 1000) + `]}`
	if _, err := evaluate.Compute(refdata.Case{Computes: "spring.law", Given: []byte(most)}); err != nil {
		t.Error(err)
	}
}

// wild is how many inputs drawn at random are tried for each case.
var wild = flag.Int("wild", 1, "inputs drawn at random for each case")

// What comes of inputs with several values at an extreme is finite, or refused
// in one short error.
func TestWildCases(t *testing.T) {
	for _, c := range cases(t) {
		for spoilt := range unitstest.Wild(c.Given, *wild, 1<<14) {
			judge(t, c.ID+" "+c.Computes+": "+spoilt.Name, c.Computes, spoilt.Text)
		}
	}
}
