package picture

import (
	"image/color"
	"strings"

	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// fontFamily is the name that the font calls itself.
const fontFamily = "Liberation Sans"

// Sizes of text: title, names of lines and axes, numbers.
const (
	titleSize = 12
	nameSize  = 9.5
	smallSize = 8.5
)

// Greys.
var (
	black  = color.Gray{0x00}
	dark   = color.Gray{0x40}
	middle = color.Gray{0x80}
	white  = color.Gray{0xff}
	light  = color.Gray{0xd4}
	pale   = color.Gray{0xe8}
)

// MaxLines is how many lines of one panel can be told apart in grey.
const MaxLines = 6

// dashes of the lines of a panel, in order: what still differs on a poor copy.
var dashes = [MaxLines][]vg.Length{
	nil,
	{6, 3},
	{1.2, 2.6},
	{9, 2.5, 1.2, 2.5},
	{14, 3},
	{9, 2.5, 1.2, 2.5, 1.2, 2.5},
}

// line is the style of the i-th line of a panel.
func line(i int) draw.LineStyle {
	return draw.LineStyle{Color: black, Width: 1.3, Dashes: dashes[i]}
}

// hair is a thin line of a grey.
func hair(c color.Gray) draw.LineStyle { return draw.LineStyle{Color: c, Width: 0.5} }

// letters is a style of text that starts at its point, on the base line.
func letters(size vg.Length, c color.Gray) text.Style {
	return text.Style{
		Color: c,
		Font: plotfont.Font{
			Typeface: "Liberation", Variant: "Sans", Size: size,
		},
		XAlign: draw.XLeft, YAlign: draw.YBottom,
		Handler: text.Plain{Fonts: plotfont.DefaultCache},
	}
}

// aligned is a style with other alignments.
func aligned(s text.Style, x draw.XAlignment, y draw.YAlignment) text.Style {
	s.XAlign, s.YAlign = x, y
	return s
}

// leading is the distance of two lines of text.
func leading(s text.Style) vg.Length { return s.Font.Size * 1.25 }

// wrap breaks text into lines no wider than a width, if its words are not.
func wrap(s text.Style, words string, width vg.Length) []string {
	var lines []string
	for _, word := range strings.Fields(words) {
		if n := len(lines); n > 0 && s.Width(lines[n-1]+" "+word) <= width {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

// heading writes a title and the note below it along the top of a canvas and
// returns what is left of it.
func heading(c draw.Canvas, title, note string) draw.Canvas {
	for _, part := range []struct {
		style text.Style
		text  string
	}{{letters(titleSize, black), title}, {letters(smallSize, dark), note}} {
		for _, l := range wrap(part.style, part.text, c.Max.X-c.Min.X) {
			c = draw.Crop(c, 0, 0, 0, -leading(part.style))
			c.FillText(part.style, vg.Point{X: c.Min.X, Y: c.Max.Y + 0.3*part.style.Font.Size}, l)
		}
	}
	if title != "" || note != "" {
		c = draw.Crop(c, 0, 0, 0, -4)
	}
	return c
}
