package linkage_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func TestReadCSV(t *testing.T) {
	want := linkage.Table{
		Stroke: []units.Length{0, mm(5), mm(10)}, Travel: []units.Length{0, mm(13.1), mm(25.75)}, Method: linkage.Smooth,
	}
	for what, text := range map[string]string{
		"commas":             "stroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75\n",
		"no last line break": "stroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75",
		"DOS, in brackets":   "Stroke [mm],Travel [cm]\r\n0,0\r\n5,1.31\r\n10,2.575\r\n",
		"semicolons":         "stroke (mm);travel (mm)\n0;0\n5;13,1\n10;25,75\n",
		"tabs":               "stroke (mm)\ttravel (mm)\n0\t0\n5\t13.1\n10\t25,75\n",
		"other columns":      "n,travel (mm),leverage,stroke (m)\n1,0,,0\n2,13.1,2.6,0.005\n3,25.75,x,0.01\n",
		"quotes and spaces":  "\"stroke (mm)\", travel (mm)\n\"0\", 0\n5, 13.1\n10, 25.75\n",
		"a byte order mark":  "\ufeffstroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75\n",
	} {
		got, err := linkage.ReadCSV(strings.NewReader(text), linkage.Smooth)
		if err != nil {
			t.Errorf("%s: %v", what, err)
		} else if diff := cmp.Diff(want, got, unitstest.Approx(1e-15)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", what, diff)
		}
	}
}

func TestReadCSVRefuses(t *testing.T) {
	const head = "stroke (mm),travel (mm)\n"
	for _, test := range []struct {
		what, text string
		want       []string
		says       string
	}{
		{"nothing", "", []string{""}, "a header line"},
		{"no titles", "0,0\n1,2\n", []string{"stroke", "travel"}, "a column titled stroke (mm)"},
		{"no units", "stroke,travel\n0,0\n", []string{"stroke", "travel"}, "with a unit of length"},
		{"units of another kind", "stroke (mm),travel (N)\n", []string{"travel"}, "with a unit of length"},
		{"half a bracket", "stroke (mm),travel (mm\n", []string{"travel"}, "a column titled travel"},
		{"the same column twice", "stroke (mm),travel (mm),stroke (in)\n", []string{"stroke"}, "one column of this name"},
		{"words and holes", head + "0,0\nfive,13\n10,\n", []string{"stroke[1]", "travel[2]"}, "a number, in line 3"},
		{"a unit in a cell", head + "0,0\n5 mm,13\n", []string{"stroke[1]"}, "line 3"},
		{"a decimal comma among commas", head + "0,0\n5,13,1\n", []string{""}, "line 3"},
		{"a short line", head + "0,0\n5\n", []string{""}, "as many cells"},
		{"not a number", head + "0,0\nNaN,13\n", []string{"stroke[1]"}, ""},
		{"an open quote", head + "0,\"0\n5,13\n", []string{""}, "quotes closed"},
		{"too many lines", head + strings.Repeat("1,2\n", 1001), []string{""}, "at most 1000 lines"},
		{"too many bytes", head + strings.Repeat(" ", 1<<20), []string{""}, "at most 1048576 bytes"},
		{"many faults", head + strings.Repeat("x,y\n", 500), nil, ""},
	} {
		table, err := linkage.ReadCSV(strings.NewReader(test.text), linkage.Monotone)
		if err == nil || table.Stroke != nil {
			t.Errorf("%s: accepted: %v", test.what, table)
			continue
		}
		if test.want == nil {
			if n := len(badFields(err)); n < 10 || n > 12 {
				t.Errorf("%s: %d faults named", test.what, n)
			}
			continue
		}
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
		if !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %q doesn't say %q", test.what, err, test.says)
		}
	}
	if _, err := linkage.ReadCSV(brokenPipe{}, linkage.Monotone); err == nil || !strings.Contains(err.Error(), "out of paper") {
		t.Errorf("a reader that fails: %v", err)
	}
}

// brokenPipe fails to read and to write.
type brokenPipe struct{}

type outOfPaper struct{}

func (outOfPaper) Error() string { return "out of paper" }

func (brokenPipe) Read([]byte) (int, error)  { return 0, outOfPaper{} }
func (brokenPipe) Write([]byte) (int, error) { return 0, outOfPaper{} }

// A curve written and read again is the same one but for rounding at the
// points, and for all that can be measured between them.
func TestCSVRoundTrip(t *testing.T) {
	for _, name := range movable() {
		curve := compiled(t, solved(name))
		var text bytes.Buffer
		if err := linkage.WriteCSV(&text, curve, 101); err != nil {
			t.Fatal(err)
		}
		table, err := linkage.ReadCSV(&text, linkage.Smooth)
		if err != nil {
			t.Fatal(name, err)
		}
		if diff := cmp.Diff(curve.Table(101, linkage.Smooth), table, unitstest.Approx(4e-16)); diff != "" {
			t.Errorf("%s: not the same table: %s", name, diff)
		}
		again, err := linkage.NewTable(table)
		if err != nil {
			t.Fatal(name, err)
		}
		for i := range 300 {
			s := curve.Stroke() * units.Length(i) / 299
			unitstest.Near(t, name+" travel", again.TravelAt(s), curve.TravelAt(s), unitstest.Abs(mm(1e-4)))
			unitstest.Near(t, name+" ratio", again.LeverRatio(s), curve.LeverRatio(s), unitstest.Abs(1e-4))
		}
	}
	var few bytes.Buffer
	if err := linkage.WriteCSV(&few, compiled(t, solved("a1")), -3); err != nil || strings.Count(few.String(), "\n") != 3 {
		t.Errorf("%v: %q", err, few.String())
	}
	if err := linkage.WriteCSV(brokenPipe{}, compiled(t, solved("a1")), 5); err == nil || !strings.Contains(err.Error(), "out of paper") {
		t.Errorf("a writer that fails: %v", err)
	}
}

// Where the parts are, as a rule shows it, gives the strokes and travels that
// the mechanism has.
func TestPositions(t *testing.T) {
	k := solved("c1")
	var p linkage.Positions
	for i := range 13 {
		pose := k.Pose(k.Stroke() * units.Length(i) / 12)
		p.ShockLength = append(p.ShockLength, mm(217.589)-pose.Stroke)
		p.AxleHeight = append(p.AxleHeight, mm(371)+pose.Travel)
	}
	r, err := p.Readings()
	if err != nil {
		t.Fatal(err)
	}
	fit, err := linkage.FitReadings(r)
	if err != nil {
		t.Fatal(err)
	}
	// The bias of a polynomial of degree 4 on this linkage is 0.007 (the study
	// of noise); 0.01 leaves room for the points being others.
	for i := range 13 {
		s := k.Stroke() * units.Length(i) / 12
		unitstest.Near(t, "ratio", fit.Curve().LeverRatio(s), k.Pose(s).LeverRatio, unitstest.Abs(0.01))
	}
	for _, test := range []struct {
		p    linkage.Positions
		want []string
	}{
		{linkage.Positions{}, []string{"axle_height", "shock_length"}},
		{linkage.Positions{ShockLength: []units.Length{1, 0}, AxleHeight: []units.Length{0, units.Length(math.NaN())}}, []string{"axle_height[1]", "shock_length[1]"}},
		{linkage.Positions{ShockLength: []units.Length{0.3, 0.2}, AxleHeight: []units.Length{0, 1, 2}}, []string{"axle_height"}},
	} {
		_, err := test.p.Readings()
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("(-want +got)\n%s%v", diff, err)
		}
	}
}
