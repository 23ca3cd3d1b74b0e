// Package picture draws the charts and side views of the example programs, as
// SVG and as PNG, for a page of A4.
//
// A [Chart] shows lines over one common axis in one panel or in several, one
// above the other. A [SideView] shows a mechanism at several poses, with the
// same scale along both axes.
//
// Everything is black, white and grey. Lines are told apart by their dashes and
// by a name at their end, so that a copy on a cheap printer says what the
// original said; at most [MaxLines] lines go into one panel. Text is set in the
// Liberation Sans that the plotting library brings along. An SVG carries the
// font within itself, and names fonts of the same widths for programs that
// don't read it there. The same input gives the same bytes.
//
// Numbers in a picture are plain float64 in the unit that its axis names. A
// picture that can't be drawn, such as a line with a value that isn't finite,
// is an error, never a picture with something left out.
package picture

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"os"
	"path/filepath"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.com/wheelrate/examples/internal/program"
)

// Picture is a [Chart] or a [SideView].
type Picture interface {
	// check names what can't be drawn.
	check() error
	// size is the picture's width and height.
	size() Size
	// draw puts a checked picture on a canvas of its size.
	draw(c draw.Canvas)
}

// Size is a width and a height on paper, in millimetres.
type Size struct{ Width, Height float64 }

// Sizes for A4 with margins of 20 mm. The zero Size stands for Half.
var (
	Half = Size{170, 118} // two of them fill a page
	Full = Size{170, 240} // one fills it
)

// dotsPerInch of a PNG: as much as a printer makes of grey.
const dotsPerInch = 200

func (s Size) or(other Size) Size {
	if s == (Size{}) {
		return other
	}
	return s
}

func (s Size) check() error {
	if s == (Size{}) || (s.Width >= 50 && s.Width <= 1200 && s.Height >= 50 && s.Height <= 1200) {
		return nil
	}
	return fmt.Errorf("picture: size %v × %v mm: want 50 to 1200 mm each way", s.Width, s.Height)
}

func (s Size) lengths() (w, h vg.Length) {
	return vg.Length(s.Width) * vg.Millimeter, vg.Length(s.Height) * vg.Millimeter
}

// WriteSVG writes a picture as SVG with its font in it.
func WriteSVG(w io.Writer, p Picture) error {
	svg, err := encode(p, true)
	if err != nil {
		return err
	}
	_, err = w.Write(svg)
	return err
}

// InlineSVG returns a picture as an <svg> element for a page of HTML: without
// the declaration of XML, and without the font, of which others of the same
// widths take the place.
func InlineSVG(p Picture) (string, error) {
	svg, err := encode(p, false)
	if err != nil {
		return "", err
	}
	return string(svg[bytes.Index(svg, []byte("<svg")):]), nil
}

func encode(p Picture, fonts bool) ([]byte, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	width, height := p.size().lengths()
	c := vgsvg.NewWith(vgsvg.UseWH(width, height), vgsvg.EmbedFonts(fonts))
	paint(p, draw.New(c))
	var buf bytes.Buffer
	if _, err := c.WriteTo(&buf); err != nil {
		return nil, err
	}
	return program.Printable(otherFonts(buf.Bytes()), false), nil // names of a job may hold what no XML does
}

// otherFonts names fonts of the same widths behind the one that is embedded,
// in every text, for programs that don't read embedded fonts.
func otherFonts(svg []byte) []byte {
	const text, family = "<text ", "font-family:" + fontFamily
	parts := bytes.SplitAfter(svg, []byte(text))
	for i := 1; i < len(parts); i++ {
		parts[i] = bytes.Replace(parts[i], []byte(family), []byte(family+",Arial,Helvetica,sans-serif"), 1)
	}
	return bytes.Join(parts, nil)
}

// WritePNG writes a picture as PNG at 200 dots per inch on white.
func WritePNG(w io.Writer, p Picture) error {
	if err := p.check(); err != nil {
		return err
	}
	width, height := p.size().lengths()
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(dotsPerInch), vgimg.UseBackgroundColor(color.White))
	paint(p, draw.New(c))
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}

// paint draws a picture on white.
func paint(p Picture, c draw.Canvas) {
	c.SetColor(color.White)
	c.Fill(c.Rectangle.Path())
	p.draw(c)
}

// Save writes a picture to dir as name.svg and name.png, makes dir where it is
// missing, and returns the two paths. Nothing is written where the picture
// can't be drawn.
func Save(dir, name string, p Picture) ([]string, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, &program.Unwritten{Err: err}
	}
	var paths []string
	for _, kind := range []struct {
		suffix string
		write  func(io.Writer, Picture) error
	}{{".svg", WriteSVG}, {".png", WritePNG}} {
		var buf bytes.Buffer
		if err := kind.write(&buf, p); err != nil {
			return paths, err
		}
		path := filepath.Join(dir, name+kind.suffix)
		if err := program.WriteFile(path, buf.Bytes()); err != nil {
			return paths, err
		}
		paths = append(paths, path)
	}
	return paths, nil
}

// Named is a picture and the name of its files.
type Named struct {
	Name string
	Picture
}

// Draw saves pictures to dir, in their order, and writes to out where they are unless
// it is quiet.
func Draw(out io.Writer, dir string, quiet bool, list ...Named) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	for _, p := range list {
		paths, err := Save(dir, p.Name, p.Picture)
		if err != nil {
			return err
		}
		for _, path := range paths {
			if !quiet {
				fmt.Fprintln(out, "  wrote", path)
			}
		}
	}
	return nil
}
