package answer

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"

	"example.com/wheelrate/sag/setup"
)

// demo reads a demonstration of the page.
func demo(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "demo", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

var demos = []string{"coil-shock", "air-both", "pivots"}

// value finds a row by its key.
func value(t *testing.T, list []Row, key string) Row {
	t.Helper()
	i := slices.IndexFunc(list, func(r Row) bool { return r.Key == key })
	if i < 0 {
		t.Fatalf("no row %s in %+v", key, list)
	}
	return list[i]
}

func TestLoads(t *testing.T) {
	a := Work(demo(t, "coil-shock"), Options{})
	// By hand: (78 + 16.2) kg · 9.80665 m/s² = 923.786 N. 59 % of it are
	// 545.03 N on the rear wheel, 41 % 378.75 N on the front one; the unsprung
	// 3.1 kg and 2.3 kg take 30.40 N and 22.56 N off. In pounds-force, over
	// 4.4482216 N: 122.53, 85.15, 115.69, 80.08.
	for key, want := range map[string][2]string{
		"rider": {"78.0 kg", "172.0 lb"}, "bike": {"16.2 kg", "35.7 lb"}, "share": {"59.0 %", ""},
		"rear_wheel": {"545 N", "122.5 lbf"}, "front_wheel": {"379 N", "85.1 lbf"},
		"rear_spring": {"515 N", "115.7 lbf"}, "front_spring": {"356 N", "80.1 lbf"},
	} {
		if r := value(t, a.Loads, key); r.Metric != want[0] || r.Customary != want[1] {
			t.Errorf("%s: %q, %q, want %q, %q", key, r.Metric, r.Customary, want[0], want[1])
		}
	}
}

// A bike whose answer is worked out by hand. 80 kg and 20 kg, half of it on
// either wheel, nothing unsprung: 490.3325 N a wheel. Both ends have a
// constant lever ratio of 2 over 100 mm of wheel travel, 50 mm of stroke, and
// should sag by 20 %: 20 mm at the wheel, 10 mm of stroke, where the spring
// must push with 2 · 490.3325 N = 980.665 N. Without preload that is a spring
// of 98.0665 N/mm, or 24.516625 N/mm at the wheel, and 2451.6625 N there at
// full travel. In customary units over 175.126835 N/m for 1 lbf/in: 560 lbf/in.
const byHand = `{"schema": "wheelrate/job/1",
	"masses": {"rider_mass": "80 kg", "bike_mass": "20 kg", "unsprung_front": "0 kg", "unsprung_rear": "0 kg", "rear_share": 0.5},
	"front": {"curve": {"constant": 2, "travel": "100 mm"}, "sag": 0.2, "coil": {"shelf": [{"rate": "98.0665 N/mm", "solid_travel": "60 mm"}]}},
	"rear":  {"curve": {"constant": 2, "travel": "100 mm"}, "sag": 0.2, "coil": {"shelf": [{"rate": "98.0665 N/mm", "solid_travel": "40 mm"}]}}}`

func TestByHand(t *testing.T) {
	a := Work([]byte(byHand), Options{Width: 400})
	if a.Faults != nil {
		t.Fatal(a.Faults)
	}
	for _, test := range []struct {
		list []Row
		key  string
		want Row
	}{
		{a.Front.Fit, "rate", Row{"rate", "Spring", false, "98.07 N/mm", "560 lbf/in", ""}},
		{a.Front.Fit, "preload", Row{"preload", "Preload", false, "0.0 mm", "0.00 in", ""}},
		{a.Front.Fit, "ideal_rate", Row{"ideal_rate", "Exactly on target", true, "98.07 N/mm", "560 lbf/in", "at the collar's least preload"}},
		{a.Front.Fit, "solid_reserve", Row{"solid_reserve", "Left before solid", false, "10.0 mm", "0.39 in", "at full stroke"}},
		{a.Front.Expect, "sag", Row{"sag", "Sag at the wheel", false, "20.0 mm", "0.79 in", "20.0 % of 100.0 mm"}},
		{a.Front.Expect, "shock_sag", Row{"shock_sag", "Sag at the shock", false, "10.0 mm", "0.39 in", "20.0 % of 50.0 mm"}},
		{a.Front.Expect, "wheel_rate", Row{"wheel_rate", "Wheel rate at sag", false, "24.52 N/mm", "140 lbf/in", ""}},
		// √(24516.625 · 9.80665/490.3325)/2π = √490.3325/2π = 3.5242 Hz.
		{a.Front.Expect, "frequency", Row{"frequency", "Bounce frequency", false, "3.52 Hz", "211 per min", "undamped"}},
		{a.Front.Full, "full_force", Row{"full_force", "Force at the wheel", false, "2452 N", "551.2 lbf", "5.0 × the load on the spring"}},
		// ½ · 24516.625 N/m · (0.1² − 0.02²) m² = 117.68 J, over 1.3558179 J for 1 ft·lbf.
		{a.Front.Full, "energy_left", Row{"energy_left", "Energy left from sag", false, "118 J", "87 ft·lbf", "undamped"}},
		{a.Rear.Fit, "solid_reserve", Row{"solid_reserve", "Left before solid", false, "−10.0 mm", "−0.39 in", "at full stroke"}},
	} {
		if got := value(t, test.list, test.key); got != test.want {
			t.Errorf("%+v, want %+v", got, test.want)
		}
	}
	// The front's curves over the whole travel, the rear's to where its spring
	// binds: 40 mm of stroke, 80 mm of travel.
	for name, test := range map[string]struct {
		end  *End
		last float64
	}{"front": {a.Front, 100}, "rear": {a.Rear, 80}} {
		c := test.end.Curves
		for i, w := range c.Travel {
			want := test.last * float64(i) / steps
			if !near(w, want, 1e-9) || !near(c.Stroke[i], want/2, 1e-9) || !near(c.LeverRatio[i], 2, 1e-12) ||
				!near(c.Force[i], 24.516625*want, 1e-9) || !near(c.Rate[i], 24.516625, 1e-9) {
				t.Fatalf("%s, point %d: %v %v %v %v %v", name, i, w, c.Stroke[i], c.LeverRatio[i], c.Force[i], c.Rate[i])
			}
		}
		if c.QuickForce != nil || c.QuickRate != nil {
			t.Errorf("%s: a coil has no other force for a quick stroke", name)
		}
	}
	if !strings.Contains(a.Rear.Drawn[0].Caption, "solid") || strings.Contains(a.Front.Drawn[0].Caption, "solid") {
		t.Error("the rear's curve ends where its spring is solid, the front's does not")
	}
	if want := "Front: spring 560 lbf/in (98.07 N/mm), preload 0.0 mm (0.00 in), sag 20.0 % = 10.0 mm (0.39 in) at the shock."; !strings.HasPrefix(a.Said, want) || !strings.Contains(a.Said, "warning") {
		t.Errorf("said %q, want %q and the count of warnings", a.Said, want)
	}
	if got := a.Front.Drawn[2]; got.SVG != "" || got.Caption != "2.000 over the whole travel." {
		t.Errorf("the constant lever ratio: %+v", got)
	}
}

// cells returns a row of a table by its first cell.
func cells(t *testing.T, table *Table, first string) []string {
	t.Helper()
	if table == nil {
		t.Fatalf("no table with %s", first)
	}
	for _, r := range table.Rows {
		if len(r) != len(table.Head) {
			t.Errorf("%v under %v", r, table.Head)
		}
		if r[0] == first {
			return r
		}
	}
	t.Fatalf("no %s in %+v", first, table.Rows)
	return nil
}

// Each stance stands with front and rear side by side, and so does how sure the
// answers are, with sentences beside it; what else could be fitted stands with its
// end. By hand for the bike above: at 60 % on the rear 0.4 and 0.6 times 980.665 N on
// 24.516625 N/mm are 16 mm and 24 mm.
func TestTablesOfBothEnds(t *testing.T) {
	job := strings.Replace(byHand, `"front":`, `"stances": [{"name": "climbing", "rear_share": 0.6}], "uncertainty": {"rider_mass": "2 kg"}, "front":`, 1)
	a := Work([]byte(job), Options{})
	if a.Faults != nil {
		t.Fatal(a.Faults)
	}
	for first, want := range map[string][]string{
		"As set up, each end by itself": {"20.0 mm (0.79 in), 20.0 % of 100.0 mm", "20.0 mm (0.79 in), 20.0 % of 100.0 mm"},
		"Climbing":                      {"16.0 mm (0.63 in), 16.0 % sag, 60.0 % on the rear", "24.0 mm (0.94 in), 24.0 % sag"},
	} {
		if got := cells(t, a.Standing, first)[1:]; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", first, got, want)
		}
	}
	// 2 kg of 100 kg are 2 % of the rate.
	if got := cells(t, a.Sure, "Exact spring")[1]; got != "98.07 ± 1.96 N/mm (560 ± 11 lbf/in), the rider's mass" {
		t.Errorf("%q", got)
	}
	for _, table := range []*Table{a.Standing, a.Sure} {
		if table.Caption == "" || slices.Contains(table.Head, "") {
			t.Errorf("%q under %q: a column without a name", table.Head, table.Caption)
		}
	}
	if len(a.Says) < 2 || !strings.HasPrefix(a.Says[0], "One standard deviation") || !strings.HasPrefix(a.Says[len(a.Says)-1], "Taken as exactly known") {
		t.Errorf("%q", a.Says)
	}
	if len(a.Rear.Others) != 2 || !strings.Contains(strings.Join(a.Rear.Others, " "), "Nothing on the shelf is") {
		t.Errorf("%q", a.Rear.Others)
	}
	if plain := Work([]byte(byHand), Options{}); plain.Sure != nil || plain.Says != nil {
		t.Errorf("%+v, %q", plain.Sure, plain.Says)
	}
	// Both ends together, and a minus as wide as a digit.
	b := Work(demo(t, "coil-shock"), Options{})
	if got := cells(t, b.Standing, "Settled together")[1]; !strings.Contains(got, " sag, −0.") {
		t.Errorf("%q", got)
	}
	if r := value(t, b.Both, "pitch"); r.Part || !strings.HasSuffix(r.Metric, "°") {
		t.Errorf("%+v", r)
	}
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance*max(1, math.Abs(b)) }

// interpolate is a column at a wheel travel.
func interpolate(along, column []float64, w float64) float64 {
	i := max(1, sort.SearchFloat64s(along, w))
	f := (w - along[i-1]) / (along[i] - along[i-1])
	return column[i-1] + f*(column[i]-column[i-1])
}

// What is drawn is what the sheet says: the wheel rests where its force is the
// load, with the rates, the lever ratio and the force at full travel of the
// sheet, which works them out on its own.
func TestCurvesAgreeWithTheSheet(t *testing.T) {
	for _, name := range demos {
		a := Work(demo(t, name), Options{Width: 400})
		if a.Faults != nil {
			t.Fatalf("%s: %v", name, a.Faults)
		}
		for which, e := range map[string]*setup.EndSheet{"front": a.Sheet.Front, "rear": a.Sheet.Rear} {
			end := a.Front
			if which == "rear" {
				end = a.Rear
			}
			c, rest := end.Curves, e.Rest.Travel.Millimetres()
			at := func(column []float64) float64 { return interpolate(c.Travel, column, rest) }
			check := func(what string, got, want, tolerance float64) {
				t.Helper()
				if !near(got, want, tolerance) {
					t.Errorf("%s %s: %s %v, the sheet has %v", name, which, what, got, want)
				}
			}
			// Between points 1.5 mm apart a chord is off by an eighth of the
			// curvature times 1.5²: well below these.
			check("force at rest", at(c.Force), e.Load.Newtons(), 1e-3)
			check("rate at rest", at(c.Rate), e.Rest.WheelRate.NewtonsPerMillimetre(), 5e-3)
			check("stroke at rest", at(c.Stroke), e.Rest.Stroke.Millimetres(), 1e-4)
			check("lever ratio at rest", at(c.LeverRatio), e.Rest.LeverRatio, 1e-4)
			check("first lever ratio", c.LeverRatio[0], e.LeverRatio.Start, 1e-9)
			check("last lever ratio", c.LeverRatio[steps], e.LeverRatio.End, 1e-9)
			check("full travel", c.Travel[steps], e.Travel.Millimetres(), 1e-9)
			check("full stroke", c.Stroke[steps], e.Stroke.Millimetres(), 1e-9)
			last := c.Force
			if c.QuickForce != nil {
				last = c.QuickForce
			}
			check("full force", last[steps], e.Reserve.FullForce.Newtons(), 1e-9)
			if (e.Air != nil) != (c.QuickForce != nil) || len(c.QuickRate) != len(c.QuickForce) {
				t.Errorf("%s %s: a quick stroke belongs to an air spring", name, which)
			}
			// The rate is the slope of the force, to the chords' accuracy. It
			// jumps where a port closes, early in the travel, and at the points
			// of a table that is taken as monotone.
			for i := 12; i < steps && name != "air-both"; i++ {
				slope := (c.Force[i+1] - c.Force[i-1]) / (c.Travel[i+1] - c.Travel[i-1])
				if !near(slope, c.Rate[i], 5e-3) {
					t.Errorf("%s %s at %v mm: the force rises by %v N/mm, the rate is %v", name, which, c.Travel[i], slope, c.Rate[i])
				}
			}
			for column, list := range map[string][]float64{"force": c.Force, "travel": c.Travel, "stroke": c.Stroke} {
				if !slices.IsSortedFunc(list, func(a, b float64) int {
					if a < b {
						return -1
					}
					return 1
				}) {
					t.Errorf("%s %s: the %s does not rise", name, which, column)
				}
			}
		}
	}
}

func TestPictures(t *testing.T) {
	for _, name := range demos {
		for _, o := range []Options{{Width: 1}, {Width: 300}, {Width: 5000, Customary: true}, {Width: -1}} {
			a := Work(demo(t, name), o)
			for _, end := range []*End{a.Front, a.Rear} {
				for _, p := range end.Drawn {
					if p.Title == "" || p.Caption == "" {
						t.Errorf("%s: a picture without words: %+v", name, p)
					}
					if p.SVG == "" {
						continue
					}
					checkSVG(t, p.SVG, o)
					unit := "mm"
					if o.Customary {
						unit = "in"
					}
					if !strings.Contains(p.SVG, ">Wheel travel, "+unit+"<") {
						t.Errorf("%s: the axis lacks its unit %s", name, unit)
					}
				}
				if len(end.Points.Rows) != 11 {
					t.Errorf("%d points listed", len(end.Points.Rows))
				}
				for _, r := range end.Points.Rows {
					if len(r) != len(end.Points.Head) {
						t.Errorf("%v under %v", r, end.Points.Head)
					}
				}
			}
		}
	}
}

// Without a width there are no curves, and all else is the same.
func TestCurvesAreLeftOut(t *testing.T) {
	for _, name := range demos {
		with, without := Work(demo(t, name), Options{Width: 400}), Work(demo(t, name), Options{})
		for _, e := range []*End{with.Front, with.Rear} {
			if e.Drawn == nil || e.Points == nil {
				t.Fatalf("%s: no curves", name)
			}
			e.Curves, e.Points, e.Drawn = Curves{}, nil, nil
		}
		with.Sheet, without.Sheet = nil, nil
		if !reflect.DeepEqual(with, without) {
			t.Errorf("%s: with curves\n%+v\nwithout\n%+v", name, with, without)
		}
	}
}

// checkSVG holds a picture to being well-formed, and to lying within its box.
func checkSVG(t *testing.T, svg string, o Options) {
	t.Helper()
	width := 0.0
	for d := xml.NewDecoder(strings.NewReader(svg)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v in %s", err, svg)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") || a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
				t.Errorf("%s=%q in a picture", a.Name.Local, a.Value)
			}
			if e.Name.Local == "svg" && a.Name.Local == "width" {
				fmt.Sscan(a.Value, &width)
			}
			if e.Name.Local == "path" && a.Name.Local == "d" && strings.Contains(a.Value, "L") {
				for _, pair := range strings.FieldsFunc(a.Value, func(r rune) bool { return r == 'M' || r == 'L' }) {
					var x, y float64
					if n, _ := fmt.Sscan(pair, &x, &y); n != 2 || x < roomLeft-0.1 || x > width-roomRight+0.1 || y < roomTop-0.1 || y > 320-roomBottom+0.1 {
						t.Fatalf("a point at %q, outside the axes of a picture %v wide", pair, width)
					}
				}
			}
		}
	}
	if want := float64(max(minWidth, min(o.Width, maxWidth))); width != want {
		t.Errorf("%v wide, want %v", width, want)
	}
}

func TestFaults(t *testing.T) {
	good := string(demo(t, "coil-shock"))
	for _, test := range []struct {
		name, job  string
		unreadable bool
		want       [][3]string // field, value, and a part of what is wanted
	}{
		{"units", strings.NewReplacer(`"78 kg"`, `"78"`, `"36.5 mm"`, `"36.5 furlongs"`).Replace(good), true,
			[][3]string{{"masses.rider_mass", "78", "78 kg or 78 lb?"}, {"front.air.bore", "36.5 furlongs", "mm, cm, m, in, ft"}}},
		{"ranges", strings.NewReplacer(`"78 kg"`, `"-78 kg"`, `"sag": 0.3`, `"sag": 30`).Replace(good), false,
			[][3]string{{"masses.rider_mass", "-78 kg", "more than 0"}, {"rear.sag", "30", "more than 0 and less than 1"}}},
		{"both", strings.NewReplacer(`"78 kg"`, `"78"`, `"sag": 0.3`, `"sag": 30`, `"exponent": 1.32`, `"exponent": 3`).Replace(good), true,
			[][3]string{{"masses.rider_mass", "78", "78 kg or 78 lb?"}, {"front.air.exponent", "3", "from 1 to 2"}, {"rear.sag", "30", "less than 1"}}},
		{"ambient alone", strings.Replace(good, `"99.2 kPa(a)"`, `"99.2 kPa"`, 1), true, [][3]string{{"ambient", "99.2 kPa", "kPa(a)"}}},
		{"no contradiction with what can't be read", strings.NewReplacer(`"port_travel": "6 mm"`, `"port_travel": "200 mm", "travel": "300"`).Replace(good), true,
			[][3]string{{"front.air.travel", "300", "300 mm or 300 in?"}}},
		{"a column", strings.Replace(good, `"34.02 mm"`, `"34.02"`, 1), true, [][3]string{{"rear.curve.table.travel[2]", "34.02", "34.02 mm or 34.02 in?"}}},
		{"missing", strings.Replace(good, `"rider_mass": "78 kg",`, "", 1), false, [][3]string{{"masses.rider_mass", "0 kg", "more than 0"}}},
		{"a point of a table", strings.Replace(good, `"34.02 mm"`, `"4 mm"`, 1), false, [][3]string{{"rear.curve.table.travel[2]", "4 mm", "more than"}}},
		{"as few digits as needed", strings.Replace(good, `"port_travel": "6 mm"`, `"port_travel": "77.77 in"`, 1), false, [][3]string{{"front.air.port_travel", "1975 mm", "less than travel 160 mm"}}},
		{"no JSON", "what?", true, [][3]string{{"", "", "object"}}},
		{"nothing", "", true, [][3]string{{"", "", ""}}},
		{"unknown", strings.Replace(good, `"ambient"`, `"ambiant"`, 1), true, [][3]string{{"ambiant", "", "did you mean ambient?"}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			a := Work([]byte(test.job), Options{})
			if a.Sheet != nil || a.Front != nil || a.Unreadable != test.unreadable || len(a.Faults) != len(test.want) {
				t.Fatalf("sheet %v, unreadable %v, faults %+v", a.Sheet != nil, a.Unreadable, a.Faults)
			}
			for i, f := range a.Faults {
				w := test.want[i]
				var shown struct {
					Value any
					Given string
					Want  string
				}
				if text, err := json.Marshal(f); err != nil || json.Unmarshal(text, &shown) != nil {
					t.Fatalf("%s, %v", text, err)
				}
				value, want := shown.Given, shown.Want // as the page shows it
				if value == "" && shown.Value != nil {
					value = fmt.Sprint(shown.Value)
				}
				if f.Field != w[0] || value != w[1] || !strings.Contains(want, w[2]) || want == "" {
					t.Errorf("fault %v, want %q", f, w)
				}
			}
		})
	}
}

// Neither what is wrong nor what is right may panic or give JSON no page reads.
func FuzzWork(f *testing.F) {
	for _, name := range demos {
		text, err := os.ReadFile(filepath.Join("..", "demo", name+".json"))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text), 360, false)
	}
	f.Add(byHand, 0, true)
	f.Add("{}", 0, true)
	f.Fuzz(func(t *testing.T, job string, width int, customary bool) {
		a := Work([]byte(job), Options{Width: width, Customary: customary})
		if (a.Sheet == nil) != (len(a.Faults) > 0) {
			t.Fatalf("a sheet and faults, or neither: %+v", a)
		}
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		if a.Sheet != nil && (strings.Contains(string(text), "NaN") || strings.Contains(string(text), "Inf ")) {
			t.Errorf("not a number in %s", text)
		}
	})
}

// Budget: at most 3 ms, so that the page follows typing also where a browser on
// a phone takes several times as long.
func BenchmarkWork(b *testing.B) {
	text, err := os.ReadFile(filepath.Join("..", "demo", "coil-shock.json"))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if a := Work(text, Options{Width: 400}); a.Faults != nil {
			b.Fatal(a.Faults)
		}
	}
}

// Travels rounded to whole millimetres make waves in the rate and the lever ratio, which are told to be the
// rounding's; in the force they don't show, and neither a finer table nor a mechanism has any.
func TestWavesOfRoundingAreTold(t *testing.T) {
	fine := string(demo(t, "coil-shock"))
	coarse := regexp.MustCompile(`"travel": \["0 mm".*\]`).ReplaceAllString(fine,
		`"travel": ["0 mm", "17 mm", "34 mm", "50 mm", "66 mm", "82 mm", "97 mm", "112 mm", "126 mm", "140 mm", "153 mm"]`)
	for text, want := range map[string]bool{coarse: true, fine: false, string(demo(t, "pivots")): false} {
		a := Work([]byte(text), Options{Width: 400})
		for i, p := range append(a.Rear.Drawn, a.Front.Drawn...) {
			if got := strings.Contains(p.Caption, "rounding to 1 mm"); got != (want && (i == 1 || i == 2)) {
				t.Errorf("picture %d of %.120s: %s", i, text, p.Caption)
			}
		}
	}
}
