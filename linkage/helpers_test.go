package linkage_test

import (
	"encoding/json"
	"os"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
)

// spec returns a mechanism of the tests by its name.
func spec(name string) mechanism.Spec {
	text, err := os.ReadFile("mechanism/testdata/invented.json")
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
