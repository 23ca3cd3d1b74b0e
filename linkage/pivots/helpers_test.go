package pivots_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
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

// badFields lists the fields that an error names, sorted.
func badFields(err error) []string {
	var fields []string
	for _, f := range units.Fields(err) {
		fields = append(fields, f.Field)
	}
	slices.Sort(fields)
	return fields
}

func drive(chainring, sprocket int, idler *drivetrain.Idler) drivetrain.Spec {
	return drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: chainring, Sprocket: sprocket, Idler: idler},
		WheelRadius: mm(370), FrontAxleX: mm(780), MassCentre: at(60, 1120), Ground: drivetrain.GroundLevel,
	}
}
