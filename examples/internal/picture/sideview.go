package picture

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg/draw"
)

// Point is a place in a side view, in millimetres: x forward, y up.
type Point struct{ X, Y float64 }

// SideView is a mechanism at several poses, drawn with the same scale along
// both axes.
type SideView struct {
	Title, Note string
	// Bodies are the moving bodies by the names of their points: one of two
	// points is a line, one of more a polygon.
	Bodies [][]string
	Fixed  []string  // points that stand still
	Shock  [2]string // the two eyes; the first may be either
	Axle   string
	// Poses are the places of all points; the first is drawn strongest and
	// has the points' names. At most [MaxLines].
	Poses []Pose
	Path  []Point // of the axle
	// Wheel is the radius of the wheel, drawn around the axle of the first and
	// of the last pose; 0 for none.
	Wheel float64
	// Arrows are drawn at points of the first pose, such as forces.
	Arrows []Arrow
	Size   Size // Half if zero

	within []Point // the two corners of the range, in place of those of what is drawn
}

// Arrow is an arrow whose tip is at a point, with its length and direction in millimetres of the drawing.
type Arrow struct {
	At, Label string
	X, Y      float64
}

// Pose is where all points are.
type Pose struct {
	Label string // beside the axle
	At    map[string]Point
}

func (v SideView) size() Size { return v.Size.or(Half) }

func (v SideView) check() error {
	if err := v.Size.check(); err != nil {
		return err
	}
	if n := len(v.Poses); n == 0 || n > MaxLines {
		return fmt.Errorf("picture: %d poses: want 1 to %d", n, MaxLines)
	}
	if !(v.Wheel >= 0) || !usable(v.Wheel) {
		return fmt.Errorf("picture: wheel radius %v: want 0 or more", v.Wheel)
	}
	needed := slices.Concat(slices.Concat(v.Bodies...), v.Fixed, v.Shock[:], []string{v.Axle})
	for _, p := range v.Poses {
		for _, name := range needed {
			at, ok := p.At[name]
			if !ok {
				return fmt.Errorf("picture: the pose %q has no point %q", p.Label, name)
			}
			if !usable(at.X, at.Y) {
				return fmt.Errorf("picture: the point %q of the pose %q is at %v", name, p.Label, at)
			}
		}
	}
	for _, a := range v.Arrows {
		if _, ok := v.Poses[0].At[a.At]; !ok || !usable(a.X, a.Y) {
			return fmt.Errorf("picture: an arrow of %v by %v at %q: want a point of the first pose", a.X, a.Y, a.At)
		}
	}
	for _, at := range v.Path {
		if !usable(at.X, at.Y) {
			return fmt.Errorf("picture: the axle path has a point at %v", at)
		}
	}
	return nil
}

// bounds are the corners of all that is drawn, with some room around them.
func (v SideView) bounds() (lo, hi Point) {
	lo, hi = Point{}, Point{} // the origin is always seen
	add := func(p Point, r float64) {
		lo.X, lo.Y = min(lo.X, p.X-r), min(lo.Y, p.Y-r)
		hi.X, hi.Y = max(hi.X, p.X+r), max(hi.Y, p.Y+r)
	}
	for i, pose := range v.Poses {
		for _, name := range slices.Concat(slices.Concat(v.Bodies...), v.Fixed, v.Shock[:], []string{v.Axle}) {
			add(pose.At[name], 0)
		}
		if i == 0 || i == len(v.Poses)-1 {
			add(pose.At[v.Axle], v.Wheel)
		}
	}
	for _, p := range v.Path {
		add(p, 0)
	}
	for _, a := range v.Arrows {
		at := v.Poses[0].At[a.At]
		add(Point{at.X - a.X, at.Y - a.Y}, 0)
	}
	if len(v.within) > 0 { // they have their room already
		return v.within[0], v.within[1]
	}
	room := 0.05 * max(hi.X-lo.X, hi.Y-lo.Y, 1)
	return Point{lo.X - room, lo.Y - room}, Point{hi.X + room, hi.Y + room}
}

// plot returns a plot whose axes have the same scale on a canvas, with a sketch in it.
func (v SideView) plot(c draw.Canvas, sketch layer) *plot.Plot {
	p := bare("forward of the bottom bracket (mm)", "above the bottom bracket (mm)")
	lo, hi := v.bounds()
	s := step(max(hi.X-lo.X, hi.Y-lo.Y), 12)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = lo.X, hi.X, lo.Y, hi.Y
	// The poses' labels want room on the paper behind the hindmost axle.
	labels, behind := 0.0, math.Inf(1)
	for _, pose := range v.Poses {
		labels = max(labels, float64(letters(smallSize, black).Width(pose.Label)+labelGap+6))
		behind = min(behind, pose.At[v.Axle].X)
	}
	// The data area depends on the ticks' labels, and these on the ranges. A
	// label that reached past a corner would move it back and forth; without
	// such labels a few rounds settle it.
	for range 5 {
		data := p.DataCanvas(c)
		w, h := float64(data.Max.X-data.Min.X), float64(data.Max.Y-data.Min.Y)
		labels := min(labels, w/2)
		scale := max((hi.X-lo.X)/w, (hi.Y-lo.Y)/h, (hi.X-behind)/(w-labels)) // mm per point on the paper
		p.X.Min, p.X.Max = centred(min(lo.X, behind-labels*scale), hi.X, scale*w)
		p.Y.Min, p.Y.Max = centred(lo.Y, hi.Y, scale*h)
		const room = 16 // half a label of five digits
		p.X.Tick.Marker, p.Y.Tick.Marker = inside{ticks(s), room * scale}, inside{ticks(s), room / 3 * scale}
	}
	p.Add(layer(grid), sketch)
	return p
}

func centred(lo, hi, width float64) (float64, float64) {
	return (lo + hi - width) / 2, (lo + hi + width) / 2
}

func (v SideView) draw(c draw.Canvas) {
	c = draw.Crop(c, 4, -10, 4, -4)
	c = heading(c, v.Title, v.Note)
	v.plot(c, v.sketch).Draw(c)
}
