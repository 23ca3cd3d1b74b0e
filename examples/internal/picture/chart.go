package picture

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Chart is one or several panels, one above the other, over a common axis.
type Chart struct {
	Title, Note string
	X           Axis
	Panels      []Panel // at least one
	Marks       []Mark  // vertical lines through all panels
	Bands       []Band  // grey behind all panels
	Size        Size    // Half if zero
}

// Panel is a set of lines with an axis of their own.
type Panel struct {
	Y      Axis
	Series []Series // 1 to [MaxLines]
	Areas  []Area
}

// Axis says what is shown and in which unit, and over which range: that of the
// data where neither Min nor Max is given.
type Axis struct {
	Label, Unit string // an empty Unit is for a plain number
	Min, Max    float64
	Zero        bool // the range reaches to 0 at the least
}

func (a Axis) title() string {
	if a.Unit == "" {
		return a.Label
	}
	return a.Label + " (" + a.Unit + ")"
}

// Series is a line through points.
type Series struct {
	Name string // written at its end
	X, Y []float64
}

// Area is grey between two lines, such as what friction leaves open.
type Area struct{ X, Low, High []float64 }

// Mark is a vertical line at a place of the common axis, such as the sag.
type Mark struct {
	Label string
	At    float64
}

// Band is grey over a part of the common axis, such as where the wheel may
// come to rest.
type Band struct {
	Label    string
	From, To float64
}

func (c Chart) size() Size { return c.Size.or(Half) }

// most is further than any axis can be drawn to without loss of digits.
const most = 1e100

func usable(values ...float64) bool {
	for _, v := range values {
		if !(math.Abs(v) <= most) {
			return false
		}
	}
	return true
}

func (c Chart) check() error {
	if err := c.Size.check(); err != nil {
		return err
	}
	if len(c.Panels) == 0 {
		return fmt.Errorf("picture: the chart %q has no panel", c.Title)
	}
	axes := []Axis{c.X}
	for _, p := range c.Panels {
		axes = append(axes, p.Y)
		if n := len(p.Series); n == 0 || n > MaxLines {
			return fmt.Errorf("picture: the panel %q has %d lines: want 1 to %d", p.Y.Label, n, MaxLines)
		}
		for _, s := range p.Series {
			if len(s.X) != len(s.Y) || len(s.X) < 2 {
				return fmt.Errorf("picture: the line %q has %d and %d values: want 2 or more, as many of one as of the other", s.Name, len(s.X), len(s.Y))
			}
			if !usable(s.X...) || !usable(s.Y...) {
				return fmt.Errorf("picture: the line %q has a value that is not finite", s.Name)
			}
		}
		for _, a := range p.Areas {
			if len(a.X) != len(a.Low) || len(a.X) != len(a.High) || len(a.X) < 2 || !usable(a.X...) || !usable(a.Low...) || !usable(a.High...) {
				return fmt.Errorf("picture: an area of the panel %q: want 2 or more places with as many finite values on either side", p.Y.Label)
			}
		}
	}
	for _, a := range axes {
		if !usable(a.Min, a.Max) || a.Min > a.Max {
			return fmt.Errorf("picture: the axis %q from %v to %v: want a range", a.Label, a.Min, a.Max)
		}
	}
	for _, m := range c.Marks {
		if !usable(m.At) {
			return fmt.Errorf("picture: the mark %q is at %v", m.Label, m.At)
		}
	}
	for _, b := range c.Bands {
		if !usable(b.From, b.To) || b.From > b.To {
			return fmt.Errorf("picture: the band %q from %v to %v: want a range", b.Label, b.From, b.To)
		}
	}
	return nil
}

// fit gives an axis its range, from the data unless it is stated, and its ticks.
func fit(a *plot.Axis, spec Axis, round bool, most int, each func(add func(...float64))) {
	lo, hi := spec.Min, spec.Max
	stated := lo != 0 || hi != 0
	if !stated {
		lo, hi = math.Inf(1), math.Inf(-1)
		each(func(values ...float64) {
			for _, v := range values {
				lo, hi = min(lo, v), max(hi, v)
			}
		})
	}
	if spec.Zero {
		lo, hi = min(lo, 0), max(hi, 0)
	}
	lo, hi = widen(lo, hi)
	s := step(hi-lo, most)
	if round && !stated {
		lo, hi = outward(lo, hi, s)
	}
	a.Min, a.Max, a.Tick.Marker = lo, hi, ticks(s)
}

// layer is something that is drawn into the data area of a plot.
type layer func(draw.Canvas, *plot.Plot)

// Plot implements [plot.Plotter].
func (l layer) Plot(c draw.Canvas, p *plot.Plot) { l(c, p) }

// bare returns a plot with axes in the style of this package.
func bare(x, y string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Padding = 0
		a.LineStyle = draw.LineStyle{Color: dark, Width: 0.7}
		a.Tick.LineStyle = a.LineStyle
		a.Tick.Length = 3.5
		a.Tick.Label.Font = letters(smallSize, black).Font
		a.Label.TextStyle.Font = letters(nameSize, black).Font
		a.Label.Padding = 3
	}
	p.X.Label.Text, p.Y.Label.Text = x, y
	return p
}

// grid draws a hair line at every tick of both axes.
func grid(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	for _, t := range p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max) {
		c.StrokeLine2(hair(light), x(t.Value), c.Min.Y, x(t.Value), c.Max.Y)
	}
	for _, t := range p.Y.Tick.Marker.Ticks(p.Y.Min, p.Y.Max) {
		c.StrokeLine2(hair(light), c.Min.X, y(t.Value), c.Max.X, y(t.Value))
	}
}

// plot turns the i-th panel into a plot.
func (c Chart) plot(i int) *plot.Plot {
	panel := c.Panels[i]
	title := ""
	if i == len(c.Panels)-1 {
		title = c.X.title()
	}
	p := bare(title, panel.Y.title())
	fit(&p.X, c.X, false, 10, func(add func(...float64)) {
		for _, panel := range c.Panels {
			for _, s := range panel.Series {
				add(s.X...)
			}
		}
	})
	fit(&p.Y, panel.Y, true, max(3, min(8, 10/len(c.Panels))), func(add func(...float64)) {
		for _, s := range panel.Series {
			add(s.Y...)
		}
		for _, a := range panel.Areas {
			add(a.Low...)
			add(a.High...)
		}
	})
	for _, b := range c.Bands {
		p.Add(layer(b.draw))
	}
	for _, a := range panel.Areas {
		p.Add(layer(a.draw))
	}
	p.Add(layer(grid))
	for _, m := range c.Marks {
		p.Add(layer(m.draw))
	}
	for j, s := range panel.Series {
		style := line(j)
		p.Add(layer(func(dc draw.Canvas, p *plot.Plot) {
			dc.StrokeLines(style, dc.ClipLinesXY(s.points(dc, p))...)
		}))
	}
	return p
}

// points are the places of a line on a canvas.
func (s Series) points(c draw.Canvas, p *plot.Plot) []vg.Point {
	x, y := p.Transforms(&c)
	list := make([]vg.Point, len(s.X))
	for i := range s.X {
		list[i] = vg.Point{X: x(s.X[i]), Y: y(s.Y[i])}
	}
	return list
}
