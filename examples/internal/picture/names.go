package picture

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// names writes the name of every point at the first pose: away from the middle
// of the bodies that have it, or else in the next direction where it covers no
// other name, no pivot and no label.
func (v SideView) names(d pen, taken []vg.Rectangle) {
	pose, style := v.Poses[0], aligned(letters(nameSize, black), draw.XCenter, draw.YCenter)
	points := unique(slices.Concat(slices.Concat(v.Bodies...), v.Fixed, v.Shock[:]))
	for _, name := range points {
		at := d.at(pose.At[name])
		box := vg.Rectangle{Min: vg.Point{X: at.X - 3, Y: at.Y - 3}, Max: vg.Point{X: at.X + 3, Y: at.Y + 3}}
		if slices.Contains(v.Fixed, name) {
			box.Min = vg.Point{X: at.X - 6, Y: at.Y - 8} // the ground's sign
		}
		taken = append(taken, box)
	}
	for _, name := range points {
		at := d.at(pose.At[name])
		first := v.away(d, name)
		var best vg.Point
		var box vg.Rectangle
		for i := range 8 {
			turn := float64((i+1)/2) * math.Pi / 4 // 0, then to either side
			if i%2 == 0 {
				turn = -turn
			}
			sin, cos := math.Sincos(first + turn)
			place := at.Add(vg.Point{
				X: vg.Length(cos) * (5 + style.Width(name)/2), Y: vg.Length(sin) * (4 + style.Font.Size/2),
			})
			r := style.Rectangle(name).Add(place)
			free := d.Contains(r.Min) && d.Contains(r.Max) && !slices.ContainsFunc(taken, func(o vg.Rectangle) bool { return overlap(o, r) })
			if i == 0 || free {
				best, box = place, r
			}
			if free {
				break
			}
		}
		taken = append(taken, box)
		d.SetColor(white)
		d.Fill(box.Path())
		d.FillText(style, best, name)
	}
}

// away is the direction from the other points of the bodies that have a point.
func (v SideView) away(d pen, name string) float64 {
	pose := v.Poses[0]
	at, sum := d.at(pose.At[name]), vg.Point{}
	for _, body := range slices.Concat(v.Bodies, [][]string{v.Shock[:]}) {
		if !slices.Contains(body, name) {
			continue
		}
		for _, other := range body {
			off := at.Sub(d.at(pose.At[other]))
			if l := vg.Length(math.Hypot(float64(off.X), float64(off.Y))); l > 0 {
				sum = sum.Add(off.Scale(1 / l))
			}
		}
	}
	return math.Atan2(float64(sum.Y), float64(sum.X))
}

func overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// unique keeps the first of every name.
func unique(names []string) []string {
	var list []string
	for _, n := range names {
		if !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list
}

// arrows draws the arrows, tip at their point, and writes their labels at their tails, where no point and
// nothing else is. It returns all that is taken then.
func (v SideView) arrows(d pen, taken []vg.Rectangle) []vg.Rectangle {
	style := aligned(letters(smallSize, black), draw.XCenter, draw.YCenter)
	if len(v.Arrows) > 0 {
		for _, name := range unique(slices.Concat(slices.Concat(v.Bodies...), v.Fixed, v.Shock[:])) {
			at := d.at(v.Poses[0].At[name])
			taken = append(taken, vg.Rectangle{Min: at.Sub(vg.Point{X: 4, Y: 4}), Max: at.Add(vg.Point{X: 4, Y: 4})})
		}
	}
	for _, a := range v.Arrows {
		at := v.Poses[0].At[a.At]
		tip, tail := d.at(at), d.at(Point{at.X - a.X, at.Y - a.Y})
		way := tip.Sub(tail)
		length := vg.Length(math.Hypot(float64(way.X), float64(way.Y)))
		if !(length > 1) {
			continue
		}
		along := way.Scale(1 / length)
		across := vg.Point{X: -along.Y, Y: along.X}
		head := tip.Sub(along.Scale(min(7, length)))
		d.lines(draw.LineStyle{Color: dark, Width: 1.6}, tail, head)
		d.FillPolygon(dark, d.ClipPolygonXY([]vg.Point{tip, head.Add(across.Scale(2.6)), head.Sub(across.Scale(2.6))}))
		// Beside the arrow, on either side, where it covers nothing.
		half := style.Rectangle(a.Label).Size().Scale(0.5)
		clear := vg.Length(math.Abs(float64(across.X)))*half.X + vg.Length(math.Abs(float64(across.Y)))*half.Y + 3
		var box vg.Rectangle
		for i := range 12 {
			side := across.Scale(clear * vg.Length(1-2*(i%2)))
			middle := tip.Sub(along.Scale(length * vg.Length(0.55+0.15*float64(i/2)))).Add(side)
			place := vg.Rectangle{Min: middle.Sub(half), Max: middle.Add(half)}
			free := d.Contains(place.Min) && d.Contains(place.Max) && !slices.ContainsFunc(taken, func(o vg.Rectangle) bool { return overlap(o, place) })
			if i == 0 || free {
				box = place
			}
			if free {
				break
			}
		}
		taken = append(taken, box)
		d.SetColor(white)
		d.Fill(box.Path())
		d.FillText(style, box.Min.Add(half), a.Label)
	}
	return taken
}
