package mechanism

import (
	"maps"
	"slices"

	"example.com/wheelrate/units"
)

// Point is a place in the side view from the drive side: x forward and y up
// from the axis of the bottom bracket, each within ±100 m. As JSON it is ["-438 mm", "28 mm"].
type Point [2]units.Length

// Frame is the name of the body that stands still, the front triangle.
const Frame = "frame"

// Spec describes a planar suspension by its points at full extension and
// by the bodies they belong to. A point named by two bodies is a pivot between
// them, by three a pivot that joins all three; a point of no body stays where
// it is, as a mark on the frame. The body named "frame" stands still. As JSON:
//
//	{"points": {"P": ["12 mm", "72 mm"], "A": ["-438 mm", "28 mm"],
//	            "S1": ["-92 mm", "238 mm"], "S2": ["112 mm", "292 mm"]},
//	 "bodies": {"frame": ["P", "S2"], "swingarm": ["P", "A", "S1"]},
//	 "axle": "A", "shock": ["S1", "S2"], "stroke": "57.5 mm"}
//
// Single pivot, four-bar, short links, floating shock and six-bar are all described in
// this way. Without the shock the bodies must have exactly one degree of freedom.
type Spec struct {
	Points map[string]Point    `json:"points"` // places at full extension; from 1 to 1000
	Bodies map[string][]string `json:"bodies"` // each one's points; "frame" and from 1 to 12 others
	Axle   string              `json:"axle"`   // the point that the rear wheel turns on
	// Carrier is the body that carries the wheel, required where the axle is a point of two
	// or more: the brake's torque and the instant centre depend on it.
	Carrier string       `json:"carrier,omitempty"`
	Shock   [2]string    `json:"shock"`           // the points of its eyes
	Stroke  units.Length `json:"stroke"`          // how far the shock can be compressed: 1 µm or more, less than its length
	Slots   []Slot       `json:"slots,omitempty"` // pins that slide along a line; at most 36
}

// Slot is a straight slot with a pin in it: Point stays on the line through the two points
// in Along, which belong to the body On. The body that Point belongs to is another, and
// free to turn about it. At full extension the pin is on the line to within 1e-9 of the
// mechanism's extent.
type Slot struct {
	Point string    `json:"point"`
	On    string    `json:"on"`
	Along [2]string `json:"along"`
}

// clone returns a copy that shares nothing with s.
func (s Spec) clone() Spec {
	s.Points, s.Bodies, s.Slots = maps.Clone(s.Points), maps.Clone(s.Bodies), slices.Clone(s.Slots)
	for name, points := range s.Bodies {
		s.Bodies[name] = slices.Clone(points)
	}
	return s
}
