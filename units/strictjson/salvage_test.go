package strictjson_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

type coil struct {
	Wire   units.Length    `json:"wire"`
	Free   *units.Length   `json:"free"`
	Coils  float64         `json:"coils"`
	Teeth  int             `json:"teeth"`
	Rates  []units.Force   `json:"rates"`
	Point  [2]units.Length `json:"point"`
	Finish string          `json:"finish"`
	Loads  map[string]struct {
		Load units.Force `json:"load"`
	} `json:"loads"`
}

// What was given and can't be read is NaN, as deep as it stands; what was not
// given stays as it is, and what has no NaN is zero.
func TestSalvageMarks(t *testing.T) {
	const text = `{"wire": "x", "coils": "six", "teeth": "x", "rates": ["1 N", 2], "point": ["1 m", true],
		"loads": {"a b": {"load": null}, "c": {"load": "3 N"}}}`
	var v coil
	s, err := strictjson.Salvage("job", []byte(text), strictjson.Rules{}, &v)
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string]float64{
		"wire": float64(v.Wire), "coils": v.Coils, "rates[1]": float64(v.Rates[1]), "point[1]": float64(v.Point[1]), "loads": float64(v.Loads["a b"].Load),
	} {
		if !math.IsNaN(x) {
			t.Errorf("%s is %v", name, x)
		}
	}
	if v.Free != nil || v.Teeth != 0 || v.Rates[0] != 1 || v.Point[0] != 1 || v.Loads["c"].Load != 3 {
		t.Errorf("%+v", v)
	}
	var plain coil
	if diff := cmp.Diff(strictjson.Unmarshal("job", []byte(text), &plain).Error(), s.Join(nil).Error()); diff != "" {
		t.Errorf("the faults are not those of Unmarshal:\n%s", diff)
	}
	if plain.Wire != 0 || plain.Coils != 0 {
		t.Errorf("Unmarshal marks: %+v", plain)
	}
	if s, err := strictjson.Salvage("job", []byte(`{"free": 5, "wire": "1 mm"}`), strictjson.Rules{}, &v); err != nil || !math.IsNaN(float64(*v.Free)) {
		t.Errorf("%v, %+v, %+v", err, v, s)
	}
}

func TestSalvageRefusesWhatIsNoJSON(t *testing.T) {
	var v coil
	for _, text := range []string{``, `{`, `{"wire": "x"`, `{"wire": "x"} 1`} {
		if s, err := strictjson.Salvage("job", []byte(text), strictjson.Rules{}, &v); err == nil || s != nil {
			t.Errorf("%q: %v, %v", text, s, err)
		}
	}
	if _, err := strictjson.Salvage("job", []byte(`{}`), strictjson.Rules{}, v); err == nil {
		t.Error("decoded into what is no pointer")
	}
}

func TestJoinLeavesOutWhatIsExplained(t *testing.T) {
	about := func(path string, value any, want string, class *units.Class) error {
		return &units.FieldError{Package: "p", Field: path, Value: value, Want: units.Want{Text: want}, Class: class}
	}
	says := func(path string, class *units.Class) error { return about(path, nil, "better", class) }
	const marked = `{"wire": "x", "coils": 5, "point": ["1 m", "x"], "rates": ["1 N"]}`  // wire and point[1] are NaN
	const unmarked = `{"wir": 1, "coils": 5, "free": "1 mm", "teeth": "x", "loads": {}}` // wir, near wire, and teeth
	const deep = `{"loads": {"c": {"load": "1 N"}, "a b": {"load": "3 N", "laod": 1}}, "weird thing": 1}`
	for _, row := range []struct {
		name, text string
		complaint  error
		want       []string // paths besides the faults
	}{
		{"none", marked, nil, nil},
		{"the field itself", marked, says("wire", units.ErrRange), nil},
		{"the field where it stands", marked, says("coil.coils", units.ErrRange), []string{"coil.coils"}},
		{"another", marked, says("coils", units.ErrRange), []string{"coils"}},
		{"a list with it", marked, says("point", units.ErrConflict), nil},
		{"another element", marked, says("point[0]", units.ErrRange), []string{"point[0]"}},
		{"an unnamed one", marked, says("", units.ErrConflict), nil},
		{"two at once", marked, errors.Join(says("wire", units.ErrRange), says("coils", units.ErrRange)), []string{"coils"}},
		{"twice", marked, errors.Join(says("coils", units.ErrRange), says("coils", units.ErrRange)), []string{"coils"}},
		{"two about one field", marked, errors.Join(says("coils", units.ErrRange), about("coils", 5, "whole", units.ErrRange)), []string{"coils", "coils"}},
		{"missing", marked, says("free", units.ErrMissing), []string{"free"}},
		{"contradictory to another", marked, about("free", 1, "less than coils", units.ErrConflict), []string{"free"}},
		{"contradictory to what is at fault", marked, about("free", 1, "more than wire 5 mm", units.ErrConflict), nil},
		{"a limit that is at fault", marked, about("free", 1, "more than NaN mm", units.ErrRange), nil},
		{"worked out from what is at fault", marked, about("free", units.Length(math.NaN()), "more than 1 mm", units.ErrRange), nil},
		{"a name that only begins so", marked, about("free", 1, "more than wires", units.ErrConflict), []string{"free"}},
		{"out of range", unmarked, says("coils", units.ErrRange), []string{"coils"}},
		{"what was probably meant", unmarked, says("wire", units.ErrMissing), nil},
		{"what was probably meant, as a limit", unmarked, about("coils", 5, "a wire beside it", units.ErrMissing), nil},
		{"what was probably meant, elsewhere", unmarked, says("loads.c.wire", units.ErrMissing), nil},
		{"missing beside it", unmarked, says("rates", units.ErrMissing), []string{"rates"}},
		{"given, and contradictory beside it", unmarked, about("free", 1, "better", units.ErrConflict), nil},
		{"given, and without its partner beside it", unmarked, about("free", 1, "better", units.ErrMissing), nil},
		{"contradictory in another object", deep, about("loads.c.load", 1, "better", units.ErrConflict), []string{"loads.c.load"}},
		{"what was probably meant is given", deep, about(`loads["a b"].load`, 1, "better", units.ErrConflict), []string{`loads["a b"].load`}},
		{"contradictory beside what is unknown", deep, about("free", 1, "better", units.ErrConflict), []string{"free"}},
	} {
		var v coil
		s, err := strictjson.Salvage("job", []byte(row.text), strictjson.Rules{}, &v)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range units.Fields(s.Join(row.complaint)) {
			if f.Package == "p" {
				got = append(got, f.Field)
			}
		}
		if diff := cmp.Diff(row.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
		if all := units.Fields(s.Join(row.complaint)); len(all) != len(got)+2 {
			t.Errorf("%s: the text's own two faults became %v", row.name, all)
		}
	}
	var v coil
	whole, err := strictjson.Salvage("job", []byte(`{"wire": "1 mm"}`), strictjson.Rules{}, &v)
	if other := errors.New("other"); err != nil || whole.Join(other) != other || whole.Join(nil) != nil {
		t.Errorf("a text without fault changes an error: %v", whole.Join(other))
	}
}

// By the exact rules a fault that is not NaN leaves only what is out of range whatever the fault is.
func TestExactRulesNameOnlyWhatIsSure(t *testing.T) {
	says := func(path string, class *units.Class) error {
		return &units.FieldError{Package: "p", Field: path, Want: units.Want{Text: "better"}, Class: class}
	}
	const marked = `{"wire": "x", "coils": 5, "point": ["1 m", "x"], "rates": ["1 N"]}`    // wire and point[1]
	const unmarked = `{"wired": 1, "coils": 5, "free": "1 mm", "teeth": "x", "loads": {}}` // wired and teeth
	const strange = `{"wired": 1, "colour": 2, "coils": 5}`                                // both, and more than one misspelling explains
	const deep = `{"wired": 1, "teeth": "x", "rates": ["1 N", "2 N"], "loads": {"c": {"load": "1 N"}, "a b": {"load": "3 N"}}, "finish": "x"}`
	for _, row := range []struct {
		name, text string
		complaint  error
		want       []string // paths besides the faults
	}{
		{"none", marked, nil, nil},
		{"the field itself", marked, says("wire", units.ErrRange), nil},
		{"the field where it stands", marked, says("coil.coils", units.ErrRange), []string{"coil.coils"}},
		{"another", marked, says("coils", units.ErrRange), []string{"coils"}},
		{"a list with it", marked, says("point", units.ErrConflict), nil},
		{"another element", marked, says("point[0]", units.ErrRange), []string{"point[0]"}},
		{"an unnamed one", marked, says("", units.ErrConflict), nil},
		{"two at once", marked, errors.Join(says("wire", units.ErrRange), says("coils", units.ErrRange)), []string{"coils"}},
		{"out of range", unmarked, says("coils", units.ErrRange), []string{"coils"}},
		{"out of range, a text", unmarked, says("free", units.ErrRange), []string{"free"}},
		{"out of range, in a list", deep, says("rates[1]", units.ErrRange), []string{"rates[1]"}},
		{"out of range, beyond a list", deep, says("rates[2]", units.ErrRange), nil},
		{"out of range, in an object", deep, says(`loads["a b"].load`, units.ErrRange), []string{`loads["a b"].load`}},
		{"out of range, in another object", deep, says("loads.a.load", units.ErrRange), nil},
		{"out of range, in no object", deep, says("finish.load", units.ErrRange), nil},
		{"out of range, but not given", unmarked, says("wire", units.ErrRange), nil},
		{"out of range, an object", unmarked, says("loads", units.ErrRange), nil},
		{"missing", unmarked, says("wire", units.ErrMissing), nil},
		{"contradictory", unmarked, says("free", units.ErrConflict), nil},
		{"missing, two unknown", strange, says("wire", units.ErrMissing), []string{"wire"}},
		{"0 for a missing one, two unknown", strange, says("wire", units.ErrRange), []string{"wire"}},
		{"contradictory, two unknown", strange, says("coils", units.ErrConflict), nil},
	} {
		var v coil
		s, err := strictjson.Salvage("job", []byte(row.text), strictjson.Rules{Exact: true}, &v)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range units.Fields(s.Join(row.complaint)) {
			if f.Package == "p" {
				got = append(got, f.Field)
			}
		}
		if diff := cmp.Diff(row.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
		if all := units.Fields(s.Join(row.complaint)); len(all) != len(got)+2 {
			t.Errorf("%s: the text's own two faults became %v", row.name, all)
		}
	}
}

// A complaint that a fault of the text explains is left out: about the field at
// fault, what holds it, what is in it, or its name alone.
func TestFaultsExplainComplaints(t *testing.T) {
	type air struct {
		Bore units.Length `json:"bore"`
	}
	type ends struct {
		Front, Rear struct{ Air air }
		Curve       struct {
			Table struct{ Stroke []units.Length }
		}
		Mechanism struct{ Points map[string][2]units.Length }
		Points    map[string][2]units.Length
	}
	for _, row := range []struct {
		complaint, text string
		explained       bool
	}{
		{"Front.Air.bore", `{"Front": {"Air": {"bore": "x"}}}`, true},
		{"bore", `{"Front": {"Air": {"bore": "x"}}}`, true},      // the constructor does not know where it stands
		{"Air", `{"Front": {"Air": {"bore": "x"}}}`, false},      // the middle of a path says nothing
		{"Front.Air", `{"Front": {"Air": {"bore": "x"}}}`, true}, // what holds it
		{"Front.Air.bore", `{"Front": {"Air": "x"}}`, true},      // what is in it
		{"Stroke", `{"Curve": {"Table": {"Stroke": ["0 mm", "1 mm", "x"]}}}`, true},
		{"Stroke[2]", `{"Curve": {"Table": {"Stroke": ["0 mm", "1 mm", "x"]}}}`, true},
		{"Stroke[1]", `{"Curve": {"Table": {"Stroke": ["0 mm", "1 mm", "x"]}}}`, false},
		{"Points.a b[0]", `{"Mechanism": {"Points": {"a b": ["x", "1 m"]}}}`, true},
		{"Points.a.b[0]", `{"Points": {"a.b": ["x", "1 m"]}}`, false},
		{`Mechanism.Points["a b"][1]`, `{"Mechanism": {"Points": {"a b": ["x", "1 m"]}}}`, false},
	} {
		var v ends
		s, err := strictjson.Salvage("job", []byte(row.text), strictjson.Rules{}, &v)
		if err != nil {
			t.Fatal(err)
		}
		joined := units.Fields(s.Join(&units.FieldError{Package: "p", Field: row.complaint, Want: units.Want{Text: "better"}, Class: units.ErrRange}))
		if kept := len(joined) == 2; len(joined) == 0 || joined[0].Package != "job" || kept == row.explained {
			t.Errorf("%s beside %s: %v", row.complaint, row.text, joined)
		}
	}
}

// A list that is too long is a fault, and its further elements are not decoded.
func TestSalvageBoundsLists(t *testing.T) {
	var v struct {
		At    []units.Length `json:"at"`
		Point [3]int         `json:"point"`
		Raw   json.RawMessage
	}
	text := []byte(`{"at": ["1 mm", "2 mm", 5], "point": [1, 2, 3], "Raw": [1, 2, 3, 4]}`)
	s, err := strictjson.Salvage("job", text, strictjson.Rules{Longest: 2}, &v)
	if err != nil {
		t.Fatal(err)
	}
	fields := units.Fields(s.Join(nil))
	if len(fields) != 1 || fields[0].Field != "at" || fields[0].Class != units.ErrRange || len(v.At) != 2 || v.Point[2] != 3 {
		t.Errorf("%+v, %v", v, fields)
	}
	if s, err := strictjson.Salvage("job", []byte(`{"at": ["1 mm", "2 mm"]}`), strictjson.Rules{Longest: 2}, &v); err != nil || s.Join(nil) != nil {
		t.Errorf("a list as long as it may be: %v, %v", err, s.Join(nil))
	}
}

// FuzzSalvage holds Salvage against Unmarshal: the same faults, the same value
// but for NaN, and an error of its own only for what is no JSON.
func FuzzSalvage(f *testing.F) {
	for _, seed := range []string{`{}`, `{"wire": "x", "rates": [1, "2 N"]}`, `{"points": 1}`, `{"loads": {"a": {"load": 1}}, "wire": "1 mm"}`, `{"point": [1]}`, `{"x`} {
		f.Add(seed, "loads.a.load")
	}
	f.Fuzz(func(t *testing.T, text, path string) {
		var plain, marked coil
		want := strictjson.Unmarshal("job", []byte(text), &plain)
		s, err := strictjson.Salvage("job", []byte(text), strictjson.Rules{}, &marked)
		if (s == nil) != (err != nil) || err == nil && !json.Valid([]byte(text)) || err != nil && want == nil {
			t.Fatalf("%v, %v", s, err)
		}
		if s == nil {
			return
		}
		if (want == nil) != (s.Join(nil) == nil) || want != nil && want.Error() != s.Join(nil).Error() {
			t.Errorf("faults %v, Unmarshal says %v", s.Join(nil), want)
		}
		if want == nil && (math.IsNaN(float64(marked.Wire)) || slices.ContainsFunc(marked.Rates, func(f units.Force) bool { return f != f })) {
			t.Errorf("NaN without a fault: %+v", marked)
		}
		joined := s.Join(&units.FieldError{Field: path, Want: units.Want{Text: "better"}, Class: units.ErrRange})
		if joined == nil {
			t.Error("a complaint with no fault is lost")
		}
	})
}
