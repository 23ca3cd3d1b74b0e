package lesson

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// Curve is one line or two over a common axis, with a dot where the sliders stand.
type Curve struct {
	Title string
	X, Y  Axis
	Lines []Line // the second is dashed
	Dot   [2]float64
	Level *Level // a horizontal line
	Under bool   // the area under the first line up to the dot is grey
}

// Axis is what runs along an axis.
type Axis struct {
	Label, Unit string
	Loose       bool // need not start at 0
}

// Title returns the label with the unit.
func (a Axis) Title() string { return strings.TrimSuffix(a.Label+", "+a.Unit, ", ") }

// Line is a named line through points.
type Line struct {
	Name string
	X, Y []float64
}

// Level is a value that the curves are held against.
type Level struct {
	Name string
	Y    float64
}

// Room around the data, in pixels of a picture of 360 by 220.
const (
	curveWidth, curveHeight                  = 360.0, 220.0
	roomLeft, roomRight, roomTop, roomBottom = 44.0, 12.0, 40.0, 36.0
)

// reach returns the range of an axis over these values, in whole steps.
func (a Axis) reach(values []float64) (lo, hi, step float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		lo, hi = min(lo, v), max(hi, v)
	}
	if !a.Loose {
		lo, hi = min(lo, 0), max(hi, 0)
	}
	if !(hi-lo > 1e-9*max(math.Abs(lo), math.Abs(hi))) {
		lo, hi = lo-1, hi+1
	}
	power := math.Pow(10, math.Floor(math.Log10((hi-lo)/4)))
	for _, m := range []float64{1, 2, 5, 10} {
		if step = m * power; step >= (hi-lo)/4*(1-1e-9) {
			break
		}
	}
	return math.Floor(lo/step+1e-9) * step, math.Ceil(hi/step-1e-9) * step, step
}

// SVG returns the picture.
func (c Curve) SVG() string {
	xs, ys := []float64{c.Dot[0]}, []float64{c.Dot[1]}
	for _, l := range c.Lines {
		xs, ys = append(xs, l.X...), append(ys, l.Y...)
	}
	if c.Level != nil {
		ys = append(ys, c.Level.Y)
	}
	_, _, xStep := c.X.reach(xs)
	x0, x1 := xs[1], xs[len(c.Lines[0].X)]
	lo, hi, yStep := c.Y.reach(ys)
	bottom := curveHeight - roomBottom
	at := func(x, y float64) point {
		return point{roomLeft + (x-x0)/(x1-x0)*(curveWidth-roomLeft-roomRight), bottom - (y-lo)/(hi-lo)*(bottom-roomTop)}
	}
	var b strings.Builder
	b.WriteString(open("curve", curveWidth, curveHeight, c.Title, c.spoken()))
	for i := math.Round(lo / yStep); i*yStep <= hi+yStep/2; i++ {
		p := at(x0, i*yStep)
		fmt.Fprintf(&b, `<path class="grid" d="M%.1f %.1fH%.1f"/><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`, p.x, p.y, curveWidth-roomRight, p.x-6, p.y+4, tick(i*yStep, yStep))
	}
	for i := math.Ceil(x0/xStep - 1e-9); i*xStep <= x1+1e-9*xStep; i++ {
		p := at(i*xStep, lo)
		fmt.Fprintf(&b, `<path class="tick" d="M%.1f %.1fv5"/><text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`, p.x, p.y, p.x, p.y+17, tick(i*xStep, xStep))
	}
	fmt.Fprintf(&b, `<path class="axis" d="M%.1f %.1fV%.1fH%.1f"/>`, roomLeft, roomTop, bottom, curveWidth-roomRight)
	fmt.Fprintf(&b, `<text class="name" x="2" y="13">%s</text>`, html.EscapeString(c.Y.Title()))
	fmt.Fprintf(&b, `<text class="name" x="%.1f" y="%.1f" text-anchor="end">%s</text>`, curveWidth-roomRight, curveHeight-3, html.EscapeString(c.X.Title()))
	if c.Under {
		area := []point{at(x0, 0)}
		for i, x := range c.Lines[0].X {
			if x < c.Dot[0] {
				area = append(area, at(x, c.Lines[0].Y[i]))
			}
		}
		fmt.Fprintf(&b, `<path class="under" fill-opacity="0.15" d="%sZ"/>`, path(append(area, at(c.Dot[0], c.Dot[1]), at(c.Dot[0], 0))))
	}
	c.key(&b)
	dot := at(c.Dot[0], c.Dot[1])
	fmt.Fprintf(&b, `<path class="mark" stroke-dasharray="2 3" d="M%.1f %.1fV%.1fM%.1f %.1fH%.1f"/>`, dot.x, bottom, dot.y, dot.x, dot.y, roomLeft)
	if c.Level != nil {
		p := at(x0, c.Level.Y)
		fmt.Fprintf(&b, `<path class="level" stroke-dasharray="8 3 2 3" d="M%.1f %.1fH%.1f"/>`, p.x, p.y, curveWidth-roomRight)
	}
	for i, l := range c.Lines {
		points := make([]point, len(l.X))
		for j, x := range l.X {
			points[j] = at(x, l.Y[j])
		}
		fmt.Fprintf(&b, `<path class="line"%s d="%s"/>`, either(i == 0, "", ` stroke-dasharray="6 3.5"`), path(points))
	}
	fmt.Fprintf(&b, `<circle class="dot" cx="%.2f" cy="%.2f" r="4.5"/></svg>`, dot.x, dot.y)
	return b.String()
}

// key names the lines.
func (c Curve) key(b *strings.Builder) {
	x := roomLeft
	add := func(name, class, dash string) {
		fmt.Fprintf(b, `<path class="%s"%s d="M%.1f 26h24"/><text x="%.1f" y="30">%s</text>`, class, dash, x, x+29, html.EscapeString(name))
		x += 29 + 6.6*float64(len([]rune(name))) + 14
	}
	for i, l := range c.Lines {
		if len(c.Lines) > 1 || c.Level != nil {
			add(l.Name, "line", either(i == 0, "", ` stroke-dasharray="6 3.5"`))
		}
	}
	if c.Level != nil {
		add(c.Level.Name, "level", ` stroke-dasharray="8 3 2 3"`)
	}
}

// spoken says in words what the curve shows.
func (c Curve) spoken() string {
	var b strings.Builder
	for _, l := range c.Lines {
		last := len(l.X) - 1
		fmt.Fprintf(&b, "%s: from %s at %s to %s at %s. ", l.Name, round(l.Y[0]), round(l.X[0]), round(l.Y[last]), round(l.X[last]))
	}
	fmt.Fprintf(&b, "The dot: %s %s at %s %s.", round(c.Dot[1]), c.Y.Unit, round(c.Dot[0]), c.X.Unit)
	return b.String()
}

// round prints a number with three digits.
func round(v float64) string {
	text := strconv.FormatFloat(v, 'f', max(0, 2-int(math.Floor(math.Log10(max(1e-3, math.Abs(v)))))), 64)
	return strings.Replace(text, "-", "−", 1)
}

// tick prints a multiple of a step, with no more decimals than it needs.
func tick(v, step float64) string {
	text := strconv.FormatFloat(v, 'f', max(0, -int(math.Floor(math.Log10(step)+1e-9))), 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}
