package strictjson_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

type inner struct {
	A int `json:"a"`
	B int `json:"b"`
}

type Outer struct {
	C int `json:"c"`
	B int `json:"b"`
}

type loop struct {
	*Loop
	N int `json:"n"`
}

type Loop struct {
	*Loop
	M    int    `json:"m"`
	Next []Loop `json:"next"`
}

// Embedding and types are those of encoding/json.
func TestReadsTypesAsEncodingJSONDoes(t *testing.T) {
	type name string
	type small int
	type Small int
	type Length = units.Length
	type Tagged struct {
		X int `json:"X"`
	}
	type Untagged struct{ X int }
	type shadowing struct {
		inner
		*Outer
		B string `json:"b"`
	}
	for _, test := range []struct {
		json string
		into any // a pointer
	}{
		{`{"a": 1, "b": "mine", "c": 3}`, new(shadowing)}, // the outermost of one name counts
		{`{"a": 1}`, new(shadowing)},                      // an embedded pointer stays nil where nothing is given for it
		{`{"X": 4}`, new(struct { // of two that are equally deep, the one with a tag counts
			Untagged
			Tagged
		})},
		{`"1 mm"`, new(struct { // the embedded UnmarshalText is the struct's own
			Outer `json:"outer"`
			Length
		})},
		{`{"outer": {"c": 1}, "Small": 2}`, new(struct { // named, and no struct: fields
			Outer `json:"outer"`
			Small
			small
		})},
		{`{"n": 1, "m": 2, "next": [{"m": 3, "next": []}]}`, new(loop)}, // a type may embed itself through a pointer
		{`{"a": [1.5]}`, new(map[name][]float64)},
		{`[]`, new([]int)},
		{`[[1, 2], [3, 4]]`, new([][2]uint8)},
		{`"x"`, new(name)},
		{`"20 °C"`, new(units.Temperature)},
		{`{"rear": "1 N"}`, new(map[string]*units.Force)},
		{`"2026-01-02T03:04:05Z"`, new(time.Time)},
		{` [ 1 ] `, new([]*int)},
		{`{}`, new(struct{})},
		{`-0`, new(int)},
	} {
		want := reflect.New(reflect.TypeOf(test.into).Elem()).Interface()
		if err := json.Unmarshal([]byte(test.json), want); err != nil {
			t.Fatal(err)
		}
		if err := strictjson.Unmarshal("job", []byte(test.json), test.into); err != nil {
			t.Errorf("%s: %v", test.json, err)
		}
		if diff := cmp.Diff(want, test.into, exported); diff != "" {
			t.Errorf("%s (-encoding/json +got):\n%s", test.json, diff)
		}
	}
	var when time.Time // reads itself, and fails in its own words
	if f := units.Fields(strictjson.Unmarshal("job", []byte(`"noon"`), &when)); len(f) != 1 || f[0].Class != units.ErrSyntax || !strings.Contains(f[0].Want.String(), "noon") {
		t.Errorf("%v", f)
	}
	for into, want := range map[any]string{new(struct{}): "no field here", new(struct{ x int }): "no field here", new(Tagged): "no other field than X"} {
		if f := units.Fields(strictjson.Unmarshal("job", []byte(`{"x": 1}`), into)); len(f) != 1 || f[0].Field != "x" || f[0].Want.String() != want {
			t.Errorf("%T: %v", into, f)
		}
	}
}

type hidden struct{ X int }

type holder struct{ *hidden }

// Types that can't be read are the program's mistake, found whatever the input.
func TestUnsupportedTypes(t *testing.T) {
	type Twin struct{ X int }
	type twin struct{ X int }
	twice := reflect.StructOf([]reflect.StructField{
		{Name: "A", Type: reflect.TypeFor[int](), Tag: `json:"x"`},
		{Name: "B", Type: reflect.TypeFor[int](), Tag: `json:"x"`},
	})
	var nilPointer *end
	for _, test := range []struct {
		into any
		want string
	}{
		{new(any), "interface {} is not supported"},
		{new(map[string]any), "map[string]interface {}[]: the Go type interface {}"},
		{new(struct{ Deep []*struct{ F func() } }), ".Deep[].F: the Go type func()"},
		{new(map[int]string), "the Go type map[int]string"},
		{new(map[units.Length]string), "the Go type map[units.Length]string"},
		{new(chan int), "the Go type chan int"},
		{new(complex128), "the Go type complex128"},
		{new(uintptr), "the Go type uintptr"},
		{new([2]error), "the Go type error"},
		{new(struct {
			N int `json:"n,string"`
		}), `.N: the option "string"`},
		{new(struct{ *hidden }), "embedded pointer to the unexported strictjson_test.hidden"},
		{new(struct{ holder }), "embedded pointer to the unexported strictjson_test.hidden"},
		{new(struct {
			Outer struct{ Inner struct{ *hidden } }
		}), "embedded pointer to the unexported strictjson_test.hidden"},
		{new(struct {
			Twin
			twin
		}), `more than one field is named "X"`},
		{reflect.New(twice).Interface(), `more than one field is named "x"`},
		{end{}, "can't decode into a strictjson_test.end"},
		{nil, "can't decode into a <nil>"},
		{nilPointer, "can't decode into a *strictjson_test.end"},
	} {
		for _, text := range []string{`{}`, `nonsense`, ``} {
			err := strictjson.Unmarshal("job", []byte(text), test.into)
			if err == nil || !strings.Contains(err.Error(), test.want) || len(units.Fields(err)) != 0 {
				t.Errorf("%T from %q: %v, want %s", test.into, text, err, test.want)
			}
		}
	}
}

// Every quantity names itself and its units, with the right article.
func TestQuantitiesNameThemselves(t *testing.T) {
	for _, test := range []struct {
		into any
		want map[string]string // of a JSON value
	}{
		{new(units.Angle), map[string]string{`true`: `an angle such as "46 °"`, `"1 x"`: `an angle in one of °, rad (unknown unit "x")`, `1`: `a unit, in quotes: "1°"?`, `"1"`: "a unit: 1°?"}},
		{new(units.Energy), map[string]string{`true`: `an energy such as "46 J"`, `"1 x"`: `an energy in one of J, kJ, ft·lbf (unknown unit "x")`, `"1"`: "a unit: 1 J or 1 ft·lbf?"}},
		{new(units.AbsolutePressure), map[string]string{`true`: `an absolute pressure such as "46 kPa(a)"`,
			`"1 psi"`: `an absolute pressure in one of kPa(a), Pa(a), bar(a), psia, atm(a) ("psi" is a unit of gauge pressure)`, `1`: `a unit, in quotes: "1 kPa(a)" or "1 psia"?`}},
		{new(units.Frequency), map[string]string{`true`: `a frequency such as "46 Hz"`, `"1 x"`: `a frequency in Hz (unknown unit "x")`, `"1"`: "a unit: 1 Hz?"}},
		{new(units.RatioSlope), map[string]string{`true`: `a slope of a ratio such as "46 1/m"`, `"1 x"`: `a slope of a ratio in 1/m (unknown unit "x")`}},
		{new(units.Mass), map[string]string{`82`: `a unit, in quotes: "82 kg" or "82 lb"?`, `"82"`: "a unit: 82 kg or 82 lb?", `"1` + strings.Repeat("0", 40) + `"`: "a unit: one of kg, g, lb, oz",
			`"8,2 kg"`: "a mass in one of kg, g, lb, oz (comma in the number; write a decimal point and no separators); 8.2 kg?"}},
	} {
		for input, want := range test.want {
			fields := units.Fields(strictjson.Unmarshal("job", []byte(input), test.into))
			if len(fields) != 1 || fields[0].Want.String() != want {
				t.Errorf("%T from %s: %v, want %q", test.into, input, fields, want)
			}
		}
	}
}

// A type may be decoded by any number of goroutines from the first time on, and
// one that can't be is refused with the same error each time.
func TestTypesAreSharedByGoroutines(t *testing.T) {
	type once struct {
		Loop *Loop            `json:"loop"`
		Map  map[string][]int `json:"map"`
	}
	type never struct {
		Any any `json:"any"`
	}
	const readers = 8
	var (
		group sync.WaitGroup
		wrong [readers]error
		read  [readers]once
	)
	for i := range readers {
		group.Go(func() {
			wrong[i] = strictjson.Unmarshal("job", []byte(`{}`), new(never))
			text := fmt.Sprintf(`{"loop": {"m": %d, "next": [{"m": 1}, {}]}, "map": {"a": [%d]}}`, i, i)
			if err := strictjson.Unmarshal("job", []byte(text), &read[i]); err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	for i := range readers {
		if wrong[i] == nil || wrong[i] != wrong[0] {
			t.Errorf("reader %d: %v", i, wrong[i])
		}
		want := once{Loop: &Loop{M: i, Next: []Loop{{M: 1}, {}}}, Map: map[string][]int{"a": {i}}}
		if diff := cmp.Diff(want, read[i]); diff != "" {
			t.Error(diff)
		}
	}
}
