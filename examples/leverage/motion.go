package main

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// moments is the answer to the command motion, and what -json prints.
type moments struct {
	Schema  string   `json:"schema"`
	Note    string   `json:"note,omitempty"`
	Moments []moment `json:"moments"`
}

// moment is where every point is at one stroke.
type moment struct {
	Stroke units.Length               `json:"stroke"`
	Travel units.Length               `json:"travel"`
	Points map[string]mechanism.Point `json:"points"`
}

// frames is how many poses the picture in motion has.
const frames = 41

// motion is the command of that name.
func (o *options) motion(b *bench) (*result, error) {
	if err := b.needsMechanism(); err != nil {
		return nil, err
	}
	m := &moments{Schema: "wheelrate/leverage-motion/1", Note: b.in.Note}
	names := slices.Sorted(maps.Keys(b.kin.Spec().Points))
	r := &result{data: m, text: func(p page) { p.moments(m, names) }, heads: []string{"stroke (mm)", "travel (mm)"}}
	for _, name := range names {
		r.heads = append(r.heads, name+" x (mm)", name+" y (mm)")
	}
	for _, pose := range b.rows(o.n) {
		at := b.kin.Positions(pose.Stroke)
		m.Moments = append(m.Moments, moment{pose.Stroke, pose.Travel, at})
		cells := []string{digits(pose.Stroke.Millimetres()), digits(pose.Travel.Millimetres())}
		for _, name := range names {
			cells = append(cells, digits(at[name][0].Millimetres()), digits(at[name][1].Millimetres()))
		}
		r.rows = append(r.rows, cells)
	}
	moving := picture.Motion{View: b.sideView(), Seconds: 4}
	moving.View.Title = "The linkage in motion, from the drive side"
	for _, pose := range b.rows(frames) {
		label := fmt.Sprintf("travel %s mm, stroke %s mm, lever ratio %s", mm(pose.Travel), mm(pose.Stroke), fixed(pose.LeverRatio, 3))
		moving.Moments = append(moving.Moments, b.posed(label, pose.Stroke))
	}
	r.pictures = []named{{name: "linkage", Picture: b.sideView()}, {name: "motion", moving: func(w io.Writer) error { return picture.WriteMotion(w, moving) }}}
	return r, nil
}

// needsMechanism is the fault of an input that has no pivots.
func (b *bench) needsMechanism() error {
	if b.kin != nil {
		return nil
	}
	return &units.FieldError{Package: "leverage", Field: "mechanism", Class: units.ErrMissing,
		Want: units.Want{Text: "the places of the pivots: a curve alone does not say where they are"}}
}

func (p page) moments(m *moments, names []string) {
	p.title("MOTION", m.Note)
	p.heading("PLACES OF THE POINTS, mm")
	const most = 4 // points beside each other in 80 columns
	for len(names) > 0 {
		some := names[:min(most, len(names))]
		names = names[len(some):]
		t, head, axes := table{[]int{8, 8}, p}, []string{"stroke", "travel"}, []string{"", ""}
		for _, name := range some {
			t.widths = append(t.widths, 8, 8)
			head, axes = append(head, clip(name, 7), ""), append(axes, "x", "y")
		}
		t.row(head...)
		t.row(axes...)
		for _, x := range m.Moments {
			cells := []string{fixed(x.Stroke.Millimetres(), 2), fixed(x.Travel.Millimetres(), 2)}
			for _, name := range some {
				cells = append(cells, mm(x.Points[name][0]), mm(x.Points[name][1]))
			}
			t.row(cells...)
		}
		p.line("")
	}
	p.paragraph("  ", "Places are seen from the drive side: x forward and y up from the bottom bracket. With -out, motion.svg shows the linkage going through its travel, in any browser.")
}

// clip cuts a name that is too long for its column.
func clip(name string, most int) string {
	if letters := []rune(name); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return name
}
