package main

import (
	"fmt"
	"math"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// bikeSpec is what stands around the rear suspension, at full extension.
type bikeSpec struct {
	Fork                linkage.Fork  `json:"fork"`
	Wheelbase           units.Length  `json:"wheelbase"`
	WheelRadius         units.Length  `json:"wheel_radius,omitempty"` // of both wheels, or one is stated by itself
	FrontWheelRadius    units.Length  `json:"front_wheel_radius,omitempty"`
	RearWheelRadius     units.Length  `json:"rear_wheel_radius,omitempty"`
	ForkOffset          *units.Length `json:"fork_offset,omitempty"` // without it no trail is known
	BottomBracketHeight units.Length  `json:"bottom_bracket_height,omitempty"`
	// ChainstayLength and BottomBracketHeight follow from a mechanism, whose places are seen from the
	// bottom bracket.
	ChainstayLength units.Length `json:"chainstay_length,omitempty"`
}

// buildBike puts the bike around the curve.
func (b *bench) buildBike(c *units.Checker) {
	spec := b.in.Bike
	if spec == nil {
		return
	}
	own := c.Child("bike")
	fork, err := linkage.NewFork(spec.Fork)
	own.Add("fork", err)
	bike := sag.Bike{Front: sag.End{Curve: fork}, Rear: sag.End{Curve: b.curve}, Masses: sag.Masses{
		Wheelbase: spec.Wheelbase, WheelRadius: spec.WheelRadius, FrontWheelRadius: spec.FrontWheelRadius, RearWheelRadius: spec.RearWheelRadius,
		ForkOffset: spec.ForkOffset, BottomBracketHeight: spec.BottomBracketHeight, ChainstayLength: spec.ChainstayLength,
	}}
	if b.kin != nil && spec.BottomBracketHeight == 0 && spec.ChainstayLength == 0 {
		axle := b.kin.Pose(0).Axle
		bike.BottomBracketHeight = bike.Radius(sag.Rear) - axle[1]
		bike.ChainstayLength = units.Length(math.Hypot(float64(axle[0]), float64(axle[1])))
	}
	if err != nil || b.curve == nil {
		return
	}
	if _, err := bike.GeometryAt(fork.Stroke(), 0); err != nil { // the shortest that it gets
		own.Add("", err)
		return
	}
	b.bike = &bike
}

// geometries is the answer to the command geometry, and what -json prints.
type geometries struct {
	Schema string         `json:"schema"`
	Note   string         `json:"note,omitempty"`
	Both   []sag.Geometry `json:"both"`  // the same share of both full strokes
	Rear   []sag.Geometry `json:"rear"`  // the rear alone, the front at full extension
	Front  []sag.Geometry `json:"front"` // the front alone
}

// ways are what moves, in words.
func (g *geometries) ways() []struct {
	says string
	list []sag.Geometry
} {
	return []struct {
		says string
		list []sag.Geometry
	}{{"both ends", g.Both}, {"the rear alone", g.Rear}, {"the front alone", g.Front}}
}

// shown is a number of the geometry: for a column and for a chart.
type shown struct {
	head, label, unit string
	decimals          int
	value             func(sag.Geometry) float64
}

// numbers are those that the bike tells.
func (b *bench) numbers() []shown {
	list := []shown{
		{"wheelbase", "wheelbase", "mm", 1, func(g sag.Geometry) float64 { return g.Wheelbase.Millimetres() }},
		{"head ang.", "head angle", "°", 2, func(g sag.Geometry) float64 { return g.HeadAngle.Degrees() }},
	}
	if b.bike.ForkOffset != nil {
		list = append(list, shown{"trail", "trail", "mm", 1, func(g sag.Geometry) float64 { return g.Trail.Millimetres() }})
	}
	if b.bike.BottomBracketHeight != 0 && b.bike.ChainstayLength != 0 {
		list = append(list, shown{"bracket", "height of the bottom bracket", "mm", 1, func(g sag.Geometry) float64 { return g.BottomBracketHeight.Millimetres() }})
	}
	return list
}

// sink works out n geometries, up to these shares of the full strokes.
func (b *bench) sink(c *units.Checker, n int, front, rear float64) []sag.Geometry {
	list := make([]sag.Geometry, n)
	for i := range list {
		part := float64(i) / float64(n-1)
		var err error
		list[i], err = b.bike.GeometryAt(units.Length(part*front)*b.bike.Front.Curve.Stroke(), units.Length(part*rear)*b.curve.Stroke())
		c.Add("bike", err)
	}
	return list
}

// geometry is the command of that name.
func (o *options) geometry(b *bench) (*result, error) {
	c := units.Checker{Package: "leverage"}
	if b.bike == nil {
		c.Fail("bike", nil, "the bike around the suspension: fork, wheelbase and wheel_radius", units.ErrMissing)
		return nil, c.Err()
	}
	lay := func(n int) *geometries {
		return &geometries{Schema: "wheelrate/leverage-geometry/1", Note: b.in.Note, Both: b.sink(&c, n, 1, 1), Rear: b.sink(&c, n, 0, 1), Front: b.sink(&c, n, 1, 0)}
	}
	g, smooth := lay(o.n), lay(fine)
	if err := c.Err(); err != nil {
		return nil, err
	}
	r := &result{data: g, text: func(p page) { p.geometry(b, g) }, heads: []string{"front stroke (mm)", "rear stroke (mm)", "pitch (deg)"}}
	numbers := b.numbers()
	for _, s := range numbers {
		r.heads = append(r.heads, s.label+" ("+s.unit+")")
		panel := picture.Panel{Y: picture.Axis{Label: s.label, Unit: s.unit}}
		for _, way := range smooth.ways() {
			line := picture.Series{Name: way.says}
			for i, at := range way.list {
				line.X, line.Y = append(line.X, 100*float64(i)/float64(fine-1)), append(line.Y, s.value(at))
			}
			panel.Series = append(panel.Series, line)
		}
		chart := picture.Chart{Title: strings.ToUpper(s.label[:1]) + s.label[1:] + " as the bike sinks", Note: b.in.Note, X: picture.Axis{Label: "share of the full strokes", Unit: "%"}, Panels: []picture.Panel{panel}}
		if b.in.Sag > 0 {
			chart.Marks = []picture.Mark{{Label: b.sagPercent() + " sag at the rear", At: 100 * float64(b.curve.StrokeAt(b.marked())/b.curve.Stroke())}}
		}
		r.pictures = append(r.pictures, named{name: "geometry-" + strings.ReplaceAll(s.label, " ", "-"), Picture: chart})
	}
	for _, way := range g.ways() {
		for _, at := range way.list {
			cells := []string{digits(at.FrontStroke.Millimetres()), digits(at.RearStroke.Millimetres()), digits(at.Pitch.Degrees())}
			for _, s := range numbers {
				cells = append(cells, digits(s.value(at)))
			}
			r.rows = append(r.rows, cells)
		}
	}
	return r, nil
}

func (p page) geometry(b *bench, g *geometries) {
	p.title("GEOMETRY", g.Note)
	numbers := b.numbers()
	for _, way := range g.ways() {
		p.heading("SINKING: " + strings.ToUpper(way.says))
		t := table{[]int{8, 8, 9, 11, 11, 11, 11}, p}
		heads, unit := []string{"front", "rear", "pitch"}, []string{"mm", "mm", "deg"}
		for _, s := range numbers {
			heads, unit = append(heads, s.head), append(unit, s.unit)
		}
		t.row(heads...)
		t.row(unit...)
		for _, at := range way.list {
			cells := []string{mm(at.FrontTravel), mm(at.RearTravel), fixed(at.Pitch.Degrees(), 2)}
			for _, s := range numbers {
				cells = append(cells, fixed(s.value(at), s.decimals))
			}
			t.row(cells...)
		}
	}
	p.heading("HOW TO READ IT")
	say := func(text string) { p.paragraph("  * ", text) }
	last := g.Both[len(g.Both)-1]
	say(fmt.Sprintf("Front and rear are vertical wheel travels. From full extension to full travel of both ends the wheelbase goes from %s to %s mm and the head angle from %.2f° to %.2f°.",
		mm(g.Both[0].Wheelbase), mm(last.Wheelbase), g.Both[0].HeadAngle.Degrees(), last.HeadAngle.Degrees()))
	say("Pitch is that of the frame, positive where the rear sinks more: the head angle is the fork's less the pitch. The wheelbase is along the ground, between the points where the wheels touch it.")
	if b.bike.ForkOffset == nil {
		say("No trail: give fork_offset in bike.")
	}
	if len(numbers) < 4 && (b.bike.BottomBracketHeight == 0 || b.bike.ChainstayLength == 0) {
		say("No height of the bottom bracket: give bottom_bracket_height and chainstay_length in bike.")
	}
	say("Straight steering, tyres that do not deflect, level ground. Where the bike rests between these: go doc example.com/wheelrate/sag Bike.Stance.")
}
