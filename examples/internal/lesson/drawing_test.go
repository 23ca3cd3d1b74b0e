package lesson_test

import (
	"encoding/xml"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
)

// node is an element of a drawing.
type node struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Nodes   []node     `xml:",any"`
	Text    string     `xml:",chardata"`
}

func (n node) attr(name string) string {
	for _, a := range n.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (n node) number(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(n.attr(name), 64)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return v
}

// class returns the elements whose classes are these.
func (n node) class(class string) (list []node) {
	for _, c := range n.Nodes {
		if c.attr("class") == class {
			list = append(list, c)
		}
		list = append(list, c.class(class)...)
	}
	return list
}

type place struct{ x, y float64 }

var pair = regexp.MustCompile(`[ML](-?[\d.]+) (-?[\d.]+)`)

// places returns the points of a path.
func (n node) places(t *testing.T) (list []place) {
	t.Helper()
	for _, m := range pair.FindAllStringSubmatch(n.attr("d"), -1) {
		x, err1 := strconv.ParseFloat(m[1], 64)
		y, err2 := strconv.ParseFloat(m[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("%q is no point", m[0])
		}
		list = append(list, place{x, y})
	}
	return list
}

func (n node) circle(t *testing.T) place { return place{n.number(t, "cx"), n.number(t, "cy")} }

func apart(a, b place) float64 { return math.Hypot(b.x-a.x, b.y-a.y) }

// arrow is a measure or a force: its line and its label.
type arrow struct {
	from, to place
	label    string
}

// arrows returns those of a class in the order in which they are drawn.
func (n node) arrows(t *testing.T, class string) (list []arrow) {
	t.Helper()
	for _, g := range n.class(class) {
		line := g.Nodes[0].places(t)
		a := arrow{line[0], line[len(line)-1], ""}
		for _, c := range g.Nodes {
			if c.XMLName.Local == "text" {
				a.label = c.Text
			}
		}
		list = append(list, a)
	}
	return list
}

var labelled = regexp.MustCompile(`(-?\d+(?:\.(\d+))?) (mm|N)\b`)

// value returns the number of a label with its unit, and half of its last digit.
func value(label string) (v, half float64, unit string) {
	m := labelled.FindStringSubmatch(label)
	if m == nil {
		return math.NaN(), 0, ""
	}
	v, _ = strconv.ParseFloat(m[1], 64) // digits by the pattern
	return v, 0.5 * math.Pow(10, -float64(len(m[2]))), m[3]
}

func parsed(t *testing.T, svg string) (n node) {
	t.Helper()
	if err := xml.Unmarshal([]byte(svg), &n); err != nil {
		t.Fatalf("%v in %s", err, svg)
	}
	return n
}

// found returns a lesson by name.
func found(t *testing.T, name string) lesson.Lesson {
	t.Helper()
	l, ok := lesson.Find(name)
	if !ok {
		t.Fatalf("no lesson %s", name)
	}
	return l
}

// view is a lesson at positions, and its drawing.
func view(t *testing.T, name string, v lesson.Values) (*lesson.Content, node) {
	t.Helper()
	c, err := found(t, name).At(v)
	if err != nil {
		t.Fatal(err)
	}
	return c, parsed(t, c.Drawing.SVG())
}

// everywhere calls a test with each lesson at the ends of its sliders and at
// positions between them.
func everywhere(t *testing.T, test func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string)) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, l := range lesson.All() {
		for i := range 1<<len(l.Sliders) + 12 {
			v := lesson.Values{}
			for j, s := range l.Sliders {
				switch {
				case i >= 1<<len(l.Sliders):
					v[s.Name] = s.Min + s.Step*math.Floor(random.Float64()*((s.Max-s.Min)/s.Step+1))
					v[s.Name] = min(v[s.Name], s.Max)
				case i>>j&1 == 0:
					v[s.Name] = s.Min
				default:
					v[s.Name] = s.Max
				}
			}
			c, err := l.At(v)
			if err != nil {
				t.Fatal(err)
			}
			test(t, l, c, fmt.Sprint(l.Name, v))
		}
	}
}

// scales are the pixels for a millimetre and for a newton.
var scales = map[string]map[string]float64{
	"wire": {"mm": 1.2}, "gas": {"mm": 2, "N": 0.012}, "levers": {"mm": 0.34, "N": 0.009}, "chambers": {"mm": 1, "N": 0.045},
	"sag": {"mm": 1, "N": 0.08}, "preload": {"mm": 1.25}, "drop": {"mm": 0.24}, "fork": {"mm": 1, "N": 0.17}, "pitch": {"mm": 0.175, "N": 0.085},
}

// A dimension and a force are as long as the number beside them says.
func TestDrawingsAreToScale(t *testing.T) {
	everywhere(t, func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string) {
		n, count := parsed(t, c.Drawing.SVG()), 0
		for _, a := range append(n.arrows(t, "measure"), n.arrows(t, "force")...) {
			v, half, unit := value(a.label)
			if unit == "" || l.Name == "wire" && unit == "N" { // the wire's force is always the same
				continue
			}
			count++
			if got, want := apart(a.from, a.to), v*scales[l.Name][unit]; !(math.Abs(got-want) <= half*scales[l.Name][unit]+0.02) {
				t.Errorf("%s: %q is %.2f pixels long, want %.2f", at, a.label, got, want)
			}
		}
		if count == 0 && l.Name != "sure" {
			t.Errorf("%s: nothing is measured", at)
		}
	})
}

var digits = regexp.MustCompile(`\d+(?:\.(\d+))?`)

// Each number in a drawing stands in the words about it, of the sentence or of the
// description for those who don't see it.
func TestDrawingsSayWhatTheWordsSay(t *testing.T) {
	everywhere(t, func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string) {
		said := []float64{0}
		for _, m := range digits.FindAllString(lesson.Plain(c.Now)+" "+c.Drawing.Desc, -1) {
			v, err := strconv.ParseFloat(m, 64)
			if err != nil {
				t.Fatal(err)
			}
			said = append(said, v, 1000*v) // metres as millimetres
		}
		var walk func(node)
		walk = func(n node) {
			if n.XMLName.Local == "text" {
				for _, m := range digits.FindAllStringSubmatch(n.Text, -1) {
					v, err := strconv.ParseFloat(m[0], 64)
					half := 0.51 * math.Pow(10, -float64(len(m[1])))
					if err != nil || !slices.ContainsFunc(said, func(s float64) bool { return math.Abs(s-v) <= half }) {
						t.Errorf("%s: %q is not in %q, %q", at, n.Text, lesson.Plain(c.Now), c.Drawing.Desc)
					}
				}
			}
			for _, c := range n.Nodes {
				walk(c)
			}
		}
		walk(parsed(t, c.Drawing.SVG()))
	})
}

// Nothing is drawn or written outside of the picture, and what it says in words is there.
func TestDrawingsAreInside(t *testing.T) {
	everywhere(t, func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string) {
		for _, svg := range []string{c.Drawing.SVG(), c.Curve.SVG()} {
			n := parsed(t, svg)
			var w, h float64
			if _, err := fmt.Sscanf(n.attr("viewBox"), "0 0 %g %g", &w, &h); err != nil {
				t.Fatal(err)
			}
			var walk func(node)
			walk = func(n node) {
				list := n.places(t)
				switch n.XMLName.Local {
				case "text":
					// A letter is about 6.3 pixels wide.
					x, wide := n.number(t, "x"), 6.3*float64(len([]rune(n.Text)))
					left := map[string]float64{"start": x, "middle": x - wide/2, "end": x - wide}[n.attr("text-anchor")]
					list = append(list, place{left + 2, n.number(t, "y")}, place{left + wide - 2, n.number(t, "y")})
				case "circle":
					if n.attr("class") != "wheel" { // a wheel may leave the picture
						list = append(list, n.circle(t))
					}
				}
				for _, p := range list {
					if !(p.x >= 0 && p.x <= w && p.y >= 0 && p.y <= h) {
						t.Errorf("%s: %s %q at %v is outside of %v × %v", at, n.XMLName.Local+" "+n.attr("class"), n.Text, p, w, h)
					}
				}
				for _, c := range n.Nodes {
					walk(c)
				}
			}
			walk(n)
			if label := n.attr("aria-label"); len(label) < 60 || !strings.ContainsAny(label, "0123456789") || !strings.Contains(label, n.Nodes[0].Text) {
				t.Errorf("%s: the picture says only %q", at, label)
			}
		}
	})
}

// Forces on one body add up to nothing.
func TestForcesBalance(t *testing.T) {
	everywhere(t, func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string) {
		var sum place
		forces := parsed(t, c.Drawing.SVG()).arrows(t, "force")
		switch l.Name {
		case "chambers", "sag", "pitch":
		case "fork": // the load is what its two parts add up to
			forces[0].from, forces[0].to = forces[0].to, forces[0].from
		default:
			return
		}
		moment := 0.0 // about the picture's corner
		for _, f := range forces {
			fx, fy := f.to.x-f.from.x, f.to.y-f.from.y
			sum.x, sum.y = sum.x+fx, sum.y+fy
			moment += f.from.x*fy - f.from.y*fx
		}
		if !(math.Hypot(sum.x, sum.y) < 0.05) {
			t.Errorf("%s: the forces leave %v", at, sum)
		}
		if l.Name == "pitch" && !(math.Abs(moment) < 8) { // 80 pixels of weight on arms of 100
			t.Errorf("%s: the moments leave %v", at, moment)
		}
	})
}

// The dot lies on its line, and where the axes say.
func TestCurvesAreToScale(t *testing.T) {
	everywhere(t, func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string) {
		n := parsed(t, c.Curve.SVG())
		along := func(anchor, coordinate string) func(float64) float64 {
			var pixels, values []float64
			for _, text := range n.Nodes {
				v, err := strconv.ParseFloat(strings.Replace(text.Text, "−", "-", 1), 64)
				if text.XMLName.Local == "text" && text.attr("text-anchor") == anchor && err == nil {
					pixels, values = append(pixels, text.number(t, coordinate)), append(values, v)
				}
			}
			last := len(values) - 1
			if last < 1 {
				t.Fatalf("%s: %d numbers at an axis", at, last+1)
			}
			return func(p float64) float64 {
				return values[0] + (p-pixels[0])*(values[last]-values[0])/(pixels[last]-pixels[0])
			}
		}
		x, y := along("middle", "x"), along("end", "y")
		if !(x(200) > x(100) && y(100) > y(200)) {
			t.Errorf("%s: an axis runs backward", at)
		}
		dot := n.class("dot")[0].circle(t)
		dot.y += 4 // numbers stand that much below their line
		points := n.class("line")
		line := points[len(points)-len(c.Curve.Lines)].places(t)
		wide, high := math.Abs(x(300)-x(0))/300, math.Abs(y(100)-y(0))/100
		if got := x(dot.x); !(math.Abs(got-c.Curve.Dot[0]) < 0.3*wide) {
			t.Errorf("%s: the dot is at %v, want %v", at, got, c.Curve.Dot[0])
		}
		if got := y(dot.y); !(math.Abs(got-c.Curve.Dot[1]) < 0.3*high) {
			t.Errorf("%s: the dot is at a height of %v, want %v", at, got, c.Curve.Dot[1])
		}
		for i := 1; i < len(line); i++ {
			if a, b := line[i-1], line[i]; a.x <= dot.x && dot.x <= b.x {
				if on := a.y + (b.y-a.y)*(dot.x-a.x)/(b.x-a.x); !(math.Abs(on-dot.y+4) < 0.8) {
					t.Errorf("%s: the dot is %v pixels off its line", at, on-dot.y+4)
				}
				return
			}
		}
		t.Errorf("%s: the dot is beside its line", at)
	})
}
