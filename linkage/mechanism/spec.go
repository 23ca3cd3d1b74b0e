package mechanism

import (
	"maps"
	"slices"

	"example.com/wheelrate/units"
)

// Point is a place in the side view from the drive side: x forward and y up
// from the axis of the bottom bracket. As JSON it is ["-438 mm", "28 mm"].
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
// The layout follows from points and bodies: single pivot, four-bar, short
// links, floating shock and six-bar are all described in this way.
type Spec struct {
	// Points gives every point's place at full extension.
	Points map[string]Point `json:"points"`
	// Bodies gives the points of every body, "frame" among them. Without the
	// shock the bodies must have exactly one degree of freedom.
	Bodies map[string][]string `json:"bodies"`
	// Axle is the point that the rear wheel turns on. The body it belongs to
	// carries the wheel; of two, the first by name does.
	Axle string `json:"axle"`
	// Shock is the two points between which the shock sits, eye to eye.
	Shock [2]string `json:"shock"`
	// Stroke is how far the shock can be compressed; less than its length.
	Stroke units.Length `json:"stroke"`
	// Slots are points that slide along a straight line of another body, at most 36.
	Slots []Slot `json:"slots,omitempty"`
}

// Slot lets a point slide along a straight line of another body, as a pin in a
// slot does: the point stays on the line through the two points in Along, both
// of the body On. The point's own body is free to turn about it.
type Slot struct {
	Point string    `json:"point"`
	On    string    `json:"on"`
	Along [2]string `json:"along"`
}

// clone returns a copy that shares nothing with s.
func (s Spec) clone() Spec {
	s.Points = maps.Clone(s.Points)
	s.Bodies = maps.Clone(s.Bodies)
	for name, points := range s.Bodies {
		s.Bodies[name] = slices.Clone(points)
	}
	s.Slots = slices.Clone(s.Slots)
	return s
}
