package csvcurve_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/examples/internal/csvcurve"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// lengths are lengths in millimetres.
func lengths(v ...float64) []units.Length {
	list := make([]units.Length, len(v))
	for i := range v {
		list[i] = units.Length(v[i]) * units.Millimetre
	}
	return list
}

// badFields are the fields that an error names, in order.
func badFields(err error) []string {
	var fields []string
	for _, f := range units.Fields(err) {
		fields = append(fields, f.Field)
	}
	slices.Sort(fields)
	return fields
}

func TestReadTakesCommonForms(t *testing.T) {
	want := linkage.Table{
		Stroke: lengths(0, 5, 10), Travel: lengths(0, 13.1, 25.75), Method: linkage.Smooth,
	}
	const plain = "stroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75"
	for what, text := range map[string]string{
		"commas":             plain + "\n",
		"no last line break": plain,
		"DOS, in brackets":   "Stroke [mm],Travel [cm]\r\n0,0\r\n5,1.31\r\n10,2.575\r\n",
		"semicolons":         "stroke (mm);travel (mm)\n0;0\n5;13,1\n10;25,75\n",
		"tabs":               "stroke (mm)\ttravel (mm)\n0\t0\n5\t13.1\n10\t25,75\n",
		"other columns":      "n,travel (mm),leverage,stroke (m)\n1,0,,0\n2,13.1,2.6,0.005\n3,25.75,x,0.01\n",
		"quotes and spaces":  "\"stroke (mm)\", travel (mm)\n\"0\", 0\n5, 13.1\n10, 25.75\n",
		"spaces in quotes":   "\"stroke (mm) \", \" travel (mm)\"\n0,0\n5,13.1\n10,25.75\n",
		"spaces elsewhere":   "stroke(mm) ,  travel ( mm ) \n0, \"0\"\n5, \"13.1\"\n10,25.75\n",
		"a byte order mark":  "\ufeffstroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75\n",
		"words in titles":    "Shock stroke (mm), Rear wheel travel in mm ,Anti-squat (%)\n0,0,90\n5,13.1,90\n10,25.75,80\n",
		"shock travel":       "Shock travel (mm),Vertical wheel travel (cm)\n0,0\n5,1.31\n10,2.575\n",
		"travel in per cent": "stroke_mm,Wheel travel,travel (%),travel (mm)\n0,0,0,0\n5,1,1,13.1\n10,1,1,25.75\n",
		"a separator line":   "sep=;\nstroke (mm);travel (mm)\n0;0\n5;13,1\n10;25,75\n",
		"a quoted separator": "SEP=,\nstroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75\n",
		"comments and blank": "# made by hand\nMy bike; of 2026\n\n  \nstroke (mm),travel (mm)\n\n0,0\n# a pause\n5,13.1\n,\n10,25.75,\n,,\n",
		"a commented header": "# 2026\n# stroke (mm),travel (mm)\n0,0\n5,13.1\n10,25.75\n",
		"quoted commas":      "\"stroke (mm)\",\"travel (mm)\"\n\"0,0\",\"0,0\"\n\"5,000\",\"13,1\"\n\"10,0\",\"25,75\"\n",
		"UTF-16":             "\xff\xfe" + sixteen(plain, true),
		"UTF-16, big":        "\xfe\xff" + sixteen(plain, false),
		"all columns":        "lever ratio,stroke (mm),travel (mm),lever ratio slope (1/m)\nx,0,0,y\nx,5,13.1,y\nx,10,25.75,y\n",
		"1 MiB":              plain + strings.Repeat(" ", 1<<20-len(plain)),
	} {
		got, err := csvcurve.Read(strings.NewReader(text), linkage.Smooth)
		if err != nil {
			t.Errorf("%s: %v", what, err)
		} else if diff := cmp.Diff(want, got, unitstest.Approx(1e-15)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", what, diff)
		}
	}
}

// sixteen is a text of ASCII as UTF-16, the small byte first or last.
func sixteen(text string, small bool) string {
	var b strings.Builder
	for _, r := range []byte(text) {
		if small {
			b.Write([]byte{r, 0})
		} else {
			b.Write([]byte{0, r})
		}
	}
	return b.String()
}

func TestReadTakesRatios(t *testing.T) {
	ratios := []float64{2.9, 2.75, 2.6}
	for text, want := range map[string]linkage.Table{
		"Wheel travel (mm);Leverage ratio (-)\n0;2,9\n5;2,75\n10;2,6\n":                         {Travel: lengths(0, 5, 10), LeverRatio: ratios, Method: linkage.Monotone},
		"leverage,shock compression [mm],mean ratio\n2.9,0,1\n2.75,5,1\n2.6,10,1\n":             {Stroke: lengths(0, 5, 10), LeverRatio: ratios, Method: linkage.Monotone},
		"Lever_ratio\tShock travel (mm)\tlever ratio slope\n2.9\t0\t1\n2.75\t5\t1\n2.6\t10\t\n": {Stroke: lengths(0, 5, 10), LeverRatio: ratios, Method: linkage.Monotone},
	} {
		got, err := csvcurve.Read(strings.NewReader(text), linkage.Monotone)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if diff := cmp.Diff(want, got, unitstest.Approx(1e-15)); diff != "" {
			t.Errorf("%q: (-want +got)\n%s", text, diff)
		}
	}
}

// A picture with x from 0 mm at pixel 100 to 160 mm at 900, and y from a ratio of 2 at pixel 500 to 3 at
// 100, upwards: 5 pixels a millimetre, 400 a ratio of 1. Its points are readings, whatever is not said.
func TestPixelsBecomeValues(t *testing.T) {
	want := linkage.Table{Travel: lengths(0.4, 40, 160), LeverRatio: []float64{2.95, 2.75, 2.25}, Method: linkage.Measured}
	got, err := csvcurve.Read(strings.NewReader("x (px),y (px),travel (mm),lever ratio\n100,500,0,2\n102,120,,\n300,200,,\n900,100,160,3\n900,400,,\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, unitstest.Approx(1e-14)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	got, err = csvcurve.Read(strings.NewReader("y (px),lever ratio,x (px),travel (mm)\n0,1,0,0\n10,2,100,50\n5,,50,\n"), linkage.Smooth)
	if err != nil || got.Method != linkage.Smooth {
		t.Fatalf("%v, %v", got, err)
	}
	if diff := cmp.Diff(linkage.Table{Travel: lengths(25), LeverRatio: []float64{1.5}, Method: linkage.Smooth}, got, unitstest.Approx(1e-15)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestReadRefuses(t *testing.T) {
	const head, semicolons = "stroke (mm),travel (mm)\n", "stroke (mm);travel (mm)\n"
	const pixels = "x (px),y (px),travel (mm),lever ratio\n"
	for _, test := range []struct {
		what, text string
		want       []string
		class      error
		says       string
	}{
		{"nothing", "", []string{""}, units.ErrMissing, "a header line"},
		{"no titles", "0,0\n1,2\n", []string{"stroke", "travel"}, units.ErrMissing, "a column titled stroke (mm)"},
		{"no units", "stroke,travel\n0,0\n", []string{"stroke", "travel"}, units.ErrUnit, "with a unit of length"},
		{"units of another kind", "stroke (mm),travel (N)\n", []string{"travel"}, units.ErrUnit, "with a unit of length"},
		{"a ratio alone", "lever ratio,slope\n2.9,0\n", []string{"stroke", "travel"}, units.ErrMissing, "or one titled lever ratio in its place"},
		{"other lengths", "shock length (mm),axle travel slope (mm)\n200,0\n", []string{"stroke", "travel"}, units.ErrMissing, "a column titled stroke"},
		{"the same column twice", "stroke (mm),travel (mm),stroke (in)\n", []string{"stroke"}, units.ErrConflict, "one column of this name"},
		{"words and holes", head + "0,0\nfive,13\n10,\n", []string{"stroke[1]", "travel[2]"}, units.ErrSyntax, "a number, in line 3"},
		{"a unit in a cell", head + "0,0\n5 mm,13\n", []string{"stroke[1]"}, units.ErrSyntax, "line 3"},
		// A comma is a decimal one only where something else separates cells, and only where there
		// is no point and no other comma.
		{"a decimal comma among commas", head + "0,0\n5,13,1\n", []string{""}, units.ErrSyntax, "line 3"},
		{"thousands in quotes", head + "0,0.0\n5,\"1,234\"\n", []string{"travel[1]"}, units.ErrSyntax, "no separator of thousands, in line 3"},
		{"a fault below lines that are skipped", "sep=;\n# by hand\n\nMy bike\n" + semicolons + "0;0\n\n5;x\n", []string{"travel[1]"}, units.ErrSyntax, "a number, in line 8"},
		{"a short line below others", "My bike\n" + head + "0,0\n5\n", []string{""}, units.ErrSyntax, "as many cells"},
		{"one reference point", pixels + "100,500,0,2\n110,480,,\n", []string{""}, units.ErrConflict, "two reference points"},
		{"three reference points", pixels + "100,500,0,2\n110,480,10,2.1\n120,470,20,2.2\n", []string{""}, units.ErrConflict, "two reference points"},
		{"half a reference point", pixels + "100,500,0,2\n110,480,160,3\n120,470,20,\n", []string{"travel[2]"}, units.ErrConflict, "in both columns"},
		{"reference points on a level", pixels + "100,500,0,2\n110,500,160,3\n120,470,,\n", []string{"y"}, units.ErrConflict, "apart"},
		{"reference points of one value", pixels + "100,500,10,2\n110,480,10,3\n120,470,,\n", []string{"x"}, units.ErrConflict, "apart"},
		{"no pixel", pixels + "100,500,0,2\n110,480,160,3\n120,,,\n", []string{"y[2]"}, units.ErrSyntax, "line 4"},
		{"a comma and a point", semicolons + "0;1,234.5\n", []string{"travel[0]"}, units.ErrSyntax, "a number, in line 2"},
		{"two commas", semicolons + "0;1,234,5\n", []string{"travel[0]"}, units.ErrSyntax, "a number, in line 2"},
		{"a short line", head + "0,0\n5\n", []string{""}, units.ErrSyntax, "as many cells"},
		{"not a number", head + "0,0\nNaN,13\n", []string{"stroke[1]"}, units.ErrSyntax, ""},
		{"an open quote", head + "0,\"0\n5,13\n", []string{""}, units.ErrSyntax, "quotes closed"},
		{"1001 lines", head + strings.Repeat("1,2\n", 1001), []string{""}, units.ErrRange, "at most 1000 lines"},
		{"a byte more than 1 MiB", head + strings.Repeat(" ", 1<<20+1-len(head)), []string{""}, units.ErrRange, "at most 1048576 bytes"},
		// The line named is that of the cell itself, not that in which a cell before it begins.
		{"a long cell before", "note,stroke (mm),travel (mm)\n\"a\nb\",0,x\n", []string{"travel[0]"}, units.ErrSyntax, "line 3"},
		{"a long cell after", "stroke (mm),travel (mm),note\n0,x,\"a\nb\"\n", []string{"travel[0]"}, units.ErrSyntax, "line 2"},
		{"a long cell between", "stroke (mm),note,travel (mm)\nx,\"a\nb\",0\n", []string{"stroke[0]"}, units.ErrSyntax, "line 2"},
	} {
		table, err := csvcurve.Read(strings.NewReader(test.text), linkage.Monotone)
		if err == nil || table.Stroke != nil {
			t.Errorf("%s: accepted: %v", test.what, table)
			continue
		}
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
		if !errors.Is(err, test.class) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %q is not %v, or doesn't say %q", test.what, err, test.class, test.says)
		}
	}
	if got, err := csvcurve.Read(strings.NewReader(head+strings.Repeat("1,2\n", 1000)), ""); err != nil || len(got.Stroke) != 1000 {
		t.Errorf("1000 lines: %v", err)
	}
	for _, lines := range []string{"0,y\n", "x,y\n"} {
		_, err := csvcurve.Read(strings.NewReader(head+strings.Repeat(lines, 30)), "")
		if n := len(badFields(err)); n != 10 {
			t.Errorf("%d faults named, want the first 10 bad cells", n)
		}
	}
	if _, err := csvcurve.Read(brokenPipe{}, linkage.Monotone); err == nil || !strings.Contains(err.Error(), "out of paper") {
		t.Errorf("a reader that fails: %v", err)
	}
}

// brokenPipe fails to read.
type brokenPipe struct{}

func (brokenPipe) Read([]byte) (int, error) { return 0, errors.New("out of paper") }

func ExampleRead() {
	table, err := csvcurve.Read(strings.NewReader("stroke (mm),travel (mm)\n0,0\n15,44\n30,83.5\n45,119.6\n60,153.2\n"), linkage.Smooth)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(table.Stroke), table.Stroke[4], table.Travel[4])
	_, err = csvcurve.Read(strings.NewReader("stroke (mm),travel\n0,0\n"), linkage.Smooth)
	fmt.Println(err)
	// Output:
	// 5 60 mm 153.2 mm
	// csvcurve: travel "travel": want a title with a unit of length, such as travel (mm)
}

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// A table is read, or refused in one short error, for a small multiple of its
// length in memory, and for a fixed amount where it is over the limit.
func TestHostileTablesAreReadOrRefused(t *testing.T) {
	const head = "stroke (mm),travel (mm)\n"
	fill := func(part string) string { return strings.Repeat(part, *hostile/len(part)) }
	docs := map[string]func() string{
		"lines":                func() string { return head + fill("0,0\n") },
		"rising lines":         func() string { return head + numbered("%d,%d\n") },
		"bad lines":            func() string { return head + fill("x,y\n") },
		"one line":             func() string { return head + fill("0,") },
		"empty lines":          func() string { return head + fill("\n") },
		"a cell":               func() string { return head + "0," + fill("1") + "\n" },
		"a bad cell":           func() string { return head + "0," + fill("x") + "\n" },
		"a bad cell of quotes": func() string { return head + "0,\"" + fill(`""`) + "\"\n" },
		"an open quote":        func() string { return head + "0,\"" + fill("1\n") },
		"spaces":               func() string { return head + fill(" ") + "0,0\n" },
		"a header of cells":    func() string { return fill("a,") + "stroke (mm),travel (mm)\n0,0\n" },
		"a header of strokes":  func() string { return fill("stroke (mm),") },
		"a long title":         func() string { return fill("x") + ",stroke (mm)\n0,0\n" },
		"a long unit":          func() string { return "stroke (" + fill("m") + "),travel (mm)\n0,0\n" },
		"brackets":             func() string { return "stroke " + fill("(") + ",travel " + fill(")") + "\n0,0\n" },
		"semicolons":           func() string { return fill(";") + "\n" },
		"decimal commas":       func() string { return "stroke (mm);travel (mm)\n0;" + fill(",") + "\n" },
		"NaN":                  func() string { return head + "0,NaN\nInf,0x1p-3\n1e999,١\n" },
		"not UTF-8":            func() string { return head + fill("\xff,\xff\n") },
		"NUL":                  func() string { return head + fill("\x00,\x00\n") },
		"byte order marks":     func() string { return fill("\ufeff") + head },
		"carriage returns":     func() string { return strings.ReplaceAll(head, "\n", "\r") + fill("0,0\r") },
	}
	try := func(name, doc string) {
		var table linkage.Table
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() { table, err = csvcurve.Read(strings.NewReader(doc), linkage.Monotone) })
		if took := time.Since(start); testing.Verbose() && took > 100*time.Millisecond {
			t.Logf("%v: %s", took.Round(time.Millisecond), name)
		}
		if err == nil {
			if len(table.Stroke) > 1000 || len(table.Stroke) != len(table.Travel) {
				t.Errorf("%s: %d strokes, %d travels", name, len(table.Stroke), len(table.Travel))
			}
			if _, err := linkage.NewTable(table); unitstest.Refusal(err, 5000) != "" {
				t.Errorf("%s: %s", name, unitstest.Refusal(err, 5000))
			}
		} else if wrong := unitstest.Refusal(err, 5000); wrong != "" {
			t.Errorf("%s: %s: %.300v", name, wrong, err)
		}
		// A line of nothing but separators makes a cell of every byte.
		if most := 160*min(len(doc), 1<<20) + 1<<17; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
	for name, doc := range docs {
		try(name, doc())
	}
	for name, doc := range unitstest.Hostile(*hostile) {
		try(name, string(doc))
	}
}

// numbered is a text of lines that count.
func numbered(format string) string {
	var b bytes.Buffer
	for i := 0; b.Len() < *hostile; i++ {
		fmt.Fprintf(&b, format, i, i)
	}
	return b.String()
}

// Any text is a table of finite values, or an error that names a field.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"stroke (mm),travel (mm)\n0,0\n5,13.1\n", "stroke (mm);travel (in)\n0;0\n5;13,1\n", "\ufeffstroke [m]\t travel (ft)\n1e3\t-0\n",
		"stroke (mm),travel (mm)\n\"0\n", "a,b\n", "",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		table, err := csvcurve.Read(strings.NewReader(text), linkage.Monotone)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		if len(table.Stroke)+len(table.Travel)+len(table.LeverRatio) != 2*max(len(table.Stroke), len(table.Travel)) || len(table.Stroke) > 1000 {
			t.Fatalf("%d strokes, %d travels", len(table.Stroke), len(table.Travel))
		}
		for _, v := range append(table.Stroke, table.Travel...) {
			if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
				t.Fatalf("%v", table)
			}
		}
	})
}
