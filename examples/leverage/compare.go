package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"

	"example.com/wheelrate/units"
)

// comparison is the answer to the command compare, and what -json prints.
type comparison struct {
	Schema string `json:"schema"`
	First  framed `json:"first"`
	Second framed `json:"second"`
	// Differences are the second's from the first, in words.
	Differences []string `json:"differences"`

	benches [2]*bench
	facts   []fact
}

// framed is one of two frames, with its poses at the travels that both have.
type framed struct {
	Name string `json:"name"`
	*report
}

// fact is a number that two frames have, and how its difference is told.
type fact struct {
	label, unit string
	decimals    int
	a, b        float64
	// What the second is where its number is greater and where it is less by more than some; %s is
	// the difference. A fact without words is in the table alone.
	more, less string
	some       float64
}

func (f fact) of(v float64) string {
	text := fixed(v, f.decimals)
	if f.unit != "" {
		text += " " + f.unit
	}
	return text
}

// by is a difference; that of two percentages is in points.
func (f fact) by(v float64) string {
	if f.unit == "%" {
		f.unit = "points"
	}
	return f.of(v)
}

// other is the frame to compare with.
func (o *options) other(b *bench) (*bench, error) {
	c := units.Checker{Package: "leverage"}
	second := *o
	switch {
	case o.with == "" && o.file == "": // of the demonstrations, the next
		for i, name := range demos {
			if name == o.demo {
				second.demo = demos[(i+1)%len(demos)]
			}
		}
	case o.with == "":
		c.Fail("-with", nil, "the file of the frame to compare with", units.ErrMissing)
	case o.with == "-":
		c.Fail("-with", o.with, "a file; standard input holds one frame, for -job", units.ErrConflict)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	with, err := second.read(o.with, io.MultiReader())
	c.Add("-with", err)
	if err == nil && with.name == b.name {
		b.name, with.name = b.name+", first", with.name+", second"
	}
	return with, c.Err()
}

// compare is the command of that name.
func (o *options) compare(b *bench) (*result, error) {
	with, err := o.other(b)
	if err != nil {
		return nil, err
	}
	_, r := compareBenches(b, with, o.n)
	return r, nil
}

// compareBenches sets two frames side by side, at n travels.
func compareBenches(b, with *bench, n int) (*comparison, *result) {
	c := &comparison{Schema: "wheelrate/leverage-comparison/1", benches: [2]*bench{b, with}}
	c.First, c.Second = framed{b.name, b.report(2)}, framed{with.name, with.report(2)}
	common := min(b.curve.Travel(), with.curve.Travel())
	for i, side := range []*framed{&c.First, &c.Second} {
		side.Poses = c.benches[i].along(common, n)
	}
	c.facts = c.listFacts()
	c.Differences = c.words()
	r := &result{data: c, text: func(p page) { p.comparison(c) }, pictures: c.pictures(), heads: []string{"travel (mm)"}}
	firsts, seconds := columns(c.First.Poses[0]), columns(c.Second.Poses[0])
	for i := range n {
		cells := []string{digits(c.First.Poses[i].Travel.Millimetres())}
		for _, x := range firsts {
			for _, y := range seconds {
				if x.head != y.head || x.head == "travel (mm)" {
					continue
				}
				if i == 0 {
					r.heads = append(r.heads, b.name+": "+x.head, with.name+": "+x.head)
				}
				cells = append(cells, digits(x.value(c.First.Poses[i])), digits(y.value(c.Second.Poses[i])))
			}
		}
		r.rows = append(r.rows, cells)
	}
	return c, r
}

// along works out n poses at even steps of the travel up to a last one.
func (b *bench) along(last units.Length, n int) []row {
	list := make([]row, n)
	for i := range list {
		travel := last * units.Length(float64(i)/float64(n-1))
		list[i] = b.at(b.curve.StrokeAt(travel))
		list[i].Travel = travel // without the rounding of the way to the stroke and back
	}
	return list
}

// listFacts are the numbers that both frames have.
func (c *comparison) listFacts() []fact {
	a, b := c.First, c.Second
	mm := func(l units.Length) float64 { return l.Millimetres() }
	list := []fact{
		{"stroke of the shock", "mm", 1, mm(a.Stroke), mm(b.Stroke), "has %s more stroke", "has %s less stroke", 0.05},
		{"vertical travel of the wheel", "mm", 1, mm(a.Travel), mm(b.Travel), "has %s more travel", "has %s less travel", 0.05},
		{"mean lever ratio", "", 3, a.MeanLeverRatio, b.MeanLeverRatio, "has a mean lever ratio that is greater by %s: for the same load it needs a stiffer spring",
			"has a mean lever ratio that is less by %s: for the same load it needs a softer spring", 0.005},
		{"lever ratio at the start", "", 3, a.Progression.Start, b.Progression.Start, "", "", 0},
		{"lever ratio at the end", "", 3, a.Progression.End, b.Progression.End, "", "", 0},
		{"progression", "%", 1, 100 * a.Progression.Value, 100 * b.Progression.Value, "is %s more progressive", "is %s less progressive", 0.5},
	}
	if a.Path != nil && b.Path != nil {
		list = append(list,
			fact{"length of the shock", "mm", 1, mm(c.benches[0].kin.ShockLength()), mm(c.benches[1].kin.ShockLength()), "has a shock that is %s longer", "has a shock that is %s shorter", 0.05},
			fact{"axle path", "mm", 1, mm(a.Path.Length), mm(b.Path.Length), "", "", 0},
			fact{"axle most backward", "mm", 1, mm(a.Path.Backward), mm(b.Path.Backward), "takes its axle %s farther back", "takes its axle %s less far back", 0.5},
			fact{"growth from bottom bracket", "mm", 1, mm(a.Path.Growth), mm(b.Path.Growth), "", "", 0})
	}
	return append(list, c.posedFacts()...)
}

// posedFacts are those at the sag or half way, and at full travel.
func (c *comparison) posedFacts() (list []fact) {
	x, y := c.benches[0], c.benches[1]
	where := "half way"
	if x.in.Sag > 0 && x.in.Sag == y.in.Sag {
		where = "at " + x.sagPercent() + " sag"
	} else if x.in.Sag > 0 && y.in.Sag > 0 {
		where = "at its sag"
	}
	p, q := x.at(x.curve.StrokeAt(x.marked())), y.at(y.curve.StrokeAt(y.marked()))
	list = append(list, fact{where + ", lever ratio", "", 3, p.LeverRatio, q.LeverRatio, "", "", 0})
	if p.Spring != nil && q.Spring != nil {
		list = append(list,
			fact{where + ", wheel force", "N", 0, p.Spring.Wheel.Newtons(), q.Spring.Wheel.Newtons(), "carries %s more on its wheel " + where, "carries %s less on its wheel " + where, 0.5},
			fact{where + ", wheel rate", "N/mm", 2, p.Spring.WheelRate.NewtonsPerMillimetre(), q.Spring.WheelRate.NewtonsPerMillimetre(),
				"is stiffer at the wheel " + where + ", by %s", "is softer at the wheel " + where + ", by %s", 0.005})
	}
	if p.Drive == nil || q.Drive == nil {
		return list
	}
	full, other := x.drive.At(x.curve.Stroke()), y.drive.At(y.curve.Stroke())
	return append(list,
		fact{where + ", anti-squat", "%", 1, 100 * p.Drive.AntiSquat, 100 * q.Drive.AntiSquat, "has %s more anti-squat " + where, "has %s less anti-squat " + where, 0.5},
		fact{where + ", anti-rise", "%", 1, 100 * p.Drive.AntiRise, 100 * q.Drive.AntiRise, "has %s more anti-rise " + where, "has %s less anti-rise " + where, 0.5},
		fact{"at full travel, anti-squat", "%", 1, 100 * full.AntiSquat, 100 * other.AntiSquat, "", "", 0},
		fact{"  kickback, rolling", "°", 1, full.KickbackWheelRolling.Degrees(), other.KickbackWheelRolling.Degrees(),
			"kicks the cranks back %s farther over its travel", "kicks the cranks back %s less far over its travel", 0.1},
		fact{"  chain growth", "mm", 1, full.ChainGrowth.Millimetres(), other.ChainGrowth.Millimetres(), "", "", 0})
}

// words tells the differences of the second frame from the first.
func (c *comparison) words() (list []string) {
	var same []string
	for _, f := range c.facts {
		by := f.b - f.a
		text := f.more
		if by < 0 {
			text = f.less
		}
		switch {
		case text == "":
		case math.Abs(by) <= f.some:
			same = append(same, f.label)
		default:
			text = strings.Replace(text, "%s", f.by(math.Abs(by)), 1)
			list = append(list, fmt.Sprintf("%s %s (%s against %s).", c.Second.Name, text, f.of(f.b), f.of(f.a)))
		}
	}
	list = append(list, c.courses()...)
	if len(same) > 0 {
		list = append(list, "Alike are: "+joined(same)+".")
	}
	return list
}

// courses tells of each curve that both frames have where the second's is above the first's.
func (c *comparison) courses() (list []string) {
	last := min(c.First.Travel, c.Second.Travel)
	a, b := c.benches[0].along(last, fine), c.benches[1].along(last, fine)
	for _, curve := range []struct {
		name, unit string
		decimals   int
		some       float64
		value      func(row) float64
		there      bool
	}{
		{"lever ratio", "", 3, 0.005, func(r row) float64 { return r.LeverRatio }, true},
		{"wheel force", "N", 0, 1, func(r row) float64 { return r.Spring.Wheel.Newtons() }, a[0].Spring != nil && b[0].Spring != nil},
		{"anti-squat", "%", 1, 0.5, func(r row) float64 { return 100 * r.Drive.AntiSquat }, a[0].Drive != nil && b[0].Drive != nil},
		{"anti-rise", "%", 1, 0.5, func(r row) float64 { return 100 * r.Drive.AntiRise }, a[0].Drive != nil && b[0].Drive != nil},
	} {
		if !curve.there {
			continue
		}
		difference := func(i int) float64 { return curve.value(b[i]) - curve.value(a[i]) }
		most := 0
		for i := range a {
			if math.Abs(difference(i)) > math.Abs(difference(most)) {
				most = i
			}
		}
		if math.Abs(difference(most)) <= curve.some {
			list = append(list, fmt.Sprintf("At the same travel the %ss agree to %s.", curve.name, fact{unit: curve.unit, decimals: curve.decimals}.of(curve.some)))
			continue
		}
		f := fact{unit: curve.unit, decimals: curve.decimals}
		list = append(list, fmt.Sprintf("At the same travel its %s is %s; most at %s mm, by %s.", curve.name, course(a, difference), mm(a[most].Travel), f.by(math.Abs(difference(most)))))
	}
	return list
}

// course tells where a difference is above 0 and where below, over the travels of rows.
func course(rows []row, difference func(int) float64) string {
	side := func(v float64) string {
		if v > 0 {
			return "higher"
		}
		return "lower"
	}
	text, now := "", 0.0
	for i := range rows {
		d := difference(i)
		switch {
		case d == 0 || d > 0 == (now > 0) && now != 0:
		case now == 0:
			text = side(d)
			now = d
		default:
			before := difference(i - 1)
			at := rows[i-1].Travel + (rows[i].Travel-rows[i-1].Travel)*units.Length(before/(before-d))
			text += fmt.Sprintf(" up to %s mm, then %s", mm(at), side(d))
			now = d
		}
	}
	return cmp.Or(text, "the same")
}

// joined lists words.
func joined(words []string) string {
	text := words[0]
	for i, w := range words[1:] {
		if i == len(words)-2 {
			text += " and " + w
		} else {
			text += ", " + w
		}
	}
	return text
}
