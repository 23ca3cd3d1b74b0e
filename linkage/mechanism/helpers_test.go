package mechanism_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// spec returns a mechanism of the tests by its name.
func spec(name string) mechanism.Spec {
	text, err := os.ReadFile("testdata/invented.json")
	if err != nil {
		panic(err)
	}
	var all map[string]mechanism.Spec
	if err := json.Unmarshal(text, &all); err != nil {
		panic(err)
	}
	m, ok := all[name]
	if !ok {
		panic("no mechanism " + name)
	}
	return m
}

// at returns a point given in mm.
func at(x, y float64) mechanism.Point { return mechanism.Point{mm(x), mm(y)} }

// movable are the names of those that move over their whole stroke, in order.
func movable() []string {
	return []string{"a1", "a2", "b1", "c1", "c2", "c3", "d1", "d2", "e1", "e2", "f1", "f2"}
}

// solved returns the motion of a mechanism of the tests.
func solved(name string) *mechanism.Mechanism {
	m, err := mechanism.New(spec(name))
	if err != nil {
		panic(err)
	}
	return m
}

// compiled returns the curve of a mechanism.
func compiled(t testing.TB, m *mechanism.Mechanism) *linkage.Curve {
	t.Helper()
	c, err := linkage.Compile(m)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// soundCurve checks what must hold of every curve: it starts at 0, rises, has
// a positive ratio between its least and its greatest, goes back and forth,
// and clamps.
func soundCurve(t *testing.T, c *linkage.Curve) {
	t.Helper()
	stroke, travel, p := c.Stroke(), c.Travel(), c.Progression()
	if !(stroke > 0) || !(travel > 0) || !finite(float64(stroke)) || !finite(float64(travel)) {
		t.Fatalf("stroke %v, travel %v", stroke, travel)
	}
	if c.TravelAt(0) != 0 || c.StrokeAt(0) != 0 || c.TravelAt(stroke) != travel || c.StrokeAt(travel) != stroke {
		t.Errorf("ends: travel %v and %v, stroke %v and %v", c.TravelAt(0), c.TravelAt(stroke), c.StrokeAt(0), c.StrokeAt(travel))
	}
	if !(p.Min > 0) || !finite(p.Max) || p.Start < p.Min || p.End < p.Min || p.Start > p.Max || p.End > p.Max ||
		p.Start != c.LeverRatio(0) || p.End != c.LeverRatio(stroke) || p.Value != (p.Start-p.End)/p.Start {
		t.Errorf("progression %+v", p)
	}
	const eps = 1e-12
	before := units.Length(-1)
	for i := range 401 {
		s := stroke * units.Length(i) / 400
		w, r, slope := c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s)
		if !(w > before) || !(w <= travel*(1+eps)) {
			t.Fatalf("travel %v after %v at %v of %v", w, before, s, stroke)
		}
		before = w
		if !(r >= p.Min*(1-eps)-eps*p.Max) || !(r <= p.Max*(1+eps)) {
			t.Fatalf("ratio %v at %v, outside %v to %v", r, s, p.Min, p.Max)
		}
		if !finite(float64(slope)) {
			t.Fatalf("slope %v at %v", float64(slope), s)
		}
		// The travel at the stroke found is the travel asked for, to rounding.
		if back := c.TravelAt(c.StrokeAt(w)); math.Abs(float64(back-w)) > 4e-15*float64(w)+2e-15*r*float64(s) {
			t.Fatalf("travel %v gives stroke %v, and that %v", float64(w), c.StrokeAt(w), float64(back))
		}
	}
	for _, x := range []struct{ x, as units.Length }{
		{-1, 0}, {units.Length(math.NaN()), 0}, {units.Length(math.Inf(-1)), 0},
		{2 * stroke, stroke}, {units.Length(math.Inf(1)), stroke},
	} {
		if c.TravelAt(x.x) != c.TravelAt(x.as) || c.LeverRatio(x.x) != c.LeverRatio(x.as) || c.LeverRatioSlope(x.x) != c.LeverRatioSlope(x.as) {
			t.Errorf("stroke %v is not taken as %v", float64(x.x), x.as)
		}
	}
	for _, x := range []struct{ x, as units.Length }{
		{-1, 0}, {units.Length(math.NaN()), 0}, {2 * travel, stroke}, {units.Length(math.Inf(1)), stroke},
	} {
		if c.StrokeAt(x.x) != x.as {
			t.Errorf("travel %v gives stroke %v, want %v", float64(x.x), c.StrokeAt(x.x), x.as)
		}
	}
}

// mm is a length in millimetres.
func mm(v float64) units.Length { return units.Length(v) * units.Millimetre }

// fieldsOf lists the fields an error names, in order.
func fieldsOf(err error) []string {
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	return names
}

// refuses checks that an error names exactly these fields.
func refuses(t *testing.T, err error, fields ...string) {
	t.Helper()
	if got := fieldsOf(err); !slices.Equal(got, fields) {
		t.Errorf("refused %q, want %q (%v)", got, fields, err)
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// above and below are the nearest numbers.
func above(v units.Length) units.Length {
	return units.Length(math.Nextafter(float64(v), math.Inf(1)))
}

func below(v units.Length) units.Length {
	return units.Length(math.Nextafter(float64(v), math.Inf(-1)))
}

// allFinite holds that every number is one.
func allFinite(t *testing.T, what string, list ...float64) {
	t.Helper()
	for i, v := range list {
		if !finite(v) {
			t.Fatalf("%s: value %d of %v", what, i, list)
		}
	}
}

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

// strokesOf are strokes within, at the ends of and outside a full stroke.
func strokesOf(full units.Length) []units.Length {
	list := []units.Length{units.Length(math.NaN()), units.Length(math.Inf(-1)), -1, 1e308, units.Length(math.Inf(1))}
	for i := range 9 {
		list = append(list, full*units.Length(i)/8)
	}
	return list
}

// badFields lists the fields that an error names, sorted.
func badFields(err error) []string {
	var fields []string
	for _, f := range units.Fields(err) {
		fields = append(fields, f.Field)
	}
	slices.Sort(fields)
	return fields
}
