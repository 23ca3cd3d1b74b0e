package answer

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// chart is lines over the travel of a wheel, with the place where it rests.
// Lines are told apart by their dashes, so that it reads as well in grey.
type chart struct {
	title            string
	x, y             axis
	along            []float64 // of the lines' points
	full             float64   // where the x axis ends
	lines            []line    // one or two
	at, height       float64   // where the wheel rests
	mark             string    // what stands beside it
	bandFrom, bandTo float64   // nothing where they are equal
}

type axis struct {
	label, unit, form string
	loose             bool // need not start at 0
}

func (a axis) title() string {
	if a.unit == "" {
		return a.label
	}
	return a.label + ", " + a.unit
}

type line struct {
	name string
	y    []float64
}

// Room around the data, in pixels.
const (
	roomLeft, roomRight, roomTop, roomBottom = 46.0, 14.0, 48.0, 40.0
	minWidth, maxWidth                       = 240, 1000
)

// svg draws the chart at a width in pixels. Colours and letters are the
// page's, by classes; the picture's own attributes do without them.
func (c chart) svg(pixels int) string {
	width := float64(max(minWidth, min(pixels, maxWidth)))
	height := math.Round(max(230, min(320, 0.56*width)))
	lo, hi := c.reach()
	ys := step(hi-lo, 5)
	hi = math.Ceil(hi/ys-1e-9) * ys
	if c.y.loose { // otherwise it starts at 0, or at the little below it that there is
		lo = math.Floor(lo/ys+1e-9) * ys
	}
	x := func(v float64) float64 { return roomLeft + v/c.full*(width-roomLeft-roomRight) }
	y := func(v float64) float64 { return height - roomBottom - (v-lo)/(hi-lo)*(height-roomTop-roomBottom) }
	bottom := height - roomBottom

	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" viewBox="0 0 %g %g" width="%g" height="%g" aria-label="%s">`,
		width, height, width, height, html.EscapeString(c.spoken()))
	if c.bandTo > c.bandFrom {
		fmt.Fprintf(&b, `<rect class="band" x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill-opacity="0.15"/>`,
			x(c.bandFrom), roomTop, x(c.bandTo)-x(c.bandFrom), bottom-roomTop)
	}
	for i := math.Ceil(lo/ys - 1e-9); i*ys <= hi+ys/2; i++ {
		v := i * ys
		fmt.Fprintf(&b, `<path class="grid" d="M%.1f %.1fH%.1f"/><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`,
			roomLeft, y(v), width-roomRight, roomLeft-6, y(v)+4, number(v, ys))
	}
	xs := step(c.full, max(3, int(width/80)))
	for v := 0.0; v <= c.full*(1+1e-9); v += xs {
		fmt.Fprintf(&b, `<path class="tick" d="M%.1f %.1fv5"/><text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`,
			x(v), bottom, x(v), bottom+18, number(v, xs))
	}
	fmt.Fprintf(&b, `<path class="axis" d="M%.1f %.1fV%.1fH%.1f"/>`, roomLeft, roomTop, bottom, width-roomRight)
	fmt.Fprintf(&b, `<text class="name" x="2" y="14">%s</text>`, html.EscapeString(c.y.title()))
	fmt.Fprintf(&b, `<text class="name" x="%.1f" y="%.1f" text-anchor="end">%s</text>`, width-roomRight, height-5, html.EscapeString(c.x.title()))
	c.key(&b)
	// The place of rest: thin lines to both axes, a dot where they meet.
	fmt.Fprintf(&b, `<path class="mark" stroke-dasharray="2 3" d="M%.1f %.1fV%.1f"/>`, x(c.at), bottom, roomTop)
	if c.height >= lo && c.height <= hi {
		fmt.Fprintf(&b, `<path class="mark" stroke-dasharray="2 3" d="M%.1f %.1fH%.1f"/>`, x(c.at), y(c.height), roomLeft)
	}
	for i, l := range c.lines {
		fmt.Fprintf(&b, `<path class="line"%s d="%s"/>`, dash(i), c.path(l, x, y, lo, hi))
	}
	if c.height >= lo && c.height <= hi {
		fmt.Fprintf(&b, `<circle class="dot" cx="%.1f" cy="%.1f" r="4.5"/>`, x(c.at), y(c.height))
	}
	anchor, off := "start", 5.0
	if c.at > 0.6*c.full {
		anchor, off = "end", -5
	}
	fmt.Fprintf(&b, `<text class="said" x="%.1f" y="%.1f" text-anchor="%s">%s</text></svg>`, x(c.at)+off, roomTop+11, anchor, html.EscapeString(c.mark))
	return b.String()
}

// reach is what the y axis must reach over.
func (c chart) reach() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, l := range c.lines {
		for _, v := range l.y {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if !c.y.loose {
		lo, hi = min(lo, 0), max(hi, 0)
	}
	if !(hi-lo > 1e-9*max(math.Abs(lo), math.Abs(hi))) {
		lo, hi = lo-1, hi+1
	}
	return lo, hi
}

// key names the lines where there are several.
func (c chart) key(b *strings.Builder) {
	if len(c.lines) < 2 {
		return
	}
	at := roomLeft
	for i, l := range c.lines {
		fmt.Fprintf(b, `<path class="line"%s d="M%.1f 31h26"/><text x="%.1f" y="35">%s</text>`, dash(i), at, at+31, html.EscapeString(l.name))
		at += 31 + 6.4*float64(len(l.name)) + 14
	}
}

func dash(i int) string {
	if i == 0 {
		return ""
	}
	return ` stroke-dasharray="6 3.5"`
}

// path is a line's way through its points.
func (c chart) path(l line, x, y func(float64) float64, lo, hi float64) string {
	b := make([]byte, 0, 14*len(l.y))
	for i, v := range l.y {
		command := byte('L')
		if i == 0 {
			command = 'M'
		}
		b = tenths(append(b, command), x(c.along[i]))
		b = tenths(append(b, ' '), y(max(lo, min(v, hi))))
	}
	return string(b)
}

// tenths appends a number of pixels, 0 or more, with one decimal.
func tenths(b []byte, v float64) []byte {
	n := int64(math.Round(10 * v))
	return append(strconv.AppendInt(b, n/10, 10), '.', byte('0'+n%10))
}

// spoken says in words what the chart shows.
func (c chart) spoken() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, over wheel travel from 0 to "+c.x.form+" %s.", c.title, c.full, c.x.unit)
	for _, l := range c.lines {
		last := len(l.y) - 1
		fmt.Fprintf(&b, " %s: from "+c.y.form+" to "+c.y.form+" %s.", l.name, l.y[0], l.y[last], c.y.unit)
	}
	fmt.Fprintf(&b, " At the sag of "+c.x.form+" %s: "+c.y.form+" %s.", c.at, c.x.unit, c.height, c.y.unit)
	return strings.ReplaceAll(b.String(), " .", ".")
}

// number prints a multiple of a step, with no more decimals than it needs and
// a minus sign as wide as a digit.
func number(v, step float64) string {
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}
