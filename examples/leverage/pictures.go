package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// draw writes pictures and returns their paths.
func draw(dir string, pictures []named) ([]string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	var paths []string
	for _, p := range pictures {
		written, err := p.save(dir)
		paths = append(paths, written...)
		if err != nil {
			return paths, err
		}
	}
	return paths, nil
}

// named is a picture and the name of its file, or one that moves.
type named struct {
	name string
	picture.Picture
	moving func(io.Writer) error
}

func (n named) save(dir string) ([]string, error) {
	if n.moving == nil {
		return picture.Save(dir, n.name, n.Picture)
	}
	var svg bytes.Buffer
	if err := n.moving(&svg); err != nil {
		return nil, err
	}
	path := filepath.Join(dir, n.name+".svg")
	return []string{path}, program.WriteFile(path, svg.Bytes())
}

func (b *bench) pictures() []named {
	var list []named
	if b.kin != nil {
		list = append(list, named{name: "linkage", Picture: b.sideView()})
	}
	rows := b.rows(fine)
	list = append(list, named{name: "lever-ratio", Picture: b.leverRatio(rows)})
	if b.kin != nil {
		list = append(list, named{name: "axle-path", Picture: b.axlePath(rows)})
	}
	if b.wheel != nil {
		list = append(list, named{name: "wheel-force", Picture: b.wheelForce(rows)})
	}
	if b.drive != nil {
		list = append(list, named{name: "anti-squat", Picture: b.antiSquat(rows)}, named{name: "kickback", Picture: b.kickback(rows)})
	}
	return list
}

// chart makes a chart over the travel, with the sag marked.
func (b *bench) chart(title string, panels ...picture.Panel) picture.Chart {
	c := picture.Chart{Title: title, Note: b.in.Note, X: picture.Axis{Label: "vertical wheel travel", Unit: "mm"}, Panels: panels}
	if b.in.Sag > 0 {
		at := units.Length(b.in.Sag) * b.curve.Travel()
		c.Marks = []picture.Mark{{Label: b.sagLabel(), At: at.Millimetres()}}
	}
	return c
}

func (b *bench) sagLabel() string {
	return fmt.Sprintf("%s sag, %s mm", b.sagPercent(), mm(units.Length(b.in.Sag)*b.curve.Travel()))
}

// sagPercent is the sag as it was given, to a tenth of a percent.
func (b *bench) sagPercent() string { return strings.TrimSuffix(fixed(100*b.in.Sag, 1), ".0") + " %" }

// series makes a line over the travel.
func series(name string, rows []row, value func(row) float64) picture.Series {
	s := picture.Series{Name: name}
	for _, r := range rows {
		s.X, s.Y = append(s.X, r.Travel.Millimetres()), append(s.Y, value(r))
	}
	return s
}

func (b *bench) leverRatio(rows []row) picture.Picture {
	mean := float64(b.curve.Travel() / b.curve.Stroke())
	return b.chart("Lever ratio", picture.Panel{
		Y: picture.Axis{Label: "wheel travel per shock stroke"},
		Series: []picture.Series{
			series("lever ratio", rows, func(r row) float64 { return r.LeverRatio }),
			series("mean "+fixed(mean, 3), rows, func(row) float64 { return mean }),
		},
	})
}

func (b *bench) axlePath(rows []row) picture.Picture {
	return b.chart("Where the axle goes", picture.Panel{
		Y: picture.Axis{Label: "from full extension", Unit: "mm", Zero: true},
		Series: []picture.Series{
			series("growth from bottom bracket", rows, func(r row) float64 { return r.Axle.Growth.Millimetres() }),
			series("backward", rows, func(r row) float64 { return r.Axle.Backward.Millimetres() }),
		},
	})
}

func (b *bench) wheelForce(rows []row) picture.Picture {
	return b.chart("The spring at the wheel",
		picture.Panel{
			Y:      picture.Axis{Label: "wheel force", Unit: "N", Zero: true},
			Series: []picture.Series{series("force", rows, func(r row) float64 { return r.Spring.Wheel.Newtons() })},
		},
		picture.Panel{
			Y:      picture.Axis{Label: "wheel rate", Unit: "N/mm"},
			Series: []picture.Series{series("rate", rows, func(r row) float64 { return r.Spring.WheelRate.NewtonsPerMillimetre() })},
		})
}

func (b *bench) teeth() string {
	d := b.in.Drive.Drivetrain
	return fmt.Sprintf("%d × %d teeth", d.Chainring, d.Sprocket)
}

func (b *bench) antiSquat(rows []row) picture.Picture {
	return b.chart("Anti-squat and anti-rise, "+b.teeth(), picture.Panel{
		Y: picture.Axis{Label: "of the load transfer", Unit: "%"},
		Series: []picture.Series{
			series("anti-squat", rows, func(r row) float64 { return 100 * r.Drive.AntiSquat }),
			series("anti-rise", rows, func(r row) float64 { return 100 * r.Drive.AntiRise }),
		},
	})
}

func (b *bench) kickback(rows []row) picture.Picture {
	return b.chart("Pedal kickback and chain growth, "+b.teeth(),
		picture.Panel{
			Y: picture.Axis{Label: "crank turned back", Unit: "°", Zero: true},
			Series: []picture.Series{
				series("wheel held", rows, func(r row) float64 { return r.Drive.KickbackWheelFixed.Degrees() }),
				series("wheel rolling", rows, func(r row) float64 { return r.Drive.KickbackWheelRolling.Degrees() }),
			},
		},
		picture.Panel{
			Y:      picture.Axis{Label: "chain growth", Unit: "mm", Zero: true},
			Series: []picture.Series{series("growth", rows, func(r row) float64 { return r.Drive.ChainGrowth.Millimetres() })},
		})
}

// sideView is the mechanism at full extension, at the sag or half way, and at
// full travel.
func (b *bench) sideView() picture.SideView {
	m := b.kin.Spec()
	v := picture.SideView{
		Title: "The linkage, from the drive side", Note: b.in.Note,
		Fixed: m.Bodies[mechanism.Frame], Shock: m.Shock, Axle: m.Axle, Size: picture.Size{Width: 170, Height: 150},
	}
	for _, name := range slices.Sorted(maps.Keys(m.Bodies)) {
		if body := m.Bodies[name]; name != mechanism.Frame && len(body) > 1 {
			v.Bodies = append(v.Bodies, body)
		}
	}
	v.Poses = []picture.Pose{
		b.posed("full extension", 0),
		b.posed(b.markedLabel(), b.curve.StrokeAt(b.marked())),
		b.posed("full travel, "+mm(b.curve.Travel())+" mm", b.curve.Stroke()),
	}
	for _, r := range b.rows(fine) {
		v.Path = append(v.Path, picture.Point{X: r.Axle.X.Millimetres(), Y: r.Axle.Y.Millimetres()})
	}
	if b.in.Drive != nil {
		v.Wheel = b.in.Drive.WheelRadius.Millimetres()
	}
	return v
}

// posed is where all points are at a stroke.
func (b *bench) posed(label string, stroke units.Length) picture.Pose {
	pose := picture.Pose{Label: label, At: map[string]picture.Point{}}
	for name, at := range b.kin.Positions(stroke) {
		pose.At[name] = point(at)
	}
	return pose
}

func point(p mechanism.Point) picture.Point {
	return picture.Point{X: p[0].Millimetres(), Y: p[1].Millimetres()}
}
