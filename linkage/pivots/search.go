package pivots

import (
	"fmt"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Search asks where pivots must be for what is wanted of a suspension.
type Search struct {
	Mechanism mechanism.Spec   `json:"mechanism"` // where the search starts; one that [mechanism.New] takes
	Move      []Movable        `json:"move"`      // the points that may move, from 1 to 12
	Targets   Targets          `json:"targets"`
	Drive     *drivetrain.Spec `json:"drive,omitempty"` // required beside targets of chain and brake
	// Shocks are the sizes to choose from, at most 20. Left out, the shock keeps the length and the
	// stroke that Mechanism has. The answer has the length of one to well below 0.01 mm, or as nearly as
	// the bounds permit.
	Shocks   []Shock `json:"shocks,omitempty"`
	AnyShock bool    `json:"any_shock,omitempty"` // the shock may have any length; there are no Shocks
	// KeepOut lists at most 20 regions that the points of Move stay out of over the whole stroke.
	KeepOut []Region `json:"keep_out,omitempty"`
	// LeastLink is the least distance between two pivots of a body that moves, and ShockClearance that
	// of any point of a body from the line between the shock's eyes; from 0 to 1 m.
	LeastLink      units.Length `json:"least_link,omitempty"`
	ShockClearance units.Length `json:"shock_clearance,omitempty"`
}

// Movable is a point that may move, and how far it may go from its place along each axis.
type Movable struct {
	Point string `json:"point"` // a point of a body
	X     Bounds `json:"x,omitzero"`
	Y     Bounds `json:"y,omitzero"`
}

// Bounds are the bounds of a way from a place: Min from −1 m to 0 and Max from 0 to 1 m.
type Bounds struct {
	Min units.Length `json:"min,omitempty"`
	Max units.Length `json:"max,omitempty"`
}

// Shock is the size of a shock: its length, eye to eye at full extension, up to 1 km, and its
// stroke, 1 µm or more and less than the length.
type Shock struct {
	Length units.Length `json:"length"`
	Stroke units.Length `json:"stroke"`
}

// Region is all that is nearer to a line than a radius, more than 0 and up to 10 m: a disc around one
// point, a tube along two, or more. There are from 1 to 20 points, fixed to the frame.
type Region struct {
	Line   []mechanism.Point `json:"line"`
	Radius units.Length      `json:"radius"`
}

// Targets are what is wanted, at least one of them: of the mechanism, and of chain and brake.
type Targets struct {
	LeverRatio           *Target[float64]      `json:"lever_ratio,omitempty"`
	Progression          *Target[float64]      `json:"progression,omitempty"` // (start − end)/start of the lever ratio: one value, and no At
	Travel               *Target[units.Length] `json:"travel,omitempty"`
	WheelbaseGrowth      *Target[units.Length] `json:"wheelbase_growth,omitempty"` // how far the axle has moved backward
	AntiSquat            *Target[float64]      `json:"anti_squat,omitempty"`       // a fraction: 1 is 100 %
	AntiRise             *Target[float64]      `json:"anti_rise,omitempty"`
	ChainGrowth          *Target[units.Length] `json:"chain_growth,omitempty"`
	KickbackWheelFixed   *Target[units.Angle]  `json:"kickback_wheel_fixed,omitempty"`
	KickbackWheelRolling *Target[units.Angle]  `json:"kickback_wheel_rolling,omitempty"`
}

// Target is the wanted values of a number.
type Target[V ~float64] struct {
	At    []float64 `json:"at,omitempty"` // shares of the shock's stroke, from 0 to 1, rising; from 1 to 200
	Value []V       `json:"value"`        // one for each of At, finite
	// Within gives the target its weight: a root-mean-square miss by this much counts as much as
	// one of another target by its Within. It is more than 0; left out, it is 0.01 for ratio and
	// progression, 0.05 for anti-squat and anti-rise, 1 mm for lengths and 1° for angles.
	Within V `json:"within,omitempty"`
}

// Solution is the answer to a [Search].
type Solution struct {
	Mechanism   mechanism.Spec `json:"mechanism"` // with the points moved, and the stroke of the shock chosen
	ShockLength units.Length   `json:"shock_length"`
	Misses      []Miss         `json:"misses"` // of each target
	Moved       []Movement     `json:"moved"`  // how far each point moved, in the order of Search.Move
	// ActiveBounds lists the bounds that the answer lies at. With wider bounds there it
	// would be nearer to the targets.
	ActiveBounds []ActiveBound `json:"active_bounds,omitempty"`
	// Violations lists what the answer breaks by more than 0.01 mm: the bounds leave no way to keep it.
	Violations []Violation `json:"violations,omitempty"`
	// Tried is how many mechanisms the search solved. Locked is how many of these locked
	// or were refused by [drivetrain.New].
	Tried  int `json:"tried"`
	Locked int `json:"locked"`
}

// Miss is by how much an answer misses a target, in Withins of it. StartRMS is that of the mechanism as
// it was given, with its own stroke.
type Miss struct {
	Of       string       `json:"of"`
	RMS      float64      `json:"rms"`
	StartRMS float64      `json:"start_rms"`
	Worst    float64      `json:"worst"`
	WorstAt  units.Length `json:"worst_at"` // the stroke
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
	Axis  string       `json:"axis"` // "x" or "y"
	Bound units.Length `json:"bound"`
}

// Violation is a field of a [Search] that an answer breaks, where, and by how much.
type Violation struct {
	Field string       `json:"field"`
	Point string       `json:"point,omitempty"`
	By    units.Length `json:"by"`
}

// check records in c what is wrong with s.
func (s *Search) check(c *units.Checker) {
	m, err := mechanism.New(s.Mechanism)
	c.Add("mechanism", err)
	s.checkMoves(c, m != nil)
	s.Targets.check(c, s.Drive != nil)
	if n := len(s.Shocks); n > 20 {
		c.Fail("shocks", n, units.AtMost(20).Count("sizes"), nil)
	} else if n > 0 && s.AnyShock {
		c.Fail("shocks", n, units.Without("any_shock"), units.ErrConflict)
	}
	for i, shock := range s.Shocks[:min(len(s.Shocks), 20)] {
		c := c.Element("shocks", i)
		units.Between(&c, "length", shock.Length, 1e-6*units.Metre, 1e3*units.Metre)
		if units.Between(&c, "stroke", shock.Stroke, 1e-6*units.Metre, 1e3*units.Metre) && !(shock.Stroke < shock.Length) {
			c.Fail("stroke", shock.Stroke, units.LessThan(shock.Length).Of("length"), units.ErrConflict)
		}
	}
	if n := len(s.KeepOut); n > 20 {
		c.Fail("keep_out", n, units.AtMost(20).Count("regions"), nil)
	}
	for i, region := range s.KeepOut[:min(len(s.KeepOut), 20)] {
		c := c.Element("keep_out", i)
		if n := len(region.Line); n < 1 || n > 20 {
			c.Fail("line", n, units.From(1, 20).Count("points"), nil)
			continue
		}
		for k, p := range region.Line {
			for axis, v := range p {
				units.Between(&c, fmt.Sprintf("line[%d][%d]", k, axis), v, -100*units.Metre, 100*units.Metre)
			}
		}
		units.Between(&c, "radius", region.Radius, 1e-6*units.Metre, 10*units.Metre)
	}
	units.Between(c, "least_link", s.LeastLink, 0, units.Metre)
	units.Between(c, "shock_clearance", s.ShockClearance, 0, units.Metre)
	switch {
	case s.Drive != nil && m != nil:
		_, err := drivetrain.New(m, *s.Drive)
		c.Add("drive", err)
	case s.Drive != nil:
		drive := c.Child("drive")
		s.Drive.Check(&drive)
	}
}

func (s *Search) checkMoves(c *units.Checker, sound bool) {
	if n := len(s.Move); n < 1 || n > 12 {
		c.Fail("move", n, units.From(1, 12).Count("points that may move"), nil)
	}
	free := map[string]bool{} // points of bodies that no move has named yet
	for _, points := range s.Mechanism.Bodies {
		for _, point := range points {
			free[point] = true
		}
	}
	room := false
	for i, move := range s.Move {
		c := c.Element("move", i)
		if sound && !free[move.Point] {
			c.Fail("point", move.Point, "a point of a body, each once", units.ErrUnknown)
		}
		delete(free, move.Point)
		for axis, b := range []Bounds{move.X, move.Y} {
			c := c.Child("xy"[axis : axis+1])
			units.Between(&c, "min", b.Min, -units.Metre, 0)
			units.Between(&c, "max", b.Max, 0, units.Metre)
			room = room || b.Min < b.Max
		}
	}
	if !room && c.OK() {
		c.Fail("move", nil, "at least one point with room to move", nil)
	}
}

// check records what is wrong with the targets; drive is whether there is one.
func (t *Targets) check(top *units.Checker, drive bool) {
	given, list := 0, top.Child("targets")
	for _, q := range quantities {
		at, values, within, ok := q.target(t)
		if !ok {
			continue
		}
		given++
		c := list.Child(q.name)
		if q.drive && !drive && !top.Bad("drive") {
			top.Fail("drive", nil, "a drive beside the target "+q.name, units.ErrMissing)
		}
		if q.overall {
			at = []float64{0}
			if len(t.Progression.At) > 0 {
				c.Fail("at", len(t.Progression.At), "nothing: it is over the whole stroke", units.ErrConflict)
			}
		}
		if n := len(at); n < 1 || n > 200 {
			c.Fail("at", n, units.From(1, 200).Count("shares of the stroke"), nil)
			continue
		}
		if len(values) != len(at) {
			c.Fail("value", len(values), units.Exactly(len(at)).Of("at"), units.ErrConflict)
		}
		for i, share := range at {
			field := fmt.Sprintf("at[%d]", i)
			if units.Between(&c, field, share, 0, 1) && i > 0 && !(share > at[i-1]) {
				c.Fail(field, share, units.MoreThan(at[i-1]).With("the share before it"), nil)
			}
		}
		for i, v := range values {
			units.Finite(&c, fmt.Sprintf("value[%d]", i), v)
		}
		if within != 0 {
			units.Positive(&c, "within", within)
		}
	}
	if given == 0 {
		top.Fail("targets", nil, "at least one target", units.ErrMissing)
	}
}
