package drivetrain_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/num/hyperdual"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// spec returns a mechanism of the tests by its name.
func spec(name string) mechanism.Spec {
	text, err := os.ReadFile("../mechanism/testdata/invented.json")
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

// mm is a length in millimetres.
func mm(v float64) units.Length { return units.Length(v) * units.Millimetre }

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

// refuses checks that an error names exactly these fields, in any order.
func refuses(t *testing.T, err error, fields ...string) {
	t.Helper()
	slices.Sort(fields)
	if diff := cmp.Diff(fields, badFields(err)); diff != "" {
		t.Errorf("refused fields (-want +got):\n%s%v", diff, err)
	}
}

// arm is a swingarm on a pivot at the origin: one eye of the shock at radius a
// and the angle phi, the other at (d, 0), the axle at radius r and the angle
// axle. Lengths are in mm.
type arm struct{ a, d, phi, r, axle float64 }

func (g arm) mechanism(stroke float64) mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 0), "S2": at(g.d, 0), "S1": at(g.a*math.Cos(g.phi), g.a*math.Sin(g.phi)),
			"A": at(g.r*math.Cos(g.axle), g.r*math.Sin(g.axle)),
		},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(stroke),
	}
}

func (g arm) shock() float64 {
	return math.Sqrt(g.a*g.a + g.d*g.d - 2*g.a*g.d*math.Cos(g.phi))
}

// at returns the axle's travel in mm, the lever ratio and its slope in 1/mm in
// closed form: with cos φ = (a² + d² − L²)/2ad for the shock's length L, the
// arm has turned clockwise by as much as φ has fallen. Hyperdual numbers give
// both derivatives without a difference.
func (g arm) at(s float64) (travel, ratio, slope float64) {
	length := hyperdual.Number{Real: g.shock() - s, E1mag: -1, E2mag: -1}
	square := hyperdual.Mul(length, length)
	square.Real -= g.a*g.a + g.d*g.d
	angle := hyperdual.Acos(hyperdual.Scale(-1/(2*g.a*g.d), square)) // φ
	angle.Real += g.axle - g.phi
	w := hyperdual.Scale(g.r, hyperdual.Sin(angle))
	return w.Real - g.r*math.Sin(g.axle), w.E1mag, w.E1E2mag
}
