package mechanism

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

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
// Which layout it is needs no saying: single pivot, four-bar, short links,
// floating shock and six-bar all are points and bodies.
type Spec struct {
	// Points gives every point's place at full extension.
	Points map[string]Point `json:"points"`
	// Bodies gives the points of every body, "frame" among them. Without the
	// shock the bodies must be able to move in exactly one way.
	Bodies map[string][]string `json:"bodies"`
	// Axle is the point that the rear wheel turns on. The body it belongs to
	// carries the wheel; of two, the first by name does.
	Axle string `json:"axle"`
	// Shock is the two points between which the shock sits, eye to eye.
	Shock [2]string `json:"shock"`
	// Stroke is how far the shock can be compressed; less than its length.
	Stroke units.Length `json:"stroke"`
	// Slots are points that slide along a straight line of another body, at most
	// 36.
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

// What a mechanism may be: far beyond any real one.
const (
	maxMoving     = 12 // moving bodies
	maxNamed      = 1000
	maxCoordinate = 100 * units.Metre
	minLength     = 1e-6 * units.Metre
	maxLength     = 1e3 * units.Metre
	minRatio      = 1e-3
	maxRatio      = 1e3
)

// place is a point of a body: where it is at full extension, seen from the
// body's own origin. Body 0 is the frame.
type place struct {
	body int
	r    complex128
}

// joint makes two points coincide, a slot's point lie on a line, or says how
// far apart the shock's ends are.
type joint struct{ a, b place }

// slot keeps a point on the line through b along the direction t of b's body.
type slot struct {
	a, b place
	t    complex128 // of length 1, at full extension
}

// topology is a mechanism in numbers. Lengths are in units of size, a power of
// two metres near the largest distance in it.
type topology struct {
	size   float64
	bodies []string // by number; the frame is 0
	points map[string]complex128
	owners map[string][]int // the bodies that each point belongs to, ascending
	joints []joint
	slots  []slot
	shock  joint
	ends   [2]string // the names of the shock's points
	length float64   // of the shock at full extension
	stroke float64
	axle   place
	origin []complex128 // each body's own origin at full extension

	// For Newton's method, see hang.
	hung     []hung // by the body's number
	order    []int  // the moving bodies, each after the one it hangs on
	loops    []joint
	unknowns int

	complete bool // every body is known and has known points
}

// moving returns how many bodies move.
func (t *topology) moving() int { return len(t.bodies) - 1 }

// newTopology checks all that can be said of a mechanism without moving it.
func newTopology(m Spec) (*topology, error) {
	c := units.Checker{Package: "mechanism"}
	t := &topology{bodies: []string{Frame}, points: map[string]complex128{}, owners: map[string][]int{}}
	checkPoints(&c, m.Points)
	t.measure(m.Points)
	t.addBodies(&c, m)
	t.addAxle(&c, m.Axle)
	t.addShock(&c, m)
	t.addSlots(&c, m.Slots)
	if t.complete && len(t.slots) == len(m.Slots) {
		t.checkMobility(&c)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return t, nil
}

func checkPoints(c *units.Checker, points map[string]Point) {
	if len(points) == 0 || len(points) > maxNamed {
		c.Fail("points", len(points), fmt.Sprintf("from 1 to %d points", maxNamed), nil)
		return
	}
	for _, name := range slices.Sorted(maps.Keys(points)) {
		for axis, v := range points[name] {
			units.Between(c, fmt.Sprintf("points.%s[%d]", path(name), axis), v, -maxCoordinate, maxCoordinate)
		}
	}
}

// path writes a user's own name as part of a field's path, quoted where it
// could be taken for more than one part.
func path(name string) string {
	if name == "" || strings.ContainsAny(name, ".[]\"") {
		return "[" + strconv.Quote(name) + "]"
	}
	return name
}

// measure takes the points over, in units of a power of two metres that is
// about their extent, so that scaling loses no digit.
func (t *topology) measure(points map[string]Point) {
	lo, hi := Point{units.Length(math.Inf(1)), units.Length(math.Inf(1))}, Point{units.Length(math.Inf(-1)), units.Length(math.Inf(-1))}
	for _, p := range points {
		for axis, v := range p {
			lo[axis], hi[axis] = min(lo[axis], v), max(hi[axis], v)
		}
	}
	_, exponent := math.Frexp(float64(max(hi[0]-lo[0], hi[1]-lo[1])))
	t.size = math.Ldexp(1, max(-60, min(exponent, 60)))
	for name, p := range points {
		t.points[name] = complex(float64(p[0])/t.size, float64(p[1])/t.size)
	}
}

// addBodies numbers the bodies by name and joins them at the points they share.
func (t *topology) addBodies(c *units.Checker, m Spec) {
	if _, ok := m.Bodies[Frame]; !ok {
		c.Fail("bodies", nil, `a body named "frame", the one that stands still`, units.ErrMissing)
		return
	}
	for _, name := range slices.Sorted(maps.Keys(m.Bodies)) {
		if name != Frame {
			t.bodies = append(t.bodies, name)
		}
	}
	if n := t.moving(); n < 1 || n > maxMoving {
		c.Fail("bodies", n, fmt.Sprintf("from 1 to %d bodies besides the frame", maxMoving), nil)
		return
	}
	t.origin = make([]complex128, len(t.bodies))
	for b, name := range t.bodies {
		seen := map[string]bool{}
		for i, point := range m.Bodies[name] {
			p, ok := t.points[point]
			field := fmt.Sprintf("bodies.%s[%d]", path(name), i)
			switch {
			case !ok:
				c.Fail(field, point, "one of the points", units.ErrUnknown)
				return
			case seen[point]:
				c.Fail(field, point, "each point once", units.ErrConflict)
				return
			}
			seen[point] = true
			if i == 0 && b > 0 {
				t.origin[b] = p
			}
			t.owners[point] = append(t.owners[point], b)
		}
	}
	for _, point := range slices.Sorted(maps.Keys(t.owners)) {
		owners := t.owners[point]
		for i := 1; i < len(owners); i++ {
			t.joints = append(t.joints, joint{t.of(owners[0], point), t.of(owners[i], point)})
		}
	}
	t.complete = true
}

// of returns a point as one of a body's.
func (t *topology) of(body int, point string) place {
	return place{body, t.points[point] - t.origin[body]}
}

// first returns a point as one of the first body it belongs to; a point of
// none is the frame's.
func (t *topology) first(point string) place {
	if owners := t.owners[point]; len(owners) > 0 {
		return t.of(owners[0], point)
	}
	return t.of(0, point)
}

func (t *topology) addAxle(c *units.Checker, axle string) {
	owners := t.owners[axle]
	switch {
	case !t.complete:
	case len(owners) == 0:
		c.Fail("axle", axle, "a point of a body that moves", units.ErrUnknown)
	case owners[0] == 0:
		c.Fail("axle", axle, "a point of a body that moves, not of the frame", units.ErrConflict)
	default:
		t.axle = t.of(owners[0], axle)
	}
}

func (t *topology) addShock(c *units.Checker, m Spec) {
	a, b := m.Shock[0], m.Shock[1]
	switch {
	case !t.complete:
	case len(t.owners[a]) == 0 || len(t.owners[b]) == 0:
		c.Fail("shock", a+", "+b, "two points of bodies", units.ErrUnknown)
	case a == b || slices.ContainsFunc(t.owners[a], func(body int) bool { return slices.Contains(t.owners[b], body) }):
		c.Fail("shock", a+", "+b, "points of two bodies that move against each other", units.ErrConflict)
	default:
		t.shock = joint{t.first(a), t.first(b)}
		t.length = abs(t.points[a] - t.points[b])
		if !(t.length > 0) && !badPoint(c, a) && !badPoint(c, b) {
			c.Fail("shock", a+", "+b, "points apart from each other", units.ErrConflict)
		}
	}
	t.stroke, t.ends = float64(m.Stroke)/t.size, m.Shock
	switch length := units.Length(t.length * t.size); {
	case !units.Between(c, "stroke", m.Stroke, minLength, maxLength):
	case length > 0 && !(m.Stroke < length):
		c.Fail("stroke", m.Stroke, fmt.Sprintf("less than the shock's length at full extension, %v", length), units.ErrConflict)
	}
}

func badPoint(c *units.Checker, name string) bool {
	return c.Bad("points."+path(name)+"[0]") || c.Bad("points."+path(name)+"[1]")
}

func (t *topology) addSlots(c *units.Checker, slots []Slot) {
	if len(slots) > maxUnknowns {
		c.Fail("slots", len(slots), fmt.Sprintf("at most %d slots", maxUnknowns), nil)
		return
	}
	if !t.complete {
		return
	}
	for i, s := range slots {
		field := fmt.Sprintf("slots[%d].", i)
		on := slices.Index(t.bodies, s.On)
		owners := t.owners[s.Point]
		from, to := t.points[s.Along[0]], t.points[s.Along[1]]
		ok := true
		if len(owners) == 0 || slices.Contains(owners, on) {
			c.Fail(field+"point", s.Point, "a point of a body other than the slot's", units.ErrUnknown)
			ok = false
		}
		if on < 0 {
			c.Fail(field+"on", s.On, "one of the bodies", units.ErrUnknown)
			ok = false
		} else if !slices.Contains(t.owners[s.Along[0]], on) || !slices.Contains(t.owners[s.Along[1]], on) || !(abs(to-from) > 0) {
			c.Fail(field+"along", s.Along[0]+", "+s.Along[1], "two points of the slot's body, apart from each other", units.ErrUnknown)
			ok = false
		}
		if ok && math.Abs(cross(to-from, t.points[s.Point]-from)) > 1e-9*abs(to-from) {
			c.Fail(field+"point", s.Point, "a point on the slot's line", units.ErrConflict)
			ok = false
		}
		if ok {
			t.slots = append(t.slots, slot{t.first(s.Point), t.of(on, s.Along[0]), scale(1/abs(to-from), to-from)})
		}
	}
}

// checkMobility refuses bodies that aren't joined to the frame, and such as
// can move in no way, or in more than one (Grübler's count: three for every
// moving body, less two for every pivot of two bodies, less one for a slot).
func (t *topology) checkMobility(c *units.Checker) {
	group := make([]int, len(t.bodies))
	for b := range group {
		group[b] = b
	}
	join := func(a, b int) {
		from, to := group[a], group[b]
		for i := range group {
			if group[i] == from {
				group[i] = to
			}
		}
	}
	for _, j := range t.joints {
		join(j.a.body, j.b.body)
	}
	for _, s := range t.slots {
		join(s.a.body, s.b.body)
	}
	var loose []string
	for b, name := range t.bodies {
		if group[b] != group[0] {
			loose = append(loose, name)
		}
	}
	if len(loose) > 0 {
		c.Fail("bodies", strings.Join(loose, ", "), "bodies all joined to the frame by shared points", units.ErrConflict)
		return
	}
	mobility := 3*t.moving() - 2*len(t.joints) - len(t.slots)
	switch {
	case mobility > 1:
		c.Fail("bodies", mobility, fmt.Sprintf("exactly 1 way to move without the shock; there are %d, %d too many", mobility, mobility-1), units.ErrConflict)
	case mobility < 1:
		c.Fail("bodies", mobility, fmt.Sprintf("exactly 1 way to move without the shock; pivots hold it %d times too often", 1-mobility), units.ErrConflict)
	}
}

// The few operations on points that package math/cmplx would do at a cost.

func unit(angle float64) complex128 {
	sin, cos := math.Sincos(angle)
	return complex(cos, sin)
}

func abs(z complex128) float64                 { return math.Sqrt(dot(z, z)) }
func dot(a, b complex128) float64              { return real(a)*real(b) + imag(a)*imag(b) }
func cross(a, b complex128) float64            { return real(a)*imag(b) - imag(a)*real(b) }
func conj(a complex128) complex128             { return complex(real(a), -imag(a)) }
func turn(a complex128) complex128             { return complex(-imag(a), real(a)) }
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }
