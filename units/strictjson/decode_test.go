package strictjson_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
	"example.com/wheelrate/units/unitstest"
)

// The types below have the shapes of what the library decodes; the numbers
// mean nothing.

type canister struct {
	Bore     units.Length        `json:"bore"`
	Fill     units.GaugePressure `json:"fill,omitempty"`
	Spacers  int                 `json:"spacers,omitempty"`
	Exponent float64             `json:"exponent,omitempty"`
}

type end struct {
	Air   *canister `json:"air,omitempty"`
	Shelf []struct {
		Rate units.Stiffness `json:"rate"`
	} `json:"shelf,omitempty"`
	Sag float64 `json:"sag"`
}

type choice struct {
	canister                     // flattened
	MaxFill  units.GaugePressure `json:"max_fill"`
}

type finish int

var errFinish = errors.New("no such finish")

func (f *finish) UnmarshalText(text []byte) error {
	switch string(text) {
	case "plain":
		*f = 1
	case "ground":
		*f = 2
	default:
		return &units.FieldError{Package: "elsewhere", Field: "finish", Want: units.Want{Text: "one of plain, ground"}, Class: units.ErrUnknown}
	}
	return nil
}

type moody string // refuses everything, with an error of its own

func (*moody) UnmarshalText([]byte) error { return fmt.Errorf("never: %w", errFinish) }

type scarce string // refuses with a class of package units

func (*scarce) UnmarshalText([]byte) error { return fmt.Errorf("none: %w", units.ErrMissing) }

// either is a number or an object, so it reads itself.
type either struct{ inner canister }

func (e *either) UnmarshalJSON(data []byte) error {
	return strictjson.Unmarshal("either", data, &e.inner)
}

type everything struct {
	Front  end                        `json:"front"`
	Rear   *end                       `json:"rear"`
	Points map[string][2]units.Length `json:"points"`
	Choice *choice                    `json:"choice"`
	Name   string                     `json:"name"`
	Sag    float64                    `json:"sag"`
	On     bool                       `json:"on"`
	Small  int8                       `json:"small"`
	Count  uint16                     `json:"count"`
	Big    uint64                     `json:"big"`
	Single float32                    `json:"single"`
	Finish finish                     `json:"finish"`
	Moody  moody                      `json:"moody"`
	Scarce scarce                     `json:"scarce"`
	Raw    json.RawMessage            `json:"raw"`
	Raws   map[string]json.RawMessage `json:"raws"`
	Either either                     `json:"either"`
	Next   *everything                `json:"next"`
	Warm   *units.Temperature         `json:"warm"`
	Titled string                     // by its Go name
	Hidden string                     `json:"-"`
}

// exported lets cmp see unexported fields.
var exported = cmp.Exporter(func(reflect.Type) bool { return true })

const allNames = "one of front, rear, points, choice, name, sag, on, small, count, big, single, finish, moody, scarce, raw, raws, either, next, warm, Titled"

// fault is a FieldError in a form that tables can hold.
type fault struct {
	Field string
	Value any
	Want  string
	Class error
}

func TestDecodesEveryKindOfField(t *testing.T) {
	const text = ` {
  "front": {"air": {"bore": "36 mm", "fill": "72 psi", "spacers": 2, "exponent": 1.3}, "sag": 0.2},
  "rear": {"shelf": [{"rate": "450 lbf/in"}, {"rate": "80 N/mm"}], "sag": 3e-1},
  "points": {"A": ["-438 mm", "28 mm"], "": ["0 m", "1 in"]},
  "choice": {"bore": "35 mm", "max_fill": "300 psi"},
  "name": "a\"\\\/\b\f\n\r\té😀\ud83d\ude00\u0041", "on": true,
  "small": -128, "count": 65535, "big": 18446744073709551615, "single": -2.5E+3,
  "finish": "ground", "raw": [1, {"a": null} ], "raws": {"rate": 1e3, "name": "x"},
  "either": {"bore": "1 mm"}, "next": {"front": {"sag": 0}, "on": false}, "warm": "20 °C", "Titled": "yes"
}` + "\r\n"
	warm := units.Celsius(20)
	want := everything{
		Front:  end{Air: &canister{36 * units.Millimetre, units.PSIGauge(72), 2, 1.3}, Sag: 0.2},
		Rear:   &end{Sag: 0.3},
		Points: map[string][2]units.Length{"A": {-438 * units.Millimetre, 28 * units.Millimetre}, "": {0, units.Inch}},
		Choice: &choice{canister{Bore: 35 * units.Millimetre}, units.PSIGauge(300)},
		Name:   "a\"\\/\b\f\n\r\té😀😀A", On: true, Small: -128, Count: 65535, Big: math.MaxUint64, Single: -2500,
		Finish: 2, Raw: json.RawMessage(`[1, {"a": null} ]`),
		Raws:   map[string]json.RawMessage{"rate": json.RawMessage("1e3"), "name": json.RawMessage(`"x"`)},
		Either: either{canister{Bore: units.Millimetre}}, Next: &everything{}, Warm: &warm, Titled: "yes",
	}
	want.Rear.Shelf = make([]struct {
		Rate units.Stiffness `json:"rate"`
	}, 2)
	want.Rear.Shelf[0].Rate, want.Rear.Shelf[1].Rate = 450*units.PoundForcePerInch, 80*units.NewtonPerMillimetre

	var got everything
	if err := strictjson.Decode("job", strings.NewReader(text), int64(len(text)), &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, exported); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}

	// encoding/json reads the same: the text is ordinary JSON.
	var ordinary everything
	if err := json.Unmarshal([]byte(text), &ordinary); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(ordinary, got, exported); diff != "" {
		t.Errorf("(-encoding/json +got):\n%s", diff)
	}
}

func TestKeepsWhatIsNotGiven(t *testing.T) {
	got := end{Air: &canister{Bore: 36 * units.Millimetre, Spacers: 3}, Sag: 0.2}
	air := got.Air
	if err := strictjson.Unmarshal("job", []byte(`{"air": {"spacers": 1}}`), &got); err != nil {
		t.Fatal(err)
	}
	if got.Air != air || *air != (canister{Bore: 36 * units.Millimetre, Spacers: 1}) || got.Sag != 0.2 {
		t.Errorf("got %+v %+v", got, *got.Air)
	}
	if err := strictjson.Unmarshal("job", []byte(`{"air": null}`), &got); err == nil || got.Air != air {
		t.Errorf("null left %v, %v", got.Air, err)
	}

	// Slices and maps are made anew, not merged.
	points := map[string]int{"old": 1}
	if err := strictjson.Unmarshal("job", []byte(`{"new": 2}`), &points); err != nil || !cmp.Equal(points, map[string]int{"new": 2}) {
		t.Errorf("map %v, %v", points, err)
	}
	list := []int{1, 2, 3}
	kept := list
	if err := strictjson.Unmarshal("job", []byte(`[9]`), &list); err != nil || !cmp.Equal(list, []int{9}) || kept[0] != 1 {
		t.Errorf("slice %v, was %v, %v", list, kept, err)
	}
}

func TestFaultsNameTheirFields(t *testing.T) {
	const airNames = "one of bore, fill, spacers, exponent"
	for _, test := range []struct {
		name string
		json string
		want []fault
	}{
		{"unknown field", `{"front": {"air": {"boar": "36 mm"}}}`, []fault{{"front.air.boar", nil, airNames, units.ErrUnknown}}},
		{"unknown in an embedded struct", `{"choice": {"bare": 1}}`, []fault{{"choice.bare", nil, "one of bore, fill, spacers, exponent, max_fill; did you mean bore?", units.ErrUnknown}}},
		{"unknown, and what is near is given", `{"choice": {"bare": 1, "bore": "1 m"}}`, []fault{{"choice.bare", nil, "one of bore, fill, spacers, exponent, max_fill", units.ErrUnknown}}},
		{"hidden field", `{"front": {"shelf": [{"Hidden": "x"}]}}`, []fault{{"front.shelf[0].Hidden", nil, "no other field than rate", units.ErrUnknown}}},
		{"given twice", `{"name": "a", "name": 5}`, []fault{{"name", nil, "the field only once", units.ErrConflict}}},
		{"given twice, once with an escape", `{"name": "a", "n\u0061me": "b"}`, []fault{{"name", nil, "the field only once", units.ErrConflict}}},
		{"point given twice", `{"points": {"A": ["1 m", "1 m"], "A": {}}}`, []fault{{"points.A", nil, "the field only once", units.ErrConflict}}},
		{"number for a length", `{"front": {"air": {"bore": 36}}}`, []fault{{"front.air.bore", json.Number("36"), `a unit, in quotes: "36 mm" or "36 in"?`, units.ErrUnit}}},
		{"null for a length", `{"front": {"air": {"bore": null}}}`, []fault{{"front.air.bore", nil, `a length such as "46 mm", not null`, units.ErrSyntax}}},
		{"object for a length", `{"front": {"air": {"bore": {"mm": [36]}}}}`, []fault{{"front.air.bore", nil, `a length such as "46 mm", not an object`, units.ErrSyntax}}},
		{"no unit", `{"front": {"air": {"bore": "36"}}}`, []fault{{"front.air.bore", "36", "a unit: 36 mm or 36 in?", units.ErrUnit}}},
		{"another unit", `{"front": {"air": {"bore": "36 psi"}}}`, []fault{{"front.air.bore", "36 psi", `a length in one of mm, cm, m, in, ft ("psi" is a unit of gauge pressure)`, units.ErrUnit}}},
		{"no number", `{"front": {"air": {"bore": "NaN mm"}}}`, []fault{{"front.air.bore", "NaN mm", "a length in one of mm, cm, m, in, ft (no number)", units.ErrSyntax}}},
		{"too large a number", `{"front": {"air": {"bore": "1e999 m"}}}`, []fault{{"front.air.bore", "1e999 m", "a length in one of mm, cm, m, in, ft (number too large)", units.ErrRange}}},
		{"below absolute zero", `{"warm": "-300 °C"}`, []fault{{"warm", "-300 °C", "a temperature in one of °C, K, °F (below absolute zero)", units.ErrRange}}},
		{"text for a number", `{"front": {"sag": "29"}}`, []fault{{"front.sag", "29", "a number", units.ErrSyntax}}},
		{"per cent of what is no number", `{"front": {"sag": "x29 %"}}`, []fault{{"front.sag", "x29 %", "a number", units.ErrSyntax}}},
		{"per cent with a comma", `{"front": {"sag": "2,9 %"}}`, []fault{{"front.sag", "2,9 %", "a number", units.ErrSyntax}}},
		{"per cent of nothing", `{"front": {"sag": "%"}}`, []fault{{"front.sag", "%", "a number", units.ErrSyntax}}},
		{"per cent of too much", `{"front": {"sag": "1e999 %"}}`, []fault{{"front.sag", "1e999 %", "a number", units.ErrSyntax}}},
		{"a unit that is near", `{"front": {"air": {"bore": "36 mmm"}}}`, []fault{{"front.air.bore", "36 mmm", `a length in one of mm, cm, m, in, ft (unknown unit "mmm"); 36 mm?`, units.ErrUnit}}},
		{"too large for a float64", `{"front": {"sag": -1e999}}`, []fault{{"front.sag", json.Number("-1e999"), "a number of at most 1.8e+308 either side of 0", units.ErrRange}}},
		{"too large for a float32", `{"single": 1e39}`, []fault{{"single", json.Number("1e39"), "a number of at most 3.4e+38 either side of 0", units.ErrRange}}},
		{"too large for an int8", `{"small": 128}`, []fault{{"small", json.Number("128"), "a whole number from -128 to 127", units.ErrRange}}},
		{"too large for any int", `{"small": -99999999999999999999}`, []fault{{"small", json.Number("-99999999999999999999"), "a whole number from -128 to 127", units.ErrRange}}},
		{"below a uint64", `{"big": -1}`, []fault{{"big", json.Number("-1"), "a whole number from 0 to 18446744073709551615", units.ErrRange}}},
		{"fraction for a whole number", `{"front": {"air": {"spacers": 2.0}}}`, []fault{{"front.air.spacers", json.Number("2.0"), "a whole number", units.ErrSyntax}}},
		{"text for true", `{"on": "true"}`, []fault{{"on", "true", "true or false", units.ErrSyntax}}},
		{"number for a text", `{"name": 1.50}`, []fault{{"name", json.Number("1.50"), "a string", units.ErrSyntax}}},
		{"null for a pointer", `{"front": {"air": null}, "warm": null}`, []fault{
			{"front.air", nil, "an object, not null", units.ErrSyntax}, {"warm", nil, `a temperature such as "46 °C", not null`, units.ErrSyntax}}},
		{"null for a list", `{"front": {"shelf": null}}`, []fault{{"front.shelf", nil, "a list, not null", units.ErrSyntax}}},
		{"object for a list", `{"front": {"shelf": {}}}`, []fault{{"front.shelf", nil, "a list, not an object", units.ErrSyntax}}},
		{"list for an object", `{"front": []}`, []fault{{"front", nil, "an object, not a list", units.ErrSyntax}}},
		{"text for an array", `{"points": {"A": "1 m"}}`, []fault{{"points.A", "1 m", "a list of 2", units.ErrSyntax}}},
		{"array too short", `{"points": {"A": ["1 m"]}}`, []fault{{"points.A", 1, "exactly 2 values", units.ErrSyntax}}},
		{"array too long", `{"points": {"A": ["1 m", "2 m", "3 m", {}]}}`, []fault{{"points.A", 4, "exactly 2 values", units.ErrSyntax}}},
		{"element of an array", `{"points": {"A": ["1 m", "2"]}}`, []fault{{"points.A[1]", "2", "a unit: 2 mm or 2 in?", units.ErrUnit}}},
		{"element of a list", `{"rear": {"shelf": [{"rate": "1 N/m"}, {}, {"rate": "450"}]}}`, []fault{{"rear.shelf[2].rate", "450", "a unit: 450 N/mm or 450 lbf/in?", units.ErrUnit}}},
		{"enumeration", `{"finish": "polished"}`, []fault{{"finish", "polished", "one of plain, ground", units.ErrUnknown}}},
		{"number for an enumeration", `{"finish": 1}`, []fault{{"finish", json.Number("1"), "a string, one of plain, ground", units.ErrSyntax}}},
		{"error of another kind", `{"moody": "x"}`, []fault{{"moody", "x", "another value: never: no such finish", units.ErrSyntax}}},
		{"error of another kind, with a class", `{"scarce": "x"}`, []fault{{"scarce", "x", "another value: none: missing", units.ErrMissing}}},
		{"inside what reads itself", `{"either": {"bore": 1, "x": 2}}`, []fault{
			{"either.bore", json.Number("1"), `a unit, in quotes: "1 mm" or "1 in"?`, units.ErrUnit}, {"either.x", nil, airNames, units.ErrUnknown}}},
		{"the whole of what reads itself", `{"either": 5}`, []fault{{"either", json.Number("5"), "an object", units.ErrSyntax}}},
		{"the root", `[]`, []fault{{"", nil, "an object, not a list", units.ErrSyntax}}},
		{"the root is null", `null`, []fault{{"", nil, "an object, not null", units.ErrSyntax}}},
		{"all elements, and the length", `{"points": {"A": [1, 2, 3]}}`, []fault{
			{"points.A[0]", json.Number("1"), `a unit, in quotes: "1 mm" or "1 in"?`, units.ErrUnit},
			{"points.A[1]", json.Number("2"), `a unit, in quotes: "2 mm" or "2 in"?`, units.ErrUnit},
			{"points.A", 3, "exactly 2 values", units.ErrSyntax}}},
		{"names that would mislead", `{"a.b": 1, "": 1, "c\n": 1, "d[0]": 1, "Länge": 1}`, func() []fault {
			var list []fault
			for _, field := range []string{`["a.b"]`, `[""]`, `["c\n"]`, `["d[0]"]`, "Länge"} {
				list = append(list, fault{field, nil, allNames, units.ErrUnknown})
			}
			return list
		}()},
	} {
		var v everything
		err := strictjson.Unmarshal("job", []byte(test.json), &v)
		var got []fault
		for _, f := range units.Fields(err) {
			got = append(got, fault{f.Field, f.Value, f.Want.String(), f.Class})
			if !errors.Is(err, f.Class) {
				t.Errorf("%s: errors.Is(%v, %v) is false", test.name, err, f.Class)
			}
		}
		if diff := cmp.Diff(test.want, got, cmp.Comparer(func(a, b error) bool { return a == b })); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// What is sound is read even where something else isn't.
func TestReadsAroundFaults(t *testing.T) {
	var v everything
	err := strictjson.Unmarshal("job", []byte(`{"name": "kept", "x": [[{}]], "name": "second", "front": {"sag": 1, "air": {"bore": 5, "spacers": 2}}, "count": 7`), &v)
	if len(units.Fields(err)) != 4 {
		t.Errorf("%v", err)
	}
	if v.Name != "kept" || v.Front.Sag != 1 || v.Front.Air.Spacers != 2 || v.Front.Air.Bore != 0 || v.Count != 7 {
		t.Errorf("got %+v", v)
	}
}

// A number in per cent is the decimal fraction, to the last bit. By the exact rules it is no number,
// and a unit has its symbols alone.
func TestPerCentIsAFraction(t *testing.T) {
	type fractions struct {
		Sag    float64      `json:"sag"`
		Single float32      `json:"single"`
		Share  *float64     `json:"share"`
		Wire   units.Length `json:"wire"`
		Count  int          `json:"count"`
	}
	for n := range 2001 {
		text := fmt.Sprintf("%d.%d", n/10, n%10)
		want, err := strconv.ParseFloat(fmt.Sprintf("%d.%03d", n/1000, n%1000), 64)
		if err != nil {
			t.Fatal(err)
		}
		for _, sign := range []string{" %", "%", "\u00a0% "} {
			var v fractions
			if err := strictjson.Unmarshal("job", []byte(`{"sag": "`+text+sign+`", "share": "-`+text+sign+`", "single": " `+text+sign+`"}`), &v); err != nil || v.Sag != want || *v.Share != -want || v.Single != float32(want) {
				t.Fatalf("%s%s is %v, %v", text, sign, v, err)
			}
		}
	}
	for _, text := range []string{`{"sag": "20 %"}`, `{"wire": "5 MM"}`, `{"wire": "5 inch"}`} {
		var loose, exact fractions
		if s, err := strictjson.Salvage("job", []byte(text), strictjson.Rules{}, &loose); err != nil || s.Join(nil) != nil || loose == (fractions{}) {
			t.Errorf("%s: %v", text, err)
		}
		s, err := strictjson.Salvage("job", []byte(text), strictjson.Rules{Exact: true}, &exact)
		if err != nil || len(units.Fields(s.Join(nil))) != 1 {
			t.Errorf("%s by the exact rules: %v", text, err)
		}
	}
	var v fractions
	if err := strictjson.Unmarshal("job", []byte(`{"count": "20 %", "wire": "20 %"}`), &v); len(units.Fields(err)) != 2 {
		t.Errorf("%v", err)
	}
}

// An input over its limit is refused after one byte more, and an error of the
// reader is wrapped.
func TestDecodeBoundsItsInput(t *testing.T) {
	const text = `{"sag": 0.25}`
	for _, test := range []struct {
		limit int64
		want  string // "" where it is read
	}{
		{int64(len(text)), ""}, {math.MaxInt64, ""},
		{int64(len(text)) - 1, "at most 12 bytes of JSON"}, {0, "at most 0 bytes of JSON"}, {-5, "at most 0 bytes of JSON"},
	} {
		var v end
		err := strictjson.Decode("job", iotest.OneByteReader(strings.NewReader(text)), test.limit, &v)
		if test.want == "" && (err != nil || v.Sag != 0.25) || test.want != "" && (!errors.Is(err, units.ErrRange) || err.Error() != "job: want "+test.want) {
			t.Errorf("with a limit of %d: sag %v, %v", test.limit, v.Sag, err)
		}
	}
	var v end
	err := strictjson.Decode("job", iotest.ErrReader(io.ErrClosedPipe), 100, &v)
	if !errors.Is(err, io.ErrClosedPipe) || len(units.Fields(err)) != 0 || !strings.HasPrefix(err.Error(), "job: ") {
		t.Errorf("error of the reader: %v", err)
	}
	if err := strictjson.Decode("job", strings.NewReader(""), 0, &v); !errors.Is(err, units.ErrSyntax) {
		t.Errorf("nothing at all: %v", err)
	}
	endless := &blanks{}
	if err := strictjson.Decode("job", endless, 1000, &v); !errors.Is(err, units.ErrRange) || endless.read > 1001 {
		t.Errorf("read %d bytes: %v", endless.read, err)
	}
}

// blanks is a reader of blanks that never ends, and counts them.
type blanks struct{ read int }

func (b *blanks) Read(p []byte) (int, error) {
	copy(p, bytes.Repeat([]byte(" "), len(p)))
	b.read += len(p)
	return len(p), nil
}

// A list gets the room that it needs at once, whatever is in its elements: an empty object of a long
// list costs its struct and no more.
func TestListsDoNotGrow(t *testing.T) {
	for text, n := range map[string]int{
		`[]`: 0, `[{}]`: 1, `[ {}, {} ]`: 2, `[{"a": "x,y"}, {"a": "[,{"}, {"a": "\",\\"}]`: 3, `[{"b": [{}, {}, {"b": []}]}, {"b": [{}]}]`: 2,
		"[" + strings.Repeat("{},", 9999) + "{}]": 10000,
	} {
		type node struct {
			A string   `json:"a"`
			B []node   `json:"b"`
			_ [90]byte // as large as a description of a spring
		}
		var list []node
		var err error
		used := unitstest.Allocated(func() { err = strictjson.Unmarshal("job", []byte(text), &list) })
		if err != nil || len(list) != n || cap(list) != n {
			t.Errorf("%.40s: %d of %d, want %d: %v", text, len(list), cap(list), n, err)
		}
		if most := 150*n + 1<<14; used > most {
			t.Errorf("%.40s: %d bytes, want at most %d", text, used, most)
		}
	}
	// Elements of one byte grow a list, and what is no list ends it.
	var digits []int
	if err := strictjson.Unmarshal("job", []byte("["+strings.Repeat("0,", 999)+"0]"), &digits); err != nil || len(digits) != 1000 {
		t.Errorf("%d digits, %v", len(digits), err)
	}
	if err := strictjson.Unmarshal("job", []byte("["+strings.Repeat(",", 1<<16)), &digits); err == nil || cap(digits) > 8 {
		t.Errorf("%d of nothing, %v", cap(digits), err)
	}
}
