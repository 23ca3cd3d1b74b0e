package mechanism

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Load is a force on a point of a body and a moment on that body, each at most 1 GN or 1 GN·m.
type Load struct {
	At     Mark
	Force  [2]units.Force // forward and up, in the axes of the frame
	Moment units.Torque   // counter-clockwise
}

func (p *Load) force() complex128 { return complex(float64(p.Force[0]), float64(p.Force[1])) }

// Check records in c which fields of the load are beyond their limits.
func (p Load) Check(c *units.Checker) {
	const most = 1e9
	units.Between(c, "force[0]", p.Force[0], -most, most)
	units.Between(c, "force[1]", p.Force[1], -most, most)
	units.Between(c, "moment", p.Moment, -most, most)
}

// Equilibrium is how a mechanism carries loads at one stroke.
type Equilibrium struct {
	Stroke units.Length `json:"stroke"`
	// ShockForce is how hard the shock pushes its eyes apart. It is negative where the loads pull the
	// shock longer.
	ShockForce units.Force `json:"shock_force"`
	Holes      []HoleForce `json:"holes"` // of every hole, in the order of [Mechanism.Holes]
	Links      []LinkForce `json:"links"` // of the bodies that carry a force from one hole to another, by name
}

// HoleForce is the force on a body at one of its holes, by all that sits there: the other bodies of a
// pivot, an eye of the shock, a pin in a slot. A load is not among them.
type HoleForce struct {
	Hole
	Force [2]units.Force `json:"force"` // forward and up, in the axes of the frame
}

// Size returns how great the force is.
func (f HoleForce) Size() units.Force {
	return units.Force(math.Hypot(float64(f.Force[0]), float64(f.Force[1])))
}

// Angle returns the direction of the force, counter-clockwise from forward, more than −π and up to π.
// That of no force is 0.
func (f HoleForce) Angle() units.Angle {
	angle := math.Atan2(float64(f.Force[1]), float64(f.Force[0]))
	if angle == -math.Pi {
		angle = math.Pi
	}
	return units.Angle(angle)
}

// LinkForce is the force along a body that only two holes load.
type LinkForce struct {
	Body    string      `json:"body"`
	Tension units.Force `json:"tension"` // negative under compression
}

// Equilibrium returns the forces in the joints and the shock of a mechanism that stands still at a
// stroke, clamped to [0, Stroke], under loads. The shock is as hard as it takes: its force is the
// virtual work of the loads per stroke, which under a force straight up at the axle is the force times
// the lever ratio. Forces and moments balance on every moving body. The error names each load that is
// out of its limits, such as loads[0].force[1]. It allocates.
//
// Not modelled: friction, play and flex; the weight and the inertia of the links; a side load, and how
// the two sides of a pivot share its force.
func (m *Mechanism) Equilibrium(stroke units.Length, loads ...Load) (Equilibrium, error) {
	c := units.Checker{Package: "mechanism"}
	for i, p := range loads {
		c := c.Element("loads", i)
		p.Check(&c)
	}
	if m.layout == nil || !c.OK() {
		return Equilibrium{}, c.Err()
	}
	l, s := m.layout, m.clamp(stroke)
	st := m.statics(s)
	var loaded [maxMoving + 1]bool
	for _, p := range loads {
		loaded[p.At.body] = loaded[p.At.body] || p.force() != 0 || p.Moment != 0
	}
	forces := st.balance(len(l.holes), loads...)
	e := Equilibrium{Stroke: units.Length(s * l.size), ShockForce: units.Force(forces.shock)}
	for i, hole := range l.holes {
		f := forces.force[i+1]
		e.Holes = append(e.Holes, HoleForce{hole, [2]units.Force{units.Force(real(f)), units.Force(imag(f))}})
	}
	for b, name := range l.bodies[1:] {
		if ends := l.joined(b + 1); len(ends) == 2 && !loaded[b+1] {
			way := st.m.position(m.tree.mark(ends[0])) - st.m.position(m.tree.mark(ends[1]))
			e.Links = append(e.Links, LinkForce{name, units.Force(dot(forces.force[ends[0].hole], way) / abs(way))})
		}
	}
	return e, nil
}

// joined returns the points of a body at which others, the shock or a slot's pin can load it.
func (l *layout) joined(body int) []pin {
	var list []pin
	for _, hole := range l.holes[l.starts[body]:l.starts[body+1]] {
		p := l.pin(hole.Point, body)
		sits := len(l.owners[hole.Point]) > 1 || slices.Contains(l.eyes[:], hole.Point)
		for _, s := range l.slots {
			sits = sits || p.hole == s.pin.hole || p.hole == s.line.hole || p.hole == s.end.hole
		}
		if sits {
			list = append(list, p)
		}
	}
	return list
}

// Bearing is a place where one part turns in another: a pivot of two bodies, a pin in a slot, or an eye
// of the shock.
type Bearing struct {
	Point  string `json:"point"`
	First  string `json:"first"`  // a body: at a pivot the first by name
	Second string `json:"second"` // another body of the pivot; "" for the shock
}

// Bearings returns the bearings of a mechanism in the order of their points. A pivot of three bodies
// has two, of the first and each other one. It allocates.
func (m *Mechanism) Bearings() []Bearing {
	if m.layout == nil {
		return nil
	}
	l := m.layout
	var list []Bearing
	for point, owners := range l.owners {
		var names []string
		for _, b := range owners {
			names = append(names, l.bodies[b])
		}
		slices.Sort(names)
		for _, other := range names[1:] {
			list = append(list, Bearing{point, names[0], other})
		}
		if slices.Contains(l.eyes[:], point) {
			list = append(list, Bearing{point, names[0], ""})
		}
	}
	for _, s := range m.spec.Slots {
		list = append(list, Bearing{s.Point, s.On, l.bodies[l.first(s.Point).body]})
	}
	slices.SortFunc(list, func(a, b Bearing) int {
		return cmp.Or(cmp.Compare(a.Point, b.Point), cmp.Compare(a.First, b.First), cmp.Compare(a.Second, b.Second))
	})
	return list
}

// Turns returns how far the second part of each bearing has turned against the first since full
// extension, counter-clockwise, in the order of [Mechanism.Bearings]. More than half a turn counts on.
// The stroke is clamped to [0, Stroke]. It allocates.
func (m *Mechanism) Turns(stroke units.Length) []units.Angle {
	if m.layout == nil {
		return nil
	}
	s, bearings := m.clamp(stroke), m.Bearings()
	a, b := m.tree.mark(m.layout.shock.a), m.tree.mark(m.layout.shock.b)
	turns, was := make([]units.Angle, len(bearings)), make([]complex128, len(bearings))
	var here motion
	part := func(body string) complex128 {
		if body == "" {
			return here.position(a) - here.position(b)
		}
		return here[slices.Index(m.layout.bodies, body)].u
	}
	// From one stroke that the motion was followed at to the next, nothing turns by half a turn.
	for k := 0; k == 0 || m.nodes[k-1].stroke < s; k++ {
		m.solve(min(m.nodes[k].stroke, s), &here)
		for i, b := range bearings {
			u, v := part(b.First), part(b.Second)
			now := complex(dot(u, v), cross(u, v))
			if k > 0 {
				turns[i] += units.Angle(math.Atan2(cross(was[i], now), dot(was[i], now)))
			}
			was[i] = now
		}
	}
	return turns
}
