package unitstest_test

import (
	"errors"
	"maps"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// nested has a number at every place where Extreme finds one, and one where it does not.
type nested struct {
	Size  units.Length
	Share *float64
	Sub   *struct{ Loads []units.Force }
	Two   [2]float64
	None  *units.Mass
	Count int
	Own   *sealed
}

type sealed struct {
	Open   float64
	closed float64
}

func newNested() nested {
	share := 0.5
	return nested{Size: 2, Share: &share, Sub: &struct{ Loads []units.Force }{[]units.Force{3, 4}}, Two: [2]float64{5, 6}, Count: 7, Own: &sealed{8, 9}}
}

func TestExtremeChangesEveryNumber(t *testing.T) {
	valid, alone, drawn := newNested(), map[string]int{}, 0
	for what, got := range unitstest.Extreme(valid, 100) {
		if cmp.Equal(got, newNested(), cmp.AllowUnexported(sealed{})) {
			t.Errorf("%s: nothing is changed", what)
		}
		if strings.Contains(what, ",") {
			drawn++
			continue
		}
		field, _, _ := strings.Cut(what, " = ")
		alone[field]++
		if what == "Size = 5e-324" && got.Size != math.SmallestNonzeroFloat64 || what == "Share = 500" && *got.Share != 500 {
			t.Errorf("%s: %+v", what, got)
		}
		if got.Own != valid.Own {
			t.Error("what can't be copied is not shared")
		}
	}
	if diff := cmp.Diff(newNested(), valid, cmp.AllowUnexported(sealed{})); diff != "" {
		t.Errorf("the original is changed:\n%s", diff)
	}
	want := map[string]bool{"Size": true, "Share": true, "Sub.Loads[0]": true, "Sub.Loads[1]": true, "Two[0]": true, "Two[1]": true}
	got := maps.Clone(want)
	clear(got)
	for field, n := range alone {
		if got[field] = true; n < 18 {
			t.Errorf("%s is changed alone %d times", field, n)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" || drawn < 80 {
		t.Errorf("%d drawn, numbers (-want +got):\n%s", drawn, diff)
	}
	for _, stop := range []int{1, 120} { // among the single ones, and among those drawn
		n := 0
		for range unitstest.Extreme(valid, 100) {
			if n++; n == stop {
				break
			}
		}
	}
}

// Law is a value whose answers are methods.
type Law struct{ at, of, beyond float64 }

func (l Law) Force(x units.Length) units.Force {
	if float64(x) == l.at {
		return units.Force(l.of)
	}
	return 1
}
func (l Law) Travel() units.Length         { return 3 }
func (l Law) Full() (float64, error)       { return l.beyond, nil }
func (l Law) Fails() (float64, error)      { return nan, errors.New("none") }
func (l Law) Same() Law                    { return l }
func (l Law) Nothing()                     {}
func (l Law) Two(a, b float64) float64     { return nan }
func (l Law) Named(name string) float64    { return nan }
func (l Law) String() string               { return "a law" }
func (l *Law) Rate(float64) (float64, int) { return l.beyond, 1 }

func TestInfiniteFindsEveryPlace(t *testing.T) {
	type inner struct{ A, B units.Force }
	for want, v := range map[string]any{
		"":                   []any{nil, 1.5, inner{1, 2}, (*inner)(nil), "Information", Law{}, &Law{}, map[string]any{"a": 1}},
		" = NaN":             nan,
		".B = -Inf":          inner{1, units.Force(-inf)},
		"[1].A = +Inf":       []inner{{}, {A: units.Force(inf)}},
		"[a][0] = NaN":       map[string][1]float64{"a": {nan}},
		".A = NaN":           &inner{A: units.Force(nan)},
		"[0].B = NaN":        []any{&inner{B: units.Force(nan)}},
		` = "+Inf mm"`:       "+Inf mm",
		".Force(1 m) = +Inf": Law{at: 1, of: inf},
		".Force(3 m) = NaN":  Law{at: 3, of: nan},
		".Full() = NaN":      Law{beyond: nan},
		" = +Inf":            float32(inf),
	} {
		got := unitstest.Infinite(v)
		if got = strings.NewReplacer("1000 mm", "1 m", "3000 mm", "3 m").Replace(got); got != want {
			t.Errorf("%+v: %q, want %q", v, got, want)
		}
	}
}

// The methods of a value that leads to itself are followed for a while.
type Chain struct{}

func (c Chain) Next() *Chain { return &Chain{} }

func TestInfiniteEnds(t *testing.T) {
	if got := unitstest.Infinite(Chain{}); got != "" {
		t.Error(got)
	}
}

func TestFiniteOrRefused(t *testing.T) {
	type spec struct{ Size units.Length }
	for name, test := range map[string]struct {
		ask  func(spec) (float64, error)
		want string
	}{
		"fine": {func(s spec) (float64, error) { return 1 / (1 + float64(s.Size)), nil }, ""},
		"over": {func(s spec) (float64, error) { return 1 / float64(s.Size), nil }, "over = +Inf, with Size = 5e-324"},
		"says": {func(s spec) (float64, error) {
			if s.Size < 1 {
				return 0, errors.New("no")
			}
			return 1, nil
		}, "says: an error that names no field, with Size = 5e-324: no"},
		"none": {func(s spec) (float64, error) { return 0, &units.FieldError{Field: "size"} }, "none: every input is refused"},
	} {
		r := &recorder{}
		unitstest.FiniteOrRefused(r, name, spec{2}, test.ask)
		if r.text() != test.want || !r.helper {
			t.Errorf("%s: %q, want %q", name, r.text(), test.want)
		}
	}
}
