package main

import (
	"example.com/wheelrate/examples/internal/picture"
)

// comparison writes two frames side by side.
func (p page) comparison(c *comparison) {
	p.title("TWO FRAMES", "")
	a, b := c.benches[0], c.benches[1]
	for _, x := range []*bench{a, b} {
		if x.in.Note != "" {
			p.paragraph("  ", x.name+": "+x.in.Note)
		}
	}
	p.sideBySide(c)
}

// sideBySide writes the numbers and the differences.
func (p page) sideBySide(c *comparison) {
	a, b := c.benches[0], c.benches[1]
	p.heading("IN SHORT")
	line := func(label, first, second, difference string) {
		p.line("  " + left(label, 31) + right(first, 15) + right(second, 15) + right(difference, 13))
	}
	line("", clip(a.name, 14), clip(b.name, 14), "difference")
	for _, f := range c.facts {
		sign := ""
		if f.b > f.a && f.by(f.b-f.a) != f.by(0) {
			sign = "+"
		}
		line(f.label, f.of(f.a), f.of(f.b), sign+f.by(f.b-f.a))
	}
	p.heading("AT THE SAME TRAVEL")
	for _, part := range []struct {
		there bool
		head  [3]string
		unit  string
		value [3]func(row) string
	}{
		{true, [3]string{"lever ratio", "slope", "stroke"}, "1/m, mm", [3]func(row) string{
			func(r row) string { return fixed(r.LeverRatio, 3) }, func(r row) string { return fixed(r.LeverRatioSlope.PerMetre(), 2) }, func(r row) string { return fixed(r.Stroke.Millimetres(), 2) }}},
		{c.First.Path != nil && c.Second.Path != nil, [3]string{"backward", "growth", "path"}, "mm", [3]func(row) string{
			func(r row) string { return fixed(r.Axle.Backward.Millimetres(), 2) }, func(r row) string { return fixed(r.Axle.Growth.Millimetres(), 2) }, func(r row) string { return fixed(r.Axle.Path.Millimetres(), 2) }}},
		{a.wheel != nil && b.wheel != nil, [3]string{"wheel force", "spring force", "wheel rate"}, "N, N/mm", [3]func(row) string{
			func(r row) string { return fixed(r.Spring.Wheel.Newtons(), 1) }, func(r row) string { return fixed(r.Spring.Spring.Newtons(), 0) }, func(r row) string { return fixed(r.Spring.WheelRate.NewtonsPerMillimetre(), 2) }}},
		{a.drive != nil && b.drive != nil, [3]string{"anti-squat", "anti-rise", "kickback roll."}, "%, deg", [3]func(row) string{
			func(r row) string { return fixed(100*r.Drive.AntiSquat, 1) }, func(r row) string { return fixed(100*r.Drive.AntiRise, 1) }, func(r row) string { return fixed(r.Drive.KickbackWheelRolling.Degrees(), 2) }}},
	} {
		if !part.there {
			continue
		}
		t := table{[]int{8, 12, 11, 12, 11, 13, 11}, p}
		t.row("travel", part.head[0], "", part.head[1], "", part.head[2], "")
		names := []string{"mm"}
		for range 3 {
			names = append(names, clip(a.name, 10), clip(b.name, 10))
		}
		t.row(names...)
		for i, x := range c.First.Poses {
			cells := []string{fixed(x.Travel.Millimetres(), 2)}
			for _, value := range part.value {
				cells = append(cells, value(x), value(c.Second.Poses[i]))
			}
			t.row(cells...)
		}
		p.line("")
	}
	p.heading("WHAT THE SECOND DOES OTHERWISE")
	for _, text := range c.Differences {
		p.paragraph("  * ", text)
	}
	for i, r := range []*report{c.First.report, c.Second.report} {
		if len(r.Warnings) > 0 {
			p.line("")
			p.line("Of " + c.benches[i].name + ":")
			p.warnings(r)
		}
	}
}

// pictures are those of one frame with both in them.
func (c *comparison) pictures() (list []named) {
	a, b := c.benches[0], c.benches[1]
	note := a.name + ": " + a.in.Note
	if a.in.Note != b.in.Note {
		note += " " + b.name + ": " + b.in.Note
	}
	if a.kin != nil && b.kin != nil {
		first, second := a.sideView(), b.sideView()
		first.Title, second.Title, first.Note, second.Note = a.name, b.name, "", ""
		list = append(list, named{name: "linkage", Picture: picture.Pair{Title: "Both linkages, from the drive side", Note: note, Left: first, Right: second, Size: picture.Size{Width: 257, Height: 150}}})
	}
	rows := [2][]row{a.rows(fine), b.rows(fine)}
	panel := func(label, unit string, value func(row) float64) picture.Panel {
		p := picture.Panel{Y: picture.Axis{Label: label, Unit: unit}}
		for i, x := range c.benches {
			p.Series = append(p.Series, series(clip(x.name, 24), rows[i], value))
		}
		return p
	}
	add := func(name, title string, panels ...picture.Panel) {
		list = append(list, named{name: name, Picture: picture.Chart{Title: title, Note: note, X: picture.Axis{Label: "vertical wheel travel", Unit: "mm"}, Panels: panels, Size: picture.Size{Width: 170, Height: 118 + 50*float64(len(panels)-1)}}})
	}
	add("lever-ratio", "Lever ratio", panel("wheel travel per shock stroke", "", func(r row) float64 { return r.LeverRatio }))
	if a.kin != nil && b.kin != nil {
		add("axle-path", "Where the axle goes",
			panel("backward", "mm", func(r row) float64 { return r.Axle.Backward.Millimetres() }),
			panel("from bottom bracket", "mm", func(r row) float64 { return r.Axle.Growth.Millimetres() }))
	}
	if a.wheel != nil && b.wheel != nil {
		add("wheel-force", "The spring at the wheel",
			panel("wheel force", "N", func(r row) float64 { return r.Spring.Wheel.Newtons() }),
			panel("wheel rate", "N/mm", func(r row) float64 { return r.Spring.WheelRate.NewtonsPerMillimetre() }))
	}
	if a.drive != nil && b.drive != nil {
		add("anti-squat", "Anti-squat and anti-rise, "+a.teeth()+" and "+b.teeth(),
			panel("anti-squat", "%", func(r row) float64 { return 100 * r.Drive.AntiSquat }),
			panel("anti-rise", "%", func(r row) float64 { return 100 * r.Drive.AntiRise }))
		add("kickback", "Pedal kickback and chain growth, "+a.teeth()+" and "+b.teeth(),
			panel("kickback, rolling", "°", func(r row) float64 { return r.Drive.KickbackWheelRolling.Degrees() }),
			panel("chain growth", "mm", func(r row) float64 { return r.Drive.ChainGrowth.Millimetres() }))
	}
	return list
}
