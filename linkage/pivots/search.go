package pivots

import (
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Search asks where pivots must be for a wanted lever-ratio curve.
type Search struct {
	Mechanism mechanism.Spec `json:"mechanism"` // where the search starts; one that [mechanism.New] takes
	Move      []Movable      `json:"move"`      // the points that may move, from 1 to 12
	// Stroke and LeverRatio are the wanted curve: from 2 to 200 strokes within the
	// mechanism's, rising, and the ratio at each, from 0.001 to 1000.
	Stroke     []units.Length `json:"stroke"`
	LeverRatio []float64      `json:"lever_ratio"`
	// ShockLength is the wanted length of the shock, eye to eye at full extension, up to
	// 1 km and more than the stroke; 0 keeps the length that Mechanism has. The answer has
	// this length to well below 0.01 mm, or as nearly as the bounds permit.
	ShockLength units.Length `json:"shock_length,omitempty"`
	AnyShock    bool         `json:"any_shock,omitempty"` // the shock may have any length; ShockLength is 0
	// AntiSquat asks for an anti-squat beside the lever ratio, of the drivetrain Drive.
	Drive     *drivetrain.Spec `json:"drive,omitempty"`
	AntiSquat *AntiSquat       `json:"anti_squat,omitempty"`
}

// Movable is a point that may move, and its bounds: X and Y are how far it may go from
// its place, either way along each axis, from 0 to 1 m.
type Movable struct {
	Point string       `json:"point"` // a point of a body
	X     units.Length `json:"x,omitempty"`
	Y     units.Length `json:"y,omitempty"`
}

// AntiSquat is a wanted anti-squat at one stroke.
type AntiSquat struct {
	At    units.Length `json:"at"`    // the stroke, within the mechanism's
	Value float64      `json:"value"` // a fraction: 1 is 100 %
	// Weight is the root-mean-square miss of the lever ratio that counts as much as a
	// miss of 1 (100 %) of the anti-squat, from 0 to 1000. At 0 the anti-squat is ignored.
	Weight float64 `json:"weight"`
}

// Solution is the answer to a [Search].
type Solution struct {
	Mechanism mechanism.Spec `json:"mechanism"` // with the points moved
	// RMS and Worst are the root mean square and the greatest of the differences between
	// the lever ratio and the wanted one, over the wanted strokes; WorstAt is the stroke of
	// the greatest.
	RMS      float64      `json:"rms"`
	Worst    float64      `json:"worst"`
	WorstAt  units.Length `json:"worst_at"`
	StartRMS float64      `json:"start_rms"` // RMS of the mechanism as given
	// ShockLength is the length of the shock, eye to eye at full extension.
	ShockLength units.Length `json:"shock_length"`
	AntiSquat   *float64     `json:"anti_squat,omitempty"` // a fraction, at the stroke asked for; nil if none was
	Moved       []Movement   `json:"moved"`                // how far each point moved, in the order of Search.Move
	// ActiveBounds lists the bounds that the answer lies at. With wider bounds there it
	// would be nearer the wanted curve.
	ActiveBounds []ActiveBound `json:"leans,omitempty"`
	// Tried is how many mechanisms the search solved. Locked is how many of these locked
	// or were refused by [drivetrain.New].
	Tried  int `json:"tried"`
	Locked int `json:"locked"`
}

// Movement is how far a point moved along each axis.
type Movement struct {
	Point string       `json:"point"`
	X     units.Length `json:"x"`
	Y     units.Length `json:"y"`
}

// ActiveBound is a bound of a [Movable] that an answer lies at.
type ActiveBound struct {
	Point string       `json:"point"`
	Axis  string       `json:"axis"`  // "x" or "y"
	Bound units.Length `json:"bound"` // the bound, with the sign of the movement
}
