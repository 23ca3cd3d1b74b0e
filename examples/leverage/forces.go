package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// forces is the answer to the command forces, and what -json prints.
type forces struct {
	Schema  string        `json:"schema"`
	Note    string        `json:"note,omitempty"`
	Load    string        `json:"load"` // in words
	Strokes []equilibrium `json:"strokes"`
	// Bearings are the places where parts turn in each other, with the greatest force over the stroke
	// and how far they turn in all of it.
	Bearings []bearing `json:"bearings"`

	points []string // that carry a force
}

// equilibrium is how the mechanism holds its load at one stroke.
type equilibrium struct {
	Travel units.Length `json:"travel"`
	Wheel  units.Force  `json:"wheel_force"`
	mechanism.Equilibrium
}

// bearing is a place where parts turn in each other.
type bearing struct {
	mechanism.Bearing
	Greatest units.Force  `json:"greatest_force"`
	At       units.Length `json:"at_travel"`
	Turn     units.Angle  `json:"turn"`
}

// at returns the force on a point at one stroke, on the first body that has it.
func (e *equilibrium) at(point string) mechanism.HoleForce {
	i := slices.IndexFunc(e.Holes, func(h mechanism.HoleForce) bool { return h.Point == point && h.Size() > 0 })
	if i < 0 {
		return mechanism.HoleForce{}
	}
	return e.Holes[i]
}

// on returns the force on a body at a point.
func (e *equilibrium) on(body, point string) mechanism.HoleForce {
	i := slices.IndexFunc(e.Holes, func(h mechanism.HoleForce) bool { return h.Body == body && h.Point == point })
	if i < 0 {
		return mechanism.HoleForce{}
	}
	return e.Holes[i]
}

// load is what the wheel is loaded with at a stroke: a force up, or that of the spring; and one forward.
func (o *options) load(b *bench) (up func(row) units.Force, forward units.Force, words string, err error) {
	c := units.Checker{Package: "leverage"}
	force := func(flag, text string) (f units.Force) {
		if text != "" {
			var err error
			if f, err = units.Parse[units.Force](text); err != nil {
				c.Fail("-"+flag, text, "a force with its unit, such as 1500 N", units.ErrSyntax)
				return 0
			}
			units.Between(&c, "-"+flag, f, -1e9, 1e9)
		}
		return f
	}
	wheel := force("wheel", o.wheel)
	forward = force("forward", o.forward)
	if forward != 0 && b.drive == nil {
		c.Fail("-forward", o.forward, "a drive in the job: chain or brake hold it", units.ErrMissing)
	}
	switch {
	case o.wheel != "":
		words = "A force of " + newtons(wheel) + " up on the wheel"
	case b.wheel != nil:
		words = "What the spring holds at the wheel at each travel, as in a landing that is taken slowly"
	default:
		wheel, words = 1000*units.Newton, "A force of 1000 N up on the wheel, because none was said; all forces grow in proportion"
	}
	switch {
	case forward > 0:
		words += ", and " + newtons(forward) + " forward by the chain"
	case forward < 0:
		words += ", and " + newtons(-forward) + " backward by the rear brake"
	}
	if o.wheel == "" && b.wheel != nil {
		return func(r row) units.Force { return r.Spring.Wheel }, forward, words + ".", c.Err()
	}
	return func(row) units.Force { return wheel }, forward, words + ".", c.Err()
}

func newtons(f units.Force) string { return fixed(f.Newtons(), 0) + " N" }

// hold returns how the mechanism holds a load at n even steps of the stroke.
func (b *bench) hold(up func(row) units.Force, forward units.Force, n int) (list []equilibrium, err error) {
	for _, x := range b.rows(n) {
		loads := []mechanism.Load{{At: b.kin.Axle(), Force: [2]units.Force{0, up(x)}}}
		if b.drive != nil {
			loads = b.drive.Loads(x.Stroke, up(x), forward)
		}
		e, err := b.kin.Equilibrium(x.Stroke, loads...)
		if err != nil {
			return nil, err
		}
		list = append(list, equilibrium{x.Travel, up(x), e})
	}
	return list, nil
}

// forces is the command of that name.
func (o *options) forces(b *bench) (*result, error) {
	if err := b.needsMechanism(); err != nil {
		return nil, err
	}
	up, forward, words, err := o.load(b)
	if err != nil {
		return nil, err
	}
	f := &forces{Schema: "wheelrate/leverage-forces/1", Note: b.in.Note, Load: words}
	if f.Strokes, err = b.hold(up, forward, o.n); err != nil {
		return nil, err
	}
	all, err := b.hold(up, forward, fine)
	if err != nil {
		return nil, err
	}
	turns := b.kin.Turns(b.curve.Stroke())
	for i, of := range b.kin.Bearings() {
		g := bearing{Bearing: of, Turn: turns[i]}
		for _, e := range all {
			body := of.Second
			if body == "" {
				body = of.First
			}
			if size := e.on(body, of.Point).Size(); size > g.Greatest {
				g.Greatest, g.At = size, e.Travel
			}
		}
		f.Bearings = append(f.Bearings, g)
		if !slices.Contains(f.points, of.Point) {
			f.points = append(f.points, of.Point)
		}
	}
	r := &result{data: f, text: func(p page) { p.forcesOf(f) }, heads: []string{"stroke (mm)", "travel (mm)", "wheel force (N)", "shock force (N)"}}
	for _, h := range f.Strokes[0].Holes {
		r.heads = append(r.heads, h.Body+" "+h.Point+" x (N)", h.Body+" "+h.Point+" y (N)")
	}
	for _, e := range f.Strokes {
		cells := []string{digits(e.Stroke.Millimetres()), digits(e.Travel.Millimetres()), digits(e.Wheel.Newtons()), digits(e.ShockForce.Newtons())}
		for _, h := range e.Holes {
			cells = append(cells, digits(h.Force[0].Newtons()), digits(h.Force[1].Newtons()))
		}
		r.rows = append(r.rows, cells)
	}
	r.pictures = b.forcePictures(f, all)
	return r, nil
}

func (p page) forcesOf(f *forces) {
	p.title("FORCES", f.Note)
	p.heading("LOAD")
	p.paragraph("  ", f.Load)
	p.heading("IN THE PIVOTS AND AT THE SHOCK, N")
	const most = 6
	for names := f.points; len(names) > 0; names = names[min(most, len(names)):] {
		some := names[:min(most, len(names))]
		t, heads, units := table{[]int{9, 9, 9}, p}, []string{"travel", "wheel", "shock"}, []string{"mm", "N", "N"}
		for _, name := range some {
			t.widths = append(t.widths, 8)
			heads, units = append(heads, clip(name, 7)), append(units, "")
		}
		t.row(heads...)
		t.row(units...)
		for i := range f.Strokes {
			e := &f.Strokes[i]
			cells := []string{fixed(e.Travel.Millimetres(), 2), fixed(e.Wheel.Newtons(), 0), fixed(e.ShockForce.Newtons(), 0)}
			for _, name := range some {
				cells = append(cells, fixed(e.at(name).Size().Newtons(), 0))
			}
			t.row(cells...)
		}
		p.line("")
	}
	p.heading("BEARINGS")
	row := func(cells ...string) {
		p.line("  " + left(cells[0], 12) + left(cells[1], 30) + right(cells[2], 10) + right(cells[3], 12) + right(cells[4], 10))
	}
	row("point", "parts", "greatest", "at travel", "turns")
	row("", "", "N", "mm", "deg")
	for _, b := range f.Bearings {
		second := b.Second
		if second == "" {
			second = "the shock"
		}
		row(clip(b.Point, 11), clip(b.First+" and "+second, 29), fixed(b.Greatest.Newtons(), 0), fixed(b.At.Millimetres(), 1), fixed(b.Turn.Degrees(), 1))
	}
	if last := f.Strokes[len(f.Strokes)-1]; len(last.Links) > 0 {
		p.heading("LINKS, AT FULL TRAVEL")
		for _, l := range last.Links {
			kind := "tension"
			if l.Tension < 0 {
				kind = "compression"
			}
			p.line("  " + left(l.Body, 30) + right(fixed(math.Abs(l.Tension.Newtons()), 0), 10) + " N " + kind)
		}
	}
	p.heading("HOW TO READ IT")
	say := func(text string) { p.paragraph("  * ", text) }
	say("The linkage stands still at each travel and is in equilibrium: no friction, no weight and no inertia of the links. A hard landing takes more than the spring does, by what the damper adds.")
	say("Turns: how far the second part turns in the first from full extension to full travel, counter-clockwise. A force is that on both sides of a pivot together, and a side load is not in it.")
	say("These are forces for a drawing, not proof that a part holds: leave margins, and have what carries a rider checked by who is qualified to do so.")
}

// forcePictures are the forces over the travel, and in the side view.
func (b *bench) forcePictures(f *forces, all []equilibrium) []named {
	points := slices.Clone(f.points)
	greatest := func(point string) (most float64) {
		for i := range all {
			most = math.Max(most, all[i].at(point).Size().Newtons())
		}
		return most
	}
	slices.SortStableFunc(points, func(a, b string) int { return cmp.Compare(greatest(b), greatest(a)) })
	panel := picture.Panel{Y: picture.Axis{Label: "force", Unit: "N", Zero: true}}
	for _, name := range points {
		s := picture.Series{Name: clip(name, 12)}
		for i := range all {
			s.X, s.Y = append(s.X, all[i].Travel.Millimetres()), append(s.Y, all[i].at(name).Size().Newtons())
		}
		last := len(panel.Series) - 1
		if last >= 0 && alike(panel.Series[last].Y, s.Y) { // the two ends of a link
			panel.Series[last].Name += ", " + s.Name
		} else if last+1 < picture.MaxLines {
			panel.Series = append(panel.Series, s)
		}
	}
	list := []named{{name: "forces", Picture: b.chart("Forces in the pivots and at the shock's eyes", panel)}}
	// The side view at full travel, where springs are hardest.
	e, v := &all[len(all)-1], b.sideView()
	v.Wheel = 0
	v.Title, v.Poses = "Forces at full travel, on the bodies as named", v.Poses[2:]
	most := 0.0
	for _, h := range e.Holes {
		most = math.Max(most, h.Size().Newtons())
	}
	for _, h := range e.Holes {
		if size := h.Size().Newtons(); h.Body != mechanism.Frame && size > 0.02*most {
			const longest = 180 // mm in the drawing
			v.Arrows = append(v.Arrows, picture.Arrow{
				At: h.Point, X: h.Force[0].Newtons() / most * longest, Y: h.Force[1].Newtons() / most * longest,
				Label: fmt.Sprintf("%s: %s", h.Body, newtons(units.Force(size))),
			})
		}
	}
	return append(list, named{name: "forces-linkage", Picture: v})
}

// alike reports whether two lines agree to what can be seen.
func alike(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-6*math.Abs(a[i]) {
			return false
		}
	}
	return true
}
