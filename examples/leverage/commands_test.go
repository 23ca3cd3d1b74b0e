package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// written is a file with a text in it.
func written(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Every command takes a job in the same way and answers in the same forms: text in 80 columns, CSV with
// as many cells in every line, JSON with a schema, and pictures.
func TestEveryCommandIsCalledInOneWay(t *testing.T) {
	demo := answer(t, "", "-example")
	path := written(t, "my-bike.json", demo)
	for _, c := range commands() {
		more := []string{}
		if c.name == "compare" {
			more = []string{"-with", written(t, "other.json", answer(t, "", "-demo", "single-pivot", "-example"))}
		}
		args := func(list ...string) []string { return append(append([]string{c.name}, more...), list...) }
		dir := t.TempDir()
		text, _, _ := strings.Cut(answer(t, "", args("-out", dir, "-job", path)...), "\nPictures:")
		for _, line := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(line); n > wide {
				t.Errorf("%s: a line of %d columns: %q", c.name, n, line)
			}
		}
		for _, bad := range []string{"NaN", "Inf", "%!", "-0.0 "} {
			if strings.Contains(text, bad) {
				t.Errorf("%s says %q in\n%s", c.name, bad, text)
			}
		}
		if !strings.Contains(text, "Invented for this demonstration") {
			t.Errorf("%s does not say whose numbers these are", c.name)
		}
		if heads, rows := cells(t, answer(t, demo, args("-csv", "-job", "-")...)); len(rows) < 2 || len(heads) < 4 {
			t.Errorf("%s: %d lines of CSV under %v", c.name, len(rows), heads)
		}
		var data struct{ Schema string }
		if err := json.Unmarshal([]byte(answer(t, "", args("-json", path)...)), &data); err != nil || !strings.HasPrefix(data.Schema, "wheelrate/leverage-") {
			t.Errorf("%s: schema %q, %v", c.name, data.Schema, err)
		}
		files, _ := filepath.Glob(filepath.Join(dir, "*.svg"))
		if len(files) == 0 {
			t.Errorf("%s draws nothing", c.name)
		}
		for _, file := range files {
			if data, err := os.ReadFile(file); err != nil || wellFormed(data) != nil {
				t.Errorf("%s: %s: %v %v", c.name, file, err, wellFormed(data))
			}
		}
	}
	if a, b := answer(t, "", "table", path), answer(t, "", path); a != b {
		t.Error("the table is another with its name than without")
	}
}

func TestCommandsNameWhatIsMissing(t *testing.T) {
	table := "stroke (mm),travel (mm)\n0,0\n10,26\n20,50\n"
	bike := answer(t, "", "-demo", "single-pivot", "-example")
	for _, test := range []struct {
		input string
		args  []string
		want  string
	}{
		{table, []string{"gears", "-"}, "drive: want a drive"},
		{table, []string{"motion", "-"}, "mechanism: want the places of the pivots"},
		{table, []string{"compare", "-"}, "-with: want the file of the frame"},
		{bike, []string{"compare", "-with", "-", "-"}, `-with is "-": want a file`},
		{bike, []string{"compare", "-with", "nowhere.json", "-"}, "nowhere.json"},
		{bike, []string{"compare", "-with", written(t, "bad.json", "{}"), "-"}, "-with.schema"},
		{bike, []string{"motion", "-with", "x", "-"}, "-with: want the command compare"},
		{bike, []string{"-sprockets", "10", "-"}, "-sprockets: want the command gears"},
		{bike, []string{"gears", "-sprockets", "10,x", "-"}, `-sprockets is "10,x"`},
		{bike, []string{"gears", "-chainrings", "30,3", "-"}, "gears.chainrings[0] is 3"},
		{bike, []string{"gears", "-chainrings", "30,31,32,33,34,35,36", "-"}, "from 1 to 6"},
		{bike, []string{"gears", "-sprockets", "120", "-chainrings", "30,110", "-"}, "gears.110×120.drivetrain: want pulleys that stay apart"},
		{strings.Replace(bike, `"sag"`, `"gears": {"chainrings": [30], "sprockets": []}, "sag"`, 1), []string{"-"}, "gears.sprockets is 0"},
	} {
		out, errs, status := call(t, test.input, test.args...)
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%v: status %d, %q, want %q", test.args, status, errs, test.want)
		}
	}
}

// In the gears of the check cases, at full travel, as a separate program computed them: anti-squat,
// kickback held and rolling, chain growth. The development is the wheel's circumference times the gear.
func TestGears(t *testing.T) {
	_, rows := cells(t, answer(t, "", "gears", "-demo", "single-pivot", "-sprockets", "50,21,10,21", "-csv"))
	if len(rows) != 6 {
		t.Fatalf("%d lines", len(rows))
	}
	for i, want := range [][5]float64{
		{10, 116.7020723356199, 7.515918089465391, 7.170312933942154, 8.498281320670229},
		{21, 95.36770015124749, 13.380474861503588, 12.663913921172492, 15.129361206928985},
		{50, 83.05520123725202, 28.716617991115434, 27.01575825622474, 32.470005042867314},
	} {
		row := rows[2*i+1]
		near(t, "sprocket", row["sprocket"], want[0], 0)
		near(t, "anti-squat", row["anti-squat (%)"], want[1], 1e-8)
		near(t, "held", row["kickback wheel held (deg)"], want[2], 1e-8)
		near(t, "rolling", row["kickback wheel rolling (deg)"], want[3], 1e-8)
		near(t, "growth", row["chain growth (mm)"], want[4], 1e-8)
		near(t, "development", row["development (m)"], 2*math.Pi*0.370*32/want[0], 1e-12)
		near(t, "travel", rows[2*i]["travel (mm)"], 0.3*134.65921307468295, 1e-8)
	}
	// The job's gears, in rows of one chainring each.
	job := strings.Replace(answer(t, "", "-example"), `"sag"`, `"gears": {"chainrings": [28, 34], "sprockets": [11, 40]}, "sag"`, 1)
	_, rows = cells(t, answer(t, job, "gears", "-csv", "-"))
	for i, want := range []float64{28, 28, 28, 28, 34, 34, 34, 34} {
		near(t, "chainring", rows[i]["chainring"], want, 0)
	}
	if text := answer(t, job, "gears", "-"); strings.Contains(text, "No sprockets were said") || !strings.Contains(text, "with 28 × 40") {
		t.Errorf("the gears in words:\n%s", text)
	}
	if text := answer(t, "", "gears"); !strings.Contains(text, "No sprockets were said") {
		t.Error("what was taken for granted is not said")
	}
}

// One table has LR = 3 − 0.02·s, so that LR² = 9 − 0.04·w; the other a ratio of 2.6: they cross at
// w = (9 − 2.6²)/0.04 = 56 mm. Most they differ by 0.4, at the start.
func TestCompareTellsWhereCurvesCross(t *testing.T) {
	text := "stroke (mm),travel (mm)\n"
	for s := 0.0; s <= 50; s += 5 {
		text += strconv.FormatFloat(s, 'g', -1, 64) + "," + strconv.FormatFloat(3*s-0.01*s*s, 'g', -1, 64) + "\n"
	}
	other := written(t, "straight.json", `{"schema": "wheelrate/leverage/1", "constant": 2.6, "travel": "130 mm"}`)
	job := written(t, "falling.json", `{"schema": "wheelrate/leverage/1", "table": `+tableJSON(t, text)+`}`)
	flat := strings.Join(strings.Fields(answer(t, "", "compare", "-job", job, "-with", other)), " ")
	for _, want := range []string{
		"straight has 5.0 mm more travel (130.0 mm against 125.0 mm).",
		"straight is 33.3 points less progressive (0.0 % against 33.3 %).",
		"its lever ratio is lower up to 56.0 mm, then higher; most at 125.0 mm, by 0.600.",
		"Alike are: stroke of the shock.",
	} {
		if !strings.Contains(flat, want) {
			t.Errorf("lacks %q in\n%s", want, flat)
		}
	}
	_, rows := cells(t, answer(t, "", "compare", "-csv", "-n", "6", "-job", job, "-with", other))
	for i, row := range rows {
		w := 25 * float64(i)
		near(t, "travel", row["travel (mm)"], w, 1e-9)
		near(t, "first", row["falling: lever ratio"], math.Sqrt(9-0.04*w), 1e-6)
		near(t, "second", row["straight: lever ratio"], 2.6, 1e-12)
	}
}

// tableJSON is CSV as the table of a job.
func tableJSON(t *testing.T, text string) string {
	t.Helper()
	_, rows := cells(t, text)
	var stroke, travel []string
	for _, row := range rows {
		stroke, travel = append(stroke, strconv.FormatFloat(row["stroke (mm)"], 'g', -1, 64)+" mm"), append(travel, strconv.FormatFloat(row["travel (mm)"], 'g', -1, 64)+" mm")
	}
	data, err := json.Marshal(map[string]any{"stroke": stroke, "travel": travel, "method": "smooth"})
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// A frame is like itself in everything that is told.
func TestAFrameIsLikeItself(t *testing.T) {
	path := written(t, "bike.json", answer(t, "", "-example"))
	var c struct {
		First, Second struct{ Name string }
		Differences   []string
	}
	if err := json.Unmarshal([]byte(answer(t, "", "compare", "-json", "-job", path, "-with", path)), &c); err != nil {
		t.Fatal(err)
	}
	if c.First.Name == c.Second.Name {
		t.Errorf("both are called %q", c.First.Name)
	}
	for _, text := range c.Differences {
		if !strings.Contains(text, "agree to") && !strings.HasPrefix(text, "Alike are: ") {
			t.Errorf("differs: %s", text)
		}
	}
	if len(c.Differences) != 5 {
		t.Errorf("%d sentences: %q", len(c.Differences), c.Differences)
	}
	// The demonstrations by the independent computation: travel, progression, anti-squat at full travel.
	text := answer(t, "", "compare")
	for _, want := range []string{`vertical travel of the wheel +154\.7 mm +134\.7 mm +-20\.0 mm`, `progression +22\.4 % +5\.8 % +-16\.6 points`, `at full travel, anti-squat +42\.8 % +95\.4 % +\+52\.6 points`} {
		if !regexp.MustCompile(want).MatchString(text) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
}

// Bodies keep their shape in motion, the frame stays, and the shock is as much shorter as its stroke.
func TestMotionKeepsBodiesRigid(t *testing.T) {
	_, rows := cells(t, answer(t, "", "motion", "-csv", "-n", "8"))
	apart := func(row map[string]float64, a, b string) float64 {
		return math.Hypot(row[a+" x (mm)"]-row[b+" x (mm)"], row[a+" y (mm)"]-row[b+" y (mm)"])
	}
	for _, row := range rows {
		for _, pair := range [][2]string{{"M", "H"}, {"H", "A"}, {"A", "T"}, {"T", "R"}, {"R", "S1"}, {"M", "R"}} {
			near(t, pair[0]+pair[1], apart(row, pair[0], pair[1]), apart(rows[0], pair[0], pair[1]), 1e-9)
		}
		near(t, "shock", apart(row, "S1", "S2"), apart(rows[0], "S1", "S2")-row["stroke (mm)"], 1e-9)
		near(t, "axle", row["A y (mm)"]-rows[0]["A y (mm)"], row["travel (mm)"], 1e-9)
	}
}

// A chainring on a body that moves is told, and counts: on the swingarm the chain's pull is that of the
// brake there.
func TestChainringOnABody(t *testing.T) {
	job := strings.Replace(answer(t, "", "-demo", "single-pivot", "-example"), `"chainring": 32,`, `"chainring": 32, "chainring_at": ["-40 mm", "120 mm"], "chainring_on": "swingarm",`, 1)
	if text := answer(t, job, "-"); !strings.Contains(text, "32 × 21 teeth, chainring on swingarm") {
		t.Errorf("not told in\n%s", text)
	}
	_, rows := cells(t, answer(t, job, "-csv", "-"))
	for _, row := range rows {
		near(t, "anti-squat", row["anti-squat (%)"], row["anti-rise (%)"], 1e-9)
	}
}
