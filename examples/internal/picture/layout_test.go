package picture

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

func TestStep(t *testing.T) {
	for _, c := range []struct {
		span float64
		most int
		want float64
	}{{134.7, 9, 20}, {10, 10, 1}, {1, 8, 0.2}, {0.14, 8, 0.02}, {3000, 8, 500}, {41, 8, 10}, {9.99e-7, 5, 2e-7}} {
		if got := step(c.span, c.most); math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("step(%v, %d) = %v, want %v", c.span, c.most, got, c.want)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		step, lo, hi float64
		want         string
	}{
		{20, 0, 134.7, "0 20 40 60 80 100 120"},
		{0.02, 2.26, 2.34, "2.26 2.28 2.30 2.32 2.34"},
		{0.1, -0.3, 0.1, "−0.3 −0.2 −0.1 0.0 0.1"},
		{5, -7, 7, "−5 0 5"},
	} {
		var labels []string
		for _, tick := range ticks(c.step).Ticks(c.lo, c.hi) {
			labels = append(labels, tick.Label)
		}
		if got := strings.Join(labels, " "); got != c.want {
			t.Errorf("ticks of %v from %v to %v: %s, want %s", c.step, c.lo, c.hi, got, c.want)
		}
	}
}

// A constant lever ratio is a line in the middle, not a division by 0.
func TestFlat(t *testing.T) {
	for _, v := range []float64{0, 2.6, -3, 1e-200, -1e90} {
		lo, hi := widen(v, v)
		if !(lo < v && v < hi) {
			t.Errorf("%v: from %v to %v", v, lo, hi)
		}
		x := []float64{0, 1}
		svg(t, Chart{X: Axis{Label: "x"}, Panels: []Panel{{Y: Axis{Label: "y"}, Series: []Series{{"flat", x, []float64{v, v}}}}}})
	}
	if lo, hi := widen(2, 2.1); lo != 2 || hi != 2.1 {
		t.Errorf("a range that can be seen becomes %v to %v", lo, hi)
	}
}

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		wanted       []float64
		distance     float64
		lo, hi       float64
		want         []float64
		name, reason string
	}{
		{[]float64{10, 50}, 12, 0, 100, []float64{10, 50}, "apart", "nothing moves"},
		{[]float64{50, 50}, 10, 0, 100, []float64{45, 55}, "the same", "either half the distance"},
		{[]float64{54, 50}, 10, 0, 100, []float64{57, 47}, "order kept", "around 52"},
		{[]float64{100, 99}, 10, 0, 100, []float64{100, 90}, "at the top", "kept inside"},
		{[]float64{40, 41, 48, 90}, 10, 0, 100, []float64{33, 43, 53, 90}, "a group of three", "mean of 40, 31, 28 is 33"},
	} {
		got := spread(c.wanted, c.distance, c.lo, c.hi)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v: %s", c.name, got, c.want, c.reason)
				break
			}
		}
	}
}

// Labels of poses and of the bottom bracket stay inside, even without a wheel
// to make room for them.
func TestLabelsInside(t *testing.T) {
	for _, size := range []Size{Half, {60, 50}, {170, 60}, Full} {
		v := sampleView()
		v.Wheel, v.Size = 0, size
		v.Poses[1].Label = "full travel, 134.7 mm"
		w, h := size.lengths()
		c := draw.New(vgsvg.New(w, h))
		p := v.plot(c, v.sketch)
		data := p.DataCanvas(c)
		x, y := p.Transforms(&data)
		d := pen{data, x, y}
		for _, box := range append(v.axles(d), v.origin(d)) {
			if size.Width > 60 && !data.Contains(box.Min) || box.Max.X > data.Max.X || box.Max.Y > data.Max.Y {
				t.Errorf("%v: a label from %v to %v sticks out of %v", size, box.Min, box.Max, data.Rectangle)
			}
		}
	}
}

// One millimetre is as long along x as along y, whatever the shape of the
// mechanism and of the paper.
func TestSameScale(t *testing.T) {
	tall := sampleView()
	tall.Poses[1].At["A"] = Point{-300, 2500}
	slim := sampleView()
	slim.Size = Size{170, 60}
	full := sampleView()
	full.Size = Full
	for _, v := range []SideView{sampleView(), tall, slim, full} {
		w, h := v.size().lengths()
		c := draw.New(vgsvg.New(w, h))
		p := v.plot(c, v.sketch)
		data := p.DataCanvas(c)
		x, y := p.Transforms(&data)
		perX, perY := x(1)-x(0), y(1)-y(0)
		if !(perX > 0) || math.Abs(float64(perX/perY-1)) > 1e-9 {
			t.Errorf("%v: %v and %v points per mm", v.Size, perX, perY)
		}
		for _, pose := range v.Poses { // the wheel included
			a := pose.At["A"]
			for _, q := range []Point{{a.X - 370, a.Y}, {a.X + 370, a.Y}, {a.X, a.Y - 370}, {a.X, a.Y + 370}} {
				if at := (vg.Point{X: x(q.X), Y: y(q.Y)}); !data.Contains(at) {
					t.Errorf("%v: %v lies outside", v.Size, q)
				}
			}
		}
	}
}

func TestHull(t *testing.T) {
	square := []vg.Point{{X: 0, Y: 0}, {X: 2, Y: 2}, {X: 2, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 2}, {X: 1, Y: 0}, {X: 2, Y: 2}}
	if got, want := hull(square), []vg.Point{{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 2, Y: 2}, {X: 0, Y: 2}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := hull([]vg.Point{{X: 1, Y: 1}, {X: 0, Y: 0}}); len(got) != 2 {
		t.Errorf("two points: %v", got)
	}
}

// Names at the ends of lines, flags and points' names don't cover each other.
func TestFlagsApart(t *testing.T) {
	c := sampleChart()
	c.Marks = []Mark{{"sag 25 %", 38}, {"sag 30 %", 46.4}, {"sag 33 %", 51}, {"far away", 140}, {"out of sight", 1000}}
	p := c.plot(0)
	w, h := c.size().lengths()
	data := p.DataCanvas(draw.New(vgsvg.New(w, h)))
	list, rows := c.flags(data, p)
	if len(list) != 5 || rows < 2 { // four marks and the band
		t.Fatalf("%d flags in %d rows", len(list), rows)
	}
	style := letters(smallSize, black)
	for i, a := range list {
		if half := style.Width(a.text) / 2; a.middle-half < data.Min.X-1e-9 || a.middle+half > data.Max.X+1e-9 {
			t.Errorf("%q sticks out", a.text)
		}
		for _, b := range list[:i] {
			if a.row == b.row && abs(a.middle-b.middle) < (style.Width(a.text)+style.Width(b.text))/2 {
				t.Errorf("%q and %q overlap", a.text, b.text)
			}
		}
	}
}

func TestWrap(t *testing.T) {
	style := letters(smallSize, black)
	lines := wrap(style, "the quick brown fox jumps over the lazy dog", 80)
	if len(lines) < 2 || strings.Join(lines, " ") != "the quick brown fox jumps over the lazy dog" {
		t.Fatalf("%q", lines)
	}
	for _, l := range lines {
		if style.Width(l) > 80 {
			t.Errorf("%q is wider than 80", l)
		}
	}
	if lines := wrap(style, "", 80); len(lines) != 0 {
		t.Errorf("%q from nothing", lines)
	}
}
