package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// call runs the program and returns what it printed and its exit status.
func call(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// answer is call for a call that must work.
func answer(t *testing.T, stdin string, args ...string) string {
	t.Helper()
	out, errs, status := call(t, stdin, args...)
	if status != 0 {
		t.Fatalf("%v: status %d: %s", args, status, errs)
	}
	return out
}

// cells reads CSV as numbers under their heads.
func cells(t *testing.T, text string) (heads []string, rows []map[string]float64) {
	t.Helper()
	lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines[1:] {
		row := map[string]float64{}
		for i, cell := range line {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			row[lines[0][i]] = v
		}
		rows = append(rows, row)
	}
	return lines[0], rows
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v within %g", what, got, want, tolerance)
	}
}

// geometry is what an independent computation in 40 digits (mpmath, Newton's
// method with the exact Jacobian; chain and brake from the velocity of the
// tyre's contact point, checked by the construction with chain line and
// instant centre) gives for the demonstrations: stroke, travel, lever ratio,
// its slope, axle x and y, growth, path length, instant centre x and y,
// anti-squat, anti-rise, chain growth, and kickback held and rolling.
var geometry = map[string]struct {
	rate, preload float64 // of the demonstration's spring, lbf/in and mm
	rows          [][15]float64
}{
	"single-pivot": {450, 2, [][15]float64{
		{0, 0, 2.405312288079343, -1.6350530024341438, -438, 28, 0, 0, 12, 72,
			115.51433476490536, 100.05, 0, 0, 0},
		{17.25, 41.21963134648412, 2.37218907847768, -2.1868569616927775, -440.13744541914525, 69.21963134648412, 6.653158670497419, 41.2893577935553, 12, 72,
			110.80890222974418, 93.25202645240294, 4.600959304581307, 4.069109030562138, 4.286784016116621},
		{57.5, 134.65921307468295, 2.265246365723914, -3.0029137543598197, -430.96377626695306, 162.65921307468295, 21.744401000234877, 135.34769100317496, 12, 72,
			95.36770015124749, 77.50162906593705, 15.129361206928985, 13.380474861503588, 12.663913921172492},
	}},
	"four-bar": {475, 1, [][15]float64{
		{0, 0, 2.9004462034671845, -20.370874879926167, -437, 30, 0, 0, 320.0400606323084, 68.9080229536596,
			70.95322120214947, 58.69205628853039, 0, 0, 0},
		{18.75, 51.21390558099015, 2.5820447191572558, -14.020414634914777, -436.67941240138083, 81.21390558099016, 6.138781575389262, 51.24312604016303, 206.12599356812188, 40.262780112653154,
			62.33389948995438, 58.27284930220672, 3.5729216725915633, 3.159907941145447, 3.1272596684581906},
		{62.5, 154.68794001042343, 2.251469770147609, 1.1443011669718174, -417.8284211290516, 184.68794001042343, 18.797714305296576, 156.6571846595101, 14.21036388498713, 52.93398956717796,
			42.785727103068105, 68.42737083512488, 11.063888471916298, 9.784952553129314, 7.832540989114187},
	}},
}

// On top of the geometry, the spring at the wheel by hand: F_s = k·(s + x₀),
// F_w = F_s/LR, k_w = k/LR² − F_s·LR′/LR³, with 1 lbf/in = 4.4482216152605 N/25.4 mm.
func TestNumbersOfTheDemonstrations(t *testing.T) {
	heads := []string{
		"stroke (mm)", "travel (mm)", "lever ratio", "lever ratio slope (1/m)", "axle x (mm)", "axle y (mm)", "axle growth (mm)",
		"path length (mm)", "instant centre x (mm)", "instant centre y (mm)",
		"anti-squat (%)", "anti-rise (%)", "chain growth (mm)", "kickback wheel held (deg)", "kickback wheel rolling (deg)",
	}
	for name, want := range geometry {
		t.Run(name, func(t *testing.T) {
			_, rows := cells(t, answer(t, "", "-demo", name, "-csv"))
			if len(rows) != 11 {
				t.Fatalf("%d poses", len(rows))
			}
			k := want.rate * 4.4482216152605 / 25.4 // N/mm
			for i, row := range []map[string]float64{rows[0], rows[3], rows[10]} {
				w := want.rows[i]
				for j, head := range heads {
					near(t, head, row[head], w[j], 1e-8*math.Max(1, math.Abs(w[j])))
				}
				near(t, "backward", row["axle backward (mm)"], want.rows[0][4]-w[4], 1e-9)
				f, ratio, slope := k*(w[0]+want.preload), w[2], w[3]*1e-3
				near(t, "spring force", row["spring force (N)"], f, 1e-4)
				near(t, "wheel force", row["wheel force (N)"], f/ratio, 1e-3)
				near(t, "wheel rate", row["wheel rate (N/mm)"], k/(ratio*ratio)-f*slope/(ratio*ratio*ratio), 1e-3)
			}
		})
	}
}

// What people read says the same as what programs read.
func TestSheet(t *testing.T) {
	out := answer(t, "", "-demo", "single-pivot")
	flat := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{
		"Invented for this demonstration: no real bike",
		"stroke of the shock 57.5 mm 2.26 in",
		"vertical travel of the wheel 134.7 mm 5.30 in",
		"mean lever ratio 2.342", // 134.65921/57.5
		"lever ratio, start to end 2.405 to 2.265",
		"progression 5.8 %", // 0.058232
		"axle path 135.3 mm 5.33 in",
		"growth from bottom bracket 21.7 mm 0.86 in at 134.7 mm of travel",
		"78.81 N/mm 450.0 lbf/in preload 2.0 mm",
		"at 30 % sag, travel 40.4 mm", // 0.3 · 134.65921 = 40.398
		"17.25 41.22 2.3722 -2.19 -440.1 69.2 6.65 41.29 12.0 72.0",
		"CHAIN AND BRAKE: 32 × 21 teeth",
		"41.22 30.6 110.8 93.3 4.60 4.07 4.29",
		"THE SPRING AT THE WHEEL", "HOW TO READ IT", "so that the frame stays level",
		`the built-in demonstration "single-pivot": no -job was given`,
	} {
		if !strings.Contains(flat, want) {
			t.Errorf("the sheet lacks %q in\n%s", want, out)
		}
	}
	for _, name := range demos {
		out := answer(t, "", "-demo", name)
		for _, line := range strings.Split(out, "\n") {
			if n := utf8.RuneCountInString(line); n > wide {
				t.Errorf("a line of %d columns: %q", n, line)
			}
		}
		if strings.Contains(out, "NaN") || strings.Contains(out, "Inf") || strings.Contains(out, "%!") || strings.Contains(out, "-0.0 ") {
			t.Errorf("not a number in\n%s", out)
		}
	}
}

func TestJSON(t *testing.T) {
	for name, want := range geometry {
		var r struct {
			Schema      string `json:"schema"`
			Travel      string `json:"travel"`
			Progression struct{ Value, Start, End, Min, Max float64 }
			Path        struct {
				Length string `json:"length"`
				Growth string `json:"axle_growth_max"`
			} `json:"axle_path"`
			AtSag struct {
				Drive struct {
					AntiSquat float64 `json:"anti_squat"`
				}
			} `json:"at_sag"`
			Poses []json.RawMessage
		}
		if err := json.Unmarshal([]byte(answer(t, "", "-demo", name, "-json", "-n", "21")), &r); err != nil {
			t.Fatal(err)
		}
		first, last := want.rows[0], want.rows[2]
		millimetres := func(text string) float64 {
			v, err := units.Parse[units.Length](text)
			if err != nil {
				t.Error(err)
			}
			return v.Millimetres()
		}
		near(t, "travel", millimetres(r.Travel), last[1], 1e-9)
		near(t, "path", millimetres(r.Path.Length), last[7], 1e-8)
		near(t, "growth", millimetres(r.Path.Growth), last[6], 1e-9)
		near(t, "start", r.Progression.Start, first[2], 1e-12)
		near(t, "end", r.Progression.End, last[2], 1e-12)
		near(t, "progression", r.Progression.Value, (first[2]-last[2])/first[2], 1e-12)
		if a := r.AtSag.Drive.AntiSquat; !(a < first[10]/100 && a > last[10]/100) {
			t.Errorf("anti-squat at the sag is %v", a)
		}
		if len(r.Poses) != 21 || r.Schema == "" {
			t.Errorf("%d poses, schema %q", len(r.Poses), r.Schema)
		}
	}
}

// w = 2.95·s − 0.00425·s² in mm, as CSV and as JSON: a spline through it is
// exact, LR = 2.95 − 0.0085·s.
func TestTables(t *testing.T) {
	text := "stroke (mm),travel (mm)\n"
	var stroke, travel []string
	for s := 0.0; s <= 60; s += 10 {
		w := 2.95*s - 0.00425*s*s
		text += strconv.FormatFloat(s, 'g', -1, 64) + "," + strconv.FormatFloat(w, 'g', -1, 64) + "\n"
		stroke, travel = append(stroke, strconv.FormatFloat(s, 'g', -1, 64)+" mm"), append(travel, strconv.FormatFloat(w, 'g', -1, 64)+" mm")
	}
	data, err := json.Marshal(map[string]any{"schema": schema, "table": map[string]any{"stroke": stroke, "travel": travel, "method": "smooth"}})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "table.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	spring := []string{"-csv", "-n", "7", "-rate", "80 N/mm", "-preload", "2 mm"}
	fromCSV := answer(t, "", append(spring, "-method", "smooth", path)...)
	fromJSON := answer(t, string(data), append(spring, "-")...)
	if fromCSV != fromJSON {
		t.Errorf("CSV gives\n%s, JSON gives\n%s", fromCSV, fromJSON)
	}
	_, rows := cells(t, fromCSV)
	for i, row := range rows {
		s := 10 * float64(i)
		lr := 2.95 - 0.0085*s
		near(t, "travel", row["travel (mm)"], 2.95*s-0.00425*s*s, 1e-9)
		near(t, "lever ratio", row["lever ratio"], lr, 1e-9)
		near(t, "slope", row["lever ratio slope (1/m)"], -8.5, 1e-6)
		near(t, "wheel force", row["wheel force (N)"], 80*(s+2)/lr, 1e-6)
		near(t, "wheel rate", row["wheel rate (N/mm)"], 80/(lr*lr)+80*(s+2)*0.0085/(lr*lr*lr), 1e-6)
	}
	// Readings with errors say how well the curve is known.
	sheet := answer(t, "", "-method", "measured", path)
	if !strings.Contains(sheet, "lever ratio known to") || strings.Contains(sheet, "centre x") {
		t.Errorf("the sheet of readings:\n%s", sheet)
	}
}

// What -csv prints can go in again: a fine table is the mechanism's curve.
func TestRoundTrip(t *testing.T) {
	poses := answer(t, "", "-demo", "four-bar", "-csv", "-n", "126")
	_, rows := cells(t, answer(t, poses, "-csv", "-method", "smooth", "-"))
	for i, row := range []map[string]float64{rows[0], rows[3], rows[10]} {
		want := geometry["four-bar"].rows[i]
		near(t, "travel", row["travel (mm)"], want[1], 1e-6)
		near(t, "lever ratio", row["lever ratio"], want[2], 1e-4)
	}
	if _, there := rows[0]["axle x (mm)"]; there {
		t.Error("a table says where the axle is")
	}
}

// The example is what runs when no file is given; changed, it gives something else.
func TestExample(t *testing.T) {
	for _, name := range demos {
		file := answer(t, "", "-demo", name, "-example")
		if got, want := answer(t, file, "-csv", "-"), answer(t, "", "-demo", name, "-csv"); got != want {
			t.Errorf("%s: the example gives another answer than the demonstration", name)
		}
		if !strings.Contains(file, "Invented") {
			t.Errorf("%s does not say that it is invented", name)
		}
	}
	// Another gear changes chain forces, and not the path.
	file := answer(t, "", "-demo", "single-pivot", "-example")
	_, a := cells(t, answer(t, file, "-csv", "-"))
	_, b := cells(t, answer(t, strings.Replace(file, `"sprocket": 21`, `"sprocket": 50`, 1), "-csv", "-"))
	near(t, "travel", a[10]["travel (mm)"], b[10]["travel (mm)"], 0)
	near(t, "anti-squat on 50 teeth", b[0]["anti-squat (%)"], 107.29688827912371, 1e-8) // the same independent computation
	// A front that stays extended: at full travel 102.73 % instead of 95.37 %.
	_, c := cells(t, answer(t, strings.Replace(file, `"level"`, `"front"`, 1), "-csv", "-"))
	near(t, "anti-squat with the front extended", c[10]["anti-squat (%)"], 102.73140353135044, 1e-8)
	// An air spring instead; its travel is the stroke's.
	air := regexp.MustCompile(`(?s)"linear": \{.*?\}`).ReplaceAllString(file,
		`"air": {"bore": "47 mm", "positive_volume": "220 cm³", "fill": "10 bar", "ambient": "1 bar(a)", "exponent": 1}`)
	_, d := cells(t, answer(t, air, "-csv", "-"))
	// π/4·(47 mm)² · 1 MPa / LR = 721.3 N
	near(t, "wheel force", d[0]["wheel force (N)"], math.Pi/4*47*47*1/2.405312288079343, 1e-3)
	if sheet := answer(t, air, "-"); !regexp.MustCompile(`air spring, filled to +10\.00 bar +145\.0 psi +exponent 1`).MatchString(sheet) {
		t.Errorf("the air spring is not told in\n%s", sheet)
	}
}

func TestBadInput(t *testing.T) {
	good := answer(t, "", "-demo", "single-pivot", "-example")
	change := func(pairs ...string) string {
		text := strings.NewReplacer(pairs...).Replace(good)
		if text == good {
			t.Fatalf("%v changes nothing", pairs)
		}
		return text
	}
	for _, test := range []struct {
		name  string
		input string
		want  []string // on standard error
	}{
		{"what can't be read", change(`"-92 mm"`, `"-92"`, `"57.5 mm"`, `57.5`, `"linear"`, `"liner"`),
			[]string{`mechanism.points.S1[0] is "-92": want`, "mechanism.stroke is", "spring.liner", "3 faults"}},
		{"what can't be", change(`["P", "S2"]`, `["P", "S9"]`, `0.3`, `30`, `"chainring": 32`, `"chainring": 3`, `"450 lbf/in"`, `"-450 lbf/in"`, `"level"`, `"hill"`),
			[]string{`mechanism.bodies.frame[1] is "S9"`, "sag is 30", "drive.drivetrain.chainring is 3", `drive.ground is "hill"`, "spring.linear.rate is", "5 faults"}},
		{"no such axle", change(`"axle": "A"`, `"axle": "B"`), []string{`mechanism.axle is "B"`}},
		{"a shock too short for its stroke", change(`"57.5 mm"`, `"212 mm"`), []string{"mechanism.stroke is 212 mm: want less than 211 mm, the shock's length"}},
		{"a spring too short", change(`"preload": "2 mm"`, `"travel": "40 mm"`), []string{"spring.linear.travel is 40 mm: want stroke 57.5 mm or more"}},
		{"two springs", change(`"spring": {`, `"spring": {"air": {},`), []string{"spring: want exactly one of linear and air"}},
		{"no spring in it", `{"schema": "wheelrate/leverage/1", "spring": {}, "table": {"stroke": ["0 mm", "1 mm"], "travel": ["0 mm", "2 mm"]}}`, []string{"spring: want"}},
		{"another schema", change(`leverage/1`, `leverage/2`), []string{`schema is "wheelrate/leverage/2"`}},
		{"nothing", `{"schema": "wheelrate/leverage/1", "spring": {"linear": {"rate": "-1 N/mm"}}}`,
			[]string{"the job as a whole: want exactly one of", "spring.linear.rate is", "2 faults"}},
		{"both", change(`"spring"`, `"table": {"stroke": ["0 mm", "1 mm"], "travel": ["0 mm", "2 mm"]}, "spring"`), []string{"exactly one of", "not table and mechanism"}},
		{"a chain without pivots", `{"schema": "wheelrate/leverage/1", "drive": {}, "table": {"stroke": ["0 mm", "1 mm"], "travel": ["0 mm", "2 mm"]}}`, []string{"drive: want a mechanism beside it"}},
		{"a table that falls", `{"schema": "wheelrate/leverage/1", "table": {"stroke": ["0 mm", "1 mm"], "travel": ["0 mm", "-2 mm"]}}`, []string{"table.travel[1]"}},
		{"no JSON", "{", []string{"leverage:"}},
		{"a list", "[]", []string{"leverage:"}},
		{"nothing at all", "", []string{"leverage:"}},
		{"CSV without units", "stroke,travel\n0,0\n1,2\n", []string{"stroke", "travel", "mm"}},
		{"CSV without numbers", "stroke (mm),travel (mm)\n0,0\n1,two\n", []string{`travel[1] is "two"`, "line 3"}},
		{"CSV that falls", "stroke (mm),travel (mm)\n0,0\n1,2\n2,1\n", []string{"table.travel[2]"}},
		{"too much", "stroke (mm),travel (mm)\n" + strings.Repeat("0,0\n", limit/4), []string{"at most"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			out, errs, status := call(t, test.input, "-")
			if status != 2 || out != "" {
				t.Errorf("status %d and %d bytes of answer, want 2 and none", status, len(out))
			}
			for _, want := range test.want {
				if !strings.Contains(errs, want) {
					t.Errorf("standard error lacks %q:\n%s", want, errs)
				}
			}
		})
	}
}

// An invented six-bar with a dead point between 36.8 and 37.1 mm of its 55 mm
// of stroke, where the determinant of the exact Jacobian changes its sign (the
// same independent computation). It is refused, not drawn.
const dead = `{"schema": "wheelrate/leverage/1", "mechanism": {
	"points": {
		"BB": ["0 mm", "0 mm"],
		"M": ["6 mm", "44 mm"],
		"H": ["-396 mm", "14 mm"],
		"AX": ["-436 mm", "30 mm"],
		"T": ["-96 mm", "352 mm"],
		"R": ["-30 mm", "338 mm"],
		"K": ["-143 mm", "304 mm"],
		"Q": ["-109 mm", "211 mm"],
		"R2": ["-6 mm", "178 mm"],
		"S1": ["-8 mm", "228 mm"],
		"S2": ["154 mm", "140 mm"]
	},
	"bodies": {
		"frame": ["BB", "M", "R", "R2", "S2"],
		"CS": ["M", "H"],
		"SS": ["H", "AX", "T", "K"],
		"RK": ["T", "R"],
		"LK": ["K", "Q"],
		"RK2": ["Q", "R2", "S1"]
	},
	"axle": "AX", "shock": ["S1", "S2"], "stroke": "55 mm"
}}`

func TestLocks(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pictures")
	_, errs, status := call(t, dead, "-out", dir, "-")
	if status != 2 || !strings.Contains(errs, "mechanism.stroke is 55 mm: want less than 36.") || !strings.Contains(errs, "shorten the stroke") {
		t.Errorf("status %d: %s", status, errs)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("pictures of a mechanism that locks")
	}
}

// wellFormed reads XML to its end.
func wellFormed(data []byte) error {
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func TestPictures(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	out := answer(t, "", "-out", dir)
	names := []string{"linkage", "lever-ratio", "axle-path", "wheel-force", "anti-squat", "kickback"}
	says := map[string][]string{
		"linkage":     {">full extension<", ">30 % sag, 46.4 mm<", ">full travel, 154.7 mm<", ">S1<", ">bottom bracket<"},
		"lever-ratio": {">lever ratio<", ">mean 2.475<", ">30 % sag, 46.4 mm<", "(mm)"},
		"axle-path":   {">backward<"},
		"wheel-force": {"(N)<", "(N/mm)<"},
		"anti-squat":  {">anti-squat<", ">anti-rise<", "32 × 21 teeth"},
		"kickback":    {">wheel held<", ">wheel rolling<", "chain growth (mm)<"},
	}
	for _, name := range names {
		for _, suffix := range []string{".svg", ".png"} {
			path := filepath.Join(dir, name+suffix)
			if !strings.Contains(out, path) {
				t.Errorf("the answer does not name %s", path)
			}
			data, err := os.ReadFile(path)
			if err != nil {
				t.Error(err)
				continue
			}
			if suffix == ".png" {
				if _, err := png.Decode(bytes.NewReader(data)); err != nil {
					t.Errorf("%s: %v", name, err)
				}
				continue
			}
			if err := wellFormed(data); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			for _, want := range append(says[name], "Invented") {
				if !bytes.Contains(data, []byte(want)) {
					t.Errorf("%s.svg does not say %q", name, want)
				}
			}
		}
	}
	if files, _ := os.ReadDir(dir); len(files) != 2*len(names) {
		t.Errorf("%d files", len(files))
	}
	// Machine output stays clean: the paths go to standard error.
	out, errs, _ := call(t, "", "-csv", "-out", dir)
	if strings.Contains(out, dir) || !strings.Contains(errs, dir) {
		t.Errorf("paths in the wrong place: %q, %q", out, errs)
	}
	// A table has no linkage to draw.
	dir = filepath.Join(t.TempDir(), "table")
	answer(t, "stroke (mm),travel (mm)\n0,0\n10,26\n20,50\n", "-out", dir, "-")
	if files, _ := os.ReadDir(dir); len(files) != 2 {
		t.Errorf("%d files of a table, want the lever ratio's two", len(files))
	}
}

func TestCalls(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		name   string
		args   []string
		status int
		stderr string
	}{
		{"help", []string{"-h"}, 0, "example:"},
		{"an unknown flag", []string{"-sheet"}, 2, "usage"},
		{"two files", []string{"a", "b"}, 2, "at most one FILE"},
		{"a file by both ways", []string{"-job", "a", "b"}, 2, `-job is "a": want no other FILE beside it`},
		{"no such job", []string{"-job", "nowhere.json"}, 2, "give a full path"},
		{"no such file", []string{"nowhere.json"}, 2, "give a full path"},
		{"a folder", []string{t.TempDir()}, 2, "leverage:"},
		{"one pose", []string{"-n", "1"}, 2, "-n is 1"},
		{"too many poses", []string{"-n", "10001"}, 2, "-n is 10001"},
		{"two forms", []string{"-csv", "-json"}, 2, "one of -csv and -json"},
		{"an unknown demonstration", []string{"-demo", "unicycle"}, 2, "one of four-bar, single-pivot"},
		{"a rate without a unit", []string{"-rate", "450", "-preload", "2"}, 2, `-rate is "450"`},
		{"preload alone", []string{"-preload", "2 mm"}, 2, "-preload"},
		{"a negative rate", []string{"-rate", "-450 lbf/in"}, 2, "spring.linear.rate"},
		{"a method for a mechanism", []string{"-method", "smooth"}, 2, "-method"},
		{"pictures below a file", []string{"-out", filepath.Join(file, "x")}, 1, "leverage:"},
	} {
		out, errs, status := call(t, "", test.args...)
		if status != test.status || out != "" || !strings.Contains(errs, test.stderr) {
			t.Errorf("%s: status %d, %q, %q", test.name, status, out, errs)
		}
	}
	_, errs, status := call(t, "stroke (mm),travel (mm)\n0,0\n10,26\n", "-method", "guess", "-")
	if status != 2 || !strings.Contains(errs, "table.method") {
		t.Errorf("an unknown method: status %d, %q", status, errs)
	}
}

// A linkage whose ratio rises steeply under much preload makes the wheel force
// fall: k_w < 0 where k/F_s < LR′/LR. The program says so. LR = 1.5 + 50·s.
func TestWarnings(t *testing.T) {
	text := "stroke (mm),travel (mm)\n"
	for s := 0.0; s <= 40; s += 5 {
		text += strconv.FormatFloat(s, 'g', -1, 64) + "," + strconv.FormatFloat(1.5*s+0.025*s*s, 'g', -1, 64) + "\n"
	}
	out := answer(t, text, "-method", "smooth", "-rate", "50 N/mm", "-preload", "40 mm", "-")
	if !strings.Contains(out, "WARNINGS") || !strings.Contains(out, "The wheel force falls around 0.0 mm") {
		t.Errorf("no warning in\n%s", out)
	}
	out = answer(t, text, "-method", "smooth", "-rate", "50 N/mm", "-preload", "20 mm", "-")
	if strings.Contains(out, "WARNINGS") {
		t.Errorf("a warning in\n%s", out)
	}
	if !strings.Contains(strings.Join(strings.Fields(out), " "), "It rises by 133.3 %") { // (3.5 − 1.5)/1.5
		t.Errorf("the ratio's rise is not told in\n%s", out)
	}
	// w = 3·s − 0.04·s² + 0.0004·s³: LR = 3 − 0.08·s + 0.0012·s² is least at
	// 33.3 mm of stroke, where w = 70.4 mm, and 2 at 50 mm of it.
	text = "stroke (mm),travel (mm)\n"
	for s := 0.0; s <= 50; s += 5 {
		text += strconv.FormatFloat(s, 'g', -1, 64) + "," + strconv.FormatFloat(3*s-0.04*s*s+0.0004*s*s*s, 'g', -1, 64) + "\n"
	}
	out = answer(t, text, "-method", "smooth", "-")
	if !strings.Contains(strings.Join(strings.Fields(out), " "), "The lever ratio is least at 70.") {
		t.Errorf("the dip is not told in\n%s", out)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestBrokenOutput(t *testing.T) {
	var errs bytes.Buffer
	if status := run(nil, strings.NewReader(""), broken{}, &errs); status != 1 || errs.Len() == 0 {
		t.Errorf("status %d, standard error %q", status, errs.String())
	}
}

// Every kind of curve that the library has goes in. By hand, 160 mm along stanchions
// at 64° are 143.8 mm of the wheel's, and a ratio of 2.5 makes 150 mm out of 60.
func TestEveryKindOfCurve(t *testing.T) {
	for _, test := range []struct{ curve, want string }{
		{`"fork": {"head_angle": "64 deg", "travel": "160 mm"}`, "143.8"},
		{`"constant": 2.5, "travel": "150 mm"`, "60.0"},
	} {
		out, errs, status := call(t, `{"schema": "wheelrate/leverage/1", `+test.curve+`}`, "-")
		if status != 0 || !strings.Contains(out, test.want) {
			t.Errorf("%s: status %d, %s, lacks %s in\n%s", test.curve, status, errs, test.want, out)
		}
	}
}
