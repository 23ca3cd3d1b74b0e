package pivots

import (
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Search asks where pivots must be for a wanted lever-ratio curve.
type Search struct {
	Mechanism mechanism.Spec `json:"mechanism"` // to start from; it must move over its whole stroke
	Move      []Movable      `json:"move"`      // the points that may move, at most 12
	// Stroke and LeverRatio are the wanted curve: 2 to 200 strokes within the mechanism's,
	// rising, and the ratio at each.
	Stroke     []units.Length `json:"stroke"`
	LeverRatio []float64      `json:"lever_ratio"`
	// ShockLength is the length, eye to eye at full extension, that the shock
	// has; 0 for as the mechanism has it. It is met to well below a hundredth
	// of a millimetre unless nothing within the bounds meets it.
	ShockLength units.Length `json:"shock_length,omitempty"`
	AnyShock    bool         `json:"any_shock,omitempty"` // the shock's length may be any
	// Drive and AntiSquat ask for an anti-squat beside the lever ratio.
	Drive     *drivetrain.Spec `json:"drive,omitempty"`
	AntiSquat *AntiSquat       `json:"anti_squat,omitempty"`
}

// Movable is a point that may be moved, and how far from its place in either direction.
type Movable struct {
	Point string       `json:"point"`
	X     units.Length `json:"x,omitempty"`
	Y     units.Length `json:"y,omitempty"`
}

// AntiSquat is a wanted anti-squat at one stroke: a fraction, of which a miss of
// 1 weighs as much as a miss of Weight in the lever ratio over the whole stroke.
type AntiSquat struct {
	At     units.Length `json:"at"`
	Value  float64      `json:"value"`
	Weight float64      `json:"weight"`
}

// Solution is the answer to a [Search].
type Solution struct {
	Mechanism mechanism.Spec `json:"mechanism"` // with the points moved
	// RMS and Worst are by how much the lever ratio misses the wanted one:
	// root mean square and greatest over the wanted strokes, and where that is.
	RMS      float64      `json:"rms"`
	Worst    float64      `json:"worst"`
	WorstAt  units.Length `json:"worst_at"`
	StartRMS float64      `json:"start_rms"` // of the mechanism as it was given
	// ShockLength is that of the shock, eye to eye at full extension.
	ShockLength units.Length `json:"shock_length"`
	AntiSquat   *float64     `json:"anti_squat,omitempty"` // at the stroke asked for, if one was
	Moved       []Movement   `json:"moved"`                // how far each point went, in the order asked
	// ActiveBounds lists the bounds that the answer lies at: with more room there
	// it would come nearer.
	ActiveBounds []ActiveBound `json:"leans,omitempty"`
	// Tried is how many mechanisms were solved, and Locked how many of these came
	// to a dead point or were none that [drivetrain.New] takes.
	Tried  int `json:"tried"`
	Locked int `json:"locked"`
}

// Movement is how far a point was moved.
type Movement struct {
	Point string       `json:"point"`
	X     units.Length `json:"x"`
	Y     units.Length `json:"y"`
}

// ActiveBound is a bound that an answer lies at.
type ActiveBound struct {
	Point string       `json:"point"`
	Axis  string       `json:"axis"`  // "x" or "y"
	Bound units.Length `json:"bound"` // the move it may not exceed, with its sign
}
