package pivots

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// violation is something required that a mechanism breaks at a stroke, by so many metres.
type violation struct {
	field, point string
	by           float64
	stroke       units.Length
	parts        []part
}

// part is how a violation changes with the place of a point: by its way along a direction.
type part struct {
	point     string
	direction complex128
}

// violationsOf lists what a mechanism breaks.
func (p *descent) violationsOf(m *mechanism.Mechanism) (list []violation) {
	drawn := m.Spec()
	eyes := drawn.Shock
	for _, link := range p.links {
		a, b := place(drawn.Points[link[0]]), place(drawn.Points[link[1]])
		if by := float64(p.LeastLink) - abs(b-a); by > 0 {
			along := away(a, b)
			list = append(list, violation{field: "least_link", point: link[0] + ", " + link[1], by: by, parts: []part{{link[0], along}, {link[1], -along}}})
		}
	}
	const strokes = 5
	for i := range strokes {
		stroke := m.Stroke() * units.Length(i) / (strokes - 1)
		points := m.Positions(stroke)
		for k, region := range p.KeepOut {
			for _, move := range p.Move {
				at := place(points[move.Point])
				near := region.nearest(at)
				if by := float64(region.Radius) - abs(at-near); by > 0 {
					list = append(list, violation{fmt.Sprintf("keep_out[%d]", k), move.Point, by, stroke, []part{{move.Point, -away(near, at)}}})
				}
			}
		}
		a, b := place(points[eyes[0]]), place(points[eyes[1]])
		for _, name := range p.others {
			at := place(points[name])
			share := nearestShare(a, b, at)
			near := a + scale(share, b-a)
			if by := float64(p.ShockClearance) - abs(at-near); by > 0 {
				out := away(near, at)
				list = append(list, violation{"shock_clearance", name, by, stroke,
					[]part{{name, -out}, {eyes[0], scale(1-share, out)}, {eyes[1], scale(share, out)}}})
			}
		}
	}
	return list
}

// listPoints lists the bodies that each point belongs to, of an eye the shock as "" too; the links that
// have a least length, from pivot to pivot of a body that moves; and the points that keep clear of the shock.
func (p *descent) listPoints() {
	p.owners = map[string][]string{}
	bodies := p.given.Bodies
	for _, body := range slices.Sorted(maps.Keys(bodies)) {
		for _, point := range bodies[body] {
			p.owners[point] = append(p.owners[point], body)
		}
	}
	for _, eye := range p.given.Shock {
		p.owners[eye] = append(p.owners[eye], "")
	}
	for _, body := range slices.Sorted(maps.Keys(bodies)) {
		for i, a := range bodies[body] {
			for _, b := range bodies[body][:i] {
				if body != mechanism.Frame && len(p.owners[a]) > 1 && len(p.owners[b]) > 1 {
					p.links = append(p.links, [2]string{b, a})
				}
			}
		}
	}
	for _, point := range slices.Sorted(maps.Keys(p.owners)) {
		if !slices.Contains(p.given.Shock[:], point) {
			p.others = append(p.others, point)
		}
	}
}

// nearest returns the place on a region's line that is nearest to another.
func (r *Region) nearest(at complex128) complex128 {
	best := place(r.Line[0])
	for i, p := range r.Line[1:] {
		a, b := place(r.Line[i]), place(p)
		if near := a + scale(nearestShare(a, b, at), b-a); abs(at-near) < abs(at-best) {
			best = near
		}
	}
	return best
}

// nearestShare returns how far the place on the way from a to b is along it that is nearest to
// another, as a share.
func nearestShare(a, b, at complex128) float64 {
	square := dot(b-a, b-a)
	if !(square > 0) {
		return 0
	}
	return min(max(dot(at-a, b-a)/square, 0), 1)
}

// placeGradient returns the derivatives of the place of a point at a stroke by the axes.
func (p *descent) placeGradient(c *candidate, point string, stroke units.Length) []complex128 {
	mark, _ := c.m.Mark(p.owners[point][0], c.m.Spec().Points[point])
	var at mechanism.Motion
	c.m.ReadMotion(stroke, &at)
	sin, cos := math.Sincos(float64(at.Turn(mark)))
	// The mark stays where it is on its body, and the point moves on it.
	own := [2]complex128{complex(cos, sin), complex(-sin, cos)}
	g := c.m.PointMotionGradient(stroke, mark).Place
	list := make([]complex128, len(p.axes))
	for k, a := range p.axes {
		list[k] = complex(c.m.PointGradient(g[0], a.point)[a.xy], c.m.PointGradient(g[1], a.point)[a.xy])
		if a.point == point {
			list[k] += own[a.xy]
		}
	}
	return list
}

// away returns the direction from one place to another; upward if they are the same.
func away(from, to complex128) complex128 {
	if d := abs(to - from); d > 0 {
		return scale(1/d, to-from)
	}
	return 1i
}

func place(p mechanism.Point) complex128 { return complex(float64(p[0]), float64(p[1])) }

func abs(z complex128) float64                 { return math.Hypot(real(z), imag(z)) }
func dot(a, b complex128) float64              { return real(a)*real(b) + imag(a)*imag(b) }
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }
