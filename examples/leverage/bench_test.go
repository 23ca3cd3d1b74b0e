package main

import (
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"
)

// By hand: of a single pivot with only the axle's hole off its place, by δ, the travel is off by δ times
// the chord of the axle's path over its radius, towards the worst direction; worst case and root sum of
// squares are one. The places are those of the independent computation.
func TestToleranceOfASinglePivot(t *testing.T) {
	job := strings.Replace(answer(t, "", "-demo", "single-pivot", "-example"), `"sag"`,
		`"tolerances": {"every": "0 mm", "holes": [{"body": "swingarm", "point": "A", "within": "0.2 mm"}]}, "sag"`, 1)
	var got tolerances
	var raw struct{ Spreads []spreadOf }
	if err := json.Unmarshal([]byte(answer(t, job, "tolerance", "-json", "-")), &raw); err != nil {
		t.Fatal(err)
	}
	got.Spreads = raw.Spreads
	first, last := geometry["single-pivot"].rows[0], geometry["single-pivot"].rows[2]
	chord := math.Hypot(last[4]-first[4], last[5]-first[5])
	want := 0.2 * chord / math.Hypot(first[4]-12, first[5]-72)
	travel := got.Spreads[0]
	near(t, "travel", travel.Value, last[1], 1e-8)
	near(t, "worst case", travel.WorstCase, want, 1e-8)
	near(t, "root sum of squares", travel.RootSumSquare, want, 1e-8)
	if h := travel.Holes[0]; h.Body != "swingarm" || h.Point != "A" {
		t.Errorf("the worst hole: %+v", h)
	}
	if text := answer(t, job, "tolerance", "-"); !regexp.MustCompile(`swingarm, A +0\.2 mm`).MatchString(text) || strings.Contains(text, "No tolerance was said") {
		t.Errorf("the tolerances in words:\n%s", text)
	}
	// All spreads grow in proportion.
	_, once := cells(t, answer(t, "", "tolerance", "-csv"))
	_, twice := cells(t, answer(t, "", "tolerance", "-within", "0.2 mm", "-csv"))
	for i := range once {
		near(t, "worst case", twice[i]["worst case"], 2*once[i]["worst case"], 1e-12)
		if !(once[i]["root sum square"] < once[i]["worst case"]) {
			t.Errorf("%v", once[i])
		}
	}
}

// A free body: the wheel's load, the shock's and the pivot's forces on the swingarm add to nothing, and
// have no moment about the pivot. The shock pushes along its eyes, and by virtual work as hard as the
// load times the lever ratio.
func TestForcesOnASwingarmBalance(t *testing.T) {
	_, places := cells(t, answer(t, "", "motion", "-demo", "single-pivot", "-csv"))
	_, ratios := cells(t, answer(t, "", "-demo", "single-pivot", "-csv"))
	_, rows := cells(t, answer(t, "", "forces", "-demo", "single-pivot", "-wheel", "1000 N", "-csv"))
	for i, f := range rows {
		at := func(point string) (x, y float64) {
			return places[i][point+" x (mm)"] - places[i]["P x (mm)"], places[i][point+" y (mm)"] - places[i]["P y (mm)"]
		}
		sx, sy := f["swingarm S1 x (N)"], f["swingarm S1 y (N)"]
		near(t, "forward", f["swingarm P x (N)"]+sx, 0, 1e-6)
		near(t, "up", f["swingarm P y (N)"]+sy+1000, 0, 1e-6)
		ax, _ := at("A")
		x, y := at("S1")
		ex, ey := at("S2")
		near(t, "moment", ax*1000+x*sy-y*sx, 0, 1e-4)
		near(t, "along the shock", (ex-x)*sy-(ey-y)*sx, 0, 1e-4)
		near(t, "shock", f["shock force (N)"], 1000*ratios[i]["lever ratio"], 1e-6)
		near(t, "size", math.Hypot(sx, sy), f["shock force (N)"], 1e-6)
	}
	// Braking takes its force back by the pivot.
	_, braked := cells(t, answer(t, "", "forces", "-demo", "single-pivot", "-wheel", "1000 N", "-forward", "-300 N", "-csv"))
	near(t, "brake", braked[4]["swingarm P x (N)"]+braked[4]["swingarm S1 x (N)"]-300, 0, 1e-6)
	// Without a load the spring's is taken, and without a spring one that is said.
	if text := answer(t, "", "forces"); !strings.Contains(text, "What the spring holds at the wheel") {
		t.Errorf("no word of the spring in\n%s", text)
	}
	bare := regexp.MustCompile(`(?s)"spring": \{.*?\}\s*\},`).ReplaceAllString(answer(t, "", "-example"), "")
	text := answer(t, bare, "forces", "-")
	if !strings.Contains(text, "A force of 1000 N up on the wheel, because none was said") {
		t.Errorf("no word of the load in\n%s", text)
	}
	if !strings.Contains(answer(t, "", "forces", "-forward", "200 N"), "200 N forward by the chain") {
		t.Error("no word of the chain")
	}
}

// What the search prints can go in again: a job with the linkage found has what was wanted.
func TestPivotsFoundAreAJob(t *testing.T) {
	var job map[string]json.RawMessage
	if err := json.Unmarshal([]byte(answer(t, "", "-example")), &job); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Mechanism json.RawMessage
		Wanted    []wantedValue
	}
	if err := json.Unmarshal([]byte(answer(t, "", "pivots", "-json")), &got); err != nil {
		t.Fatal(err)
	}
	job["mechanism"] = got.Mechanism
	text, err := json.Marshal(job)
	if err != nil {
		t.Fatal(err)
	}
	_, rows := cells(t, answer(t, string(text), "-csv", "-"))
	first, last := rows[0]["lever ratio"], rows[10]["lever ratio"]
	near(t, "progression", 100*(first-last)/first, 26, 0.1)
	near(t, "travel", rows[10]["travel (mm)"], 155, 0.2)
	near(t, "anti-squat", rows[3]["anti-squat (%)"], 80, 3)
	if len(got.Wanted) != 5 {
		t.Errorf("%d values", len(got.Wanted))
	}
	for _, v := range got.Wanted {
		if math.Abs(v.Found-v.Wanted) > math.Abs(v.Given-v.Wanted) {
			t.Errorf("%s: wanted %v, given %v, found %v", v.Of, v.Wanted, v.Given, v.Found)
		}
	}
}

// Every kind of target is listed with its unit, and what can't be kept is said.
func TestPivotsTellsEveryTarget(t *testing.T) {
	job := regexp.MustCompile(`(?s)"targets": \{.*\},\s*"least_link"`).ReplaceAllString(answer(t, "", "-example"),
		`"targets": {
			"lever_ratio": {"at": [0, 1], "value": [3, 2.2]}, "wheelbase_growth": {"at": [1], "value": ["-15 mm"]}, "anti_rise": {"at": [0.3], "value": [0.6]},
			"chain_growth": {"at": [1], "value": ["12 mm"]}, "kickback_wheel_fixed": {"at": [1], "value": ["9 deg"]}, "kickback_wheel_rolling": {"at": [0.5], "value": ["4 deg"]}
		}, "shocks": [{"length": "230 mm", "stroke": "65 mm"}], "least_link"`)
	job = strings.Replace(job, `"radius": "55 mm"`, `"radius": "120 mm"`, 1)
	text := answer(t, job, "pivots", "-")
	for _, want := range []string{
		`lever ratio +0 % +3\.000 +2\.900`, `axle backward +100 % +-15\.0 mm +-19\.2 mm`, `anti-rise +30 % +60\.0 % +58\.3 %`, `chain growth +100 % +12\.0 mm +11\.1 mm`,
		`kickback, held +100 % +9\.00 ° +9\.78 °`, `kickback, rolling +50 % +4\.00 ° +4\.77 °`, `shock, eye to eye +230\.0 mm +9\.06 in +stroke 65\.0 mm`, `! keep_out\[0\] M is not kept, by \d`,
	} {
		if !regexp.MustCompile(want).MatchString(text) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
}

func TestBenchCommandsNameWhatIsMissing(t *testing.T) {
	bike := answer(t, "", "-demo", "single-pivot", "-example")
	bare := regexp.MustCompile(`(?s),\s*"drive": \{.*\}\s*\}\s*$`).ReplaceAllString(bike, "}")
	table := "stroke (mm),travel (mm)\n0,0\n10,26\n20,50\n"
	in := func(text string) string { return strings.Replace(bike, `"sag"`, text+`, "sag"`, 1) }
	for _, test := range []struct {
		input string
		args  []string
		want  string
	}{
		{table, []string{"tolerance", "-"}, "mechanism: want the places of the pivots"},
		{table, []string{"forces", "-"}, "mechanism: want the places of the pivots"},
		{table, []string{"pivots", "-"}, "mechanism: want the places of the pivots"},
		{bike, []string{"pivots", "-"}, "search: want what to look for"},
		{bike, []string{"tolerance", "-within", "0.1", "-"}, `-within is "0.1"`},
		{bike, []string{"tolerance", "-within", "-1 mm", "-"}, "tolerances.every is -1 mm"},
		{bike, []string{"forces", "-wheel", "heavy", "-"}, `-wheel is "heavy"`},
		{bike, []string{"forces", "-wheel", "2e9 N", "-"}, "-wheel is"},
		{bare, []string{"forces", "-forward", "100 N", "-"}, "-forward is \"100 N\": want a drive"},
		{bike, []string{"gears", "-within", "1 mm", "-"}, "-within: want the command tolerance"},
		{in(`"tolerances": {"every": "0.1 mm", "holes": [{"body": "frame", "point": "X", "within": "1 mm"}]}`), []string{"tolerance", "-"}, `tolerances.holes[0].point is "frame.X"`},
		{in(`"search": {"move": [], "targets": {}}`), []string{"pivots", "-"}, "search.targets: want at least one target"},
		{in(`"search": {"drive": {"ground": "level"}, "move": [], "targets": {}}`), []string{"pivots", "-"}, "search: want no mechanism and no drive of its own"},
	} {
		out, errs, status := call(t, test.input, test.args...)
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%v: status %d, %q, want %q", test.args, status, errs, test.want)
		}
	}
}
