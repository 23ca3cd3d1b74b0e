package linkagetest

import (
	_ "embed"
	"encoding/json"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

//go:embed invented.json
var invented []byte

// Spec returns the description of an invented mechanism, a new copy each time. It
// panics for an unknown name. The names are those that Movable returns, x1,
// which locks within its stroke, and slider: a swingarm beside which a body floats,
// with two pins in a slot of the swingarm and one in an upright slot of the frame.
func Spec(name string) mechanism.Spec {
	var all map[string]mechanism.Spec
	if err := json.Unmarshal(invented, &all); err != nil {
		panic(err)
	}
	spec, ok := all[name]
	if !ok {
		panic("no mechanism " + name)
	}
	return spec
}

// Movable returns the names of the mechanisms without slots that move over their
// whole stroke, in order. Those of one letter have the same layout.
func Movable() []string {
	return []string{"a1", "a2", "b1", "c1", "c2", "c3", "d1", "d2", "e1", "e2", "f1", "f2"}
}

// Solved returns the motion of an invented mechanism. It panics for an unknown name.
func Solved(name string) *mechanism.Mechanism {
	m, err := mechanism.New(Spec(name))
	if err != nil {
		panic(err)
	}
	return m
}

// MM returns a length in millimetres.
func MM(v float64) units.Length { return units.Length(v) * units.Millimetre }

// At returns a point with coordinates in millimetres.
func At(x, y float64) mechanism.Point { return mechanism.Point{MM(x), MM(y)} }
