package lesson

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// Drawing is a line drawing, with all of its lengths in pixels. Colours, strokes and
// letters are the page's, by classes.
type Drawing struct {
	Title, Desc   string // what it is, and its numbers
	width, height float64
	b             strings.Builder
}

// point is a place in a drawing, x to the right and y down.
type point struct{ x, y float64 }

func (p point) plus(x, y float64) point { return point{p.x + x, p.y + y} }

// towards returns the point at a distance from p in the direction of q.
func (p point) towards(q point, distance float64) point {
	d := math.Hypot(q.x-p.x, q.y-p.y)
	if d == 0 {
		return p
	}
	return point{p.x + (q.x-p.x)*distance/d, p.y + (q.y-p.y)*distance/d}
}

func (d *Drawing) size(width, height float64) { d.width, d.height = width, height }

// path returns the commands that lead through points.
func path(points []point) string {
	b := make([]byte, 0, 16*len(points))
	for i, p := range points {
		b = pair(append(b, either(i == 0, "M", "L")...), p)
	}
	return string(b)
}

// pair appends the coordinates of a point, in hundredths of a pixel.
func pair(b []byte, p point) []byte {
	return hundredths(append(hundredths(b, p.x), ' '), p.y)
}

func hundredths(b []byte, v float64) []byte {
	n := int64(math.Round(100 * v))
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = append(strconv.AppendInt(b, n/100, 10), '.')
	return append(b, byte('0'+n/10%10), byte('0'+n%10))
}

// line draws a line of a class through points.
func (d *Drawing) line(class string, points ...point) {
	fmt.Fprintf(&d.b, `<path class="%s" d="%s"/>`, class, path(points))
}

// shape draws a closed line.
func (d *Drawing) shape(class string, points ...point) {
	fmt.Fprintf(&d.b, `<path class="%s" d="%sZ"/>`, class, path(points))
}

// box draws a rectangle between two corners.
func (d *Drawing) box(class string, a, b point) {
	d.shape(class, a, point{b.x, a.y}, b, point{a.x, b.y})
}

func (d *Drawing) circle(class string, c point, r float64) {
	fmt.Fprintf(&d.b, `<circle class="%s" cx="%.2f" cy="%.2f" r="%.2f"/>`, class, c.x, c.y, r)
}

// text writes a label; the anchor is start, middle or end.
func (d *Drawing) text(at point, anchor, label string) { d.label("", at, anchor, label) }

func (d *Drawing) label(class string, at point, anchor, label string) {
	if class != "" {
		class = ` class="` + class + `"`
	}
	fmt.Fprintf(&d.b, `<text%s x="%.1f" y="%.1f" text-anchor="%s">%s</text>`, class, at.x, at.y, anchor, html.EscapeString(label))
}

// measure draws a dimension from a to b, with a tick at each end. The label
// stands at an offset from the middle.
func (d *Drawing) measure(a, b point, label, anchor string, dx, dy float64) {
	n := point{}.towards(point{b.y - a.y, a.x - b.x}, 4)
	if a == b {
		n = point{4, 0}
	}
	fmt.Fprintf(&d.b, `<g class="measure"><path d="%s"/><path d="%s%s"/>`, path([]point{a, b}),
		path([]point{a.plus(-n.x, -n.y), a.plus(n.x, n.y)}), path([]point{b.plus(-n.x, -n.y), b.plus(n.x, n.y)}))
	d.text(point{(a.x+b.x)/2 + dx, (a.y+b.y)/2 + dy}, anchor, label)
	d.b.WriteString("</g>")
}

// force draws an arrow from a to b and a label at an offset from a or, with at
// "tip", from b.
func (d *Drawing) force(a, b point, label, anchor string, dx, dy float64) {
	fmt.Fprintf(&d.b, `<g class="force"><path d="%s"/>`, path([]point{a, b}))
	if length := math.Hypot(b.x-a.x, b.y-a.y); length > 0.5 {
		head := math.Min(7, length)
		back, side := b.towards(a, head), point{}.towards(point{b.y - a.y, a.x - b.x}, 0.45*head)
		fmt.Fprintf(&d.b, `<path class="head" d="%sZ"/>`, path([]point{b, back.plus(side.x, side.y), back.plus(-side.x, -side.y)}))
	}
	if label != "" {
		d.text(a.plus(dx, dy), anchor, label)
	}
	d.b.WriteString("</g>")
}

// angle draws an arc about c from one direction to another, in degrees counter-clockwise
// from the right, and a label.
func (d *Drawing) angle(c point, r, from, to float64, label, anchor string, dx, dy float64) {
	on := func(degrees float64) point {
		return c.plus(r*math.Cos(degrees*math.Pi/180), -r*math.Sin(degrees*math.Pi/180))
	}
	var points []point
	for _, a := range along(from, to, 24) {
		points = append(points, on(a))
	}
	fmt.Fprintf(&d.b, `<g class="angle"><path d="%s"/>`, path(points))
	d.text(on((from+to)/2).plus(dx, dy), anchor, label)
	d.b.WriteString("</g>")
}

// coil draws a spring as seen from the side, from a to b.
func (d *Drawing) coil(a, b point, width float64, turns int) {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	side := point{}.towards(point{b.y - a.y, a.x - b.x}, width/2)
	points := []point{a}
	for i := range 2 * turns {
		p := a.towards(b, length*(float64(i)+0.5)/float64(2*turns))
		s := 1.0
		if i%2 == 1 {
			s = -1
		}
		points = append(points, p.plus(s*side.x, s*side.y))
	}
	d.line("spring", append(points, b)...)
}

// dots puts gas into a rectangle: as many dots wherever its sides are.
func (d *Drawing) dots(a, b point, count int) {
	path := make([]byte, 0, 20*count)
	for i := range count { // the fractional parts of i·φ and i·φ² lie evenly
		const u, w = 0.7548776662466927, 0.5698402909980532
		_, x := math.Modf(0.5 + float64(i)*u)
		_, y := math.Modf(0.5 + float64(i)*w)
		path = append(pair(append(path, 'M'), a.plus(2+x*(b.x-a.x-4), 2+y*(b.y-a.y-4))), "h.01"...)
	}
	fmt.Fprintf(&d.b, `<path class="gas" d="%s"/>`, path)
}

// SVG returns the drawing.
func (d *Drawing) SVG() string {
	return open("drawing", d.width, d.height, d.Title, d.Desc) + d.b.String() + "</svg>"
}

// open begins an SVG that states in words what it shows.
func open(class string, width, height float64, title, desc string) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="%s" role="img" viewBox="0 0 %g %g" aria-label="%s"><title>%[5]s</title><desc>%[6]s</desc>`,
		class, width, height, html.EscapeString(title+". "+desc), html.EscapeString(title), html.EscapeString(desc))
}
