package picture

import (
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pen draws in the coordinates of a side view.
type pen struct {
	draw.Canvas
	x, y func(float64) vg.Length
}

func newPen(c draw.Canvas, p *plot.Plot) pen {
	x, y := p.Transforms(&c)
	return pen{c, x, y}
}

// scale is how many points on the paper a millimetre has.
func (d pen) scale() vg.Length { return d.x(1) - d.x(0) }

func (d pen) at(p Point) vg.Point { return vg.Point{X: d.x(p.X), Y: d.y(p.Y)} }

func (d pen) lines(style draw.LineStyle, points ...vg.Point) {
	d.StrokeLines(style, d.ClipLinesXY(points)...)
}

// circle of a radius on the paper.
func (d pen) circle(style draw.LineStyle, at vg.Point, radius vg.Length) {
	n := min(180, 16+4*int(radius))
	points := make([]vg.Point, n+1)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		points[i] = vg.Point{X: at.X + radius*vg.Length(cos), Y: at.Y + radius*vg.Length(sin)}
	}
	d.lines(style, points...)
}

// disc is a filled circle with a rim.
func (d pen) disc(fill bool, at vg.Point, radius vg.Length) {
	var path vg.Path
	path.Move(vg.Point{X: at.X + radius, Y: at.Y})
	path.Arc(at, radius, 0, 2*math.Pi)
	path.Close()
	d.SetColor(black)
	if !fill {
		d.SetColor(pale)
	}
	d.Fill(path)
	d.circle(draw.LineStyle{Color: black, Width: 0.9}, at, radius)
}

// sketch draws all poses, the first one last so that it lies on top.
func (v SideView) sketch(c draw.Canvas, p *plot.Plot) {
	d := newPen(c, p)
	origin := v.origin(d)
	for i, pose := range v.Poses {
		if v.Wheel > 0 && (i == 0 || i == len(v.Poses)-1) {
			style := v.style(i)
			style.Width, style.Color = 0.7, middle
			d.circle(style, d.at(pose.At[v.Axle]), vg.Length(v.Wheel)*d.scale())
		}
	}
	for _, body := range v.Bodies { // under everything, so that it hides nothing
		if points := d.corners(v.Poses[0], body); len(points) > 2 {
			d.FillPolygon(pale, d.ClipPolygonXY(points))
		}
	}
	for i := len(v.Poses) - 1; i >= 0; i-- {
		v.pose(d, i)
	}
	path := make([]vg.Point, len(v.Path))
	for i, at := range v.Path {
		path[i] = d.at(at)
	}
	d.lines(draw.LineStyle{Color: black, Width: 1.8}, path...)
	labels := append(v.axles(d), origin)
	labels = v.arrows(d, labels)
	for _, name := range v.Fixed {
		d.ground(d.at(v.Poses[0].At[name]))
	}
	v.names(d, labels)
}

// style of the lines of the i-th pose.
func (v SideView) style(i int) draw.LineStyle {
	if i == 0 {
		return draw.LineStyle{Color: black, Width: 1.3}
	}
	return draw.LineStyle{Color: dark, Width: 0.8, Dashes: dashes[i]}
}

// corners are those of a body at a pose.
func (d pen) corners(pose Pose, body []string) []vg.Point {
	points := make([]vg.Point, len(body))
	for i, name := range body {
		points[i] = d.at(pose.At[name])
	}
	return hull(points)
}

// pose draws the bodies, the shock and the pivots of a pose.
func (v SideView) pose(d pen, i int) {
	pose, style := v.Poses[i], v.style(i)
	for _, body := range v.Bodies {
		points := d.corners(pose, body)
		d.lines(style, append(points, points[0])...)
	}
	a, b := d.at(pose.At[v.Shock[0]]), d.at(pose.At[v.Shock[1]])
	if slices.Contains(v.Fixed, v.Shock[0]) {
		a, b = b, a
	}
	d.shock(style, a, b, i == 0)
	if i > 0 {
		return
	}
	for _, body := range v.Bodies {
		for _, name := range body {
			if name != v.Axle {
				d.disc(false, d.at(pose.At[name]), 2.3)
			}
		}
	}
}

// shock draws a shaft from a and a body to b.
func (d pen) shock(style draw.LineStyle, a, b vg.Point, full bool) {
	along := b.Sub(a)
	length := vg.Length(math.Hypot(float64(along.X), float64(along.Y)))
	if !full || !(length > 0) {
		d.lines(style, a, b)
		return
	}
	across := vg.Point{X: -along.Y, Y: along.X}.Scale(5 / length)
	from := a.Add(along.Scale(0.42))
	d.lines(draw.LineStyle{Color: black, Width: 2}, a, from)
	box := []vg.Point{from.Add(across), b.Add(across), b.Sub(across), from.Sub(across)}
	d.FillPolygon(light, d.ClipPolygonXY(box))
	d.lines(draw.LineStyle{Color: black, Width: 0.9}, append(box, box[0])...)
}

// axles marks the axle of every pose and writes the poses' labels behind it. It
// returns where they are.
func (v SideView) axles(d pen) (taken []vg.Rectangle) {
	style := aligned(letters(smallSize, black), draw.XRight, draw.YCenter)
	wanted := make([]float64, len(v.Poses))
	edge := d.Max.X
	for i, pose := range v.Poses {
		at := d.at(pose.At[v.Axle])
		d.disc(i == 0, at, 2.6)
		taken = append(taken, vg.Rectangle{Min: at.Sub(vg.Point{X: 3, Y: 3}), Max: at.Add(vg.Point{X: 3, Y: 3})})
		wanted[i], edge = float64(at.Y), min(edge, at.X)
	}
	placed := spread(wanted, float64(leading(style)), float64(d.Min.Y), float64(d.Max.Y))
	for i, pose := range v.Poses {
		if pose.Label == "" {
			continue
		}
		at, to := d.at(pose.At[v.Axle]), vg.Point{X: edge - labelGap, Y: vg.Length(placed[i])}
		d.lines(hair(dark), vg.Point{X: at.X - 3, Y: at.Y}, to)
		d.FillText(style, vg.Point{X: to.X - 2, Y: to.Y + lift}, pose.Label)
		box := style.Rectangle(pose.Label).Add(vg.Point{X: to.X - 2, Y: to.Y})
		box.Max.X = at.X // the line to the axle is taken too
		taken = append(taken, box)
	}
	return taken
}

// ground marks a point that stands still.
func (d pen) ground(at vg.Point) {
	d.FillPolygon(black, d.ClipPolygonXY([]vg.Point{at, {X: at.X - 4, Y: at.Y - 7}, {X: at.X + 4, Y: at.Y - 7}}))
	d.lines(draw.LineStyle{Color: black, Width: 1}, vg.Point{X: at.X - 6, Y: at.Y - 7.5}, vg.Point{X: at.X + 6, Y: at.Y - 7.5})
	d.disc(false, at, 2.3)
}

// origin marks the bottom bracket and returns where that is written.
func (v SideView) origin(d pen) vg.Rectangle {
	at := d.at(Point{})
	d.circle(draw.LineStyle{Color: middle, Width: 0.7}, at, 5)
	for _, arm := range []vg.Point{{X: 8}, {Y: 8}} {
		d.lines(hair(middle), at.Sub(arm), at.Add(arm))
	}
	const text = "bottom bracket"
	style := aligned(letters(smallSize, dark), draw.XLeft, draw.YTop)
	place := vg.Point{X: at.X + 6, Y: at.Y - 6}
	if place.X+style.Width(text) > d.Max.X {
		style.XAlign, place.X = draw.XRight, at.X-6
	}
	if place.Y-style.Height(text) < d.Min.Y {
		style.YAlign, place.Y = draw.YBottom, at.Y+6
	}
	d.FillText(style, place, text)
	return style.Rectangle(text).Add(place)
}

// hull returns the corners of the convex hull of points, in order around it.
func hull(points []vg.Point) []vg.Point {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b vg.Point) int {
		switch {
		case a.X < b.X || (a.X == b.X && a.Y < b.Y):
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	half := func(points []vg.Point) []vg.Point {
		var h []vg.Point
		for _, p := range points {
			for len(h) > 1 && cross(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(sorted)
	slices.Reverse(sorted)
	return append(lower, half(sorted)...)
}

// cross is more than 0 where a, b, c turn to the left.
func cross(a, b, c vg.Point) vg.Length {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}
