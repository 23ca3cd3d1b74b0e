package picture

import (
	"bytes"
	"fmt"
	"io"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.com/wheelrate/examples/internal/program"
)

// Motion is a side view whose mechanism goes through its poses and back, again and again.
type Motion struct {
	View    SideView // its own poses are left out
	Moments []Pose   // from 2 to 200, each as long as the others; the label is written above
	Seconds float64  // for there and back; from 0.5 to 60
}

// WriteMotion writes a motion as SVG that moves by itself where a program shows such pictures,
// as browsers do; others, and paper, show the first moment.
func WriteMotion(w io.Writer, m Motion) error {
	n := len(m.Moments)
	if n < 2 || n > 200 {
		return fmt.Errorf("picture: %d moments: want 2 to 200", n)
	}
	if !(m.Seconds >= 0.5 && m.Seconds <= 60) {
		return fmt.Errorf("picture: %v s there and back: want 0.5 to 60", m.Seconds)
	}
	for _, pose := range m.Moments {
		v := m.View
		v.Poses = []Pose{pose}
		if err := v.check(); err != nil {
			return err
		}
	}
	v := m.View
	v.Poses = nil
	for _, pose := range m.Moments { // the range is that of all, without room for labels
		v.Poses = append(v.Poses, Pose{At: pose.At})
	}
	width, height := v.size().lengths()
	still := vgsvg.NewWith(vgsvg.UseWH(width, height), vgsvg.EmbedFonts(true))
	whole := draw.New(still)
	whole.SetColor(white)
	whole.Fill(whole.Rectangle.Path())
	c := heading(draw.Crop(whole, 4, -10, 4, -4), v.Title, v.Note)
	line := c.Max.Y - leading(letters(nameSize, black))
	c = draw.Crop(c, 0, 0, 0, line-c.Max.Y-4)
	p := v.plot(c, layer(func(c draw.Canvas, p *plot.Plot) { v.scene(newPen(c, p)) }))
	p.Draw(c)
	data := p.DataCanvas(c)

	var moments bytes.Buffer
	for i, pose := range m.Moments {
		canvas := vgsvg.NewWith(vgsvg.UseWH(width, height), vgsvg.EmbedFonts(false))
		d := newPen(draw.Canvas{Canvas: canvas, Rectangle: data.Rectangle}, p)
		v.Poses = []Pose{pose}
		v.moving(d)
		d.FillText(aligned(letters(nameSize, black), draw.XLeft, draw.YBottom), vg.Point{X: data.Min.X, Y: line}, pose.Label)
		group, err := inner(canvas)
		if err != nil {
			return err
		}
		moments.WriteString(shown(i, n, m.Seconds))
		moments.Write(group)
		moments.WriteString("</g>\n")
	}
	var svg bytes.Buffer
	if _, err := still.WriteTo(&svg); err != nil {
		return err
	}
	text := svg.Bytes()
	end := bytes.LastIndex(text, []byte("</svg>"))
	text = otherFonts(bytes.Join([][]byte{text[:end], moments.Bytes(), text[end:]}, nil))
	_, err := w.Write(program.Printable(text, false))
	return err
}

// inner is what a canvas has within its <svg> element.
func inner(c *vgsvg.Canvas) ([]byte, error) {
	var svg bytes.Buffer
	if _, err := c.WriteTo(&svg); err != nil {
		return nil, err
	}
	text := svg.Bytes()
	return text[bytes.Index(text, []byte("<g")):bytes.LastIndex(text, []byte("</svg>"))], nil
}

// shown opens the group of the i-th of n moments, which is seen twice in each period, but for the
// first and the last.
func shown(i, n int, seconds float64) string {
	steps := 2 * (n - 1)
	visible, values, times := "hidden", "hidden", "0"
	if i == 0 {
		visible, values = "visible", "visible"
	}
	at := func(step int, value string) {
		values += ";" + value
		times += fmt.Sprintf(";%.6g", float64(step)/float64(steps))
	}
	if i > 0 {
		at(i, "visible")
	}
	at(i+1, "hidden")
	if back := steps - i; i > 0 && i < n-1 {
		at(back, "visible")
		if back+1 < steps {
			at(back+1, "hidden")
		}
	}
	return fmt.Sprintf("<g visibility=\"%s\"><animate attributeName=\"visibility\" calcMode=\"discrete\" dur=\"%gs\" repeatCount=\"indefinite\" values=\"%s\" keyTimes=\"%s\"/>\n",
		visible, seconds, values, times)
}

// scene draws what stands still.
func (v SideView) scene(d pen) {
	v.origin(d)
	path := make([]vg.Point, len(v.Path))
	for i, at := range v.Path {
		path[i] = d.at(at)
	}
	d.lines(draw.LineStyle{Color: middle, Width: 1.2}, path...)
	for _, name := range v.Fixed {
		d.ground(d.at(v.Poses[0].At[name]))
	}
}

// moving draws the only pose: wheel, bodies, shock and pivots.
func (v SideView) moving(d pen) {
	pose := v.Poses[0]
	axle := d.at(pose.At[v.Axle])
	if v.Wheel > 0 {
		d.circle(draw.LineStyle{Color: middle, Width: 0.7}, axle, vg.Length(v.Wheel)*d.scale())
	}
	for _, body := range v.Bodies {
		if points := d.corners(pose, body); len(points) > 2 {
			d.FillPolygon(pale, d.ClipPolygonXY(points))
		}
	}
	v.pose(d, 0)
	d.disc(true, axle, 2.6)
}
