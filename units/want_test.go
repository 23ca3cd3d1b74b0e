package units_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

func TestWantInEnglish(t *testing.T) {
	for _, test := range []struct {
		want units.Want
		text string
	}{
		{units.MoreThan(0), "more than 0"},
		{units.LessThan(50 * mm), "less than 50 mm"},
		{units.AtLeast(3), "3 or more"},
		{units.AtMost(1.5), "at most 1.5"},
		{units.Exactly(2), "exactly 2"},
		{units.From(10*mm, 20*mm), "from 10 mm to 20 mm"},
		{units.AtLeast(0).And(units.LessThan(1)), "0 or more and less than 1"},
		{units.AtMost(1).And(units.AtLeast(0)), "at most 1 and 0 or more"},
		{units.MoreThan(0).And(units.LessThan(50 * mm).Of("mean_diameter")), "more than 0 and less than mean_diameter 50 mm"},
		{units.AtLeast(1 * mm).Of("preload_min"), "preload_min 1 mm or more"},
		{units.From(3, 1000).Of("most"), "from 3 to most 1000"},
		{units.AtLeast(3).Count("readings"), "3 readings or more"},
		{units.From(1, 12).Count("points"), "from 1 to 12 points"},
		{units.Exactly(5).Count("values"), "exactly 5 values"},
		{units.Exactly(5).Of("stroke").Count("values"), "as many values as stroke has, 5"},
		{units.LessThan(28 * mm).With("where it locks"), "less than 28 mm, where it locks"},
		{units.OneOf("plain", "ground"), "one of plain, ground"},
		{units.OneOf("wire, drawn", "ground"), "one of wire, drawn; ground"},
		{units.OneOf("job/1"), `"job/1"`},
		{units.Needs("rate"), "rate"},
		{units.Needs("rate", "law"), "one of rate, law"},
		{units.Without("rate", "law"), "nothing beside rate and law"},
		{units.Want{OneOf: []string{"bore", "shaft"}, Meant: []string{"bore"}}, "one of bore, shaft; did you mean bore?"},
		{units.Want{Text: "a sentence", OneOf: []string{"a", "b"}, Meant: []string{"a"}, Note: "a note"}, "a sentence, a note"},
		{units.Want{}, ""},
	} {
		if got := test.want.String(); got != test.text {
			t.Errorf("got %q, want %q", got, test.text)
		}
	}
}

// What a Want is made from is not changed by what is added to the copy.
func TestWantIsAValue(t *testing.T) {
	room := units.AtMost(3)
	room.Limits = slices.Grow(room.Limits, 8)
	_, _ = room.And(units.AtLeast(1)), room.Of("other").With("a note").Count("things")
	if got := room.And(units.MoreThan(2)).String() + "; " + room.String(); got != "at most 3 and more than 2; at most 3" {
		t.Error(got)
	}
}

func TestFaultsAreData(t *testing.T) {
	locks := units.NewClass("locks", "it locks", units.ErrRange)
	deep := units.NewClass("deep", "deep", locks)
	for _, test := range []struct {
		fault units.FieldError
		want  string
	}{
		{units.FieldError{Package: "coil", Field: "wire_diameter", Value: 60 * mm, Want: units.MoreThan(0).And(units.LessThan(50 * mm).Of("mean_diameter")), Class: units.ErrConflict},
			`{"code":"conflict","package":"coil","field":"wire_diameter","value":"60 mm","want":"more than 0 and less than mean_diameter 50 mm",` +
				`"limits":[{"is":"more_than","value":0},{"is":"less_than","value":"50 mm","of":"mean_diameter"}]}`},
		{units.FieldError{Field: "shelf", Value: 1001, Want: units.AtMost(1000).Count("springs"), Class: units.ErrRange},
			`{"code":"range","field":"shelf","value":1001,"want":"at most 1000 springs","limits":[{"is":"at_most","value":1000}],"counts":"springs"}`},
		{units.FieldError{Field: "stroke", Value: 1.0 / 3 * units.Metre, Want: units.LessThan(2.0 / 3 * units.Metre).With("a note"), Class: locks},
			`{"code":"locks","kind":"range","field":"stroke","value":"333.3333333333333 mm","given":"333.3 mm","want":"less than 666.7 mm, a note","limits":[{"is":"less_than","value":"666.6666666666666 mm"}]}`},
		{units.FieldError{Field: "x", Want: units.Needs("a", "b"), Class: deep}, `{"code":"deep","kind":"range","field":"x","want":"one of a, b","needs":["a","b"]}`},
		{units.FieldError{Field: "x", Value: true, Want: units.Without("a"), Class: units.ErrConflict}, `{"code":"conflict","field":"x","value":true,"want":"nothing beside a","without":["a"]}`},
		{units.FieldError{Field: "x", Value: "y", Want: units.Want{OneOf: []string{"a", "b"}, Meant: []string{"a"}}, Class: units.ErrUnknown},
			`{"code":"unknown","field":"x","value":"y","want":"one of a, b; did you mean a?","one_of":["a","b"],"meant":["a"]}`},
		{units.FieldError{Value: math.NaN(), Want: units.From(math.Inf(-1), 5)}, `{"code":"other","field":"","value":"NaN","want":"from -Inf to 5","limits":[{"is":"at_least","value":"-Inf"},{"is":"at_most","value":5}]}`},
		{units.FieldError{Value: units.Length(math.NaN()), Want: units.Want{Text: "more"}}, `{"code":"other","field":"","value":"NaN mm","want":"more"}`},
		{units.FieldError{Value: units.AbsolutePressure(-1), Want: units.Want{Text: "more"}}, `{"code":"other","field":"","value":"-0.001 kPa(a)","want":"more"}`},
		{units.FieldError{Value: json.Number("1e999"), Want: units.Want{Text: "less"}}, `{"code":"other","field":"","value":"1e999","want":"less"}`},
		{units.FieldError{Value: json.Number(strings.Repeat("1", 64) + "…"), Want: units.Want{Text: "less"}}, `{"code":"other","field":"","value":"` + strings.Repeat("1", 64) + `…","want":"less"}`},
		{units.FieldError{Value: strings.Repeat("x", 65), Want: units.Want{Text: "less"}}, `{"code":"other","field":"","value":"` + strings.Repeat("x", 64) + `…","want":"less"}`},
		{units.FieldError{Value: []float64{1, 2}, Want: units.Want{Text: "less"}}, `{"code":"other","field":"","value":"[1 2]","want":"less"}`},
	} {
		text, err := json.Marshal(test.fault)
		if err != nil || string(text) != test.want {
			t.Errorf("got %s, %v\nwant %s", text, err, test.want)
		}
		var back units.FieldError
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		want := strings.Replace(test.want, `"given":"333.3 mm",`, "", 1) // of a text all is shown
		if again, err := json.Marshal(&back); err != nil || string(again) != want {
			t.Errorf("%s is read and written as %s, %v", text, again, err)
		}
		for _, class := range []*units.Class{units.ErrRange, units.ErrUnknown, units.ErrConflict, locks} {
			if class != locks && errors.Is(&back, class) != errors.Is(&test.fault, class) || test.fault.Class == locks && !errors.Is(&back, locks) {
				t.Errorf("%s is read as of class %v", text, back.Class)
			}
		}
	}
	if err := json.Unmarshal([]byte(`{"code": 1}`), new(units.FieldError)); err == nil {
		t.Error("a code that is a number is read")
	}
}

func TestClassesHaveCodes(t *testing.T) {
	codes := []string{"range", "unit", "syntax", "missing", "conflict", "unknown"}
	for i, class := range sentinels {
		if class.Code() != codes[i] || class.Error() == "" || class.Unwrap() != nil {
			t.Errorf("%v has the code %q, want %q", class, class.Code(), codes[i])
		}
	}
	kind, base := units.NewClass("locks", "it locks", units.ErrRange), error(units.ErrRange)
	if kind.Code() != "locks" || kind.Error() != "it locks" || !errors.Is(kind, units.ErrRange) || errors.Is(kind, units.ErrUnit) || errors.Is(base, kind) {
		t.Errorf("a class of range: %v", kind)
	}
	if !errors.Is(kind, units.NewClass("locks", "", nil)) || errors.Is(kind, io.EOF) {
		t.Error("a class is not known by its code")
	}
	var none *units.Class
	if (&units.ParseError{}).Unwrap() != nil {
		t.Error("an error without a class has one")
	}
	if none.Code() != "other" || none.Unwrap() != nil || (&units.FieldError{}).Unwrap() != nil {
		t.Error("without a class there is a code or a cause")
	}
}

func TestFaultsOfErrorsWithoutAField(t *testing.T) {
	for _, test := range []struct {
		err  error
		want []string
	}{
		{nil, nil},
		{bad("a"), []string{"range: a something else"}},
		{fmt.Errorf("x: %w", bad("a")), []string{"range: a something else"}},
		{io.EOF, []string{"other:  EOF"}},
		{fmt.Errorf("the load: %w", units.ErrMissing), []string{"missing:  the load: missing"}},
		{errors.Join(bad("a"), errors.Join(io.EOF, bad("b"))), []string{"range: a something else", "other:  EOF", "range: b something else"}},
		{fmt.Errorf("x: %w", errors.Join(bad("a"), bad("b"))), []string{"range: a something else", "range: b something else"}},
		{errors.New(strings.Repeat("x", 1025)), []string{"other:  " + strings.Repeat("x", 1024) + "…"}},
	} {
		var got []string
		for _, f := range units.Faults(test.err) {
			got = append(got, f.Class.Code()+": "+f.Field+" "+f.Want.String())
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%v (-want +got):\n%s", test.err, diff)
		}
	}
}

func ExampleWant() {
	c := units.Checker{Package: "coil"}
	c.Fail("wire_diameter", 60*units.Millimetre, units.MoreThan(0).And(units.LessThan(50*units.Millimetre).Of("mean_diameter")), units.ErrConflict)
	c.Fail("shelf", 1001, units.AtMost(1000).Count("springs"), units.ErrRange)
	c.Fail("ends", "flat", units.OneOf("plain", "squared"), units.ErrUnknown)
	c.Fail("load", nil, "a load that the spring carries", units.ErrMissing)
	fmt.Println(c.Err())
	for _, limit := range units.Fields(c.Err())[0].Want.Limits {
		fmt.Printf("%s %v %q\n", limit.Is, limit.Value, limit.Of)
	}
	// Output:
	// coil: wire_diameter 60 mm: want more than 0 and less than mean_diameter 50 mm
	// coil: shelf 1001: want at most 1000 springs
	// coil: ends "flat": want one of plain, squared
	// coil: load: want a load that the spring carries
	// more_than 0 ""
	// less_than 50 mm "mean_diameter"
}

func ExampleFaults() {
	err := newTube(tube{Outer: 36 * units.Millimetre, Inner: 38 * units.Millimetre})
	text, _ := json.MarshalIndent(map[string]any{"faults": units.Faults(err)}, "", "  ")
	fmt.Println(string(text))
	// Output:
	// {
	//   "faults": [
	//     {
	//       "code": "range",
	//       "package": "tube",
	//       "field": "inner_diameter",
	//       "value": "38 mm",
	//       "want": "more than 0 mm and less than 36 mm",
	//       "limits": [
	//         {
	//           "is": "more_than",
	//           "value": "0 mm"
	//         },
	//         {
	//           "is": "less_than",
	//           "value": "36 mm"
	//         }
	//       ]
	//     }
	//   ]
	// }
}

func ExampleNewClass() {
	locks := units.NewClass("locks", "locks inside its stroke", units.ErrRange)
	err := error(&units.FieldError{Field: "stroke", Value: 60 * units.Millimetre, Want: units.LessThan(55 * units.Millimetre), Class: locks})
	fmt.Println(units.Fields(err)[0].Class.Code(), errors.Is(err, locks), errors.Is(err, units.ErrRange))
	// Output: locks true true
}
