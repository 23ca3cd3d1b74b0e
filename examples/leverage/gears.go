package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/units"
)

// gears are the pulleys of a sweep, by their teeth.
type gears struct {
	Chainrings []int `json:"chainrings"`
	Sprockets  []int `json:"sprockets"`
}

// check records what is wrong with g regardless of the drive. A chart tells only so many chainrings apart.
func (g *gears) check(c *units.Checker) {
	for _, list := range []struct {
		field string
		teeth []int
		most  int
	}{{"gears.chainrings", g.Chainrings, picture.MaxLines}, {"gears.sprockets", g.Sprockets, 30}} {
		if n := len(list.teeth); n == 0 || n > list.most {
			c.Fail(list.field, n, units.From(1, list.most).Count("numbers of teeth"), nil)
		}
		for i, teeth := range list.teeth {
			if teeth < 6 || teeth > 120 {
				c.Fail(fmt.Sprintf("%s[%d]", list.field, i), teeth, units.From(6, 120).Count("teeth"), nil)
			}
		}
	}
}

// sweep is the answer to the command gears, and what -json prints.
type sweep struct {
	Schema   string       `json:"schema"`
	Note     string       `json:"note,omitempty"`
	AtTravel units.Length `json:"at_travel"` // the sag's or half of the travel
	Travel   units.Length `json:"travel"`
	Gears    []gear       `json:"gears"`

	assumed bool // the sprockets were not said
	drives  map[[2]int]*drivetrain.Drive
}

// gear is one chainring with one sprocket.
type gear struct {
	Chainring   int             `json:"chainring"`
	Sprocket    int             `json:"sprocket"`
	Ratio       float64         `json:"ratio"`
	Development units.Length    `json:"development"` // of the wheel for one turn of the chainring
	At          drivetrain.Pose `json:"at"`
	Full        drivetrain.Pose `json:"at_full_travel"`
}

// teeth reads a list such as "30,32,34".
func teeth(c *units.Checker, flag, text string) (list []int) {
	for _, part := range strings.Split(text, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil {
			c.Fail("-"+flag, text, "numbers of teeth such as 30,32,34", units.ErrSyntax)
			return nil
		}
		list = append(list, n)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// wantedGears are those of the flags, else of the input, else some around the drive's own.
func (o *options) wantedGears(b *bench) (g gears, assumed bool, err error) {
	c := units.Checker{Package: "leverage"}
	if b.drive == nil {
		c.Fail("drive", nil, "a drive beside a mechanism: without it there is no chain", units.ErrMissing)
		return g, false, c.Err()
	}
	if b.in.Gears != nil {
		g = *b.in.Gears
	}
	for _, flag := range []struct {
		name, text string
		into       *[]int
	}{{"chainrings", o.chainrings, &g.Chainrings}, {"sprockets", o.sprocket, &g.Sprockets}} {
		if flag.text != "" {
			*flag.into = teeth(&c, flag.name, flag.text)
		}
	}
	if len(g.Chainrings) == 0 {
		g.Chainrings = []int{b.in.Drive.Drivetrain.Chainring}
	}
	if len(g.Sprockets) == 0 {
		g.Sprockets, assumed = []int{10, 15, 20, 25, 30, 35, 40, 45, 50}, true
	}
	if c.OK() {
		g.check(&c)
	}
	return g, assumed, c.Err()
}

// gears is the command of that name.
func (o *options) gears(b *bench) (*result, error) {
	g, assumed, err := o.wantedGears(b)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "leverage"}
	half := b.curve.StrokeAt(b.marked())
	s := &sweep{Schema: "wheelrate/leverage-gears/1", Note: b.in.Note, AtTravel: b.marked(), Travel: b.curve.Travel(), assumed: assumed, drives: map[[2]int]*drivetrain.Drive{}}
	for _, ring := range g.Chainrings {
		for _, sprocket := range g.Sprockets {
			spec := *b.in.Drive
			spec.Drivetrain.Chainring, spec.Drivetrain.Sprocket = ring, sprocket
			d, err := drivetrain.New(b.kin, spec)
			if err != nil {
				c.Add(fmt.Sprintf("gears.%d×%d", ring, sprocket), err)
				continue
			}
			ratio := float64(ring) / float64(sprocket)
			s.drives[[2]int{ring, sprocket}] = d
			s.Gears = append(s.Gears, gear{
				Chainring: ring, Sprocket: sprocket, Ratio: ratio, Development: 2 * math.Pi * spec.WheelRadius * units.Length(ratio),
				At: d.At(half), Full: d.At(b.curve.Stroke()),
			})
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	r := &result{data: s, text: func(p page) { p.sweep(b, s) }, pictures: b.gearPictures(g, s), heads: []string{
		"chainring", "sprocket", "ratio", "development (m)", "travel (mm)", "anti-squat (%)", "kickback wheel held (deg)", "kickback wheel rolling (deg)", "chain growth (mm)",
	}}
	for _, g := range s.Gears {
		for i, p := range []drivetrain.Pose{g.At, g.Full} {
			r.rows = append(r.rows, []string{
				strconv.Itoa(g.Chainring), strconv.Itoa(g.Sprocket), digits(g.Ratio), digits(float64(g.Development)), digits([]units.Length{s.AtTravel, s.Travel}[i].Millimetres()),
				digits(100 * p.AntiSquat), digits(p.KickbackWheelFixed.Degrees()), digits(p.KickbackWheelRolling.Degrees()), digits(p.ChainGrowth.Millimetres()),
			})
		}
	}
	return r, nil
}

// marked is the travel that is looked at beside full travel: the sag's, or half of it.
func (b *bench) marked() units.Length {
	if b.in.Sag > 0 {
		return units.Length(b.in.Sag) * b.curve.Travel()
	}
	return b.curve.Travel() / 2
}

// markedLabel says which travel marked is.
func (b *bench) markedLabel() string {
	if b.in.Sag > 0 {
		return b.sagLabel()
	}
	return "half way, " + mm(b.curve.Travel()/2) + " mm"
}

func (p page) sweep(b *bench, s *sweep) {
	p.title("GEARS", s.Note)
	p.heading("AT " + strings.ToUpper(strings.TrimSuffix(b.markedLabel(), " mm")) + " mm, AND AT FULL TRAVEL, " + mm(s.Travel) + " mm")
	t := table{[]int{6, 5, 7, 8, 13, 8, 10, 8, 8, 7}, p}
	t.row("ring", "spr.", "ratio", "metres", "anti-squat %", "", "kickback", "deg", "chain", "mm")
	t.row("", "", "", "a turn", "here", "full", "held", "rolling", "here", "full")
	last := 0
	for _, g := range s.Gears {
		if last != 0 && g.Chainring != last {
			p.line("")
		}
		last = g.Chainring
		t.row(strconv.Itoa(g.Chainring), strconv.Itoa(g.Sprocket), fixed(g.Ratio, 2), fixed(float64(g.Development), 2),
			fixed(100*g.At.AntiSquat, 1), fixed(100*g.Full.AntiSquat, 1), fixed(g.Full.KickbackWheelFixed.Degrees(), 1), fixed(g.Full.KickbackWheelRolling.Degrees(), 1),
			mm(g.At.ChainGrowth), mm(g.Full.ChainGrowth))
	}
	p.heading("HOW TO READ IT")
	least, most := s.Gears[0], s.Gears[0]
	for _, g := range s.Gears {
		if g.At.AntiSquat < least.At.AntiSquat {
			least = g
		}
		if g.At.AntiSquat > most.At.AntiSquat {
			most = g
		}
	}
	say := func(text string) { p.paragraph("  * ", text) }
	say(fmt.Sprintf("At %s anti-squat goes from %s with %d × %d teeth to %s with %d × %d.", b.markedLabel(),
		percent(least.At.AntiSquat), least.Chainring, least.Sprocket, percent(most.At.AntiSquat), most.Chainring, most.Sprocket))
	say("Kickback is that from full extension to full travel; held where the wheel does not turn against the frame, rolling where the tyre rolls as the axle moves. Metres a turn are what the bike rolls for one turn of the cranks. Chain growth is in mm.")
	if s.assumed {
		say("No sprockets were said: these are every fifth number of teeth. Say -sprockets, or gears in the job.")
	}
}

// gearPictures are anti-squat and kickback over the sprockets, a line for each chainring, and
// anti-squat over the travel.
func (b *bench) gearPictures(g gears, s *sweep) []named {
	line := func(ring int, value func(gear) float64) picture.Series {
		l := picture.Series{Name: fmt.Sprintf("%d teeth", ring)}
		for _, g := range s.Gears {
			if g.Chainring == ring {
				l.X, l.Y = append(l.X, float64(g.Sprocket)), append(l.Y, value(g))
			}
		}
		return l
	}
	var list []named
	if len(g.Sprockets) > 1 {
		squat := picture.Panel{Y: picture.Axis{Label: "anti-squat", Unit: "%"}}
		kick := picture.Panel{Y: picture.Axis{Label: "kickback, rolling", Unit: "°", Zero: true}}
		for _, ring := range g.Chainrings {
			squat.Series = append(squat.Series, line(ring, func(g gear) float64 { return 100 * g.At.AntiSquat }))
			kick.Series = append(kick.Series, line(ring, func(g gear) float64 { return g.Full.KickbackWheelRolling.Degrees() }))
		}
		list = append(list, named{name: "gears", Picture: picture.Chart{
			Title: "Anti-squat at " + b.markedLabel() + ", kickback at full travel", Note: b.in.Note,
			X: picture.Axis{Label: "teeth of the sprocket"}, Panels: []picture.Panel{squat, kick},
		}})
	}
	ring := g.Chainrings[len(g.Chainrings)/2]
	panel := picture.Panel{Y: picture.Axis{Label: "anti-squat", Unit: "%"}}
	n := min(len(g.Sprockets), picture.MaxLines-1)
	for i := range n {
		sprocket := g.Sprockets[(len(g.Sprockets)-1)*i/max(n-1, 1)]
		d := s.drives[[2]int{ring, sprocket}]
		panel.Series = append(panel.Series, series(fmt.Sprintf("sprocket of %d", sprocket), b.rows(fine), func(r row) float64 { return 100 * d.At(r.Stroke).AntiSquat }))
	}
	return append(list, named{name: "gears-anti-squat", Picture: b.chart(fmt.Sprintf("Anti-squat with a chainring of %d teeth", ring), panel)})
}
