package picture

import (
	"gonum.org/v1/plot/vg/draw"
)

// Pair is two side views beside each other at one scale.
type Pair struct {
	Title, Note string
	Left, Right SideView // their own sizes are ignored
	Size        Size     // [Half] if zero
}

func (p Pair) size() Size { return p.Size.or(Half) }

func (p Pair) check() error {
	for _, v := range []SideView{p.Left, p.Right} {
		v.Size = p.Size
		if err := v.check(); err != nil {
			return err
		}
	}
	return nil
}

func (p Pair) draw(c draw.Canvas) {
	c = draw.Crop(c, 4, -4, 4, -4)
	c = heading(c, p.Title, p.Note)
	lo, hi := p.Left.bounds()
	a, b := p.Right.bounds()
	lo, hi = Point{min(lo.X, a.X), min(lo.Y, a.Y)}, Point{max(hi.X, b.X), max(hi.Y, b.Y)}
	middle := (c.Max.X - c.Min.X) / 2
	p.Left.within, p.Right.within = []Point{lo, hi}, []Point{lo, hi}
	p.Left.draw(draw.Crop(c, 0, -middle, 0, 0))
	p.Right.draw(draw.Crop(c, middle, 0, 0, 0))
}
