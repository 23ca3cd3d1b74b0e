package picture

import (
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Distances on the paper.
const (
	labelGap vg.Length = 14 // from the end of a line to its name
	panelGap vg.Length = 12
	lift     vg.Length = 1 // of text beside a line, which else looks too low
	flagGap  vg.Length = 8 // between the texts of two flags
)

// draw draws the whole chart.
func (c Chart) draw(canvas draw.Canvas) {
	canvas = draw.Crop(canvas, 4, -4, 4, -4)
	canvas = heading(canvas, c.Title, c.Note)

	names := letters(nameSize, black)
	var room vg.Length
	for _, panel := range c.Panels {
		for _, s := range panel.Series {
			if s.Name != "" {
				room = max(room, names.Width(s.Name)+labelGap)
			}
		}
	}
	inner := draw.Crop(canvas, 0, -max(room, 10), 0, -4)

	plots := make([][]*plot.Plot, len(c.Panels))
	for i := range c.Panels {
		plots[i] = []*plot.Plot{c.plot(i)}
	}
	tiles := draw.Tiles{Cols: 1, Rows: len(plots), PadY: panelGap}
	places := plot.Align(plots, tiles, inner)
	// How many rows the flags need depends on the width, not on the height.
	_, rows := c.flags(plots[0][0].DataCanvas(places[0][0]), plots[0][0])
	inner = draw.Crop(inner, 0, 0, 0, -leading(letters(smallSize, black))*vg.Length(rows))
	places = plot.Align(plots, tiles, inner)
	for i, panel := range c.Panels {
		p, place := plots[i][0], places[i][0]
		p.Draw(place)
		data := p.DataCanvas(place)
		nameLines(data, p, panel.Series)
		if i == 0 {
			c.drawFlags(data, p)
		}
	}
}

// spread moves places as little as is needed for a distance between
// neighbours, inside a range if it is wide enough: groups of places too near to
// each other are laid out around the mean of what they wanted.
func spread(wanted []float64, distance, lo, hi float64) []float64 {
	order := make([]int, len(wanted))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case wanted[a] < wanted[b]:
			return -1
		case wanted[a] > wanted[b]:
			return 1
		}
		return 0
	})
	type group struct {
		sum float64 // of what its members want the first of them to be
		n   int
	}
	at := func(g group) float64 {
		first := g.sum / float64(g.n)
		return max(lo, min(first, hi-distance*float64(g.n-1)))
	}
	var groups []group
	for _, i := range order {
		g := group{wanted[i], 1}
		for len(groups) > 0 {
			last := groups[len(groups)-1]
			if at(last)+distance*float64(last.n) <= at(g) {
				break
			}
			g.sum = last.sum + g.sum - float64(g.n)*distance*float64(last.n)
			g.n += last.n
			groups = groups[:len(groups)-1]
		}
		groups = append(groups, g)
	}
	placed := make([]float64, len(wanted))
	i := 0
	for _, g := range groups {
		for k := range g.n {
			placed[order[i]] = at(g) + distance*float64(k)
			i++
		}
	}
	return placed
}

// nameLines writes the name of every line to the right of its end, and joins
// the two with a hair line.
func nameLines(c draw.Canvas, p *plot.Plot, series []Series) {
	style := aligned(letters(nameSize, black), draw.XLeft, draw.YCenter)
	ends := make([]vg.Point, len(series))
	wanted := make([]float64, len(series))
	for i, s := range series {
		points := s.points(c, p)
		last := points[0]
		for _, q := range points {
			if q.X >= last.X {
				last = q
			}
		}
		last.X, last.Y = min(last.X, c.Max.X), max(c.Min.Y, min(last.Y, c.Max.Y))
		ends[i], wanted[i] = last, float64(last.Y)
	}
	placed := spread(wanted, float64(style.Font.Size*1.15), float64(c.Min.Y), float64(c.Max.Y))
	for i, s := range series {
		if s.Name == "" {
			continue
		}
		to := vg.Point{X: c.Max.X + labelGap - 3, Y: vg.Length(placed[i])}
		c.StrokeLines(hair(middle), []vg.Point{{X: ends[i].X + 1.5, Y: ends[i].Y}, to})
		c.FillText(style, vg.Point{X: to.X + 2, Y: to.Y + lift}, s.Name)
	}
}

// draw draws a band into a panel.
func (b Band) draw(c draw.Canvas, p *plot.Plot) {
	x, _ := p.Transforms(&c)
	lo, hi := max(c.Min.X, x(b.From)), min(c.Max.X, x(b.To))
	if lo < hi {
		c.FillPolygon(pale, []vg.Point{{X: lo, Y: c.Min.Y}, {X: hi, Y: c.Min.Y}, {X: hi, Y: c.Max.Y}, {X: lo, Y: c.Max.Y}})
	}
}

// draw draws an area into a panel.
func (a Area) draw(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	var points []vg.Point
	for i := range a.X {
		points = append(points, vg.Point{X: x(a.X[i]), Y: y(a.High[i])})
	}
	for i := len(a.X) - 1; i >= 0; i-- {
		points = append(points, vg.Point{X: x(a.X[i]), Y: y(a.Low[i])})
	}
	c.FillPolygon(pale, c.ClipPolygonXY(points))
}

// draw draws a mark into a panel.
func (m Mark) draw(c draw.Canvas, p *plot.Plot) {
	x, _ := p.Transforms(&c)
	if at := x(m.At); c.ContainsX(at) {
		c.StrokeLine2(draw.LineStyle{Color: middle, Width: 0.9}, at, c.Min.Y, at, c.Max.Y)
	}
}

// flag is a text above the first panel, over a place of the common axis.
type flag struct {
	text  string
	at    float64
	staff bool // it stands on the mark itself
}

func (c Chart) flagList() []flag {
	var list []flag
	for _, m := range c.Marks {
		if m.Label != "" {
			list = append(list, flag{m.Label, m.At, true})
		}
	}
	for _, b := range c.Bands {
		if b.Label != "" {
			list = append(list, flag{b.Label, (b.From + b.To) / 2, false})
		}
	}
	return list // marks first, so that they get the lowest rows
}

// placed is a flag with the middle of its text and the row that it is in,
// counted from the panel up.
type placed struct {
	flag
	place, middle vg.Length
	row           int
}

// flags gives every flag that is in sight the lowest row where it has room.
func (c Chart) flags(data draw.Canvas, p *plot.Plot) (list []placed, rows int) {
	style := letters(smallSize, black)
	x, _ := p.Transforms(&data)
	for _, f := range c.flagList() {
		at, half := x(f.at), style.Width(f.text)/2
		if !data.ContainsX(at) {
			continue
		}
		middle := max(data.Min.X+half, min(at, data.Max.X-half))
		row := 0
		for slices.ContainsFunc(list, func(o placed) bool {
			return o.row == row && abs(o.middle-middle) < half+style.Width(o.text)/2+flagGap
		}) {
			row++
		}
		list, rows = append(list, placed{f, at, middle, row}), max(rows, row+1)
	}
	return list, rows
}

// drawFlags writes the flags above a panel, the upper rows first so that their
// staffs don't cross a text.
func (c Chart) drawFlags(data draw.Canvas, p *plot.Plot) {
	style := aligned(letters(smallSize, black), draw.XCenter, draw.YBottom)
	list, rows := c.flags(data, p)
	for row := rows - 1; row >= 0; row-- {
		for _, f := range list {
			if f.row != row {
				continue
			}
			y := data.Max.Y + 4.5 + leading(style)*vg.Length(row)
			if f.staff {
				data.StrokeLine2(draw.LineStyle{Color: middle, Width: 0.9}, f.place, data.Max.Y, f.place, y-1.5)
			}
			box := style.Rectangle(f.text).Add(vg.Point{X: f.middle, Y: y})
			box.Max.Y = y + leading(style)
			data.SetColor(white)
			data.Fill(box.Path())
			data.FillText(style, vg.Point{X: f.middle, Y: y}, f.text)
		}
	}
}
