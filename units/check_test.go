package units_test

import (
	"errors"
	"fmt"
	"io"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

const mm = units.Millimetre

var (
	nan = units.Length(math.NaN())
	inf = units.Length(math.Inf(1))
	neg = units.Length(math.Copysign(0, -1))
)

func TestChecksTakeTheirLimitsAndNoNaN(t *testing.T) {
	least, most := units.Length(5e-324), units.Length(math.MaxFloat64)
	between := func(c *units.Checker, field string, v units.Length) bool {
		return units.Between(c, field, v, 10*mm, 20*mm)
	}
	inside := func(c *units.Checker, field string, v units.Length) bool {
		return units.Inside(c, field, v, 10*mm, 20*mm)
	}
	for _, check := range []struct {
		name  string
		check func(*units.Checker, string, units.Length) bool
		good  []units.Length
		bad   []units.Length
		want  string
	}{
		{"Positive", units.Positive[units.Length], []units.Length{least, 1, most}, []units.Length{nan, inf, -inf, 0, neg, -least, -1, -most},
			"a finite value, more than 0"},
		{"NonNegative", units.NonNegative[units.Length], []units.Length{0, neg, least, 1, most}, []units.Length{nan, inf, -inf, -least, -1, -most},
			"a finite value, 0 or more"},
		{"Finite", units.Finite[units.Length], []units.Length{0, neg, least, -least, -1, most, -most}, []units.Length{nan, inf, -inf},
			"a finite value"},
		{"Between", between, []units.Length{10 * mm, 15 * mm, 20 * mm},
			[]units.Length{nan, inf, -inf, 0, 9.999 * mm, 20.001 * mm, -15 * mm, units.Length(math.Nextafter(0.01, 0)), units.Length(math.Nextafter(0.02, 1))},
			"from 10 mm to 20 mm"},
		{"Inside", inside, []units.Length{units.Length(math.Nextafter(0.01, 1)), 15 * mm, units.Length(math.Nextafter(0.02, 0))},
			[]units.Length{nan, inf, -inf, 0, 10 * mm, 20 * mm, 9.999 * mm, 20.001 * mm},
			"more than 10 mm and less than 20 mm"},
		{"Between nothing", func(c *units.Checker, field string, v units.Length) bool { return units.Between(c, field, v, nan, nan) }, nil,
			[]units.Length{nan, inf, 0, 1}, "from NaN mm to NaN mm"},
		{"Inside nothing", func(c *units.Checker, field string, v units.Length) bool { return units.Inside(c, field, v, 1, nan) }, nil,
			[]units.Length{nan, inf, 0, 1, 2}, "more than 1000 mm and less than NaN mm"},
	} {
		t.Run(check.name, func(t *testing.T) {
			for _, v := range check.good {
				c := units.Checker{Package: "spring"}
				if !check.check(&c, "travel", v) || !c.OK() || c.Err() != nil || c.Bad("travel") {
					t.Errorf("%v is refused: %v", v, c.Err())
				}
			}
			for _, v := range check.bad {
				c := units.Checker{Package: "spring"}
				if check.check(&c, "travel", v) || c.OK() || !c.Bad("travel") || c.Bad("rate") {
					t.Errorf("%v is not refused", v)
					continue
				}
				fields := units.Fields(c.Err())
				if len(fields) != 1 {
					t.Fatalf("%v gives %v", v, c.Err())
				}
				got := *fields[0]
				if got.Package != "spring" || got.Field != "travel" || got.Want.String() != check.want || got.Class != units.ErrRange {
					t.Errorf("%v gives %+v", v, got)
				}
				if value, ok := got.Value.(units.Length); !ok || math.Float64bits(float64(value)) != math.Float64bits(float64(v)) {
					t.Errorf("%v is reported as %v", v, got.Value)
				}
			}
		})
	}

	// Plain numbers are checked, and printed, all the same.
	c := units.Checker{Package: "sag"}
	units.Inside(&c, "sag", 1.29, 0, 1)
	if got := fmt.Sprint(c.Err()); got != "sag: sag 1.29: want more than 0 and less than 1" {
		t.Error(got)
	}
}

func TestCheckerCollectsFaults(t *testing.T) {
	var none units.Checker
	if !none.OK() || none.Err() != nil || none.Bad("") {
		t.Error("an empty checker found something")
	}
	none.Add("front", nil)
	if !none.OK() || none.Err() != nil {
		t.Error("nil is no fault")
	}

	c := units.Checker{Package: "sag"}
	units.Positive(&c, "travel", nan)
	c.Fail("ends", "polished", "one of plain, ground", units.ErrUnknown)
	c.Fail("spacers", -1, "0 or more", nil)
	inner := units.Checker{Package: "airspring"}
	units.Positive(&inner, "bore", -1*mm)
	inner.Fail("fill", nil, "a fill", units.ErrMissing)
	c.Add("front.air", inner.Err())
	c.Add("rear", io.EOF)
	want := []string{
		"sag: travel NaN mm: want a finite value, more than 0",
		`sag: ends "polished": want one of plain, ground`,
		"sag: spacers -1: want 0 or more",
		"airspring: front.air.bore -1 mm: want a finite value, more than 0",
		"airspring: front.air.fill: want a fill",
	}
	var got []string
	for _, f := range units.Fields(c.Err()) {
		got = append(got, f.Error())
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	for _, class := range []error{units.ErrRange, units.ErrUnknown, units.ErrMissing, io.EOF} {
		if !errors.Is(c.Err(), class) {
			t.Errorf("%v is not found", class)
		}
	}
	if errors.Is(c.Err(), units.ErrConflict) {
		t.Error("a class is found that no fault has")
	}
	for field, bad := range map[string]bool{"travel": true, "ends": true, "front.air.bore": true, "front.air.fill": true, "bore": false, "rear": false, "": false} {
		if c.Bad(field) != bad {
			t.Errorf("Bad(%q) = %v", field, !bad)
		}
	}
}

// A child names its part in front of every field, to any depth, and what it
// finds is found by its owner too.
func TestChildPrefixesThePath(t *testing.T) {
	c := units.Checker{Package: "sag"}
	front := c.Child("front")
	shelf := front.Element("shelf", 2)
	units.Positive(&shelf, "rate", units.Stiffness(-1))
	coil := front.Child("coil")
	if shelf.OK() || front.OK() || c.OK() || !coil.OK() {
		t.Errorf("OK: shelf %v, front %v, whole %v, coil %v", shelf.OK(), front.OK(), c.OK(), coil.OK())
	}
	coil.Add("law", &units.FieldError{Package: "spring", Field: "[1]", Want: units.Want{Text: "a spring"}, Class: units.ErrMissing})
	if !coil.Bad("law[1]") || !front.Bad("coil.law[1]") || !c.Bad("front.shelf[2].rate") || c.Bad("rate") {
		t.Errorf("Bad does not find what a child found: %v", c.Err())
	}
	var got []string
	for _, f := range units.Fields(c.Err()) {
		got = append(got, f.Field)
	}
	if diff := cmp.Diff([]string{"front.shelf[2].rate", "front.coil.law[1]"}, got); diff != "" {
		t.Error(diff)
	}
	if f := units.Fields(coil.Err()); len(f) != 1 || f[0].Field != "law[1]" {
		t.Errorf("the child's own error is %v", coil.Err())
	}
	if err := front.Err(); !errors.Is(err, units.ErrMissing) || !errors.Is(err, units.ErrRange) {
		t.Errorf("classes are lost: %v", err)
	}
}
