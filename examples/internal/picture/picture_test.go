package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// sampleChart is invented: a force and its rate, with all that a chart can have.
func sampleChart() Chart {
	const n = 41
	x, force, low, high, rate := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range x {
		t := float64(i) / (n - 1)
		x[i] = 154.7 * t
		force[i] = 200 + 1800*t + 800*t*t*t
		low[i], high[i] = force[i]-90, force[i]+90
		rate[i] = 12 + 3*math.Sin(4*t)
	}
	return Chart{
		Title: "Force & rate <at the wheel>", Note: "Invented.",
		X: Axis{Label: "vertical wheel travel", Unit: "mm"},
		Panels: []Panel{
			{
				Y:      Axis{Label: "wheel force", Unit: "N", Zero: true},
				Series: []Series{{"softer", x, low}, {"harder", x, high}},
				Areas:  []Area{{x, low, high}},
			},
			{Y: Axis{Label: "wheel rate", Unit: "N/mm"}, Series: []Series{{"rate", x, rate}}},
		},
		Marks: []Mark{{"sag 30 %", 46.4}},
		Bands: []Band{{"friction leaves open", 40, 52}},
	}
}

// sampleView is an invented single pivot, turned by hand.
func sampleView() SideView {
	return SideView{
		Title: "From the drive side", Bodies: [][]string{{"P", "A", "S1"}}, Fixed: []string{"P", "S2"},
		Shock: [2]string{"S1", "S2"}, Axle: "A", Wheel: 370,
		Poses: []Pose{
			{"full extension", map[string]Point{"P": {12, 72}, "A": {-438, 28}, "S1": {-92, 238}, "S2": {112, 292}}},
			{"full travel", map[string]Point{"P": {12, 72}, "A": {-432, 163}, "S1": {-36, 261}, "S2": {112, 292}}},
		},
		Path: []Point{{-438, 28}, {-440, 90}, {-432, 163}},
	}
}

func svg(t *testing.T, p Picture) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSVG(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func decoded(t *testing.T, p Picture) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := WritePNG(&b, p); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// texts parses an SVG to its end and returns what its text elements say.
func texts(t *testing.T, data []byte) []string {
	t.Helper()
	var list []string
	inText := false
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			inText = token.Name.Local == "text"
		case xml.CharData:
			if inText {
				list = append(list, string(token))
			}
		case xml.EndElement:
			inText = false
		}
	}
}

func TestSVGSaysWhatItShows(t *testing.T) {
	for _, test := range []struct {
		name string
		p    Picture
		want []string
	}{
		{"chart", sampleChart(), []string{
			"Force & rate <at the wheel>", "Invented.", "vertical wheel travel (mm)", "wheel force (N)", "wheel rate (N/mm)",
			"softer", "harder", "rate", "sag 30 %", "friction leaves open", "0", "140", "3000",
		}},
		{"side view", sampleView(), []string{
			"From the drive side", "P", "A", "S1", "S2", "bottom bracket", "full extension", "full travel", "−400", "100",
			"forward of the bottom bracket (mm)", "above the bottom bracket (mm)",
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			data := svg(t, test.p)
			said := "|" + strings.Join(texts(t, data), "|") + "|"
			for _, want := range test.want {
				if !strings.Contains(said, "|"+want+"|") {
					t.Errorf("the picture does not say %q", want)
				}
			}
			for _, bad := range []string{"NaN", "Inf", "%!"} {
				if strings.Contains(said, bad) {
					t.Errorf("the picture says %q", bad)
				}
			}
			if n := bytes.Count(data, []byte("@font-face")); n != 1 {
				t.Errorf("%d fonts inside, want 1", n)
			}
			if !bytes.Contains(data, []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif;")) {
				t.Error("no other fonts are named")
			}
		})
	}
}

// Names with control characters, which no XML may hold, and such as turn the direction of writing stand in a
// picture as their codes.
func TestSVGOfHostileNames(t *testing.T) {
	c := sampleChart()
	c.Note, c.Panels[1].Series[0].Name = "a\x00b", "\x1b\u202e"
	m := sampleMotion(2)
	m.Moments[0].Label = "\u009b"
	var motion bytes.Buffer
	if err := WriteMotion(&motion, m); err != nil {
		t.Fatal(err)
	}
	for want, data := range map[string][]byte{"a[U+0000]b": svg(t, c), "[U+001B][U+202E]": svg(t, c), "[U+009B]": motion.Bytes()} {
		if said := "|" + strings.Join(texts(t, data), "|") + "|"; !strings.Contains(said, "|"+want+"|") {
			t.Errorf("the picture does not say %q", want)
		}
	}
}

func TestSameBytes(t *testing.T) {
	for _, p := range []func() Picture{
		func() Picture { return sampleChart() }, func() Picture { return sampleView() },
	} {
		var first, again bytes.Buffer
		for _, b := range []*bytes.Buffer{&first, &again} {
			if err := errors.Join(WriteSVG(b, p()), WritePNG(b, p())); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Errorf("%T: the same input gives other bytes", p())
		}
	}
}

// A4's half page at 200 dots per inch: 170 mm · 200/25.4 = 1338.6 by
// 118 mm · 200/25.4 = 929.1. Nothing but grey, and something black on white.
func TestPNG(t *testing.T) {
	for _, p := range []Picture{sampleChart(), sampleView()} {
		img := decoded(t, p)
		if b := img.Bounds(); math.Abs(float64(b.Dx())-1338.6) > 1 || math.Abs(float64(b.Dy())-929.1) > 1 {
			t.Errorf("%T: %v dots", p, b.Size())
		}
		dark, all := 0, 0
		for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
			for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
				r, g, b, a := img.At(x, y).RGBA()
				if r != g || g != b || a != 0xffff {
					t.Fatalf("%T: colour %v at %d, %d", p, img.At(x, y), x, y)
				}
				if r < 0x2000 {
					dark++
				}
				all++
			}
		}
		if share := float64(dark) / float64(all); share < 0.003 || share > 0.1 {
			t.Errorf("%T: %.2g of it is black", p, share)
		}
		if r, _, _, _ := img.At(2, 2).RGBA(); r != 0xffff {
			t.Errorf("%T: the corner is not white", p)
		}
	}
}

func TestSave(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "made", "here")
	paths, err := Save(dir, "view", sampleView())
	if err != nil || len(paths) != 2 {
		t.Fatal(paths, err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "view.svg"))
	if err != nil || !bytes.Equal(data, svg(t, sampleView())) {
		t.Errorf("view.svg: %v", err)
	}
	if f, err := os.Open(filepath.Join(dir, "view.png")); err != nil {
		t.Error(err)
	} else {
		defer f.Close()
		if _, err := png.DecodeConfig(f); err != nil {
			t.Error(err)
		}
	}
	empty := filepath.Join(t.TempDir(), "none")
	if _, err := Save(empty, "x", Chart{}); err == nil {
		t.Error("a chart without a panel was saved")
	}
	if _, err := os.Stat(empty); err == nil {
		t.Error("a directory was made for nothing")
	}
	if _, err := Save(filepath.Join(dir, "view.svg"), "x", sampleView()); err == nil {
		t.Error("saved below a file")
	}
}

func TestDrawListsFilesInOrder(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	list := []Named{{"second", sampleView()}, {"first", sampleView()}}
	if err := Draw(&out, dir, false, list...); err != nil {
		t.Fatal(err)
	}
	want := ""
	for _, name := range []string{"second.svg", "second.png", "first.svg", "first.png"} {
		path := filepath.Join(dir, name)
		if want += "  wrote " + path + "\n"; !exists(path) {
			t.Errorf("%s is missing", path)
		}
	}
	if out.String() != want {
		t.Errorf("said %q, want %q", out.String(), want)
	}
	out.Reset()
	if err := Draw(&out, dir, true, list...); err != nil || out.Len() > 0 {
		t.Errorf("quiet: %q, %v", out.String(), err)
	}
	if err := Draw(&out, filepath.Join(dir, "first.svg"), false, list...); err == nil {
		t.Error("a file is a directory")
	}
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// What can't be drawn is an error that names it, and nothing is written.
func TestRefuses(t *testing.T) {
	chart := func(change func(*Chart)) Picture { c := sampleChart(); change(&c); return c }
	view := func(change func(*SideView)) Picture { v := sampleView(); change(&v); return v }
	nan, inf := math.NaN(), math.Inf(1)
	for _, test := range []struct {
		name, want string
		p          Picture
	}{
		{"no panel", "no panel", Chart{Title: "x"}},
		{"no line", "wheel rate", chart(func(c *Chart) { c.Panels[1].Series = nil })},
		{"too many lines", "7 lines", chart(func(c *Chart) { c.Panels[1].Series = make([]Series, 7) })},
		{"one point", "rate", chart(func(c *Chart) { c.Panels[1].Series[0] = Series{"rate", []float64{1}, []float64{1}} })},
		{"unequal", "2 and 3", chart(func(c *Chart) {
			c.Panels[1].Series[0] = Series{"rate", []float64{1, 2}, []float64{1, 2, 3}}
		})},
		{"NaN", "rate", chart(func(c *Chart) { c.Panels[1].Series[0].Y[7] = nan })},
		{"Inf", "softer", chart(func(c *Chart) { c.Panels[0].Series[0].X[7] = inf })},
		{"area", "area", chart(func(c *Chart) { c.Panels[0].Areas[0].Low = []float64{1, 2} })},
		{"area NaN", "area", chart(func(c *Chart) { c.Panels[0].Areas[0].High = make([]float64, 41); c.Panels[0].Areas[0].High[3] = nan })},
		{"axis", "travel", chart(func(c *Chart) { c.X.Min, c.X.Max = 5, 4 })},
		{"axis NaN", "force", chart(func(c *Chart) { c.Panels[0].Y.Max = nan })},
		{"mark", "sag", chart(func(c *Chart) { c.Marks[0].At = inf })},
		{"band", "friction", chart(func(c *Chart) { c.Bands[0].From = 60 })},
		{"size", "size", chart(func(c *Chart) { c.Size = Size{170, nan} })},
		{"view size", "size", view(func(v *SideView) { v.Size = Size{1e9, 100} })},
		{"no pose", "0 poses", view(func(v *SideView) { v.Poses = nil })},
		{"too many poses", "7 poses", view(func(v *SideView) { v.Poses = make([]Pose, 7) })},
		{"no such point", `"Q"`, view(func(v *SideView) { v.Fixed = []string{"Q"} })},
		{"no such axle", `""`, view(func(v *SideView) { v.Axle = "" })},
		{"NaN point", `"P"`, view(func(v *SideView) { v.Poses[1].At["P"] = Point{nan, 0} })},
		{"path", "path", view(func(v *SideView) { v.Path[1].Y = inf })},
		{"wheel", "wheel", view(func(v *SideView) { v.Wheel = -1 })},
	} {
		t.Run(test.name, func(t *testing.T) {
			for _, write := range []func(io.Writer, Picture) error{WriteSVG, WritePNG} {
				var b bytes.Buffer
				err := write(&b, test.p)
				if err == nil || !strings.Contains(err.Error(), test.want) {
					t.Errorf("error %v does not name %q", err, test.want)
				}
				if b.Len() > 0 {
					t.Error("something was written")
				}
			}
		})
	}
}
