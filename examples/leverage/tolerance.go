package main

import (
	"math"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// tolerances is the answer to the command tolerance, and what -json prints.
type tolerances struct {
	Schema string               `json:"schema"`
	Note   string               `json:"note,omitempty"`
	Given  mechanism.Tolerances `json:"tolerances"`
	// Spreads are those of single numbers, and Band that of the lever ratio over the stroke.
	Spreads []spreadOf `json:"spreads"`
	Band    []spreadAt `json:"band"`

	assumed bool // nobody said the tolerances
}

// spreadOf is a number and how far it may be from its value as drawn. Of lengths they are in mm.
type spreadOf struct {
	Of    string  `json:"of"`
	Unit  string  `json:"unit,omitempty"`
	Value float64 `json:"value"`
	mechanism.Spread

	decimals int
}

// spreadAt is the lever ratio at one stroke, and how far it may be from that.
type spreadAt struct {
	Stroke        units.Length `json:"stroke"`
	Travel        units.Length `json:"travel"`
	LeverRatio    float64      `json:"lever_ratio"`
	WorstCase     float64      `json:"worst_case"`
	RootSumSquare float64      `json:"root_sum_square"`
}

// tolerance is the command of that name.
func (o *options) tolerance(b *bench) (*result, error) {
	if err := b.needsMechanism(); err != nil {
		return nil, err
	}
	c := units.Checker{Package: "leverage"}
	t := &tolerances{Schema: "wheelrate/leverage-tolerance/1", Note: b.in.Note}
	switch {
	case b.in.Tolerances != nil:
		t.Given = *b.in.Tolerances
	case o.within == "":
		t.Given.Every, t.assumed = 0.1*units.Millimetre, true
	}
	if o.within != "" {
		every, err := units.Parse[units.Length](o.within)
		if err != nil {
			c.Fail("-within", o.within, "a length with its unit, such as 0.1 mm", units.ErrSyntax)
		}
		t.Given = mechanism.Tolerances{Every: every}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	within, err := mechanism.NewTolerance(b.kin, t.Given)
	if err != nil {
		c.Add("tolerances", err)
		return nil, c.Err()
	}
	t.Spreads = b.spreads(within)
	r := &result{data: t, text: func(p page) { p.tolerance(b, t) }, heads: []string{"stroke (mm)", "travel (mm)", "lever ratio", "worst case", "root sum square"}}
	t.Band = b.band(within, o.n)
	for _, s := range t.Band {
		r.rows = append(r.rows, []string{digits(s.Stroke.Millimetres()), digits(s.Travel.Millimetres()), digits(s.LeverRatio), digits(s.WorstCase), digits(s.RootSumSquare)})
	}
	r.pictures = b.tolerancePictures(within)
	return r, nil
}

// band is the lever ratio at n even steps of the stroke.
func (b *bench) band(within *mechanism.Tolerance, n int) (list []spreadAt) {
	for _, x := range b.rows(n) {
		s := within.Spread(b.kin.PoseGradient(x.Stroke).LeverRatio)
		list = append(list, spreadAt{x.Stroke, x.Travel, x.LeverRatio, s.WorstCase, s.RootSumSquare})
	}
	return list
}

// spreads are those of the numbers that a frame is known by.
func (b *bench) spreads(within *mechanism.Tolerance) (list []spreadOf) {
	add := func(of, unit string, decimals int, scale, value float64, g mechanism.Gradient) {
		s := within.Spread(g)
		s.WorstCase, s.RootSumSquare = s.WorstCase*scale, s.RootSumSquare*scale
		for i := range s.Holes {
			s.Holes[i].Effect *= scale
		}
		list = append(list, spreadOf{of, unit, value * scale, s, decimals})
	}
	full, here := b.curve.Stroke(), b.curve.StrokeAt(b.marked())
	label := "half way"
	if b.in.Sag > 0 {
		label = "at " + b.sagPercent() + " sag"
	}
	p, q := b.kin.PoseGradient(full), b.kin.PoseGradient(here)
	add("vertical travel", "mm", 2, 1e3, float64(b.kin.Travel()), p.Travel)
	add("lever ratio at the start", "", 4, 1, b.kin.Pose(0).LeverRatio, b.kin.PoseGradient(0).LeverRatio)
	add("lever ratio "+label, "", 4, 1, b.kin.Pose(here).LeverRatio, q.LeverRatio)
	add("lever ratio at the end", "", 4, 1, b.kin.Pose(full).LeverRatio, p.LeverRatio)
	add("progression", "%", 2, 100, b.curve.Progression().Value, b.kin.ProgressionGradient())
	add("axle backward at the end", "mm", 2, 1e3, float64(b.kin.Pose(full).WheelbaseGrowth), p.WheelbaseGrowth)
	if b.drive != nil {
		at, end := b.drive.At(here), b.drive.At(full)
		g, h := b.drive.PoseGradient(here), b.drive.PoseGradient(full)
		add("anti-squat "+label, "%", 2, 100, at.AntiSquat, g.AntiSquat)
		add("anti-rise "+label, "%", 2, 100, at.AntiRise, g.AntiRise)
		add("anti-squat at the end", "%", 2, 100, end.AntiSquat, h.AntiSquat)
		add("kickback at the end", "°", 3, 180/math.Pi, float64(end.KickbackWheelRolling), h.KickbackWheelRolling)
	}
	return list
}

func (p page) tolerance(b *bench, t *tolerances) {
	p.title("TOLERANCE", t.Note)
	p.heading("WHAT HOLES OFF THEIR PLACES DO")
	if len(t.Given.Holes) == 0 {
		p.paragraph("  ", "Every hole within "+t.Given.Every.String()+" of its place, in any direction.")
	} else {
		p.paragraph("  ", "Every hole within "+t.Given.Every.String()+" of its place, in any direction, but for:")
		for _, h := range t.Given.Holes {
			p.line("    " + left(h.Body+", "+h.Point, 30) + h.Within.String())
		}
	}
	p.line("")
	row := func(label, value, worst, likely, hole string) {
		p.line("  " + left(label, 31) + right(value, 9) + right(worst, 9) + right(likely, 9) + "  " + clip(hole, 18))
	}
	row("", "as drawn", "± worst", "± root", "worst hole")
	row("", "", "case", "sum sq.", "")
	for _, s := range t.Spreads {
		label := s.Of
		if s.Unit != "" {
			label += ", " + s.Unit
		}
		row(label, fixed(s.Value, s.decimals), fixed(s.WorstCase, s.decimals), fixed(s.RootSumSquare, s.decimals), s.Holes[0].Body+", "+s.Holes[0].Point)
	}
	p.heading("THE WORST HOLES")
	for _, of := range []string{"lever ratio at the start", "progression"} {
		for _, s := range t.Spreads {
			if s.Of != of {
				continue
			}
			p.line("  of the " + of + ":")
			for _, h := range s.Holes[:min(6, len(s.Holes))] {
				p.line("    " + left(h.Body+", "+h.Point, 34) + right(fixed(h.Effect, s.decimals+1), 9) + " " + left(s.Unit, 3) + " when off towards " + fixed(h.Towards.Degrees(), 0) + "°")
			}
		}
	}
	p.heading("LEVER RATIO OVER THE STROKE")
	rows := table{[]int{9, 10, 10, 12, 14}, p}
	rows.row("stroke", "travel", "lever", "± worst", "± root sum")
	rows.row("mm", "mm", "ratio", "case", "of squares")
	for _, s := range t.Band {
		rows.row(fixed(s.Stroke.Millimetres(), 2), fixed(s.Travel.Millimetres(), 2), fixed(s.LeverRatio, 4), fixed(s.WorstCase, 4), fixed(s.RootSumSquare, 4))
	}
	p.heading("HOW TO READ IT")
	say := func(text string) { p.paragraph("  * ", text) }
	say("One hole is off in its own body, every other body keeps its shape and the shock its length, and the linkage is assembled anew. At a pivot each body has a hole of its own.")
	say("Worst case: every hole off by all of its tolerance in its worst direction. Root sum of squares: passed as rarely as one hole passes its tolerance, where the holes are off independently. Both are first-order, and common practice.")
	say("Directions are counter-clockwise from forward, with the linkage at full extension.")
	if t.assumed {
		say("No tolerance was said: 0.1 mm is taken for every hole. All spreads grow in proportion. Say -within, or tolerances in the job.")
	}
}

// tolerancePictures are the lever ratio's and the anti-squat's bands. Bands that are too narrow to be
// seen are drawn by themselves.
func (b *bench) tolerancePictures(within *mechanism.Tolerance) []named {
	rows := b.rows(fine)
	ratio := picture.Panel{Y: picture.Axis{Label: "lever ratio, worst case grey"}, Series: []picture.Series{series("as drawn", rows, func(r row) float64 { return r.LeverRatio })}}
	area := picture.Area{}
	worst, likely := picture.Series{Name: "worst case"}, picture.Series{Name: "root sum of squares"}
	for _, s := range b.band(within, fine) {
		x := s.Travel.Millimetres()
		area.X, area.Low, area.High = append(area.X, x), append(area.Low, s.LeverRatio-s.WorstCase), append(area.High, s.LeverRatio+s.WorstCase)
		worst.X, worst.Y = append(worst.X, x), append(worst.Y, s.WorstCase)
		likely.X, likely.Y = append(likely.X, x), append(likely.Y, s.RootSumSquare)
	}
	ratio.Areas = []picture.Area{area}
	chart := b.chart("Lever ratio, and how far it may be off", ratio,
		picture.Panel{Y: picture.Axis{Label: "± of the lever ratio", Zero: true}, Series: []picture.Series{worst, likely}})
	return []named{{name: "tolerance", Picture: chart}}
}
