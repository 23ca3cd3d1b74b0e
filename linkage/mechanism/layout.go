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

// Limits of a mechanism, far beyond any real one.
const (
	maxMoving, maxNamed, maxSlots = 12, 1000, 36 // moving bodies, points, slots
	maxCoordinate                 = 100 * units.Metre
	minStroke, maxStroke          = 1e-6 * units.Metre, 1e3 * units.Metre
)

// pin is a point of a body, by its place at full extension. Body 0 is the frame.
type pin struct {
	body int
	at   complex128
	hole int // its number among the holes, from 1; 0 for none
}

// joint is two pins: of a pivot, or the eyes of the shock.
type joint struct{ a, b pin }

// slot keeps a pin on the line through another, along a direction of length 1
// that turns with the other's body.
type slot struct {
	pin, line pin
	along     complex128
	end       pin // the second point of the line
}

// layout is a checked mechanism with its bodies numbered; it never changes. Lengths are in units
// of size, a power of two metres near the mechanism's extent: scaling by it is exact.
type layout struct {
	size   float64
	bodies []string // by number; the frame is 0
	points map[string]complex128
	holes  []Hole
	starts []int            // of each body, how many holes those before it have
	owners map[string][]int // the bodies that each point belongs to, ascending
	pivots []joint
	slots  []slot
	shock  joint
	eyes   [2]string // the names of the shock's points
	length float64   // of the shock at full extension
	stroke float64
	axle   pin
}

// newLayout checks a mechanism without moving it, and returns nil if c has found a fault.
func newLayout(c *units.Checker, s Spec) *layout {
	l := &layout{bodies: []string{Frame}, points: map[string]complex128{}, owners: map[string][]int{}, eyes: s.Shock}
	finite := l.addPoints(c, s.Points)
	known := l.addBodies(c, s.Bodies)
	if known {
		l.addShock(c, finite)
		l.addAxle(c, s.Axle, s.Carrier)
	}
	l.stroke = float64(s.Stroke) / l.size
	if units.Between(c, "stroke", s.Stroke, minStroke, maxStroke) && l.length > 0 && !(l.stroke < l.length) {
		c.Fail("stroke", s.Stroke, units.LessThan(units.Length(l.length*l.size)).With("the shock's length at full extension"), units.ErrConflict)
	}
	if known && l.addSlots(c, s.Slots, finite) {
		l.checkFreedom(c, s)
	}
	if !c.OK() {
		return nil
	}
	return l
}

// addPoints adds the points, and reports whether all coordinates are within their bounds.
func (l *layout) addPoints(c *units.Checker, points map[string]Point) bool {
	few := len(points) > 0 && len(points) <= maxNamed // or the coordinates are not checked
	if !few {
		c.Fail("points", len(points), units.From(1, maxNamed).Count("points"), nil)
	}
	ok := few
	inf := units.Length(math.Inf(1))
	lo, hi := Point{inf, inf}, Point{-inf, -inf}
	for _, name := range slices.Sorted(maps.Keys(points)) {
		for axis, v := range points[name] {
			if few && !units.Between(c, fmt.Sprintf("points.%s[%d]", path(name), axis), v, -maxCoordinate, maxCoordinate) {
				ok = false
			}
			lo[axis], hi[axis] = min(lo[axis], v), max(hi[axis], v)
		}
	}
	_, exponent := math.Frexp(float64(max(hi[0]-lo[0], hi[1]-lo[1])))
	l.size = math.Ldexp(1, max(-60, min(exponent, 60)))
	for name, p := range points {
		l.points[name] = complex(float64(p[0])/l.size, float64(p[1])/l.size)
	}
	return ok
}

// path returns a user's name as one part of a field's path, quoted where it must be.
func path(name string) string {
	if name == "" || strings.ContainsAny(name, ".[]\"") {
		return "[" + strconv.Quote(name) + "]"
	}
	return name
}

// addBodies numbers the bodies by name and joins them at the points they share. It
// reports whether all points are known.
func (l *layout) addBodies(c *units.Checker, bodies map[string][]string) bool {
	if _, ok := bodies[Frame]; !ok {
		c.Fail("bodies", nil, `a body named "frame", the one that stands still`, units.ErrMissing)
		return false
	}
	if n := len(bodies) - 1; n < 1 || n > maxMoving {
		c.Fail("bodies", n, units.From(1, maxMoving).Count("bodies besides the frame"), nil)
		return false
	}
	l.bodies = append(l.bodies, slices.DeleteFunc(slices.Sorted(maps.Keys(bodies)), func(name string) bool { return name == Frame })...)
	for b, name := range l.bodies {
		l.starts = append(l.starts, len(l.holes))
		for i, point := range bodies[name] {
			field := fmt.Sprintf("bodies.%s[%d]", path(name), i)
			if _, ok := l.points[point]; !ok {
				c.Fail(field, point, "one of the points", units.ErrUnknown)
				return false
			}
			if slices.Contains(l.owners[point], b) {
				c.Fail(field, point, "each point once", units.ErrConflict)
				return false
			}
			l.owners[point] = append(l.owners[point], b)
			l.holes = append(l.holes, Hole{name, point})
		}
	}
	l.starts = append(l.starts, len(l.holes))
	for _, point := range slices.Sorted(maps.Keys(l.owners)) {
		for _, other := range l.owners[point][1:] {
			l.pivots = append(l.pivots, joint{l.first(point), l.pin(point, other)})
		}
	}
	return true
}

// pin returns a point as one of a body.
func (l *layout) pin(point string, body int) pin {
	start := l.starts[body]
	return pin{body, l.points[point], start + 1 + slices.Index(l.holes[start:l.starts[body+1]], Hole{l.bodies[body], point})}
}

// first returns a point as one of the first body it belongs to; a point of none is the frame's.
func (l *layout) first(point string) pin {
	if owners := l.owners[point]; len(owners) > 0 {
		return l.pin(point, owners[0])
	}
	return pin{at: l.points[point]}
}

// addAxle adds the axle as a point of the body that carries the wheel.
func (l *layout) addAxle(c *units.Checker, axle, carrier string) {
	owners, body := l.owners[axle], slices.Index(l.bodies, carrier)
	l.axle = l.first(axle)
	switch {
	case len(owners) == 0:
		c.Fail("axle", axle, "a point of a body that moves", units.ErrUnknown)
	case owners[0] == 0:
		c.Fail("axle", axle, "a point of a body that moves, not of the frame", units.ErrConflict)
	case carrier == "" && len(owners) > 1:
		c.Fail("carrier", nil, "the body that carries the wheel, "+l.names(owners)+": the axle is a point of each", units.ErrMissing)
	case carrier != "" && !slices.Contains(owners, body):
		c.Fail("carrier", carrier, "a body that the axle is a point of: "+l.names(owners), units.ErrUnknown)
	case carrier != "":
		l.axle = l.pin(axle, body)
	}
}

// names returns the names of bodies by their numbers as a list of alternatives.
func (l *layout) names(bodies []int) string {
	var list []string
	for _, b := range bodies {
		list = append(list, l.bodies[b])
	}
	return strings.Join(list, " or ")
}

// addShock adds the shock; finite is whether all coordinates are usable.
func (l *layout) addShock(c *units.Checker, finite bool) {
	a, b := l.eyes[0], l.eyes[1]
	onBoth := func(body int) bool { return slices.Contains(l.owners[b], body) }
	fail := func(want string, class *units.Class) { c.Fail("shock", a+", "+b, want, class) }
	switch {
	case len(l.owners[a]) == 0 || len(l.owners[b]) == 0:
		fail("two points of bodies", units.ErrUnknown)
	case a == b || slices.ContainsFunc(l.owners[a], onBoth):
		fail("points of two bodies that move against each other", units.ErrConflict)
	default:
		l.shock, l.length = joint{l.first(a), l.first(b)}, abs(l.points[a]-l.points[b])
		if finite && !(l.length > 0) {
			fail("points apart from each other", units.ErrConflict)
		}
	}
}

// addSlots adds the slots and reports whether all of them are sound; finite is whether all coordinates
// are usable.
func (l *layout) addSlots(c *units.Checker, slots []Slot, finite bool) bool {
	if len(slots) > maxSlots {
		c.Fail("slots", len(slots), units.AtMost(maxSlots).Count("slots"), nil)
		return false
	}
	for i, s := range slots {
		c := c.Element("slots", i)
		on := slices.Index(l.bodies, s.On)
		from, to := l.points[s.Along[0]], l.points[s.Along[1]]
		length := abs(to - from)
		if owners := l.owners[s.Point]; len(owners) == 0 || slices.Contains(owners, on) {
			c.Fail("point", s.Point, "a point of a body other than the slot's", units.ErrUnknown)
		}
		if on < 0 {
			c.Fail("on", s.On, "one of the bodies", units.ErrUnknown)
		} else if !slices.Contains(l.owners[s.Along[0]], on) || !slices.Contains(l.owners[s.Along[1]], on) || finite && !(length > 0) {
			c.Fail("along", s.Along[0]+", "+s.Along[1], "two points of the slot's body, apart from each other", units.ErrUnknown)
		}
		if c.OK() && math.Abs(cross(to-from, l.points[s.Point]-from)) > 1e-9*length {
			c.Fail("point", s.Point, "a point on the slot's line", units.ErrConflict)
		}
		if c.OK() {
			l.slots = append(l.slots, slot{l.first(s.Point), l.pin(s.Along[0], on), scale(1/length, to-from), l.pin(s.Along[1], on)})
		}
	}
	return len(l.slots) == len(slots)
}
