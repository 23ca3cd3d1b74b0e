package main

import (
	_ "embed"
	"html/template"
	"io"

	"example.com/wheelrate/examples/internal/card"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
)

//go:embed sheet.svg.tmpl
var pictureTemplate string

var svgSheet = template.Must(template.New("picture").Funcs(template.FuncMap{
	"title": program.Title[sag.Axle], "at": func(from, step, i int) int { return from + step*i },
}).Parse(pictureTemplate))

// Sizes in the picture of a sheet, in its own units: of a line of text and of a chart.
const (
	lineHeight             = 17
	chartAcross, chartHigh = 340, 378
)

// sheetPicture is what the picture of a sheet shows. A place is a distance from its upper
// or left edge.
type sheetPicture struct {
	Notes, Cautions []string
	Ends            []pictureColumn
	Width, Height   int
	// The frames around what to set begin at Frames and are FrameHigh high; charts and
	// cautions follow below.
	Frames, FrameHigh, Charts, Foot int
}

// pictureColumn is one end in the picture of a sheet.
type pictureColumn struct {
	setting
	Left        int
	Says, Where []string // below what to set, and how the ring is read
	Chart       template.HTML
}

// writeSVG writes the picture of a sheet: what to set, and the spring at each wheel.
func writeSVG(w io.Writer, job setup.Job, s *setup.Sheet) error {
	p := sheetPicture{Width: 20}
	front, rear := card.Settings(s)
	high, charted := 0, false
	for _, e := range s.Ends() {
		column := pictureColumn{setting: setting{e.Axle, front}, Left: p.Width}
		spec := job.Front
		if e.Axle == sag.Rear {
			column.Setting, spec = rear, job.Rear
		}
		for _, more := range column.More {
			column.Says = append(column.Says, program.Lines(more, 48)...)
		}
		if column.Setting.Where != "" {
			column.Where = program.Lines(column.Setting.Where, 56)
		}
		if e.State != nil { // its readings tell the spring
			svg, err := picture.InlineSVG(endChart(drawnOf(e, spec.Curve), e))
			if err != nil {
				return err
			}
			column.Chart = template.HTML(svg) // made here; its words are escaped
			charted = true
		}
		high = max(high, len(column.Says)+len(column.Where))
		p.Ends = append(p.Ends, column)
		p.Width += chartAcross + 20
	}
	across := (p.Width - 40) / 6 // characters of the smallest letters
	if s.Note != "" {
		p.Notes = program.Lines(s.Note, across)
	}
	for _, r := range rows.Pick(rows.Of(s), rows.Cautions) {
		p.Cautions = append(p.Cautions, program.Lines(r.Note, across)...)
	}
	p.Frames = 48 + lineHeight*len(p.Notes)
	p.FrameHigh = 110 + lineHeight*high
	p.Charts = p.Frames + p.FrameHigh + 10
	p.Foot = p.Charts + 20
	if charted {
		p.Foot += chartHigh
	}
	p.Height = p.Foot + lineHeight*len(p.Cautions)
	return svgSheet.Execute(w, p)
}
