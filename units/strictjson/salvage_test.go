package strictjson

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
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
	var v coil
	s, err := Salvage("job", []byte(`{"wire": "x", "coils": "six", "teeth": "x", "rates": ["1 N", 2], "point": ["1 m", true],
		"loads": {"a b": {"load": null}, "c": {"load": "3 N"}}}`), &v)
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
	if v.Free != nil || v.Teeth != 0 || v.Rates[0] != 1 || v.Point[0] != 1 || v.Loads["c"].Load != 3 || s.whole {
		t.Errorf("%+v, whole %v", v, s.whole)
	}
	var plain coil
	if diff := cmp.Diff(Unmarshal("job", s.data, &plain).Error(), s.Err().Error()); diff != "" {
		t.Errorf("the faults are not those of Unmarshal:\n%s", diff)
	}
	if plain.Wire != 0 || plain.Coils != 0 {
		t.Errorf("Unmarshal marks: %+v", plain)
	}
	if s, err := Salvage("job", []byte(`{"free": 5, "wire": "1 mm"}`), &v); err != nil || !math.IsNaN(float64(*v.Free)) || !s.whole {
		t.Errorf("%v, %+v, %+v", err, v, s)
	}
}

func TestSalvageRefusesWhatIsNoJSON(t *testing.T) {
	var v coil
	for _, text := range []string{``, `{`, `{"wire": "x"`, `{"wire": "x"} 1`} {
		if s, err := Salvage("job", []byte(text), &v); err == nil || s != nil {
			t.Errorf("%q: %v, %v", text, s, err)
		}
	}
	if _, err := Salvage("job", []byte(`{}`), v); err == nil {
		t.Error("decoded into what is no pointer")
	}
}

func TestJoin(t *testing.T) {
	says := func(path string, class error) error {
		return &units.FieldError{Package: "p", Field: path, Want: "better", Class: class}
	}
	const marked = `{"wire": "x", "coils": 5, "point": ["1 m", "x"], "rates": ["1 N"]}`    // wire and point[1]
	const unmarked = `{"wired": 1, "coils": 5, "free": "1 mm", "teeth": "x", "loads": {}}` // wired and teeth
	const deep = `{"wired": 1, "wired too": 2, "rates": ["1 N", "2 N"], "loads": {"c": {"load": "1 N"}, "a b": {"load": "3 N"}}, "finish": "x"}`
	for _, row := range []struct {
		name, text string
		complaint  error
		want       []string // paths besides the faults
	}{
		{"none", marked, nil, nil},
		{"the field itself", marked, says("wire", units.ErrRange), nil},
		{"the field where it stands", marked, says("coil.coils", units.ErrRange), []string{"coil.coils"}},
		{"another", marked, says("coils", units.ErrRange), []string{"coils"}},
		{"another, missing", marked, says("free", units.ErrMissing), []string{"free"}},
		{"a list with it", marked, says("point", units.ErrConflict), nil},
		{"another element", marked, says("point[0]", units.ErrRange), []string{"point[0]"}},
		{"an unnamed one", marked, says("", units.ErrConflict), nil},
		{"a name that begins like it", marked, says("wires", units.ErrRange), []string{"wires"}},
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
	} {
		var v coil
		s, err := Salvage("job", []byte(row.text), &v)
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
	whole, err := Salvage("job", []byte(`{"wire": "1 mm"}`), &v)
	if other := errors.New("other"); err != nil || whole.Join(other) != other || whole.Join(nil) != nil || whole.Err() != nil {
		t.Errorf("a text without fault changes an error: %v", whole.Join(other))
	}
}

func TestConcerns(t *testing.T) {
	for _, row := range []struct {
		complaint, fault string
		want             bool
	}{
		{"air.bore", "air.bore", true},
		{"bore", "front.air.bore", true},      // the constructor does not know where it stands
		{"air", "front.air.bore", false},      // the middle of a path says nothing
		{"front.air", "front.air.bore", true}, // what holds it
		{"front.air.bore", "front.air", true}, // what is in it
		{"rear.air.bore", "front.air.bore", false},
		{"stroke", "curve.table.stroke[3]", true},
		{"stroke[3]", "curve.table.stroke[3]", true},
		{"stroke[4]", "curve.table.stroke[3]", false},
		{`points.a b[0]`, `mechanism.points["a b"][0]`, true},
		{`points.a.b[0]`, `points["a.b"][0]`, false},
		{`mechanism.points["a b"][1]`, `mechanism.points["a b"][0]`, false},
	} {
		if got := concerns(steps(row.complaint), steps(row.fault)); got != row.want {
			t.Errorf("concerns(%q, %q) = %v", row.complaint, row.fault, got)
		}
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
		want := Unmarshal("job", []byte(text), &plain)
		s, err := Salvage("job", []byte(text), &marked)
		if (s == nil) != (err != nil) || err == nil && !json.Valid([]byte(text)) || err != nil && want == nil {
			t.Fatalf("%v, %v", s, err)
		}
		if s == nil {
			return
		}
		if (want == nil) != (s.Err() == nil) || want != nil && want.Error() != s.Err().Error() {
			t.Errorf("faults %v, Unmarshal says %v", s.Err(), want)
		}
		if want == nil && (math.IsNaN(float64(marked.Wire)) || slices.ContainsFunc(marked.Rates, func(f units.Force) bool { return f != f })) {
			t.Errorf("NaN without a fault: %+v", marked)
		}
		joined := s.Join(&units.FieldError{Field: path, Want: "better", Class: units.ErrRange})
		if joined == nil {
			t.Error("a complaint with no fault is lost")
		}
	})
}
