package refdata_test

import (
	"reflect"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// A source is one line, with what is not given left out.
func TestSourceIsOneLine(t *testing.T) {
	for want, s := range map[string]refdata.Source{
		"":             {},
		"A handbook":   {Title: "A handbook"},
		"A, 2, p. 7":   {Title: "A", Edition: "2", Where: "p. 7"},
		"A, 2015":      {Title: "A", Year: 2015},
		"A, https://x": {Title: "A", URL: "https://x"},
		"A B, 3, 1999, table 1, https://x": {
			Title: "A\nB", Edition: "3", Year: 1999, Where: "table 1", URL: "https://x",
		},
	} {
		if got := s.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A tolerance says whether it is relative, or which quantity it is.
func TestToleranceSaysItsKind(t *testing.T) {
	for want, tolerance := range map[string]refdata.CaseTolerance{
		"relative 1e-09": {Relative: 1e-9},
		"relative 0":     {},
		"±0.5 N/mm":      {Absolute: "0.5 N/mm"},
	} {
		if got := tolerance.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Every kind of quantity is found by its name and by its type, reads what it
// prints, and refuses a unit of another kind.
func TestEveryKindOfQuantityIsFound(t *testing.T) {
	kinds := refdata.Quantities()
	if len(kinds) < 15 {
		t.Fatalf("%d kinds of quantity", len(kinds))
	}
	kinds[0].Kind = "spoiled"
	if refdata.Quantities()[0].Kind == "spoiled" {
		t.Error("the list is not the caller's own")
	}
	for _, q := range refdata.Quantities() {
		named, ok := refdata.QuantityNamed(q.Kind)
		if !ok || named.Kind != q.Kind {
			t.Errorf("%s is not found by its name", q.Kind)
		}
		if _, err := q.Parse("1 parsec/fortnight"); err == nil {
			t.Errorf("%s takes an unknown unit", q.Kind)
		}
	}
	force, ok := refdata.QuantityOf(reflect.TypeFor[units.Force]())
	if !ok || force.Kind != "force" {
		t.Errorf("the kind of a force is %q, %v", force.Kind, ok)
	}
	v, err := force.Parse("10 lbf")
	if f, is := v.(units.Force); err != nil || !is || f != 10*units.PoundForce {
		t.Errorf("10 lbf is %v, %v", v, err)
	}
	if _, ok := refdata.QuantityOf(reflect.TypeFor[string]()); ok {
		t.Error("a string is a quantity")
	}
	if _, ok := refdata.QuantityNamed("colour"); ok {
		t.Error("colour is a quantity")
	}
}
